/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air.h"

#include <math.h>
#include <string.h>

/* The assignment as a grower meets it, on air that is set by hand. */

typedef struct
{
  DewChamber *chamber;
  DewForecast *day, *night;
  GArray *kinds;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  DewPlantKind plain = plain_kind ("plain");

  f->chamber = two_shelves ();
  f->day = plain_air (f->chamber, FALSE);
  f->night = plain_air (f->chamber, TRUE);
  f->kinds = g_array_new (FALSE, FALSE, sizeof (DewPlantKind));
  g_array_append_val (f->kinds, plain);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  dew_chamber_free (f->chamber);
  dew_forecast_unref (f->day);
  dew_forecast_unref (f->night);
  g_array_unref (f->kinds);
}

static DewAssignment *
solve (const Fixture *f)
{
  return assign (f->chamber, f->day, f->night, f->kinds);
}

static DewPlantKind *
add_kind (Fixture *f, const char *name)
{
  DewPlantKind kind = plain_kind (name);

  g_array_append_val (f->kinds, kind);
  return &g_array_index (f->kinds, DewPlantKind, f->kinds->len - 1);
}

static void
set_night (Fixture *f, int bay, double t_C)
{
  for (int p = 0; p < f->night->n_places; p++)
    if (f->night->places[p].bay == bay)
      f->night->places[p].mean.t_C = t_C;
}

static gboolean
has_note (const DewAssignment *a, const char *part)
{
  g_auto (GStrv) notes = dew_assign_notes (a);

  for (guint i = 0; notes[i] != NULL; i++)
    if (strstr (notes[i], part) != NULL)
      return TRUE;
  return FALSE;
}

static void
expect_needs (const DewAssignment *a, const DewAssignPlant *plant, const char *needs)
{
  g_autofree char *told = dew_assign_needs (a, plant, DEW_TONGUE_METRIC);

  g_assert_cmpstr (told, ==, needs);
}

/* --- where plants go --------------------------------------------------------- */

static void
test_each_to_its_shelf (Fixture *f, gconstpointer data)
{
  add_kind (f, "cool")->t_night_ideal_C = 10.0;
  add_kind (f, "warm")->t_night_ideal_C = 16.0;
  set_night (f, 0, 10.0);
  set_night (f, 1, 13.0);
  set_night (f, 2, 16.0);
  wish_for (f->chamber, "Cool one", "cool", 3, DEW_PLANT_HEALTHY, 0.0);
  wish_for (f->chamber, "Plain one", "plain", 3, DEW_PLANT_HEALTHY, 0.0);
  wish_for (f->chamber, "Warm one", "warm", 3, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_true (a->proven);
  g_assert_cmpint (a->n_groups, ==, 3);
  for (int n = 0; n < 3; n++)
    {
      g_assert_cmpint (plant_named (a, "Cool one", n)->bay, ==, 0);
      g_assert_cmpint (plant_named (a, "Plain one", n)->bay, ==, 1);
      g_assert_cmpint (plant_named (a, "Warm one", n)->bay, ==, 2);
    }
}

/* Three plants as wide as a place on the eight places of each of three bays: every one of the
 * 24 x 23 x 22 ways is tried. */
static void
test_brute_force (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (21);

  for (int k = 0; k < 3; k++)
    {
      g_autofree char *name = g_strdup_printf ("kind %d", k);
      DewPlantKind *kind = add_kind (f, name);

      kind->width_m = 0.14;
      kind->t_night_ideal_C = 9.0 + 4.0 * k;
      wish_for (f->chamber, name, name, 1, k == 2 ? DEW_PLANT_WEAK : DEW_PLANT_HEALTHY, 0.0);
    }
  for (int n = 0; n < 30; n++)
    {
      int places[24], n_places = 0;
      gint64 best = 0;

      for (int p = 0; p < f->night->n_places; p++)
        {
          f->night->places[p].mean.t_C = g_rand_double_range (rand, 6.0, 22.0);
          f->day->places[p].mean.rh = g_rand_double_range (rand, 0.55, 1.0);
        }

      g_autoptr (DewAssignment) a = solve (f);

      check_sums (a);
      g_assert_true (a->proven);
      for (int s = 0; s < a->n_spots; s++)
        if (a->spots[s].column % 2 == 0 && a->spots[s].row % 2 == 0)
          places[n_places++] = s;
      g_assert_cmpint (n_places, ==, 24);
      for (int i = -1; i < 24; i++)
        for (int j = -1; j < 24; j++)
          for (int k = -1; k < 24; k++)
            {
              const int at[3] = { i, j, k };
              gint64 sum = 0;

              if ((i >= 0 && (i == j || i == k)) || (j >= 0 && j == k))
                continue;
              for (int g = 0; g < 3; g++)
                if (at[g] >= 0)
                  {
                    int s = places[at[g]];

                    /* The rule of a wish, said again. */
                    if (a->groups[g].out[s] == 0)
                      sum += 1000
                             + (a->groups[g].plant.state == DEW_PLANT_WEAK ? 2 : 1)
                                 * a->groups[g].score[s];
                  }
              best = MAX (best, sum);
            }
      g_assert_cmpfloat (a->value, ==, (double) best);
    }
}

/* Margins against the forecast of the place under the plant, worked out again. */
static void
test_margins (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);

  wish_for (f->chamber, "Plant", "plain", 8, DEW_PLANT_HEALTHY, 0.06);
  for (int n = 0; n < 10; n++)
    {
      for (int p = 0; p < f->night->n_places; p++)
        {
          f->night->places[p].mean.t_C = g_rand_double_range (rand, 12.0, 19.5);
          f->day->places[p].mean.t_C = g_rand_double_range (rand, 13.0, 25.5);
          f->day->places[p].mean.rh = g_rand_double_range (rand, 0.66, 0.97);
        }

      g_autoptr (DewAssignment) a = solve (f);

      check_sums (a);
      for (int i = 0; i < a->n_plants; i++)
        {
          const DewAssignPlant *plant = &a->plants[i];
          const DewFitDemand *d = plant->fit.demand;
          const DewPlace *at = NULL;
          g_autofree char *number = NULL, *words = NULL;
          int p;

          if (plant->bay < 0)
            continue;
          for (p = 0; at == NULL && p < f->day->n_places; p++)
            if (f->day->places[p].bay == plant->bay && plant->at_m[0] > f->day->places[p].lo_m[0]
                && plant->at_m[0] < f->day->places[p].hi_m[0]
                && plant->at_m[1] > f->day->places[p].lo_m[1]
                && plant->at_m[1] < f->day->places[p].hi_m[1])
              at = &f->day->places[p--];
          g_assert_nonnull (at);
          g_assert_cmpfloat_with_epsilon (d[DEW_DEMAND_T_DAY].margin,
                                          MIN (24.0 - at->mean.t_C, at->mean.t_C - 12.0), 1e-9);
          /* Of two limits the one that is nearer by its distance from the ideal, 85 %. */
          g_assert_cmpfloat_with_epsilon (
            d[DEW_DEMAND_RH_DAY].margin,
            100.0 * (at->mean.rh < 0.85 ? at->mean.rh - 0.70 : 0.95 - at->mean.rh), 1e-9);
          at = &f->night->places[p];
          g_assert_cmpfloat_with_epsilon (d[DEW_DEMAND_T_NIGHT].margin,
                                          MIN (18.0 - at->mean.t_C, at->mean.t_C - 8.0), 1e-9);
          /* The words hold that number. */
          if (plant->fit.tightest == DEW_DEMAND_T_NIGHT || plant->fit.tightest == DEW_DEMAND_T_DAY)
            {
              number = g_strdup_printf ("%.1f K", fabs (d[plant->fit.tightest].margin));
              words = dew_assign_words (plant, DEW_TONGUE_METRIC);
              g_assert_nonnull (strstr (words, number));
            }
          for (int k = 0; k < DEW_N_DEMANDS; k++)
            if (!isnan (d[k].margin))
              g_assert_cmpfloat (d[plant->fit.tightest].merit, <=, d[k].merit);
        }
    }
}

static void
test_small_ones_share (Fixture *f, gconstpointer data)
{
  DewPlantKind *tiny = add_kind (f, "tiny");

  /* 7 cm: four to a place of 15 cm; 24 places hold 96. */
  tiny->width_m = 0.07;
  wish_for (f->chamber, "Tiny", "tiny", 100, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_true (a->proven);
  g_assert_cmpint (a->n_placed, ==, 96);
  g_assert_cmpint (a->n_without, ==, 4);
  g_assert_true (has_note (a, "no room for 4 plants"));
}

static void
test_weak (Fixture *f, gconstpointer data)
{
  for (int p = 0; p < f->day->n_places; p++)
    if (f->day->places[p].bay == 1)
      {
        f->day->places[p].mean.rh = f->night->places[p].mean.rh = 0.94;
        f->day->places[p].mean.ppfd_mol_m2s = 40e-6;
      }
  wish_for (f->chamber, "Limp", "plain", 1, DEW_PLANT_WEAK, 0.0);
  wish_for (f->chamber, "Sound", "plain", 1, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_cmpint (plant_named (a, "Limp", 0)->bay, ==, 1);
  g_assert_cmpint (plant_named (a, "Sound", 0)->bay, !=, 1);
}

static void
test_quarantine (Fixture *f, gconstpointer data)
{
  wish_for (f->chamber, "New", "plain", 2, DEW_PLANT_ARRIVED, 0.0);
  wish_for (f->chamber, "Old", "plain", 6, DEW_PLANT_HEALTHY, 0.0);
  stand (f->chamber, "Low", "plain", 0.3, 0.15, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_cmpint (a->quarantine_bays, ==, 1);
  g_assert_true (has_note (a, "New plants stand apart"));
  for (int i = 0; i < a->n_plants; i++)
    g_assert_true ((a->plants[i].bay == 0) == (strcmp (a->plants[i].name, "New") == 0));
}

static void
test_contradiction (Fixture *f, gconstpointer data)
{
  DewVariant *variant = dew_chamber_shown (f->chamber);
  guint low = stand (f->chamber, "Low", "plain", 0.3, 0.15, 0.0);
  guint high = stand (f->chamber, "High", "plain", 0.3, 0.15, 0.31);

  dew_variant_thing (variant, low)->plant.keep_place = TRUE;
  dew_variant_thing (variant, high)->plant.keep_place = TRUE;
  dew_variant_thing (variant, high)->plant.state = DEW_PLANT_ARRIVED;
  wish_for (f->chamber, "Other", "plain", 1, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_true (has_note (a, "cannot be kept apart"));
  g_assert_cmpint (plant_named (a, "Other", 0)->bay, >=, 0);
}

static void
test_keep (Fixture *f, gconstpointer data)
{
  guint kept = stand (f->chamber, "Kept", "plain", 0.31, 0.14, 0.31);
  guint free_one = stand (f->chamber, "Free", "plain", 0.11, 0.14, 0.31);
  const DewAssignPlant *p;

  dew_variant_thing (dew_chamber_shown (f->chamber), kept)->plant.keep_place = TRUE;
  set_night (f, 1, 17.5); /* just inside, while the others are ideal */

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  p = plant_named (a, "Kept", 0);
  g_assert_cmpint (p->verdict, ==, DEW_ASSIGN_KEPT);
  g_assert_cmpfloat (p->at_m[0], ==, 0.31);
  p = plant_named (a, "Free", 0);
  g_assert_cmpuint (p->thing_id, ==, free_one);
  g_assert_cmpint (p->bay, !=, 1);

  /* Where nothing is to be won, nobody is moved. */
  set_night (f, 1, 13.0);

  g_autoptr (DewAssignment) b = solve (f);

  g_assert_true (plant_named (b, "Free", 0)->stays);
  g_assert_cmpfloat (plant_named (b, "Free", 0)->at_m[0], ==, 0.11);
}

/* --- what fits nowhere -------------------------------------------------------- */

static void
test_nowhere (Fixture *f, gconstpointer data)
{
  DewPlantKind *tall = add_kind (f, "tall");
  const DewAssignPlant *p;
  g_autofree char *needs = NULL;

  tall->height_m = 0.32; /* the bays are 30, 34 and 34 cm high, the last 29 under its lamp */
  tall->width_m = 0.50;
  tall = add_kind (f, "taller");
  tall->height_m = 0.80;
  tall = add_kind (f, "wide");
  tall->width_m = 0.70;
  set_night (f, 1, 21.0);
  wish_for (f->chamber, "Wide", "wide", 1, DEW_PLANT_HEALTHY, 0.0);
  wish_for (f->chamber, "Taller", "taller", 1, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_cmpint (a->n_placed, ==, 0);
  p = plant_named (a, "Wide", 0);
  g_assert_cmpint (p->verdict, ==, DEW_ASSIGN_NOWHERE);
  expect_needs (a, p, "a shelf 40 cm larger"); /* 70 cm wide, 30 cm deep */
  p = plant_named (a, "Taller", 0);
  g_assert_cmpint (p->verdict, ==, DEW_ASSIGN_NOWHERE);
  /* The highest bay is 35 cm less its board: 34. */
  needs = dew_assign_needs (a, p, DEW_TONGUE_METRIC);
  g_assert_nonnull (strstr (needs, "46 cm more height"));
  g_assert_true (has_note (a, "2 plants fit nowhere"));
}

static void
test_two_ways_out (Fixture *f, gconstpointer data)
{
  DewPlantKind *kind = add_kind (f, "tall and cool");
  const DewAssignPlant *p;

  kind->height_m = 0.32;
  kind->width_m = 0.14;
  set_night (f, 1, 21.0); /* high enough, 3 K too warm; bay 0: cool enough, 2 cm too low */
  set_night (f, 2, 24.0);
  wish_for (f->chamber, "Plant", "tall and cool", 1, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  p = plant_named (a, "Plant", 0);
  g_assert_cmpint (p->verdict, ==, DEW_ASSIGN_NOWHERE);
  expect_needs (a, p, "a place with 2.0 cm more height, or 3.0 K cooler nights");
}

static void
test_suffers (Fixture *f, gconstpointer data)
{
  for (int b = 0; b < 3; b++)
    set_night (f, b, 21.0 + b);
  stand (f->chamber, "Standing", "plain", 0.31, 0.14, 0.31);
  wish_for (f->chamber, "Wished", "plain", 1, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  /* What stands has to stand somewhere: the least warm bay. What is wished for has not. */
  g_assert_cmpint (plant_named (a, "Standing", 0)->verdict, ==, DEW_ASSIGN_SUFFERS);
  g_assert_cmpint (plant_named (a, "Standing", 0)->bay, ==, 0);
  expect_needs (a, plant_named (a, "Standing", 0), "3.0 K cooler nights");
  g_assert_cmpint (plant_named (a, "Wished", 0)->verdict, ==, DEW_ASSIGN_NOWHERE);
  expect_needs (a, plant_named (a, "Wished", 0), "3.0 K cooler nights");
}

static void
test_crowded (Fixture *f, gconstpointer data)
{
  DewPlantKind *kind = add_kind (f, "a place wide");

  kind->width_m = 0.14;
  wish_for (f->chamber, "Many", "a place wide", 30, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_true (a->proven);
  g_assert_cmpint (a->n_placed, ==, 24);
  g_assert_cmpint (a->n_without, ==, 6);
  for (int i = 0; i < a->n_plants; i++)
    if (a->plants[i].bay < 0)
      g_assert_cmpint (a->plants[i].verdict, ==, DEW_ASSIGN_CROWDED);
}

static void
test_load (Fixture *f, gconstpointer data)
{
  DewVariant *variant = dew_chamber_shown (f->chamber);
  g_autofree DewFitPlant *fit = NULL;

  for (guint i = 0; i < variant->things->len; i++)
    if (g_array_index (variant->things, DewThing, i).kind == DEW_THING_SHELF)
      g_array_index (variant->things, DewThing, i).shelf.load_limit_kg = 2.0;
  set_night (f, 0, 26.0);
  wish_for (f->chamber, "Heavy", "plain", 12, DEW_PLANT_HEALTHY, 0.12);

  g_autoptr (DewAssignment) a = solve (f);

  /* 0.352 kg each: a shelf of 2 kg bears 60 % of it, three of them; two shelves. */
  check_sums (a);
  fit = g_new0 (DewFitPlant, a->n_plants);
  for (int i = 0; i < a->n_plants; i++)
    fit[i] = a->groups[a->plants[i].group].plant;
  check_layout (f->chamber, a, fit);
  g_assert_cmpint (a->n_placed, ==, 6);
}

/* --- odd input ---------------------------------------------------------------- */

static void
expect_error (const DewChamber *chamber, const DewForecast *day, int code)
{
  g_autoptr (GError) error = NULL;
  DewAssignment *a = dew_assign_new (chamber, 0, day, NULL, NULL, NULL, &error);

  g_assert_null (a);
  g_assert_error (error, DEW_ASSIGN_ERROR, code);
  g_assert_cmpint (error->message[0], !=, '\0');
}

static void
test_odd_input (Fixture *f, gconstpointer data)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) full = two_shelves ();
  g_autoptr (DewForecast) full_day = NULL;
  DewThing block;

  expect_error (f->chamber, f->day, DEW_ASSIGN_ERROR_NO_PLANTS);
  wish_for (f->chamber, "Legion", "plain", DEW_ASSIGN_PLANTS_MAX + 1, DEW_PLANT_HEALTHY, 0.0);
  expect_error (f->chamber, f->day, DEW_ASSIGN_ERROR_TOO_MANY);
  g_array_set_size (f->chamber->wishes, 0);

  /* A kind that nobody knows, and one whose wishes contradict each other. */
  add_kind (f, "torn")->t_night_min_C = 30.0;
  wish_for (f->chamber, "Stranger", "nobody knows", 1, DEW_PLANT_HEALTHY, 0.0);
  wish_for (f->chamber, "Torn", "torn", 1, DEW_PLANT_HEALTHY, 0.0);
  {
    g_autoptr (DewAssignment) a = solve (f);

    check_sums (a);
    g_assert_cmpint (plant_named (a, "Stranger", 0)->verdict, ==, DEW_ASSIGN_PLACED);
    g_assert_cmpint (plant_named (a, "Torn", 0)->verdict, ==, DEW_ASSIGN_NOWHERE);
    g_assert_true (has_note (a, "not known"));
    g_assert_true (has_note (a, "contradicts itself"));
  }

  /* Only by day. */
  {
    g_autoptr (DewAssignment) a = assign (f->chamber, f->day, NULL, f->kinds);

    g_assert_cmpint (plant_named (a, "Torn", 0)->verdict, ==, DEW_ASSIGN_PLACED);
  }

  g_cancellable_cancel (cancellable);
  g_assert_null (dew_assign_new (f->chamber, 0, f->day, f->night, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);

  /* A forecast of another layout. */
  dew_thing_init (&block, DEW_THING_SHELF);
  block.shelf.z_m = 0.85;
  dew_variant_add (f->chamber, dew_chamber_shown (f->chamber), &block);
  expect_error (f->chamber, f->day, DEW_ASSIGN_ERROR_FORECAST);

  /* Every shelf full of something else. */
  wish_for (full, "Plant", "plain", 1, DEW_PLANT_HEALTHY, 0.0);
  full_day = plain_air (full, FALSE);
  for (int b = 0; b < 3; b++)
    {
      dew_thing_init (&block, DEW_THING_SOURCE);
      block.source.x_m = 0.30;
      block.source.y_m = 0.15;
      block.source.z_m = (const double[]){ 0.0, 0.31, 0.66 }[b];
      block.source.width_m = 0.60;
      block.source.depth_m = 0.30;
      block.source.height_m = 0.10;
      dew_variant_add (full, dew_chamber_shown (full), &block);
    }
  expect_error (full, full_day, DEW_ASSIGN_ERROR_NO_PLACES);
}

#define ADD(path, test) g_test_add ("/assign/" path, Fixture, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("each-to-its-shelf", test_each_to_its_shelf);
  ADD ("brute-force", test_brute_force);
  ADD ("margins", test_margins);
  ADD ("small-ones-share", test_small_ones_share);
  ADD ("weak", test_weak);
  ADD ("quarantine", test_quarantine);
  ADD ("contradiction", test_contradiction);
  ADD ("keep", test_keep);
  ADD ("nowhere", test_nowhere);
  ADD ("two-ways-out", test_two_ways_out);
  ADD ("suffers", test_suffers);
  ADD ("crowded", test_crowded);
  ADD ("load", test_load);
  ADD ("odd-input", test_odd_input);
  return g_test_run ();
}
