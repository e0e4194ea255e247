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
  if (choice->stays)
    return TRUE;
  for (int i = 0; i < dew_choice_size (choice); i++)
    if (problem->taken[dew_choice_spot (problem, choice, i)])
      return FALSE;
  return TRUE;
}

void
dew_sharers_init (DewSharers *sharers, const DewPackingProblem *problem)
{
  int spots = dew_problem_spots (problem), sum = 0;

  sharers->first = g_new0 (int, spots + 1);
  for (int c = 0; c < problem->n_choices; c++)
    for (int i = 0; problem->choices[c].stays && i < dew_choice_size (&problem->choices[c]); i++)
      sharers->first[dew_choice_spot (problem, &problem->choices[c], i) + 1]++;
  for (int s = 0; s <= spots; s++)
    sharers->first[s] = sum += sharers->first[s];
  sharers->choice = g_new (int, MAX (1, sum));
  for (int c = problem->n_choices - 1; c >= 0; c--)
    for (int i = 0; problem->choices[c].stays && i < dew_choice_size (&problem->choices[c]); i++)
      sharers->choice[--sharers->first[dew_choice_spot (problem, &problem->choices[c], i) + 1]] = c;
  /* Each list was filled from its end: what was the end of a spot is its beginning now. */
  memmove (sharers->first, sharers->first + 1, sizeof (int) * spots);
  sharers->first[spots] = sum;
}

void
dew_sharers_clear (DewSharers *sharers)
{
  g_free (sharers->first);
  g_free (sharers->choice);
}

int
dew_packing_on_spot (const DewPacking *packing, int spot, int *after)
{
  const DewSharers *sharers = packing->sharers;

  if ((*after)++ == 0 && packing->owner[spot] > 0)
    return packing->owner[spot] - 1;
  for (int k = sharers->first[spot] + *after - 1; k < sharers->first[spot + 1]; k++, (*after)++)
    if (packing->guests[spot] > 0 && packing->chosen[sharers->choice[k]])
      return sharers->choice[k];
  return -1;
}

static void
packing_clear (DewPacking *packing)
{
  const DewPackingProblem *problem = packing->problem;

  for (int s = 0; s < dew_problem_spots (problem); s++)
    packing->owner[s] = problem->taken[s] ? -1 : 0;
  memset (packing->guests, 0, sizeof (int) * dew_problem_spots (problem));
  memcpy (packing->load_kg, problem->load_kg, sizeof (double) * problem->n_bays);
  memcpy (packing->left, problem->count, sizeof (int) * problem->n_groups);
  memset (packing->chosen, 0, problem->n_choices);
  packing->value = 0;
  packing->n = 0;
}

void
dew_packing_init (DewPacking *packing, const DewPackingProblem *problem, const DewSharers *sharers)
{
  *packing = (DewPacking){ .problem = problem, .sharers = sharers };
  packing->owner = g_new (int, dew_problem_spots (problem));
  packing->guests = g_new (int, dew_problem_spots (problem));
  packing->load_kg = g_new (double, problem->n_bays);
  packing->left = g_new (int, MAX (1, problem->n_groups));
  packing->chosen = g_new (guint8, MAX (1, problem->n_choices));
  packing->which = g_new (int, MAX (1, problem->n_choices));
  packing->where = g_new (int, MAX (1, problem->n_choices));
  packing_clear (packing);
}

void
dew_packing_free (DewPacking *packing)
{
  g_free (packing->owner);
  g_free (packing->guests);
  g_free (packing->load_kg);
  g_free (packing->left);
  g_free (packing->chosen);
  g_free (packing->which);
  g_free (packing->where);
}

void
dew_packing_put (DewPacking *packing, int c, gboolean in)
{
  const DewPackingChoice *choice = &packing->problem->choices[c];
  int sign = in ? 1 : -1;

  for (int i = 0; i < dew_choice_size (choice); i++)
    if (choice->stays)
      packing->guests[dew_choice_spot (packing->problem, choice, i)] += sign;
    else
      packing->owner[dew_choice_spot (packing->problem, choice, i)] = in ? c + 1 : 0;
  packing->load_kg[choice->bay] -= sign * choice->mass_kg;
  packing->left[choice->group] -= sign;
  packing->chosen[c] = in;
  if (in)
    {
      packing->where[c] = packing->n;
      packing->which[packing->n++] = c;
    }
  else
    {
      int last = packing->which[--packing->n];

      packing->which[packing->where[c]] = last;
      packing->where[last] = packing->where[c];
    }
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
    {
      int spot = dew_choice_spot (packing->problem, choice, i);

      if (packing->owner[spot] > 0
          || (!choice->stays && (packing->owner[spot] < 0 || packing->guests[spot] > 0)))
        return FALSE;
    }
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

/* What is taken out for a choice. */
typedef struct
{
  int out[64], n;
  gint64 lost;
  double kg;
  int left;
} Swap;

/* FALSE: too many are in the way. */
static gboolean
take_out (const DewPacking *packing, const DewPackingChoice *choice, int c, Swap *swap)
{
  const DewPackingChoice *other = &packing->problem->choices[c];

  for (int k = 0; k < swap->n; k++)
    if (swap->out[k] == c)
      return TRUE;
  if (swap->n == (int) G_N_ELEMENTS (swap->out))
    return FALSE;
  swap->out[swap->n++] = c;
  swap->lost += other->value;
  swap->left += other->group == choice->group;
  if (other->bay == choice->bay)
    swap->kg -= other->mass_kg;
  return TRUE;
}

/* What stands where the choice is to stand. FALSE: it cannot be had, or not for its value. */
static gboolean
clear_the_way (const DewPacking *packing, const DewPackingChoice *choice, Swap *swap)
{
  for (int i = 0; i < dew_choice_size (choice); i++)
    {
      int spot = dew_choice_spot (packing->problem, choice, i), after = 0, c;

      if (packing->owner[spot] < 0 && !choice->stays)
        return FALSE;
      while ((c = dew_packing_on_spot (packing, spot, &after)) >= 0)
        {
          if (choice->stays && packing->problem->choices[c].stays)
            continue;
          if (!take_out (packing, choice, c, swap)
              || (swap->lost >= choice->value && swap->left > 0))
            return FALSE;
        }
    }
  return TRUE;
}

/* The least worth of its group that stands somewhere; -1: none. */
static int
least_of_group (const DewPacking *packing, int group)
{
  const DewPackingChoice *choices = packing->problem->choices;
  int worst = -1;

  for (int i = 0; i < packing->n; i++)
    {
      int c = packing->which[i];

      if (choices[c].group != group)
        continue;
      if (worst < 0 || choices[c].value < choices[worst].value
          || (choices[c].value == choices[worst].value && c < worst))
        worst = c;
    }
  return worst;
}

/* Puts a choice in and takes out what is in its way, when that is worth it; also a plant of
 * its own group elsewhere when all are placed. */
static gboolean
packing_swap (DewPacking *packing, int c)
{
  const DewPackingChoice *choice = &packing->problem->choices[c];
  Swap swap = { .kg = choice->mass_kg - packing->load_kg[choice->bay],
                .left = packing->left[choice->group] };

  if (packing->chosen[c] || !clear_the_way (packing, choice, &swap))
    return FALSE;
  if (swap.left < 1)
    {
      int worst = least_of_group (packing, choice->group);

      if (worst < 0 || !take_out (packing, choice, worst, &swap))
        return FALSE;
    }
  if (swap.lost >= choice->value || swap.kg > 1e-9)
    return FALSE;
  for (int k = 0; k < swap.n; k++)
    dew_packing_put (packing, swap.out[k], FALSE);
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
  memcpy (to->guests, from->guests, sizeof (int) * dew_problem_spots (problem));
  memcpy (to->load_kg, from->load_kg, sizeof (double) * problem->n_bays);
  memcpy (to->left, from->left, sizeof (int) * problem->n_groups);
  memcpy (to->chosen, from->chosen, problem->n_choices);
  memcpy (to->which, from->which, sizeof (int) * from->n);
  for (int i = 0; i < from->n; i++)
    to->where[from->which[i]] = i;
  to->n = from->n;
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
