/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Which lamp, how high over the leaves, and how many hours a day.
 *
 * What a kind wants of light is its band of photons for lamps lit about twelve hours
 * (data/plants.csv). Two wishes follow from it: a day's light (the daily light integral, mol/m2) of
 * twelve hours of that band, and never more at once than its upper end. So longer hours let a
 * weaker lamp do. Light at a plant is that at the middle of its place, as in a forecast, with
 * daylight counted over twelve hours.
 *
 * Shelf by shelf from the top down (lamps shine down only, so what is chosen above is known below)
 * every lamp of the catalogue that fits is tried, alone and as a pair, with and without a dimmer,
 * at all heights that leave room to leaves and cover: most plants well lit first, then the least
 * that misses, then the least power. All that for each number of hours, which is one for all lamps:
 * the length of the routine's day. What the lamps do to the warmth is then forecast to the end: lit
 * by day, and lit in the room's cool night instead, each against the plants' own limits by day and
 * by night.
 */

#include "advice/objective.h"

G_BEGIN_DECLS

#define DEW_LIGHT_LEAST_H 8
#define DEW_LIGHT_USUAL_H 12
#define DEW_LIGHT_MOST_H 16 /* plants need a night: common practice, no source */

/* The light of the plants of one shelf. */
typedef struct
{
  double lo_mol_m2s, mean_mol_m2s, hi_mol_m2s; /* at its plants, while lit */
  double day_mol_m2;                           /* mean of a day's light */
  int dark, bright;                            /* plants with too little, with too much */
} DewLightOn;

typedef struct
{
  int bay;
  int shelf;                             /* that the bay stands on, from below; 0: the floor */
  char name[DEW_NAME_SIZE];              /* of that shelf; empty: it has none */
  int n_plants;                          /* that are judged; 0: by its places, for a usual plant */
  double want_lo_mol_m2, want_hi_mol_m2; /* of a day: what most of its plants share */
  gboolean apart;                        /* they do not share any */
  DewLightOn now, then;
  int n_lamps;              /* to hang there; 0: those that hang there stay (or there is no need) */
  char lamp[DEW_NAME_SIZE]; /* row of the lamps catalogue */
  DewLamp set;              /* the first of them */
  double second_y_m;        /* of the second of a pair */
  double above_m;           /* underside over the highest leaves */
  gboolean burns;           /* there is a lamp, new or as it hangs */
  double share;             /* of their power, of those that stay: of the power they have now */
  gboolean too_low;         /* nothing fits: no room between leaves and what is above */
} DewLightBay;

/* Warmth with the lamps as advised. */
typedef struct
{
  double t_day_C, t_night_C; /* mean of the bay while lit, and while dark */
  double over_K;             /* the more of both over what its plants bear; 0: fine */
} DewLightWarmth;

typedef struct
{
  DewWants *wants;
  int n_bays;                              /* with plants; without any plant: all */
  DewLightBay *bays;                       /* from below */
  DewLightWarmth *now, *by_day, *by_night; /* [n_bays]; by_night: lit in the room's night */
  int hours, hours_now;        /* of light a day, for all lamps: the day of the routine */
  double power_W, power_now_W; /* of all lamps while lit */
  double energy_kWh_day, energy_now_kWh_day;
  double daylight_mol_m2s; /* of the room */
  gboolean change;         /* something is advised */
  gboolean night_better;   /* lit by day it is too warm, lit in the night it is not, or less */
  double seconds;
} DewLightAdvice;

typedef struct
{
  DewPlantKindLookup lookup;
  gpointer lookup_data;
  int threads;                                           /* 0: as many as there are processors */
  void (*progress) (int done, int total, gpointer data); /* in the asking thread */
  gpointer progress_data;
} DewLightQuestion;

void dew_light_question_init (DewLightQuestion *question);

/* Blocks: call it in a thread. Errors as dew_fan_advise(). */
DewLightAdvice *dew_light_advise (const DewChamber *chamber, guint variant_id,
                                  const DewLightQuestion *question, GCancellable *cancellable,
                                  GError **error);
void dew_light_advice_free (DewLightAdvice *advice);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewLightAdvice, dew_light_advice_free)

/* Hangs the lamps of the answer, takes those down that they replace, and sets the end of the
 * routine's day. by_night: lit in the room's night instead of by day; the routine's night then has
 * the hours of light. */
void dew_light_apply (DewChamber *chamber, guint variant_id, const DewLightAdvice *advice,
                      gboolean by_night);

/* Length of the routine's day, h. */
double dew_routine_day_h (const DewRoutine *routine);

/* A day's light (mol/m2) of lamps lit `hours` and of daylight, both mol/m2s. */
double dew_light_day_mol_m2 (double lamps_mol_m2s, double hours, double daylight_mol_m2s);

G_END_DECLS
