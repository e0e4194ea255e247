/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long it takes to say which plant stands where. */
#include "bench.h"

#include "advice/assign/assign.h"
#include "store/store.h"

#include <math.h>

#define PLANTS 200
#define SHELVES 4
#define MOST_S 60.0

static DewForecast *
draft (const DewChamber *chamber, gboolean night, GError **error)
{
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  options.night = night;
  return dew_forecast_new (chamber, 0, &options, NULL, error);
}

/* The assignment without the forecasts it is made on; NULL when it failed and that has been
 * said. */
static DewAssignment *
assign (Bench *bench, DewChamber *chamber, const char *what)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewForecast) day = draft (chamber, FALSE, &error);
  g_autoptr (DewForecast) night = day != NULL ? draft (chamber, TRUE, &error) : NULL;
  DewAssignOptions options;
  DewAssignment *assignment = NULL;

  dew_assign_options_init (&options);
  options.seconds = MOST_S;
  options.lookup = dew_catalogue_plant_kind;
  options.lookup_data = chamber;
  if (night != NULL)
    assignment = dew_assign_new (chamber, 0, day, night, &options, NULL, &error);
  if (assignment == NULL)
    bench_leave_out (bench, "%s: %s", what, error->message);
  return assignment;
}

static void
tell (Bench *bench, const Figure *figure, const DewAssignment *a)
{
  Figure row = *figure;

  row.value = a->seconds;
  bench_add (bench, &row, "%d plants, %d places, %s; %d have a place", a->n_plants, a->n_spots / 4,
             a->proven ? "proven" : "not proven", a->n_placed + a->n_kept + a->n_suffer);
}

/* An invented house with as many places as plants, and kinds in the order of the catalogue. */
static DewChamber *
large_house (void)
{
  DewChamber *chamber = dew_chamber_new ();
  DewVariant *variant = dew_chamber_shown (chamber);
  const DewCatalogue *plants = dew_catalogue ("plants");
  DewThing lamp;

  chamber->outer_m[0] = 1.5;
  chamber->outer_m[1] = 0.6;
  chamber->outer_m[2] = 2.0;
  for (int month = 0; month < 12; month++)
    {
      chamber->room.months[month].t_day_C = 19.0;
      chamber->room.months[month].t_night_C = 14.0;
      chamber->room.months[month].rh_day = chamber->room.months[month].rh_night = 0.8;
    }
  for (int s = 1; s <= SHELVES; s++)
    {
      DewThing shelf;

      dew_thing_init (&shelf, DEW_THING_SHELF);
      shelf.shelf.z_m = 0.4 * s;
      shelf.shelf.load_limit_kg = 40.0;
      dew_variant_add (chamber, variant, &shelf);
    }
  for (int s = 0; s <= SHELVES; s++)
    {
      DewThing fan;

      dew_thing_init (&fan, DEW_THING_FAN);
      fan.fan.x_m = 0.1;
      fan.fan.y_m = 0.3;
      fan.fan.z_m = 0.4 * s + 0.25;
      dew_variant_add (chamber, variant, &fan);
      dew_thing_init (&lamp, DEW_THING_LAMP);
      lamp.lamp.x_m = 0.75;
      lamp.lamp.y_m = 0.3;
      lamp.lamp.z_m = 0.4 * (s + 1) - 0.05;
      lamp.lamp.length_m = 1.2;
      lamp.lamp.power_W = 30.0;
      dew_variant_add (chamber, variant, &lamp);
    }
  for (int p = 0; p < PLANTS; p++)
    {
      guint row = (guint) p * 37 % dew_catalogue_rows (plants);
      DewWish wish;

      dew_wish_init (&wish);
      g_strlcpy (wish.species, dew_catalogue_text (plants, row, "name"), sizeof wish.species);
      wish.pot_diameter_m = 0.06;
      /* Young plants: two thirds of what they will be. */
      wish.width_m = 0.0067 * dew_catalogue_number (plants, row, "spread_cm");
      wish.height_m = 0.0067 * dew_catalogue_number (plants, row, "height_cm");
      dew_chamber_add_wish (chamber, &wish);
    }
  return chamber;
}

void
bench_assign (Bench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) forty = dew_store_load (DEW_TESTS_DIR "/advice/forty.json", &error);
  g_autoptr (DewChamber) large = large_house ();
  g_autoptr (DewAssignment) few = NULL;
  g_autoptr (DewAssignment) many = NULL;

  if (forty == NULL)
    bench_leave_out (bench, "Forty plants: %s", error->message);
  else if ((few = assign (bench, forty, "Forty plants")) != NULL)
    tell (bench,
          &(Figure){ .key = "assign_40_s",
                     .what = "forty plants to four shelves",
                     .unit = "s",
                     .must = 2.0,
                     .goal = 0.3 },
          few);
  many = assign (bench, large, "Two hundred plants");
  if (many != NULL)
    {
      tell (bench,
            &(Figure){ .key = "assign_200_s",
                       .what = "two hundred plants to 200 places",
                       .unit = "s",
                       .must = 60.0,
                       .goal = 10.0 },
            many);
      bench_add (bench,
                 &(Figure){ .key = "assign_200_gap",
                            .what = "how far from the bound that is",
                            .unit = "%",
                            .value = 100.0 * many->gap,
                            .must = NAN,
                            .goal = 0.0 },
                 "value %.0f, bound %.0f", many->value, many->bound);
    }
}
