/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How advice asks what a kind of plant wants, without knowing where that is kept. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Fills `out` (SI, NAN where nothing is known) with what a species wants; FALSE if it is
 * unknown. Called in the thread that asks for advice, never from several at once. */
typedef gboolean (*DewPlantKindLookup) (const char *species, DewPlantKind *out, gpointer data);

G_END_DECLS
