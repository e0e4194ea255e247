/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/solver.h"

#include <math.h>
#include <stdlib.h>

/* Branch and bound on what the relaxation leaves open. */

#define FEW_COLUMNS 400
#define MANY_COLUMNS 4000
#define KERNEL_COLUMNS 2000

static void
sum_of_best (DewSolver *solver, const GArray *members)
{
  double sum = 0.0;

  for (guint k = 0; k < members->len; k++)
    sum += solver->best[solver->choice[g_array_index (members, int, k)]];
  g_array_append_val (solver->sums, sum);
}

/* Sums of choices that must be whole: how many plants of one size, and of one group, a bay
 * holds. To part the tree by these first settles far more than to part it by one spot. */
static void
add_sums (DewSolver *solver)
{
  const DewPackingProblem *problem = solver->problem;
  g_autoptr (GHashTable) sums
    = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) g_array_unref);
  g_autoptr (GPtrArray) order = g_ptr_array_new ();

  solver->first_sum = solver->n_columns + 1;
  g_array_set_size (solver->sums, 0);
  for (int pass = 0; pass < 2; pass++)
    for (int j = 1; j < solver->first_sum; j++)
      {
        const DewPackingChoice *choice = &problem->choices[solver->choice[j]];
        gint64 key = pass == 0 ? (gint64) choice->span[0] * 1000 + choice->span[1]
                               : 1000000 + (gint64) choice->group;
        GArray *members;

        key = key * problem->n_bays + choice->bay;
        members = g_hash_table_lookup (sums, &key);
        if (members == NULL)
          {
            members = g_array_new (FALSE, FALSE, sizeof (int));
            g_hash_table_insert (sums, g_memdup2 (&key, sizeof key), members);
            g_ptr_array_add (order, members);
          }
        g_array_append_val (members, j);
      }
  for (guint i = 0; i < order->len; i++)
    {
      const GArray *members = g_ptr_array_index (order, i);
      int column = glp_add_cols (solver->lp, 1), row = glp_add_rows (solver->lp, 1);
      g_autofree int *columns = g_new (int, members->len + 2);
      g_autofree double *values = g_new (double, members->len + 2);

      for (guint k = 0; k < members->len; k++)
        {
          columns[k + 1] = g_array_index (members, int, k);
          values[k + 1] = 1.0;
        }
      columns[members->len + 1] = column;
      values[members->len + 1] = -1.0;
      glp_set_mat_row (solver->lp, row, members->len + 1, columns, values);
      glp_set_row_bnds (solver->lp, row, GLP_FX, 0.0, 0.0);
      glp_set_col_bnds (solver->lp, column, GLP_DB, 0.0, members->len);
      glp_set_col_kind (solver->lp, column, GLP_IV);
      sum_of_best (solver, members);
    }
}

static void
choose_branch (glp_tree *tree, const DewSolver *solver)
{
  glp_prob *lp = glp_ios_get_prob (tree);
  int n = glp_get_num_cols (lp), best = 0;
  double best_away = 0.0;

  for (int j = solver->first_sum; j <= n; j++)
    if (glp_ios_can_branch (tree, j))
      {
        double x = glp_get_col_prim (lp, j), away = MIN (x - floor (x), ceil (x) - x);

        if (away > best_away + 1e-9)
          {
            best = j;
            best_away = away;
          }
      }
  if (best == 0)
    for (int j = 1; j < solver->first_sum; j++)
      if (glp_ios_can_branch (tree, j))
        {
          double x = glp_get_col_prim (lp, j);

          if (x > best_away + 1e-9)
            {
              best = j;
              best_away = x;
            }
        }
  if (best > 0)
    glp_ios_branch_upon (tree, best, GLP_UP_BRNCH);
}

/* What was found by rounding cuts the tree from the start. */
static void
offer_known (glp_tree *tree, DewSolver *solver)
{
  int n = glp_get_num_cols (glp_ios_get_prob (tree));
  g_autofree double *x = NULL;

  if (solver->offered || solver->value < 0)
    return;
  solver->offered = TRUE;
  x = g_new0 (double, n + 1);
  for (int j = 1; j < solver->first_sum; j++)
    x[j] = solver->best[solver->choice[j]];
  for (int j = solver->first_sum; j <= n; j++)
    x[j] = g_array_index (solver->sums, double, j - solver->first_sum);
  glp_ios_heur_sol (tree, x);
}

static void
look_up (glp_tree *tree, void *data)
{
  DewSolver *solver = data;

  if (g_cancellable_is_cancelled (solver->cancellable))
    {
      glp_ios_terminate (tree);
      return;
    }
  switch (glp_ios_reason (tree))
    {
    case GLP_IBRANCH:
      choose_branch (tree, solver);
      break;
    case GLP_IHEUR:
      offer_known (tree, solver);
      break;
    case GLP_ISELECT:
      solver->bound
        = MIN (solver->bound, solver->step * glp_ios_node_bound (tree, glp_ios_best_node (tree)));
      break;
    default:
      break;
    }
}

/* How many choices may still be part of something better. */
static int
count_open (const DewSolver *solver, const double *reduced)
{
  double distance = dew_solver_distance (solver);
  int n = 0;

  for (int c = 0; c < solver->problem->n_choices; c++)
    n += solver->best[c] || reduced[c] >= -distance;
  return n;
}

/* Reduced cost of the n-th best choice. */
static double
nth_reduced (const DewSolver *solver, const double *reduced, int n)
{
  int all = solver->problem->n_choices;
  g_autofree DewPreference *preferences = g_new (DewPreference, all);

  for (int c = 0; c < all; c++)
    preferences[c] = (DewPreference){ reduced[c], 0.0, c };
  qsort (preferences, all, sizeof *preferences, dew_preferred_first);
  return preferences[MIN (n, all) - 1].first;
}

/* The choices whose reduced cost is not lower, as whole numbers. FALSE: there is none. */
static gboolean
make_program (DewSolver *solver, const double *reduced, double lowest)
{
  const DewPackingProblem *problem = solver->problem;

  glp_erase_prob (solver->lp);
  glp_set_obj_dir (solver->lp, GLP_MAX);
  dew_solver_add_rows (solver);
  solver->n_columns = 0;
  for (int c = 0; c < problem->n_choices; c++)
    if (solver->best[c] || reduced[c] >= lowest)
      dew_solver_add_column (solver, c);
  for (int j = 1; j <= solver->n_columns; j++)
    {
      /* In steps, so that totals are whole numbers and bounds may be rounded down to them. */
      glp_set_obj_coef (solver->lp, j,
                        (double) (problem->choices[solver->choice[j]].value / solver->step));
      glp_set_col_kind (solver->lp, j, GLP_BV);
    }
  add_sums (solver);
  return solver->n_columns > 0;
}

static void
take_over (DewSolver *solver)
{
  DewPacking packing;

  dew_packing_init (&packing, solver->problem, &solver->sharers);
  for (int j = 1; j < solver->first_sum; j++)
    if (glp_mip_col_val (solver->lp, j) > 0.5 && dew_packing_has_room (&packing, solver->choice[j]))
      dew_packing_put (&packing, solver->choice[j], TRUE);
  dew_solver_keep (solver, &packing);
  dew_packing_free (&packing);
}

/* One search of at most so many seconds. */
static void
search (DewSolver *solver, gboolean gomory, double seconds)
{
  gint64 known = MAX (solver->value, solver->floor);
  int code, status;
  glp_iocp parm;

  solver->offered = FALSE;
  if (!dew_solver_simplex (solver, GLP_PRIMAL))
    return;
  glp_init_iocp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.bt_tech = GLP_BT_BLB;
  parm.clq_cuts = GLP_ON;
  parm.gmi_cuts = gomory ? GLP_ON : GLP_OFF;
  parm.cb_func = look_up;
  parm.cb_info = solver;
  parm.tm_lim = (int) CLAMP (1000.0 * seconds, 1, G_MAXINT / 2);
  code = glp_intopt (solver->lp, &parm);
  status = glp_mip_status (solver->lp);
  if (code == GLP_ENOPFS || (code == 0 && status == GLP_NOFEAS))
    {
      solver->bound = known;
      return;
    }
  if (status == GLP_OPT || status == GLP_FEAS)
    take_over (solver);
  if (code == 0 && status == GLP_OPT)
    solver->bound = MAX (solver->value, known);
}

/* Only the most promising choices: this proves nothing, but what it finds leaves fewer of the
 * others open (kernel search: Angelelli, Mansini & Speranza, Computers & Operations Research
 * 37, 2017-2026, 2010). */
static void
search_kernel (DewSolver *solver, const double *reduced, double seconds)
{
  double bound = solver->bound;

  if (make_program (solver, reduced, nth_reduced (solver, reduced, KERNEL_COLUMNS)))
    search (solver, FALSE, seconds);
  solver->bound = MAX (bound, (double) solver->value);
}

static double
left_s (const DewSolver *solver)
{
  return MAX (0.0, (solver->end_us - g_get_monotonic_time ()) / 1e6);
}

void
dew_solver_branch (DewSolver *solver, const double *reduced)
{
  if (count_open (solver, reduced) > MANY_COLUMNS)
    search_kernel (solver, reduced, left_s (solver) / 2.0);
  /* So many columns end in no time one has: the bound of the relaxation stands. */
  if (dew_solver_is_proven (solver) || dew_solver_is_over (solver)
      || count_open (solver, reduced) > MANY_COLUMNS)
    return;
  if (!make_program (solver, reduced, -dew_solver_distance (solver)))
    {
      solver->bound = MAX (solver->value, solver->floor);
      return;
    }
  /* Gomory's cuts often end a small search at its root, and make a large one slow (measured:
   * 6 ms for 0.8 s at 290 columns, 0.7 s for 0.1 s at 910). */
  if (solver->n_columns <= FEW_COLUMNS)
    {
      search (solver, TRUE, left_s (solver) / 10.0);
      if (dew_solver_is_proven (solver) || dew_solver_is_over (solver)
          || !make_program (solver, reduced, -dew_solver_distance (solver)))
        return;
    }
  search (solver, FALSE, left_s (solver));
}
