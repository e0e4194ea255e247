/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

/* Two kinds of fault. A value that no enclosure can have (not a number, out of
 * range, a choice or id that does not exist) makes a file unreadable:
 * dew_chamber_validate() finds those. A layout that does not fit together (a
 * fan outside, shelves that cross) is an ordinary state while one draws; it is
 * saved like any other, and only keeps the variant from being forecast:
 * dew_chamber_check() finds those too. */

#define SLACK_M 1e-6         /* rounding of what was typed in other units */
#define BAY_MIN_M 0.03       /* lower bays cannot hold anything */
#define OPENING_MIN_M 0.0005 /* of a side */
#define STANDING_M 0.01      /* this near above a board stands on it */
#define THINGS_MAX 2000
#define VARIANTS_MAX 64

typedef struct
{
  GArray *problems; /* DewProblem */
  const DewChamber *chamber;
  const DewVariant *variant;
  double inner_m[3];
} Check;

G_DEFINE_QUARK (dew-chamber-error-quark, dew_chamber_error)

/* Up to five digits, never with a comma, whatever the locale. */
typedef struct
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
} Number;

static Number
number (double value)
{
  Number result;

  if (isnan (value))
    g_strlcpy (result.text, "not a number", sizeof result.text);
  else if (isinf (value))
    g_strlcpy (result.text, value > 0 ? "infinite" : "minus infinite", sizeof result.text);
  else
    g_ascii_formatd (result.text, sizeof result.text, "%.5g", value);
  return result;
}

static void G_GNUC_PRINTF (4, 5)
report (Check *check, guint thing_id, const char *field, const char *format, ...)
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

/* "Fan "by the door"" or "The fan without a name". Free with g_free(). */
static char *
thing_words (const DewThing *thing)
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
    [DEW_QUANTITY_NONE] = "",          [DEW_QUANTITY_LENGTH] = " m",
    [DEW_QUANTITY_ANGLE] = " rad",     [DEW_QUANTITY_AREA] = " m\302\262",
    [DEW_QUANTITY_FRACTION] = "",      [DEW_QUANTITY_TEMPERATURE] = " \302\260C",
    [DEW_QUANTITY_SPEED] = " m/s",     [DEW_QUANTITY_AIR_FLOW] = " m\302\263/s",
    [DEW_QUANTITY_WATER_RATE] = " kg/s", [DEW_QUANTITY_MASS] = " kg",
    [DEW_QUANTITY_PRESSURE] = " Pa",   [DEW_QUANTITY_POWER] = " W",
    [DEW_QUANTITY_U_VALUE] = " W/m\302\262K", [DEW_QUANTITY_DROPLET] = " m",
    [DEW_QUANTITY_EFFICACY] = " mol/J", [DEW_QUANTITY_IRRADIANCE] = " W/m\302\262",
    [DEW_QUANTITY_ALTITUDE] = " m",
  };

  return (guint) quantity < G_N_ELEMENTS (units) ? units[quantity] : "";
}

static gboolean
check_real (Check *check, guint thing_id, const char *whose, const char *key, const char *label,
            DewQuantity quantity, double value, double min, double max)
{
  if (isfinite (value) && value >= min && value <= max)
    return TRUE;

  report (check, thing_id, key, "%s: \"%s\" is %s%s; give %s to %s%s", whose, label,
          number (value).text, isfinite (value) ? quantity_unit (quantity) : "",
          number (min).text, number (max).text, quantity_unit (quantity));
  return FALSE;
}

static gboolean
check_text (Check *check, guint thing_id, const char *whose, const char *key, const char *text,
            gsize size)
{
  if (memchr (text, '\0', size) == NULL || !g_utf8_validate (text, -1, NULL))
    {
      report (check, thing_id, key, "%s: the text in \"%s\" is damaged; type it again", whose,
              key);
      return FALSE;
    }
  /* They would move the cursor of a terminal that shows the name. */
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    if (g_unichar_iscntrl (g_utf8_get_char (p)) && *p != '\n' && *p != '\t')
      {
        report (check, thing_id, key, "%s: the text in \"%s\" holds a control character; "
                "type it again", whose, key);
        return FALSE;
      }
  return TRUE;
}

static gboolean
check_fields (Check *check, guint thing_id, const char *whose, const DewField *fields,
              gconstpointer record)
{
  gboolean ok = TRUE;

  for (const DewField *field = fields; field->key != NULL; field++)
    {
      if (field->type == DEW_FIELD_REAL)
        ok &= check_real (check, thing_id, whose, field->key, field->label, field->quantity,
                          dew_field_get_real (field, record), field->min, field->max);
      else if (field->type == DEW_FIELD_TEXT)
        ok &= check_text (check, thing_id, whose, field->key, dew_field_get_text (field, record),
                          field->size);
      else
        {
          int value = dew_field_get_int (field, record);

          if (value >= (int) field->min && (double) value <= field->max)
            continue;
          report (check, thing_id, field->key, "%s: there is no choice number %d for \"%s\"",
                  whose, value, field->label);
          ok = FALSE;
        }
    }
  return ok;
}

static gboolean
check_climate (Check *check, const char *key, const char *label, const double months[12],
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
check_room (Check *check)
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
check_enclosure (Check *check)
{
  static const char *const words[3] = { "wide", "deep", "high" };
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

      if (side >= DEW_ENCLOSURE_MIN_M - SLACK_M && side <= DEW_ENCLOSURE_MAX_M + SLACK_M)
        continue;
      report (check, 0, keys[axis], "The enclosure is %s m %s inside; give %s to %s m",
              number (side).text, words[axis], number (DEW_ENCLOSURE_MIN_M).text,
              number (DEW_ENCLOSURE_MAX_M).text);
      ok = FALSE;
    }
  ok &= check_real (check, 0, "The cover", "leak_area_m2", "Leakage area", DEW_QUANTITY_AREA,
                    chamber->leak_area_m2, 0.0, 0.2);
  ok &= check_real (check, 0, "The cover", "leak_exponent", "Leakage exponent",
                    DEW_QUANTITY_NONE, chamber->leak_exponent, 0.5, 1.0);
  if (chamber->month < 0 || chamber->month > 11)
    {
      report (check, 0, "month", "There is no month number %d; give 1 to 12",
              chamber->month < G_MAXINT ? chamber->month + 1 : chamber->month);
      ok = FALSE;
    }
  ok &= check_room (check);
  return ok;
}

static gboolean
check_thing_values (Check *check, const DewThing *thing)
{
  g_autofree char *words = NULL;

  if ((guint) thing->kind >= DEW_N_THING_KINDS)
    {
      report (check, thing->id, "kind", "There is no kind of thing number %d", (int) thing->kind);
      return FALSE;
    }
  if (!check_text (check, thing->id, dew_thing_kind_label (thing->kind), "name", thing->name,
                   sizeof thing->name))
    return FALSE;

  words = thing_words (thing);
  return check_fields (check, thing->id, words, dew_thing_fields (thing->kind), thing);
}

/* --- layout ------------------------------------------------------------ */

static void
check_shelf (Check *check, const DewThing *thing)
{
  const DewShelf *shelf = &thing->shelf;
  g_autofree char *words = thing_words (thing);
  double top = shelf->z_m + shelf->thickness_m;

  if (shelf->z_m < BAY_MIN_M - SLACK_M)
    report (check, thing->id, "z_m",
            "%s lies %s m above the floor; raise it to %s m or more, or take it out", words,
            number (shelf->z_m).text, number (BAY_MIN_M).text);
  if (top > check->inner_m[2] - BAY_MIN_M + SLACK_M)
    report (check, thing->id, "z_m", "%s ends %s m up, but the roof is at %s m; lower it", words,
            number (top).text, number (check->inner_m[2]).text);
  if (shelf->gap_left_m + shelf->gap_right_m >= check->inner_m[0] - 0.01)
    report (check, thing->id, "gap_left_m",
            "%s has gaps at left and right that leave nothing of it; make them smaller", words);
  if (shelf->gap_front_m + shelf->gap_back_m >= check->inner_m[1] - 0.01)
    report (check, thing->id, "gap_front_m",
            "%s has gaps at front and back that leave nothing of it; make them smaller", words);

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (check->variant->things, DewThing, i);
      g_autofree char *its = NULL;
      double clear;

      if (other->kind != DEW_THING_SHELF || other == thing || other->shelf.z_m < shelf->z_m
          || (other->shelf.z_m == shelf->z_m && other < thing))
        continue;
      clear = other->shelf.z_m - top;
      if (clear >= BAY_MIN_M - SLACK_M)
        continue;
      its = thing_words (other);
      if (clear < 0)
        report (check, thing->id, "z_m", "%s and %c%s cross; move one of them up or down", words,
                g_ascii_tolower (its[0]), its + 1);
      else
        report (check, thing->id, "z_m", "%s leaves only %s m below %c%s; give %s m or more",
                words, number (clear).text, g_ascii_tolower (its[0]), its + 1,
                number (BAY_MIN_M).text);
    }
}

/* (u, v) extents of an opening or of a fan in the wall, and the face. */
static gboolean
hole_in_face (const DewThing *thing, int *face, double uv[4])
{
  if (thing->kind == DEW_THING_OPENING)
    {
      *face = thing->opening.face;
      uv[0] = thing->opening.u0_m;
      uv[1] = thing->opening.u1_m;
      uv[2] = thing->opening.v0_m;
      uv[3] = thing->opening.v1_m;
      return TRUE;
    }
  if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL)
    {
      const double centre[3] = { thing->fan.x_m, thing->fan.y_m, thing->fan.z_m };
      double r = thing->fan.diameter_m / 2;
      int normal = thing->fan.face / 2;
      double u = centre[normal == 0 ? 1 : 0];
      double v = centre[normal == 2 ? 1 : 2];

      *face = thing->fan.face;
      uv[0] = u - r;
      uv[1] = u + r;
      uv[2] = v - r;
      uv[3] = v + r;
      return TRUE;
    }
  return FALSE;
}

static void
check_hole (Check *check, const DewThing *thing)
{
  g_autofree char *words = thing_words (thing);
  double uv[4], other_uv[4];
  int face, other_face;
  double across, up;

  if (!hole_in_face (thing, &face, uv))
    return;

  across = check->inner_m[face / 2 == 0 ? 1 : 0];
  up = check->inner_m[face / 2 == 2 ? 1 : 2];
  if (uv[1] - uv[0] < OPENING_MIN_M || uv[3] - uv[2] < OPENING_MIN_M)
    {
      report (check, thing->id, uv[1] - uv[0] < OPENING_MIN_M ? "u1_m" : "v1_m",
              "%s has no size; draw it from its lower left to its upper right corner", words);
      return;
    }
  if (uv[0] < -SLACK_M || uv[1] > across + SLACK_M || uv[2] < -SLACK_M || uv[3] > up + SLACK_M)
    report (check, thing->id, thing->kind == DEW_THING_FAN ? "x_m" : "u0_m",
            "%s reaches past the edge of the %s face (%s by %s m); move it in or make it smaller",
            words, dew_face_key (face), number (across).text, number (up).text);

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (check->variant->things, DewThing, i);
      g_autofree char *its = NULL;

      if (other <= thing || !hole_in_face (other, &other_face, other_uv) || other_face != face)
        continue;
      if (MIN (uv[1], other_uv[1]) - MAX (uv[0], other_uv[0]) <= SLACK_M
          || MIN (uv[3], other_uv[3]) - MAX (uv[2], other_uv[2]) <= SLACK_M)
        continue;
      its = thing_words (other);
      report (check, thing->id, "", "%s and %c%s lie over each other in the %s face; part them",
              words, g_ascii_tolower (its[0]), its + 1, dew_face_key (face));
    }
}

/* The box that has to be inside. A fan's disc seen at an angle is smaller than
 * its cube, so a fan may stand with its back to the cover. */
static void
body_box (const DewChamber *chamber, const DewThing *thing, double lo[3], double hi[3])
{
  if (thing->kind == DEW_THING_FAN)
    {
      const DewFan *fan = &thing->fan;
      const double centre[3] = { fan->x_m, fan->y_m, fan->z_m };
      const double aim[3] = { cos (fan->elevation_rad) * cos (fan->azimuth_rad),
                              cos (fan->elevation_rad) * sin (fan->azimuth_rad),
                              sin (fan->elevation_rad) };

      for (int axis = 0; axis < 3; axis++)
        {
          double side = sqrt (MAX (0.0, 1.0 - aim[axis] * aim[axis]));

          lo[axis] = centre[axis] - fan->diameter_m / 2 * side;
          hi[axis] = centre[axis] + fan->diameter_m / 2 * side;
        }
    }
  else if (thing->kind == DEW_THING_INSTRUMENT)
    {
      lo[0] = hi[0] = thing->instrument.x_m;
      lo[1] = hi[1] = thing->instrument.y_m;
      lo[2] = hi[2] = thing->instrument.z_m;
    }
  else
    dew_thing_box (chamber, thing, lo, hi);
}

static gboolean
check_inside (Check *check, const DewThing *thing, const double lo[3], const double hi[3])
{
  static const char *const low[3] = { "on the left", "at the front", "through the floor" };
  static const char *const high[3] = { "on the right", "at the back", "through the roof" };
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  g_autofree char *words = thing_words (thing);
  gboolean inside = TRUE;

  for (int axis = 0; axis < 3; axis++)
    {
      double below = -lo[axis];
      double above = hi[axis] - check->inner_m[axis];

      if (below <= SLACK_M && above <= SLACK_M)
        continue;
      inside = FALSE;
      if (hi[axis] - lo[axis] > check->inner_m[axis] + SLACK_M)
        report (check, thing->id, keys[axis],
                "%s is %s m %s, but the enclosure only %s m; take a smaller one", words,
                number (hi[axis] - lo[axis]).text, axis == 0 ? "wide" : axis == 1 ? "deep" : "high",
                number (check->inner_m[axis]).text);
      else
        report (check, thing->id, keys[axis],
                "%s sticks out of the enclosure by %s m %s; move it inside", words,
                number (MAX (below, above)).text, below > above ? low[axis] : high[axis]);
    }
  return inside;
}

/* Leaves grow through and over a wire shelf; solid things do not. */
static void
check_on_shelves (Check *check, const DewThing *thing, const double lo[3], const double hi[3])
{
  g_autofree char *words = thing_words (thing);

  if (thing->kind == DEW_THING_PLANT || thing->kind == DEW_THING_INSTRUMENT)
    return;

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *shelf = &g_array_index (check->variant->things, DewThing, i);
      g_autofree char *its = NULL;
      double shelf_lo[3], shelf_hi[3];
      gboolean stands, passes;

      if (shelf->kind != DEW_THING_SHELF)
        continue;
      dew_thing_box (check->chamber, shelf, shelf_lo, shelf_hi);
      its = thing_words (shelf);
      its[0] = g_ascii_tolower (its[0]);
      stands = fabs (lo[2] - shelf_hi[2]) <= STANDING_M;
      passes = lo[2] < shelf_lo[2] - SLACK_M && hi[2] > shelf_hi[2] + SLACK_M;
      if (passes && lo[0] < shelf_hi[0] && hi[0] > shelf_lo[0] && lo[1] < shelf_hi[1]
          && hi[1] > shelf_lo[1])
        report (check, thing->id, "z_m", "%s goes through %s; move it up, down or into the gap",
                words, its);
      if (!stands || thing->kind != DEW_THING_POT)
        continue;
      if (hi[0] - lo[0] > shelf_hi[0] - shelf_lo[0] + SLACK_M
          || hi[1] - lo[1] > shelf_hi[1] - shelf_lo[1] + SLACK_M)
        report (check, thing->id, "rim_diameter_m",
                "%s is %s m wide, more than %s it stands on; take a smaller pot", words,
                number (hi[0] - lo[0]).text, its);
      else if (thing->pot.x_m < shelf_lo[0] || thing->pot.x_m > shelf_hi[0]
               || thing->pot.y_m < shelf_lo[1] || thing->pot.y_m > shelf_hi[1])
        report (check, thing->id, "x_m", "%s stands over the edge of %s; move it onto the shelf",
                words, its);
    }
}

static void
check_humidistat (Check *check, const DewThing *thing)
{
  const DewHumidifier *humidifier = &thing->humidifier;
  g_autofree char *words = thing_words (thing);
  const DewThing *sensor;

  if (humidifier->set_rh <= 0.0 || humidifier->sensor_id == 0)
    return;

  sensor = dew_variant_thing (check->variant, (guint) humidifier->sensor_id);
  if (sensor == NULL || sensor->kind != DEW_THING_INSTRUMENT)
    report (check, thing->id, "sensor_id",
            "%s: the instrument its humidistat listens to is gone; choose another one, or switch "
            "the humidistat off", words);
}

static void
check_layout (Check *check, const DewThing *thing)
{
  double lo[3], hi[3];
  int face;
  double uv[4];

  if (thing->kind == DEW_THING_SHELF)
    {
      check_shelf (check, thing);
      return;
    }
  if (hole_in_face (thing, &face, uv))
    {
      check_hole (check, thing);
      return;
    }
  body_box (check->chamber, thing, lo, hi);
  if (check_inside (check, thing, lo, hi))
    check_on_shelves (check, thing, lo, hi);
  if (thing->kind == DEW_THING_HUMIDIFIER)
    check_humidistat (check, thing);
}

/* --- entry points ------------------------------------------------------ */

static void
check_begin (Check *check, const DewChamber *chamber)
{
  check->problems = g_array_new (FALSE, TRUE, sizeof (DewProblem));
  check->chamber = chamber;
  check->variant = NULL;
  dew_chamber_inner_m (chamber, check->inner_m);
}

GArray *
dew_chamber_check (const DewChamber *chamber, guint variant_id)
{
  Check check;
  gboolean ok;

  g_return_val_if_fail (chamber != NULL, NULL);

  check_begin (&check, chamber);
  check.variant = dew_chamber_variant (chamber, variant_id);
  ok = check_enclosure (&check);
  if (check.variant == NULL)
    {
      report (&check, 0, "", "There is no variant number %u; choose one of the list", variant_id);
      return check.problems;
    }

  for (guint i = 0; i < check.variant->things->len; i++)
    ok &= check_thing_values (&check, &g_array_index (check.variant->things, DewThing, i));

  /* Boxes of impossible numbers would only give further, misleading words. */
  if (ok)
    for (guint i = 0; i < check.variant->things->len; i++)
      check_layout (&check, &g_array_index (check.variant->things, DewThing, i));
  return check.problems;
}

static void
check_id (Check *check, GHashTable *ids, guint id, const char *what, const char *name)
{
  if (id == 0 || id >= check->chamber->next_id)
    report (check, id, "id", "%s \"%s\" has the number %u; numbers go from 1 up to next_id (%u)",
            what, name, id, check->chamber->next_id);
  else if (!g_hash_table_add (ids, GUINT_TO_POINTER (id)))
    report (check, id, "id", "%s \"%s\" has the number %u, which is used twice", what, name, id);
}

static void
validate_variant (Check *check, GHashTable *ids, const DewVariant *variant)
{
  check_text (check, 0, "A variant", "name", variant->name, sizeof variant->name);
  check_id (check, ids, variant->id, "The variant", variant->name);
  if (variant->things->len > THINGS_MAX)
    {
      report (check, 0, "things", "The variant \"%s\" holds %u things; give %d at most",
              variant->name, variant->things->len, THINGS_MAX);
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
  Check check;

  g_return_val_if_fail (chamber != NULL, FALSE);

  check_begin (&check, chamber);
  problems = check.problems;
  check_enclosure (&check);
  if (chamber->variants->len < 1 || chamber->variants->len > VARIANTS_MAX)
    report (&check, 0, "variants", "There are %u variants; give 1 to %d", chamber->variants->len,
            VARIANTS_MAX);
  else if (dew_chamber_shown (chamber) == NULL)
    report (&check, 0, "shown_variant", "The variant to show (number %u) is not in the document",
            chamber->shown_variant);
  for (guint i = 0; i < chamber->variants->len && problems->len == 0; i++)
    validate_variant (&check, ids, &g_array_index (chamber->variants, DewVariant, i));

  if (problems->len == 0)
    return TRUE;
  g_set_error_literal (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_INVALID,
                       g_array_index (problems, DewProblem, 0).message);
  return FALSE;
}
