/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/task.h"
#include "say/problems.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define BUSY_MS 3000
#define LEFT_MAX 1000

/* New documents: made under a name of their own, on disk whole before they take their place. */

static gboolean
io_fail (const char *path, const char *what, GError **error)
{
  int saved = errno;

  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO,
               _ ("%s: %s (%s); look at the folder and its permissions"), path, what,
               g_strerror (saved));
  return FALSE;
}

static gboolean
exists_fail (const char *path, GError **error)
{
  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO,
               _ ("%s: there is such a file already; choose another name or replace it"), path);
  return FALSE;
}

/* What lies beside the document that is saved under another name. */
static gboolean
fill_apart (sqlite3 *db, const char *path, const char *from, GError **error)
{
  DewConnection connection = { db, path, error };

  return from == NULL
         || (dew_connection_execute (&connection, "BEGIN", _ ("could not be written"))
             && dew_connection_copy_apart (&connection, from)
             && dew_connection_execute (&connection, "COMMIT", _ ("could not be written")));
}

static gboolean
fill_database (const char *temporary, const char *path, const DewHistory *history, const char *from,
               GError **error)
{
  DewFileSteps steps = { NULL };
  sqlite3 *db = NULL;
  gboolean ok;

  if (sqlite3_open_v2 (temporary, &db, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
    ok = dew_file_fail (db, path, _ ("could not be made"), error);
  else
    {
      /* Nobody knows this file yet, so its journal need not reach the disk. */
      sqlite3_exec (db, "PRAGMA journal_mode = MEMORY", NULL, NULL, NULL);
      ok = dew_file_set_up (db, path, error)
           && dew_file_make_tables (db, path, DEW_FILE_VERSION, error)
           && dew_file_write (db, path, history, &steps, error)
           && fill_apart (db, path, from, error);
    }
  dew_file_steps_clear (&steps);
  if (sqlite3_close (db) != SQLITE_OK && ok)
    ok = dew_file_fail (db, path, _ ("could not be closed"), error);
  return ok;
}

/* Every write raises the change counter of a file by one, from 1 on where SQLite makes it. From
 * a number of its own on, a journal that was left by one document cannot be taken for that of
 * another (journal.c). The counter stands twice: www.sqlite.org/fileformat.html, 1.3. */
static gboolean
count_from_own_number (const char *temporary)
{
  static const off_t places[] = { 24, 92 };
  guint32 counter = GUINT32_TO_BE (g_random_int ());
  int fd = g_open (temporary, O_WRONLY | O_CLOEXEC, 0);
  gboolean ok = fd >= 0;

  for (guint i = 0; i < G_N_ELEMENTS (places) && ok; i++)
    ok = pwrite (fd, &counter, sizeof counter, places[i]) == (ssize_t) sizeof counter;
  return fd >= 0 && g_close (fd, NULL) && ok;
}

static gboolean
sync_file (const char *name, int flags)
{
  int fd = g_open (name, O_RDONLY | O_CLOEXEC | flags, 0);
  gboolean ok;

  if (fd < 0)
    return FALSE;
  ok = fsync (fd) == 0;
  return g_close (fd, NULL) && ok;
}

/* A file that takes another's place keeps its permissions. */
static void
keep_mode (const char *temporary, const char *target)
{
  GStatBuf info;

  if (g_stat (target, &info) == 0 && g_chmod (temporary, (int) (info.st_mode & 0777)) != 0)
    g_debug ("%s: gets new permissions", target);
}

static gboolean
move_into_place (const char *temporary, const char *target, const char *folder, const char *path,
                 gboolean replace, GError **error)
{
  if (!sync_file (temporary, 0))
    return io_fail (path, _ ("could not be written to disk"), error);
  if (replace)
    {
      if (g_rename (temporary, target) != 0)
        return io_fail (path, _ ("could not be put in its place"), error);
    }
  else
    {
      /* A link fails where a file has turned up meanwhile; a rename would not. */
      if (link (temporary, target) != 0)
        return errno == EEXIST ? exists_fail (path, error)
                               : io_fail (path, _ ("could not be put in its place"), error);
      g_unlink (temporary);
    }
  if (!sync_file (folder, O_DIRECTORY))
    g_debug ("%s: this file system does not sync folders", folder);
  return TRUE;
}

/* A journal is named after its document and lies beside it, so there has to be room for it. */
static gboolean
check_name_length (const char *target, const char *path, GError **error)
{
  g_autofree char *name = g_path_get_basename (target);
  gsize most = NAME_MAX - strlen ("-journal");

  if (strlen (name) <= most)
    return TRUE;
  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO,
               _ ("%s: the name has %u bytes; %u are possible, so that it can be saved later on; "
                  "choose a shorter one"),
               path, (guint) strlen (name), (guint) most);
  return FALSE;
}

/* What lies beside the place of a new document belongs to one that was there before. Nobody
 * loses it: "a.dewtier-journal" becomes "a.dewtier-journal-left". */
static gboolean
set_aside (const char *target, const char *suffix, const char *path, GError **error)
{
  g_autofree char *name = g_strconcat (target, suffix, NULL);
  GStatBuf info;

  if (g_lstat (name, &info) != 0)
    return TRUE;
  for (int number = 1; number <= LEFT_MAX; number++)
    {
      g_autofree char *more = number > 1 ? g_strdup_printf ("-%d", number) : g_strdup ("");
      g_autofree char *left = g_strconcat (name, "-left", more, NULL);

      if (g_lstat (left, &info) == 0)
        continue;
      return g_rename (name, left) == 0
             || io_fail (path, _ ("what an earlier document left could not be moved"), error);
    }
  errno = EEXIST;
  return io_fail (path, _ ("what an earlier document left could not be moved"), error);
}

/* Lets the document that is to be replaced roll back its unfinished write, and keeps others
 * from beginning a new one until `old` is closed: their journal would be taken for the new
 * document's. FALSE when somebody is writing it. */
static gboolean
settle_old (const char *target, const char *path, sqlite3 **old, GError **error)
{
  g_auto (DewSnapshot) snapshot = { NULL };
  g_autoptr (GError) inner = NULL;

  if (dew_snapshot_take (target, &snapshot, &inner)
      && dew_file_is_database (snapshot.bytes->data, snapshot.bytes->len)
      && g_access (target, W_OK) == 0)
    {
      if (sqlite3_open_v2 (target, old, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK
          || sqlite3_busy_timeout (*old, BUSY_MS) != SQLITE_OK
          || sqlite3_exec (*old, "BEGIN EXCLUSIVE", NULL, NULL, NULL) != SQLITE_OK)
        return dew_file_fail (*old, path, _ ("could not be replaced"), error);
    }
  else if (g_error_matches (inner, DEW_STORE_ERROR, DEW_STORE_ERROR_BUSY))
    {
      g_propagate_error (error, g_steal_pointer (&inner));
      return FALSE;
    }
  return set_aside (target, "-journal", path, error) && set_aside (target, "-wal", path, error)
         && set_aside (target, "-shm", path, error);
}

gboolean
dew_store_create_with (const char *path, const DewHistory *history, gboolean replace,
                       GError **error)
{
  return dew_store_create_copy (path, history, NULL, replace, error);
}

gboolean
dew_store_create_copy (const char *path, const DewHistory *history, const char *from,
                       gboolean replace, GError **error)
{
  g_autofree char *absolute = NULL;
  g_autofree char *target = NULL;
  g_autofree char *folder = NULL;
  g_autofree char *temporary = NULL;
  sqlite3 *old = NULL;
  int fd;
  gboolean ok;

  g_return_val_if_fail (path != NULL && history != NULL, FALSE);

  absolute = g_canonicalize_filename (path, NULL);
  if (g_file_test (absolute, G_FILE_TEST_EXISTS) && !replace)
    return exists_fail (path, error);
  if (g_file_test (absolute, G_FILE_TEST_IS_DIR))
    {
      errno = EISDIR;
      return io_fail (path, _ ("could not be made"), error);
    }

  /* Through a symbolic link, so that the link stays one. */
  target = realpath (absolute, NULL);
  if (target == NULL)
    target = g_strdup (absolute);
  folder = g_path_get_dirname (target);
  if (!check_name_length (target, path, error))
    return FALSE;
  temporary = g_strdup_printf ("%s/.dewtier-XXXXXX", folder);
  fd = g_mkstemp_full (temporary, O_RDWR | O_CLOEXEC, 0666);
  if (fd < 0)
    return io_fail (path, _ ("could not be made"), error);
  g_close (fd, NULL);

  keep_mode (temporary, target);
  ok = fill_database (temporary, path, history, from, error)
       && (count_from_own_number (temporary)
           || io_fail (path, _ ("could not be written to disk"), error))
       && settle_old (target, path, &old, error)
       && move_into_place (temporary, target, folder, path, replace, error);
  sqlite3_close (old);
  if (!ok)
    g_unlink (temporary);
  return ok;
}

gboolean
dew_store_create (const char *path, const DewChamber *chamber, gboolean replace, GError **error)
{
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (GError) inner = NULL;

  g_return_val_if_fail (path != NULL && chamber != NULL, FALSE);

  if (!dew_chamber_validate (chamber, &inner))
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT, _ ("%s: not written: %s"), path,
                   inner->message);
      return FALSE;
    }
  history = dew_history_new (chamber);
  return dew_store_create_with (path, history, replace, error);
}
