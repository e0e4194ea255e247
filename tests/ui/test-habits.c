/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the program remembers of a person: kept, and never in the way. */
#include "document/habits.h"

#include <glib/gstdio.h>

typedef struct
{
  char *folder;
  char *path;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->folder = g_dir_make_tmp ("dewtier-habits-XXXXXX", NULL);
  g_assert_nonnull (fixture->folder);
  fixture->path = g_build_filename (fixture->folder, "dewtier", "habits", NULL);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_autofree char *inner = g_path_get_dirname (fixture->path);

  g_unlink (fixture->path);
  g_rmdir (inner);
  g_rmdir (fixture->folder);
  g_free (fixture->path);
  g_free (fixture->folder);
}

static void
assert_new_user (const DewHabits *habits)
{
  g_assert_cmpint (habits->width_px, ==, 0);
  g_assert_cmpint (habits->height_px, ==, 0);
  g_assert_cmpint (habits->units, ==, DEW_UNITS_OF_LOCALE);
  g_assert_false (habits->maximised);
  g_assert_false (habits->still);
  g_assert_false (habits->tour_seen);
  g_assert_null (habits->folder);
  g_assert_null (habits->document);
}

static void
test_kept (Fixture *fixture, gconstpointer data)
{
  DewHabits out = { .width_px = 1234,
                    .height_px = 777,
                    .maximised = TRUE,
                    .units = DEW_UNITS_IMPERIAL,
                    .still = TRUE,
                    .tour_seen = TRUE,
                    .folder = (char *) "/tmp/my plants",
                    .document = (char *) "/tmp/Schrank mit Öffnung; 2\n.dewtier" };
  g_autoptr (GError) error = NULL;
  DewHabits in;

  g_assert_true (dew_habits_write (&out, fixture->path, &error));
  g_assert_no_error (error);
  dew_habits_read (&in, fixture->path);
  g_assert_cmpint (in.width_px, ==, 1234);
  g_assert_cmpint (in.height_px, ==, 777);
  g_assert_cmpint (in.units, ==, DEW_UNITS_IMPERIAL);
  g_assert_true (in.maximised && in.still && in.tour_seen);
  g_assert_cmpstr (in.folder, ==, out.folder);
  g_assert_cmpstr (in.document, ==, out.document);
  dew_habits_clear (&in);
}

static void
test_missing (Fixture *fixture, gconstpointer data)
{
  DewHabits habits;

  dew_habits_read (&habits, fixture->path);
  assert_new_user (&habits);
}

/* Whatever is in the file, the answer is a new user's habits or the sound ones
 * among them, and the next writing puts the file right. */
static void
test_damaged (Fixture *fixture, gconstpointer data)
{
  static const char *const contents[] = {
    "",
    "no key file at all",
    "[window\nwidth=900",
    "[window]\nwidth=-5\nheight=abc\n",
    "[window]\nwidth=99999999999999999999\nheight=1000000\nmaximised=perhaps\n",
    "[person]\nunits=cubits\nstill=2\n[files]\nfolder=not absolute\ndocument=\n",
    "[files]\nfolder=/\xff\xfe\n",
  };
  g_autofree char *inner = g_path_get_dirname (fixture->path);
  DewHabits habits;

  g_assert_cmpint (g_mkdir_with_parents (inner, 0700), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (contents); i++)
    {
      g_assert_true (g_file_set_contents (fixture->path, contents[i], -1, NULL));
      dew_habits_read (&habits, fixture->path);
      assert_new_user (&habits);
      habits.width_px = 800;
      g_assert_true (dew_habits_write (&habits, fixture->path, NULL));
      dew_habits_read (&habits, fixture->path);
      g_assert_cmpint (habits.width_px, ==, 800);
      dew_habits_clear (&habits);
    }
}

/* One wrong entry does not cost the others. */
static void
test_partly_damaged (Fixture *fixture, gconstpointer data)
{
  g_autofree char *inner = g_path_get_dirname (fixture->path);
  DewHabits habits;

  g_assert_cmpint (g_mkdir_with_parents (inner, 0700), ==, 0);
  g_assert_true (g_file_set_contents (fixture->path,
                                      "[window]\nwidth=no\nheight=700\n[person]\ntour-seen=true\n",
                                      -1, NULL));
  dew_habits_read (&habits, fixture->path);
  g_assert_cmpint (habits.width_px, ==, 0);
  g_assert_cmpint (habits.height_px, ==, 700);
  g_assert_true (habits.tour_seen);
  dew_habits_clear (&habits);
}

/* A file in the place of the folder: cannot be written, whoever asks (also the
 * superuser, to whom permissions do not apply). */
static void
test_no_folder (Fixture *fixture, gconstpointer data)
{
  g_autofree char *inner = g_path_get_dirname (fixture->path);
  g_autoptr (GError) error = NULL;
  DewHabits habits = { .width_px = 800 };

  g_assert_true (g_file_set_contents (inner, "in the way", -1, NULL));
  g_assert_false (dew_habits_write (&habits, fixture->path, &error));
  g_assert_nonnull (error);
  dew_habits_read (&habits, fixture->path);
  assert_new_user (&habits);
  g_unlink (inner);
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/habits/kept", test_kept);
  ADD ("/habits/missing", test_missing);
  ADD ("/habits/damaged", test_damaged);
  ADD ("/habits/partly-damaged", test_partly_damaged);
  ADD ("/habits/no-folder", test_no_folder);
  return g_test_run ();
}
