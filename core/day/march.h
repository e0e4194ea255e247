/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The march of one enclosure through hours: which state of the air holds, what is on, when a
 * humidistat switches, what is filled again. Inner part of the day; others use day.h. */

#include "day/lump.h"
#include "day/routine.h"

G_BEGIN_DECLS

/* What it goes by. From `mishap_s` on the second set of states holds, and what else is said
 * here; INFINITY: never. All is lent. */
typedef struct
{
  const DewChamber *chamber;
  DewClock clock;
  const DewLump *lump[2]; /* by night, by day */
  double mishap_s;
  const DewLump *then[2];
  double room_warmer_K; /* of a heat wave, with the water in it as it was */
  gboolean stands_open, no_mist, no_filling;
} DewMarchPlan;

typedef struct
{
  guint thing_id;
  gboolean on;     /* of one with a humidistat */
  double felt;     /* RH that its humidistat feels, which lags */
  double used_kg;  /* of the tank since it was filled */
  double ran_s;    /* in all: as if at full output */
  double given_kg; /* in all */
  int starts;
} DewMarchMister;

typedef struct
{
  double time_s;
  const DewMarchPlan *plan;
  DewNet *net;
  int n_bays;
  GArray *skins[4];       /* DewSkin: of lump[0], lump[1], then[0], then[1], in one order */
  GArray *misters;        /* DewMarchMister */
  double filled_kg;       /* into pots and trays, in all */
  double *filled_each_kg; /* [n_skins] */
  double power_J;         /* drawn by lamps, fans, mats and humidifiers, in all */
  double off_K; /* most that a bay's warmth over the room has differed from the steady state's
                 * whose air it goes by */
  int steps, switches;
  double tolerance;
  /* Since the last dew_march_watch(): least and most RH of each bay, and sums over time of T and
   * RH, of bays and of the air beside leaves. */
  double *rh_lo, *rh_hi;
  double watched_s, *sum_t, *sum_rh; /* [n_bays] */
  double *sum_leaf_t, *sum_leaf_rh;  /* [n_skins] */
  /* private */
  DewNetDrive drive;
  double *heat_W, *vapour_kg_s, *mist_kg_s, *door_m3_s;
  double *height_m; /* [n_bays] */
  double step_s;
} DewMarch;

/* Begins at the room's state of that time, bays as in the steady state. tolerance: 1 as usual. */
DewMarch *dew_march_new (const DewMarchPlan *plan, double time_s, double tolerance);
/* One of its own that goes on from the same moment by the same plan. */
DewMarch *dew_march_copy (const DewMarch *march);
void dew_march_free (DewMarch *march);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewMarch, dew_march_free)

/* Goes on to time_s. FALSE with error when the equations came to nothing or it was cancelled. */
gboolean dew_march_to (DewMarch *march, double time_s, GCancellable *cancellable, GError **error);
/* The same moment, called `time_s`: for the day after. Other plans may go on from there. */
void dew_march_call (DewMarch *march, double time_s);
void dew_march_follow (DewMarch *march, const DewMarchPlan *plan);

/* Least and most begin anew. */
void dew_march_watch (DewMarch *march);

/* Of the air of a bay now, and of that beside a skin. */
double dew_march_rh (const DewMarch *march, int bay);
void dew_march_beside (const DewMarch *march, int skin, double *t_C, double *rh);
/* Means since the last dew_march_watch(), or where no time has passed the state now; the second of
 * the air beside leaves. */
void dew_march_mean (const DewMarch *march, int bay, double *t_C, double *rh);
void dew_march_mean_beside (const DewMarch *march, int skin, double *t_C, double *rh);
const GArray *dew_march_skins (const DewMarch *march);
const DewLump *dew_march_lump (const DewMarch *march);
gboolean dew_march_is_open (const DewMarch *march);

G_END_DECLS
