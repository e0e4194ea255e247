/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier forecast: the air at every bay and place of one variant. */
#include "command-line.h"

#include "say/report.h"

int
dew_command_forecast (DewAsked *asked)
{
  static const char *const grids[]
    = { [DEW_GRID_DRAFT] = "draft", [DEW_GRID_SETTLED] = "settled", [DEW_GRID_FINE] = "fine" };
  g_autoptr (DewForecast) forecast = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewForecastOptions options;
  DewReport report;
  int grid = DEW_GRID_SETTLED;

  if (!dew_command_choose ("--grid", asked->grid, grids, G_N_ELEMENTS (grids), &grid))
    return DEW_EXIT_USAGE;
  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  dew_command_options (asked, &options);
  options.grid = grid;
  forecast = dew_forecast_new (asked->chamber, asked->shown->id, &options, NULL, &error);
  report = (DewReport){ asked->path, asked->chamber, asked->shown, forecast };
  if (forecast != NULL)
    text = asked->json ? dew_report_json (&report) : dew_report_text (&report, asked->balance);
  return dew_command_answer (asked, text, error);
}
