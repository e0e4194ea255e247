/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Means of a simulation in the form that cases.py reads: one JSON object a line. */

#include "simulation.h"

#include <sstream>

/* Parts of a bay: all of it, then left front, left back, right front, right back. */
static const int n_parts = 5;
static const int blocks[3] = { 7, 5, 16 };

/* Of a bay's part: speed of the mean velocity, share below 0.05 m/s, three scalars, mean
 * of the instantaneous speed, variance of the velocity; the last is spare. Of a block: three
 * velocities, speed, three scalars, mean of the instantaneous speed. */
static const int n_values = 8;
static const double still_m_s = 0.05;

struct Reduced
{
  std::vector<double> bays;   /* [bay][value][part] */
  std::vector<double> blocks; /* [block][value], x fastest */
};

/* What a cell adds: its values, and where it lies. */
struct CellMeans
{
  double bay[n_values], block[n_values];
  double low[3], high[3];
};

inline CellMeans
cell_means (const Simulation &s, const Means &m, int i, int j, int k)
{
  const int q = s.layout.id (i, j, k), x[3] = { i, j, k };
  const int step[3] = { 1, s.layout.sy, s.layout.sz };
  const int kinds[3] = { s.scalars.heat, s.scalars.vapour, s.scalars.age };
  double u[3], scalar[3], speed;
  CellMeans cell;

  for (int a = 0; a < 3; a++)
    {
      u[a] = .5 * (m.field[MEAN_U + a][q] + m.field[MEAN_U + a][q + step[a]]);
      scalar[a] = kinds[a] >= 0 ? m.field[MEAN_SCALAR + kinds[a]][q] : 0;
      cell.low[a] = x[a] * s.g.h[a];
      cell.high[a] = cell.low[a] + s.g.h[a];
    }
  speed = sqrt (u[0] * u[0] + u[1] * u[1] + u[2] * u[2]);

  const double bay[n_values] = { speed,
                                 speed < still_m_s ? 1. : 0.,
                                 scalar[0],
                                 scalar[1],
                                 scalar[2],
                                 m.field[MEAN_SPEED][q],
                                 std::max (0., m.field[MEAN_SQUARE][q] - speed * speed),
                                 0 };
  const double block[n_values]
    = { u[0], u[1], u[2], speed, scalar[0], scalar[1], scalar[2], m.field[MEAN_SPEED][q] };

  std::copy (bay, bay + n_values, cell.bay);
  std::copy (block, block + n_values, cell.block);
  return cell;
}

inline void
add_to_bays (const Simulation &s, const CellMeans &cell, std::vector<double> &sums,
             std::vector<double> &volumes)
{
  const double *size = s.c.size;

  for (size_t b = 0; b < s.c.bays.size (); b++)
    {
      const double dz = overlap (cell.low[2], cell.high[2], s.c.bays[b].first, s.c.bays[b].second);

      for (int p = 0; p < n_parts && dz >= 1e-9; p++)
        {
          const bool left = p == 1 || p == 2, front = p == 1 || p == 3;
          const double x0 = left || p == 0 ? 0 : size[0] / 2, x1 = left ? size[0] / 2 : size[0];
          const double y0 = front || p == 0 ? 0 : size[1] / 2, y1 = front ? size[1] / 2 : size[1];
          const double dx = p ? overlap (cell.low[0], cell.high[0], x0, x1) : s.g.h[0];
          const double dy = p ? overlap (cell.low[1], cell.high[1], y0, y1) : s.g.h[1];
          const double volume = dx * dy * dz;

          volumes[b * n_parts + p] += std::max (0., volume);
          for (int v = 0; v < n_values && volume > 0; v++)
            sums[(b * n_values + v) * n_parts + p] += volume * cell.bay[v];
        }
    }
}

inline void
add_to_blocks (const Simulation &s, const CellMeans &cell, std::vector<double> &sums,
               std::vector<double> &volumes)
{
  int first[3], last[3];

  for (int a = 0; a < 3; a++)
    {
      first[a] = (int) (cell.low[a] / s.c.size[a] * blocks[a] + 1e-9);
      last[a] = std::min (blocks[a] - 1, (int) (cell.high[a] / s.c.size[a] * blocks[a] - 1e-9));
    }
  for (int bz = first[2]; bz <= last[2]; bz++)
    for (int by = first[1]; by <= last[1]; by++)
      for (int bx = first[0]; bx <= last[0]; bx++)
        {
          const int b[3] = { bx, by, bz }, at = bx + blocks[0] * (by + blocks[1] * bz);
          double volume = 1;

          for (int a = 0; a < 3; a++)
            volume *= overlap (cell.low[a], cell.high[a], b[a] * s.c.size[a] / blocks[a],
                               (b[a] + 1) * s.c.size[a] / blocks[a]);
          volumes[at] += volume;
          for (int v = 0; v < n_values; v++)
            sums[at * n_values + v] += volume * cell.block[v];
        }
}

inline Reduced
reduce (const Simulation &s, const Means &m)
{
  const size_t n_bays = s.c.bays.size (), n_blocks = blocks[0] * blocks[1] * blocks[2];
  std::vector<double> bay_volumes (n_bays * n_parts, 0), block_volumes (n_blocks, 0);
  Reduced r;

  r.bays.assign (n_bays * n_values * n_parts, 0);
  r.blocks.assign (n_blocks * n_values, 0);
  s.layout.for_cells ([&] (int i, int j, int k) {
    const CellMeans cell = cell_means (s, m, i, j, k);

    add_to_bays (s, cell, r.bays, bay_volumes);
    add_to_blocks (s, cell, r.blocks, block_volumes);
  });
  for (size_t i = 0; i < r.bays.size (); i++)
    r.bays[i] /= bay_volumes[i / (n_values * n_parts) * n_parts + i % n_parts];
  for (size_t i = 0; i < r.blocks.size (); i++)
    r.blocks[i] /= block_volumes[i / n_values];
  return r;
}

/* --- JSON -------------------------------------------------------------------------- */

inline std::string
json_list (const double *values, size_t n, const char *format)
{
  std::string text = "[";

  for (size_t i = 0; i < n; i++)
    {
      char number[40];

      snprintf (number, sizeof number, format, values[i]);
      text += (i ? "," : "") + std::string (number);
    }
  return text + "]";
}

inline std::string
json_openings (const Simulation &s, const Means &m)
{
  std::string text = "{";

  for (int o = 0; o < s.g.n_openings; o++)
    text += (o ? ",\"" : "\"") + s.layout.openings[o].name
            + "\":" + json_list (m.opening + 8 * o, SUM_SQUARE + 1, "%.7g");
  return text + "}";
}

/* Means along a line: place, three velocities, three scalars, rms of the velocity; between
 * the four rows of cells around it. */
inline std::string
json_line (const Simulation &s, const Means &m, const Line &line)
{
  static const char *const names[] = { "s", "u", "v", "w", "q0", "q1", "q2", "rms" };
  const int a = line.axis, b = a == 0 ? 1 : 0, d = a == 2 ? 1 : 2;
  const int *n = s.layout.n, step[3] = { 1, s.layout.sy, s.layout.sz };
  const double at_b = line.at0 / s.g.h[b] - .5, at_d = line.at1 / s.g.h[d] - .5;
  const int low_b = std::min (std::max (0, (int) floor (at_b)), std::max (0, n[b] - 2));
  const int low_d = std::min (std::max (0, (int) floor (at_d)), std::max (0, n[d] - 2));
  const double wb = n[b] > 1 ? at_b - low_b : 0, wd = n[d] > 1 ? at_d - low_d : 0;
  std::vector<double> rows[8];
  std::ostringstream text;

  for (int i = 0; i < n[a]; i++)
    {
      double v[7] = { 0 };

      for (int corner = 0; corner < 4; corner++)
        {
          const int up_b = corner & 1, up_d = corner >> 1;
          const double w = (up_b ? wb : 1 - wb) * (up_d ? wd : 1 - wd);
          double square = 0;
          int x[3];

          if (w == 0)
            continue;
          x[a] = i;
          x[b] = low_b + up_b;
          x[d] = low_d + up_d;

          const int q = s.layout.id (x[0], x[1], x[2]);

          for (int e = 0; e < 3; e++)
            {
              const double u = .5 * (m.field[MEAN_U + e][q] + m.field[MEAN_U + e][q + step[e]]);

              v[e] += w * u;
              v[3 + e] += w * m.field[MEAN_SCALAR + e][q];
              square += u * u;
            }
          v[6] += w * sqrt (std::max (0., m.field[MEAN_SQUARE][q] - square));
        }
      rows[0].push_back ((i + .5) * s.g.h[a]);
      for (int e = 0; e < 7; e++)
        rows[1 + e].push_back (v[e]);
    }
  text << "{\"axis\":" << a << ",\"at\":[" << line.at0 << "," << line.at1 << "]";
  for (int e = 0; e < 8; e++)
    text << ",\"" << names[e] << "\":" << json_list (rows[e].data (), rows[e].size (), "%.6g");
  return text.str () + "}";
}

inline std::string
json_means (const Simulation &s, const Means &all, const Means &half)
{
  const Reduced r = reduce (s, all), r_half = reduce (s, half);
  std::ostringstream text;

  text << ",\"bays\":" << json_list (r.bays.data (), r.bays.size (), "%.6g")
       << ",\"bays_half\":" << json_list (r_half.bays.data (), r_half.bays.size (), "%.6g")
       << ",\"blocks\":" << json_list (r.blocks.data (), r.blocks.size (), "%.4g")
       << ",\"openings\":" << json_openings (s, all)
       << ",\"openings_half\":" << json_openings (s, half) << ",\"lines\":[";
  for (size_t i = 0; i < s.c.lines.size (); i++)
    text << (i ? "," : "") << json_line (s, all, s.c.lines[i]);
  return text.str () + "]";
}

/* Kinetic energy now, per mass, of all cells' velocities: for tests of decay. */
inline std::string
json_energy (Simulation &s)
{
  const Snapshot now = s.snapshot ();
  const double cells = (double) s.layout.n[0] * s.layout.n[1] * s.layout.n[2];
  std::ostringstream text;
  double sum = 0;

  for (int a = 0; a < 3; a++)
    s.layout.for_cells ([&] (int i, int j, int k) {
      const double u = now.u[a][s.layout.id (i, j, k)];

      sum += u * u * .5;
    });
  text << ",\"energy\":" << sum / cells << ",\"t\":" << s.control.t_s;
  return text.str ();
}
