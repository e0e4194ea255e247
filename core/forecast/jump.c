/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/run-private.h"
#include "zones/fitted.h"

#include <math.h>
#include <string.h>

#define JUMP_ITERATIONS 3
#define JUMP_TOLERANCE 1e-3
/* 1 K and 0.4 g/kg weigh alike: latent heat over cp. */
#define WEIGHT(n) ((n) == 0 ? 1.0 : 1.0 / 4e-4)
#define NEAR_SHARE 0.01  /* of the largest rise: less is left to the march */
#define ALIKE 0.5        /* one foreseen in the direction of the other, at least */
#define LONGEST_NEAR 1.5 /* surfaces answer to what is foreseen with them held */

/* Before there is dew, a nearly sealed corner would jump to a steam bath: K, kg/kg, kg/kg. */
static const double longest_jump[] = { 40.0, 0.02, 0.02 };

/* Whether any bay is off by more than what marching sorts out by itself. A jump
 * shakes layered air, so it has to be worth it. */
static gboolean
worth_a_jump (const DewRun *r, double *const before[3])
{
  const double *state[2]
    = { dew_atmosphere_enthalpy (r->atmosphere), dew_atmosphere_water (r->atmosphere) };
  double floor[2] = { DEW_FITTED_SETTLED_T_K, DEW_FITTED_SETTLED_W };

  for (int n = 0; n < 2; n++)
    {
      g_autofree double *miss = g_new0 (double, r->n_bays);
      g_autofree double *mean = g_new0 (double, r->n_bays);
      double scale = floor[n];

      for (int at = 0; at < r->z->size; at++)
        if (r->bay_of[at] >= 0)
          {
            double part = r->z->volume_m3[at] / r->bay_m3[r->bay_of[at]];

            mean[r->bay_of[at]] += part * state[n][at];
            miss[r->bay_of[at]] += part * (state[n][at] - before[n][at]);
          }
      for (int b = 0; b < r->n_bays; b++)
        scale = MAX (scale, fabs (mean[b]));
      for (int b = 0; b < r->n_bays; b++)
        if (fabs (miss[b]) > DEW_FITTED_JUMP_SHARE * scale)
          return TRUE;
    }
  return FALSE;
}

/* Heat and water fill a tight enclosure over hours, its air turns over in a
 * minute: between windows they jump part of the way to where this flow would
 * take them in the end. How far is found from how the last jump turned out
 * (Irons, B. & Tuck, R., Int. J. Numer. Methods Eng. 1, 1969, from memory): all
 * the way where the flow does not mind, half where it answers back. */
void
dew_run_jump_far (DewRun *r)
{
  double *state[3] = { dew_atmosphere_enthalpy (r->atmosphere),
                       dew_atmosphere_water (r->atmosphere), dew_atmosphere_mist (r->atmosphere) };
  double *before[3] = { r->sum_h, r->sum_q, r->sum_m }; /* free between windows */
  double along = 0.0, length = 0.0;

  if (!r->thermal)
    return;
  for (int n = 0; n < 3; n++)
    memcpy (before[n], state[n], sizeof (double) * r->z->size);
  dew_run_solve_steady (r, JUMP_TOLERANCE, JUMP_ITERATIONS);
  if (!worth_a_jump (r, before))
    {
      for (int n = 0; n < 3; n++)
        memcpy (state[n], before[n], sizeof (double) * r->z->size);
      dew_atmosphere_refresh (r->atmosphere);
      return;
    }
  for (int n = 0; n < 2; n++)
    for (int at = 0; at < r->z->size; at++)
      {
        double miss = WEIGHT (n) * (state[n][at] - before[n][at]), last = r->last_miss[n][at];

        along += last * (miss - last);
        length += (miss - last) * (miss - last);
        r->last_miss[n][at] = miss;
      }
  if (r->jumped && length > 0.0)
    r->jump = CLAMP (-r->jump * along / length, DEW_FITTED_SHORTEST_JUMP, 1.0);
  r->jumped = TRUE;
  for (int n = 0; n < 3; n++)
    for (int at = 0; at < r->z->size; at++)
      {
        double step = state[n][at] - before[n][at];

        state[n][at]
          = before[n][at]
            + (isfinite (step) ? r->jump * CLAMP (step, -longest_jump[n], longest_jump[n]) : 0.0);
      }
  dew_atmosphere_refresh (r->atmosphere);
}

/* --- near ----------------------------------------------------------------------- */

/* Net change of a bay by the march itself, per second: between the means over the two halves
 * of the window. */
static void
bay_rates (const DewRun *r, double *rate[2])
{
  const double *sum[2] = { r->sum_h, r->sum_q }, *half[2] = { r->half_h, r->half_q };
  double per_s = 1.0 / (0.5 * r->window_steps * 0.5 * r->window_s);

  for (int at = 0; at < r->z->size; at++)
    for (int n = 0; n < 2 && r->bay_of[at] >= 0; n++)
      rate[n][r->bay_of[at]] += r->z->volume_m3[at] / r->bay_m3[r->bay_of[at]] * per_s
                                * (sum[n][at] - 2.0 * half[n][at]);
}

/* What a bay loses to room and surfaces for each unit of heat or water that all of it rises by,
 * and what it gives to the others: matrix[n_bays][n_bays], m3/s. */
static void
bay_losses (const DewRun *r, gboolean water, double *matrix)
{
  const DewZones *z = r->z;
  const DewExchangeTerms *terms = dew_surfaces_terms (r->surfaces);
  const double *sink = water ? terms->vapour_sink_m3_s : terms->heat_sink_m3_s;
  int n = r->n_bays, s2 = z->stride[2];

  memset (matrix, 0, sizeof (double) * n * n);
  for (int at = 0; at < z->size; at++)
    if (r->bay_of[at] >= 0)
      matrix[r->bay_of[at] * (n + 1)] += sink[at];
  for (int p = 0; p < z->n_patches; p++)
    {
      const DewPatch *patch = &z->patches[p];
      double in = patch->sign * r->mean_flux[patch->axis][patch->face] * patch->area_m2
                  / z->open_m2[patch->axis][patch->face];

      if (in < 0.0 && r->bay_of[patch->zone] >= 0)
        matrix[r->bay_of[patch->zone] * (n + 1)] -= in;
    }
  for (int at = s2; at < z->size; at++)
    {
      int up = r->bay_of[at], low = r->bay_of[at - s2];
      double flux = r->mean_flux[2][at], mixes;

      if (up < 0 || low < 0 || up == low || z->kind[2][at] != DEW_FACE_IS_INSIDE)
        continue;
      mixes = r->mean_nu[at] * z->open_m2[2][at] / z->width_m[2][1];
      matrix[low * (n + 1)] += MAX (0.0, flux) + mixes;
      matrix[up * n + low] -= MAX (0.0, flux) + mixes;
      matrix[up * (n + 1)] += MAX (0.0, -flux) + mixes;
      matrix[low * n + up] -= MAX (0.0, -flux) + mixes;
    }
}

/* Solves matrix x = rhs for few unknowns, by elimination; a diagonal that leads. */
static void
solve_few (int n, double *matrix, double *x)
{
  for (int p = 0; p < n; p++)
    for (int i = p + 1; i < n; i++)
      {
        double f = matrix[p * (n + 1)] > 0.0 ? matrix[i * n + p] / matrix[p * (n + 1)] : 0.0;

        for (int j = p; j < n && f != 0.0; j++)
          matrix[i * n + j] -= f * matrix[p * n + j];
        x[i] -= f * x[p];
      }
  for (int p = n - 1; p >= 0; p--)
    {
      for (int j = p + 1; j < n; j++)
        x[p] -= matrix[p * n + j] * x[j];
      x[p] = matrix[p * (n + 1)] > 0.0 ? x[p] / matrix[p * (n + 1)] : 0.0;
    }
}

/* A humidistat holds the humidity where it listens, so the duty follows: what it has to change
 * by so that the bays end where the sensor is at its set point. miss_kg_kg [n_bays]: where they
 * would end without; `losses` as bay_losses() has them. */
static void
steer_duties (DewRun *r, const double *losses, double *miss_kg_kg)
{
  int n = r->n_bays;
  g_autofree double *matrix = g_new (double, n *n);
  g_autofree double *answer = g_new (double, n);

  for (guint m = 0; m < r->loads->misters->len; m++)
    {
      const DewMister *mister = &g_array_index (r->loads->misters, DewMister, m);
      double *last = &g_array_index (r->humidistats, double, 4 * m + 2); /* duty, excess */
      double lacking, change, excess, slope;
      int mists, listens;

      if (mister->device.set_rh <= 0.0)
        continue;
      lacking = dew_run_humidistat_lacking (r, m, &mists, &listens);
      if (mists < 0 || listens < 0)
        continue;
      memcpy (matrix, losses, sizeof (double) * n * n);
      memset (answer, 0, sizeof (double) * n);
      answer[mists] = mister->device.output_kg_s / r->o.air.density_kg_m3;
      solve_few (n, matrix, answer);
      if (!(answer[listens] > 0.0))
        continue;
      /* Surfaces that answer make more of it than is foreseen with them held: as seen last. */
      excess = miss_kg_kg[listens] - lacking;
      slope = MAX (answer[listens], (excess - last[1]) / (mister->duty - last[0]));
      if (!isfinite (slope))
        slope = answer[listens];
      last[0] = mister->duty;
      last[1] = excess;
      change = CLAMP (-excess / slope, -mister->duty,
                      MIN (1.0, MAX (2.0 * mister->duty, mister->duty + 0.1)) - mister->duty);
      for (int b = 0; b < n; b++)
        miss_kg_kg[b] += change * answer[b];
      dew_loads_set_duty (r->loads, r->z, m, mister->duty + change);
    }
}

/* Where the march takes the bays in the end by the rates of the last window, as a rise of each
 * (K and kg/kg): into miss[2][n_bays]. Returns the largest, as a share of what counts. */
static double
foresee (DewRun *r, double *miss[2])
{
  double rise[2] = { DEW_FITTED_SETTLED_T_K, DEW_FITTED_SETTLED_W };
  int n_bays = r->n_bays;
  g_autofree double *losses = g_new (double, n_bays *n_bays);
  g_autofree double *matrix = g_new (double, n_bays *n_bays);
  double worst = 0.0;

  bay_rates (r, miss);
  for (int n = 0; n < 2; n++)
    {
      bay_losses (r, n == 1, losses);
      memcpy (matrix, losses, sizeof (double) * n_bays * n_bays);
      for (int b = 0; b < n_bays; b++)
        {
          miss[n][b] *= r->bay_m3[b];
          rise[n] = MAX (rise[n], fabs (n == 0 ? r->bays[b].t : r->bays[b].w));
        }
      solve_few (n_bays, matrix, miss[n]);
      if (n == 1)
        steer_duties (r, losses, miss[n]);
      for (int b = 0; b < n_bays; b++)
        worst = MAX (worst, fabs (miss[n][b]) / rise[n]);
    }
  return worst;
}

double
dew_run_jump_near (DewRun *r)
{
  double *state[2]
    = { dew_atmosphere_enthalpy (r->atmosphere), dew_atmosphere_water (r->atmosphere) };
  double *miss[2] = { r->bay_miss[0], r->bay_miss[1] };
  double along = 0.0, back = 0.0, length = 0.0, now = 0.0, before = 0.0, worst;

  /* A fog answers to both in ways that only its own steady state knows. */
  if (!r->thermal || dew_atmosphere_is_foggy (r->atmosphere))
    {
      r->jumped = FALSE;
      return 0.0;
    }
  for (int n = 0; n < 2; n++)
    {
      memcpy (r->last_bay_miss[n], miss[n], sizeof (double) * r->n_bays);
      memset (miss[n], 0, sizeof (double) * r->n_bays);
    }
  worst = foresee (r, miss);
  for (int n = 0; n < 2; n++)
    for (int b = 0; b < r->n_bays; b++)
      {
        double weight = r->bay_m3[b] * WEIGHT (n) * WEIGHT (n), last = r->last_bay_miss[n][b];

        now += weight * miss[n][b] * miss[n][b];
        before += weight * last * last;
        along += weight * last * miss[n][b];
        back += weight * last * (miss[n][b] - last);
        length += weight * (miss[n][b] - last) * (miss[n][b] - last);
      }
  if (r->jumped && length > 0.0)
    r->jump = CLAMP (-r->jump * back / length, DEW_FITTED_SHORTEST_JUMP, LONGEST_NEAR);
  /* What two windows do not foresee alike is a swing, or a jump that still rings. */
  r->jumped = worst > NEAR_SHARE && along > ALIKE * MAX (now, before);
  for (int at = 0; at < r->z->size && r->jumped; at++)
    for (int n = 0; n < 2 && r->bay_of[at] >= 0; n++)
      state[n][at] += r->jump * CLAMP (miss[n][r->bay_of[at]], -longest_jump[n], longest_jump[n]);
  if (r->jumped)
    dew_atmosphere_refresh (r->atmosphere);
  return worst;
}
