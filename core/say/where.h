/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where something is, in words. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

/* Where a point is: "lowest shelf left front". Free with g_free(). */
char *dew_forecast_where (const DewForecast *forecast, int bay, const double at_m[3]);

/* The same within its bay: "Left front", "Middle". */
const char *dew_forecast_spot (const DewForecast *forecast, const double at_m[3]);

/* "Floor", "Lowest shelf", "Second shelf" ... of the n-th shelf from below; 0: the floor.
 * And the same within a sentence. Transfer full. */
char *dew_shelf_title (int shelf);
/* The shelf by the name that its grower gave it, else by its number from below. */
char *dew_shelf_called (const char *name, int shelf);
char *dew_shelf_words (int shelf);

/* The same of one of n bays, the lowest 0; "Inside" where there is only one. Transfer full. */
char *dew_bay_name (int bay, int n_bays);

G_END_DECLS
