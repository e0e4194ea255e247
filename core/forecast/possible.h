/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Whether a forecast can be true at all, before anybody sees a number of it. Inner part of the
 * forecast module. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

/* FALSE with DEW_FORECAST_ERROR when it says what air does not do or what the relations it
 * rests on do not reach: hotter than 90 C, colder than -40, drier than dry, wetter than
 * saturated, more water afloat than air carries, or, once settled, heat or water of which more
 * than a hundredth is missing. The message names what asks for the impossible. */
gboolean dew_forecast_check_possible (const DewForecast *forecast, const DewVariant *variant,
                                      GError **error);

G_END_DECLS
