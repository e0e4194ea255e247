/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What plants want of the air they share, in words. */

#include "advice/objective.h"
#include "say/units.h"

G_BEGIN_DECLS

/* "No humidity suits all: ... Give up ...". Transfer full. */
char *dew_contradiction_words (const DewContradiction *contradiction, DewTongue tongue);
/* Of all, NULL-terminated; empty when there is none. Transfer full. */
char **dew_wants_contradictions (const DewWants *wants, DewTongue tongue);

G_END_DECLS
