/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/compare/compare-private.h"

#include "forecast/findings.h"
#include "forecast/probe.h"

#include <math.h>
#include <string.h>

#define HALF_DAY_S 43200.0

static int
n_nights (const DewCompareSide *side)
{
  return side->night != NULL ? 2 : 1;
}

const DewForecast *
dew_compare_forecast (const DewCompareSide *side, gboolean night)
{
  return night ? side->night : side->day;
}

/* --- one side ------------------------------------------------------------ */

/* What humidifiers, pots, trays and leaves give off; what condenses on them does not count
 * as water saved. */
static double
water_kg_s (const DewForecast *forecast)
{
  return MAX (0.0, forecast->balance.water_device_kg_s)
         + MAX (0.0, forecast->balance.water_surface_kg_s);
}

gboolean
dew_compare_fit (const DewVariant *variant, const DewCompareSide *side, const DewThing *thing,
                 DewPlantKindLookup lookup, gpointer data, DewFit *fit)
{
  const double at_m[3] = { thing->plant.x_m, thing->plant.y_m, thing->plant.z_m };
  int place = dew_forecast_place_at (side->day, at_m);
  DewFitPlant plant;
  DewFitPlace air;

  if (place < 0)
    return FALSE;
  dew_fit_plant_of_thing (variant, thing, lookup, data, &plant);
  dew_fit_place_air (variant, side->day, side->night, place, &air);
  air.from_front_m = thing->plant.y_m;
  dew_fit_judge (&plant, &air, fit);
  return TRUE;
}

/* Within every limit. How fast a crown dries matters only once it is wetted, and mist and drip
 * are asked of by themselves. */
static gboolean
is_within (const DewFit *fit)
{
  for (int d = 0; d < DEW_N_DEMANDS; d++)
    if (d != DEW_DEMAND_DRYING && fit->demand[d].margin < 0.0)
      return FALSE;
  return TRUE;
}

static void
weigh_plants (const DewVariant *variant, DewCompareSide *side, DewPlantKindLookup lookup,
              gpointer data)
{
  double sum = 0.0;

  side->mean_score = -1;
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      DewFit fit;

      if (thing->kind != DEW_THING_PLANT
          || !dew_compare_fit (variant, side, thing, lookup, data, &fit))
        continue;
      side->n_plants++;
      side->n_fitting += is_within (&fit);
      sum += fit.score;
    }
  if (side->n_plants > 0)
    side->mean_score = (int) lround (sum / side->n_plants);
}

/* --- colours ------------------------------------------------------------- */

static void
widen (DewComparison *comparison, const DewForecast *forecast)
{
  for (int v = 0; v < DEW_N_VALUES; v++)
    for (int n = 0; forecast->value[v] != NULL && n < forecast->n_zones; n++)
      {
        double value = forecast->value[v][n];

        /* NAN (no age without exchange) widens nothing. */
        if (!(comparison->lo[v] <= value))
          comparison->lo[v] = isnan (value) ? comparison->lo[v] : value;
        if (!(comparison->hi[v] >= value))
          comparison->hi[v] = isnan (value) ? comparison->hi[v] : value;
      }
}

/* --- the whole ----------------------------------------------------------- */

/* Per side: beyond the band first, then by how much it matters. */
static int
matters_first (gconstpointer pa, gconstpointer pb)
{
  const DewChange *a = pa, *b = pb;

  if (a->side != b->side)
    return a->side - b->side;
  if (a->beyond != b->beyond)
    return a->beyond ? -1 : 1;
  if (a->matters != b->matters)
    return a->matters > b->matters ? -1 : 1;
  if (a->subject != b->subject)
    return (int) a->subject - (int) b->subject;
  if (a->bay != b->bay)
    return a->bay - b->bay;
  if (a->thing_id != b->thing_id)
    return a->thing_id < b->thing_id ? -1 : 1;
  if (a->when != b->when)
    return (int) a->when - (int) b->when;
  return strcmp (dew_change_key (a->of), dew_change_key (b->of));
}

DewComparison *
dew_compare_new (const DewChamber *chamber, const guint *variant_ids, int n,
                 DewForecast *const *day, DewForecast *const *night, DewPlantKindLookup lookup,
                 gpointer data)
{
  DewComparison *comparison;

  g_return_val_if_fail (chamber != NULL && variant_ids != NULL && day != NULL, NULL);
  g_return_val_if_fail (n >= 2 && n <= DEW_COMPARE_SIDES_MAX, NULL);
  for (int s = 0; s < n; s++)
    g_return_val_if_fail (dew_chamber_variant (chamber, variant_ids[s]) != NULL, NULL);

  comparison = g_new0 (DewComparison, 1);
  comparison->n_sides = n;
  comparison->changes = g_array_new (FALSE, TRUE, sizeof (DewChange));
  for (int v = 0; v < DEW_N_VALUES; v++)
    comparison->lo[v] = comparison->hi[v] = NAN;
  for (int s = 0; s < n; s++)
    {
      const DewVariant *variant = dew_chamber_variant (chamber, variant_ids[s]);
      DewCompareSide *side = &comparison->sides[s];

      side->variant_id = variant->id;
      g_strlcpy (side->name, variant->name, sizeof side->name);
      side->day = dew_forecast_ref (day[s]);
      side->night = night != NULL ? dew_forecast_ref (night[s]) : NULL;
      weigh_plants (variant, side, lookup, data);
      for (int k = 0; k < n_nights (side); k++)
        {
          const DewForecast *forecast = dew_compare_forecast (side, k);

          side->water_kg_day += 2.0 / n_nights (side) * HALF_DAY_S * water_kg_s (forecast);
          widen (comparison, forecast);
        }
    }
  for (int s = 1; s < n; s++)
    dew_compare_changes (comparison, chamber, s, lookup, data);
  g_array_sort (comparison->changes, matters_first);
  return comparison;
}

DewComparison *
dew_compare_run (const DewChamber *chamber, const guint *variant_ids, int n,
                 const DewForecastOptions *options, DewPlantKindLookup lookup, gpointer data,
                 GCancellable *cancellable, GError **error)
{
  DewForecast *forecasts[2][DEW_COMPARE_SIDES_MAX] = { { NULL } };
  DewComparison *comparison = NULL;
  gboolean all = TRUE;

  g_return_val_if_fail (chamber != NULL && variant_ids != NULL && options != NULL, NULL);
  g_return_val_if_fail (n >= 2 && n <= DEW_COMPARE_SIDES_MAX, NULL);

  for (int s = 0; all && s < n; s++)
    for (int night = 0; all && night < 2; night++)
      {
        DewForecastOptions these = *options;

        these.night = night;
        forecasts[night][s]
          = dew_forecast_new (chamber, variant_ids[s], &these, cancellable, error);
        all = forecasts[night][s] != NULL;
        if (!all)
          g_prefix_error (error, "%s: ", dew_chamber_variant (chamber, variant_ids[s])->name);
      }
  if (all)
    comparison
      = dew_compare_new (chamber, variant_ids, n, forecasts[0], forecasts[1], lookup, data);
  for (int s = 0; s < n; s++)
    for (int night = 0; night < 2; night++)
      g_clear_pointer (&forecasts[night][s], dew_forecast_unref);
  return comparison;
}

void
dew_compare_free (DewComparison *comparison)
{
  if (comparison == NULL)
    return;
  for (int s = 0; s < comparison->n_sides; s++)
    {
      dew_forecast_unref (comparison->sides[s].day);
      g_clear_pointer (&comparison->sides[s].night, dew_forecast_unref);
    }
  g_array_unref (comparison->changes);
  g_free (comparison);
}
