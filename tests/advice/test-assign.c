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
  g_auto (GStrv) lead = dew_assign_lead (a, DEW_TONGUE_METRIC);
  g_auto (GStrv) notes = dew_assign_notes (a);

  for (guint i = 0; lead[i] != NULL; i++)
    if (strstr (lead[i], part) != NULL)
      return TRUE;
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

/* The rule of a wish, said again; 0: it may not come there. */
static int
wish_value (const DewAssignGroup *group, int s)
{
  if (group->score[s] < 0 || group->out[s] != 0)
    return 0;
  return 1000 + (group->plant.state == DEW_PLANT_WEAK ? 2 : 1) * group->score[s];
}

static gboolean
blocks_meet (const DewAssignment *a, int g, int s, int h, int t)
{
  const DewAssignSpot *p = &a->spots[s], *q = &a->spots[t];
  const int *span = a->groups[g].span, *other = a->groups[h].span;

  return p->bay == q->bay && p->column < q->column + other[0] && q->column < p->column + span[0]
         && p->row < q->row + other[1] && q->row < p->row + span[1];
}

#define THREE 3

/* Every way to place the three groups from g on, one plant each; most[]: the best of a group alone.
 */
static gint64
every_way (const DewAssignment *a, int g, int *at, gint64 sum, const int *most, gint64 best)
{
  gint64 rest = 0;

  if (g >= THREE)
    return MAX (best, sum);
  for (int h = g; h < THREE; h++)
    rest += most[h];
  if (sum + rest <= best)
    return best;
  for (at[g] = -1; at[g] < a->n_spots; at[g]++)
    {
      int value = at[g] < 0 ? 0 : wish_value (&a->groups[g], at[g]);
      gboolean meets = FALSE;

      if (at[g] >= 0 && value == 0)
        continue;
      for (int h = 0; at[g] >= 0 && h < g; h++)
        meets |= at[h] >= 0 && blocks_meet (a, g, at[g], h, at[h]);
      if (!meets)
        best = every_way (a, g + 1, at, sum + value, most, best);
    }
  return best;
}

/* Three plants nearly as wide as a place on three bays: every way there is. */
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
      int at[THREE], most[THREE] = { 0 };

      for (int p = 0; p < f->night->n_places; p++)
        {
          f->night->places[p].mean.t_C = g_rand_double_range (rand, 6.0, 22.0);
          f->day->places[p].mean.rh = g_rand_double_range (rand, 0.55, 1.0);
        }

      g_autoptr (DewAssignment) a = solve (f);

      check_sums (a);
      g_assert_true (a->proven);
      g_assert_cmpint (a->n_groups, ==, 3);
      for (int g = 0; g < THREE; g++)
        for (int s = 0; s < a->n_spots; s++)
          most[g] = MAX (most[g], wish_value (&a->groups[g], s));
      g_assert_cmpfloat (a->value, ==, (double) every_way (a, 0, at, 0, most, 0));
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
          double half_m = 0.5 * 0.9 * a->groups[plant->group].plant.width_m, sum = 0.0;
          double day_C = 0.0, night_C = 0.0, rh = 0.0;
          g_autofree char *number = NULL, *words = NULL;

          if (plant->bay < 0)
            continue;
          for (int p = 0; p < f->day->n_places; p++)
            {
              const DewPlace *at = &f->day->places[p];
              double share = 1.0;

              for (int x = 0; x < 2; x++)
                share *= MAX (0.0, MIN (at->hi_m[x], plant->at_m[x] + half_m)
                                     - MAX (at->lo_m[x], plant->at_m[x] - half_m));
              if (at->bay != plant->bay)
                continue;
              sum += share;
              day_C += share * at->mean.t_C;
              rh += share * at->mean.rh;
              night_C += share * f->night->places[p].mean.t_C;
            }
          day_C /= sum;
          night_C /= sum;
          rh /= sum;
          g_assert_cmpfloat_with_epsilon (d[DEW_DEMAND_T_DAY].margin,
                                          MIN (24.0 - day_C, day_C - 12.0), 1e-9);
          /* Of two limits the one that is nearer by its distance from the ideal, 85 %. */
          g_assert_cmpfloat_with_epsilon (d[DEW_DEMAND_RH_DAY].margin,
                                          100.0 * (rh < 0.85 ? rh - 0.70 : 0.95 - rh), 1e-9);
          g_assert_cmpfloat_with_epsilon (d[DEW_DEMAND_T_NIGHT].margin,
                                          MIN (18.0 - night_C, night_C - 8.0), 1e-9);
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

  /* 7 cm, of which 6.3 are its own: nine by four on each of three shelves of 60 by 30 cm hold 108.
   */
  tiny->width_m = 0.07;
  wish_for (f->chamber, "Tiny", "tiny", 112, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_true (a->proven);
  g_assert_cmpint (a->n_placed, ==, 108);
  g_assert_cmpint (a->n_without, ==, 4);
  g_assert_true (has_note (a, "4 of 112 plants have no place")
                 && has_note (a, "No room for 4 × Tiny"));
}

/* 120 plants of 8 cm, none over another, on a pitch of 8.5 by 9 cm that no grid of places has. All
 * of them may stay: what stands is never thrown out. */
static void
test_all_stay (void)
{
  Fixture f = { .chamber = two_shelves () };
  DewPlantKind plain = plain_kind ("plain");

  f.chamber->outer_m[0] = 0.89;
  f.chamber->outer_m[1] = 0.40;
  f.day = plain_air (f.chamber, FALSE);
  f.night = plain_air (f.chamber, TRUE);
  f.kinds = g_array_new (FALSE, FALSE, sizeof (DewPlantKind));
  g_array_append_val (f.kinds, plain);
  for (int n = 0; n < 120; n++)
    {
      g_autofree char *name = g_strdup_printf ("Plant %d", n);
      guint id = stand (f.chamber, name, "plain", 0.0425 + 0.085 * (n % 10),
                        0.045 + 0.09 * (n / 10 % 4), (const double[]){ 0.0, 0.31, 0.66 }[n / 40]);
      DewThing *thing = dew_variant_thing (dew_chamber_shown (f.chamber), id);

      thing->plant.width_m = thing->plant.depth_m = 0.08;
    }

  g_autoptr (DewAssignment) a = solve (&f);

  check_sums (a);
  g_assert_cmpint (a->n_stays, ==, 120);
  g_assert_cmpint (a->n_without, ==, 0);
  g_assert_cmpint (a->n_moves, ==, 0);
  g_assert_true (a->proven && a->at_their_best);
  g_assert_cmpfloat (a->value, ==, a->stay_value);
  tear_down (&f, NULL);
}

/* A plant that stands against a pot, and one against another that keeps its place, may stay. */
static void
test_touching (Fixture *f, gconstpointer data)
{
  guint kept = stand (f->chamber, "Kept", "plain", 0.20, 0.14, 0.31);
  DewThing pot;

  stand (f->chamber, "By the plant", "plain", 0.29, 0.14, 0.31);
  stand (f->chamber, "By the pot", "plain", 0.20, 0.10, 0.66);
  dew_variant_thing (dew_chamber_shown (f->chamber), kept)->plant.keep_place = TRUE;
  dew_thing_init (&pot, DEW_THING_POT);
  pot.pot.x_m = 0.29;
  pot.pot.y_m = 0.10;
  pot.pot.z_m = 0.66;
  pot.pot.rim_diameter_m = 0.10;
  dew_variant_add (f->chamber, dew_chamber_shown (f->chamber), &pot);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_true (plant_named (a, "By the plant", 0)->stays);
  g_assert_true (plant_named (a, "By the pot", 0)->stays);
}

/* Little to win: it stays, and the little is told. What was advised is not moved again. */
static void
test_moving_costs (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  set_night (f, 0, 18.5); /* a little too warm */
  set_night (f, 1, 14.0); /* ideal is 13 */
  set_night (f, 2, 13.0);
  stand (f->chamber, "Nearly well", "plain", 0.31, 0.14, 0.31);
  stand (f->chamber, "Too warm", "plain", 0.31, 0.14, 0.0);

  g_autoptr (DewAssignment) a = solve (f);

  check_sums (a);
  g_assert_true (plant_named (a, "Nearly well", 0)->stays);
  g_assert_false (plant_named (a, "Too warm", 0)->stays);
  g_assert_cmpint (a->n_moves, ==, 1);
  g_assert_cmpfloat (a->mean_then, >, a->mean_now + 50.0);
  g_assert_nonnull (a->all_moves);
  g_assert_cmpint (a->all_moves->n_moves, ==, 2);
  g_assert_cmpfloat (a->all_moves->mean_then, >, a->mean_then);
  g_assert_cmpfloat (a->all_moves->mean_then, <, a->mean_then + 50.0);

  g_assert_true (dew_assign_apply (a, f->chamber, 0, &error));

  g_autoptr (DewAssignment) b = solve (f);

  g_assert_cmpint (b->n_moves, ==, 0);
}

/* Who is given up leads, with what would save it; and so does what no one air can do for two. */
static void
test_given_up (Fixture *f, gconstpointer data)
{
  DewPlantKind *fern = add_kind (f, "fern");

  fern->rh_min = 0.88;
  fern->rh_ideal = 0.94;
  fern->rh_max = 0.99;
  add_kind (f, "orchid")->rh_max = 0.80;
  g_array_index (f->kinds, DewPlantKind, 2).rh_ideal = 0.75;
  for (int p = 0; p < f->day->n_places; p++)
    f->day->places[p].mean.rh = f->night->places[p].mean.rh = 0.74;
  wish_for (f->chamber, "Fern", "fern", 1, DEW_PLANT_HEALTHY, 0.0);
  wish_for (f->chamber, "Orchid", "orchid", 1, DEW_PLANT_HEALTHY, 0.0);

  g_autoptr (DewAssignment) a = solve (f);
  g_auto (GStrv) lead = dew_assign_lead (a, DEW_TONGUE_METRIC);

  g_assert_cmpstr (lead[0], ==, "1 of 2 plants has no place here.");
  g_assert_nonnull (strstr (lead[1], "Not here: Fern. It takes 14 points more humid air"));
  g_assert_nonnull (strstr (lead[1], "another enclosure"));
  g_assert_true (has_note (a, "No humidity suits all"));
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
  g_assert_true (has_note (a, "2 of 2 plants have no place"));
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
      g_array_index (variant->things, DewThing, i).shelf.load_limit_kg = 4.0;
  set_night (f, 0, 26.0);
  wish_for (f->chamber, "Heavy", "plain", 12, DEW_PLANT_HEALTHY, 0.12);

  g_autoptr (DewAssignment) a = solve (f);

  /* 0.75 kg each, just watered: a shelf of 4 kg bears 60 % of it, three of them; two shelves. */
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

/* A shelf above the most by some points is no end of a plant, far above it is. */
static void
test_full_air (Fixture *f, gconstpointer data)
{
  add_kind (f, "dry")->rh_max = 0.80;
  g_array_index (f->kinds, DewPlantKind, 1).rh_ideal = 0.75;
  wish_for (f->chamber, "Dry", "dry", 1, DEW_PLANT_HEALTHY, 0.0);
  for (int pass = 0; pass < 2; pass++)
    {
      for (int p = 0; p < f->day->n_places; p++)
        f->day->places[p].mean.rh = f->night->places[p].mean.rh = pass == 0 ? 0.88 : 0.95;

      g_autoptr (DewAssignment) a = solve (f);

      g_assert_cmpint (a->n_placed, ==, pass == 0);
    }
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
    {
      g_autofree char *words = dew_assign_words (plant_named (a, "Stranger", 0), DEW_TONGUE_METRIC);

      g_assert_nonnull (strstr (words, "not known"));
      g_assert_null (strstr (words, "Comfortable"));
    }
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
  g_test_add_func ("/assign/all-stay", test_all_stay);
  ADD ("touching", test_touching);
  ADD ("moving-costs", test_moving_costs);
  ADD ("given-up", test_given_up);
  ADD ("weak", test_weak);
  ADD ("quarantine", test_quarantine);
  ADD ("contradiction", test_contradiction);
  ADD ("keep", test_keep);
  ADD ("nowhere", test_nowhere);
  ADD ("two-ways-out", test_two_ways_out);
  ADD ("suffers", test_suffers);
  ADD ("crowded", test_crowded);
  ADD ("load", test_load);
  ADD ("full-air", test_full_air);
  ADD ("odd-input", test_odd_input);
  return g_test_run ();
}
