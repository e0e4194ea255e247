/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/settle.h"

#include <math.h>

#define TOUCH_M 1e-6 /* rounding */
#define RIDE_M 0.01  /* this near above a board stands on it */

gboolean
dew_stands (DewThingKind kind)
{
  return kind == DEW_THING_HUMIDIFIER || kind == DEW_THING_POT || kind == DEW_THING_TRAY
         || kind == DEW_THING_MAT || kind == DEW_THING_SOURCE || kind == DEW_THING_PLANT;
}

gboolean
dew_is_solid (const DewThing *thing)
{
  return thing->kind != DEW_THING_PLANT && thing->kind != DEW_THING_INSTRUMENT
         && thing->kind != DEW_THING_SHELF && thing->kind != DEW_THING_OPENING;
}

static gboolean
over_each_other (const double lo[3], const double hi[3], const double other_lo[3],
                 const double other_hi[3])
{
  return lo[0] < other_hi[0] - TOUCH_M && hi[0] > other_lo[0] + TOUCH_M
         && lo[1] < other_hi[1] - TOUCH_M && hi[1] > other_lo[1] + TOUCH_M;
}

const DewThing *
dew_pierced_by (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing)
{
  double lo[3], hi[3];

  if (!dew_is_solid (thing))
    return NULL;
  dew_thing_box (chamber, thing, lo, hi);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *shelf = &g_array_index (variant->things, DewThing, i);
      double shelf_lo[3], shelf_hi[3];

      if (shelf->kind != DEW_THING_SHELF)
        continue;
      dew_thing_box (chamber, shelf, shelf_lo, shelf_hi);
      if (lo[2] < shelf_hi[2] - TOUCH_M && hi[2] > shelf_lo[2] + TOUCH_M
          && over_each_other (lo, hi, shelf_lo, shelf_hi))
        return shelf;
    }
  return NULL;
}

double
dew_ceiling_m (const DewChamber *chamber, const DewVariant *variant, double z_m, const double lo[3],
               const double hi[3])
{
  double inner[3], ceiling;

  dew_chamber_inner_m (chamber, inner);
  ceiling = inner[2];
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *shelf = &g_array_index (variant->things, DewThing, i);
      double shelf_lo[3], shelf_hi[3];

      if (shelf->kind != DEW_THING_SHELF || shelf->shelf.z_m < z_m)
        continue;
      dew_thing_box (chamber, shelf, shelf_lo, shelf_hi);
      if (over_each_other (lo, hi, shelf_lo, shelf_hi))
        ceiling = MIN (ceiling, shelf->shelf.z_m);
    }
  return ceiling;
}

static void
shift (DewThing *thing, int axis, double d_m)
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  const DewField *field = dew_field_find (dew_thing_fields (thing->kind), keys[axis]);

  if (field != NULL && d_m != 0)
    dew_field_set_real (field, thing, dew_field_get_real (field, thing) + d_m);
}

static gboolean
rides (const DewChamber *chamber, const DewThing *thing, const DewThing *shelf)
{
  double lo[3], hi[3];

  if (!dew_stands (thing->kind) || !dew_is_solid (thing))
    return FALSE;
  dew_thing_box (chamber, thing, lo, hi);
  return fabs (lo[2] - shelf->shelf.z_m - shelf->shelf.thickness_m) <= RIDE_M;
}

const DewThing *
dew_carrier (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing)
{
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *shelf = &g_array_index (variant->things, DewThing, i);

      if (shelf->kind == DEW_THING_SHELF && rides (chamber, thing, shelf))
        return shelf;
    }
  return NULL;
}

gboolean
dew_carried_span (const DewChamber *chamber, const DewVariant *variant, const DewThing *shelf,
                  int axis, double *lo_m, double *hi_m)
{
  gboolean any = FALSE;

  *lo_m = INFINITY;
  *hi_m = -INFINITY;
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];

      if (!rides (chamber, thing, shelf))
        continue;
      dew_thing_box (chamber, thing, lo, hi);
      *lo_m = MIN (*lo_m, lo[axis]);
      *hi_m = MAX (*hi_m, hi[axis]);
      any = TRUE;
    }
  return any;
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

void
dew_shelf_limits (const DewChamber *chamber, const DewVariant *variant, const DewThing *shelf,
                  double least_bay_m, double *low_m, double *high_m)
{
  double z = shelf->shelf.z_m, top = z + shelf->shelf.thickness_m;
  double below = 0, next, above, tallest = least_bay_m, stands_up_to = 0, inner[3], headroom;

  dew_chamber_inner_m (chamber, inner);
  next = headroom = inner[2];
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);

      if (other->kind != DEW_THING_SHELF || other->id == shelf->id)
        continue;
      if (other->shelf.z_m < z)
        below = MAX (below, other->shelf.z_m + other->shelf.thickness_m);
      else
        next = MIN (next, other->shelf.z_m);
    }
  above = next;
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];

      if (other->kind == DEW_THING_SHELF || other->kind == DEW_THING_OPENING)
        continue;
      dew_thing_box (chamber, other, lo, hi);
      if (!dew_is_solid (other))
        {
          /* Crowns and instruments of this bay go along, through shelves but not
           * through the roof. */
          if (lo[2] > top - RIDE_M && lo[2] < next - RIDE_M)
            headroom = MIN (headroom, inner[2] - hi[2]);
        }
      else if (fabs (lo[2] - top) <= RIDE_M)
        tallest = MAX (tallest, hi[2] - top); /* goes along */
      else if (lo[2] >= top)
        above = MIN (above, lo[2]); /* hangs over it */
      else if (hi[2] <= z + TOUCH_M)
        stands_up_to = MAX (stands_up_to, hi[2]);
    }
  /* Where it is now is always allowed: a drag must not begin with a jump. */
  *low_m = MIN (MAX (below + least_bay_m, stands_up_to), z);
  *high_m = MAX (MIN (above - tallest - shelf->shelf.thickness_m, z + headroom), z);
}
