/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a new thing goes that is dropped at a point, and what sits in a face. */
#include "edit/edit-private.h"

#include "edit/snap.h"

#include <math.h>

#define POT_HEIGHT_M 0.08 /* between a shelf and a crown that was just put there */
#define HANG_M 0.02       /* a lamp below what is above it */
#define HEADROOM_M 0.01   /* over what stands under a shelf */
#define NARROWEST_M 0.05  /* an opening that makes way for others */
#define LEAST_OPENING_M 0.01
#define NEAR_SHARE 0.12 /* of the view's smaller side: as near to a wall is at the wall */

/* --- faces ------------------------------------------------------------- */

static double
near_m (const double inner_m[3], DewView view)
{
  return NEAR_SHARE * MIN (inner_m[dew_view_across (view)], inner_m[dew_view_up (view)]);
}

/* The wall seen edge-on whose line is nearest to a point, and how far it is:
 * negative outside. */
static DewFace
nearest_wall (const double inner_m[3], DewView view, const double at_m[2], double *distance_m)
{
  int axes[2] = { dew_view_across (view), dew_view_up (view) };
  DewFace best = dew_face_of (axes[0], FALSE);

  *distance_m = INFINITY;
  for (int i = 0; i < 2; i++)
    for (int high = 0; high < 2; high++)
      {
        double from = high ? inner_m[axes[i]] - at_m[i] : at_m[i];

        if (from >= *distance_m)
          continue;
        *distance_m = from;
        best = dew_face_of (axes[i], high);
      }
  return best;
}

DewFace
dew_face_dropped_on (const double inner_m[3], DewView view, const double at_m[2])
{
  double distance_m;
  DewFace wall = nearest_wall (inner_m, view, at_m, &distance_m);

  return distance_m < near_m (inner_m, view)
           ? wall
           : dew_face_of (dew_view_depth (view), dew_view_nearer (view) > 0);
}

DewFace
dew_face_dragged_to (const double inner_m[3], DewView view, DewFace from, const double at_m[2])
{
  double distance_m;
  DewFace wall = nearest_wall (inner_m, view, at_m, &distance_m);

  if (!dew_face_edge_on (from, view))
    return distance_m < 0 ? wall : from;
  return dew_face_dropped_on (inner_m, view, at_m);
}

void
dew_thing_put_in_face (DewThing *thing, DewFace face, const double inner_m[3], const double at_m[3])
{
  DewOpening *opening = &thing->opening;
  double width, height;
  int u, v;

  if (thing->kind == DEW_THING_FAN)
    {
      double *place[3] = { &thing->fan.x_m, &thing->fan.y_m, &thing->fan.z_m };
      double half = thing->fan.diameter_m / 2;

      thing->fan.face = face;
      for (int i = 0; i < 3; i++)
        *place[i] = i == dew_face_axis (face) ? dew_face_at_m (face, inner_m)
                                              : CLAMP (at_m[i], MIN (half, inner_m[i] / 2),
                                                       MAX (inner_m[i] - half, inner_m[i] / 2));
      return;
    }
  g_return_if_fail (thing->kind == DEW_THING_OPENING);
  width = opening->u1_m - opening->u0_m;
  height = opening->v1_m - opening->v0_m;
  opening->face = face;
  dew_face_axes (face, &u, &v);
  width = CLAMP (width, LEAST_OPENING_M, inner_m[u]);
  height = CLAMP (height, LEAST_OPENING_M, inner_m[v]);
  opening->u0_m = CLAMP (at_m[u] - width / 2, 0, inner_m[u] - width);
  opening->u1_m = opening->u0_m + width;
  opening->v0_m = CLAMP (at_m[v] - height / 2, 0, inner_m[v] - height);
  opening->v1_m = opening->v0_m + height;
}

/* --- room beside other holes ------------------------------------------- */

/* Whether another hole shares the face and some of the heights of an opening. */
static gboolean
stands_in_the_way (const DewThing *other, const DewOpening *opening)
{
  return other->kind == DEW_THING_OPENING && other->opening.face == opening->face
         && dew_span_shared (other->opening.v0_m, other->opening.v1_m, opening->v0_m, opening->v1_m)
              > DEW_SLACK_M;
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
      if (other->opening.u1_m <= u + DEW_SLACK_M)
        *lo_m = MAX (*lo_m, other->opening.u1_m);
      else if (other->opening.u0_m >= u - DEW_SLACK_M)
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

/* --- dropping ---------------------------------------------------------- */

/* Puts a thing at a place along an axis, and inside; what is too tall stands on the
 * floor. */
static void
put (const DewChamber *chamber, DewThing *thing, int axis, double at_m)
{
  double lo[3], hi[3], inner[3];

  dew_field_set_real (dew_place_field (thing, axis), thing, at_m);
  dew_thing_box (chamber, thing, lo, hi);
  dew_chamber_inner_m (chamber, inner);
  dew_thing_shift (thing, axis,
                   axis == 2 && hi[2] - lo[2] >= inner[2]
                     ? -lo[2]
                     : dew_shift_inside (lo[axis], hi[axis], 0, 0, inner[axis]));
}

/* A new thing has a usual height; under a low shelf the grower means one that fits. */
static void
fit_under_shelf (const DewChamber *chamber, const DewVariant *variant, DewThing *thing,
                 double rest_m)
{
  const DewField *field = dew_field_find (dew_thing_fields (thing->kind), "height_m");
  double lo[3], hi[3], room_m;

  if (field == NULL || !dew_is_solid (thing) || !dew_stands (thing->kind))
    return;
  dew_thing_box (chamber, thing, lo, hi);
  room_m = dew_ceiling_m (chamber, variant, rest_m, lo, hi) - HEADROOM_M - rest_m;
  if (hi[2] - lo[2] > room_m && room_m > HEADROOM_M)
    dew_field_set_real (field, thing, room_m);
}

/* The height at which a thing of that kind stands or hangs when it is let go at at_m. */
static double
height_for (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
            double at_m)
{
  double rest_m = dew_variant_rest_height (variant, at_m), lo[3], hi[3];

  switch (thing->kind)
    {
    case DEW_THING_LAMP:
      dew_thing_box (chamber, thing, lo, hi);
      return dew_ceiling_m (chamber, variant, at_m, lo, hi) - (hi[2] - lo[2]) - HANG_M;
    case DEW_THING_PLANT:
      return rest_m + (thing->plant.mass_kg > 0 ? POT_HEIGHT_M : 0);
    case DEW_THING_FAN:
    case DEW_THING_INSTRUMENT:
      return at_m;
    default:
      return rest_m;
    }
}

void
dew_thing_drop (const DewChamber *chamber, const DewVariant *variant, DewThing *thing, DewView view,
                const double at_m[2], int plan_bay)
{
  g_autofree double *z_m = NULL;
  double inner[3], at[3];
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
      DewFace face = dew_face_dropped_on (inner, view, at_m);

      dew_thing_put_in_face (thing, face, inner, at);
      dew_face_axes (face, &u, &v);
      make_way (variant, &thing->opening, inner[u]);
      return;
    }
  if (thing->kind == DEW_THING_SHELF)
    {
      thing->shelf.z_m
        = CLAMP (dew_snap_grid (at[2]), DEW_BAY_MIN_M,
                 MAX (inner[2] - thing->shelf.thickness_m - DEW_BAY_MIN_M, DEW_BAY_MIN_M));
      return;
    }
  put (chamber, thing, 0, at[0]);
  put (chamber, thing, 1, at[1]);
  at[2] = height_for (chamber, variant, thing, at[2]);
  fit_under_shelf (chamber, variant, thing, at[2]);
  put (chamber, thing, 2, at[2]);
  dew_thing_settle (chamber, variant, thing);
}
