/* SPDX-License-Identifier: GPL-3.0-or-later */

/* bench [--json] [--only FAMILY]: prints the figures of speed and memory beside their targets. */

#include "bench.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* Running and waiting programs, mean of a minute, above which nothing is judged. */
#define MOST_LOAD 1.0

void
bench_add (Bench *bench, const Figure *figure, const char *format, ...)
{
  Figure copy = *figure;
  va_list args;

  va_start (args, format);
  copy.detail = g_strdup_vprintf (format, args);
  va_end (args);
  g_array_append_val (bench->figures, copy);
}

void
bench_leave_out (Bench *bench, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (bench->left_out, g_strdup_vprintf (format, args));
  va_end (args);
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

double
bench_median (double *values, guint n)
{
  g_return_val_if_fail (n > 0, NAN);

  qsort (values, n, sizeof *values, compare_doubles);
  return n % 2 ? values[n / 2] : 0.5 * (values[n / 2 - 1] + values[n / 2]);
}

double
bench_now (void)
{
  return 1e-6 * g_get_monotonic_time ();
}

double
bench_work (void)
{
  struct timespec used;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &used);
  return used.tv_sec + 1e-9 * used.tv_nsec;
}

void
bench_start (BenchTimes *times)
{
  times->wall_now = bench_now ();
  times->work_now = bench_work ();
}

void
bench_stop (BenchTimes *times)
{
  if (times->n >= G_N_ELEMENTS (times->wall))
    return;
  times->wall[times->n] = bench_now () - times->wall_now;
  times->work[times->n++] = bench_work () - times->work_now;
}

void
bench_take (Figure *figure, BenchTimes *times, double per_second)
{
  figure->value = per_second * bench_median (times->wall, times->n);
  figure->processor = per_second * bench_median (times->work, times->n);
}

/* --- the machine --------------------------------------------------------- */

typedef struct
{
  char *processor;
  guint cores;
  double memory_GB;
  double load; /* what else ran when the measuring began: mean of a minute */
} Machine;

/* Value of the first line "key : value" of a file in /proc, or "unknown". */
static char *
proc_value (const char *path, const char *key)
{
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  if (!g_file_get_contents (path, &text, NULL, NULL))
    return g_strdup ("unknown");
  lines = g_strsplit (text, "\n", -1);
  for (char **line = lines; *line; line++)
    if (g_str_has_prefix (*line, key) && strchr (*line, ':'))
      return g_strdup (g_strstrip (strchr (*line, ':') + 1));
  return g_strdup ("unknown");
}

static void
describe_machine (Machine *machine)
{
  g_autofree char *memory = proc_value ("/proc/meminfo", "MemTotal");

  machine->processor = proc_value ("/proc/cpuinfo", "model name");
  machine->cores = g_get_num_processors ();
  machine->memory_GB = g_ascii_strtod (memory, NULL) * 1024 / 1e9;
  if (getloadavg (&machine->load, 1) != 1)
    machine->load = NAN;
}

/* --- output -------------------------------------------------------------- */

/* Beside others a figure says more about them: the same binary gave 187 and 547 ms. */
static gboolean
is_busy (const Machine *machine)
{
  return !(machine->load <= MOST_LOAD);
}

static const char *
verdict (const Figure *figure, const Machine *machine)
{
  double sign = figure->more_is_better ? -1 : 1;

  if (isnan (figure->must) || is_busy (machine))
    return "";
  if (sign * figure->value <= sign * figure->goal)
    return "goal";
  return sign * figure->value <= sign * figure->must ? "must" : "missed";
}

static void
print_text (const Bench *bench, const Machine *machine)
{
  g_print ("%s, %u cores, %.0f GB, load %.1f before the start%s\n\n", machine->processor,
           machine->cores, machine->memory_GB, machine->load,
           is_busy (machine) ? ": too busy for a verdict" : "");
  g_print ("%-52s %10s %-6s %9s %8s %8s  %-7s %s\n", "", "measured", "", "processor", "must",
           "goal", "", "");
  for (guint i = 0; i < bench->figures->len; i++)
    {
      const Figure *figure = &g_array_index (bench->figures, Figure, i);
      g_autofree char *processor
        = figure->processor > 0.0 ? g_strdup_printf ("%.4g", figure->processor) : g_strdup ("");
      g_autofree char *must
        = isnan (figure->must) ? g_strdup ("") : g_strdup_printf ("%.4g", figure->must);
      g_autofree char *goal
        = isnan (figure->goal) ? g_strdup ("") : g_strdup_printf ("%.4g", figure->goal);

      g_print ("%-52s %10.4g %-6s %9s %8s %8s  %-7s %s\n", figure->what, figure->value,
               figure->unit, processor, must, goal, verdict (figure, machine), figure->detail);
    }
  for (guint i = 0; i < bench->left_out->len; i++)
    g_print ("not measured: %s\n", (const char *) g_ptr_array_index (bench->left_out, i));
}

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
add_text (JsonBuilder *builder, const char *key, const char *value)
{
  json_builder_set_member_name (builder, key);
  json_builder_add_string_value (builder, value);
}

static void
print_json (const Bench *bench, const Machine *machine)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *text = NULL;

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "machine");
  json_builder_begin_object (builder);
  add_text (builder, "processor", machine->processor);
  add_number (builder, "cores", machine->cores);
  add_number (builder, "memory_GB", machine->memory_GB);
  add_number (builder, "load", machine->load);
  json_builder_end_object (builder);
  json_builder_set_member_name (builder, "figures");
  json_builder_begin_array (builder);
  for (guint i = 0; i < bench->figures->len; i++)
    {
      const Figure *figure = &g_array_index (bench->figures, Figure, i);

      json_builder_begin_object (builder);
      add_text (builder, "key", figure->key);
      add_text (builder, "what", figure->what);
      add_number (builder, "value", figure->value);
      add_text (builder, "unit", figure->unit);
      add_number (builder, "processor", figure->processor > 0.0 ? figure->processor : NAN);
      add_number (builder, "must", figure->must);
      add_number (builder, "goal", figure->goal);
      add_text (builder, "verdict", verdict (figure, machine));
      add_text (builder, "detail", figure->detail);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "left_out");
  json_builder_begin_array (builder);
  for (guint i = 0; i < bench->left_out->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (bench->left_out, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);

  root = json_builder_get_root (builder);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  text = json_generator_to_data (generator, NULL);
  g_print ("%s\n", text);
}

static void
clear_figure (gpointer data)
{
  g_free (((Figure *) data)->detail);
}

int
main (int argc, char **argv)
{
  static const struct
  {
    const char *name;
    void (*measure) (Bench *bench);
    gboolean always;
  } families[] = {
    { "phases", bench_phases, TRUE },  { "model", bench_model, TRUE },
    { "drags", bench_drags, TRUE },    { "advice", bench_advice, FALSE },
    { "assign", bench_assign, FALSE }, { "document", bench_document, TRUE },
    { "sheet", bench_sheet, TRUE },    { "window", bench_window, TRUE },
  };
  gboolean json = FALSE, advice = FALSE;
  g_autofree char *only = NULL;
  const GOptionEntry entries[]
    = { { "json", 0, 0, G_OPTION_ARG_NONE, &json, "Print JSON for programs", NULL },
        { "advice", 0, 0, G_OPTION_ARG_NONE, &advice, "Also searches and sizings: some minutes",
          NULL },
        { "only", 0, 0, G_OPTION_ARG_STRING, &only,
          "One of phases, model, drags, advice, assign, document, sheet, window", "FAMILY" },
        { NULL } };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  Bench bench;
  Machine machine;

  g_option_context_set_summary (context, "Measures speed and memory; takes some minutes.");
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      g_printerr ("bench: %s\n", error->message);
      return 2;
    }

  bench.figures = g_array_new (FALSE, FALSE, sizeof (Figure));
  g_array_set_clear_func (bench.figures, clear_figure);
  bench.left_out = g_ptr_array_new_with_free_func (g_free);
  describe_machine (&machine);

  for (guint f = 0; f < G_N_ELEMENTS (families); f++)
    if (only != NULL ? strcmp (only, families[f].name) == 0 : families[f].always || advice)
      families[f].measure (&bench);

  if (json)
    print_json (&bench, &machine);
  else
    print_text (&bench, &machine);
  g_free (machine.processor);
  g_array_unref (bench.figures);
  g_ptr_array_unref (bench.left_out);
  return 0;
}
