/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/random-chamber.h"
#include "store/file.h"
#include "store/store.h"
#include "say/problems.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* Measured against SQLite itself (www.sqlite.org: file format, pragmas) and
 * against the kernel: what a killed process leaves behind. */

static char *
folder_new (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("dewtier-store-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

static void
folder_free (char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_unlink (path);
    }
  g_rmdir (folder);
  g_free (folder);
}

typedef char Folder;
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Folder, folder_free)

static guint
files_in (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static char *
digest (const char *path)
{
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) text, length);
}

/* A demo document in `folder`; its path. */
static char *
demo_file (const char *folder)
{
  char *path = g_build_filename (folder, "demo" DEW_STORE_SUFFIX, NULL);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (GError) error = NULL;

  DewPlantKind kind;

  dew_plant_kind_init (&kind);
  g_strlcpy (kind.name, "Own kind", sizeof kind.name);
  dew_chamber_add_kind (demo, &kind);
  dew_store_create (path, demo, FALSE, &error);
  g_assert_no_error (error);
  return path;
}

static void
write_bytes (const char *path, const char *bytes, gssize n)
{
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, bytes, n, &error);
  g_assert_no_error (error);
}

static void
run_sql (const char *path, const char *sql)
{
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  if (sqlite3_exec (db, sql, NULL, NULL, NULL) != SQLITE_OK)
    g_error ("%s: %s", sql, sqlite3_errmsg (db));
  sqlite3_close (db);
}

/* --- life -------------------------------------------------------------- */

static void
test_round_trip (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = g_build_filename (folder, "x" DEW_STORE_SUFFIX, NULL);
  g_autoptr (GRand) random = g_rand_new_with_seed (40);

  for (int i = 0; i < 25; i++)
    {
      g_autoptr (DewChamber) chamber = random_chamber (random);
      g_autoptr (GError) error = NULL;
      g_autoptr (DewChamber) loaded = NULL;
      g_autoptr (DewStore) store = NULL;
      g_autoptr (DewHistory) history = NULL;

      dew_store_create (path, chamber, TRUE, &error);
      g_assert_no_error (error);
      loaded = dew_store_load (path, &error);
      g_assert_no_error (error);
      g_assert_true (dew_chamber_equal (chamber, loaded));
      store = dew_store_open (path, &error);
      g_assert_no_error (error);
      history = dew_store_history (store);
      g_assert_true (dew_chamber_equal (chamber, dew_history_present (history)));
      g_assert_false (dew_store_read_only (store));
      g_assert_cmpstr (dew_store_path (store), ==, path);
      g_assert_cmpuint (files_in (folder), ==, 1);
    }
}

static void
test_create_refuses (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autofree char *nowhere = g_build_filename (folder, "no", "such", "x.dewtier", NULL);
  g_autofree char *before = digest (path);
  g_autofree char *after = NULL;
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (GError) error = NULL;

  g_assert_false (dew_store_create (path, chamber, FALSE, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO);
  after = digest (path);
  g_assert_cmpstr (before, ==, after);
  g_clear_error (&error);

  g_assert_false (dew_store_create (nowhere, chamber, TRUE, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO);
  g_clear_error (&error);

  g_assert_false (dew_store_create (folder, chamber, TRUE, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO);
  g_clear_error (&error);

  chamber->outer_m[0] = 100.0;
  g_assert_false (dew_store_create (path, chamber, TRUE, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT);
  g_assert_cmpuint (files_in (folder), ==, 1);
}

static void
save_width (DewStore *store, DewHistory *history, double width_m)
{
  g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));

  next->outer_m[0] = width_m;
  g_assert_true (dew_history_push (history, next, "Widen", NULL, NULL));
  dew_store_save (store, history, NULL, NULL);
}

/* Goes to the beginning of both and along both to the end. */
static void
assert_same_history (const DewHistory *one, const DewHistory *other)
{
  g_autoptr (DewHistory) a = dew_history_copy (one);
  g_autoptr (DewHistory) b = dew_history_copy (other);

  g_assert_cmpuint (dew_history_length (a), ==, dew_history_length (b));
  g_assert_cmpuint (dew_history_index (a), ==, dew_history_index (b));
  while (dew_history_undo (a) != NULL)
    g_assert_nonnull (dew_history_undo (b));
  g_assert_null (dew_history_undo (b));
  for (;;)
    {
      g_assert_true (dew_chamber_equal (dew_history_present (a), dew_history_present (b)));
      g_assert_cmpstr (dew_history_can_redo (a), ==, dew_history_can_redo (b));
      if (dew_history_redo (a) == NULL)
        break;
      g_assert_nonnull (dew_history_redo (b));
    }
  g_assert_cmpuint (dew_history_index (b), ==, dew_history_length (one) - 1);
}

static DewHistory *
history_in (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = dew_store_open (path, &error);

  g_assert_no_error (error);
  return dew_store_history (store);
}

/* Undo survives closing, whatever the list of edits, undos and saves was. */
static void
test_undo_survives (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (GRand) random = g_rand_new_with_seed (41);

  for (int round = 0; round < 6; round++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (DewStore) store = dew_store_open (path, &error);
      g_autoptr (DewHistory) history = dew_store_history (store);
      g_autoptr (DewHistory) read = NULL;

      for (int i = 0; i < 40; i++)
        {
          g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));

          random_edit (random, next);
          if (g_rand_int_range (random, 0, 4) == 0)
            dew_history_undo (history);
          else if (g_rand_int_range (random, 0, 6) == 0)
            dew_history_redo (history);
          else
            dew_history_push (history, next, "Edit", g_rand_boolean (random) ? "run" : NULL, NULL);
          if (g_rand_int_range (random, 0, 3) == 0)
            dew_store_save (store, history, NULL, NULL);
        }
      dew_store_save (store, history, NULL, NULL);
      dew_store_flush (store, &error);
      g_assert_no_error (error);
      read = history_in (path);
      assert_same_history (history, read);
    }
}

/* No step is ever dropped. */
static void
test_steps_without_limit (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (DewStore) store = dew_store_open (path, NULL);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (DewHistory) read = NULL;
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < 350; i++)
    save_width (store, history, 0.71 + i * 0.001);
  dew_store_flush (store, &error);
  g_assert_no_error (error);
  read = history_in (path);
  g_assert_cmpuint (dew_history_length (read), ==, 351);
  assert_same_history (history, read);
}

typedef struct
{
  guint calls;
  guint errors;
  GThread *thread;
} Told;

static void
on_saved (const GError *error, gpointer user_data)
{
  Told *told = user_data;

  told->calls++;
  told->errors += error != NULL;
  told->thread = g_thread_self ();
}

/* Every caller is told, in its own thread, also when a newer save overtakes. */
static void
test_told (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  DewStore *store = dew_store_open (path, NULL);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (DewChamber) loaded = NULL;
  Told told = { 0 };

  for (int i = 0; i < 50; i++)
    {
      g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));

      next->outer_m[0] = 0.8 + i * 0.001;
      dew_history_push (history, next, "Widen", "run", NULL);
      dew_store_save (store, history, on_saved, &told);
    }
  while (told.calls < 50)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpuint (told.errors, ==, 0);
  g_assert_true (told.thread == g_thread_self ());

  /* After closing nobody is told any more, but all is written. */
  save_width (store, history, 1.5);
  dew_store_save (store, history, on_saved, &told);
  dew_store_close (store);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_cmpuint (told.calls, ==, 50);
  loaded = dew_store_load (path, NULL);
  g_assert_cmpfloat (loaded->outer_m[0], ==, 1.5);
}

/* What could not be read again never comes into the list, so never into a file. */
static void
test_never_unreadable (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (DewStore) store = dew_store_open (path, NULL);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (DewHistory) read = NULL;
  g_autoptr (DewChamber) wide = NULL;
  g_autoptr (GError) error = NULL;

  save_width (store, history, 0.8);
  g_assert_true (dew_store_flush (store, &error));
  wide = dew_chamber_copy (dew_history_present (history));
  wide->outer_m[0] = 50.0;
  g_assert_false (dew_history_push (history, wide, "Widen", NULL, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_cmpfloat (dew_history_present (history)->outer_m[0], ==, 0.8);
  g_assert_cmpuint (dew_history_length (history), ==, 2);

  save_width (store, history, 0.9);
  g_assert_true (dew_store_flush (store, &error));
  read = history_in (path);
  assert_same_history (history, read);
}

/* Steps that somebody has spoilt: the document opens, what lies beyond them cannot
 * be undone or redone, and the next save puts the file in order. */
static void
test_spoilt_steps (void)
{
  static const char *const spoils[] = {
    "UPDATE undo_step SET change = 'nonsense' WHERE number IN (1, 3)",
    "UPDATE undo_step SET change = '@99999\n-a\n' WHERE number IN (1, 3)",
    "UPDATE undo_step SET change = '@-4' WHERE number IN (1, 3)",
    "UPDATE undo_step SET change = replace (replace (change, '0.7', '9e9'), '0.9', '9e9') WHERE "
    "number IN (1, 3)",
    "UPDATE undo_step SET change = '' || change || '@1\n+[' WHERE number IN (1, 3)",
  };

  for (guint i = 0; i < G_N_ELEMENTS (spoils); i++)
    {
      g_autoptr (Folder) folder = folder_new ();
      g_autofree char *path = demo_file (folder);
      DewStore *store = dew_store_open (path, NULL);
      g_autoptr (DewHistory) history = dew_store_history (store);
      g_autoptr (DewHistory) read = NULL;
      g_autoptr (GError) error = NULL;

      for (int k = 0; k < 3; k++)
        save_width (store, history, 0.8 + k * 0.1);
      dew_history_undo (history);
      dew_store_save (store, history, NULL, NULL);
      dew_store_close (store);
      run_sql (path, spoils[i]);

      store = dew_store_open (path, &error);
      g_assert_no_error (error);
      g_clear_pointer (&history, dew_history_free);
      history = dew_store_history (store);
      g_assert_cmpfloat (dew_history_present (history)->outer_m[0], ==, 0.9);
      g_assert_cmpfloat (dew_history_undo (history)->outer_m[0], ==, 0.8);
      g_assert_null (dew_history_undo (history));
      g_assert_null (dew_history_can_undo (history));
      g_assert_cmpfloat (dew_history_redo (history)->outer_m[0], ==, 0.9);
      g_assert_null (dew_history_redo (history));
      g_assert_null (dew_history_can_redo (history));
      save_width (store, history, 1.5);
      g_assert_true (dew_store_flush (store, &error));
      dew_store_close (store);
      read = history_in (path);
      assert_same_history (history, read);
    }
}

/* --- others at the same file ------------------------------------------- */

static void
test_gone (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (DewStore) store = dew_store_open (path, NULL);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (GError) error = NULL;

  g_unlink (path);
  save_width (store, history, 1.0);
  g_assert_false (dew_store_flush (store, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_MISSING);
  g_clear_error (&error);
  /* The error is told once. */
  g_assert_true (dew_store_flush (store, &error));
  g_assert_no_error (error);
}

static void
test_changed_by_another (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (DewStore) one = dew_store_open (path, NULL);
  g_autoptr (DewStore) other = dew_store_open (path, NULL);
  g_autoptr (DewHistory) history = dew_store_history (one);
  g_autoptr (DewHistory) other_history = dew_store_history (other);
  g_autoptr (DewChamber) loaded = NULL;
  g_autoptr (GError) error = NULL;

  save_width (one, history, 1.0);
  save_width (one, history, 1.1);
  dew_store_flush (one, &error);
  g_assert_no_error (error);
  save_width (other, other_history, 2.0);
  g_assert_false (dew_store_flush (other, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_BUSY);
  loaded = dew_store_load (path, NULL);
  g_assert_cmpfloat (loaded->outer_m[0], ==, 1.1);
}

static void
test_locked (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (DewStore) store = dew_store_open (path, NULL);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (GError) error = NULL;
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "BEGIN EXCLUSIVE", NULL, NULL, NULL), ==, SQLITE_OK);
  save_width (store, history, 1.0);
  g_assert_false (dew_store_flush (store, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_BUSY);
  g_clear_error (&error);
  sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
  sqlite3_close (db);
  save_width (store, history, 1.1);
  g_assert_true (dew_store_flush (store, &error));
  g_assert_no_error (error);
}

/* --- the tables -------------------------------------------------------- */

static void
check_columns (sqlite3 *db, const char *table, const DewField *fields, int more)
{
  g_autofree char *sql = g_strdup_printf ("SELECT name, type, \"notnull\" "
                                          "FROM pragma_table_info ('%s')",
                                          table);
  sqlite3_stmt *statement = NULL;
  const DewField *field = fields;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  for (int i = 0; i < more; i++)
    g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  while (sqlite3_step (statement) == SQLITE_ROW)
    {
      const char *type = field->type == DEW_FIELD_REAL ? "REAL"
                         : field->type == DEW_FIELD_TEXT || field->type == DEW_FIELD_CHOICE
                           ? "TEXT"
                           : "INTEGER";

      g_assert_cmpstr ((const char *) sqlite3_column_text (statement, 0), ==, field->key);
      g_assert_cmpstr ((const char *) sqlite3_column_text (statement, 1), ==, type);
      g_assert_cmpint (sqlite3_column_int (statement, 2), ==, 1);
      field++;
    }
  g_assert_null (field->key);
  sqlite3_finalize (statement);
}

static int
number_of (sqlite3 *db, const char *sql)
{
  sqlite3_stmt *statement = NULL;
  int value;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  value = sqlite3_column_int (statement, 0);
  sqlite3_finalize (statement);
  return value;
}

/* The columns are the field tables, in their order, and STRICT. */
static void
test_tables (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    check_columns (db, dew_thing_kind_key (kind), dew_thing_fields (kind), 1);
  check_columns (db, "panel", dew_panel_fields (), 1);
  check_columns (db, "room_month", dew_month_fields (), 1);
  check_columns (db, "room", dew_room_fields (), 1);
  check_columns (db, "wish", dew_wish_fields (), 2);
  check_columns (db, "plant_kind", dew_plant_kind_fields (), 1);
  g_assert_cmpint (number_of (db, "SELECT count (*) FROM pragma_table_list WHERE schema = 'main' "
                                  "AND name NOT LIKE 'sqlite%' AND NOT strict"),
                   ==, 0);
  g_assert_cmpint (number_of (db, "PRAGMA application_id"), ==, DEW_FILE_APPLICATION_ID);
  g_assert_cmpint (number_of (db, "PRAGMA user_version"), ==, DEW_FILE_VERSION);
  g_assert_cmpint (number_of (db, "SELECT count (*) FROM plant JOIN thing ON id = thing_id "
                                  "WHERE variant_id = 1"),
                   ==, 8);
  sqlite3_close (db);
}

static void
assert_table_refuses (sqlite3 *db, const char *table, const DewField *fields)
{
  for (const DewField *field = fields; field->key != NULL; field++)
    {
      const double values[] = { field->min, field->max, field->min - 1.0, field->max + 1.0 };

      if (field->type != DEW_FIELD_REAL && field->type != DEW_FIELD_COUNT)
        continue;
      for (guint i = 0; i < G_N_ELEMENTS (values); i++)
        {
          char text[G_ASCII_DTOSTR_BUF_SIZE];
          g_autofree char *sql = g_strdup_printf ("UPDATE %s SET %s = %s", table, field->key,
                                                  g_ascii_dtostr (text, sizeof text, values[i]));

          g_assert_cmpint (sqlite3_exec (db, sql, NULL, NULL, NULL), ==,
                           i < 2 ? SQLITE_OK : SQLITE_CONSTRAINT);
        }
    }
}

/* The checks in the tables refuse exactly what the field tables refuse. */
static void
test_table_checks (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  sqlite3_exec (db, "BEGIN", NULL, NULL, NULL);
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    if (kind != DEW_THING_MAT && kind != DEW_THING_SOURCE) /* the demo has none */
      assert_table_refuses (db, dew_thing_kind_key (kind), dew_thing_fields (kind));
  assert_table_refuses (db, "room_month", dew_month_fields ());
  assert_table_refuses (db, "wish", dew_wish_fields ());
  assert_table_refuses (db, "plant_kind", dew_plant_kind_fields ());
  sqlite3_close (db);
}

/* Another tool may change the tables: they are the truth, undo stays. */
static void
test_edited_outside (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  DewStore *store = dew_store_open (path, NULL);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (DewHistory) read = NULL;
  g_autoptr (GError) error = NULL;
  sqlite3 *db = NULL;

  save_width (store, history, 0.9);
  dew_store_close (store);
  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "UPDATE enclosure SET outer_x_m = 1.25", NULL, NULL, NULL), ==,
                   SQLITE_OK);
  sqlite3_close (db);
  read = history_in (path);
  g_assert_cmpfloat (dew_history_present (read)->outer_m[0], ==, 1.25);
  g_assert_cmpfloat (dew_history_undo (read)->outer_m[0], ==, 0.7);

  /* And the next save agrees with that. */
  store = dew_store_open (path, NULL);
  g_clear_pointer (&read, dew_history_free);
  read = dew_store_history (store);
  save_width (store, read, 1.5);
  g_assert_true (dew_store_flush (store, &error));
  dew_store_close (store);
  g_clear_pointer (&history, dew_history_free);
  history = history_in (path);
  assert_same_history (history, read);
}

/* --- older forms ------------------------------------------------------- */

/* A document that the program of form 1 wrote: the demo with a mat and a source
 * more, and six steps, two of them undone. */
static char *
old_file (const char *folder, const char *name)
{
  g_autofree char *from = g_build_filename (DEW_TESTS_DIR, "store", name, NULL);
  char *path = g_build_filename (folder, "old" DEW_STORE_SUFFIX, NULL);
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  g_file_get_contents (from, &bytes, &length, &error);
  g_assert_no_error (error);
  write_bytes (path, bytes, (gssize) length);
  return path;
}

/* What is known of it, from the program that wrote it. */
static void
assert_form_1 (const DewChamber *chamber)
{
  const DewVariant *shown = dew_chamber_shown (chamber);
  guint n_plants = 0;

  g_assert_cmpstr (chamber->name, ==, "Hallway cabinet");
  g_assert_cmpfloat (chamber->outer_m[0], ==, 0.8);
  g_assert_cmpint (chamber->month, ==, 4);
  g_assert_cmpuint (chamber->variants->len, ==, 2);
  g_assert_cmpuint (chamber->wishes->len, ==, 0);
  g_assert_cmpuint (chamber->kinds->len, ==, 0);
  for (guint i = 0; i < shown->things->len; i++)
    {
      const DewThing *thing = &g_array_index (shown->things, DewThing, i);

      if (thing->kind != DEW_THING_PLANT)
        continue;
      n_plants++;
      g_assert_cmpint (thing->plant.state, ==, DEW_PLANT_HEALTHY);
      g_assert_false (thing->plant.keep_place);
      g_assert_cmpfloat (thing->plant.pot_diameter_m, ==, 0.08);
    }
  g_assert_cmpuint (n_plants, ==, 8);
}

static void
assert_form_1_steps (DewHistory *history)
{
  static const char *const labels[]
    = { "Add heat mat", "Add source", "Widen", "Copy variant", "Look at January" };

  assert_form_1 (dew_history_present (history));
  g_assert_cmpuint (dew_history_length (history), ==, 6);
  g_assert_cmpuint (dew_history_index (history), ==, 3);
  while (dew_history_undo (history) != NULL)
    ;
  g_assert_cmpfloat (dew_history_present (history)->outer_m[0], ==, 0.7);
  for (guint i = 0; i < G_N_ELEMENTS (labels); i++)
    {
      g_assert_cmpstr (dew_history_can_redo (history), ==, labels[i]);
      g_assert_nonnull (dew_history_redo (history));
    }
  g_assert_cmpint (dew_history_present (history)->month, ==, 0);
  g_assert_cmpuint (dew_history_present (history)->variants->len, ==, 3);
}

/* Tables and columns, in a form that does not depend on how they were made. */
static char *
tables_of (const char *path)
{
  GString *all = g_string_new (NULL);
  sqlite3_stmt *statement = NULL;
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  g_assert_cmpint (
    sqlite3_prepare_v2 (db,
                        "SELECT t.name, t.strict, c.cid, c.name, c.type, "
                        "c.\"notnull\", c.dflt_value, c.pk "
                        "FROM pragma_table_list AS t JOIN pragma_table_info (t.name) "
                        "AS c WHERE t.schema = 'main' AND t.name NOT LIKE 'sqlite%' "
                        "ORDER BY t.name, c.cid",
                        -1, &statement, NULL),
    ==, SQLITE_OK);
  while (sqlite3_step (statement) == SQLITE_ROW)
    for (int i = 0; i < 8; i++)
      g_string_append_printf (all, "%s%c", (const char *) sqlite3_column_text (statement, i),
                              i < 7 ? ' ' : '\n');
  sqlite3_finalize (statement);
  sqlite3_close (db);
  return g_string_free (all, FALSE);
}

static void
test_migration (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = old_file (folder, "version-1.dewtier");
  g_autofree char *new_path = demo_file (folder);
  g_autofree char *copy = g_build_filename (folder, "old.form-1" DEW_STORE_SUFFIX, NULL);
  g_autofree char *is = NULL, *wanted = NULL;
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (DewHistory) read = NULL;
  g_autoptr (DewChamber) kept = NULL;
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (path, &error);
  sqlite3 *db = NULL;

  g_assert_no_error (error);
  g_assert_false (dew_store_read_only (store));
  g_assert_cmpstr (dew_store_copy (store), ==, copy);
  history = dew_store_history (store);
  assert_form_1_steps (history);
  save_width (store, history, 1.1);
  g_assert_true (dew_store_flush (store, &error));
  dew_store_close (store);
  read = history_in (path);
  assert_same_history (history, read);

  is = tables_of (path);
  wanted = tables_of (new_path);
  g_assert_cmpstr (is, ==, wanted);
  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (number_of (db, "PRAGMA user_version"), ==, DEW_FILE_VERSION);
  g_assert_cmpint (number_of (db, "SELECT count (*) FROM pragma_foreign_key_check"), ==, 0);
  assert_table_refuses (db, "plant", dew_thing_fields (DEW_THING_PLANT));
  sqlite3_close (db);

  /* The copy is the old file, and opens like it. */
  g_assert_cmpint (sqlite3_open (copy, &db), ==, SQLITE_OK);
  g_assert_cmpint (number_of (db, "PRAGMA user_version"), ==, 1);
  sqlite3_close (db);
  kept = dew_store_load (copy, &error);
  g_assert_no_error (error);
  assert_form_1 (kept);
}

/* The own kinds of a file of form 2, written by the program of that time, get the leaves
 * that their genus, else their group makes likely; all steps stay. */
static void
test_migration_2 (void)
{
  static const char *const labels[] = { "Add kinds of plant", "Take kinds of plant",
                                        "Wish for Moon lily", "Widen", "Remove a kind of plant" };
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = old_file (folder, "version-2.dewtier");
  g_autofree char *new_path = demo_file (folder);
  g_autofree char *is = NULL, *wanted = NULL;
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (DewHistory) read = NULL;
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (path, &error);
  const DewChamber *present;

  g_assert_no_error (error);
  history = dew_store_history (store);
  present = dew_history_present (history);
  g_assert_cmpint (dew_chamber_kind (present, "Moon lily")->leaf, ==, DEW_LEAF_THIN_ORCHID);
  g_assert_cmpint (dew_chamber_kind (present, "Dracula of my own")->leaf, ==, DEW_LEAF_THIN_ORCHID);
  g_assert_cmpint (dew_chamber_kind (present, "Marsh marigold")->leaf, ==, DEW_LEAF_HERB);
  g_assert_cmpint (dew_chamber_kind (present, "Wall rue")->leaf, ==, DEW_LEAF_SHADE_FERN);
  g_assert_cmpuint (dew_history_length (history), ==, 6);
  g_assert_cmpuint (dew_history_index (history), ==, 4);
  while (dew_history_undo (history) != NULL)
    ;
  g_assert_cmpuint (dew_history_present (history)->kinds->len, ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (labels); i++)
    {
      g_assert_cmpstr (dew_history_can_redo (history), ==, labels[i]);
      g_assert_nonnull (dew_history_redo (history));
    }
  save_width (store, history, 1.1);
  g_assert_true (dew_store_flush (store, &error));
  dew_store_close (store);
  read = history_in (path);
  assert_same_history (history, read);
  is = tables_of (path);
  wanted = tables_of (new_path);
  g_assert_cmpstr (is, ==, wanted);
}

/* A file of form 3, written by the program of that time: nothing of it is lost, and its
 * steps lead where they led. */
static void
test_migration_3 (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = old_file (folder, "version-3.dewtier");
  g_autofree char *new_path = demo_file (folder);
  g_autofree char *is = NULL, *wanted = NULL;
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (DewHistory) read = NULL;
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (path, &error);

  g_assert_no_error (error);
  history = dew_store_history (store);
  g_assert_cmpuint (dew_history_length (history), ==, 9);
  g_assert_cmpuint (dew_history_index (history), ==, 7);
  g_assert_cmpuint (dew_history_present (history)->variants->len, ==, 3);
  g_assert_cmpstr (dew_history_can_redo (history), ==, "Widen to 90 cm");
  g_assert_cmpfloat (dew_history_redo (history)->outer_m[0], ==, 0.9);
  while (dew_history_undo (history) != NULL)
    ;
  g_assert_cmpuint (dew_history_present (history)->kinds->len, ==, 0);
  while (dew_history_redo (history) != NULL)
    ;
  save_width (store, history, 1.1);
  g_assert_true (dew_store_flush (store, &error));
  dew_store_close (store);
  read = history_in (path);
  assert_same_history (history, read);
  is = tables_of (path);
  wanted = tables_of (new_path);
  g_assert_cmpstr (is, ==, wanted);
}

/* Only looking at an old file changes neither it nor its folder. */
static void
test_migration_in_memory (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = old_file (folder, "version-1.dewtier");
  g_autofree char *before = digest (path);
  g_autofree char *after = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) loaded = dew_store_load (path, &error);

  g_assert_no_error (error);
  assert_form_1 (loaded);
  after = digest (path);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (files_in (folder), ==, 1);
}

/* An older copy is never written over. */
static void
test_migration_keeps_copies (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = old_file (folder, "version-1.dewtier");
  g_autofree char *taken = g_build_filename (folder, "old.form-1" DEW_STORE_SUFFIX, NULL);
  g_autofree char *text = NULL;
  g_autoptr (DewStore) store = NULL;

  write_bytes (taken, "mine", 4);
  store = dew_store_open (path, NULL);
  g_assert_nonnull (store);
  g_assert_true (g_str_has_suffix (dew_store_copy (store), "old.form-1-2" DEW_STORE_SUFFIX));
  g_assert_true (g_file_get_contents (taken, &text, NULL, NULL));
  g_assert_cmpstr (text, ==, "mine");
}

static int
open_old_read_only (const char *path)
{
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (path, &error);
  g_autoptr (DewHistory) history = NULL;

  if (store == NULL)
    return 1;
  if (!dew_store_read_only (store) || dew_store_copy (store) != NULL)
    return 2;
  history = dew_store_history (store);
  assert_form_1_steps (history);
  dew_store_close (store);
  return 0;
}

static int
open_and_migrate (const char *path)
{
  g_autoptr (DewStore) store = dew_store_open (path, NULL);

  return store != NULL ? 0 : 1;
}

static int as_nobody (int (*work) (const char *path), const char *path);

static void
test_migration_read_only (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = old_file (folder, "version-1.dewtier");
  g_autofree char *before = digest (path);
  g_autofree char *after = NULL;

  g_chmod (path, 0444);
  g_chmod (folder, 0555);
  g_assert_cmpint (as_nobody (open_old_read_only, path), ==, 0);
  g_chmod (folder, 0755);
  after = digest (path);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (files_in (folder), ==, 1);
}

/* Killed at any moment of it: the file is whole, in the one form or the other. */
static void
test_migration_killed (void)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autoptr (GRand) random = g_rand_new_with_seed (44);

  for (int round = 0; round < 25; round++)
    {
      g_autoptr (Folder) folder = folder_new ();
      g_autofree char *path = old_file (folder, "version-1.dewtier");
      const char *argv[] = { self, "--migrate", path, NULL };
      g_autoptr (DewChamber) loaded = NULL;
      g_autoptr (GError) error = NULL;
      GPid child;

      g_spawn_async (NULL, (char **) argv, NULL, G_SPAWN_DO_NOT_REAP_CHILD, NULL, NULL, &child,
                     &error);
      g_assert_no_error (error);
      g_usleep ((gulong) g_rand_int_range (random, 500, 80000));
      kill (child, SIGKILL);
      g_assert_cmpint (waitpid (child, NULL, 0), ==, child);
      g_spawn_close_pid (child);
      loaded = dew_store_load (path, &error);
      g_assert_no_error (error);
      assert_form_1 (loaded);
    }
}

/* An old file that says something impossible is refused and stays as it is. */
static void
test_migration_refused (void)
{
  static const char *const spoils[] = {
    "UPDATE undo_step SET document = '{}' WHERE number = 2",
    "DROP TABLE lamp",
    "UPDATE enclosure SET next_id = 2",
    "PRAGMA ignore_check_constraints = ON; UPDATE plant SET mass_kg = -1.0",
    "CREATE TABLE wish (name TEXT)",
  };

  for (guint i = 0; i < G_N_ELEMENTS (spoils); i++)
    {
      g_autoptr (Folder) folder = folder_new ();
      g_autofree char *path = old_file (folder, "version-1.dewtier");
      g_autofree char *before = NULL;
      g_autofree char *after = NULL;
      g_autoptr (GError) error = NULL;

      run_sql (path, spoils[i]);
      before = digest (path);
      g_assert_null (dew_store_open (path, &error));
      g_assert_true (error->domain == DEW_STORE_ERROR);
      g_assert_cmpuint (files_in (folder), ==, 1);
      after = digest (path);
      g_assert_cmpstr (before, ==, after);
    }
}

/* --- faults ------------------------------------------------------------ */

/* Opening fails with `code`, says where, and leaves the folder as it was. */
static void
assert_fails (const char *path, DewStoreError code)
{
  g_autofree char *folder = g_path_get_dirname (path);
  gboolean is_file = g_file_test (path, G_FILE_TEST_IS_REGULAR);
  g_autofree char *before = is_file ? digest (path) : NULL;
  guint n = files_in (folder);
  g_autofree char *after = NULL;

  for (int way = 0; way < 2; way++)
    {
      g_autoptr (GError) error = NULL;

      if (way == 0)
        g_assert_null (dew_store_open (path, &error));
      else
        g_assert_null (dew_store_load (path, &error));
      if (!g_error_matches (error, DEW_STORE_ERROR, (int) code))
        g_error ("%s: expected %d, got %d: %s", path, (int) code, error->code, error->message);
      g_assert_true (g_str_has_prefix (error->message, path));
      g_assert_nonnull (strstr (error->message, ";"));
      g_assert_cmpuint (strlen (error->message), >, strlen (path) + 20);
    }
  g_assert_cmpuint (files_in (folder), ==, n);
  after = is_file ? digest (path) : NULL;
  g_assert_cmpstr (before, ==, after);
}

static void
test_faults (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *missing = g_build_filename (folder, "missing.dewtier", NULL);
  g_autofree char *empty = g_build_filename (folder, "empty.dewtier", NULL);
  g_autofree char *text = g_build_filename (folder, "text.dewtier", NULL);
  g_autofree char *head = g_build_filename (folder, "head.dewtier", NULL);
  g_autofree char *other = g_build_filename (folder, "other.dewtier", NULL);

  assert_fails (missing, DEW_STORE_ERROR_MISSING);
  assert_fails (folder, DEW_STORE_ERROR_FOREIGN);
  write_bytes (empty, "", 0);
  assert_fails (empty, DEW_STORE_ERROR_EMPTY);
  write_bytes (text, "A letter to my aunt.\n", -1);
  assert_fails (text, DEW_STORE_ERROR_FOREIGN);
  write_bytes (head, "SQLite format 3", 16);
  assert_fails (head, DEW_STORE_ERROR_DAMAGED);
  run_sql (other, "CREATE TABLE song (name TEXT)");
  assert_fails (other, DEW_STORE_ERROR_FOREIGN);
}

static void
test_faults_of_ours (void)
{
  static const struct
  {
    const char *sql;
    DewStoreError code;
  } rows[] = {
    { "PRAGMA user_version = 5", DEW_STORE_ERROR_NEWER },
    { "PRAGMA user_version = 0", DEW_STORE_ERROR_DAMAGED },
    { "PRAGMA user_version = -1", DEW_STORE_ERROR_NEWER },
    { "PRAGMA application_id = 7", DEW_STORE_ERROR_FOREIGN },
    { "PRAGMA journal_mode = WAL", DEW_STORE_ERROR_FOREIGN },
    { "DROP TABLE undo_step; DROP TABLE fan", DEW_STORE_ERROR_DAMAGED },
    { "DELETE FROM fan", DEW_STORE_ERROR_CONTENT },
    { "DELETE FROM room", DEW_STORE_ERROR_CONTENT },
    { "DELETE FROM room_month WHERE month = 7", DEW_STORE_ERROR_CONTENT },
    { "DELETE FROM panel WHERE face = 'roof'", DEW_STORE_ERROR_CONTENT },
    { "DELETE FROM enclosure", DEW_STORE_ERROR_CONTENT },
    { "PRAGMA foreign_keys = OFF; DELETE FROM variant", DEW_STORE_ERROR_DAMAGED },
    { "UPDATE enclosure SET outer_x_m = 0.001", DEW_STORE_ERROR_CONTENT },
    { "UPDATE enclosure SET outer_x_m = 100.0", DEW_STORE_ERROR_CONTENT },
    { "UPDATE enclosure SET next_id = 3", DEW_STORE_ERROR_CONTENT },
    { "PRAGMA ignore_check_constraints = ON; UPDATE fan SET diameter_m = 9e999",
      DEW_STORE_ERROR_CONTENT },
    { "PRAGMA ignore_check_constraints = ON; UPDATE shelf SET board = 'cloth'",
      DEW_STORE_ERROR_CONTENT },
    { "DROP TABLE wish", DEW_STORE_ERROR_DAMAGED },
    { "DROP TABLE plant_kind", DEW_STORE_ERROR_DAMAGED },
    { "DROP TABLE undo_text", DEW_STORE_ERROR_DAMAGED },
    { "UPDATE undo_text SET document = '{}'", DEW_STORE_ERROR_CONTENT },
    { "UPDATE undo_text SET document = replace (document, '0.7', '1e400')",
      DEW_STORE_ERROR_CONTENT },
    { "PRAGMA ignore_check_constraints = ON; UPDATE wish SET count = 1000000",
      DEW_STORE_ERROR_CONTENT },
    { "PRAGMA ignore_check_constraints = ON; UPDATE wish SET count = 0", DEW_STORE_ERROR_CONTENT },
    { "UPDATE wish SET id = 1 WHERE position = 0", DEW_STORE_ERROR_CONTENT },
    { "UPDATE wish SET id = 99999 WHERE position = 0", DEW_STORE_ERROR_CONTENT },
    { "UPDATE plant_kind SET t_day_max_C = 1.0", DEW_STORE_ERROR_CONTENT },
    { "UPDATE plant_kind SET speed_lo_m_s = 3.0", DEW_STORE_ERROR_CONTENT },
    { "UPDATE undo_step SET number = 7", DEW_STORE_ERROR_DAMAGED },
    { "UPDATE thing SET name = char (27) || '[2J' WHERE id = 5", DEW_STORE_ERROR_CONTENT },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Folder) folder = folder_new ();
      g_autofree char *path = demo_file (folder);

      g_test_message ("%s", rows[i].sql);
      run_sql (path, rows[i].sql);
      assert_fails (path, rows[i].code);
    }
}

static void
test_truncated (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  for (gsize cut = 50; cut + 1 < length; cut += length / 23)
    {
      write_bytes (path, text, (gssize) cut);
      assert_fails (path, DEW_STORE_ERROR_DAMAGED);
    }
}

/* Bytes changed at random: an error or a document that passes, never a crash,
 * never a changed file. */
static void
test_random_damage (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (GRand) random = g_rand_new_with_seed (42);
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  for (int i = 0; i < 150; i++)
    {
      g_autofree char *bad = g_memdup2 (text, length);
      g_autofree char *before = NULL;
      g_autofree char *after = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (DewChamber) chamber = NULL;
      int n = g_rand_int_range (random, 1, 30);

      for (int k = 0; k < n; k++)
        bad[g_rand_int_range (random, 0, (int) length)] = (char) g_rand_int_range (random, 0, 256);
      write_bytes (path, bad, (gssize) length);
      before = digest (path);
      chamber = dew_store_load (path, &error);
      g_assert_true ((chamber != NULL) != (error != NULL));
      if (chamber != NULL)
        g_assert_true (dew_chamber_validate (chamber, NULL));
      after = digest (path);
      g_assert_cmpstr (before, ==, after);
      g_assert_cmpuint (files_in (folder), ==, 1);
    }
}

/* Runs `work` in a child that has given up the powers of root, which may write
 * what nobody else may. Returns its exit code. */
static int
as_nobody (int (*work) (const char *path), const char *path)
{
  pid_t child = fork ();
  int status;

  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      if (geteuid () == 0 && (setgid (65534) != 0 || setuid (65534) != 0))
        _exit (99);
      _exit (work (path));
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  return WEXITSTATUS (status);
}

static int
open_read_only (const char *path)
{
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (path, &error);
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (DewChamber) next = NULL;

  if (store == NULL)
    return 1;
  if (!dew_store_read_only (store))
    return 2;
  history = dew_store_history (store);
  next = dew_chamber_copy (dew_history_present (history));
  next->outer_m[0] = 1.0;
  dew_history_push (history, next, "Widen", NULL, NULL);
  dew_store_save (store, history, NULL, NULL);
  if (dew_store_flush (store, &error)
      || !g_error_matches (error, DEW_STORE_ERROR, DEW_STORE_ERROR_READ_ONLY))
    return 3;
  dew_store_close (store);
  return 0;
}

static int
open_unreadable (const char *path)
{
  g_autoptr (GError) error = NULL;

  return dew_store_open (path, &error) == NULL
             && g_error_matches (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO)
           ? 0
           : 1;
}

static void
test_read_only (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autofree char *before = digest (path);
  g_autofree char *after = NULL;

  /* The file may not be written. */
  g_chmod (folder, 0777);
  g_chmod (path, 0444);
  g_assert_cmpint (as_nobody (open_read_only, path), ==, 0);
  /* The file may, but not the folder, where the journal would be. */
  g_chmod (path, 0666);
  g_chmod (folder, 0555);
  g_assert_cmpint (as_nobody (open_read_only, path), ==, 0);
  /* Neither may be read. */
  g_chmod (path, 0200);
  g_assert_cmpint (as_nobody (open_unreadable, path), ==, 0);

  /* Without the rights of root its owner may not read it either. */
  g_chmod (path, 0644);
  g_chmod (folder, 0755);
  after = digest (path);
  g_assert_cmpstr (before, ==, after);
}

/* --- a process that is killed ------------------------------------------ */

/* Saves wider and wider enclosures until it is killed. */
static int
hammer (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = dew_store_open (path, &error);
  g_autoptr (DewHistory) history = NULL;

  if (store == NULL)
    return 1;
  history = dew_store_history (store);
  for (int i = 0; i < 100000; i++)
    {
      g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));

      next->outer_m[0] = next->outer_m[0] < 2.0 ? next->outer_m[0] + 0.001 : 0.7;
      /* All places tell the same number, so half a state would show. */
      next->outer_m[1] = next->outer_m[0];
      next->room.altitude_m = next->outer_m[0];
      g_array_index (dew_chamber_shown (next)->things, DewThing, 0).shelf.load_limit_kg
        = next->outer_m[0];
      dew_history_push (history, next, "Widen", NULL, NULL);
      dew_store_save (store, history, NULL, NULL);
      if (!dew_store_flush (store, &error))
        return 2;
    }
  return 0;
}

static void
test_killed (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (GRand) random = g_rand_new_with_seed (43);
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  const char *argv[] = { self, "--hammer", path, NULL };
  g_autoptr (DewStore) store = NULL;
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (GError) error = NULL;
  double last_m = 0.0;
  int moved = 0;
  int longest_us = 150000;

  /* On a busy machine a child may not come to write: then the next one gets
   * longer. */
  for (int round = 0; moved < 10 && round < 200; round++)
    {
      g_autoptr (DewHistory) found = NULL;
      const DewChamber *present;
      GPid child;
      int status;

      g_spawn_async (NULL, (char **) argv, NULL, G_SPAWN_DO_NOT_REAP_CHILD, NULL, NULL, &child,
                     &error);
      g_assert_no_error (error);
      g_usleep ((gulong) g_rand_int_range (random, longest_us / 10, longest_us));
      kill (child, SIGKILL);
      g_assert_cmpint (waitpid (child, &status, 0), ==, child);
      g_assert_true (WIFSIGNALED (status));
      g_spawn_close_pid (child);

      found = history_in (path);
      present = dew_history_present (found);
      if (present->outer_m[0] == last_m || present->outer_m[1] == 0.5)
        longest_us = MIN (longest_us * 2, 3000000);
      if (present->outer_m[1] == 0.5)
        continue; /* killed before the first save */
      g_assert_cmpfloat (present->outer_m[1], ==, present->outer_m[0]);
      g_assert_cmpfloat (present->room.altitude_m, ==, present->outer_m[0]);
      g_assert_cmpfloat (
        g_array_index (dew_chamber_shown (present)->things, DewThing, 0).shelf.load_limit_kg, ==,
        present->outer_m[0]);
      moved += present->outer_m[0] != last_m;
      last_m = present->outer_m[0];
    }
  g_assert_cmpint (moved, ==, 10);

  /* A journal that was killed before it held anything to roll back may lie
   * there still; the next save takes it away. */
  store = dew_store_open (path, &error);
  g_assert_no_error (error);
  history = dew_store_history (store);
  save_width (store, history, 2.5);
  dew_store_flush (store, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (files_in (folder), ==, 1);
}

/* A journal that a crash has left is rolled back, also when only reading. */
static void
test_left_journal (void)
{
  g_autoptr (Folder) folder = folder_new ();
  g_autofree char *path = demo_file (folder);
  g_autoptr (DewStore) store = NULL;
  g_autoptr (DewChamber) loaded = NULL;
  g_autoptr (GError) error = NULL;
  pid_t child = fork ();
  int status;

  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      sqlite3 *db = NULL;

      sqlite3_open (path, &db);
      sqlite3_exec (db,
                    "PRAGMA cache_size = 1; BEGIN; UPDATE plant SET mass_kg = 99.0; "
                    "DELETE FROM undo_step; UPDATE enclosure SET outer_x_m = 3.0;",
                    NULL, NULL, NULL);
      /* Out of the cache into the file, without a commit. */
      sqlite3_db_cacheflush (db);
      raise (SIGKILL);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_cmpuint (files_in (folder), ==, 2);
  loaded = dew_store_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat (loaded->outer_m[0], ==, 0.7);
  /* Reading leaves it; opening takes it away. */
  g_assert_cmpuint (files_in (folder), ==, 2);
  store = dew_store_open (path, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (files_in (folder), ==, 1);
}

int
main (int argc, char **argv)
{
  if (argc == 3 && strcmp (argv[1], "--hammer") == 0)
    return hammer (argv[2]);

  if (argc == 3 && strcmp (argv[1], "--migrate") == 0)
    return open_and_migrate (argv[2]);

  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/store/round-trip", test_round_trip);
  g_test_add_func ("/store/create-refuses", test_create_refuses);
  g_test_add_func ("/store/undo-survives", test_undo_survives);
  g_test_add_func ("/store/steps-without-limit", test_steps_without_limit);
  g_test_add_func ("/store/never-unreadable", test_never_unreadable);
  g_test_add_func ("/store/spoilt-steps", test_spoilt_steps);
  g_test_add_func ("/store/told", test_told);
  g_test_add_func ("/store/gone", test_gone);
  g_test_add_func ("/store/changed-by-another", test_changed_by_another);
  g_test_add_func ("/store/locked", test_locked);
  g_test_add_func ("/store/tables", test_tables);
  g_test_add_func ("/store/table-checks", test_table_checks);
  g_test_add_func ("/store/edited-outside", test_edited_outside);
  g_test_add_func ("/store/migration", test_migration);
  g_test_add_func ("/store/migration-2", test_migration_2);
  g_test_add_func ("/store/migration-3", test_migration_3);
  g_test_add_func ("/store/migration-in-memory", test_migration_in_memory);
  g_test_add_func ("/store/migration-keeps-copies", test_migration_keeps_copies);
  g_test_add_func ("/store/migration-read-only", test_migration_read_only);
  g_test_add_func ("/store/migration-killed", test_migration_killed);
  g_test_add_func ("/store/migration-refused", test_migration_refused);
  g_test_add_func ("/store/faults", test_faults);
  g_test_add_func ("/store/faults-of-ours", test_faults_of_ours);
  g_test_add_func ("/store/truncated", test_truncated);
  g_test_add_func ("/store/random-damage", test_random_damage);
  g_test_add_func ("/store/read-only", test_read_only);
  g_test_add_func ("/store/killed", test_killed);
  g_test_add_func ("/store/left-journal", test_left_journal);
  return g_test_run ();
}
