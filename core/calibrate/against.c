/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate/against.h"

#include "forecast/bands.h"
#include "forecast/probe.h"
#include "moist/moist.h"

#include <math.h>

/* The mean of the witnesses in the room, by day or by night. */
static gboolean
room_mean (const DewWitness *witnesses, int n, const GArray *spells, guint first, guint last,
           gboolean night, double pressure_Pa, double *t_C, double *rh)
{
  double t = 0.0, h = 0.0;
  int count = 0;

  for (int i = 0; i < n; i++)
    {
      DewWitnessed seen;

      if (!witnesses[i].room
          || !dew_witness (&witnesses[i], spells, first, last, night, pressure_Pa, &seen))
        continue;
      t += seen.t_C;
      h += seen.rh;
      count++;
    }
  if (count == 0)
    return FALSE;
  *t_C = t / count;
  *rh = CLAMP (h / count, 0.01, 1.0);
  return TRUE;
}

DewChamber *
dew_against_room (const DewChamber *chamber, const DewWitness *witnesses, int n,
                  const GArray *spells, guint first, guint last, gboolean *measured)
{
  DewChamber *copy = dew_chamber_copy (chamber);
  DewMonth *month = &copy->room.months[CLAMP (copy->month, 0, 11)];
  double pressure_Pa = dew_moist_pressure (chamber->room.altitude_m);
  gboolean day, night;

  day = room_mean (witnesses, n, spells, first, last, FALSE, pressure_Pa, &month->t_day_C,
                   &month->rh_day);
  night = room_mean (witnesses, n, spells, first, last, TRUE, pressure_Pa, &month->t_night_C,
                     &month->rh_night);
  *measured = day || night;
  return copy;
}

static void
add_row (DewAgainstAll *all, const DewForecast *forecast, const DewWitness *witness, int index,
         const DewWitnessed *seen)
{
  const double *at = witness->at_m;
  int place = dew_forecast_place_at (forecast, at);
  DewAgainst row = { .witness = index,
                     .night = forecast->night,
                     .measured = *seen,
                     .bay = dew_forecast_bay_at (forecast, at[2]) };
  const DewClimate *band;

  if (row.bay < 0)
    return;
  band = place >= 0 ? &forecast->places[place].mean : &forecast->bays[row.bay].mean;
  row.t_C = dew_forecast_sample (forecast, DEW_VALUE_TEMPERATURE, at[0], at[1], at[2]);
  row.rh = dew_forecast_sample (forecast, DEW_VALUE_RH, at[0], at[1], at[2]);
  row.w_kg_kg = dew_forecast_sample (forecast, DEW_VALUE_HUMIDITY_RATIO, at[0], at[1], at[2]);
  row.t_band_K = band->t_band_K;
  row.rh_band = band->rh_band;
  row.w_band_kg_kg = band->w_band_kg_kg;
  row.t_allowed_K = hypot (isnan (row.t_band_K) ? 0.0 : row.t_band_K, seen->t_error_K);
  row.rh_allowed = hypot (isnan (row.rh_band) ? 0.0 : row.rh_band, seen->rh_error);
  row.t_beyond = fabs (seen->t_C - row.t_C) > row.t_allowed_K;
  row.rh_beyond = fabs (seen->rh - row.rh) > row.rh_allowed;
  g_array_append_val (all->rows, row);
}

static gboolean
forecast_both (DewAgainstAll *all, const DewChamber *chamber, guint variant_id,
               const DewForecastOptions *options, GCancellable *cancellable, GError **error)
{
  DewForecastOptions own = *options;

  if (own.members == 0)
    own.members = DEW_BAND_MEMBERS;
  for (int night = 0; night < 2; night++)
    {
      own.night = night;
      all->forecast[night] = dew_forecast_new (chamber, variant_id, &own, cancellable, error);
      if (all->forecast[night] == NULL)
        return FALSE;
      all->room_t_C[night] = all->forecast[night]->room_t_C;
      all->room_rh[night] = all->forecast[night]->room_rh;
    }
  return TRUE;
}

DewAgainstAll *
dew_against (const DewChamber *chamber, guint variant_id, const DewWitness *witnesses, int n,
             GTimeZone *zone, gint64 from_s, gint64 to_s, const DewForecastOptions *options,
             GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) spells = dew_spells (&chamber->routine, zone, from_s, to_s);
  g_autoptr (DewAgainstAll) all = g_new0 (DewAgainstAll, 1);
  g_autoptr (DewChamber) own
    = dew_against_room (chamber, witnesses, n, spells, 0, spells->len, &all->room_measured);

  all->from_s = from_s;
  all->to_s = to_s;
  all->rows = g_array_new (FALSE, FALSE, sizeof (DewAgainst));
  if (!forecast_both (all, own, variant_id, options, cancellable, error))
    return NULL;
  for (int i = 0; i < n; i++)
    for (int night = 0; night < 2; night++)
      {
        DewWitnessed seen;

        if (!witnesses[i].room && witnesses[i].thing_id != 0
            && dew_witness (&witnesses[i], spells, 0, spells->len, night,
                            all->forecast[night]->pressure_Pa, &seen))
          add_row (all, all->forecast[night], &witnesses[i], i, &seen);
      }
  return g_steal_pointer (&all);
}

void
dew_against_free (DewAgainstAll *all)
{
  if (all == NULL)
    return;
  g_clear_pointer (&all->forecast[0], dew_forecast_unref);
  g_clear_pointer (&all->forecast[1], dew_forecast_unref);
  g_clear_pointer (&all->rows, g_array_unref);
  g_free (all);
}
