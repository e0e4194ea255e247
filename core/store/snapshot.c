/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/snapshot.h"

#include "store/file.h"
#include "store/journal.h"
#include "store/store.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <stdlib.h>

#define BYTES_MAX (1024 * 1024 * 1024)
#define TEXT_BYTES_MAX (16 * 1024 * 1024) /* of what is no database */
#define SUM_BYTES (4 * 1024 * 1024)       /* of a larger file, parts as many as make that */
#define SUM_PART 4096
#define BUSY_MS 3000
#define WAIT_MS 20

void
dew_snapshot_clear (DewSnapshot *snapshot)
{
  g_clear_pointer (&snapshot->bytes, g_byte_array_unref);
}

/* --- before SQLite sees it --------------------------------------------- */

static gboolean
check_kind (const char *path, GError **error)
{
  GStatBuf info;

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
  /* SQLite takes a file of one byte for an empty one. */
  if (info.st_size <= 1)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_EMPTY,
                   _ ("%s: is empty; choose another file or go back to a copy of it"), path);
      return FALSE;
    }
  return TRUE;
}

char *
dew_snapshot_journal (const char *path)
{
  g_autofree char *real = realpath (path, NULL);

  return g_strconcat (real != NULL ? real : path, "-journal", NULL);
}

/* --- the bytes --------------------------------------------------------- */

/* Opens the file without looking into it: no statement is run. */
static sqlite3 *
open_unseen (const char *path, sqlite3_file **file)
{
  /* An absolute name cannot be taken for one of SQLite's special ones. */
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  sqlite3 *db = NULL;

  if (sqlite3_open_v2 (absolute, &db, SQLITE_OPEN_READONLY, NULL) == SQLITE_OK
      && sqlite3_file_control (db, "main", SQLITE_FCNTL_FILE_POINTER, file) == SQLITE_OK
      && (*file)->pMethods != NULL)
    return db;
  sqlite3_close (db);
  return NULL;
}

static int
lock_to_read (sqlite3_file *file)
{
  int code = SQLITE_BUSY;

  for (int waited = 0; waited <= BUSY_MS; waited += WAIT_MS)
    {
      code = file->pMethods->xLock (file, SQLITE_LOCK_SHARED);
      if (code != SQLITE_BUSY)
        return code;
      g_usleep (WAIT_MS * 1000);
    }
  return code;
}

/* NULL with *code; SQLITE_TOOBIG beyond what any document or text of ours has. */
static GByteArray *
bytes_of (sqlite3_file *file, int *code)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  guint8 head[16] = { 0 };
  sqlite3_int64 size = 0;

  *code = file->pMethods->xFileSize (file, &size);
  if (*code != SQLITE_OK)
    return NULL;
  if (size >= (sqlite3_int64) sizeof head)
    file->pMethods->xRead (file, head, sizeof head, 0);
  *code = SQLITE_TOOBIG;
  if (size > (dew_file_is_database (head, sizeof head) ? BYTES_MAX : TEXT_BYTES_MAX))
    return NULL;
  g_byte_array_set_size (bytes, (guint) size);
  *code = size > 0 ? file->pMethods->xRead (file, bytes->data, (int) size, 0) : SQLITE_OK;
  return *code == SQLITE_OK ? g_steal_pointer (&bytes) : NULL;
}

/* A journal is left over when nobody is about to write. A missing one is an empty one. */
static GByteArray *
left_journal (sqlite3_file *file, const char *path, gboolean *ok)
{
  g_autofree char *journal = dew_snapshot_journal (path);
  char *text = NULL;
  gsize n = 0;
  int reserved = 0;
  GStatBuf info;

  *ok = file->pMethods->xCheckReservedLock (file, &reserved) == SQLITE_OK;
  if (!*ok || reserved || g_lstat (journal, &info) != 0 || info.st_size == 0)
    return g_byte_array_new ();
  *ok = S_ISREG (info.st_mode) && info.st_size <= BYTES_MAX
        && g_file_get_contents (journal, &text, &n, NULL);
  return *ok ? g_byte_array_new_take ((guint8 *) text, n) : g_byte_array_new ();
}

/* Both of one moment. FALSE with a code of SQLite. */
static gboolean
read_both (const char *path, GByteArray **document, GByteArray **journal, int *code)
{
  sqlite3_file *file = NULL;
  sqlite3 *db = open_unseen (path, &file);
  gboolean ok = FALSE;

  *code = SQLITE_CANTOPEN;
  if (db == NULL)
    return FALSE;
  *code = lock_to_read (file);
  if (*code == SQLITE_OK)
    {
      *document = bytes_of (file, code);
      *journal = left_journal (file, path, &ok);
      file->pMethods->xUnlock (file, SQLITE_LOCK_NONE);
      if (*code == SQLITE_OK && !ok)
        *code = SQLITE_IOERR;
    }
  sqlite3_close (db);
  return *code == SQLITE_OK;
}

static gboolean
read_fail (const char *path, int code, GError **error)
{
  if (code == SQLITE_BUSY)
    g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_BUSY,
                 _ ("%s: is being written by another program; close that one and try again"), path);
  else if (code == SQLITE_TOOBIG)
    g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT,
                 _ ("%s: is larger than any document or text of this program (%d MB of text, %d MB "
                    "in all); choose another file"),
                 path, TEXT_BYTES_MAX / 1024 / 1024, BYTES_MAX / 1024 / 1024);
  else
    g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO,
                 _ ("%s: cannot be read (%s); look at its permissions and at the disk"), path,
                 sqlite3_errstr (code));
  return FALSE;
}

/* A document of ours never has one: SQLite would read and write it beside the document. */
static gboolean
check_no_log (const char *path, GError **error)
{
  g_autofree char *real = realpath (path, NULL);
  g_autofree char *log = g_strconcat (real != NULL ? real : path, "-wal", NULL);
  GStatBuf info;

  if (g_lstat (log, &info) != 0)
    return TRUE;
  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_JOURNAL,
               _ ("%s: beside it lies %s, which another program has left; let that program close "
                  "the document, or move that file away"),
               path, log);
  return FALSE;
}

static gboolean
roll_back (const char *path, DewSnapshot *out, const GByteArray *journal, GError **error)
{
  g_autofree char *name = NULL;
  DewJournalVerdict verdict;

  if (!dew_file_is_database (out->bytes->data, out->bytes->len))
    return TRUE;
  verdict = dew_journal_roll_back (out->bytes, journal->data, journal->len);
  out->rolled_back = verdict == DEW_JOURNAL_PLAYED;
  if (verdict == DEW_JOURNAL_COLD || verdict == DEW_JOURNAL_PLAYED)
    return TRUE;
  name = dew_snapshot_journal (path);
  if (verdict == DEW_JOURNAL_NAMES_ANOTHER)
    g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_JOURNAL,
                 _ ("%s: the journal %s beside it names another file, which no document of this "
                    "program does; move the journal away, and take the document only from "
                    "somebody you trust"),
                 path, name);
  else
    g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_JOURNAL,
                 _ ("%s: the journal %s beside it belongs to another state of the document: this "
                    "one was put in its place while a write was unfinished. To go on with this "
                    "one, move the journal away"),
                 path, name);
  return FALSE;
}

gboolean
dew_snapshot_take (const char *path, DewSnapshot *out, GError **error)
{
  g_autoptr (GByteArray) journal = NULL;
  int code;

  g_return_val_if_fail (path != NULL && out != NULL, FALSE);

  *out = (DewSnapshot){ NULL };
  if (!check_kind (path, error) || !check_no_log (path, error))
    return FALSE;
  if (!read_both (path, &out->bytes, &journal, &code))
    {
      dew_snapshot_clear (out);
      return read_fail (path, code, error);
    }
  if (roll_back (path, out, journal, error))
    return TRUE;
  dew_snapshot_clear (out);
  return FALSE;
}

gboolean
dew_snapshot_take_any (const char *path, DewSnapshot *out, GError **error)
{
  g_autoptr (GByteArray) journal = NULL;
  int code;

  g_return_val_if_fail (path != NULL && out != NULL, FALSE);

  *out = (DewSnapshot){ NULL };
  if (!check_kind (path, error))
    return FALSE;
  if (!read_both (path, &out->bytes, &journal, &code))
    {
      dew_snapshot_clear (out);
      return read_fail (path, code, error);
    }
  roll_back (path, out, journal, NULL);
  return TRUE;
}

/* Where the parts lie that a sum is made of: of a small file all of it. Another document differs
 * nearly everywhere, so that a file which photographs have made large need not be read whole. */
static gsize
part_apart (gsize n)
{
  return MAX (n / (SUM_BYTES / SUM_PART), SUM_PART);
}

static GChecksum *
sum_new (guint64 n)
{
  GChecksum *sum = g_checksum_new (G_CHECKSUM_SHA256);

  g_checksum_update (sum, (const guchar *) &n, sizeof n);
  return sum;
}

char *
dew_snapshot_sum (const DewSnapshot *snapshot)
{
  const GByteArray *bytes = snapshot->bytes;
  g_autoptr (GChecksum) sum = sum_new (bytes->len);

  for (gsize at = 0; at < bytes->len; at += part_apart (bytes->len))
    g_checksum_update (sum, bytes->data + at, (gssize) MIN (SUM_PART, bytes->len - at));
  return g_strdup (g_checksum_get_string (sum));
}

char *
dew_snapshot_sum_of (sqlite3 *db)
{
  g_autoptr (GChecksum) sum = NULL;
  sqlite3_file *file = NULL;
  sqlite3_int64 size = 0;

  if (sqlite3_file_control (db, "main", SQLITE_FCNTL_FILE_POINTER, &file) != SQLITE_OK
      || file->pMethods == NULL || file->pMethods->xFileSize (file, &size) != SQLITE_OK)
    return NULL;
  sum = sum_new ((guint64) size);
  for (sqlite3_int64 at = 0; at < size; at += (sqlite3_int64) part_apart ((gsize) size))
    {
      guint8 part[SUM_PART];
      int n = (int) MIN (SUM_PART, size - at);

      if (file->pMethods->xRead (file, part, n, at) != SQLITE_OK)
        return NULL;
      g_checksum_update (sum, part, n);
    }
  return g_strdup (g_checksum_get_string (sum));
}
