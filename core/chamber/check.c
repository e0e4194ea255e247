/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"
#include "chamber/check-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

/* Two kinds of fault. A value that no enclosure can have (not a number, out of
 * range, a choice or id that does not exist) makes a file unreadable:
 * dew_chamber_validate() finds those. A layout that does not fit together (a
 * fan outside, shelves that cross) is an ordinary state while one draws; it is
 * saved like any other, and only keeps the variant from being forecast:
 * dew_chamber_check() finds those too. */

#define VARIANTS_MAX 64
#define WISHES_MAX 500
#define KINDS_MAX 500

G_DEFINE_QUARK (dew - chamber - error - quark, dew_chamber_error)

void
dew_check_report (DewCheck *check, guint thing_id, const char *field, const char *format, ...)
{
  DewProblem problem = { .thing_id = thing_id };
  g_autofree char *message = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  g_strlcpy (problem.field, field, sizeof problem.field);
  dew_text_copy (problem.message, sizeof problem.message, message);
  g_array_append_val (check->problems, problem);
}

/* --- values ------------------------------------------------------------ */

static gboolean
check_real (DewCheck *check, guint thing_id, const char *whose, const char *key, const char *label,
            DewQuantity quantity, double value, double min, double max)
{
  if (isfinite (value) && value >= min && value <= max)
    return TRUE;

  dew_check_report (check, thing_id, key, _ ("%s: \"%s\" is %s%s; give %s to %s%s"), whose, label,
                    dew_check_number (value).text,
                    isfinite (value) ? dew_check_unit (quantity) : "", dew_check_number (min).text,
                    dew_check_number (max).text, dew_check_unit (quantity));
  return FALSE;
}

static gboolean
check_text (DewCheck *check, guint thing_id, const char *whose, const char *key, const char *text,
            gsize size)
{
  if (memchr (text, '\0', size) == NULL || !g_utf8_validate (text, -1, NULL))
    {
      dew_check_report (check, thing_id, key,
                        _ ("%s: the text in \"%s\" is damaged; type it again"), whose, key);
      return FALSE;
    }
  /* They would move the cursor of a terminal that shows the name. */
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    if (g_unichar_iscntrl (g_utf8_get_char (p)) && *p != '\n' && *p != '\t')
      {
        dew_check_report (check, thing_id, key,
                          _ ("%s: the text in \"%s\" holds a control character; "
                             "type it again"),
                          whose, key);
        return FALSE;
      }
  return TRUE;
}

static gboolean
check_fields (DewCheck *check, guint thing_id, const char *whose, const DewField *fields,
              gconstpointer record)
{
  gboolean ok = TRUE;

  for (const DewField *field = fields; field->key != NULL; field++)
    {
      if (field->type == DEW_FIELD_REAL)
        ok &= check_real (check, thing_id, whose, field->key, dew_field_label (field),
                          field->quantity, dew_field_get_real (field, record), field->min,
                          field->max);
      else if (field->type == DEW_FIELD_TEXT)
        ok &= check_text (check, thing_id, whose, field->key, dew_field_get_text (field, record),
                          field->size);
      else
        {
          int value = dew_field_get_int (field, record);

          if (value >= (int) field->min && (double) value <= field->max)
            continue;
          ok = FALSE;
          if (field->type == DEW_FIELD_COUNT)
            {
              dew_check_report (check, thing_id, field->key, _ ("%s: \"%s\" is %d; give %d to %d"),
                                whose, dew_field_label (field), value, (int) field->min,
                                (int) field->max);
              continue;
            }
          dew_check_report (check, thing_id, field->key,
                            _ ("%s: there is no choice number %d for \"%s\""), whose, value,
                            dew_field_label (field));
        }
    }
  return ok;
}

static gboolean
check_room (DewCheck *check)
{
  static const char *const names[12]
    = { N_ ("January"),   N_ ("February"), N_ ("March"),    N_ ("April"),
        N_ ("May"),       N_ ("June"),     N_ ("July"),     N_ ("August"),
        N_ ("September"), N_ ("October"),  N_ ("November"), N_ ("December") };
  const DewRoom *room = &check->chamber->room;
  gboolean ok = check_fields (check, 0, _ ("The room"), dew_room_fields (), room);

  /* One month tells what is wrong with all of them. */
  for (int month = 0; month < 12; month++)
    {
      g_autofree char *where = g_strdup_printf (_ ("The room in %s"), _ (names[month]));

      if (!check_fields (check, 0, where, dew_month_fields (), &room->months[month]))
        return FALSE;
    }
  return ok;
}

/* Says that the enclosure has an impossible size along one axis. */
static void
report_side (DewCheck *check, int axis, const char *key)
{
  DewNumber side = dew_check_number (check->inner_m[axis]);
  DewNumber min = dew_check_number (DEW_ENCLOSURE_MIN_M);
  DewNumber max = dew_check_number (DEW_ENCLOSURE_MAX_M);

  if (isfinite (check->inner_m[axis]))
    dew_check_report (check, 0, key,
                      axis == 0   ? _ ("The enclosure is %s m wide inside; give %s to %s m")
                      : axis == 1 ? _ ("The enclosure is %s m deep inside; give %s to %s m")
                                  : _ ("The enclosure is %s m high inside; give %s to %s m"),
                      side.text, min.text, max.text);
  else
    dew_check_report (check, 0, key,
                      axis == 0   ? _ ("The width of the enclosure is %s; give %s to %s m")
                      : axis == 1 ? _ ("The depth of the enclosure is %s; give %s to %s m")
                                  : _ ("The height of the enclosure is %s; give %s to %s m"),
                      side.text, min.text, max.text);
}

/* The cover, its size and the room. FALSE when the geometry cannot be trusted. */
static gboolean
check_enclosure (DewCheck *check)
{
  static const char *const faces[DEW_N_FACES]
    = { N_ ("The cover at the left"), N_ ("The cover at the right"), N_ ("The cover in front"),
        N_ ("The cover at the back"), N_ ("The cover of the floor"), N_ ("The cover of the roof") };
  static const char *const keys[3] = { "outer_m[0]", "outer_m[1]", "outer_m[2]" };
  const DewChamber *chamber = check->chamber;
  gboolean ok = TRUE;

  /* Of its size only the inside counts, which report_side() speaks of. */
  ok &= check_fields (check, 0, _ ("The enclosure"), dew_enclosure_fields () + DEW_N_OUTER_FIELDS,
                      chamber);
  for (int face = 0; face < DEW_N_FACES; face++)
    ok &= check_fields (check, 0, _ (faces[face]), dew_panel_fields (), &chamber->panels[face]);
  for (int axis = 0; axis < 3; axis++)
    {
      double side = check->inner_m[axis];

      if (side >= DEW_ENCLOSURE_MIN_M - DEW_SLACK_M && side <= DEW_ENCLOSURE_MAX_M + DEW_SLACK_M)
        continue;
      report_side (check, axis, keys[axis]);
      ok = FALSE;
    }
  if (chamber->month < 0 || chamber->month > 11)
    {
      dew_check_report (check, 0, "month", _ ("There is no month number %d; give 1 to 12"),
                        chamber->month < G_MAXINT ? chamber->month + 1 : chamber->month);
      ok = FALSE;
    }
  ok &= check_room (check);
  return ok;
}

static gboolean
check_thing_values (DewCheck *check, const DewThing *thing)
{
  g_autofree char *words = NULL;

  if ((guint) thing->kind >= DEW_N_THING_KINDS)
    {
      dew_check_report (check, thing->id, "kind", _ ("There is no kind of thing number %d"),
                        (int) thing->kind);
      return FALSE;
    }
  if (!check_text (check, thing->id, dew_thing_kind_label (thing->kind), "name", thing->name,
                   sizeof thing->name))
    return FALSE;

  words = dew_check_words (thing);
  return check_fields (check, thing->id, words, dew_thing_fields (thing->kind), thing);
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
      dew_check_report (check, 0, "", _ ("There is no variant number %u; choose one of the list"),
                        variant_id);
      return FALSE;
    }

  for (guint i = 0; i < check->variant->things->len; i++)
    ok &= check_thing_values (check, &g_array_index (check->variant->things, DewThing, i));
  return ok;
}

/* `whose`: words for what has the id, as a sentence begins. */
static void
check_id (DewCheck *check, GHashTable *ids, guint id, const char *whose)
{
  if (id == 0 || id >= check->chamber->next_id)
    dew_check_report (check, id, "id",
                      _ ("%s has the number %u; the numbers of this document go from 1 to %u"),
                      whose, id, MAX (check->chamber->next_id, 1) - 1);
  else if (!g_hash_table_add (ids, GUINT_TO_POINTER (id)))
    dew_check_report (check, id, "id",
                      _ ("%s has the number %u, which is used twice; give it another"), whose, id);
}

static void
validate_variant (DewCheck *check, GHashTable *ids, const DewVariant *variant)
{
  g_autofree char *whose = NULL;

  check_text (check, 0, _ ("A variant"), "name", variant->name, sizeof variant->name);
  whose = g_strdup_printf (_ ("The variant \"%s\""), variant->name);
  check_id (check, ids, variant->id, whose);
  if (variant->things->len > DEW_THINGS_MAX)
    {
      dew_check_report (check, 0, "things",
                        _ ("The variant \"%s\" holds %u things; give %d at most"), variant->name,
                        variant->things->len, DEW_THINGS_MAX);
      return;
    }
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      g_autofree char *words = NULL;

      if (!check_thing_values (check, thing))
        return;
      words = dew_check_words (thing);
      check_id (check, ids, thing->id, words);
    }
}

/* `lower` and `upper` are fields of the kind; the lower must not lie above. */
static void
check_band (DewCheck *check, const char *whose, const DewPlantKind *kind, const char *lower,
            const char *upper)
{
  const DewField *low = dew_field_find (dew_plant_kind_fields (), lower);
  const DewField *high = dew_field_find (dew_plant_kind_fields (), upper);
  double lies = dew_field_get_real (low, kind);
  double under = dew_field_get_real (high, kind);

  if (lies <= under)
    return;
  dew_check_report (check, 0, lower,
                    _ ("%s: \"%s\" is %s%s, but \"%s\" only %s%s; make the first smaller or the "
                       "second larger"),
                    whose, dew_field_label (low), dew_check_number (lies).text,
                    dew_check_unit (low->quantity), dew_field_label (high),
                    dew_check_number (under).text, dew_check_unit (high->quantity));
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
  g_autofree char *whose = NULL;

  if (!check_text (check, 0, _ ("A kind of plant of your own"), "name", kind->name,
                   sizeof kind->name))
    return;
  if (kind->name[0] == '\0')
    {
      dew_check_report (check, 0, "name",
                        _ ("A kind of plant of your own has no name; give it one"));
      return;
    }
  whose = g_strdup_printf (_ ("The kind of plant \"%s\""), kind->name);
  if (!g_hash_table_add (names, (gpointer) kind->name))
    dew_check_report (check, 0, "name", _ ("%s is there twice; rename one of them"), whose);
  if (!check_fields (check, 0, whose, dew_plant_kind_fields (), kind))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (bands); i++)
    check_band (check, whose, kind, bands[i][0], bands[i][1]);
}

static void
validate_wishes (DewCheck *check, GHashTable *ids)
{
  const GArray *wishes = check->chamber->wishes;
  const GArray *kinds = check->chamber->kinds;
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);

  if (wishes->len > WISHES_MAX || kinds->len > KINDS_MAX)
    {
      dew_check_report (check, 0, "wishes",
                        _ ("There are %u wishes and %u own kinds of plant; give %d and %d at most"),
                        wishes->len, kinds->len, WISHES_MAX, KINDS_MAX);
      return;
    }
  for (guint i = 0; i < wishes->len; i++)
    {
      const DewWish *wish = &g_array_index (wishes, DewWish, i);
      g_autofree char *whose = NULL;

      if (!check_text (check, wish->id, _ ("A wish"), "name", wish->name, sizeof wish->name))
        return;
      whose = g_strdup_printf (_ ("The wish \"%s\""), wish->name);
      check_fields (check, wish->id, whose, dew_wish_fields (), wish);
      check_id (check, ids, wish->id, whose);
    }
  for (guint i = 0; i < kinds->len; i++)
    validate_kind (check, names, &g_array_index (kinds, DewPlantKind, i));
}

/**
 * dew_chamber_validate:
 *
 * Values and ids only. What is drawn outside the box, or a humidistat whose
 * instrument is gone, is left to dew_chamber_check(): a document may be saved
 * and opened in that state.
 */
gboolean
dew_chamber_validate (const DewChamber *chamber, GError **error)
{
  g_autoptr (GArray) problems = NULL;
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  DewCheck check;

  g_return_val_if_fail (chamber != NULL, FALSE);

  check_begin (&check, chamber);
  problems = check.problems;
  check_enclosure (&check);
  if (chamber->variants->len < 1 || chamber->variants->len > VARIANTS_MAX)
    dew_check_report (&check, 0, "variants", _ ("There are %u variants; give 1 to %d"),
                      chamber->variants->len, VARIANTS_MAX);
  else if (dew_chamber_shown (chamber) == NULL)
    dew_check_report (&check, 0, "shown_variant",
                      _ ("The variant to show (number %u) is not in the document"),
                      chamber->shown_variant);
  for (guint i = 0; i < chamber->variants->len && problems->len == 0; i++)
    validate_variant (&check, ids, &g_array_index (chamber->variants, DewVariant, i));
  if (problems->len == 0)
    validate_wishes (&check, ids);

  if (problems->len == 0)
    return TRUE;
  g_set_error_literal (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_INVALID,
                       g_array_index (problems, DewProblem, 0).message);
  return FALSE;
}
