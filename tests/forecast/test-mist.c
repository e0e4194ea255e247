/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "moist/moist.h"
#include "transport/droplet.h"

#include <math.h>

/* Humidifiers in whole forecasts: what becomes of their mist, what their water does to the
 * temperature, what a humidistat makes of it. */

#define G_H (1e-3 / 3600.0) /* kg/s */

static DewThing *
add_humidifier (DewChamber *chamber, double x_m, double z_m, DewMistKind kind, double g_h)
{
  DewThing *thing = add_thing (chamber, DEW_THING_HUMIDIFIER, x_m, 0.25, z_m);

  thing->humidifier.technology = kind;
  thing->humidifier.width_m = thing->humidifier.depth_m = 0.10;
  thing->humidifier.height_m = 0.12;
  thing->humidifier.output_kg_s = g_h * G_H;
  thing->humidifier.duty_day = 1.0;
  thing->humidifier.power_W = 0.0;
  return thing;
}

static DewThing *
add_stirrer (DewChamber *chamber, double x_m, double z_m, double m3_h)
{
  DewThing *fan = add_thing (chamber, DEW_THING_FAN, x_m, 0.25, z_m);

  fan->fan.diameter_m = 0.10;
  fan->fan.free_delivery_m3_s = m3_h / 3600.0;
  fan->fan.elevation_rad = G_PI_4;
  fan->fan.power_W = 0.0;
  return fan;
}

/* --- settling ----------------------------------------------------------------------------- */

/* In saturated air nothing evaporates; stirred, the mist is even, and what is given off is
 * what settles on the floor and what the outgoing air takes along: m = S/(rho (v A + Q)).
 * Stirred settling: Hinds, Aerosol Technology, 1999, ch. 3.8, from memory. Without
 * settling the mist would be two orders of magnitude denser. */
static void
test_stirred_settling (void)
{
  static const double droplet_m[] = { 8e-6, 15e-6 };

  for (guint n = 0; n < G_N_ELEMENTS (droplet_m); n++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.6, 20.0, 1.0);
      g_autoptr (DewForecast) forecast = NULL;
      double fall_m_s, expected;

      make_adiabatic (chamber, 2e-4);
      add_humidifier (chamber, 0.45, 0.0, DEW_MIST_ULTRASONIC, 20.0)->humidifier.droplet_m
        = droplet_m[n];
      add_stirrer (chamber, 0.12, 0.12, 80.0);
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      fall_m_s = dew_droplet_settling_m_s (droplet_m[n], 20.0, forecast->pressure_Pa);
      expected = 20.0 * G_H
                 / (dew_moist_density (20.0, forecast->room_w_kg_kg, forecast->pressure_Pa)
                    * (fall_m_s * 0.6 * 0.5 + forecast->balance.air_out_m3_s));
      g_assert_cmpfloat_with_epsilon (forecast->all.mist_kg_kg / expected, 1.0, 0.10);
      g_assert_cmpfloat_with_epsilon (forecast->all.wetting_kg_m2s
                                        / (expected * fall_m_s
                                           * dew_moist_density (20.0, forecast->room_w_kg_kg,
                                                                forecast->pressure_Pa)),
                                      1.0, 0.10);
      g_assert_cmpfloat (forecast->evaporated_share, <, 0.02);
    }
}

/* A wire shelf catches the share of the mist that its wires cover, one full of trays nearly
 * all: less comes down to the floor. In still saturated air, so that only settling brings it
 * down. Fails when shelves let all of it through. */
static void
test_shelves_catch_mist (void)
{
  double floor_kg_m2s[3];

  for (int n = 0; n < 3; n++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 20.0, 1.0);
      g_autoptr (DewForecast) forecast = NULL;

      make_adiabatic (chamber, 2e-4);
      if (n > 0)
        add_shelf (chamber, 0.30, DEW_SHELF_WIRE, 0.60);
      if (n == 2)
        for (int tray = 0; tray < 2; tray++)
          {
            DewThing *thing = add_thing (chamber, DEW_THING_TRAY, 0.15 + 0.30 * tray, 0.25, 0.306);

            thing->tray.width_m = 0.29;
            thing->tray.depth_m = 0.48;
          }
      add_humidifier (chamber, 0.30, 0.55, DEW_MIST_ULTRASONIC, 5.0)->humidifier.droplet_m = 20e-6;
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      floor_kg_m2s[n] = 0.0;
      for (int z = 0; z < forecast->n[0] * forecast->n[1]; z++)
        floor_kg_m2s[n]
          += forecast->value[DEW_VALUE_WETTING][z] / (forecast->n[0] * forecast->n[1]);
    }
  g_assert_cmpfloat (floor_kg_m2s[1], <, 0.80 * floor_kg_m2s[0]);
  g_assert_cmpfloat (floor_kg_m2s[2], <, 0.30 * floor_kg_m2s[0]);
}

/* Air that carries fine water is heavier: fog sinks on its own in air that is otherwise
 * everywhere the same. A plume of buoyancy flux B = g m / rho carries Q = C B^(1/3) z^(5/3) after a
 * way z, C no less than 0.115 (Morton, Taylor & Turner, Proc. R. Soc. A 234, 1956, with the least
 * entrainment that was measured, 0.10); what sinks rises again, so the mean speed of a box of
 * area A is at least twice the mean of Q / A over its height, and grows with the cube root of what
 * is carried. Fails without the liquid in the buoyancy. */
static void
test_fog_is_heavy (void)
{
  static const double output_g_h[2] = { 30.0, 240.0 };
  const double height_m = 0.8, fall_m = 0.55, area_m2 = 0.6 * 0.5;
  double speed_m_s[2];

  for (int n = 0; n < 2; n++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, height_m, 20.0, 1.0);
      g_autoptr (DewForecast) forecast = NULL;
      double flux_m4_s3 = 9.81 * output_g_h[n] / 3.6e6 / 1.2;
      DewThing *thing;

      make_adiabatic (chamber, 2e-4);
      thing = add_humidifier (chamber, 0.30, fall_m, DEW_MIST_ULTRASONIC, output_g_h[n]);
      thing->humidifier.droplet_m = 12e-6;
      thing->humidifier.outlet_speed_m_s = 0.0;
      forecast = forecast_by_day (chamber, DEW_GRID_SETTLED);
      g_assert_cmpfloat (dew_forecast_sample (forecast, DEW_VALUE_MIST, 0.3, 0.25, 0.7), >, 0.0);
      speed_m_s[n] = forecast->all.speed_m_s;
      g_assert_cmpfloat (speed_m_s[n], >,
                         2.0 * 0.115 * cbrt (flux_m4_s3) / area_m2 * 3.0 / 8.0
                           * pow (fall_m, 8.0 / 3.0) / height_m);
    }
  g_assert_cmpfloat (speed_m_s[1], >, 1.4 * speed_m_s[0]);
  g_assert_cmpfloat (speed_m_s[1], <, 2.8 * speed_m_s[0]);
}

/* --- evaporation -------------------------------------------------------------------------- */

static double
evaporated (double droplet_m, double room_rh, double *wetting_kg_m2s)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 21.0, room_rh);
  g_autoptr (DewForecast) forecast = NULL;

  add_humidifier (chamber, 0.30, 0.30, DEW_MIST_ULTRASONIC, 10.0)->humidifier.droplet_m = droplet_m;
  add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.55, 0.0, 0.03);
  add_hole (chamber, DEW_FACE_BACK, 0.05, 0.55, 0.75, 0.78);
  add_stirrer (chamber, 0.12, 0.12, 20.0);
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  *wetting_kg_m2s = forecast->all.wetting_kg_m2s;
  g_assert_cmpfloat (forecast->balance.water_fallout_kg_s, <=, 0.0);
  return forecast->evaporated_share;
}

/* Coarse drops fall before they are gone (a 50 um drop falls 0.8 m in air of 80 %, a 5 um one
 * 0.1 mm: growers' reckoning from the d2 law), and in damp air all live longer. Fails when
 * evaporation does not depend on the size of the droplet or on what is missing to
 * saturation. */
static void
test_share_evaporated (void)
{
  static const double droplet_m[] = { 5e-6, 40e-6, 60e-6, 90e-6 };
  static const double room_rh[] = { 0.30, 0.60, 0.85, 0.98 };
  double last_share = 1.01, last_wetting = -1.0;

  for (guint n = 0; n < G_N_ELEMENTS (droplet_m); n++)
    {
      double wetting, share = evaporated (droplet_m[n], 0.50, &wetting);

      g_assert_cmpfloat (share, <=, 1.0 + 1e-9);
      g_assert_cmpfloat (share, >, 0.0);
      g_assert_cmpfloat (share, <, n == 0 ? 1.01 : last_share - 0.005);
      g_assert_cmpfloat (wetting, >, last_wetting);
      if (n == 0)
        g_assert_cmpfloat (share, >, 0.99);
      last_share = share;
      last_wetting = wetting;
    }
  g_assert_cmpfloat (last_share, <, 0.7);
  last_share = 1.01;
  for (guint n = 0; n < G_N_ELEMENTS (room_rh); n++)
    {
      double wetting, share = evaporated (40e-6, room_rh[n], &wetting);

      g_assert_cmpfloat (share, <, last_share - 0.005);
      last_share = share;
    }
}

/* --- heat --------------------------------------------------------------------------------- */

/* The same water given off as fog, from a wick and as steam. Fog and wick take their heat of
 * evaporation from the air, L = 2.45 MJ/kg (any steam table), and cool it alike; steam brings
 * its own and warms a little. Fails without the latent heat in the enthalpy of the air. */
static void
test_heat_of_kinds (void)
{
  double t_C[4];

  for (int n = 0; n < 4; n++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 21.0, 0.40);
      g_autoptr (DewForecast) forecast = NULL;
      double given_kg_s = n == 3 ? 0.0 : 15.0 * G_H;

      add_humidifier (chamber, 0.40, 0.0, n == 3 ? DEW_MIST_WICK : n, n == 3 ? 0.0 : 15.0);
      add_stirrer (chamber, 0.12, 0.12, 30.0);
      add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.55, 0.0, 0.04);
      add_hole (chamber, DEW_FACE_BACK, 0.05, 0.55, 0.74, 0.78);
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      t_C[n] = forecast->all.t_C;
      g_assert_cmpfloat_with_epsilon (forecast->balance.water_device_kg_s, given_kg_s, 1e-12);
      if (n == DEW_MIST_STEAM)
        g_assert_cmpfloat_with_epsilon (forecast->balance.heat_latent_W, 0.0, 0.1);
      else
        g_assert_cmpfloat_with_epsilon (forecast->balance.heat_latent_W, -2.45e6 * given_kg_s,
                                        0.02 * 2.45e6 * 15.0 * G_H);
    }
  g_assert_cmpfloat (t_C[DEW_MIST_ULTRASONIC], <, t_C[3] - 0.3);
  g_assert_cmpfloat_with_epsilon (t_C[DEW_MIST_WICK], t_C[DEW_MIST_ULTRASONIC], 0.15);
  g_assert_cmpfloat (t_C[DEW_MIST_STEAM], >, t_C[3] + 0.01);
}

/* --- humidistat --------------------------------------------------------------------------- */

/* Duty and humidity at the instrument, of an enclosure whose humidistat is set to `set_rh`. */
static void
regulate (double set_rh, double g_h, gboolean own_place, double room_rh, double *duty, double *rh)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 21.0, room_rh);
  g_autoptr (DewForecast) forecast = NULL;
  DewThing *thing;
  double at_m[3] = { 0.30, 0.25, 0.50 };
  guint instrument, humidifier;

  instrument = add_thing (chamber, DEW_THING_INSTRUMENT, at_m[0], at_m[1], at_m[2])->id;
  thing = add_humidifier (chamber, 0.42, 0.0, DEW_MIST_WICK, g_h);
  thing->humidifier.set_rh = set_rh;
  thing->humidifier.sensor_id = own_place ? 0 : (int) instrument;
  humidifier = thing->id;
  if (own_place)
    {
      at_m[0] = 0.42;
      at_m[1] = 0.25;
      at_m[2] = 0.12;
    }
  add_stirrer (chamber, 0.12, 0.12, 20.0);
  add_hole (chamber, DEW_FACE_FRONT, 0.10, 0.50, 0.0, 0.01);
  add_hole (chamber, DEW_FACE_FRONT, 0.10, 0.50, 0.78, 0.79);
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  *duty = device_of (forecast, humidifier)->duty;
  *rh = dew_forecast_sample (forecast, DEW_VALUE_RH, at_m[0], at_m[1], at_m[2]);
  g_assert_cmpfloat (*duty, >=, 0.0);
  g_assert_cmpfloat (*duty, <=, 1.0);
  g_assert_cmpfloat_with_epsilon (device_of (forecast, humidifier)->water_kg_s, *duty * g_h * G_H,
                                  1e-15);
}

/* What a humidistat is for: it holds its set point where its instrument hangs, a stronger
 * humidifier runs for less of the time, one too weak runs on and falls short, and none runs
 * where the room alone is moister. Fails when the duty stays as it is at the start. */
static void
test_humidistat (void)
{
  double duty, rh, strong_duty, strong_rh;

  regulate (0.80, 40.0, FALSE, 0.5, &duty, &rh);
  g_assert_cmpfloat_with_epsilon (rh, 0.80, 0.01);
  g_assert_cmpfloat (duty, >, 0.05);
  g_assert_cmpfloat (duty, <, 0.95);
  regulate (0.80, 80.0, FALSE, 0.5, &strong_duty, &strong_rh);
  g_assert_cmpfloat_with_epsilon (strong_rh, 0.80, 0.01);
  g_assert_cmpfloat_with_epsilon (strong_duty, 0.5 * duty, 0.1 * duty);
  regulate (0.75, 40.0, TRUE, 0.5, &duty, &rh);
  g_assert_cmpfloat_with_epsilon (rh, 0.75, 0.03);
  g_assert_cmpfloat (duty, >, 0.02);
  regulate (0.95, 3.0, FALSE, 0.4, &duty, &rh);
  g_assert_cmpfloat_with_epsilon (duty, 1.0, 1e-9);
  g_assert_cmpfloat (rh, <, 0.94);
  regulate (0.60, 40.0, FALSE, 0.75, &duty, &rh);
  g_assert_cmpfloat_with_epsilon (duty, 0.0, 1e-9);
  g_assert_cmpfloat (rh, >, 0.70);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mist/stirred-settling", test_stirred_settling);
  g_test_add_func ("/mist/shelves-catch-mist", test_shelves_catch_mist);
  g_test_add_func ("/mist/fog-is-heavy", test_fog_is_heavy);
  g_test_add_func ("/mist/share-evaporated", test_share_evaporated);
  g_test_add_func ("/mist/heat-of-kinds", test_heat_of_kinds);
  g_test_add_func ("/mist/humidistat", test_humidistat);
  return g_test_run ();
}
