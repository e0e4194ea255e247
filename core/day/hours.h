/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How long a plant is outside its wishes in a day, and how far. */

#include "day/day.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_OUT_COLD_DAY,
  DEW_OUT_WARM_DAY,
  DEW_OUT_COLD_NIGHT,
  DEW_OUT_WARM_NIGHT,
  DEW_OUT_DRY,
  DEW_OUT_HUMID,
  DEW_N_OUTS
} DewOut;

typedef struct
{
  double hours[DEW_N_OUTS];  /* of the day */
  double beyond[DEW_N_OUTS]; /* for an hour at least it was so far beyond the limit, K or fraction;
                              * negative: it kept so far from it; NAN: nothing is asked */
  double limit[DEW_N_OUTS];  /* C or fraction */
} DewOutHours;

gboolean dew_out_is_warmth (DewOut out);
/* How much of a nuisance: beyond over what is plainly too much, 3 K or 10 points. */
double dew_out_weight (DewOut out, double beyond);

void dew_day_judge (const DewDay *day, const DewDayPlant *plant, const DewPlantWish *wish,
                    DewOutHours *out);
/* The one that is farthest beyond by weight; -1: none is. */
int dew_out_worst (const DewOutHours *hours);

G_END_DECLS
