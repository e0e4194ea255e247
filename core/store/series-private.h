/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "store/series.h"
#include "store/task.h"

G_BEGIN_DECLS

struct _DewSeries
{
  char *path;
  DewSnapshot snapshot; /* the bytes that `found` reads from */
  DewFileFound found;
  sqlite3 *db; /* of `found` */
};

/* A logger from a row of `SELECT` DEW_LOGGER_COLUMNS. */
#define DEW_LOGGER_COLUMNS \
  "id, name, place, t_error_K, rh_error, lag_s, t_offset_K, rh_offset, " \
  "(SELECT coalesce (sum (count), 0) FROM reading_day WHERE logger_id = logger.id), " \
  "(SELECT coalesce (min (day), 0) FROM reading_day WHERE logger_id = logger.id), " \
  "(SELECT coalesce (max (day), 0) FROM reading_day WHERE logger_id = logger.id)"

const char *dew_logger_place_key (DewLoggerPlace place);

/* Appends the readings of one day to `out`. */
gboolean dew_connection_read_day (const DewConnection *connection, guint logger_id, gint64 day,
                                  GArray *out);

G_END_DECLS
