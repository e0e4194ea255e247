/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/series-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* What cheap thermometers and hygrometers with a display are sold as: +-1 K and +-5 points; the
 * better half of them is within 0.5 K and 4 points. Lag in still air: some minutes for a sensor
 * behind slots. Common practice, no source. */
#define USUAL_T_ERROR_K 0.5
#define USUAL_RH_ERROR 0.04
#define USUAL_LAG_S 300.0

void
dew_logger_init (DewLogger *logger, const char *name)
{
  *logger
    = (DewLogger){ .t_error_K = USUAL_T_ERROR_K, .rh_error = USUAL_RH_ERROR, .lag_s = USUAL_LAG_S };
  g_strlcpy (logger->name, name, sizeof logger->name);
}

const char *
dew_logger_place_key (DewLoggerPlace place)
{
  return place == DEW_LOGGER_ROOM ? "room" : "inside";
}

DewSeries *
dew_series_open (const char *path, GError **error)
{
  DewSeries *series = g_new0 (DewSeries, 1);

  series->path = g_strdup (path);
  if (dew_snapshot_take (path, &series->snapshot, error)
      && dew_file_find (path, &series->snapshot, &series->found, error))
    {
      series->db = series->found.db;
      /* The file has been found sound; charts may ask as long as they like. */
      sqlite3_progress_handler (series->db, 0, NULL, NULL);
      return series;
    }
  dew_series_close (series);
  return NULL;
}

void
dew_series_close (DewSeries *series)
{
  if (series == NULL)
    return;
  dew_file_found_clear (&series->found);
  dew_snapshot_clear (&series->snapshot);
  g_free (series->path);
  g_free (series);
}

const DewHistory *
dew_series_history (const DewSeries *series)
{
  return series->found.history;
}

static void
read_logger (sqlite3_stmt *row, DewLogger *out)
{
  *out = (DewLogger){ .id = (guint) sqlite3_column_int64 (row, 0),
                      .place = strcmp ((const char *) sqlite3_column_text (row, 2), "room") == 0
                                 ? DEW_LOGGER_ROOM
                                 : DEW_LOGGER_INSIDE,
                      .t_error_K = sqlite3_column_double (row, 3),
                      .rh_error = sqlite3_column_double (row, 4),
                      .lag_s = sqlite3_column_double (row, 5),
                      .t_offset_K = sqlite3_column_double (row, 6),
                      .rh_offset = sqlite3_column_double (row, 7),
                      .n = (guint) sqlite3_column_int64 (row, 8),
                      .first_day = sqlite3_column_int64 (row, 9),
                      .last_day = sqlite3_column_int64 (row, 10) };
  g_strlcpy (out->name, (const char *) sqlite3_column_text (row, 1), sizeof out->name);
}

GArray *
dew_series_loggers (DewSeries *series, GError **error)
{
  DewConnection connection = { series->db, series->path, error };
  g_autoptr (sqlite3_stmt) rows
    = dew_connection_prepare (&connection, "SELECT " DEW_LOGGER_COLUMNS " FROM logger ORDER BY id");
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewLogger));
  gboolean ok = rows != NULL;

  while (dew_connection_next (&connection, rows, &ok))
    {
      DewLogger logger;

      read_logger (rows, &logger);
      if (!g_utf8_validate (logger.name, -1, NULL))
        ok = dew_connection_wrong (&connection, "logger", _ ("a text is too long or missing"));
      else
        g_array_append_val (out, logger);
    }
  if (!ok)
    g_clear_pointer (&out, g_array_unref);
  return out;
}

gboolean
dew_series_logger (DewSeries *series, const char *name, DewLogger *out, GError **error)
{
  g_autoptr (GArray) loggers = dew_series_loggers (series, error);
  g_autoptr (GString) known = g_string_new (NULL);

  if (loggers == NULL)
    return FALSE;
  for (guint i = 0; i < loggers->len; i++)
    {
      const DewLogger *logger = &g_array_index (loggers, DewLogger, i);

      if (strcmp (logger->name, name) == 0)
        {
          *out = *logger;
          return TRUE;
        }
      g_string_append_printf (known, "%s\"%s\"", i > 0 ? ", " : "", logger->name);
    }
  if (known->len == 0)
    g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT,
                 _ ("%s: there are no readings in it yet; import some"), series->path);
  else
    g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT,
                 _ ("%s: there are no readings of \"%s\"; there are those of %s"), series->path,
                 name, known->str);
  return FALSE;
}

/* --- days ----------------------------------------------------------------------- */

static gboolean
unpack_row (const DewConnection *connection, sqlite3_stmt *row, gint64 day, GArray *out)
{
  if (dew_day_unpack (sqlite3_column_blob (row, 0), (gsize) sqlite3_column_bytes (row, 0), day,
                      out))
    return TRUE;
  return dew_connection_wrong (connection, "reading_day", _ ("the readings of a day are damaged"));
}

gboolean
dew_connection_read_day (const DewConnection *connection, guint logger_id, gint64 day, GArray *out)
{
  g_autoptr (sqlite3_stmt) rows
    = dew_connection_prepare (connection,
                              "SELECT readings FROM reading_day WHERE logger_id = ? AND day = ?");
  gboolean ok = rows != NULL;

  if (!ok)
    return FALSE;
  sqlite3_bind_int64 (rows, 1, logger_id);
  sqlite3_bind_int64 (rows, 2, day);
  while (dew_connection_next (connection, rows, &ok))
    ok = unpack_row (connection, rows, day, out);
  return ok;
}

static sqlite3_stmt *
select_days (const DewConnection *connection, const char *column, const DewLogger *logger,
             gint64 first_day, gint64 last_day)
{
  g_autofree char *sql
    = g_strdup_printf ("SELECT %s, day FROM reading_day WHERE logger_id = ? AND day "
                       "BETWEEN ? AND ? ORDER BY day",
                       column);
  sqlite3_stmt *rows = dew_connection_prepare (connection, sql);

  if (rows != NULL)
    {
      sqlite3_bind_int64 (rows, 1, logger->id);
      sqlite3_bind_int64 (rows, 2, first_day);
      sqlite3_bind_int64 (rows, 3, last_day);
    }
  return rows;
}

static void
keep_between (GArray *readings, gint64 from_s, gint64 to_s)
{
  guint first = 0, end = readings->len;

  while (first < end && g_array_index (readings, DewReading, first).time_s < from_s)
    first++;
  while (end > first && g_array_index (readings, DewReading, end - 1).time_s >= to_s)
    end--;
  g_array_set_size (readings, end);
  if (first > 0)
    g_array_remove_range (readings, 0, first);
}

GArray *
dew_series_readings (DewSeries *series, const DewLogger *logger, gint64 from_s, gint64 to_s,
                     gboolean corrected, GError **error)
{
  DewConnection connection = { series->db, series->path, error };
  g_autoptr (sqlite3_stmt) rows = select_days (&connection, "readings", logger,
                                               dew_reading_day (from_s), dew_reading_day (to_s));
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewReading));
  gboolean ok = rows != NULL;

  while (dew_connection_next (&connection, rows, &ok))
    ok = unpack_row (&connection, rows, sqlite3_column_int64 (rows, 1), out);
  if (!ok)
    {
      g_array_unref (out);
      return NULL;
    }
  keep_between (out, from_s, to_s);
  for (guint i = 0; i < out->len && corrected; i++)
    {
      DewReading *r = &g_array_index (out, DewReading, i);

      r->t_C += (float) logger->t_offset_K;
      r->rh += (float) logger->rh_offset;
    }
  return out;
}

GArray *
dew_series_quarters (DewSeries *series, const DewLogger *logger, gint64 first_day, gint64 last_day,
                     GError **error)
{
  DewConnection connection = { series->db, series->path, error };
  g_autoptr (sqlite3_stmt) rows = select_days (&connection, "summary", logger, first_day, last_day);
  guint n = last_day >= first_day ? (guint) (last_day - first_day + 1) * DEW_QUARTERS : 0;
  GArray *out = g_array_sized_new (FALSE, FALSE, sizeof (DewQuarter), n);
  gboolean ok = rows != NULL;

  g_array_set_size (out, n);
  for (guint i = 0; i < n; i++)
    g_array_index (out, DewQuarter, i) = (DewQuarter){ { NAN, NAN, NAN }, { NAN, NAN, NAN } };
  while (dew_connection_next (&connection, rows, &ok))
    {
      guint at = (guint) (sqlite3_column_int64 (rows, 1) - first_day) * DEW_QUARTERS;

      if (!dew_quarters_unpack (sqlite3_column_blob (rows, 0),
                                (gsize) sqlite3_column_bytes (rows, 0),
                                &g_array_index (out, DewQuarter, at)))
        ok = dew_connection_wrong (&connection, "reading_day",
                                   _ ("the readings of a day are damaged"));
    }
  if (!ok)
    g_clear_pointer (&out, g_array_unref);
  return out;
}
