/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/trial.h"

#include <glib/gi18n.h>

#include "forecast/bands.h"
#include "forecast/build.h"
#include "forecast/options.h"

#define START_TOLERANCE 1e-3

struct _DewTrialStart
{
  DewForecastOptions options;
  DewRun *run; /* settled; never changed once it is made */
};

struct _DewTrial
{
  const DewTrialStart *start;
  DewRun *last; /* keeps the factorisation for the next layout with the same walls */
};

/* --- the start ----------------------------------------------------------- */

DewTrialStart *
dew_trial_start_new (const DewChamber *chamber, guint variant_id, const DewForecastOptions *options,
                     GCancellable *cancellable, GError **error)
{
  g_autoptr (DewTrialStart) start = g_new0 (DewTrialStart, 1);
  DewRunOptions ro;

  g_return_val_if_fail (chamber != NULL && options != NULL, NULL);

  start->options = *options;
  start->options.grid = DEW_GRID_DRAFT;
  if (!dew_forecast_run_options (chamber, variant_id, &start->options, &ro, error))
    return NULL;
  start->run = dew_run_new (chamber, variant_id, &ro, error);
  if (start->run == NULL || !dew_run_settle (start->run, cancellable, error))
    return NULL;
  dew_run_finish (start->run, START_TOLERANCE, 0);
  return g_steal_pointer (&start);
}

void
dew_trial_start_free (DewTrialStart *start)
{
  if (start == NULL)
    return;
  dew_run_free (start->run);
  g_free (start);
}

/* --- trials -------------------------------------------------------------- */

DewTrial *
dew_trial_new (const DewTrialStart *start)
{
  DewTrial *trial = g_new0 (DewTrial, 1);

  trial->start = start;
  return trial;
}

void
dew_trial_free (DewTrial *trial)
{
  if (trial == NULL)
    return;
  dew_run_free (trial->last);
  g_free (trial);
}

/* A run of its own for each layout: nothing is left in it of the one before. */
static DewRun *
march (DewTrial *trial, const DewChamber *chamber, guint variant_id, const DewTrialPace *pace,
       GError **error)
{
  DewRunOptions ro;
  DewRun *run;
  g_autoptr (DewChamber) varied = NULL;

  if (!dew_forecast_run_options (chamber, variant_id, &trial->start->options, &ro, error))
    return NULL;
  if (pace->unknowns != NULL)
    {
      DewRunOptions nominal = ro;

      varied = dew_bands_vary (chamber, variant_id, &nominal, pace->unknowns, &ro);
      chamber = varied;
    }
  else if (pace->members > 0)
    {
      DewRunOptions nominal = ro;

      varied = dew_bands_member (chamber, variant_id, &nominal, pace->members, pace->seed,
                                 pace->member, &ro);
      chamber = varied;
    }
  run = dew_run_new_like (chamber, variant_id, &ro, trial->last, error);
  if (run == NULL)
    return NULL;
  g_clear_pointer (&trial->last, dew_run_free);
  trial->last = run;
  dew_run_start_from (run, trial->start->run);
  for (int part = 0; part < pace->parts; part++)
    {
      if (!dew_run_steps (run, pace->steps, error))
        return NULL;
      if (part + 1 < pace->parts)
        dew_run_balance (run, pace->tolerance, pace->rounds);
      else
        dew_run_finish (run, pace->tolerance, pace->rounds);
    }
  return run;
}

static DewForecast *
checked (DewForecast *f, GError **error)
{
  if (dew_forecast_is_finite (f))
    return f;
  dew_forecast_unref (f);
  g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
               _ ("The climate in this enclosure could not be computed: heat and water found no "
                  "balance"));
  return NULL;
}

DewForecast *
dew_trial_forecast (DewTrial *trial, const DewChamber *chamber, guint variant_id,
                    const DewTrialPace *pace, GError **error)
{
  DewRun *run = march (trial, chamber, variant_id, pace, error);
  DewForecast *f;

  if (run == NULL)
    return NULL;
  f = checked (dew_forecast_build (run), error);
  if (f != NULL)
    f->grid = DEW_GRID_DRAFT;
  return f;
}

DewForecast *
dew_trial_settle (DewTrial *trial, const DewChamber *chamber, guint variant_id,
                  const DewForecastOptions *options, GCancellable *cancellable, GError **error)
{
  DewForecastOptions at_rest = *options;

  at_rest.night = trial->start->options.night;
  return dew_forecast_new (chamber, variant_id, &at_rest, cancellable, error);
}
