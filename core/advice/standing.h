/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How a plant fares where it stands, by one forecast: of a day, or of a night. */

#include "advice/fit.h"
#include "forecast/verdict.h"

G_BEGIN_DECLS

typedef struct
{
  DewPlantKind kind; /* what it wants in its state; members NAN where nothing is known */
  gboolean known;    /* its kind is known */
  gboolean night;
  int place;                      /* index into forecast->places: whose air this is */
  DewFit fit;                     /* read only the demands of `order` */
  DewDemand order[DEW_N_DEMANDS]; /* those that are asked of this time, the tightest first */
  int n;                          /* of `order` */
} DewStanding;

/* FALSE when the forecast has no place for the plant (none in its bay, or outside).
 * Air, light and water only; height and weight belong to choosing a place. */
gboolean dew_standing_judge (const DewForecast *forecast, const DewChamber *chamber,
                             const DewThing *plant, DewPlantKindLookup lookup, gpointer data,
                             DewStanding *out);

/* The word on a plant: what the findings say of it, and at least 'look' where a demand
 * is missed by more than the forecast's own uncertainty. `standing` may be NULL. */
DewVerdict dew_standing_verdict (const DewForecast *forecast, guint thing_id,
                                 const DewStanding *standing);

G_END_DECLS
