/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier-window: what dewtier becomes when it is given no command. */
#include "application.h"
#include "language.h"

#include <glib/gi18n.h>
#include <stdlib.h>

int
main (int argc, char **argv)
{
  g_autoptr (DewApplication) application = NULL;

  dew_language_choose ();
  if (!gtk_init_check ())
    {
      g_printerr ("dewtier: %s\n", _ ("there is no display for the window; "
                                      "\"dewtier --help\" lists what works without one"));
      return EXIT_FAILURE;
    }
  application = dew_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
