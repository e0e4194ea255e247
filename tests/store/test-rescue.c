/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/folder.h"
#include "store/store.h"
#include "say/problems.h"

#include <glib/gstdio.h>
#include <string.h>

/* What a damaged document gives back. Pages of 4096 bytes: www.sqlite.org/fileformat.html, 1.3. */

#define PAGE 4096

typedef struct
{
  TestFolder *folder;
  char *path, *out;
  GBytes *bytes;
  DewChamber *chamber;
} Case;

static void
set_up (Case *c, gconstpointer data)
{
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (GError) error = NULL;

  c->folder = test_folder_new ();
  c->path = g_build_filename (c->folder, "a.dewtier", NULL);
  c->out = g_build_filename (c->folder, "b.dewtier", NULL);
  c->chamber = dew_chamber_demo ();
  history = dew_history_new (c->chamber);
  for (int i = 0; i < 30; i++)
    {
      c->chamber->outer_m[0] = 0.71 + 0.01 * i;
      dew_history_push (history, c->chamber, "Widen", NULL, NULL);
    }
  dew_store_create_with (c->path, history, FALSE, &error);
  g_assert_no_error (error);
  test_file_sql (c->path, "INSERT INTO note (id, time_s, kind, about, text) "
                          "VALUES (1, 1700000000, 'note', '', 'misted')");
  c->bytes = test_file_bytes (c->path);
}

static void
tear_down (Case *c, gconstpointer data)
{
  dew_chamber_free (c->chamber);
  g_bytes_unref (c->bytes);
  g_free (c->path);
  g_free (c->out);
  test_folder_free (c->folder);
}

/* Rescues `n` bytes in the place of the document; the new one (transfer full), or NULL. */
static DewChamber *
rescue (Case *c, const guint8 *bytes, gsize n, GPtrArray *losses)
{
  g_autoptr (GBytes) bad = g_bytes_new (bytes, n);
  g_autoptr (GBytes) after = NULL;
  g_autoptr (GError) error = NULL;
  DewChamber *chamber = NULL;
  gboolean ok;

  g_unlink (c->out);
  test_file_put (c->path, bad);
  ok = dew_store_rescue (c->path, c->out, losses, &error);
  g_assert_true (ok == (error == NULL));
  g_assert_true (ok == g_file_test (c->out, G_FILE_TEST_EXISTS));
  after = test_file_bytes (c->path);
  g_assert_true (g_bytes_equal (after, bad));
  if (!ok)
    return NULL;
  chamber = dew_store_load (c->out, &error);
  g_assert_no_error (error);
  return chamber;
}

static void
test_whole (Case *c, gconstpointer data)
{
  g_autoptr (GPtrArray) losses = g_ptr_array_new_with_free_func (g_free);
  gsize n;
  const guint8 *bytes = g_bytes_get_data (c->bytes, &n);
  g_autoptr (DewChamber) found = rescue (c, bytes, n, losses);
  g_autoptr (DewStore) store = NULL;
  g_autoptr (DewHistory) history = NULL;

  g_assert_true (dew_chamber_equal (found, c->chamber));
  g_assert_cmpuint (losses->len, ==, 0);
  store = dew_store_open (c->out, NULL);
  history = dew_store_history (store);
  g_assert_cmpuint (dew_history_length (history), ==, 31);
}

/* Whichever page is lost, what is drawn is whole: it stands in the file twice. */
static void
test_any_page (Case *c, gconstpointer data)
{
  gsize n;
  const guint8 *bytes = g_bytes_get_data (c->bytes, &n);
  guint silent = 0;

  for (gsize page = 0; page < n; page += PAGE)
    for (int way = 0; way < 2; way++)
      {
        g_autofree guint8 *bad = g_memdup2 (bytes, n);
        g_autoptr (GPtrArray) losses = g_ptr_array_new_with_free_func (g_free);
        g_autoptr (DewChamber) found = NULL;

        memset (bad + page, way == 0 ? 0 : 0xff, PAGE);
        found = rescue (c, bad, n, losses);
        g_assert_nonnull (found);
        g_assert_true (dew_chamber_equal (found, c->chamber));
        silent += losses->len == 0;
      }
  /* Pages that hold nothing may go without a word; these are few. */
  g_assert_cmpuint (silent, <, 2 * n / PAGE / 3);
}

/* Cut off anywhere: the document, or a plain no; never half of something without saying so. */
static void
test_cut_off (Case *c, gconstpointer data)
{
  gsize n;
  const guint8 *bytes = g_bytes_get_data (c->bytes, &n);
  guint given = 0;

  for (gsize cut = 1; cut < n; cut += n / 41)
    {
      g_autoptr (GPtrArray) losses = g_ptr_array_new_with_free_func (g_free);
      g_autoptr (DewChamber) found = rescue (c, bytes, cut, losses);

      given += found != NULL;
      if (found != NULL)
        g_assert_cmpuint (losses->len, >, 0);
    }
  g_test_message ("given back: %u of 41", given);
  g_assert_cmpuint (given, >, 0);
}

static void
test_bytes_at_random (Case *c, gconstpointer data)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (1413);
  gsize n;
  const guint8 *bytes = g_bytes_get_data (c->bytes, &n);
  guint given = 0;

  for (int i = 0; i < 120; i++)
    {
      g_autofree guint8 *bad = g_memdup2 (bytes, n);
      g_autoptr (GPtrArray) losses = g_ptr_array_new_with_free_func (g_free);
      g_autoptr (DewChamber) found = NULL;

      for (int k = g_rand_int_range (random, 1, 60); k > 0; k--)
        bad[g_rand_int_range (random, 0, (int) n)] = (guint8) g_rand_int (random);
      found = rescue (c, bad, n, losses);
      given += found != NULL;
      if (found != NULL)
        g_assert_true (dew_chamber_validate (found, NULL));
    }
  g_test_message ("given back: %u of 120", given);
  g_assert_cmpuint (given, >, 100);
}

/* Notes come along where their table can be read, and are missed aloud where it cannot. */
static void
test_notes (Case *c, gconstpointer data)
{
  g_autoptr (GPtrArray) losses = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (DewChamber) found = NULL;
  g_autoptr (GBytes) now = NULL;
  g_autofree guint8 *bad = NULL;
  gsize n;

  test_file_sql (c->path, "PRAGMA ignore_check_constraints = ON; UPDATE fan SET diameter_m = 9.0");
  now = test_file_bytes (c->path);
  bad = g_memdup2 (g_bytes_get_data (now, &n), g_bytes_get_size (now));
  found = rescue (c, bad, n, losses);
  g_assert_nonnull (found);
  g_assert_cmpuint (losses->len, >, 0);
  test_file_sql (c->out, "CREATE TEMP TABLE one (n INTEGER CHECK (n = 1)); "
                         "INSERT INTO one SELECT count (*) FROM note WHERE text = 'misted'");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add (name, Case, NULL, set_up, run, tear_down)
  ADD ("/rescue/whole", test_whole);
  ADD ("/rescue/any-page", test_any_page);
  ADD ("/rescue/cut-off", test_cut_off);
  ADD ("/rescue/bytes-at-random", test_bytes_at_random);
  ADD ("/rescue/notes", test_notes);
  return g_test_run ();
}
