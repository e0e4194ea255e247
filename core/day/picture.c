/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/day.h"

#include <math.h>

#include "moist/moist.h"

typedef struct
{
  double t_K, w_kg_kg; /* over the steady state */
} Shift;

static void
move (double t_K, double w_kg_kg, double p, double *t, double *w, double *rh, double *vpd)
{
  *t += t_K;
  *w = MAX (0.0, *w + w_kg_kg);
  *rh = MIN (1.0, dew_moist_rh_from_w (*t, *w, p));
  *vpd = dew_moist_vpd (*t, *w, p);
}

static void
move_climate (const Shift *s, double p, DewClimate *c)
{
  move (s->t_K, s->w_kg_kg, p, &c->t_C, &c->w_kg_kg, &c->rh, &c->vpd_Pa);
}

DewForecast *
dew_day_picture (const DewDay *day, double time_s)
{
  int k = 0, zone = 0;
  DewForecast *f;
  g_autofree Shift *shifts = g_new0 (Shift, day->n_bays);
  double p;

  while (k < day->n - 1 && day->time_s[k + 1] <= time_s)
    k++;
  f = dew_forecast_copy (day->steady[day->is_day[k] != 0]);
  p = f->pressure_Pa;
  f->n_findings = 0;
  f->room_t_C = dew_day_at (day, day->room_t_C, time_s);
  f->room_rh = dew_day_at (day, day->room_rh, time_s);
  f->room_w_kg_kg = dew_moist_w_from_rh (f->room_t_C, f->room_rh, p);
  for (int b = 0; b < day->n_bays; b++)
    {
      double t = dew_day_at (day, day->bays[b].t_C, time_s);
      double w = dew_moist_w_from_rh (t, dew_day_at (day, day->bays[b].rh, time_s), p);

      shifts[b] = (Shift){ t - f->bays[b].mean.t_C, w - f->bays[b].mean.w_kg_kg };
      move_climate (&shifts[b], p, &f->bays[b].mean);
    }
  for (int kz = 0; kz < f->n[2]; kz++)
    {
      double z = 0.5 * (f->line_m[2][kz] + f->line_m[2][kz + 1]);
      int b = 0;

      while (b < f->n_bays - 1 && z >= f->bays[b].z1_m)
        b++;
      for (int n = 0; n < f->n[0] * f->n[1]; n++, zone++)
        move (shifts[b].t_K, shifts[b].w_kg_kg, p, &f->value[DEW_VALUE_TEMPERATURE][zone],
              &f->value[DEW_VALUE_HUMIDITY_RATIO][zone], &f->value[DEW_VALUE_RH][zone],
              &f->value[DEW_VALUE_VPD][zone]);
    }
  for (int n = 0; n < f->n_places; n++)
    {
      move_climate (&shifts[f->places[n].bay], p, &f->places[n].mean);
      f->places[n].severity = 0;
      f->places[n].worst = -1;
    }
  return f;
}
