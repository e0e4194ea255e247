/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A packing problem of whole numbers: rectangular pieces on the spots of some floors (bays),
 * each way of placing one with a value. It knows nothing of plants or air. See solve.c for
 * how it is solved, and proven where there is time. */

#include <gio/gio.h>

G_BEGIN_DECLS

/* One way to put one piece of a group somewhere. */
typedef struct
{
  int group;
  int value; /* > 0 */
  int bay;
  int first[2], span[2]; /* column and row of the spots it covers */
  double mass_kg;
  int tag; /* the caller's own; not read here */
  /* It is there already: it may touch what else is there (other such choices, taken spots),
   * and only keeps its spots from choices that come anew. */
  gboolean stays;
} DewPackingChoice;

typedef struct
{
  int n_bays, across, deep; /* spots of a bay: across x deep */
  const guint8 *taken;      /* [n_bays * across * deep] 1: nothing may stand here */
  const double *load_kg;    /* [n_bays] INFINITY: no limit */
  int n_groups;
  const int *count; /* [n_groups] */
  int n_choices;
  const DewPackingChoice *choices;
} DewPackingProblem;

typedef struct
{
  guint8 *chosen; /* [n_choices], owned */
  gint64 value;
  double bound;
  double ceiling; /* every piece where it is worth most, whatever else is there */
  gboolean proven;
} DewPackingSolution;

/* Greatest total value of choices that keep to these rules: of a group at most `count`, on a
 * spot at most one (or as many as stay there), on a bay at most its load. At most `seconds` of
 * proving; what was found by then, and the bound. floor: a value that is known to be reachable
 * elsewhere; when nothing can pass it, the search ends with proven TRUE and value -1. FALSE when
 * cancelled. */
gboolean dew_packing_solve (const DewPackingProblem *problem, double seconds, gint64 floor,
                            GCancellable *cancellable, DewPackingSolution *solution);

G_END_DECLS
