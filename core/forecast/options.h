/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* From a document and what is asked of it to what a run is told. Inner part of the
 * forecast module. */

#include "forecast/run.h"

G_BEGIN_DECLS

/* Checks the variant, and finds room, air and zone size. FALSE with
 * DEW_FORECAST_ERROR_INVALID and the first problem in words. */
gboolean dew_forecast_run_options (const DewChamber *chamber, guint variant_id,
                                   const DewForecastOptions *options, DewRunOptions *out,
                                   GError **error);

/* The forecast of a run that has settled (or not): heat and water to that tolerance,
 * findings. NULL with error when some number is none. */
DewForecast *dew_forecast_finish (DewRun *run, const DewForecastOptions *options, double tolerance,
                                  GError **error);

G_END_DECLS
