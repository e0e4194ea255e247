/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* From a run to a forecast that people and programs read. Inner part of the
 * forecast module. */

#include "forecast/run.h"

G_BEGIN_DECLS

/* Transfer full; state is left for the caller to set. */
DewForecast *dew_forecast_build (const DewRun *run);

G_END_DECLS
