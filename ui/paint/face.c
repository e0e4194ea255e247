/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which face of the enclosure is meant by a point of a view. */
#include "paint/drag-private.h"

#include <math.h>

/* As near to a wall as this share of the view's smaller side is at the wall. */
#define NEAR_SHARE 0.12
#define LEAST_OPENING_M 0.01

static DewFace
face_toward_reader (DewView view)
{
  return dew_face_of (dew_view_depth (view), dew_view_nearer (view) > 0);
}

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
dew_face_at (const double inner_m[3], DewView view, const double at_m[2])
{
  double distance_m;
  DewFace wall = nearest_wall (inner_m, view, at_m, &distance_m);

  return distance_m < near_m (inner_m, view) ? wall : face_toward_reader (view);
}

DewFace
dew_face_after_drag (const double inner_m[3], DewView view, DewFace from, const double at_m[2])
{
  double distance_m;
  DewFace wall = nearest_wall (inner_m, view, at_m, &distance_m);

  if (!dew_face_edge_on (from, view))
    return distance_m < 0 ? wall : from;
  return distance_m < near_m (inner_m, view) ? wall : face_toward_reader (view);
}

void
dew_put_in_face (DewThing *thing, DewFace face, const double inner_m[3], const double at_m[3])
{
  DewOpening *opening = &thing->opening;
  double width, height;
  int u, v, axis = dew_face_axis (face);

  if (thing->kind == DEW_THING_FAN)
    {
      double *place[3] = { &thing->fan.x_m, &thing->fan.y_m, &thing->fan.z_m };
      double half = thing->fan.diameter_m / 2;

      thing->fan.face = face;
      for (int i = 0; i < 3; i++)
        *place[i] = i == axis ? dew_face_at_m (face, inner_m)
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
