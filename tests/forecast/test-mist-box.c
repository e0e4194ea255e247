/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "forecast/options.h"
#include "moist/moist.h"

#include <math.h>

/* Mist in a box that no heat passes, with drops from 2 to 120 um in rooms from dry to nearly
 * saturated. Drops take their heat of evaporation from the air: so it runs along its line of
 * adiabatic saturation toward its wet bulb and not beyond (ASHRAE Handbook, Fundamentals, ch. 1;
 * any text on moist air). Warmer or drier than the room, wetter than saturated or colder than
 * the wet bulb it cannot become by any amount of mist. */

#define ROOM_C 20.0
#define G_H (1e-3 / 3600.0) /* kg/s */
/* Condensing sets in over a thousandth of relative humidity; limiters of vapour and heat may
 * come to rest a little apart. */
#define OVER_KG_KG 2e-5
#define OFF_K 0.02

/* Transfer full. */
static DewChamber *
draw (double droplet_m, double room_rh, gboolean vents)
{
  DewChamber *chamber = film_enclosure (0.6, 0.5, 0.8, ROOM_C, room_rh);
  DewThing *mister, *fan;

  make_adiabatic (chamber, 2e-4);
  mister = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.30, 0.25, 0.30);
  mister->humidifier.technology = DEW_MIST_ULTRASONIC;
  mister->humidifier.width_m = mister->humidifier.depth_m = 0.10;
  mister->humidifier.height_m = 0.12;
  mister->humidifier.output_kg_s = 10.0 * G_H;
  mister->humidifier.duty_day = 1.0;
  mister->humidifier.power_W = 0.0;
  mister->humidifier.droplet_m = droplet_m;
  fan = add_thing (chamber, DEW_THING_FAN, 0.12, 0.25, 0.12);
  fan->fan.diameter_m = 0.10;
  fan->fan.free_delivery_m3_s = 20.0 / 3600.0;
  fan->fan.elevation_rad = G_PI_4;
  fan->fan.power_W = 0.0;
  if (vents)
    {
      add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.55, 0.0, 0.03);
      add_hole (chamber, DEW_FACE_BACK, 0.05, 0.55, 0.75, 0.78);
    }
  return chamber;
}

/* Share of the mist that evaporates. */
static double
evaporated (double droplet_m, double room_rh, gboolean vents)
{
  g_autoptr (DewChamber) chamber = draw (droplet_m, room_rh, vents);
  g_autoptr (DewForecast) f = forecast_by_day (chamber, DEW_GRID_DRAFT);
  double latent_K, wet_bulb_C;

  g_test_message ("%.0f um, room of %.0f %%: %.2f C, %.1f %%, %.5f evaporated; %d rounds",
                  1e6 * droplet_m, 100.0 * room_rh, f->all.t_C, 100.0 * f->all.rh,
                  f->evaporated_share, f->effort.rounds);
  latent_K = dew_moist_latent_heat (ROOM_C) / (1006.0 + 1860.0 * f->room_w_kg_kg);
  wet_bulb_C = dew_moist_wet_bulb (ROOM_C, f->room_w_kg_kg, f->pressure_Pa);
  for (int z = 0; z < f->n_zones; z++)
    {
      double t_C = f->value[DEW_VALUE_TEMPERATURE][z], w = f->value[DEW_VALUE_HUMIDITY_RATIO][z];

      g_assert_cmpfloat (t_C, <, ROOM_C + OFF_K);
      g_assert_cmpfloat (t_C, >, wet_bulb_C - 2.0 * OFF_K);
      g_assert_cmpfloat (w, >, f->room_w_kg_kg - OVER_KG_KG);
      g_assert_cmpfloat (w, <, dew_moist_w_sat (t_C, f->pressure_Pa) + OVER_KG_KG);
      g_assert_cmpfloat_with_epsilon (t_C - ROOM_C, -latent_K * (w - f->room_w_kg_kg), OFF_K);
    }
  g_assert_cmpfloat (f->evaporated_share, >, 0.0);
  g_assert_cmpfloat (f->evaporated_share, <, 1.0 + 1e-6);
  g_assert_cmpfloat (f->balance.water_residual, <, 1e-6);
  g_assert_cmpint (f->state, ==, DEW_FORECAST_SETTLED);
  return f->evaporated_share;
}

/* Small drops are gone sooner, and all sooner in dry air (the d2 law: Hinds, Aerosol
 * Technology, 1999, ch. 13). Fails when water and enthalpy are carried by other fluxes than
 * mist: then coarse mist warmed such a box to 23 to 44 C and dried it to 1 to 80 %, called
 * settled, and took away more water than was given off. */
static void
test_vents (void)
{
  static const double droplet_m[] = { 2e-6, 10e-6, 20e-6, 30e-6, 40e-6, 60e-6, 90e-6, 120e-6 };
  static const double room_rh[] = { 0.50, 0.80, 0.97 };
  double drier[G_N_ELEMENTS (droplet_m)];

  for (guint r = 0; r < G_N_ELEMENTS (room_rh); r++)
    for (guint n = 0; n < G_N_ELEMENTS (droplet_m); n++)
      {
        double share = evaporated (droplet_m[n], room_rh[r], TRUE);

        if (r > 0)
          g_assert_cmpfloat (share, <, drier[n]);
        if (n > 0)
          g_assert_cmpfloat (share, <, drier[n - 1] + 1e-6);
        drier[n] = share;
      }
}

/* The same where only cracks let air out: saturated, so that next to nothing evaporates. */
static void
test_cracks (void)
{
  static const double droplet_m[] = { 5e-6, 20e-6, 40e-6, 60e-6, 120e-6 };

  for (guint n = 0; n < G_N_ELEMENTS (droplet_m); n++)
    {
      g_assert_cmpfloat (evaporated (droplet_m[n], 0.50, FALSE), <, 0.04);
      g_assert_cmpfloat (evaporated (droplet_m[n], 0.97, FALSE), <, 0.004);
    }
}

/* kg/kg over the room, mean of all zones: vapour and mist. */
static void
means_of (const DewRun *run, double *w, double *m)
{
  DewRunView v;

  dew_run_view (run, &v);
  *w = *m = 0.0;
  DEW_EACH_ZONE (v.zones, at)
    {
      double part = v.zones->volume_m3[at] / (0.6 * 0.5 * 0.8);

      *w += part * dew_atmosphere_w (v.atmosphere)[at];
      *m += part * dew_atmosphere_mist ((DewAtmosphere *) v.atmosphere)[at];
    }
}

/* Marched on in time, air comes to rest where its own steady equations do, for quick drops and
 * slow ones: an unsteady forecast is the mean of a march. Needs no other source. Fails when a
 * step lets mist fall and leave for all of its time before any evaporates: 8 % of the vapour
 * with drops of 20 um. */
static void
test_marched (void)
{
  static const double droplet_m[] = { 2e-6, 10e-6, 20e-6, 40e-6, 90e-6 };

  for (guint n = 0; n < G_N_ELEMENTS (droplet_m); n++)
    {
      g_autoptr (DewChamber) chamber = draw (droplet_m[n], 0.5, TRUE);
      g_autoptr (GError) error = NULL;
      g_autoptr (DewRun) run = NULL;
      DewForecastOptions options;
      DewRunOptions ro;
      double w, m, steady_w, steady_m;

      dew_forecast_options_init (&options);
      options.grid = DEW_GRID_DRAFT;
      g_assert_true (dew_forecast_run_options (chamber, 0, &options, &ro, &error));
      run = dew_run_new (chamber, 0, &ro, &error);
      g_assert_no_error (error);
      g_assert_true (dew_run_settle (run, NULL, &error));
      g_assert_true (dew_run_steps (run, 600, &error));
      means_of (run, &w, &m);
      dew_run_balance (run, 1e-6, 0);
      means_of (run, &steady_w, &steady_m);
      g_test_message ("%.0f um: vapour %.4f g/kg marched, %.4f steady; mist %.5f, %.5f",
                      1e6 * droplet_m[n], 1e3 * w, 1e3 * steady_w, 1e3 * m, 1e3 * steady_m);
      g_assert_cmpfloat_with_epsilon (w / steady_w, 1.0, 0.01);
      g_assert_cmpfloat_with_epsilon ((m - steady_m) / steady_w, 0.0, 0.002);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mist-box/vents", test_vents);
  g_test_add_func ("/mist-box/cracks", test_cracks);
  g_test_add_func ("/mist-box/marched", test_marched);
  return g_test_run ();
}
