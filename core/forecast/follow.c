/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/forecast.h"

#include <time.h>

#include "forecast/bands.h"
#include "forecast/options.h"
#include "forecast/run.h"

/* What goes on beside a window: following a drag, settling at rest, assuring what has settled. */

#define FOLLOW_STEPS 16 /* of a frame */

struct _DewForecaster
{
  DewRun *live, *draft; /* on settled and on draft zones */
  gboolean draft_is_newer;
  gboolean too_slow; /* for the settled zones, since something was last settled */
};

DewForecaster *
dew_forecaster_new (void)
{
  return g_new0 (DewForecaster, 1);
}

void
dew_forecaster_free (DewForecaster *fc)
{
  if (fc == NULL)
    return;
  dew_run_free (fc->draft);
  dew_run_free (fc->live);
  g_free (fc);
}

/* --- following ------------------------------------------------------------------------ */

/* Processor time of this thread: what else the machine does meanwhile is not in it. */
static double
worked_s (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return now.tv_sec + 1e-9 * now.tv_nsec;
}

/* Brings a run up to a document; a new one starts from `other` if there is one. */
static gboolean
bring_up (DewRun **run, const DewRun *other, gboolean other_is_newer, const DewChamber *chamber,
          guint variant_id, const DewRunOptions *ro, GError **error)
{
  if (*run != NULL)
    {
      if (!dew_run_change (*run, chamber, variant_id, ro, error))
        {
          g_clear_pointer (run, dew_run_free);
          return FALSE;
        }
      if (other != NULL && other_is_newer)
        dew_run_start_from (*run, other);
      return TRUE;
    }
  *run = dew_run_new (chamber, variant_id, ro, error);
  if (*run == NULL)
    return FALSE;
  if (other != NULL)
    dew_run_start_from (*run, other);
  return TRUE;
}

static DewForecast *
follow_on (DewForecaster *fc, DewGrid grid, const DewChamber *chamber, guint variant_id,
           const DewForecastOptions *options, GCancellable *cancellable, GError **error)
{
  gboolean on_draft = grid == DEW_GRID_DRAFT;
  DewRun **run = on_draft ? &fc->draft : &fc->live, *other = on_draft ? fc->live : fc->draft;
  DewForecastOptions o = *options;
  DewRunOptions ro;

  o.grid = grid;
  if (!dew_forecast_run_options (chamber, variant_id, &o, &ro, error)
      || !bring_up (run, other, fc->draft_is_newer != on_draft, chamber, variant_id, &ro, error))
    return NULL;
  fc->draft_is_newer = on_draft;
  if (!dew_run_follow (*run, FOLLOW_STEPS, cancellable, error))
    {
      g_clear_pointer (run, dew_run_free);
      return NULL;
    }
  return dew_forecast_on_the_way (*run, &o, error);
}

DewForecast *
dew_forecaster_follow (DewForecaster *fc, const DewChamber *chamber, guint variant_id,
                       const DewForecastOptions *options, double budget_s,
                       GCancellable *cancellable, GError **error)
{
  DewGrid grid = fc->too_slow ? DEW_GRID_DRAFT : options->grid;
  double start_s = worked_s ();
  gint64 start = g_get_monotonic_time ();
  DewForecast *f = follow_on (fc, grid, chamber, variant_id, options, cancellable, error);

  if (budget_s > 0.0 && worked_s () - start_s > budget_s)
    fc->too_slow = TRUE;
  if (f != NULL)
    f->seconds = (g_get_monotonic_time () - start) / 1e6;
  return f;
}
/* --- at rest ------------------------------------------------------------------------------ */

DewForecast *
dew_forecaster_settle (DewForecaster *fc, const DewChamber *chamber, guint variant_id,
                       const DewForecastOptions *options, GCancellable *cancellable, GError **error)
{
  gboolean on_draft = options->grid == DEW_GRID_DRAFT;
  DewRun **kept = on_draft ? &fc->draft : &fc->live;
  gint64 start = g_get_monotonic_time ();
  DewForecast *f;
  DewRun *run
    = dew_forecast_settled_run (chamber, variant_id, options, FALSE, *kept, cancellable, error);

  if (run == NULL)
    return NULL;
  dew_run_free (*kept);
  *kept = run;
  fc->draft_is_newer = on_draft;
  fc->too_slow = FALSE;
  f = dew_forecast_finish (run, options, DEW_FORECAST_SETTLED_TOLERANCE, error);
  if (f != NULL)
    f->seconds = (g_get_monotonic_time () - start) / 1e6;
  return f;
}

DewForecast *
dew_forecaster_assure (DewForecaster *fc, DewForecast *forecast, const DewChamber *chamber,
                       guint variant_id, const DewForecastOptions *options,
                       GCancellable *cancellable, GError **error)
{
  g_autoptr (DewForecast) assured
    = dew_forecast_with_bands (forecast, chamber, variant_id, options, cancellable, error);

  if (assured == NULL
      || !dew_forecast_find_other (assured, chamber, variant_id, options, fc->live, cancellable,
                                   error))
    return NULL;
  return g_steal_pointer (&assured);
}
