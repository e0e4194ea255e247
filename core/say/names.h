/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What things, bays, months and choices are called, in the user's language. Lent for as
 * long as the program runs, unless it says otherwise. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* 'January' ... of 0 ... 11. */
const char *dew_month_name (int month);

G_END_DECLS
