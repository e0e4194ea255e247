/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days of whole enclosures. */
#include "day/budget.h"
#include "day/hours.h"
#include "day/mishap.h"
#include "day/routine.h"
#include "day/year.h"

#include <math.h>

#include "../forecast/enclosure.h"
#include "moist/moist.h"

static DewDay *
day_of (const DewChamber *chamber, DewClock clock)
{
  g_autoptr (GError) error = NULL;
  DewDayOptions o;
  DewDay *day;

  dew_day_options_init (&o);
  o.clock = clock;
  day = dew_day_new (chamber, 0, &o, NULL, &error);
  g_assert_no_error (error);
  return day;
}

/* A film house with what growers have, in a room that never changes. */
static DewChamber *
furnished (void)
{
  DewChamber *chamber = film_enclosure (0.6, 0.4, 1.2, 18.0, 0.55);
  DewThing *thing;

  add_shelf (chamber, 0.6, DEW_SHELF_WIRE, 0.8);
  add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.4, 0.05, 0.1);
  add_hole (chamber, DEW_FACE_BACK, 0.2, 0.4, 1.1, 1.15);
  add_pot (chamber, 0.2, 0.2, 0.61, 0.14);
  add_pot (chamber, 0.4, 0.2, 0.0, 0.14);
  thing = add_thing (chamber, DEW_THING_LAMP, 0.3, 0.2, 1.15);
  thing->lamp.on_day = thing->lamp.on_night = 1.0;
  thing->lamp.length_m = 0.4;
  thing = add_thing (chamber, DEW_THING_FAN, 0.15, 0.2, 0.3);
  thing->fan.speed_day = thing->fan.speed_night = 0.5;
  chamber->routine.door_open_min = 0.0;
  return chamber;
}

/* A day on which nothing changes ends where the steady forecast is. */
static void
test_steady (void)
{
  g_autoptr (DewChamber) chamber = furnished ();
  g_autoptr (DewDay) day = day_of (chamber, DEW_CLOCK_STEADY);

  g_assert_true (day->anew);
  for (int b = 0; b < day->n_bays; b++)
    {
      const DewClimate *steady = &day->steady[1]->bays[b].mean;
      double t = day->bays[b].t_C[day->n - 1], rh = day->bays[b].rh[day->n - 1];

      g_test_message ("bay %d: %.3f C for %.3f, %.4f for %.4f", b, t, steady->t_C, rh, steady->rh);
      g_assert_cmpfloat_with_epsilon (t, steady->t_C, 0.15);
      g_assert_cmpfloat_with_epsilon (rh, steady->rh, 0.015);
    }
}

/* Of the demo with everything in it: humidistat, fog, an open front. */
static void
test_balances (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewDay) day = NULL;
  const DewDayBudget *b;

  chamber->month = 0;
  day = day_of (chamber, DEW_CLOCK_STEADY);
  b = &day->budget;
  g_test_message ("heat %.1e, water %.1e of what was turned over", b->energy_miss, b->water_miss);
  g_assert_cmpfloat (b->energy_miss, <, 1e-6);
  g_assert_cmpfloat (b->water_miss, <, 1e-6);
  g_assert_cmpint (day->switches, >, 10);
  /* The grower's sum: what is given off goes somewhere, but for what the air and the pots hold more
   * at midnight than the midnight before. */
  g_assert_cmpfloat_with_epsilon (b->mist_kg + b->wet_kg + b->leaves_kg + b->dried_kg,
                                  b->room_kg + b->condensed_kg + b->fallen_kg, 2e-3);
  for (int k = 0; k < day->n; k++)
    for (int bay = 0; bay < day->n_bays; bay++)
      {
        g_assert_cmpfloat (day->bays[bay].rh_hi[k], <=, 1.0 + 1e-9);
        g_assert_cmpfloat (day->bays[bay].rh_lo[k], >, 0.2);
        g_assert_cmpfloat (day->bays[bay].dew_kg[k], >, -1e-6);
      }
}

/* The humidistat holds its band: the air at its sensor sways about the set point, and the mean is
 * the steady forecast's, whose humidistat is a mean. */
static void
test_humidistat (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewDay) day = day_of (chamber, DEW_CLOCK_STEADY);
  const DewDayMister *mister = &g_array_index (day->misters, DewDayMister, 0);
  double mean = 0.0;
  int n = 0;

  for (int k = 1; k < day->n; k++)
    if (!day->is_day[k] && day->time_s[k] > 2.0 * 3600.0 && day->time_s[k] < 6.5 * 3600.0)
      {
        mean += day->bays[2].rh[k];
        n++;
      }
  g_assert_cmpfloat_with_epsilon (mean / n, 0.85, 0.04);
  g_assert_cmpint (mister->starts, >, 20);
  g_assert_cmpfloat (mister->water_kg, >, 0.05);
}

/* The same input gives the same bits. */
static void
test_repeats (void)
{
  g_autoptr (DewChamber) chamber = furnished ();
  g_autoptr (DewDay) one = day_of (chamber, DEW_CLOCK_STEADY);
  g_autoptr (DewDay) two = day_of (chamber, DEW_CLOCK_STEADY);

  for (int k = 0; k < one->n; k++)
    g_assert_cmpfloat (one->bays[0].t_C[k], ==, two->bays[0].t_C[k]);
}

/* A tighter tolerance changes little: the steps are short enough. */
static void
test_step_length (void)
{
  g_autoptr (DewChamber) chamber = furnished ();
  g_autoptr (DewDay) usual = NULL, fine = NULL;
  g_autoptr (GError) error = NULL;
  DewDayOptions o;

  dew_variant_thing (dew_chamber_shown (chamber), 6)->lamp.on_night = 0.0;
  dew_day_options_init (&o);
  usual = dew_day_new (chamber, 0, &o, NULL, &error);
  o.tolerance = 0.1;
  fine = dew_day_new (chamber, 0, &o, NULL, &error);
  g_assert_no_error (error);
  for (int k = 0; k < usual->n; k++)
    {
      g_assert_cmpfloat_with_epsilon (usual->bays[1].t_C[k], fine->bays[1].t_C[k], 0.05);
      g_assert_cmpfloat_with_epsilon (usual->bays[1].rh[k], fine->bays[1].rh[k], 0.005);
    }
}

/* --- clocks -------------------------------------------------------------------------------------
 */

/* European Union, directive 2000/84/EC: from two to three in spring, from three to two in
 * autumn. */
static void
test_clock (void)
{
  g_assert_cmpfloat (dew_routine_length_s (DEW_CLOCK_SPRING), ==, 23.0 * 3600.0);
  g_assert_cmpfloat (dew_routine_length_s (DEW_CLOCK_AUTUMN), ==, 25.0 * 3600.0);
  g_assert_cmpfloat_with_epsilon (dew_routine_clock_h (DEW_CLOCK_SPRING, 2.5 * 3600.0), 3.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (dew_routine_clock_h (DEW_CLOCK_AUTUMN, 3.5 * 3600.0), 2.5, 1e-9);
  g_assert_true (dew_routine_between (23.5, 22.0, 6.0));
  g_assert_true (dew_routine_between (1.0, 22.0, 6.0));
  g_assert_false (dew_routine_between (7.0, 22.0, 6.0));
  g_assert_false (dew_routine_between (7.0, 7.0, 7.0));
}

/* Lamps on from midnight to six burn five hours in spring and seven in autumn. */
static void
test_clock_changes (gconstpointer data)
{
  DewClock clock = (DewClock) GPOINTER_TO_INT (data);
  const double hours[] = { 6.0, 5.0, 7.0 };
  g_autoptr (DewChamber) chamber = furnished ();
  g_autoptr (DewDay) day = NULL;
  DewVariant *variant = dew_chamber_shown (chamber);

  for (guint t = 0; t < variant->things->len; t++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_LAMP)
        {
          thing->lamp.on_night = 0.0;
          thing->lamp.power_W = 30.0;
        }
      else if (thing->kind == DEW_THING_FAN)
        thing->fan.power_W = 0.0;
    }
  chamber->routine.day_from_h = 0.0;
  chamber->routine.day_until_h = 6.0;
  day = day_of (chamber, clock);
  g_assert_cmpfloat_with_epsilon (day->budget.lamps_J, 30.0 * hours[clock] * 3600.0, 1.0);
  g_assert_cmpfloat (day->time_s[day->n - 1], ==, dew_routine_length_s (clock));
  g_assert_cmpfloat (day->budget.energy_miss, <, 1e-6);
}

/* --- what it costs -------------------------------------------------------------------------------
 */

/* Two lamps of 40 W for 12 h and a fan of 2 W: 1.008 kWh a day; at 0.30 a kilowatt hour 110.4 a
 * year. A litre a day in 40 m3 at half a change an hour: 2.08 g/m3, about 11 points at 21 C (worked
 * by hand). */
static void
test_budget (void)
{
  g_autoptr (DewChamber) chamber = furnished ();
  g_autoptr (DewDay) day = day_of (chamber, DEW_CLOCK_STEADY);
  DewRoomBudget b;

  day->budget.lamps_J = 1.008 * 3.6e6;
  day->budget.misters_J = 0.0;
  day->budget.room_kg = 1.0;
  day->budget.mist_kg = 2.0;
  for (int k = 0; k < day->n; k++)
    {
      day->room_t_C[k] = 21.0;
      day->room_rh[k] = 0.45;
    }
  chamber->routine.price_kWh = 0.30;
  chamber->routine.water_mg_l = 300.0;
  chamber->room.wall_colder_K = 6.0;
  dew_budget_find (chamber, 0, day, &b);
  g_assert_cmpfloat_with_epsilon (b.cost_year, 110.4, 0.1);
  g_assert_cmpfloat_with_epsilon (b.room_rise_kg_m3, 1.0 / 24.0 / 20.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (b.room_rise, 0.11, 0.01);
  g_assert_cmpfloat (b.wall_rh, >, b.wall_rh_without);
  /* 2 l a day of 300 mg/l: 18 g in 30 days. */
  g_assert_cmpfloat_with_epsilon (b.minerals_g_month, 18.0, 1e-9);
}

/* --- mishaps and weeks
 * ------------------------------------------------------------------------------ */

static gboolean
wants_humid (const char *species, DewPlantWish *out, gpointer data)
{
  *out = (DewPlantWish){ 10.0, 30.0, 10.0, 30.0, 0.57, 1.0, NAN, NAN, NAN, NAN, 0 };
  return TRUE;
}

/* An enclosure whose front stands open comes to its room; one without power loses what its lamp
 * gave; a plant that wants more than the room has is told of first. */
static void
test_mishaps (void)
{
  g_autoptr (DewChamber) chamber = furnished ();
  DewThing *plant = add_thing (chamber, DEW_THING_PLANT, 0.3, 0.2, 0.1);
  g_autoptr (DewMishaps) mishaps = NULL;
  g_autoptr (GError) error = NULL;
  const DewMishap *door, *power;
  DewDayOptions o;
  int end;

  g_strlcpy (plant->plant.species, "humid", sizeof plant->plant.species);
  dew_day_options_init (&o);
  mishaps = dew_mishaps_new (chamber, 0, &o, wants_humid, NULL, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  door = &mishaps->mishaps[DEW_MISHAP_DOOR];
  power = &mishaps->mishaps[DEW_MISHAP_POWER];
  end = door->n - 1;
  g_assert_false (mishaps->mishaps[DEW_MISHAP_TANK].possible);
  g_assert_true (door->possible && power->possible);
  for (int b = 0; b < door->n_bays; b++)
    {
      g_assert_cmpfloat_with_epsilon (door->rh[b * door->n + end], 0.55, 0.02);
      g_assert_cmpfloat (power->t_C[b * power->n + end], <, 18.1);
    }
  g_assert_cmpint (door->first, ==, 0);
  g_assert_cmpint (g_array_index (door->plants, DewMishapPlant, 0).why, ==, DEW_OUT_DRY);
  g_assert_cmpfloat (g_array_index (door->plants, DewMishapPlant, 0).after_s, <, 3600.0);
}

static void
test_weeks (void)
{
  int month, day;

  dew_year_week_begins (0, &month, &day);
  g_assert_true (month == 0 && day == 1);
  dew_year_week_begins (DEW_WEEKS - 1, &month, &day);
  g_assert_true (month == 11 && day == 24); /* the 358th day */
}

/* Of a year in a room that never changes every week is as the others. */
static void
test_year (void)
{
  g_autoptr (DewChamber) chamber = furnished ();
  DewThing *plant = add_thing (chamber, DEW_THING_PLANT, 0.3, 0.2, 0.1);
  g_autoptr (DewYear) year = NULL;
  g_autoptr (GError) error = NULL;
  const DewYearPlant *one;
  DewDayOptions o;

  g_strlcpy (plant->plant.species, "humid", sizeof plant->plant.species);
  /* But for August, which is hot. */
  chamber->room.months[7].t_day_C = chamber->room.months[7].t_night_C = 36.0;
  dew_day_options_init (&o);
  year = dew_year_new (chamber, 0, &o, wants_humid, NULL, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  one = &g_array_index (year->plants, DewYearPlant, 0);
  g_assert_cmpint (year->worst_plant, ==, 0);
  g_assert_cmpint (year->worst_week, >=, 30);
  g_assert_cmpint (year->worst_week, <=, 34);
  g_assert_true (one->why[year->worst_week] == DEW_OUT_WARM_DAY
                 || one->why[year->worst_week] == DEW_OUT_WARM_NIGHT);
  g_assert_cmpint (one->weeks_out, <, 16);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/day/steady", test_steady);
  g_test_add_func ("/day/balances", test_balances);
  g_test_add_func ("/day/humidistat", test_humidistat);
  g_test_add_func ("/day/repeats", test_repeats);
  g_test_add_func ("/day/step-length", test_step_length);
  g_test_add_func ("/day/clock", test_clock);
  g_test_add_data_func ("/day/clock/steady", GINT_TO_POINTER (DEW_CLOCK_STEADY),
                        test_clock_changes);
  g_test_add_data_func ("/day/clock/spring", GINT_TO_POINTER (DEW_CLOCK_SPRING),
                        test_clock_changes);
  g_test_add_data_func ("/day/clock/autumn", GINT_TO_POINTER (DEW_CLOCK_AUTUMN),
                        test_clock_changes);
  g_test_add_func ("/day/budget", test_budget);
  g_test_add_func ("/day/mishaps", test_mishaps);
  g_test_add_func ("/day/weeks", test_weeks);
  g_test_add_func ("/day/year", test_year);
  return g_test_run ();
}
