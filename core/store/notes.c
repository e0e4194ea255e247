/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/notes.h"

#include "store/series-private.h"

#include <glib/gi18n.h>
#include <string.h>

static const char *const keys[DEW_N_NOTE_KINDS]
  = { "note", "plant", "change", "water", "refill", "rinse" };

const char *
dew_note_kind_key (DewNoteKind kind)
{
  g_return_val_if_fail (kind < DEW_N_NOTE_KINDS, NULL);
  return keys[kind];
}

static DewNoteKind
kind_of (const char *key)
{
  for (int i = 0; i < DEW_N_NOTE_KINDS; i++)
    if (g_strcmp0 (key, keys[i]) == 0)
      return i;
  return DEW_NOTE_PLAIN;
}

/* --- reading --------------------------------------------------------------------- */

static void
note_clear (gpointer data)
{
  g_clear_pointer (&((DewNote *) data)->text, g_free);
}

GArray *
dew_series_notes (DewSeries *series, GError **error)
{
  DewConnection connection = { series->db, series->path, error };
  g_autoptr (sqlite3_stmt) rows = dew_connection_prepare (
    &connection, "SELECT id, time_s, kind, about, text, (SELECT count (*) FROM photo WHERE "
                 "note_id = note.id) FROM note ORDER BY time_s, id");
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewNote));
  gboolean ok = rows != NULL;

  g_array_set_clear_func (out, note_clear);
  while (dew_connection_next (&connection, rows, &ok))
    {
      DewNote note = { .id = (guint) sqlite3_column_int64 (rows, 0),
                       .time_s = sqlite3_column_int64 (rows, 1),
                       .kind = kind_of ((const char *) sqlite3_column_text (rows, 2)),
                       .text = g_utf8_make_valid ((const char *) sqlite3_column_text (rows, 4), -1),
                       .n_photos = (guint) sqlite3_column_int64 (rows, 5) };
      g_autofree char *about = g_utf8_make_valid ((const char *) sqlite3_column_text (rows, 3), -1);

      g_strlcpy (note.about, about, sizeof note.about);
      g_array_append_val (out, note);
    }
  if (!ok)
    g_clear_pointer (&out, g_array_unref);
  return out;
}

GBytes *
dew_series_photo (DewSeries *series, guint note_id, GError **error)
{
  DewConnection connection = { series->db, series->path, error };
  g_autoptr (sqlite3_stmt) rows
    = dew_connection_prepare (&connection,
                              "SELECT picture FROM photo WHERE note_id = ? ORDER BY id LIMIT 1");
  GBytes *out = NULL;
  gboolean ok = rows != NULL;

  if (!ok)
    return NULL;
  sqlite3_bind_int64 (rows, 1, note_id);
  while (dew_connection_next (&connection, rows, &ok))
    if (out == NULL)
      out = g_bytes_new (sqlite3_column_blob (rows, 0), (gsize) sqlite3_column_bytes (rows, 0));
  return out;
}

gboolean
dew_series_care (DewSeries *series, gint64 every_s[DEW_N_NOTE_KINDS], GError **error)
{
  DewConnection connection = { series->db, series->path, error };
  g_autoptr (sqlite3_stmt) rows
    = dew_connection_prepare (&connection, "SELECT kind, every_s FROM care");
  gboolean ok = rows != NULL;

  for (int i = 0; i < DEW_N_NOTE_KINDS; i++)
    every_s[i] = 0;
  while (dew_connection_next (&connection, rows, &ok))
    every_s[kind_of ((const char *) sqlite3_column_text (rows, 0))]
      = sqlite3_column_int64 (rows, 1);
  return ok;
}

/* --- writing ----------------------------------------------------------------------- */

typedef struct
{
  const DewNote *note;
  const char *photo, *type;
  char *bytes;
  gsize n;
  DewNoteKind kind;
  gint64 every_s;
} Task;

static gboolean
write_photo (const DewConnection *connection, const Task *task, gint64 note_id)
{
  g_autoptr (sqlite3_stmt) statement = dew_connection_prepare (
    connection, "INSERT INTO photo (note_id, name, type, picture) VALUES (?, ?, ?, ?)");
  g_autofree char *base = g_path_get_basename (task->photo);
  g_autofree char *name = g_utf8_make_valid (base, -1);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, note_id);
  dew_connection_bind_text (statement, 2, name);
  dew_connection_bind_text (statement, 3, task->type);
  sqlite3_bind_blob (statement, 4, task->bytes, (int) task->n, SQLITE_STATIC);
  return dew_connection_run (connection, statement);
}

static gboolean
task_note (const DewConnection *connection, gpointer data)
{
  const Task *task = data;
  g_autoptr (sqlite3_stmt) statement = dew_connection_prepare (
    connection, "INSERT INTO note (time_s, kind, about, text) VALUES (?, ?, ?, ?) RETURNING id");
  gboolean ok = statement != NULL;
  gint64 id = 0;

  if (!ok)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, task->note->time_s);
  dew_connection_bind_text (statement, 2, keys[task->note->kind]);
  dew_connection_bind_text (statement, 3, task->note->about);
  dew_connection_bind_text (statement, 4, task->note->text);
  while (dew_connection_next (connection, statement, &ok))
    id = sqlite3_column_int64 (statement, 0);
  return ok && (task->photo == NULL || write_photo (connection, task, id));
}

/* By the first bytes: ISO 10918-1, B.1.1.3 (marker SOI), and the PNG specification, 5.2. */
static gboolean
read_photo (Task *task, GError **error)
{
  if (!g_file_get_contents (task->photo, &task->bytes, &task->n, error))
    return FALSE;
  if (task->n > 3 && memcmp (task->bytes, "\xff\xd8\xff", 3) == 0)
    task->type = "image/jpeg";
  else if (task->n > 8 && memcmp (task->bytes, "\x89PNG\r\n\x1a\n", 8) == 0)
    task->type = "image/png";
  if (task->type != NULL && task->n <= DEW_PHOTO_BYTES_MOST)
    return TRUE;
  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT,
               _ ("%s: is no photograph in JPEG or PNG of up to %d MB; export it as such"),
               task->photo, DEW_PHOTO_BYTES_MOST / 1024 / 1024);
  return FALSE;
}

gboolean
dew_series_note (DewStore *store, const DewNote *note, const char *photo, GError **error)
{
  Task task = { .note = note, .photo = photo };
  gboolean ok = (photo == NULL || read_photo (&task, error))
                && dew_store_run (store, task_note, &task, error);

  g_free (task.bytes);
  return ok;
}

static gboolean
task_care (const DewConnection *connection, gpointer data)
{
  const Task *task = data;
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection,
                              task->every_s > 0
                                ? "INSERT OR REPLACE INTO care (every_s, kind) VALUES (?, ?)"
                                : "DELETE FROM care WHERE ? = 0 AND kind = ?");

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, task->every_s);
  dew_connection_bind_text (statement, 2, keys[task->kind]);
  return dew_connection_run (connection, statement);
}

gboolean
dew_series_set_care (DewStore *store, DewNoteKind kind, gint64 every_s, GError **error)
{
  Task task = { .kind = kind, .every_s = every_s };

  return dew_store_run (store, task_care, &task, error);
}
