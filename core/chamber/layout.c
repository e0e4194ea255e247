/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber-private.h"
#include "chamber/check-private.h"

#include <glib/gi18n.h>
#include <math.h>

/* Whether things fit into the enclosure and to each other. */

#define OPENING_MIN_M 0.0005 /* of a side */

static void
check_shelf (DewCheck *check, const DewThing *thing)
{
  const DewShelf *shelf = &thing->shelf;
  g_autofree char *words = dew_check_words (thing);
  double top = shelf->z_m + shelf->thickness_m;

  if (shelf->z_m < DEW_BAY_MIN_M - DEW_SLACK_M)
    dew_check_report (check, thing->id, "z_m",
                      _ ("%s lies %s m above the floor; raise it to %s m or more, or take it out"),
                      words, dew_check_number (shelf->z_m).text,
                      dew_check_number (DEW_BAY_MIN_M).text);
  if (top > check->inner_m[2] - DEW_BAY_MIN_M + DEW_SLACK_M)
    dew_check_report (check, thing->id, "z_m",
                      _ ("%s ends %s m up, but the roof is at %s m; lower it"), words,
                      dew_check_number (top).text, dew_check_number (check->inner_m[2]).text);
  if (shelf->gap_left_m + shelf->gap_right_m >= check->inner_m[0] - 0.01)
    dew_check_report (
      check, thing->id, "gap_left_m",
      _ ("%s has gaps at left and right that leave nothing of it; make them smaller"), words);
  if (shelf->gap_front_m + shelf->gap_back_m >= check->inner_m[1] - 0.01)
    dew_check_report (
      check, thing->id, "gap_front_m",
      _ ("%s has gaps at front and back that leave nothing of it; make them smaller"), words);

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (check->variant->things, DewThing, i);
      g_autofree char *its = NULL;
      double clear;

      if (other->kind != DEW_THING_SHELF || other == thing || other->shelf.z_m < shelf->z_m
          || (other->shelf.z_m == shelf->z_m && other < thing))
        continue;
      clear = other->shelf.z_m - top;
      if (clear >= DEW_BAY_MIN_M - DEW_SLACK_M)
        continue;
      its = dew_check_words_inside (other);
      if (clear < 0)
        dew_check_report (check, thing->id, "z_m",
                          /* Translators: 'The shelf "A"', then 'the shelf "B"', as in the
                           * sentences below. */
                          _ ("%s and %s cross; move one of them up or down"), words, its);
      else
        dew_check_report (check, thing->id, "z_m",
                          /* Translators: the third %s is 'the shelf "B"'. */
                          _ ("%s leaves only %s m below %s; give %s m or more"), words,
                          dew_check_number (clear).text, its,
                          dew_check_number (DEW_BAY_MIN_M).text);
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
check_hole (DewCheck *check, const DewThing *thing)
{
  g_autofree char *words = dew_check_words (thing);
  double uv[4], other_uv[4];
  int face, other_face;
  double across, up;

  if (!hole_in_face (thing, &face, uv))
    return;

  across = check->inner_m[face / 2 == 0 ? 1 : 0];
  up = check->inner_m[face / 2 == 2 ? 1 : 2];
  if (uv[1] - uv[0] < OPENING_MIN_M || uv[3] - uv[2] < OPENING_MIN_M)
    {
      dew_check_report (check, thing->id, uv[1] - uv[0] < OPENING_MIN_M ? "u1_m" : "v1_m",
                        _ ("%s has no size; draw it from its lower left to its upper right corner"),
                        words);
      return;
    }
  if (uv[0] < -DEW_SLACK_M || uv[1] > across + DEW_SLACK_M || uv[2] < -DEW_SLACK_M
      || uv[3] > up + DEW_SLACK_M)
    dew_check_report (
      check, thing->id, thing->kind == DEW_THING_FAN ? "x_m" : "u0_m",
      /* Translators: the second %s is "the left face" or the like. */
      _ ("%s reaches past the edge of %s (%s by %s m); move it in or make it smaller"), words,
      dew_check_face (face), dew_check_number (across).text, dew_check_number (up).text);

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (check->variant->things, DewThing, i);
      g_autofree char *its = NULL;

      if (other <= thing || !hole_in_face (other, &other_face, other_uv) || other_face != face)
        continue;
      if (MIN (uv[1], other_uv[1]) - MAX (uv[0], other_uv[0]) <= DEW_SLACK_M
          || MIN (uv[3], other_uv[3]) - MAX (uv[2], other_uv[2]) <= DEW_SLACK_M)
        continue;
      its = dew_check_words_inside (other);
      dew_check_report (check, thing->id, "",
                        /* Translators: the third %s is "the left face" or the like. */
                        _ ("%s and %s lie over each other in %s; part them"), words, its,
                        dew_check_face (face));
    }
}

void
dew_thing_body (const DewChamber *chamber, const DewThing *thing, double lo[3], double hi[3])
{
  if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_FREE)
    {
      const DewFan *fan = &thing->fan;
      const double centre[3] = { fan->x_m, fan->y_m, fan->z_m };
      const double aim[3]
        = { cos (fan->elevation_rad) * cos (fan->azimuth_rad),
            cos (fan->elevation_rad) * sin (fan->azimuth_rad), sin (fan->elevation_rad) };

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

/* A sentence per side, since languages do not agree on how to say them. */
static void
report_sticking_out (DewCheck *check, const DewThing *thing, const char *key, int axis,
                     gboolean low, double by_m)
{
  g_autofree char *words = dew_check_words (thing);
  DewNumber by = dew_check_number (by_m);

  if (axis == 0)
    dew_check_report (check, thing->id, key,
                      low ? _ ("%s sticks out of the enclosure by %s m on the left; move it inside")
                          : _ ("%s sticks out of the enclosure by %s m on the right; move it "
                               "inside"),
                      words, by.text);
  else if (axis == 1)
    dew_check_report (check, thing->id, key,
                      low ? _ ("%s sticks out of the enclosure by %s m at the front; move it "
                               "inside")
                          : _ ("%s sticks out of the enclosure by %s m at the back; move it "
                               "inside"),
                      words, by.text);
  else
    dew_check_report (check, thing->id, key,
                      low ? _ ("%s sticks out of the enclosure by %s m through the floor; move it "
                               "inside")
                          : _ ("%s sticks out of the enclosure by %s m through the roof; move it "
                               "inside"),
                      words, by.text);
}

static gboolean
check_inside (DewCheck *check, const DewThing *thing, const double lo[3], const double hi[3])
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  g_autofree char *words = dew_check_words (thing);
  gboolean inside = TRUE;

  for (int axis = 0; axis < 3; axis++)
    {
      DewNumber size = dew_check_number (hi[axis] - lo[axis]);
      DewNumber room = dew_check_number (check->inner_m[axis]);
      double below = -lo[axis];
      double above = hi[axis] - check->inner_m[axis];

      if (below <= DEW_SLACK_M && above <= DEW_SLACK_M)
        continue;
      inside = FALSE;
      if (hi[axis] - lo[axis] > check->inner_m[axis] + DEW_SLACK_M)
        dew_check_report (
          check, thing->id, keys[axis],
          axis == 0   ? _ ("%s is %s m wide, but the enclosure only %s m; take a smaller one")
          : axis == 1 ? _ ("%s is %s m deep, but the enclosure only %s m; take a smaller one")
                      : _ ("%s is %s m high, but the enclosure only %s m; take a smaller one"),
          words, size.text, room.text);
      else
        report_sticking_out (check, thing, keys[axis], axis, below > above, MAX (below, above));
    }
  return inside;
}

/* Leaves grow through and over a wire shelf; solid things do not. */
static void
check_on_shelves (DewCheck *check, const DewThing *thing, const double lo[3], const double hi[3])
{
  g_autofree char *words = dew_check_words (thing);

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
      its = dew_check_words_inside (shelf);
      stands = fabs (lo[2] - shelf_hi[2]) <= DEW_STANDING_M;
      passes = lo[2] < shelf_lo[2] - DEW_SLACK_M && hi[2] > shelf_hi[2] + DEW_SLACK_M;
      if (passes && lo[0] < shelf_hi[0] && hi[0] > shelf_lo[0] && lo[1] < shelf_hi[1]
          && hi[1] > shelf_lo[1])
        dew_check_report (check, thing->id, "z_m",
                          /* Translators: the second %s is 'the shelf "B"'. */
                          _ ("%s goes through %s; move it up, down or into the gap"), words, its);
      if (!stands || thing->kind != DEW_THING_POT)
        continue;
      if (hi[0] - lo[0] > shelf_hi[0] - shelf_lo[0] + DEW_SLACK_M
          || hi[1] - lo[1] > shelf_hi[1] - shelf_lo[1] + DEW_SLACK_M)
        dew_check_report (check, thing->id, "rim_diameter_m",
                          /* Translators: the third %s is 'the shelf "B"'. */
                          _ ("%s is %s m wide, more than %s it stands on; take a smaller pot"),
                          words, dew_check_number (hi[0] - lo[0]).text, its);
      else if (thing->pot.x_m < shelf_lo[0] || thing->pot.x_m > shelf_hi[0]
               || thing->pot.y_m < shelf_lo[1] || thing->pot.y_m > shelf_hi[1])
        dew_check_report (check, thing->id, "x_m",
                          /* Translators: the second %s is 'the shelf "B"'. */
                          _ ("%s stands over the edge of %s; move it onto the shelf"), words, its);
    }
}

static void
check_humidistat (DewCheck *check, const DewThing *thing)
{
  const DewHumidifier *humidifier = &thing->humidifier;
  g_autofree char *words = dew_check_words (thing);
  const DewThing *sensor;

  if (humidifier->set_rh <= 0.0 || humidifier->sensor_id == 0)
    return;

  sensor = dew_variant_thing (check->variant, (guint) humidifier->sensor_id);
  if (sensor == NULL || sensor->kind != DEW_THING_INSTRUMENT)
    dew_check_report (
      check, thing->id, "sensor_id",
      _ ("%s: the instrument its humidistat listens to is gone; choose another one, or switch "
         "the humidistat off"),
      words);
}

void
dew_check_layout (DewCheck *check, const DewThing *thing)
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
  dew_thing_body (check->chamber, thing, lo, hi);
  if (check_inside (check, thing, lo, hi))
    check_on_shelves (check, thing, lo, hi);
  if (thing->kind == DEW_THING_HUMIDIFIER)
    check_humidistat (check, thing);
}
