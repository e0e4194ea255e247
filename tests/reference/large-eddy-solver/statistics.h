/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Sums over time, of the cells and of the openings, and the choice of the next step. */

#include "grid.h"

#include <cmath>

/* Adds a sample to the sums and finds the fastest passage through a cell. */
struct Sample
{
  Grid g;

  DEVICE void
  operator() (int c) const
  {
    const unsigned flags = g.flags[c];
    const float *u = g.u[0][0], *v = g.u[0][1], *w = g.u[0][2];
    float rate = 0;

    if (flags & CELL_ACTIVE)
      {
        const float u0 = u[c], u1 = u[c + 1], v0 = v[c], v1 = v[c + g.sy], w0 = w[c],
                    w1 = w[c + g.sz];

        rate = fmaxf (fabsf (u0), fabsf (u1)) * g.h_1[0] + fmaxf (fabsf (v0), fabsf (v1)) * g.h_1[1]
               + fmaxf (fabsf (w0), fabsf (w1)) * g.h_1[2];
        if (!(rate < 1e8f)) /* also what is no number */
          rate = 1e8f;
        if (g.control->averaging)
          {
            const float x = .5f * (u0 + u1), y = .5f * (v0 + v1), z = .5f * (w0 + w1);

            g.sum[MEAN_SPEED][c] += sqrtf (x * x + y * y + z * z);
            for (int q = 0; q < g.n_scalars; q++)
              g.sum[MEAN_SCALAR + q][c] += g.scalar[0][q][c];
            g.sum[MEAN_SQUARE][c] += x * x + y * y + z * z;
          }
      }
    if (g.control->averaging && flags)
      for (int a = 0; a < 3; a++)
        g.sum[MEAN_U + a][c] += g.u[0][a][c];
    keep_largest (rate);
  }

  DEVICE void
  keep_largest (float rate) const
  {
#ifdef __CUDA_ARCH__
    /* Numbers that are not negative compare as their bits do. */
    const unsigned lanes = __activemask ();
    const int largest = __reduce_max_sync (lanes, __float_as_int (rate));

    if ((int) (threadIdx.x & 31) == __ffs (lanes) - 1)
      atomicMax (&g.control->rate_bits, largest);
#else
    if (rate > g.control->rate_1_s)
      g.control->rate_1_s = rate;
#endif
  }
};

/* What passes one face of an opening now, added to `sums` (SUM_NET up to the scalars). */
DEVICE void
add_opening_face (const Grid &g, const OpeningFaces &o, int i, double *sums)
{
  const int c = o.at[i], s[3] = { 1, g.sy, g.sz };
  const float v = g.u[0][o.axis][c], in = o.high ? -v : v;
  const int inside = o.high ? c - s[o.axis] : c;

  sums[SUM_NET] += in;
  if (in > 0)
    sums[SUM_IN] += in;
  else
    for (int q = 0; q < g.n_scalars; q++)
      sums[SUM_SCALAR + q] += -in * g.scalar[0][q][inside];
}

/* Takes the sums over one opening's faces into those over time. */
DEVICE void
add_opening (const Grid &g, int o, const double *sums)
{
  const double m2 = g.opening[o].face_m2;
  double *all = g.opening_sum + 8 * o;

  for (int i = 0; i < SUM_SQUARE; i++)
    all[i] += sums[i] * m2;
  all[SUM_SQUARE] += sums[SUM_NET] * m2 * sums[SUM_NET] * m2;
}

/* After `steps` steps: the time, and a step that keeps the Courant number, shrinking fast
 * and growing slowly. */
DEVICE void
choose_step (Control &c, int substeps, int steps)
{
  float wanted = c.courant / fmaxf (c.rate_1_s, 1e-6f);

  c.t_s += steps * (double) c.dt_s;
  if (c.averaging)
    {
      c.samples++;
      c.averaged_s += steps * (double) c.dt_s;
    }
  if (!(c.rate_1_s < 5e7f))
    c.bad = 1;
  if (wanted > c.dt_max_s)
    wanted = c.dt_max_s;
  if (wanted < c.dt_s)
    c.dt_s = fmaxf (wanted, .8f * c.dt_s);
  else
    c.dt_s = fminf (wanted, 1.03f * c.dt_s);
  c.dtau_s = c.dt_s / substeps;
  c.c2 = (c.acoustic_m / c.dtau_s) * (c.acoustic_m / c.dtau_s);
}
