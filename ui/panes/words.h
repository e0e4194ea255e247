/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Small words that several panes use, in the user's language. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

/* A choice of a field: "In the wall" for "in_wall". What is not known here comes back
 * as it is. */
const char *dew_choice_word (const char *key);

/* One value of a climate with its band in the present units, kept together where lines
 * break: "84 % ± 3". Free with g_free(). */
char *dew_climate_words (const DewClimate *climate, DewValue value);

G_END_DECLS
