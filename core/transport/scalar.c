/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/scalar-private.h"

#include <math.h>
#include <string.h>

#define SWEEPS 3
#define LIMITER_UPDATES 6
#define CORRECTIONS 16
#define ITERATIONS 400

static double *
new_array (const DewZones *z)
{
  return g_new0 (double, z->size);
}

DewScalar *
dew_scalar_new (const DewZones *z)
{
  DewScalar *s = g_new0 (DewScalar, 1);
  double **all[] = { &s->fall, &s->diagonal, &s->d, &s->rhs, &s->dilu, &s->r,
                     &s->r0,   &s->p,        &s->v, &s->t,   &s->ph,   &s->sh };

  s->z = z;
  dew_row_order_init (&s->order, z, 1, 1);
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    *all[i] = new_array (z);
  for (int a = 0; a < 3; a++)
    {
      s->low[a] = new_array (z);
      s->high[a] = new_array (z);
      s->deferred[a] = new_array (z);
      s->in[a] = new_array (z);
      s->out[a] = new_array (z);
      s->through[a] = new_array (z);
      s->inner[a] = new_array (z);
      s->lead[a] = new_array (z);
      for (int at = 0; at < z->size; at++)
        s->through[a][at] = z->open_m2[a][at] > 0.0 ? 1.0 : 0.0;
      for (int k = 1; k <= z->n[2]; k++)
        for (int j = 1; j <= z->n[1]; j++)
          for (int i = 1; i <= z->n[0]; i++)
            {
              int c[3] = { i, j, k }, at = dew_zones_at (z, i, j, k);

              if (z->kind[a][at] != DEW_FACE_IS_INSIDE)
                continue;
              s->inner[a][at] = 1.0;
              s->lead[a][at] = z->open_m2[a][at] / z->gap_m[a][c[a]];
            }
    }
  return s;
}

void
dew_scalar_free (DewScalar *s)
{
  if (s == NULL)
    return;
  double *all[]
    = { s->fall, s->diagonal, s->d, s->rhs, s->dilu, s->r, s->r0, s->p, s->v, s->t, s->ph, s->sh };

  dew_row_order_clear (&s->order);
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_free (all[i]);
  for (int a = 0; a < 3; a++)
    {
      g_free (s->low[a]);
      g_free (s->high[a]);
      g_free (s->deferred[a]);
      g_free (s->in[a]);
      g_free (s->out[a]);
      g_free (s->through[a]);
      g_free (s->inner[a]);
      g_free (s->lead[a]);
    }
  g_free (s);
}

/* --- coefficients ------------------------------------------------------------ */

DEW_TWICE static void
assemble_axis (DewScalar *s, const DewScalarFlow *flow, int a)
{
  int sa = s->z->stride[a], size = s->z->size;
  const double *restrict q = flow->flux_m3_s[a], *restrict nu = flow->viscosity_m2_s;
  const double *restrict lead = s->lead[a], *restrict inner = s->inner[a];
  double *restrict low = s->low[a], *restrict high = s->high[a];
  double *restrict in = s->in[a], *restrict out = s->out[a];
  double half_1 = 0.5 / flow->prandtl_turbulent;
  double base = flow->molecular_m2_s - flow->laminar_m2_s / flow->prandtl_turbulent;

  for (int at = sa; at < size; at++)
    {
      double conduct = lead[at] * (base + half_1 * (nu[at] + nu[at - sa]));
      double up = q[at] > 0.0 ? q[at] : 0.0, down = up - q[at];

      in[at] = up * inner[at];
      out[at] = down * inner[at];
      low[at] = conduct + up;
      high[at] = conduct + down;
    }
}

/* What falls does so through the air, whichever way that goes. */
DEW_TWICE static void
add_fall (DewScalar *s, const DewScalarFlow *flow)
{
  const double *restrict open = s->z->open_m2[2], *restrict inner = s->inner[2];
  const double *restrict share = flow->fall_share != NULL ? flow->fall_share : s->inner[2];
  double *restrict high = s->high[2], *restrict out = s->out[2];
  double fall = flow->fall_m_s;

  for (int at = s->z->stride[2]; at < s->z->size; at++)
    {
      double falls = fall * open[at] * inner[at] * share[at];

      out[at] += falls;
      high[at] += falls;
    }
}

DEW_TWICE void
dew_scalar_assemble (DewScalar *s, const DewScalarFlow *flow)
{
  const DewZones *z = s->z;
  int s1 = z->stride[1], s2 = z->stride[2];

  for (int a = 0; a < 3; a++)
    assemble_axis (s, flow, a);
  if (flow->fall_m_s > 0.0)
    add_fall (s, flow);

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int at = dew_zones_at (z, i, j, k);

          s->fall[at] = 0.0;
          if (flow->fall_m_s > 0.0)
            {
              double passes
                = z->kind[2][at] != DEW_FACE_IS_INSIDE
                    ? 0.0
                    : z->open_m2[2][at] * (flow->fall_share != NULL ? flow->fall_share[at] : 1.0);

              s->fall[at] = flow->fall_m_s * (z->gross_m2[2][at] - passes);
            }
          s->diagonal[at] = s->high[0][at] + s->low[0][at + 1] + s->high[1][at] + s->low[1][at + s1]
                            + s->high[2][at] + s->low[2][at + s2] + s->fall[at];
        }
}

/* Second order part of the convective flux into a zone across its low face,
 * beyond upwind: van Leer's limiter, zero at walls and openings. */
DEW_TWICE static void
defer (DewScalar *s, const double *restrict phi)
{
  const DewZones *z = s->z;

  for (int a = 0; a < 3; a++)
    {
      int sa = z->stride[a];
      const double *restrict in = s->in[a], *restrict out = s->out[a];
      const double *restrict through = s->through[a];
      double *restrict def = s->deferred[a];

      for (int at = 2 * sa; at < z->size - sa; at++)
        {
          double across = phi[at] - phi[at - sa];
          double before = (phi[at - sa] - phi[at - 2 * sa]) * through[at - sa];
          double after = (phi[at + sa] - phi[at]) * through[at + sa];
          double up = across * before, down = across * after;

          def[at] = in[at] * (up > 0.0 ? up / (across + before) : 0.0)
                    + out[at] * (down > 0.0 ? down / (across + after) : 0.0);
        }
    }
}

void
dew_scalar_set_rim (const DewZones *z, double *phi, double room)
{
  int s1 = z->stride[1], s2 = z->stride[2];

  for (int k = 0; k <= z->n[2] + 1; k++)
    for (int j = 0; j <= z->n[1] + 1; j++)
      {
        phi[s1 * j + s2 * k] = room;
        phi[z->n[0] + 1 + s1 * j + s2 * k] = room;
      }
  for (int k = 0; k <= z->n[2] + 1; k++)
    for (int i = 0; i <= z->n[0] + 1; i++)
      {
        phi[i + s2 * k] = room;
        phi[i + s1 * (z->n[1] + 1) + s2 * k] = room;
      }
  for (int j = 0; j <= z->n[1] + 1; j++)
    for (int i = 0; i <= z->n[0] + 1; i++)
      {
        phi[i + s1 * j] = room;
        phi[i + s1 * j + s2 * (z->n[2] + 1)] = room;
      }
}

/* --- pseudo-time ------------------------------------------------------------- */

/* All that a row takes from others and from the side that it has not come to. */
DEW_PART void
gather_rows (const DewScalar *s, const DewRows *rows, const double *phi, gboolean back)
{
  int s1 = s->z->stride[1], s2 = s->z->stride[2];

  for (int r = 0; r < rows->n; r++)
    for (int i = 1; i <= s->z->n[0]; i += DEW_LANES)
      {
        int at = rows->at + r * rows->skip + i;
        DewLanes d = DEW_LANES_AT (s->d + at), before = DEW_LANES_AT (s->low[0] + at);
        DewLanes after = DEW_LANES_AT (s->high[0] + at + 1);
        DewLanes sum = DEW_LANES_AT (s->rhs + at)
                       + DEW_LANES_AT (s->low[1] + at) * DEW_LANES_AT (phi + at - s1)
                       + DEW_LANES_AT (s->high[1] + at + s1) * DEW_LANES_AT (phi + at + s1)
                       + DEW_LANES_AT (s->low[2] + at) * DEW_LANES_AT (phi + at - s2)
                       + DEW_LANES_AT (s->high[2] + at + s2) * DEW_LANES_AT (phi + at + s2);

        sum += back ? before * DEW_LANES_AT (phi + at - 1) : after * DEW_LANES_AT (phi + at + 1);
        DEW_LANES_AT (s->order.t + r * s->order.row + i) = d * sum;
        DEW_LANES_AT (s->order.c + r * s->order.row + i) = d * (back ? after : before);
      }
}

DEW_TWICE static void
relax (DewScalar *s, double *phi)
{
  for (int o = 0; o < s->order.n; o++)
    {
      gather_rows (s, &s->order.rows[o], phi, FALSE);
      dew_rows_wait (&s->order, &s->order.rows[o], 1, s->z->n[0], 1, phi);
    }
}

DEW_TWICE static void
relax_back (DewScalar *s, double *phi)
{
  for (int o = s->order.n - 1; o >= 0; o--)
    {
      gather_rows (s, &s->order.rows[o], phi, TRUE);
      dew_rows_wait (&s->order, &s->order.rows[o], 1, s->z->n[0], -1, phi);
    }
}

DEW_TWICE void
dew_scalar_step (DewScalar *s, double *phi, double room, const double *sink, const double *source,
                 gboolean sharp, double dt)
{
  const DewZones *z = s->z;
  int s1 = z->stride[1], s2 = z->stride[2];
  double dt_1 = 1.0 / dt;

  dew_scalar_set_rim (z, phi, room);
  if (sharp)
    defer (s, phi);
  DEW_EACH_ZONE (z, at)
    {
      double store = z->volume_m3[at] * dt_1;

      s->rhs[at] = store * phi[at] + (sharp ? dew_scalar_deferred_into (s, at, s1, s2) : 0.0)
                   + (source != NULL ? source[at] : 0.0);
      s->d[at] = 1.0 / (store + s->diagonal[at] + (sink != NULL ? sink[at] : 0.0));
    }
  for (int sweep = 0; sweep < SWEEPS; sweep++)
    {
      if (sweep & 1)
        relax_back (s, phi);
      else
        relax (s, phi);
    }
}

/* --- steady state ------------------------------------------------------------- */

/* Over whole arrays: both are zero on the rim. */
DEW_TWICE static double
dot (const DewZones *z, const double *a, const double *b)
{
  DewLanes one = { 0 }, two = { 0 };
  double rest = 0.0;
  int at = 0;

  for (; at + 2 * DEW_LANES <= z->size; at += 2 * DEW_LANES)
    {
      one += DEW_LANES_AT (a + at) * DEW_LANES_AT (b + at);
      two += DEW_LANES_AT (a + at + DEW_LANES) * DEW_LANES_AT (b + at + DEW_LANES);
    }
  for (; at < z->size; at++)
    rest += a[at] * b[at];
  one += two;
  return (one[0] + one[1]) + (one[2] + one[3]) + rest;
}

/* y = A x with x zero on the rim, and y as well. */
DEW_TWICE static void
multiply (const DewScalar *s, const double *x, double *y)
{
  int s1 = s->z->stride[1], s2 = s->z->stride[2];

  for (int k = 1; k <= s->z->n[2]; k++)
    for (int j = 1; j <= s->z->n[1]; j++)
      {
        int row = dew_zones_at (s->z, 1, j, k);

        for (int at = row; at < row + s->z->n[0]; at += DEW_LANES)
          DEW_LANES_AT (y + at)
            = DEW_LANES_AT (s->d + at) * DEW_LANES_AT (x + at)
              - (DEW_LANES_AT (s->low[0] + at) * DEW_LANES_AT (x + at - 1)
                 + DEW_LANES_AT (s->high[0] + at + 1) * DEW_LANES_AT (x + at + 1)
                 + DEW_LANES_AT (s->low[1] + at) * DEW_LANES_AT (x + at - s1)
                 + DEW_LANES_AT (s->high[1] + at + s1) * DEW_LANES_AT (x + at + s1)
                 + DEW_LANES_AT (s->low[2] + at) * DEW_LANES_AT (x + at - s2)
                 + DEW_LANES_AT (s->high[2] + at + s2) * DEW_LANES_AT (x + at + s2));
        /* Whole lanes ran on past the row; what of that is zones comes next. */
        DEW_LANES_AT (y + row + s->z->n[0]) = (DewLanes){ 0 };
      }
}

/* DILU: (D + L) D^-1 (D + U) with the diagonal chosen so that it matches A's. */
static void
factor_dilu (DewScalar *s)
{
  int s1 = s->z->stride[1], s2 = s->z->stride[2];

  DEW_EACH_ZONE (s->z, at)
    s->dilu[at] = 1.0
                  / (s->d[at] - s->low[0][at] * s->high[0][at] * s->dilu[at - 1]
                     - s->low[1][at] * s->high[1][at] * s->dilu[at - s1]
                     - s->low[2][at] * s->high[2][at] * s->dilu[at - s2]);
}

DEW_TWICE static void
precondition (const DewScalar *s, const double *r, double *y)
{
  const DewRowOrder *o = &s->order;
  int s1 = s->z->stride[1], s2 = s->z->stride[2], n = s->z->n[0];

  for (int g = 0; g < o->n; g++)
    {
      const DewRows *rows = &o->rows[g];

      for (int b = 0; b < rows->n; b++)
        for (int i = 1; i <= n; i += DEW_LANES)
          {
            int at = rows->at + b * rows->skip + i;
            DewLanes dilu = DEW_LANES_AT (s->dilu + at);

            DEW_LANES_AT (o->t + b * o->row + i)
              = dilu
                * (DEW_LANES_AT (r + at)
                   + DEW_LANES_AT (s->low[1] + at) * DEW_LANES_AT (y + at - s1)
                   + DEW_LANES_AT (s->low[2] + at) * DEW_LANES_AT (y + at - s2));
            DEW_LANES_AT (o->c + b * o->row + i) = dilu * DEW_LANES_AT (s->low[0] + at);
          }
      dew_rows_wait (o, rows, 1, n, 1, y);
    }
  for (int g = o->n - 1; g >= 0; g--)
    {
      const DewRows *rows = &o->rows[g];

      for (int b = 0; b < rows->n; b++)
        for (int i = 1; i <= n; i += DEW_LANES)
          {
            int at = rows->at + b * rows->skip + i;
            DewLanes dilu = DEW_LANES_AT (s->dilu + at);

            DEW_LANES_AT (o->t + b * o->row + i)
              = DEW_LANES_AT (y + at)
                + dilu
                    * (DEW_LANES_AT (s->high[1] + at + s1) * DEW_LANES_AT (y + at + s1)
                       + DEW_LANES_AT (s->high[2] + at + s2) * DEW_LANES_AT (y + at + s2));
            DEW_LANES_AT (o->c + b * o->row + i) = dilu * DEW_LANES_AT (s->high[0] + at + 1);
          }
      dew_rows_wait (o, rows, 1, n, -1, y);
    }
}

/* p = r + beta (p - omega v) */
DEW_TWICE static void
advance (int n, double beta, double omega, const double *restrict r, const double *restrict v,
         double *restrict p)
{
  for (int at = 0; at < n; at++)
    p[at] = r[at] + beta * (p[at] - omega * v[at]);
}

DEW_TWICE static void
add_times (int n, double times, const double *restrict a, double *restrict to)
{
  for (int at = 0; at < n; at++)
    to[at] += times * a[at];
}

DEW_TWICE static double
largest (int n, const double *a)
{
  double most[DEW_LANES] = { 0 };
  int at = 0;

  for (; at + DEW_LANES <= n; at += DEW_LANES)
    for (int l = 0; l < DEW_LANES; l++)
      most[l] = fabs (a[at + l]) > most[l] ? fabs (a[at + l]) : most[l];
  for (; at < n; at++)
    most[0] = MAX (most[0], fabs (a[at]));
  return MAX (MAX (most[0], most[1]), MAX (most[2], most[3]));
}

/* Solves A x = r for a correction x that is added to phi. r is spent. */
static void
bicgstab (DewScalar *s, double *phi, double goal)
{
  const DewZones *z = s->z;
  double rho = 1.0, alpha = 1.0, omega = 1.0;

  memcpy (s->r0, s->r, sizeof (double) * z->size);
  memset (s->p, 0, sizeof (double) * z->size);
  memset (s->v, 0, sizeof (double) * z->size);
  for (int it = 0; it < ITERATIONS; it++)
    {
      double next = dot (z, s->r0, s->r);

      s->statistics.iterations++;
      if (fabs (next) < 1e-300 || fabs (omega) < 1e-300)
        return;

      double beta = next / rho * (alpha / omega);

      rho = next;
      advance (z->size, beta, omega, s->r, s->v, s->p);
      precondition (s, s->p, s->ph);
      multiply (s, s->ph, s->v);

      double below = dot (z, s->r0, s->v);

      if (fabs (below) < 1e-300)
        return;
      alpha = rho / below;
      add_times (z->size, -alpha, s->v, s->r);
      precondition (s, s->r, s->sh);
      multiply (s, s->sh, s->t);

      double tt = dot (z, s->t, s->t);

      omega = tt > 0.0 ? dot (z, s->t, s->r) / tt : 0.0;

      add_times (z->size, alpha, s->ph, phi);
      add_times (z->size, omega, s->sh, phi);
      add_times (z->size, -omega, s->t, s->r);
      if (largest (z->size, s->r) < goal)
        return;
    }
}

/* s->r = source + deferred - A phi; returns its largest entry over the largest
 * single term. */
DEW_TWICE static double
residual (DewScalar *s, double *phi, const double *source)
{
  int s1 = s->z->stride[1], s2 = s->z->stride[2];
  double worst = 0.0;

  s->scale = 1e-300;
  DEW_EACH_ZONE (s->z, at)
    {
      double own = s->d[at] * phi[at];
      double other = source != NULL ? source[at] : 0.0;

      s->r[at] = other + dew_scalar_deferred_into (s, at, s1, s2)
                 + dew_scalar_neighbours (s, phi, at, s1, s2) - own;
      worst = MAX (worst, fabs (s->r[at]));
      s->scale = MAX (s->scale, MAX (fabs (own), fabs (other)));
    }
  return worst / s->scale;
}

/* Adds one number to phi everywhere so that the enclosure as a whole balances; s->r
 * holds the residual and follows. In a tight one the small residuals of zones with
 * much flow add up to more than all that crosses the cover, and a level shift is what
 * the iteration is slowest to find. It changes no deferred flux. */
DEW_TWICE static void
balance_whole (DewScalar *s, double *phi)
{
  double missing = 0.0, leaving = 0.0, shift;

  memset (s->p, 0, sizeof (double) * s->z->size);
  DEW_EACH_ZONE (s->z, at)
    s->p[at] = 1.0;
  multiply (s, s->p, s->t);
  DEW_EACH_ZONE (s->z, at)
    {
      missing += s->r[at];
      leaving += s->t[at];
    }
  if (!(leaving > 0.0))
    return;
  shift = missing / leaving;
  DEW_EACH_ZONE (s->z, at)
    {
      phi[at] += shift;
      s->r[at] -= shift * s->t[at];
    }
}

double
dew_scalar_solve (DewScalar *s, double *phi, double room, const double *sink, const double *source,
                  double tolerance)
{
  double now = G_MAXDOUBLE;

  DEW_EACH_ZONE (s->z, at)
    s->d[at] = s->diagonal[at] + (sink != NULL ? sink[at] : 0.0);
  factor_dilu (s);
  dew_scalar_set_rim (s->z, phi, room);
  s->statistics.solves++;
  for (int c = 0; c < CORRECTIONS; c++)
    {
      /* The limiter may flicker between two states for ever. Its fluxes are
       * conservative whichever they are, so the last ones are kept and the
       * linear equations solved to the end. */
      if (c < LIMITER_UPDATES)
        defer (s, phi);
      now = residual (s, phi, source);
      balance_whole (s, phi);
      if (now < tolerance)
        break;
      bicgstab (s, phi, MAX (0.02 * now, 0.2 * tolerance) * s->scale);
    }
  s->statistics.residual = now;
  return now;
}

DewScalarStatistics
dew_scalar_statistics (const DewScalar *s)
{
  return s->statistics;
}

DEW_TWICE void
dew_scalar_bend (DewScalar *s, double *phi, double room, double share, double *bent)
{
  int s1 = s->z->stride[1], s2 = s->z->stride[2];

  dew_scalar_set_rim (s->z, phi, room);
  defer (s, phi);
  DEW_EACH_ZONE (s->z, at)
    bent[at] += share * (dew_scalar_deferred_into (s, at, s1, s2) - bent[at]);
}

double
dew_scalar_inflow (const DewScalar *s, const DewPatch *patch, const double *phi, double room)
{
  double in, out;

  if (patch->sign > 0)
    {
      in = s->low[patch->axis][patch->face];
      out = s->high[patch->axis][patch->face];
    }
  else
    {
      in = s->high[patch->axis][patch->face];
      out = s->low[patch->axis][patch->face];
    }
  return (in * room - out * phi[patch->zone]) * patch->area_m2
         / s->z->open_m2[patch->axis][patch->face];
}

double
dew_scalar_landing (const DewScalar *s, int zone)
{
  return s->fall[zone];
}
