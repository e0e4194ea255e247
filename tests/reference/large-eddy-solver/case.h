/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A job: one enclosure, what drives its air, and how it is to be computed. Read from a text
 * of one word and its numbers a line, which cases.py makes from a case file; README.md lists
 * the words. SI units; x from left to right, y from front to back, z up. */

#include <cmath>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

struct Shelf
{
  bool porous;
  double z, thickness, loss; /* loss: K of dp = 0.5 rho K |w| w */
  double x0, x1, y0, y1;     /* the part of the plan that it covers */
};

struct Opening
{
  std::string name, face;
  double a0, a1, b0, b1; /* in the axes of the face: y, z or x, z or x, y */
  bool to_room;          /* else a duct of given flow */
  double inflow_m3_s;
};

struct Fan
{
  double box[6]; /* x0, x1, y0, y1, z0, z1 */
  double direction[3];
  double thrust_N;
};

struct Source
{
  double box[6];
  double value; /* W, kg/s, or drag coefficient times leaf area density, 1/m */
  int latent;   /* vapour: takes its latent heat from the air */
};

struct Line
{
  int axis;        /* along which a profile of means is printed */
  double at0, at1; /* where, on the two other axes */
};

struct Case
{
  std::string name, tag, init = "rest";
  double size[3] = { 1, 1, 1 };
  double nu = 1.5e-5, expansion = 0.0034, gravity = 9.81, density = 1.2, cp = 1005, latent = 2.45e6;
  std::vector<Shelf> shelves;
  std::vector<Opening> openings;
  std::vector<Fan> fans;
  std::vector<Source> heat, vapour, foliage;
  std::vector<std::pair<double, double> > bays;
  std::vector<Line> lines;
  int held = 0; /* bit per face (x0, x1, y0, y1, z0, z1): wall of given temperature */
  double wall_K[6] = { 0, 0, 0, 0, 0, 0 };

  double cell_m = 0.01;
  double cell_axes_m[3] = { 0, 0, 0 }; /* 0: cell_m */
  double coarse_m = 0, coarse_s = 0;   /* spin-up on a coarser grid; 0: none */
  double spin_up_s = 100, average_s = 200;
  double budget_s = 1e9, estimate_s = 60; /* of wall clock */

  double vreman = 0.07, upwind = 0, courant = 0.45, dt_max_s = 0.01, noise_m_s = 1e-3, lid_m_s = 0;
  double subgrid_prandtl = 0.7, damping = 0.4;
  int substeps = 4, slip = 0, temperature = 0, age = 1, no_fast_path = 0;
};

/* --- reading ------------------------------------------------------------------- */

inline void
read_box (std::istream &s, double *box)
{
  for (int i = 0; i < 6; i++)
    s >> box[i];
}

inline void
read_thing (std::istream &s, const std::string &word, Case &c)
{
  if (word == "shelf")
    {
      Shelf shelf;
      std::string kind;

      s >> kind >> shelf.z >> shelf.thickness >> shelf.loss >> shelf.x0 >> shelf.x1 >> shelf.y0
        >> shelf.y1;
      shelf.porous = kind == "porous";
      c.shelves.push_back (shelf);
    }
  else if (word == "opening")
    {
      Opening o;
      std::string kind;

      s >> o.name >> o.face >> o.a0 >> o.a1 >> o.b0 >> o.b1 >> kind >> o.inflow_m3_s;
      o.to_room = kind == "room";
      c.openings.push_back (o);
    }
  else if (word == "fan")
    {
      Fan fan;
      double length = 0;

      read_box (s, fan.box);
      for (double &d : fan.direction)
        {
          s >> d;
          length += d * d;
        }
      s >> fan.thrust_N;
      for (double &d : fan.direction)
        d /= sqrt (length);
      c.fans.push_back (fan);
    }
  else
    {
      Source source = {};

      read_box (s, source.box);
      s >> source.value;
      if (word == "vapour")
        s >> source.latent;
      (word == "heat" ? c.heat : word == "vapour" ? c.vapour : c.foliage).push_back (source);
    }
}

/* FALSE for a word that is not known. */
inline bool
read_word (std::istream &s, const std::string &word, Case &c)
{
  const std::map<std::string, double *> numbers = {
    { "budget", &c.budget_s }, { "est", &c.estimate_s }, { "cv", &c.vreman },
    { "eps", &c.upwind },      { "cfl", &c.courant },    { "dtmax", &c.dt_max_s },
    { "noise", &c.noise_m_s }, { "lid", &c.lid_m_s },    { "prt", &c.subgrid_prandtl },
    { "alpha", &c.damping },
  };
  const std::map<std::string, int *> integers = {
    { "ns", &c.substeps },
    { "slip", &c.slip },
    { "age", &c.age },
    { "nofast", &c.no_fast_path },
    { "heatcarried", &c.temperature },
  };

  if (numbers.count (word))
    s >> *numbers.at (word);
  else if (integers.count (word))
    s >> *integers.at (word);
  else if (word == "box")
    s >> c.size[0] >> c.size[1] >> c.size[2];
  else if (word == "air")
    s >> c.nu >> c.expansion >> c.gravity >> c.density >> c.cp >> c.latent;
  else if (word == "shelf" || word == "opening" || word == "fan" || word == "heat"
           || word == "vapour" || word == "foliage")
    read_thing (s, word, c);
  else if (word == "bay")
    {
      double z0, z1;

      s >> z0 >> z1;
      c.bays.push_back ({ z0, z1 });
    }
  else if (word == "wall")
    {
      int face;

      s >> face;
      s >> c.wall_K[face];
      c.held |= 1 << face;
    }
  else if (word == "line")
    {
      Line line;

      s >> line.axis >> line.at0 >> line.at1;
      c.lines.push_back (line);
    }
  else if (word == "grid")
    s >> c.cell_m >> c.coarse_m >> c.coarse_s >> c.spin_up_s >> c.average_s;
  else if (word == "cells")
    s >> c.cell_axes_m[0] >> c.cell_axes_m[1] >> c.cell_axes_m[2];
  else if (word == "init")
    s >> c.init;
  else if (word == "tag")
    s >> c.tag;
  else
    return false;
  return true;
}

/* All jobs of a file; FALSE when it cannot be read or a line of it has no meaning. */
inline bool
read_jobs (const char *path, std::vector<Case> &cases)
{
  std::ifstream file (path);
  std::string line;

  if (!file)
    fprintf (stderr, "%s cannot be read\n", path);
  for (int number = 1; std::getline (file, line); number++)
    {
      std::istringstream s (line);
      std::string word;

      if (!(s >> word) || word[0] == '#')
        continue;
      if (word == "case")
        {
          cases.emplace_back ();
          s >> cases.back ().name;
        }
      else if (cases.empty () || !read_word (s, word, cases.back ()) || s.fail ())
        {
          fprintf (stderr, "%s:%d: '%s' has no meaning here\n", path, number, line.c_str ());
          return false;
        }
    }
  return file.eof ();
}
