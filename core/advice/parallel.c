/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/parallel.h"

#define TELL_EVERY_US 100000

typedef struct
{
  int n;
  gint next; /* atomic */
  DewJob job;
  gpointer data;
  GCancellable *cancellable;
  GAsyncQueue *ended;
} Jobs;

typedef struct
{
  Jobs *jobs;
  int thread;
} Hand;

static void
work (gpointer data, gpointer user_data)
{
  Hand *hand = data;
  Jobs *jobs = hand->jobs;

  for (;;)
    {
      int job = g_atomic_int_add (&jobs->next, 1);

      if (job >= jobs->n || g_cancellable_is_cancelled (jobs->cancellable))
        break;
      jobs->job (job, hand->thread, jobs->data);
      g_async_queue_push (jobs->ended, GINT_TO_POINTER (1));
    }
  g_async_queue_push (jobs->ended, GINT_TO_POINTER (2)); /* this hand is done */
}

int
dew_parallel_threads (int wanted, int n)
{
  return CLAMP (wanted > 0 ? wanted : (int) g_get_num_processors (), 1, MAX (1, n));
}

gboolean
dew_parallel_run (int n, int threads, DewJob job, DewJobsDone done, gpointer data,
                  GCancellable *cancellable, GError **error)
{
  Jobs jobs = { n, 0, job, data, cancellable, NULL };
  int hands = dew_parallel_threads (threads, n), ended = 0;
  g_autofree Hand *hand = g_new0 (Hand, hands);
  GThreadPool *pool = g_thread_pool_new (work, NULL, hands, TRUE, NULL);
  gint64 told = g_get_monotonic_time ();

  jobs.ended = g_async_queue_new ();
  for (int h = 0; h < hands; h++)
    {
      hand[h] = (Hand){ &jobs, h };
      g_thread_pool_push (pool, &hand[h], NULL);
    }
  for (int left = hands; left > 0;)
    {
      if (GPOINTER_TO_INT (g_async_queue_pop (jobs.ended)) == 2)
        left--;
      else
        ended++;
      if (done != NULL && g_get_monotonic_time () - told >= TELL_EVERY_US)
        {
          done (ended, data);
          told = g_get_monotonic_time ();
        }
    }
  g_thread_pool_free (pool, FALSE, TRUE);
  g_async_queue_unref (jobs.ended);
  if (done != NULL)
    done (ended, data);
  return !g_cancellable_set_error_if_cancelled (cancellable, error);
}
