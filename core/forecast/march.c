/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/run-private.h"
#include "zones/fitted.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#include "moist/moist.h"

#define SHORTEST_STEP_S 0.02
#define STEP_GROWTH 1.1 /* from one step to the next, at most */
/* What the first step may make of air at rest, m/s: beyond it, a strong fan would send it past
 * all that counts as sane before the air that resists it moves. */
#define FIRST_PUSH_M_S 15.0
#define SURFACE_EVERY 10 /* steps between updates of the surfaces */

#define NEARLY_SETTLED 6.0 /* times what counts as settled */

/* Steady heat and water on one flow. */
#define STEADY_MISS 1e-3 /* of what surfaces exchange: they agree with the air */
#define STEADY_DUTY 0.002
#define STEADY_ROUGH 3e-5 /* tolerance while surfaces still move */
#define STEADY_ITERATIONS 40
#define AGE_TOLERANCE 1e-4  /* at most, of forecasts that are on the way */
#define SENSOR_REACH_M 0.02 /* air that a humidistat feels */

/* Jumps toward that between windows. Before there is dew, a nearly sealed corner would jump to a
 * steam bath. */
#define LONGEST_JUMP_K 40.0
#define LONGEST_JUMP 0.02 /* kg/kg */
#define JUMP_ITERATIONS 3
#define JUMP_TOLERANCE 1e-3

/* --- marching ------------------------------------------------------------------------ */

/* The longest step that layers of warm over cool air allow: N dt sqrt(f) <= 1 for
 * buoyancy that lags by one step. First the stretch of heat and water gives way. */
static double
choose_step (DewRun *r, double *stretch)
{
  double mean = cbrt (r->z->inner_m[0] * r->z->inner_m[1] * r->z->inner_m[2] / r->z->n_zones);
  double dt = DEW_FITTED_STEP_S * MIN (1.0, mean / DEW_FITTED_STEP_ZONE_M);
  double n = r->thermal ? dew_atmosphere_frequency (r->atmosphere) : 0.0;
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
  *stretch = DEW_FITTED_SCALAR_STRETCH;
  if (n * dt * sqrt (*stretch) > 1.0)
    {
      double f = 1.0 / (n * dt * n * dt);

      *stretch = MAX (1.0, f);
      if (n * dt > 1.0)
        dt = MAX (SHORTEST_STEP_S, 1.0 / n);
    }
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

/* Means over the window, per zone and per bay. */
static void
close_window (DewRun *r)
{
  const DewZones *z = r->z;
  double share = 1.0 / r->in_window;
  const double *t = dew_atmosphere_t (r->atmosphere), *w = dew_atmosphere_w (r->atmosphere);

  for (int a = 0; a < 3; a++)
    for (int at = 0; at < z->size; at++)
      {
        r->mean_u[a][at] = share * r->sum_u[a][at];
        r->mean_flux[a][at] = r->mean_u[a][at] * z->open_m2[a][at];
      }
  memcpy (r->last_bays, r->bays, sizeof (BayMean) * r->n_bays);
  memset (r->bays, 0, sizeof (BayMean) * r->n_bays);
  for (int at = 0; at < z->size; at++)
    {
      int b = r->bay_of[at];

      r->mean_speed[at] = share * r->sum_speed[at];
      r->mean_nu[at] = share * r->sum_nu[at];
      if (b < 0)
        continue;

      double part = z->volume_m3[at] / r->bay_m3[b];

      r->bays[b].speed += part * r->mean_speed[at];
      r->bays[b].t += part * t[at];
      r->bays[b].w += part * w[at];
    }
  r->in_window = 0;
  r->has_mean = TRUE;
}

/* Largest change of a bay between two windows, in units of what counts as
 * settled. */
static double
window_change (const DewRun *r)
{
  double change = 0.0, t_scale = DEW_FITTED_SETTLED_T_K, w_scale = DEW_FITTED_SETTLED_W;

  for (int b = 0; b < r->n_bays; b++)
    {
      t_scale = MAX (t_scale, fabs (r->bays[b].t));
      w_scale = MAX (w_scale, fabs (r->bays[b].w));
    }
  for (int b = 0; b < r->n_bays; b++)
    {
      change = MAX (change, fabs (r->bays[b].speed - r->last_bays[b].speed)
                              / (r->bays[b].speed + DEW_FITTED_SETTLED_SPEED_M_S)
                              / DEW_FITTED_SETTLED_SHARE);
      change = MAX (change,
                    fabs (r->bays[b].t - r->last_bays[b].t) / t_scale / DEW_FITTED_SETTLED_SHARE);
      change = MAX (change,
                    fabs (r->bays[b].w - r->last_bays[b].w) / w_scale / DEW_FITTED_SETTLED_SHARE);
    }
  return change;
}

gboolean
dew_run_steps (DewRun *r, int n, GError **error)
{
  for (int s = 0; s < n; s++)
    {
      double stretch, dt = choose_step (r, &stretch);

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
          dew_atmosphere_step (r->atmosphere, r->flow, dt * stretch);
        }
      add_to_sums (r);
      /* After the sums: what was projected is what they must hold. */
      dew_run_update_wall_fans (r);
      r->steps++;
    }
  return TRUE;
}

/* --- steady heat and water ---------------------------------------------------------------- */

/* Relative humidity where a humidistat listens. */
static double
humidistat_rh (const DewRun *r, const DewHumidifier *h)
{
  const DewVariant *variant = dew_run_variant (r);
  const DewThing *sensor = h->sensor_id > 0 ? dew_variant_thing (variant, h->sensor_id) : NULL;
  double at[3] = { h->x_m, h->y_m, h->z_m + h->height_m };
  double lo[3], hi[3], t = 0.0, w = 0.0;
  g_autoptr (GArray) shares = NULL;

  if (sensor != NULL && sensor->kind == DEW_THING_INSTRUMENT)
    {
      at[0] = sensor->instrument.x_m;
      at[1] = sensor->instrument.y_m;
      at[2] = sensor->instrument.z_m;
    }
  for (int a = 0; a < 3; a++)
    {
      lo[a] = at[a] - SENSOR_REACH_M;
      hi[a] = at[a] + SENSOR_REACH_M;
    }
  shares = dew_zones_shares (r->z, lo, hi);
  for (guint n = 0; n < shares->len; n++)
    {
      const DewShare *share = &g_array_index (shares, DewShare, n);

      t += share->share * dew_atmosphere_t (r->atmosphere)[share->zone];
      w += share->share * dew_atmosphere_w (r->atmosphere)[share->zone];
    }
  return dew_moist_rh_from_w (r->o.room.t_C + t, MAX (0.0, r->o.room.w_kg_kg + w),
                              r->o.air.pressure_Pa);
}

/* Sets the duty of every humidistat toward its set point: over a cycle of on and
 * off the mean is what counts. Secant on the humidity that the last duties gave.
 * Returns the largest change of a duty. */
static double
update_duties (DewRun *r)
{
  double change = 0.0;

  for (guint m = 0; m < r->loads->misters->len; m++)
    {
      const DewMister *mister = &g_array_index (r->loads->misters, DewMister, m);
      double *last = &g_array_index (r->humidistats, double, 2 * m); /* duty, rh */
      double rh, slope, duty;

      if (mister->device.set_rh <= 0.0)
        continue;
      rh = humidistat_rh (r, &mister->device);
      slope = isfinite (last[1]) && fabs (mister->duty - last[0]) > 1e-5
                ? (rh - last[1]) / (mister->duty - last[0])
                : NAN;
      /* Without a useful slope, by proportion to what is missing of the rise. */
      if (!(slope > 1e-3))
        slope = MAX (0.05, (rh - r->room_rh) / MAX (0.05, mister->duty));
      duty = CLAMP (mister->duty + (mister->device.set_rh - rh) / slope, 0.0,
                    MIN (1.0, MAX (2.0 * mister->duty, mister->duty + 0.1)));
      last[0] = mister->duty;
      last[1] = rh;
      change = MAX (change, fabs (duty - mister->duty));
      dew_loads_set_duty (r->loads, r->z, m, duty);
    }
  return change;
}

/* Surfaces, duties, heat and water brought to agree on the mean flow: until the heat, vapour
 * and dew that surfaces give to the air as it came out are those that it was solved with. */
static void
solve_steady (DewRun *r, double tolerance, int most)
{
  const double *flux[3] = { r->mean_flux[0], r->mean_flux[1], r->mean_flux[2] };
  double duty = 0.0;

  for (int it = 0; it < most; it++)
    {
      gboolean last = it + 1 == most;

      dew_surfaces_update (r->surfaces, dew_atmosphere_t (r->atmosphere),
                           dew_atmosphere_w (r->atmosphere), r->mean_speed);
      if (it > 0 && duty < STEADY_DUTY && dew_surfaces_miss (r->surfaces) < STEADY_MISS)
        last = TRUE;
      dew_atmosphere_solve (r->atmosphere, flux, r->mean_nu,
                            last ? tolerance : MAX (tolerance, STEADY_ROUGH));
      if (last)
        return;
      duty = update_duties (r);
    }
}

/* --- settling -------------------------------------------------------------------------------- */

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
static void
jump_ahead (DewRun *r)
{
  double *state[3] = { dew_atmosphere_enthalpy (r->atmosphere),
                       dew_atmosphere_water (r->atmosphere), dew_atmosphere_mist (r->atmosphere) };
  double *before[3] = { r->sum_h, r->sum_q, r->sum_m }; /* free between windows */
  double scale[2] = { 1.0, 1.0 / 4e-4 }; /* 1 K and 0.4 g/kg weigh alike: latent heat over cp */
  const double most[3] = { LONGEST_JUMP_K, LONGEST_JUMP, LONGEST_JUMP };
  double along = 0.0, length = 0.0;

  if (!r->thermal)
    return;
  for (int n = 0; n < 3; n++)
    memcpy (before[n], state[n], sizeof (double) * r->z->size);
  solve_steady (r, JUMP_TOLERANCE, JUMP_ITERATIONS);
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
        double miss = scale[n] * (state[n][at] - before[n][at]), last = r->last_miss[n][at];

        along += last * (miss - last);
        length += (miss - last) * (miss - last);
        r->last_miss[n][at] = miss;
      }
  if (r->jumps > 0 && length > 0.0)
    r->jump = CLAMP (-r->jump * along / length, DEW_FITTED_SHORTEST_JUMP, 1.0);
  r->jumps++;
  for (int n = 0; n < 3; n++)
    for (int at = 0; at < r->z->size; at++)
      {
        double step = state[n][at] - before[n][at];

        state[n][at]
          = before[n][at] + (isfinite (step) ? r->jump * CLAMP (step, -most[n], most[n]) : 0.0);
      }
  dew_atmosphere_refresh (r->atmosphere);
}

static gboolean
run_window (DewRun *r, int length, GCancellable *cancellable, GError **error)
{
  r->in_window = 0;
  for (int part = 0; part < length / 10; part++)
    if (g_cancellable_set_error_if_cancelled (cancellable, error) || !dew_run_steps (r, 10, error))
      return FALSE;
  close_window (r);
  return TRUE;
}

static void
begin_settling (DewRun *r)
{
  r->settled = FALSE;
  r->has_last = FALSE;
  r->jump = DEW_FITTED_FIRST_JUMP;
  r->jumps = 0;
}

gboolean
dew_run_approach (DewRun *r, GCancellable *cancellable, GError **error)
{
  begin_settling (r);
  for (int window = 0; window < DEW_FITTED_MOST_APPROACH; window++)
    {
      if (!run_window (r, DEW_FITTED_WINDOW / 2, cancellable, error))
        return FALSE;
      if (r->has_last && window_change (r) < NEARLY_SETTLED)
        return TRUE;
      r->has_last = TRUE;
      jump_ahead (r);
    }
  return TRUE;
}

gboolean
dew_run_settle (DewRun *r, GCancellable *cancellable, GError **error)
{
  begin_settling (r);
  for (int window = 0; window < DEW_FITTED_MOST_WINDOWS; window++)
    {
      /* Short windows while far from settled: their means need not be good. */
      int length = r->has_last && window_change (r) < NEARLY_SETTLED ? DEW_FITTED_WINDOW
                                                                     : DEW_FITTED_WINDOW / 2;

      if (!run_window (r, length, cancellable, error))
        return FALSE;
      if (r->has_last)
        {
          r->swing = window_change (r) * DEW_FITTED_SETTLED_SHARE;
          if (r->swing < DEW_FITTED_SETTLED_SHARE && length == DEW_FITTED_WINDOW)
            {
              r->settled = TRUE;
              return TRUE;
            }
        }
      r->has_last = TRUE;
      jump_ahead (r);
    }
  return TRUE;
}

void
dew_run_balance (DewRun *r, double tolerance, int most)
{
  if (r->in_window > 0 || !r->has_mean)
    close_window (r);
  if (r->thermal)
    solve_steady (r, tolerance, most > 0 ? most : STEADY_ITERATIONS);
}

void
dew_run_finish (DewRun *r, double tolerance, int most)
{
  const double *flux[3] = { r->mean_flux[0], r->mean_flux[1], r->mean_flux[2] };

  dew_run_balance (r, tolerance, most);
  dew_atmosphere_age (r->atmosphere, flux, r->mean_nu, MIN (tolerance, AGE_TOLERANCE), r->age);
}
