/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the published cases of a closed box have in common: the program's zones,
 * flow and scalar, set up with given walls and marched until nothing changes. */

#include "flow/flow.h"
#include "transport/scalar.h"
#include "zones/zones.h"

/* A box of n zones over size (m). crowding per axis: 0 spreads the zones evenly,
 * more than 0 narrows them toward both walls, as tanh does. */
DewZones *test_box (const int n[3], const double size_m[3], const double crowding[3]);

/* Air in a box whose walls are insulated unless given a temperature. */
typedef struct
{
  DewZones *zones;
  DewFlow *flow;
  DewScalar *scalar;
  double viscosity_m2_s;
  double diffusivity_m2_s;
  double prandtl_turbulent;
  double lift_m_s2K; /* upward acceleration per kelvin */
  double *t_K;       /* [size] */
  double *buoyancy_m_s2, *sink_m3_s, *source_K_m3_s;
} TestHeated;

/* Takes over the zones; options hold the viscosity. */
TestHeated *test_heated_new (DewZones *zones, const DewFlowOptions *options,
                             double diffusivity_m2_s, double lift_m_s2K);
void test_heated_free (TestHeated *heated);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TestHeated, test_heated_free)

/* Conduction through the half zone beside the wall. */
void test_heated_set_wall (TestHeated *heated, DewFace face, double t_K);
/* Heat that the wall gives, over density and specific heat (K m3/s). */
double test_heated_wall_K_m3_s (const TestHeated *heated, DewFace face, double t_K);
/* Air first, then temperature, `steps` times. */
void test_heated_march (TestHeated *heated, double dt_s, int steps);
/* The same until the speed of no zone and the temperature of none change by more
 * than `tolerance` of the largest in one second. Returns the steps it took, or
 * `most` if it never came to that. */
int test_heated_settle (TestHeated *heated, double dt_s, int most, double tolerance);

/* Air alone, on the same rule. */
int test_flow_settle (DewFlow *flow, const DewZones *zones, double dt_s, int most,
                      double tolerance);

/* Velocity of axis `axis` along axis `along` on the faces nearest the middle of the
 * box, j = 1: the points x_m and values u_m_s, [n[along] + 2], walls included with
 * the given end values. Between two rows of faces the mean of both. Returns the
 * number of points. */
int test_midline (const DewZones *zones, const DewFlow *flow, int axis, int along, double low_m_s,
                  double high_m_s, double *x_m, double *u_m_s);

/* Value at x of the cubic through the four points nearest it. */
double test_interpolate (const double *x, const double *y, int n, double at);
/* Largest (sign 1) or smallest (sign -1) value inside and where: a parabola through
 * the point found and its neighbours. */
double test_peak (const double *x, const double *y, int n, double sign, double *where);
