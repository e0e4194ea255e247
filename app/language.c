/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "language.h"

#include <glib.h>
#include <libintl.h>
#include <locale.h>

/* Where a program lies in the build folder, seen from its own. */
#define BUILT_BESIDE "../data/po"

void
dew_language_choose (void)
{
  /* Not a folder's name from when it was built: an installed program would look there. */
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = g_path_get_dirname (self != NULL ? self : "");
  g_autofree char *built = g_build_filename (folder, BUILT_BESIDE, NULL);

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE,
                  g_file_test (built, G_FILE_TEST_IS_DIR) ? built : DEW_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}
