/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What things, bays, months and choices are called, in the user's language. Lent for as
 * long as the program runs, unless it says otherwise. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* 'January' ... of 0 ... 11. */
const char *dew_month_name (int month);

/* A choice of a field: "In the wall" for "in_wall". What is not known here comes back
 * as it is. */
const char *dew_choice_word (const char *key);

G_END_DECLS
