/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/folder.h"
#include "store/store.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

/* Documents, and what lies beside them, that a crash has left or that somebody has made to do
 * harm. Measured against SQLite itself: www.sqlite.org/fileformat.html (3, The Rollback
 * Journal), www.sqlite.org/atomiccommit.html, www.sqlite.org/howtocorrupt.html (1.4 and 2). */

static char *
document_in (const char *folder, const char *name, double width_m)
{
  char *path = g_build_filename (folder, name, NULL);
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (GError) error = NULL;

  chamber->outer_m[0] = width_m;
  dew_store_create (path, chamber, FALSE, &error);
  g_assert_no_error (error);
  return path;
}

static double
width_in (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) chamber = dew_store_load (path, &error);

  g_assert_no_error (error);
  return chamber->outer_m[0];
}

static void
widen (const char *path, double width_m)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = dew_store_open (path, &error);
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (DewChamber) next = NULL;

  g_assert_no_error (error);
  history = dew_store_history (store);
  next = dew_chamber_copy (dew_history_present (history));
  next->outer_m[0] = width_m;
  g_assert_true (dew_history_push (history, next, "Widen", NULL, NULL));
  dew_store_save (store, history, NULL, NULL);
  dew_store_flush (store, &error);
  g_assert_no_error (error);
}

static void
kill_in_mid_save (const char *path)
{
  test_file_sql_killed (path, "UPDATE plant SET mass_kg = 99.0; DELETE FROM undo_step; "
                              "UPDATE enclosure SET outer_x_m = 3.0;");
}

/* Both ways of opening refuse it, name `part` in one line, and leave all bytes. */
static void
assert_refused (const char *folder, const char *path, DewStoreError code, const char *part)
{
  g_autofree char *before = test_folder_digest (folder);

  for (int way = 0; way < 2; way++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *after = NULL;

      if (way == 0)
        g_assert_null (dew_store_load (path, &error));
      else
        g_assert_null (dew_store_open (path, &error));
      if (!g_error_matches (error, DEW_STORE_ERROR, (int) code)
          || strstr (error->message, part) == NULL || strchr (error->message, '\n') != NULL)
        g_error ("expected %d ... %s, got %d: %s", (int) code, part, error->code, error->message);
      after = test_folder_digest (folder);
      g_assert_cmpstr (after, ==, before);
    }
}

/* --- journals ---------------------------------------------------------- */

/* Reading sees the state before the write that was cut off, and changes nothing; what it sees
 * is what SQLite makes of the file. */
static void
test_reading_writes_nothing (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
  g_autofree char *before = NULL, *after = NULL;
  g_autoptr (GBytes) whole = test_file_bytes (path);
  g_autoptr (GBytes) rolled = NULL;

  kill_in_mid_save (path);
  g_assert_cmpuint (test_folder_files (folder), ==, 2);
  before = test_folder_digest (folder);
  g_assert_cmpfloat (width_in (path), ==, 0.9);
  after = test_folder_digest (folder);
  g_assert_cmpstr (after, ==, before);

  widen (path, 1.2);
  g_assert_cmpuint (test_folder_files (folder), ==, 1);
  g_assert_cmpfloat (width_in (path), ==, 1.2);

  test_file_put (path, whole);
  kill_in_mid_save (path);
  test_file_sql (path, "SELECT count (*) FROM sqlite_schema");
  rolled = test_file_bytes (path);
  g_assert_true (g_bytes_equal (rolled, whole));
}

/* Somebody is writing: a reader waits or sees the old state, and has no part in it. */
static void
test_reading_beside_a_writer (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
  g_autoptr (GError) error = NULL;
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  sqlite3_exec (db, "BEGIN; UPDATE enclosure SET outer_x_m = 3.0", NULL, NULL, NULL);
  g_assert_cmpuint (test_folder_files (folder), ==, 2);
  g_assert_cmpfloat (width_in (path), ==, 0.9);
  /* And has not let go of the lock that the writer in this same process holds. */
  g_assert_cmpint (sqlite3_exec (db, "COMMIT", NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_cmpfloat (width_in (path), ==, 3.0);
  sqlite3_close (db);
}

/* A new document takes the place of one whose write was cut off. */
static void
test_new_in_place_of_a_killed_one (void)
{
  for (int way = 0; way < 3; way++)
    {
      g_autoptr (TestFolder) folder = test_folder_new ();
      g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
      g_autoptr (DewChamber) other = dew_chamber_demo ();
      g_autoptr (GError) error = NULL;
      GBytes *nothing = g_bytes_new (NULL, 0);

      kill_in_mid_save (path);
      if (way == 1)
        g_unlink (path);
      if (way == 2)
        test_file_put (path, nothing);
      g_bytes_unref (nothing);
      other->outer_m[0] = 1.5;
      dew_store_create (path, other, way != 1, &error);
      g_assert_no_error (error);
      g_assert_cmpfloat (width_in (path), ==, 1.5);
      widen (path, 1.6);
      g_assert_cmpfloat (width_in (path), ==, 1.6);
      /* What belonged to a document that is gone is nobody's to delete. */
      g_assert_cmpuint (test_folder_files (folder), ==, way == 0 ? 1 : 2);
    }
}

/* A new document does not take the place of one that is being written. */
static void
test_new_in_place_of_a_busy_one (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
  g_autoptr (DewChamber) other = dew_chamber_demo ();
  g_autoptr (GError) error = NULL;
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  sqlite3_exec (db, "BEGIN; UPDATE enclosure SET outer_x_m = 3.0", NULL, NULL, NULL);
  g_assert_false (dew_store_create (path, other, TRUE, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_BUSY);
  g_assert_cmpint (sqlite3_exec (db, "COMMIT", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
  g_assert_cmpfloat (width_in (path), ==, 3.0);
  g_assert_cmpuint (test_folder_files (folder), ==, 1);
}

/* A backup, or another document, was copied over one whose write was cut off. */
static void
test_backup_over_a_killed_one (void)
{
  for (int way = 0; way < 2; way++)
    {
      g_autoptr (TestFolder) folder = test_folder_new ();
      g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
      g_autofree char *other = document_in (folder, "b.dewtier", 1.5);
      g_autofree char *journal = g_strconcat (path, "-journal", NULL);
      g_autofree char *away = g_build_filename (folder, "away", NULL);
      g_autoptr (GBytes) backup = test_file_bytes (way == 0 ? path : other);

      for (int i = 0; i < 3; i++)
        widen (path, 1.0 + 0.1 * i);
      kill_in_mid_save (path);
      test_file_put (path, backup);
      assert_refused (folder, path, DEW_STORE_ERROR_JOURNAL, journal);
      /* What the message tells to do helps. */
      g_rename (journal, away);
      g_assert_cmpfloat (width_in (path), ==, way == 0 ? 0.9 : 1.5);
    }
}

static void
put_big_endian (GByteArray *bytes, guint32 value)
{
  guint8 four[] = { value >> 24, value >> 16, value >> 8, value };

  g_byte_array_append (bytes, four, sizeof four);
}

/* A journal that names another file as the one it shares a transaction with: SQLite deletes
 * that file when it rolls back. */
static void
test_journal_that_names_another (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);
  g_autofree char *victim = g_build_filename (folder, "letter.txt", NULL);
  g_autoptr (GBytes) letter = g_bytes_new_static ("Dear aunt,\n", 11);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autoptr (GBytes) crafted = NULL;
  GBytes *left;
  guint32 sum = 0;

  test_file_put (victim, letter);
  kill_in_mid_save (path);
  left = test_file_bytes (journal);
  g_byte_array_append (bytes, g_bytes_get_data (left, NULL), (guint) g_bytes_get_size (left));
  g_bytes_unref (left);
  put_big_endian (bytes, 0x40000000 / 4096 + 1);
  g_byte_array_append (bytes, (const guint8 *) victim, (guint) strlen (victim));
  put_big_endian (bytes, (guint32) strlen (victim));
  for (const char *p = victim; *p != '\0'; p++)
    sum += (guint32) (gint32) (signed char) *p;
  put_big_endian (bytes, sum);
  g_byte_array_append (bytes, (const guint8 *) "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8);
  crafted = g_bytes_new (bytes->data, bytes->len);
  test_file_put (journal, crafted);

  assert_refused (folder, path, DEW_STORE_ERROR_JOURNAL, "names another file");
  g_assert_true (g_file_test (victim, G_FILE_TEST_EXISTS));
}

/* Logs of other programs, and a journal that is none, are no reason to touch them. */
static void
test_log_beside (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
  g_autofree char *log = g_strconcat (path, "-wal", NULL);
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);
  g_autoptr (GBytes) bytes = g_bytes_new_static ("not a log at all", 16);
  g_autofree char *before = NULL, *after = NULL;

  test_file_put (log, bytes);
  assert_refused (folder, path, DEW_STORE_ERROR_JOURNAL, log);
  g_unlink (log);
  test_file_put (journal, bytes);
  before = test_folder_digest (folder);
  g_assert_cmpfloat (width_in (path), ==, 0.9);
  after = test_folder_digest (folder);
  g_assert_cmpstr (after, ==, before);
}

/* --- another document in the place of the open one --------------------- */

static void
test_written_over (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
  g_autofree char *other = document_in (folder, "b.dewtier", 1.5);
  g_autoptr (GBytes) mine = test_file_bytes (path);
  g_autoptr (GBytes) theirs = test_file_bytes (other);
  g_autofree guint8 *mixed = g_memdup2 (g_bytes_get_data (theirs, NULL), g_bytes_get_size (theirs));
  g_autoptr (GBytes) crafted = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = dew_store_open (path, &error);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));
  g_autoptr (GBytes) after = NULL;

  /* With the counters of the one that it takes the place of. */
  memcpy (mixed + 24, (const guint8 *) g_bytes_get_data (mine, NULL) + 24, 4);
  memcpy (mixed + 92, (const guint8 *) g_bytes_get_data (mine, NULL) + 92, 4);
  crafted = g_bytes_new (mixed, g_bytes_get_size (theirs));
  test_file_put (path, crafted);
  next->outer_m[0] = 2.0;
  dew_history_push (history, next, "Widen", NULL, NULL);
  dew_store_save (store, history, NULL, NULL);
  g_assert_false (dew_store_flush (store, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_BUSY);
  after = test_file_bytes (path);
  g_assert_true (g_bytes_equal (after, crafted));
}

/* --- what a file declares ---------------------------------------------- */

#define WRITABLE "PRAGMA writable_schema = ON; UPDATE sqlite_schema SET sql = "

static void
test_declared (void)
{
  static const char *const harms[] = {
    "CREATE TRIGGER spoil AFTER INSERT ON variant BEGIN UPDATE variant SET name = 'x'; END",
    "CREATE VIEW song AS WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) "
    "SELECT i FROM n",
    "CREATE TABLE song (name TEXT)",
    "CREATE INDEX song ON thing (length (name))",
    "CREATE VIRTUAL TABLE song USING fts5 (name)",
    "ALTER TABLE shelf ADD COLUMN more TEXT AS (hex (zeroblob (100000000))) VIRTUAL",
    WRITABLE "replace (sql, 'length (name) < 64', '1') WHERE name = 'thing'",
    WRITABLE "replace (sql, 'length (name) < 64', "
             "'length (hex (zeroblob (30000000))) > 0') WHERE name = 'thing'",
    WRITABLE "replace (sql, ' STRICT', '') WHERE name = 'fan'",
    /* The rows of a table are those of a query without an end. */
    "DROP TABLE undo_step; CREATE VIEW undo_step AS WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL "
    "SELECT i + 1 FROM n) SELECT i AS number, 'x' AS label, hex (zeroblob (1000)) AS change, "
    "0 AS made_s FROM n",
  };

  for (guint i = 0; i < G_N_ELEMENTS (harms); i++)
    {
      g_autoptr (TestFolder) folder = test_folder_new ();
      g_autofree char *path = document_in (folder, "a.dewtier", 0.9);

      g_test_message ("%s", harms[i]);
      test_file_sql (path, harms[i]);
      assert_refused (folder, path, DEW_STORE_ERROR_CONTENT, "declares");
    }
}

/* Rows and declarations without measure: refused soon, and without much memory. */
static void
test_too_much (void)
{
  static const char *const harms[] = {
    "PRAGMA foreign_keys = OFF; WITH RECURSIVE n (i) AS (SELECT 100 UNION ALL SELECT i + 1 FROM n "
    "LIMIT 100000) INSERT INTO variant SELECT i, i, 'x' FROM n",
    "WITH RECURSIVE n (i) AS (SELECT 100 UNION ALL SELECT i + 1 FROM n LIMIT 200000) "
    "INSERT INTO thing SELECT i + 1000, 1, i + 1000, 'shelf', 'x' FROM n",
    "WITH RECURSIVE n (i) AS (SELECT 100 UNION ALL SELECT i + 1 FROM n LIMIT 100000) "
    "INSERT INTO wish SELECT i, i + 1000, 'x', '', 1, 'healthy', 0.1, 0.1, 0.1 FROM n",
  };

  for (guint i = 0; i < G_N_ELEMENTS (harms); i++)
    {
      g_autoptr (TestFolder) folder = test_folder_new ();
      g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
      struct rusage use;
      gint64 start;

      test_file_sql (path, harms[i]);
      start = g_get_monotonic_time ();
      assert_refused (folder, path, DEW_STORE_ERROR_CONTENT, "rows");
      g_assert_cmpint (g_get_monotonic_time () - start, <, 10000000);
      getrusage (RUSAGE_SELF, &use);
      g_assert_cmpint (use.ru_maxrss, <, 600000); /* kB; the sanitizers triple it */
    }
}

/* Many declarations: parsing them ends. */
static void
test_many_tables (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
  g_autoptr (GString) sql = g_string_new ("BEGIN;");

  for (int i = 0; i < 3000; i++)
    g_string_append_printf (sql, "CREATE VIEW v%d AS SELECT * FROM thing, thing AS b;", i);
  g_string_append (sql, "COMMIT");
  test_file_sql (path, sql->str);
  assert_refused (folder, path, DEW_STORE_ERROR_CONTENT, "sqlite_schema");
}

/* --- values ------------------------------------------------------------ */

static void
test_typed (void)
{
  static const struct
  {
    const char *sql, *table, *column;
  } rows[] = {
    { "UPDATE fan SET diameter_m = '0.12 m'", "fan", "diameter_m" },
    { "UPDATE fan SET diameter_m = NULL", "fan", "diameter_m" },
    { "UPDATE enclosure SET next_id = 'many'", "enclosure", "next_id" },
    { "UPDATE enclosure SET month = 1e30", "enclosure", "month" },
    { "UPDATE thing SET name = x'00ff'", "thing", "name" },
    { "UPDATE thing SET name = CAST (x'c328' AS TEXT)", "thing", "name" },
    { "UPDATE thing SET name = replace (hex (zeroblob (40)), '0', 'n')", "thing", "name" },
    { "UPDATE plant SET keep_place = 99999999999", "plant", "keep_place" },
    { "UPDATE shelf SET board = 'cloth'", "shelf", "board" },
    { "UPDATE room_month SET t_day_C = 'warm' WHERE month = 5", "room_month", "t_day_C" },
    { "UPDATE wish SET count = NULL", "wish", "count" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (TestFolder) folder = test_folder_new ();
      g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
      g_autofree char *column = g_strdup_printf ("column \"%s\"", rows[i].column);
      /* A tool that heeds neither types nor checks, and puts the declaration back. */
      g_autofree char *sql = g_strdup_printf (
        "PRAGMA ignore_check_constraints = ON; PRAGMA writable_schema = ON; "
        "CREATE TEMP TABLE kept AS SELECT sql FROM sqlite_schema WHERE name = '%s'; "
        "UPDATE sqlite_schema SET sql = replace (replace (sql, ') STRICT', ')'), 'NOT NULL', '') "
        "WHERE name = '%s'; PRAGMA writable_schema = RESET; %s; PRAGMA writable_schema = ON; "
        "UPDATE sqlite_schema SET sql = (SELECT sql FROM kept) WHERE name = '%s'",
        rows[i].table, rows[i].table, rows[i].sql, rows[i].table);

      g_test_message ("%s", rows[i].sql);
      test_file_sql (path, sql);
      assert_refused (folder, path, DEW_STORE_ERROR_CONTENT, column);
    }
}

/* Names of older programs may hold line breaks and marks of direction: they open without. */
static void
test_plain_names (void)
{
  static const struct
  {
    const char *sql, *name;
  } rows[] = {
    { "'Fan' || char (10) || 'dewtier: all is well'", "Fan dewtier: all is well" },
    { "'Fan' || char (8238) || 'gnp.exe'", "Fangnp.exe" },
    { "'Fan' || char (65534)", "Fan" },
    { "'Fan' || char (8232, 9) || 'x'", "Fan  x" },
    { "'Lüfter №1 ✿'", "Lüfter №1 ✿" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (TestFolder) folder = test_folder_new ();
      g_autofree char *path = document_in (folder, "a.dewtier", 0.9);
      g_autofree char *sql = g_strdup_printf (
        "UPDATE variant SET name = %s WHERE id = 1; UPDATE undo_text SET "
        "document = replace (document, '\"Fan at the bottom\"', json_quote (%s))",
        rows[i].sql, rows[i].sql);
      g_autoptr (DewChamber) chamber = NULL;
      g_autoptr (GError) error = NULL;

      test_file_sql (path, sql);
      chamber = dew_store_load (path, &error);
      g_assert_no_error (error);
      g_assert_cmpstr (dew_chamber_shown (chamber)->name, ==, rows[i].name);
      widen (path, 1.1);
      g_assert_cmpfloat (width_in (path), ==, 1.1);
    }
}

/* What a message repeats of a file cannot steer a terminal or forge a line. */
static void
test_plain_messages (void)
{
  static const char *const texts[] = {
    "{\"format\": \"dewtier enclosure\", \"version\": 4, \"name\": \"A\", "
    "\"a\\u001b[2J\\ndewtier: all is well\\u202e\": 1}",
    "{\"format\": \"dewtier enclosure\", \"version\": 4, \"name\": \"A\", \"outer_m\": [1,1,1], "
    "\"variants\": [{\"id\": 1, \"name\": \"A\", \"things\": [{\"id\": 2, \"name\": \"\", "
    "\"type\": \"x\\u001b]0;y\\u0007\\u2067\"}]}]}",
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (dew_json_to_chamber (texts[i], -1, &error));
      g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT);
      g_assert_true (dew_text_is_plain (error->message, FALSE));
    }
}

/* --- names of files ---------------------------------------------------- */

/* A name that leaves no room for the journal's could never be saved again. */
static void
test_longest_name (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autoptr (DewChamber) demo = dew_chamber_demo ();

  for (gsize n = 246; n <= 255; n++)
    {
      g_autofree char *stem = g_strnfill (n - strlen (".dewtier"), 'n');
      g_autofree char *name = g_strconcat (stem, ".dewtier", NULL);
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (GError) error = NULL;

      if (dew_store_create (path, demo, FALSE, &error))
        {
          g_assert_cmpuint (n, <=, 247);
          widen (path, 1.1);
          g_assert_cmpfloat (width_in (path), ==, 1.1);
        }
      else
        {
          g_assert_cmpuint (n, >, 247);
          g_assert_nonnull (strstr (error->message, "choose a shorter one"));
        }
    }
}

/* The copy of an older form never goes through a link, wherever that leads. */
static void
test_copy_beside_links (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *from = g_build_filename (DEW_TESTS_DIR, "store", "version-1.dewtier", NULL);
  g_autofree char *path = g_build_filename (folder, "a.dewtier", NULL);
  g_autofree char *link_name = g_build_filename (folder, "a.form-1.dewtier", NULL);
  g_autofree char *copy = g_build_filename (folder, "a.form-1-2.dewtier", NULL);
  g_autofree char *victim = g_build_filename (folder, "nowhere-yet", NULL);
  g_autoptr (GBytes) old = test_file_bytes (from);
  g_autoptr (GBytes) kept = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = NULL;

  test_file_put (path, old);
  g_assert_cmpint (symlink (victim, link_name), ==, 0);
  store = dew_store_open (path, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (dew_store_copy (store), ==, copy);
  g_assert_false (g_file_test (victim, G_FILE_TEST_EXISTS));
  kept = test_file_bytes (copy);
  g_assert_true (g_bytes_equal (kept, old));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/hostile/reading-writes-nothing", test_reading_writes_nothing);
  g_test_add_func ("/hostile/reading-beside-a-writer", test_reading_beside_a_writer);
  g_test_add_func ("/hostile/new-in-place-of-a-killed-one", test_new_in_place_of_a_killed_one);
  g_test_add_func ("/hostile/new-in-place-of-a-busy-one", test_new_in_place_of_a_busy_one);
  g_test_add_func ("/hostile/backup-over-a-killed-one", test_backup_over_a_killed_one);
  g_test_add_func ("/hostile/journal-that-names-another", test_journal_that_names_another);
  g_test_add_func ("/hostile/log-beside", test_log_beside);
  g_test_add_func ("/hostile/written-over", test_written_over);
  g_test_add_func ("/hostile/declared", test_declared);
  g_test_add_func ("/hostile/too-much", test_too_much);
  g_test_add_func ("/hostile/many-tables", test_many_tables);
  g_test_add_func ("/hostile/typed", test_typed);
  g_test_add_func ("/hostile/plain-names", test_plain_names);
  g_test_add_func ("/hostile/plain-messages", test_plain_messages);
  g_test_add_func ("/hostile/longest-name", test_longest_name);
  g_test_add_func ("/hostile/copy-beside-links", test_copy_beside_links);
  return g_test_run ();
}
