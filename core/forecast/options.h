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

/* Of heat and water in what is shown as settled. */
#define DEW_FORECAST_SETTLED_TOLERANCE 1e-8

/* A run that has gone from rest to the end: whatever was before, one layout has one answer.
 * air_first: see dew_run_approach(). like: NULL, or a run to share a factorisation with. NULL with
 * error. */
DewRun *dew_forecast_settled_run (const DewChamber *chamber, guint variant_id,
                                  const DewForecastOptions *options, gboolean air_first,
                                  const DewRun *like, GCancellable *cancellable, GError **error);

/* The forecast of a run that has settled (or not): heat and water to that tolerance,
 * findings. NULL with error when some number is none. */
DewForecast *dew_forecast_finish (DewRun *run, const DewForecastOptions *options, double tolerance,
                                  GError **error);
/* The same of a run on its way, as dew_run_follow() leaves it; state FOLLOWING. */
DewForecast *dew_forecast_on_the_way (DewRun *run, const DewForecastOptions *options,
                                      GError **error);

/* Looks for a second answer of a forecast that has settled, from the start that has the air before
 * heat and water, and notes it in f. like: as above. FALSE with error when cancelled. */
gboolean dew_forecast_find_other (DewForecast *f, const DewChamber *chamber, guint variant_id,
                                  const DewForecastOptions *options, const DewRun *like,
                                  GCancellable *cancellable, GError **error);

G_END_DECLS
