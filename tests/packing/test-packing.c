/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/packing.h"

#include <math.h>
#include <string.h>

/* The packing problem by itself: against all possibilities, textbook cases with their answers,
 * and the rules on large random cases. */

/* --- cases ---------------------------------------------------------------- */

typedef struct
{
  DewPackingProblem problem;
  guint8 *taken;
  double *load_kg;
  int *count;
  GArray *choices;
} Case;

static void
case_free (Case *c)
{
  g_free (c->taken);
  g_free (c->load_kg);
  g_free (c->count);
  g_array_unref (c->choices);
}

static void
case_init (Case *c, int bays, int across, int deep, int groups)
{
  c->taken = g_new0 (guint8, bays * across * deep);
  c->load_kg = g_new (double, bays);
  for (int b = 0; b < bays; b++)
    c->load_kg[b] = INFINITY;
  c->count = g_new0 (int, groups);
  c->choices = g_array_new (FALSE, FALSE, sizeof (DewPackingChoice));
  c->problem = (DewPackingProblem){ bays, across, deep, c->taken, c->load_kg, groups, c->count };
}

static void
add_choice (Case *c, int group, int value, int bay, int column, int row, int span, double mass_kg)
{
  DewPackingChoice choice = { group, value, bay, { column, row }, { span, span }, mass_kg, 0 };

  g_array_append_val (c->choices, choice);
  c->problem.n_choices = (int) c->choices->len;
  c->problem.choices = (const DewPackingChoice *) c->choices->data;
}

static int
covered (const Case *c, const DewPackingChoice *choice, int i)
{
  int row = choice->bay * c->problem.deep + choice->first[1] + i / choice->span[0];

  return row * c->problem.across + choice->first[0] + i % choice->span[0];
}

/* Every rule, counted anew. */
static void
check_rules (const Case *c, const DewPackingSolution *solution)
{
  int n = c->problem.n_bays * c->problem.across * c->problem.deep;
  g_autofree int *used = g_new0 (int, n);
  g_autofree int *guests = g_new0 (int, n);
  g_autofree double *kg = g_new0 (double, c->problem.n_bays);
  g_autofree int *placed = g_new0 (int, c->problem.n_groups);
  gint64 value = 0;

  for (int k = 0; k < c->problem.n_choices; k++)
    {
      const DewPackingChoice *choice = &c->problem.choices[k];

      if (!solution->chosen[k])
        continue;
      value += choice->value;
      kg[choice->bay] += choice->mass_kg;
      placed[choice->group]++;
      for (int i = 0; i < choice->span[0] * choice->span[1]; i++)
        (choice->stays ? guests : used)[covered (c, choice, i)]++;
    }
  g_assert_cmpint (value, ==, solution->value);
  g_assert_cmpfloat (solution->bound, >=, (double) value - 1e-6);
  for (int s = 0; s < n; s++)
    g_assert_cmpint (used[s] + MAX (c->taken[s], MIN (guests[s], 1)), <=, 1);
  for (int b = 0; b < c->problem.n_bays; b++)
    g_assert_cmpfloat (kg[b], <=, c->load_kg[b] + 1e-9);
  for (int g = 0; g < c->problem.n_groups; g++)
    g_assert_cmpint (placed[g], <=, c->count[g]);
}

static void
solve (const Case *c, double seconds, DewPackingSolution *solution)
{
  g_assert_true (dew_packing_solve (&c->problem, seconds, -1, NULL, solution));
  check_rules (c, solution);
}

/* --- all possibilities ----------------------------------------------------- */

typedef struct
{
  const Case *c;
  guint8 *used, *guests;
  double *kg;
  int *left;
} Brute;

static gboolean
brute_put (Brute *b, const DewPackingChoice *choice, int sign)
{
  if (sign > 0)
    {
      if (b->left[choice->group] < 1 || choice->mass_kg > b->kg[choice->bay] + 1e-9)
        return FALSE;
      for (int i = 0; i < choice->span[0] * choice->span[1]; i++)
        {
          int s = covered (b->c, choice, i);

          if (choice->stays ? b->used[s] == 1 : b->used[s] || b->c->taken[s] || b->guests[s])
            return FALSE;
        }
    }
  for (int i = 0; i < choice->span[0] * choice->span[1]; i++)
    if (choice->stays)
      b->guests[covered (b->c, choice, i)] += sign;
    else
      b->used[covered (b->c, choice, i)] = sign > 0;
  b->left[choice->group] -= sign;
  b->kg[choice->bay] -= sign * choice->mass_kg;
  return TRUE;
}

static gint64
brute_best (Brute *b, int from)
{
  gint64 best, with;

  if (from == b->c->problem.n_choices)
    return 0;
  best = brute_best (b, from + 1);
  if (!brute_put (b, &b->c->problem.choices[from], 1))
    return best;
  with = b->c->problem.choices[from].value + brute_best (b, from + 1);
  brute_put (b, &b->c->problem.choices[from], -1);
  return MAX (best, with);
}

static gint64
brute_force (const Case *c)
{
  int n = c->problem.n_bays * c->problem.across * c->problem.deep;
  Brute b = { c, g_new0 (guint8, n), g_new0 (guint8, n),
              g_memdup2 (c->load_kg, sizeof (double) * c->problem.n_bays),
              g_memdup2 (c->count, sizeof (int) * c->problem.n_groups) };
  gint64 best = brute_best (&b, 0);

  g_free (b.used);
  g_free (b.guests);
  g_free (b.kg);
  g_free (b.left);
  return best;
}

static void
random_case (Case *c, GRand *rand)
{
  int across = g_rand_int_range (rand, 2, 5), deep = g_rand_int_range (rand, 2, 4);
  int bays = g_rand_int_range (rand, 1, 3), groups = g_rand_int_range (rand, 1, 4);

  case_init (c, bays, across, deep, groups);
  for (int s = 0; s < bays * across * deep; s++)
    c->taken[s] = g_rand_double (rand) < 0.1;
  for (int b = 0; b < bays; b++)
    c->load_kg[b] = g_rand_boolean (rand) ? INFINITY : g_rand_double_range (rand, 0.2, 3.0);
  for (int g = 0; g < groups; g++)
    c->count[g] = g_rand_int_range (rand, 0, 4);
  for (int k = 0; k < 18; k++)
    {
      int g = g_rand_int_range (rand, 0, groups), span = g_rand_int_range (rand, 1, 3);

      if (span <= across && span <= deep)
        {
          add_choice (c, g, g_rand_int_range (rand, 1, 2000), g_rand_int_range (rand, 0, bays),
                      g_rand_int_range (rand, 0, across - span + 1),
                      g_rand_int_range (rand, 0, deep - span + 1), span,
                      g_rand_double_range (rand, 0.0, 1.0));
          g_array_index (c->choices, DewPackingChoice, c->choices->len - 1).stays
            = g_rand_double (rand) < 0.3;
        }
    }
}

static void
test_brute_force (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (int n = 0; n < 400; n++)
    {
      DewPackingSolution solution = { 0 };
      Case c;

      random_case (&c, rand);
      solve (&c, 20.0, &solution);
      g_assert_true (solution.proven);
      g_assert_cmpint (solution.value, ==, brute_force (&c));
      g_free (solution.chosen);
      case_free (&c);
    }
}

/* --- textbook cases -------------------------------------------------------- */

/* The classic assignment problem is the special case of one spot per plant and place. */
static gint64
classic (int n, const int *value)
{
  DewPackingSolution solution = { 0 };
  gint64 best;
  Case c;

  case_init (&c, 1, n, 1, n);
  for (int i = 0; i < n; i++)
    {
      c.count[i] = 1;
      for (int j = 0; j < n; j++)
        add_choice (&c, i, value[i * n + j], 0, j, 0, 1, 0.0);
    }
  solve (&c, 20.0, &solution);
  g_assert_true (solution.proven);
  best = solution.value;
  g_free (solution.chosen);
  case_free (&c);
  return best;
}

static void
test_kuhn (void)
{
  /* Kuhn, "The Hungarian method for the assignment problem", Naval Research Logistics
   * Quarterly 2, 83-97, 1955: ratings of four men for four jobs, best total 27 (matrix from
   * memory; the total can be checked by hand: 24 permutations). */
  static const int ratings[] = { 8, 7, 9, 9, 5, 2, 7, 8, 6, 1, 4, 9, 2, 3, 2, 6 };

  g_assert_cmpint (classic (4, ratings), ==, 27);
}

static void
test_product_costs (void)
{
  /* Machol & Wien, "A hard assignment problem", Operations Research 24, 190-192, 1976: costs
   * i j are hard for the Hungarian method. The least total pairs the largest with the
   * smallest (rearrangement inequality: Hardy, Littlewood & Polya, Inequalities, 1934,
   * theorem 368): sum of i (n + 1 - i) = n (n + 1) (n + 2) / 6. */
  for (int n = 2; n <= 24; n += 11)
    {
      g_autofree int *value = g_new (int, n *n);
      int most = n * n + 1;

      for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
          value[i * n + j] = most - (i + 1) * (j + 1);
      g_assert_cmpint (classic (n, value), ==, n * most - n * (n + 1) * (n + 2) / 6);
    }
}

static void
test_knapsack (void)
{
  /* Martello & Toth, Knapsack Problems, 1990, example of chapter 2: seven items, capacity 50,
   * best 107 (figures from memory; all 128 subsets are tried below as well). The shelf's load
   * is the knapsack. */
  static const int profit[] = { 70, 20, 39, 37, 7, 5, 10 };
  static const int weight[] = { 31, 10, 20, 19, 4, 3, 6 };
  DewPackingSolution solution = { 0 };
  Case c;

  case_init (&c, 1, 7, 1, 7);
  c.load_kg[0] = 50.0;
  for (int i = 0; i < 7; i++)
    {
      c.count[i] = 1;
      add_choice (&c, i, profit[i], 0, i, 0, 1, weight[i]);
    }
  solve (&c, 20.0, &solution);
  g_assert_true (solution.proven);
  g_assert_cmpint (solution.value, ==, 107);
  g_assert_cmpint (brute_force (&c), ==, 107);
  g_free (solution.chosen);
  case_free (&c);
}

static void
test_squares (void)
{
  /* As many squares of 2 x 2 as a board of 5 x 5 holds: 4, though its area is that of 6.25 (a
   * row of five holds two; counted by hand). */
  DewPackingSolution solution = { 0 };
  Case c;

  case_init (&c, 1, 5, 5, 1);
  c.count[0] = 9;
  for (int r = 0; r < 4; r++)
    for (int k = 0; k < 4; k++)
      add_choice (&c, 0, 10, 0, k, r, 2, 0.0);
  solve (&c, 20.0, &solution);
  g_assert_true (solution.proven);
  g_assert_cmpint (solution.value, ==, 40);
  g_free (solution.chosen);
  case_free (&c);
}

/* --- large, hurried, stopped ----------------------------------------------- */

static void
large_case (Case *c, GRand *rand)
{
  const int bays = 4, across = 10, deep = 6, groups = 25;

  case_init (c, bays, across, deep, groups);
  for (int s = 0; s < bays * across * deep; s++)
    c->taken[s] = g_rand_double (rand) < 0.05;
  for (int b = 0; b < bays; b++)
    c->load_kg[b] = g_rand_double_range (rand, 4.0, 12.0);
  for (int g = 0; g < groups; g++)
    {
      int span = g_rand_int_range (rand, 1, 5);
      double mass_kg = 0.06 * span * span;

      c->count[g] = g_rand_int_range (rand, 1, 3);
      for (int b = 0; b < bays; b++)
        for (int r = 0; r + span <= deep; r++)
          for (int k = 0; k + span <= across; k++)
            if (g_rand_double (rand) < 0.6)
              add_choice (c, g, 1000 + g_rand_int_range (rand, 0, 1000), b, k, r, span, mass_kg);
    }
}

static void
test_large (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (int n = 0; n < 12; n++)
    {
      DewPackingSolution solution = { 0 };
      Case c;

      large_case (&c, rand);
      solve (&c, 0.3, &solution);
      g_assert_cmpint (solution.value, >, 0);
      g_assert_true (solution.proven == (floor (solution.bound + 1e-5) <= (double) solution.value));
      g_free (solution.chosen);
      case_free (&c);
    }
}

static void
test_floor (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  /* With a floor as high as the best nothing passes it, and that is proven; one lower the
   * best is found again. */
  for (int n = 0; n < 50; n++)
    {
      DewPackingSolution plain = { 0 }, below = { 0 }, at = { 0 };
      Case c;

      random_case (&c, rand);
      solve (&c, 20.0, &plain);
      g_assert_true (dew_packing_solve (&c.problem, 20.0, plain.value, NULL, &at));
      g_assert_cmpint (at.value, ==, -1);
      g_assert_true (at.proven);
      g_assert_true (dew_packing_solve (&c.problem, 20.0, plain.value - 1, NULL, &below));
      g_assert_cmpint (below.value, ==, plain.value);
      g_free (plain.chosen);
      g_free (at.chosen);
      g_free (below.chosen);
      case_free (&c);
    }
}

static void
test_same_again (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  DewPackingSolution first = { 0 }, second = { 0 };
  Case c;

  random_case (&c, rand);
  solve (&c, 20.0, &first);
  solve (&c, 20.0, &second);
  g_assert_cmpmem (first.chosen, c.problem.n_choices, second.chosen, c.problem.n_choices);
  g_free (first.chosen);
  g_free (second.chosen);
  case_free (&c);
}

static void
test_cancelled (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  DewPackingSolution solution = { 0 };
  Case c;

  large_case (&c, rand);
  g_cancellable_cancel (cancellable);
  g_assert_false (dew_packing_solve (&c.problem, 60.0, -1, cancellable, &solution));
  g_free (solution.chosen);
  case_free (&c);
}

static void
test_nothing (void)
{
  DewPackingSolution solution = { 0 };
  Case c;

  case_init (&c, 2, 3, 2, 1);
  solve (&c, 1.0, &solution);
  g_assert_cmpint (solution.value, ==, 0);
  g_assert_true (solution.proven);
  g_free (solution.chosen);
  case_free (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/packing/brute-force", test_brute_force);
  g_test_add_func ("/packing/kuhn", test_kuhn);
  g_test_add_func ("/packing/product-costs", test_product_costs);
  g_test_add_func ("/packing/knapsack", test_knapsack);
  g_test_add_func ("/packing/squares", test_squares);
  g_test_add_func ("/packing/large", test_large);
  g_test_add_func ("/packing/floor", test_floor);
  g_test_add_func ("/packing/same-again", test_same_again);
  g_test_add_func ("/packing/cancelled", test_cancelled);
  g_test_add_func ("/packing/nothing", test_nothing);
  return g_test_run ();
}
