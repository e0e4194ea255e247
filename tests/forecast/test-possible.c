/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "forecast/possible.h"

#include <string.h>

/* No number is shown that cannot be: the forecast says in words what asks for the impossible.
 * Where the limits lie is common practice, no source; that nothing is shown beyond them is what
 * is asked here. */

#define KG_H (1.0 / 3600.0)

static char *
refusal_of (const DewChamber *chamber)
{
  DewForecastOptions options;
  g_autoptr (GError) error = NULL;
  g_autoptr (DewForecast) f = NULL;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  f = dew_forecast_new (chamber, 0, &options, NULL, &error);
  if (f != NULL)
    g_test_message ("%.1f C, %.0f %%, mist %g kg/kg", f->all.t_C, 100.0 * f->all.rh,
                    f->all.mist_kg_kg);
  g_assert_null (f);
  g_assert_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_IMPOSSIBLE);
  g_test_message ("%s", error->message);
  return g_strdup (error->message);
}

/* Two kilowatts in an insulated box. */
static void
test_oven (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 20.0, 0.5);
  g_autofree char *said = NULL;
  DewThing *weak, *lamp;

  make_adiabatic (chamber, 2e-3);
  weak = add_thing (chamber, DEW_THING_MAT, 0.3, 0.25, 0.0);
  weak->mat.power_W = 5.0;
  g_strlcpy (weak->name, "the small mat", sizeof weak->name);
  lamp = add_thing (chamber, DEW_THING_LAMP, 0.3, 0.25, 0.7);
  lamp->lamp.power_W = 2000.0;
  lamp->lamp.length_m = 0.4;
  g_strlcpy (lamp->name, "the great lamp", sizeof lamp->name);
  said = refusal_of (chamber);
  g_assert_nonnull (strstr (said, "the great lamp"));
  g_assert_null (strstr (said, "the small mat"));
}

/* Thirty litres an hour into a box that little air leaves. */
static void
test_spray (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 20.0, 0.5);
  g_autofree char *said = NULL;
  DewThing *thing;

  make_adiabatic (chamber, 2e-4);
  thing = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.3, 0.25, 0.3);
  thing->humidifier.technology = DEW_MIST_ULTRASONIC;
  thing->humidifier.output_kg_s = 30.0 * KG_H;
  thing->humidifier.droplet_m = 8e-6;
  thing->humidifier.duty_day = 1.0;
  g_strlcpy (thing->name, "the fountain", sizeof thing->name);
  said = refusal_of (chamber);
  g_assert_nonnull (strstr (said, "the fountain"));
}

typedef struct
{
  const char *label;
  DewValue value;
  double becomes;
  double heat_residual, water_residual;
  gboolean possible;
} Row;

/* Numbers of a sound forecast made impossible, in a tenth of its zones. */
static void
test_each_limit (void)
{
  static const Row rows[] = {
    { "as it is", DEW_VALUE_AGE, 1.0, 1e-9, 1e-9, TRUE },
    { "hot", DEW_VALUE_TEMPERATURE, 95.0, 0.0, 0.0, FALSE },
    { "cold", DEW_VALUE_TEMPERATURE, -45.0, 0.0, 0.0, FALSE },
    { "less than none", DEW_VALUE_HUMIDITY_RATIO, -1e-3, 0.0, 0.0, FALSE },
    { "beyond saturation", DEW_VALUE_HUMIDITY_RATIO, 0.03, 0.0, 0.0, FALSE },
    { "spray", DEW_VALUE_MIST, 0.4, 0.0, 0.0, FALSE },
    { "heat missing", DEW_VALUE_AGE, 1.0, 0.02, 0.0, FALSE },
    { "water missing", DEW_VALUE_AGE, 1.0, 0.0, 0.02, FALSE },
  };

  for (guint r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.8, 20.0, 0.5);
      g_autoptr (DewForecast) f = NULL;
      g_autoptr (GError) error = NULL;

      add_thing (chamber, DEW_THING_MAT, 0.3, 0.25, 0.0);
      add_pot (chamber, 0.3, 0.25, 0.3, 0.1);
      f = forecast_by_day (chamber, DEW_GRID_DRAFT);
      f->state = DEW_FORECAST_SETTLED;
      for (int z = 0; z < f->n_zones / 10; z++)
        f->value[rows[r].value][z] = rows[r].becomes;
      f->balance.heat_residual = rows[r].heat_residual;
      f->balance.heat_source_W += rows[r].heat_residual * 10.0;
      f->balance.water_residual = rows[r].water_residual;
      f->balance.water_device_kg_s += rows[r].water_residual * 1e-5;
      g_test_message ("%s", rows[r].label);
      g_assert_cmpint (dew_forecast_check_possible (f, dew_chamber_shown (chamber), &error), ==,
                       rows[r].possible);
      g_assert_true (rows[r].possible == (error == NULL));
    }
}

/* A small heater of 80 W warms a box by some 20 K, and the air right over it by more than the
 * enclosure may; and air that carries no heat at all has none to miss. Neither is impossible. */
static void
test_small_heater (void)
{
  g_autoptr (DewChamber) hot = film_enclosure (0.6, 0.5, 0.8, 20.0, 0.5);
  g_autoptr (DewChamber) plain = film_enclosure (0.6, 0.5, 0.8, 20.0, 0.5);
  g_autoptr (DewForecast) f = NULL, g = NULL;
  double hottest_C = 0.0;
  DewThing *thing;

  for (int n = 0; n < 2; n++)
    {
      DewChamber *chamber = n ? plain : hot;

      make_adiabatic (chamber, 5e-4);
      add_hole (chamber, DEW_FACE_LEFT, 0.1, 0.4, 0.05, 0.15);
      add_hole (chamber, DEW_FACE_RIGHT, 0.1, 0.4, 0.65, 0.75);
    }
  thing = add_thing (hot, DEW_THING_SOURCE, 0.3, 0.25, 0.0);
  thing->source.width_m = thing->source.depth_m = thing->source.height_m = 0.02;
  thing->source.heat_W = 80.0;
  thing = add_thing (plain, DEW_THING_SOURCE, 0.3, 0.25, 0.0);
  thing->source.heat_W = 0.0;
  thing->source.vapour_kg_s = 10e-3 / 3600.0;
  thing->source.latent_from_air = FALSE;
  f = forecast_by_day (hot, DEW_GRID_SETTLED);
  g = forecast_by_day (plain, DEW_GRID_DRAFT);
  for (int z = 0; z < f->n_zones; z++)
    hottest_C = MAX (hottest_C, f->value[DEW_VALUE_TEMPERATURE][z]);
  g_test_message ("%.1f C, over the heater %.1f C", f->all.t_C, hottest_C);
  g_assert_cmpfloat (f->all.t_C, <, 50.0);
  g_assert_cmpfloat (hottest_C, >, 90.0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/possible/oven", test_oven);
  g_test_add_func ("/possible/spray", test_spray);
  g_test_add_func ("/possible/each-limit", test_each_limit);
  g_test_add_func ("/possible/small-heater", test_small_heater);
  return g_test_run ();
}
