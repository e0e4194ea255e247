/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What every command of the command line shares. A command is a function with a
 * row in the table of commands.c. */

#include "commands.h"

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* The commands that have files of their own. */
int dew_command_advise (int argc, char **argv);
int dew_command_assign (int argc, char **argv);
int dew_command_compare (int argc, char **argv);
int dew_command_sheet (int argc, char **argv);

/* Writes an answer to standard output as it is: names are UTF-8 whatever the
 * locale. Returns the exit code. */
int dew_command_say (const char *text);
/* One line to standard error; returns `code`. */
int dew_command_complain (int code, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* From here on the untranslated words and the decimal point, whatever the locale: for
 * answers that programs read. */
void dew_command_speak_plainly (void);

/* Reads the options of a command and leaves `least` to `most` words after its
 * own. FALSE when that is all: help was asked for, or something was wrong and
 * has been said; *code is then the exit code. */
gboolean dew_command_parse (int *argc, char ***argv, const GOptionEntry *entries, const char *words,
                            const char *summary, int least, int most, int *code);

/* A document (transfer full), or NULL when what is wrong has been said. */
DewChamber *dew_command_load (const char *path);
/* Lends the variant of that name, the shown one for NULL; NULL when there is none. */
const DewVariant *dew_command_variant (const DewChamber *chamber, const char *name);

G_END_DECLS
