/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/run-private.h"

#include <math.h>
#include <string.h>

#include "moist/moist.h"

#define STEADY_MISS 1e-3 /* of what surfaces exchange: they agree with the air */
#define STEADY_DUTY 0.002
#define STEADY_ROUGH 3e-5   /* tolerance while surfaces still move */
#define SENSOR_REACH_M 0.02 /* air that a humidistat feels */

/* --- steady heat and water ---------------------------------------------------------------- */

static int
zone_of (const DewRun *r, const double at_m[3])
{
  return dew_zones_at (r->z, dew_zones_find (r->z, 0, at_m[0]), dew_zones_find (r->z, 1, at_m[1]),
                       dew_zones_find (r->z, 2, at_m[2]));
}

/* Air where a humidistat listens, as rises over the room; returns the zone in its middle. */
static int
at_humidistat (const DewRun *r, const DewHumidifier *h, double *t_K, double *w_kg_kg)
{
  const DewVariant *variant = dew_run_variant (r);
  const DewThing *sensor = h->sensor_id > 0 ? dew_variant_thing (variant, h->sensor_id) : NULL;
  double at[3] = { h->x_m, h->y_m, h->z_m + h->height_m };
  double lo[3], hi[3];
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
  *t_K = *w_kg_kg = 0.0;
  shares = dew_zones_shares (r->z, lo, hi);
  for (guint n = 0; n < shares->len; n++)
    {
      const DewShare *share = &g_array_index (shares, DewShare, n);

      *t_K += share->share * dew_atmosphere_t (r->atmosphere)[share->zone];
      *w_kg_kg += share->share * dew_atmosphere_w (r->atmosphere)[share->zone];
    }
  return zone_of (r, at);
}

static double
humidistat_rh (const DewRun *r, const DewHumidifier *h)
{
  double t_K, w_kg_kg;

  at_humidistat (r, h, &t_K, &w_kg_kg);
  return dew_moist_rh_from_w (r->o.room.t_C + t_K, MAX (0.0, r->o.room.w_kg_kg + w_kg_kg),
                              r->o.air.pressure_Pa);
}

double
dew_run_humidistat_lacking (const DewRun *r, guint mister, int *mists, int *listens)
{
  const DewHumidifier *h = &g_array_index (r->loads->misters, DewMister, mister).device;
  const double outlet[3] = { h->x_m, h->y_m, h->z_m + h->height_m };
  double t_K, w_kg_kg;

  *listens = r->bay_of[at_humidistat (r, h, &t_K, &w_kg_kg)];
  *mists = r->bay_of[zone_of (r, outlet)];
  return dew_moist_w_from_rh (r->o.room.t_C + t_K, h->set_rh, r->o.air.pressure_Pa)
         - r->o.room.w_kg_kg - w_kg_kg;
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
      double *last = &g_array_index (r->humidistats, double, 4 * m); /* duty, rh */
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

/* Until the heat, vapour and dew that surfaces give to the air as it came out are those that it
 * was solved with. */
void
dew_run_solve_steady (DewRun *r, double tolerance, int most)
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
