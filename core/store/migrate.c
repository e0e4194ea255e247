/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/file-rows.h"

#include "store/store.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#define COPIES_MAX 1000

/* Documents of older forms. Form 1 had no wishes, no own kinds, no state and pot
 * of plants, and kept every undo step as a whole document. Form 2 had no kind of leaf
 * of an own kind of plant. Form 3 had no readings and no journal, and its steps no time. */

/* --- the steps of form 1 ----------------------------------------------- */

/* What form 1 had in undo_step: the documents, in order. */
typedef struct
{
  GPtrArray *documents; /* DewChamber */
  GPtrArray *labels;    /* char * */
  int present;          /* index, -1 for none */
} OldSteps;

static void
old_steps_clear (OldSteps *old)
{
  g_clear_pointer (&old->documents, g_ptr_array_unref);
  g_clear_pointer (&old->labels, g_ptr_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OldSteps, old_steps_clear)

static gboolean
old_step_add (const DewConnection *connection, sqlite3_stmt *statement, OldSteps *old)
{
  const char *label = (const char *) sqlite3_column_text (statement, 1);
  const char *document = (const char *) sqlite3_column_text (statement, 2);
  g_autoptr (GError) inner = NULL;
  DewChamber *chamber;

  if (label == NULL || document == NULL || !g_utf8_validate (label, -1, NULL))
    return dew_connection_wrong (connection, "undo_step", _ ("a step without words or document"));
  chamber = dew_json_to_chamber (document, -1, &inner);
  if (chamber == NULL)
    return dew_connection_wrong (connection, "undo_step", inner->message);
  if (sqlite3_column_int (statement, 3))
    old->present = (int) old->documents->len;
  g_ptr_array_add (old->documents, chamber);
  g_ptr_array_add (old->labels, g_strdup (label));
  return TRUE;
}

static gboolean
old_steps_read (const DewConnection *connection, OldSteps *old)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection,
                              "SELECT number, label, document, "
                              "number = (SELECT coalesce (undo_present, -1) FROM enclosure) "
                              "FROM undo_step ORDER BY number");
  gboolean ok = statement != NULL;

  old->documents = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_chamber_free);
  old->labels = g_ptr_array_new_with_free_func (g_free);
  old->present = -1;
  while (dew_connection_next (connection, statement, &ok))
    ok = old_step_add (connection, statement, old);
  return ok;
}

/* The same list in today's form. The tables are the truth about the present. */
static DewHistory *
old_steps_history (const OldSteps *old, const DewChamber *present)
{
  DewHistory *history;
  guint index = 0;

  if (old->present < 0)
    return dew_history_new (present);

  history = dew_history_new (g_ptr_array_index (old->documents, 0));
  for (int i = 1; i < (int) old->documents->len; i++)
    {
      dew_history_push (history, g_ptr_array_index (old->documents, i),
                        g_ptr_array_index (old->labels, i), NULL, NULL);
      if (i == old->present)
        index = dew_history_index (history);
    }
  while (dew_history_index (history) > index && dew_history_undo (history) != NULL)
    ;
  if (!dew_chamber_equal (dew_history_present (history), present))
    dew_history_amend (history, present);
  return history;
}

/* --- from form to form ------------------------------------------------- */

static gboolean
run_resource (const DewConnection *connection, const char *resource)
{
  g_autoptr (GBytes) bytes
    = g_resources_lookup_data (resource, G_RESOURCE_LOOKUP_FLAGS_NONE, connection->error);
  g_autofree char *sql = NULL;

  if (bytes == NULL)
    return FALSE;
  sql = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  return dew_connection_execute (connection, sql, _ ("could not be written"));
}

/* As reading the JSON of form 2 does, so that tables and undo steps agree. */
static gboolean
guess_leaves (const DewConnection *connection)
{
  const DewField *field = dew_field_find (dew_plant_kind_fields (), "leaf");
  g_autoptr (sqlite3_stmt) kinds
    = dew_connection_prepare (connection, "SELECT position, name, \"group\" "
                                          "FROM plant_kind");
  g_autoptr (sqlite3_stmt) update
    = dew_connection_prepare (connection, "UPDATE plant_kind SET leaf = ? WHERE position = ?");
  gboolean ok = kinds != NULL && update != NULL;

  while (dew_connection_next (connection, kinds, &ok))
    {
      const char *name = (const char *) sqlite3_column_text (kinds, 1);
      const char *group = (const char *) sqlite3_column_text (kinds, 2);

      ok = g_utf8_validate (name, -1, NULL) && g_utf8_validate (group, -1, NULL);
      if (!ok)
        dew_connection_wrong (connection, "plant_kind", _ ("a text is too long or missing"));
      else
        {
          dew_connection_bind_text (update, 1,
                                    field->choices[dew_catalogue_leaf_guess (name, group)]);
          sqlite3_bind_int64 (update, 2, sqlite3_column_int64 (kinds, 0));
          ok = dew_connection_run (connection, update);
        }
    }
  return ok;
}

static gboolean
write_old_steps (const DewConnection *connection, const OldSteps *old)
{
  g_autoptr (DewChamber) present = NULL;
  g_autoptr (DewHistory) history = NULL;
  g_autofree char *sql = NULL;
  gint64 undo_present = -1;

  present = dew_connection_read_chamber (connection, &undo_present);
  if (present == NULL)
    return FALSE;
  history = old_steps_history (old, present);
  sql = g_strdup_printf ("UPDATE enclosure SET undo_present = %u", dew_history_index (history));
  return dew_connection_write_steps (connection, history, NULL)
         && dew_connection_execute (connection, sql, _ ("could not be written"));
}

/* Rows are read in today's form, so the tables change first. */
static gboolean
bring_up (const DewConnection *connection, int from)
{
  g_auto (OldSteps) old = { NULL };

  if (from < 2
      && (!old_steps_read (connection, &old)
          || !run_resource (connection, "/dewtier/data/schema-1-to-2.sql")))
    return FALSE;
  if (from < 3
      && (!run_resource (connection, "/dewtier/data/schema-2-to-3.sql")
          || !guess_leaves (connection)))
    return FALSE;
  return run_resource (connection, "/dewtier/data/schema-3-to-4.sql")
         && (from >= 2 || write_old_steps (connection, &old));
}

gboolean
dew_file_update_tables (sqlite3 *db, const char *path, int from, int to, GError **error)
{
  DewConnection connection = { db, path, error };
  gboolean ok = TRUE;

  for (; ok && from < to; from++)
    {
      g_autofree char *resource
        = g_strdup_printf ("/dewtier/data/schema-%d-to-%d.sql", from, from + 1);

      ok = run_resource (&connection, resource);
    }
  return ok;
}

gboolean
dew_file_update (sqlite3 *db, const char *path, int form, GError **error)
{
  DewConnection connection = { db, path, error };
  gboolean alone = sqlite3_get_autocommit (db) != 0;

  if (form == DEW_FILE_VERSION)
    return TRUE;
  if (alone && !dew_connection_execute (&connection, "BEGIN IMMEDIATE", _ ("could not be written")))
    return FALSE;
  if (bring_up (&connection, form)
      && (!alone || dew_connection_execute (&connection, "COMMIT", _ ("could not be written"))))
    return TRUE;
  sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
  return FALSE;
}

/* --- copies ------------------------------------------------------------ */

/* "a.dewtier" becomes "a.form-1.dewtier", the second time "a.form-1-2.dewtier". */
static char *
copy_name (const char *path, int form, int number)
{
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  g_autofree char *more = number > 1 ? g_strdup_printf ("-%d", number) : g_strdup ("");
  gsize length = strlen (absolute);

  if (g_str_has_suffix (absolute, DEW_STORE_SUFFIX))
    absolute[length - strlen (DEW_STORE_SUFFIX)] = '\0';
  return g_strdup_printf ("%s.form-%d%s%s", absolute, form, more, DEW_STORE_SUFFIX);
}

static gboolean
write_all (int fd, const guint8 *bytes, gsize n)
{
  while (n > 0)
    {
      gssize written = write (fd, bytes, n);

      if (written < 0 && errno == EINTR)
        continue;
      if (written <= 0)
        return FALSE;
      bytes += written;
      n -= (gsize) written;
    }
  return fsync (fd) == 0;
}

char *
dew_file_keep_copy (const char *path, const DewSnapshot *snapshot, int form, GError **error)
{
  g_autofree char *name = NULL;
  GStatBuf info;
  int fd = -1, mode = g_stat (path, &info) == 0 ? (int) (info.st_mode & 0777) : 0600;
  gboolean ok;

  /* What has the name already, be it a link that leads nowhere, keeps it. */
  for (int number = 1; fd < 0 && number <= COPIES_MAX; number++)
    {
      g_free (name);
      name = copy_name (path, form, number);
      fd = g_open (name, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, mode);
      if (fd < 0 && errno != EEXIST)
        break;
    }
  ok = fd >= 0 && write_all (fd, snapshot->bytes->data, snapshot->bytes->len);
  if (!ok)
    g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO,
                 _ ("%s: no copy could be made before the file was to be brought up to date (%s); "
                    "make room in its folder, or open a copy elsewhere"),
                 path, g_strerror (errno));
  if (fd >= 0)
    g_close (fd, NULL);
  if (ok)
    return g_steal_pointer (&name);
  if (fd >= 0)
    g_unlink (name);
  return NULL;
}
