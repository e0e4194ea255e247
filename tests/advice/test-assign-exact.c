/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air.h"

#include "say/report.h"

#include <glpk.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

/* The assignment against another solver: the problem is read from what `dewtier assign --json`
 * prints, by the words of data/README.md alone, written down as a plain integer program, and solved
 * by GLPK's own branch and cut with its presolver, of which the assignment uses nothing but the
 * simplex. Both must find the same value. */

#define INSTANCES 26
#define LEAST_PROVEN 20 /* of them by both: a few crowded ones are out of reach */
#define MOST_PLANTS 60
#define MOST_S 60  /* for the other solver; a quarter of it where not all is asked */
#define PROOF_S 30 /* for ours, on a machine that does other things too */

/* --- the integer program ------------------------------------------------- */

typedef struct
{
  glp_prob *lp;
  JsonArray *groups, *spots, *stays, *bays;
  int across, deep, n_spots;
  int *row_of_group, *row_of_bay;
  /* Rows of spots: one of each spot, and one more for each stay that touches it. */
  GArray **rows_of_spot;
} Model;

static JsonObject *
record (JsonArray *list, guint i)
{
  return json_array_get_object_element (list, i);
}

static int
whole (JsonObject *object, const char *name)
{
  return (int) json_object_get_int_member (object, name);
}

static int
element (JsonObject *object, const char *name, int i)
{
  return (int) json_array_get_int_element (json_object_get_array_member (object, name), (guint) i);
}

static int
add_row (Model *m, double most)
{
  int row = glp_add_rows (m->lp, 1);

  glp_set_row_bnds (m->lp, row, GLP_UP, 0.0, most);
  return row;
}

static void
add_rows (Model *m)
{
  for (guint g = 0; g < json_array_get_length (m->groups); g++)
    m->row_of_group[g] = add_row (m, whole (record (m->groups, g), "count"));
  for (guint b = 0; b < json_array_get_length (m->bays); b++)
    m->row_of_bay[b]
      = json_object_get_null_member (record (m->bays, b), "load_left_kg")
          ? 0
          : add_row (m, json_object_get_double_member (record (m->bays, b), "load_left_kg"));
  for (int s = 0; s < m->n_spots; s++)
    {
      int row = add_row (m, 1.0);

      m->rows_of_spot[s] = g_array_new (FALSE, FALSE, sizeof (int));
      g_array_append_val (m->rows_of_spot[s], row);
    }
}

typedef struct
{
  int n, rows[4096];
  double values[4096];
} Column;

static void
put (Column *column, int row, double value)
{
  g_assert_cmpint (column->n, <, 4095);
  column->rows[++column->n] = row;
  column->values[column->n] = value;
}

static void
add_column (Model *m, const Column *column, double value)
{
  int j = glp_add_cols (m->lp, 1);

  glp_set_col_kind (m->lp, j, GLP_BV);
  glp_set_obj_coef (m->lp, j, value);
  glp_set_mat_col (m->lp, j, column->n, column->rows, column->values);
}

static int
spot_at (const Model *m, int bay, int column, int row)
{
  return (bay * m->deep + row) * m->across + column;
}

static void
begin (Model *m, Column *column, int group, int bay)
{
  column->n = 0;
  put (column, m->row_of_group[group], 1.0);
  if (m->row_of_bay[bay] > 0)
    put (column, m->row_of_bay[bay],
         json_object_get_double_member (record (m->groups, (guint) group), "mass_kg"));
}

/* Stays first: they make the rows that moves have to keep. */
static void
add_stays (Model *m, int apart)
{
  Column column;

  for (guint y = 0; y < json_array_get_length (m->stays); y++)
    {
      JsonObject *stay = record (m->stays, y);
      int bay = whole (stay, "bay"), group = whole (stay, "group");
      gboolean arrived
        = strcmp (json_object_get_string_member (record (m->groups, (guint) group), "state"),
                  "arrived")
          == 0;

      begin (m, &column, group, bay);
      for (int r = 0; r < element (stay, "span", 1); r++)
        for (int c = 0; c < element (stay, "span", 0); c++)
          {
            int row = add_row (m, 1.0);
            GArray *rows = m->rows_of_spot[spot_at (m, bay, element (stay, "first", 0) + c,
                                                    element (stay, "first", 1) + r)];

            g_array_append_val (rows, row);
            put (&column, row, 1.0);
          }
      add_column (m, &column, whole (stay, "value") - ((bay < apart) == arrived ? 0 : 5000));
    }
}

static void
add_moves (Model *m, int apart)
{
  Column column;

  for (guint g = 0; g < json_array_get_length (m->groups); g++)
    {
      JsonObject *group = record (m->groups, g);
      gboolean arrived = strcmp (json_object_get_string_member (group, "state"), "arrived") == 0;

      for (int s = 0; s < m->n_spots; s++)
        {
          int value = element (group, "value", s), bay = s / (m->across * m->deep);
          int c0 = s % m->across, r0 = s / m->across % m->deep;
          gboolean blocked = FALSE;

          if (value <= 0 || (bay < apart) != arrived)
            continue;
          begin (m, &column, (int) g, bay);
          for (int r = 0; r < element (group, "span", 1); r++)
            for (int c = 0; c < element (group, "span", 0); c++)
              {
                int at = spot_at (m, bay, c0 + c, r0 + r);

                blocked
                  |= json_object_get_boolean_member (record (m->spots, (guint) at), "blocked");
                for (guint k = 0; k < m->rows_of_spot[at]->len; k++)
                  put (&column, g_array_index (m->rows_of_spot[at], int, k), 1.0);
              }
          if (!blocked)
            add_column (m, &column, value);
        }
    }
}

/* The best for one K; NAN when it took too long. */
static double
solve_apart (JsonObject *root, int apart)
{
  Model m = { .groups = json_object_get_array_member (root, "groups"),
              .spots = json_object_get_array_member (root, "spots"),
              .stays = json_object_get_array_member (root, "stays"),
              .bays = json_object_get_array_member (root, "bays"),
              .across = element (root, "spots_across_deep", 0),
              .deep = element (root, "spots_across_deep", 1) };
  glp_iocp parm;
  double value;
  int code;

  m.n_spots = (int) json_array_get_length (m.spots);
  m.row_of_group = g_new0 (int, json_array_get_length (m.groups) + 1);
  m.row_of_bay = g_new0 (int, json_array_get_length (m.bays) + 1);
  m.rows_of_spot = g_new0 (GArray *, m.n_spots);
  glp_term_out (GLP_OFF);
  m.lp = glp_create_prob ();
  glp_set_obj_dir (m.lp, GLP_MAX);
  add_rows (&m);
  add_stays (&m, apart);
  add_moves (&m, apart);
  glp_init_iocp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.presolve = GLP_ON;
  parm.tm_lim = 1000 * (g_test_slow () ? MOST_S : MOST_S / 4);
  parm.mip_gap = 0.0;
  code = glp_intopt (m.lp, &parm);
  g_assert_true (code == 0 || code == GLP_ETMLIM);
  value = code == 0 && glp_mip_status (m.lp) == GLP_OPT ? glp_mip_obj_val (m.lp) : NAN;
  glp_delete_prob (m.lp);
  for (int s = 0; s < m.n_spots; s++)
    g_array_unref (m.rows_of_spot[s]);
  g_free (m.rows_of_spot);
  g_free (m.row_of_group);
  g_free (m.row_of_bay);
  return value;
}

/* --- instances ----------------------------------------------------------- */

static double
one_of (GRand *rand, const double *values, int n)
{
  return values[g_rand_int_range (rand, 0, n)];
}

/* Kinds that like different nights, sizes of three; some stand, some are wished for. */
static void
fill (DewChamber *chamber, GArray *kinds, GRand *rand, int n_plants, gboolean new_ones)
{
  const double widths_m[] = { 0.07, 0.09, 0.14 }, floors_m[] = { 0.0, 0.31, 0.66 };
  DewVariant *variant = dew_chamber_shown (chamber);
  int standing = g_rand_int_range (rand, 0, MIN (n_plants, 18) + 1);

  for (int k = 0; k < 4; k++)
    {
      g_autofree char *name = g_strdup_printf ("kind %d", k);
      DewPlantKind kind = plain_kind (name);

      kind.t_night_ideal_C = 10.0 + 2.0 * k;
      kind.width_m = one_of (rand, widths_m, 3);
      g_array_append_val (kinds, kind);
    }
  for (int i = 0; i < n_plants; i++)
    {
      const DewPlantKind *kind
        = &g_array_index (kinds, DewPlantKind, g_rand_int_range (rand, 0, 4));
      int state = g_rand_double (rand) < 0.1 ? DEW_PLANT_WEAK : DEW_PLANT_HEALTHY;
      g_autofree char *name = g_strdup_printf ("plant %d", i);
      DewThing *thing;

      if (new_ones && i % 9 == 8)
        state = DEW_PLANT_ARRIVED;
      if (i >= standing)
        {
          wish_for (chamber, name, kind->name, 1, state, 0.0);
          continue;
        }
      thing = dew_variant_thing (variant, stand (chamber, name, kind->name, 0.06 + 0.09 * (i % 6),
                                                 0.08 + 0.12 * (i % 2), floors_m[i / 6]));
      thing->plant.width_m = thing->plant.depth_m = kind->width_m;
      thing->plant.state = state;
      thing->plant.keep_place = g_rand_double (rand) < 0.1;
    }
}

static DewAssignment *
answer (const DewChamber *chamber, const DewForecast *day, const DewForecast *night, GArray *kinds)
{
  g_autoptr (GError) error = NULL;
  DewAssignOptions options;
  DewAssignment *a;

  dew_assign_options_init (&options);
  options.seconds = PROOF_S;
  options.lookup = kind_in_list;
  options.lookup_data = kinds;
  a = dew_assign_new (chamber, 0, day, night, &options, NULL, &error);
  g_assert_no_error (error);
  return a;
}

static void
test_exact (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (17);
  g_autoptr (DewChamber) bare = two_shelves ();
  g_autoptr (DewForecast) still_day = plain_air (bare, FALSE);
  g_autoptr (DewForecast) still_night = plain_air (bare, TRUE);
  /* A third of them each time; all on request: test-assign-exact -m slow. */
  int every = g_test_slow () ? 1 : 3;
  int with_stays = 0, proven = 0, most = 0;

  for (int n = 0; n < INSTANCES; n += every)
    {
      g_autoptr (DewChamber) chamber = two_shelves ();
      g_autoptr (DewForecast) day = dew_forecast_copy (still_day);
      g_autoptr (DewForecast) night = dew_forecast_copy (still_night);
      g_autoptr (GArray) kinds = g_array_new (FALSE, FALSE, sizeof (DewPlantKind));
      int n_plants = n == 0 ? MOST_PLANTS : g_rand_int_range (rand, 4, 45);
      gboolean new_ones = n % 4 == 3;
      g_autoptr (JsonParser) parser = json_parser_new ();
      g_autofree char *text = NULL;
      DewReport about = { "made up", chamber, dew_chamber_shown (chamber), DEW_TONGUE_METRIC };
      JsonObject *root;
      double best = 0.0;

      for (int p = 0; p < night->n_places; p++)
        {
          night->places[p].mean.t_C = 9.0 + 1.5 * g_rand_int_range (rand, 0, 7);
          day->places[p].mean.rh = g_rand_double_range (rand, 0.65, 0.97);
        }
      fill (chamber, kinds, rand, n_plants, new_ones);

      g_autoptr (DewAssignment) a = answer (chamber, day, night, kinds);

      check_sums (a);
      g_assert_cmpfloat (a->value, >=, a->stay_value - 5000.0 * new_ones * n_plants);
      if (!a->proven)
        continue;
      text = dew_report_assign_json (&about, a);
      g_assert_true (json_parser_load_from_data (parser, text, -1, NULL));
      root = json_node_get_object (json_parser_get_root (parser));
      for (int apart = element (root, "quarantine_range", 0);
           apart <= element (root, "quarantine_range", 1); apart++)
        {
          double value = solve_apart (root, apart);

          best = isnan (value) || isnan (best) ? NAN : MAX (best, value);
        }
      g_test_message ("%d plants, %d stays, %d by %d spots: %.0f, %.0f", n_plants, a->n_stays,
                      a->spots_across, a->spots_deep, a->value, best);
      if (isnan (best))
        continue;
      proven++;
      g_assert_cmpfloat_with_epsilon (a->value, best, 1e-3);
      with_stays += a->n_stays > 0;
      most = MAX (most, n_plants);
    }
  g_assert_cmpint (with_stays, >=, INSTANCES / 2 / every);
  g_assert_cmpint (proven, >=, LEAST_PROVEN / every);
  if (every == 1)
    g_assert_cmpint (most, ==, MOST_PLANTS);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/assign-exact/same-value", test_exact);
  return g_test_run ();
}
