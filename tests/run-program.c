/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-program.h"

#include <linux/capability.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

/* Root passes over the modes of files by one capability (capabilities(7)). Without it
 * he is held to them as anyone is, and still reaches the program in a folder that
 * nobody else may enter. */
static void
in_child (gpointer power)
{
  g_unsetenv ("DISPLAY");
  g_unsetenv ("WAYLAND_DISPLAY");
  if (GPOINTER_TO_INT (power) == TEST_BOUND_BY_MODES && geteuid () == 0
      && prctl (PR_CAPBSET_READ, CAP_DAC_OVERRIDE, 0, 0, 0) != 0
      && prctl (PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, 0, 0, 0) != 0)
    _exit (99);
}

int
test_program_run (TestPower power, char **out, char **err, const char *const *words)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  int status;

  g_ptr_array_add (argv, (gpointer) TEST_PROGRAM);
  for (guint i = 0; words[i] != NULL; i++)
    g_ptr_array_add (argv, (gpointer) words[i]);
  g_ptr_array_add (argv, NULL);
  g_spawn_sync (NULL, (char **) argv->pdata, NULL,
                out == NULL ? G_SPAWN_STDOUT_TO_DEV_NULL : G_SPAWN_DEFAULT, in_child,
                GINT_TO_POINTER (power), out, err, &status, &error);
  g_assert_no_error (error);
  if (!WIFEXITED (status))
    g_error ("dewtier %s died of signal %d", words[0], WTERMSIG (status));
  return WEXITSTATUS (status);
}
