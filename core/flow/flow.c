/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/flow-private.h"
#include "zones/fitted.h"

#include <math.h>
#include <string.h>

#define WALL_CONSTANT 8.3 /* Werner & Wengle 1991 */

void
dew_flow_options_init (DewFlowOptions *o)
{
  memset (o, 0, sizeof *o);
  o->viscosity_m2_s = 1.5e-5;
  o->density_kg_m3 = 1.2;
  o->central_weight = DEW_FITTED_CENTRAL_WEIGHT;
}

/* --- set-up ---------------------------------------------------------------- */

/* Whole lanes may run on past its end. */
static double *
new_array (const DewFlow *f)
{
  return g_new0 (double, f->z->size + DEW_LANES);
}

/* Geometry of the low side, across direction d, of the momentum cell of axis a
 * at face I: both halves, left and right of the face. */
static void
set_up_side (DewFlow *f, int a, int d)
{
  const DewZones *z = f->z;
  int sa = z->stride[a], sd = z->stride[d];
  Side *side = &f->side[a][d];
  g_autofree double *closed = new_array (f);

  side->open_1 = new_array (f);
  side->wall_m2 = new_array (f);

  for (int k = 1; k <= z->n[2] + 1; k++)
    for (int j = 1; j <= z->n[1] + 1; j++)
      for (int i = 1; i <= z->n[0] + 1; i++)
        {
          int c[3] = { i, j, k };
          int at = dew_zones_at (z, i, j, k);

          if (a == d)
            {
              /* The low side of face I is the middle of zone I - 1. */
              if (c[a] >= 2)
                side->open_1[at] = z->gross_m2[a][at] / z->width_m[a][c[a] - 1];
              continue;
            }
          if (c[a] < 2 || c[a] > z->n[a])
            continue;

          double open = 0.5 * (z->open_m2[d][at] + z->open_m2[d][at - sa]);
          double gross = 0.5 * (z->gross_m2[d][at] + z->gross_m2[d][at - sa]);
          gboolean rim = c[d] == 1 || c[d] == z->n[d] + 1;
          int face = 2 * d + (c[d] == 1 ? 0 : 1);

          if (!rim)
            side->open_1[at] = open / z->gap_m[d][c[d]];
          closed[at] = rim && f->o.slip[face] ? 0.0 : gross - open;
        }
  if (a != d)
    for (int at = 0; at + sd < z->size; at++)
      if (f->active[a][at] > 0.0)
        side->wall_m2[at] = closed[at] + closed[at + sd];
}

static void
set_up (DewFlow *f)
{
  const DewZones *z = f->z;

  for (int a = 0; a < 3; a++)
    {
      dew_row_order_init (&f->order[a], z, a == 1 ? 2 : 1, a == 2 ? 2 : 1);
      f->u[a] = new_array (f);
      f->q[a] = new_array (f);
      f->active[a] = new_array (f);
      f->weight[a] = new_array (f);
      f->cell_m3[a] = new_array (f);
      f->gap_1_m[a] = new_array (f);
      f->blend_in[a] = new_array (f);
      f->blend_out[a] = new_array (f);
      f->low[a] = new_array (f);
      f->high[a] = new_array (f);
      f->deferred[a] = new_array (f);
      f->wall_nu[a] = g_new0 (double, z->n[a] + 2 + DEW_LANES);
      f->wall_turb[a] = g_new0 (double, z->n[a] + 2 + DEW_LANES);
      for (int i = 1; i <= z->n[a]; i++)
        {
          f->wall_nu[a][i] = f->o.viscosity_m2_s / (0.5 * z->width_m[a][i]);
          f->wall_turb[a][i]
            = f->o.laminar ? 0.0 : pow (f->wall_nu[a][i], 0.25) / pow (WALL_CONSTANT, 1.75);
        }
    }
  f->upper = new_array (f);
  f->p = new_array (f);
  f->phi = new_array (f);
  f->source = new_array (f);
  f->nu = new_array (f);
  f->speed = new_array (f);
  f->speed34 = new_array (f);
  f->rhs = new_array (f);
  f->inverse = new_array (f);

  for (int k = 1; k <= z->n[2] + 1; k++)
    for (int j = 1; j <= z->n[1] + 1; j++)
      for (int i = 1; i <= z->n[0] + 1; i++)
        {
          int c[3] = { i, j, k };
          int at = dew_zones_at (z, i, j, k);

          for (int a = 0; a < 3; a++)
            {
              f->gap_1_m[a][at] = 1.0 / z->gap_m[a][c[a]];

              double upper
                = z->width_m[a][c[a] - 1] / (z->width_m[a][c[a] - 1] + z->width_m[a][c[a]]);

              if (a == 2)
                f->upper[at] = upper;
              /* What leaves through an opening is not mixed with the room. */
              if (c[a] > 1 && c[a] <= z->n[a])
                {
                  f->blend_in[a][at] = f->o.central_weight * upper;
                  f->blend_out[a][at] = f->o.central_weight * (1.0 - upper);
                }
              /* The jet of a crack is gone before it reaches the middle of the
               * zone; what counts there is its flow over the whole face. */
              if (z->kind[a][at] == DEW_FACE_IS_INSIDE)
                f->weight[a][at] = 0.5;
              else if (z->gross_m2[a][at] > 0.0)
                f->weight[a][at] = 0.5 * z->open_m2[a][at] / z->gross_m2[a][at];
              if (z->kind[a][at] == DEW_FACE_IS_INSIDE)
                {
                  f->active[a][at] = 1.0;
                  f->cell_m3[a][at] = z->open_m2[a][at] * z->gap_m[a][c[a]];
                }
            }
          if (z->volume_m3[at] > 0.0)
            f->nu[at] = f->o.viscosity_m2_s;
        }
  for (int a = 0; a < 3; a++)
    for (int d = 0; d < 3; d++)
      set_up_side (f, a, d);
  dew_flow_set_up_turbulence (f);

  /* Where parts of several openings share a face, their losses mix by area. */
  f->room_loss = g_new0 (double, MAX (1, z->n_patches));
  f->crack_m_s = g_new0 (double, MAX (1, z->n_patches));
  f->yield = g_new0 (double, MAX (1, z->n_patches));
  f->leads = g_new0 (guint8, MAX (1, z->n_patches));
  for (int p = 0; p < z->n_patches; p++)
    {
      int a = z->patches[p].axis, at = z->patches[p].face;

      f->leads[p] = z->kind[a][at] == DEW_FACE_IS_ROOM;
      for (int o = 0; o < z->n_patches; o++)
        if (z->patches[o].axis == a && z->patches[o].face == at)
          {
            f->room_loss[p] += z->patches[o].loss * z->patches[o].area_m2 / z->open_m2[a][at];
            if (o < p)
              f->leads[p] = 0;
          }
    }
  for (int w = 0; w < DEW_N_FACES; w++)
    for (int a = 0; a < 3; a++)
      f->has_lid |= f->o.lid_m_s[w][a] != 0.0;
}

DewFlow *
dew_flow_new (const DewZones *zones, const DewFlowOptions *options, DewPressure *pressure)
{
  g_autoptr (DewFlow) f = g_new0 (DewFlow, 1);

  f->z = zones;
  f->o = *options;
  set_up (f);
  f->matrix = pressure != NULL ? dew_pressure_ref (pressure) : dew_pressure_new (zones);
  if (f->matrix == NULL)
    return NULL;
  return g_steal_pointer (&f);
}

void
dew_flow_free (DewFlow *f)
{
  if (f == NULL)
    return;
  for (int a = 0; a < 3; a++)
    {
      dew_row_order_clear (&f->order[a]);
      g_free (f->u[a]);
      g_free (f->q[a]);
      g_free (f->active[a]);
      g_free (f->weight[a]);
      g_free (f->cell_m3[a]);
      g_free (f->gap_1_m[a]);
      g_free (f->blend_in[a]);
      g_free (f->blend_out[a]);
      g_free (f->low[a]);
      g_free (f->high[a]);
      g_free (f->deferred[a]);
      g_free (f->wall_nu[a]);
      g_free (f->wall_turb[a]);
      for (int d = 0; d < 3; d++)
        {
          g_free (f->side[a][d].open_1);
          g_free (f->side[a][d].wall_m2);
        }
    }
  g_free (f->p);
  g_free (f->phi);
  g_free (f->source);
  g_free (f->nu);
  g_free (f->speed);
  g_free (f->speed34);
  dew_flow_free_turbulence (f);
  g_free (f->rhs);
  g_free (f->inverse);
  g_free (f->upper);
  g_free (f->room_loss);
  g_free (f->crack_m_s);
  g_free (f->yield);
  g_free (f->leads);
  g_clear_pointer (&f->matrix, dew_pressure_unref);
  g_free (f);
}

/* --- what drives it ------------------------------------------------------------ */

void
dew_flow_set_loads (DewFlow *f, const DewLoads *loads)
{
  f->loads = loads;
}

void
dew_flow_set_buoyancy (DewFlow *f, const double *buoyancy)
{
  f->buoyancy = buoyancy;
}

void
dew_flow_set_fixed (DewFlow *f, guint thing_id, double inflow_m3_s)
{
  const DewZones *z = f->z;
  double area = 0.0;

  for (int p = 0; p < z->n_patches; p++)
    if (z->patches[p].thing_id == thing_id
        && z->kind[z->patches[p].axis][z->patches[p].face] == DEW_FACE_IS_FIXED)
      area += z->patches[p].area_m2;
  for (int p = 0; p < z->n_patches; p++)
    if (z->patches[p].thing_id == thing_id
        && z->kind[z->patches[p].axis][z->patches[p].face] == DEW_FACE_IS_FIXED)
      f->u[z->patches[p].axis][z->patches[p].face] = z->patches[p].sign * inflow_m3_s / area;
}

double
dew_flow_fixed_pressure (const DewFlow *f, guint thing_id)
{
  const DewZones *z = f->z;
  double area = 0.0, sum = 0.0;

  for (int p = 0; p < z->n_patches; p++)
    if (z->patches[p].thing_id == thing_id)
      {
        const DewPatch *patch = &z->patches[p];
        int a = patch->axis, at = patch->face;
        int inner = patch->sign > 0 ? at + z->stride[a] : at - z->stride[a];
        double along = f->u[a][at] * f->weight[a][at] + f->u[a][inner] * f->weight[a][inner];
        double pressure = f->p[patch->zone];

        if (patch->sign * f->u[a][at] < 0.0)
          pressure += 0.5 * along * along;
        area += patch->area_m2;
        sum += patch->area_m2 * pressure;
      }
  return area > 0.0 ? sum / area : 0.0;
}

/* --- reading ----------------------------------------------------------------- */

const double *
dew_flow_velocity (const DewFlow *f, int axis)
{
  return f->u[axis];
}

const double *
dew_flow_flux (const DewFlow *f, int axis)
{
  return f->q[axis];
}

const double *
dew_flow_speed (const DewFlow *f)
{
  return f->speed;
}

const double *
dew_flow_viscosity (const DewFlow *f)
{
  return f->nu;
}

const double *
dew_flow_pressure (const DewFlow *f)
{
  return f->p;
}

DewPressure *
dew_flow_matrix (DewFlow *f)
{
  return f->matrix;
}

double
dew_flow_divergence (const DewFlow *f)
{
  const DewZones *z = f->z;
  double worst = 0.0, largest = 0.0;

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int at = dew_zones_at (z, i, j, k);
          double net = 0.0;

          for (int a = 0; a < 3; a++)
            {
              net += f->q[a][at + z->stride[a]] - f->q[a][at];
              largest = MAX (largest, fabs (f->q[a][at]));
            }
          worst = MAX (worst, fabs (net));
        }
  return largest > 0.0 ? worst / largest : 0.0;
}
