/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/drag-private.h"
#include "paint/settle.h"

#include <math.h>

#define POT_HEIGHT_M 0.08 /* between a shelf and a crown that was just put there */
#define HANG_M       0.02 /* a lamp below what is above it */

/* Puts lo..hi of a thing inside the enclosure along an axis. */
static void
keep_inside (const DewChamber *chamber, DewThing *thing, int axis)
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  const DewField *field = dew_field_find (dew_thing_fields (thing->kind), keys[axis]);
  double lo[3], hi[3], inner[3], d_m = 0;

  if (field == NULL)
    return;
  dew_thing_box (chamber, thing, lo, hi);
  dew_chamber_inner_m (chamber, inner);
  if (hi[axis] - lo[axis] >= inner[axis])
    d_m = axis == 2 ? -lo[axis] : (inner[axis] - hi[axis] - lo[axis]) / 2;
  else if (lo[axis] < 0)
    d_m = -lo[axis];
  else if (hi[axis] > inner[axis])
    d_m = inner[axis] - hi[axis];
  dew_field_set_real (field, thing, dew_field_get_real (field, thing) + d_m);
}

void
dew_sheet_drop (const DewChamber *chamber, const DewVariant *variant, DewThing *thing,
                DewView view, const double at_m[2], int plan_bay)
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  g_autofree double *z_m = NULL;
  double inner[3], at[3], lo[3], hi[3], rest;
  int n;

  g_return_if_fail (chamber != NULL && variant != NULL && thing != NULL && at_m != NULL);

  dew_chamber_inner_m (chamber, inner);
  n = dew_variant_bays (chamber, variant, &z_m, NULL);
  plan_bay = CLAMP (plan_bay, 0, n - 1);
  for (int axis = 0; axis < 3; axis++)
    at[axis] = inner[axis] / 2;
  if (view == DEW_VIEW_PLAN)
    at[2] = (z_m[plan_bay] + z_m[plan_bay + 1]) / 2;
  at[dew_view_across (view)] = CLAMP (at_m[0], 0, inner[dew_view_across (view)]);
  at[dew_view_up (view)] = CLAMP (at_m[1], 0, inner[dew_view_up (view)]);

  if (thing->kind == DEW_THING_OPENING)
    {
      dew_put_in_face (thing, dew_face_at (inner, view, at_m), inner, at);
      return;
    }
  if (thing->kind == DEW_THING_SHELF)
    {
      thing->shelf.z_m = CLAMP (round (at[2] / 0.005) * 0.005, 0.05,
                                MAX (inner[2] - thing->shelf.thickness_m - 0.05, 0.05));
      return;
    }

  for (int axis = 0; axis < 2; axis++)
    {
      dew_field_set_real (dew_field_find (dew_thing_fields (thing->kind), keys[axis]), thing,
                          at[axis]);
      keep_inside (chamber, thing, axis);
    }
  rest = dew_variant_rest_height (variant, at[2]);
  dew_thing_box (chamber, thing, lo, hi);
  if (thing->kind == DEW_THING_LAMP)
    at[2] = dew_ceiling_m (chamber, variant, at[2], lo, hi) - (hi[2] - lo[2]) - HANG_M;
  else if (thing->kind == DEW_THING_PLANT)
    at[2] = rest + (thing->plant.mass_kg > 0 ? POT_HEIGHT_M : 0);
  else if (thing->kind != DEW_THING_FAN && thing->kind != DEW_THING_INSTRUMENT)
    at[2] = rest;
  dew_field_set_real (dew_field_find (dew_thing_fields (thing->kind), keys[2]), thing, at[2]);
  keep_inside (chamber, thing, 2);
  dew_settle (chamber, variant, thing);
}
