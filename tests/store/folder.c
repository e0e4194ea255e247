/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/folder.h"

#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <sqlite3.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

TestFolder *
test_folder_new (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("dewtier-store-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static GPtrArray *
names_in (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    g_ptr_array_add (names, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (names, by_name);
  return names;
}

void
test_folder_free (TestFolder *folder)
{
  g_autoptr (GPtrArray) names = names_in (folder);

  for (guint i = 0; i < names->len; i++)
    g_unlink (names->pdata[i]);
  g_rmdir (folder);
  g_free (folder);
}

char *
test_folder_digest (const char *folder)
{
  g_autoptr (GPtrArray) names = names_in (folder);
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);

  for (guint i = 0; i < names->len; i++)
    {
      g_autoptr (GBytes) bytes = test_file_bytes (names->pdata[i]);

      g_checksum_update (sum, names->pdata[i], -1);
      g_checksum_update (sum, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes));
    }
  return g_strdup (g_checksum_get_string (sum));
}

guint
test_folder_files (const char *folder)
{
  g_autoptr (GPtrArray) names = names_in (folder);

  return names->len;
}

GBytes *
test_file_bytes (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *text = NULL;
  gsize n;

  g_file_get_contents (path, &text, &n, &error);
  g_assert_no_error (error);
  return g_bytes_new_take (text, n);
}

void
test_file_put (const char *path, GBytes *bytes)
{
  gsize n;
  const char *data = g_bytes_get_data (bytes, &n);
  int fd = g_open (path, O_WRONLY | O_CREAT | O_TRUNC, 0644);

  g_assert_cmpint (fd, >=, 0);
  g_assert_cmpint (write (fd, data, n), ==, (gssize) n);
  g_assert_true (g_close (fd, NULL));
}

void
test_file_sql (const char *path, const char *sql)
{
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  sqlite3_db_config (db, SQLITE_DBCONFIG_DEFENSIVE, 0, NULL);
  if (sqlite3_exec (db, sql, NULL, NULL, NULL) != SQLITE_OK)
    g_error ("%s: %s", sql, sqlite3_errmsg (db));
  sqlite3_close (db);
}

void
test_file_sql_killed (const char *path, const char *sql)
{
  pid_t child = fork ();
  int status;

  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      sqlite3 *db = NULL;

      if (sqlite3_open (path, &db) != SQLITE_OK
          || sqlite3_exec (db, "PRAGMA cache_size = 1; BEGIN", NULL, NULL, NULL) != SQLITE_OK
          || sqlite3_exec (db, sql, NULL, NULL, NULL) != SQLITE_OK)
        _exit (1);
      /* Out of the cache into the file, without a commit. */
      sqlite3_db_cacheflush (db);
      raise (SIGKILL);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFSIGNALED (status));
}
