/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier readings: what instruments have measured, beside what is forecast. */
#include "command-line.h"

#include "say/readings.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- the table that is asked about ------------------------------------------------ */

typedef struct
{
  char *text;
  gsize length;
  DewCsvShape shape;
  DewCsvLook look;
} Table;

static void
table_clear (Table *table)
{
  g_clear_pointer (&table->text, g_free);
  dew_csv_look_clear (&table->look);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Table, table_clear)

/* "time=1,clock=2,t=3,rh=4": FALSE when it was wrong and that has been said. */
static gboolean
read_columns (const char *words, DewCsvShape *shape)
{
  g_auto (GStrv) pairs = words != NULL ? g_strsplit (words, ",", -1) : g_new0 (char *, 1);
  const struct
  {
    const char *name;
    int *column;
  } known[] = { { "time", &shape->date_column },
                { "clock", &shape->time_column },
                { "t", &shape->t_column },
                { "rh", &shape->rh_column } };

  for (guint i = 0; pairs[i] != NULL; i++)
    {
      char *is = strchr (pairs[i], '=');
      gboolean taken = FALSE;

      for (guint k = 0; k < G_N_ELEMENTS (known) && is != NULL; k++)
        if (strlen (known[k].name) == (gsize) (is - pairs[i])
            && strncmp (pairs[i], known[k].name, (gsize) (is - pairs[i])) == 0)
          {
            *known[k].column = atoi (is + 1);
            taken = *known[k].column >= 1 && *known[k].column <= DEW_CSV_COLUMNS_MAX;
          }
      if (!taken)
        {
          dew_command_complain (DEW_EXIT_USAGE,
                                _ ("--columns: \"%s\" is unknown; give time, clock, t and rh with "
                                   "the number of a column, such as time=1,t=2,rh=3"),
                                pairs[i]);
          return FALSE;
        }
    }
  return TRUE;
}

static gboolean
read_told (const DewAsked *asked, DewCsvShape *shape)
{
  static const char *const dates[] = { "year", "day", "month" };
  static const char *const degrees[] = { "C", "F" };
  static const char *const humidity[] = { "percent", "share" };
  static const char *const decimals[] = { ".", "," };
  int date = -1, degree = -1, scale = -1, decimal = -1;

  if (!read_columns (asked->columns, shape)
      || !dew_command_choose ("--dates", asked->dates, dates, 3, &date)
      || !dew_command_choose ("--degrees", asked->degrees, degrees, 2, &degree)
      || !dew_command_choose ("--humidity", asked->humidity, humidity, 2, &scale)
      || !dew_command_choose ("--decimal", asked->decimal, decimals, 2, &decimal))
    return FALSE;
  shape->dates = date >= 0 ? DEW_DATES_YEAR_FIRST + date : DEW_DATES_ASK;
  shape->degrees = degree >= 0 ? DEW_DEGREES_C + degree : DEW_DEGREES_ASK;
  shape->humidity = scale >= 0 ? DEW_HUMIDITY_PERCENT + scale : DEW_HUMIDITY_ASK;
  shape->decimal = decimal >= 0 ? decimals[decimal][0] : 0;
  if (asked->zone != NULL && !dew_csv_zone_known (asked->zone))
    {
      dew_command_complain (DEW_EXIT_USAGE,
                            _ ("--zone: \"%s\" is unknown; give a name such as Europe/Berlin, UTC "
                               "or +01:00"),
                            asked->zone);
      return FALSE;
    }
  if (asked->zone != NULL)
    g_strlcpy (shape->zone, asked->zone, sizeof shape->zone);
  return TRUE;
}

/* FALSE when it was no table and that has been said; *code is the exit code. */
static gboolean
look_at (const DewAsked *asked, const char *path, Table *table, int *code)
{
  g_autoptr (GMappedFile) file = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *words = NULL;
  DewCsvProblem problem;

  *code = DEW_EXIT_USAGE;
  if (!read_told (asked, &table->shape))
    return FALSE;
  *code = DEW_EXIT_NO;
  file = g_mapped_file_new (path, FALSE, &error);
  if (file == NULL)
    {
      dew_command_complain (DEW_EXIT_NO, "%s", error->message);
      return FALSE;
    }
  if (g_mapped_file_get_length (file) > DEW_CSV_BYTES_MAX)
    {
      dew_command_complain (DEW_EXIT_NO, _ ("%s: is larger than %d MB; cut it into pieces"), path,
                            (int) (DEW_CSV_BYTES_MAX / 1024 / 1024));
      return FALSE;
    }
  table->text = dew_csv_text (g_mapped_file_get_contents (file), g_mapped_file_get_length (file),
                              &table->length, &problem);
  if (table->text == NULL)
    {
      words = dew_csv_problem_text (&problem);
      dew_command_complain (DEW_EXIT_NO, "%s: %s", path, words);
      return FALSE;
    }
  if (dew_csv_look (table->text, table->length, &table->shape, &table->look))
    return TRUE;
  dew_command_complain (DEW_EXIT_NO,
                        _ ("%s: none of its first lines holds a date and a number between commas, "
                           "semicolons, tabs or upright bars; export it as a table (CSV)"),
                        path);
  return FALSE;
}

static int
run_look (DewAsked *asked)
{
  g_auto (Table) table = { 0 };
  g_autofree char *text = NULL;
  int code;

  if (!look_at (asked, asked->words[1], &table, &code))
    return code;
  text = asked->json ? dew_report_look_json (asked->words[1], &table.shape, &table.look)
                     : dew_report_look_text (asked->words[1], &table.shape, &table.look);
  code = dew_command_say (text);
  return code != DEW_EXIT_FINE ? code : table.look.ask == 0 ? DEW_EXIT_FINE : DEW_EXIT_NO;
}

/* --- importing ----------------------------------------------------------------------- */

/* The logger of that name as the document has it, or a usual one. */
static gboolean
find_logger (const DewAsked *asked, const char *name, DewLogger *out)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewSeries) series = dew_series_open (asked->words[1], &error);
  g_autoptr (GArray) loggers = series != NULL ? dew_series_loggers (series, &error) : NULL;

  if (loggers == NULL)
    {
      dew_command_complain (DEW_EXIT_NO, "%s", error->message);
      return FALSE;
    }
  dew_logger_init (out, name);
  if (asked->room)
    out->place = DEW_LOGGER_ROOM;
  for (guint i = 0; i < loggers->len; i++)
    if (strcmp (g_array_index (loggers, DewLogger, i).name, name) == 0)
      *out = g_array_index (loggers, DewLogger, i);
  return TRUE;
}

static gboolean
check_name (const char *name)
{
  if (name[0] != '\0' && strlen (name) < DEW_NAME_SIZE && g_utf8_validate (name, -1, NULL))
    return TRUE;
  dew_command_complain (DEW_EXIT_USAGE, _ ("the name of the instrument is empty or too long; give "
                                           "1 to 63 letters"));
  return FALSE;
}

static int
add_readings (DewAsked *asked, DewLogger *logger, const GArray *readings, const char *source,
              const char *settings, DewMerge *merge)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = dew_store_open (asked->words[1], &error);

  if (store == NULL || !dew_series_add (store, logger, readings, source, settings, merge, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  return DEW_EXIT_FINE;
}

static int
refuse_problems (const char *path, const DewCsvTable *table)
{
  g_autofree char *first
    = dew_csv_problem_text (&g_array_index (table->problems, DewCsvProblem, 0));

  return dew_command_complain (
    DEW_EXIT_NO,
    ngettext (
      "%s: %s. Nothing was imported. Mend the line, or leave it out with --leave-out",
      "%s: %s (and %u more such lines). Nothing was imported. Mend the lines, or leave them "
      "out with --leave-out",
      table->n_problems),
    path, first, table->n_problems - 1);
}

static int
run_import (DewAsked *asked)
{
  const char *path = asked->words[2], *name = asked->words[3];
  g_auto (Table) table = { 0 };
  g_auto (DewCsvTable) read = { 0 };
  g_auto (GStrv) questions = NULL;
  g_autofree char *text = NULL, *settings = NULL, *base = g_path_get_basename (path);
  DewMerge merge = { 0 };
  DewLogger logger;
  int code;

  if (!check_name (name))
    return DEW_EXIT_USAGE;
  if (!look_at (asked, path, &table, &code))
    return code;
  questions = dew_csv_questions (&table.shape, &table.look, TRUE);
  if (questions[0] != NULL)
    {
      g_autofree char *all = g_strjoinv (". ", questions);

      return dew_command_complain (DEW_EXIT_NO, "%s: %s", path, all);
    }
  dew_csv_read (table.text, table.length, &table.shape, NULL, NULL, &read);
  if (read.n_problems > 0 && !asked->leave_out)
    return refuse_problems (path, &read);
  if (read.readings->len == 0)
    return dew_command_complain (DEW_EXIT_NO, _ ("%s: holds no readings"), path);
  settings = dew_csv_settings (&table.shape);
  if (!find_logger (asked, name, &logger))
    return DEW_EXIT_NO;
  code = add_readings (asked, &logger, read.readings, base, settings, &merge);
  if (code != DEW_EXIT_FINE)
    return code;
  text = asked->json ? dew_report_import_json (path, &logger, &read, &merge)
                     : dew_report_import_text (path, &logger, &read, &merge);
  return dew_command_say (text);
}

/* --- by hand -------------------------------------------------------------------------- */

static gboolean
read_moment (const DewAsked *asked, const char *word, gint64 *time_s)
{
  if ((asked->zone == NULL || dew_csv_zone_known (asked->zone))
      && dew_csv_moment (word, asked->zone, time_s))
    return TRUE;
  dew_command_complain (DEW_EXIT_USAGE,
                        _ ("\"%s\" is no moment; give year, month, day and time, such as "
                           "\"2026-01-31 08:00\""),
                        word);
  return FALSE;
}

/* "-" is what was not read. */
static gboolean
read_typed (const char *word, DewMeasure measure, float *out)
{
  const DewUnit *unit = dew_unit (measure, DEW_TONGUE_METRIC);
  g_autofree char *wanted = NULL;
  double si;

  if (strcmp (word, "-") == 0)
    {
      *out = NAN;
      return TRUE;
    }
  if (dew_unit_parse (unit, word, &si))
    {
      *out = (float) si;
      return TRUE;
    }
  wanted = dew_unit_wanted (unit);
  dew_command_complain (DEW_EXIT_USAGE, "\"%s\": %s", word, wanted);
  return FALSE;
}

static int
run_add (DewAsked *asked)
{
  g_autoptr (GArray) readings = g_array_new (FALSE, FALSE, sizeof (DewReading));
  DewReading reading = { 0 };
  DewMerge merge = { 0 };
  DewLogger logger;
  int code;

  if (!check_name (asked->words[2]) || !read_moment (asked, asked->words[3], &reading.time_s)
      || !read_typed (asked->words[4], DEW_MEASURE_TEMPERATURE, &reading.t_C)
      || !read_typed (asked->words[5], DEW_MEASURE_SHARE, &reading.rh))
    return DEW_EXIT_USAGE;
  g_array_append_val (readings, reading);
  if (!find_logger (asked, asked->words[2], &logger))
    return DEW_EXIT_NO;
  code = add_readings (asked, &logger, readings, "typed in", "", &merge);
  if (code == DEW_EXIT_FINE && merge.conflict > 0)
    return dew_command_complain (DEW_EXIT_NO,
                                 _ ("%s: \"%s\" has another reading of that moment; it stays"),
                                 asked->words[1], logger.name);
  return code;
}

static int
run_mark (DewAsked *asked)
{
  static const char *const words[] = { "doubtful", "good", "plain" };
  static const DewMark marks[] = { DEW_MARK_DOUBTED, DEW_MARK_TRUSTED, 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = NULL;
  g_autofree char *text = NULL;
  gint64 from_s, to_s;
  DewLogger logger;
  int mark = 0;
  guint n;

  if (!read_moment (asked, asked->words[3], &from_s) || !read_moment (asked, asked->words[4], &to_s)
      || !dew_command_choose ("mark", asked->words[5], words, G_N_ELEMENTS (words), &mark))
    return DEW_EXIT_USAGE;
  if (!find_logger (asked, asked->words[2], &logger))
    return DEW_EXIT_NO;
  store = dew_store_open (asked->words[1], &error);
  if (store == NULL || !dew_series_mark (store, &logger, from_s, to_s, marks[mark], &n, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  text = g_strdup_printf (ngettext ("%u reading of \"%s\" marked\n",
                                    "%u readings of \"%s\" marked\n", n),
                          n, logger.name);
  return dew_command_say (text);
}

/* --- what there is --------------------------------------------------------------------- */

static int
run_list (DewAsked *asked)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewSeries) series = NULL;
  g_autoptr (GArray) loggers = NULL;
  g_autofree DewTally *tallies = NULL;
  g_autofree char *text = NULL;

  if (!dew_command_open (asked, asked->words[1]))
    return DEW_EXIT_NO;
  series = dew_series_open (asked->words[1], &error);
  loggers = series != NULL ? dew_series_loggers (series, &error) : NULL;
  if (loggers == NULL)
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  tallies = g_new0 (DewTally, MAX (1, loggers->len));
  for (guint i = 0; i < loggers->len; i++)
    {
      const DewLogger *logger = &g_array_index (loggers, DewLogger, i);
      g_autoptr (GArray) readings
        = dew_series_readings (series, logger, logger->first_day * DEW_DAY_S,
                               (logger->last_day + 1) * DEW_DAY_S, FALSE, &error);

      if (readings == NULL)
        return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
      dew_readings_tally (readings, &tallies[i]);
    }
  text = asked->json ? dew_report_loggers_json (&asked->about, loggers, tallies)
                     : dew_report_loggers_text (&asked->about, loggers, tallies);
  return dew_command_say (text);
}

/* --- what is asked ----------------------------------------------------------------------- */

int
dew_command_readings (DewAsked *asked)
{
  static const struct
  {
    const char *word;
    int (*run) (DewAsked *asked);
    int n; /* of words, that one too */
    const char *takes;
  } actions[] = {
    { "look", run_look, 2, N_ ("look TABLE") },
    { "import", run_import, 4, N_ ("import FILE TABLE INSTRUMENT") },
    { "add", run_add, 6, N_ ("add FILE INSTRUMENT MOMENT TEMPERATURE HUMIDITY") },
    { "mark", run_mark, 6, N_ ("mark FILE INSTRUMENT FROM TO doubtful|good|plain") },
    { "list", run_list, 2, N_ ("list FILE") },
    { "compare", dew_command_readings_compare, 2, N_ ("compare FILE") },
    { "night", dew_command_readings_night, 2, N_ ("night FILE") },
    { "where", dew_command_readings_where, 2, N_ ("where FILE") },
  };
  const char *words[G_N_ELEMENTS (actions)];
  int chosen = 0;

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    words[i] = actions[i].word;
  if (!dew_command_choose ("readings", asked->words[0], words, G_N_ELEMENTS (words), &chosen))
    return DEW_EXIT_USAGE;
  /* The night test alone tells how it is done. */
  if (asked->n != actions[chosen].n
      && !(asked->n == 1 && actions[chosen].run == dew_command_readings_night))
    return dew_command_complain (DEW_EXIT_USAGE, _ ("usage: dewtier readings %s"),
                                 _ (actions[chosen].takes));
  return actions[chosen].run (asked);
}
