/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Whether to cut the cover, in words. */

#include "advice/openings/openings.h"
#include "say/units.h"

G_BEGIN_DECLS

/* "A low flap and a zip at the top, 50 cm² each". Transfer full. */
char *dew_opening_title (const DewOpeningOption *option, DewTongue tongue);
/* Why one could not be forecast. */
const char *dew_opening_trouble (const DewOpeningOption *option);
/* Shall I cut: one to three sentences. Transfer full. */
char *dew_opening_verdict (const DewOpeningAdvice *advice, DewTongue tongue);

/* That the air gets stale with it; NULL: it does not. */
char *dew_opening_stale_words (const DewOpeningOption *option);

G_END_DECLS
