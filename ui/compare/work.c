/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/work.h"

#include "forecast/bands.h"
#include "store/store.h"

void
dew_compare_input_free (gpointer data)
{
  DewCompareInput *input = data;

  dew_chamber_free (input->chamber);
  g_free (input);
}

void
dew_compare_result_free (gpointer data)
{
  dew_compare_free (data);
}

static void
init_options (DewForecastOptions *options, const DewCompareInput *input, gboolean night)
{
  dew_forecast_options_init (options);
  options->grid = DEW_GRID_SETTLED;
  options->night = night;
  options->wish = dew_catalogue_plant_wish;
  options->wish_data = input->chamber;
}

/* With bands in the place of without: of forecast `k`, days first. */
static gboolean
make_forecast (const DewCompareInput *input, int k, gboolean bands, DewForecast **forecast,
               GCancellable *cancellable, GError **error)
{
  DewForecastOptions options;
  guint id = input->ids[k % input->n];
  DewForecast *made;

  init_options (&options, input, k >= input->n);
  if (bands)
    {
      options.members = DEW_BAND_MEMBERS;
      made = dew_forecast_with_bands (*forecast, input->chamber, id, &options, cancellable, error);
    }
  else
    made = dew_forecast_new (input->chamber, id, &options, cancellable, error);
  if (made == NULL)
    return FALSE;
  g_clear_pointer (forecast, dew_forecast_unref);
  *forecast = made;
  return TRUE;
}

static DewComparison *
compare (const DewCompareInput *input, DewForecast *const *forecasts)
{
  return dew_compare_new (input->chamber, input->ids, input->n, forecasts, forecasts + input->n,
                          dew_catalogue_plant_kind, input->chamber);
}

gpointer
dew_compare_work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  DewCompareInput *input = data;
  DewForecast *forecasts[2 * DEW_COMPARE_SIDES_MAX] = { NULL };
  DewComparison *comparison = NULL;
  gboolean well = TRUE;

  for (int k = 0; well && k < 2 * input->n; k++)
    {
      well = make_forecast (input, k, FALSE, &forecasts[k], cancellable, error);
      dew_errand_report (run, 0.25 * (k + 1) / (2 * input->n), NULL);
    }
  if (well)
    dew_errand_report (run, 0.25, compare (input, forecasts));
  for (int k = 0; well && k < 2 * input->n; k++)
    {
      well = make_forecast (input, k, TRUE, &forecasts[k], cancellable, error);
      dew_errand_report (run, 0.25 + 0.75 * (k + 1) / (2 * input->n), NULL);
    }
  if (well)
    comparison = compare (input, forecasts);
  for (guint k = 0; k < G_N_ELEMENTS (forecasts); k++)
    g_clear_pointer (&forecasts[k], dew_forecast_unref);
  return comparison;
}
