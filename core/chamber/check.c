/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"
#include "chamber/check-private.h"

#include <math.h>
#include <string.h>

/* Two kinds of fault. A value that no enclosure can have (not a number, out of
 * range, a choice or id that does not exist) makes a file unreadable:
 * dew_chamber_is_valid() finds those. A layout that does not fit together (a
 * fan outside, shelves that cross) is an ordinary state while one draws; it is
 * saved like any other, and only keeps the variant from being forecast:
 * dew_chamber_check() finds those too. */

G_DEFINE_QUARK (dew - chamber - error - quark, dew_chamber_error)

DewProblem *
dew_check_report (DewCheck *check, const DewProblem *who, DewProblemCode code, const char *field)
{
  DewProblem problem = *who;

  problem.code = code;
  g_strlcpy (problem.field, field, sizeof problem.field);
  g_array_append_val (check->problems, problem);
  return &g_array_index (check->problems, DewProblem, check->problems->len - 1);
}

DewProblem
dew_check_thing (const DewThing *thing)
{
  DewProblem who = { .about = DEW_ABOUT_THING, .thing_id = thing->id, .kind = thing->kind };

  g_strlcpy (who.name, thing->name, sizeof who.name);
  return who;
}

/* Reports a number that is not from `min` to `max`. */
static void
report_number (DewCheck *check, const DewProblem *who, DewProblemCode code, const char *field,
               double value, double min, double max)
{
  DewProblem *problem = dew_check_report (check, who, code, field);

  problem->value = value;
  problem->min = min;
  problem->max = max;
}

/* --- values ------------------------------------------------------------ */

static gboolean
check_text (DewCheck *check, const DewProblem *who, const char *key, const char *text, gsize size)
{
  if (memchr (text, '\0', size) == NULL || !g_utf8_validate (text, -1, NULL))
    {
      dew_check_report (check, who, DEW_PROBLEM_TEXT_DAMAGED, key);
      return FALSE;
    }
  if (!dew_text_is_plain (text, DEW_TEXT_LINES (size)))
    {
      dew_check_report (check, who, DEW_PROBLEM_TEXT_CONTROLS, key);
      return FALSE;
    }
  return TRUE;
}

/* The name of `who`, who has none yet, and then has it. */
static gboolean
check_name (DewCheck *check, DewProblem *who, const char *name)
{
  if (!check_text (check, who, "name", name, DEW_NAME_SIZE))
    return FALSE;
  g_strlcpy (who->name, name, sizeof who->name);
  return TRUE;
}

static gboolean
check_fields (DewCheck *check, const DewProblem *who, const DewField *fields, gconstpointer record)
{
  gboolean ok = TRUE;

  for (const DewField *field = fields; field->key != NULL; field++)
    {
      double value;

      if (field->type == DEW_FIELD_TEXT)
        {
          ok
            &= check_text (check, who, field->key, dew_field_get_text (field, record), field->size);
          continue;
        }
      value = field->type == DEW_FIELD_REAL ? dew_field_get_real (field, record)
                                            : (double) dew_field_get_int (field, record);
      if (isfinite (value) && value >= field->min && value <= field->max)
        continue;
      ok = FALSE;
      report_number (check, who,
                     field->type == DEW_FIELD_REAL    ? DEW_PROBLEM_RANGE
                     : field->type == DEW_FIELD_COUNT ? DEW_PROBLEM_COUNT
                                                      : DEW_PROBLEM_CHOICE,
                     field->key, value, field->min, field->max);
      g_array_index (check->problems, DewProblem, check->problems->len - 1).row = field;
    }
  return ok;
}

static gboolean
check_room (DewCheck *check)
{
  static const DewProblem the_room = { .about = DEW_ABOUT_ROOM };
  const DewRoom *room = &check->chamber->room;
  gboolean ok = check_fields (check, &the_room, dew_room_fields (), room);

  /* One month tells what is wrong with all of them. */
  for (int month = 0; month < 12; month++)
    {
      const DewProblem who = { .about = DEW_ABOUT_MONTH, .index = month };

      if (!check_fields (check, &who, dew_month_fields (), &room->months[month]))
        return FALSE;
    }
  return ok;
}

/* The cover, its size and the room. FALSE when the geometry cannot be trusted. */
static gboolean
check_enclosure (DewCheck *check)
{
  static const DewProblem the_enclosure = { .about = DEW_ABOUT_ENCLOSURE };
  static const char *const keys[3] = { "outer_m[0]", "outer_m[1]", "outer_m[2]" };
  const DewChamber *chamber = check->chamber;
  gboolean ok = TRUE;

  /* Of its size the inside counts first, which DEW_PROBLEM_SIDE is about. */
  ok &= check_fields (check, &the_enclosure, dew_enclosure_fields () + DEW_N_OUTER_FIELDS, chamber);
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      const DewProblem who = { .about = DEW_ABOUT_COVER, .index = face };

      ok &= check_fields (check, &who, dew_panel_fields (), &chamber->panels[face]);
    }
  for (int axis = 0; axis < 3; axis++)
    {
      const DewProblem who = { .about = DEW_ABOUT_ENCLOSURE, .index = axis };
      const DewField *outer = dew_enclosure_fields () + axis;
      double side = check->inner_m[axis], outside = chamber->outer_m[axis];

      if (!(side >= DEW_ENCLOSURE_MIN_M - DEW_SLACK_M && side <= DEW_ENCLOSURE_MAX_M + DEW_SLACK_M))
        report_number (check, &who, DEW_PROBLEM_SIDE, keys[axis], side, DEW_ENCLOSURE_MIN_M,
                       DEW_ENCLOSURE_MAX_M);
      else if (!(outside >= outer->min && outside <= outer->max))
        {
          report_number (check, &who, DEW_PROBLEM_RANGE, keys[axis], outside, outer->min,
                         outer->max);
          g_array_index (check->problems, DewProblem, check->problems->len - 1).row = outer;
        }
      else
        continue;
      ok = FALSE;
    }
  if (chamber->next_id > G_MAXINT)
    {
      report_number (check, &the_enclosure, DEW_PROBLEM_NEXT_ID, "next_id", chamber->next_id, 1,
                     G_MAXINT);
      ok = FALSE;
    }
  if (chamber->month < 0 || chamber->month > 11)
    {
      report_number (check, &the_enclosure, DEW_PROBLEM_MONTH, "month", chamber->month + 1.0, 1,
                     12);
      ok = FALSE;
    }
  ok &= check_room (check);
  return ok;
}

static gboolean
check_thing_values (DewCheck *check, const DewThing *thing)
{
  DewProblem who = { .about = DEW_ABOUT_THING, .thing_id = thing->id, .kind = thing->kind };

  if ((guint) thing->kind >= DEW_N_THING_KINDS)
    {
      report_number (check, &who, DEW_PROBLEM_THING_KIND, "kind", (int) thing->kind, 0, NAN);
      return FALSE;
    }
  return check_name (check, &who, thing->name)
         && check_fields (check, &who, dew_thing_fields (thing->kind), thing);
}

/* --- entry points ------------------------------------------------------ */

static void
check_begin (DewCheck *check, const DewChamber *chamber)
{
  check->problems = g_array_new (FALSE, TRUE, sizeof (DewProblem));
  check->chamber = chamber;
  check->variant = NULL;
  dew_chamber_inner_m (chamber, check->inner_m);
}

gboolean
dew_check_values (DewCheck *check, const DewChamber *chamber, guint variant_id)
{
  gboolean ok;

  check_begin (check, chamber);
  check->variant = dew_chamber_variant (chamber, variant_id);
  ok = check_enclosure (check);
  if (check->variant == NULL)
    {
      const DewProblem who = { .about = DEW_ABOUT_VARIANT };

      report_number (check, &who, DEW_PROBLEM_NO_VARIANT, "", variant_id, NAN, NAN);
      return FALSE;
    }

  for (guint i = 0; i < check->variant->things->len; i++)
    ok &= check_thing_values (check, &g_array_index (check->variant->things, DewThing, i));
  return ok;
}

static void
check_id (DewCheck *check, GHashTable *ids, guint id, const DewProblem *who)
{
  DewProblem whose = *who;

  whose.thing_id = id;
  if (id == 0 || id >= check->chamber->next_id)
    report_number (check, &whose, DEW_PROBLEM_ID_OUTSIDE, "id", id, 1,
                   MAX (check->chamber->next_id, 1) - 1);
  else if (!g_hash_table_add (ids, GUINT_TO_POINTER (id)))
    report_number (check, &whose, DEW_PROBLEM_ID_TWICE, "id", id, NAN, NAN);
}

static void
validate_variant (DewCheck *check, GHashTable *ids, const DewVariant *variant)
{
  DewProblem who = { .about = DEW_ABOUT_VARIANT };

  if (!check_name (check, &who, variant->name))
    return;
  check_id (check, ids, variant->id, &who);
  if (variant->things->len > DEW_THINGS_MAX)
    {
      report_number (check, &who, DEW_PROBLEM_THINGS, "things", variant->things->len, 0,
                     DEW_THINGS_MAX);
      return;
    }
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      DewProblem its;

      if (!check_thing_values (check, thing))
        return;
      its = dew_check_thing (thing);
      check_id (check, ids, thing->id, &its);
    }
}

/* `lower` and `upper` are fields of the kind; the lower must not lie above. */
static void
check_band (DewCheck *check, const DewProblem *who, const DewPlantKind *kind, const char *lower,
            const char *upper)
{
  const DewField *low = dew_field_find (dew_plant_kind_fields (), lower);
  const DewField *high = dew_field_find (dew_plant_kind_fields (), upper);
  double lies = dew_field_get_real (low, kind), under = dew_field_get_real (high, kind);
  DewProblem *problem;

  if (lies <= under)
    return;
  problem = dew_check_report (check, who, DEW_PROBLEM_BAND, lower);
  problem->row = low;
  problem->other_row = high;
  problem->value = lies;
  problem->max = under;
}

static void
validate_kind (DewCheck *check, GHashTable *names, const DewPlantKind *kind)
{
  static const char *const bands[][2] = {
    { "t_day_min_C", "t_day_ideal_C" },
    { "t_day_ideal_C", "t_day_max_C" },
    { "t_night_min_C", "t_night_ideal_C" },
    { "t_night_ideal_C", "t_night_max_C" },
    { "rh_min", "rh_ideal" },
    { "rh_ideal", "rh_max" },
    { "speed_lo_m_s", "speed_hi_m_s" },
    { "ppfd_lo_mol_m2s", "ppfd_hi_mol_m2s" },
  };
  DewProblem who = { .about = DEW_ABOUT_KIND };

  if (!check_name (check, &who, kind->name))
    return;
  if (kind->name[0] == '\0')
    {
      dew_check_report (check, &who, DEW_PROBLEM_NAMELESS, "name");
      return;
    }
  if (!g_hash_table_add (names, (gpointer) kind->name))
    dew_check_report (check, &who, DEW_PROBLEM_NAME_TWICE, "name");
  if (!check_fields (check, &who, dew_plant_kind_fields (), kind))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (bands); i++)
    check_band (check, &who, kind, bands[i][0], bands[i][1]);
}

static void
validate_wishes (DewCheck *check, GHashTable *ids)
{
  const GArray *wishes = check->chamber->wishes;
  const GArray *kinds = check->chamber->kinds;
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);

  if (wishes->len > DEW_WISHES_MAX || kinds->len > DEW_KINDS_MAX)
    {
      const DewProblem who = { .about = DEW_ABOUT_WISH };
      DewProblem *problem = dew_check_report (check, &who, DEW_PROBLEM_WISHES, "wishes");

      problem->value = wishes->len;
      problem->max = DEW_WISHES_MAX;
      problem->min = kinds->len;
      problem->other_max = DEW_KINDS_MAX;
      return;
    }
  for (guint i = 0; i < wishes->len; i++)
    {
      const DewWish *wish = &g_array_index (wishes, DewWish, i);
      DewProblem who = { .about = DEW_ABOUT_WISH, .thing_id = wish->id };

      if (!check_name (check, &who, wish->name))
        return;
      check_fields (check, &who, dew_wish_fields (), wish);
      check_id (check, ids, wish->id, &who);
    }
  for (guint i = 0; i < kinds->len; i++)
    validate_kind (check, names, &g_array_index (kinds, DewPlantKind, i));
}

/* Values and ids only. What is drawn outside the box, or a humidistat whose instrument is
 * gone, is left to dew_chamber_check(): a document may be saved and opened in that state. */
gboolean
dew_chamber_is_valid (const DewChamber *chamber, DewProblem *first)
{
  static const DewProblem the_document = { .about = DEW_ABOUT_VARIANT };
  g_autoptr (GArray) problems = NULL;
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  DewCheck check;
  guint things = 0;

  g_return_val_if_fail (chamber != NULL, FALSE);

  check_begin (&check, chamber);
  problems = check.problems;
  check_enclosure (&check);
  if (chamber->variants->len < 1 || chamber->variants->len > DEW_VARIANTS_MAX)
    report_number (&check, &the_document, DEW_PROBLEM_VARIANTS, "variants", chamber->variants->len,
                   1, DEW_VARIANTS_MAX);
  else if (dew_chamber_shown (chamber) == NULL)
    report_number (&check, &the_document, DEW_PROBLEM_NO_SHOWN, "shown_variant",
                   chamber->shown_variant, NAN, NAN);
  for (guint i = 0; i < chamber->variants->len; i++)
    things += g_array_index (chamber->variants, DewVariant, i).things->len;
  if (things > DEW_THINGS_ALL_MAX)
    report_number (&check, &the_document, DEW_PROBLEM_THINGS_ALL, "variants", things, 0,
                   DEW_THINGS_ALL_MAX);
  for (guint i = 0; i < chamber->variants->len && problems->len == 0; i++)
    validate_variant (&check, ids, &g_array_index (chamber->variants, DewVariant, i));
  if (problems->len == 0)
    validate_wishes (&check, ids);

  if (problems->len > 0 && first != NULL)
    *first = g_array_index (problems, DewProblem, 0);
  return problems->len == 0;
}
