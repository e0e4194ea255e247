/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air.h"

#include "advice/compare/compare.h"
#include "say/changes.h"

#include <math.h>
#include <string.h>

/* Variants side by side, on air that is set by hand. */

typedef struct
{
  DewChamber *chamber;
  guint ids[2];
  DewForecast *day[2], *night[2];
  GArray *kinds;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  DewPlantKind plain = plain_kind ("plain");

  f->chamber = two_shelves ();
  stand (f->chamber, "Low one", "plain", 0.3, 0.1, 0.0);
  stand (f->chamber, "Middle one", "plain", 0.3, 0.1, 0.31);
  f->ids[0] = f->chamber->shown_variant;
  f->ids[1] = dew_chamber_add_variant (f->chamber, "B", dew_chamber_shown (f->chamber))->id;
  for (int s = 0; s < 2; s++)
    {
      f->day[s] = plain_air (f->chamber, FALSE);
      f->night[s] = plain_air (f->chamber, TRUE);
    }
  f->kinds = g_array_new (FALSE, FALSE, sizeof (DewPlantKind));
  g_array_append_val (f->kinds, plain);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  dew_chamber_free (f->chamber);
  for (int s = 0; s < 2; s++)
    {
      dew_forecast_unref (f->day[s]);
      dew_forecast_unref (f->night[s]);
    }
  g_array_unref (f->kinds);
}

/* turned: the second against the first the other way round. */
static DewComparison *
compare (const Fixture *f, gboolean turned)
{
  const guint ids[2] = { f->ids[turned], f->ids[!turned] };
  DewForecast *const day[2] = { f->day[turned], f->day[!turned] };
  DewForecast *const night[2] = { f->night[turned], f->night[!turned] };

  return dew_compare_new (f->chamber, ids, 2, day, night, kind_in_list, f->kinds);
}

static const DewChange *
find_in (const DewComparison *c, DewTongue tongue, const char *words)
{
  for (guint i = 0; i < c->changes->len; i++)
    {
      const DewChange *change = &g_array_index (c->changes, DewChange, i);
      g_autofree char *told = dew_change_words (c, change, tongue);

      if (strcmp (told, words) == 0)
        return change;
      g_test_message ("%s", told);
    }
  g_error ("\"%s\" is not said", words);
}

static const DewChange *
find (const DewComparison *c, const char *words)
{
  return find_in (c, DEW_TONGUE_METRIC, words);
}

static void
set_bay (DewForecast *forecast, int bay, double t_C, double rh, double rh_band)
{
  for (int p = 0; p < forecast->n_places; p++)
    if (forecast->places[p].bay == bay)
      {
        forecast->places[p].mean.t_C = t_C;
        forecast->places[p].mean.rh = rh;
        forecast->places[p].mean.rh_band = rh_band;
      }
  forecast->bays[bay].mean.t_C = t_C;
  forecast->bays[bay].mean.rh = rh;
  forecast->bays[bay].mean.rh_band = rh_band;
}

static void
test_same (Fixture *f, gconstpointer data)
{
  g_autoptr (DewComparison) c = compare (f, FALSE);
  g_autofree char *summary = dew_compare_summary (c, 1);

  g_assert_cmpuint (c->changes->len, ==, 0);
  g_assert_cmpstr (summary, ==, "The same within what can be known.");
  g_assert_cmpint (c->sides[0].n_plants, ==, 2);
  g_assert_cmpint (c->sides[0].n_fitting, ==, 2);
  g_assert_cmpint (c->sides[0].mean_score, ==, c->sides[1].mean_score);
}

static void
test_words (Fixture *f, gconstpointer data)
{
  const DewChange *change;

  set_bay (f->night[1], 1, 12.0, 0.91, 0.03);
  set_bay (f->night[0], 1, 13.0, 0.85, 0.02);
  set_bay (f->day[0], 0, 18.0, 0.85, 0.10);
  set_bay (f->day[1], 0, 18.0, 0.75, 0.15); /* ten points drier, but not sure */

  g_autoptr (DewComparison) c = compare (f, FALSE);

  change = find (c, "Shelf 1: 6 points more humid by night.");
  g_assert_cmpint (change->bay, ==, 1);
  g_assert_cmpint (change->when, ==, DEW_CHANGE_BY_NIGHT);
  g_assert_cmpfloat_with_epsilon (change->to - change->from, 0.06, 1e-12);
  /* The wider of the two bands: the errors go together. */
  g_assert_cmpfloat (change->band, ==, 0.03);
  g_assert_true (change->beyond);
  g_assert_cmpint (change->good, ==, 0);
  find (c, "Shelf 1: night 1.0 K cooler.");
  find_in (c, DEW_TONGUE_IMPERIAL, "Shelf 1: night 1.8 °F cooler.");
  g_assert_false (find (c, "Floor: 10 points drier by day.")->beyond);

  /* 91 % is 6 of 10 points from the ideal towards the most: worse; so is 12 C at night. */
  change = find (c, "Middle one: 6 points more humid by night.");
  g_assert_cmpint (change->good, ==, -1);
  g_assert_cmpuint (
    change->thing_id, ==,
    g_array_index (dew_chamber_variant (f->chamber, f->ids[1])->things, DewThing, 4).id);
}

/* The one against the other is the other against the one with all signs turned. */
static void
test_turned (Fixture *f, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);

  for (int n = 0; n < 20; n++)
    {
      for (int b = 0; b < 3; b++)
        for (int s = 0; s < 2; s++)
          {
            set_bay (f->day[s], b, g_rand_double_range (rand, 12, 26),
                     g_rand_double_range (rand, 0.6, 1.0), 0.02);
            set_bay (f->night[s], b, g_rand_double_range (rand, 8, 20),
                     g_rand_double_range (rand, 0.6, 1.0), 0.02);
          }

      g_autoptr (DewComparison) there = compare (f, FALSE);
      g_autoptr (DewComparison) back = compare (f, TRUE);

      g_assert_cmpuint (there->changes->len, >, 0);
      g_assert_cmpuint (there->changes->len, ==, back->changes->len);
      for (guint i = 0; i < there->changes->len; i++)
        {
          const DewChange *a = &g_array_index (there->changes, DewChange, i), *b = NULL;

          for (guint k = 0; b == NULL && k < back->changes->len; k++)
            {
              const DewChange *other = &g_array_index (back->changes, DewChange, k);

              if (other->subject == a->subject && other->bay == a->bay && other->when == a->when
                  && other->of == a->of && other->from == a->to && other->to == a->from)
                b = other;
            }
          g_assert_nonnull (b);
          g_assert_cmpint (a->good, ==, -b->good);
          g_assert_cmpint (a->beyond, ==, b->beyond);
        }
      for (int v = 0; v < DEW_N_VALUES; v++)
        {
          g_assert_true (there->lo[v] == back->lo[v] || isnan (there->lo[v]));
          g_assert_true (there->hi[v] == back->hi[v] || isnan (there->hi[v]));
        }
    }
}

static void
test_findings (Fixture *f, gconstpointer data)
{
  const DewChange *change;

  for (int s = 0; s < 2; s++)
    f->day[s]->n_findings = f->night[s]->n_findings = 0;
  g_free (f->day[0]->findings);
  f->day[0]->findings = g_new0 (DewFinding, 1);
  f->day[0]->findings[0]
    = (DewFinding){ .kind = DEW_FINDING_DRY,
                    .bay = 1,
                    .severity = 2,
                    .name = "Middle one",
                    .at_m = { 0.5 * f->day[0]->inner_m[0], 0.5 * f->day[0]->inner_m[1], 0.0 } };
  f->day[0]->n_findings = 1;

  g_autoptr (DewComparison) c = compare (f, FALSE);
  g_autoptr (DewComparison) turned = compare (f, TRUE);

  change = find (c, "Gone by day: Too dry for Middle one, Shelf 1 middle.");
  g_assert_cmpint (change->good, ==, 1);
  change = find (turned, "New by day: Too dry for Middle one, Shelf 1 middle.");
  g_assert_cmpint (change->good, ==, -1);
}

/* Another number of shelves, and a plant that stands in one only. */
static void
test_other_shelves (Fixture *f, gconstpointer data)
{
  DewVariant *other = dew_chamber_variant (f->chamber, f->ids[1]);
  g_autofree char *only = NULL;

  for (guint i = 0; i < other->things->len; i++)
    if (g_array_index (other->things, DewThing, i).kind == DEW_THING_PLANT)
      {
        dew_variant_remove (other, g_array_index (other->things, DewThing, i).id);
        break;
      }
  for (guint i = 0; i < other->things->len; i++)
    if (g_array_index (other->things, DewThing, i).kind == DEW_THING_SHELF)
      {
        dew_variant_remove (other, g_array_index (other->things, DewThing, i).id);
        break;
      }
  f->chamber->shown_variant = f->ids[1];
  dew_forecast_unref (f->day[1]);
  dew_forecast_unref (f->night[1]);
  f->day[1] = plain_air (f->chamber, FALSE);
  f->night[1] = plain_air (f->chamber, TRUE);
  g_assert_cmpint (f->day[1]->n_bays, ==, 2);

  g_autoptr (DewComparison) c = compare (f, FALSE);
  g_autoptr (DewComparison) back = compare (f, TRUE);

  g_assert_cmpint (c->sides[1].n_plants, ==, 1);
  only = g_strdup_printf ("Low one stands only in “%s”.",
                          dew_chamber_variant (f->chamber, f->ids[0])->name);
  g_assert_cmpint (find (c, only)->good, ==, 0);
  g_assert_cmpint (find (back, only)->good, ==, 0);
}

static void
test_run (void)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (DewComparison) c = NULL;
  DewForecastOptions options;
  guint ids[2];

  for (int s = 0; s < 2; s++)
    ids[s] = g_array_index (demo->variants, DewVariant, s).id;
  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  c = dew_compare_run (demo, ids, 2, &options, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (c->n_sides, ==, 2);
  g_assert_cmpfloat (c->sides[0].water_kg_day, >, 0.0);
  g_assert_cmpfloat (c->lo[DEW_VALUE_RH], <, c->hi[DEW_VALUE_RH]);
  g_cancellable_cancel (cancellable);
  g_assert_null (dew_compare_run (demo, ids, 2, &options, NULL, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

#define ADD(path, test) g_test_add ("/compare/" path, Fixture, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("same", test_same);
  ADD ("words", test_words);
  ADD ("turned", test_turned);
  ADD ("findings", test_findings);
  ADD ("other-shelves", test_other_shelves);
  g_test_add_func ("/compare/run", test_run);
  return g_test_run ();
}
