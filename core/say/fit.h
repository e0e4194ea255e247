/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How a plant fits a place, in words. */

#include "advice/fit.h"
#include "say/units.h"

G_BEGIN_DECLS

/* One demand in words, a whole sentence without a full stop (transfer full): "Night 1.4 K too
 * warm", "Needs 4 cm more height", "Air by day 3 points more humid than its least". */
char *dew_fit_demand_words (const DewFit *fit, DewDemand demand, DewTongue tongue);
/* The whole in one short sentence (transfer full): "Night 1.4 K too warm, but the forecast
 * may be off by 1.6 K.", "Comfortable: night 0.8 K below its warmest." */
char *dew_fit_words (const DewFit *fit, DewTongue tongue);
/* What would have to change for the demands of a mask (transfer full), NULL for none: "3 K
 * cooler nights", "12 cm more height; 4 points drier air by day". */
char *dew_fit_needs (const DewFit *fit, guint demands, DewTongue tongue);

G_END_DECLS
