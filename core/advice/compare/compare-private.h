/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "advice/compare/compare.h"

G_BEGIN_DECLS

/* How a plant fits where it stands; FALSE: it stands outside. Room is not asked: it stands. */
gboolean dew_compare_fit (const DewVariant *variant, const DewCompareSide *side,
                          const DewThing *thing, DewPlantKindLookup lookup, gpointer data,
                          DewFit *fit);
/* Appends what differs between the first side and another. */
void dew_compare_changes (DewComparison *comparison, const DewChamber *chamber, int side,
                          DewPlantKindLookup lookup, gpointer data);

G_END_DECLS
