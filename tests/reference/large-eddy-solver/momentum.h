/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Motion of the air: incompressible Boussinesq flow by artificial compressibility, split in
 * time. The slow terms (advection, friction, buoyancy, forces) go by third-order
 * Adams-Bashforth; pressure and divergence by forward-backward acoustic substeps with a
 * damping of the divergence (after Skamarock & Klemp 1992, from memory).
 *
 * Advection is skew-symmetric and central (second order), so that on plain cells it neither
 * makes nor takes energy; friction is that of the molecules and of Vreman's subgrid viscosity
 * (Phys. Fluids 16, 2004), with wall stress by Werner & Wengle (1991). */

#include "grid.h"

#include <cmath>

/* Wall stress per density and per unit of velocity (m/s), for air of speed `m_s` half a
 * cell away: linear near the wall, u+ = 8.3 y+^(1/7) above, integrated over the cell. */
DEVICE float
wall_drag (const Grid &g, int axis, float m_s)
{
  if (m_s <= g.wall_m_s[axis])
    return 2.f * g.nu * g.h_1[axis];
  return powf (g.wall_a[axis] + g.wall_b[axis] * m_s, 1.75f) / m_s;
}

/* What passes one side of the control volume of velocity A across axis T, added to its rate
 * of change r (m/s2). `other` is the third axis. side -1: low, 1: high. */
template <int A, int T, int other, int side>
DEVICE float
add_side (const Grid &g, const float *const *u, int c, unsigned flags, unsigned flags_before,
          float here, float r)
{
  const int sa = stride<A> (g), st = stride<T> (g), so = stride<other> (g);
  const float *a = u[A], *b = u[T];
  const float ht = g.h_1[T], ha = g.h_1[A], sign = side;
  const int face = side > 0 ? c + st : c, next = side > 0 ? c + st : c - st;
  const unsigned kind = side > 0 ? high_face (flags, T) : low_face (flags, T);
  const unsigned kind_before = side > 0 ? high_face (flags_before, T) : low_face (flags_before, T);

  if (kind == FACE_WALL && kind_before == FACE_WALL)
    {
      if ((g.slip >> T) & 1)
        return r;
      const float *o = u[other];
      const float along = .25f * (o[c] + o[c + so] + o[c - sa] + o[c - sa + so]);
      const float past = side > 0 && A == 0 && T == 2 ? here - g.lid_m_s : here;

      return r - wall_drag (g, T, sqrtf (past * past + along * along)) * past * ht;
    }

  const float m = .5f * (b[face] + b[face - sa]);

  /* Air that leaves carries its velocity, air that enters carries none. */
  if (kind >= FACE_OPEN || kind_before >= FACE_OPEN)
    return r - sign * (.5f * ht * m * (sign * m < 0 ? -here : here));

  const float there = a[next];
  const float e = g.nu + .25f * (g.nut[c] + g.nut[c - sa] + g.nut[next] + g.nut[next - sa]);

  r -= sign * (.5f * ht * (m * there - g.upwind * fabsf (m) * sign * (there - here)));
  r += sign * (e * (sign * (there - here) * ht + (b[face] - b[face - sa]) * ha) * ht);
  return r;
}

/* Both sides of axis T. */
template <int A, int T, int other, bool inner>
DEVICE float
across (const Grid &g, const float *const *u, int c, unsigned flags, unsigned flags_before,
        float here)
{
  if (!inner)
    {
      const float low = add_side<A, T, other, -1> (g, u, c, flags, flags_before, here, 0.f);

      return add_side<A, T, other, 1> (g, u, c, flags, flags_before, here, low);
    }

  const int sa = stride<A> (g), st = stride<T> (g);
  const float *a = u[A], *b = u[T];
  const float ht = g.h_1[T], ha = g.h_1[A];
  const float low = a[c - st], high = a[c + st];
  const float m_low = .5f * (b[c] + b[c - sa]), m_high = .5f * (b[c + st] + b[c + st - sa]);
  const float e = g.nut[c] + g.nut[c - sa];
  const float e_low = g.nu + .25f * (e + g.nut[c - st] + g.nut[c - sa - st]);
  const float e_high = g.nu + .25f * (e + g.nut[c + st] + g.nut[c - sa + st]);
  float r = .5f * ht
            * (m_low * low - m_high * high
               - g.upwind * (fabsf (m_low) * (here - low) - fabsf (m_high) * (high - here)));

  r += ht
       * (e_high * ((high - here) * ht + (b[c + st] - b[c + st - sa]) * ha)
          - e_low * ((here - low) * ht + (b[c] - b[c - sa]) * ha));
  return r;
}

/* Forces on a face: fans, leaves (quadratic drag), wire shelves (loss on the vertical). */
template <int A>
DEVICE float
forced (const Grid &g, const float *const *u, int c, float here)
{
  constexpr int B = (A + 1) % 3, C = (A + 2) % 3;
  const int sa = stride<A> (g), sb = stride<B> (g), sc = stride<C> (g);
  const float *ub = u[B], *uc = u[C];
  const float b = .25f * (ub[c] + ub[c + sb] + ub[c - sa] + ub[c - sa + sb]);
  const float d = .25f * (uc[c] + uc[c + sc] + uc[c - sa] + uc[c - sa + sc]);
  float k = .5f * (g.drag[c] + g.drag[c - sa]);

  if (A == 2)
    k += g.porous[c];
  return g.force[A][c] - k * sqrtf (here * here + b * b + d * d) * here;
}

/* Slow terms of the velocity on the lower face of a cell, m/s2. FALSE in *moves where that
 * velocity does not change by itself. */
template <int A, bool inner>
DEVICE float
slow_terms (const Grid &g, const float *const *u, const float *temperature, int c, unsigned flags,
            bool *moves)
{
  constexpr int B = (A + 1) % 3, C = (A + 2) % 3;
  const int sa = stride<A> (g);
  const float ha = g.h_1[A], *a = u[A], here = a[c];
  const unsigned kind = inner ? (unsigned) FACE_FLUID : low_face (flags, A);
  const bool active = inner || (flags & CELL_ACTIVE);

  *moves = true;
  if (kind == FACE_FLUID && active)
    {
      const unsigned before = inner ? 0u : g.flags[c - sa];
      const float high = a[c + sa], low = a[c - sa];
      const float m_high = .5f * (here + high), m_low = .5f * (here + low);
      float r = -.5f * ha
                * (m_high * high - m_low * low
                   - g.upwind * (fabsf (m_high) * (high - here) - fabsf (m_low) * (here - low)));

      r += 2.f * ha * ha
           * ((g.nu + g.nut[c]) * (high - here) - (g.nu + g.nut[c - sa]) * (here - low));
      r += across<A, B, C, inner> (g, u, c, flags, before, here);
      r += across<A, C, B, inner> (g, u, c, flags, before, here);
      if (A == 2 && temperature)
        r += g.buoyancy * .5f * (temperature[c] + temperature[c - sa]);
      if (flags & CELL_FORCED)
        r += forced<A> (g, u, c, here);
      return r;
    }
  if (kind == FACE_OPEN)
    {
      /* Air that leaves is carried by itself; the room's air comes from rest. */
      float r = active ? (here < 0 ? -here * (a[c + sa] - here) * ha : 0.f)
                       : (here > 0 ? -here * (here - a[c - sa]) * ha : 0.f);

      if (A == 2 && temperature)
        r += g.buoyancy * temperature[active ? c : c - sa];
      return r;
    }
  *moves = false;
  return 0;
}

/* Slow terms, extrapolated by third-order Adams-Bashforth into Grid.slow. */
struct SlowTerms
{
  Grid g;
  int swap;   /* which of the two rates is the last one */
  int buffer; /* of the scalars */

  DEVICE void
  operator() (int c) const
  {
    const float *u[3] = { g.u[0][0], g.u[0][1], g.u[0][2] };
    const float *temperature = g.heat >= 0 ? g.scalar[buffer][g.heat] : nullptr;
    const unsigned flags = g.flags[c];
    float r[3];
    bool moves[3];

    if (flags & CELL_INNER)
      {
        r[0] = slow_terms<0, true> (g, u, temperature, c, flags, &moves[0]);
        r[1] = slow_terms<1, true> (g, u, temperature, c, flags, &moves[1]);
        r[2] = slow_terms<2, true> (g, u, temperature, c, flags, &moves[2]);
      }
    else
      {
        r[0] = slow_terms<0, false> (g, u, temperature, c, flags, &moves[0]);
        r[1] = slow_terms<1, false> (g, u, temperature, c, flags, &moves[1]);
        r[2] = slow_terms<2, false> (g, u, temperature, c, flags, &moves[2]);
      }
    for (int a = 0; a < 3; a++)
      if (moves[a])
        {
          const float last = g.rate[swap][a][c], before = g.rate[1 - swap][a][c];

          g.rate[1 - swap][a][c] = r[a];
          g.slow[a][c] = (23.f * r[a] - 16.f * last + 5.f * before) * (1.f / 12.f);
        }
  }
};

/* --- subgrid viscosity ------------------------------------------------------ */

/* Vreman's viscosity from the gradients in the middle of a cell. */
struct SubgridViscosity
{
  Grid g;

  /* Gradient across axis T of the component `a`, whose own step is `sa`. */
  DEVICE float
  gradient (const float *a, int c, int sa, int T, int st, unsigned flags) const
  {
    const float here = .5f * (a[c] + a[c + sa]);
    const float ghost = ((g.slip >> T) & 1) ? here : -here;
    const unsigned low = low_face (flags, T), high = high_face (flags, T);
    const float below = low == FACE_FLUID  ? .5f * (a[c - st] + a[c - st + sa])
                        : low == FACE_WALL ? ghost
                                           : here;
    const float above = high == FACE_FLUID  ? .5f * (a[c + st] + a[c + st + sa])
                        : high == FACE_WALL ? ghost
                                            : here;

    return .5f * g.h_1[T] * (above - below);
  }

  /* Between cells that are all plain. */
  DEVICE float
  plain_gradient (const float *a, int c, int sa, int T, int st) const
  {
    return .25f * g.h_1[T] * (a[c + st] + a[c + st + sa] - a[c - st] - a[c - st + sa]);
  }

  DEVICE void
  operator() (int c) const
  {
    const unsigned flags = g.flags[c];
    const int s[3] = { 1, g.sy, g.sz };
    float d[3][3]; /* d[i][j]: of velocity j along axis i */
    float all = 0, b[6] = { 0, 0, 0, 0, 0, 0 };

    if (!(flags & CELL_ACTIVE))
      return;
    for (int i = 0; i < 3; i++)
      for (int j = 0; j < 3; j++)
        {
          const float *a = g.u[0][j];

          d[i][j] = i == j                 ? (a[c + s[i]] - a[c]) * g.h_1[i]
                    : (flags & CELL_INNER) ? plain_gradient (a, c, s[j], i, s[i])
                                           : gradient (a, c, s[j], i, s[i], flags);
        }
    for (int i = 0; i < 3; i++)
      {
        const float h2 = g.h[i] * g.h[i], x = d[i][0], y = d[i][1], z = d[i][2];

        all += x * x + y * y + z * z;
        b[0] += h2 * x * x;
        b[1] += h2 * y * y;
        b[2] += h2 * z * z;
        b[3] += h2 * x * y;
        b[4] += h2 * x * z;
        b[5] += h2 * y * z;
      }

    const float second
      = b[0] * b[1] - b[3] * b[3] + b[0] * b[2] - b[4] * b[4] + b[1] * b[2] - b[5] * b[5];

    g.nut[c] = all > 1e-12f && second > 0 ? g.vreman * sqrtf (second / all) : 0.f;
  }
};

/* --- acoustic substeps --------------------------------------------------------- */

/* One substep: velocities by the gradient of pressure, then pressure by their divergence.
 * Each cell works out the new velocities on all its six faces, so that one pass is enough,
 * and writes those on its lower ones. */
struct AcousticStep
{
  Grid g;
  int in, out; /* buffers */

  /* New velocity on the lower face of c, of that kind. An opening has the room's pressure
   * where air leaves and its total pressure where air enters, half a cell away. `high`: the
   * opening is the high face of the cell before c. */
  template <int A>
  DEVICE float
  moved (int c, unsigned kind, bool high, float dtau) const
  {
    const int sa = stride<A> (g);
    const float *pe = g.pe[in];
    const float v = g.u[in][A][c];

    if (kind == FACE_FLUID)
      return v + dtau * (g.slow[A][c] - (pe[c] - pe[c - sa]) * g.h_1[A]);
    if (kind == FACE_OPEN && !high)
      {
        const float outside = v > 0 ? -.5f * v * v : 0.f;

        return v + dtau * (g.slow[A][c] - (pe[c] - outside) * 2.f * g.h_1[A]);
      }
    if (kind == FACE_OPEN)
      {
        const float outside = v < 0 ? -.5f * v * v : 0.f;

        return v + dtau * (g.slow[A][c] - (outside - pe[c - sa]) * 2.f * g.h_1[A]);
      }
    return v;
  }

  /* Writes the lower face; returns the part of the divergence along this axis. */
  template <int A>
  DEVICE float
  along (int c, unsigned flags, float dtau) const
  {
    const int sa = stride<A> (g);
    const unsigned low = low_face (flags, A), high = high_face (flags, A);
    const bool active = flags & CELL_ACTIVE;
    float below = 0;

    if (active || low == FACE_OPEN)
      {
        below = moved<A> (c, low, !active, dtau);
        if (low == FACE_FLUID || low == FACE_OPEN)
          g.u[out][A][c] = below;
      }
    if (!active)
      return 0.f;
    return (moved<A> (c + sa, high, high == FACE_OPEN, dtau) - below) * g.h_1[A];
  }

  /* The same for a cell whose faces are all plain. */
  template <int A>
  DEVICE float
  along_inner (int c, float dtau) const
  {
    const int sa = stride<A> (g);
    const float *pe = g.pe[in], *u = g.u[in][A], *slow = g.slow[A];
    const float low = u[c] + dtau * (slow[c] - (pe[c] - pe[c - sa]) * g.h_1[A]);
    const float high = u[c + sa] + dtau * (slow[c + sa] - (pe[c + sa] - pe[c]) * g.h_1[A]);

    g.u[out][A][c] = low;
    return (high - low) * g.h_1[A];
  }

  DEVICE void
  operator() (int c) const
  {
    const unsigned flags = g.flags[c];
    const float dtau = g.control->dtau_s;
    const bool inner = flags & CELL_INNER;
    const float divergence
      = inner ? along_inner<0> (c, dtau) + along_inner<1> (c, dtau) + along_inner<2> (c, dtau)
              : along<0> (c, flags, dtau) + along<1> (c, flags, dtau) + along<2> (c, flags, dtau);

    if (!(flags & CELL_ACTIVE))
      return;

    const float change = -dtau * g.control->c2 * divergence;
    const float p = g.p[c] + change;

    g.p[c] = p;
    g.pe[out][c] = p + g.damping * change;
  }
};
