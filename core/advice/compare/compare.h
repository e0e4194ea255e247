/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Variants of one document side by side: what gets better and what gets worse, per bay and
 * per plant, in numbers with their bands. Everything is told against the first side. */

#include "advice/compare/change.h"
#include "advice/fit.h"

G_BEGIN_DECLS

#define DEW_COMPARE_SIDES_MAX 4

typedef struct
{
  guint variant_id;
  char name[DEW_NAME_SIZE];
  DewForecast *day, *night; /* with findings */
  double water_kg_day;      /* evaporated and given off, half a day by day, half by night */
  int n_fitting, n_plants;  /* plants within everything they bear, and all of them */
  int mean_score;           /* of the plants, 0..1000; -1 without plants */
} DewCompareSide;

typedef struct
{
  int n_sides;
  DewCompareSide sides[DEW_COMPARE_SIDES_MAX];
  /* One range of colours for all: least and greatest zone value over the sides, day and
   * night; SI, as in DewValue. */
  double lo[DEW_N_VALUES], hi[DEW_N_VALUES];
  GArray *changes; /* DewChange; per side: those beyond their band first, then by how
                    * much they matter */
} DewComparison;

/* From forecasts that are there: [n] each, of the variants [n]; 2 <= n <=
 * DEW_COMPARE_SIDES_MAX. night may be NULL, and then only the day is compared. Forecasts are
 * referenced. */
DewComparison *dew_compare_new (const DewChamber *chamber, const guint *variant_ids, int n,
                                DewForecast *const *day, DewForecast *const *night,
                                DewPlantKindLookup lookup, gpointer data);
/* Forecasts the variants, day and night, by `options` (their grid, members, seed, wishes; night
 * is set here), and compares. NULL with error. */
DewComparison *dew_compare_run (const DewChamber *chamber, const guint *variant_ids, int n,
                                const DewForecastOptions *options, DewPlantKindLookup lookup,
                                gpointer data, GCancellable *cancellable, GError **error);
void dew_compare_free (DewComparison *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewComparison, dew_compare_free)

/* Lends the forecast of a side by day or by night. */
const DewForecast *dew_compare_forecast (const DewCompareSide *side, gboolean night);

G_END_DECLS
