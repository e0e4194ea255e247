/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "application.h"
#include "commands.h"

int
main (int argc, char **argv)
{
  g_autoptr (DewApplication) application = NULL;
  gboolean handled;
  int code = dew_commands_run (argc, argv, &handled);

  if (handled)
    return code;
  if (!gtk_init_check ())
    {
      g_printerr ("dewtier: there is no display for the window; "
                  "\"dewtier --help\" lists what works without one\n");
      return DEW_EXIT_NO;
    }
  application = dew_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
