/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of the assignment share. */

#include "advice/assign/assign.h"
#include "packing/packing.h"

G_BEGIN_DECLS

/* What stands, what is wished for, and the air, before anything is solved. */
typedef struct
{
  const DewChamber *chamber;
  const DewVariant *variant;
  const DewForecast *day, *night;
  const DewAssignOptions *options;
  DewAssignment *result; /* of the present attempt */
  int cells;             /* present attempt: of a place's side; 0: by the plants' own sizes */
  int moving;            /* what a move has to be worth */
  DewFitPlace *air;      /* [n_places] */
  GArray *plants;        /* DewAssignPlant */
  DewFitPlant *fit;      /* [plants] */
  gboolean *keep;        /* [plants] */
} DewAssignJob;

/* Plants that stand, then those wished for, by id; their fits (DewFitPlant) and whether they
 * keep their places (gboolean), in the same order. */
void dew_assign_collect (DewAssignJob *job, GArray *fits, GArray *keeps);
/* Lends one of those. */
DewAssignPlant *dew_assign_plant (const DewAssignJob *job, int i);
/* Groups of the result with their tables, and the group of each plant. */
void dew_assign_group (DewAssignJob *job);
/* Stays of the result; what each bay bears is at least what stays on it. */
void dew_assign_find_stays (DewAssignJob *job);
/* Fills bays and spots of the result, but for kept plants. */
void dew_assign_lay_out (DewAssignJob *job);
/* Marks what a kept plant covers. */
void dew_assign_keep (DewAssignJob *job, int plant);
/* Block of spots that a standing plant touches where it is. FALSE: it stands outside. */
gboolean dew_assign_covers (const DewAssignJob *job, const DewFitPlant *plant, const double at_m[3],
                            int *bay, int first[2], int span[2]);
/* What of a crown's width no neighbour's leaves may mingle with. */
double dew_assign_core_m (const DewFitPlant *plant);
/* Spots that a crown needs across and deep. */
void dew_assign_span (const DewAssignment *result, const DewFitPlant *plant, int span[2]);
/* The fit of a plant with its block at a spot, and where the middle of its crown's base then
 * is. FALSE: the block does not lie within the bay. taken: something stands there for good,
 * or half of the pot would stand on a tray. */
gboolean dew_assign_fit_at (const DewAssignJob *job, const DewFitPlant *plant, const int span[2],
                            int spot, DewFit *fit, double at_m[3], gboolean *taken);
/* The fit where it stands. */
void dew_assign_fit_here (const DewAssignJob *job, const DewFitPlant *plant, const double at_m[3],
                          int bay, DewFit *fit);
/* Fills in why every plant has its place or none, and what is to be noted of the whole. */
void dew_assign_explain (DewAssignJob *job);

#define DEW_ASSIGN_PRIORITY_STANDING 20000
#define DEW_ASSIGN_PRIORITY_WISH 1000
#define DEW_ASSIGN_SUFFERING 5000

/* Demands of the air, which a plant that stands already may have to bear. */
#define DEW_ASSIGN_AIR_DEMANDS \
  (DEW_DEMAND_BIT (DEW_DEMAND_T_DAY) | DEW_DEMAND_BIT (DEW_DEMAND_T_NIGHT) \
   | DEW_DEMAND_BIT (DEW_DEMAND_RH_DAY) | DEW_DEMAND_BIT (DEW_DEMAND_RH_NIGHT) \
   | DEW_DEMAND_BIT (DEW_DEMAND_AIR) | DEW_DEMAND_BIT (DEW_DEMAND_LIGHT))

G_END_DECLS
