/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What changed between two texts, line by line, in a form that leads either
 * way. It is text itself and part of the file (data/README.md): per place a line
 * "@N" with the number of the line in the first text, then the lines that go,
 * each after a "-", then those that come, each after a "+". */

#include <glib.h>

G_BEGIN_DECLS

/* The fewest lines that lead from `before` to `after`; more for texts that have
 * hardly anything in common. Empty for equal texts. */
char *dew_change_between (const char *before, const char *after);

/* The text that `change` leads to from `text`, or with `back` the one it came
 * from. NULL when it does not belong to this text or is no change at all. */
char *dew_change_apply (const char *text, const char *change, gboolean back);

G_END_DECLS
