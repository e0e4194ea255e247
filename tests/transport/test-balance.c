/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Whole forecasts of a stirred enclosure against the balance that one works out by
 * hand, and the closing of the balances on every grid. */

#include "forecast/forecast.h"
#include "published/plain-box.h"

#include <math.h>

#define INFLOW_M3_S 0.0008
#define HEAT_W 5.0
#define VAPOUR_KG_S 1e-6

/* Insulated, one duct in, one duct out, three strong fans that stir, a source of
 * heat and one of vapour. */
static DewChamber *
stirred (gboolean latent_from_air)
{
  static const double fans[3][5] = {
    /* x, y, z (m), azimuth, elevation (rad) */
    { 0.15, 0.15, 0.20, 0.8, 0.7 },
    { 0.45, 0.35, 0.45, 3.9, 0.9 },
    { 0.20, 0.35, 0.75, 5.5, -0.8 },
  };
  const double warm[3] = { 0.3, 0.25, 0.1 }, damp[3] = { 0.3, 0.25, 0.5 };
  DewChamber *chamber = test_plain_chamber (0.6, 0.5, 0.9);
  guint id;

  test_set_room (chamber, 20.0, 0.4);
  test_add_duct (chamber, DEW_FACE_LEFT, 0.2, 0.3, 0.1, 0.2, INFLOW_M3_S);
  test_add_hole (chamber, DEW_FACE_RIGHT, 0.22, 0.28, 0.72, 0.78, 0.61);
  for (int f = 0; f < 3; f++)
    test_add_fan (chamber, fans[f], fans[f][3], fans[f][4], 0.14, 0.05);
  test_add_source (chamber, warm, 0.1, HEAT_W, 0.0);
  id = test_add_source (chamber, damp, 0.1, 0.0, VAPOUR_KG_S);
  dew_variant_thing (dew_chamber_shown (chamber), id)->source.latent_from_air = latent_from_air;
  return chamber;
}

static DewForecast *
forecast (const DewChamber *chamber, DewGrid grid)
{
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;
  DewForecast *f;
  DewAir air = test_formula_air;

  air.vapour_lift = 0.608;
  dew_forecast_options_init (&options);
  options.grid = grid;
  options.air = &air;
  f = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  return f;
}

/* Steady state of a mixed room: what is given off leaves with the air that leaves.
 *     dt = P / (rho cp Q),  dw = m / (rho Q),
 * and vapour that takes its heat of evaporation from the air costs L m of the watts
 * (any text on ventilation; ASHRAE Fundamentals ch. 16). The stirred mean is within
 * 1 % of both. */
static void
test_mixed (void)
{
  const DewAir *air = &test_formula_air;

  for (int latent = 0; latent <= 1; latent++)
    {
      g_autoptr (DewChamber) chamber = stirred (latent);
      g_autoptr (DewForecast) f = forecast (chamber, DEW_GRID_SETTLED);
      double heat = HEAT_W - (latent ? air->latent_heat_J_kg * VAPOUR_KG_S : 0.0);
      double t = heat / (air->density_kg_m3 * air->specific_heat_J_kgK * f->balance.air_in_m3_s);
      double w = VAPOUR_KG_S / (air->density_kg_m3 * f->balance.air_in_m3_s);

      g_test_message ("%s: +%.4f K, by hand %.4f; +%.4g kg/kg, by hand %.4g",
                      latent ? "latent heat from the air" : "vapour with its heat",
                      f->all.t_C - f->room_t_C, t, f->all.w_kg_kg - f->room_w_kg_kg, w);
      /* So strongly stirred its air swings; the mean balances all the same. */
      g_assert_cmpint (f->state, !=, DEW_FORECAST_FOLLOWING);
      g_assert_cmpfloat (fabs (f->balance.air_in_m3_s / INFLOW_M3_S - 1.0), <, 1e-9);
      g_assert_cmpfloat (fabs ((f->all.t_C - f->room_t_C) / t - 1.0), <, 0.01);
      g_assert_cmpfloat (fabs ((f->all.w_kg_kg - f->room_w_kg_kg) / w - 1.0), <, 0.01);
      g_assert_cmpfloat (fabs (f->balance.heat_latent_W - (heat - HEAT_W)), <, 1e-4 * HEAT_W);
      g_assert_cmpfloat (fabs (f->balance.heat_openings_W + heat), <, 1e-5 * HEAT_W);
      g_assert_cmpfloat (fabs (f->balance.water_openings_kg_s + VAPOUR_KG_S), <,
                         1e-5 * VAPOUR_KG_S);
    }
}

/* --- the same enclosure on three grids ----------------------------------------------- */

static void
add_shelf (DewChamber *chamber, double z_m, DewShelfBoard board, double open_ratio)
{
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_SHELF);
  thing.shelf.z_m = z_m;
  thing.shelf.board = board;
  thing.shelf.open_ratio = open_ratio;
  thing.shelf.gap_front_m = thing.shelf.gap_back_m = 0.06;
  dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
}

/* A film enclosure with a wire shelf and a solid one, a flap low down and one in the
 * roof, a fan, and sources of heat and of vapour. */
static DewChamber *
cabinet (void)
{
  const double fan[3] = { 0.2, 0.25, 0.75 }, warm[3] = { 0.5, 0.2, 0.1 },
               damp[3] = { 0.2, 0.3, 0.55 };
  DewChamber *chamber = dew_chamber_new ();

  test_set_room (chamber, 19.0, 0.5);
  add_shelf (chamber, 0.5, DEW_SHELF_WIRE, 0.7);
  add_shelf (chamber, 1.0, DEW_SHELF_SOLID, 0.0);
  test_add_hole (chamber, DEW_FACE_FRONT, 0.25, 0.40, 0.05, 0.15, 0.6);
  test_add_hole (chamber, DEW_FACE_ROOF, 0.50, 0.60, 0.30, 0.40, 0.6);
  test_add_fan (chamber, fan, 0.3, 0.2, 0.12, 0.02);
  test_add_source (chamber, warm, 0.08, 10.0, 0.0);
  test_add_source (chamber, damp, 0.08, 0.0, 1e-5);
  return chamber;
}

/* How far the bays of a coarser grid are from those of the fine one: what the two
 * quicker grids of the program cost. The bands state what was found (own study), not
 * a goal: 0.2 K, 6 % of the largest rise in humidity ratio, 5 % of the age, 20 % or
 * 0.03 m/s of the speed, a tenth of the volume in the share of still air, of the
 * flow through the openings 6 % on draft and 3 % on settled zones. Humidity and flow had 5 and
 * 4 % while the fan's disc was as blurred on fine zones as it must be on draft ones, which are as
 * wide as it. Air, heat and water close to 1e-6 on each. */
static void
test_grids (void)
{
  g_autoptr (DewChamber) chamber = cabinet ();
  DewForecast *f[3];
  double largest_w = 0.0;

  for (int g = 0; g < 3; g++)
    {
      DewForecastOptions options;
      g_autoptr (GError) error = NULL;

      dew_forecast_options_init (&options);
      options.grid = g;
      f[g] = dew_forecast_new (chamber, 0, &options, NULL, &error);
      g_assert_no_error (error);
      g_assert_cmpint (f[g]->n_bays, ==, 3);
      g_assert_cmpfloat (f[g]->balance.air_residual, <, 1e-6);
      g_assert_cmpfloat (f[g]->balance.heat_residual, <, 1e-6);
      g_assert_cmpfloat (f[g]->balance.water_residual, <, 1e-6);
      if (g > 0)
        g_assert_cmpint (f[g]->n_zones, >, f[g - 1]->n_zones);
    }
  for (int b = 0; b < 3; b++)
    largest_w = MAX (largest_w, f[2]->bays[b].mean.w_kg_kg - f[2]->room_w_kg_kg);
  for (int g = 0; g < 2; g++)
    {
      for (int b = 0; b < 3; b++)
        {
          const DewClimate *coarse = &f[g]->bays[b].mean, *best = &f[2]->bays[b].mean;

          g_test_message (
            "%d of %d zones, bay %d: %+.3f K, %+.1f %% of the vapour, speed %+.3f m/s of "
            "%.3f, still %+.3f, age %+.1f %%",
            f[g]->n_zones, f[2]->n_zones, b, coarse->t_C - best->t_C,
            100.0 * (coarse->w_kg_kg - best->w_kg_kg) / largest_w,
            coarse->speed_m_s - best->speed_m_s, best->speed_m_s,
            coarse->still_share - best->still_share, 100.0 * (coarse->age_s / best->age_s - 1.0));
          g_assert_cmpfloat (fabs (coarse->t_C - best->t_C), <, 0.2);
          g_assert_cmpfloat (fabs (coarse->w_kg_kg - best->w_kg_kg), <, 0.06 * largest_w);
          g_assert_cmpfloat (fabs (coarse->age_s / best->age_s - 1.0), <, 0.05);
          g_assert_cmpfloat (fabs (coarse->speed_m_s - best->speed_m_s), <,
                             MAX (0.03, 0.20 * best->speed_m_s));
          g_assert_cmpfloat (fabs (coarse->still_share - best->still_share), <, 0.1);
        }
      g_test_message ("air %+.1f %%",
                      100.0 * (f[g]->balance.air_in_m3_s / f[2]->balance.air_in_m3_s - 1.0));
      /* Draft zones cannot hold the disc of the fan. */
      g_assert_cmpfloat (fabs (f[g]->balance.air_in_m3_s / f[2]->balance.air_in_m3_s - 1.0), <,
                         g == 0 ? 0.06 : 0.03);
    }
  for (int g = 0; g < 3; g++)
    dew_forecast_unref (f[g]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/balance/mixed", test_mixed);
  g_test_add_func ("/balance/grids", test_grids);
  return g_test_run ();
}
