/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/file.h"

#include "store/store.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#define HEADER_BYTES 100
#define BUSY_MS 3000

void
dew_file_steps_clear (DewFileSteps *steps)
{
  g_clear_pointer (&steps->history, dew_history_free);
  steps->data_version = 0;
}

gboolean
dew_file_fail (sqlite3 *db, const char *path, const char *what, GError **error)
{
  int code = sqlite3_errcode (db) & 0xff;
  DewStoreError kind = DEW_STORE_ERROR_IO;
  const char *remedy = _ ("look at the disk and try again");

  switch (code)
    {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      kind = DEW_STORE_ERROR_BUSY;
      remedy = _ ("another program is using it; close that one and try again");
      break;
    case SQLITE_READONLY:
    case SQLITE_PERM:
      kind = DEW_STORE_ERROR_READ_ONLY;
      remedy = _ ("it may not be written; save under another name");
      break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_ERROR: /* a table or column is missing */
      kind = DEW_STORE_ERROR_DAMAGED;
      remedy = _ ("the file is damaged; go back to a copy of it");
      break;
    case SQLITE_CONSTRAINT:
      kind = DEW_STORE_ERROR_CONTENT;
      remedy = _ ("a value does not fit the file's rules; undo the last change");
      break;
    case SQLITE_FULL:
      remedy = _ ("the disk is full; make room and try again");
      break;
    default:
      break;
    }
  /* Translators: a file, what failed, why, and what to do about it. */
  g_set_error (error, DEW_STORE_ERROR, kind, _ ("%s: %s (%s); %s"), path, what, sqlite3_errmsg (db),
               remedy);
  return FALSE;
}

/* --- before SQLite sees it --------------------------------------------- */

static guint32
big_endian (const guint8 *bytes)
{
  return (guint32) bytes[0] << 24 | (guint32) bytes[1] << 16 | (guint32) bytes[2] << 8 | bytes[3];
}

static gboolean
check_header (const char *path, const guint8 *header, gsize n, GError **error)
{
  guint32 version;

  if (n < 16 || memcmp (header, "SQLite format 3", 16) != 0)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_FOREIGN,
                   _ ("%s: is not a Dewtier document; choose a file that ends in %s"), path,
                   DEW_STORE_SUFFIX);
      return FALSE;
    }
  if (n < HEADER_BYTES)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_DAMAGED,
                   _ ("%s: ends after %u bytes; the file is damaged, go back to a copy of it"),
                   path, (guint) n);
      return FALSE;
    }
  if (big_endian (header + 68) != DEW_FILE_APPLICATION_ID)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_FOREIGN,
                   _ ("%s: is a database of another program; choose a file that ends in %s"), path,
                   DEW_STORE_SUFFIX);
      return FALSE;
    }
  version = big_endian (header + 60);
  if (version > DEW_FILE_VERSION)
    {
      g_set_error (
        error, DEW_STORE_ERROR, DEW_STORE_ERROR_NEWER,
        _ ("%s: was written by a later version of this program (form %u, known up to %d); "
           "take that version to open it"),
        path, version, DEW_FILE_VERSION);
      return FALSE;
    }
  if (version < 1)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_DAMAGED,
                   _ ("%s: does not say in which form it was written; go back to a copy of it"),
                   path);
      return FALSE;
    }
  /* Reading a file in write-ahead mode would put two more files beside it. */
  if (header[18] != 1 || header[19] != 1)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_FOREIGN,
                   _ ("%s: was set to write-ahead logging by another program; set it back with "
                      "\"PRAGMA journal_mode=DELETE\""),
                   path);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_file (const char *path, GError **error)
{
  guint8 header[HEADER_BYTES];
  GStatBuf info;
  gsize n;
  FILE *file;

  if (g_stat (path, &info) != 0)
    {
      int saved = errno;

      g_set_error (error, DEW_STORE_ERROR,
                   saved == ENOENT ? DEW_STORE_ERROR_MISSING : DEW_STORE_ERROR_IO,
                   saved == ENOENT ? _ ("%s: there is no such file (%s); look at the name")
                                   : _ ("%s: cannot be read (%s); look at its permissions"),
                   path, g_strerror (saved));
      return FALSE;
    }
  if (!S_ISREG (info.st_mode))
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_FOREIGN,
                   S_ISDIR (info.st_mode) ? _ ("%s: is a folder, not a file; choose a file")
                                          : _ ("%s: is a device, not a file; choose a file"),
                   path);
      return FALSE;
    }
  if (info.st_size == 0)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_EMPTY,
                   _ ("%s: is empty; choose another file or go back to a copy of it"), path);
      return FALSE;
    }
  file = g_fopen (path, "rbe");
  if (file == NULL)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO,
                   _ ("%s: cannot be read (%s); look at its permissions"), path,
                   g_strerror (errno));
      return FALSE;
    }
  n = fread (header, 1, sizeof header, file);
  fclose (file);
  return check_header (path, header, n, error);
}

/* The journal is a file beside the document, so the folder counts too. */
static gboolean
may_write (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);

  return g_access (path, W_OK) == 0 && g_access (folder, W_OK | X_OK) == 0;
}

/* --- the connection ---------------------------------------------------- */

gboolean
dew_file_set_up (sqlite3 *db, const char *path, GError **error)
{
  sqlite3_extended_result_codes (db, 1);
  sqlite3_busy_timeout (db, BUSY_MS);
  sqlite3_db_config (db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_VIEW, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_FKEY, 1, NULL);
  sqlite3_limit (db, SQLITE_LIMIT_LENGTH, 32 * 1024 * 1024);
  if (sqlite3_exec (db, "PRAGMA synchronous = FULL; PRAGMA cell_size_check = ON;", NULL, NULL, NULL)
      != SQLITE_OK)
    return dew_file_fail (db, path, _ ("could not be opened"), error);
  return TRUE;
}

/* First column of the first row of a query; NULL without a row or on error. */
static char *
first_text (sqlite3 *db, const char *sql, gboolean *ok)
{
  sqlite3_stmt *statement = NULL;
  char *text = NULL;
  int step = SQLITE_ERROR;

  if (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL) == SQLITE_OK)
    {
      step = sqlite3_step (statement);
      if (step == SQLITE_ROW)
        text = g_strdup ((const char *) sqlite3_column_text (statement, 0));
    }
  *ok = step == SQLITE_ROW || step == SQLITE_DONE;
  sqlite3_finalize (statement);
  return text;
}

static gboolean
check_sound (sqlite3 *db, const char *path, GError **error)
{
  g_autofree char *found = NULL;
  g_autofree char *broken = NULL;
  gboolean ok;

  found = first_text (db, "PRAGMA quick_check (1)", &ok);
  if (!ok)
    return dew_file_fail (db, path, _ ("could not be read"), error);
  if (g_strcmp0 (found, "ok") != 0)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_DAMAGED,
                   _ ("%s: the file is damaged (%s); go back to a copy of it"), path,
                   found != NULL ? found : _ ("no answer"));
      return FALSE;
    }
  broken = first_text (db, "PRAGMA foreign_key_check", &ok);
  if (!ok)
    return dew_file_fail (db, path, _ ("could not be read"), error);
  if (broken != NULL)
    {
      g_set_error (
        error, DEW_STORE_ERROR, DEW_STORE_ERROR_DAMAGED,
        _ ("%s: a row of the table \"%s\" belongs to nothing; the file is damaged, go back "
           "to a copy of it"),
        path, broken);
      return FALSE;
    }
  return TRUE;
}

sqlite3 *
dew_file_open (const char *path, gboolean want_write, gboolean *read_only, GError **error)
{
  /* An absolute name cannot be taken for one of SQLite's special ones. */
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  gboolean write = want_write && may_write (absolute);
  sqlite3 *db = NULL;
  int flags = write ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY;

  if (!check_file (path, error))
    return NULL;

  if (sqlite3_open_v2 (absolute, &db, flags, NULL) != SQLITE_OK)
    dew_file_fail (db, path, _ ("could not be opened"), error);
  else if (dew_file_set_up (db, path, error) && check_sound (db, path, error))
    {
      if (read_only != NULL)
        *read_only = !write || sqlite3_db_readonly (db, "main") != 0;
      return db;
    }
  sqlite3_close (db);
  return NULL;
}

gboolean
dew_file_make_tables (sqlite3 *db, const char *path, GError **error)
{
  g_autoptr (GBytes) bytes
    = g_resources_lookup_data ("/dewtier/data/schema.sql", G_RESOURCE_LOOKUP_FLAGS_NONE, error);
  g_autofree char *sql = NULL;

  if (bytes == NULL)
    return FALSE;
  sql = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  if (sqlite3_exec (db, sql, NULL, NULL, NULL) != SQLITE_OK)
    return dew_file_fail (db, path, _ ("could not be made"), error);
  return TRUE;
}

/* --- the library ------------------------------------------------------- */

static void
split (int number, int version[3])
{
  version[0] = number / 1000000;
  version[1] = number / 1000 % 1000;
  version[2] = number % 1000;
}

void
dew_file_library (int compiled[3], int running[3])
{
  split (SQLITE_VERSION_NUMBER, compiled);
  split (sqlite3_libversion_number (), running);
}
