/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Several layouts of one enclosure forecast to the end, by day and by night, on all
 * processors. */

#include "forecast/trial.h"

G_BEGIN_DECLS

typedef struct
{
  DewChamber *chamber; /* owned */
  DewForecast *day, *night;
  char *trouble; /* why there is none, else NULL */
} DewLayout;

typedef struct
{
  guint variant_id;
  DewForecastOptions options; /* night is not read */
  DewTrialStart *start[2];    /* by day and by night */
  int threads;
  GCancellable *cancellable;
  void (*progress) (int done, int total, gpointer data);
  gpointer progress_data;
  int done, total; /* forecasts, for the progress: the caller sets the total */
} DewLayoutBench;

/* Settles the starts. options: wishes, and what else is asked of forecasts. FALSE with error
 * when the document as it is cannot be forecast. */
gboolean dew_layout_bench_open (DewLayoutBench *bench, const DewChamber *chamber, guint variant_id,
                                DewPlantWishLookup wish, gpointer wish_data, int threads,
                                GCancellable *cancellable, GError **error);
void dew_layout_bench_close (DewLayoutBench *bench);

/* Fills day and night of n layouts, to the end on those zones. FALSE with error when
 * cancelled; a layout that cannot be forecast has its trouble said. */
gboolean dew_layout_bench_run (DewLayoutBench *bench, DewLayout *const *layouts, int n,
                               DewGrid grid, GError **error);

DewLayout *dew_layout_new (const DewChamber *chamber); /* with a copy */
void dew_layout_free (DewLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewLayout, dew_layout_free)

/* Variant of a layout's document. */
DewVariant *dew_layout_variant (const DewLayoutBench *bench, const DewLayout *layout);

/* Water that is given off, mean of day and night, kg/day. */
double dew_layout_water_kg_day (const DewLayout *layout);

G_END_DECLS
