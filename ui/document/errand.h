/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One long computation beside the window: a search, an optimum, a row of
 * forecasts. It runs in a thread of its own on input that nobody else touches;
 * what it has so far comes back to the main thread. Starting another one
 * cancels the one before, and nothing of an older one ever arrives after that.
 *
 * Thread rule: everything but dew_errand_report() is called from the main
 * thread only, and so is the callback. */

#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct _DewErrand DewErrand;
typedef struct _DewErrandRun DewErrandRun; /* one run of it, as its thread sees it */

/* The work, in its own thread: the result (transfer full), or NULL with error.
 * Ends soon after `cancellable` is cancelled. */
typedef gpointer (*DewErrandWork) (gpointer input, DewErrandRun *run, GCancellable *cancellable,
                                   GError **error);

typedef enum
{
  DEW_ERRAND_UNDER_WAY, /* `share` is new, and `result` where something came with it */
  DEW_ERRAND_DONE,      /* `result` is the answer */
  DEW_ERRAND_FAILED     /* `error` says why; never for a cancelled one */
} DewErrandStage;

/* What the callback is told; lent for the call, but for a result that it takes:
 * it sets `taken` then, and frees it itself. */
typedef struct
{
  DewErrandStage stage;
  double share;    /* done, 0..1 */
  gpointer result; /* so far, or the answer; NULL when nothing is new */
  const GError *error;
  gboolean taken;
} DewErrandNews;

typedef void (*DewErrandTell) (DewErrandNews *news, gpointer user_data);

DewErrand *dew_errand_new (DewErrandTell tell, gpointer user_data);
/* Cancels what runs and forgets the callback. Returns at once; the thread ends
 * by itself. */
void dew_errand_free (DewErrand *errand);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewErrand, dew_errand_free)

/* Starts `work` on `input` (transfer full, freed by free_input when the thread
 * is through with it). free_result frees results and what is reported on the
 * way. */
void dew_errand_start (DewErrand *errand, DewErrandWork work, gpointer input,
                       GDestroyNotify free_input, GDestroyNotify free_result);
/* Nothing more is told of what runs now. */
void dew_errand_cancel (DewErrand *errand);
gboolean dew_errand_running (DewErrand *errand);

/* From the thread: how far it is, and (transfer full, may be NULL) what there
 * is so far. Cheap: reports that the main thread has not got round to are
 * replaced by newer ones. */
void dew_errand_report (DewErrandRun *run, double share, gpointer result);
/* The same for a search that counts: of `total` it has done so many. `run` is a
 * DewErrandRun, so that this can be its callback as it is. */
void dew_errand_count (int done, int total, gpointer run);

G_END_DECLS
