/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/geometry.h"

#include "chamber/check-private.h"

#include <math.h>

/* Whether things fit into the enclosure and to each other. */

#define OPENING_MIN_M 0.0005 /* of a side */
/* Things that are too near each other make problems by the square of their number; nobody
 * reads on beyond that many. */
#define ENOUGH_PROBLEMS 500

static DewProblem *
report (DewCheck *check, const DewThing *thing, DewProblemCode code, const char *field)
{
  const DewProblem who = dew_check_thing (thing);

  return dew_check_report (check, &who, code, field);
}

/* The same about a second thing. */
static DewProblem *
report_both (DewCheck *check, const DewThing *thing, const DewThing *other, DewProblemCode code,
             const char *field)
{
  DewProblem *problem = report (check, thing, code, field);

  problem->other_id = other->id;
  problem->other_kind = other->kind;
  g_strlcpy (problem->other_name, other->name, sizeof problem->other_name);
  return problem;
}

static void
check_shelf (DewCheck *check, const DewThing *thing)
{
  const DewShelf *shelf = &thing->shelf;
  double top = shelf->z_m + shelf->thickness_m;
  DewProblem *problem;

  if (shelf->z_m < DEW_BAY_MIN_M - DEW_SLACK_M)
    {
      problem = report (check, thing, DEW_PROBLEM_SHELF_LOW, "z_m");
      problem->value = shelf->z_m;
      problem->min = DEW_BAY_MIN_M;
    }
  if (top > check->inner_m[2] - DEW_BAY_MIN_M + DEW_SLACK_M)
    {
      problem = report (check, thing, DEW_PROBLEM_SHELF_HIGH, "z_m");
      problem->value = top;
      problem->max = check->inner_m[2];
    }
  if (shelf->gap_left_m + shelf->gap_right_m >= check->inner_m[0] - 0.01)
    report (check, thing, DEW_PROBLEM_SHELF_GAPS_ACROSS, "gap_left_m");
  if (shelf->gap_front_m + shelf->gap_back_m >= check->inner_m[1] - 0.01)
    report (check, thing, DEW_PROBLEM_SHELF_GAPS_DEEP, "gap_front_m");

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (check->variant->things, DewThing, i);
      double clear;

      if (other->kind != DEW_THING_SHELF || other == thing || other->shelf.z_m < shelf->z_m
          || (other->shelf.z_m == shelf->z_m && other < thing))
        continue;
      clear = other->shelf.z_m - top;
      if (clear >= DEW_BAY_MIN_M - DEW_SLACK_M)
        continue;
      problem
        = report_both (check, thing, other,
                       clear < 0 ? DEW_PROBLEM_SHELVES_CROSS : DEW_PROBLEM_SHELVES_NEAR, "z_m");
      problem->value = clear;
      problem->min = DEW_BAY_MIN_M;
      problem->z_m[0] = shelf->z_m;
      problem->z_m[1] = other->shelf.z_m;
    }
}

static void
check_hole (DewCheck *check, const DewThing *thing, DewFace face)
{
  double lo[2], hi[2], across, up;
  int u, v;

  dew_thing_hole (thing, lo, hi);
  dew_face_axes (face, &u, &v);
  across = check->inner_m[u];
  up = check->inner_m[v];
  if (hi[0] - lo[0] < OPENING_MIN_M || hi[1] - lo[1] < OPENING_MIN_M)
    {
      report (check, thing, DEW_PROBLEM_HOLE_EMPTY,
              hi[0] - lo[0] < OPENING_MIN_M ? "u1_m" : "v1_m");
      return;
    }
  if (lo[0] < -DEW_SLACK_M || hi[0] > across + DEW_SLACK_M || lo[1] < -DEW_SLACK_M
      || hi[1] > up + DEW_SLACK_M)
    {
      DewProblem *problem = report (check, thing, DEW_PROBLEM_HOLE_OUTSIDE,
                                    thing->kind == DEW_THING_FAN ? "x_m" : "u0_m");

      problem->index = face;
      problem->min = across;
      problem->max = up;
    }

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (check->variant->things, DewThing, i);

      if (other > thing && dew_holes_cross (thing, other))
        report_both (check, thing, other, DEW_PROBLEM_HOLES_CROSS, "")->index = face;
    }
}

static gboolean
check_inside (DewCheck *check, const DewThing *thing, const double lo[3], const double hi[3])
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  gboolean inside = TRUE;

  for (int axis = 0; axis < 3; axis++)
    {
      double below = -lo[axis], above = hi[axis] - check->inner_m[axis];
      DewProblem *problem;

      if (below <= DEW_SLACK_M && above <= DEW_SLACK_M)
        continue;
      inside = FALSE;
      if (hi[axis] - lo[axis] > check->inner_m[axis] + DEW_SLACK_M)
        {
          problem = report (check, thing, DEW_PROBLEM_TOO_LARGE, keys[axis]);
          problem->index = axis;
          problem->value = hi[axis] - lo[axis];
          problem->max = check->inner_m[axis];
          continue;
        }
      problem = report (check, thing, DEW_PROBLEM_STICKS_OUT, keys[axis]);
      problem->index = 2 * axis + (below > above ? 0 : 1);
      problem->value = MAX (below, above);
    }
  return inside;
}

/* Leaves grow through and over a wire shelf; solid things do not. */
static void
check_on_shelves (DewCheck *check, const DewThing *thing, const double lo[3], const double hi[3])
{
  if (thing->kind == DEW_THING_PLANT || thing->kind == DEW_THING_INSTRUMENT)
    return;

  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *shelf = &g_array_index (check->variant->things, DewThing, i);
      double shelf_lo[3], shelf_hi[3];
      gboolean stands;

      if (shelf->kind != DEW_THING_SHELF)
        continue;
      dew_thing_box (check->chamber, shelf, shelf_lo, shelf_hi);
      stands = fabs (lo[2] - shelf_hi[2]) <= DEW_STANDING_M;
      if (lo[2] < shelf_lo[2] - DEW_SLACK_M && hi[2] > shelf_hi[2] + DEW_SLACK_M
          && dew_boxes_cross (lo, hi, shelf_lo, shelf_hi, 2, 0.0))
        report_both (check, thing, shelf, DEW_PROBLEM_THROUGH_SHELF, "z_m");
      if (!stands || thing->kind != DEW_THING_POT)
        continue;
      if (hi[0] - lo[0] > shelf_hi[0] - shelf_lo[0] + DEW_SLACK_M
          || hi[1] - lo[1] > shelf_hi[1] - shelf_lo[1] + DEW_SLACK_M)
        report_both (check, thing, shelf, DEW_PROBLEM_POT_WIDE, "rim_diameter_m")->value
          = hi[0] - lo[0];
      else if (thing->pot.x_m < shelf_lo[0] || thing->pot.x_m > shelf_hi[0]
               || thing->pot.y_m < shelf_lo[1] || thing->pot.y_m > shelf_hi[1])
        report_both (check, thing, shelf, DEW_PROBLEM_POT_OVER_EDGE, "x_m");
    }
}

static void
check_humidistat (DewCheck *check, const DewThing *thing)
{
  const DewHumidifier *humidifier = &thing->humidifier;
  const DewThing *sensor;

  if (humidifier->set_rh <= 0.0 || humidifier->sensor_id == 0)
    return;

  sensor = dew_variant_thing (check->variant, (guint) humidifier->sensor_id);
  if (sensor == NULL || sensor->kind != DEW_THING_INSTRUMENT)
    report (check, thing, DEW_PROBLEM_SENSOR_GONE, "sensor_id");
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
    for (guint i = 0; i < check.variant->things->len && check.problems->len < ENOUGH_PROBLEMS; i++)
      check_thing (&check, &g_array_index (check.variant->things, DewThing, i));
  return check.problems;
}
