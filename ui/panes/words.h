/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Words of the document's keys in the user's language. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* A choice of a field: "In the wall" for "in_wall". What is not known here comes back
 * as it is. */
const char *dew_choice_word (const char *key);

G_END_DECLS
