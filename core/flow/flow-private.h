/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What flow.c (making, driving and reading a flow), step.c (one step of it) and
 * turbulence.c (what stirs it) share. */

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

  /* Turbulence. */
  double *k;            /* zones, m2/s2; 0 throughout when laminar */
  double *gust;         /* zones: speed that drag feels, m/s */
  double *wall_length;  /* zones: mixing length that walls and boards allow, m */
  double *length;       /* zones: mixing length, m */
  double *strain;       /* zones: |S|^2, 1/s2 */
  double *edge;         /* work space: its part on the edges between four zones */
  double *layers;       /* zones: N^2, 1/s2; 0 without buoyancy */
  double *volume_1;     /* zones: 1 / volume */
  double *edge_open[3]; /* a quarter of the open share of edges; planes of axis a and the next */
  double *lead[3];      /* open area over distance of inner faces, m */
  DewRowOrder zone_order;

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

/* Gauss-Seidel, forward and backward in turn, with the coefficients in low, high, rhs and
 * inverse, on rows that begin at i = first. */
void dew_flow_sweep (DewFlow *f, const DewRowOrder *order, int first, double *u, int sweeps);

void dew_flow_set_up_turbulence (DewFlow *f);
void dew_flow_free_turbulence (DewFlow *f);
/* k and the viscosity from it, for the velocities as they are. */
void dew_flow_step_turbulence (DewFlow *f, double dt_s);

G_END_DECLS
