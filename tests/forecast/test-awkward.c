/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"

#include <math.h>
#include <string.h>

/* What a grower may well put in by mistake, or has to: a clear message, or an honest answer in
 * numbers. What is asked for is only that; no other source is needed. */

static DewForecast *
try_forecast (const DewChamber *chamber, GError **error)
{
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  return dew_forecast_new (chamber, 0, &options, NULL, error);
}

static void
assert_message (const DewChamber *chamber, const char *about, const char *advice)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewForecast) forecast = try_forecast (chamber, &error);

  g_assert_null (forecast);
  g_assert_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, about));
  g_assert_nonnull (strstr (error->message, advice));
}

/* What holds of any picture, of one on the way to its answer too. */
static void
assert_possible (const DewForecast *f)
{
  const DewBalance *b = &f->balance;

  for (int z = 0; z < f->n_zones; z++)
    {
      g_assert_true (isfinite (f->value[DEW_VALUE_TEMPERATURE][z]
                               + f->value[DEW_VALUE_HUMIDITY_RATIO][z] + f->value[DEW_VALUE_VPD][z]
                               + f->value[DEW_VALUE_SPEED][z] + f->value[DEW_VALUE_MIST][z]
                               + f->value[DEW_VALUE_WETTING][z] + f->value[DEW_VALUE_PPFD][z]));
      g_assert_true (f->value[DEW_VALUE_RH][z] >= 0.0 && f->value[DEW_VALUE_RH][z] <= 1.0);
      g_assert_cmpfloat (f->value[DEW_VALUE_HUMIDITY_RATIO][z], >, -1e-9);
    }
  g_assert_true (isfinite (b->heat_source_W + b->heat_latent_W + b->heat_surface_W
                           + b->heat_openings_W + b->heat_cover_W + b->water_device_kg_s
                           + b->water_surface_kg_s + b->water_openings_kg_s + b->water_cover_kg_s
                           + b->water_fallout_kg_s));
}

static void
assert_numbers (const DewForecast *f)
{
  const DewBalance *b = &f->balance;

  assert_possible (f);
  g_assert_cmpfloat (b->heat_residual, <, 1e-6);
  g_assert_cmpfloat (b->water_residual, <, 1e-6);
}

/* A film house of two bays with a pot, a plant and a mister in it. */
static DewChamber *
film_house (double room_t_C, double room_rh)
{
  DewChamber *chamber = film_enclosure (0.6, 0.5, 0.9, room_t_C, room_rh);
  DewThing *thing;

  add_shelf (chamber, 0.40, DEW_SHELF_WIRE, 0.86);
  add_pot (chamber, 0.15, 0.25, 0.406, 0.12);
  thing = add_thing (chamber, DEW_THING_PLANT, 0.40, 0.25, 0.45);
  g_strlcpy (thing->plant.species, "Dracula", sizeof thing->plant.species);
  thing = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.40, 0.25, 0.0);
  thing->humidifier.output_kg_s = 10e-3 / 3600.0;
  thing->humidifier.duty_day = 1.0;
  return chamber;
}

static DewThing *
first_of (DewChamber *chamber, DewThingKind kind)
{
  GArray *things = dew_chamber_shown (chamber)->things;

  for (guint t = 0; t < things->len; t++)
    if (g_array_index (things, DewThing, t).kind == kind)
      return &g_array_index (things, DewThing, t);
  g_assert_not_reached ();
}

static void
test_humidistat_without_place (void)
{
  g_autoptr (DewChamber) chamber = film_house (20.0, 0.5);
  g_autoptr (DewForecast) forecast = NULL;
  DewThing *humidifier = first_of (chamber, DEW_THING_HUMIDIFIER);
  guint instrument;

  humidifier->humidifier.set_rh = 0.8;
  instrument = add_thing (chamber, DEW_THING_INSTRUMENT, 0.3, 0.25, 0.6)->id;
  humidifier = first_of (chamber, DEW_THING_HUMIDIFIER);
  humidifier->humidifier.sensor_id = (int) instrument;
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  assert_numbers (forecast);
  dew_variant_remove (dew_chamber_shown (chamber), instrument);
  assert_message (chamber, "instrument", "choose another");
  /* One that points at something else than an instrument is no better. */
  first_of (chamber, DEW_THING_HUMIDIFIER)->humidifier.sensor_id
    = (int) first_of (chamber, DEW_THING_POT)->id;
  assert_message (chamber, "instrument", "choose another");
}

static void
test_pot_wider_than_its_shelf (void)
{
  g_autoptr (DewChamber) chamber = film_house (20.0, 0.5);

  first_of (chamber, DEW_THING_SHELF)->shelf.gap_front_m = 0.22;
  first_of (chamber, DEW_THING_SHELF)->shelf.gap_back_m = 0.22;
  assert_message (chamber, "wide", "smaller pot");
}

static void
test_plant_taller_than_its_bay (void)
{
  g_autoptr (DewChamber) chamber = film_house (20.0, 0.5);
  g_autoptr (DewForecast) forecast = NULL;

  /* It grows on through the wires of the shelf above. */
  first_of (chamber, DEW_THING_PLANT)->plant.z_m = 0.05;
  first_of (chamber, DEW_THING_PLANT)->plant.height_m = 0.60;
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  assert_numbers (forecast);
  /* Through the roof it does not. */
  first_of (chamber, DEW_THING_PLANT)->plant.height_m = 1.20;
  assert_message (chamber, "high", "smaller");
}

/* Nothing given off is as nothing there. */
static void
test_zero_output (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.9, 20.0, 0.5);
  g_autoptr (DewForecast) forecast = NULL;
  DewThing *thing = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.40, 0.25, 0.0);
  guint id = thing->id;

  thing->humidifier.output_kg_s = 0.0;
  thing->humidifier.power_W = 0.0;
  thing->humidifier.outlet_speed_m_s = 0.0;
  thing->humidifier.set_rh = 0.9;
  add_thing (chamber, DEW_THING_FAN, 0.2, 0.25, 0.2)->fan.free_delivery_m3_s = 0.0;
  first_of (chamber, DEW_THING_FAN)->fan.power_W = 0.0;
  add_thing (chamber, DEW_THING_LAMP, 0.3, 0.25, 0.8)->lamp.power_W = 0.0;
  add_thing (chamber, DEW_THING_PLANT, 0.2, 0.25, 0.05)->plant.leaf_area_m2 = 0.0;
  add_pot (chamber, 0.45, 0.10, 0.0, 0.1)->pot.wetted_fraction = 0.0;
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  assert_numbers (forecast);
  g_assert_cmpfloat_with_epsilon (forecast->all.t_C, 20.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (forecast->all.rh, 0.5, 1e-6);
  g_assert_cmpfloat (device_of (forecast, id)->water_kg_s, ==, 0.0);
  g_assert_cmpfloat (device_of (forecast, id)->hours_of_water, ==, INFINITY);
}

/* Rooms from a dry frost to a wet heat: an answer, or words about the humidity. */
static void
test_extreme_rooms (void)
{
  static const double t_C[] = { -15.0, -2.0, 0.0, 20.0, 40.0 };
  static const double rh[] = { 0.0, 0.02, 0.5, 1.0 };

  for (guint t = 0; t < G_N_ELEMENTS (t_C); t++)
    for (guint r = 0; r < G_N_ELEMENTS (rh); r++)
      {
        g_autoptr (DewChamber) chamber = film_house (t_C[t], rh[r]);
        g_autoptr (GError) error = NULL;
        g_autoptr (DewForecast) forecast = try_forecast (chamber, &error);

        if (forecast == NULL)
          {
            /* There is no air without any vapour in a home. */
            g_assert_cmpfloat (rh[r], ==, 0.0);
            g_assert_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID);
            g_assert_nonnull (strstr (error->message, "humidity"));
            continue;
          }
        assert_numbers (forecast);
        g_assert_cmpfloat (fabs (forecast->all.t_C - t_C[t]), <, 15.0);
        /* All that stands in it gives off water. */
        g_assert_cmpfloat (forecast->all.w_kg_kg, >, 0.98 * forecast->room_w_kg_kg);
      }
}

/* Air that is blown in must get out, water must leave somehow. */
static void
test_no_way_out (void)
{
  g_autoptr (DewChamber) chamber = film_house (20.0, 0.5);
  DewThing *duct;

  make_adiabatic (chamber, 0.0);
  assert_message (chamber, "Water", "open something");
  duct = add_hole (chamber, DEW_FACE_LEFT, 0.1, 0.2, 0.1, 0.2);
  duct->opening.kind = DEW_OPENING_DUCT;
  duct->opening.duct_flow_m3_s = 0.01;
  assert_message (chamber, "blown", "open something");
}

/* A duct whose shutter is all but closed, and yet all of its flow: it is named. */
static void
test_duct_too_narrow (void)
{
  g_autoptr (DewChamber) chamber = film_house (20.0, 0.5);
  g_autoptr (DewForecast) forecast = NULL;
  DewThing *duct = add_hole (chamber, DEW_FACE_LEFT, 0.1, 0.2, 0.1, 0.2);

  g_strlcpy (duct->name, "Grey hose", sizeof duct->name);
  duct->opening.kind = DEW_OPENING_DUCT;
  duct->opening.duct_flow_m3_s = -0.02;
  duct->opening.free_ratio = 0.03;
  assert_message (chamber, "Grey hose", "open it wider");
  first_of (chamber, DEW_THING_OPENING)->opening.free_ratio = 0.5;
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  assert_numbers (forecast);
}

/* A box that air is led through, with a fan of 10 cm and a given free delivery. */
static DewChamber *
windy_box (double delivery_m3_h)
{
  DewChamber *chamber = film_enclosure (0.6, 0.5, 0.9, 20.0, 0.5);
  DewThing *thing;

  make_adiabatic (chamber, 0.0);
  thing = add_hole (chamber, DEW_FACE_LEFT, 0.15, 0.35, 0.05, 0.15);
  thing->opening.kind = DEW_OPENING_DUCT;
  thing->opening.duct_flow_m3_s = 40.0 / 3600.0;
  add_hole (chamber, DEW_FACE_RIGHT, 0.15, 0.35, 0.75, 0.85);
  thing = add_thing (chamber, DEW_THING_FAN, 0.12, 0.25, 0.15);
  thing->fan.diameter_m = 0.10;
  thing->fan.free_delivery_m3_s = delivery_m3_h / 3600.0;
  thing->fan.elevation_rad = 0.6;
  return chamber;
}

/* A fan too strong for its enclosure is no reason to say nothing: its air is as fast as it is. Nor
 * is one that grows strong while a gentle one is followed. */
static void
test_strong_fan (void)
{
  static const double delivery_m3_h[] = { 160.0, 240.0, 320.0, 550.0 };

  for (guint i = 0; i < G_N_ELEMENTS (delivery_m3_h); i++)
    {
      double speed_m_s = delivery_m3_h[i] / 3600.0 / (G_PI / 4.0 * 0.10 * 0.10);
      g_autoptr (DewChamber) gentle = windy_box (10.0);
      g_autoptr (DewChamber) strong = windy_box (delivery_m3_h[i]);
      g_autoptr (DewForecast) forecast = forecast_by_day (strong, DEW_GRID_DRAFT);
      g_autoptr (DewForecaster) forecaster = dew_forecaster_new ();
      g_autoptr (DewForecast) before = NULL, after = NULL;
      g_autoptr (GError) error = NULL;
      DewForecastOptions options;

      assert_numbers (forecast);
      g_assert_cmpfloat (forecast->all.speed_m_s, <, speed_m_s);
      g_assert_cmpfloat (forecast->all.speed_m_s, >, 0.05 * speed_m_s);
      dew_forecast_options_init (&options);
      before = dew_forecaster_follow (forecaster, gentle, 0, &options, 0.0, NULL, &error);
      g_assert_no_error (error);
      after = dew_forecaster_follow (forecaster, strong, 0, &options, 0.0, NULL, &error);
      g_assert_no_error (error);
      /* It marches: what the air gives up in these steps is in no steady balance. */
      assert_possible (after);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/awkward/humidistat-without-place", test_humidistat_without_place);
  g_test_add_func ("/awkward/pot-wider-than-its-shelf", test_pot_wider_than_its_shelf);
  g_test_add_func ("/awkward/plant-taller-than-its-bay", test_plant_taller_than_its_bay);
  g_test_add_func ("/awkward/zero-output", test_zero_output);
  g_test_add_func ("/awkward/extreme-rooms", test_extreme_rooms);
  g_test_add_func ("/awkward/no-way-out", test_no_way_out);
  g_test_add_func ("/awkward/duct-too-narrow", test_duct_too_narrow);
  g_test_add_func ("/awkward/strong-fan", test_strong_fan);
  return g_test_run ();
}
