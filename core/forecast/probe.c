/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/probe.h"

#include "forecast/members.h"
#include "moist/moist.h"

#include <math.h>
#include <string.h>

int
dew_forecast_bay_at (const DewForecast *forecast, double z_m)
{
  int bay = forecast->n_bays - 1;

  if (bay < 0 || !(z_m >= -DEW_SLACK_M && z_m <= forecast->bays[bay].z1_m + DEW_SLACK_M))
    return -1;
  while (bay > 0 && z_m < forecast->bays[bay].z0_m - DEW_SLACK_M)
    bay--;
  return bay;
}

int
dew_forecast_place_at (const DewForecast *forecast, const double at_m[3])
{
  int bay = dew_forecast_bay_at (forecast, at_m[2]), best = -1;
  double best_m2 = G_MAXDOUBLE;

  for (int p = 0; p < forecast->n_places; p++)
    {
      const DewPlace *place = &forecast->places[p];
      double away_m2 = 0.0;

      if (place->bay != bay)
        continue;
      for (int a = 0; a < 2; a++)
        {
          double d_m = MAX (0.0, MAX (place->lo_m[a] - at_m[a], at_m[a] - place->hi_m[a]));

          away_m2 += d_m * d_m;
        }
      if (away_m2 < best_m2)
        {
          best_m2 = away_m2;
          best = p;
        }
    }
  return best;
}

/* Mean along the line: between zone middles values are linear, and at a middle the
 * sample is the zone's own, so zones count by the length that the line has in them. */
static double
mean_along (const DewForecast *f, DewValue value, const int axis[3], const double at_m[2],
            double lo_m, double hi_m)
{
  double sum = 0.0, length_m = 0.0, at[3];

  at[axis[0]] = at_m[0];
  at[axis[1]] = at_m[1];
  for (int d = 0; d < f->n[axis[2]]; d++)
    {
      double from_m = MAX (f->line_m[axis[2]][d], lo_m);
      double to_m = MIN (f->line_m[axis[2]][d + 1], hi_m);

      if (to_m <= from_m)
        continue;
      at[axis[2]] = 0.5 * (f->line_m[axis[2]][d] + f->line_m[axis[2]][d + 1]);
      sum += (to_m - from_m) * dew_forecast_sample (f, value, at[0], at[1], at[2]);
      length_m += to_m - from_m;
    }
  return length_m > 0.0 ? sum / length_m : NAN;
}

static void
widen (double *band, double other)
{
  /* A band that is not known stays so. */
  *band = isnan (*band) || isnan (other) ? NAN : MAX (*band, other);
}

static void
take_bands (DewClimate *to, const DewClimate *from, gboolean first)
{
  for (const DewMember *m = dew_climate_members; m->key != NULL; m++)
    {
      double *band = &G_STRUCT_MEMBER (double, to, m->band);
      double other = dew_member_band (m, from);

      if (m->band_key == NULL)
        continue;
      if (first)
        *band = other;
      else
        widen (band, other);
    }
}

static gboolean
passes (const DewPlace *place, const int axis[3], const double at_m[2])
{
  for (int i = 0; i < 2; i++)
    if (axis[i] != 2 && (at_m[i] < place->lo_m[axis[i]] || at_m[i] > place->hi_m[axis[i]]))
      return FALSE;
  return TRUE;
}

static void
find_bands (const DewForecast *f, const int axis[3], const double at_m[2], DewProbed *out)
{
  gboolean first = TRUE;

  for (int p = 0; p < f->n_places; p++)
    {
      const DewPlace *place = &f->places[p];

      if (place->bay != out->bay || !passes (place, axis, at_m))
        continue;
      take_bands (&out->climate, &place->mean, first);
      first = FALSE;
    }
  if (first)
    take_bands (&out->climate, &f->bays[out->bay].mean, TRUE);
}

gboolean
dew_forecast_probe (const DewForecast *f, DewView view, const double at_m[2], double lo_m,
                    double hi_m, DewProbed *out)
{
  const int axis[3] = { dew_view_across (view), dew_view_up (view), dew_view_depth (view) };
  DewClimate *c;

  g_return_val_if_fail (f != NULL && view <= DEW_VIEW_PLAN && out != NULL, FALSE);

  for (int i = 0; i < 2; i++)
    if (!(at_m[i] >= 0.0 && at_m[i] <= f->inner_m[axis[i]]))
      return FALSE;
  if (lo_m >= hi_m)
    {
      lo_m = 0.0;
      hi_m = f->inner_m[axis[2]];
    }
  out->bay = dew_forecast_bay_at (f, axis[1] == 2 ? at_m[1] : 0.5 * (lo_m + hi_m));
  if (out->bay < 0)
    return FALSE;

  c = &out->climate;
  memset (c, 0, sizeof *c);
  c->t_C = mean_along (f, DEW_VALUE_TEMPERATURE, axis, at_m, lo_m, hi_m);
  c->rh = mean_along (f, DEW_VALUE_RH, axis, at_m, lo_m, hi_m);
  c->w_kg_kg = mean_along (f, DEW_VALUE_HUMIDITY_RATIO, axis, at_m, lo_m, hi_m);
  c->vpd_Pa = mean_along (f, DEW_VALUE_VPD, axis, at_m, lo_m, hi_m);
  c->speed_m_s = mean_along (f, DEW_VALUE_SPEED, axis, at_m, lo_m, hi_m);
  c->age_s = mean_along (f, DEW_VALUE_AGE, axis, at_m, lo_m, hi_m);
  c->mist_kg_kg = mean_along (f, DEW_VALUE_MIST, axis, at_m, lo_m, hi_m);
  c->wetting_kg_m2s = mean_along (f, DEW_VALUE_WETTING, axis, at_m, lo_m, hi_m);
  c->ppfd_mol_m2s = mean_along (f, DEW_VALUE_PPFD, axis, at_m, lo_m, hi_m);
  c->still_share = c->drip_kg_s = NAN;
  find_bands (f, axis, at_m, out);
  out->dew_point_C = dew_moist_dew_point (c->w_kg_kg, f->pressure_Pa);
  return TRUE;
}

double
dew_forecast_reach (const DewForecast *f, const double from_m[2], double azimuth_rad, double lo_m,
                    double hi_m, double level_m_s)
{
  const double step_m = 0.005, begin_m = 0.2;
  const int axis[3] = { 0, 1, 2 }; /* of the plan */
  double reached_m = 0.0;

  g_return_val_if_fail (f != NULL && isfinite (azimuth_rad), 0.0);

  for (int i = 0;; i++)
    {
      double away_m = i * step_m;
      double at_m[2]
        = { from_m[0] + away_m * cos (azimuth_rad), from_m[1] + away_m * sin (azimuth_rad) };
      gboolean inside
        = at_m[0] >= 0.0 && at_m[0] <= f->inner_m[0] && at_m[1] >= 0.0 && at_m[1] <= f->inner_m[1];

      if (inside && mean_along (f, DEW_VALUE_SPEED, axis, at_m, lo_m, hi_m) >= level_m_s)
        reached_m = away_m;
      else if (!inside || reached_m > 0.0 || away_m > begin_m)
        return reached_m;
    }
}
