/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/folder.h"
#include "store/shim.h"
#include "store/store.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

/* Disks that fail and power that is cut: afterwards the document is that of the step before or of
 * the new one, whole. What a disk may do without a sync is as www.sqlite.org/atomiccommit.html
 * (2, Hardware Assumptions) has it: sectors of 512 bytes are written or not, in any order, and
 * what lies around a write is left alone.
 *
 * DEW_TEST_SAVES=N cuts the power in N saves; usual are 2. */

#define SECTOR 512

/* A new step, wide as no other; all places tell the same number, so half a state would show. */
static void
add_step (DewHistory *history, double width_m)
{
  g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));

  next->outer_m[0] = next->outer_m[1] = width_m;
  next->room.altitude_m = width_m;
  g_array_index (dew_chamber_shown (next)->things, DewThing, 0).shelf.load_limit_kg = width_m;
  g_assert_true (dew_history_push (history, next, "Widen", NULL, NULL));
}

static double
width_of (const DewChamber *chamber)
{
  double width_m = chamber->outer_m[0];

  g_assert_cmpfloat (chamber->outer_m[1], ==, width_m);
  g_assert_cmpfloat (chamber->room.altitude_m, ==, width_m);
  return width_m;
}

static double
width_in (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) chamber = dew_store_load (path, &error);

  g_assert_no_error (error);
  return width_of (chamber);
}

static char *
document_in (const char *folder, const char *name, double width_m)
{
  char *path = g_build_filename (folder, name, NULL);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (DewHistory) history = dew_history_new (demo);
  g_autoptr (GError) error = NULL;

  add_step (history, width_m);
  dew_store_create_with (path, history, TRUE, &error);
  g_assert_no_error (error);
  return path;
}

/* --- each call fails once ---------------------------------------------- */

static void
save_once (const char *path, guint failing, int code, gboolean *saved)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = dew_store_open (path, &error);
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (GPtrArray) calls = NULL;

  g_assert_no_error (error);
  history = dew_store_history (store);
  add_step (history, 2.0);
  shim_begin (failing, code);
  dew_store_save (store, history, NULL, NULL);
  *saved = dew_store_flush (store, NULL);
  calls = shim_end ();
}

static void
test_failing_save (void)
{
  static const int codes[] = { SQLITE_FULL, SQLITE_IOERR_WRITE };
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 1.0);
  g_autoptr (GBytes) before = test_file_bytes (path);
  gboolean saved;
  guint n, refused = 0;

  save_once (path, 0, 0, &saved);
  n = shim_calls ();
  g_assert_true (saved);
  g_assert_cmpfloat (width_in (path), ==, 2.0);
  for (guint code = 0; code < G_N_ELEMENTS (codes); code++)
    for (guint i = 1; i <= n; i++)
      {
        test_file_put (path, before);
        save_once (path, i, codes[code], &saved);
        /* Opened again, by the journal that may lie there. */
        g_assert_cmpfloat (width_in (path), ==, saved ? 2.0 : 1.0);
        refused += !saved;
        {
          g_autofree char *journal = g_strconcat (path, "-journal", NULL);

          g_unlink (journal);
        }
      }
  g_test_message ("%u calls, each failed twice; %u saves were told as failed", n, refused);
  g_assert_cmpuint (n, >, 20);
  g_assert_cmpuint (refused, >, n / 2);
}

static void
test_failing_replace (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 1.0);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (DewHistory) history = dew_history_new (demo);
  guint n = 1;

  add_step (history, 2.0);
  for (guint i = 1; i <= n; i++)
    {
      g_autofree char *again = document_in (folder, "a.dewtier", 1.0);
      g_autoptr (GPtrArray) calls = NULL;
      gboolean done;

      shim_begin (i == n ? 0 : i, SQLITE_FULL);
      done = dew_store_create_with (path, history, TRUE, NULL);
      calls = shim_end ();
      n = MAX (n, MIN (shim_calls () + 1, 400));
      g_assert_cmpfloat (width_in (path), ==, done ? 2.0 : 1.0);
      g_assert_cmpuint (test_folder_files (folder), ==, 1);
    }
  g_test_message ("%u calls, each failed once", n - 1);
  g_assert_cmpuint (n, >, 20);
}

static void
test_failing_update (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *from = g_build_filename (DEW_TESTS_DIR, "store", "version-2.dewtier", NULL);
  g_autofree char *path = g_build_filename (folder, "a.dewtier", NULL);
  g_autoptr (GBytes) old = test_file_bytes (from);
  g_autoptr (DewChamber) wanted = NULL;
  guint n = 1, step = 1;

  test_file_put (path, old);
  wanted = dew_store_load (path, NULL);
  for (guint i = 0; i <= n; i += step)
    {
      g_autoptr (GPtrArray) calls = NULL;
      g_autoptr (DewChamber) found = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *copy = g_build_filename (folder, "a.form-2.dewtier", NULL);
      DewStore *store;

      test_file_put (path, old);
      g_unlink (copy);
      shim_begin (i, SQLITE_FULL);
      store = dew_store_open (path, NULL);
      calls = shim_end ();
      /* The first one, without a failure, tells how many there are. */
      n = MAX (n, shim_calls ());
      step = i == 0 ? 1 : MAX (1, n / 60);
      dew_store_close (store);
      found = dew_store_load (path, &error);
      g_assert_no_error (error);
      g_assert_true (dew_chamber_equal (found, wanted));
      {
        g_autofree char *journal = g_strconcat (path, "-journal", NULL);

        g_unlink (journal);
      }
    }
  g_test_message ("%u calls", n);
  g_assert_cmpuint (n, >, 20);
}

/* --- the power is cut -------------------------------------------------- */

/* What lies on the disk of one file after `n` calls: all that was synced, and of the rest any. */
static GByteArray *
after_the_cut (const GPtrArray *calls, guint n, gboolean journal, GBytes *before, GRand *random,
               gboolean *exists)
{
  GByteArray *bytes = g_byte_array_new ();
  guint synced = 0;
  gsize size = 0;

  *exists = before != NULL;
  if (before != NULL)
    g_byte_array_append (bytes, g_bytes_get_data (before, &size),
                         (guint) g_bytes_get_size (before));
  for (guint i = 0; i < n; i++)
    {
      const ShimCall *call = g_ptr_array_index (calls, i);

      if (call->journal == journal && call->kind == SHIM_SYNC)
        synced = i;
    }
  for (guint i = 0; i < n; i++)
    {
      const ShimCall *call = g_ptr_array_index (calls, i);
      gboolean sure = i < synced;
      gsize length;
      const guint8 *data;

      if (call->journal != journal)
        continue;
      *exists = *exists || sure || g_rand_boolean (random);
      if (call->kind == SHIM_DELETE)
        {
          /* Its folder is synced in the same call; the last one may not have come so far. */
          if (i + 1 < n || g_rand_boolean (random))
            {
              *exists = FALSE;
              g_byte_array_set_size (bytes, 0);
            }
          continue;
        }
      if (call->kind == SHIM_TRUNCATE && (sure || g_rand_boolean (random)))
        g_byte_array_set_size (bytes, (guint) MIN ((gint64) bytes->len, call->at));
      if (call->kind != SHIM_WRITE)
        continue;
      data = g_bytes_get_data (call->bytes, &length);
      for (gsize part = 0; part < length;)
        {
          gsize at = (gsize) call->at + part,
                end = MIN ((at / SECTOR + 1) * SECTOR - at, length - part);
          guint before_len = bytes->len;

          if (sure || g_rand_int_range (random, 0, 3) > 0)
            {
              if (at + end > before_len)
                {
                  g_byte_array_set_size (bytes, (guint) (at + end));
                  /* Blocks that were never written hold what was there before them. */
                  for (gsize k = before_len; k < at; k++)
                    bytes->data[k] = (guint8) g_rand_int (random);
                }
              memcpy (bytes->data + at, data + part, end);
            }
          part += end;
        }
    }
  return bytes;
}

static void
cut_everywhere (const char *folder, GBytes *before, const GPtrArray *calls, double old_m,
                double new_m, GRand *random, guint *cuts)
{
  g_autofree char *path = g_build_filename (folder, "cut.dewtier", NULL);
  g_autofree char *journal_path = g_strconcat (path, "-journal", NULL);

  for (guint n = 0; n <= calls->len; n++)
    for (int round = 0; round < 3; round++)
      {
        gboolean exists;
        g_autoptr (GByteArray) document = after_the_cut (calls, n, FALSE, before, random, &exists);
        g_autoptr (GByteArray) journal = after_the_cut (calls, n, TRUE, NULL, random, &exists);
        g_autoptr (GBytes) document_bytes = g_bytes_new (document->data, document->len);
        g_autoptr (GBytes) journal_bytes = g_bytes_new (journal->data, journal->len);
        double width_m;

        test_file_put (path, document_bytes);
        g_unlink (journal_path);
        if (exists)
          test_file_put (journal_path, journal_bytes);
        width_m = width_in (path);
        if (width_m != old_m && width_m != new_m)
          g_error ("after %u of %u calls: neither the old nor the new step", n, calls->len);
        if (n == calls->len && round == 0)
          g_assert_true (width_m == new_m || exists);
        (*cuts)++;
        /* And so does SQLite, which rolls back on the disk. */
        if (round == 0)
          {
            g_autoptr (GError) error = NULL;
            g_autoptr (DewStore) store = dew_store_open (path, &error);
            g_autoptr (DewHistory) history = NULL;

            g_assert_no_error (error);
            history = dew_store_history (store);
            g_assert_cmpfloat (width_of (dew_history_present (history)), ==, width_m);
          }
      }
  g_unlink (path);
  g_unlink (journal_path);
}

static void
test_power_cut (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = document_in (folder, "a.dewtier", 1.0);
  g_autoptr (GRand) random = g_rand_new_with_seed (1411);
  const char *wanted = g_getenv ("DEW_TEST_SAVES");
  int saves = wanted != NULL ? atoi (wanted) : 2;
  double old_m = 1.0;
  guint cuts = 0;

  for (int i = 0; i < saves; i++)
    {
      g_autoptr (GBytes) before = test_file_bytes (path);
      g_autoptr (GPtrArray) calls = NULL;
      g_autoptr (GError) error = NULL;
      DewStore *store = dew_store_open (path, &error);
      g_autoptr (DewHistory) history = NULL;
      double new_m = 1.0 + 0.01 * (i + 1);

      g_assert_no_error (error);
      history = dew_store_history (store);
      add_step (history, new_m);
      shim_begin (0, 0);
      dew_store_save (store, history, NULL, NULL);
      g_assert_true (dew_store_flush (store, NULL));
      calls = shim_end ();
      dew_store_close (store);
      cut_everywhere (folder, before, calls, old_m, new_m, random, &cuts);
      old_m = new_m;
    }
  g_test_message ("%u power cuts in %d saves", cuts, saves);
  g_assert_cmpuint (cuts, >, 100);
}

int
main (int argc, char **argv)
{
  shim_install ();
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/power/failing-save", test_failing_save);
  g_test_add_func ("/power/failing-replace", test_failing_replace);
  g_test_add_func ("/power/failing-update", test_failing_update);
  g_test_add_func ("/power/cut", test_power_cut);
  return g_test_run ();
}
