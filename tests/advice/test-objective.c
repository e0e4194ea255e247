/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What counts as good air: parts, weights, wants, and layouts side by side. */
#include "ask.h"

#include "../forecast/enclosure.h"
#include "advice/objective.h"
#include "forecast/limits.h"
#include "say/changes.h"
#include "say/wants.h"

#include <math.h>
#include <string.h>

#define WIDTH_M 0.5
#define DEPTH_M 0.4
#define HEIGHT_M 0.7
#define SHELF_M 0.35
#define ROOM_C 20.0
#define ROOM_RH 0.55

static DewChamber *
small_enclosure (void)
{
  DewChamber *chamber = film_enclosure (WIDTH_M, DEPTH_M, HEIGHT_M, ROOM_C, ROOM_RH);

  add_shelf (chamber, SHELF_M, DEW_SHELF_WIRE, 0.8);
  add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.3, 0.05, 0.07);
  return chamber;
}

/* --- weights ------------------------------------------------------------- */

static void
test_weights (void)
{
  g_autoptr (GError) error = NULL;
  DewWeights weights, before;

  dew_weights_init (&weights);
  g_assert_true (dew_weights_parse ("even=2, water=0,day=0.25", &weights, &error));
  g_assert_no_error (error);
  g_assert_cmpfloat (weights.weight[DEW_GOAL_EVEN], ==, 2.0);
  g_assert_cmpfloat (weights.weight[DEW_GOAL_WATER], ==, 0.0);
  g_assert_cmpfloat (weights.day_share, ==, 0.25);
  g_assert_cmpfloat (weights.weight[DEW_GOAL_FRESH], ==, dew_goal_info (DEW_GOAL_FRESH)->weight);

  before = weights;
  for (guint w = 0; w < 6; w++)
    {
      static const char *const wrong[6]
        = { "even", "even=", "even=-1", "even=1x", "light=2", "day=1.5" };

      g_assert_false (dew_weights_parse (wrong[w], &weights, &error));
      g_assert_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE);
      g_clear_error (&error);
      g_assert_cmpmem (&weights, sizeof weights, &before, sizeof before);
    }
  g_assert_false (
    dew_weights_parse ("humid=0,warmth=0,even=0,fresh=0,dry=0,gentle=0,water=0,quiet=0", &weights,
                       &error));
}

/* --- the objective ------------------------------------------------------- */

/* Each raw value computed here anew from the forecast, by the words of the header. */
static void
test_parts (void)
{
  g_autoptr (DewChamber) chamber = small_enclosure ();
  g_autoptr (DewForecast) day = NULL;
  g_autoptr (DewForecast) night = NULL;
  g_autoptr (DewWants) wants = NULL;
  DewVariant *variant;
  DewWeights weights;
  DewObjective o;
  DewThing *fan = add_thing (chamber, DEW_THING_FAN, 0.25, 0.2, 0.15);
  double sum = 0.0, squares = 0.0, humid = 0.0, merits = 0.0, total = 0.0;

  fan->fan.speed_day = 0.5;
  fan->fan.speed_night = 0.25;
  add_pot (chamber, 0.15, 0.2, 0.0, 0.12);
  day = forecast_by_day (chamber, DEW_GRID_DRAFT);
  night = forecast_by_night (chamber, DEW_GRID_DRAFT);
  variant = dew_chamber_shown (chamber);
  wants = dew_wants_new (chamber, variant, NULL, NULL);
  g_assert_true (wants->usual);
  dew_weights_init (&weights);
  dew_objective_of (wants, &weights, variant, day, night, &o);

  for (int p = 0; p < day->n_places; p++)
    {
      double rh = day->places[p].mean.rh;

      sum += rh;
      squares += rh * rh;
      humid += 100.0
               * (rh < wants->band.rh_lo   ? wants->band.rh_lo - rh
                  : rh > wants->band.rh_hi ? rh - wants->band.rh_hi
                                           : 0.0);
    }
  sum /= day->n_places;
  squares /= day->n_places;
  g_assert_cmpfloat_with_epsilon (o.day[DEW_GOAL_EVEN],
                                  200.0 * sqrt (MAX (0.0, squares - sum * sum)), 1e-6);
  g_assert_cmpfloat_with_epsilon (o.day[DEW_GOAL_HUMID], humid / day->n_places, 1e-9);
  g_assert_cmpfloat_with_epsilon (
    o.day[DEW_GOAL_WATER],
    MAX (0.0, day->balance.water_device_kg_s + day->balance.water_surface_kg_s) * 86400.0, 1e-9);
  /* Fan laws: sound power with the fifth power of speed, so half speed is 50 log10 2 = 15.05 dB
   * over a quarter (ASHRAE Handbook, from memory). */
  g_assert_cmpfloat_with_epsilon (o.day[DEW_GOAL_QUIET], 15.05, 0.01);
  g_assert_cmpfloat_with_epsilon (o.night[DEW_GOAL_QUIET], 0.0, 1e-9);
  for (int p = 0; p < DEW_N_GOALS; p++)
    {
      g_assert_cmpfloat_with_epsilon (o.raw[p], 0.5 * (o.day[p] + o.night[p]), 1e-9);
      g_assert_cmpfloat (o.raw[p], >=, 0.0);
      g_assert_cmpfloat_with_epsilon (o.merit[p], 1.0 / (1.0 + o.raw[p] / dew_goal_info (p)->half),
                                      1e-12);
      merits += weights.weight[p] * o.merit[p];
      total += weights.weight[p];
    }
  g_assert_cmpfloat_with_epsilon (o.value, merits / total, 1e-12);

  dew_objective_of (wants, &weights, variant, day, NULL, &o);
  g_assert_cmpfloat (o.raw[DEW_GOAL_EVEN], ==, o.day[DEW_GOAL_EVEN]);
  g_assert_true (isnan (o.night[DEW_GOAL_EVEN]));
}

/* A plant counts by the air of its own place: the same plant in a fan's jet has a draught, behind
 * the fan it has none or less. */
static void
test_draught_by_place (void)
{
  g_autoptr (DewChamber) chamber = small_enclosure ();
  DewWeights weights;
  DewObjective in_jet, behind;
  DewThing *fan = add_thing (chamber, DEW_THING_FAN, 0.10, 0.2, 0.15);
  guint id;

  fan->fan.free_delivery_m3_s = 0.04;
  id = add_plant (chamber, "Wood", 0.35, 0.2, 0.08)->id;
  dew_weights_init (&weights);
  for (int n = 0; n < 2; n++)
    {
      g_autoptr (DewForecast) day = forecast_by_day (chamber, DEW_GRID_DRAFT);
      g_autoptr (DewWants) wants
        = dew_wants_new (chamber, dew_chamber_shown (chamber), kind_invented, NULL);

      dew_objective_of (wants, &weights, dew_chamber_shown (chamber), day, NULL,
                        n == 0 ? &in_jet : &behind);
      thing_of (chamber, id)->plant.z_m = SHELF_M + 0.05;
    }
  g_assert_cmpfloat (in_jet.raw[DEW_GOAL_GENTLE], >, behind.raw[DEW_GOAL_GENTLE]);
  g_assert_cmpfloat (in_jet.raw[DEW_GOAL_GENTLE], >, 0.0);
}

/* --- wants --------------------------------------------------------------- */

static void
test_wants (void)
{
  g_autoptr (DewChamber) chamber = small_enclosure ();
  g_autoptr (DewWants) wants = NULL;
  g_auto (GStrv) contradictions = NULL;
  DewBandWish band;

  add_plant (chamber, "Wood", 0.1, 0.2, 0.05);
  add_plant (chamber, "Bog", 0.3, 0.2, 0.05);
  add_plant (chamber, "Steppe", 0.3, 0.2, SHELF_M + 0.05);
  wants = dew_wants_new (chamber, dew_chamber_shown (chamber), kind_invented, NULL);
  g_assert_false (wants->usual);
  /* Wood (60 to 95) and Bog (90 to 100) share 90 to 95; Steppe (20 to 50) shares with nobody. */
  g_assert_cmpfloat_with_epsilon (wants->band.rh_lo, 0.90, 1e-12);
  g_assert_cmpfloat_with_epsilon (wants->band.rh_hi, 0.95, 1e-12);
  contradictions = dew_wants_contradictions (wants, DEW_TONGUE_METRIC);
  g_assert_cmpuint (g_strv_length (contradictions), ==, 1);
  g_assert_nonnull (strstr (contradictions[0], g_array_index (wants->plants, DewWanted, 2).name));
  g_assert_nonnull (strstr (contradictions[0], "50"));
  g_assert_nonnull (strstr (contradictions[0], "90"));
  for (guint p = 0; p < wants->plants->len; p++)
    g_assert_cmpint (g_array_index (wants->plants, DewWanted, p).given_up, ==, p == 2);
  /* On its own shelf it gets what it wants. */
  band = dew_wants_of_bay (wants, SHELF_M, HEIGHT_M);
  g_assert_cmpfloat_with_epsilon (band.rh_lo, 0.20, 1e-12);
  g_assert_cmpfloat_with_epsilon (band.rh_hi, 0.50, 1e-12);
}

static void
test_wish_list (void)
{
  g_autoptr (DewChamber) chamber = small_enclosure ();
  g_autoptr (DewWants) wants = NULL;
  DewWish wish;

  dew_wish_init (&wish);
  g_strlcpy (wish.name, "Three of the bog", sizeof wish.name);
  g_strlcpy (wish.species, "Bog", sizeof wish.species);
  wish.count = 3;
  dew_chamber_add_wish (chamber, &wish);
  wants = dew_wants_new (chamber, dew_chamber_shown (chamber), kind_invented, NULL);
  g_assert_false (wants->usual);
  g_assert_cmpint (g_array_index (wants->plants, DewWanted, 0).count, ==, 3);
  g_assert_cmpfloat_with_epsilon (wants->band.rh_lo, 0.90, 1e-12);
  g_assert_cmpuint (wants->contradictions->len, ==, 0);
}

/* --- side by side -------------------------------------------------------- */

static void
test_trade_offs (void)
{
  g_autoptr (DewChamber) chamber = small_enclosure ();
  g_autoptr (DewForecast) dry = forecast_by_day (chamber, DEW_GRID_DRAFT);
  g_autoptr (DewForecast) wet = NULL;
  g_autoptr (DewWants) wants = dew_wants_new (chamber, dew_chamber_shown (chamber), NULL, NULL);
  g_autoptr (GArray) same = dew_bay_changes (dry, NULL, dry, NULL);
  g_autoptr (GArray) changes = NULL;
  g_autoptr (GArray) nothing = NULL;
  g_autoptr (GArray) told = NULL;
  g_auto (GStrv) words = NULL;
  gboolean more_humid = FALSE, more_water = FALSE;
  DewWeights weights;
  DewObjective was, is;

  dew_weights_init (&weights);
  dew_objective_of (wants, &weights, dew_chamber_shown (chamber), dry, NULL, &was);
  nothing = dew_trade_offs (&was, &was, same);
  g_assert_cmpuint (nothing->len, ==, 0);

  for (int p = 0; p < 3; p++)
    add_pot (chamber, 0.1 + 0.15 * p, 0.2, 0.0, 0.12);
  wet = forecast_by_day (chamber, DEW_GRID_DRAFT);
  dew_objective_of (wants, &weights, dew_chamber_shown (chamber), wet, NULL, &is);
  changes = dew_bay_changes (wet, NULL, dry, NULL);
  g_assert_cmpuint (changes->len, ==, 2);
  for (guint b = 0; b < changes->len; b++)
    {
      const DewBayChange *c = &g_array_index (changes, DewBayChange, b);

      g_assert_cmpfloat_with_epsilon (c->d_rh, wet->bays[b].mean.rh - dry->bays[b].mean.rh, 1e-12);
      g_assert_cmpfloat_with_epsilon (c->d_t_K, wet->bays[b].mean.t_C - dry->bays[b].mean.t_C,
                                      1e-12);
    }
  told = dew_trade_offs (&is, &was, changes);
  words = dew_trade_offs_words (told, DEW_TONGUE_METRIC);
  for (int w = 0; words[w] != NULL; w++)
    {
      more_humid |= strstr (words[w], "more humid") != NULL;
      more_water |= strstr (words[w], "more water") != NULL;
    }
  g_assert_true (more_humid);
  g_assert_true (more_water == (is.raw[DEW_GOAL_WATER] - was.raw[DEW_GOAL_WATER] > 0.05));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/objective/weights", test_weights);
  g_test_add_func ("/objective/parts", test_parts);
  g_test_add_func ("/objective/draught-by-place", test_draught_by_place);
  g_test_add_func ("/objective/wants", test_wants);
  g_test_add_func ("/objective/wish-list", test_wish_list);
  g_test_add_func ("/objective/trade-offs", test_trade_offs);
  return g_test_run ();
}
