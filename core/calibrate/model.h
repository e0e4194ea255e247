/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a forecast becomes when what cannot be known has other values: quick trials by day and by
 * night from a settled start (forecast/trial.h). */

#include "forecast/bands.h"
#include "forecast/trial.h"

G_BEGIN_DECLS

typedef struct _DewModel DewModel;

/* variant_id 0: the shown one. NULL with error as dew_forecast_new(). */
DewModel *dew_model_new (const DewChamber *chamber, guint variant_id, GCancellable *cancellable,
                         GError **error);
void dew_model_free (DewModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewModel, dew_model_free)

/* The forecasts by day and by night (transfer full, both or none) with unknowns so far out in
 * their ranges (dew_unknown_value()); q: [DEW_N_UNKNOWNS]. */
gboolean dew_model_at (DewModel *model, const double *q, DewForecast *out[2], GError **error);

G_END_DECLS
