/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air.h"

#include "say/fit.h"

#include "store/store.h"

#include <math.h>
#include <string.h>

/* How a plant fits a place: margins against numbers worked out by hand. */

static DewFitPlace
plain_place (void)
{
  DewFitPlace place = { .by_night = TRUE,
                        .drying_day_h = 2.0,
                        .drying_night_h = 3.0,
                        .mist_day_mL_m2h = 30.0,
                        .mist_night_mL_m2h = 20.0,
                        .lamps = TRUE,
                        .clear_m = 0.30,
                        .from_front_m = 0.15,
                        .load_left_kg = INFINITY };

  place.day = (DewClimate){ .t_C = 18.0,
                            .rh = 0.85,
                            .vpd_Pa = 310.0,
                            .speed_m_s = 0.15,
                            .ppfd_mol_m2s = 80e-6,
                            .t_band_K = NAN,
                            .rh_band = NAN,
                            .speed_band_m_s = NAN };
  place.night = place.day;
  place.night.t_C = 13.0;
  return place;
}

static DewFitPlant
plain_plant (void)
{
  return (
    DewFitPlant){ .kind = plain_kind ("plain"), .known = TRUE, .width_m = 0.10, .height_m = 0.10 };
}

static void
expect_words (const DewFit *fit, DewTongue tongue, const char *words)
{
  g_autofree char *said = dew_fit_words (fit, tongue);

  g_assert_cmpstr (said, ==, words);
}

static void
test_ideal (void)
{
  DewFitPlant plant = plain_plant ();
  DewFitPlace place = plain_place ();
  DewFit fit;

  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpuint (fit.out, ==, 0);
  g_assert_cmpint (fit.score, ==, 1000);
  for (int d = 0; d < DEW_N_DEMANDS; d++)
    g_assert_cmpfloat_with_epsilon (fit.demand[d].merit, 1.0, 1e-12);
  /* 24 - 18, 13 - 8 or 18 - 13, 95 - 85, 300 mm of height for 100 mm. */
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_T_DAY].margin, 6.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_T_NIGHT].margin, 5.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_RH_DAY].margin, 10.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_HEIGHT].margin, 20.0, 1e-9);
}

static void
test_night (void)
{
  DewFitPlant plant = plain_plant ();
  DewFitPlace place = plain_place ();
  DewFit fit;

  place.night.t_C = 19.4;
  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_T_NIGHT].margin, -1.4, 1e-9);
  /* 1/2 at the limit, 1/4 two kelvin beyond it. */
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_T_NIGHT].merit, 0.5 / 1.7, 1e-9);
  g_assert_cmpint (fit.tightest, ==, DEW_DEMAND_T_NIGHT);
  g_assert_cmpuint (fit.out, ==, 0);
  expect_words (&fit, DEW_TONGUE_METRIC, "Night 1.4 K too warm.");
  expect_words (&fit, DEW_TONGUE_IMPERIAL, "Night 2.5 °F too warm.");

  place.night.t_band_K = 1.6;
  dew_fit_judge (&plant, &place, &fit);
  g_assert_true (fit.demand[DEW_DEMAND_T_NIGHT].unsure);
  expect_words (&fit, DEW_TONGUE_METRIC,
                "Night 1.4 K too warm, but the forecast may be off by 1.6 K.");

  place.night.t_C = 21.0;
  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpuint (fit.out, ==, DEW_DEMAND_BIT (DEW_DEMAND_T_NIGHT));
  place.night.t_band_K = 3.5; /* within what is not known: not out of the question */
  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpuint (fit.out, ==, 0);
}

/* The score never falls when the air comes nearer to what the plant wants. */
static void
test_monotone (void)
{
  DewFitPlant plant = plain_plant ();
  DewFitPlace place = plain_place ();
  int last = 1001;
  DewFit fit;

  for (double t_C = 18.0; t_C < 34.0; t_C += 0.25)
    {
      place.day.t_C = t_C;
      dew_fit_judge (&plant, &place, &fit);
      g_assert_cmpint (fit.score, <=, last);
      last = fit.score;
    }
  last = 1001;
  for (double rh = 0.85; rh > 0.4; rh -= 0.01)
    {
      place = plain_place ();
      place.night.rh = rh;
      dew_fit_judge (&plant, &place, &fit);
      g_assert_cmpint (fit.score, <=, last);
      last = fit.score;
    }
}

static void
test_crowns (void)
{
  DewFitPlant plant = plain_plant ();
  DewFitPlace place = plain_place ();
  DewFit fit;

  place.night.drip_kg_s = 0.2e-3 / 3600.0; /* 0.2 mL/h, four drops an hour */
  plant.kind.crown = DEW_CROWN_HARMFUL;
  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpuint (fit.out, ==, DEW_DEMAND_BIT (DEW_DEMAND_DRIP));
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_DRIP].margin, 0.05 - 0.2, 1e-9);
  plant.kind.crown = DEW_CROWN_BRIEF;
  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpuint (fit.out, ==, 0);
  g_assert_cmpint (fit.score, <, 1000);
  plant.kind.crown = DEW_CROWN_WELCOME;
  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpint (fit.score, ==, 1000);
}

static void
test_room (void)
{
  DewFitPlant plant = plain_plant ();
  DewFitPlace place = plain_place ();
  g_autofree char *needs = NULL;
  DewFit fit;

  plant.pot_diameter_m = 0.10;
  plant.rise_m = dew_fit_pot_height_m (0.10); /* 8.5 cm */
  plant.height_m = 0.10;
  plant.mass_kg = 0.5;
  place.clear_m = 0.145;
  place.load_left_kg = 0.3;
  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_HEIGHT].margin, -4.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (fit.demand[DEW_DEMAND_WEIGHT].margin, -0.2, 1e-9);
  g_assert_cmpuint (fit.out, ==,
                    DEW_DEMAND_BIT (DEW_DEMAND_HEIGHT) | DEW_DEMAND_BIT (DEW_DEMAND_WEIGHT));
  expect_words (&fit, DEW_TONGUE_METRIC, "Needs 4.0 cm more height.");
  needs = dew_fit_needs (&fit, fit.out, DEW_TONGUE_METRIC);
  g_assert_cmpstr (needs, ==, "a place with 4.0 cm more height and a shelf that bears 0.2 kg more");
}

static void
test_weak (void)
{
  DewPlantKind kind = plain_kind ("plain"), weak;
  DewFitPlant plant = plain_plant ();
  DewFitPlace humid = plain_place (), usual = plain_place ();
  DewFit there, here;

  dew_fit_kind_in_state (&kind, DEW_PLANT_WEAK, &weak);
  g_assert_cmpfloat (weak.ppfd_hi_mol_m2s, ==, 0.5 * kind.ppfd_hi_mol_m2s);
  g_assert_cmpint (weak.crown, ==, DEW_CROWN_HARMFUL);
  dew_fit_kind_in_state (&kind, DEW_PLANT_HEALTHY, &weak);
  g_assert_cmpmem (&weak, sizeof weak, &kind, sizeof kind);

  /* The same plant, weak, is better off in more humid and darker air; healthy it is not. */
  humid.day.rh = humid.night.rh = 0.94;
  humid.day.ppfd_mol_m2s = usual.day.ppfd_mol_m2s = 55e-6;
  plant.state = DEW_PLANT_WEAK;
  dew_fit_judge (&plant, &humid, &there);
  dew_fit_judge (&plant, &usual, &here);
  g_assert_cmpint (there.score, >, here.score);
  plant.state = DEW_PLANT_HEALTHY;
  dew_fit_judge (&plant, &humid, &there);
  dew_fit_judge (&plant, &usual, &here);
  g_assert_cmpint (there.score, <, here.score);
}

static void
test_unknown (void)
{
  DewFitPlace place = plain_place ();
  DewFitPlant plant;
  DewWish wish;
  DewFit fit;

  dew_wish_init (&wish);
  g_strlcpy (wish.species, "nobody knows", sizeof wish.species);
  dew_fit_plant_of_wish (&wish, kind_in_list, NULL, &plant);
  g_assert_false (plant.known);
  place.day.t_C = 45.0;
  place.night.rh = 0.05;
  dew_fit_judge (&plant, &place, &fit);
  g_assert_cmpuint (fit.out, ==, 0);
}

static void
test_masses (void)
{
  const DewCatalogue *plants = dew_catalogue ("plants");

  /* The masses and leaf areas of the catalogue (data/plants.csv: "computed (light pot, 0.6 of
   * the spread)", "index 2 over the spread") come out of the same rules, pots up to 16 cm. */
  for (guint row = 0; row < dew_catalogue_rows (plants); row++)
    {
      double spread_m = 0.01 * dew_catalogue_number (plants, row, "spread_cm");
      double mass_kg = dew_catalogue_number (plants, row, "mass_kg");
      double pot_m = CLAMP (0.6 * spread_m, 0.05, 0.16);

      g_assert_cmpfloat_with_epsilon (dew_fit_mass_kg (pot_m), mass_kg, 0.15 * mass_kg + 0.005);
      g_assert_cmpfloat_with_epsilon (1e4 * dew_fit_leaf_area_m2 (spread_m),
                                      dew_catalogue_number (plants, row, "leaf_area_cm2"), 1.0);
    }
  g_assert_cmpfloat (dew_fit_mass_kg (0.0), ==, 0.0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/ideal", test_ideal);
  g_test_add_func ("/fit/night", test_night);
  g_test_add_func ("/fit/monotone", test_monotone);
  g_test_add_func ("/fit/crowns", test_crowns);
  g_test_add_func ("/fit/room", test_room);
  g_test_add_func ("/fit/weak", test_weak);
  g_test_add_func ("/fit/unknown", test_unknown);
  g_test_add_func ("/fit/masses", test_masses);
  return g_test_run ();
}
