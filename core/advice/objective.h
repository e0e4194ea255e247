/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How good the air of an enclosure is for what grows in it, as one number that a grower
 * can weigh.
 *
 * Each part is a raw value in its own unit, 0 or more, where 0 is perfect. Its merit is
 *
 *     merit = 1 / (1 + raw / half)        in (0, 1], 1 is perfect,
 *
 * with `half` the raw value at which a part is worth half: it never saturates, so that
 * of two poor layouts the less poor one still wins. The objective is the weighed mean of
 * the merits. Raw values are means of the day's and the night's forecast.
 *
 * What plants want comes from the plants that stand in the variant, each judged at its
 * own place, and from the wish list, judged at all places alike. A weak plant is judged by what it
 * wants while it recovers and counts as two, one that has newly arrived as one and a half. Where
 * there is neither, all places are judged by the usual band of cool growers.
 */

#include "advice/kinds.h"
#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_GOAL_HUMID,  /* points of RH outside what the plants bear */
  DEW_GOAL_WARMTH, /* K outside what the plants bear */
  DEW_GOAL_EVEN,   /* points: twice the standard deviation of RH over all places */
  DEW_GOAL_FRESH,  /* % of the places' air that is dead: still and old */
  DEW_GOAL_DRY,    /* mL/h that drip or settle on a plant, more than it can lose */
  DEW_GOAL_GENTLE, /* m/s of draught on a plant */
  DEW_GOAL_WATER,  /* L/day given off by humidifiers, pots, trays and leaves */
  DEW_GOAL_QUIET,  /* dB over fans at a quarter of their speed */
  DEW_N_GOALS
} DewGoal;

typedef struct
{
  const char *key;    /* "even": in JSON and on the command line */
  const char *name;   /* "Even humidity", marked for translation: show _(name) */
  const char *what;   /* one sentence on what is measured; show _(what) */
  const char *unit;   /* of the raw value, show _(unit) */
  int digits;         /* after the point, of the raw value in that unit */
  double half;        /* raw value of merit 1/2 */
  double weight;      /* the usual one */
  const char *source; /* of `half` and the limits */
} DewGoalInfo;

const DewGoalInfo *dew_goal_info (DewGoal part);

typedef struct
{
  double weight[DEW_N_GOALS]; /* 0 or more; only their ratios count */
  double day_share; /* 0..1 of the day's forecast in raw values; 1: only the day is asked */
} DewWeights;

void dew_weights_init (DewWeights *weights); /* the usual ones, day and night alike */
/* Reads "even=2,water=1,quiet=0": parts that are not named keep their weight. Also
 * "day=0.7" for day_share. FALSE with G_OPTION_ERROR_BAD_VALUE and a sentence. */
gboolean dew_weights_parse (const char *text, DewWeights *weights, GError **error);

/* --- what is wanted ------------------------------------------------------ */

/* Limits that several plants share. NAN: none. */
typedef struct
{
  double rh_lo, rh_hi; /* fraction */
  double t_day_lo_C, t_day_hi_C, t_night_lo_C, t_night_hi_C;
} DewBandWish;

typedef struct
{
  int wish;       /* index in chamber->wishes, or -1 */
  guint thing_id; /* of the plant that stands there, or 0 */
  int count;      /* of plants alike */
  char name[DEW_NAME_SIZE];
  char species[DEW_NAME_SIZE];
  double at_m[3]; /* where it stands; NAN for a wish */
  double footprint_m2;
  gboolean known; /* the species was found */
  DewPlantKind kind;
  int state;         /* DewPlantState */
  DewPlantKind asks; /* what it wants in that state: see dew_fit_kind_in_state() */
  double weight;     /* of one of them in the objective; a healthy one has 1 */
  gboolean given_up; /* its limits contradict those of more others (see below) */
} DewWanted;

typedef enum
{
  DEW_WANT_RH,      /* fraction */
  DEW_WANT_T_DAY,   /* C */
  DEW_WANT_T_NIGHT, /* C */
  DEW_N_WANTS
} DewWantLimit;

/* A plant whose limit lies off what most others share. One among plants that stand in
 * different bays may still be met by placing them well. */
typedef struct
{
  DewWantLimit limit;
  gboolean wants_more;      /* at least `its`, the others at most `theirs`; else turned round */
  char name[DEW_NAME_SIZE]; /* of the plant that is farthest off */
  double its, theirs;
  int others; /* plants that are off on the same side, besides */
} DewContradiction;

/* All that is wanted of one variant. Independent of the document it was made from. */
typedef struct
{
  GArray *plants;         /* DewWanted */
  DewBandWish band;       /* what most of them share; the usual band of cool growers without any */
  gboolean usual;         /* TRUE: there are no plants of a known kind, the usual band is taken */
  GArray *contradictions; /* DewContradiction */
} DewWants;

/* lookup may be NULL: then no kind is known. */
DewWants *dew_wants_new (const DewChamber *chamber, const DewVariant *variant,
                         DewPlantKindLookup lookup, gpointer data);
void dew_wants_free (DewWants *wants);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewWants, dew_wants_free)

/* A DewPlantWishLookup (data: the DewWants) that any thread may call. */
gboolean dew_wants_lookup (const char *species, DewPlantWish *out, gpointer data);

/* What the plants of one bay (z0..z1, m) share. Where none stands: nothing (NAN) when plants
 * stand in other bays, wants->band when none stands anywhere. */
DewBandWish dew_wants_of_bay (const DewWants *wants, double z0_m, double z1_m);

/* --- the objective ------------------------------------------------------- */

typedef struct
{
  double value; /* 0..1, 1 is perfect */
  double raw[DEW_N_GOALS], merit[DEW_N_GOALS];
  double day[DEW_N_GOALS], night[DEW_N_GOALS]; /* raw values; NAN where not asked */
} DewObjective;

/* `night` may be NULL (then only the day counts), and `day` too, but not both. The
 * variant is the one that was forecast. Pure; may be called from any thread. */
void dew_objective_of (const DewWants *wants, const DewWeights *weights, const DewVariant *variant,
                       const DewForecast *day, const DewForecast *night, DewObjective *out);

G_END_DECLS
