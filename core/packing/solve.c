/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/solver.h"

#include <math.h>

/* The packing problem, solved to the end:
 *
 *   1. its linear relaxation gives the bound and the worth of each choice (reduced costs);
 *   2. rounding that relaxation, then filling up and swapping, gives an assignment;
 *   3. a choice whose reduced cost is larger than the distance between the two cannot be part
 *      of a better assignment and is struck out (reduced-cost fixing: Dantzig, Fulkerson &
 *      Johnson, Operations Research 2, 393-410, 1954);
 *   4. branch and bound on what is left, which is little.
 *
 * Totals are multiples of the values' common divisor, so that an upper bound less than that
 * above an assignment proves it. Spots as rows are all maximal cliques of blocks that exclude
 * each other: rectangles that pairwise overlap share a spot (Helly's theorem for boxes), so
 * the relaxation is tight. What stays may touch what else stays, and needs a row of its own on each
 * of its spots, with all that may come there anew. */

/* GLPK keeps its memory per process or per thread, as it was built; one at a time suits both. */
static GMutex glpk_lock;

gboolean
dew_solver_is_over (const DewSolver *solver)
{
  return g_cancellable_is_cancelled (solver->cancellable)
         || g_get_monotonic_time () > solver->end_us;
}

gboolean
dew_solver_is_proven (const DewSolver *solver)
{
  return dew_solver_distance (solver) < 0.0;
}

double
dew_solver_distance (const DewSolver *solver)
{
  gint64 known = MAX (solver->value, solver->floor);
  gint64 next = known < 0 ? 0 : (known / solver->step + 1) * solver->step;

  return solver->bound + DEW_SOLVER_SLACK - (double) next;
}

static int
common_step (const DewPackingProblem *problem)
{
  int step = 0;

  for (int c = 0; c < problem->n_choices; c++)
    for (int a = problem->choices[c].value, b = step; a != 0;)
      {
        int rest = b % a;

        b = a;
        a = rest;
        step = b;
      }
  return MAX (1, step);
}

/* The best few of each group on each bay: what the relaxation begins with. */
static int *
starting_choices (const DewPackingProblem *problem, int *n)
{
  g_autofree DewPreference *preferences = g_new (DewPreference, MAX (1, problem->n_choices));
  g_autofree int *used = g_new0 (int, problem->n_groups * problem->n_bays + 1);
  int *start = g_new (int, MAX (1, problem->n_choices));
  int m = 0;

  *n = 0;
  for (int c = 0; c < problem->n_choices; c++)
    if (dew_choice_possible (problem, &problem->choices[c]))
      preferences[m++] = (DewPreference){ problem->choices[c].value, 0.0, c };
  qsort (preferences, m, sizeof *preferences, dew_preferred_first);
  for (int i = 0; i < m; i++)
    {
      const DewPackingChoice *choice = &problem->choices[preferences[i].choice];

      if (used[choice->group * problem->n_bays + choice->bay]++ < 4 + problem->count[choice->group])
        start[(*n)++] = preferences[i].choice;
    }
  return start;
}

/* Every plant where it fits best, whatever stands there. */
static double
easy_bound (const DewPackingProblem *problem)
{
  g_autofree int *most = g_new0 (int, problem->n_groups + 1);
  double bound = 0.0;

  for (int c = 0; c < problem->n_choices; c++)
    if (dew_choice_possible (problem, &problem->choices[c]))
      most[problem->choices[c].group]
        = MAX (most[problem->choices[c].group], problem->choices[c].value);
  for (int g = 0; g < problem->n_groups; g++)
    bound += (double) problem->count[g] * most[g];
  return bound;
}

gboolean
dew_packing_solve (const DewPackingProblem *problem, double seconds, gint64 floor_value,
                   GCancellable *cancellable, DewPackingSolution *solution)
{
  DewSolver solver = { .problem = problem,
                       .cancellable = cancellable,
                       .value = -1,
                       .floor = floor_value,
                       .bound = easy_bound (problem) };
  g_autofree double *share = g_new0 (double, MAX (1, problem->n_choices));
  g_autofree double *reduced = g_new0 (double, MAX (1, problem->n_choices));
  g_autofree int *start = NULL;
  int n_start;

  solver.end_us = g_get_monotonic_time () + (gint64) (1e6 * seconds);
  dew_sharers_init (&solver.sharers, problem);
  solver.row_of_spot = g_new0 (int, dew_problem_spots (problem) + 1);
  solver.row_of_bay = g_new0 (int, problem->n_bays);
  solver.choice = g_new0 (int, problem->n_choices + 2);
  solver.best = g_new0 (guint8, MAX (1, problem->n_choices));
  solver.sums = g_array_new (FALSE, FALSE, sizeof (double));
  solver.step = common_step (problem);
  start = starting_choices (problem, &n_start);
  solution->ceiling = solver.bound;
  dew_solver_stay (&solver);

  g_mutex_lock (&glpk_lock);
  glp_term_out (GLP_OFF);
  solver.lp = glp_create_prob ();
  glp_set_obj_dir (solver.lp, GLP_MAX);
  if (dew_solver_relax (&solver, start, n_start, share, reduced))
    {
      dew_solver_round (&solver, share, reduced);
      if (!dew_solver_is_proven (&solver))
        dew_solver_dive (&solver, reduced);
      if (!dew_solver_is_proven (&solver))
        dew_solver_shake (&solver, reduced);
      if (!dew_solver_is_proven (&solver))
        dew_solver_branch (&solver, reduced);
    }
  else
    dew_solver_round (&solver, share, reduced);
  glp_delete_prob (solver.lp);
  glp_free_env ();
  g_mutex_unlock (&glpk_lock);

  solution->chosen = solver.best;
  solution->value = solver.value > solver.floor ? solver.value : -1;
  solution->proven = dew_solver_is_proven (&solver);
  solution->bound = solution->proven ? (double) MAX (solver.value, solver.floor)
                                     : MAX (solver.bound, (double) solver.value);
  dew_sharers_clear (&solver.sharers);
  g_free (solver.row_of_spot);
  g_free (solver.row_of_bay);
  g_free (solver.choice);
  g_array_unref (solver.sums);
  return !g_cancellable_is_cancelled (cancellable);
}
