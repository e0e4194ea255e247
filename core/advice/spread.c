/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/spread.h"

#include <math.h>
#include <stdlib.h>

#include "advice/parallel.h"

#define USUAL_MEMBERS 16
#define FEWEST 4

static const DewTrialPace member_pace = { .parts = 2, .steps = 24, .tolerance = 1e-3, .rounds = 2 };

struct _DewSpread
{
  int n, members;
  double *value; /* [n * (members + 1)], the last one with the values as given; NAN where it
                  * could not be forecast */
};

typedef struct
{
  DewSpread *spread;
  DewChamber *const *chambers;
  guint variant_id;
  const DewWants *wants;
  const DewWeights *weights;
  DewTrial *(*trial)[2]; /* for each thread */
  GCancellable *cancellable;
} Work;

static void
run_member (int job, int thread, gpointer data)
{
  Work *w = data;
  int each = w->spread->members + 1, layout = job / each;
  gboolean nominal = job % each == w->spread->members;
  DewTrialPace pace = member_pace;
  DewForecastOptions draft;
  const DewChamber *chamber = w->chambers[layout];
  const DewVariant *variant = dew_chamber_variant (chamber, w->variant_id);
  DewForecast *f[2] = { NULL, NULL };
  DewObjective o;
  gboolean whole = TRUE;

  pace.members = w->spread->members;
  pace.member = job % each;
  dew_forecast_options_init (&draft);
  draft.grid = DEW_GRID_DRAFT;
  for (int night = 0; night < 2; night++)
    if (w->trial[thread][night] != NULL)
      {
        f[night] = nominal ? dew_trial_settle (w->trial[thread][night], chamber, w->variant_id,
                                               &draft, w->cancellable, NULL)
                           : dew_trial_forecast (w->trial[thread][night], chamber, w->variant_id,
                                                 &pace, NULL);
        whole = whole && f[night] != NULL;
      }
  if (whole)
    {
      dew_objective_of (w->wants, w->weights, variant, f[0], f[1], &o);
      w->spread->value[job] = o.value;
    }
  dew_forecast_unref (f[0]);
  dew_forecast_unref (f[1]);
}

DewSpread *
dew_spread_new (DewChamber *const *chambers, int n, guint variant_id, DewTrialStart *const start[2],
                const DewWants *wants, const DewWeights *weights, int members, int threads,
                GCancellable *cancellable, GError **error)
{
  g_autoptr (DewSpread) spread = g_new0 (DewSpread, 1);
  Work w = { spread, chambers, variant_id, wants, weights, NULL, cancellable };
  gboolean fine;

  spread->n = n;
  spread->members = members > 0 ? members : USUAL_MEMBERS;
  spread->value = g_new (double, n *(spread->members + 1));
  for (int v = 0; v < n * (spread->members + 1); v++)
    spread->value[v] = NAN;
  threads = dew_parallel_threads (threads, n * (spread->members + 1));
  w.trial = g_malloc0 (sizeof *w.trial * threads);
  for (int t = 0; t < threads; t++)
    for (int night = 0; night < 2; night++)
      if (start[night] != NULL)
        w.trial[t][night] = dew_trial_new (start[night]);
  fine = dew_parallel_run (n * (spread->members + 1), threads, run_member, NULL, &w, cancellable,
                           error);
  for (int t = 0; t < threads; t++)
    for (int night = 0; night < 2; night++)
      dew_trial_free (w.trial[t][night]);
  g_free (w.trial);
  return fine ? g_steal_pointer (&spread) : NULL;
}

void
dew_spread_free (DewSpread *spread)
{
  if (spread == NULL)
    return;
  g_free (spread->value);
  g_free (spread);
}

static double
nominal_value (const DewSpread *spread, int layout)
{
  return spread->value[layout * (spread->members + 1) + spread->members];
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

double
dew_spread_difference (const DewSpread *spread, int a, int b)
{
  g_autofree double *d = g_new (double, spread->members);
  int n = 0;

  g_return_val_if_fail (a < spread->n && b < spread->n, NAN);

  for (int m = 0; m < spread->members; m++)
    {
      double x = spread->value[a * (spread->members + 1) + m]
                 - spread->value[b * (spread->members + 1) + m];

      if (isfinite (x))
        d[n++] = x;
    }
  if (n < FEWEST)
    return NAN;
  qsort (d, n, sizeof *d, compare_doubles);
  return 0.5 * (d[(int) floor (0.95 * (n - 1) + 0.5)] - d[(int) floor (0.05 * (n - 1) + 0.5)]);
}

double
dew_spread_of_zones (const DewSpread *spread, const double *settled)
{
  double sum = 0.0;
  int pairs = 0;

  for (int i = 0; i < spread->n; i++)
    for (int j = 0; j < i; j++)
      {
        double change
          = (settled[i] - nominal_value (spread, i)) - (settled[j] - nominal_value (spread, j));

        if (!isfinite (change))
          continue;
        sum += change * change;
        pairs++;
      }
  return pairs > 0 ? sqrt (sum / pairs) : 0.0;
}
