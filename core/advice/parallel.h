/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Many independent jobs on all processors. */

#include <gio/gio.h>

G_BEGIN_DECLS

/* Does job `job` with what belongs to thread `thread` (0 ..). */
typedef void (*DewJob) (int job, int thread, gpointer data);
/* In the thread that called dew_parallel_run(), now and then, and once at the end. */
typedef void (*DewJobsDone) (int done, gpointer data);

/* How many threads `wanted` (0: as many as there are processors) makes for n jobs. */
int dew_parallel_threads (int wanted, int n);

/* Does jobs 0 .. n - 1, each once, and returns when all are done or the cancellable is
 * cancelled (then FALSE with error; jobs that run are waited for). done may be NULL. */
gboolean dew_parallel_run (int n, int threads, DewJob job, DewJobsDone done, gpointer data,
                           GCancellable *cancellable, GError **error);

G_END_DECLS
