/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/solver.h"

#include <math.h>
#include <string.h>

/* The linear relaxation, by column generation. */

/* Between two looks at the cancellable. By number, not by time: an interrupted simplex may end
 * at another of several best corners, and the same input has to give the same answer. */
#define SLICE_ITERATIONS 500

void
dew_solver_add_rows (DewSolver *solver)
{
  const DewPackingProblem *problem = solver->problem;
  const DewSharers *sharers = &solver->sharers;
  int spots = dew_problem_spots (problem), row = problem->n_groups;

  for (int s = 0; s < spots; s++)
    {
      solver->row_of_spot[s] = row + 1;
      row += problem->taken[s] ? 0 : MAX (1, sharers->first[s + 1] - sharers->first[s]);
    }
  solver->row_of_spot[spots] = row + 1;
  for (int b = 0; b < problem->n_bays; b++)
    solver->row_of_bay[b] = isinf (problem->load_kg[b]) ? 0 : ++row;
  if (row > 0)
    glp_add_rows (solver->lp, row);
  for (int g = 0; g < problem->n_groups; g++)
    glp_set_row_bnds (solver->lp, g + 1, GLP_UP, 0.0, problem->count[g]);
  for (int r = solver->row_of_spot[0]; r < solver->row_of_spot[spots]; r++)
    glp_set_row_bnds (solver->lp, r, GLP_UP, 0.0, 1.0);
  for (int b = 0; b < problem->n_bays; b++)
    if (solver->row_of_bay[b] > 0)
      glp_set_row_bnds (solver->lp, solver->row_of_bay[b], GLP_UP, 0.0, problem->load_kg[b]);
}

/* The rows of the i-th spot of a choice in which it counts: all of them for one that comes anew,
 * its own for one that stays. *last is the one after the last. */
static void
rows_of_spot (const DewSolver *solver, int c, int i, int *first, int *last)
{
  const DewPackingProblem *problem = solver->problem;
  const DewSharers *sharers = &solver->sharers;
  int spot = dew_choice_spot (problem, &problem->choices[c], i);

  *first = solver->row_of_spot[spot];
  *last = solver->row_of_spot[spot + 1];
  if (!problem->choices[c].stays || *first == *last)
    return;
  while (sharers->choice[sharers->first[spot] + *first - solver->row_of_spot[spot]] != c)
    (*first)++;
  *last = *first + 1;
}

void
dew_solver_add_column (DewSolver *solver, int c)
{
  const DewPackingProblem *problem = solver->problem;
  const DewPackingChoice *choice = &problem->choices[c];
  int column = glp_add_cols (solver->lp, 1), n = 0;
  int most = problem->n_groups + solver->row_of_spot[dew_problem_spots (problem)] + 3;
  g_autofree int *rows = g_new (int, most);
  g_autofree double *values = g_new (double, most);

  rows[++n] = choice->group + 1;
  values[n] = 1.0;
  for (int i = 0; i < dew_choice_size (choice); i++)
    {
      int first, last;

      for (rows_of_spot (solver, c, i, &first, &last); first < last; first++)
        {
          rows[++n] = first;
          values[n] = 1.0;
        }
    }
  if (solver->row_of_bay[choice->bay] > 0 && choice->mass_kg > 0.0)
    {
      rows[++n] = solver->row_of_bay[choice->bay];
      values[n] = choice->mass_kg;
    }
  glp_set_mat_col (solver->lp, column, n, rows, values);
  glp_set_obj_coef (solver->lp, column, choice->value);
  /* No upper bound: the row of a spot holds it at 1, and so the dual stays simple. */
  glp_set_col_bnds (solver->lp, column, GLP_LO, 0.0, 0.0);
  solver->choice[column] = c;
  solver->n_columns = column;
}

/* In slices, so that a cancelled call ends soon. FALSE when time was up. */
gboolean
dew_solver_simplex (DewSolver *solver, int method)
{
  glp_smcp parm;

  glp_init_smcp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.meth = method;
  parm.it_lim = SLICE_ITERATIONS;
  for (;;)
    {
      int code = glp_simplex (solver->lp, &parm);

      if (code == 0)
        return glp_get_status (solver->lp) == GLP_OPT;
      if (code != GLP_EITLIM || dew_solver_is_over (solver))
        return FALSE;
    }
}

/* Value of a choice less what it uses, by the duals of the present relaxation. */
static double
worth (const DewSolver *solver, int c, const double *dual)
{
  const DewPackingProblem *problem = solver->problem;
  const DewPackingChoice *choice = &problem->choices[c];
  double left = choice->value - dual[choice->group + 1];

  for (int i = 0; i < dew_choice_size (choice); i++)
    {
      int first, last;

      for (rows_of_spot (solver, c, i, &first, &last); first < last; first++)
        left -= dual[first];
    }
  if (solver->row_of_bay[choice->bay] > 0)
    left -= choice->mass_kg * dual[solver->row_of_bay[choice->bay]];
  return left;
}

static double *
duals (const DewSolver *solver)
{
  int n = glp_get_num_rows (solver->lp);
  double *dual = g_new0 (double, n + 1);

  for (int r = 1; r <= n; r++)
    dual[r] = MAX (0.0, glp_get_row_dual (solver->lp, r));
  return dual;
}

/* A bound that holds whatever the relaxation's own accuracy: the dual's value plus, for each
 * group, the best worth that is left to it (weak duality). */
static double
safe_bound (const DewSolver *solver, const double *dual)
{
  const DewPackingProblem *problem = solver->problem;
  g_autofree double *most = g_new0 (double, problem->n_groups + 1);
  double bound = 0.0;

  for (int c = 0; c < problem->n_choices; c++)
    if (dew_choice_possible (problem, &problem->choices[c]))
      {
        const DewPackingChoice *choice = &problem->choices[c];

        most[choice->group] = MAX (most[choice->group], worth (solver, c, dual));
      }
  for (int g = 0; g < problem->n_groups; g++)
    bound += problem->count[g] * (dual[g + 1] + most[g]);
  for (int r = solver->row_of_spot[0]; r < solver->row_of_spot[dew_problem_spots (problem)]; r++)
    bound += dual[r];
  for (int b = 0; b < problem->n_bays; b++)
    if (solver->row_of_bay[b] > 0)
      bound += problem->load_kg[b] * dual[solver->row_of_bay[b]];
  return bound;
}

/* Adds choices that are worth something by the present duals, the best few of each group;
 * TRUE when there are any. in: [n_choices] whether a choice has its column. */
static gboolean
price (DewSolver *solver, const double *dual, guint8 *in, int most_per_group)
{
  const DewPackingProblem *problem = solver->problem;
  g_autofree DewPreference *found = g_new (DewPreference, MAX (1, problem->n_choices));
  g_autofree int *per_group = g_new0 (int, problem->n_groups + 1);
  gboolean any = FALSE;
  int n = 0;

  for (int c = 0; c < problem->n_choices; c++)
    {
      const DewPackingChoice *choice = &problem->choices[c];
      double left;

      if (in[c] || !dew_choice_possible (problem, choice))
        continue;
      left = worth (solver, c, dual);
      if (left > 1e-6)
        found[n++] = (DewPreference){ left, choice->value, c };
    }
  qsort (found, n, sizeof *found, dew_preferred_first);
  for (int i = 0; i < n; i++)
    {
      int group = problem->choices[found[i].choice].group;

      if (per_group[group]++ >= most_per_group)
        continue;
      dew_solver_add_column (solver, found[i].choice);
      in[found[i].choice] = 1;
      any = TRUE;
    }
  return any;
}

/* Column generation: few choices can be in the optimum, so most need no column. FALSE when
 * time was up; the bound is then that of the last duals. */
gboolean
dew_solver_relax (DewSolver *solver, const int *start, int n_start, double *share, double *reduced)
{
  const DewPackingProblem *problem = solver->problem;
  g_autofree guint8 *in = g_new0 (guint8, MAX (1, problem->n_choices));
  g_autofree double *dual = NULL;
  gboolean done = FALSE;

  dew_solver_add_rows (solver);
  for (int i = 0; i < n_start; i++)
    if (!in[start[i]])
      {
        dew_solver_add_column (solver, start[i]);
        in[start[i]] = 1;
      }
  while (!done)
    {
      if (!dew_solver_simplex (solver, GLP_PRIMAL))
        break;
      g_free (dual);
      dual = duals (solver);
      solver->bound = MIN (solver->bound, safe_bound (solver, dual));
      done = !price (solver, dual, in, 20);
      if (!done && dew_solver_is_over (solver))
        break;
    }
  if (dual == NULL)
    dual = g_new0 (double, glp_get_num_rows (solver->lp) + 1);
  memset (share, 0, sizeof (double) * problem->n_choices);
  for (int j = 1; j <= solver->n_columns; j++)
    share[solver->choice[j]] = glp_get_col_prim (solver->lp, j);
  for (int c = 0; c < problem->n_choices; c++)
    reduced[c]
      = dew_choice_possible (problem, &problem->choices[c]) ? worth (solver, c, dual) : -INFINITY;
  return done;
}
