/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "published/box-flow.h"

#include <math.h>
#include <string.h>

#include "zones/fitted.h"

DewZones *
test_box (const int n[3], const double size_m[3], const double crowding[3])
{
  double *line_m[3];
  DewZones *zones;

  for (int a = 0; a < 3; a++)
    {
      line_m[a] = g_new (double, n[a] + 1);
      for (int i = 0; i <= n[a]; i++)
        {
          double even = (double) i / n[a];
          double c = crowding[a];
          double s = c > 0.0 ? 0.5 + 0.5 * tanh (c * (2.0 * even - 1.0)) / tanh (c) : even;

          line_m[a][i] = s * size_m[a];
        }
      line_m[a][0] = 0.0;
      line_m[a][n[a]] = size_m[a];
    }
  zones = dew_zones_new_box (n, (const double *const *) line_m);
  for (int a = 0; a < 3; a++)
    g_free (line_m[a]);
  return zones;
}

TestHeated *
test_heated_new (DewZones *zones, const DewFlowOptions *options, double diffusivity_m2_s,
                 double lift_m_s2K)
{
  TestHeated *h = g_new0 (TestHeated, 1);

  h->zones = zones;
  h->flow = dew_flow_new (zones, options, NULL);
  g_assert_nonnull (h->flow);
  h->scalar = dew_scalar_new (zones);
  h->viscosity_m2_s = options->viscosity_m2_s;
  h->diffusivity_m2_s = diffusivity_m2_s;
  h->prandtl_turbulent = DEW_FITTED_PRANDTL_TURBULENT;
  h->lift_m_s2K = lift_m_s2K;
  h->t_K = g_new0 (double, zones->size);
  h->buoyancy_m_s2 = g_new0 (double, zones->size);
  h->sink_m3_s = g_new0 (double, zones->size);
  h->source_K_m3_s = g_new0 (double, zones->size);
  dew_flow_set_buoyancy (h->flow, h->buoyancy_m_s2);
  return h;
}

void
test_heated_free (TestHeated *h)
{
  if (h == NULL)
    return;
  dew_scalar_free (h->scalar);
  dew_flow_free (h->flow);
  dew_zones_free (h->zones);
  g_free (h->t_K);
  g_free (h->buoyancy_m_s2);
  g_free (h->sink_m3_s);
  g_free (h->source_K_m3_s);
  g_free (h);
}

typedef void (*WallZone) (TestHeated *h, int zone, double conductance_m3_s, gpointer data);

static void
each_wall_zone (TestHeated *h, DewFace face, WallZone visit, gpointer data)
{
  const DewZones *z = h->zones;
  int axis = face / 2, far = face % 2;

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int c[3] = { i, j, k };
          int at = dew_zones_at (z, i, j, k);

          if (c[axis] != (far ? z->n[axis] : 1))
            continue;
          visit (h, at,
                 h->diffusivity_m2_s * z->gross_m2[axis][at] / (0.5 * z->width_m[axis][c[axis]]),
                 data);
        }
}

static void
add_wall (TestHeated *h, int zone, double conductance, gpointer data)
{
  h->sink_m3_s[zone] += conductance;
  h->source_K_m3_s[zone] += conductance * *(double *) data;
}

void
test_heated_set_wall (TestHeated *h, DewFace face, double t_K)
{
  each_wall_zone (h, face, add_wall, &t_K);
}

typedef struct
{
  double t_K, sum_K_m3_s;
} WallSum;

static void
sum_wall (TestHeated *h, int zone, double conductance, gpointer data)
{
  WallSum *sum = data;

  sum->sum_K_m3_s += conductance * (sum->t_K - h->t_K[zone]);
}

double
test_heated_wall_K_m3_s (const TestHeated *h, DewFace face, double t_K)
{
  WallSum sum = { t_K, 0.0 };

  each_wall_zone ((TestHeated *) h, face, sum_wall, &sum);
  return sum.sum_K_m3_s;
}

void
test_heated_march (TestHeated *h, double dt_s, int steps)
{
  DewScalarFlow flow = {
    .viscosity_m2_s = dew_flow_viscosity (h->flow),
    .laminar_m2_s = h->viscosity_m2_s,
    .molecular_m2_s = h->diffusivity_m2_s,
    .prandtl_turbulent = h->prandtl_turbulent,
  };

  for (int a = 0; a < 3; a++)
    flow.flux_m3_s[a] = dew_flow_flux (h->flow, a);
  for (int s = 0; s < steps; s++)
    {
      for (int at = 0; at < h->zones->size; at++)
        h->buoyancy_m_s2[at] = h->lift_m_s2K * h->t_K[at];
      if (!dew_flow_step (h->flow, dt_s))
        g_error ("the flow ran away");
      dew_scalar_assemble (h->scalar, &flow);
      dew_scalar_step (h->scalar, h->t_K, 0.0, h->sink_m3_s, h->source_K_m3_s, TRUE, dt_s);
    }
}

/* Largest change of an array since `before`, over its largest value; takes the
 * new values over. */
static double
change (const DewZones *zones, const double *now, double *before)
{
  double worst = 0.0, largest = 1e-30;

  for (int at = 0; at < zones->size; at++)
    if (zones->volume_m3[at] > 0.0)
      {
        worst = MAX (worst, fabs (now[at] - before[at]));
        largest = MAX (largest, fabs (now[at]));
      }
  memcpy (before, now, sizeof (double) * zones->size);
  return worst / largest;
}

#define LOOK_EVERY 25

int
test_heated_settle (TestHeated *h, double dt_s, int most, double tolerance)
{
  g_autofree double *speed = g_new0 (double, h->zones->size);
  g_autofree double *t = g_new0 (double, h->zones->size);

  for (int steps = LOOK_EVERY; steps <= most; steps += LOOK_EVERY)
    {
      test_heated_march (h, dt_s, LOOK_EVERY);

      double moved = change (h->zones, dew_flow_speed (h->flow), speed);
      double warmed = change (h->zones, h->t_K, t);

      if (MAX (moved, warmed) < tolerance * LOOK_EVERY * dt_s)
        return steps;
    }
  return most;
}

int
test_flow_settle (DewFlow *flow, const DewZones *zones, double dt_s, int most, double tolerance)
{
  g_autofree double *speed = g_new0 (double, zones->size);

  for (int steps = 1; steps <= most; steps++)
    {
      if (!dew_flow_step (flow, dt_s))
        g_error ("the flow ran away");
      if (steps % LOOK_EVERY == 0
          && change (zones, dew_flow_speed (flow), speed) < tolerance * LOOK_EVERY * dt_s)
        return steps;
    }
  return most;
}

int
test_midline (const DewZones *z, const DewFlow *flow, int axis, int along, double low_m_s,
              double high_m_s, double *x_m, double *u_m_s)
{
  const double *u = dew_flow_velocity (flow, axis);
  int middle = z->n[axis] / 2 + 1;

  x_m[0] = 0.0;
  u_m_s[0] = low_m_s;
  for (int i = 1; i <= z->n[along]; i++)
    {
      int c[3] = { 1, 1, 1 };
      int at;

      c[axis] = middle;
      c[along] = i;
      at = dew_zones_at (z, c[0], c[1], c[2]);
      x_m[i] = z->middle_m[along][i];
      u_m_s[i] = z->n[axis] % 2 == 0 ? u[at] : 0.5 * (u[at] + u[at + z->stride[axis]]);
    }
  x_m[z->n[along] + 1] = z->inner_m[along];
  u_m_s[z->n[along] + 1] = high_m_s;
  return z->n[along] + 2;
}

double
test_interpolate (const double *x, const double *y, int n, double at)
{
  int first = 0;
  double sum = 0.0;

  while (first < n - 4 && x[first + 2] <= at)
    first++;
  for (int i = first; i < first + 4; i++)
    {
      double weight = 1.0;

      for (int o = first; o < first + 4; o++)
        if (o != i)
          weight *= (at - x[o]) / (x[i] - x[o]);
      sum += weight * y[i];
    }
  return sum;
}

double
test_peak (const double *x, const double *y, int n, double sign, double *where)
{
  int top = 1;

  for (int i = 1; i < n - 1; i++)
    if (sign * y[i] > sign * y[top])
      top = i;

  double x0 = x[top - 1] - x[top], x2 = x[top + 1] - x[top];
  double y0 = y[top - 1] - y[top], y2 = y[top + 1] - y[top];
  double curve = (y0 / x0 - y2 / x2) / (x0 - x2);
  double slope = y0 / x0 - curve * x0;
  double shift = curve != 0.0 ? -0.5 * slope / curve : 0.0;

  *where = x[top] + shift;
  return y[top] + shift * (slope + curve * shift);
}
