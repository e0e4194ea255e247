/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Which bay and place of a forecast a point belongs to, and what the forecast says along
 * one line of sight of a view. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

/* The bay that holds a height, by the rule of dew_bay_at(); -1 below the floor and above
 * the roof. */
int dew_forecast_bay_at (const DewForecast *forecast, double z_m);
/* The place whose air is that of a point: of its bay, the nearest (a crown may reach over
 * the last one). -1 where its bay has none, or outside. */
int dew_forecast_place_at (const DewForecast *forecast, const double at_m[3]);

typedef struct
{
  int bay;            /* index */
  DewClimate climate; /* means along the line; members that are shares of a volume are NAN */
  double dew_point_C; /* of the mean humidity ratio */
} DewProbed;

/* The line through at_m (the view's across and up, m), over the depth lo_m..hi_m (lo >=
 * hi: all of it): the same means as dew_forecast_picture() colours. Bands are the
 * widest of the places that the line passes, so that none promises more than its
 * place; of the bay where there are no places. FALSE outside, and where the forecast
 * has no bays. */
gboolean dew_forecast_probe (const DewForecast *forecast, DewView view, const double at_m[2],
                             double lo_m, double hi_m, DewProbed *out);

/* How far a stream reaches: from a point of the plan (x, y; m) straight along azimuth_rad
 * (0 to the right, anticlockwise seen from above) to where the mean speed over the
 * heights lo_m..hi_m falls below level_m_s, or to the wall. The stream may begin up to
 * 0.2 m away, as the air at a fan's own frame is slow. 0 when there is none. */
double dew_forecast_reach (const DewForecast *forecast, const double from_m[2], double azimuth_rad,
                           double lo_m, double hi_m, double level_m_s);

G_END_DECLS
