/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where a fan should stand, in words. All transfer full. */

#include "advice/fan/fan.h"
#include "say/units.h"

G_BEGIN_DECLS

/* "Second shelf, left at the back, blowing right and up" of the layout as it is or of one of
 * the short list. */
char *dew_fan_title (const DewFanAdvice *advice, const DewFanOption *option);
/* One or two sentences: what to do and how sure that is. */
char *dew_fan_verdict (const DewFanAdvice *advice);

/* What to mind when it is put there: NULL-terminated. */
char **dew_fan_cautions (const DewFanAdvice *advice, const DewFanOption *option, DewTongue tongue);
/* What a second fan would bring; NULL: none was tried. */
char *dew_fan_second_words (const DewFanAdvice *advice);

G_END_DECLS
