/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How layouts differ, in words: whole sentences in the language of the user. All transfer
 * full. */

#include "advice/compare/compare.h"
#include "say/units.h"

G_BEGIN_DECLS

/* "Third shelf: 6 points more humid by night." The comparison it belongs to; NULL for
 * trade-offs, which name neither sides nor findings. */
char *dew_change_words (const DewComparison *comparison, const DewChange *change, DewTongue tongue);

/* Of a GArray of DewChange, one sentence each, NULL-terminated. */
char **dew_trade_offs_words (const GArray *changes, DewTongue tongue);

/* One sentence for a side: "Something gets better for plants: 3; something gets worse: 1." or
 * "The same within what can be known." */
char *dew_compare_summary (const DewComparison *comparison, int side);

G_END_DECLS
