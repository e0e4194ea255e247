/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>

#define REACH_PX 26.0 /* as far as something may stick out of a wall */

static void
face_point (const DewSheetLayout *layout, DewView view, const DewOpening *opening, double u_m,
            double v_m, double px[2])
{
  int u, v, axis = dew_face_axis (opening->face);
  double at_m[3];

  dew_face_axes (opening->face, &u, &v);
  at_m[axis] = dew_face_is_high (opening->face) ? layout->inner_m[axis] : 0;
  at_m[u] = u_m;
  at_m[v] = v_m;
  dew_layout_to_screen (layout, view, at_m, px);
}

/* A flap hangs from its upper edge (v1) and lifts outward. Seen along that edge
 * it is a line that stands off the wall. */
static void
lift_seen_along (DewFlapShape *shape, double open, const double out_px[2])
{
  double down[2]
    = { shape->shut[0][0] - shape->hinge[0][0], shape->shut[0][1] - shape->hinge[0][1] };
  double length = hypot (down[0], down[1]), reach, off, drop;

  if (length < 1e-9)
    return;
  reach = MIN (length * sin (DEW_FLAP_WIDEST_RAD), REACH_PX);
  off = reach * sin (open * DEW_FLAP_WIDEST_RAD) / sin (DEW_FLAP_WIDEST_RAD);
  drop = sqrt (MAX (length * length - off * off, 0));
  for (int end = 0; end < 2; end++)
    for (int i = 0; i < 2; i++)
      shape->edge[end][i] = shape->hinge[end][i] + drop * down[i] / length + off * out_px[i];
}

void
dew_flap_shape (const DewSheetLayout *layout, DewView view, const DewOpening *opening,
                DewFlapShape *shape)
{
  double open = CLAMP (opening->open_fraction, 0, 1), out[2], out_px[2];
  int u, v;

  dew_face_axes (opening->face, &u, &v);
  dew_face_outward (opening->face, view, out);
  out_px[0] = out[0];
  out_px[1] = -out[1];
  face_point (layout, view, opening, opening->u0_m, opening->v1_m, shape->hinge[0]);
  face_point (layout, view, opening, opening->u1_m, opening->v1_m, shape->hinge[1]);
  face_point (layout, view, opening, opening->u0_m, opening->v0_m, shape->shut[0]);
  face_point (layout, view, opening, opening->u1_m, opening->v0_m, shape->shut[1]);

  if (!dew_face_edge_on (opening->face, view))
    {
      /* The free edge comes toward the reader, so it looks longer than the hinge. */
      double spread = open > 0 ? 2 + 4 * open : 0;

      for (int end = 0; end < 2; end++)
        {
          double side = end == 0 ? -1 : 1;

          shape->edge[end][0] = shape->shut[end][0] + side * spread;
          shape->edge[end][1] = shape->hinge[end][1]
                                + (shape->shut[end][1] - shape->hinge[end][1]) * (1 - 0.45 * open);
        }
    }
  else if (u == dew_view_depth (view))
    lift_seen_along (shape, open, out_px);
  else
    {
      double off = open > 0 ? 4 + (REACH_PX - 8) * open : 0;

      for (int end = 0; end < 2; end++)
        for (int i = 0; i < 2; i++)
          shape->edge[end][i] = shape->hinge[end][i] + off * out_px[i];
    }
}
