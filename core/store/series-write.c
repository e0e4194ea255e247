/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/series-private.h"

#include <glib/gi18n.h>

/* --- days ------------------------------------------------------------------------- */

static gboolean
write_day (const DewConnection *connection, guint logger_id, gint64 day, const DewReading *readings,
           guint n)
{
  g_autoptr (sqlite3_stmt) statement = dew_connection_prepare (
    connection, "INSERT OR REPLACE INTO reading_day (logger_id, day, count, readings, summary) "
                "VALUES (?, ?, ?, ?, ?)");
  g_autoptr (GByteArray) packed = dew_day_pack (readings, n, day);
  g_autoptr (GByteArray) summary = NULL;
  DewQuarter quarters[DEW_QUARTERS];

  if (statement == NULL)
    return FALSE;
  dew_day_quarters (readings, n, day, quarters);
  summary = dew_quarters_pack (quarters);
  sqlite3_bind_int64 (statement, 1, logger_id);
  sqlite3_bind_int64 (statement, 2, day);
  sqlite3_bind_int64 (statement, 3, n);
  sqlite3_bind_blob (statement, 4, packed->data, (int) packed->len, SQLITE_STATIC);
  sqlite3_bind_blob (statement, 5, summary->data, (int) summary->len, SQLITE_STATIC);
  return dew_connection_run (connection, statement);
}

/* The readings of the days first..last, by day. */
static gboolean
write_days (const DewConnection *connection, guint logger_id, const GArray *all)
{
  const DewReading *r = (const DewReading *) all->data;

  for (guint first = 0, end; first < all->len; first = end)
    {
      gint64 day = dew_reading_day (r[first].time_s);

      for (end = first; end < all->len && dew_reading_day (r[end].time_s) == day;)
        end++;
      if (!write_day (connection, logger_id, day, r + first, end - first))
        return FALSE;
    }
  return TRUE;
}

/* What the document has of the days from the one before `first` to the one after `last`: marks of
 * a day hang on its neighbours. */
static gboolean
read_days (const DewConnection *connection, guint logger_id, gint64 first, gint64 last, GArray *out)
{
  gboolean ok = TRUE;

  for (gint64 day = first - 1; day <= last + 1 && ok; day++)
    ok = dew_connection_read_day (connection, logger_id, day, out);
  return ok;
}

/* --- rows of loggers and sources ---------------------------------------------------- */

static gboolean
write_logger (const DewConnection *connection, DewLogger *logger)
{
  g_autoptr (sqlite3_stmt) statement = dew_connection_prepare (
    connection,
    "INSERT INTO logger (name, place, t_error_K, rh_error, lag_s, t_offset_K, rh_offset) "
    "VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (name) DO UPDATE SET place = excluded.place, "
    "t_error_K = excluded.t_error_K, rh_error = excluded.rh_error, lag_s = excluded.lag_s, "
    "t_offset_K = excluded.t_offset_K, rh_offset = excluded.rh_offset RETURNING id");
  gboolean ok = statement != NULL;

  if (!ok)
    return FALSE;
  dew_connection_bind_text (statement, 1, logger->name);
  dew_connection_bind_text (statement, 2, dew_logger_place_key (logger->place));
  sqlite3_bind_double (statement, 3, logger->t_error_K);
  sqlite3_bind_double (statement, 4, logger->rh_error);
  sqlite3_bind_double (statement, 5, logger->lag_s);
  sqlite3_bind_double (statement, 6, logger->t_offset_K);
  sqlite3_bind_double (statement, 7, logger->rh_offset);
  while (dew_connection_next (connection, statement, &ok))
    logger->id = (guint) sqlite3_column_int64 (statement, 0);
  return ok;
}

static gboolean
write_source (const DewConnection *connection, const char *name, const char *settings, guint *id)
{
  g_autoptr (sqlite3_stmt) statement = dew_connection_prepare (
    connection, "INSERT INTO reading_source (name, settings, made_s) VALUES (?, ?, ?) "
                "RETURNING id");
  gboolean ok = statement != NULL;

  if (!ok)
    return FALSE;
  dew_connection_bind_text (statement, 1, name);
  dew_connection_bind_text (statement, 2, settings);
  sqlite3_bind_int64 (statement, 3, g_get_real_time () / G_USEC_PER_SEC);
  while (dew_connection_next (connection, statement, &ok))
    *id = (guint) sqlite3_column_int64 (statement, 0);
  return ok;
}

/* --- tasks of the store's worker ------------------------------------------------------ */

typedef struct
{
  DewLogger *logger;
  const GArray *readings;
  const char *source, *settings;
  DewMerge *merge;
  gint64 from_s, to_s;
  DewMark mark;
  guint *n;
} Task;

static gboolean
task_set_logger (const DewConnection *connection, gpointer data)
{
  Task *task = data;

  return write_logger (connection, task->logger);
}

gboolean
dew_series_set_logger (DewStore *store, DewLogger *logger, GError **error)
{
  Task task = { .logger = logger };

  return dew_store_run (store, task_set_logger, &task, error);
}

/* `fresh` are the new readings of a run of days without a hole of more than a day. */
static gboolean
add_run (const DewConnection *connection, guint logger_id, const GArray *fresh, DewMerge *merge)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (DewReading));
  gint64 first = dew_reading_day (g_array_index (fresh, DewReading, 0).time_s);
  gint64 last = dew_reading_day (g_array_index (fresh, DewReading, fresh->len - 1).time_s);

  if (!read_days (connection, logger_id, first, last, all))
    return FALSE;
  dew_readings_merge (all, fresh, merge);
  dew_readings_mark (all);
  return write_days (connection, logger_id, all);
}

static gboolean
task_add (const DewConnection *connection, gpointer data)
{
  Task *task = data;
  const DewReading *r = (const DewReading *) task->readings->data;
  guint source = 0;

  if (!write_logger (connection, task->logger)
      || !write_source (connection, task->source, task->settings, &source))
    return FALSE;
  for (guint first = 0, end; first < task->readings->len; first = end)
    {
      g_autoptr (GArray) run = g_array_new (FALSE, FALSE, sizeof (DewReading));

      for (end = first; end < task->readings->len
                        && (end == first || r[end].time_s - r[end - 1].time_s < 2 * DEW_DAY_S);
           end++)
        {
          DewReading reading = r[end];

          reading.source = (guint16) source;
          g_array_append_val (run, reading);
        }
      if (!add_run (connection, task->logger->id, run, task->merge))
        return FALSE;
    }
  return TRUE;
}

gboolean
dew_series_add (DewStore *store, DewLogger *logger, const GArray *readings, const char *source,
                const char *settings, DewMerge *merge, GError **error)
{
  Task task = {
    .logger = logger, .readings = readings, .source = source, .settings = settings, .merge = merge
  };

  *merge = (DewMerge){ 0 };
  return dew_store_run (store, task_add, &task, error);
}

static gboolean
task_mark (const DewConnection *connection, gpointer data)
{
  Task *task = data;

  *task->n = 0;
  for (gint64 day = dew_reading_day (task->from_s); day <= dew_reading_day (task->to_s); day++)
    {
      g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (DewReading));
      guint before = *task->n;

      if (!dew_connection_read_day (connection, task->logger->id, day, all))
        return FALSE;
      for (guint i = 0; i < all->len; i++)
        {
          DewReading *r = &g_array_index (all, DewReading, i);

          if (r->time_s < task->from_s || r->time_s >= task->to_s)
            continue;
          r->marks &= (guint16) ~(DEW_MARK_DOUBTED | DEW_MARK_TRUSTED);
          r->marks |= (guint16) task->mark;
          (*task->n)++;
        }
      if (*task->n > before && !write_days (connection, task->logger->id, all))
        return FALSE;
    }
  return TRUE;
}

gboolean
dew_series_mark (DewStore *store, const DewLogger *logger, gint64 from_s, gint64 to_s, DewMark mark,
                 guint *n, GError **error)
{
  DewLogger own = *logger;
  Task task = { .logger = &own, .from_s = from_s, .to_s = to_s, .mark = mark, .n = n };

  return dew_store_run (store, task_mark, &task, error);
}

static gboolean
task_keep (const DewConnection *connection, gpointer data)
{
  Task *task = data;
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection,
                              "INSERT INTO calibration (made_s, kind, report) VALUES (?, ?, ?)");

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, g_get_real_time () / G_USEC_PER_SEC);
  dew_connection_bind_text (statement, 2, task->source);
  dew_connection_bind_text (statement, 3, task->settings);
  return dew_connection_run (connection, statement);
}

gboolean
dew_series_keep (DewStore *store, const char *kind, const char *report, GError **error)
{
  Task task = { .source = kind, .settings = report };

  return dew_store_run (store, task_keep, &task, error);
}
