/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What is wrong with an enclosure, in whole sentences: what, where and what to do. Knows
 * chamber alone, so that the rooms between may refuse what they are given with it. */

#include "say/units.h"

G_BEGIN_DECLS

/* Without the full stop at its end, as the command line has it. Free with g_free(). */
char *dew_problem_text (const DewProblem *problem, DewTongue tongue);
/* The same under the field of the thing that is being edited, with a full stop: "Leave at
 * least 3 cm below Top shelf, which is at 80 cm." Free with g_free(). */
char *dew_problem_text_here (const DewProblem *problem, guint thing_id, DewTongue tongue);

/* dew_chamber_is_valid() for who hands errors on: FALSE with DEW_CHAMBER_ERROR_INVALID, in
 * the plain tongue of files. */
gboolean dew_chamber_validate (const DewChamber *chamber, GError **error);

G_END_DECLS
