/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/solver.h"

#include <math.h>
#include <string.h>

/* From the relaxation to assignments. */

/* Rounds of looking for better before the proof, and of many choices the most promising. */
#define SHAKES 150
#define LONG_SHAKE 600
#define MOST_USEFUL 3000

void
dew_solver_keep (DewSolver *solver, const DewPacking *packing)
{
  if (packing->value <= solver->value)
    return;
  solver->value = packing->value;
  memcpy (solver->best, packing->chosen, solver->problem->n_choices);
}

/* Rounds: choices by their share in the relaxation, then by reduced cost. */
void
dew_solver_round (DewSolver *solver, const double *share, const double *reduced)
{
  const DewPackingProblem *problem = solver->problem;
  g_autofree DewPreference *preferences = g_new (DewPreference, MAX (1, problem->n_choices));
  g_autofree int *order = g_new (int, MAX (1, problem->n_choices));
  DewPacking packing;
  int n = 0;

  for (int c = 0; c < problem->n_choices; c++)
    if (dew_choice_possible (problem, &problem->choices[c]))
      preferences[n++] = (DewPreference){ share[c], reduced[c], c };
  qsort (preferences, n, sizeof *preferences, dew_preferred_first);
  for (int i = 0; i < n; i++)
    order[i] = preferences[i].choice;
  dew_packing_init (&packing, problem, &solver->sharers);
  dew_packing_fill (&packing, order, n);
  dew_packing_improve (&packing, order, n);
  dew_solver_keep (solver, &packing);
  dew_packing_free (&packing);
}

void
dew_solver_stay (DewSolver *solver)
{
  const DewPackingProblem *problem = solver->problem;
  DewPacking packing;

  dew_packing_init (&packing, problem, &solver->sharers);
  for (int c = 0; c < problem->n_choices; c++)
    if (problem->choices[c].stays && dew_packing_has_room (&packing, c))
      dew_packing_put (&packing, c, TRUE);
  dew_solver_keep (solver, &packing);
  dew_packing_free (&packing);
}

/* Dives: whole columns and the largest fraction are held at one, and the rest is relaxed
 * again, until all are whole. Uses up the relaxation. */
void
dew_solver_dive (DewSolver *solver, const double *reduced)
{
  const double nearly = 0.8;
  g_autofree double *share = g_new0 (double, MAX (1, solver->problem->n_choices));
  g_autofree guint8 *held = g_new0 (guint8, solver->n_columns + 1);
  int largest = 1;

  while (largest > 0 && !dew_solver_is_over (solver))
    {
      largest = 0;
      for (int j = 1; j <= solver->n_columns; j++)
        {
          double x = glp_get_col_prim (solver->lp, j);

          if (held[j])
            continue;
          if (x > nearly)
            {
              held[j] = 1;
              glp_set_col_bnds (solver->lp, j, GLP_FX, 1.0, 1.0);
            }
          else if (x > DEW_SOLVER_SLACK
                   && (largest == 0
                       || x > glp_get_col_prim (solver->lp, largest) + DEW_SOLVER_SLACK))
            largest = j;
        }
      if (largest == 0)
        break;
      held[largest] = 1;
      glp_set_col_bnds (solver->lp, largest, GLP_FX, 1.0, 1.0);
      if (!dew_solver_simplex (solver, GLP_DUALP))
        break;
    }
  for (int j = 1; j <= solver->n_columns; j++)
    share[solver->choice[j]] = held[j] ? 1.0 : glp_get_col_prim (solver->lp, j);
  dew_solver_round (solver, share, reduced);
}

/* The same on every machine. */
static double
next_random (guint32 *state)
{
  *state = *state * 1664525u + 1013904223u; /* Numerical Recipes, ranqd1 */
  return (*state >> 8) / 16777216.0;
}

/* Takes out what stands in and round a random window of one bay. */
static void
clear_window (DewPacking *packing, guint32 *state)
{
  const DewPackingProblem *problem = packing->problem;
  int bay = (int) (next_random (state) * problem->n_bays);
  int c0 = (int) (next_random (state) * problem->across);
  int r0 = (int) (next_random (state) * problem->deep);
  int width = 2 + (int) (next_random (state) * 5), depth = 2 + (int) (next_random (state) * 5);

  for (int r = r0; r < MIN (r0 + depth, problem->deep); r++)
    for (int c = c0; c < MIN (c0 + width, problem->across); c++)
      {
        int spot = (bay * problem->deep + r) * problem->across + c, there;

        for (int after = 0; (there = dew_packing_on_spot (packing, spot, &after)) >= 0;)
          dew_packing_put (packing, there, FALSE);
      }
}

/* Clears a window or two and fills up again in another order, many times (large neighbourhood
 * search: Shaw, CP-98, 417-431, 1998). Only choices that can be part of something better. */
void
dew_solver_shake (DewSolver *solver, const double *reduced)
{
  const DewPackingProblem *problem = solver->problem;
  const double distance = dew_solver_distance (solver);
  g_autofree DewPreference *preferences = g_new (DewPreference, MAX (1, problem->n_choices));
  g_autofree int *order = g_new (int, MAX (1, problem->n_choices));
  g_autofree int *useful = g_new (int, MAX (1, problem->n_choices));
  DewPacking packing, trial;
  guint32 state = 1;
  int n = 0, rounds;

  dew_packing_init (&packing, problem, &solver->sharers);
  dew_packing_init (&trial, problem, &solver->sharers);
  for (int c = 0; c < problem->n_choices; c++)
    {
      if (solver->best[c])
        dew_packing_put (&packing, c, TRUE);
      if (solver->best[c] || reduced[c] >= -distance)
        preferences[n++] = (DewPreference){ solver->best[c] ? INFINITY : reduced[c], 0.0, c };
    }
  qsort (preferences, n, sizeof *preferences, dew_preferred_first);
  rounds = n > MOST_USEFUL ? LONG_SHAKE : SHAKES;
  n = MIN (n, MOST_USEFUL);
  for (int i = 0; i < n; i++)
    useful[i] = preferences[i].choice;
  for (int round = 0; round < rounds && n > 0; round++)
    {
      double noise = distance * (round % 4 == 0 ? 0.02 : 0.3) * next_random (&state);

      if (dew_solver_is_proven (solver) || dew_solver_is_over (solver))
        break;
      dew_packing_copy (&trial, &packing);
      for (int k = 0; k < 1 + round % 3; k++)
        clear_window (&trial, &state);
      for (int i = 0; i < n; i++)
        preferences[i]
          = (DewPreference){ reduced[useful[i]] + noise * next_random (&state), 0.0, useful[i] };
      qsort (preferences, n, sizeof *preferences, dew_preferred_first);
      for (int i = 0; i < n; i++)
        order[i] = preferences[i].choice;
      dew_packing_fill (&trial, order, n);
      /* Swaps are dear: only where they may pass what there is. */
      if (trial.value > packing.value - 10 * solver->step)
        dew_packing_improve (&trial, order, n);
      if (trial.value >= packing.value)
        dew_packing_copy (&packing, &trial);
      dew_solver_keep (solver, &packing);
    }
  dew_packing_free (&packing);
  dew_packing_free (&trial);
}
