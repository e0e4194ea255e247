/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/run-private.h"
#include "zones/fitted.h"

#include <math.h>
#include <string.h>

/* A mean in time of air that does not settle. */

static void
add_to_long_mean (DewRun *r, int windows)
{
  double share = 1.0 / windows;
  const double *from[] = { r->mean_u[0], r->mean_u[1], r->mean_u[2], r->mean_speed,
                           r->mean_nu,   r->sum_h,     r->sum_q,     r->sum_m };

  for (guint a = 0; a < G_N_ELEMENTS (from); a++)
    {
      double part = a < 5 ? share : share / r->window_steps;

      for (int at = 0; at < r->z->size; at++)
        r->long_mean[a][at] += part * from[a][at];
    }
  for (int b = 0; b < r->n_bays; b++)
    {
      const BayMean *now = &r->bays[b];
      BayMean *sum = &r->bay_sums[b], *squares = &r->bay_squares[b];

      sum->speed += share * now->speed;
      sum->t += share * now->t;
      sum->w += share * now->w;
      squares->speed += share * now->speed * now->speed;
      squares->t += share * now->t * now->t;
      squares->w += share * now->w * now->w;
    }
}

/* Mean flow out through one face to the room, m3/s. */
static double
outflow (const DewRun *r, int p)
{
  const DewPatch *patch = &r->z->patches[p];

  return MAX (0.0, -patch->sign * r->mean_flux[patch->axis][patch->face] * patch->area_m2
                     / r->z->open_m2[patch->axis][patch->face]);
}

/* Of a mean, what goes in must come out too: what the march stored meanwhile, and what its sweeps
 * lose where air changes too fast for them, would leave the balances open. The whole enclosure
 * is raised by as much of heat and water as closes them; its surfaces hold still. */
static void
close_balances (DewRun *r)
{
  const DewExchangeTerms *e = dew_surfaces_terms (r->surfaces);
  const double *t = dew_atmosphere_t (r->atmosphere), *w = dew_atmosphere_w (r->atmosphere);
  double *h = dew_atmosphere_enthalpy (r->atmosphere), *q = dew_atmosphere_water (r->atmosphere);
  double latent_K = r->o.air.latent_heat_J_kg / r->o.air.specific_heat_J_kgK;
  double rho = r->o.air.density_kg_m3, rho_cp = rho * r->o.air.specific_heat_J_kgK;
  double heat = 0.0, water = 0.0, out = 0.0;
  double by_t[2] = { 0.0, 0.0 }, by_w[2] = { 0.0, 0.0 }; /* less heat, less water */
  double whole, more_t, more_w;

  for (int p = 0; p < r->z->n_patches; p++)
    {
      heat += r->passed[p].heat_W / rho_cp - latent_K * r->passed[p].water_kg_s / rho;
      water += r->passed[p].water_kg_s / rho;
      out += outflow (r, p);
    }
  for (int at = 0; at < r->z->size; at++)
    if (r->z->volume_m3[at] > 0.0)
      {
        double vapour_kg_s = r->loads->vapour_kg_s[at];

        water += vapour_kg_s / rho + dew_exchange_vapour (e, at, t[at], w[at]);
        heat += (r->loads->heat_W[at] + r->loads->latent_W[at]) / rho_cp
                - latent_K * vapour_kg_s / rho + dew_exchange_heat (e, at, t[at], w[at]);
        by_t[0] += e->heat_sink_m3_s[at];
        by_t[1] -= e->vapour_by_t_m3_s[at];
        by_w[0] -= e->heat_by_w_m3_s[at];
        by_w[1] += e->vapour_sink_m3_s[at];
      }
  by_t[0] += out;
  by_w[1] += out;
  whole = by_t[0] * by_w[1] - by_t[1] * by_w[0];
  if (!(whole > 0.0))
    return;
  more_t = (heat * by_w[1] - water * by_w[0]) / whole;
  more_w = (water * by_t[0] - heat * by_t[1]) / whole;
  for (int at = 0; at < r->z->size; at++)
    if (r->z->volume_m3[at] > 0.0)
      {
        h[at] += more_t + latent_K * more_w;
        q[at] += more_w;
      }
  for (int p = 0; p < r->z->n_patches; p++)
    {
      r->passed[p].heat_W -= rho_cp * outflow (r, p) * (more_t + latent_K * more_w);
      r->passed[p].water_kg_s -= rho * outflow (r, p) * more_w;
    }
  dew_atmosphere_refresh (r->atmosphere);
}

/* 5 to 95 % of a normal spread. */
static double
spread (double mean, double square)
{
  return 1.645 * sqrt (MAX (0.0, square - mean * mean));
}

gboolean
dew_run_take_mean (DewRun *r, GCancellable *cancellable, GError **error)
{
  double *state[3] = { dew_atmosphere_enthalpy (r->atmosphere),
                       dew_atmosphere_water (r->atmosphere), dew_atmosphere_mist (r->atmosphere) };
  double *mean[] = { r->mean_u[0], r->mean_u[1], r->mean_u[2], r->mean_speed, r->mean_nu };
  int patches = r->z->n_patches;
  double t_scale, w_scale;

  for (int a = 0; a < DEW_RUN_MEANS; a++)
    memset (r->long_mean[a], 0, sizeof (double) * r->z->size);
  memset (r->bay_sums, 0, sizeof (BayMean) * r->n_bays);
  memset (r->bay_squares, 0, sizeof (BayMean) * r->n_bays);
  memset (r->passed, 0, sizeof (DewPassed) * patches);
  r->counts_passed = r->thermal;
  for (int window = 0; window < DEW_FITTED_MEAN_WINDOWS; window++)
    {
      if (!dew_run_window (r, cancellable, error))
        return FALSE;
      add_to_long_mean (r, DEW_FITTED_MEAN_WINDOWS);
    }
  r->counts_passed = FALSE;
  for (int a = 0; a < 5; a++)
    memcpy (mean[a], r->long_mean[a], sizeof (double) * r->z->size);
  for (int a = 0; a < 3; a++)
    for (int at = 0; at < r->z->size; at++)
      r->mean_flux[a][at] = r->mean_u[a][at] * r->z->open_m2[a][at];
  for (int n = 0; n < 3 && r->thermal; n++)
    memcpy (state[n], r->long_mean[5 + n], sizeof (double) * r->z->size);
  for (int p = 0; p < patches; p++)
    {
      double share = 1.0 / (DEW_FITTED_MEAN_WINDOWS * DEW_FITTED_WINDOW);

      r->passed[p].heat_W *= share;
      r->passed[p].water_kg_s *= share;
      r->passed[p].mist_kg_s *= share;
    }
  for (int b = 0; b < r->n_bays; b++)
    {
      r->bays[b] = r->bay_sums[b];
      r->swings[b].speed_m_s = spread (r->bay_sums[b].speed, r->bay_squares[b].speed);
      r->swings[b].t_K = spread (r->bay_sums[b].t, r->bay_squares[b].t);
      r->swings[b].w_kg_kg = spread (r->bay_sums[b].w, r->bay_squares[b].w);
    }
  dew_run_scales (r, &t_scale, &w_scale);
  r->swing = 0.0;
  for (int b = 0; b < r->n_bays; b++)
    {
      const DewSwing *swing = &r->swings[b];

      r->swing
        = MAX (r->swing, swing->speed_m_s / (r->bays[b].speed + DEW_FITTED_SETTLED_SPEED_M_S));
      r->swing = MAX (r->swing, MAX (swing->t_K / t_scale, swing->w_kg_kg / w_scale));
    }
  dew_atmosphere_refresh (r->atmosphere);
  /* It strays so little that the steady state on its mean flow says as much. */
  r->settled = r->swing < DEW_FITTED_SETTLED_SHARE;
  /* Nor do the steps of a march hold the water of fog together well enough: falling and drying
   * take turns in them. */
  r->is_mean = !r->settled && !dew_atmosphere_is_foggy (r->atmosphere);
  if (r->thermal && r->is_mean)
    {
      const double *flux[3] = { r->mean_flux[0], r->mean_flux[1], r->mean_flux[2] };

      dew_surfaces_update (r->surfaces, dew_atmosphere_t (r->atmosphere),
                           dew_atmosphere_w (r->atmosphere), r->mean_speed);
      dew_atmosphere_take_flow (r->atmosphere, flux, r->mean_nu);
      close_balances (r);
    }
  return TRUE;
}
