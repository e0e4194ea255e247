/* SPDX-License-Identifier: GPL-3.0-or-later */

/* One layout has one settled answer, whatever was shown before, and it stays where it is when
 * the air marches on. Layers of warm air are part of it. */

#include "enclosure.h"
#include "forecast/options.h"
#include "forecast/trial.h"
#include "published/plain-box.h"

#include <math.h>

static const DewThing *
first_fan (const DewChamber *chamber)
{
  const DewVariant *variant = dew_chamber_shown (chamber);

  for (guint t = 0; t < variant->things->len; t++)
    if (g_array_index (variant->things, DewThing, t).kind == DEW_THING_FAN)
      return &g_array_index (variant->things, DewThing, t);
  g_assert_not_reached ();
}

/* The demo with its first fan moved along x. */
static DewChamber *
moved (double by_m)
{
  DewChamber *chamber = dew_chamber_demo ();

  thing_of (chamber, first_fan (chamber)->id)->fan.x_m += by_m;
  return chamber;
}

/* Dragged there and back, and settled on the way, it comes out as it does from a cold start.
 * Property, no source: the same to the last bit. */
static void
test_path (void)
{
  g_autoptr (DewForecaster) forecaster = dew_forecaster_new ();
  g_autoptr (DewChamber) here = moved (0.0), there = moved (0.06);
  g_autoptr (DewForecast) cold = NULL, back = NULL;
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  cold = dew_forecast_new (here, 0, &options, NULL, &error);
  g_assert_no_error (error);
  for (int frame = 0; frame < 6; frame++)
    {
      g_autoptr (DewForecast) shown
        = frame == 3 ? dew_forecaster_settle (forecaster, there, 0, &options, NULL, &error)
                     : dew_forecaster_follow (forecaster, frame % 2 == 0 ? here : there, 0,
                                              &options, 0.0, NULL, &error);

      g_assert_no_error (error);
    }
  back = dew_forecaster_settle (forecaster, here, 0, &options, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (back->n_bays, ==, cold->n_bays);
  for (int b = 0; b < cold->n_bays; b++)
    {
      g_assert_true (back->bays[b].mean.speed_m_s == cold->bays[b].mean.speed_m_s);
      g_assert_true (back->bays[b].mean.rh == cold->bays[b].mean.rh);
      g_assert_true (back->bays[b].mean.t_C == cold->bays[b].mean.t_C);
    }
}

/* What a search settles is what the layout settles to once it is taken, to the last bit: a search
 * that began from the layout as it was found other numbers. Property, no source. */
static void
test_tried (void)
{
  g_autoptr (DewChamber) here = moved (0.0), there = moved (0.06);
  g_autoptr (DewForecast) cold = NULL, tried = NULL;
  g_autoptr (DewTrialStart) start = NULL;
  g_autoptr (DewTrial) trial = NULL;
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  start = dew_trial_start_new (here, 0, &options, NULL, &error);
  g_assert_no_error (error);
  trial = dew_trial_new (start);
  tried = dew_trial_settle (trial, there, 0, &options, NULL, &error);
  g_assert_no_error (error);
  cold = dew_forecast_new (there, 0, &options, NULL, &error);
  g_assert_no_error (error);
  for (int b = 0; b < cold->n_bays; b++)
    {
      g_assert_true (tried->bays[b].mean.speed_m_s == cold->bays[b].mean.speed_m_s);
      g_assert_true (tried->bays[b].mean.rh == cold->bays[b].mean.rh);
    }
}

/* --- marched on -------------------------------------------------------------------- */

/* A warm layer under a roof: a lamp near the top of a film house, nothing that stirs. */
static DewChamber *
lamp_under_roof (double leak_m2)
{
  DewChamber *chamber = film_enclosure (0.6, 0.45, 1.0, 20.0, 0.5);
  DewThing *lamp = add_thing (chamber, DEW_THING_LAMP, 0.3, 0.225, 0.93);

  lamp->lamp.length_m = 0.4;
  lamp->lamp.power_W = 25.0;
  if (leak_m2 > 0.0)
    make_adiabatic (chamber, leak_m2);
  return chamber;
}

/* Heat low in one corner, a slot below and one above. */
static DewChamber *
chimney (void)
{
  DewChamber *chamber = film_enclosure (0.6, 0.5, 1.2, 20.0, 0.5);

  add_hole (chamber, DEW_FACE_FRONT, 0.1, 0.5, 0.0, 0.03);
  add_hole (chamber, DEW_FACE_BACK, 0.1, 0.5, 1.15, 1.18);
  add_thing (chamber, DEW_THING_MAT, 0.3, 0.25, 0.0)->mat.power_W = 30.0;
  return chamber;
}

static void
bay_means (const DewRun *run, int n, double *speed_m_s, double *t_K)
{
  DewRunView v;

  dew_run_view (run, &v);
  *speed_m_s = *t_K = 0.0;
  for (int at = 0; at < v.zones->size; at++)
    if (v.zones->volume_m3[at] > 0.0)
      {
        double part = v.zones->volume_m3[at] / n
                      / (v.zones->inner_m[0] * v.zones->inner_m[1] * v.zones->inner_m[2]);

        *speed_m_s += part * dew_flow_speed (v.flow)[at];
        *t_K += part * dew_atmosphere_t (v.atmosphere)[at];
      }
}

/* What is settled stays: the mean speed and warmth over 300 steps, after another 700, are within
 * 3 % (of speed with 0.02 m/s, of the rise with 3 K added) of what was shown. Property, no
 * source. */
static void
test_marched_on (gconstpointer which)
{
  g_autoptr (DewChamber) chamber = GPOINTER_TO_INT (which) == 0   ? lamp_under_roof (0.0)
                                   : GPOINTER_TO_INT (which) == 1 ? lamp_under_roof (2e-3)
                                                                  : chimney ();
  g_autoptr (DewRun) run = NULL;
  g_autoptr (DewForecast) shown = NULL;
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;
  DewRunOptions ro;
  double speed = 0.0, t = 0.0, before_m_s, before_K;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  g_assert_true (dew_forecast_run_options (chamber, 0, &options, &ro, &error));
  run = dew_run_new (chamber, 0, &ro, &error);
  g_assert_no_error (error);
  g_assert_true (dew_run_settle (run, NULL, &error));
  shown = dew_forecast_finish (run, &options, 1e-8, &error);
  g_assert_no_error (error);
  g_assert_cmpint (shown->state, ==, DEW_FORECAST_SETTLED);
  bay_means (run, 1, &before_m_s, &before_K);
  g_assert_true (dew_run_steps (run, 700, &error));
  for (int n = 0; n < 300; n++)
    {
      double speed_now, t_now;

      g_assert_true (dew_run_steps (run, 1, &error));
      bay_means (run, 300, &speed_now, &t_now);
      speed += speed_now;
      t += t_now;
    }
  {
    double rise = shown->all.t_C - shown->room_t_C;

    g_test_message ("%.4f m/s and %+.3f K become %.4f m/s and %+.3f K", before_m_s, rise, speed, t);
    g_assert_cmpfloat (fabs (t - rise), <, 0.03 * (3.0 + rise));
    g_assert_cmpfloat (fabs (speed - before_m_s), <, 0.03 * (0.02 + before_m_s));
  }
}

/* --- layers ------------------------------------------------------------------------- */

/* Air of a level beside the plume, K over the room. */
static double
level_K (const DewForecast *f, double z_m)
{
  return dew_forecast_sample (f, DEW_VALUE_TEMPERATURE, 0.375, 0.375, z_m) - f->room_t_C;
}

/* A small source and two small vents: helium into a box of 1.5 x 1.5 x 0.75 m, measured at seven
 * heights once it no longer changes (Pitts, Prasad, Yang & Fernandez, Int. Conf. Hydrogen Safety,
 * 2009). By its buoyancy the source is 18 W without loss through the walls, 1 % of helium 2.53 K;
 * the vents' coefficient of 0.8 follows from the measured decay (0.77 to 0.90). Mixed air would
 * be 39 K warmer everywhere, and was forecast so before. The fresh air of the lower vent stays
 * beneath without stirring, so the lowest level is a quarter too cool, which is more than is wanted
 * (see the README of the published cases) and here only kept from getting worse; the others are
 * held to 20 %. */
static void
test_small_vents (void)
{
  static const struct
  {
    double z_m, percent, within;
  } levels[] = { { 0.093, 9.18, 0.30 },  { 0.185, 10.81, 0.20 }, { 0.276, 12.38, 0.20 },
                 { 0.372, 14.39, 0.20 }, { 0.466, 15.78, 0.20 }, { 0.559, 16.72, 0.20 },
                 { 0.650, 16.97, 0.20 } };
  const double source[3] = { 0.75, 0.75, 0.2 }, half = 0.5 * 0.0215;
  g_autoptr (DewChamber) chamber = test_plain_chamber (1.5, 1.5, 0.75);
  g_autoptr (DewForecast) f = NULL;
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;

  test_set_room (chamber, 20.0, 0.5);
  test_add_hole (chamber, DEW_FACE_FRONT, 0.75 - half, 0.75 + half, 0.025, 0.025 + 2.0 * half, 0.8);
  test_add_hole (chamber, DEW_FACE_FRONT, 0.75 - half, 0.75 + half, 0.725 - 2.0 * half, 0.725, 0.8);
  test_add_source (chamber, source, 0.032, 18.0, 0.0);
  dew_forecast_options_init (&options);
  options.air = &test_formula_air;
  f = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (f->state, ==, DEW_FORECAST_SETTLED);
  for (guint l = 0; l < G_N_ELEMENTS (levels); l++)
    {
      double measured_K = 0.862 * 0.01 * levels[l].percent * 293.15;
      double forecast_K = level_K (f, levels[l].z_m);

      g_test_message ("at %.3f m %.1f K, measured %.1f", levels[l].z_m, forecast_K, measured_K);
      if (!(fabs (forecast_K / measured_K - 1.0) < levels[l].within))
        g_test_fail_printf ("at %.3f m %.1f K, measured %.1f", levels[l].z_m, forecast_K,
                            measured_K);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/one-answer/path", test_path);
  g_test_add_func ("/one-answer/tried", test_tried);
  g_test_add_data_func ("/one-answer/marched-on/lamp", GINT_TO_POINTER (0), test_marched_on);
  g_test_add_data_func ("/one-answer/marched-on/tight-lamp", GINT_TO_POINTER (1), test_marched_on);
  g_test_add_data_func ("/one-answer/marched-on/chimney", GINT_TO_POINTER (2), test_marched_on);
  g_test_add_func ("/one-answer/small-vents", test_small_vents);
  return g_test_run ();
}
