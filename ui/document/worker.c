/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document/worker.h"

#include "forecast/bands.h"
#include "store/store.h"

/* Work of a step of following, beyond which it goes on with the zones of a draft: a dozen pictures
 * a second are still a movement. */
#define FOLLOW_BUDGET_S 0.08
/* After so many steps without a move the hand holds still: then the settled answer is found, which
 * is the same as after letting go. */
#define HELD_STEPS 12

typedef struct
{
  guint serial;
  DewWork work;
  const DewChamber *chamber; /* kept */
  gboolean night;
  gboolean fresh; /* nothing of it was shown before */
} Request;

struct _DewWorker
{
  GMutex lock; /* guards slot, running, closing */
  GCond filled;
  Request *slot;
  GCancellable *running; /* of the settling that is being worked on, or NULL */
  gboolean closing;

  /* The last settled answer and of what it is, so that letting go of what was held still need not
   * find it again; the thread's own. */
  const DewChamber *settled_chamber; /* kept */
  gboolean settled_night;
  DewForecast *settled; /* without bands */

  guint last_serial;      /* main thread */
  DewWorkerAnswer answer; /* main thread; NULL once freed */
  gpointer user_data;
};

typedef struct
{
  DewWorker *worker;
  guint serial;
  DewForecast *forecast;
  GError *error;
  gboolean more;
} Report;

static void
request_free (Request *request)
{
  if (request == NULL)
    return;
  dew_chamber_free (request->chamber);
  g_free (request);
}

static void
worker_clear (gpointer data)
{
  DewWorker *worker = data;

  request_free (worker->slot);
  g_clear_pointer (&worker->settled_chamber, dew_chamber_free);
  g_clear_pointer (&worker->settled, dew_forecast_unref);
  g_clear_object (&worker->running);
  g_mutex_clear (&worker->lock);
  g_cond_clear (&worker->filled);
}

static void
report_free (gpointer data)
{
  Report *report = data;

  g_clear_pointer (&report->forecast, dew_forecast_unref);
  g_clear_error (&report->error);
  g_atomic_rc_box_release_full (report->worker, worker_clear);
  g_free (report);
}

static gboolean
report_deliver (gpointer data)
{
  Report *report = data;
  DewWorker *worker = report->worker;

  /* A stale forecast is dropped, except while following: there the newest
   * picture that exists is better than an old one. */
  if (worker->answer != NULL
      && (report->serial == worker->last_serial
          || (report->forecast != NULL && report->forecast->state == DEW_FORECAST_FOLLOWING)))
    worker->answer (report->serial, report->forecast, report->error, report->more,
                    worker->user_data);
  return G_SOURCE_REMOVE;
}

static void
post (DewWorker *worker, const Request *request, DewForecast *forecast, GError *error,
      gboolean more)
{
  Report *report;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_error_free (error);
      return;
    }
  report = g_new0 (Report, 1);
  report->worker = g_atomic_rc_box_acquire (worker);
  report->serial = request->serial;
  report->forecast = forecast;
  report->error = error;
  report->more = more;
  g_idle_add_full (G_PRIORITY_DEFAULT, report_deliver, report, report_free);
}

static gboolean
superseded (DewWorker *worker)
{
  gboolean newer;

  g_mutex_lock (&worker->lock);
  newer = worker->slot != NULL || worker->closing;
  g_mutex_unlock (&worker->lock);
  return newer;
}

static void
init_options (DewForecastOptions *options, const Request *request, DewGrid grid)
{
  dew_forecast_options_init (options);
  options->grid = grid;
  options->night = request->night;
  options->checked = TRUE;
  options->wish = dew_catalogue_plant_wish;
  options->wish_data = (gpointer) request->chamber;
}

/* What settles may be cancelled by a newer request; what only follows is done sooner than that.
 * FALSE when there is one already. */
static gboolean
begin_settling (DewWorker *worker, GCancellable *cancellable)
{
  gboolean free;

  g_mutex_lock (&worker->lock);
  free = worker->slot == NULL && !worker->closing;
  if (free)
    g_set_object (&worker->running, cancellable);
  g_mutex_unlock (&worker->lock);
  return free;
}

/* The settled answer of a request (transfer full). */
static DewForecast *
settled_answer (DewWorker *worker, DewForecaster *forecaster, const Request *request,
                GCancellable *cancellable, GError **error)
{
  DewForecastOptions options;
  DewForecast *forecast;

  if (worker->settled != NULL && worker->settled_night == request->night
      && dew_chamber_equal (worker->settled_chamber, request->chamber))
    return dew_forecast_ref (worker->settled);
  init_options (&options, request, DEW_GRID_SETTLED);
  forecast = dew_forecaster_settle (forecaster, request->chamber, 0, &options, cancellable, error);
  if (forecast == NULL)
    return NULL;
  g_clear_pointer (&worker->settled_chamber, dew_chamber_free);
  g_clear_pointer (&worker->settled, dew_forecast_unref);
  worker->settled_chamber = dew_chamber_keep (request->chamber);
  worker->settled_night = request->night;
  worker->settled = dew_forecast_ref (forecast);
  return forecast;
}

/* The draft of something new. Settled to its end rather than for some time, so that a
 * document that is opened again shows the same numbers. */
static DewForecast *
first_draft (DewForecaster *forecaster, const Request *request, GCancellable *cancellable,
             GError **error)
{
  DewForecastOptions options;
  DewForecast *forecast;

  init_options (&options, request, DEW_GRID_DRAFT);
  forecast = dew_forecaster_settle (forecaster, request->chamber, 0, &options, cancellable, error);
  if (forecast != NULL)
    forecast->state = DEW_FORECAST_FOLLOWING;
  return forecast;
}

static void
follow (DewWorker *worker, DewForecaster *forecaster, const Request *request,
        GCancellable *cancellable)
{
  DewForecastOptions options;
  DewForecast *forecast;
  GError *error = NULL;

  init_options (&options, request, DEW_GRID_SETTLED);
  for (int step = 0; step < HELD_STEPS; step++)
    {
      forecast = dew_forecaster_follow (forecaster, request->chamber, 0, &options, FOLLOW_BUDGET_S,
                                        cancellable, &error);
      post (worker, request, forecast, error, forecast != NULL);
      if (forecast == NULL || superseded (worker))
        return;
    }
  if (!begin_settling (worker, cancellable))
    return;
  forecast = settled_answer (worker, forecaster, request, cancellable, &error);
  post (worker, request, forecast, error, FALSE);
}

/* First without bands, because that is what is waited for; then with them. Of
 * something new a draft is shown even before that. */
static void
settle (DewWorker *worker, DewForecaster *forecaster, const Request *request,
        GCancellable *cancellable)
{
  DewForecastOptions options;
  g_autoptr (DewForecast) plain = NULL;
  DewForecast *forecast;
  GError *error = NULL;

  if (request->fresh)
    {
      forecast = first_draft (forecaster, request, cancellable, &error);
      post (worker, request, forecast, error, forecast != NULL);
      if (forecast == NULL || superseded (worker))
        return;
    }
  plain = settled_answer (worker, forecaster, request, cancellable, &error);
  post (worker, request, plain != NULL ? dew_forecast_ref (plain) : NULL, error, plain != NULL);
  if (plain == NULL || superseded (worker))
    return;
  init_options (&options, request, DEW_GRID_SETTLED);
  options.members = DEW_BAND_MEMBERS;
  forecast
    = dew_forecaster_assure (forecaster, plain, request->chamber, 0, &options, cancellable, &error);
  if (forecast == NULL)
    {
      /* The forecast itself stands; it only stays without bands. */
      g_debug ("no bands: %s", error->message);
      g_error_free (error);
      return;
    }
  post (worker, request, forecast, NULL, FALSE);
}

static gpointer
run (gpointer data)
{
  DewWorker *worker = data;
  g_autoptr (DewForecaster) forecaster = dew_forecaster_new ();

  for (;;)
    {
      g_autoptr (GCancellable) cancellable = g_cancellable_new ();
      Request *request;

      g_mutex_lock (&worker->lock);
      while (worker->slot == NULL && !worker->closing)
        g_cond_wait (&worker->filled, &worker->lock);
      if (worker->closing)
        {
          g_mutex_unlock (&worker->lock);
          break;
        }
      request = g_steal_pointer (&worker->slot);
      if (request->work == DEW_WORK_SETTLE)
        worker->running = g_object_ref (cancellable);
      g_mutex_unlock (&worker->lock);

      if (request->work == DEW_WORK_FOLLOW)
        follow (worker, forecaster, request, cancellable);
      else
        settle (worker, forecaster, request, cancellable);
      request_free (request);

      g_mutex_lock (&worker->lock);
      g_clear_object (&worker->running);
      g_mutex_unlock (&worker->lock);
    }
  g_atomic_rc_box_release_full (worker, worker_clear);
  return NULL;
}

DewWorker *
dew_worker_new (DewWorkerAnswer answer, gpointer user_data)
{
  DewWorker *worker = g_atomic_rc_box_new0 (DewWorker);

  g_mutex_init (&worker->lock);
  g_cond_init (&worker->filled);
  worker->answer = answer;
  worker->user_data = user_data;
  g_thread_unref (g_thread_new ("forecast", run, g_atomic_rc_box_acquire (worker)));
  return worker;
}

void
dew_worker_free (DewWorker *worker)
{
  if (worker == NULL)
    return;
  worker->answer = NULL;
  g_mutex_lock (&worker->lock);
  worker->closing = TRUE;
  if (worker->running != NULL)
    g_cancellable_cancel (worker->running);
  g_cond_signal (&worker->filled);
  g_mutex_unlock (&worker->lock);
  g_atomic_rc_box_release_full (worker, worker_clear);
}

guint
dew_worker_ask (DewWorker *worker, DewWork work, const DewChamber *chamber, gboolean night,
                gboolean fresh)
{
  Request *request;

  g_return_val_if_fail (worker != NULL && chamber != NULL, 0);

  request = g_new0 (Request, 1);
  request->serial = ++worker->last_serial;
  request->work = work;
  request->chamber = dew_chamber_keep (chamber);
  request->night = night;
  request->fresh = fresh;

  g_mutex_lock (&worker->lock);
  request_free (worker->slot);
  worker->slot = request;
  if (worker->running != NULL)
    g_cancellable_cancel (worker->running);
  g_cond_signal (&worker->filled);
  g_mutex_unlock (&worker->lock);
  return request->serial;
}
