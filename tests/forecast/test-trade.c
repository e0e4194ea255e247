/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "moist/moist.h"

#include <math.h>

/* What growers see happen, as inequalities between forecasts of one enclosure: a frame
 * of four bays under film, 0.70 x 0.50 x 1.55 m. All of it is common practice, no source,
 * unless it says otherwise. */

#define CLEAR_X_M 0.70
#define CLEAR_Y_M 0.50
#define CLEAR_Z_M 1.55
#define SHELVES 3
#define G_H (1e-3 / 3600.0) /* kg/s */
#define M3_H (1.0 / 3600.0) /* m3/s */

static double
shelf_top_m (int bay)
{
  return bay == 0 ? 0.0 : 0.38 + 0.36 * (bay - 1) + 0.006;
}

static DewChamber *
film_house (double room_t_C, double room_rh, DewShelfBoard board, double open_ratio)
{
  DewChamber *chamber = film_enclosure (CLEAR_X_M, CLEAR_Y_M, CLEAR_Z_M, room_t_C, room_rh);

  for (int s = 0; s < SHELVES; s++)
    add_shelf (chamber, 0.38 + 0.36 * s, board, open_ratio);
  return chamber;
}

/* A free fan of the 8 cm kind. */
static DewThing *
add_small_fan (DewChamber *chamber, double x_m, double y_m, double z_m, double m3_h)
{
  DewThing *fan = add_thing (chamber, DEW_THING_FAN, x_m, y_m, z_m);

  fan->fan.diameter_m = 0.08;
  fan->fan.free_delivery_m3_s = m3_h * M3_H;
  fan->fan.power_W = 0.5;
  return fan;
}

static DewThing *
add_mist_cup (DewChamber *chamber, double x_m, double y_m, double z_m, double g_h)
{
  DewThing *cup = add_thing (chamber, DEW_THING_HUMIDIFIER, x_m, y_m, z_m);

  cup->humidifier.width_m = cup->humidifier.depth_m = 0.08;
  cup->humidifier.height_m = 0.12;
  cup->humidifier.output_kg_s = g_h * G_H;
  cup->humidifier.power_W = 2.5;
  cup->humidifier.duty_day = 1.0;
  return cup;
}

/* --- where the fan stands ----------------------------------------------------------------- */

/* Water given off on a middle shelf. Drawn: a fan in the wall takes the air out high up, past a
 * low inlet. Stirred: the same fan stands free, down inside, beside a flap that is raised by
 * two fingers. */
static DewForecast *
watered_house (DewMistKind technology, gboolean drawn)
{
  g_autoptr (DewChamber) house = film_house (22.0, 0.5, DEW_SHELF_WIRE, 0.86);
  DewThing *fan;

  add_mist_cup (house, 0.5, 0.25, shelf_top_m (2), 30.0)->humidifier.technology = technology;
  if (drawn)
    {
      fan = add_small_fan (house, 0.35, CLEAR_Y_M, 1.40, 30.0);
      fan->fan.mount = DEW_FAN_IN_WALL;
      fan->fan.face = DEW_FACE_BACK;
      fan->fan.sense = DEW_BLOWS_OUT;
      add_hole (house, DEW_FACE_FRONT, 0.20, 0.50, 0.05, 0.10);
    }
  else
    {
      fan = add_small_fan (house, 0.15, 0.15, 0.15, 30.0);
      fan->fan.azimuth_rad = 0.6;
      fan->fan.elevation_rad = 0.6;
      add_hole (house, DEW_FACE_FRONT, 0.05, 0.65, 0.0, 0.02);
    }
  return forecast_by_day (house, DEW_GRID_DRAFT);
}

/* Steam, drawn out above, leaves the shelves below as dry as the room; stirred it comes round
 * to them. Cold mist takes 20 W from the air as it evaporates, and that sinks as a plume
 * whatever draws above (Morton, Taylor & Turner, Proc. R. Soc. A 234, 1956): of it only the
 * droplets stay away from below. Fails without the thrust of the free fan, and without the
 * flow of the one in the wall. */
static void
test_fan_through_high_opening (void)
{
  g_autoptr (DewForecast) steam_drawn = watered_house (DEW_MIST_STEAM, TRUE);
  g_autoptr (DewForecast) steam_stirred = watered_house (DEW_MIST_STEAM, FALSE);
  g_autoptr (DewForecast) drawn = watered_house (DEW_MIST_ULTRASONIC, TRUE);
  g_autoptr (DewForecast) stirred = watered_house (DEW_MIST_ULTRASONIC, FALSE);

  for (int bay = 0; bay < 2; bay++)
    {
      const DewClimate *dry = &steam_drawn->bays[bay].mean;
      const DewClimate *damp = &steam_stirred->bays[bay].mean;

      g_assert_cmpfloat (dry->rh, <, steam_drawn->room_rh + 0.06);
      g_assert_cmpfloat (damp->rh, >, dry->rh + 0.15);
      g_assert_cmpfloat (damp->w_kg_kg, >, dry->w_kg_kg + 1e-3);

      dry = &drawn->bays[bay].mean;
      damp = &stirred->bays[bay].mean;
      /* Mist circles and comes down. */
      g_assert_cmpfloat (damp->mist_kg_kg, >, 1e-4);
      g_assert_cmpfloat (damp->mist_kg_kg, >, 10.0 * dry->mist_kg_kg);
      g_assert_cmpfloat (damp->wetting_kg_m2s, >, 10.0 * dry->wetting_kg_m2s);
    }
  /* Heavy with mist, air would only sink; the fan lifts it past the top shelf again. */
  g_assert_cmpfloat (stirred->bays[3].mean.mist_kg_kg, >, 0.5 * stirred->bays[1].mean.mist_kg_kg);
  /* Drawn out high up, the steam wets the air above where it is made more than below. */
  g_assert_cmpfloat (steam_drawn->bays[3].mean.w_kg_kg, >,
                     steam_drawn->bays[0].mean.w_kg_kg + 5e-4);
}

/* --- wet clay ----------------------------------------------------------------------------- */

/* Film house in a dry warm room, its shelves full so that three tenths lie open, cut open
 * at foot and head; `per_bay` pots on the floor and every shelf, or `on_shelf` on the
 * second shelf only, where a small fan blows across. */
static DewChamber *
clay_house (int per_bay, int on_shelf, double slot_m)
{
  DewChamber *chamber = film_house (24.0, 0.45, DEW_SHELF_PERFORATED, 0.30);

  add_small_fan (chamber, 0.08, 0.25, shelf_top_m (2) + 0.09, 20.0);
  if (slot_m > 0.0)
    {
      add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.65, 0.0, slot_m);
      add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.65, 1.54 - slot_m, 1.54);
    }
  for (int p = 0; p < on_shelf; p++)
    add_pot (chamber, 0.28 + 0.15 * p, 0.25, shelf_top_m (2), 0.11);
  for (int bay = 0; bay <= SHELVES; bay++)
    for (int p = 0; p < per_bay; p++)
      add_pot (chamber, 0.10 + 0.125 * (p % 5), p < 5 ? 0.36 : 0.14, shelf_top_m (bay), 0.11);
  return chamber;
}

/* Three 11 cm pots in a breeze cool the bay they stand in, the enclosure as a whole by less
 * than a cheap instrument shows; forty on all shelves cool it by a degree. Fails without
 * the evaporation of pots. */
static void
test_pots_cool_their_bay (void)
{
  g_autoptr (DewChamber) none = clay_house (0, 0, 0.08);
  g_autoptr (DewChamber) three = clay_house (0, 3, 0.08);
  g_autoptr (DewChamber) forty = clay_house (10, 0, 0.08);
  g_autoptr (DewForecast) without = forecast_by_day (none, DEW_GRID_DRAFT);
  g_autoptr (DewForecast) few = forecast_by_day (three, DEW_GRID_DRAFT);
  g_autoptr (DewForecast) many = forecast_by_day (forty, DEW_GRID_DRAFT);
  double own_K = without->bays[2].mean.t_C - few->bays[2].mean.t_C;
  double whole_K = without->all.t_C - few->all.t_C;

  g_test_message ("three pots: %.2f K in their bay, %.2f K as a whole; forty: %.2f K", own_K,
                  whole_K, without->all.t_C - many->all.t_C);
  g_assert_cmpfloat (own_K, >, 0.3);
  g_assert_cmpfloat (whole_K, <, 0.5);
  g_assert_cmpfloat (own_K, >, 1.3 * whole_K);
  for (int bay = 0; bay < few->n_bays; bay++)
    g_assert_true (bay == 2 || own_K > without->bays[bay].mean.t_C - few->bays[bay].mean.t_C);
  g_assert_cmpfloat (without->all.t_C - many->all.t_C, >, 1.0);
}

/* With the cover shut the same pots alone keep it humid. Fails without the evaporation of
 * pots. */
static void
test_pots_hold_humidity (void)
{
  g_autoptr (DewChamber) none = clay_house (0, 0, 0.0);
  g_autoptr (DewChamber) forty = clay_house (10, 0, 0.0);
  g_autoptr (DewForecast) without = forecast_by_day (none, DEW_GRID_DRAFT);
  g_autoptr (DewForecast) many = forecast_by_day (forty, DEW_GRID_DRAFT);

  g_assert_cmpfloat (many->exchange_1_s, <, 2.0 / 3600.0);
  for (int bay = 0; bay < many->n_bays; bay++)
    {
      g_assert_cmpfloat (without->bays[bay].mean.rh, <, 0.5);
      g_assert_cmpfloat (many->bays[bay].mean.rh, >, 0.80);
      g_assert_cmpfloat (many->bays[bay].mean.rh, <, 0.995);
    }
}

/* --- the usual film house ----------------------------------------------------------------- */

/* A mist cup turned down to 18 g/h, a small fan, the front film raised by two fingers and the
 * zip left open a little at the top: low twenties and 80 to 95 % (common practice, no source).
 * A weak check: the output is fitted. Fixed by hand, without a humidistat, 15 g/h give 79 to
 * 82 %, 20 g/h 90 to 96 % and 22 g/h 96 to 100 % in these rooms, so it shows that such a house
 * exists between them, not that the model finds the grower's humidity. Fails without the heat that
 * mist takes up as it evaporates. */
static void
test_usual_film_house (void)
{
  for (int room_C = 22; room_C <= 24; room_C++)
    {
      g_autoptr (DewChamber) chamber = film_house (room_C, 0.5, DEW_SHELF_WIRE, 0.86);
      g_autoptr (DewForecast) forecast = NULL;
      DewThing *fan = add_small_fan (chamber, 0.12, 0.12, 0.12, 30.0);

      fan->fan.azimuth_rad = fan->fan.elevation_rad = G_PI_4;
      fan->fan.power_W = 1.5;
      add_mist_cup (chamber, 0.5, 0.25, 0.0, 18.0);
      add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.65, 0.0, 0.02);
      add_hole (chamber, DEW_FACE_FRONT, 0.10, 0.20, 1.50, 1.52);
      forecast = forecast_by_day (chamber, DEW_GRID_SETTLED);
      g_test_message ("room %d C: %.1f C, %.0f %%", room_C, forecast->all.t_C,
                      100.0 * forecast->all.rh);
      g_assert_cmpfloat (forecast->all.t_C, >, 20.0);
      g_assert_cmpfloat (forecast->all.t_C, <, room_C - 0.5);
      g_assert_cmpfloat (forecast->all.rh, >, 0.80);
      g_assert_cmpfloat (forecast->all.rh, <, 0.95);
    }
}

/* --- wet surfaces and the wet bulb -------------------------------------------------------- */

/* Wet clay, moss and grit are cooler than the air round them and warmer than its wet bulb:
 * the thermodynamics of any evaporating surface that is warmed from around (Incropera et
 * al., Fundamentals of Heat and Mass Transfer, ch. 6: evaporative cooling). The radiation of
 * the warmer film only lifts them. Fails without the latent heat in the balance of a wet
 * surface. */
static void
test_between_air_and_wet_bulb (void)
{
  for (int n = 0; n < 4; n++)
    {
      g_autoptr (DewChamber) chamber
        = film_house (16.0 + 4.0 * n, 0.30 + 0.15 * n, DEW_SHELF_WIRE, 0.86);
      g_autoptr (DewForecast) forecast = NULL;
      guint ids[3];

      if (n % 2 == 1)
        add_small_fan (chamber, 0.08, 0.25, shelf_top_m (2) + 0.09, 20.0);
      add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.65, 0.0, 0.03);
      add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.65, 1.50, 1.53);
      ids[0] = add_pot (chamber, 0.35, 0.25, shelf_top_m (1), 0.12)->id;
      for (int tray = 0; tray < 2; tray++)
        {
          DewThing *thing = add_thing (chamber, DEW_THING_TRAY, 0.35, 0.25, shelf_top_m (2 + tray));

          thing->tray.surface = tray == 0 ? DEW_TRAY_MOSS : DEW_TRAY_GRIT;
          ids[1 + tray] = thing->id;
        }
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      for (int i = 0; i < 3; i++)
        {
          const DewDevice *wet = device_of (forecast, ids[i]);
          double warmest_C = -INFINITY, wet_bulb_C = INFINITY;

          for (int z = 0; z < forecast->n_zones; z++)
            {
              double t_C = forecast->value[DEW_VALUE_TEMPERATURE][z];

              warmest_C = MAX (warmest_C, t_C);
              wet_bulb_C
                = MIN (wet_bulb_C,
                       dew_moist_wet_bulb (t_C, forecast->value[DEW_VALUE_HUMIDITY_RATIO][z],
                                           forecast->pressure_Pa));
            }
          g_assert_cmpfloat (wet->t_C, <, warmest_C - 0.1);
          g_assert_cmpfloat (wet->t_C, <, forecast->bays[1 + i].mean.t_C);
          g_assert_cmpfloat (wet->t_C, >, wet_bulb_C);
          g_assert_cmpfloat (wet->water_kg_s, >, 0.0);
        }
    }
}

/* --- shut, dry, lit ----------------------------------------------------------------------- */

/* Lamps, and sun through the front, warm a shut and dry film house over its room, more of
 * them more. Fails without the heat of lamps or without the sun. */
static void
test_lit_is_warmer (void)
{
  static const double sun_W_m2[] = { 0.0, 100.0, 300.0 };
  double last_K = 0.0;

  for (int lamps = 1; lamps <= 2; lamps++)
    {
      g_autoptr (DewChamber) chamber = film_house (22.0, 0.5, DEW_SHELF_WIRE, 0.86);
      g_autoptr (DewForecast) forecast = NULL;

      for (int lamp = 0; lamp < lamps; lamp++)
        add_thing (chamber, DEW_THING_LAMP, 0.35, 0.25, lamp == 0 ? 1.45 : 0.70);
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      g_assert_cmpfloat (forecast->all.t_C - 22.0, >, MAX (0.2, 1.3 * last_K));
      for (int bay = 0; bay < forecast->n_bays; bay++)
        g_assert_cmpfloat (forecast->bays[bay].mean.t_C, >, 22.0);
      last_K = forecast->all.t_C - 22.0;
    }
  last_K = -1e-6;
  for (guint s = 0; s < G_N_ELEMENTS (sun_W_m2); s++)
    {
      g_autoptr (DewChamber) chamber = film_house (22.0, 0.5, DEW_SHELF_WIRE, 0.86);
      g_autoptr (DewForecast) forecast = NULL;

      chamber->room.sun_W_m2 = sun_W_m2[s];
      forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
      g_test_message ("sun %.0f W/m2: %.1f K", sun_W_m2[s], forecast->all.t_C - 22.0);
      g_assert_cmpfloat (forecast->all.t_C - 22.0, >, last_K);
      last_K = forecast->all.t_C - 22.0;
    }
  /* Growers speak of 35 C and more behind a sunny pane in a warm room. */
  g_assert_cmpfloat (last_K, >, 5.0);
  g_assert_cmpfloat (last_K, <, 25.0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trade/fan-through-high-opening", test_fan_through_high_opening);
  g_test_add_func ("/trade/pots-cool-their-bay", test_pots_cool_their_bay);
  g_test_add_func ("/trade/pots-hold-humidity", test_pots_hold_humidity);
  g_test_add_func ("/trade/usual-film-house", test_usual_film_house);
  g_test_add_func ("/trade/between-air-and-wet-bulb", test_between_air_and_wet_bulb);
  g_test_add_func ("/trade/lit-is-warmer", test_lit_is_warmer);
  return g_test_run ();
}
