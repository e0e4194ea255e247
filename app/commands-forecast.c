/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier forecast: the air at every bay and place of one variant. */
#include "command-line.h"

#include "forecast/members.h"

int
dew_command_forecast (DewAsked *asked)
{
  g_autoptr (DewForecast) forecast = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewForecastOptions options;
  int grid = DEW_GRID_SETTLED;

  if (!dew_command_choose ("--grid", asked->grid, dew_grid_keys, G_N_ELEMENTS (dew_grid_keys),
                           &grid))
    return DEW_EXIT_USAGE;
  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  dew_command_options (asked, &options);
  options.grid = grid;
  forecast = dew_forecast_new (asked->chamber, asked->about.variant->id, &options, NULL, &error);
  if (forecast != NULL)
    text = asked->json ? dew_report_forecast_json (&asked->about, forecast)
                       : dew_report_forecast_text (&asked->about, forecast, asked->balance);
  return dew_command_answer (asked, text, error);
}
