/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document/errand.h"

struct _DewErrand
{
  DewErrandTell tell;
  gpointer user_data;
  DewErrandRun *run; /* the newest, while it runs */
};

struct _DewErrandRun
{
  DewErrand *errand; /* main thread; NULL once nobody wants to know */
  DewErrandWork work;
  gpointer input;
  GDestroyNotify free_input, free_result;
  GCancellable *cancellable;

  GMutex lock; /* guards what follows */
  double share;
  gpointer result; /* not told yet */
  GError *error;
  DewErrandStage stage;
  gboolean posted; /* the main thread has been asked to look */
};

static void
free_result (DewErrandRun *run, gpointer result)
{
  if (result != NULL && run->free_result != NULL)
    run->free_result (result);
}

static void
run_clear (gpointer data)
{
  DewErrandRun *run = data;

  if (run->free_input != NULL)
    run->free_input (run->input);
  free_result (run, run->result);
  g_clear_error (&run->error);
  g_object_unref (run->cancellable);
  g_mutex_clear (&run->lock);
}

static void
run_unref (gpointer data)
{
  g_atomic_rc_box_release_full (data, run_clear);
}

/* In the main thread: tells what is new. */
static gboolean
deliver (gpointer data)
{
  DewErrandRun *run = data;
  DewErrand *errand = run->errand;
  DewErrandNews news;
  g_autoptr (GError) error = NULL;

  g_mutex_lock (&run->lock);
  run->posted = FALSE;
  news.stage = run->stage;
  news.share = run->share;
  news.result = g_steal_pointer (&run->result);
  error = g_steal_pointer (&run->error);
  news.error = error;
  news.taken = FALSE;
  g_mutex_unlock (&run->lock);

  if (errand != NULL)
    {
      /* Before it is told, so that the callback may start the next one. */
      if (news.stage != DEW_ERRAND_UNDER_WAY)
        {
          run->errand = NULL;
          g_clear_pointer (&errand->run, run_unref);
        }
      errand->tell (&news, errand->user_data);
    }
  if (!news.taken)
    free_result (run, news.result);
  return G_SOURCE_REMOVE;
}

/* With the lock held. */
static void
post (DewErrandRun *run)
{
  if (run->posted)
    return;
  run->posted = TRUE;
  g_idle_add_full (G_PRIORITY_DEFAULT, deliver, g_atomic_rc_box_acquire (run), run_unref);
}

void
dew_errand_report (DewErrandRun *run, double share, gpointer result)
{
  gpointer replaced = result;

  g_return_if_fail (run != NULL);

  g_mutex_lock (&run->lock);
  run->share = CLAMP (share, 0.0, 1.0);
  if (result != NULL)
    {
      replaced = run->result;
      run->result = result;
    }
  post (run);
  g_mutex_unlock (&run->lock);
  free_result (run, replaced);
}

void
dew_errand_count (int done, int total, gpointer run)
{
  dew_errand_report (run, total > 0 ? (double) done / total : 0.0, NULL);
}

static gpointer
thread (gpointer data)
{
  DewErrandRun *run = data;
  GError *error = NULL;
  gpointer result = run->work (run->input, run, run->cancellable, &error);
  gpointer replaced;

  g_mutex_lock (&run->lock);
  replaced = run->result;
  run->result = result;
  run->error = error;
  run->share = 1.0;
  run->stage = error != NULL ? DEW_ERRAND_FAILED : DEW_ERRAND_DONE;
  post (run);
  g_mutex_unlock (&run->lock);
  free_result (run, replaced);
  run_unref (run);
  return NULL;
}

DewErrand *
dew_errand_new (DewErrandTell tell, gpointer user_data)
{
  DewErrand *errand = g_new0 (DewErrand, 1);

  errand->tell = tell;
  errand->user_data = user_data;
  return errand;
}

void
dew_errand_free (DewErrand *errand)
{
  if (errand == NULL)
    return;
  dew_errand_cancel (errand);
  g_free (errand);
}

void
dew_errand_start (DewErrand *errand, DewErrandWork work, gpointer input, GDestroyNotify free_input,
                  GDestroyNotify free_result_func)
{
  DewErrandRun *run;

  g_return_if_fail (errand != NULL && work != NULL);

  dew_errand_cancel (errand);
  run = g_atomic_rc_box_new0 (DewErrandRun);
  g_mutex_init (&run->lock);
  run->errand = errand;
  run->work = work;
  run->input = input;
  run->free_input = free_input;
  run->free_result = free_result_func;
  run->cancellable = g_cancellable_new ();
  errand->run = run;
  g_thread_unref (g_thread_new ("errand", thread, g_atomic_rc_box_acquire (run)));
}

void
dew_errand_cancel (DewErrand *errand)
{
  g_return_if_fail (errand != NULL);

  if (errand->run == NULL)
    return;
  errand->run->errand = NULL;
  g_cancellable_cancel (errand->run->cancellable);
  g_clear_pointer (&errand->run, run_unref);
}

gboolean
dew_errand_running (DewErrand *errand)
{
  g_return_val_if_fail (errand != NULL, FALSE);
  return errand->run != NULL;
}
