/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What day, year and mishaps share. */

#include "day/day.h"
#include "day/march.h"

G_BEGIN_DECLS

/* The two states of the air, at the room's means of their hours. [0] by night, [1] by day. FALSE
 * with error. */
gboolean dew_day_lumps (const DewChamber *chamber, guint variant_id, DewGrid grid, DewClock clock,
                        DewLump *lumps[2], GCancellable *cancellable, GError **error);

/* A march that has gone on until a day ends as it began, at its midnight; *days gets how many
 * that took, *anew whether it did. */
DewMarch *dew_day_settled_march (const DewMarchPlan *plan, double tolerance, int most, int *days,
                                 gboolean *anew, GCancellable *cancellable, GError **error);

G_END_DECLS
