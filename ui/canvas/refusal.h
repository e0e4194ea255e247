/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Why something that was typed cannot be taken, in one sentence for the line under
 * the field. Pure functions; each returns NULL when all is well, else words to free
 * with g_free(). */

#include "document/tongue.h"
#include "paint/sheet.h"

G_BEGIN_DECLS

/* Text for a value of min_si..max_si; `si` is set when it is taken. */
char *dew_refusal_number (const DewUnit *unit, const char *text, double min_si, double max_si,
                          double *si);

/* A name of at most `size` bytes, terminating zero included (DEW_NAME_SIZE). */
char *dew_refusal_name (const char *text, gsize size);

/* A change of `thing_id` (0: the enclosure) that took the shown variant of `before` to
 * that of `after`: refused when it makes something impossible that was not before. */
char *dew_refusal_layout (const DewChamber *before, const DewChamber *after, guint thing_id);

/* Text typed over a dimension of the sheet: it is set in `copy`, a copy of `before`, which
 * is of no use when it is refused. */
char *dew_refusal_dimension (const DewChamber *before, DewChamber *copy,
                             const DewDimension *dimension, const char *text);

G_END_DECLS
