/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/trio.h"

#include <math.h>
#include <string.h>

#include "transport/scalar-private.h"

#define ITERATIONS 200

/* Inside, a zone's three quantities lie in one DewLanes, with a fourth that is always zero,
 * and so does each column of its blocks. Rows of equal j + k are swept side by side (see
 * zones/rows.h): each zone waits for the one before it. */
struct _DewTrio
{
  const DewZones *z;
  DewRowOrder order;
  const double *low[3], *high[3]; /* of the first two quantities */
  const double *low_third[3], *high_third[3];
  double *given_block, *given_rest, *found;   /* as lent: [9 * size], [3 * size], [3 * size] */
  DewLanes *block, *inverse;                  /* [3 * size] columns */
  DewLanes *x, *r, *r0, *p, *v, *t, *ph, *sh; /* [size] */
  DewLanes *level[2], *answer[2];             /* [size] */
  double sum[2][2];                           /* of the answers */
  DewTrioStatistics statistics;
};

#define N_VECTORS 12

static void
list_vectors (DewTrio *s, DewLanes **all[N_VECTORS])
{
  DewLanes **each[N_VECTORS]
    = { &s->x,  &s->r,  &s->r0,       &s->p,        &s->v,         &s->t,
        &s->ph, &s->sh, &s->level[0], &s->level[1], &s->answer[0], &s->answer[1] };

  memcpy (all, each, sizeof each);
}

DewTrio *
dew_trio_new (const DewZones *z)
{
  DewTrio *s = g_new0 (DewTrio, 1);
  DewLanes **all[N_VECTORS];

  s->z = z;
  dew_row_order_init (&s->order, z, 1, 1);
  list_vectors (s, all);
  for (guint i = 0; i < N_VECTORS; i++)
    *all[i] = g_new0 (DewLanes, z->size);
  s->block = g_new0 (DewLanes, 3 * (gsize) z->size);
  s->inverse = g_new0 (DewLanes, 3 * (gsize) z->size);
  s->given_block = g_new0 (double, 9 * (gsize) z->size);
  s->given_rest = g_new0 (double, 3 * (gsize) z->size);
  s->found = g_new0 (double, 3 * (gsize) z->size);
  return s;
}

void
dew_trio_free (DewTrio *s)
{
  DewLanes **all[N_VECTORS];

  if (s == NULL)
    return;
  list_vectors (s, all);
  for (guint i = 0; i < N_VECTORS; i++)
    g_free (*all[i]);
  dew_row_order_clear (&s->order);
  g_free (s->block);
  g_free (s->inverse);
  g_free (s->given_block);
  g_free (s->given_rest);
  g_free (s->found);
  g_free (s);
}

double *
dew_trio_blocks (DewTrio *s)
{
  return s->given_block;
}

double *
dew_trio_rest (DewTrio *s)
{
  return s->given_rest;
}

DewTrioStatistics
dew_trio_statistics (const DewTrio *s)
{
  return s->statistics;
}

/* --- blocks ---------------------------------------------------------------------- */

/* Column by column: block times x. */
#define TIMES(columns, x) \
  ((columns)[0] * DEW_LANES_OF_ONE (x, 0) + (columns)[1] * DEW_LANES_OF_ONE (x, 1) \
   + (columns)[2] * DEW_LANES_OF_ONE (x, 2))

/* What a zone sends across a face, by the coefficients of the face. */
#define SENT(two, third, face, from) \
  ((DewLanes){ (two)[face], (two)[face], (third)[face], 0.0 } * (from))

DEW_PART void
invert (const double *restrict b, double *restrict i)
{
  double c0 = b[4] * b[8] - b[5] * b[7];
  double c1 = b[5] * b[6] - b[3] * b[8];
  double c2 = b[3] * b[7] - b[4] * b[6];
  double whole_1 = 1.0 / (b[0] * c0 + b[1] * c1 + b[2] * c2);

  i[0] = c0 * whole_1;
  i[1] = (b[2] * b[7] - b[1] * b[8]) * whole_1;
  i[2] = (b[1] * b[5] - b[2] * b[4]) * whole_1;
  i[3] = c1 * whole_1;
  i[4] = (b[0] * b[8] - b[2] * b[6]) * whole_1;
  i[5] = (b[2] * b[3] - b[0] * b[5]) * whole_1;
  i[6] = c2 * whole_1;
  i[7] = (b[1] * b[6] - b[0] * b[7]) * whole_1;
  i[8] = (b[0] * b[4] - b[1] * b[3]) * whole_1;
}

DEW_PART void
set_columns (DewLanes *columns, const double *b)
{
  for (int g = 0; g < 3; g++)
    columns[g] = (DewLanes){ b[g], b[3 + g], b[6 + g], 0.0 };
}

/* Takes up what was filled in, and factors. DILU: (D + L) D^-1 (D + U) with D so that the
 * diagonal blocks match. */
DEW_PART void
factor_rows (DewTrio *s, int n_rows, const DewRows *rows)
{
  for (int i = 1; i <= s->z->n[0]; i++)
    for (int b = 0; b < n_rows; b++)
      {
        int at = rows->at + b * rows->skip + i;
        const double *rest = s->given_rest + 3 * at;
        DewLanes *block = s->block + 3 * at, d[3];
        double whole[9], inverse[9];

        s->r[at] = (DewLanes){ rest[0], rest[1], rest[2], 0.0 };
        set_columns (block, s->given_block + 9 * at);
        for (int g = 0; g < 3; g++)
          d[g] = block[g];
        for (int a = 0; a < 3; a++)
          {
            const DewLanes *below = s->inverse + 3 * (at - s->z->stride[a]);
            double two = s->low[a][at], third = s->low_third[a][at];
            DewLanes down = { two, two, third, 0.0 };

            d[0] -= down * below[0] * s->high[a][at];
            d[1] -= down * below[1] * s->high[a][at];
            d[2] -= down * below[2] * s->high_third[a][at];
          }
        for (int n = 0; n < 9; n++)
          whole[n] = d[n % 3][n / 3];
        invert (whole, inverse);
        set_columns (s->inverse + 3 * at, inverse);
      }
}

DEW_TWICE static void
factor (DewTrio *s)
{
  const DewRowOrder *o = &s->order;

  for (int g = 0; g < o->n; g++)
    if (o->rows[g].n == DEW_ROWS)
      factor_rows (s, DEW_ROWS, &o->rows[g]);
    else
      factor_rows (s, o->rows[g].n, &o->rows[g]);
}

/* One group of rows of the sweep upward and of that back down. */
DEW_PART void
up_rows (const DewTrio *s, int n_rows, const DewRows *rows, const DewLanes *r, DewLanes *y)
{
  int s1 = s->z->stride[1], s2 = s->z->stride[2];

  for (int i = 1; i <= s->z->n[0]; i++)
    for (int b = 0; b < n_rows; b++)
      {
        int at = rows->at + b * rows->skip + i;
        DewLanes sum = r[at] + SENT (s->low[1], s->low_third[1], at, y[at - s1])
                       + SENT (s->low[2], s->low_third[2], at, y[at - s2])
                       + SENT (s->low[0], s->low_third[0], at, y[at - 1]);

        y[at] = TIMES (s->inverse + 3 * at, sum);
      }
}

DEW_PART void
down_rows (const DewTrio *s, int n_rows, const DewRows *rows, DewLanes *y)
{
  int s1 = s->z->stride[1], s2 = s->z->stride[2];

  for (int i = s->z->n[0]; i >= 1; i--)
    for (int b = 0; b < n_rows; b++)
      {
        int at = rows->at + b * rows->skip + i;
        DewLanes sum = SENT (s->high[1], s->high_third[1], at + s1, y[at + s1])
                       + SENT (s->high[2], s->high_third[2], at + s2, y[at + s2])
                       + SENT (s->high[0], s->high_third[0], at + 1, y[at + 1]);

        y[at] += TIMES (s->inverse + 3 * at, sum);
      }
}

DEW_TWICE static void
precondition (const DewTrio *s, const DewLanes *r, DewLanes *y)
{
  const DewRowOrder *o = &s->order;

  for (int g = 0; g < o->n; g++)
    if (o->rows[g].n == DEW_ROWS)
      up_rows (s, DEW_ROWS, &o->rows[g], r, y);
    else
      up_rows (s, o->rows[g].n, &o->rows[g], r, y);
  for (int g = o->n - 1; g >= 0; g--)
    if (o->rows[g].n == DEW_ROWS)
      down_rows (s, DEW_ROWS, &o->rows[g], y);
    else
      down_rows (s, o->rows[g].n, &o->rows[g], y);
}

DEW_TWICE static void
multiply (const DewTrio *s, const DewLanes *x, DewLanes *y)
{
  int s1 = s->z->stride[1], s2 = s->z->stride[2];

  DEW_EACH_ZONE (s->z, at)
    y[at] = TIMES (s->block + 3 * at, x[at])
            - (SENT (s->low[0], s->low_third[0], at, x[at - 1])
               + SENT (s->high[0], s->high_third[0], at + 1, x[at + 1])
               + SENT (s->low[1], s->low_third[1], at, x[at - s1])
               + SENT (s->high[1], s->high_third[1], at + s1, x[at + s1])
               + SENT (s->low[2], s->low_third[2], at, x[at - s2])
               + SENT (s->high[2], s->high_third[2], at + s2, x[at + s2]));
}

/* --- solution: all vectors are zero on the rim ----------------------------------------- */

DEW_PART double
total (DewLanes sum)
{
  return sum[0] + sum[1] + sum[2];
}

DEW_TWICE static double
dot (int n, const DewLanes *a, const DewLanes *b)
{
  DewLanes even = { 0 }, odd = { 0 };
  int at = 0;

  for (; at + 2 <= n; at += 2)
    {
      even += a[at] * b[at];
      odd += a[at + 1] * b[at + 1];
    }
  if (at < n)
    even += a[at] * b[at];
  return total (even + odd);
}

/* Products of t with itself and with r. */
DEW_TWICE static void
dot_both (int n, const DewLanes *t, const DewLanes *r, double *tt, double *tr)
{
  DewLanes own = { 0 }, other = { 0 };

  for (int at = 0; at < n; at++)
    {
      own += t[at] * t[at];
      other += t[at] * r[at];
    }
  *tt = total (own);
  *tr = total (other);
}

/* Of each of the numbers side by side the largest so far. */
DEW_PART void
keep_largest (const double *a, double *most)
{
  for (int l = 0; l < DEW_LANES; l++)
    most[l] = fabs (a[l]) > most[l] ? fabs (a[l]) : most[l];
}

DEW_PART double
weighed (const double *most, const double weight[3])
{
  return MAX (MAX (weight[0] * most[0], weight[1] * most[1]), weight[2] * most[2]);
}

DEW_TWICE static double
largest (int n, const DewLanes *a, const double weight[3])
{
  double most[DEW_LANES] = { 0 };

  for (int at = 0; at < n; at++)
    keep_largest ((const double *) &a[at], most);
  return weighed (most, weight);
}

/* p = r + beta (p - omega v) */
DEW_TWICE static void
advance (int n, double beta, double omega, const DewLanes *restrict r, const DewLanes *restrict v,
         DewLanes *restrict p)
{
  for (int at = 0; at < n; at++)
    p[at] = r[at] + beta * (p[at] - omega * v[at]);
}

DEW_TWICE static void
add_times (int n, double times, const DewLanes *restrict a, DewLanes *restrict to)
{
  for (int at = 0; at < n; at++)
    to[at] += times * a[at];
}

/* x += alpha ph + omega sh, r -= omega t; returns the largest number of r, weighed. */
DEW_TWICE static double
go_on (int n, double alpha, double omega, const DewLanes *restrict ph, const DewLanes *restrict sh,
       const DewLanes *restrict t, const double weight[3], DewLanes *restrict x,
       DewLanes *restrict r)
{
  double most[DEW_LANES] = { 0 };

  for (int at = 0; at < n; at++)
    {
      x[at] += alpha * ph[at] + omega * sh[at];
      r[at] -= omega * t[at];
      keep_largest ((const double *) &r[at], most);
    }
  return weighed (most, weight);
}

/* Over all zones: of the first and third, of the first and second. */
DEW_TWICE static void
sums_of (const DewTrio *s, const DewLanes *a, double sums[2])
{
  DewLanes all = { 0 };

  for (int at = 0; at < s->z->size; at++)
    all += a[at];
  sums[0] = all[0] + all[2];
  sums[1] = all[0] + all[1];
}

/* Two ways in which the enclosure changes as a whole, and what the equations answer: in each
 * zone one more of x0 + x2 with x0 + x1 held, or the other way round, shared between the three
 * as the zone's third equation has it. */
DEW_TWICE static void
find_levels (DewTrio *s)
{
  DEW_EACH_ZONE (s->z, at)
    {
      const double *b = s->given_block + 9 * at;
      double all_1 = 1.0 / (b[8] - b[6] + b[7]);
      double first = b[8] * all_1, second = b[7] * all_1;

      s->level[0][at] = (DewLanes){ first, -first, 1.0 - first, 0.0 };
      s->level[1][at] = (DewLanes){ second, 1.0 - second, -second, 0.0 };
    }
  for (int n = 0; n < 2; n++)
    {
      multiply (s, s->level[n], s->answer[n]);
      sums_of (s, s->answer[n], s->sum[n]);
    }
}

/* Moves along those two so that both sums balance over the enclosure as a whole: in a tight
 * one that is what the iteration is slowest to find. */
static void
balance_whole (DewTrio *s)
{
  double rest[2], whole = s->sum[0][0] * s->sum[1][1] - s->sum[1][0] * s->sum[0][1];
  double by[2];

  sums_of (s, s->r, rest);
  by[0] = (rest[0] * s->sum[1][1] - rest[1] * s->sum[1][0]) / whole;
  by[1] = (rest[1] * s->sum[0][0] - rest[0] * s->sum[0][1]) / whole;
  if (!isfinite (by[0] + by[1]))
    return;
  for (int n = 0; n < 2; n++)
    {
      add_times (s->z->size, by[n], s->level[n], s->x);
      add_times (s->z->size, -by[n], s->answer[n], s->r);
    }
}

static void
bicgstab (DewTrio *s, const double weight[3], double goal)
{
  int n = s->z->size;
  double rho = 1.0, alpha = 1.0, omega = 1.0, left = largest (n, s->r, weight);

  memcpy (s->r0, s->r, sizeof (DewLanes) * n);
  memset (s->p, 0, sizeof (DewLanes) * n);
  memset (s->v, 0, sizeof (DewLanes) * n);
  for (int it = 0; it < ITERATIONS && left > goal; it++)
    {
      double next = dot (n, s->r0, s->r), below, tt, tr;

      s->statistics.iterations++;
      if (fabs (next) < 1e-300 || fabs (omega) < 1e-300)
        return;
      advance (n, next / rho * (alpha / omega), omega, s->r, s->v, s->p);
      rho = next;
      precondition (s, s->p, s->ph);
      multiply (s, s->ph, s->v);
      below = dot (n, s->r0, s->v);
      if (fabs (below) < 1e-300)
        return;
      alpha = rho / below;
      add_times (n, -alpha, s->v, s->r);
      precondition (s, s->r, s->sh);
      multiply (s, s->sh, s->t);
      dot_both (n, s->t, s->r, &tt, &tr);
      omega = tt > 0.0 ? tr / tt : 0.0;
      left = go_on (n, alpha, omega, s->ph, s->sh, s->t, weight, s->x, s->r);
    }
}

const double *
dew_trio_solve (DewTrio *s, const DewScalar *plain, const DewScalar *falling,
                const double weight[3], double share)
{
  double goal;

  for (int a = 0; a < 3; a++)
    {
      s->low[a] = plain->low[a];
      s->high[a] = plain->high[a];
      s->low_third[a] = falling->low[a];
      s->high_third[a] = falling->high[a];
    }
  factor (s);
  goal = share * largest (s->z->size, s->r, weight);
  s->statistics.solves++;
  memset (s->x, 0, sizeof (DewLanes) * s->z->size);
  find_levels (s);
  balance_whole (s);
  bicgstab (s, weight, goal);
  balance_whole (s);
  DEW_EACH_ZONE (s->z, at)
    for (int f = 0; f < 3; f++)
      s->found[3 * at + f] = s->x[at][f];
  return s->found;
}
