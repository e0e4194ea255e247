/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* An enclosure laid onto the grid: which faces are walls, boards and openings, and where
 * forces, drag and sources act. Boxes are shared out by the part of each cell they cover. */

#include "case.h"
#include "grid.h"

#include <algorithm>
#include <array>

/* Length that two intervals have in common. */
inline double
overlap (double a0, double a1, double b0, double b1)
{
  return std::max (0., std::min (a1, b1) - std::max (a0, b0));
}

inline double
box_volume (const double *box)
{
  return (box[1] - box[0]) * (box[3] - box[2]) * (box[5] - box[4]);
}

/* Which of the scalars is which, -1 for none, in this order. */
struct Scalars
{
  int heat = -1, vapour = -1, age = -1, n = 0;

  explicit Scalars (const Case &c)
  {
    bool latent = false;

    for (const Source &s : c.vapour)
      latent |= s.latent != 0;
    if (c.temperature || c.held || !c.heat.empty () || latent)
      heat = n++;
    if (!c.vapour.empty ())
      vapour = n++;
    if (!c.openings.empty () && c.age)
      age = n++;
  }
};

class Layout
{
public:
  int n[3], sy, sz, size;
  float h[3]; /* as exact as the kernels have it */
  std::vector<uint16_t> flags;
  std::vector<float> force[3], drag, porous, source[3];
  std::vector<float> velocity[3]; /* that the air is given: ducts */
  struct Faces
  {
    std::string name;
    int axis, high;
    double face_m2;
    std::vector<int> at;
  };
  std::vector<Faces> openings;

  Layout (const Case &c, const Scalars &scalars, double cell_m)
  {
    for (int a = 0; a < 3; a++)
      {
        const double wanted = c.cell_axes_m[a] > 0 ? c.cell_axes_m[a] : cell_m;

        n[a] = std::max (1, (int) lround (c.size[a] / wanted));
        h[a] = c.size[a] / n[a];
      }
    sy = (n[0] + 2 + 7) / 8 * 8;
    sz = sy * (n[1] + 2);
    size = sz * (n[2] + 2);
    flags.assign (size, 0);
    drag.assign (size, 0);
    porous.assign (size, 0);
    for (int a = 0; a < 3; a++)
      {
        force[a].assign (size, 0);
        source[a].assign (size, 0);
        velocity[a].assign (size, 0);
      }
    mark_box ();
    for (const Shelf &shelf : c.shelves)
      add_shelf (shelf);
    for_cells ([&] (int i, int j, int k) { add_sources (c, scalars, i, j, k); });
    for (const Opening &o : c.openings)
      add_opening (c, o);
    mark_loads (scalars);
    if (!c.no_fast_path)
      mark_inner ();
  }

  /* Indices from 0; -1 and n are ghosts. */
  int
  id (int i, int j, int k) const
  {
    return i + 1 + sy * (j + 1) + sz * (k + 1);
  }

  template <class F>
  void
  for_cells (F f) const
  {
    for (int k = 0; k < n[2]; k++)
      for (int j = 0; j < n[1]; j++)
        for (int i = 0; i < n[0]; i++)
          f (i, j, k);
  }

  /* Inner cells first, then the others, and the ghosts whose lower face is an opening. */
  std::vector<int>
  list () const
  {
    std::vector<int> cells;

    for (int q = 0; q < size; q++)
      if (flags[q] & CELL_INNER)
        cells.push_back (q);
    for (int k = 0; k <= n[2]; k++)
      for (int j = 0; j <= n[1]; j++)
        for (int i = 0; i <= n[0]; i++)
          {
            const unsigned f = flags[id (i, j, k)];
            const bool opens = low_face (f, 0) >= FACE_OPEN || low_face (f, 1) >= FACE_OPEN
                               || low_face (f, 2) >= FACE_OPEN;

            if (!(f & CELL_INNER) && ((f & CELL_ACTIVE) || opens))
              cells.push_back (id (i, j, k));
          }
    return cells;
  }

private:
  void
  set_low (int q, int axis, unsigned kind)
  {
    flags[q] = (flags[q] & ~(3u << (4 * axis))) | (kind << (4 * axis));
  }

  void
  set_high (int q, int axis, unsigned kind)
  {
    flags[q] = (flags[q] & ~(3u << (4 * axis + 2))) | (kind << (4 * axis + 2));
  }

  void
  mark_box ()
  {
    for (int k = -1; k <= n[2]; k++)
      for (int j = -1; j <= n[1]; j++)
        for (int i = -1; i <= n[0]; i++)
          {
            const int x[3] = { i, j, k }, q = id (i, j, k);
            bool inside = true;

            for (int a = 0; a < 3; a++)
              inside &= x[a] >= 0 && x[a] < n[a];
            flags[q] = inside ? (unsigned) CELL_ACTIVE : 0u;
            for (int a = 0; a < 3; a++)
              {
                set_low (q, a, inside && x[a] > 0 ? FACE_FLUID : FACE_WALL);
                set_high (q, a, inside && x[a] < n[a] - 1 ? FACE_FLUID : FACE_WALL);
              }
          }
  }

  /* A wire shelf resists over its thickness; a board is a wall of no thickness. */
  void
  add_shelf (const Shelf &s)
  {
    for (int j = 0; j < n[1]; j++)
      for (int i = 0; i < n[0]; i++)
        {
          const double x = (i + .5) * h[0], y = (j + .5) * h[1];
          const int k_board = lround (s.z / h[2]);

          if (x < s.x0 || x > s.x1 || y < s.y0 || y > s.y1)
            continue;
          for (int k = 1; k < n[2] && s.porous; k++)
            {
              const double z = k * h[2];
              const double share
                = overlap (z - h[2] / 2, z + h[2] / 2, s.z, s.z + s.thickness) / h[2];

              if (share > 0)
                porous[id (i, j, k)] += .5 * s.loss / s.thickness * share;
            }
          if (!s.porous && k_board > 0 && k_board < n[2])
            {
              set_low (id (i, j, k_board), 2, FACE_WALL);
              set_high (id (i, j, k_board - 1), 2, FACE_WALL);
            }
        }
  }

  /* Part of a cell, or of the volume around its lower face along `axis`, inside a box. */
  double
  covered (const double *box, int i, int j, int k, int axis) const
  {
    const int x[3] = { i, j, k };
    double share = 1;

    for (int a = 0; a < 3; a++)
      {
        const double low = (a == axis ? x[a] - .5 : (double) x[a]) * h[a];

        share *= overlap (low, low + h[a], box[2 * a], box[2 * a + 1]) / h[a];
      }
    return share;
  }

  void
  add_sources (const Case &c, const Scalars &scalars, int i, int j, int k)
  {
    const int q = id (i, j, k);

    for (const Fan &f : c.fans)
      for (int a = 0; a < 3; a++)
        if (f.direction[a] != 0)
          force[a][q] += f.thrust_N / (c.density * box_volume (f.box)) * f.direction[a]
                         * covered (f.box, i, j, k, a);
    for (const Source &s : c.foliage)
      drag[q] += s.value * covered (s.box, i, j, k, -1);
    for (const Source &s : c.heat)
      source[scalars.heat][q]
        += s.value / (c.density * c.cp * box_volume (s.box)) * covered (s.box, i, j, k, -1);
    for (const Source &s : c.vapour)
      {
        const double r = s.value / (c.density * box_volume (s.box)) * covered (s.box, i, j, k, -1);

        source[scalars.vapour][q] += r;
        if (s.latent)
          source[scalars.heat][q] -= r * c.latent / c.cp;
      }
    if (scalars.age >= 0)
      source[scalars.age][q] += 1;
  }

  /* Faces whose middle lies in the opening. */
  void
  add_opening (const Case &c, const Opening &o)
  {
    const int a = o.face == "left" || o.face == "right"   ? 0
                  : o.face == "front" || o.face == "back" ? 1
                                                          : 2;
    const int b = a == 0 ? 1 : 0, d = a == 2 ? 1 : 2;
    const unsigned kind = o.to_room ? FACE_OPEN : FACE_FIXED;
    Faces faces = {
      o.name, a, o.face == "right" || o.face == "back" || o.face == "roof" || o.face == "top", 0, {}
    };
    const double wanted_m2 = (o.a1 - o.a0) * (o.b1 - o.b0);
    double made_m2;

    faces.face_m2 = h[b] * h[d];
    for (int ib = 0; ib < n[b]; ib++)
      for (int id_ = 0; id_ < n[d]; id_++)
        {
          const double xb = (ib + .5) * h[b], xd = (id_ + .5) * h[d];
          int x[3];

          if (xb < o.a0 || xb > o.a1 || xd < o.b0 || xd > o.b1)
            continue;
          x[b] = ib;
          x[d] = id_;
          x[a] = faces.high ? n[a] - 1 : 0;
          if (faces.high)
            {
              set_high (id (x[0], x[1], x[2]), a, kind);
              x[a]++;
            }
          set_low (id (x[0], x[1], x[2]), a, kind);
          faces.at.push_back (id (x[0], x[1], x[2]));
        }
    made_m2 = faces.at.size () * faces.face_m2;
    if (fabs (made_m2 - wanted_m2) > 1e-6 * wanted_m2)
      fprintf (stderr, "%s: opening %s has %g m2 on the grid, wanted %g\n", c.name.c_str (),
               o.name.c_str (), made_m2, wanted_m2);
    for (size_t f = 0; f < faces.at.size () && !o.to_room; f++)
      velocity[a][faces.at[f]] = (faces.high ? -1 : 1) * o.inflow_m3_s / made_m2;
    openings.push_back (faces);
  }

  void
  mark_loads (const Scalars &scalars)
  {
    const int s[3] = { 1, sy, sz };

    for (int k = 0; k <= n[2]; k++)
      for (int j = 0; j <= n[1]; j++)
        for (int i = 0; i <= n[0]; i++)
          {
            const int q = id (i, j, k);
            bool forced = porous[q] != 0, fed = scalars.age >= 0 && (flags[q] & CELL_ACTIVE);

            for (int a = 0; a < 3; a++)
              forced |= force[a][q] != 0 || drag[q] != 0 || drag[q - s[a]] != 0;
            fed |= scalars.heat >= 0 && source[scalars.heat][q] != 0;
            fed |= scalars.vapour >= 0 && source[scalars.vapour][q] != 0;
            if (forced)
              flags[q] |= CELL_FORCED;
            if (fed)
              flags[q] |= CELL_SOURCE;
          }
  }

  void
  mark_inner ()
  {
    const std::vector<uint16_t> before = flags;
    const std::array<int, 7> around = { 0, 1, -1, sy, -sy, sz, -sz };

    for_cells ([&] (int i, int j, int k) {
      const int q = id (i, j, k);
      bool plain = true;

      for (int d : around)
        plain = plain && (before[q + d] & 0x1fff) == CELL_ACTIVE;
      if (plain)
        flags[q] |= CELL_INNER;
    });
  }
};
