/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate/model.h"

/* As the members of bands take them. */
#define PARTS 2
#define STEPS 24
#define TOLERANCE 1e-4
#define ROUNDS 6

struct _DewModel
{
  const DewChamber *chamber; /* kept */
  guint variant_id;
  DewTrialStart *start[2];
  DewTrial *trial[2];
};

DewModel *
dew_model_new (const DewChamber *chamber, guint variant_id, GCancellable *cancellable,
               GError **error)
{
  g_autoptr (DewModel) model = g_new0 (DewModel, 1);
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  model->chamber = dew_chamber_keep (chamber);
  model->variant_id = variant_id;
  for (int night = 0; night < 2; night++)
    {
      options.night = night;
      model->start[night]
        = dew_trial_start_new (model->chamber, variant_id, &options, cancellable, error);
      if (model->start[night] == NULL)
        return NULL;
      model->trial[night] = dew_trial_new (model->start[night]);
    }
  return g_steal_pointer (&model);
}

void
dew_model_free (DewModel *model)
{
  if (model == NULL)
    return;
  for (int night = 0; night < 2; night++)
    {
      dew_trial_free (model->trial[night]);
      g_clear_pointer (&model->start[night], dew_trial_start_free);
    }
  dew_chamber_free (model->chamber);
  g_free (model);
}

gboolean
dew_model_at (DewModel *model, const double *q, DewForecast *out[2], GError **error)
{
  double values[DEW_N_UNKNOWNS];
  DewTrialPace pace = {
    .parts = PARTS, .steps = STEPS, .tolerance = TOLERANCE, .rounds = ROUNDS, .unknowns = values
  };

  for (int u = 0; u < DEW_N_UNKNOWNS; u++)
    values[u] = dew_unknown_value (u, q[u]);
  out[0] = dew_trial_forecast (model->trial[0], model->chamber, model->variant_id, &pace, error);
  out[1] = out[0] == NULL ? NULL
                          : dew_trial_forecast (model->trial[1], model->chamber, model->variant_id,
                                                &pace, error);
  if (out[1] != NULL)
    return TRUE;
  g_clear_pointer (&out[0], dew_forecast_unref);
  return FALSE;
}
