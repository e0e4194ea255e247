/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Things inside things, and plants that do not fit their bay: nothing that keeps a layout from
 * being forecast, but hardly what was meant. */
#include "geometry/geometry.h"

#include "chamber/check-private.h"

#include <math.h>

/* Boxes may touch and drawings are not to the millimetre. */
#define SLACK_M 0.005
/* Leaves of neighbours reach into each other; stems, pots and the middle third of a crown do
 * not. Common practice, no source. */
#define CORE_SHARE 0.34

/* What nothing else can be in: the body of a device or pot, of a plant its foot and the middle
 * of its crown. FALSE for what lies flat, holds others or is no body. */
static gboolean
core_of (const DewCheck *check, const DewThing *thing, double lo[3], double hi[3])
{
  switch (thing->kind)
    {
    case DEW_THING_FAN:
    case DEW_THING_HUMIDIFIER:
    case DEW_THING_POT:
    case DEW_THING_LAMP:
      if (dew_thing_in_face (thing, NULL))
        return FALSE;
      dew_thing_box (check->chamber, thing, lo, hi);
      return TRUE;
    case DEW_THING_PLANT:
      dew_thing_box (check->chamber, thing, lo, hi);
      for (int axis = 0; axis < 2; axis++)
        {
          double middle_m = (lo[axis] + hi[axis]) / 2, half_m = (hi[axis] - lo[axis]) / 2;

          lo[axis] = middle_m - CORE_SHARE * half_m;
          hi[axis] = middle_m + CORE_SHARE * half_m;
        }
      if (thing->plant.mass_kg > 0.0)
        lo[2] = dew_variant_rest_height (check->variant, thing->plant.z_m);
      return TRUE;
    default:
      return FALSE;
    }
}

static void
name_other (DewProblem *problem, const DewThing *other)
{
  problem->other_id = other->id;
  problem->other_kind = other->kind;
  g_strlcpy (problem->other_name, other->name, sizeof problem->other_name);
}

static void
check_pair (DewCheck *check, const DewThing *thing, const DewThing *other)
{
  double lo[3], hi[3], other_lo[3], other_hi[3];
  const DewProblem who = dew_check_thing (thing);

  if (!core_of (check, thing, lo, hi) || !core_of (check, other, other_lo, other_hi)
      || !dew_boxes_cross (lo, hi, other_lo, other_hi, 3, SLACK_M))
    return;
  name_other (dew_check_report (check, &who, DEW_PROBLEM_INSIDE_OTHER, ""), other);
}

/* The lowest shelf that a crown grows through. */
static void
check_crown (DewCheck *check, const DewThing *plant)
{
  const DewThing *through = NULL;
  const DewProblem who = dew_check_thing (plant);
  DewProblem *problem;
  double lo[3], hi[3];

  dew_thing_box (check->chamber, plant, lo, hi);
  for (guint i = 0; i < check->variant->things->len; i++)
    {
      const DewThing *shelf = &g_array_index (check->variant->things, DewThing, i);
      double shelf_lo[3], shelf_hi[3];

      if (shelf->kind != DEW_THING_SHELF)
        continue;
      dew_thing_box (check->chamber, shelf, shelf_lo, shelf_hi);
      if (shelf_lo[2] < lo[2] + SLACK_M || shelf_lo[2] > hi[2] - SLACK_M
          || plant->plant.x_m < shelf_lo[0] || plant->plant.x_m > shelf_hi[0]
          || plant->plant.y_m < shelf_lo[1] || plant->plant.y_m > shelf_hi[1])
        continue;
      if (through == NULL || shelf->shelf.z_m < through->shelf.z_m)
        through = shelf;
    }
  if (through == NULL)
    return;
  problem = dew_check_report (check, &who, DEW_PROBLEM_CROWN_HIGH, "height_m");
  name_other (problem, through);
  problem->value = hi[2] - lo[2];
  problem->max = through->shelf.z_m - lo[2];
}

GArray *
dew_chamber_doubts (const DewChamber *chamber, guint variant_id)
{
  DewCheck check;

  g_return_val_if_fail (chamber != NULL, NULL);

  if (!dew_check_values (&check, chamber, variant_id))
    {
      g_array_set_size (check.problems, 0);
      return check.problems;
    }
  g_array_set_size (check.problems, 0);
  for (guint i = 0; i < check.variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (check.variant->things, DewThing, i);

      for (guint k = i + 1; k < check.variant->things->len; k++)
        check_pair (&check, thing, &g_array_index (check.variant->things, DewThing, k));
      if (thing->kind == DEW_THING_PLANT)
        check_crown (&check, thing);
    }
  return check.problems;
}
