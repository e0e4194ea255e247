/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "language.h"

#include <glib.h>
#include <libintl.h>
#include <locale.h>

void
dew_language_choose (void)
{
  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, g_file_test (DEW_BUILD_LOCALE_DIR, G_FILE_TEST_IS_DIR)
                                     ? DEW_BUILD_LOCALE_DIR
                                     : DEW_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}
