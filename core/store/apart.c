/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/series-private.h"

#include <glib/gi18n.h>

/* Tables beside the document, those that others refer to first. */
static const char *const tables[]
  = { "logger", "reading_source", "reading_day", "note", "photo", "care", "calibration" };

/* Binds every column of a row as it is. */
static void
bind_row (sqlite3_stmt *insert, sqlite3_stmt *row)
{
  for (int i = 0; i < sqlite3_column_count (row); i++)
    sqlite3_bind_value (insert, i + 1, sqlite3_column_value (row, i));
}

static sqlite3_stmt *
prepare_copy (const DewConnection *to, const char *table, int columns)
{
  g_autoptr (GString) sql = g_string_new (NULL);

  g_string_printf (sql, "INSERT INTO %s VALUES (?", table);
  for (int i = 1; i < columns; i++)
    g_string_append (sql, ", ?");
  g_string_append_c (sql, ')');
  return dew_connection_prepare (to, sql->str);
}

static gboolean
copy_table (const DewConnection *to, const DewConnection *from, const char *table)
{
  g_autofree char *sql = g_strdup_printf ("SELECT * FROM %s ORDER BY rowid", table);
  g_autoptr (sqlite3_stmt) rows = dew_connection_prepare (from, sql);
  g_autoptr (sqlite3_stmt) insert
    = rows != NULL ? prepare_copy (to, table, sqlite3_column_count (rows)) : NULL;
  gboolean ok = insert != NULL;

  while (dew_connection_next (from, rows, &ok))
    {
      bind_row (insert, rows);
      ok = dew_connection_run (to, insert);
    }
  return ok;
}

gboolean
dew_connection_copy_apart (const DewConnection *connection, const char *path)
{
  g_autoptr (DewSeries) series = dew_series_open (path, connection->error);
  DewConnection from = { series != NULL ? series->db : NULL, path, connection->error };
  gboolean ok = series != NULL;

  for (guint i = 0; i < G_N_ELEMENTS (tables) && ok; i++)
    ok = copy_table (connection, &from, tables[i]);
  return ok;
}

void
dew_connection_rescue_apart (const DewConnection *to, sqlite3 *damaged, GPtrArray *losses)
{
  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autoptr (GError) error = NULL;
      DewConnection into = { to->db, to->path, &error }, from = { damaged, to->path, &error };

      if (!copy_table (&into, &from, tables[i]))
        g_ptr_array_add (losses,
                         /* Translators: a table of readings, notes or photographs, and why */
                         g_strdup_printf (_ ("Of the table \"%s\" only the first rows could be "
                                             "read, if any (%s)"),
                                          tables[i], error->message));
    }
}
