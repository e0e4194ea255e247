/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/run-private.h"
#include "zones/fitted.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#define SHORTEST_STEP_S 0.02
#define STEP_GROWTH 1.1 /* from one step to the next, at most */
/* What the first step may make of air at rest, m/s: beyond it, a strong fan would send it past
 * all that counts as sane before the air that resists it moves. */
#define FIRST_PUSH_M_S 15.0
#define SURFACE_EVERY 10 /* steps between updates of the surfaces */

#define NEARLY_SETTLED 6.0 /* times what counts as settled */
#define STILL_SWINGING 0.6 /* the same, between means of several windows */
#define STEADY_ITERATIONS 40
#define CHECK_ITERATIONS 8
#define CHECK_TOLERANCE 1e-4
#define WIDEST_SETTLED 2.0 /* the same, of its range */
#define MOST_DOUBTS 4
#define CREEPING 3 /* windows without a jump or a steady solve */
#define WINDOW_PARTS 6
#define AGE_TOLERANCE 1e-4 /* at most */

/* Beside a hand: tolerance of the age, and what the last steps count for in the mean that is shown,
 * while it moves and after it has long held still. Tried 0.35 to 1 while it moves: less lags, more
 * swings with air that never settles. */
#define FOLLOW_AGE 1e-2
#define FOLLOW_PART 0.7
#define FOLLOW_LEAST (1.0 / 16.0)

/* --- marching ------------------------------------------------------------------------ */

/* Largest buoyancy frequency of stable layers, damped by what flows through them: an oscillation
 * that is carried off faster than it swings is none. With transport at a rate s, implicit, a step
 * dt with buoyancy that lags by one is stable for N dt < 2 + s dt (eigenvalues of the two
 * equations). */
static double
stiffest (const DewRun *r, double dt)
{
  const DewZones *z = r->z;
  const double *b = dew_atmosphere_buoyancy (r->atmosphere);
  double largest = 0.0;
  int s2 = z->stride[2];

  for (int k = 2; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int at = dew_zones_at (z, 1, j, k), end = at + z->n[0]; at < end; at++)
        {
          double slope = (b[at] - b[at - s2]) / z->gap_m[2][k], through = 0.0, damped;

          if (slope <= largest)
            continue;
          for (int a = 0; a < 3; a++)
            {
              const double *q = dew_flow_flux (r->flow, a);
              int up = z->stride[a];

              through
                += fabs (q[at]) + fabs (q[at + up]) + fabs (q[at - s2]) + fabs (q[at - s2 + up]);
            }
          damped = 1.0 + 0.25 * dt * through / (z->volume_m3[at] + z->volume_m3[at - s2]);
          largest = MAX (largest, slope / (damped * damped));
        }
  return sqrt (largest);
}

/* The longest step that layers of warm over cool air allow: N dt <= 1 for buoyancy that lags by one
 * step. Heat and water step with the air: when they ran ahead of it, air that warmth drives swung
 * as it does not in true time. */
static double
choose_step (DewRun *r)
{
  double mean = cbrt (r->z->inner_m[0] * r->z->inner_m[1] * r->z->inner_m[2] / r->z->n_zones);
  double dt = DEW_FITTED_STEP_S * MIN (1.0, mean / DEW_FITTED_STEP_ZONE_M);
  double n = r->thermal ? stiffest (r, dt) / DEW_FITTED_STEP_BUOYANCY : 0.0;
  const double *speed = dew_flow_speed (r->flow);
  double fastest = r->jet_m_s;

  for (int at = 0; at < r->z->size; at++)
    fastest = MAX (fastest, speed[at]);
  if (fastest > 0.0)
    dt = MIN (dt, DEW_FITTED_STEP_COURANT * mean / fastest);
  if (r->dt > 0.0)
    dt = MIN (dt, r->dt * STEP_GROWTH);
  else if (r->jet_m_s > 0.0)
    dt = MIN (dt, FIRST_PUSH_M_S * mean / (r->jet_m_s * r->jet_m_s));
  if (n * dt > 1.0)
    dt = MAX (SHORTEST_STEP_S, 1.0 / n);
  r->dt = dt;
  return dt;
}

static void
add_to_sums (DewRun *r)
{
  const double *from[]
    = { dew_flow_velocity (r->flow, 0),       dew_flow_velocity (r->flow, 1),
        dew_flow_velocity (r->flow, 2),       dew_flow_speed (r->flow),
        dew_flow_viscosity (r->flow),         dew_atmosphere_enthalpy (r->atmosphere),
        dew_atmosphere_water (r->atmosphere), dew_atmosphere_mist (r->atmosphere) };
  double *to[] = { r->sum_u[0], r->sum_u[1], r->sum_u[2], r->sum_speed,
                   r->sum_nu,   r->sum_h,    r->sum_q,    r->sum_m };
  guint n = r->thermal ? 8 : 5;

  for (guint a = 0; a < n; a++)
    {
      const double *restrict f = from[a];
      double *restrict t = to[a];

      if (r->in_window == 0)
        memcpy (t, f, sizeof (double) * r->z->size);
      else
        for (int at = 0; at < r->z->size; at++)
          t[at] += f[at];
    }
  r->in_window++;
}

static double *
watched (const DewRun *r, int windows_ago)
{
  return r->watch + (r->windows - 1 - windows_ago) % WATCHED_WINDOWS * r->n_watched;
}

/* Means over the window, per zone and bay, and what must settle: the speed of each bay,
 * temperature and water of each of its layers. */
static void
close_window (DewRun *r)
{
  const DewZones *z = r->z;
  double share = 1.0 / r->in_window, *speed, *t_K, *w_kg_kg;
  double latent_K = r->o.air.latent_heat_J_kg / r->o.air.specific_heat_J_kgK;

  for (int a = 0; a < 3; a++)
    for (int at = 0; at < z->size; at++)
      {
        r->mean_u[a][at] = share * r->sum_u[a][at];
        r->mean_flux[a][at] = r->mean_u[a][at] * z->open_m2[a][at];
      }
  r->windows++;
  speed = watched (r, 0);
  t_K = speed + r->n_bays;
  w_kg_kg = t_K + r->n_bays * DEW_RUN_LAYERS;
  memset (speed, 0, sizeof (double) * r->n_watched);
  memset (r->bays, 0, sizeof (BayMean) * r->n_bays);
  for (int at = 0; at < z->size; at++)
    {
      int b = r->bay_of[at], l = r->layer_of[at];

      r->mean_speed[at] = share * r->sum_speed[at];
      r->mean_nu[at] = share * r->sum_nu[at];
      if (b < 0)
        continue;

      double part = z->volume_m3[at] / r->bay_m3[b], slice = z->volume_m3[at] / r->layer_m3[l];
      double w = r->thermal ? share * (r->sum_q[at] - r->sum_m[at]) : 0.0;
      double t = r->thermal ? share * r->sum_h[at] - latent_K * w : 0.0;

      r->bays[b].speed += part * r->mean_speed[at];
      r->bays[b].t += part * t;
      r->bays[b].w += part * w;
      speed[b] += part * r->mean_speed[at];
      t_K[l] += slice * t;
      w_kg_kg[l] += slice * w;
    }
  r->window_steps = r->in_window;
  r->in_window = 0;
  r->has_mean = TRUE;
}

/* What counts for one of the things that must settle. */
static double
scale_of (const DewRun *r, int i, double t_scale, double w_scale)
{
  return i < r->n_bays                          ? r->bays[i].speed + DEW_FITTED_SETTLED_SPEED_M_S
         : i < r->n_bays * (1 + DEW_RUN_LAYERS) ? t_scale
                                                : w_scale;
}

void
dew_run_scales (const DewRun *r, double *t_K, double *w_kg_kg)
{
  *t_K = DEW_FITTED_SETTLED_T_K;
  *w_kg_kg = DEW_FITTED_SETTLED_W;
  for (int b = 0; b < r->n_bays; b++)
    {
      *t_K = MAX (*t_K, fabs (r->bays[b].t));
      *w_kg_kg = MAX (*w_kg_kg, fabs (r->bays[b].w));
    }
}

/* Largest change of what must settle between two times, each the mean of `length` windows, the
 * later one the last; in units of what counts as settled. */
static double
change_of_means (const DewRun *r, int length)
{
  double change = 0.0, t_scale, w_scale;

  dew_run_scales (r, &t_scale, &w_scale);
  for (int i = 0; i < r->n_watched; i++)
    {
      double sum = 0.0;

      for (int n = 0; n < length; n++)
        sum += watched (r, n)[i] - watched (r, n + length)[i];
      change = MAX (change, fabs (sum) / length / scale_of (r, i, t_scale, w_scale));
    }
  return change / DEW_FITTED_SETTLED_SHARE;
}

/* Largest range of it over the last windows, in the same units. */
static double
range_of_means (const DewRun *r)
{
  double range = 0.0, t_scale, w_scale;

  dew_run_scales (r, &t_scale, &w_scale);
  for (int i = 0; i < r->n_watched; i++)
    {
      double lo = watched (r, 0)[i], hi = lo;

      for (int n = 1; n < WATCHED_WINDOWS; n++)
        {
          lo = MIN (lo, watched (r, n)[i]);
          hi = MAX (hi, watched (r, n)[i]);
        }
      range = MAX (range, (hi - lo) / scale_of (r, i, t_scale, w_scale));
    }
  return range / DEW_FITTED_SETTLED_SHARE;
}

/* What openings pass, by this step's flow and state. */
static void
count_passed (DewRun *r)
{
  for (int p = 0; p < r->z->n_patches && r->counts_passed; p++)
    {
      const DewPatch *patch = &r->z->patches[p];

      r->passed[p].heat_W += dew_atmosphere_heat_inflow (r->atmosphere, patch);
      r->passed[p].water_kg_s += dew_atmosphere_water_inflow (r->atmosphere, patch);
      r->passed[p].mist_kg_s += dew_atmosphere_mist_inflow (r->atmosphere, patch);
    }
}

gboolean
dew_run_steps (DewRun *r, int n, GError **error)
{
  for (int s = 0; s < n; s++)
    {
      double dt = choose_step (r);

      if (!dew_flow_step (r->flow, dt))
        {
          g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                               _ ("The air in this enclosure could not be computed: it became "
                                  "faster than anything in it can drive"));
          return FALSE;
        }
      if (r->thermal)
        {
          if (r->steps % SURFACE_EVERY == 0)
            dew_surfaces_update (r->surfaces, dew_atmosphere_t (r->atmosphere),
                                 dew_atmosphere_w (r->atmosphere), dew_flow_speed (r->flow));
          dew_atmosphere_step (r->atmosphere, r->flow, dt);
          count_passed (r);
          r->window_s = (r->in_window == 0 ? 0.0 : r->window_s) + dt;
        }
      add_to_sums (r);
      /* After the sums: what was projected is what they must hold. */
      dew_run_update_wall_fans (r);
      r->steps++;
    }
  return TRUE;
}

static gboolean
run_parts (DewRun *r, int parts, int steps, GCancellable *cancellable, GError **error)
{
  r->in_window = 0;
  for (int part = 0; part < parts; part++)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error)
          || !dew_run_steps (r, steps, error))
        return FALSE;
      if (part + 1 == parts / 2 && r->thermal)
        {
          memcpy (r->half_h, r->sum_h, sizeof (double) * r->z->size);
          memcpy (r->half_q, r->sum_q, sizeof (double) * r->z->size);
        }
    }
  close_window (r);
  return TRUE;
}

gboolean
dew_run_window (DewRun *r, GCancellable *cancellable, GError **error)
{
  return run_parts (r, WINDOW_PARTS, DEW_FITTED_WINDOW / WINDOW_PARTS, cancellable, error);
}

static void
begin_jumps (DewRun *r)
{
  r->jump = DEW_FITTED_FIRST_JUMP;
  r->jumped = FALSE;
}

/* Puts by the state that marches, and shows a mean over the last steps and those before: over more
 * and more of them while the hand holds still, so that air that never settles comes to its mean. */
static void
show_mean (DewRun *r)
{
  double *state[3] = { dew_atmosphere_enthalpy (r->atmosphere),
                       dew_atmosphere_water (r->atmosphere), dew_atmosphere_mist (r->atmosphere) };
  double *mean[5] = { r->mean_u[0], r->mean_u[1], r->mean_u[2], r->mean_speed, r->mean_nu };
  double part = r->follows ? CLAMP (1.0 / (1.0 + r->held), FOLLOW_LEAST, FOLLOW_PART) : 1.0;

  for (int a = 0; a < DEW_RUN_MEANS; a++)
    {
      double *now = a < 5 ? mean[a] : state[a - 5], *all = r->long_mean[a];

      if (a >= 5)
        memcpy (r->put_by[a - 5], now, sizeof (double) * r->z->size);
      for (int at = 0; at < r->z->size; at++)
        now[at] = all[at] = part < 1.0 ? all[at] + part * (now[at] - all[at]) : now[at];
    }
  for (int a = 0; a < 3; a++)
    for (int at = 0; at < r->z->size; at++)
      r->mean_flux[a][at] = r->mean_u[a][at] * r->z->open_m2[a][at];
  dew_atmosphere_refresh (r->atmosphere);
}

/* The march goes on from where it was, not from the mean that was shown. */
static void
take_up (DewRun *r)
{
  double *state[3] = { dew_atmosphere_enthalpy (r->atmosphere),
                       dew_atmosphere_water (r->atmosphere), dew_atmosphere_mist (r->atmosphere) };

  for (int n = 0; n < 3; n++)
    memcpy (state[n], r->put_by[n], sizeof (double) * r->z->size);
  dew_atmosphere_refresh (r->atmosphere);
}

gboolean
dew_run_follow (DewRun *r, int n, GCancellable *cancellable, GError **error)
{
  const double *flux[3] = { r->mean_flux[0], r->mean_flux[1], r->mean_flux[2] };

  r->settled = r->is_mean = FALSE;
  if (r->follows)
    take_up (r);
  else
    begin_jumps (r);
  if (!run_parts (r, 2, n / 2, cancellable, error))
    return FALSE;
  dew_run_jump_near (r);
  show_mean (r);
  r->follows = TRUE;
  dew_atmosphere_age (r->atmosphere, flux, r->mean_nu, FOLLOW_AGE, r->age);
  return TRUE;
}

/* Windows with jumps of the whole field until it is near. */
static gboolean
walk_far (DewRun *r, GCancellable *cancellable, GError **error)
{
  r->windows = 0;
  begin_jumps (r);
  while (r->windows < DEW_FITTED_MOST_FAR)
    {
      if (!dew_run_window (r, cancellable, error))
        return FALSE;
      if (r->windows > 1 && change_of_means (r, 1) < NEARLY_SETTLED)
        break;
      dew_run_jump_far (r);
    }
  return TRUE;
}

gboolean
dew_run_approach (DewRun *r, gboolean air_first, GCancellable *cancellable, GError **error)
{
  r->walked = TRUE;
  if (air_first && r->thermal)
    {
      gboolean walked;

      r->thermal = FALSE;
      walked = walk_far (r, cancellable, error);
      r->thermal = TRUE;
      if (!walked)
        return FALSE;
    }
  if (!walk_far (r, cancellable, error))
    return FALSE;
  begin_jumps (r);
  for (int window = 0; window < DEW_FITTED_MOST_NEAR && r->thermal; window++)
    {
      if (!dew_run_window (r, cancellable, error))
        return FALSE;
      if (window > 0 && change_of_means (r, 1) < NEARLY_SETTLED)
        break;
      dew_run_jump_near (r);
    }
  return TRUE;
}

/* --- settled? ------------------------------------------------------------------- */

/* Whether the steady heat and water on the present flow are those that the march found. Leaves
 * them in the atmosphere: if they are not, it marches on from there. */
static gboolean
agrees_with_steady (DewRun *r)
{
  const double *t = dew_atmosphere_t (r->atmosphere), *w = dew_atmosphere_w (r->atmosphere);
  g_autofree BayMean *steady = g_new0 (BayMean, r->n_bays);
  double t_scale, w_scale, off = 0.0;

  if (!r->thermal)
    return TRUE;
  dew_run_solve_steady (r, CHECK_TOLERANCE, CHECK_ITERATIONS);
  for (int at = 0; at < r->z->size; at++)
    if (r->bay_of[at] >= 0)
      {
        double part = r->z->volume_m3[at] / r->bay_m3[r->bay_of[at]];

        steady[r->bay_of[at]].t += part * t[at];
        steady[r->bay_of[at]].w += part * w[at];
      }
  dew_run_scales (r, &t_scale, &w_scale);
  for (int b = 0; b < r->n_bays; b++)
    {
      off = MAX (off, fabs (steady[b].t - r->bays[b].t) / t_scale);
      off = MAX (off, fabs (steady[b].w - r->bays[b].w) / w_scale);
    }
  /* Also of what is no number. */
  return off <= DEW_FITTED_SETTLED_STEADY;
}

gboolean
dew_run_settle (DewRun *r, GCancellable *cancellable, GError **error)
{
  double last = INFINITY, last_left = INFINITY;

  if (!r->walked && !dew_run_approach (r, FALSE, cancellable, error))
    return FALSE;
  r->settled = r->is_mean = FALSE;
  memset (r->swings, 0, sizeof (DewSwing) * r->n_bays);
  r->windows = 0;
  begin_jumps (r);
  for (int still = 0, doubts = 0; r->windows < DEW_FITTED_MOST_WINDOWS;)
    {
      double change, left, foreseen;
      gboolean arrived, swings, creeps;

      if (!dew_run_window (r, cancellable, error))
        return FALSE;
      foreseen = dew_run_jump_near (r);
      still = r->jumped ? 0 : still + 1;
      if (r->windows < 2)
        continue;
      change = change_of_means (r, 1);
      left = CLAMP (change / last, 0.5, 0.85);
      left = change * left / (1.0 - left);
      r->swing = change * DEW_FITTED_SETTLED_SHARE;
      arrived = change < 1.0 && MAX (left, last_left) < 1.0 && foreseen < DEW_FITTED_SETTLED_SHARE;
      /* Fog does not jump, and fills an enclosure over hours: its own steady state on this flow is
       * where it creeps to. */
      creeps
        = dew_atmosphere_is_foggy (r->atmosphere) && still >= CREEPING && MAX (change, last) < 1.0;
      /* To and fro, but no longer on its way anywhere. */
      swings
        = still >= WATCHED_WINDOWS && change_of_means (r, WATCHED_WINDOWS / 2) < STILL_SWINGING;
      if (swings && range_of_means (r) > WIDEST_SETTLED)
        break;
      if (arrived || swings || creeps)
        {
          /* If they differ the air may not have come round to its heat yet. */
          r->settled = agrees_with_steady (r) || ((arrived || swings) && ++doubts == MOST_DOUBTS);
          if (r->settled)
            return TRUE;
          still = 0;
        }
      last = change;
      last_left = left;
    }
  return dew_run_take_mean (r, cancellable, error);
}

void
dew_run_balance (DewRun *r, double tolerance, int most)
{
  if (r->is_mean)
    return;
  if (r->in_window > 0 || !r->has_mean)
    close_window (r);
  if (r->thermal)
    dew_run_solve_steady (r, tolerance, most > 0 ? most : STEADY_ITERATIONS);
}

void
dew_run_finish (DewRun *r, double tolerance, int most)
{
  const double *flux[3] = { r->mean_flux[0], r->mean_flux[1], r->mean_flux[2] };

  dew_run_balance (r, tolerance, most);
  dew_atmosphere_age (r->atmosphere, flux, r->mean_nu, MIN (tolerance, AGE_TOLERANCE), r->age);
}
