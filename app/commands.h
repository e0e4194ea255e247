/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Everything that the window computes, on the command line and without a
 * display. Answers go to standard output; what went wrong goes to standard
 * error in one line: "dewtier: FILE: what; what to do". */

#include <glib.h>

G_BEGIN_DECLS

/* Exit codes. */
#define DEW_EXIT_FINE 0
#define DEW_EXIT_NO 1    /* the answer is no, or the input is bad */
#define DEW_EXIT_USAGE 2 /* the command was not understood */

/* Runs `argv` when its first word is a command or an option of the command
 * line, and returns the exit code. Otherwise *handled is FALSE and nothing was
 * done: the words are files for the window. */
int dew_commands_run (int argc, char **argv, gboolean *handled);

G_END_DECLS
