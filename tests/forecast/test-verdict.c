/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verdicts on places and bays, and the working points of devices. */
#include "say/findings.h"
#include "say/where.h"
#include "forecast/verdict.h"
#include "forecast/working.h"
#include "moist/moist.h"

#include "enclosure.h"

#include <math.h>
#include <string.h>

#define P0 101325.0

/* --- verdicts ----------------------------------------------------------- */

/* Two bays of two places, left and right; pleasant air but where a test spoils it. */
typedef struct
{
  DewChamber chamber;
  DewVariant variant;
  DewForecast forecast;
  DewBay bays[2];
  DewPlace places[4];
  DewDevice device;
} Bench;

static void
set_up (Bench *bench, gconstpointer data)
{
  DewClimate air = { .t_C = 18.0,
                     .rh = 0.80,
                     .t_band_K = NAN,
                     .rh_band = NAN,
                     .speed_m_s = 0.25,
                     .age_s = 1200.0,
                     .ppfd_mol_m2s = 80e-6 };

  memset (bench, 0, sizeof *bench);
  air.w_kg_kg = dew_moist_w_from_rh (air.t_C, air.rh, P0);
  air.vpd_Pa = dew_moist_vpd (air.t_C, air.w_kg_kg, P0);
  bench->variant.things = g_array_new (FALSE, TRUE, sizeof (DewThing));
  bench->forecast.pressure_Pa = P0;
  bench->forecast.inner_m[0] = bench->chamber.outer_m[0] = 0.8;
  bench->forecast.inner_m[1] = bench->chamber.outer_m[1] = 0.5;
  bench->forecast.inner_m[2] = bench->chamber.outer_m[2] = 1.0;
  bench->forecast.all = air;
  bench->forecast.n_bays = 2;
  bench->forecast.bays = bench->bays;
  bench->forecast.n_places = 4;
  bench->forecast.places = bench->places;
  for (int i = 0; i < 4; i++)
    {
      bench->bays[i / 2] = (DewBay){
        .z0_m = 0.5 * (i / 2), .z1_m = 0.5 * (i / 2 + 1), .shelf_id = i / 2, .mean = air
      };
      bench->places[i] = (DewPlace){ .bay = i / 2,
                                     .column = i % 2,
                                     .lo_m = { 0.4 * (i % 2), 0.0, 0.5 * (i / 2) },
                                     .hi_m = { 0.4 * (i % 2 + 1), 0.5, 0.5 * (i / 2) + 0.25 },
                                     .mean = air };
    }
}

static void
tear_down (Bench *bench, gconstpointer data)
{
  g_array_unref (bench->variant.things);
  g_free (bench->forecast.findings);
}

static void
judge (Bench *bench)
{
  dew_findings_make (&bench->chamber, &bench->variant, NULL, NULL, &bench->forecast);
}

static void
make_still (Bench *bench, int place, double speed_m_s)
{
  bench->places[place].mean.speed_m_s = speed_m_s;
  bench->places[place].mean.age_s = 9000.0;
}

static void
test_fine (Bench *bench, gconstpointer data)
{
  judge (bench);
  for (int place = 0; place < 4; place++)
    g_assert_cmpint (dew_place_verdict (&bench->forecast, place), ==, DEW_VERDICT_FINE);
  g_assert_cmpint (dew_bay_verdict (&bench->forecast, 0), ==, DEW_VERDICT_FINE);
  g_assert_cmpint (dew_bay_worst_place (&bench->forecast, 0), ==, -1);
}

/* The list has one finding of a kind per bay; the places know it each for itself. */
static void
test_each_place (Bench *bench, gconstpointer data)
{
  make_still (bench, 2, 0.04);
  make_still (bench, 3, 0.01);
  judge (bench);
  g_assert_cmpint (bench->forecast.n_findings, ==, 1);
  g_assert_cmpint (dew_place_verdict (&bench->forecast, 0), ==, DEW_VERDICT_FINE);
  g_assert_cmpint (dew_place_verdict (&bench->forecast, 1), ==, DEW_VERDICT_FINE);
  g_assert_cmpint (dew_place_verdict (&bench->forecast, 2), ==, DEW_VERDICT_LOOK);
  g_assert_cmpint (dew_place_verdict (&bench->forecast, 3), ==, DEW_VERDICT_LOOK);
  g_assert_cmpint (bench->places[3].worst, ==, DEW_FINDING_STILL);
  g_assert_cmpint (dew_bay_verdict (&bench->forecast, 0), ==, DEW_VERDICT_FINE);
  g_assert_cmpint (dew_bay_verdict (&bench->forecast, 1), ==, DEW_VERDICT_LOOK);
  g_assert_cmpint (dew_bay_worst_place (&bench->forecast, 1), ==, 3);

  /* What is mended is forgotten. */
  make_still (bench, 2, 0.3);
  make_still (bench, 3, 0.3);
  judge (bench);
  g_assert_cmpint (dew_place_verdict (&bench->forecast, 3), ==, DEW_VERDICT_FINE);
  g_assert_cmpint (dew_bay_worst_place (&bench->forecast, 1), ==, -1);
}

/* Dead air where a plant stands is to be acted on; the plant's own row says so too. */
static void
test_plant (Bench *bench, gconstpointer data)
{
  DewThing plant = { .id = 7, .kind = DEW_THING_PLANT, .name = "Fern" };

  plant.plant.x_m = 0.2;
  plant.plant.y_m = 0.25;
  plant.plant.mass_kg = 0.3;
  g_array_append_val (bench->variant.things, plant);
  bench->device.thing_id = 7;
  bench->forecast.n_devices = 1;
  bench->forecast.devices = &bench->device;
  make_still (bench, 0, 0.01);
  judge (bench);
  g_assert_cmpint (dew_place_verdict (&bench->forecast, 0), ==, DEW_VERDICT_ACT);
  g_assert_cmpint (dew_place_verdict (&bench->forecast, 1), ==, DEW_VERDICT_FINE);
  g_assert_cmpint (dew_bay_verdict (&bench->forecast, 0), ==, DEW_VERDICT_ACT);
  g_assert_cmpint (dew_thing_verdict (&bench->forecast, 7), ==, DEW_VERDICT_ACT);
  g_assert_cmpint (dew_thing_verdict (&bench->forecast, 8), ==, DEW_VERDICT_FINE);
}

/* A heavy shelf and mains voltage say something of the bay, nothing of the air of a
 * place. */
static void
test_things (Bench *bench, gconstpointer data)
{
  DewThing lamp = { .id = 3, .kind = DEW_THING_LAMP, .name = "Lamp" };

  lamp.lamp.x_m = 0.2;
  lamp.lamp.y_m = 0.25;
  lamp.lamp.z_m = 0.4;
  g_array_append_val (bench->variant.things, lamp);
  judge (bench);
  g_assert_cmpint (dew_bay_verdict (&bench->forecast, 0), ==, DEW_VERDICT_LOOK);
  g_assert_cmpint (dew_place_verdict (&bench->forecast, 0), ==, DEW_VERDICT_FINE);
}

static void
test_words (Bench *bench, gconstpointer data)
{
  const double corner[3] = { 0.79, 0.49, 0.6 }, middle[3] = { 0.4, 0.25, 0.1 };
  g_autofree char *back = dew_forecast_where (&bench->forecast, 1, corner);
  g_autofree char *floor = dew_forecast_where (&bench->forecast, 0, middle);
  g_autofree char *outside = dew_forecast_where (&bench->forecast, -1, corner);

  g_assert_cmpstr (back, ==, "lowest shelf right back");
  g_assert_cmpstr (floor, ==, "floor middle");
  g_assert_cmpstr (outside, ==, "outside the shelves");
  for (DewFindingKind kind = 0; kind < DEW_N_FINDINGS; kind++)
    g_assert_cmpuint (strlen (dew_finding_kind_word (kind)), >, 0);
  g_assert_cmpstr (dew_verdict_word (DEW_VERDICT_LOOK), ==, "look");
}

/* --- working points ------------------------------------------------------ */

/* The fan laws: Q ~ n, dp ~ n^2 (ASHRAE Handbook, HVAC Systems and Equipment, ch.
 * Fans; from memory). */
static void
test_fan_curve (void)
{
  DewFan fan = { .free_delivery_m3_s = 0.02, .stall_pressure_Pa = 30.0 };

  g_assert_cmpfloat_with_epsilon (dew_fan_pressure_Pa (&fan, 1.0, 0.0), 30.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (dew_fan_pressure_Pa (&fan, 1.0, 0.02), 0.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (dew_fan_pressure_Pa (&fan, 0.5, 0.0), 7.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (dew_fan_pressure_Pa (&fan, 0.5, 0.01), 0.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (dew_fan_pressure_Pa (&fan, 0.5, 0.005), 3.75, 1e-9);
  g_assert_cmpfloat (dew_fan_pressure_Pa (&fan, 0.0, 0.01), ==, 0.0);
}

/* A fan that draws from a tight box with one sharp-edged hole of 20 cm2 runs where its
 * characteristic meets dp = rho/2 (Q / (Cd A))^2 (orifice equation, ASHRAE Handbook of
 * Fundamentals 2009, ch. 16, eq. 37; Cd 0.61 as given to the hole). The rest of the
 * fall in pressure, through the box itself, is small beside it. */
static void
test_wall_fan (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 20.0, 0.6);
  g_autoptr (DewForecast) forecast = NULL;
  const double k = 0.5 * 1.2 / (0.61 * 0.002 * 0.61 * 0.002);
  const double slope = 30.0 / 0.02;
  double q = (sqrt (slope * slope + 4.0 * k * 30.0) - slope) / (2.0 * k);
  DewWorking point;
  DewThing *fan;
  guint id;

  chamber->leak_area_m2 = 0.0;
  add_hole (chamber, DEW_FACE_LEFT, 0.2, 0.25, 0.1, 0.14);
  fan = add_thing (chamber, DEW_THING_FAN, 0.3, 0.5, 0.6);
  id = fan->id;
  fan->fan.mount = DEW_FAN_IN_WALL;
  fan->fan.face = DEW_FACE_BACK;
  fan->fan.sense = DEW_BLOWS_OUT;
  fan->fan.free_delivery_m3_s = 0.02;
  fan->fan.stall_pressure_Pa = 30.0;
  fan->fan.speed_day = 1.0;
  fan->fan.power_W = 3.0;
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  g_assert_true (dew_working_point (forecast, chamber, thing_of (chamber, id), &point));
  g_test_message ("%g m3/s at %g Pa, orifice %g m3/s", point.flow_m3_s, point.pressure_Pa, q);
  g_assert_true (point.in_wall);
  g_assert_cmpfloat_with_epsilon (point.flow_m3_s, q, 0.05 * q);
  g_assert_cmpfloat_with_epsilon (point.pressure_Pa, k * q * q, 0.10 * k * q * q);
  g_assert_cmpfloat_with_epsilon (point.pressure_Pa,
                                  dew_fan_pressure_Pa (&thing_of (chamber, id)->fan, 1.0,
                                                       point.flow_m3_s),
                                  0.3);
  g_assert_cmpfloat_with_epsilon (point.power_W, 3.0, 1e-9);
}

/* A free fan has the same air before and behind: free delivery at no rise. Its jet's
 * momentum is rho Q^2 / A (Rajaratnam 1976, Turbulent Jets, ch. 1). */
static void
test_free_fan (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 20.0, 0.6);
  g_autoptr (DewForecast) forecast = NULL;
  DewThing *fan = add_thing (chamber, DEW_THING_FAN, 0.2, 0.25, 0.3);
  guint id = fan->id;
  DewWorking point;

  fan->fan.free_delivery_m3_s = 0.02;
  fan->fan.diameter_m = 0.12;
  fan->fan.speed_day = 0.5;
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  g_assert_true (dew_working_point (forecast, chamber, thing_of (chamber, id), &point));
  g_assert_false (point.in_wall);
  g_assert_cmpfloat_with_epsilon (point.flow_m3_s, 0.01, 1e-12);
  g_assert_cmpfloat (point.pressure_Pa, ==, 0.0);
  /* 1.2 kg/m3 * (0.01 m3/s)^2 / 0.01131 m2 */
  g_assert_cmpfloat_with_epsilon (point.thrust_N, 0.0106, 0.0003);
}

/* A wet pot is colder than its air, but not colder than the wet bulb; a lamp turns all
 * it draws into light and heat. */
static void
test_others (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 20.0, 0.6);
  g_autoptr (DewForecast) forecast = NULL;
  guint pot = add_pot (chamber, 0.3, 0.25, 0.0, 0.2)->id, lamp;
  DewThing *thing = add_thing (chamber, DEW_THING_LAMP, 0.3, 0.25, 0.75);
  DewWorking point;

  lamp = thing->id;
  thing->lamp.power_W = 20.0;
  thing->lamp.on_day = 0.5;
  forecast = forecast_by_day (chamber, DEW_GRID_DRAFT);
  g_assert_true (dew_working_point (forecast, chamber, thing_of (chamber, pot), &point));
  g_assert_cmpfloat (point.below_air_K, >, 0.0);
  g_assert_cmpfloat (point.t_C, >,
                     dew_moist_wet_bulb (forecast->all.t_C, forecast->all.w_kg_kg,
                                         forecast->pressure_Pa)
                       - 0.5);
  g_assert_cmpfloat (point.water_kg_s, >, 0.0);
  g_assert_cmpfloat_with_epsilon (point.hours_of_water,
                                  thing_of (chamber, pot)->pot.water_kg / point.water_kg_s / 3600.0,
                                  1e-6);
  g_assert_true (dew_working_point (forecast, chamber, thing_of (chamber, lamp), &point));
  g_assert_cmpfloat_with_epsilon (point.power_W, 10.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (point.light_W + point.heat_W, 10.0, 1e-9);
  g_assert_cmpfloat (point.ppfd_least_mol_m2s, <=, point.ppfd_mean_mol_m2s);
  g_assert_cmpfloat (point.ppfd_mean_mol_m2s, <=, point.ppfd_most_mol_m2s);
  g_assert_cmpfloat (point.ppfd_least_mol_m2s, >, 0.0);
}

#define ADD(name, function) g_test_add (name, Bench, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  ADD ("/verdict/fine", test_fine);
  ADD ("/verdict/each-place", test_each_place);
  ADD ("/verdict/plant", test_plant);
  ADD ("/verdict/things", test_things);
  ADD ("/verdict/words", test_words);
  g_test_add_func ("/working/fan-curve", test_fan_curve);
  g_test_add_func ("/working/wall-fan", test_wall_fan);
  g_test_add_func ("/working/free-fan", test_free_fan);
  g_test_add_func ("/working/others", test_others);
  return g_test_run ();
}
