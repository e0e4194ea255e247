/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/solver.h"

#include <math.h>
#include <string.h>

/* Choices, and partial assignments that never break a rule. */

int
dew_problem_spots (const DewPackingProblem *problem)
{
  return problem->n_bays * problem->across * problem->deep;
}

int
dew_choice_spot (const DewPackingProblem *problem, const DewPackingChoice *choice, int i)
{
  int c = choice->first[0] + i % choice->span[0], r = choice->first[1] + i / choice->span[0];

  return (choice->bay * problem->deep + r) * problem->across + c;
}

int
dew_choice_size (const DewPackingChoice *choice)
{
  return choice->span[0] * choice->span[1];
}

gboolean
dew_choice_possible (const DewPackingProblem *problem, const DewPackingChoice *choice)
{
  if (choice->mass_kg > problem->load_kg[choice->bay] || problem->count[choice->group] < 1)
    return FALSE;
  for (int i = 0; i < dew_choice_size (choice); i++)
    if (problem->taken[dew_choice_spot (problem, choice, i)])
      return FALSE;
  return TRUE;
}

static void
packing_clear (DewPacking *packing)
{
  const DewPackingProblem *problem = packing->problem;

  for (int s = 0; s < dew_problem_spots (problem); s++)
    packing->owner[s] = problem->taken[s] ? -1 : 0;
  memcpy (packing->load_kg, problem->load_kg, sizeof (double) * problem->n_bays);
  memcpy (packing->left, problem->count, sizeof (int) * problem->n_groups);
  memset (packing->chosen, 0, problem->n_choices);
  packing->value = 0;
}

void
dew_packing_init (DewPacking *packing, const DewPackingProblem *problem)
{
  *packing = (DewPacking){ .problem = problem };
  packing->owner = g_new (int, dew_problem_spots (problem));
  packing->load_kg = g_new (double, problem->n_bays);
  packing->left = g_new (int, MAX (1, problem->n_groups));
  packing->chosen = g_new (guint8, MAX (1, problem->n_choices));
  packing_clear (packing);
}

void
dew_packing_free (DewPacking *packing)
{
  g_free (packing->owner);
  g_free (packing->load_kg);
  g_free (packing->left);
  g_free (packing->chosen);
}

void
dew_packing_put (DewPacking *packing, int c, gboolean in)
{
  const DewPackingChoice *choice = &packing->problem->choices[c];
  int sign = in ? 1 : -1;

  for (int i = 0; i < dew_choice_size (choice); i++)
    packing->owner[dew_choice_spot (packing->problem, choice, i)] = in ? c + 1 : 0;
  packing->load_kg[choice->bay] -= sign * choice->mass_kg;
  packing->left[choice->group] -= sign;
  packing->chosen[c] = in;
  packing->value += sign * choice->value;
}

gboolean
dew_packing_has_room (const DewPacking *packing, int c)
{
  const DewPackingChoice *choice = &packing->problem->choices[c];

  if (packing->chosen[c] || packing->left[choice->group] < 1
      || choice->mass_kg > packing->load_kg[choice->bay] + 1e-9)
    return FALSE;
  for (int i = 0; i < dew_choice_size (choice); i++)
    if (packing->owner[dew_choice_spot (packing->problem, choice, i)] != 0)
      return FALSE;
  return TRUE;
}

/* Choices in an order of preference, as far as there is room. */
void
dew_packing_fill (DewPacking *packing, const int *order, int n)
{
  for (int i = 0; i < n; i++)
    if (dew_packing_has_room (packing, order[i]))
      dew_packing_put (packing, order[i], TRUE);
}

/* Puts a choice in and takes out what is in its way, when that is worth it; also a plant of
 * its own group elsewhere when all are placed. */
static gboolean
packing_swap (DewPacking *packing, int c)
{
  const DewPackingProblem *problem = packing->problem;
  const DewPackingChoice *choice = &problem->choices[c];
  int out[64], n_out = 0, worst = -1;
  gint64 lost = 0;
  double kg = choice->mass_kg - packing->load_kg[choice->bay];
  int left = packing->left[choice->group];

  if (packing->chosen[c])
    return FALSE;
  for (int i = 0; i < dew_choice_size (choice); i++)
    {
      int owner = packing->owner[dew_choice_spot (problem, choice, i)];
      int k = 0;

      if (owner < 0)
        return FALSE;
      while (owner > 0 && k < n_out && out[k] != owner - 1)
        k++;
      if (owner == 0 || k < n_out)
        continue;
      if (n_out == (int) G_N_ELEMENTS (out))
        return FALSE;
      out[n_out++] = owner - 1;
      lost += problem->choices[owner - 1].value;
      kg -= problem->choices[owner - 1].mass_kg;
      left += problem->choices[owner - 1].group == choice->group;
      if (lost >= choice->value && left > 0)
        return FALSE;
    }
  if (left < 1)
    {
      for (int s = 0; s < dew_problem_spots (problem); s++)
        {
          int owner = packing->owner[s] - 1;

          if (owner >= 0 && problem->choices[owner].group == choice->group
              && (worst < 0 || problem->choices[owner].value < problem->choices[worst].value))
            worst = owner;
        }
      if (worst < 0 || n_out == (int) G_N_ELEMENTS (out))
        return FALSE;
      out[n_out++] = worst;
      lost += problem->choices[worst].value;
      if (problem->choices[worst].bay == choice->bay)
        kg -= problem->choices[worst].mass_kg;
    }
  if (lost >= choice->value || kg > 1e-9)
    return FALSE;
  for (int k = 0; k < n_out; k++)
    dew_packing_put (packing, out[k], FALSE);
  dew_packing_put (packing, c, TRUE);
  return TRUE;
}

void
dew_packing_improve (DewPacking *packing, const int *order, int n)
{
  gboolean better = TRUE;

  for (int round = 0; better && round < 50; round++)
    {
      better = FALSE;
      for (int i = 0; i < n; i++)
        if (packing_swap (packing, order[i]))
          {
            better = TRUE;
            dew_packing_fill (packing, order, n);
          }
    }
}

void
dew_packing_copy (DewPacking *to, const DewPacking *from)
{
  const DewPackingProblem *problem = from->problem;

  memcpy (to->owner, from->owner, sizeof (int) * dew_problem_spots (problem));
  memcpy (to->load_kg, from->load_kg, sizeof (double) * problem->n_bays);
  memcpy (to->left, from->left, sizeof (int) * problem->n_groups);
  memcpy (to->chosen, from->chosen, problem->n_choices);
  to->value = from->value;
}

int
dew_preferred_first (gconstpointer pa, gconstpointer pb)
{
  const DewPreference *a = pa, *b = pb;

  if (a->first != b->first)
    return a->first > b->first ? -1 : 1;
  if (a->second != b->second)
    return a->second > b->second ? -1 : 1;
  return a->choice - b->choice;
}
