/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* From a run to a forecast that people and programs read. Inner part of the
 * forecast module. */

#include "forecast/run.h"

G_BEGIN_DECLS

/* Transfer full; state is left for the caller to set. */
DewForecast *dew_forecast_build (const DewRun *run);

/* Whether temperature, water and speed are numbers in every zone, and the balances too. */
gboolean dew_forecast_is_finite (const DewForecast *forecast);

/* dew_forecast_velocity() at a point of a known zone (indices from 0). */
void dew_forecast_velocity_in (const DewForecast *forecast, const int zone[3], const double at_m[3],
                               double out_m_s[3]);

G_END_DECLS
