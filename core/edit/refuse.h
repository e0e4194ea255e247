/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Whether a change is refused: it must not make a layout impossible that was not so
 * before. What was wrong already may stay wrong. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* A change of `thing_id` (0: the enclosure) took the shown variant of `before` to that of
 * `after`. When it is refused `why` says what is wrong now and was not before; what is
 * wrong with the thing itself comes first. */
gboolean dew_change_is_refused (const DewChamber *before, const DewChamber *after, guint thing_id,
                                DewProblem *why);

G_END_DECLS
