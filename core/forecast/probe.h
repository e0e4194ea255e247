/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a forecast says along one line of sight of a view. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef struct
{
  int        bay;         /* index */
  DewClimate climate;     /* means along the line; members that are shares of a volume are NAN */
  double     dew_point_C; /* of the mean humidity ratio */
} DewProbed;

/* The line through at_m (the view's across and up, m), over the depth lo_m..hi_m (lo >=
 * hi: all of it): the same means as dew_forecast_picture() colours. Bands are the
 * widest of the places that the line passes, so that none promises more than its
 * place; of the bay where there are no places. FALSE outside, and where the forecast
 * has no bays. */
gboolean dew_forecast_probe (const DewForecast *forecast, DewView view, const double at_m[2],
                             double lo_m, double hi_m, DewProbed *out);

G_END_DECLS
