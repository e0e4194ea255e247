/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/trio.h"

#include <math.h>
#include <string.h>

#include "transport/scalar-private.h"

#define ITERATIONS 200

struct _DewTrio
{
  const DewZones *z;
  const double *low[3], *high[3]; /* of the first two quantities */
  const double *low_third[3], *high_third[3];
  double *block, *inverse;                  /* [9 * size] */
  double *x, *r, *r0, *p, *v, *t, *ph, *sh; /* [3 * size] */
  double *level[2], *answer[2];             /* the same */
  double sum[2][2];                         /* of the answers */
  DewTrioStatistics statistics;
};

DewTrio *
dew_trio_new (const DewZones *z)
{
  DewTrio *s = g_new0 (DewTrio, 1);
  double **all[] = { &s->x,  &s->r,  &s->r0,       &s->p,        &s->v,         &s->t,
                     &s->ph, &s->sh, &s->level[0], &s->level[1], &s->answer[0], &s->answer[1] };

  s->z = z;
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    *all[i] = g_new0 (double, 3 * (gsize) z->size);
  s->block = g_new0 (double, 9 * (gsize) z->size);
  s->inverse = g_new0 (double, 9 * (gsize) z->size);
  return s;
}

void
dew_trio_free (DewTrio *s)
{
  if (s == NULL)
    return;
  double *all[]
    = { s->x,  s->r,        s->r0,       s->p,         s->v,         s->t,     s->ph,
        s->sh, s->level[0], s->level[1], s->answer[0], s->answer[1], s->block, s->inverse };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_free (all[i]);
  g_free (s);
}

double *
dew_trio_blocks (DewTrio *s)
{
  return s->block;
}

double *
dew_trio_rest (DewTrio *s)
{
  return s->r;
}

DewTrioStatistics
dew_trio_statistics (const DewTrio *s)
{
  return s->statistics;
}

/* --- blocks ---------------------------------------------------------------------- */

static inline void
times (const double *restrict b, const double *restrict x, double *restrict y)
{
  y[0] = b[0] * x[0] + b[1] * x[1] + b[2] * x[2];
  y[1] = b[3] * x[0] + b[4] * x[1] + b[5] * x[2];
  y[2] = b[6] * x[0] + b[7] * x[1] + b[8] * x[2];
}

static void
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

/* What the neighbours below along each axis (from = 0) or above (1) send of x. */
static inline void
add_side (const DewTrio *s, const double *restrict x, int at, int side, double *restrict y)
{
  for (int a = 0; a < 3; a++)
    {
      int step = s->z->stride[a];
      const double *there = x + 3 * (side ? at + step : at - step);
      double two = side ? s->high[a][at + step] : s->low[a][at];
      double third = side ? s->high_third[a][at + step] : s->low_third[a][at];

      y[0] += two * there[0];
      y[1] += two * there[1];
      y[2] += third * there[2];
    }
}

/* DILU: (D + L) D^-1 (D + U) with D so that the diagonal blocks match. */
static void
factor (DewTrio *s)
{
  DEW_EACH_ZONE (s->z, at)
    {
      double d[9];

      memcpy (d, s->block + 9 * at, sizeof d);
      for (int a = 0; a < 3; a++)
        {
          const double *below = s->inverse + 9 * (at - s->z->stride[a]);
          double down[3] = { s->low[a][at], s->low[a][at], s->low_third[a][at] };
          double up[3] = { s->high[a][at], s->high[a][at], s->high_third[a][at] };

          for (int f = 0; f < 3; f++)
            for (int g = 0; g < 3; g++)
              d[3 * f + g] -= down[f] * below[3 * f + g] * up[g];
        }
      invert (d, s->inverse + 9 * at);
    }
}

static void
precondition (const DewTrio *s, const double *r, double *y)
{
  DEW_EACH_ZONE (s->z, at)
    {
      double sum[3] = { r[3 * at], r[3 * at + 1], r[3 * at + 2] };

      add_side (s, y, at, 0, sum);
      times (s->inverse + 9 * at, sum, y + 3 * at);
    }
  DEW_EACH_ZONE_BACK (s->z, at)
    {
      double sum[3] = { 0.0, 0.0, 0.0 }, more[3];

      add_side (s, y, at, 1, sum);
      times (s->inverse + 9 * at, sum, more);
      for (int f = 0; f < 3; f++)
        y[3 * at + f] += more[f];
    }
}

static void
multiply (const DewTrio *s, const double *x, double *y)
{
  DEW_EACH_ZONE (s->z, at)
    {
      double sent[3] = { 0.0, 0.0, 0.0 };

      add_side (s, x, at, 0, sent);
      add_side (s, x, at, 1, sent);
      times (s->block + 9 * at, x + 3 * at, y + 3 * at);
      for (int f = 0; f < 3; f++)
        y[3 * at + f] -= sent[f];
    }
}

/* --- solution -------------------------------------------------------------------- */

static double
dot (const DewZones *z, const double *a, const double *b)
{
  double sum = 0.0;

  DEW_EACH_ZONE (z, at)
    for (int n = 3 * at; n < 3 * at + 3; n++)
      sum += a[n] * b[n];
  return sum;
}

static double
largest (const DewZones *z, const double *a)
{
  double most = 0.0;

  DEW_EACH_ZONE (z, at)
    for (int n = 3 * at; n < 3 * at + 3; n++)
      most = MAX (most, fabs (a[n]));
  return most;
}

/* Over all zones: of the first and third, of the first and second. */
static void
sums_of (const DewTrio *s, const double *a, double sums[2])
{
  sums[0] = sums[1] = 0.0;
  DEW_EACH_ZONE (s->z, at)
    {
      sums[0] += a[3 * at] + a[3 * at + 2];
      sums[1] += a[3 * at] + a[3 * at + 1];
    }
}

/* Two ways in which the enclosure changes as a whole, and what the equations answer: in each
 * zone one more of x0 + x2 with x0 + x1 held, or the other way round, shared between the three
 * as the zone's third equation has it. */
static void
find_levels (DewTrio *s)
{
  DEW_EACH_ZONE (s->z, at)
    {
      const double *b = s->block + 9 * at;
      double all_1 = 1.0 / (b[8] - b[6] + b[7]);
      double first = b[8] * all_1, second = b[7] * all_1;
      double *level = s->level[0] + 3 * at;

      level[0] = first;
      level[1] = -first;
      level[2] = 1.0 - first;
      level = s->level[1] + 3 * at;
      level[0] = second;
      level[1] = 1.0 - second;
      level[2] = -second;
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
  DEW_EACH_ZONE (s->z, at)
    for (int n = 3 * at; n < 3 * at + 3; n++)
      {
        s->x[n] += by[0] * s->level[0][n] + by[1] * s->level[1][n];
        s->r[n] -= by[0] * s->answer[0][n] + by[1] * s->answer[1][n];
      }
}

static void
bicgstab (DewTrio *s, double goal)
{
  const DewZones *z = s->z;
  gsize bytes = sizeof (double) * 3 * z->size;
  double rho = 1.0, alpha = 1.0, omega = 1.0;

  memcpy (s->r0, s->r, bytes);
  memset (s->p, 0, bytes);
  memset (s->v, 0, bytes);
  for (int it = 0; it < ITERATIONS && largest (z, s->r) > goal; it++)
    {
      double next = dot (z, s->r0, s->r), below, tt;

      s->statistics.iterations++;
      if (fabs (next) < 1e-300 || fabs (omega) < 1e-300)
        return;

      double beta = next / rho * (alpha / omega);

      rho = next;
      DEW_EACH_ZONE (z, at)
        for (int n = 3 * at; n < 3 * at + 3; n++)
          s->p[n] = s->r[n] + beta * (s->p[n] - omega * s->v[n]);
      precondition (s, s->p, s->ph);
      multiply (s, s->ph, s->v);
      below = dot (z, s->r0, s->v);
      if (fabs (below) < 1e-300)
        return;
      alpha = rho / below;
      DEW_EACH_ZONE (z, at)
        for (int n = 3 * at; n < 3 * at + 3; n++)
          s->r[n] -= alpha * s->v[n];
      precondition (s, s->r, s->sh);
      multiply (s, s->sh, s->t);
      tt = dot (z, s->t, s->t);
      omega = tt > 0.0 ? dot (z, s->t, s->r) / tt : 0.0;
      DEW_EACH_ZONE (z, at)
        for (int n = 3 * at; n < 3 * at + 3; n++)
          {
            s->x[n] += alpha * s->ph[n] + omega * s->sh[n];
            s->r[n] -= omega * s->t[n];
          }
    }
}

const double *
dew_trio_solve (DewTrio *s, const DewScalar *plain, const DewScalar *falling, double share)
{
  double goal = share * largest (s->z, s->r);

  for (int a = 0; a < 3; a++)
    {
      s->low[a] = plain->low[a];
      s->high[a] = plain->high[a];
      s->low_third[a] = falling->low[a];
      s->high_third[a] = falling->high[a];
    }
  factor (s);
  s->statistics.solves++;
  memset (s->x, 0, sizeof (double) * 3 * s->z->size);
  find_levels (s);
  balance_whole (s);
  bicgstab (s, goal);
  balance_whole (s);
  return s->x;
}
