/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The inside of dew_packing_solve(): what its files share. */

#include "packing/packing.h"

#include <glpk.h>

G_BEGIN_DECLS

#define DEW_SOLVER_SLACK 1e-5 /* by which whole values may be missed in floating point */

/* The choices that may stay on each spot: of spot s choice[first[s]] to choice[first[s + 1] - 1].
 */
typedef struct
{
  int *first; /* [spots + 1] */
  int *choice;
} DewSharers;

typedef struct
{
  const DewPackingProblem *problem;
  GCancellable *cancellable;
  gint64 end_us;
  glp_prob *lp;
  DewSharers sharers;
  /* [spots + 1] First 1-based row of a spot; those up to the next spot's are its own: one, or
   * one for each choice that may stay on it; none where it is taken. */
  int *row_of_spot;
  int *row_of_bay; /* [bays] 0: no limit */
  int n_columns;
  int first_sum; /* columns from here on are sums of others */
  GArray *sums;  /* double, of the best assignment */
  gboolean offered;
  int *choice;  /* [n_columns + 1] of a column */
  guint8 *best; /* [n_choices] */
  gint64 value; /* of best; -1: none */
  gint64 floor;
  int step; /* greatest common divisor of the values: no two totals are nearer */
  double bound;
} DewSolver;

/* A partial assignment that never breaks a rule. */
typedef struct
{
  const DewPackingProblem *problem;
  const DewSharers *sharers; /* lent */
  int *owner;                /* [spots] choice + 1 that came anew, 0: none, -1: taken */
  int *guests;               /* [spots] how many stay there */
  double *load_kg;
  int *left; /* [groups] */
  guint8 *chosen;
  int n;      /* how many are chosen */
  int *which; /* [n_choices] the first n of them are those that are chosen */
  int *where; /* [n_choices] of a chosen one: its index in `which` */
  gint64 value;
} DewPacking;

typedef struct
{
  double first, second;
  int choice;
} DewPreference;

/* Choices. */
int dew_problem_spots (const DewPackingProblem *problem);
/* The i-th spot that a choice covers, of dew_choice_size(). */
int dew_choice_spot (const DewPackingProblem *problem, const DewPackingChoice *choice, int i);
int dew_choice_size (const DewPackingChoice *choice);
gboolean dew_choice_possible (const DewPackingProblem *problem, const DewPackingChoice *choice);
/* The greater `first` first, then `second`, then by number. For qsort(). */
int dew_preferred_first (gconstpointer a, gconstpointer b);

void dew_sharers_init (DewSharers *sharers, const DewPackingProblem *problem);
void dew_sharers_clear (DewSharers *sharers);

/* Partial assignments. */
/* A choice that stands on the spot, from `after` on in the order of finding (0 first); -1: none.
 * `after` goes on. */
int dew_packing_on_spot (const DewPacking *packing, int spot, int *after);
void dew_packing_init (DewPacking *packing, const DewPackingProblem *problem,
                       const DewSharers *sharers);
void dew_packing_free (DewPacking *packing);
void dew_packing_copy (DewPacking *to, const DewPacking *from);
void dew_packing_put (DewPacking *packing, int choice, gboolean in);
gboolean dew_packing_has_room (const DewPacking *packing, int choice);
/* Choices in an order of preference [n], as far as there is room. */
void dew_packing_fill (DewPacking *packing, const int *order, int n);
/* Swaps one for others while that is worth it. */
void dew_packing_improve (DewPacking *packing, const int *order, int n);

/* The steps; see solve.c. */
gboolean dew_solver_is_over (const DewSolver *solver);
gboolean dew_solver_is_proven (const DewSolver *solver);
/* How far the bound is above the next better total: a choice whose reduced cost is lower by
 * more than this cannot be part of anything better. */
double dew_solver_distance (const DewSolver *solver);
void dew_solver_keep (DewSolver *solver, const DewPacking *packing);
/* Keeps what is there when everything stays: never is the answer worth less. */
void dew_solver_stay (DewSolver *solver);
void dew_solver_add_rows (DewSolver *solver);
void dew_solver_add_column (DewSolver *solver, int choice);
/* FALSE when the time was up. */
gboolean dew_solver_simplex (DewSolver *solver, int method);
/* share, reduced: [n_choices] of the relaxation. FALSE when the time was up; the bound is
 * then that of the last duals. */
gboolean dew_solver_relax (DewSolver *solver, const int *start, int n_start, double *share,
                           double *reduced);
void dew_solver_round (DewSolver *solver, const double *share, const double *reduced);
void dew_solver_dive (DewSolver *solver, const double *reduced);
void dew_solver_shake (DewSolver *solver, const double *reduced);
void dew_solver_branch (DewSolver *solver, const double *reduced);

G_END_DECLS
