/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/layouts.h"

#include <string.h>

#include "advice/parallel.h"

#define S_PER_DAY 86400.0

gboolean
dew_layout_bench_open (DewLayoutBench *bench, const DewChamber *chamber, guint variant_id,
                       DewPlantWishLookup wish, gpointer wish_data, int threads,
                       GCancellable *cancellable, GError **error)
{
  memset (bench, 0, sizeof *bench);
  bench->variant_id = variant_id;
  bench->threads = threads;
  bench->cancellable = cancellable;
  dew_forecast_options_init (&bench->options);
  bench->options.wish = wish;
  bench->options.wish_data = wish_data;
  for (int night = 0; night < 2; night++)
    {
      bench->options.night = night;
      bench->start[night]
        = dew_trial_start_new (chamber, variant_id, &bench->options, cancellable, error);
      if (bench->start[night] == NULL)
        return FALSE;
    }
  return TRUE;
}

void
dew_layout_bench_close (DewLayoutBench *bench)
{
  dew_trial_start_free (bench->start[0]);
  dew_trial_start_free (bench->start[1]);
  bench->start[0] = bench->start[1] = NULL;
}

typedef struct
{
  DewLayoutBench *bench;
  DewLayout *const *layouts;
  DewTrial *(*trial)[2];
  char **trouble; /* [2 n] */
  DewForecastOptions options;
} Work;

static void
run_layout (int job, int thread, gpointer data)
{
  Work *w = data;
  DewLayout *layout = w->layouts[job / 2];
  int night = job % 2;
  g_autoptr (GError) error = NULL;
  DewForecast *f = dew_trial_settle (w->trial[thread][night], layout->chamber, w->bench->variant_id,
                                     &w->options, w->bench->cancellable, &error);

  *(night ? &layout->night : &layout->day) = f;
  if (f == NULL)
    w->trouble[job] = g_strdup (error->message);
}

static void
tell (int done, gpointer data)
{
  Work *w = data;

  if (w->bench->progress != NULL)
    w->bench->progress (MIN (w->bench->total, w->bench->done + done), w->bench->total,
                        w->bench->progress_data);
}

gboolean
dew_layout_bench_run (DewLayoutBench *bench, DewLayout *const *layouts, int n, DewGrid grid,
                      GError **error)
{
  int threads = dew_parallel_threads (bench->threads, 2 * n);
  Work w = { bench, layouts, g_malloc0 (sizeof *w.trial * threads), g_new0 (char *, MAX (1, 2 * n)),
             bench->options };
  gboolean fine;

  w.options.grid = grid;
  for (int l = 0; l < n; l++)
    {
      g_clear_pointer (&layouts[l]->day, dew_forecast_unref);
      g_clear_pointer (&layouts[l]->night, dew_forecast_unref);
    }
  for (int t = 0; t < threads; t++)
    for (int night = 0; night < 2; night++)
      w.trial[t][night] = dew_trial_new (bench->start[night]);
  fine = dew_parallel_run (2 * n, threads, run_layout, tell, &w, bench->cancellable, error);
  bench->done += 2 * n;
  for (int t = 0; t < threads; t++)
    for (int night = 0; night < 2; night++)
      dew_trial_free (w.trial[t][night]);
  for (int l = 0; l < n; l++)
    {
      g_free (layouts[l]->trouble);
      layouts[l]->trouble = g_steal_pointer (&w.trouble[2 * l]);
      if (layouts[l]->trouble == NULL)
        layouts[l]->trouble = g_steal_pointer (&w.trouble[2 * l + 1]);
      g_free (w.trouble[2 * l + 1]);
    }
  g_free (w.trouble);
  g_free (w.trial);
  return fine;
}

DewLayout *
dew_layout_new (const DewChamber *chamber)
{
  DewLayout *layout = g_new0 (DewLayout, 1);

  layout->chamber = dew_chamber_copy (chamber);
  return layout;
}

void
dew_layout_free (DewLayout *layout)
{
  if (layout == NULL)
    return;
  dew_chamber_free (layout->chamber);
  dew_forecast_unref (layout->day);
  dew_forecast_unref (layout->night);
  g_free (layout->trouble);
  g_free (layout);
}

DewVariant *
dew_layout_variant (const DewLayoutBench *bench, const DewLayout *layout)
{
  return dew_chamber_variant (layout->chamber, bench->variant_id);
}

double
dew_layout_water_kg_day (const DewLayout *layout)
{
  double sum = 0.0;

  for (int night = 0; night < 2; night++)
    {
      const DewBalance *b = &(night ? layout->night : layout->day)->balance;

      sum += 0.5 * MAX (0.0, b->water_device_kg_s + b->water_surface_kg_s) * S_PER_DAY;
    }
  return sum;
}
