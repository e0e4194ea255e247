/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/file-rows.h"

#include "store/store.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#define HEADER_BYTES 100
#define CUT_PAGES_MAX 100000 /* a file that says it had more was not one of ours */
#define FORM_AT 60           /* user_version */
#define BUSY_MS 3000

void
dew_file_steps_clear (DewFileSteps *steps)
{
  g_clear_pointer (&steps->history, dew_history_free);
  g_clear_pointer (&steps->sum, g_free);
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
    case SQLITE_INTERRUPT:
    case SQLITE_TOOBIG:
    case SQLITE_AUTH:
      kind = DEW_STORE_ERROR_CONTENT;
      remedy = _ ("it asks for more than any document of this program does; go back to a copy of "
                  "it");
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

gboolean
dew_file_is_database (const guint8 *bytes, gsize n)
{
  return n >= 16 && memcmp (bytes, "SQLite format 3", 16) == 0;
}

static gboolean
damaged_fail (const char *path, const char *what, GError **error)
{
  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_DAMAGED,
               _ ("%s: the file is damaged (%s); go back to a copy of it"), path, what);
  return FALSE;
}

static gboolean
check_header (const char *path, const guint8 *header, gsize n, GError **error)
{
  guint32 version;

  if (!dew_file_is_database (header, n))
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
  version = big_endian (header + FORM_AT);
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

/* Whether what SQLite finds amiss is a value, which reading the rows can tell better. */
static gboolean
is_about_a_value (const char *found)
{
  return strstr (found, " value in ") != NULL
         || g_str_has_prefix (found, "CHECK constraint failed in ");
}

/* *doubt (transfer full) is set to what is amiss with a value of some row. */
static gboolean
check_sound (sqlite3 *db, const char *path, char **doubt, GError **error)
{
  g_autofree char *found = NULL;
  g_autofree char *broken = NULL;
  gboolean ok;

  found = first_text (db, "PRAGMA quick_check (1)", &ok);
  if (!ok)
    return dew_file_fail (db, path, _ ("could not be read"), error);
  if (found != NULL && is_about_a_value (found))
    *doubt = g_steal_pointer (&found);
  else if (g_strcmp0 (found, "ok") != 0)
    return damaged_fail (path, found != NULL ? found : _ ("no answer"), error);
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

/* --- the copy in memory ------------------------------------------------ */

void
dew_file_found_clear (DewFileFound *found)
{
  g_clear_pointer (&found->history, dew_history_free);
  g_clear_pointer (&found->db, sqlite3_close);
}

/* A second lock behind the comparison of what is declared: nothing in a file of ours needs
 * these. */
static int
authorize (void *data, int action, const char *one, const char *two, const char *schema,
           const char *trigger)
{
  switch (action)
    {
    case SQLITE_ATTACH:
    case SQLITE_DETACH:
    case SQLITE_CREATE_VTABLE:
    case SQLITE_DROP_VTABLE:
    case SQLITE_CREATE_TRIGGER:
    case SQLITE_CREATE_VIEW:
    case SQLITE_CREATE_TEMP_TABLE:
    case SQLITE_CREATE_TEMP_VIEW:
    case SQLITE_CREATE_TEMP_TRIGGER:
    case SQLITE_ANALYZE:
      return SQLITE_DENY;
    default:
      return SQLITE_OK;
    }
}

/* Steps of SQLite's machine that the largest document takes many times over; what goes on for
 * longer was made to. */
#define STEPS_EACH 10000
#define STEPS_OF_BYTE 40
#define STEPS_LEAST 20000000

static int
count_down (void *data)
{
  gint64 *left = data;

  *left -= STEPS_EACH;
  return *left < 0;
}

static void
never_called (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_null (context);
}

static void
set_limits (sqlite3 *db, gsize bytes)
{
  static const int limits[][2] = {
    { SQLITE_LIMIT_LENGTH, 32 * 1024 * 1024 },
    { SQLITE_LIMIT_SQL_LENGTH, 64 * 1024 },
    { SQLITE_LIMIT_COLUMN, 100 },
    { SQLITE_LIMIT_EXPR_DEPTH, 40 },
    { SQLITE_LIMIT_COMPOUND_SELECT, 8 },
    { SQLITE_LIMIT_FUNCTION_ARG, 8 },
    { SQLITE_LIMIT_ATTACHED, 0 },
    { SQLITE_LIMIT_LIKE_PATTERN_LENGTH, 64 },
    { SQLITE_LIMIT_VARIABLE_NUMBER, 100 },
    { SQLITE_LIMIT_TRIGGER_DEPTH, 1 },
    { SQLITE_LIMIT_WORKER_THREADS, 0 },
  };
  gint64 *left = g_new (gint64, 1);

  for (guint i = 0; i < G_N_ELEMENTS (limits); i++)
    sqlite3_limit (db, limits[i][0], limits[i][1]);
  sqlite3_set_authorizer (db, authorize, NULL);
  *left = STEPS_LEAST + (gint64) bytes * STEPS_OF_BYTE;
  /* The connection frees it with the function, which nobody calls. */
  sqlite3_create_function_v2 (db, "dew_steps_left", 0, SQLITE_UTF8 | SQLITE_DIRECTONLY, left,
                              never_called, NULL, NULL, g_free);
  sqlite3_progress_handler (db, STEPS_EACH, count_down, left);
}

/* A connection to the bytes themselves, which nobody can write, or to a copy of them that can
 * be brought to this form. */
static sqlite3 *
open_in_memory (const char *path, const GByteArray *bytes, gboolean copied, GError **error)
{
  guint8 *own = copied ? sqlite3_malloc64 (bytes->len) : bytes->data;
  sqlite3 *db = NULL;
  int code = SQLITE_NOMEM;

  if (own != NULL && sqlite3_open_v2 (":memory:", &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK)
    {
      if (copied)
        memcpy (own, bytes->data, bytes->len);
      /* Takes a copy also when it fails. */
      code = sqlite3_deserialize (db, "main", own, bytes->len, bytes->len,
                                  copied
                                    ? SQLITE_DESERIALIZE_FREEONCLOSE | SQLITE_DESERIALIZE_RESIZEABLE
                                    : SQLITE_DESERIALIZE_READONLY);
    }
  if (code == SQLITE_OK && dew_file_set_up (db, path, error))
    {
      set_limits (db, bytes->len);
      return db;
    }
  if (code != SQLITE_OK)
    dew_file_fail (db, path, _ ("could not be read"), error);
  sqlite3_close (db);
  return NULL;
}

/* The first hundred bytes as this program has them written, but for the counters:
 * www.sqlite.org/fileformat.html, 1.3. */
static void
mend_head (GByteArray *bytes)
{
  static const guint8 fixed[] = { 0x10, 0x00, 1, 1, 0, 64, 32, 32 };
  static const guint8 encoding[] = { 0, 0, 0, 1 };
  static const guint8 ours[] = { 'D', 'e', 'w', 't' };
  guint32 form = big_endian (bytes->data + FORM_AT);
  guint32 pages = GUINT32_TO_BE (bytes->len / DEW_FILE_PAGE_BYTES);

  memcpy (bytes->data, "SQLite format 3", 16);
  memcpy (bytes->data + 16, fixed, sizeof fixed);
  memcpy (bytes->data + 28, &pages, sizeof pages);
  memcpy (bytes->data + 92, bytes->data + 24, 4); /* so that the number of pages counts */
  memcpy (bytes->data + 56, encoding, sizeof encoding);
  memcpy (bytes->data + 68, ours, sizeof ours);
  if (form < 1 || form > DEW_FILE_VERSION)
    {
      form = GUINT32_TO_BE (DEW_FILE_VERSION);
      memcpy (bytes->data + FORM_AT, &form, sizeof form);
    }
}

/* As many pages as the head says there are: what was cut off is then nothing, instead of making
 * all of it unreadable. */
static void
mend_length (GByteArray *bytes)
{
  guint is = bytes->len, whole = (is + DEW_FILE_PAGE_BYTES - 1) / DEW_FILE_PAGE_BYTES;
  guint32 said = big_endian (bytes->data + 28);

  if (said > whole && said < whole + CUT_PAGES_MAX)
    whole = said;
  g_byte_array_set_size (bytes, whole * DEW_FILE_PAGE_BYTES);
  memset (bytes->data + is, 0, bytes->len - is);
}

/* The pages that hold the declarations, as a new document of that form has them: the same ones
 * as in every other that was made in that form. They are those that are no root of a table or an
 * index, as long as nothing is in the tables. */
static gboolean
mend_declarations (const char *path, GByteArray *bytes, int form)
{
  g_autoptr (GHashTable) roots = g_hash_table_new (NULL, NULL);
  sqlite3_stmt *statement = NULL;
  sqlite3 *db = NULL;
  guint8 *made = NULL;
  sqlite3_int64 n = 0;

  if (sqlite3_open_v2 (":memory:", &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK
      && dew_file_make_tables (db, path, form, NULL)
      && sqlite3_prepare_v2 (db, "SELECT rootpage FROM sqlite_schema", -1, &statement, NULL)
           == SQLITE_OK)
    {
      while (sqlite3_step (statement) == SQLITE_ROW)
        g_hash_table_add (roots, GINT_TO_POINTER (sqlite3_column_int (statement, 0)));
      made = sqlite3_serialize (db, "main", &n, 0);
    }
  sqlite3_finalize (statement);
  if (made != NULL && n <= bytes->len)
    for (int page = 1; page <= n / DEW_FILE_PAGE_BYTES; page++)
      if (!g_hash_table_contains (roots, GINT_TO_POINTER (page)))
        memcpy (bytes->data + (gsize) (page - 1) * DEW_FILE_PAGE_BYTES,
                made + (gsize) (page - 1) * DEW_FILE_PAGE_BYTES, DEW_FILE_PAGE_BYTES);
  sqlite3_free (made);
  sqlite3_close (db);
  return made != NULL;
}

static sqlite3 *
open_mended (const char *path, GByteArray *bytes, int form, GError **error)
{
  sqlite3 *db;

  mend_head (bytes);
  db = open_in_memory (path, bytes, TRUE, error);
  if (db != NULL && dew_file_check_declared (db, path, form, error)
      && dew_file_update (db, path, form, error))
    return db;
  sqlite3_close (db);
  return NULL;
}

sqlite3 *
dew_file_open_damaged (const char *path, const GByteArray *bytes, GError **error)
{
  g_autoptr (GByteArray) mended = g_byte_array_new ();
  sqlite3 *db;
  int form;

  g_byte_array_append (mended, bytes->data, bytes->len);
  mend_length (mended);
  mend_head (mended);
  form = (int) big_endian (mended->data + FORM_AT);
  db = open_mended (path, mended, form, NULL);
  if (db != NULL || !mend_declarations (path, mended, form))
    return db;
  return open_mended (path, mended, form, error);
}

gboolean
dew_file_find (const char *path, const DewSnapshot *snapshot, DewFileFound *out, GError **error)
{
  g_auto (DewFileFound) found = { NULL };
  g_autofree char *doubt = NULL;

  g_return_val_if_fail (path != NULL && snapshot->bytes != NULL && out != NULL, FALSE);

  if (!check_header (path, snapshot->bytes->data, snapshot->bytes->len, error))
    return FALSE;
  found.form = (int) big_endian (snapshot->bytes->data + FORM_AT);
  found.db = open_in_memory (path, snapshot->bytes, found.form != DEW_FILE_VERSION, error);
  if (found.db == NULL || !dew_file_check_declared (found.db, path, found.form, error)
      || !check_sound (found.db, path, &doubt, error)
      || !dew_file_update (found.db, path, found.form, error))
    return FALSE;
  found.history = dew_file_read (found.db, path, &found.as_in_file, error);
  if (found.history == NULL)
    return FALSE;
  if (doubt != NULL)
    return damaged_fail (path, doubt, error);
  *out = found;
  found = (DewFileFound){ NULL };
  return TRUE;
}

/* --- the file on disk -------------------------------------------------- */

/* Opens it, which rolls back what the snapshot has rolled back, and holds it: nobody else
 * writes until the transaction ends. */
static sqlite3 *
hold (const char *path, const char *wanted_sum, GError **error)
{
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  g_autofree char *sum = NULL;
  sqlite3 *db = NULL;

  if (sqlite3_open_v2 (absolute, &db, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
    dew_file_fail (db, path, _ ("could not be opened"), error);
  else if (dew_file_set_up (db, path, error)
           && dew_connection_execute (&(DewConnection){ db, path, error }, "BEGIN IMMEDIATE",
                                      _ ("could not be opened")))
    {
      sum = dew_snapshot_sum_of (db);
      if (g_strcmp0 (sum, wanted_sum) == 0)
        return db;
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_BUSY,
                   _ ("%s: another program changed the file meanwhile; open it again"), path);
    }
  sqlite3_close (db);
  return NULL;
}

sqlite3 *
dew_file_open_to_write (const char *path, const DewSnapshot *snapshot, const DewFileFound *found,
                        DewFileSteps *steps, char **copy, GError **error)
{
  g_autofree char *sum = dew_snapshot_sum (snapshot);
  g_autofree char *kept = NULL;
  DewConnection connection = { hold (path, sum, error), path, error };

  *copy = NULL;
  if (connection.db == NULL)
    return NULL;
  if (found->form != DEW_FILE_VERSION)
    kept = dew_file_keep_copy (path, snapshot, found->form, error);
  if ((found->form == DEW_FILE_VERSION || kept != NULL)
      && dew_file_update (connection.db, path, found->form, error)
      && dew_connection_finish (&connection, steps))
    {
      steps->history = found->as_in_file ? dew_history_copy (found->history) : NULL;
      *copy = g_steal_pointer (&kept);
      return connection.db;
    }
  if (kept != NULL)
    g_unlink (kept);
  sqlite3_close (connection.db);
  return NULL;
}

gboolean
dew_file_make_tables (sqlite3 *db, const char *path, int form, GError **error)
{
  g_autofree char *name = form == DEW_FILE_VERSION
                            ? g_strdup ("/dewtier/data/schema.sql")
                            : g_strdup_printf ("/dewtier/data/schema-%d.sql", form);
  g_autoptr (GBytes) bytes = g_resources_lookup_data (name, G_RESOURCE_LOOKUP_FLAGS_NONE, error);
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
