/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/geometry.h"

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

static void
check_hole (DewCheck *check, const DewThing *thing, DewFace face)
{
  g_autofree char *words = dew_check_words (thing);
  double lo[2], hi[2], across, up;
  int u, v;

  dew_thing_hole (thing, lo, hi);
  dew_face_axes (face, &u, &v);
  across = check->inner_m[u];
  up = check->inner_m[v];
  if (hi[0] - lo[0] < OPENING_MIN_M || hi[1] - lo[1] < OPENING_MIN_M)
    {
      dew_check_report (check, thing->id, hi[0] - lo[0] < OPENING_MIN_M ? "u1_m" : "v1_m",
                        _ ("%s has no size; draw it from its lower left to its upper right corner"),
                        words);
      return;
    }
  if (lo[0] < -DEW_SLACK_M || hi[0] > across + DEW_SLACK_M || lo[1] < -DEW_SLACK_M
      || hi[1] > up + DEW_SLACK_M)
    dew_check_report (
      check, thing->id, thing->kind == DEW_THING_FAN ? "x_m" : "u0_m",
      /* Translators: the second %s is "the left face" or the like. */
      _ ("%s reaches past the edge of %s (%s by %s m); move it in or make it smaller"), words,
      dew_check_face (face), dew_check_number (across).text, dew_check_number (up).text);

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (check->variant->things, DewThing, i);
      g_autofree char *its = NULL;
      double other_lo[2], other_hi[2];
      DewFace other_face;

      if (other <= thing || !dew_thing_in_face (other, &other_face) || other_face != face)
        continue;
      dew_thing_hole (other, other_lo, other_hi);
      if (!dew_boxes_cross (lo, hi, other_lo, other_hi, 2))
        continue;
      its = dew_check_words_inside (other);
      dew_check_report (check, thing->id, "",
                        /* Translators: the third %s is "the left face" or the like. */
                        _ ("%s and %s lie over each other in %s; part them"), words, its,
                        dew_check_face (face));
    }
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

static void
check_thing (DewCheck *check, const DewThing *thing)
{
  double lo[3], hi[3];
  DewFace face;

  if (thing->kind == DEW_THING_SHELF)
    {
      check_shelf (check, thing);
      return;
    }
  if (dew_thing_in_face (thing, &face))
    {
      check_hole (check, thing, face);
      return;
    }
  dew_thing_body (check->chamber, thing, lo, hi);
  if (check_inside (check, thing, lo, hi))
    check_on_shelves (check, thing, lo, hi);
  if (thing->kind == DEW_THING_HUMIDIFIER)
    check_humidistat (check, thing);
}

GArray *
dew_chamber_check (const DewChamber *chamber, guint variant_id)
{
  DewCheck check;

  g_return_val_if_fail (chamber != NULL, NULL);

  if (dew_check_values (&check, chamber, variant_id))
    for (guint i = 0; i < check.variant->things->len; i++)
      check_thing (&check, &g_array_index (check.variant->things, DewThing, i));
  return check.problems;
}
