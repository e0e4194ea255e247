/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-program.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>
#include <sys/wait.h>

/* The real program from outside, with what a user may hand it. Exit codes and
 * the form of messages are promised in app/commands.h; one line on standard
 * error is what POSIX utilities do (IEEE Std 1003.1, XCU 1.4). */

typedef struct
{
  int code;
  char *out;
  char *err;
} Answer;

static void
answer_free (Answer *answer)
{
  g_free (answer->out);
  g_free (answer->err);
  g_free (answer);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Answer, answer_free)

static Answer *
run_as (TestPower power, const char *const *words)
{
  Answer *answer = g_new0 (Answer, 1);

  answer->code = test_program_run (power, &answer->out, &answer->err, words);
  return answer;
}

#define RUN(...) run_as (TEST_AS_WE_ARE, (const char *const[]){ __VA_ARGS__, NULL })

/* --- a folder for each test -------------------------------------------- */

typedef struct
{
  char *path;
} Folder;

static void
folder_set_up (Folder *folder, gconstpointer data)
{
  folder->path = g_dir_make_tmp ("dewtier-faults-XXXXXX", NULL);
  g_assert_nonnull (folder->path);
}

static void
folder_tear_down (Folder *folder, gconstpointer data)
{
  GDir *dir = g_dir_open (folder->path, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder->path, name, NULL);

      g_unlink (path);
    }
  g_dir_close (dir);
  g_rmdir (folder->path);
  g_free (folder->path);
}

static char *
in_folder (const Folder *folder, const char *name)
{
  return g_build_filename (folder->path, name, NULL);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Every file of the folder with its contents, as one digest. */
static char *
digest (const Folder *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder->path, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, by_name);
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = in_folder (folder, names->pdata[i]);
      g_autofree char *text = NULL;
      gsize length;

      g_assert_true (g_file_get_contents (path, &text, &length, NULL));
      g_checksum_update (sum, names->pdata[i], -1);
      g_checksum_update (sum, (const guchar *) text, (gssize) length);
    }
  return g_strdup (g_checksum_get_string (sum));
}

static char *
demo (const Folder *folder, const char *name)
{
  char *path = in_folder (folder, name);
  g_autoptr (Answer) answer = RUN ("demo", path);

  g_assert_cmpstr (answer->err, ==, "");
  g_assert_cmpint (answer->code, ==, 0);
  return path;
}

static void
put (const char *path, const char *text, gssize length)
{
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, text, length, &error);
  g_assert_no_error (error);
}

/* One line, "dewtier: FILE: what; what to do", in which `part` occurs. */
static void
assert_message (const Answer *answer, int code, const char *path, const char *part)
{
  g_autofree char *start = g_strdup_printf ("dewtier: %s", path);

  g_assert_cmpstr (answer->out, ==, "");
  g_assert_cmpint (answer->code, ==, code);
  if (!g_str_has_prefix (answer->err, start) || strstr (answer->err, part) == NULL
      || strchr (answer->err, '\n') != answer->err + strlen (answer->err) - 1)
    g_error ("'%s' ... '%s' is not in '%s'", start, part, answer->err);
}

/* All commands that read refuse the file, for the same reason, and leave the
 * folder as it was. */
static void
assert_refused (const Folder *folder, const char *path, const char *part)
{
  g_autofree char *before = digest (folder);
  g_autofree char *after = NULL;
  g_autofree char *copy = in_folder (folder, "copy.json");
  g_autoptr (Answer) check = RUN ("check", path);
  g_autoptr (Answer) forecast = RUN ("forecast", "--grid", "draft", path);
  g_autoptr (Answer) convert = RUN ("convert", path, copy);

  assert_message (check, 1, path, part);
  assert_message (forecast, 1, path, part);
  assert_message (convert, 1, path, part);
  after = digest (folder);
  g_assert_cmpstr (before, ==, after);
}

/* --- files that are none ----------------------------------------------- */

static void
test_missing (Folder *folder, gconstpointer data)
{
  g_autofree char *path = in_folder (folder, "missing.dewtier");

  assert_refused (folder, path, "there is no such file");
}

static void
test_folder (Folder *folder, gconstpointer data)
{
  assert_refused (folder, folder->path, "is a folder");
}

static void
test_empty (Folder *folder, gconstpointer data)
{
  g_autofree char *path = in_folder (folder, "empty.dewtier");

  put (path, "", 0);
  assert_refused (folder, path, "is empty");
}

static void
test_foreign (Folder *folder, gconstpointer data)
{
  g_autofree char *path = in_folder (folder, "letter.dewtier");

  put (path, "Dear aunt,\n", -1);
  assert_refused (folder, path, "is not a Dewtier document");
}

static void
test_truncated (Folder *folder, gconstpointer data)
{
  g_autofree char *path = demo (folder, "demo.dewtier");
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  put (path, text, (gssize) (length / 2));
  assert_refused (folder, path, "damaged");
  put (path, text, 60);
  assert_refused (folder, path, "damaged");
}

/* Offset 60 of a SQLite file is user_version, 68 application_id, both
 * big-endian (www.sqlite.org/fileformat.html, 1.3). */
static void
test_newer (Folder *folder, gconstpointer data)
{
  g_autofree char *path = demo (folder, "demo.dewtier");
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  text[63] = 9;
  put (path, text, (gssize) length);
  assert_refused (folder, path, "later version");
  text[63] = 1;
  text[68] = 'X';
  put (path, text, (gssize) length);
  assert_refused (folder, path, "database of another program");
}

static void
test_read_only (Folder *folder, gconstpointer data)
{
  g_autofree char *path = demo (folder, "demo.dewtier");
  g_autofree char *before = digest (folder);
  g_autofree char *after = NULL;
  g_autofree char *copy = in_folder (folder, "copy.json");
  const char *const check[] = { "check", path, NULL };
  const char *const convert[] = { "convert", path, copy, NULL };
  g_autoptr (Answer) checked = NULL;
  g_autoptr (Answer) converted = NULL;

  g_chmod (path, 0444);
  g_chmod (folder->path, 0555);
  checked = run_as (TEST_BOUND_BY_MODES, check);
  converted = run_as (TEST_BOUND_BY_MODES, convert);
  g_chmod (folder->path, 0755);
  g_assert_cmpstr (checked->err, ==, "");
  g_assert_cmpint (checked->code, ==, 0);
  assert_message (converted, 1, copy, "permissions");
  after = digest (folder);
  g_assert_cmpstr (before, ==, after);
}

/* --- JSON -------------------------------------------------------------- */

static void
test_json (Folder *folder, gconstpointer data)
{
  static const struct
  {
    const char *from, *to, *message;
  } rows[] = {
    { "\"diameter_m\": 0.12", "\"diameter_m\": \"wide\"", "diameter_m: is a text; give a number" },
    { "\"diameter_m\": 0.12", "\"diameter_m\": 1e400", "diameter_m: the number is too large" },
    { "\"diameter_m\": 0.12", "\"diameter_m\": 1e12", "diameter_m: is 1e+12; give 0.01 to 0.6" },
    { "\"diameter_m\": 0.12", "\"diameter_m\": NaN", "neither a number" },
    { "\"diameter_m\": 0.12", "\"diametre_m\": 0.12", "diametre_m: the key is unknown" },
    { "\"outer_m\": [0.7,", "\"outer_m\": [0.001,", "outer_m[0]: is 0.001; give 0.1 to 4.6" },
    { "\"outer_m\": [0.7,", "\"outer_m\": [100,", "outer_m[0]: is 100; give 0.1 to 4.6" },
    { "\"outer_m\": [0.7,", "\"outer_m\": [0.1,", "wide inside; give 0.1 to 4 m" },
    { "\"version\": 4", "\"version\": 77", "later version" },
    { "\"format\"", "\"form\"", "format: is missing" },
    { "{", "[", "" },
  };
  g_autofree char *path = demo (folder, "demo.json");
  g_autofree char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GString) bad = g_string_new (text);

      g_assert_cmpuint (g_string_replace (bad, rows[i].from, rows[i].to, 1), ==, 1);
      put (path, bad->str, -1);
      assert_refused (folder, path, rows[i].message);
    }
}

/* Too much to be a document is refused at once, and what is just not too much is answered. */
static void
test_large_json (Folder *folder, gconstpointer data)
{
  g_autofree char *path = in_folder (folder, "large.json");
  g_autoptr (GString) large = g_string_new ("[");
  g_autoptr (Answer) check = NULL;
  gint64 start;

  while (large->len < 24 * 1024 * 1024)
    g_string_append (large, "[],");
  put (path, large->str, (gssize) large->len);
  start = g_get_monotonic_time ();
  check = RUN ("check", path);
  assert_message (check, 1, path, "larger than");
  g_assert_cmpint (g_get_monotonic_time () - start, <, 2000000);

  /* Things on top of each other make problems by the square of their number. */
  g_clear_pointer (&check, answer_free);
  g_string_assign (large, "{\"format\": \"dewtier enclosure\", \"version\": 4, \"name\": \"A\", "
                          "\"outer_m\": [1, 1, 1], \"variants\": [{\"id\": 1, \"name\": \"A\", "
                          "\"things\": [");
  for (int i = 0; i < 2000; i++)
    g_string_append_printf (large,
                            "%s{\"id\": %d, \"type\": \"shelf\", \"name\": \"S\", \"z_m\": 0.5}",
                            i > 0 ? "," : "", i + 2);
  g_string_append (large, "]}]}");
  put (path, large->str, (gssize) large->len);
  start = g_get_monotonic_time ();
  check = RUN ("check", path);
  g_assert_cmpint (check->code, ==, 1);
  g_assert_cmpint (g_get_monotonic_time () - start, <, 5000000);
}

/* What is too large is refused before an hour is spent on it. */
static void
test_too_many_plants (Folder *folder, gconstpointer data)
{
  g_autofree char *path = in_folder (folder, "plants.json");
  g_autoptr (GString) text = g_string_new (
    "{\"format\": \"dewtier enclosure\", \"version\": 4, \"name\": \"A\", \"outer_m\": [1, 1, 1], "
    "\"variants\": [{\"id\": 1, \"name\": \"A\", \"things\": []}], \"wishes\": [");
  g_autoptr (Answer) assign = NULL;
  gint64 start;

  for (int i = 0; i < 5; i++)
    g_string_append_printf (text, "%s{\"id\": %d, \"name\": \"P\", \"count\": 500}",
                            i > 0 ? "," : "", i + 2);
  g_string_append (text, "]}");
  put (path, text->str, -1);
  start = g_get_monotonic_time ();
  assign = RUN ("assign", path);
  assert_message (assign, 1, path, "more than 2000 plants");
  g_assert_cmpint (g_get_monotonic_time () - start, <, 2000000);
}

/* A layout that does not fit together is a document all the same: check says
 * what is wrong, forecast refuses, convert copies. */
static void
test_bad_layout (Folder *folder, gconstpointer data)
{
  g_autofree char *path = demo (folder, "demo.json");
  g_autofree char *copy = in_folder (folder, "copy.dewtier");
  g_autofree char *text = NULL;
  g_autoptr (GString) bad = NULL;
  g_autoptr (Answer) check = NULL;
  g_autoptr (Answer) forecast = NULL;
  g_autoptr (Answer) convert = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  bad = g_string_new (text);
  g_assert_cmpuint (g_string_replace (bad, "\"z_m\": 0.12", "\"z_m\": 1.9", 1), ==, 1);
  put (path, bad->str, -1);
  check = RUN ("check", path);
  g_assert_cmpint (check->code, ==, 1);
  g_assert_cmpstr (check->err, ==, "");
  g_assert_nonnull (strstr (check->out, "The fan \"Slow fan\" sticks out of the enclosure"));
  g_assert_nonnull (strstr (check->out, "Variant \"Fan at the top\": ready to forecast"));
  forecast = RUN ("forecast", path);
  assert_message (forecast, 1, path, "sticks out");
  convert = RUN ("convert", path, copy);
  g_assert_cmpint (convert->code, ==, 0);
}

/* --- what works -------------------------------------------------------- */

static void
test_convert (Folder *folder, gconstpointer data)
{
  g_autofree char *json = demo (folder, "demo.json");
  g_autofree char *document = in_folder (folder, "demo.dewtier");
  g_autofree char *again = in_folder (folder, "again.json");
  g_autofree char *strange = in_folder (folder, "demo.txt");
  g_autofree char *one = NULL;
  g_autofree char *other = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (Answer) there = RUN ("convert", json, document);
  g_autoptr (Answer) back = RUN ("convert", document, again);
  g_autoptr (Answer) refused = NULL;
  g_autoptr (Answer) refused_json = NULL;
  g_autoptr (Answer) replaced = NULL;
  g_autoptr (Answer) no_form = NULL;

  g_assert_cmpint (there->code, ==, 0);
  g_assert_cmpint (back->code, ==, 0);
  g_assert_true (g_file_get_contents (json, &one, NULL, NULL));
  g_assert_true (g_file_get_contents (again, &other, NULL, NULL));
  g_assert_cmpstr (one, ==, other);

  before = digest (folder);
  refused = RUN ("convert", json, document);
  assert_message (refused, 1, document, "such a file already");
  refused_json = RUN ("demo", json);
  assert_message (refused_json, 1, json, "such a file already");
  no_form = RUN ("convert", json, strange);
  assert_message (no_form, 2, strange, "says no form");
  after = digest (folder);
  g_assert_cmpstr (before, ==, after);
  replaced = RUN ("convert", "--replace", json, document);
  g_assert_cmpint (replaced->code, ==, 0);
}

static void
assert_climate (JsonObject *climate)
{
  double rh = json_object_get_double_member (climate, "rh");
  double t_C = json_object_get_double_member (climate, "t_C");

  g_assert_cmpfloat (rh, >, 0.0);
  g_assert_cmpfloat (rh, <=, 1.0 + 1e-9);
  g_assert_cmpfloat (t_C, >, 5.0);
  g_assert_cmpfloat (t_C, <, 45.0);
}

static void
test_forecast_json (Folder *folder, gconstpointer data)
{
  g_autofree char *path = demo (folder, "demo.dewtier");
  g_autoptr (Answer) answer = RUN ("forecast", "--json", "--grid", "draft", "--night", "--month",
                                   "2", "--variant", "Fan at the top", path);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  JsonObject *root;
  JsonArray *bays;

  g_assert_cmpstr (answer->err, ==, "");
  g_assert_cmpint (answer->code, ==, 0);
  g_assert_null (strstr (answer->out, ": nan"));
  g_assert_null (strstr (answer->out, ": inf"));
  json_parser_load_from_data (parser, answer->out, -1, &error);
  g_assert_no_error (error);
  root = json_node_get_object (json_parser_get_root (parser));
  g_assert_cmpstr (json_object_get_string_member (root, "format"), ==, "dewtier forecast");
  g_assert_cmpstr (json_object_get_string_member (root, "variant"), ==, "Fan at the top");
  g_assert_cmpint (json_object_get_int_member (root, "month"), ==, 2);
  g_assert_true (json_object_get_boolean_member (root, "night"));
  /* The hallway's February night in data/rooms.csv. */
  g_assert_cmpfloat (json_object_get_double_member (root, "room_t_C"), ==, 12.5);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (root, "room_rh"), 0.60, 1e-9);
  bays = json_object_get_array_member (root, "bays");
  g_assert_cmpuint (json_array_get_length (bays), ==, 4);
  for (guint i = 0; i < 4; i++)
    assert_climate (
      json_object_get_object_member (json_array_get_object_element (bays, i), "mean"));
  assert_climate (json_object_get_object_member (root, "all"));
}

static void
test_forecast_text (Folder *folder, gconstpointer data)
{
  g_autofree char *path = demo (folder, "demo.dewtier");
  g_autoptr (Answer) answer = RUN ("forecast", "--grid=draft", "--balance", path);

  g_assert_cmpstr (answer->err, ==, "");
  g_assert_cmpint (answer->code, ==, 0);
  g_assert_nonnull (strstr (answer->out, "Upper shelf"));
  g_assert_nonnull (strstr (answer->out, "Water into the air"));
  g_assert_nonnull (strstr (answer->out, "prediction with error"));
  g_assert_null (strstr (answer->out, "nan"));
  g_assert_null (strstr (answer->out, "inf "));
}

/* Sealed: no opening, no leak. The age of air then has no value. */
static void
test_forecast_sealed (Folder *folder, gconstpointer data)
{
  g_autofree char *path = in_folder (folder, "sealed.json");
  g_autoptr (Answer) text = NULL;
  g_autoptr (Answer) json = NULL;

  put (path,
       "{ \"format\": \"dewtier enclosure\", \"version\": 1, \"name\": \"Jar\",\n"
       "  \"outer_m\": [0.3, 0.3, 0.4], \"leak_area_m2\": 0,\n"
       "  \"variants\": [ { \"id\": 1, \"name\": \"A\", \"things\": [] } ] }\n",
       -1);
  text = RUN ("forecast", "--grid", "draft", path);
  g_assert_cmpstr (text->err, ==, "");
  g_assert_cmpint (text->code, ==, 0);
  g_assert_nonnull (strstr (text->out, "no exchange"));
  json = RUN ("forecast", "--grid", "draft", "--json", path);
  g_assert_nonnull (strstr (json->out, "\"age_s\": null"));
}

static void
test_texts (Folder *folder, gconstpointer data)
{
  g_autoptr (Answer) version = RUN ("--version");
  g_autoptr (Answer) help = RUN ("--help");
  g_autoptr (Answer) cautions = RUN ("cautions");
  g_autoptr (Answer) list = RUN ("catalogue");
  g_autoptr (Answer) fans = RUN ("catalogue", "fans");
  g_autoptr (Answer) none = RUN ("catalogue", "elephants");

  g_assert_cmpint (version->code, ==, 0);
  g_assert_nonnull (strstr (version->out, "SQLite"));
  g_assert_cmpint (help->code, ==, 0);
  g_assert_nonnull (strstr (help->out, "forecast FILE"));
  g_assert_cmpint (cautions->code, ==, 0);
  g_assert_nonnull (strstr (cautions->out, "30 mA"));
  g_assert_cmpint (list->code, ==, 0);
  g_assert_nonnull (strstr (list->out, "plants"));
  g_assert_cmpint (fans->code, ==, 0);
  g_assert_nonnull (strstr (fans->out, "axial 120 mm slow\n"));
  assert_message (none, 1, "elephants", "no such catalogue");
}

static void
test_usage (Folder *folder, gconstpointer data)
{
  static const struct
  {
    const char *words[6];
    const char *message;
  } rows[] = {
    { { "forecast", NULL }, "a word is missing" },
    { { "forecast", "a", "b", NULL }, "a word too many" },
    { { "forecast", "--grid", "coarse", "x", NULL }, "draft, settled, fine" },
    { { "forecast", "--month", "13", "x", NULL }, "give 1 to 12" },
    { { "forecast", "--month", "May", "x", NULL }, "May" },
    { { "forecast", "--members", "-1", "x", NULL }, "give 0 to" },
    { { "forecast", "--colour", "x", NULL }, "--colour" },
    { { "check", NULL }, "a word is missing" },
    { { "convert", "a", NULL }, "a word is missing" },
    { { "demo", NULL }, "a word is missing" },
    { { "cautions", "x", NULL }, "a word too many" },
    { { "--colour", NULL }, "is unknown" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Answer) answer = run_as (TEST_AS_WE_ARE, rows[i].words);

      assert_message (answer, 2, "", rows[i].message);
    }
}

/* A full disk is told, not passed over. */
static void
test_full_output (Folder *folder, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *err = NULL;
  const char *argv[] = { "/bin/sh", "-c", TEST_PROGRAM " cautions > /dev/full", NULL };
  int status;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, &err, &status,
                &error);
  g_assert_no_error (error);
  g_assert_cmpint (WEXITSTATUS (status), ==, 1);
  g_assert_nonnull (strstr (err, "could not be written"));
}

/* What is not a command is a file for the window, which has no display here. */
static void
test_no_display (Folder *folder, gconstpointer data)
{
  g_autofree char *path = demo (folder, "demo.dewtier");
  g_autofree char *before = digest (folder);
  g_autofree char *after = NULL;
  g_autoptr (Answer) answer = RUN (path);

  g_assert_cmpint (answer->code, !=, 0);
  g_assert_cmpstr (answer->err, !=, "");
  after = digest (folder);
  g_assert_cmpstr (before, ==, after);
}

int
main (int argc, char **argv)
{
  static const struct
  {
    const char *name;
    void (*run) (Folder *folder, gconstpointer data);
  } tests[] = {
    { "/faults/missing", test_missing },
    { "/faults/folder", test_folder },
    { "/faults/empty", test_empty },
    { "/faults/foreign", test_foreign },
    { "/faults/truncated", test_truncated },
    { "/faults/newer", test_newer },
    { "/faults/read-only", test_read_only },
    { "/faults/json", test_json },
    { "/faults/large-json", test_large_json },
    { "/faults/too-many-plants", test_too_many_plants },
    { "/faults/bad-layout", test_bad_layout },
    { "/faults/full-output", test_full_output },
    { "/faults/no-display", test_no_display },
    { "/commands/convert", test_convert },
    { "/commands/forecast-json", test_forecast_json },
    { "/commands/forecast-text", test_forecast_text },
    { "/commands/forecast-sealed", test_forecast_sealed },
    { "/commands/texts", test_texts },
    { "/commands/usage", test_usage },
  };

  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].name, Folder, NULL, folder_set_up, tests[i].run, folder_tear_down);
  return g_test_run ();
}
