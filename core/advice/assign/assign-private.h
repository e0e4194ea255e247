/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The assignment as a packing problem of whole numbers, without plants or air: what
 * assign-solve.c solves. */

#include "advice/assign/assign.h"

G_BEGIN_DECLS

/* One way to place one plant of a group. */
typedef struct
{
  int group;
  int value; /* > 0 */
  int bay;
  int first[2], span[2]; /* column and row of the spots it covers */
  double mass_kg;
  int stay; /* index of DewAssignStay, or -1: chosen once at most, like any other */
  int spot; /* left front spot; -1 of a stay */
} DewAssignChoice;

typedef struct
{
  int n_bays, across, deep; /* spots of a bay: across x deep */
  const guint8 *taken;      /* [n_bays * across * deep] 1: nothing may stand here */
  const double *load_kg;    /* [n_bays] INFINITY: no limit */
  int n_groups;
  const int *count; /* [n_groups] */
  int n_choices;
  const DewAssignChoice *choices;
} DewAssignProblem;

typedef struct
{
  guint8 *chosen; /* [n_choices], owned */
  gint64 value;
  double bound;
  gboolean proven;
} DewAssignSolution;

/* Greatest total value, at most `seconds` of proving; what was found by then, and the bound.
 * floor: a value that is known to be reachable elsewhere; when nothing can pass it, the
 * search ends with proven TRUE and value -1. FALSE when cancelled. */
gboolean dew_assign_solve (const DewAssignProblem *problem, double seconds, gint64 floor,
                           GCancellable *cancellable, DewAssignSolution *solution);

/* --- shared by the files of the assignment ------------------------------ */

/* What stands, what is wished for, and the air, before anything is solved. */
typedef struct
{
  const DewChamber *chamber;
  const DewVariant *variant;
  const DewForecast *day, *night;
  const DewAssignOptions *options;
  DewAssignment *result;
  DewFitPlace *air; /* [n_places] */
  GArray *plants;   /* DewAssignPlant */
  DewFitPlant *fit; /* [plants] */
  gboolean *keep;   /* [plants] */
} DewAssignJob;

/* Plants that stand, then those wished for, by id; their fits (DewFitPlant) and whether they
 * keep their places (gboolean), in the same order. */
void dew_assign_collect (DewAssignJob *job, GArray *fits, GArray *keeps);
/* Lends one of those. */
DewAssignPlant *dew_assign_plant (const DewAssignJob *job, int i);
/* Groups of the result with their tables, and the group of each plant. */
void dew_assign_group (DewAssignJob *job);
/* Stays of the result. */
void dew_assign_find_stays (DewAssignJob *job);
/* Fills bays and spots of the result, but for kept plants. */
void dew_assign_lay_out (DewAssignJob *job);
/* Marks what a kept plant covers. */
void dew_assign_keep (DewAssignJob *job, int plant);
/* Block of spots that a standing plant covers where it is. FALSE: it stands outside. */
gboolean dew_assign_covers (const DewAssignJob *job, const DewFitPlant *plant, const double at_m[3],
                            int *bay, int first[2], int span[2]);
/* Spots that a crown needs across and deep. */
void dew_assign_span (const DewAssignment *result, const DewFitPlant *plant, int span[2]);
/* The fit of a plant with its block at a spot, and where the middle of its crown's base then
 * is. FALSE: the block does not lie within the bay. taken: something stands there for good,
 * or half of the pot would stand on a tray. */
gboolean dew_assign_fit_at (const DewAssignJob *job, const DewFitPlant *plant, const int span[2],
                            int spot, DewFit *fit, double at_m[3], gboolean *taken);
/* The fit where it stands. */
void dew_assign_fit_here (const DewAssignJob *job, const DewFitPlant *plant, const double at_m[3],
                          int bay, const int first[2], const int span[2], DewFit *fit);
/* Fills words and needs of every plant, and the notes. */
void dew_assign_explain (DewAssignJob *job);

#define DEW_ASSIGN_PRIORITY_STANDING 20000
#define DEW_ASSIGN_PRIORITY_WISH 1000
#define DEW_ASSIGN_SUFFERING 5000
#define DEW_ASSIGN_STAYING 20

/* Demands of the air, which a plant that stands already may have to bear. */
#define DEW_ASSIGN_AIR_DEMANDS \
  (DEW_DEMAND_BIT (DEW_DEMAND_T_DAY) | DEW_DEMAND_BIT (DEW_DEMAND_T_NIGHT) \
   | DEW_DEMAND_BIT (DEW_DEMAND_RH_DAY) | DEW_DEMAND_BIT (DEW_DEMAND_RH_NIGHT) \
   | DEW_DEMAND_BIT (DEW_DEMAND_AIR) | DEW_DEMAND_BIT (DEW_DEMAND_LIGHT))

G_END_DECLS
