/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/members.h"
#include "store/store.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>

/* What programs read: the JSON of a forecast against the tables of members and against its
 * description in data/README.md, which promises each name. */

#define PROGRAM DEW_BUILD_DIR "/app/dewtier"

static char *document;
/* One forecast of the demo for all tests. */
static JsonParser *answer;

/* What the program answers about the document (transfer full). */
static char *
ask (const char *command, const char *option, const char *choice)
{
  const char *argv[]
    = { PROGRAM, command, document, "--json", "--members", "0", option, choice, NULL };
  g_autoptr (GError) error = NULL;
  char *out = NULL;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, NULL, NULL, &error);
  g_assert_no_error (error);
  return out;
}

static JsonObject *
root (void)
{
  return json_node_get_object (json_parser_get_root (answer));
}

static JsonObject *
first_of (const char *list)
{
  return json_array_get_object_element (json_object_get_array_member (root (), list), 0);
}

/* --- tables and structs -------------------------------------------------- */

static gsize
size_of (const DewMember *member)
{
  switch (member->type)
    {
    case DEW_MEMBER_REAL:
      return sizeof (double);
    case DEW_MEMBER_NAME:
      return DEW_NAME_SIZE;
    case DEW_MEMBER_POINT:
      return 3 * sizeof (double);
    case DEW_MEMBER_CLIMATE:
      return sizeof (DewClimate);
    default:
      return sizeof (int);
    }
}

/* No byte of the struct but padding is without a row; `begin`: what stands before the table. */
static void
assert_whole (const DewMember *members, gsize begin, gsize size)
{
  g_autofree char *known = g_malloc0 (size);
  gsize gap = 0;

  memset (known, 1, begin);
  for (const DewMember *m = members; m->key != NULL; m++)
    {
      g_assert_cmpuint (m->offset + size_of (m), <=, size);
      memset (known + m->offset, 1, size_of (m));
      if (m->band_key != NULL)
        memset (known + m->band, 1, sizeof (double));
    }
  for (gsize i = 0; i < size; i++)
    {
      gap = known[i] ? 0 : gap + 1;
      g_assert_cmpuint (gap, <=, sizeof (double) - sizeof (int));
    }
}

static void
test_tables (void)
{
  assert_whole (dew_climate_members, 0, sizeof (DewClimate));
  assert_whole (dew_place_members, 0, sizeof (DewPlace));
  assert_whole (dew_exchange_members, 0, sizeof (DewExchange));
  assert_whole (dew_device_members, sizeof (guint), sizeof (DewDevice));
  assert_whole (dew_cover_members, 0, sizeof (DewCover));
  assert_whole (dew_balance_members, 0, sizeof (DewBalance));
  for (int value = 0; value < DEW_N_VALUES; value++)
    g_assert_cmpint (dew_climate_member (value)->of, ==, value);
}

/* --- tables and JSON ------------------------------------------------------- */

static void
assert_members (JsonObject *object, const DewMember *members)
{
  for (const DewMember *m = members; m->key != NULL; m++)
    {
      if (!json_object_has_member (object, m->key))
        g_error ("the JSON has no \"%s\"", m->key);
      if (m->band_key != NULL && !json_object_has_member (object, m->band_key))
        g_error ("the JSON has no \"%s\"", m->band_key);
      if (m->type == DEW_MEMBER_CLIMATE)
        assert_members (json_object_get_object_member (object, m->key), dew_climate_members);
    }
}

static void
test_members (void)
{
  JsonObject *cover = json_object_get_object_member (root (), "cover");

  assert_members (json_object_get_object_member (root (), "all"), dew_climate_members);
  assert_members (json_object_get_object_member (first_of ("bays"), "mean"), dew_climate_members);
  assert_members (first_of ("places"), dew_place_members);
  assert_members (first_of ("exchanges"), dew_exchange_members);
  assert_members (first_of ("devices"), dew_device_members);
  for (int face = 0; face < DEW_N_FACES; face++)
    assert_members (json_object_get_object_member (cover, dew_face_key (face)), dew_cover_members);
  assert_members (json_object_get_object_member (root (), "balance"), dew_balance_members);
}

/* A finding is named the same where it is told and where it lies. */
static void
test_worst (void)
{
  JsonArray *places = json_object_get_array_member (root (), "places");
  JsonArray *findings = json_object_get_array_member (root (), "findings");
  int marked = 0;

  for (guint p = 0; p < json_array_get_length (places); p++)
    {
      JsonObject *place = json_array_get_object_element (places, p);
      gboolean none = json_object_get_int_member (place, "severity") == 0;
      gboolean told = FALSE;

      g_assert_true (json_object_get_null_member (place, "worst") == none);
      g_assert_true (json_object_get_null_member (place, "excess") == none);
      for (guint f = 0; !none && f < json_array_get_length (findings); f++)
        told |= g_str_equal (
          json_object_get_string_member (json_array_get_object_element (findings, f), "kind"),
          json_object_get_string_member (place, "worst"));
      g_assert_true (told || none);
      marked += !none;
    }
  g_assert_cmpint (marked, >, 0);
}

/* --- what the README promises ---------------------------------------------- */

/* The words between ` in a piece of the README, those with a dot, bracket or space in them
 * left out: they are no keys. */
static GPtrArray *
quoted (const char *text)
{
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) pieces = g_strsplit (text, "`", -1);

  for (guint i = 1; pieces[i] != NULL && pieces[i + 1] != NULL; i += 2)
    if (strpbrk (pieces[i], ". []()-\"") == NULL)
      g_ptr_array_add (words, g_strdup (pieces[i]));
  return words;
}

static void
assert_promised (JsonObject *object, const char *text)
{
  g_autoptr (GPtrArray) words = quoted (text);

  for (guint i = 0; i < words->len; i++)
    if (!json_object_has_member (object, words->pdata[i]))
      g_error ("data/README.md promises \"%s\" in: %s", (char *) words->pdata[i], text);
}

/* The section of the README with that heading (transfer full). */
static char *
section (const char *heading)
{
  g_autofree char *text = NULL;
  char *begin, *end;

  g_assert_true (g_file_get_contents (DEW_TESTS_DIR "/../data/README.md", &text, NULL, NULL));
  begin = strstr (text, heading);
  g_assert_nonnull (begin);
  end = strstr (begin, "\n## ");
  g_assert_nonnull (end);
  return g_strndup (begin, (gsize) (end - begin));
}

static void
test_readme (void)
{
  g_autofree char *text = section ("## Forecasts in JSON");
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  int rows = 0;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], " | ", 2);
      g_autofree char *list = NULL;
      JsonObject *part = NULL;

      if (g_str_has_prefix (lines[i], "A mean (`all`, `mean`) holds "))
        assert_promised (json_object_get_object_member (root (), "all"),
                         strstr (lines[i], "holds "));
      if (!g_str_has_prefix (lines[i], "| `"))
        continue;
      rows++;
      if (strstr (cells[0], "[]`") != NULL)
        {
          list = g_strndup (cells[0] + 3, (gsize) (strstr (cells[0], "[]`") - cells[0]) - 3);
          part = first_of (list);
        }
      else if (g_str_equal (cells[0], "| `cover`"))
        part = json_object_get_object_member (json_object_get_object_member (root (), "cover"),
                                              dew_face_key (DEW_FACE_LEFT));
      else
        assert_promised (root (), cells[0]);
      if (part != NULL)
        assert_promised (part, cells[1]);
    }
  g_assert_cmpint (rows, ==, 13);
}

/* The answers that have parts of parts: each name occurs, as a key or as what a key may hold. */
static void
test_readme_others (void)
{
  static const struct
  {
    const char *heading, *command;
    const char *may_lack[4]; /* what a key may hold, and does not hold here */
  } rows[] = {
    { "## Assignments in JSON", "assign", { "kept", "nowhere", "null" } },
    { "## Comparisons in JSON", "compare", { "whole" } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = section (rows[i].heading);
      g_autofree char *out = ask (rows[i].command, "--draft", NULL);
      g_autoptr (GPtrArray) words = quoted (text);

      g_assert_cmpuint (words->len, >, 10);
      for (guint w = 0; w < words->len; w++)
        {
          g_autofree char *word = g_strdup_printf ("\"%s\"", (char *) words->pdata[w]);

          if (!g_strv_contains (rows[i].may_lack, words->pdata[w]) && strstr (out, word) == NULL)
            g_error ("data/README.md promises %s of %s", word, rows[i].command);
        }
    }
}

/* --- whole ----------------------------------------------------------------- */

int
main (int argc, char **argv)
{
  g_autofree char *folder = g_dir_make_tmp ("dewtier-report-XXXXXX", NULL);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autofree char *forecast = NULL;
  int code;

  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/tables", test_tables);
  g_test_add_func ("/report/members", test_members);
  g_test_add_func ("/report/worst", test_worst);
  g_test_add_func ("/report/readme", test_readme);
  g_test_add_func ("/report/readme-others", test_readme_others);
  document = g_build_filename (folder, "demo.dewtier", NULL);
  g_assert_true (dew_store_create (document, demo, FALSE, NULL));
  forecast = ask ("forecast", "--grid", "draft");
  answer = json_parser_new ();
  g_assert_true (json_parser_load_from_data (answer, forecast, -1, NULL));
  code = g_test_run ();
  g_object_unref (answer);
  g_unlink (document);
  g_rmdir (folder);
  g_free (document);
  return code;
}
