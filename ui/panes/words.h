/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Small words that several panes use, in the user's language. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

/* A choice of a field: "In the wall" for "in_wall". What is not known here comes back
 * as it is. */
const char *dew_choice_word (const char *key);

G_END_DECLS
