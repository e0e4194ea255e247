/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How sure the difference of two layouts is: each is forecast again with the same sets of
 * other values of what a grower cannot know, and compared set by set. */

#include "advice/objective.h"
#include "forecast/trial.h"

G_BEGIN_DECLS

typedef struct _DewSpread DewSpread;

/* Layouts [n] of one enclosure. start: by day and by night, NULL where it is not asked.
 * members 0: 16. NULL with error when cancelled. */
DewSpread *dew_spread_new (DewChamber *const *chambers, int n, guint variant_id,
                           DewTrialStart *const start[2], const DewWants *wants,
                           const DewWeights *weights, int members, int threads,
                           GCancellable *cancellable, GError **error);
void dew_spread_free (DewSpread *spread);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewSpread, dew_spread_free)

/* Half the distance from the 5th to the 95th percentile of objective a less objective b. NAN
 * when too few sets could be forecast. */
double dew_spread_difference (const DewSpread *spread, int a, int b);

/* The zones' own part of such a band: root mean square by which the difference of two layouts
 * changes from draft to settled zones, both to the end. settled: [n] objectives on settled zones;
 * layouts with NAN are left out. */
double dew_spread_of_zones (const DewSpread *spread, const double *settled);

G_END_DECLS
