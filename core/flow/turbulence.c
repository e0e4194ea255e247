/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/flow-private.h"
#include "zones/fitted.h"

#include <math.h>
#include <string.h>

/* Shear stress of turbulent air over its density, as a share of k: Bradshaw, P., Ferriss, D. &
 * Atwell, N., J. Fluid Mech. 28, 593-616, 1967 (from memory). */
#define MOST_STRESS 0.31

/* What foliage takes out of k is a |u| k times this: averages of |u|^3 over fluctuations that are
 * alike in all directions and normal, less what is taken from the mean flow, give 2.1 in air
 * that does not move in the mean and 2.7 where it moves fast, in terms of the gust. */
#define LEAF_LOSS 2.4
/* The same for a porous shelf, which brakes along z alone: 0.7 in air that only swirls or runs
 * along the shelf, 1.3 where it goes straight through. */
#define DECK_LOSS 1.0

/* Air is never quite still: from no k at all none could grow, as the growth is by its root.
 * Stirs by less than the viscosity does. */
#define LEAST_K_M2_S2 1e-8

/* k of the air that comes in from the room. That of a room is not known; the inlets of the
 * reference simulations bring none. */
#define ROOM_K_M2_S2 0.0

/* Near walls viscosity calms the eddies, by the Reynolds number of sqrt(k) and the distance:
 * Wolfshtein, M., Int. J. Heat Mass Transfer 12, 301-318, 1969, with 0.016 (from memory), which
 * leaves the tall cavity 17 % short of heat (Betts & Bokhari; 7 % here, none: 42 % too much). */
#define WALL_DAMPING 0.03

#define SWEEPS 2
#define SHORTEST_M 1e-3  /* eddies where air is at rest between two streams */
#define SLOWEST_1_S 1e-9 /* strain, so as not to divide by none */

/* --- set-up ------------------------------------------------------------------ */

static double *
new_array (const DewFlow *f)
{
  return g_new0 (double, f->z->size);
}

/* Height of the space between the closed faces below and above a zone. */
static double
clear_height (const DewZones *z, int i, int j, int k)
{
  double low = 0.0, high = z->inner_m[2];

  for (int at = k; at >= 1; at--)
    {
      int face = dew_zones_at (z, i, j, at);

      if (z->open_m2[2][face] >= 0.5 * z->gross_m2[2][face])
        continue;
      low = z->line_m[2][at - 1];
      break;
    }
  for (int at = k + 1; at <= z->n[2]; at++)
    {
      int face = dew_zones_at (z, i, j, at);

      if (z->open_m2[2][face] >= 0.5 * z->gross_m2[2][face])
        continue;
      high = z->line_m[2][at - 1];
      break;
    }
  return high - low;
}

/* Nikuradse's mixing length over the half width R of the narrowest way between walls. */
static double
mixing_length (const DewZones *z, int i, int j, int k)
{
  double across = MIN (z->inner_m[0], z->inner_m[1]);
  double r = 0.5 * MIN (across, clear_height (z, i, j, k));
  double e = 1.0 - MIN (1.0, z->wall_m[dew_zones_at (z, i, j, k)] / r);

  return r * (0.14 - 0.08 * e * e - 0.06 * e * e * e * e);
}

static double
open_share (const DewZones *z, int axis, int face, int other)
{
  double gross = z->gross_m2[axis][face] + z->gross_m2[axis][other];

  return gross > 0.0 ? (z->open_m2[axis][face] + z->open_m2[axis][other]) / gross : 0.0;
}

void
dew_flow_set_up_turbulence (DewFlow *f)
{
  const DewZones *z = f->z;

  dew_row_order_init (&f->zone_order, z, 1, 1);
  f->gust = new_array (f);
  f->k = new_array (f);
  f->length = new_array (f);
  f->wall_length = new_array (f);
  f->strain = new_array (f);
  f->edge = new_array (f);
  f->layers = new_array (f);
  f->volume_1 = new_array (f);
  for (int a = 0; a < 3; a++)
    {
      f->edge_open[a] = new_array (f);
      f->lead[a] = new_array (f);
    }
  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int c[3] = { i, j, k }, at = dew_zones_at (z, i, j, k);

          f->wall_length[at] = f->length[at] = DEW_FITTED_WALL_LENGTH * mixing_length (z, i, j, k);
          f->volume_1[at] = 1.0 / z->volume_m3[at];
          if (!f->o.laminar)
            f->k[at] = LEAST_K_M2_S2;
          for (int a = 0; a < 3; a++)
            {
              int d = (a + 1) % 3;
              int along = at - z->stride[a], across = at - z->stride[d];

              if (z->kind[a][at] == DEW_FACE_IS_INSIDE)
                f->lead[a][at] = z->open_m2[a][at] * f->gap_1_m[a][at];
              /* Past the edge of a board only the open part of the air shears. */
              if (c[a] >= 2 && c[d] >= 2)
                f->edge_open[a][at]
                  = 0.25 * open_share (z, a, at, across) * open_share (z, d, at, along);
            }
        }
}

void
dew_flow_free_turbulence (DewFlow *f)
{
  dew_row_order_clear (&f->zone_order);
  g_free (f->gust);
  g_free (f->k);
  g_free (f->length);
  g_free (f->wall_length);
  g_free (f->strain);
  g_free (f->edge);
  g_free (f->layers);
  g_free (f->volume_1);
  for (int a = 0; a < 3; a++)
    {
      g_free (f->edge_open[a]);
      g_free (f->lead[a]);
    }
}

/* --- one step ------------------------------------------------------------------ */

/* |S|^2 = 2 S_ij S_ij in zones: stretching from the faces of the zone, shear as the mean of the
 * squares on its edges. Squares first: the shear of a jet one zone wide has the mean zero. */
DEW_TWICE static void
find_strain (DewFlow *f)
{
  const DewZones *z = f->z;
  int first = z->stride[2] + z->stride[1] + 1;
  double *restrict strain = f->strain, *restrict edge = f->edge;
  const double *restrict volume_1 = f->volume_1;

  memset (strain, 0, sizeof (double) * z->size);
  for (int a = 0; a < 3; a++)
    {
      int d = (a + 1) % 3, sa = z->stride[a], sd = z->stride[d];
      const double *restrict u = f->u[a], *restrict v = f->u[d];
      const double *restrict weight = f->weight[a], *restrict gross = z->gross_m2[a];
      const double *restrict open = f->edge_open[a];
      const double *restrict gap_a = f->gap_1_m[a], *restrict gap_d = f->gap_1_m[d];

      for (int at = first; at < z->size; at++)
        {
          double shear = (u[at] - u[at - sd]) * gap_d[at] + (v[at] - v[at - sa]) * gap_a[at];

          edge[at] = open[at] * shear * shear;
        }
      DEW_EACH_ZONE (z, at)
        {
          /* Faces to the room count as in the speed of the zone. */
          double stretch
            = 2.0 * (u[at + sa] * weight[at + sa] - u[at] * weight[at]) * gross[at] * volume_1[at];

          strain[at] += 2.0 * stretch * stretch + edge[at] + edge[at + sa] + edge[at + sd]
                        + edge[at + sa + sd];
        }
    }
}

/* N^2 (1/s2) in zones, below zero where warm air lies under cool. */
DEW_TWICE static void
find_layers (DewFlow *f)
{
  const DewZones *z = f->z;
  int s2 = z->stride[2];
  const double *restrict b = f->buoyancy, *restrict lead = f->lead[2];
  const double *restrict gross = z->gross_m2[2];
  double *restrict layers = f->layers;

  if (b == NULL)
    return;
  DEW_EACH_ZONE (z, at)
    layers[at]
      = 0.5 / gross[at] * (lead[at] * (b[at] - b[at - s2]) + lead[at + s2] * (b[at + s2] - b[at]));
}

DEW_TWICE static void
assemble_faces (DewFlow *f)
{
  const DewZones *z = f->z;
  const double *restrict nu = f->nu;

  for (int a = 0; a < 3; a++)
    {
      int sa = z->stride[a];
      const double *restrict q = f->q[a], *restrict lead = f->lead[a];
      double *restrict low = f->low[a], *restrict high = f->high[a];

      for (int at = sa; at < z->size; at++)
        {
          double up = q[at] > 0.0 ? q[at] : 0.0, down = up - q[at];
          double conduct = 0.5 * lead[at] * (nu[at] + nu[at - sa]);

          low[at] = conduct + up;
          high[at] = conduct + down;
        }
    }
}

/* Growth as a source, decay as a sink in proportion to k: so k stays above zero. */
DEW_TWICE static void
assemble_zones (DewFlow *f, double dt)
{
  const DewZones *z = f->z;
  int s1 = z->stride[1], s2 = z->stride[2];
  const double *restrict k = f->k, *restrict strain = f->strain, *restrict layers = f->layers;
  const double *restrict drag = f->loads != NULL ? f->loads->drag_1_m : NULL;
  const double *restrict deck = f->loads != NULL ? f->loads->deck_loss : NULL;
  const double *restrict gross = z->gross_m2[2], *restrict gust = f->gust;
  const double *const *low = (const double *const *) f->low;
  const double *const *high = (const double *const *) f->high;
  double *restrict rhs = f->rhs, *restrict inverse = f->inverse;
  double dt_1 = 1.0 / dt, nu0 = f->o.viscosity_m2_s;

  DEW_EACH_ZONE (z, at)
    {
      double eddy = f->nu[at] - nu0;
      double lift = eddy / DEW_FITTED_PRANDTL_TURBULENT * layers[at];
      double growth = eddy * strain[at] + (lift < 0.0 ? -lift : 0.0);
      double decay
        = DEW_FITTED_DISSIPATION * sqrt (k[at]) / f->length[at] + (lift > 0.0 ? lift / k[at] : 0.0);

      if (drag != NULL)
        decay += LEAF_LOSS * drag[at] * gust[at]
                 + 0.25 * DECK_LOSS * (deck[at] + deck[at + s2]) * gust[at] * gross[at]
                     * f->volume_1[at];
      rhs[at] = z->volume_m3[at] * (k[at] * dt_1 + growth);
      inverse[at] = 1.0
                    / (z->volume_m3[at] * (dt_1 + decay) + high[0][at] + low[0][at + 1]
                       + high[1][at] + low[1][at + s1] + high[2][at] + low[2][at + s2]);
    }
}

/* L of walls and jets; nu_t = c sqrt(k) L, or less where the strain is so fast that the stress
 * would be more than turbulence can bear. */
DEW_TWICE static void
find_viscosity (DewFlow *f)
{
  const DewZones *z = f->z;
  double *restrict k = f->k, *restrict nu = f->nu;
  double *restrict length = f->length;
  const double *restrict strain = f->strain, *restrict speed = f->speed;
  const double *restrict wall_length = f->wall_length, *restrict wall_m = z->wall_m;
  double nu0 = f->o.viscosity_m2_s;

  DEW_EACH_ZONE (z, at)
    {
      double rate = sqrt (strain[at]) + SLOWEST_1_S;
      double jet = DEW_FITTED_JET_LENGTH * speed[at] / rate + SHORTEST_M;
      double l = jet < wall_length[at] ? jet : wall_length[at];
      double least = k[at] > LEAST_K_M2_S2 ? k[at] : LEAST_K_M2_S2;
      double reynolds = sqrt (least) * wall_m[at] / nu0;
      double free = DEW_FITTED_EDDY * sqrt (least) * l * (1.0 - exp (-WALL_DAMPING * reynolds));
      double borne = MOST_STRESS * least / rate;

      k[at] = least;
      length[at] = l;
      nu[at] = nu0 + (free < borne ? free : borne);
    }
}

static void
set_rim (DewFlow *f)
{
  const DewZones *z = f->z;

  for (int p = 0; p < z->n_patches; p++)
    {
      const DewPatch *patch = &z->patches[p];

      f->k[patch->sign > 0 ? patch->face - z->stride[patch->axis] : patch->face] = ROOM_K_M2_S2;
    }
}

void
dew_flow_step_turbulence (DewFlow *f, double dt)
{
  find_strain (f);
  find_layers (f);
  assemble_faces (f);
  assemble_zones (f, dt);
  set_rim (f);
  dew_flow_sweep (f, &f->zone_order, 1, f->k, SWEEPS);
  find_viscosity (f);
}

/* --- from and to outside ----------------------------------------------------------- */

const double *
dew_flow_turbulence (const DewFlow *f)
{
  return f->k;
}

void
dew_flow_set_turbulence (DewFlow *f, const double *k)
{
  if (f->o.laminar)
    return;
  DEW_EACH_ZONE (f->z, at)
    f->k[at] = k[at];
  find_strain (f);
  find_viscosity (f);
}
