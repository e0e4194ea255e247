/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Variants of one document side by side: what gets better and what gets worse, per bay and
 * per plant, in numbers with their bands and in words. Everything is told against the first
 * side. */

#include "advice/fit.h"

G_BEGIN_DECLS

#define DEW_COMPARE_SIDES_MAX 4

typedef enum
{
  DEW_COMPARE_WHOLE, /* the enclosure: humidity, water a day, evenness ... */
  DEW_COMPARE_BAY,
  DEW_COMPARE_PLANT,
  DEW_COMPARE_FINDING /* gained or lost */
} DewCompareSubject;

/* One change from the first side to another. */
typedef struct
{
  DewCompareSubject subject;
  int side;       /* 1 .. n_sides - 1 */
  int bay;        /* of the first side, from the floor; -1: none */
  guint thing_id; /* of a plant in that side; 0: none */
  gboolean night;
  char quantity[24]; /* key: "rh", "t", "speed", "still", "age", "drip", "water", "fit" ... */
  double from, to;   /* SI, as in DewClimate; NAN where it has no value */
  double band;       /* half width of to - from, NAN: not known */
  gboolean beyond;   /* the change is larger than its band (or than what one would notice,
                      * where there is no band) */
  int good;          /* 1 better, -1 worse, 0 neither or not known */
  double matters;    /* how much, in steps that one would notice */
  char words[200];   /* "Third shelf 6 points more humid by night." */
} DewChange;

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
 * referenced. imperial: words in degrees Fahrenheit and so on. */
DewComparison *dew_compare_new (const DewChamber *chamber, const guint *variant_ids, int n,
                                DewForecast *const *day, DewForecast *const *night,
                                DewPlantKindLookup lookup, gpointer data, gboolean imperial);
/* Forecasts the variants, day and night, by `options` (their grid, members, seed, wishes; night
 * is set here), and compares. NULL with error. */
DewComparison *dew_compare_run (const DewChamber *chamber, const guint *variant_ids, int n,
                                const DewForecastOptions *options, DewPlantKindLookup lookup,
                                gpointer data, gboolean imperial, GCancellable *cancellable,
                                GError **error);
void dew_compare_free (DewComparison *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewComparison, dew_compare_free)

/* One sentence for a side (transfer full): "B is better for 3 plants and worse for 1; it takes
 * 0.4 L a day less." or "The same within what can be known." */
char *dew_compare_summary (const DewComparison *comparison, int side);

G_END_DECLS
