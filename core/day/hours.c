/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/hours.h"

#include <math.h>
#include <stdlib.h>

#include "moist/constants.h"

#define PLAIN_K 3.0
#define PLAIN_RH 0.1

gboolean
dew_out_is_warmth (DewOut out)
{
  return out <= DEW_OUT_WARM_NIGHT;
}

double
dew_out_weight (DewOut out, double beyond)
{
  return beyond / (dew_out_is_warmth (out) ? PLAIN_K : PLAIN_RH);
}

static int
largest_first (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? 1 : x > y ? -1 : 0;
}

static double
beyond_at (const DewDay *day, const DewDayPlant *plant, DewOut out, double limit, int k)
{
  gboolean low = out == DEW_OUT_COLD_DAY || out == DEW_OUT_COLD_NIGHT || out == DEW_OUT_DRY;
  double value = dew_out_is_warmth (out) ? plant->t_C[k] : plant->rh[k];

  if ((out == DEW_OUT_COLD_DAY || out == DEW_OUT_WARM_DAY) && !day->is_day[k])
    return NAN;
  if ((out == DEW_OUT_COLD_NIGHT || out == DEW_OUT_WARM_NIGHT) && day->is_day[k])
    return NAN;
  return low ? limit - value : value - limit;
}

static void
judge_one (const DewDay *day, const DewDayPlant *plant, DewOut which, DewOutHours *out)
{
  g_autofree double *beyond = g_new0 (double, day->n);
  double each_h = (day->time_s[day->n - 1] - day->time_s[0]) / (day->n - 1) / DEW_S_PER_H;
  int n = 0, hour = MAX (1, (int) lrint (1.0 / each_h));

  out->hours[which] = 0.0;
  out->beyond[which] = NAN;
  if (isnan (out->limit[which]))
    return;
  for (int k = 1; k < day->n; k++)
    {
      double by = beyond_at (day, plant, which, out->limit[which], k);

      if (isnan (by))
        continue;
      beyond[n++] = by;
      out->hours[which] += by > 0.0 ? each_h : 0.0;
    }
  if (n == 0)
    return;
  qsort (beyond, (gsize) n, sizeof *beyond, largest_first);
  out->beyond[which] = beyond[MIN (hour, n) - 1];
}

void
dew_day_judge (const DewDay *day, const DewDayPlant *plant, const DewPlantWish *w, DewOutHours *out)
{
  const double limits[DEW_N_OUTS]
    = { w->t_day_min_C, w->t_day_max_C, w->t_night_min_C, w->t_night_max_C, w->rh_min, w->rh_max };

  for (int o = 0; o < DEW_N_OUTS; o++)
    {
      out->limit[o] = limits[o];
      judge_one (day, plant, (DewOut) o, out);
    }
}

int
dew_out_worst (const DewOutHours *hours)
{
  double most = 0.0;
  int worst = -1;

  for (int o = 0; o < DEW_N_OUTS; o++)
    if (hours->beyond[o] > 0.0 && dew_out_weight ((DewOut) o, hours->beyond[o]) > most)
      {
        most = dew_out_weight ((DewOut) o, hours->beyond[o]);
        worst = o;
      }
  return worst;
}
