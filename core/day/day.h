/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A day of 24 hours in an enclosure: what the lamps' hours, the room by the hour, the heat and
 * water that pots, cover and boards hold, the humidistat and the open front make of each bay.
 *
 * The air is that of steady forecasts, by day and by night, each at the room's mean of its hours
 * (lump.h); what it carries is marched through the hours with the surfaces (net.h), the
 * humidistat's switching found and not stepped over. Days are marched until one ends as it began,
 * and that one is told.
 *
 * What that leaves out: the air changes at once with lamps and fans and then flows as in the
 * steady state, also while the pots are still warm from the day (how far bays are from that state
 * is told in `off_K`); within a bay the air differs from place to place as it does there; a
 * humidifier that is on stirs no more than its mean; what runs off the cover and mist that falls
 * out are gone. While the front stands open for watering humidifiers are off, and what is wet is
 * filled.
 */

#include "day/routine.h"
#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef struct
{
  DewGrid grid; /* of the air: DEW_GRID_DRAFT is soon there */
  DewClock clock;
  double every_s;   /* between samples; 0: ten minutes */
  double tolerance; /* of a step over the usual; 0: 1 */
  int most_days;    /* until it begins anew; 0: eight */
} DewDayOptions;

/* All [n], at the samples' times: means since the sample before, but for water. */
typedef struct
{
  guint shelf_id; /* that it stands on; 0: the floor */
  double *t_C, *rh;
  double *rh_lo, *rh_hi; /* least and most since the sample before */
  double *dew_kg;        /* on its cover and boards */
} DewDayBay;

typedef struct
{
  guint thing_id;
  char name[DEW_NAME_SIZE], species[DEW_NAME_SIZE];
  int bay;
  double *t_C, *rh; /* of the air at its leaves, means since the sample before */
} DewDayPlant;

typedef struct
{
  guint thing_id;
  char name[DEW_NAME_SIZE];
  double *duty; /* share of the time since the sample before that it ran */
  double water_kg;
  int starts;
  double tank_kg, tank_hours; /* how long a filling lasts at that rate; INFINITY: nothing used,
                               * NAN: no tank is told */
} DewDayMister;

typedef struct
{
  guint thing_id;
  char name[DEW_NAME_SIZE];
  double water_kg; /* given off over the day */
  double full_kg;  /* 0: without end */
  double hours;    /* that lasts, at that rate; INFINITY: for ever, or it gathers dew */
} DewDayWet;

/* Of the whole day: where water comes from and where it goes, J and kg. */
typedef struct
{
  double mist_kg, wet_kg, leaves_kg;         /* given off by humidifiers, pots and trays, plants */
  double vapour_kg;                          /* by sources of vapour */
  double room_kg;                            /* that went to the room with the air */
  double condensed_kg, dried_kg, run_off_kg; /* on cover and boards; back into the air; ran off */
  double fallen_kg;                          /* mist and fog that fell */
  double lamps_J, misters_J;                 /* drawn: lamps, fans and mats; humidifiers */
  double cover_J, air_J, waves_J;            /* heat to the room through the cover, with the air, as
                                              * radiation through a clear cover */
  double energy_miss, water_miss;            /* of the balances, over what was turned over */
} DewDayBudget;

typedef struct
{
  gint ref_count; /* private */
  DewClock clock;
  int n;          /* samples; the first is midnight, the last the midnight after */
  double *time_s; /* since midnight */
  double *room_t_C, *room_rh;
  guint8 *is_day, *is_open;
  int n_bays;
  DewDayBay *bays;
  GArray *plants;  /* DewDayPlant */
  GArray *misters; /* DewDayMister */
  GArray *wets;    /* DewDayWet */
  DewDayBudget budget;
  DewForecast *steady[2]; /* by night, by day: the air that it goes by */
  double off_K;
  int days;      /* marched until it begins anew */
  gboolean anew; /* it ends as it began */
  int steps, switches;
  double seconds;
} DewDay;

void dew_day_options_init (DewDayOptions *options);

/* variant_id 0: the shown one. NULL with error as dew_forecast_new(). The same input gives the
 * same answer bit for bit. */
DewDay *dew_day_new (const DewChamber *chamber, guint variant_id, const DewDayOptions *options,
                     GCancellable *cancellable, GError **error);
DewDay *dew_day_ref (DewDay *day);
void dew_day_unref (DewDay *day);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewDay, dew_day_unref)

/* A value of a series between its samples, straight. */
double dew_day_at (const DewDay *day, const double *series, double time_s);

/* The air at a time, to be drawn (transfer full): the field of the steady state that holds then,
 * each bay raised to its own mean of that time; without findings. */
DewForecast *dew_day_picture (const DewDay *day, double time_s);

G_END_DECLS
