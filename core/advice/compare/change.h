/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How two layouts differ, in facts: what is measured, whose, from what to what, and whether
 * that is good. say/changes.h tells them. */

#include "advice/objective.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_COMPARE_WHOLE, /* the enclosure */
  DEW_COMPARE_BAY,
  DEW_COMPARE_PLANT,
  DEW_COMPARE_FINDING /* gained or lost */
} DewCompareSubject;

/* What differs. */
typedef enum
{
  DEW_CHANGE_RH,       /* fraction */
  DEW_CHANGE_EVEN,     /* fraction: twice the standard deviation of RH over the places of a bay */
  DEW_CHANGE_T,        /* C */
  DEW_CHANGE_STILL,    /* share of the air that stands */
  DEW_CHANGE_DRIP,     /* kg/s */
  DEW_CHANGE_SPEED,    /* m/s */
  DEW_CHANGE_PPFD,     /* mol/m2s */
  DEW_CHANGE_MIST,     /* kg/m2s that falls on a plant */
  DEW_CHANGE_DRYING,   /* s until a wet crown is dry */
  DEW_CHANGE_WATER,    /* kg/day */
  DEW_CHANGE_DRAUGHT,  /* m/s on the leaves */
  DEW_CHANGE_NOISE,    /* dB */
  DEW_CHANGE_EXCHANGE, /* of the air, 1/s */
  DEW_CHANGE_STANDS,   /* a plant that stands in one of them only */
  DEW_CHANGE_FINDING,  /* a finding that only one of them has */
  DEW_N_CHANGES
} DewChangeOf;

typedef enum
{
  DEW_CHANGE_BY_DAY,
  DEW_CHANGE_BY_NIGHT,
  DEW_CHANGE_ALWAYS /* the mean of both, or nothing that day or night would matter to */
} DewChangeWhen;

/* One change from the first layout to another. */
typedef struct
{
  DewCompareSubject subject;
  DewChangeOf of;
  DewChangeWhen when;
  int side;                 /* of a DewComparison: 1 .. n_sides - 1 */
  int bay;                  /* of the first layout, from the floor; -1: none */
  int shelf;                /* that the bay stands on, from below; 0: the floor */
  guint thing_id;           /* of a plant or a finding; 0: none */
  char name[DEW_NAME_SIZE]; /* of a plant, or of that shelf; empty: it has none */
  int only_in;              /* of what stands, or is found, in one only: that side */
  int finding;              /* index in the forecast of that side */
  double from, to;          /* SI, as above; NAN where it has no value */
  double band;              /* half width of to - from, NAN: not known */
  gboolean beyond;          /* the change is larger than its band (or than what one would notice,
                             * where there is no band) */
  int good;                 /* 1 better, -1 worse, 0 neither or not known */
  double matters;           /* how much, in steps that one would notice */
} DewChange;

/* "rh", "still" ...: in what programs read. */
const char *dew_change_key (DewChangeOf of);
/* How much of it one would notice; SI, as above. */
double dew_change_noticed (DewChangeOf of);

/* --- the means of day and night, bay by bay ------------------------------ */

/* What one layout does to one bay against another: new minus old, means of day and
 * night where both are given. */
typedef struct
{
  int bay;
  int shelf;                /* that it stands on, from below; 0: the floor */
  char name[DEW_NAME_SIZE]; /* of that shelf; empty: it has none */
  double t_C, rh, speed_m_s, still_share, age_s, even_rh; /* of the new one */
  double d_t_K, d_rh, d_speed_m_s, d_still_share, d_age_s;
  double d_even_rh; /* twice the standard deviation of RH over its places; less is better */
  double drip_kg_s, d_drip_kg_s; /* on its places together */
} DewBayChange;

/* [n] GArray of DewBayChange (transfer full), bays from the floor up. night_* may be NULL.
 * Both layouts have the same shelves. */
GArray *dew_bay_changes (const DewForecast *day_new, const DewForecast *night_new,
                         const DewForecast *day_old, const DewForecast *night_old);

/* [n] GArray of DewChange (transfer full), best news first: what differs by more than a
 * grower would notice, at most three of what is good, of what is bad and of what is neither. */
GArray *dew_trade_offs (const DewObjective *is, const DewObjective *was, const GArray *bay_changes);

G_END_DECLS
