/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/drag-private.h"
#include "paint/settle.h"

#include <math.h>

#define POT_HEIGHT_M 0.08 /* between a shelf and a crown that was just put there */
#define HANG_M 0.02       /* a lamp below what is above it */
#define HEADROOM_M 0.01   /* over what stands under a shelf */
#define NARROWEST_M 0.05  /* an opening that makes way for others */
#define TOUCH_M 1e-6      /* rounding */

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

/* Whether another hole shares the face and some of the heights of an opening. */
static gboolean
stands_in_the_way (const DewThing *other, const DewOpening *opening)
{
  return other->kind == DEW_THING_OPENING && other->opening.face == opening->face
         && other->opening.v0_m < opening->v1_m - TOUCH_M
         && other->opening.v1_m > opening->v0_m + TOUCH_M;
}

/* Across the face at the height of the opening: where the next hole ends to the left of
 * `u` and where one begins to the right of it. FALSE when u itself lies in a hole. */
static gboolean
free_span (const DewVariant *variant, const DewOpening *opening, double u, double width_m,
           double *lo_m, double *hi_m)
{
  *lo_m = 0.0;
  *hi_m = width_m;
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);

      if (!stands_in_the_way (other, opening))
        continue;
      if (other->opening.u1_m <= u + TOUCH_M)
        *lo_m = MAX (*lo_m, other->opening.u1_m);
      else if (other->opening.u0_m >= u - TOUCH_M)
        *hi_m = MIN (*hi_m, other->opening.u0_m);
      else
        return FALSE;
    }
  return *hi_m - *lo_m >= NARROWEST_M;
}

/* Two holes cannot be in one place of a face. What is dropped on another one goes to the
 * nearest gap beside it, narrower where the gap is. Where there is none it stays, and the
 * sheet says why there is no forecast. */
static void
make_way (const DewVariant *variant, DewOpening *opening, double face_width_m)
{
  double middle = (opening->u0_m + opening->u1_m) / 2.0;
  double best_u0 = opening->u0_m, best_u1 = opening->u1_m, least = INFINITY;

  /* A gap begins at the left edge of the face or where a hole ends. */
  for (int i = -1; i < (int) variant->things->len; i++)
    {
      const DewThing *other = i < 0 ? NULL : &g_array_index (variant->things, DewThing, i);
      double lo, hi, width, u0, off;

      if (other != NULL && !stands_in_the_way (other, opening))
        continue;
      if (!free_span (variant, opening, other != NULL ? other->opening.u1_m : 0.0, face_width_m,
                      &lo, &hi))
        continue;
      width = MIN (opening->u1_m - opening->u0_m, hi - lo);
      u0 = CLAMP (middle - width / 2.0, lo, hi - width);
      off = fabs (u0 + width / 2.0 - middle);
      if (off >= least)
        continue;
      least = off;
      best_u0 = u0;
      best_u1 = u0 + width;
    }
  opening->u0_m = best_u0;
  opening->u1_m = best_u1;
}

/* A new thing has a usual height; under a low shelf the grower means one that fits. */
static void
fit_under_shelf (const DewChamber *chamber, const DewVariant *variant, DewThing *thing)
{
  const DewField *field = dew_field_find (dew_thing_fields (thing->kind), "height_m");
  double lo[3], hi[3], room_m;

  if (field == NULL || !dew_is_solid (thing) || !dew_stands (thing->kind))
    return;
  dew_thing_box (chamber, thing, lo, hi);
  room_m = dew_ceiling_m (chamber, variant, lo[2], lo, hi) - HEADROOM_M - lo[2];
  if (hi[2] - lo[2] > room_m && room_m > HEADROOM_M)
    dew_field_set_real (field, thing, room_m);
}

void
dew_sheet_drop (const DewChamber *chamber, const DewVariant *variant, DewThing *thing, DewView view,
                const double at_m[2], int plan_bay)
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  g_autofree double *z_m = NULL;
  double inner[3], at[3], lo[3], hi[3], rest;
  int n, u, v;

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
      DewFace face = dew_face_at (inner, view, at_m);

      dew_put_in_face (thing, face, inner, at);
      dew_face_axes (face, &u, &v);
      make_way (variant, &thing->opening, inner[u]);
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
  fit_under_shelf (chamber, variant, thing);
  keep_inside (chamber, thing, 2);
  dew_settle (chamber, variant, thing);
}
