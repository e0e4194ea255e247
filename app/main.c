/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier as the user types it: the commands, which need no display. What is no command is
 * for the window, a program of its own, so that only who wants the window loads its toolkit. */
#include "commands.h"
#include "language.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <unistd.h>

#define WINDOW_PROGRAM "dewtier-window"

/* Becomes the window: the one beside this program, as where it was built, else the installed
 * one. Returns only when there is none. */
static int
become_window (char **argv)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = g_path_get_dirname (self != NULL ? self : "");
  g_autofree char *beside = g_build_filename (folder, WINDOW_PROGRAM, NULL);
  const char *installed = DEW_LIBEXEC_DIR "/" WINDOW_PROGRAM;

  /* Under the name it was called by. */
  execv (beside, argv);
  if (errno == ENOENT)
    execv (installed, argv);
  g_printerr ("dewtier: %s: %s; %s\n", errno == ENOENT ? installed : beside, g_strerror (errno),
              _ ("install Dewtier anew for its window; \"dewtier --help\" lists what works "
                 "without it"));
  return DEW_EXIT_NO;
}

int
main (int argc, char **argv)
{
  gboolean handled;
  int code;

  dew_language_choose ();
  code = dew_commands_run (argc, argv, &handled);
  return handled ? code : become_window (argv);
}
