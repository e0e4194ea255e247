/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "summary.h"
#include "say/problems.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

/* That the reference check itself is right: the enclosure it builds is the one
 * in the file, a forecast equal to the reference passes, one that is off by
 * more than a band does not, and a faulty file is named as such. The expected
 * numbers are those of the case files. */

static DewCase *
load (const char *name)
{
  g_autofree char *path = g_strdup_printf ("%s/reference/cases/%s.json", DEW_TESTS_DIR, name);
  g_autoptr (GError) error = NULL;
  DewCase *c = dew_case_load (path, &error);

  g_assert_no_error (error);
  return c;
}

static DewThing *
nth_of_kind (const DewCase *c, DewThingKind kind, guint n)
{
  GArray *things = dew_chamber_shown (c->chamber)->things;

  for (guint i = 0; i < things->len; i++)
    {
      DewThing *thing = &g_array_index (things, DewThing, i);

      if (thing->kind == kind && n-- == 0)
        return thing;
    }
  return NULL;
}

static void
test_enclosure (void)
{
  static const char *const names[]
    = { "down-fan-canopy", "fan-and-evaporation", "stack-low-heat", "through-flow-wire" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (DewCase) c = load (names[i]);
      g_autoptr (GArray) problems = dew_chamber_check (c->chamber, c->chamber->shown_variant);
      g_autofree double *z_m = NULL;
      double inner_m[3];

      for (guint p = 0; p < problems->len; p++)
        g_test_message ("%s: %s", names[i],
                        dew_problem_text (&g_array_index (problems, DewProblem, p),
                                          DEW_TONGUE_PLAIN));
      g_assert_cmpuint (problems->len, ==, 0);
      dew_chamber_inner_m (c->chamber, inner_m);
      for (int a = 0; a < 3; a++)
        g_assert_cmpfloat_with_epsilon (inner_m[a], c->box_m[a], 1e-12);
      g_assert_cmpint (dew_variant_bays (c->chamber, dew_chamber_shown (c->chamber), &z_m, NULL),
                       ==, c->n_bays);
      for (int b = 0; b < c->n_bays; b++)
        {
          g_assert_cmpfloat_with_epsilon (z_m[b], c->bays[b].z0_m, 1e-9);
          g_assert_cmpfloat_with_epsilon (z_m[b + 1], c->bays[b].z1_m, 1e-9);
        }
    }
}

static void
test_things (void)
{
  g_autoptr (DewCase) canopy = load ("down-fan-canopy");
  g_autoptr (DewCase) mist = load ("fan-and-evaporation");
  g_autoptr (DewCase) duct = load ("through-flow-wire");
  g_autoptr (DewCase) stack = load ("stack-low-heat");
  const DewFan *fan = &nth_of_kind (canopy, DEW_THING_FAN, 0)->fan;
  const DewPlant *plant = &nth_of_kind (canopy, DEW_THING_PLANT, 0)->plant;
  const DewSource *source = &nth_of_kind (mist, DEW_THING_SOURCE, 0)->source;
  const DewOpening *inlet = &nth_of_kind (duct, DEW_THING_OPENING, 0)->opening;
  const DewShelf *shelf = &nth_of_kind (stack, DEW_THING_SHELF, 1)->shelf;

  g_assert_cmpfloat_with_epsilon (fan->elevation_rad, -G_PI / 2, 1e-12);
  g_assert_cmpfloat_with_epsilon (fan->z_m, 1.10, 1e-12);
  g_assert_cmpfloat_with_epsilon (fan->free_delivery_m3_s, 0.02, 1e-5);
  g_assert_cmpfloat_with_epsilon (nth_of_kind (mist, DEW_THING_FAN, 0)->fan.azimuth_rad, 0, 1e-12);
  /* 3 per metre over 0.7 x 0.34 x 0.2 m. */
  g_assert_cmpfloat_with_epsilon (plant->leaf_area_m2, 0.1428, 1e-9);
  g_assert_cmpfloat_with_epsilon (source->vapour_kg_s, 5.5556e-6, 1e-15);
  g_assert_true (source->latent_from_air);
  g_assert_cmpint (inlet->kind, ==, DEW_OPENING_DUCT);
  g_assert_cmpint (inlet->face, ==, DEW_FACE_LEFT);
  g_assert_cmpfloat_with_epsilon (inlet->v1_m, 0.18, 1e-12);
  g_assert_cmpfloat_with_epsilon (inlet->duct_flow_m3_s, 0.01, 1e-12);
  g_assert_cmpfloat_with_epsilon (shelf->z_m, 0.8, 1e-12);
  g_assert_cmpfloat_with_epsilon (shelf->loss_coefficient, 1.0, 1e-12);
  g_assert_true (duct->bays[0].jet);
  g_assert_false (duct->bays[1].jet);
  g_assert_true (mist->bays[3].jet); /* air comes in at the top there */
}

/* The case's text with one replacement, written to a new file; its path. */
static char *
write_changed (const char *name, const char *folder, const char *from, const char *to)
{
  g_autofree char *path = g_strdup_printf ("%s/reference/cases/%s.json", DEW_TESTS_DIR, name);
  g_autofree char *text = NULL, *changed = NULL;
  char *result = g_build_filename (folder, "case.json", NULL);
  const char *at;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  at = strstr (text, from);
  g_assert_nonnull (at);
  changed = g_strdup_printf ("%.*s%s%s", (int) (at - text), text, to, at + strlen (from));
  g_assert_true (g_file_set_contents (result, changed, -1, NULL));
  return result;
}

/* The same board, 0.66 m of 0.7 m, in each of the ways to say so. */
static void
test_boards (void)
{
  static const char *const ways[] = {
    "\"kind\": \"solid\", \"gap_right_m\": 0.04",
    "\"kind\": \"solid\", \"gaps_m\": { \"right\": 0.04 }",
    "\"kind\": \"solid\", \"gap_side\": \"right\", \"gap_width_m\": 0.04",
    "\"kind\": \"solid\", \"rect_m\": [0, 0.66, 0, 0.5]",
    "\"kind\": \"solid\", \"x_m\": [0, 0.66]",
    "\"kind\": \"solid\", \"box_m\": [0, 0.66, 0, 0.5, 0.4, 0.42]",
  };
  g_autofree char *folder = g_dir_make_tmp ("dewtier-XXXXXX", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (ways); i++)
    {
      g_autofree char *path
        = write_changed ("stack-low-heat", folder, "\"kind\": \"porous\"", ways[i]);
      g_autoptr (GError) error = NULL;
      g_autoptr (DewCase) c = dew_case_load (path, &error);
      const DewShelf *shelf;

      g_assert_no_error (error);
      shelf = &nth_of_kind (c, DEW_THING_SHELF, 0)->shelf;
      g_assert_cmpint (shelf->board, ==, DEW_SHELF_SOLID);
      g_assert_cmpfloat_with_epsilon (shelf->gap_left_m, 0, 1e-12);
      g_assert_cmpfloat_with_epsilon (shelf->gap_right_m, 0.04, 1e-12);
      g_assert_cmpfloat_with_epsilon (shelf->gap_front_m, 0, 1e-12);
      g_assert_cmpfloat_with_epsilon (shelf->gap_back_m, 0, 1e-12);
      g_remove (path);
    }
  g_rmdir (folder);
}

static DewCase *
load_changed (const char *name, const char *from, const char *to)
{
  g_autofree char *folder = g_dir_make_tmp ("dewtier-XXXXXX", NULL);
  g_autofree char *path = write_changed (name, folder, from, to);
  g_autoptr (GError) error = NULL;
  DewCase *c = dew_case_load (path, &error);

  g_assert_no_error (error);
  g_remove (path);
  g_rmdir (folder);
  return c;
}

/* A board of no thickness becomes the thinnest of the program, and nothing else moves. */
static void
test_thin_board (void)
{
  g_autoptr (DewCase) c
    = load_changed ("stack-low-heat", "\"thickness_m\": 0.02", "\"thickness_m\": 0");
  g_autoptr (GArray) problems = dew_chamber_check (c->chamber, c->chamber->shown_variant);
  const DewShelf *shelf = &nth_of_kind (c, DEW_THING_SHELF, 0)->shelf;

  g_assert_cmpuint (problems->len, ==, 0);
  g_assert_cmpfloat (shelf->thickness_m, >, 0);
  g_assert_cmpfloat (shelf->thickness_m, <=, 0.001);
  g_assert_cmpfloat_with_epsilon (shelf->z_m, 0.4, 1e-12);
}

/* A free opening has the coefficient of the file; a given outflow sucks. */
static void
test_opening_kinds (void)
{
  g_autoptr (DewCase) grille = load_changed ("through-flow-wire", "\"to_room\"",
                                             "\"discharge_coefficient\": 0.6, \"to_room\"");
  g_autoptr (DewCase) extractor
    = load_changed ("through-flow-wire", "\"inflow_m3_s\": 0.01", "\"inflow_m3_s\": -0.01");
  const DewOpening *free_opening = &nth_of_kind (grille, DEW_THING_OPENING, 1)->opening;
  const DewOpening *duct = &nth_of_kind (extractor, DEW_THING_OPENING, 0)->opening;

  g_assert_cmpint (free_opening->kind, ==, DEW_OPENING_HOLE);
  g_assert_cmpfloat_with_epsilon (free_opening->discharge_coefficient, 0.6, 1e-12);
  g_assert_cmpint (duct->kind, ==, DEW_OPENING_DUCT);
  g_assert_cmpfloat_with_epsilon (duct->duct_flow_m3_s, -0.01, 1e-12);
}

/* Held walls: a sealed box with a fan takes their temperature, whatever the room's, and
 * no heat is lost on the way: it stands above them where heat is put in, by what the
 * films ask for (2 to 10 W/m2K on 3.4 m2: 10 W need 0.3 to 1.5 K). */
static void
test_held_walls (void)
{
  static const char *const walls = "\"fixed\", \"temperature_C\": 26";
  g_autoptr (DewCase) c = load_changed ("down-fan-canopy", "\"adiabatic\"", walls);
  DewForecastOptions options;
  double wall_t_C = c->room_t_C + 5;

  g_assert_true (c->walls_held);
  g_assert_cmpfloat_with_epsilon (c->wall_t_C, wall_t_C, 1e-12);
  for (int heated = 0; heated < 2; heated++)
    {
      g_autoptr (DewForecast) forecast = NULL;
      g_autoptr (GError) error = NULL;

      if (heated)
        nth_of_kind (c, DEW_THING_FAN, 0)->fan.power_W = 10;
      dew_case_options (c, DEW_GRID_DRAFT, &options);
      forecast = dew_forecast_new (c->chamber, 0, &options, NULL, &error);
      g_assert_no_error (error);
      for (int b = 0; b < forecast->n_bays; b++)
        {
          double over_K = forecast->bays[b].mean.t_C - wall_t_C;

          g_test_message ("%d W: bay %d is %.3f K over the walls", heated * 10, b, over_K);
          if (heated)
            {
              g_assert_cmpfloat (over_K, >, 0.2);
              g_assert_cmpfloat (over_K, <, 2.5);
            }
          else
            g_assert_cmpfloat_with_epsilon (over_K, 0, 0.05);
        }
    }
}

/* A forecast of the case's own numbers in every bay; its zones are the bays,
 * so quarters carry the value of their bay. */
static DewForecast *
forecast_like (const DewCase *c)
{
  DewForecast *forecast = g_new0 (DewForecast, 1);

  forecast->ref_count = 1;
  forecast->room_t_C = c->room_t_C;
  forecast->n_bays = c->n_bays;
  forecast->bays = g_new0 (DewBay, c->n_bays);
  for (int a = 0; a < 3; a++)
    {
      forecast->inner_m[a] = c->box_m[a];
      forecast->n[a] = a == 2 ? c->n_bays : 1;
      forecast->line_m[a] = g_new0 (double, forecast->n[a] + 1);
      forecast->line_m[a][forecast->n[a]] = c->box_m[a];
      forecast->velocity_m_s[a] = g_new0 (double, c->n_bays);
      forecast->face_m_s[a] = g_new0 (double, 4 * (c->n_bays + 1));
    }
  forecast->n_zones = c->n_bays;
  for (int v = 0; v < DEW_N_VALUES; v++)
    forecast->value[v] = g_new0 (double, c->n_bays);
  forecast->still_share = g_new0 (double, c->n_bays);
  forecast->drip_kg_m2s = g_new0 (double, c->n_bays);
  for (int b = 0; b < c->n_bays; b++)
    {
      DewBay *bay = &forecast->bays[b];

      bay->z0_m = c->bays[b].z0_m;
      bay->z1_m = c->bays[b].z1_m;
      forecast->line_m[2][b] = bay->z0_m;
      bay->mean.speed_m_s = c->bays[b].value[DEW_CASE_SPEED][0];
      bay->mean.still_share = c->bays[b].value[DEW_CASE_STILL][0];
      bay->mean.age_s = c->bays[b].value[DEW_CASE_AGE][0];
      bay->mean.t_C = c->room_t_C + c->bays[b].value[DEW_CASE_T_RISE][0];
      bay->mean.w_kg_kg = c->bays[b].value[DEW_CASE_W_RISE][0];
      forecast->still_share[b] = bay->mean.still_share;
      forecast->value[DEW_VALUE_SPEED][b] = bay->mean.speed_m_s;
      forecast->value[DEW_VALUE_AGE][b] = bay->mean.age_s;
      forecast->value[DEW_VALUE_TEMPERATURE][b] = bay->mean.t_C;
      forecast->value[DEW_VALUE_HUMIDITY_RATIO][b] = bay->mean.w_kg_kg;
    }
  forecast->n_exchanges = c->n_flows;
  forecast->exchanges = g_new0 (DewExchange, c->n_flows + 1);
  for (int f = 0; f < c->n_flows; f++)
    {
      forecast->exchanges[f].thing_id = c->flows[f].thing_id;
      forecast->exchanges[f].inflow_m3_s = MAX (c->flows[f].inflow_m3_s, 0);
      forecast->exchanges[f].outflow_m3_s = MAX (-c->flows[f].inflow_m3_s, 0);
    }
  return forecast;
}

static const DewCaseRow *
find_row (GArray *rows, int bay, const char *where, const char *quantity)
{
  for (guint r = 0; r < rows->len; r++)
    {
      const DewCaseRow *row = &g_array_index (rows, DewCaseRow, r);

      if (row->bay == bay && strcmp (row->where, where) == 0
          && strcmp (row->quantity, quantity) == 0)
        return row;
    }
  g_error ("no row %d %s %s", bay, where, quantity);
}

static void
test_verdicts (void)
{
  g_autoptr (DewCase) c = load ("stack-low-heat");
  g_autoptr (DewForecast) forecast = forecast_like (c);
  g_autoptr (GArray) same = dew_case_compare (c, forecast);
  g_autoptr (GArray) off = NULL;
  const DewCaseRow *row;

  /* 4 bays of 4 quantities with 4 quarters each, 2 openings, the field. */
  g_assert_cmpuint (same->len, ==, 4 * 4 * 5 + 2 + 1);
  for (guint r = 0; r < same->len; r++)
    {
      row = &g_array_index (same, DewCaseRow, r);
      if (strcmp (row->where, "bay") == 0 || row->where[0] == 'o')
        g_assert_cmpint (row->verdict, ==, DEW_VERDICT_GOAL);
    }
  row = find_row (same, 0, "bay", "mean_age_of_air_s"); /* fed by the low opening */
  g_assert_cmpfloat_with_epsilon (row->must, 0.35 * 12.249, 1e-9);
  row = find_row (same, 1, "left_back", "mean_age_of_air_s");
  g_assert_cmpfloat_with_epsilon (row->must, 1.5 * 0.20 * 30.709, 1e-9);
  g_assert_cmpfloat_with_epsilon (row->goal, 0.10 * 30.709, 1e-9);

  forecast->bays[0].mean.speed_m_s += 0.0399; /* the floor of 0.04 m/s */
  forecast->bays[1].mean.speed_m_s += 0.0401;
  forecast->bays[2].mean.t_C -= 0.61;
  forecast->bays[3].mean.still_share = NAN;
  forecast->exchanges[0].inflow_m3_s *= 1.21;
  off = dew_case_compare (c, forecast);
  g_assert_cmpint (find_row (off, 0, "bay", "mean_speed_m_s")->verdict, ==, DEW_VERDICT_MUST);
  g_assert_cmpint (find_row (off, 1, "bay", "mean_speed_m_s")->verdict, ==, DEW_VERDICT_OUT);
  g_assert_cmpint (find_row (off, 2, "bay", "temperature_rise_over_room_K")->verdict, ==,
                   DEW_VERDICT_OUT);
  g_assert_cmpint (find_row (off, 3, "bay", "share_below_0.05_m_s")->verdict, ==, DEW_VERDICT_OUT);
  g_assert_cmpint (find_row (off, -1, "opening low", "net_inflow_m3_s")->verdict, ==,
                   DEW_VERDICT_OUT);
  g_assert_cmpint (find_row (off, -1, "opening high", "net_inflow_m3_s")->verdict, ==,
                   DEW_VERDICT_GOAL);
}

/* Each fault is made by one replacement in a good file; the message must name
 * the place. */
static void
test_faults (void)
{
  static const struct
  {
    const char *from, *to, *says;
  } faults[] = {
    { "\"case\"", "\"cave\"", "'case' is missing" },
    { "\"thickness_m\": 0.02", "\"thickness_m\": \"thin\"", "shelves[0]: 'thickness_m'" },
    { "\"porous\"", "\"glass\"", "shelves[0]: 'kind' is 'glass'" },
    { "\"left\"", "\"west\"", "openings[0]: 'face' is 'west'" },
    { "\"adiabatic\"", "\"cold\"", "walls: 'heat' is 'cold'" },
    { "\"adiabatic\"", "\"fixed\"", "walls: 'temperature_C' is missing" },
    { "\"to_room\"", "\"discharge_coefficient\": 1.4, \"to_room\"",
      "'discharge_coefficient' is 1.4" },
    { "\"thickness_m\"", "\"gap_side\": \"top\", \"thickness_m\"", "'gap_side' is 'top'" },
    { "\"net_inflow_m3_s\"", "\"net\"", "opening_flows.inlet: 'net_inflow_m3_s' is missing" },
    { "\"bays\": [", "\"bays\": {}, \"b\": [", "'bays' is not a list" },
    { "\"gravity_m_s2\": 9.81", "\"gravity_m_s2\": 1e400", "gravity_m_s2" },
    { "\"axes\"", "axes", "" },
  };
  g_autofree char *folder = g_dir_make_tmp ("dewtier-XXXXXX", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      g_autofree char *broken
        = write_changed ("through-flow-wire", folder, faults[i].from, faults[i].to);
      g_autoptr (GError) error = NULL;

      g_assert_null (dew_case_load (broken, &error));
      g_assert_nonnull (error);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, faults[i].says));
      g_assert_nonnull (strstr (error->message, broken));
      g_remove (broken);
    }
  g_rmdir (folder);
}

/* Every large-eddy case can be read, fits the program and has a role; every name in the
 * list of roles is that of a case. */
static void
test_roles (void)
{
  const char *folder = DEW_TESTS_DIR "/reference/large-eddy";
  g_autoptr (GError) error = NULL;
  g_autoptr (DewRoles) roles
    = dew_roles_load (DEW_TESTS_DIR "/reference/large-eddy/roles.txt", &error);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  int counts[DEW_N_ROLES] = { 0 };
  const char *name;

  g_assert_no_error (error);
  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (DewCase) c = NULL;
      g_autoptr (GArray) problems = NULL;

      if (!g_str_has_suffix (name, ".json"))
        continue;
      c = dew_case_load (path, &error);
      g_assert_no_error (error);
      problems = dew_chamber_check (c->chamber, c->chamber->shown_variant);
      g_test_message ("%s", name);
      g_assert_cmpuint (problems->len, ==, 0);
      counts[dew_roles_of (roles, c->name)]++;
    }
  g_assert_cmpint (counts[DEW_ROLE_NONE], ==, 0);
  for (int r = 0; r < DEW_ROLE_NONE; r++)
    g_assert_cmpint (counts[r], ==, dew_roles_count (roles, r));
}

static void
test_roles_fault (void)
{
  g_autofree char *folder = g_dir_make_tmp ("dewtier-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "roles.txt", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (DewRoles) roles = NULL;

  g_assert_true (g_file_set_contents (path, "# note\ntraining  a # b\n\nheld-back c\n", -1, NULL));
  roles = dew_roles_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpint (dew_roles_of (roles, "a"), ==, DEW_ROLE_TRAINING);
  g_assert_cmpint (dew_roles_of (roles, "c"), ==, DEW_ROLE_HELD_BACK);
  g_assert_cmpint (dew_roles_of (roles, "b"), ==, DEW_ROLE_NONE);
  g_assert_true (g_file_set_contents (path, "training a\nseen b\n", -1, NULL));
  g_assert_null (dew_roles_load (path, &error));
  g_assert_nonnull (strstr (error->message, ":2:"));
  g_remove (path);
  g_rmdir (folder);
}

/* Eleven speeds, 0 to 10 % too fast, of which one is out, and no flow: counted by hand. */
static void
test_summary (void)
{
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (DewCaseRow));
  g_autoptr (DewSummary) summary = dew_summary_new ();
  g_autofree char *text = NULL;
  const DewSummaryLine *line;

  for (int i = 0; i <= 10; i++)
    {
      DewCaseRow row = { .quantity = "mean_speed_m_s",
                         .reference = 1,
                         .predicted = 1 + 0.01 * i,
                         .scale = 1,
                         .band = i < 5 ? 0.025 : NAN,
                         .verdict = i == 10 ? DEW_VERDICT_OUT : DEW_VERDICT_GOAL };

      g_array_append_val (rows, row);
    }
  dew_summary_add (summary, DEW_ROLE_VALIDATION, rows);
  dew_summary_close (summary);
  g_assert_null (dew_summary_all (summary, DEW_ROLE_TRAINING));
  g_assert_cmpuint (summary->lines[DEW_ROLE_VALIDATION]->len, ==, 2);
  line = &g_array_index (summary->lines[DEW_ROLE_VALIDATION], DewSummaryLine, 0);
  g_assert_cmpint (line->rows, ==, 11);
  g_assert_cmpint (line->goal, ==, 10);
  g_assert_cmpint (line->out, ==, 1);
  g_assert_cmpint (line->banded, ==, 5);
  g_assert_cmpint (line->held, ==, 3);
  g_assert_cmpfloat_with_epsilon (line->bias, 1.05, 1e-9);
  g_assert_cmpfloat_with_epsilon (line->error90, 0.09, 1e-9);
  g_assert_cmpint (dew_summary_all (summary, DEW_ROLE_VALIDATION)->rows, ==, 11);
  text = dew_summary_text (summary, TRUE);
  g_test_message ("%s", text);
  g_assert_nonnull (
    strstr (text, "| air speed | 11 | 91 % | 9.1 % | 1.05 times | 0.090 m/s | 60 % |"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/reference/enclosure", test_enclosure);
  g_test_add_func ("/reference/things", test_things);
  g_test_add_func ("/reference/boards", test_boards);
  g_test_add_func ("/reference/thin-board", test_thin_board);
  g_test_add_func ("/reference/opening-kinds", test_opening_kinds);
  g_test_add_func ("/reference/held-walls", test_held_walls);
  g_test_add_func ("/reference/verdicts", test_verdicts);
  g_test_add_func ("/reference/faults", test_faults);
  g_test_add_func ("/reference/roles", test_roles);
  g_test_add_func ("/reference/roles-fault", test_roles_fault);
  g_test_add_func ("/reference/summary", test_summary);
  return g_test_run ();
}
