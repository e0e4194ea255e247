/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/geometry.h"

#include <math.h>

/* What stands on what. */

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
      if (dew_boxes_cross (lo, hi, shelf_lo, shelf_hi, 3, DEW_SLACK_M))
        return shelf;
    }
  return NULL;
}

static gboolean
stands_on (const DewChamber *chamber, const DewThing *thing, const DewThing *shelf)
{
  double lo[3], hi[3];

  if (!dew_stands (thing->kind) || !dew_is_solid (thing))
    return FALSE;
  dew_thing_box (chamber, thing, lo, hi);
  return fabs (lo[2] - shelf->shelf.z_m - shelf->shelf.thickness_m) <= DEW_STANDING_M;
}

const DewThing *
dew_carrier (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing)
{
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *shelf = &g_array_index (variant->things, DewThing, i);

      if (shelf->kind == DEW_THING_SHELF && stands_on (chamber, thing, shelf))
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

      if (!stands_on (chamber, thing, shelf))
        continue;
      dew_thing_box (chamber, thing, lo, hi);
      *lo_m = MIN (*lo_m, lo[axis]);
      *hi_m = MAX (*hi_m, hi[axis]);
      any = TRUE;
    }
  return any;
}

/* The underside of the next board above a shelf. */
static double
ceiling_of (const DewVariant *variant, const DewThing *shelf)
{
  double ceiling = INFINITY;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);

      if (other->kind == DEW_THING_SHELF && other->shelf.z_m > shelf->shelf.z_m)
        ceiling = MIN (ceiling, other->shelf.z_m);
    }
  return ceiling;
}

gboolean
dew_rides_on (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
              const DewThing *shelf)
{
  double top = shelf->shelf.z_m + shelf->shelf.thickness_m;
  double lo[3], hi[3];

  if (thing->kind == DEW_THING_SHELF || dew_thing_in_face (thing, NULL))
    return FALSE;

  dew_thing_box (chamber, thing, lo, hi);
  if (thing->kind == DEW_THING_PLANT || thing->kind == DEW_THING_INSTRUMENT)
    return lo[2] > top - DEW_STANDING_M && lo[2] < ceiling_of (variant, shelf) - DEW_STANDING_M;
  return fabs (lo[2] - top) <= DEW_STANDING_M;
}
