/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"
#include "chamber/check-private.h"

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

DewNumber
dew_check_number (double value)
{
  DewNumber result;

  if (isnan (value))
    g_strlcpy (result.text, "not a number", sizeof result.text);
  else if (isinf (value))
    g_strlcpy (result.text, value > 0 ? "infinite" : "minus infinite", sizeof result.text);
  else
    g_ascii_formatd (result.text, sizeof result.text, "%.5g", value);
  return result;
}

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

char *
dew_check_words (const DewThing *thing)
{
  g_autofree char *kind = g_ascii_strdown (dew_thing_kind_label (thing->kind), -1);

  if (thing->name[0] == '\0')
    return g_strdup_printf ("A %s without a name", kind);
  return g_strdup_printf ("The %s \"%s\"", kind, thing->name);
}

/* --- values ------------------------------------------------------------ */

/* The unit to say after a number; a fraction and a bare number have none. */
static const char *
quantity_unit (DewQuantity quantity)
{
  static const char *const units[] = {
    [DEW_QUANTITY_NONE] = "",
    [DEW_QUANTITY_LENGTH] = " m",
    [DEW_QUANTITY_ANGLE] = " rad",
    [DEW_QUANTITY_AREA] = " m\302\262",
    [DEW_QUANTITY_FRACTION] = "",
    [DEW_QUANTITY_TEMPERATURE] = " \302\260C",
    [DEW_QUANTITY_SPEED] = " m/s",
    [DEW_QUANTITY_AIR_FLOW] = " m\302\263/s",
    [DEW_QUANTITY_WATER_RATE] = " kg/s",
    [DEW_QUANTITY_MASS] = " kg",
    [DEW_QUANTITY_PRESSURE] = " Pa",
    [DEW_QUANTITY_POWER] = " W",
    [DEW_QUANTITY_U_VALUE] = " W/m\302\262K",
    [DEW_QUANTITY_DROPLET] = " m",
    [DEW_QUANTITY_EFFICACY] = " mol/J",
    [DEW_QUANTITY_IRRADIANCE] = " W/m\302\262",
    [DEW_QUANTITY_ALTITUDE] = " m",
    [DEW_QUANTITY_LIGHT] = " mol/m\302\262s",
  };

  return (guint) quantity < G_N_ELEMENTS (units) ? units[quantity] : "";
}

static gboolean
check_real (DewCheck *check, guint thing_id, const char *whose, const char *key, const char *label,
            DewQuantity quantity, double value, double min, double max)
{
  if (isfinite (value) && value >= min && value <= max)
    return TRUE;

  dew_check_report (check, thing_id, key, "%s: \"%s\" is %s%s; give %s to %s%s", whose, label,
                    dew_check_number (value).text, isfinite (value) ? quantity_unit (quantity) : "",
                    dew_check_number (min).text, dew_check_number (max).text,
                    quantity_unit (quantity));
  return FALSE;
}

static gboolean
check_text (DewCheck *check, guint thing_id, const char *whose, const char *key, const char *text,
            gsize size)
{
  if (memchr (text, '\0', size) == NULL || !g_utf8_validate (text, -1, NULL))
    {
      dew_check_report (check, thing_id, key, "%s: the text in \"%s\" is damaged; type it again",
                        whose, key);
      return FALSE;
    }
  /* They would move the cursor of a terminal that shows the name. */
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    if (g_unichar_iscntrl (g_utf8_get_char (p)) && *p != '\n' && *p != '\t')
      {
        dew_check_report (check, thing_id, key,
                          "%s: the text in \"%s\" holds a control character; "
                          "type it again",
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
              dew_check_report (check, thing_id, field->key, "%s: \"%s\" is %d; give %d to %d",
                                whose, dew_field_label (field), value, (int) field->min,
                                (int) field->max);
              continue;
            }
          dew_check_report (check, thing_id, field->key,
                            "%s: there is no choice number %d for \"%s\"", whose, value,
                            dew_field_label (field));
        }
    }
  return ok;
}

static gboolean
check_climate (DewCheck *check, const char *key, const char *label, const double months[12],
               DewQuantity quantity, double min, double max)
{
  static const char *const names[12]
    = { "January", "February", "March",     "April",   "May",      "June",
        "July",    "August",   "September", "October", "November", "December" };

  for (int month = 0; month < 12; month++)
    {
      g_autofree char *where = g_strdup_printf ("The room in %s", names[month]);

      if (!check_real (check, 0, where, key, label, quantity, months[month], min, max))
        return FALSE;
    }
  return TRUE;
}

static gboolean
check_room (DewCheck *check)
{
  const DewRoom *room = &check->chamber->room;
  gboolean ok = check_fields (check, 0, "The room", dew_room_fields (), room);

  ok &= check_climate (check, "t_day_C", "Temperature by day", room->t_day_C,
                       DEW_QUANTITY_TEMPERATURE, -30.0, 50.0);
  ok &= check_climate (check, "t_night_C", "Temperature by night", room->t_night_C,
                       DEW_QUANTITY_TEMPERATURE, -30.0, 50.0);
  ok &= check_climate (check, "rh_day", "Relative humidity by day", room->rh_day,
                       DEW_QUANTITY_FRACTION, 0.01, 1.0);
  ok &= check_climate (check, "rh_night", "Relative humidity by night", room->rh_night,
                       DEW_QUANTITY_FRACTION, 0.01, 1.0);
  return ok;
}

/* The cover, its size and the room. FALSE when the geometry cannot be trusted. */
static gboolean
check_enclosure (DewCheck *check)
{
  static const char *const words[3] = { "wide", "deep", "high" };
  static const char *const nouns[3] = { "width", "depth", "height" };
  static const char *const keys[3] = { "outer_m[0]", "outer_m[1]", "outer_m[2]" };
  const DewChamber *chamber = check->chamber;
  gboolean ok = TRUE;

  ok &= check_text (check, 0, "The enclosure", "name", chamber->name, sizeof chamber->name);
  ok &= check_text (check, 0, "The enclosure", "note", chamber->note, sizeof chamber->note);
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      g_autofree char *whose = g_strdup_printf ("The cover (%s)", dew_face_key (face));

      ok &= check_fields (check, 0, whose, dew_panel_fields (), &chamber->panels[face]);
    }
  for (int axis = 0; axis < 3; axis++)
    {
      double side = check->inner_m[axis];

      if (side >= DEW_ENCLOSURE_MIN_M - DEW_SLACK_M && side <= DEW_ENCLOSURE_MAX_M + DEW_SLACK_M)
        continue;
      if (isfinite (side))
        dew_check_report (check, 0, keys[axis], "The enclosure is %s m %s inside; give %s to %s m",
                          dew_check_number (side).text, words[axis],
                          dew_check_number (DEW_ENCLOSURE_MIN_M).text,
                          dew_check_number (DEW_ENCLOSURE_MAX_M).text);
      else
        dew_check_report (check, 0, keys[axis], "The %s of the enclosure is %s; give %s to %s m",
                          nouns[axis], dew_check_number (side).text,
                          dew_check_number (DEW_ENCLOSURE_MIN_M).text,
                          dew_check_number (DEW_ENCLOSURE_MAX_M).text);
      ok = FALSE;
    }
  ok &= check_real (check, 0, "The cover", "leak_area_m2", "Leakage area", DEW_QUANTITY_AREA,
                    chamber->leak_area_m2, 0.0, 0.2);
  ok &= check_real (check, 0, "The cover", "leak_exponent", "Leakage exponent", DEW_QUANTITY_NONE,
                    chamber->leak_exponent, 0.5, 1.0);
  if (chamber->month < 0 || chamber->month > 11)
    {
      dew_check_report (check, 0, "month", "There is no month number %d; give 1 to 12",
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
      dew_check_report (check, thing->id, "kind", "There is no kind of thing number %d",
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

GArray *
dew_chamber_check (const DewChamber *chamber, guint variant_id)
{
  DewCheck check;
  gboolean ok;

  g_return_val_if_fail (chamber != NULL, NULL);

  check_begin (&check, chamber);
  check.variant = dew_chamber_variant (chamber, variant_id);
  ok = check_enclosure (&check);
  if (check.variant == NULL)
    {
      dew_check_report (&check, 0, "", "There is no variant number %u; choose one of the list",
                        variant_id);
      return check.problems;
    }

  for (guint i = 0; i < check.variant->things->len; i++)
    ok &= check_thing_values (&check, &g_array_index (check.variant->things, DewThing, i));

  /* Boxes of impossible numbers would only give further, misleading words. */
  if (ok)
    for (guint i = 0; i < check.variant->things->len; i++)
      dew_check_layout (&check, &g_array_index (check.variant->things, DewThing, i));
  return check.problems;
}

static void
check_id (DewCheck *check, GHashTable *ids, guint id, const char *what, const char *name)
{
  if (id == 0 || id >= check->chamber->next_id)
    dew_check_report (check, id, "id",
                      "%s \"%s\" has the number %u; numbers go from 1 up to next_id (%u)", what,
                      name, id, check->chamber->next_id);
  else if (!g_hash_table_add (ids, GUINT_TO_POINTER (id)))
    dew_check_report (check, id, "id",
                      "%s \"%s\" has the number %u, which is used twice; give it another", what,
                      name, id);
}

static void
validate_variant (DewCheck *check, GHashTable *ids, const DewVariant *variant)
{
  check_text (check, 0, "A variant", "name", variant->name, sizeof variant->name);
  check_id (check, ids, variant->id, "The variant", variant->name);
  if (variant->things->len > DEW_THINGS_MAX)
    {
      dew_check_report (check, 0, "things", "The variant \"%s\" holds %u things; give %d at most",
                        variant->name, variant->things->len, DEW_THINGS_MAX);
      return;
    }
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (!check_thing_values (check, thing))
        return;
      check_id (check, ids, thing->id, dew_thing_kind_label (thing->kind), thing->name);
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
                    "%s: \"%s\" is %s%s, but \"%s\" only %s%s; make the first smaller or the "
                    "second larger",
                    whose, dew_field_label (low), dew_check_number (lies).text,
                    quantity_unit (low->quantity), dew_field_label (high),
                    dew_check_number (under).text, quantity_unit (high->quantity));
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

  if (!check_text (check, 0, "An own kind of plant", "name", kind->name, sizeof kind->name))
    return;
  if (kind->name[0] == '\0')
    {
      dew_check_report (check, 0, "name", "An own kind of plant has no name; give it one");
      return;
    }
  whose = g_strdup_printf ("The kind of plant \"%s\"", kind->name);
  if (!g_hash_table_add (names, (gpointer) kind->name))
    dew_check_report (check, 0, "name", "%s is there twice; rename one of them", whose);
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
                        "There are %u wishes and %u own kinds of plant; give %d and %d at most",
                        wishes->len, kinds->len, WISHES_MAX, KINDS_MAX);
      return;
    }
  for (guint i = 0; i < wishes->len; i++)
    {
      const DewWish *wish = &g_array_index (wishes, DewWish, i);
      g_autofree char *whose = NULL;

      if (!check_text (check, wish->id, "A wish", "name", wish->name, sizeof wish->name))
        return;
      whose = g_strdup_printf ("The wish \"%s\"", wish->name);
      check_fields (check, wish->id, whose, dew_wish_fields (), wish);
      check_id (check, ids, wish->id, "The wish", wish->name);
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
    dew_check_report (&check, 0, "variants", "There are %u variants; give 1 to %d",
                      chamber->variants->len, VARIANTS_MAX);
  else if (dew_chamber_shown (chamber) == NULL)
    dew_check_report (&check, 0, "shown_variant",
                      "The variant to show (number %u) is not in the document",
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
