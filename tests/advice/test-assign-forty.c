/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air.h"

#include "store/store.h"
#include "say/problems.h"

#include <json-glib/json-glib.h>
#include <string.h>

/* Forty invented plants on four shelves, by real forecasts: the rules, the order of things,
 * the document afterwards, and the answer of the command line. */

typedef struct
{
  DewChamber *chamber;
  DewForecast *day, *night;
} Forty;

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
  options.lookup = dew_catalogue_plant_kind;
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
                              dew_catalogue_plant_kind, (gpointer) chamber, &fit[i]);
    else
      dew_fit_plant_of_wish (dew_chamber_wish (chamber, a->plants[i].wish_id),
                             dew_catalogue_plant_kind, (gpointer) chamber, &fit[i]);
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
    {
      g_autofree char *text
        = dew_problem_text (&g_array_index (problems, DewProblem, i), DEW_TONGUE_PLAIN);

      g_test_message ("%s", text);
    }
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
  const char *argv[] = { DEW_BUILD_DIR "/app/dewtier",
                         "assign",
                         DEW_TESTS_DIR "/advice/forty.json",
                         "--json",
                         "--draft",
                         "--members",
                         "0",
                         "--seconds",
                         "60",
                         NULL };
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

      if (member (plant, "bay") < 0
          || strcmp (json_object_get_string_member (plant, "verdict"), "kept") == 0)
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
                g_assert_false (
                  json_object_get_boolean_member (json_array_get_object_element (spots, s),
                                                  "blocked"));
                used[s] = 1;
              }
        }
      g_assert_cmpint (value, >, 0);
      sum += value;
    }
  g_assert_cmpint (sum, ==, json_object_get_int_member (root, "value"));
}

#define ADD(path, test) \
  g_test_add ("/assign-forty/" path, Forty, NULL, forty_set_up, test, forty_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("rules", test_forty);
  ADD ("order", test_order);
  ADD ("apply", test_apply);
  ADD ("apply-twice", test_apply_twice);
  g_test_add_func ("/assign-forty/json", test_json);
  return g_test_run ();
}
