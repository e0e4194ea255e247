/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the page of readings has worked out beside the window. */

#include "calibrate/against.h"
#include "calibrate/calibrate.h"
#include "document/errand.h"
#include "say/units.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_READINGS_AGAINST,
  DEW_READINGS_CALIBRATE,
  DEW_READINGS_WHERE
} DewReadingsTask;

typedef struct
{
  DewReadingsTask task;
  DewChamber *chamber; /* owned */
  char *path;          /* owned */
  gint64 from_s, to_s;
  DewTongue tongue;
} DewReadingsInput;

typedef struct
{
  DewReadingsTask task;
  char *words;
  DewAgainstAll *against;
  DewCalibration *calibration;
} DewReadingsResult;

gpointer dew_readings_work (gpointer input, DewErrandRun *run, GCancellable *cancellable,
                            GError **error);
void dew_readings_input_free (gpointer input);
void dew_readings_result_free (gpointer result);

G_END_DECLS
