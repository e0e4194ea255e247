/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the air carries: temperature (K over the room), humidity ratio (kg/kg over the room)
 * and age (s). In conservative form, so that balances close; advection second order in space
 * and time with van Leer's limiter (J. Comput. Phys. 14, 1974), diffusion by molecules and
 * by the subgrid viscosity over a subgrid Prandtl number. */

#include "grid.h"

#include <cmath>

/* Value on a face that air leaves from `up` towards `down`; `far` lies before `up`. `rest`
 * is one less the Courant number. */
DEVICE float
limited (float far, float up, float down, float rest)
{
  const float step = down - up, before = up - far, product = before * step;

  return product > 0 ? up + rest * (product / (before + step)) : up;
}

template <int n> struct CarryScalars
{
  Grid g;
  int in; /* buffer; the other one is written */

  /* A cell whose faces, and those of its neighbours, are all plain. */
  DEVICE void
  inner (int c, unsigned flags) const
  {
    const int s[3] = { 1, g.sy, g.sz };
    const float dt = g.control->dt_s, here_nut = g.nut[c], half = .5f / g.subgrid_prandtl;
    float m[6], rest[6], nut[6]; /* low and high face of each axis */

    for (int f = 0; f < 6; f++)
      {
        const int a = f >> 1, high = f & 1;

        m[f] = g.u[0][a][high ? c + s[a] : c];
        nut[f] = (here_nut + g.nut[high ? c + s[a] : c - s[a]]) * half;
        rest[f] = 1.f - fabsf (m[f]) * dt * g.h_1[a];
      }
    for (int q = 0; q < n; q++)
      {
        const float *x = g.scalar[in][q];
        const float here = x[c];
        float r = 0;

        for (int a = 0; a < 3; a++)
          {
            const float low2 = x[c - 2 * s[a]], low = x[c - s[a]];
            const float high = x[c + s[a]], high2 = x[c + 2 * s[a]];
            const int l = 2 * a, h = l + 1;
            const float on_low
              = m[l] > 0 ? limited (low2, low, here, rest[l]) : limited (high, here, low, rest[l]);
            const float on_high = m[h] > 0 ? limited (low, here, high, rest[h])
                                           : limited (high2, high, here, rest[h]);

            r += (m[l] * on_low - (g.diffusivity[q] + nut[l]) * (here - low) * g.h_1[a]) * g.h_1[a];
            r -= (m[h] * on_high - (g.diffusivity[q] + nut[h]) * (high - here) * g.h_1[a])
                 * g.h_1[a];
          }
        if (flags & CELL_SOURCE)
          r += g.source[q][c];
        g.scalar[1 - in][q][c] = here + dt * r;
      }
  }

  /* What comes in through one face of any kind, added to r. */
  DEVICE void
  add_face (int c, unsigned flags, int a, bool high, const float *here, float *r) const
  {
    const int s[3] = { 1, g.sy, g.sz };
    const float h_1 = g.h_1[a];
    const unsigned kind = high ? high_face (flags, a) : low_face (flags, a);
    const int next = high ? c + s[a] : c - s[a];

    if (kind == FACE_WALL)
      {
        if ((g.held >> (2 * a + high)) & 1)
          r[0] += g.diffusivity[0] * (g.wall_K[2 * a + high] - here[0]) * 2.f * h_1 * h_1;
        return;
      }

    const float m = g.u[0][a][high ? c + s[a] : c];
    const float out = high ? m : -m;

    /* Room air comes in at 0 of everything. */
    if (kind != FACE_FLUID)
      {
        for (int q = 0; q < n && out > 0; q++)
          r[q] -= out * here[q] * h_1;
        return;
      }

    const float rest = 1.f - fabsf (m) * g.control->dt_s * h_1;
    const float nut = .5f * (g.nut[c] + g.nut[next]) / g.subgrid_prandtl;
    const unsigned flags_next = g.flags[next];
    /* The cell before the one that the air comes from, where there is one. */
    const unsigned kind_far = out > 0
                                ? (high ? low_face (flags, a) : high_face (flags, a))
                                : (high ? high_face (flags_next, a) : low_face (flags_next, a));
    const int far = out > 0 ? (high ? c - s[a] : c + s[a]) : (high ? next + s[a] : next - s[a]);

    for (int q = 0; q < n; q++)
      {
        const float *x = g.scalar[in][q];
        const float there = x[next];
        const float up = out > 0 ? here[q] : there, down = out > 0 ? there : here[q];
        const float on_face = kind_far == FACE_FLUID ? limited (x[far], up, down, rest) : up;

        r[q] -= (out * on_face - (g.diffusivity[q] + nut) * (there - here[q]) * h_1) * h_1;
      }
  }

  DEVICE void
  operator() (int c) const
  {
    const unsigned flags = g.flags[c];
    float r[3] = { 0, 0, 0 }, here[3];

    if (!(flags & CELL_ACTIVE))
      return;
    if (flags & CELL_INNER)
      {
        inner (c, flags);
        return;
      }
    for (int q = 0; q < n; q++)
      here[q] = g.scalar[in][q][c];
    for (int a = 0; a < 3; a++)
      {
        add_face (c, flags, a, false, here, r);
        add_face (c, flags, a, true, here, r);
      }
    for (int q = 0; q < n; q++)
      {
        if (flags & CELL_SOURCE)
          r[q] += g.source[q][c];
        g.scalar[1 - in][q][c] = here[q] + g.control->dt_s * r[q];
      }
  }
};
