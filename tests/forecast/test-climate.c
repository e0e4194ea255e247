/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "moist/moist.h"

#include <math.h>
#include <string.h>

/* Cover, wet things, leaves, light and what stands in the way, in whole forecasts. Heat and
 * water are followed out of the enclosure; where a number is expected, its source stands
 * beside it. */

#define G_H (1e-3 / 3600.0) /* kg/s */

/* --- condensation ------------------------------------------------------------------------- */

/* A small box whose roof alone lets heat through, over a warm wet patch at source_z_m in
 * stirred air; the room is cold, so that the roof is. */
static DewChamber *
cold_roof (double g_h, double slope_rad, double source_z_m)
{
  DewChamber *chamber = film_enclosure (0.6, 0.5, 0.6, 8.0, 0.6);
  DewThing *thing;

  make_adiabatic (chamber, 5e-4);
  chamber->panels[DEW_FACE_ROOF].u_value_W_m2K = 3.84;
  chamber->panels[DEW_FACE_ROOF].slope_rad = slope_rad;
  /* Without radiation, so that what the roof passes is film and dew alone. */
  chamber->panels[DEW_FACE_ROOF].longwave_transmission = 1.0;
  thing = add_thing (chamber, DEW_THING_SOURCE, 0.3, 0.25, source_z_m);
  thing->source.width_m = thing->source.depth_m = 0.4;
  thing->source.heat_W = 14.0;
  thing->source.vapour_kg_s = g_h * G_H;
  thing = add_thing (chamber, DEW_THING_FAN, 0.12, 0.25, 0.12);
  thing->fan.diameter_m = 0.10;
  thing->fan.free_delivery_m3_s = 60.0 / 3600.0;
  thing->fan.elevation_rad = G_PI_4;
  thing->fan.power_W = 0.0;
  return chamber;
}

/* Heat and vapour go through the same film: dew over the difference of humidity ratio, and
 * convection over the difference of temperature, have the ratio 1/(cp Le^(2/3)) with Le^(2/3) =
 * (a/D)^(2/3) = 0.90 for air and water vapour (Chilton & Colburn 1934; Incropera et al., ch. 6,
 * Table A.8: D = 26e-6 m2/s, a = 22.5e-6 m2/s at 300 K). Fails when dew takes another film than
 * heat. */
static void
test_dew_by_lewis (void)
{
  g_autoptr (DewChamber) chamber = cold_roof (15.0, 0.0, 0.0);
  g_autoptr (DewForecast) forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  const DewCover *roof = &forecast->cover[DEW_FACE_ROOF];
  double film_W = roof->heat_W - dew_moist_latent_heat (roof->t_C) * roof->dew_kg_s;
  double lo[3] = { 0.0, 0.0, forecast->line_m[2][forecast->n[2] - 1] };
  double missing_kg_kg, expected_kg_s;
  DewClimate under;

  dew_forecast_box (forecast, lo, forecast->inner_m, &under);
  missing_kg_kg = under.w_kg_kg - dew_moist_w_sat (roof->t_C, forecast->pressure_Pa);
  expected_kg_s = film_W / (under.t_C - roof->t_C) * missing_kg_kg / (1010.0 * 0.90);
  g_test_message ("dew %.2f g/h, by Lewis %.2f g/h", roof->dew_kg_s / G_H, expected_kg_s / G_H);
  g_assert_cmpfloat (roof->t_C, <, dew_moist_dew_point (under.w_kg_kg, forecast->pressure_Pa));
  g_assert_cmpfloat (roof->dew_kg_s, >, 1.0 * G_H);
  g_assert_cmpfloat_with_epsilon (roof->dew_kg_s / expected_kg_s, 1.0, 0.12);
  g_assert_cmpfloat_with_epsilon (forecast->balance.water_cover_kg_s, -roof->dew_kg_s,
                                  0.005 * roof->dew_kg_s);
}

/* A roof above the dew point stays dry, exactly, and nothing drips: the dew point's own
 * meaning. */
static void
test_dry_above_dew_point (void)
{
  g_autoptr (DewChamber) chamber = cold_roof (0.3, 0.0, 0.0);
  g_autoptr (DewForecast) forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  const DewCover *roof = &forecast->cover[DEW_FACE_ROOF];

  g_assert_cmpfloat (roof->coldest_C, >,
                     dew_moist_dew_point (forecast->all.w_kg_kg, forecast->pressure_Pa));
  g_assert_cmpfloat (roof->t_C, <, forecast->all.t_C - 1.0);
  g_assert_cmpfloat (roof->dew_kg_s, ==, 0.0);
  g_assert_cmpfloat (forecast->balance.water_cover_kg_s, ==, 0.0);
  for (int z = 0; z < forecast->n_zones; z++)
    g_assert_cmpfloat (forecast->drip_kg_m2s[z], ==, 0.0);
}

static double
drip_into_layer (const DewForecast *forecast, int k)
{
  double sum = 0.0;

  for (int j = 0; j < forecast->n[1]; j++)
    for (int i = 0; i < forecast->n[0]; i++)
      sum += forecast->drip_kg_m2s[i + forecast->n[0] * (j + forecast->n[1] * k)]
             * (forecast->line_m[0][i + 1] - forecast->line_m[0][i])
             * (forecast->line_m[1][j + 1] - forecast->line_m[1][j]);
  return sum;
}

/* What a level roof gathers drips straight down, all of it; through a wire shelf comes its
 * open part; past a board nothing. From a roof at 30 degrees it runs to the wall: drops run on
 * films from 15 degrees, better 30 (a film maker's guide). Fails when drip takes no notice of
 * the slope, or of what lies between. */
static void
test_where_it_drips (void)
{
  static const struct
  {
    double slope_rad, open_ratio, passes;
  } rows[] = {
    { 0.0, 1.0, 1.0 },
    { 0.0, 0.6, 0.6 },
    { 0.0, 0.0, 0.0 },
    { G_PI / 6.0, 1.0, 0.0 },
  };

  for (guint n = 0; n < G_N_ELEMENTS (rows); n++)
    {
      g_autoptr (DewChamber) chamber
        = cold_roof (6.0, rows[n].slope_rad, rows[n].open_ratio > 0.0 ? 0.0 : 0.45);
      g_autoptr (DewForecast) forecast = NULL;
      double dew_kg_s;

      if (rows[n].open_ratio < 1.0)
        add_shelf (chamber, 0.40, rows[n].open_ratio > 0.0 ? DEW_SHELF_WIRE : DEW_SHELF_SOLID,
                   rows[n].open_ratio);
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      dew_kg_s = forecast->cover[DEW_FACE_ROOF].dew_kg_s;
      g_test_message ("roof gathers %.2f g/h, %.2f g/h drip, %.2f reach the floor", dew_kg_s / G_H,
                      drip_into_layer (forecast, forecast->n[2] - 1) / G_H,
                      drip_into_layer (forecast, 0) / G_H);
      g_assert_cmpfloat (dew_kg_s, >, 1.0 * G_H);
      g_assert_cmpfloat_with_epsilon (drip_into_layer (forecast, forecast->n[2] - 1),
                                      rows[n].slope_rad > 0.0 ? 0.0 : dew_kg_s, 1e-6 * G_H);
      g_assert_cmpfloat_with_epsilon (drip_into_layer (forecast, 0), rows[n].passes * dew_kg_s,
                                      0.01 * dew_kg_s);
    }
}

/* --- wet things --------------------------------------------------------------------------- */

/* One 12 cm clay pot in an even stream of room air: growers' reckoning has 1.4 g/h in nearly
 * still (0.08 m/s) and 1.8 in moving air (0.3 m/s) at 60 %, 0.5 and 0.7 at 85 %, known to
 * -25/+60 %. How long its water lasts is the arithmetic of that. Fails without the wetting of
 * the wall, and when evaporation takes no notice of humidity or of speed. */
static void
test_pot_dries (void)
{
  static const struct
  {
    double rh, speed_m_s, g_h;
  } rows[] = {
    { 0.60, 0.08, 1.4 },
    { 0.60, 0.30, 1.8 },
    { 0.85, 0.08, 0.5 },
    { 0.85, 0.30, 0.7 },
  };
  double rate_g_h[4];

  for (guint n = 0; n < G_N_ELEMENTS (rows); n++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.6, 20.0, rows[n].rh);
      g_autoptr (DewForecast) forecast = NULL;
      const DewDevice *pot;
      DewThing *thing;
      guint id;

      thing = add_hole (chamber, DEW_FACE_LEFT, 0.0, 0.50, 0.0, 0.60);
      thing->opening.kind = DEW_OPENING_DUCT;
      thing->opening.duct_flow_m3_s = rows[n].speed_m_s * 0.50 * 0.60;
      add_hole (chamber, DEW_FACE_RIGHT, 0.0, 0.50, 0.0, 0.60);
      thing = add_pot (chamber, 0.30, 0.25, 0.0, 0.12);
      id = thing->id;
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      pot = device_of (forecast, id);
      rate_g_h[n] = pot->water_kg_s / G_H;
      g_test_message ("%.0f %%, %.2f m/s: %.2f g/h, %.1f C", 100.0 * rows[n].rh, rows[n].speed_m_s,
                      rate_g_h[n], pot->t_C);
      g_assert_cmpfloat (rate_g_h[n], >, 0.75 * rows[n].g_h);
      g_assert_cmpfloat (rate_g_h[n], <, 1.60 * rows[n].g_h);
      g_assert_cmpfloat_with_epsilon (pot->hours_of_water * rate_g_h[n] * 1e-3,
                                      thing_of (chamber, id)->pot.water_kg, 1e-9);
    }
  g_assert_cmpfloat (rate_g_h[1], >, 1.1 * rate_g_h[0]);
  g_assert_cmpfloat (rate_g_h[3], >, 1.1 * rate_g_h[2]);
  g_assert_cmpfloat (rate_g_h[0], >, 1.8 * rate_g_h[2]);
}

/* --- leaves ------------------------------------------------------------------------------- */

/* own: a kind of that name which the document has, or NULL. */
static double
transpiration_g_h (const char *species, const DewPlantKind *own, gboolean night, double room_rh,
                   double *vpd_Pa)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.6, 20.0, room_rh);
  g_autoptr (DewForecast) forecast = NULL;
  DewThing *thing;
  guint id;

  add_hole (chamber, DEW_FACE_LEFT, 0.05, 0.45, 0.05, 0.55);
  add_hole (chamber, DEW_FACE_RIGHT, 0.05, 0.45, 0.05, 0.55);
  thing = add_thing (chamber, DEW_THING_PLANT, 0.30, 0.25, 0.05);
  g_strlcpy (thing->plant.species, species, sizeof thing->plant.species);
  thing->plant.width_m = thing->plant.depth_m = thing->plant.height_m = 0.2;
  thing->plant.leaf_area_m2 = 0.08;
  id = thing->id;
  if (own != NULL)
    dew_chamber_add_kind (chamber, own);
  forecast = night ? forecast_by_night (chamber, DEW_GRID_DRAFT)
                   : forecast_by_day (chamber, DEW_GRID_DRAFT);
  if (vpd_Pa != NULL)
    *vpd_Pa = device_of (forecast, id)->leaf_vpd_Pa;
  return device_of (forecast, id)->water_kg_s / G_H;
}

/* Moth orchids open their stomata at night (crassulacean acid metabolism: Taiz & Zeiger, Plant
 * Physiology, ch. 8, from memory), begonias by day; either loses less in damp air, by its
 * deficit. Fails when conductance takes no notice of kind or hour. */
static void
test_leaves (void)
{
  double dry_Pa, damp_Pa, dry, damp;

  g_assert_cmpfloat (transpiration_g_h ("Phalaenopsis", NULL, TRUE, 0.5, NULL), >,
                     1.5 * transpiration_g_h ("Phalaenopsis", NULL, FALSE, 0.5, NULL));
  dry = transpiration_g_h ("Begonia", NULL, FALSE, 0.5, &dry_Pa);
  damp = transpiration_g_h ("Begonia", NULL, FALSE, 0.8, &damp_Pa);
  g_assert_cmpfloat (dry, >, 2.0 * transpiration_g_h ("Begonia", NULL, TRUE, 0.5, NULL));
  g_assert_cmpfloat (damp, >, 0.0);
  g_assert_cmpfloat (dry_Pa, >, damp_Pa);
  g_assert_cmpfloat_with_epsilon (dry / damp, dry_Pa / damp_Pa, 0.15 * dry_Pa / damp_Pa);
}

/* A kind of the grower's own breathes as its leaf does, by the same source, and not as a herb
 * whatever it is. */
static void
test_own_leaves (void)
{
  double by_day[DEW_N_LEAF_KINDS], by_night[DEW_N_LEAF_KINDS];

  for (int leaf = 0; leaf < DEW_N_LEAF_KINDS; leaf++)
    {
      DewPlantKind own;

      dew_plant_kind_init (&own);
      g_strlcpy (own.name, "Moon lily", sizeof own.name);
      own.leaf = leaf;
      by_day[leaf] = transpiration_g_h ("Moon lily", &own, FALSE, 0.5, NULL);
      by_night[leaf] = transpiration_g_h ("Moon lily", &own, TRUE, 0.5, NULL);
    }
  g_assert_cmpfloat (by_night[DEW_LEAF_CAM_ORCHID], >, 1.5 * by_day[DEW_LEAF_CAM_ORCHID]);
  g_assert_cmpfloat (by_day[DEW_LEAF_HERB], >, 2.0 * by_night[DEW_LEAF_HERB]);
  g_assert_cmpfloat (by_day[DEW_LEAF_HERB], >, by_day[DEW_LEAF_THIN_ORCHID]);
  g_assert_cmpfloat (by_day[DEW_LEAF_THIN_ORCHID], >, by_day[DEW_LEAF_CAM_ORCHID]);
  g_assert_cmpfloat (by_night[DEW_LEAF_FILMY], >, 2.0 * by_night[DEW_LEAF_HERB]);
}

/* --- light and heat ----------------------------------------------------------------------- */

/* What leaves through cover and openings, W: heat, and the latent heat of water that left as
 * vapour. */
static double
heat_leaving_W (const DewForecast *forecast)
{
  const DewBalance *b = &forecast->balance;
  double sum
    = -b->heat_openings_W - dew_moist_latent_heat (forecast->room_t_C) * b->water_openings_kg_s;

  for (int face = 0; face < DEW_N_FACES; face++)
    sum += forecast->cover[face].heat_W;
  return sum;
}

/* Twin-wall all round that lets no light out. */
static DewChamber *
dark_box (void)
{
  DewChamber *chamber = film_enclosure (0.6, 0.5, 0.9, 20.0, 0.5);

  for (int face = 0; face < DEW_N_FACES; face++)
    {
      chamber->panels[face].u_value_W_m2K = 2.8;
      chamber->panels[face].light_transmission = 0.0;
      chamber->panels[face].longwave_transmission = 0.0;
    }
  chamber->leak_area_m2 = 5e-4;
  add_shelf (chamber, 0.40, DEW_SHELF_WIRE, 0.86);
  return chamber;
}

/* The first law: of lamp, fan and mat nothing is lost on the way through light, radiant node,
 * wet clay, leaves and dew. Fails when the node keeps or makes heat, and when light or the heat
 * of lamps is dropped. */
static void
test_heat_is_conserved (void)
{
  for (int wet = 0; wet < 2; wet++)
    {
      g_autoptr (DewChamber) chamber = dark_box ();
      g_autoptr (DewForecast) forecast = NULL;
      DewThing *thing;
      double drawn_W = 0.0;

      thing = add_thing (chamber, DEW_THING_LAMP, 0.3, 0.25, 0.85);
      thing->lamp.length_m = 0.5;
      drawn_W += thing->lamp.power_W;
      thing = add_thing (chamber, DEW_THING_MAT, 0.3, 0.25, 0.0);
      drawn_W += thing->mat.power_W;
      thing = add_thing (chamber, DEW_THING_FAN, 0.1, 0.25, 0.15);
      thing->fan.free_delivery_m3_s = 15.0 / 3600.0;
      drawn_W += thing->fan.power_W;
      for (int p = 0; wet && p < 3; p++)
        {
          add_pot (chamber, 0.12 + 0.18 * p, 0.35, 0.406, 0.12);
          thing = add_thing (chamber, DEW_THING_PLANT, 0.12 + 0.18 * p, 0.12, 0.42);
          g_strlcpy (thing->plant.species, "Begonia", sizeof thing->plant.species);
        }
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      g_test_message ("drawn %.2f W, leaving %.2f W", drawn_W, heat_leaving_W (forecast));
      g_assert_cmpfloat_with_epsilon (heat_leaving_W (forecast), drawn_W, 0.01 * drawn_W);
      g_assert_cmpfloat (forecast->radiant_C, >, 20.0);
    }
}

/* Sun that comes in must go out again: no more than falls on the pane and passes it, no less
 * than half of that, twice as much for twice the sun, nothing by night. Fails without the sun. */
static void
test_sun (void)
{
  double leaving_W[2];

  for (int n = 0; n < 2; n++)
    {
      g_autoptr (DewChamber) chamber = dark_box ();
      g_autoptr (DewForecast) day = NULL, night = NULL;
      double passed_W;

      chamber->panels[DEW_FACE_FRONT].light_transmission = 0.8;
      chamber->room.sun_face = DEW_FACE_FRONT;
      chamber->room.sun_W_m2 = n == 0 ? 100.0 : 200.0;
      passed_W = chamber->room.sun_W_m2 * 0.6 * 0.9 * 0.8;
      day = forecast_by_day (chamber, DEW_GRID_DRAFT);
      night = forecast_by_night (chamber, DEW_GRID_DRAFT);
      leaving_W[n] = heat_leaving_W (day);
      g_assert_cmpfloat (leaving_W[n], <, 1.005 * passed_W);
      g_assert_cmpfloat (leaving_W[n], >, 0.5 * passed_W);
      g_assert_cmpfloat (day->all.t_C, >, 22.0);
      g_assert_cmpfloat_with_epsilon (heat_leaving_W (night), 0.0, 0.01);
      g_assert_cmpfloat_with_epsilon (night->all.t_C, 20.0, 0.01);
    }
  g_assert_cmpfloat_with_epsilon (leaving_W[1] / leaving_W[0], 2.0, 0.01);
}

/* Light below a shelf is what the shelf lets through, the bay's as every place's: geometry. */
static void
test_light_below_a_shelf (void)
{
  static const double open_ratio[] = { 1.0, 0.6, 0.0 };
  double lowest[3];

  for (guint n = 0; n < G_N_ELEMENTS (open_ratio); n++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.9, 20.0, 0.5);
      g_autoptr (DewForecast) forecast = NULL;
      DewThing *lamp;

      if (open_ratio[n] < 1.0)
        add_shelf (chamber, 0.40, open_ratio[n] > 0.0 ? DEW_SHELF_WIRE : DEW_SHELF_SOLID,
                   open_ratio[n]);
      lamp = add_thing (chamber, DEW_THING_LAMP, 0.3, 0.25, 0.85);
      lamp->lamp.length_m = 0.5;
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      lowest[n] = dew_forecast_sample (forecast, DEW_VALUE_PPFD, 0.3, 0.25, 0.1);
      for (int p = 0; p < forecast->n_places; p++)
        if (forecast->places[p].bay == 0)
          g_assert_true ((forecast->places[p].mean.ppfd_mol_m2s > 0.0) == (open_ratio[n] > 0.0));
    }
  g_assert_cmpfloat_with_epsilon (lowest[1] / lowest[0], 0.6, 0.02);
  g_assert_cmpfloat (lowest[2], ==, 0.0);
}

/* --- what stands in the way --------------------------------------------------------------- */

/* Dry pots that fill a shelf close most of it: air that rises through low and high holes over a
 * mat exchanges less. Fails when the loss of a shelf takes no notice of its load. */
static void
test_loaded_shelf (void)
{
  double exchange_1_s[2];

  for (int full = 0; full < 2; full++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.9, 20.0, 0.5);
      g_autoptr (DewForecast) forecast = NULL;
      DewThing *thing;

      add_shelf (chamber, 0.40, DEW_SHELF_PERFORATED, 0.30);
      add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.55, 0.0, 0.10);
      add_hole (chamber, DEW_FACE_BACK, 0.05, 0.55, 0.80, 0.90);
      thing = add_thing (chamber, DEW_THING_MAT, 0.3, 0.25, 0.0);
      thing->mat.power_W = 20.0;
      for (int p = 0; full && p < 12; p++)
        {
          thing = add_thing (chamber, DEW_THING_POT, 0.075 + 0.15 * (p % 4), 0.09 + 0.16 * (p / 4),
                             0.406);
          thing->pot.rim_diameter_m = 0.149;
          thing->pot.wetted_fraction = 0.0;
        }
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      exchange_1_s[full] = forecast->exchange_1_s;
    }
  g_assert_cmpfloat (exchange_1_s[1], <, 0.75 * exchange_1_s[0]);
}

/* A row of dry pots, or a bush, in the jet of a fan slows the air of the bay: momentum is spent
 * on their drag. Fails without the drag of bodies and of leaves. */
static void
test_in_the_way_of_a_jet (void)
{
  double speed_m_s[3];

  for (int n = 0; n < 3; n++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.9, 0.5, 0.5, 20.0, 0.5);
      g_autoptr (DewForecast) forecast = NULL;
      DewThing *thing = add_thing (chamber, DEW_THING_FAN, 0.08, 0.25, 0.12);

      thing->fan.power_W = 0.0;
      for (int p = 0; n == 1 && p < 3; p++)
        {
          thing = add_thing (chamber, DEW_THING_POT, 0.40, 0.10 + 0.15 * p, 0.0);
          thing->pot.rim_diameter_m = 0.14;
          thing->pot.height_m = 0.22;
          thing->pot.wetted_fraction = 0.0;
        }
      if (n == 2)
        {
          thing = add_thing (chamber, DEW_THING_PLANT, 0.40, 0.25, 0.0);
          thing->plant.width_m = 0.25;
          thing->plant.depth_m = 0.40;
          thing->plant.height_m = 0.30;
          thing->plant.leaf_area_m2 = 0.5;
        }
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      speed_m_s[n] = forecast->all.speed_m_s;
    }
  g_assert_cmpfloat (speed_m_s[1], <, 0.85 * speed_m_s[0]);
  g_assert_cmpfloat (speed_m_s[2], <, 0.85 * speed_m_s[0]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/climate/dew-by-lewis", test_dew_by_lewis);
  g_test_add_func ("/climate/dry-above-dew-point", test_dry_above_dew_point);
  g_test_add_func ("/climate/where-it-drips", test_where_it_drips);
  g_test_add_func ("/climate/pot-dries", test_pot_dries);
  g_test_add_func ("/climate/leaves", test_leaves);
  g_test_add_func ("/climate/own-leaves", test_own_leaves);
  g_test_add_func ("/climate/heat-is-conserved", test_heat_is_conserved);
  g_test_add_func ("/climate/sun", test_sun);
  g_test_add_func ("/climate/light-below-a-shelf", test_light_below_a_shelf);
  g_test_add_func ("/climate/loaded-shelf", test_loaded_shelf);
  g_test_add_func ("/climate/in-the-way-of-a-jet", test_in_the_way_of_a_jet);
  return g_test_run ();
}
