/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/options.h"

#include <math.h>

/* Whether the air has a second answer. */

#define OTHER_TOLERANCE 1e-3 /* of heat and water: it is only compared and told roughly */
#define TWO_ANSWERS 0.15     /* bays that differ by more than this are two flows */

/* Largest relative difference of the bays' speeds, with 0.02 m/s below. */
static double
difference (const DewForecast *a, const DewForecast *b)
{
  double worst = 0.0;

  for (int i = 0; i < MIN (a->n_bays, b->n_bays); i++)
    worst = MAX (worst, fabs (a->bays[i].mean.speed_m_s - b->bays[i].mean.speed_m_s)
                          / (0.02 + MAX (a->bays[i].mean.speed_m_s, b->bays[i].mean.speed_m_s)));
  return worst;
}

gboolean
dew_forecast_find_other (DewForecast *f, const DewChamber *chamber, guint variant_id,
                         const DewForecastOptions *options, const DewRun *like,
                         GCancellable *cancellable, GError **error)
{
  g_autoptr (DewForecast) other = NULL;
  g_autoptr (DewRun) run = NULL;
  g_autoptr (GError) trouble = NULL;

  if (f->state != DEW_FORECAST_SETTLED)
    return TRUE;
  run = dew_forecast_settled_run (chamber, variant_id, options, TRUE, like, cancellable, &trouble);
  if (run != NULL)
    other = dew_forecast_finish (run, options, OTHER_TOLERANCE, &trouble);
  if (other == NULL && g_error_matches (trouble, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_propagate_error (error, g_steal_pointer (&trouble));
      return FALSE;
    }
  /* Where that start has no end, it has no second answer either. */
  if (other == NULL)
    return TRUE;
  f->two_answers = other->state == DEW_FORECAST_SETTLED && difference (f, other) > TWO_ANSWERS;
  if (!f->two_answers)
    return TRUE;
  f->other = g_new (DewClimate, f->n_bays);
  for (int b = 0; b < f->n_bays; b++)
    f->other[b] = other->bays[b].mean;
  return TRUE;
}
