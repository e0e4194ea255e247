/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Feeds the kept inputs of the fuzzers once each: tests/fuzz/README.md. */
#include <gio/gio.h>

int LLVMFuzzerTestOneInput (const guint8 *data, gsize size);

static void
replay (gconstpointer data)
{
  g_autofree char *bytes = NULL;
  gsize n;

  g_assert_true (g_file_get_contents (data, &bytes, &n, NULL));
  LLVMFuzzerTestOneInput ((const guint8 *) bytes, n);
}

int
main (int argc, char **argv)
{
  const char *folder = DEW_TESTS_DIR "/fuzz/corpus", *name;
  g_autoptr (GDir) dir = NULL;
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);

  g_test_init (&argc, &argv, NULL);
  dir = g_dir_open (folder, 0, NULL);
  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *test = g_strconcat ("/fuzz/", name, NULL);

      g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
      g_test_add_data_func (test, paths->pdata[paths->len - 1], replay);
    }
  g_assert_cmpuint (paths->len, >, 0);
  return g_test_run ();
}
