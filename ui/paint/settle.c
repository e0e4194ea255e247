/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/settle.h"

#include "geometry/geometry.h"

static void
shift (DewThing *thing, int axis, double d_m)
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  const DewField *field = dew_field_find (dew_thing_fields (thing->kind), keys[axis]);

  if (field != NULL && d_m != 0)
    dew_field_set_real (field, thing, dew_field_get_real (field, thing) + d_m);
}

static void
keep_on_shelf (const DewChamber *chamber, const DewVariant *variant, DewThing *thing)
{
  const DewThing *shelf = dew_carrier (chamber, variant, thing);
  double lo[3], hi[3], shelf_lo[3], shelf_hi[3];

  if (shelf == NULL)
    return;
  dew_thing_box (chamber, thing, lo, hi);
  dew_thing_box (chamber, shelf, shelf_lo, shelf_hi);
  for (int axis = 0; axis < 2; axis++)
    if (hi[axis] - lo[axis] > shelf_hi[axis] - shelf_lo[axis])
      shift (thing, axis, (shelf_lo[axis] + shelf_hi[axis] - lo[axis] - hi[axis]) / 2);
    else if (lo[axis] < shelf_lo[axis])
      shift (thing, axis, shelf_lo[axis] - lo[axis]);
    else if (hi[axis] > shelf_hi[axis])
      shift (thing, axis, shelf_hi[axis] - hi[axis]);
}

void
dew_settle (const DewChamber *chamber, const DewVariant *variant, DewThing *thing)
{
  const DewThing *shelf;
  double lo[3], hi[3], shelf_lo[3], shelf_hi[3], inner[3], up, down;

  if (dew_stands (thing->kind) && thing->kind != DEW_THING_PLANT)
    {
      keep_on_shelf (chamber, variant, thing);
      return;
    }
  shelf = dew_pierced_by (chamber, variant, thing);
  if (shelf == NULL)
    return;
  dew_thing_box (chamber, thing, lo, hi);
  dew_thing_box (chamber, shelf, shelf_lo, shelf_hi);
  dew_chamber_inner_m (chamber, inner);
  up = shelf_hi[2] - lo[2];
  down = shelf_lo[2] - hi[2];
  if (hi[2] + up > inner[2] || (lo[2] + down >= 0 && -down < up))
    shift (thing, 2, down);
  else
    shift (thing, 2, up);
}
