/* SPDX-License-Identifier: GPL-3.0-or-later */

/* reference-check [--grid draft|settled|fine] [--json] CASE.json...
 *
 * Forecasts each case through the public functions of the core and prints what
 * is predicted beside what a fine flow simulation found. Exit status 0 when
 * every row is inside its 'must' band, 1 when one is not, 2 when a case could
 * not be run.
 */

#include "compare.h"

#include <json-glib/json-glib.h>
#include <math.h>

enum
{
  STATUS_INSIDE = 0,
  STATUS_OUTSIDE = 1,
  STATUS_NOT_RUN = 2
};

typedef struct
{
  DewCase *c;
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

static Result *
run_case (const char *path, DewGrid grid, GError **error)
{
  g_autoptr (Result) result = g_new0 (Result, 1);
  DewForecastOptions options;

  result->c = dew_case_load (path, error);
  if (!result->c)
    return NULL;
  dew_case_options (result->c, grid, &options);
  result->forecast = dew_forecast_new (result->c->chamber, 0, &options, NULL, error);
  if (!result->forecast)
    {
      g_prefix_error (error, "%s: ", path);
      return NULL;
    }
  result->rows = dew_case_compare (result->c, result->forecast);
  return g_steal_pointer (&result);
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
print_summary (const GPtrArray *results)
{
  int counts[DEW_N_VERDICTS];
  int total;

  count_verdicts (results, counts);
  total = counts[DEW_VERDICT_GOAL] + counts[DEW_VERDICT_MUST] + counts[DEW_VERDICT_OUT];
  g_print ("%d rows: %d inside the goal (%.1f %%), %d more inside the must band, %d out\n", total,
           counts[DEW_VERDICT_GOAL], total ? 100.0 * counts[DEW_VERDICT_GOAL] / total : 0.0,
           counts[DEW_VERDICT_MUST], counts[DEW_VERDICT_OUT]);
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
      add_text (builder, "verdict", dew_verdict_key (row->verdict));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
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

int
main (int argc, char **argv)
{
  g_autofree char *grid_name = g_strdup ("settled");
  g_auto (GStrv) paths = NULL;
  gboolean json = FALSE, failed = FALSE;
  const GOptionEntry entries[]
    = { { "grid", 0, 0, G_OPTION_ARG_STRING, &grid_name, "Zones: draft, settled or fine", "GRID" },
        { "json", 0, 0, G_OPTION_ARG_NONE, &json, "Print JSON for programs", NULL },
        { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &paths, NULL, "CASE.json..." },
        { NULL } };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GPtrArray) results = g_ptr_array_new_with_free_func ((GDestroyNotify) result_free);
  g_autoptr (GError) error = NULL;
  DewGrid grid;
  int counts[DEW_N_VERDICTS];

  g_option_context_set_summary (context, "Holds forecasts against reference simulations.");
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      g_printerr ("reference-check: %s\n", error->message);
      return STATUS_NOT_RUN;
    }
  if (!paths || !grid_from_name (grid_name, &grid))
    {
      g_printerr ("reference-check: %s\n",
                  paths ? "--grid is draft, settled or fine" : "name at least one case file");
      return STATUS_NOT_RUN;
    }

  for (char **path = paths; *path; path++)
    {
      Result *result = run_case (*path, grid, &error);

      if (!result)
        {
          g_printerr ("reference-check: %s\n", error->message);
          g_clear_error (&error);
          failed = TRUE;
          continue;
        }
      g_ptr_array_add (results, result);
      if (!json)
        print_case (result);
    }
  if (json)
    print_json (results);
  else
    print_summary (results);

  count_verdicts (results, counts);
  if (failed)
    return STATUS_NOT_RUN;
  return counts[DEW_VERDICT_OUT] > 0 ? STATUS_OUTSIDE : STATUS_INSIDE;
}
