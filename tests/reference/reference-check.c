/* SPDX-License-Identifier: GPL-3.0-or-later */

/* reference-check [OPTION...] CASE.json...
 *
 * Forecasts each case through the public functions of the core and prints what
 * is predicted beside what a fine flow simulation found, row by row and summed up by
 * quantity. Exit status 0 when no more rows than allowed (--out-at-most, else none) are
 * outside their 'must' band and as many as asked for inside the goal, 1 when not, 2 when
 * a case could not be run.
 */

#include "summary.h"

#include <json-glib/json-glib.h>
#include <math.h>

enum
{
  STATUS_INSIDE = 0,
  STATUS_OUTSIDE = 1,
  STATUS_NOT_RUN = 2
};

/* What the command line asks for. */
typedef struct
{
  DewGrid grid;
  gboolean json, summary, markdown;
  char *roles_path;       /* NULL: roles.txt beside each case */
  DewRole only;           /* DEW_N_ROLES: all */
  double out_at_most_pct; /* of the rows */
  double goal_at_least_pct;
} Asked;

typedef struct
{
  DewCase *c;
  DewRole role;
  DewForecast *forecast;
  GArray *rows; /* DewCaseRow */
} Result;

static void
result_free (Result *result)
{
  g_clear_pointer (&result->forecast, dew_forecast_unref);
  g_clear_pointer (&result->rows, g_array_unref);
  g_clear_pointer (&result->c, dew_case_free);
  g_free (result);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Result, result_free)

/* The role of a case, by the list that was named or that lies beside it. */
static gboolean
find_role (const char *path, const Asked *asked, const char *name, DewRole *role, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *beside = g_build_filename (folder, "roles.txt", NULL);
  const char *list = asked->roles_path ? asked->roles_path : beside;
  g_autoptr (DewRoles) roles = NULL;

  *role = DEW_ROLE_NONE;
  if (!asked->roles_path && !g_file_test (beside, G_FILE_TEST_EXISTS))
    return TRUE;
  roles = dew_roles_load (list, error);
  if (!roles)
    return FALSE;
  *role = dew_roles_of (roles, name);
  return TRUE;
}

/* *result stays NULL, without an error, for a case of another role than asked for. */
static gboolean
run_case (const char *path, const Asked *asked, Result **out, GError **error)
{
  g_autoptr (Result) result = g_new0 (Result, 1);
  DewForecastOptions options;

  *out = NULL;
  result->c = dew_case_load (path, error);
  if (!result->c || !find_role (path, asked, result->c->name, &result->role, error))
    return FALSE;
  if (asked->only != DEW_N_ROLES && asked->only != result->role)
    return TRUE;
  dew_case_options (result->c, asked->grid, &options);
  result->forecast = dew_forecast_new (result->c->chamber, 0, &options, NULL, error);
  if (!result->forecast)
    {
      g_prefix_error (error, "%s: ", path);
      return FALSE;
    }
  result->rows = dew_case_compare (result->c, result->forecast);
  *out = g_steal_pointer (&result);
  return TRUE;
}

static DewSummary *
sum_up (const GPtrArray *results)
{
  DewSummary *summary = dew_summary_new ();

  for (guint i = 0; i < results->len; i++)
    {
      const Result *result = g_ptr_array_index (results, i);

      dew_summary_add (summary, result->role, result->rows);
    }
  dew_summary_close (summary);
  return summary;
}

static void
count_verdicts (const GPtrArray *results, int counts[DEW_N_VERDICTS])
{
  for (int v = 0; v < DEW_N_VERDICTS; v++)
    counts[v] = 0;
  for (guint i = 0; i < results->len; i++)
    {
      const Result *result = g_ptr_array_index (results, i);

      for (guint r = 0; r < result->rows->len; r++)
        counts[g_array_index (result->rows, DewCaseRow, r).verdict]++;
    }
}

/* --- text ---------------------------------------------------------------- */

static void
print_case (const Result *result)
{
  const DewForecast *forecast = result->forecast;

  g_print ("%s: %d zones, %.3f s, %s", result->c->name, forecast->n_zones, forecast->seconds,
           dew_forecast_state_text (forecast));
  if (isfinite (result->c->solver_seconds))
    g_print ("; the reference took %.0f s, %.0f times as long", result->c->solver_seconds,
             result->c->solver_seconds / forecast->seconds);
  g_print ("\n  %-4s %-17s %-36s %11s %11s %11s %10s %10s  %s\n", "bay", "where", "quantity",
           "predicted", "reference", "difference", "goal", "must", "verdict");
  for (guint r = 0; r < result->rows->len; r++)
    {
      const DewCaseRow *row = &g_array_index (result->rows, DewCaseRow, r);
      char bay[16] = "-";

      if (row->bay >= 0)
        g_snprintf (bay, sizeof bay, "%d", row->bay);
      g_print ("  %-4s %-17s %-36s %11.4g %11.4g %+11.3g %10.3g %10.3g  %s\n", bay, row->where,
               row->quantity, row->predicted, row->reference, row->predicted - row->reference,
               row->goal, row->must, dew_verdict_key (row->verdict));
    }
  g_print ("\n");
}

static void
print_summary (const GPtrArray *results, gboolean markdown)
{
  g_autoptr (DewSummary) summary = sum_up (results);
  g_autofree char *table = dew_summary_text (summary, markdown);
  int counts[DEW_N_VERDICTS];
  int total;

  count_verdicts (results, counts);
  total = counts[DEW_VERDICT_GOAL] + counts[DEW_VERDICT_MUST] + counts[DEW_VERDICT_OUT];
  g_print ("%s\n%d rows: %d inside the goal (%.1f %%), %d more inside the must band, "
           "%d out (%.1f %%)\n",
           table, total, counts[DEW_VERDICT_GOAL],
           dew_summary_percent (counts[DEW_VERDICT_GOAL], total), counts[DEW_VERDICT_MUST],
           counts[DEW_VERDICT_OUT], dew_summary_percent (counts[DEW_VERDICT_OUT], total));
}

/* --- JSON ---------------------------------------------------------------- */

/* JSON knows no NAN. */
static void
add_number (JsonBuilder *builder, const char *key, double value)
{
  json_builder_set_member_name (builder, key);
  if (isfinite (value))
    json_builder_add_double_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

static void
add_count (JsonBuilder *builder, const char *key, int value)
{
  json_builder_set_member_name (builder, key);
  json_builder_add_int_value (builder, value);
}

static void
add_text (JsonBuilder *builder, const char *key, const char *value)
{
  json_builder_set_member_name (builder, key);
  json_builder_add_string_value (builder, value);
}

static void
build_case (JsonBuilder *builder, const Result *result)
{
  json_builder_begin_object (builder);
  add_text (builder, "case", result->c->name);
  add_text (builder, "role", dew_role_key (result->role));
  add_count (builder, "zones", result->forecast->n_zones);
  add_number (builder, "seconds", result->forecast->seconds);
  json_builder_set_member_name (builder, "settled");
  json_builder_add_boolean_value (builder, result->forecast->state == DEW_FORECAST_SETTLED);
  json_builder_set_member_name (builder, "rows");
  json_builder_begin_array (builder);
  for (guint r = 0; r < result->rows->len; r++)
    {
      const DewCaseRow *row = &g_array_index (result->rows, DewCaseRow, r);

      json_builder_begin_object (builder);
      add_count (builder, "bay", row->bay);
      add_text (builder, "where", row->where);
      add_text (builder, "quantity", row->quantity);
      add_number (builder, "reference", row->reference);
      add_number (builder, "predicted", row->predicted);
      add_number (builder, "must", row->must);
      add_number (builder, "goal", row->goal);
      add_number (builder, "band", row->band);
      add_text (builder, "verdict", dew_verdict_key (row->verdict));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
build_line (JsonBuilder *builder, const DewSummaryLine *line)
{
  json_builder_begin_object (builder);
  add_text (builder, "quantity", line->quantity ? line->quantity : "all");
  add_count (builder, "rows", line->rows);
  add_count (builder, "goal", line->goal);
  add_count (builder, "out", line->out);
  add_number (builder, "median", line->bias);
  add_number (builder, "error_90", line->error90);
  add_count (builder, "banded", line->banded);
  add_count (builder, "inside_band", line->held);
  json_builder_end_object (builder);
}

static void
build_roles (JsonBuilder *builder, const GPtrArray *results)
{
  g_autoptr (DewSummary) summary = sum_up (results);

  json_builder_set_member_name (builder, "roles");
  json_builder_begin_array (builder);
  for (int r = 0; r < DEW_N_ROLES; r++)
    if (summary->cases[r] > 0)
      {
        json_builder_begin_object (builder);
        add_text (builder, "role", dew_role_key (r));
        add_count (builder, "cases", summary->cases[r]);
        json_builder_set_member_name (builder, "quantities");
        json_builder_begin_array (builder);
        for (guint i = 0; i < summary->lines[r]->len; i++)
          build_line (builder, &g_array_index (summary->lines[r], DewSummaryLine, i));
        json_builder_end_array (builder);
        json_builder_end_object (builder);
      }
  json_builder_end_array (builder);
}

static void
print_json (const GPtrArray *results)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *text = NULL;
  int counts[DEW_N_VERDICTS];

  count_verdicts (results, counts);
  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "cases");
  json_builder_begin_array (builder);
  for (guint i = 0; i < results->len; i++)
    build_case (builder, g_ptr_array_index (results, i));
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "summary");
  json_builder_begin_object (builder);
  add_count (builder, "rows",
             counts[DEW_VERDICT_GOAL] + counts[DEW_VERDICT_MUST] + counts[DEW_VERDICT_OUT]);
  add_count (builder, "goal", counts[DEW_VERDICT_GOAL]);
  add_count (builder, "must", counts[DEW_VERDICT_MUST]);
  add_count (builder, "out", counts[DEW_VERDICT_OUT]);
  build_roles (builder, results);
  json_builder_end_object (builder);
  json_builder_end_object (builder);

  root = json_builder_get_root (builder);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  text = json_generator_to_data (generator, NULL);
  g_print ("%s\n", text);
}

/* --- the command --------------------------------------------------------- */

static gboolean
grid_from_name (const char *name, DewGrid *grid)
{
  static const char *const names[] = { "draft", "settled", "fine" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_str_equal (name, names[i]))
      {
        *grid = (DewGrid) i;
        return TRUE;
      }
  return FALSE;
}

/* Fills `asked` and the paths (transfer full), or says on stderr what is wrong. */
static gboolean
read_command (int argc, char **argv, Asked *asked, GStrv *paths)
{
  g_autofree char *grid = g_strdup ("settled");
  g_autofree char *role = NULL;
  const GOptionEntry entries[] = {
    { "grid", 0, 0, G_OPTION_ARG_STRING, &grid, "Zones: draft, settled or fine", "GRID" },
    { "summary", 0, 0, G_OPTION_ARG_NONE, &asked->summary, "Only the tables by quantity", NULL },
    { "markdown", 0, 0, G_OPTION_ARG_NONE, &asked->markdown,
      "The same in Markdown, as it stands in README.md", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &asked->json, "Print JSON for programs", NULL },
    { "roles", 0, 0, G_OPTION_ARG_FILENAME, &asked->roles_path,
      "List of roles instead of the roles.txt beside the cases", "FILE" },
    { "role", 0, 0, G_OPTION_ARG_STRING, &role,
      "Only cases of this role: training, validation or held-back", "ROLE" },
    { "out-at-most", 0, 0, G_OPTION_ARG_DOUBLE, &asked->out_at_most_pct,
      "Exit status 1 when more than this percentage of rows is outside 'must' (0)", "PERCENT" },
    { "goal-at-least", 0, 0, G_OPTION_ARG_DOUBLE, &asked->goal_at_least_pct,
      "Exit status 1 when less than this percentage of rows is inside the goal (0)", "PERCENT" },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, paths, NULL, "CASE.json..." },
    { NULL }
  };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  const char *wrong = NULL;

  g_option_context_set_summary (context, "Holds forecasts against reference simulations.");
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    wrong = error->message;
  else if (!*paths)
    wrong = "name at least one case file";
  else if (!grid_from_name (grid, &asked->grid))
    wrong = "--grid is draft, settled or fine";
  asked->only = role ? dew_role_from_key (role) : DEW_N_ROLES;
  if (!wrong && role && asked->only == DEW_N_ROLES)
    wrong = "--role is training, validation or held-back";
  if (wrong)
    g_printerr ("reference-check: %s\n", wrong);
  return !wrong;
}

/* FALSE when a case could not be run; the others are still there. */
static gboolean
run_all (char **paths, const Asked *asked, GPtrArray *results)
{
  gboolean good = TRUE;

  for (char **path = paths; *path; path++)
    {
      g_autoptr (GError) error = NULL;
      Result *result;

      if (!run_case (*path, asked, &result, &error))
        {
          g_printerr ("reference-check: %s\n", error->message);
          good = FALSE;
        }
      if (!result)
        continue;
      g_ptr_array_add (results, result);
      if (!asked->json && !asked->summary && !asked->markdown)
        print_case (result);
    }
  return good;
}

static int
judge_all (const GPtrArray *results, const Asked *asked)
{
  int counts[DEW_N_VERDICTS];
  int total = 0;

  count_verdicts (results, counts);
  for (int v = 0; v < DEW_N_VERDICTS; v++)
    total += counts[v];
  return dew_summary_percent (counts[DEW_VERDICT_OUT], total) <= asked->out_at_most_pct
             && dew_summary_percent (counts[DEW_VERDICT_GOAL], total) >= asked->goal_at_least_pct
           ? STATUS_INSIDE
           : STATUS_OUTSIDE;
}

int
main (int argc, char **argv)
{
  g_autoptr (GPtrArray) results = g_ptr_array_new_with_free_func ((GDestroyNotify) result_free);
  g_auto (GStrv) paths = NULL;
  Asked asked = { 0 };
  int status = STATUS_NOT_RUN;

  if (read_command (argc, argv, &asked, &paths))
    {
      gboolean good = run_all (paths, &asked, results);

      if (asked.json)
        print_json (results);
      else
        print_summary (results, asked.markdown);
      if (good)
        status = judge_all (results, &asked);
    }
  g_free (asked.roles_path);
  return status;
}
