/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air.h"

#include "store/store.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

/* The assignment as a grower meets it: on air that is set by hand, and on the forty plants. */

typedef struct
{
  DewChamber  *chamber;
  DewForecast *day, *night;
  GArray      *kinds;
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
  for (guint i = 0; i < a->notes->len; i++)
    if (strstr (g_ptr_array_index (a->notes, i), part) != NULL)
      return TRUE;
  return FALSE;
}

/* --- the rules, counted from the answer alone ------------------------------- */

static double
gap_between (double a, double wa, double b, double wb)
{
  return fabs (a - b) - 0.5 * 0.9 * (wa + wb);
}

/* Crowns do not overlap but for the tenth that may mingle, unless both stand as they stood;
 * nothing stands in a device; loads and heights hold. fit: [n_plants], by the caller. */
static void
check_layout (const DewChamber *chamber, const DewAssignment *a, const DewFitPlant *fit)
{
  const DewVariant *variant = dew_chamber_shown ((DewChamber *) chamber);
  g_autofree double *kg = g_new0 (double, a->n_bays);

  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *p = &a->plants[i];

      if (p->bay < 0)
        continue;
      if (p->verdict != DEW_ASSIGN_KEPT)
        kg[p->bay] += fit[i].mass_kg;
      for (int j = 0; j < i; j++)
        {
          const DewAssignPlant *q = &a->plants[j];

          if (q->bay != p->bay || (p->stays && q->stays))
            continue;
          g_assert_true (gap_between (p->at_m[0], fit[i].width_m, q->at_m[0], fit[j].width_m) > -0.011
                         || gap_between (p->at_m[1], fit[i].width_m, q->at_m[1], fit[j].width_m)
                              > -0.011);
        }
      if (p->stays)
        continue;
      for (guint k = 0; k < variant->things->len; k++)
        {
          const DewThing *thing = &g_array_index (variant->things, DewThing, k);
          double lo[3], hi[3], half = 0.45 * fit[i].width_m;

          if (thing->kind != DEW_THING_POT && thing->kind != DEW_THING_HUMIDIFIER
              && thing->kind != DEW_THING_FAN && thing->kind != DEW_THING_LAMP)
            continue;
          dew_thing_box (chamber, thing, lo, hi);
          g_assert_false (p->at_m[0] - half < hi[0] - 0.011 && p->at_m[0] + half > lo[0] + 0.011
                          && p->at_m[1] - half < hi[1] - 0.011 && p->at_m[1] + half > lo[1] + 0.011
                          && p->at_m[2] < hi[2] - 1e-6
                          && p->at_m[2] + fit[i].height_m > lo[2] + 1e-6);
        }
    }
  for (int b = 0; b < a->n_bays; b++)
    g_assert_cmpfloat (kg[b], <=, a->bays[b].load_left_kg + 1e-9);
}

/* The value is the sum of the plants', and everything about places is consistent. */
static void
check_sums (const DewAssignment *a)
{
  gint64 sum = 0;
  g_autofree guint8 *used = g_new0 (guint8, a->n_spots);

  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *p = &a->plants[i];

      sum += p->value;
      g_assert_true ((p->bay >= 0)
                     == (p->verdict == DEW_ASSIGN_PLACED || p->verdict == DEW_ASSIGN_SUFFERS
                         || (p->verdict == DEW_ASSIGN_KEPT && p->bay >= 0)));
      if (p->bay < 0 || p->verdict == DEW_ASSIGN_SUFFERS)
        g_assert_cmpint (p->needs[0], !=, '\0');
      g_assert_cmpint (p->words[0], !=, '\0');
      if (p->spot >= 0)
        {
          const DewAssignGroup *group = &a->groups[p->group];
          const DewAssignSpot *corner = &a->spots[p->spot];

          g_assert_cmpint (p->fit.score, ==, group->score[p->spot]);
          g_assert_cmpuint (p->fit.out, ==, group->out[p->spot]);
          for (int r = 0; r < group->span[1]; r++)
            for (int c = 0; c < group->span[0]; c++)
              {
                int s = (corner->bay * a->spots_deep + corner->row + r) * a->spots_across
                        + corner->column + c;

                g_assert_false (used[s] || a->spots[s].blocked);
                used[s] = 1;
              }
        }
    }
  g_assert_cmpfloat (a->value, ==, (double) sum);
  g_assert_cmpfloat (a->bound, >=, a->value);
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
          g_autofree char *number = NULL;
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
          g_assert_cmpfloat_with_epsilon (d[DEW_DEMAND_RH_DAY].margin,
                                          100.0 * (at->mean.rh < 0.85 ? at->mean.rh - 0.70
                                                                      : 0.95 - at->mean.rh),
                                          1e-9);
          at = &f->night->places[p];
          g_assert_cmpfloat_with_epsilon (d[DEW_DEMAND_T_NIGHT].margin,
                                          MIN (18.0 - at->mean.t_C, at->mean.t_C - 8.0), 1e-9);
          /* The words hold that number. */
          if (plant->fit.tightest == DEW_DEMAND_T_NIGHT || plant->fit.tightest == DEW_DEMAND_T_DAY)
            {
              number = g_strdup_printf ("%.1f K", fabs (d[plant->fit.tightest].margin));
              g_assert_nonnull (strstr (plant->words, number));
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
  g_assert_cmpstr (p->needs, ==, "a shelf 40 cm larger"); /* 70 cm wide, 30 cm deep */
  p = plant_named (a, "Taller", 0);
  g_assert_cmpint (p->verdict, ==, DEW_ASSIGN_NOWHERE);
  /* The highest bay is 35 cm less its board: 34. */
  g_assert_nonnull (strstr (p->needs, "46 cm more height"));
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
  g_assert_cmpstr (p->needs, ==, "a place with 2.0 cm more height, or 3.0 K cooler nights");
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
  g_assert_cmpstr (plant_named (a, "Standing", 0)->needs, ==, "3.0 K cooler nights");
  g_assert_cmpint (plant_named (a, "Wished", 0)->verdict, ==, DEW_ASSIGN_NOWHERE);
  g_assert_cmpstr (plant_named (a, "Wished", 0)->needs, ==, "3.0 K cooler nights");
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

/* --- the forty ----------------------------------------------------------------- */

typedef struct
{
  DewChamber  *chamber;
  DewForecast *day, *night;
} Forty;

static gboolean
find_kind (const char *species, DewPlantKind *out, gpointer data)
{
  return dew_catalogue_plant_kind (data, species, out);
}

static DewForecast *
draft (const DewChamber *chamber, gboolean night)
{
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;
  DewForecast *forecast;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  options.night = night;
  forecast = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  return forecast;
}

static void
forty_set_up (Forty *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  f->chamber = dew_store_load (DEW_TESTS_DIR "/advice/forty.json", &error);
  g_assert_no_error (error);
  f->day = draft (f->chamber, FALSE);
  f->night = draft (f->chamber, TRUE);
}

static void
forty_tear_down (Forty *f, gconstpointer data)
{
  dew_chamber_free (f->chamber);
  dew_forecast_unref (f->day);
  dew_forecast_unref (f->night);
}

static DewAssignment *
solve_forty (const DewChamber *chamber, const Forty *f)
{
  g_autoptr (GError) error = NULL;
  DewAssignOptions options;
  DewAssignment *a;

  dew_assign_options_init (&options);
  options.seconds = 60.0; /* under a sanitizer; in earnest it takes one */
  options.lookup = find_kind;
  options.lookup_data = (gpointer) chamber;
  a = dew_assign_new (chamber, 0, f->day, f->night, &options, NULL, &error);
  g_assert_no_error (error);
  return a;
}

static DewFitPlant *
fits_of (const DewChamber *chamber, const DewAssignment *a)
{
  const DewVariant *variant = dew_chamber_shown ((DewChamber *) chamber);
  DewFitPlant *fit = g_new0 (DewFitPlant, a->n_plants);

  for (int i = 0; i < a->n_plants; i++)
    if (a->plants[i].thing_id != 0)
      dew_fit_plant_of_thing (variant, dew_variant_thing (variant, a->plants[i].thing_id),
                              find_kind, (gpointer) chamber, &fit[i]);
    else
      dew_fit_plant_of_wish (dew_chamber_wish (chamber, a->plants[i].wish_id), find_kind,
                             (gpointer) chamber, &fit[i]);
  return fit;
}

static void
test_forty (Forty *f, gconstpointer data)
{
  g_autoptr (DewAssignment) a = solve_forty (f->chamber, f);
  g_autofree DewFitPlant *fit = fits_of (f->chamber, a);

  g_assert_cmpint (a->n_plants, ==, 40);
  g_assert_true (a->proven);
  check_sums (a);
  check_layout (f->chamber, a, fit);
  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *p = &a->plants[i];
      double ceiling_m;

      if (p->bay < 0 || p->stays)
        continue;
      ceiling_m = f->day->bays[p->bay].z1_m;
      g_assert_cmpfloat (p->at_m[2] + fit[i].height_m, <=, ceiling_m + 1e-9);
      if (fit[i].state == DEW_PLANT_ARRIVED)
        g_assert_cmpint (p->bay, <, a->quarantine_bays);
      else
        g_assert_cmpint (p->bay, >=, a->quarantine_bays);
    }
}

static void
shuffle (GArray *array, GRand *rand)
{
  guint size = g_array_get_element_size (array);
  g_autofree char *spare = g_malloc (size);

  for (guint i = array->len - 1; i > 0; i--)
    {
      guint j = (guint) g_rand_int_range (rand, 0, (gint32) i + 1);

      memcpy (spare, array->data + i * size, size);
      memmove (array->data + i * size, array->data + j * size, size);
      memcpy (array->data + j * size, spare, size);
    }
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static char *
placed_names (const DewAssignment *a)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  GString *all = g_string_new (NULL);

  for (int i = 0; i < a->n_plants; i++)
    g_ptr_array_add (names, g_strdup_printf ("%s %d %d\n", a->plants[i].name, a->plants[i].bay,
                                             (int) a->plants[i].verdict));
  g_ptr_array_sort (names, by_name);
  for (guint i = 0; i < names->len; i++)
    g_string_append (all, g_ptr_array_index (names, i));
  return g_string_free (all, FALSE);
}

static void
test_order (Forty *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  g_autoptr (DewAssignment) a = solve_forty (f->chamber, f);
  g_autofree char *names = placed_names (a);
  g_autoptr (DewChamber) other = dew_chamber_copy (f->chamber);

  /* The same plants in another order of things and of wishes, and under other wish ids. */
  shuffle (dew_chamber_shown (other)->things, rand);
  shuffle (other->wishes, rand);
  for (guint i = 0; i < other->wishes->len; i++)
    g_array_index (other->wishes, DewWish, i).id = other->next_id++;

  g_autoptr (DewAssignment) b = solve_forty (other, f);
  g_autofree char *other_names = placed_names (b);

  g_assert_cmpfloat (a->value, ==, b->value);
  g_assert_cmpstr (names, ==, other_names);
}

static void
test_apply (Forty *f, gconstpointer data)
{
  g_autoptr (DewAssignment) a = solve_forty (f->chamber, f);
  g_autoptr (DewChamber) chamber = dew_chamber_copy (f->chamber);
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) problems = NULL;
  DewVariant *variant = dew_chamber_shown (chamber);
  int plants = 0, wishes = 0, planted = 0;

  g_assert_true (dew_assign_apply (a, chamber, 0, &error));
  g_assert_no_error (error);
  for (guint i = 0; i < variant->things->len; i++)
    plants += g_array_index (variant->things, DewThing, i).kind == DEW_THING_PLANT;
  for (guint i = 0; i < chamber->wishes->len; i++)
    wishes += g_array_index (chamber->wishes, DewWish, i).count;
  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *p = &a->plants[i];

      planted += p->bay >= 0;
      if (p->thing_id != 0 && p->bay >= 0)
        g_assert_cmpfloat (dew_variant_thing (variant, p->thing_id)->plant.x_m, ==, p->at_m[0]);
    }
  g_assert_cmpint (plants, ==, planted);
  g_assert_cmpint (wishes, ==, 40 - planted);
  problems = dew_chamber_check (chamber, variant->id);
  for (guint i = 0; i < problems->len; i++)
    g_test_message ("%s", g_array_index (problems, DewProblem, i).message);
  g_assert_cmpuint (problems->len, ==, 0);
  g_assert_true (dew_chamber_validate (chamber, &error));

  /* It belongs to the document as it was. */
  g_assert_false (dew_assign_apply (a, chamber, 0, &error));
  g_assert_error (error, DEW_ASSIGN_ERROR, DEW_ASSIGN_ERROR_FORECAST);
}

/* A document that does not change gives an assignment that moves nobody any more. */
static void
test_apply_twice (Forty *f, gconstpointer data)
{
  g_autoptr (DewAssignment) a = solve_forty (f->chamber, f);
  g_autoptr (DewChamber) chamber = dew_chamber_copy (f->chamber);
  g_autoptr (GError) error = NULL;

  g_assert_true (dew_assign_apply (a, chamber, 0, &error));

  g_autoptr (DewAssignment) b = solve_forty (chamber, f);

  check_sums (b);
  g_assert_cmpint (b->n_without, <=, a->n_without);
}

/* --- the command line ----------------------------------------------------------- */

static int
member (JsonObject *object, const char *name)
{
  return (int) json_object_get_int_member (object, name);
}

/* The JSON holds the whole problem: the value and every rule follow from it alone. */
static void
test_json (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *out = NULL;
  g_autoptr (JsonParser) parser = json_parser_new ();
  const char *argv[] = { DEW_BUILD_DIR "/app/dewtier", "assign", DEW_TESTS_DIR "/advice/forty.json",
                         "--json", "--draft", "--members", "0", "--seconds", "60", NULL };
  JsonObject *root;
  JsonArray *plants, *groups, *spots, *stays, *size;
  g_autofree guint8 *used = NULL;
  gint64 sum = 0;
  int status, across, deep;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &out, NULL,
                &status, &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, &error));
  json_parser_load_from_data (parser, out, -1, &error);
  g_assert_no_error (error);
  root = json_node_get_object (json_parser_get_root (parser));
  g_assert_cmpstr (json_object_get_string_member (root, "format"), ==, "dewtier assignment");
  g_assert_true (json_object_get_boolean_member (root, "proven"));
  plants = json_object_get_array_member (root, "plants");
  groups = json_object_get_array_member (root, "groups");
  spots = json_object_get_array_member (root, "spots");
  stays = json_object_get_array_member (root, "stays");
  size = json_object_get_array_member (root, "spots_across_deep");
  across = (int) json_array_get_int_element (size, 0);
  deep = (int) json_array_get_int_element (size, 1);
  used = g_new0 (guint8, json_array_get_length (spots));
  g_assert_cmpuint (json_array_get_length (plants), ==, 40);
  for (guint i = 0; i < json_array_get_length (plants); i++)
    {
      JsonObject *plant = json_array_get_object_element (plants, i);
      int spot = member (plant, "spot"), value = 0;

      if (member (plant, "bay") < 0 || strcmp (json_object_get_string_member (plant, "verdict"),
                                               "kept") == 0)
        continue;
      if (spot < 0)
        {
          for (guint y = 0; y < json_array_get_length (stays); y++)
            if (member (json_array_get_object_element (stays, y), "plant") == (int) i)
              value = member (json_array_get_object_element (stays, y), "value");
        }
      else
        {
          JsonObject *group = json_array_get_object_element (groups, member (plant, "group"));
          JsonObject *corner = json_array_get_object_element (spots, spot);
          JsonArray *span = json_object_get_array_member (group, "span");

          value = (int) json_array_get_int_element (json_object_get_array_member (group, "value"),
                                                    spot);
          for (int r = 0; r < json_array_get_int_element (span, 1); r++)
            for (int c = 0; c < json_array_get_int_element (span, 0); c++)
              {
                int s = (member (corner, "bay") * deep + member (corner, "row") + r) * across
                        + member (corner, "column") + c;

                g_assert_false (used[s]);
                g_assert_false (json_object_get_boolean_member (
                  json_array_get_object_element (spots, s), "blocked"));
                used[s] = 1;
              }
        }
      g_assert_cmpint (value, >, 0);
      sum += value;
    }
  g_assert_cmpint (sum, ==, json_object_get_int_member (root, "value"));
}

#define ADD(path, test) \
  g_test_add ("/assign/" path, Fixture, NULL, set_up, test, tear_down)
#define ADD_FORTY(path, test) \
  g_test_add ("/assign/" path, Forty, NULL, forty_set_up, test, forty_tear_down)

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
  ADD_FORTY ("forty", test_forty);
  ADD_FORTY ("order", test_order);
  ADD_FORTY ("apply", test_apply);
  ADD_FORTY ("apply-twice", test_apply_twice);
  g_test_add_func ("/assign/json", test_json);
  return g_test_run ();
}
