/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What flow.c (making, driving and reading a flow) and step.c (one step of it)
 * share. */

#include "flow/flow.h"
#include "zones/rows.h"

G_BEGIN_DECLS

/* Low sides of the momentum cells of one axis, in one direction. */
typedef struct
{
  double *open_1;  /* open area over distance, m */
  double *wall_m2; /* closed area of low and high side together */
} Side;

struct _DewFlow
{
  const DewZones *z;
  DewFlowOptions o;
  DewPressure *matrix;
  const DewLoads *loads;
  const double *buoyancy;

  double *u[3]; /* velocity on faces */
  double *q[3]; /* flux through faces */
  double *p;
  double *phi;
  double *source;
  double *nu;        /* zones, eddy part included */
  double *weight[3]; /* faces: what their velocity counts for in the speed of a zone */
  double *speed;     /* zones */
  double *speed34;   /* speed^(3/4) */
  double *eddy_m;    /* EDDY_CONSTANT times capped wall distance */

  Side side[3][3]; /* [axis of the velocity][direction] */
  double *upper;   /* along z: interpolation weight of the upper of two neighbours */
  double
    *blend_in[3]; /* deferred correction, flow from low to high: central weight times that weight */
  double *blend_out[3]; /* the same for flow from high to low */
  double *active[3];    /* 1 on faces that are solved for, else 0 */
  double *cell_m3[3];   /* volume of momentum cells */
  double *gap_1_m[3];   /* 1 / distance between zone middles, on faces */
  double *wall_nu[3];   /* nu / y for walls across a direction, [n + 2] */
  double *wall_turb[3]; /* (nu / y)^(1/4) / 8.3^(7/4) */

  /* Work space of one momentum solve. */
  double *low[3], *high[3], *deferred[3], *rhs, *inverse;
  DewRowOrder order[3];

  double *room_loss; /* per patch; of all that share its face */
  double *crack_m_s; /* per patch, work space: velocity in a crack */
  double *yield;     /* per patch, work space: velocity per pressure */
  guint8 *leads;     /* per patch: 1 on the one that stands for its face to the room */
  gboolean has_lid;
};

G_END_DECLS
