/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "application.h"
#include "commands.h"

#include <glib/gi18n.h>
#include <locale.h>

/* Words come from where the program was built as long as that is there, so that
 * a language can be tried before anything is installed. */
static void
choose_language (void)
{
  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, g_file_test (DEW_BUILD_LOCALE_DIR, G_FILE_TEST_IS_DIR)
                                     ? DEW_BUILD_LOCALE_DIR
                                     : DEW_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}

int
main (int argc, char **argv)
{
  g_autoptr (DewApplication) application = NULL;
  gboolean handled;
  int code;

  choose_language ();
  code = dew_commands_run (argc, argv, &handled);

  if (handled)
    return code;
  if (!gtk_init_check ())
    {
      g_printerr ("dewtier: %s\n", _ ("there is no display for the window; "
                                      "\"dewtier --help\" lists what works without one"));
      return DEW_EXIT_NO;
    }
  application = dew_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
