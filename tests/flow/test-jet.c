/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What a free fan does to the air: its thrust, and the jet that carries it away. */

#include "flow/flow.h"
#include "published/plain-box.h"

#include <math.h>

#define DIAMETER_M 0.12
#define DELIVERY_M3_S 0.02
#define DENSITY_KG_M3 1.2

/* Momentum flux of the delivery through the disc, over density. */
static double
published_thrust_m4_s2 (void)
{
  return DELIVERY_M3_S * DELIVERY_M3_S / (0.25 * G_PI * DIAMETER_M * DIAMETER_M);
}

static DewLoads *
loads_of (const DewZones *zones, const DewChamber *chamber)
{
  DewLoadsOptions options = { DENSITY_KG_M3, 2.45e6, FALSE };

  return dew_loads_new (zones, chamber, dew_chamber_shown ((DewChamber *) chamber), &options);
}

/* F = rho Q^2 / A of a fan that draws from air at rest (momentum): 0.0424 N here. All
 * of it reaches the air, along its aim, wherever between the zones the fan stands
 * and however it is turned. */
static void
test_thrust (void)
{
  static const double aims[][2]
    = { { 0.0, 0.0 }, { 0.7, 0.3 }, { 2.5, -0.9 }, { -1.2, 1.5 }, { 4.0, 0.6 } };
  static const double places[][3]
    = { { 0.31, 0.27, 0.45 }, { 0.08, 0.08, 0.07 }, { 0.52, 0.4, 0.82 } };
  double thrust = published_thrust_m4_s2 ();

  g_assert_cmpfloat_with_epsilon (DENSITY_KG_M3 * thrust, 0.0424, 5e-5);
  for (guint a = 0; a < G_N_ELEMENTS (aims); a++)
    for (guint p = 0; p < G_N_ELEMENTS (places); p++)
      {
        g_autoptr (DewChamber) chamber = test_plain_chamber (0.6, 0.5, 0.9);
        g_autoptr (DewZones) zones = NULL;
        g_autoptr (DewLoads) loads = NULL;
        double azimuth = aims[a][0], elevation = aims[a][1];
        double aim[3]
          = { cos (elevation) * cos (azimuth), cos (elevation) * sin (azimuth), sin (elevation) };

        test_add_fan (chamber, places[p], azimuth, elevation, DIAMETER_M, DELIVERY_M3_S);
        zones = dew_zones_new (chamber, dew_chamber_shown (chamber), 0.08);
        loads = loads_of (zones, chamber);
        for (int axis = 0; axis < 3; axis++)
          {
            double force = 0.0;

            for (int at = 0; at < zones->size; at++)
              force += loads->force[axis][at];
            g_assert_cmpfloat (fabs (force - thrust * aim[axis]), <, 1e-9 * thrust);
          }
      }
}

/* The thrust is as wide as the disc, whatever the zones: the variance across its aim, counted with
 * the cells of the faces that hold it, is side^2 / 12 of the square of equal area (geometry), in
 * the mean over where the fan stands between the zones within 10 %. */
static void
test_width (void)
{
  const double diameter = 0.16, side2 = 0.25 * G_PI * diameter * diameter;
  double sum = 0.0;
  int places = 0;

  for (int s = 0; s < 10; s++)
    {
      const double at[3] = { 0.3, 0.25 + 0.005 * s, 0.45 };
      g_autoptr (DewChamber) chamber = test_plain_chamber (0.6, 0.5, 0.9);
      g_autoptr (DewZones) zones = NULL;
      g_autoptr (DewLoads) loads = NULL;
      double force = 0.0, second = 0.0;

      test_add_fan (chamber, at, 0.0, 0.0, diameter, DELIVERY_M3_S);
      zones = dew_zones_new (chamber, dew_chamber_shown (chamber), 0.05);
      loads = loads_of (zones, chamber);
      for (int k = 1; k <= zones->n[2]; k++)
        for (int j = 1; j <= zones->n[1]; j++)
          for (int i = 1; i <= zones->n[0]; i++)
            {
              double part = loads->force[0][dew_zones_at (zones, i, j, k)];
              double off = zones->middle_m[1][j] - at[1], width = zones->width_m[1][j];

              force += part;
              second += part * (off * off + width * width / 12.0);
            }
      sum += second / force;
      places++;
    }
  g_test_message ("thrust %.3f times as wide as the disc", sqrt (sum / places / (side2 / 12.0)));
  g_assert_cmpfloat (fabs (sum / places / (side2 / 12.0) - 1.0), <, 0.10);
}

/* Momentum flux through the plane of faces i, pressure included, over density; the
 * fastest air in it. */
static double
momentum_m4_s2 (const DewZones *zones, const DewFlow *flow, int i, double *fastest_m_s)
{
  const double *u = dew_flow_velocity (flow, 0), *p = dew_flow_pressure (flow);
  double momentum = 0.0;

  *fastest_m_s = 0.0;
  for (int k = 1; k <= zones->n[2]; k++)
    for (int j = 1; j <= zones->n[1]; j++)
      {
        int at = dew_zones_at (zones, i, j, k);

        momentum += zones->open_m2[0][at] * (u[at] * u[at] + 0.5 * (p[at] + p[at - 1]));
        *fastest_m_s = MAX (*fastest_m_s, u[at]);
      }
  return momentum;
}

/* A long box whose two ends are open: the jet leaves by one, air follows by the other. */
static void
test_momentum (void)
{
  const double length = 1.6, side = 1.2, fan_at[3] = { 0.25, 0.6, 0.6 };
  g_autoptr (DewChamber) chamber = test_plain_chamber (length, side, side);
  g_autoptr (DewZones) zones = NULL;
  g_autoptr (DewLoads) loads = NULL;
  g_autoptr (DewFlow) flow = NULL;
  DewFlowOptions options;
  double thrust = published_thrust_m4_s2 ();
  double speed_m_s = DELIVERY_M3_S / (0.25 * G_PI * DIAMETER_M * DIAMETER_M);
  double before, slow;
  int planes = 0, far = 0;

  test_add_hole (chamber, DEW_FACE_LEFT, 0.0, side, 0.0, side, 1.0);
  test_add_hole (chamber, DEW_FACE_RIGHT, 0.0, side, 0.0, side, 1.0);
  test_add_fan (chamber, fan_at, 0.0, 0.0, DIAMETER_M, DELIVERY_M3_S);
  zones = dew_zones_new (chamber, dew_chamber_shown (chamber), 0.08);
  loads = loads_of (zones, chamber);
  dew_flow_options_init (&options);
  flow = dew_flow_new (zones, &options, NULL);
  dew_flow_set_loads (flow, loads);
  for (int s = 0; s < 600; s++)
    g_assert_true (dew_flow_step (flow, 0.7));

  /* What the air that follows brings along. */
  before = momentum_m4_s2 (zones, flow, 2, &slow);
  for (int i = 2; i <= zones->n[0]; i++)
    {
      double x = zones->line_m[0][i - 1] - fan_at[0], momentum, fastest;

      if (x < 1.0 * DIAMETER_M || x > 9.0 * DIAMETER_M)
        continue;
      momentum = momentum_m4_s2 (zones, flow, i, &fastest) - before;
      g_test_message (
        "%.1f diameters: momentum %.3f of the thrust, fastest %.2f m/s, free jet %.2f",
        x / DIAMETER_M, momentum / thrust, fastest, 6.2 * DIAMETER_M / x * speed_m_s);
      /* The same through every cross-section, within 5 %: Rajaratnam, Turbulent Jets,
       * 1976; Ricou & Spalding, J. Fluid Mech. 11, 1961 (from memory). */
      g_assert_cmpfloat (fabs (momentum / thrust - 1.0), <, 0.05);
      planes++;
      /* U_m / U_0 = 6.2 d / x beyond 7 diameters (the same sources). A zone is two
       * thirds of the fan wide. With an eddy viscosity from the local speed 23 % low. */
      if (x > 7.0 * DIAMETER_M)
        {
          g_assert_cmpfloat (fabs (fastest / (6.2 * DIAMETER_M / x * speed_m_s) - 1.0), <, 0.12);
          far++;
        }
    }
  g_assert_cmpint (planes, >, 10);
  g_assert_cmpint (far, >, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/jet/thrust", test_thrust);
  g_test_add_func ("/jet/width", test_width);
  g_test_add_func ("/jet/momentum", test_momentum);
  return g_test_run ();
}
