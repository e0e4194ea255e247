/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air.h"

#include "advice/heights/heights.h"
#include "advice/suits/suits.h"
#include "catalogue/catalogue.h"
#include "say/suits.h"

#include <math.h>
#include <string.h>

/* What would grow here, and how high the shelves, on air that is set by hand. */

/* --- what would grow here ------------------------------------------------ */

static void
set_bay (DewForecast *forecast, int bay, double t_C, double rh)
{
  for (int p = 0; p < forecast->n_places; p++)
    if (forecast->places[p].bay == bay)
      {
        forecast->places[p].mean.t_C = t_C;
        forecast->places[p].mean.rh = rh;
      }
}

/* The rows' own limits, asked again: what is said to fit bears its bay, what is not lacks it. */
static void
test_suits (void)
{
  g_autoptr (DewChamber) chamber = two_shelves ();
  g_autoptr (DewForecast) day = plain_air (chamber, FALSE);
  g_autoptr (DewForecast) night = plain_air (chamber, TRUE);
  g_autoptr (DewSuits) suits = NULL;
  const DewSuitsKind *kind;

  /* Cool and humid below, warm and dry on top. */
  set_bay (day, 2, 29.0, 0.55);
  set_bay (night, 2, 21.0, 0.55);
  suits = dew_suits_new (chamber, dew_chamber_shown (chamber), &(DewSuitsAir){ 5, day, night }, 1,
                         NULL);
  g_assert_cmpint (suits->n_bays, ==, 3);
  g_assert_cmpint (suits->n_kinds, ==, (int) dew_catalogue_rows (dew_catalogue ("plants")));
  kind = dew_suits_kind (suits, "Restrepia");
  g_assert_true (kind->fits);
  g_assert_cmpint (kind->best, !=, 2);
  g_assert_cmpuint (kind->bays[2].fit.out & DEW_DEMAND_BIT (DEW_DEMAND_T_DAY), !=, 0);
  for (int k = 0; k < suits->n_kinds; k++)
    for (int b = 0; b < 3; b++)
      {
        const DewSuitsBay *bay = &suits->kinds[k].bays[b];
        const DewPlantKind *wants = &suits->kinds[k].plant.kind;
        double t_C = b == 2 ? 29.0 : 18.0, rh = b == 2 ? 0.55 : 0.85;

        g_assert_cmpint (bay->place, >=, 0);
        /* 2 K and 5 points beyond its limits, 12 above the most humid, nothing is offered. */
        if (t_C > wants->t_day_max_C + 2.0 || t_C < wants->t_day_min_C - 2.0
            || rh < wants->rh_min - 0.05 - 1e-9 || rh > wants->rh_max + 0.12 + 1e-9)
          g_assert_cmpuint (bay->months_out, ==, 1u << 5);
        g_assert_true ((bay->months_out != 0) == (bay->fit.out != 0));
      }
  /* Those that fit come first. */
  for (int k = 1; k < suits->n_kinds; k++)
    g_assert_true (suits->kinds[k - 1].fits || !suits->kinds[k].fits);
}

static void
test_months (void)
{
  g_autoptr (DewChamber) chamber = two_shelves ();
  g_autoptr (DewForecast) day = plain_air (chamber, FALSE);
  g_autoptr (DewForecast) night = plain_air (chamber, TRUE);
  g_autoptr (DewForecast) hot = dew_forecast_copy (day);
  g_autoptr (DewSuits) suits = NULL;
  g_auto (GStrv) words = NULL;
  const DewSuitsKind *kind;

  for (int b = 0; b < 3; b++)
    set_bay (hot, b, 31.0, 0.85);
  suits = dew_suits_new (chamber, dew_chamber_shown (chamber),
                         (DewSuitsAir[]){ { 0, day, night }, { 6, hot, night } }, 2, NULL);
  kind = dew_suits_kind (suits, "Restrepia");
  g_assert_false (kind->fits);
  g_assert_cmpuint (kind->bays[kind->best].months_out, ==, 1u << 6);
  g_assert_cmpint (kind->bays[kind->best].month, ==, 6);
  words = dew_suits_kind_words (suits, kind, DEW_TONGUE_METRIC);
  g_assert_nonnull (strstr (words[0], "would not do here"));
  /* 31 C against at most 24. */
  g_assert_nonnull (strstr (words[1], "7.0 K cooler days"));
  g_assert_nonnull (strstr (words[1], "July"));
}

/* --- safety -------------------------------------------------------------- */

static void
expect_safety (const char *species, const char *part)
{
  g_autofree char *words = dew_kind_safety_words (species);

  g_assert_nonnull (strstr (words, part));
}

/* What nobody has listed is not said to be safe. */
static void
test_safety (void)
{
  expect_safety ("Alocasia (jewel)", "Poisonous");
  expect_safety ("Begonia Rex-cultorum", "irritate");
  expect_safety ("Dracula", "Not checked");
  expect_safety ("Moon lily", "Not checked");
}

/* --- lists --------------------------------------------------------------- */

static void
test_list (void)
{
  g_autoptr (GArray) list
    = dew_catalogue_read_list (NULL, "3 Dracula, 2x Sundew small; venus flytrap x4\nMoon lily");
  const DewListedPlant *plants = (const DewListedPlant *) list->data;

  g_assert_cmpuint (list->len, ==, 4);
  g_assert_cmpint (plants[0].count, ==, 3);
  g_assert_cmpstr (plants[0].species, ==, "Dracula");
  g_assert_cmpint (plants[1].count, ==, 2);
  g_assert_false (plants[1].known); /* there are several sundews */
  g_assert_cmpstr (plants[1].looked_for, ==, "Sundew");
  g_assert_cmpint (plants[2].count, ==, 4);
  g_assert_cmpstr (plants[2].species, ==, "Dionaea muscipula");
  g_assert_cmpint (plants[3].count, ==, 1);
  g_assert_false (plants[3].known);
}

/* --- heights ------------------------------------------------------------- */

static guint
stand_high (DewChamber *chamber, const char *name, double z_m, double height_m)
{
  guint id = stand (chamber, name, "plain", 0.3, 0.15, z_m);

  dew_variant_thing (dew_chamber_shown (chamber), id)->plant.height_m = height_m;
  return id;
}

/* Bays of 30, 34 and 34 cm, boards of 1 cm, in 100 cm, and a lamp 5 cm under the roof. */
static void
test_heights (void)
{
  g_autoptr (DewChamber) chamber = two_shelves ();
  DewVariant *variant = dew_chamber_shown (chamber);
  g_autoptr (DewHeights) stays = NULL;
  g_autoptr (DewHeights) moves = NULL;
  g_autoptr (DewHeights) low = NULL;
  guint tall, id = 0;

  stand_high (chamber, "Small", 0.0, 0.10);
  stays = dew_heights_new (chamber, variant, NULL, NULL);
  g_assert_true (stays->fits);
  g_assert_cmpint (stays->n_moves, ==, 0);

  /* 37 cm and 3 to spare where 34 are: the board above goes up by 6; the top, with 10 and 3 under
   * its lamp, has that to give. */
  tall = stand_high (chamber, "Tall", 0.31, 0.37);
  moves = dew_heights_new (chamber, variant, NULL, NULL);
  g_assert_true (moves->fits);
  g_assert_cmpint (moves->n_moves, ==, 1);
  g_assert_cmpstr (moves->bays[1].tallest, ==, "Tall");
  g_assert_cmpfloat_with_epsilon (moves->bays[1].need_m, 0.40, 1e-9);
  g_assert_cmpfloat_with_epsilon (moves->shelves[1].then_m, 0.71, 1e-9);
  dew_heights_apply (moves, chamber, 0);
  for (guint i = 0; i < variant->things->len; i++)
    if (g_array_index (variant->things, DewThing, i).kind == DEW_THING_SHELF)
      id = MAX (id, g_array_index (variant->things, DewThing, i).id);
  g_assert_cmpfloat_with_epsilon (dew_variant_thing (variant, id)->shelf.z_m, 0.71, 1e-9);

  /* More than there is. */
  dew_variant_thing (variant, tall)->plant.height_m = 0.90;
  low = dew_heights_new (chamber, variant, NULL, NULL);
  g_assert_false (low->fits);
  g_assert_cmpfloat (low->short_m, >, 0.1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/suits/one-month", test_suits);
  g_test_add_func ("/suits/months", test_months);
  g_test_add_func ("/suits/safety", test_safety);
  g_test_add_func ("/suits/list", test_list);
  g_test_add_func ("/suits/heights", test_heights);
  return g_test_run ();
}
