/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How well a kind of plant fits a place, by day and by night.
 *
 * Each demand of the plant gives a margin in the demand's own unit (positive: inside,
 * negative: short of it) and a merit from 0 to 1: 1 well inside, 1/2 just at the limit of
 * what the plant bears, 1/4 at the line where it suffers soon, less and less beyond. Beyond
 * that line, or where a demand knows no half measures (height, drip into a crown that must
 * stay dry), the place is out of the question for the plant. That line is the one at which
 * the findings stop to say 'watch' and say 'act': 2 K, 5 points of humidity (12 where it is too
 * high), half of the light, and not within the forecast's own uncertainty.
 *
 * The score of a plant on a place is half the worst merit and half their mean, in 1000ths,
 * rounded to 20.
 */

#include "advice/kinds.h"
#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_DEMAND_T_DAY,    /* K */
  DEW_DEMAND_T_NIGHT,  /* K */
  DEW_DEMAND_RH_DAY,   /* points of relative humidity, 0..100 */
  DEW_DEMAND_RH_NIGHT, /* points */
  DEW_DEMAND_AIR,      /* m/s, the worse of day and night */
  DEW_DEMAND_LIGHT,    /* umol/m2s, by day; without lamps nothing is known of it */
  DEW_DEMAND_MIST,     /* mL/m2h of fallen mist, the worse of day and night */
  DEW_DEMAND_DRIP,     /* mL/h, the worse of day and night */
  DEW_DEMAND_DRYING,   /* h until a wetted crown is dry again, the worse of day and night */
  DEW_DEMAND_HEIGHT,   /* cm */
  DEW_DEMAND_BOARD,    /* cm of its pot that would stand over the shelf's edge */
  DEW_DEMAND_REACH,    /* cm from the front */
  DEW_DEMAND_WEIGHT,   /* kg, on a shelf that carries nothing but what stands there for good */
  DEW_N_DEMANDS
} DewDemand;

/* "t_night": in files. */
const char *dew_demand_key (DewDemand demand);
/* "K", "points", "m/s" ...: of the margin, in files. */
const char *dew_demand_unit (DewDemand demand);
/* SI for one such unit. */
double dew_demand_si (DewDemand demand);

/* Bit of a demand in a mask. */
#define DEW_DEMAND_BIT(demand) (1u << (demand))

/* A plant as far as its place is concerned. */
typedef struct
{
  DewPlantKind kind;     /* what it wants; NAN: not known, then nothing is asked */
  gboolean known;        /* the kind is in the catalogue or the grower's own */
  int state;             /* DewPlantState */
  double width_m;        /* of the crown */
  double height_m;       /* of the crown, without the pot */
  double pot_diameter_m; /* 0: mounted, or not known */
  double rise_m;         /* of the crown's base over what the pot stands on */
  double mass_kg;        /* wet, with its pot; 0: mounted */
} DewFitPlant;

/* A place as far as a plant is concerned: the air by day and by night, and the room. */
typedef struct
{
  DewClimate day, night;
  gboolean by_night;                   /* else nothing is asked by night and `night` is not read */
  double drying_day_h, drying_night_h; /* of dew_findings_drying_s() */
  double mist_day_mL_m2h, mist_night_mL_m2h; /* that wet leaves can lose here, by that */
  gboolean old_day, old_night; /* the air is seldom replaced, as the findings mean it */
  gboolean lamps;              /* there is a lamp or daylight; else nothing is known of the light */
  double clear_m;              /* height from what it stands on to the next thing above; INFINITY:
                                * not asked */
  double over_edge_m;          /* how far its pot would stand over the edge of the board */
  double from_front_m;         /* of its middle */
  double load_left_kg;         /* that the board under it may still carry; INFINITY: no limit */
} DewFitPlace;

/* One demand on one place. */
typedef struct
{
  double value;    /* what the place offers, in people's unit: C, %, m/s, umol/m2s, mL/m2h,
                    * mL/h, h, cm, kg */
  double limit;    /* of two the one that troubles more, by merit; same unit */
  double margin;   /* in dew_demand_unit(); NAN: nothing is asked */
  double band;     /* half width within which the margin is expected, same unit; NAN: not known */
  double merit;    /* 0..1; 1 where nothing is asked */
  gboolean above;  /* that limit is the upper one */
  gboolean unsure; /* the margin is smaller than its band */
  gboolean out;    /* out of the question */
} DewFitDemand;

typedef struct
{
  DewFitDemand demand[DEW_N_DEMANDS];
  DewDemand tightest; /* of the least merit; ties: those out of the question, then the first */
  gboolean unknown;   /* nothing is known of its kind: of the air only what troubles nearly all */
  guint out;          /* mask of the demands that are out of the question; 0: it may stand */
  double worst_merit, mean_merit;
  int score; /* 0..1000; also of a place that is out of the question */
} DewFit;

/* What a plant in that state wants of the air: a weak one is given humid air, gentle
 * movement, half the light and a crown that stays dry (common practice, no source). A
 * healthy or an arrived one wants what its kind wants. */
void dew_fit_kind_in_state (const DewPlantKind *kind, int state, DewPlantKind *out);

/* The air of one place (index) by two forecasts of the same variant; night may be NULL.
 * There is room without end. */
void dew_fit_place_air (const DewVariant *variant, const DewForecast *day, const DewForecast *night,
                        int place, DewFitPlace *out);
/* The air of several places (indices, [n], their weights sum to 1) of `places`: the mean, but
 * the worst mist, drip and drying of them and the widest bands. Room as of the first. */
void dew_fit_place_mix (const DewFitPlace *places, const int *indices, const double *weights, int n,
                        DewFitPlace *out);

/* Judges. Nothing is allocated. */
void dew_fit_judge (const DewFitPlant *plant, const DewFitPlace *place, DewFit *out);

/* --- plants as they are in a document ----------------------------------- */

/* A standing plant, or one of a wish. Sizes that the wish leaves open come from the kind;
 * mass from the pot and the crown. lookup may be NULL. */
void dew_fit_plant_of_thing (const DewVariant *variant, const DewThing *thing,
                             DewPlantKindLookup lookup, gpointer data, DewFitPlant *out);
void dew_fit_plant_of_wish (const DewWish *wish, DewPlantKindLookup lookup, gpointer data,
                            DewFitPlant *out);
/* Mass of a plant in a light pot of that diameter, just watered (kg), as the masses of
 * data/plants.csv are computed; 0 for a mounted one. */
double dew_fit_mass_kg (double pot_diameter_m);
/* One side of the leaves of a crown that wide: leaf area index 2, as in data/plants.csv. */
double dew_fit_leaf_area_m2 (double width_m);
/* Height of a pot of that diameter: 0.85 of it, as in data/pots.csv. */
double dew_fit_pot_height_m (double pot_diameter_m);

G_END_DECLS
