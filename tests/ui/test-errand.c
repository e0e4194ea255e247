/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Long computations beside the window: what is told of them, and that nothing of one
 * that was overtaken is. */
#include "fixture.h"

#include "document/errand.h"

#include <string.h>

typedef struct
{
  GString *told; /* a letter for each piece of news */
  int last;      /* result */
} Log;

typedef struct
{
  int result; /* 0: fail */
  int reports;
  gboolean endless; /* until it is cancelled */
} Task;

static gint tasks_freed, results_freed;

static void
task_free (gpointer task)
{
  g_atomic_int_inc (&tasks_freed);
  g_free (task);
}

static void
number_free (gpointer number)
{
  g_atomic_int_inc (&results_freed);
  g_free (number);
}

static gpointer
number_new (int value)
{
  int *number = g_new (int, 1);

  *number = value;
  return number;
}

static gpointer
run_task (gpointer input, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  const Task *task = input;

  for (int i = 0; i < task->reports; i++)
    dew_errand_report (run, (i + 1.0) / (task->reports + 1.0), number_new (1000 + i));
  while (task->endless && !g_cancellable_set_error_if_cancelled (cancellable, error))
    g_usleep (1000);
  if (task->endless)
    return NULL;
  if (task->result == 0)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_FAILED, "it did not work");
      return NULL;
    }
  return number_new (task->result);
}

static void
on_news (DewErrandNews *news, gpointer data)
{
  Log *log = data;

  g_assert_true (news->share >= 0.0 && news->share <= 1.0);
  if (news->result != NULL)
    log->last = *(int *) news->result;
  switch (news->stage)
    {
    case DEW_ERRAND_UNDER_WAY:
      g_string_append_c (log->told, 'u');
      break;
    case DEW_ERRAND_DONE:
      g_string_append_c (log->told, 'd');
      break;
    case DEW_ERRAND_FAILED:
      g_assert_cmpstr (news->error->message, ==, "it did not work");
      g_string_append_c (log->told, 'f');
      break;
    }
}

static void
start (DewErrand *errand, int result, int reports, gboolean endless)
{
  Task *task = g_new (Task, 1);

  *task = (Task){ result, reports, endless };
  dew_errand_start (errand, run_task, task, task_free, number_free);
}

/* How many tasks, and then results, are gone for good. */
static gboolean
are_freed (int tasks, int results)
{
  return g_atomic_int_get (&tasks_freed) == tasks && g_atomic_int_get (&results_freed) == results;
}

static void
test_errand (void)
{
  Log log = { g_string_new (NULL), 0 };
  DewErrand *errand = dew_errand_new (on_news, &log);

  tasks_freed = results_freed = 0;
  start (errand, 7, 3, FALSE);
  g_assert_true (dew_errand_running (errand));
  WAIT_UNTIL (!dew_errand_running (errand));
  g_assert_cmpint (log.last, ==, 7);
  /* Reports may be replaced by newer ones, but the end is told once, and last. */
  g_assert_cmpint (log.told->str[log.told->len - 1], ==, 'd');
  g_assert_null (memchr (log.told->str, 'd', log.told->len - 1));

  g_string_truncate (log.told, 0);
  start (errand, 0, 0, FALSE);
  WAIT_UNTIL (!dew_errand_running (errand));
  g_assert_cmpstr (log.told->str, ==, "f");

  dew_errand_free (errand);
  WAIT_UNTIL (are_freed (2, 4));
  g_string_free (log.told, TRUE);
}

/* Of those that are overtaken or cancelled nothing is ever told. */
static void
test_errand_newest (void)
{
  Log log = { g_string_new (NULL), 0 };
  DewErrand *errand = dew_errand_new (on_news, &log);

  tasks_freed = results_freed = 0;
  for (int i = 0; i < 20; i++)
    start (errand, 0, 0, TRUE);
  start (errand, 42, 0, FALSE);
  WAIT_UNTIL (!dew_errand_running (errand));
  g_assert_cmpint (log.last, ==, 42);
  g_assert_cmpstr (log.told->str, ==, "d");

  start (errand, 0, 0, TRUE);
  dew_errand_cancel (errand);
  g_assert_false (dew_errand_running (errand));
  WAIT_UNTIL (are_freed (22, 1));
  g_assert_cmpstr (log.told->str, ==, "d");

  /* One that still runs when nobody is left ends by itself. */
  start (errand, 0, 0, TRUE);
  dew_errand_free (errand);
  WAIT_UNTIL (are_freed (23, 1));
  g_assert_cmpstr (log.told->str, ==, "d");
  g_string_free (log.told, TRUE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/errand/told", test_errand);
  g_test_add_func ("/errand/newest", test_errand_newest);
  return g_test_run ();
}
