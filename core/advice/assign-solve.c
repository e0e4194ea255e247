/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/assign-private.h"

#include <glpk.h>
#include <math.h>
#include <string.h>

/* The packing problem, solved to the end:
 *
 *   1. its linear relaxation gives the bound and the worth of each choice (reduced costs);
 *   2. rounding that relaxation, then filling up and swapping, gives an assignment;
 *   3. a choice whose reduced cost is larger than the distance between the two cannot be part
 *      of a better assignment and is struck out (reduced-cost fixing: Dantzig, Fulkerson &
 *      Johnson, Operations Research 2, 393-410, 1954);
 *   4. branch and bound on what is left, which is little.
 *
 * Values are whole numbers, so that an upper bound less than one above an assignment proves
 * it. Spots as rows are all maximal cliques of blocks that exclude each other: rectangles that
 * pairwise overlap share a spot (Helly's theorem for boxes), so the relaxation is tight. */

#define SLICE_MS 100   /* between two looks at the cancellable */
#define SLACK 1e-5     /* by which whole values may be missed in floating point */

/* GLPK keeps its memory per process or per thread, as it was built; one at a time suits both. */
static GMutex glpk_lock;

typedef struct
{
  const DewAssignProblem *problem;
  GCancellable *cancellable;
  gint64   end_us;
  glp_prob *lp;
  int     *row_of_spot; /* [spots] 1-based row, 0: taken */
  int     *row_of_bay;  /* [bays] 0: no limit */
  int      n_columns;
  int      first_sum;   /* columns from here on are sums of others */
  GArray  *sums;        /* double, of the best assignment */
  gboolean offered;
  int     *choice;      /* [n_columns + 1] of a column */
  guint8  *best;        /* [n_choices] */
  gint64   value;       /* of best; -1: none */
  gint64   floor;
  double   bound;
} Solver;

static int
n_spots (const DewAssignProblem *problem)
{
  return problem->n_bays * problem->across * problem->deep;
}

static int
spot_of (const DewAssignProblem *problem, const DewAssignChoice *choice, int i)
{
  int c = choice->first[0] + i % choice->span[0], r = choice->first[1] + i / choice->span[0];

  return (choice->bay * problem->deep + r) * problem->across + c;
}

static int
n_covered (const DewAssignChoice *choice)
{
  return choice->span[0] * choice->span[1];
}

static gboolean
is_possible (const DewAssignProblem *problem, const DewAssignChoice *choice)
{
  if (choice->mass_kg > problem->load_kg[choice->bay] || problem->count[choice->group] < 1)
    return FALSE;
  for (int i = 0; i < n_covered (choice); i++)
    if (problem->taken[spot_of (problem, choice, i)])
      return FALSE;
  return TRUE;
}

/* --- assignments -------------------------------------------------------- */

/* A partial assignment that never breaks a rule. */
typedef struct
{
  const DewAssignProblem *problem;
  int    *owner; /* [spots] choice + 1, 0: free, -1: taken */
  double *load_kg;
  int    *left;  /* [groups] */
  guint8 *chosen;
  gint64  value;
} Packing;

static void
packing_clear (Packing *packing)
{
  const DewAssignProblem *problem = packing->problem;

  for (int s = 0; s < n_spots (problem); s++)
    packing->owner[s] = problem->taken[s] ? -1 : 0;
  memcpy (packing->load_kg, problem->load_kg, sizeof (double) * problem->n_bays);
  memcpy (packing->left, problem->count, sizeof (int) * problem->n_groups);
  memset (packing->chosen, 0, problem->n_choices);
  packing->value = 0;
}

static void
packing_init (Packing *packing, const DewAssignProblem *problem)
{
  *packing = (Packing) { .problem = problem };
  packing->owner = g_new (int, n_spots (problem));
  packing->load_kg = g_new (double, problem->n_bays);
  packing->left = g_new (int, MAX (1, problem->n_groups));
  packing->chosen = g_new (guint8, MAX (1, problem->n_choices));
  packing_clear (packing);
}

static void
packing_free (Packing *packing)
{
  g_free (packing->owner);
  g_free (packing->load_kg);
  g_free (packing->left);
  g_free (packing->chosen);
}

static void
packing_put (Packing *packing, int c, gboolean in)
{
  const DewAssignChoice *choice = &packing->problem->choices[c];
  int sign = in ? 1 : -1;

  for (int i = 0; i < n_covered (choice); i++)
    packing->owner[spot_of (packing->problem, choice, i)] = in ? c + 1 : 0;
  packing->load_kg[choice->bay] -= sign * choice->mass_kg;
  packing->left[choice->group] -= sign;
  packing->chosen[c] = in;
  packing->value += sign * choice->value;
}

static gboolean
packing_has_room (const Packing *packing, int c)
{
  const DewAssignChoice *choice = &packing->problem->choices[c];

  if (packing->chosen[c] || packing->left[choice->group] < 1
      || choice->mass_kg > packing->load_kg[choice->bay] + 1e-9)
    return FALSE;
  for (int i = 0; i < n_covered (choice); i++)
    if (packing->owner[spot_of (packing->problem, choice, i)] != 0)
      return FALSE;
  return TRUE;
}

/* Choices in an order of preference, as far as there is room. */
static void
packing_fill (Packing *packing, const int *order, int n)
{
  for (int i = 0; i < n; i++)
    if (packing_has_room (packing, order[i]))
      packing_put (packing, order[i], TRUE);
}

/* Puts a choice in and takes out what is in its way, when that is worth it; also a plant of
 * its own group elsewhere when all are placed. */
static gboolean
packing_swap (Packing *packing, int c)
{
  const DewAssignProblem *problem = packing->problem;
  const DewAssignChoice *choice = &problem->choices[c];
  int out[64], n_out = 0, worst = -1;
  gint64 lost = 0;
  double kg = choice->mass_kg - packing->load_kg[choice->bay];
  int left = packing->left[choice->group];

  if (packing->chosen[c])
    return FALSE;
  for (int i = 0; i < n_covered (choice); i++)
    {
      int owner = packing->owner[spot_of (problem, choice, i)];
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
      for (int s = 0; s < n_spots (problem); s++)
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
    packing_put (packing, out[k], FALSE);
  packing_put (packing, c, TRUE);
  return TRUE;
}

static void
packing_improve (Packing *packing, const int *order, int n)
{
  gboolean better = TRUE;

  for (int round = 0; better && round < 50; round++)
    {
      better = FALSE;
      for (int i = 0; i < n; i++)
        if (packing_swap (packing, order[i]))
          {
            better = TRUE;
            packing_fill (packing, order, n);
          }
    }
}

static void
keep_if_better (Solver *solver, const Packing *packing)
{
  if (packing->value <= solver->value)
    return;
  solver->value = packing->value;
  memcpy (solver->best, packing->chosen, solver->problem->n_choices);
}

typedef struct
{
  double first, second;
  int    choice;
} Preference;

static int
preferred_first (gconstpointer pa, gconstpointer pb)
{
  const Preference *a = pa, *b = pb;

  if (a->first != b->first)
    return a->first > b->first ? -1 : 1;
  if (a->second != b->second)
    return a->second > b->second ? -1 : 1;
  return a->choice - b->choice;
}

/* Rounds: choices by their share in the relaxation, then by reduced cost. */
static void
round_relaxation (Solver *solver, const double *share, const double *reduced)
{
  const DewAssignProblem *problem = solver->problem;
  g_autofree Preference *preferences = g_new (Preference, MAX (1, problem->n_choices));
  g_autofree int *order = g_new (int, MAX (1, problem->n_choices));
  Packing packing;
  int n = 0;

  for (int c = 0; c < problem->n_choices; c++)
    if (is_possible (problem, &problem->choices[c]))
      preferences[n++] = (Preference) { share[c], reduced[c], c };
  qsort (preferences, n, sizeof *preferences, preferred_first);
  for (int i = 0; i < n; i++)
    order[i] = preferences[i].choice;
  packing_init (&packing, problem);
  packing_fill (&packing, order, n);
  packing_improve (&packing, order, n);
  keep_if_better (solver, &packing);
  packing_free (&packing);
}

/* --- the relaxation ----------------------------------------------------- */

static void
add_rows (Solver *solver)
{
  const DewAssignProblem *problem = solver->problem;
  int row = problem->n_groups;

  for (int s = 0; s < n_spots (problem); s++)
    solver->row_of_spot[s] = problem->taken[s] ? 0 : ++row;
  for (int b = 0; b < problem->n_bays; b++)
    solver->row_of_bay[b] = isinf (problem->load_kg[b]) ? 0 : ++row;
  if (row > 0)
    glp_add_rows (solver->lp, row);
  for (int g = 0; g < problem->n_groups; g++)
    glp_set_row_bnds (solver->lp, g + 1, GLP_UP, 0.0, problem->count[g]);
  for (int s = 0; s < n_spots (problem); s++)
    if (solver->row_of_spot[s] > 0)
      glp_set_row_bnds (solver->lp, solver->row_of_spot[s], GLP_UP, 0.0, 1.0);
  for (int b = 0; b < problem->n_bays; b++)
    if (solver->row_of_bay[b] > 0)
      glp_set_row_bnds (solver->lp, solver->row_of_bay[b], GLP_UP, 0.0, problem->load_kg[b]);
}

static void
add_column (Solver *solver, int c)
{
  const DewAssignProblem *problem = solver->problem;
  const DewAssignChoice *choice = &problem->choices[c];
  int column = glp_add_cols (solver->lp, 1), n = 0;
  g_autofree int *rows = g_new (int, n_covered (choice) + 3);
  g_autofree double *values = g_new (double, n_covered (choice) + 3);

  rows[++n] = choice->group + 1;
  values[n] = 1.0;
  for (int i = 0; i < n_covered (choice); i++)
    {
      rows[++n] = solver->row_of_spot[spot_of (problem, choice, i)];
      values[n] = 1.0;
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

static gboolean
is_over (const Solver *solver)
{
  return g_cancellable_is_cancelled (solver->cancellable)
         || g_get_monotonic_time () > solver->end_us;
}

/* In slices, so that a cancelled call ends soon. FALSE when time was up. */
static gboolean
solve_relaxation (Solver *solver, int method)
{
  glp_smcp parm;

  glp_init_smcp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.meth = method;
  parm.tm_lim = SLICE_MS;
  for (;;)
    {
      int code = glp_simplex (solver->lp, &parm);

      if (code == 0)
        return glp_get_status (solver->lp) == GLP_OPT;
      if (code != GLP_ETMLIM || is_over (solver))
        return FALSE;
    }
}

/* Value of a choice less what it uses, by the duals of the present relaxation. */
static double
worth (const Solver *solver, const DewAssignChoice *choice, const double *dual)
{
  const DewAssignProblem *problem = solver->problem;
  double left = choice->value - dual[choice->group + 1];

  for (int i = 0; i < n_covered (choice); i++)
    left -= dual[solver->row_of_spot[spot_of (problem, choice, i)]];
  if (solver->row_of_bay[choice->bay] > 0)
    left -= choice->mass_kg * dual[solver->row_of_bay[choice->bay]];
  return left;
}

static double *
duals (const Solver *solver)
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
safe_bound (const Solver *solver, const double *dual)
{
  const DewAssignProblem *problem = solver->problem;
  g_autofree double *most = g_new0 (double, problem->n_groups + 1);
  double bound = 0.0;

  for (int c = 0; c < problem->n_choices; c++)
    if (is_possible (problem, &problem->choices[c]))
      {
        const DewAssignChoice *choice = &problem->choices[c];

        most[choice->group] = MAX (most[choice->group], worth (solver, choice, dual));
      }
  for (int g = 0; g < problem->n_groups; g++)
    bound += problem->count[g] * (dual[g + 1] + most[g]);
  for (int s = 0; s < n_spots (problem); s++)
    if (solver->row_of_spot[s] > 0)
      bound += dual[solver->row_of_spot[s]];
  for (int b = 0; b < problem->n_bays; b++)
    if (solver->row_of_bay[b] > 0)
      bound += problem->load_kg[b] * dual[solver->row_of_bay[b]];
  return bound;
}

/* Adds choices that are worth something by the present duals, the best few of each group;
 * TRUE when there are any. in: [n_choices] whether a choice has its column. */
static gboolean
price (Solver *solver, const double *dual, guint8 *in, int most_per_group)
{
  const DewAssignProblem *problem = solver->problem;
  g_autofree Preference *found = g_new (Preference, MAX (1, problem->n_choices));
  g_autofree int *per_group = g_new0 (int, problem->n_groups + 1);
  gboolean any = FALSE;
  int n = 0;

  for (int c = 0; c < problem->n_choices; c++)
    {
      const DewAssignChoice *choice = &problem->choices[c];
      double left;

      if (in[c] || !is_possible (problem, choice))
        continue;
      left = worth (solver, choice, dual);
      if (left > 1e-6)
        found[n++] = (Preference) { left, choice->value, c };
    }
  qsort (found, n, sizeof *found, preferred_first);
  for (int i = 0; i < n; i++)
    {
      int group = problem->choices[found[i].choice].group;

      if (per_group[group]++ >= most_per_group)
        continue;
      add_column (solver, found[i].choice);
      in[found[i].choice] = 1;
      any = TRUE;
    }
  return any;
}

/* Column generation: few choices can be in the optimum, so most need no column. FALSE when
 * time was up; the bound is then that of the last duals. */
static gboolean
relax (Solver *solver, const int *start, int n_start, double *share, double *reduced)
{
  const DewAssignProblem *problem = solver->problem;
  g_autofree guint8 *in = g_new0 (guint8, MAX (1, problem->n_choices));
  g_autofree double *dual = NULL;
  gboolean done = FALSE;

  add_rows (solver);
  for (int i = 0; i < n_start; i++)
    if (!in[start[i]])
      {
        add_column (solver, start[i]);
        in[start[i]] = 1;
      }
  while (!done)
    {
      if (!solve_relaxation (solver, GLP_PRIMAL))
        break;
      g_free (dual);
      dual = duals (solver);
      solver->bound = MIN (solver->bound, safe_bound (solver, dual));
      done = !price (solver, dual, in, 20);
      if (!done && is_over (solver))
        break;
    }
  if (dual == NULL)
    dual = g_new0 (double, glp_get_num_rows (solver->lp) + 1);
  memset (share, 0, sizeof (double) * problem->n_choices);
  for (int j = 1; j <= solver->n_columns; j++)
    share[solver->choice[j]] = glp_get_col_prim (solver->lp, j);
  for (int c = 0; c < problem->n_choices; c++)
    reduced[c] = is_possible (problem, &problem->choices[c])
                   ? worth (solver, &problem->choices[c], dual)
                   : -INFINITY;
  return done;
}

/* --- branch and bound --------------------------------------------------- */

/* Sums of choices that must be whole: how many plants of one size, and of one group, a bay
 * holds. To part the tree by these first settles far more than to part it by one spot. */
static void
sum_of_best (Solver *solver, const GArray *members)
{
  double sum = 0.0;

  for (guint k = 0; k < members->len; k++)
    sum += solver->best[solver->choice[g_array_index (members, int, k)]];
  g_array_append_val (solver->sums, sum);
}

static void
add_sums (Solver *solver)
{
  const DewAssignProblem *problem = solver->problem;
  g_autoptr (GHashTable) sums
    = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) g_array_unref);
  g_autoptr (GPtrArray) order = g_ptr_array_new ();

  solver->first_sum = solver->n_columns + 1;
  for (int pass = 0; pass < 2; pass++)
    for (int j = 1; j < solver->first_sum; j++)
      {
        const DewAssignChoice *choice = &problem->choices[solver->choice[j]];
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
choose_branch (glp_tree *tree, const Solver *solver)
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
offer_known (glp_tree *tree, Solver *solver)
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
  Solver *solver = data;

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
      solver->bound = MIN (solver->bound, glp_ios_node_bound (tree, glp_ios_best_node (tree)));
      break;
    default:
      break;
    }
}

/* The choices that may still be part of something better, as whole numbers. */
static void
branch (Solver *solver, const double *reduced)
{
  const DewAssignProblem *problem = solver->problem;
  gint64 known = MAX (solver->value, solver->floor);
  double distance = solver->bound - known;
  Packing packing;
  glp_iocp parm;
  int code, n;

  glp_erase_prob (solver->lp);
  glp_set_obj_dir (solver->lp, GLP_MAX);
  add_rows (solver);
  solver->n_columns = 0;
  for (int c = 0; c < problem->n_choices; c++)
    if (solver->best[c] || reduced[c] > -distance - SLACK)
      add_column (solver, c);
  if (solver->n_columns == 0)
    {
      solver->bound = known;
      return;
    }
  n = solver->n_columns;
  for (int j = 1; j <= n; j++)
    glp_set_col_kind (solver->lp, j, GLP_BV);
  add_sums (solver);
  if (!solve_relaxation (solver, GLP_PRIMAL))
    {
      if (glp_get_status (solver->lp) == GLP_NOFEAS)
        solver->bound = known;
      return;
    }

  glp_init_iocp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.bt_tech = GLP_BT_BLB;
  parm.clq_cuts = GLP_ON;
  parm.cb_func = look_up;
  parm.cb_info = solver;
  parm.tm_lim = (int) CLAMP ((solver->end_us - g_get_monotonic_time ()) / 1000, 1, G_MAXINT / 2);
  code = glp_intopt (solver->lp, &parm);

  if (code == GLP_ENOPFS || (code == 0 && glp_mip_status (solver->lp) == GLP_NOFEAS))
    {
      solver->bound = known;
      return;
    }
  if (glp_mip_status (solver->lp) == GLP_OPT || glp_mip_status (solver->lp) == GLP_FEAS)
    {
      packing_init (&packing, problem);
      for (int j = 1; j <= n; j++)
        if (glp_mip_col_val (solver->lp, j) > 0.5 && packing_has_room (&packing, solver->choice[j]))
          packing_put (&packing, solver->choice[j], TRUE);
      keep_if_better (solver, &packing);
      packing_free (&packing);
    }
  if (code == 0 && glp_mip_status (solver->lp) == GLP_OPT)
    solver->bound = solver->value;
}

/* --- all together ------------------------------------------------------- */

/* The best few of each group on each bay: what the relaxation begins with. */
static int *
starting_choices (const DewAssignProblem *problem, int *n)
{
  g_autofree Preference *preferences = g_new (Preference, MAX (1, problem->n_choices));
  g_autofree int *used = g_new0 (int, problem->n_groups * problem->n_bays + 1);
  int *start = g_new (int, MAX (1, problem->n_choices));
  int m = 0;

  *n = 0;
  for (int c = 0; c < problem->n_choices; c++)
    if (is_possible (problem, &problem->choices[c]))
      preferences[m++] = (Preference) { problem->choices[c].value, 0.0, c };
  qsort (preferences, m, sizeof *preferences, preferred_first);
  for (int i = 0; i < m; i++)
    {
      const DewAssignChoice *choice = &problem->choices[preferences[i].choice];

      if (used[choice->group * problem->n_bays + choice->bay]++ < 4 + problem->count[choice->group])
        start[(*n)++] = preferences[i].choice;
    }
  return start;
}

/* Every plant where it fits best, whatever stands there. */
static double
easy_bound (const DewAssignProblem *problem)
{
  g_autofree int *most = g_new0 (int, problem->n_groups + 1);
  double bound = 0.0;

  for (int c = 0; c < problem->n_choices; c++)
    most[problem->choices[c].group] = MAX (most[problem->choices[c].group],
                                           problem->choices[c].value);
  for (int g = 0; g < problem->n_groups; g++)
    bound += (double) problem->count[g] * most[g];
  return bound;
}

static gboolean
is_proven (const Solver *solver)
{
  return floor (solver->bound + SLACK) <= (double) MAX (solver->value, solver->floor);
}

gboolean
dew_assign_solve (const DewAssignProblem *problem, double seconds, gint64 floor_value,
                  GCancellable *cancellable, DewAssignSolution *solution)
{
  Solver solver = { .problem = problem, .cancellable = cancellable, .value = -1,
                    .floor = floor_value, .bound = easy_bound (problem) };
  g_autofree double *share = g_new0 (double, MAX (1, problem->n_choices));
  g_autofree double *reduced = g_new0 (double, MAX (1, problem->n_choices));
  g_autofree int *start = NULL;
  int n_start;

  solver.end_us = g_get_monotonic_time () + (gint64) (1e6 * seconds);
  solver.row_of_spot = g_new0 (int, n_spots (problem));
  solver.row_of_bay = g_new0 (int, problem->n_bays);
  solver.choice = g_new0 (int, problem->n_choices + 2);
  solver.best = g_new0 (guint8, MAX (1, problem->n_choices));
  solver.sums = g_array_new (FALSE, FALSE, sizeof (double));
  start = starting_choices (problem, &n_start);

  g_mutex_lock (&glpk_lock);
  glp_term_out (GLP_OFF);
  solver.lp = glp_create_prob ();
  glp_set_obj_dir (solver.lp, GLP_MAX);
  if (relax (&solver, start, n_start, share, reduced))
    {
      round_relaxation (&solver, share, reduced);
      if (!is_proven (&solver))
        branch (&solver, reduced);
    }
  else
    round_relaxation (&solver, share, reduced);
  glp_delete_prob (solver.lp);
  glp_free_env ();
  g_mutex_unlock (&glpk_lock);

  solution->chosen = solver.best;
  solution->value = solver.value > solver.floor ? solver.value : -1;
  solution->bound = solver.bound;
  solution->proven = is_proven (&solver);
  g_free (solver.row_of_spot);
  g_free (solver.row_of_bay);
  g_free (solver.choice);
  g_array_unref (solver.sums);
  return !g_cancellable_is_cancelled (cancellable);
}
