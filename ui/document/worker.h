/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Forecasts beside the window: one thread, one slot. A newer request replaces
 * one that still waits, and cancels one that is being worked on unless that is
 * a short step of following. Nothing here ever makes the main thread wait.
 *
 * Thread rule: every function below is called from the main thread only, and
 * so is the callback. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef struct _DewWorker DewWorker;

typedef enum
{
  DEW_WORK_FOLLOW, /* something is being dragged: a step at a time, as it moves */
  DEW_WORK_SETTLE  /* it rests: to the end */
} DewWork;

/* One answer. `forecast` (lent, or NULL with `error`) belongs to the request
 * with that serial; older serials never arrive after newer ones. `more` says
 * that the same request will report again. */
typedef void (*DewWorkerAnswer) (guint serial, DewForecast *forecast, const GError *error,
                                 gboolean more, gpointer user_data);

DewWorker *dew_worker_new (DewWorkerAnswer answer, gpointer user_data);

/* Cancels what runs and forgets the callback. Returns at once; the thread ends
 * by itself. */
void dew_worker_free (DewWorker *worker);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewWorker, dew_worker_free)

/* Asks for the shown variant of `chamber`, by day or night; it has passed
 * dew_chamber_check(), and is kept (see dew_chamber_keep()). `fresh`: there is no picture
 * of it yet, so settling begins with a draft. Returns the serial of the request, 1 and up. */
guint dew_worker_ask (DewWorker *worker, DewWork work, const DewChamber *chamber, gboolean night,
                      gboolean fresh);

G_END_DECLS
