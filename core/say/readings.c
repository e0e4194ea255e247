/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/readings.h"

#include "store/json-writer.h"

#include <glib/gi18n.h>
#include <string.h>

/* --- moments ----------------------------------------------------------------------- */

static char *
moment (gint64 time_s, GTimeZone *zone, const char *format)
{
  g_autoptr (GDateTime) utc = g_date_time_new_from_unix_utc (time_s);
  g_autoptr (GDateTime) there = utc == NULL ? NULL
                                            : (zone != NULL ? g_date_time_to_timezone (utc, zone)
                                                            : g_date_time_to_local (utc));

  return there != NULL ? g_date_time_format (there, format) : g_strdup ("\342\200\223");
}

char *
dew_moment_text (gint64 time_s, GTimeZone *zone)
{
  return moment (time_s, zone, "%Y-%m-%d %H:%M");
}

char *
dew_day_text (gint64 time_s, GTimeZone *zone)
{
  return moment (time_s, zone, "%Y-%m-%d");
}

/* --- problems of a table -------------------------------------------------------------- */

/* What should stand in a cell. */
static const char *
wanted_text (DewCsvCell cell)
{
  switch (cell)
    {
    case DEW_CSV_CELL_DATE:
      return _ ("a date in the order that was told, such as 2026-01-31 08:00");
    case DEW_CSV_CELL_TIME:
      return _ ("a time such as 08:00");
    case DEW_CSV_CELL_T:
      return _ ("a temperature such as 18.5, or nothing");
    case DEW_CSV_CELL_RH:
    default:
      return _ ("a humidity such as 71, or nothing");
    }
}

char *
dew_csv_problem_text (const DewCsvProblem *p)
{
  switch (p->code)
    {
    case DEW_CSV_NO_CELL:
      return g_strdup_printf (_ ("line %u: it has no column %d; give all cells, or mark other "
                                 "columns"),
                              p->line, p->wanted);
    case DEW_CSV_NO_DATE:
    case DEW_CSV_NO_NUMBER:
      /* Translators: line, column, letter of the line, what stands there, what was expected */
      return g_strdup_printf (_ ("line %u, column %u (from letter %u): \"%s\"; expected is %s"),
                              p->line, p->column, p->letter, p->found, wanted_text (p->cell));
    case DEW_CSV_NO_DAY:
      return g_strdup_printf (_ ("line %u, column %u (from letter %u): \"%s\" is no day and hour "
                                 "of the calendar; expected is %s"),
                              p->line, p->column, p->letter, p->found, wanted_text (p->cell));
    case DEW_CSV_FAR:
      return g_strdup_printf (_ ("line %u, column %u (from letter %u): \"%s\" is out of reach of "
                                 "any instrument; expected is %s, in the unit that was told"),
                              p->line, p->column, p->letter, p->found, wanted_text (p->cell));
    case DEW_CSV_NO_END:
      return g_strdup_printf (_ ("line %u: a quotation mark is not closed on this line; expected "
                                 "is a second one"),
                              p->line);
    case DEW_CSV_NUL:
      return g_strdup_printf (_ ("line %u: holds a zero byte or nothing; expected is text"),
                              p->line);
    case DEW_CSV_MIXED:
    default:
      return g_strdup_printf (_ ("line %u, column %u: the date has the month where line %d has the "
                                 "day; expected is one order in the whole table"),
                              p->line, p->column, p->wanted);
    }
}

/* --- what a table says ------------------------------------------------------------------ */

static char *
question_columns (const DewCsvShape *shape, const DewCsvLook *look, gboolean options)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (int i = 0; i < look->n_columns; i++)
    g_string_append_printf (names, "%s%d: %s", i > 0 ? "; " : "", i + 1,
                            look->head[i] != NULL && look->head[i][0] != '\0' ? look->head[i]
                            : look->shown[0][i] != NULL                       ? look->shown[0][i]
                                                                              : "");
  if (options)
    return g_strdup_printf (_ ("Which columns are time, temperature and humidity? (%s) Give "
                               "--columns, such as --columns time=1,t=2,rh=3"),
                            names->str);
  return g_strdup_printf (_ ("Which columns are time, temperature and humidity? (%s)"), names->str);
}

static char *
question_dates (const DewCsvLook *look, gboolean options)
{
  g_autofree char *mixed = look->is_mixed ? dew_csv_problem_text (&look->mixed) : NULL;

  if (mixed != NULL)
    return g_strdup (mixed);
  return g_strdup_printf (options
                            ? _ ("Does the day or the month come first in its dates? With the "
                                 "day first the table is about %.0f days, with the month "
                                 "first about %.0f days. Give --dates day or --dates month")
                            : _ ("Does the day or the month come first in its dates? With the "
                                 "day first the table is about %.0f days, with the month "
                                 "first about %.0f days."),
                          look->days_if_day_first, look->days_if_month_first);
}

static char *
question_zone (gboolean options)
{
  g_autoptr (GTimeZone) here = g_time_zone_new_local ();

  return g_strdup_printf (
    options ? _ ("In which zone did the logger's clock run? Give --zone, such as --zone %s (this "
                 "computer's), --zone UTC, or --zone +01:00 for a clock that knows no summer time")
            : _ ("In which zone did the logger's clock run? (This computer's is %s.)"),
    g_time_zone_get_identifier (here));
}

char **
dew_csv_questions (const DewCsvShape *shape, const DewCsvLook *look, gboolean options)
{
  g_autoptr (GStrvBuilder) out = g_strv_builder_new ();
  const struct
  {
    DewCsvAsk ask;
    char *text;
  } all[] = {
    { DEW_ASK_COLUMNS, question_columns (shape, look, options) },
    { DEW_ASK_DATES, question_dates (look, options) },
    { DEW_ASK_ZONE, question_zone (options) },
    { DEW_ASK_DEGREES,
      g_strdup (options ? _ ("Are its temperatures in degrees Celsius or Fahrenheit? Give "
                             "--degrees C or --degrees F")
                        : _ ("Are its temperatures in degrees Celsius or Fahrenheit?")) },
    { DEW_ASK_HUMIDITY,
      g_strdup (options ? _ ("Are its humidities in per cent or shares from 0 to 1? Give "
                             "--humidity percent or --humidity share")
                        : _ ("Are its humidities in per cent or shares from 0 to 1?")) },
    { DEW_ASK_DECIMAL,
      g_strdup (options ? _ ("Are its decimals behind a point or a comma? Give --decimal . or "
                             "--decimal ,")
                        : _ ("Are its decimals behind a point or a comma?")) },
  };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    {
      if ((look->ask & all[i].ask) != 0)
        g_strv_builder_add (out, all[i].text);
      g_free (all[i].text);
    }
  return g_strv_builder_end (out);
}

static const char *
delimiter_text (char delimiter)
{
  switch (delimiter)
    {
    case '\t':
      return _ ("tabs");
    case ';':
      return _ ("semicolons");
    case '|':
      return _ ("upright bars");
    default:
      return _ ("commas");
    }
}

static const char *
dates_text (DewCsvDates dates)
{
  switch (dates)
    {
    case DEW_DATES_YEAR_FIRST:
      return _ ("year first");
    case DEW_DATES_DAY_FIRST:
      return _ ("day first");
    case DEW_DATES_MONTH_FIRST:
      return _ ("month first");
    case DEW_DATES_SECONDS:
      return _ ("seconds since 1970");
    case DEW_DATES_MILLISECONDS:
      return _ ("milliseconds since 1970");
    case DEW_DATES_ASK:
    default:
      return _ ("not known yet");
    }
}

static char *
column_text (const DewCsvLook *look, int column)
{
  if (column < 1)
    return g_strdup (column < 0 ? _ ("none") : _ ("not known yet"));
  if (column <= look->n_columns && look->head[column - 1] != NULL
      && look->head[column - 1][0] != '\0')
    return g_strdup_printf (_ ("column %d, \"%s\""), column, look->head[column - 1]);
  return g_strdup_printf (_ ("column %d"), column);
}

static const char *
zone_text (const DewCsvShape *shape)
{
  if (shape->dates == DEW_DATES_SECONDS || shape->dates == DEW_DATES_MILLISECONDS)
    return "UTC";
  return shape->stamped           ? _ ("as each line says")
         : shape->zone[0] != '\0' ? shape->zone
                                  : _ ("not known yet");
}

char **
dew_csv_understood (const DewCsvShape *shape, const DewCsvLook *look)
{
  g_autoptr (GStrvBuilder) out = g_strv_builder_new ();
  g_autofree char *when = column_text (look, shape->date_column);
  g_autofree char *t = column_text (look, shape->t_column);
  g_autofree char *rh = column_text (look, shape->rh_column);
  char *lines[] = {
    g_strdup_printf (_ ("Cells: %d, between %s; decimals behind %s; readings from line %d"),
                     look->n_columns, delimiter_text (shape->delimiter),
                     shape->decimal == ','   ? _ ("a comma")
                     : shape->decimal == '.' ? _ ("a point")
                                             : _ ("not known yet"),
                     shape->first_line),
    g_strdup_printf (_ ("Time: %s; %s; zone: %s"), when, dates_text (shape->dates),
                     zone_text (shape)),
    g_strdup_printf (_ ("Temperature: %s%s"), t,
                     shape->degrees == DEW_DEGREES_C   ? ", \302\260C"
                     : shape->degrees == DEW_DEGREES_F ? ", \302\260F"
                                                       : ""),
    g_strdup_printf (_ ("Humidity: %s%s"), rh,
                     shape->humidity == DEW_HUMIDITY_PERCENT ? ", %"
                     : shape->humidity == DEW_HUMIDITY_SHARE ? _ (", from 0 to 1")
                                                             : ""),
  };

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      g_strv_builder_add (out, lines[i]);
      g_free (lines[i]);
    }
  return g_strv_builder_end (out);
}

char *
dew_csv_settings (const DewCsvShape *s)
{
  static const char *const dates[] = { "", "year", "day", "month", "seconds", "milliseconds" };

  return g_strdup_printf ("columns time=%d,clock=%d,t=%d,rh=%d; dates %s; zone %s; degrees %s; "
                          "humidity %s; decimal %c",
                          s->date_column, s->time_column, s->t_column, s->rh_column,
                          dates[s->dates], s->stamped ? "in the lines" : s->zone,
                          s->degrees == DEW_DEGREES_F ? "F" : "C",
                          s->humidity == DEW_HUMIDITY_SHARE ? "share" : "percent",
                          s->decimal == 0 ? '.' : s->decimal);
}

/* --- looking ------------------------------------------------------------------------------ */

static void
append_cells (GString *out, const DewCsvLook *look, char *const *cells)
{
  for (int i = 0; i < look->n_columns; i++)
    g_string_append_printf (out, "%s%s", i > 0 ? " | " : "  ", cells[i] != NULL ? cells[i] : "");
  g_string_append_c (out, '\n');
}

char *
dew_report_look_text (const char *file, const DewCsvShape *shape, const DewCsvLook *look)
{
  GString *out = g_string_new (NULL);
  g_auto (GStrv) understood = dew_csv_understood (shape, look);
  g_auto (GStrv) questions = dew_csv_questions (shape, look, TRUE);

  g_string_append_printf (out, ngettext ("%s: %u line\n", "%s: %u lines\n", look->lines), file,
                          look->lines);
  append_cells (out, look, look->head);
  for (int row = 0; row < DEW_CSV_SHOWN_LINES && look->shown[row][0] != NULL; row++)
    append_cells (out, look, look->shown[row]);
  for (guint i = 0; understood[i] != NULL; i++)
    g_string_append_printf (out, "%s\n", understood[i]);
  for (guint i = 0; questions[i] != NULL; i++)
    g_string_append_printf (out, "? %s\n", questions[i]);
  if (questions[0] == NULL)
    g_string_append (out, _ ("It can be imported.\n"));
  return g_string_free (out, FALSE);
}

char *
dew_report_look_json (const char *file, const DewCsvShape *shape, const DewCsvLook *look)
{
  DewJson *json = dew_json_new ();
  g_auto (GStrv) questions = dew_csv_questions (shape, look, TRUE);
  const char delimiter[] = { shape->delimiter, '\0' }, decimal[] = { shape->decimal, '\0' };

  dew_json_text (json, "format", "dewtier table of readings");
  dew_json_integer (json, "version", 1);
  dew_json_text (json, "file", file);
  dew_json_integer (json, "lines", look->lines);
  dew_json_text (json, "delimiter", delimiter);
  dew_json_text (json, "decimal", shape->decimal != 0 ? decimal : NULL);
  dew_json_integer (json, "first_line", shape->first_line);
  dew_json_integer (json, "time_column", shape->date_column);
  dew_json_integer (json, "clock_column", shape->time_column);
  dew_json_integer (json, "t_column", shape->t_column);
  dew_json_integer (json, "rh_column", shape->rh_column);
  dew_json_text (json, "zone", shape->zone[0] != '\0' ? shape->zone : NULL);
  dew_json_flag (json, "ready", look->ask == 0);
  dew_json_sentences (json, "questions", questions);
  return dew_json_finish (json);
}

/* --- importing ------------------------------------------------------------------------------ */

static void
append_count (GString *out, guint n, const char *text)
{
  if (n > 0)
    g_string_append_printf (out, "  %u %s\n", n, text);
}

static void
append_flags (GString *out, const DewCsvTable *table, const DewTally *tally)
{
  append_count (out, table->missing, _ ("cells without a value"));
  append_count (out, table->same, _ ("stamps that come twice with the same values; one is kept"));
  append_count (out, table->conflict,
                _ ("stamps that come twice with other values; the first is kept"));
  append_count (out, table->backwards,
                _ ("stamps earlier than the line before: the clock went backwards; marked"));
  append_count (out, table->twice_hour,
                _ ("stamps in the hour that the end of summer time brings twice"));
  append_count (out, table->no_hour,
                _ ("stamps in an hour that summer time leaves out: the clock did not follow it; "
                   "choose a zone without summer time"));
  append_count (out, tally->spikes, _ ("readings far from their neighbours; marked"));
  append_count (out, tally->stuck,
                _ ("readings of a sensor that stands still or at the top of its scale; marked"));
  append_count (out, tally->impossible, _ ("readings that cannot be; marked"));
  if (tally->gaps > 0)
    g_string_append_printf (out, _ ("  %u gaps, the longest of %.1f hours\n"), tally->gaps,
                            tally->longest_gap_s / 3600.0);
}

char *
dew_report_import_text (const char *file, const DewLogger *logger, const DewCsvTable *table,
                        const DewMerge *merge)
{
  GString *out = g_string_new (NULL);
  g_autofree char *first = NULL, *last = NULL;
  DewTally tally;

  dew_readings_tally (table->readings, &tally);
  first = dew_moment_text (tally.first_s, NULL);
  last = dew_moment_text (tally.last_s, NULL);
  if (merge != NULL)
    g_string_append_printf (out,
                            ngettext ("%s: %u reading added to \"%s\"",
                                      "%s: %u readings added to "
                                      "\"%s\"",
                                      merge->added),
                            file, merge->added, logger->name);
  else
    g_string_append_printf (out, ngettext ("%s: %u reading", "%s: %u readings", tally.n), file,
                            tally.n);
  if (tally.n > 0)
    g_string_append_printf (out, _ (", from %s to %s"), first, last);
  g_string_append_c (out, '\n');
  if (merge != NULL)
    {
      append_count (out, merge->same, _ ("were there already"));
      append_count (out, merge->conflict,
                    _ ("were there already with other values; the earlier ones stay"));
    }
  append_flags (out, table, &tally);
  append_count (out, table->n_problems, _ ("lines left out:"));
  for (guint i = 0; i < MIN (table->problems->len, 20); i++)
    {
      g_autofree char *text
        = dew_csv_problem_text (&g_array_index (table->problems, DewCsvProblem, i));

      g_string_append_printf (out, "    %s\n", text);
    }
  return g_string_free (out, FALSE);
}

static void
write_tally (DewJson *json, const DewTally *tally)
{
  dew_json_integer (json, "n", tally->n);
  dew_json_integer (json, "doubtful", tally->doubtful);
  dew_json_integer (json, "spikes", tally->spikes);
  dew_json_integer (json, "stuck", tally->stuck);
  dew_json_integer (json, "impossible", tally->impossible);
  dew_json_integer (json, "clock", tally->clock);
  dew_json_integer (json, "first_s", tally->first_s);
  dew_json_integer (json, "last_s", tally->last_s);
  dew_json_real (json, "interval_s", tally->interval_s);
  dew_json_integer (json, "gaps", tally->gaps);
  dew_json_real (json, "longest_gap_s", tally->longest_gap_s);
}

char *
dew_report_import_json (const char *file, const DewLogger *logger, const DewCsvTable *table,
                        const DewMerge *merge)
{
  DewJson *json = dew_json_new ();
  DewTally tally;

  dew_readings_tally (table->readings, &tally);
  dew_json_text (json, "format", "dewtier import");
  dew_json_integer (json, "version", 1);
  dew_json_text (json, "file", file);
  dew_json_text (json, "logger", logger->name);
  dew_json_integer (json, "added", merge != NULL ? merge->added : 0);
  dew_json_integer (json, "known", merge != NULL ? merge->same : 0);
  dew_json_integer (json, "known_otherwise", merge != NULL ? merge->conflict : 0);
  dew_json_integer (json, "lines", table->lines);
  dew_json_integer (json, "missing", table->missing);
  dew_json_integer (json, "same", table->same);
  dew_json_integer (json, "conflict", table->conflict);
  dew_json_integer (json, "backwards", table->backwards);
  dew_json_integer (json, "twice_hour", table->twice_hour);
  dew_json_integer (json, "no_hour", table->no_hour);
  write_tally (json, &tally);
  dew_json_integer (json, "n_problems", table->n_problems);
  dew_json_list (json, "problems");
  for (guint i = 0; i < table->problems->len; i++)
    {
      const DewCsvProblem *p = &g_array_index (table->problems, DewCsvProblem, i);
      g_autofree char *text = dew_csv_problem_text (p);

      dew_json_object (json, NULL);
      dew_json_integer (json, "line", p->line);
      dew_json_integer (json, "column", p->column);
      dew_json_integer (json, "letter", p->letter);
      dew_json_text (json, "words", text);
      dew_json_end (json);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}

/* --- what there is ---------------------------------------------------------------------------- */

const DewThing *
dew_logger_thing (const DewVariant *variant, const DewLogger *logger)
{
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_INSTRUMENT && strcmp (thing->name, logger->name) == 0)
        return thing;
    }
  return NULL;
}

GArray *
dew_logger_witness (DewSeries *series, const DewLogger *logger, const DewVariant *variant,
                    gint64 from_s, gint64 to_s, DewWitness *out, GError **error)
{
  const DewThing *thing
    = logger->place == DEW_LOGGER_INSIDE ? dew_logger_thing (variant, logger) : NULL;

  *out = (DewWitness){ .room = logger->place == DEW_LOGGER_ROOM,
                       .thing_id = thing != NULL ? thing->id : 0,
                       .t_error_K = logger->t_error_K,
                       .rh_error = logger->rh_error,
                       .lag_s = logger->lag_s };
  g_strlcpy (out->name, logger->name, sizeof out->name);
  if (thing != NULL)
    {
      out->at_m[0] = thing->instrument.x_m;
      out->at_m[1] = thing->instrument.y_m;
      out->at_m[2] = thing->instrument.z_m;
    }
  out->readings = dew_series_readings (series, logger, from_s, to_s, TRUE, error);
  return out->readings;
}

char *
dew_report_loggers_text (const DewReport *about, const GArray *loggers, const DewTally *tallies)
{
  GString *out = g_string_new (NULL);

  if (loggers->len == 0)
    g_string_append (out, _ ("There are no readings yet.\n"));
  for (guint i = 0; i < loggers->len; i++)
    {
      const DewLogger *logger = &g_array_index (loggers, DewLogger, i);
      const DewTally *tally = &tallies[i];
      g_autofree char *first = dew_day_text (tally->first_s, NULL);
      g_autofree char *last = dew_day_text (tally->last_s, NULL);

      g_string_append_printf (out, "%s: ", logger->name);
      g_string_append (out, logger->place == DEW_LOGGER_ROOM ? _ ("in the room")
                            : dew_logger_thing (about->variant, logger) != NULL
                              ? _ ("inside, in the drawing")
                              : _ ("inside, but no instrument of the drawing has this name"));
      if (tally->n > 0)
        g_string_append_printf (out,
                                ngettext ("; %u reading, %s to %s", "; %u readings, %s to %s",
                                          tally->n),
                                tally->n, first, last);
      if (tally->doubtful > 0)
        g_string_append_printf (out, _ ("; %u marked as doubtful"), tally->doubtful);
      g_string_append_printf (out, _ ("; wrong by up to %.1f K and %.0f points, lag %.0f s\n"),
                              logger->t_error_K, 100.0 * logger->rh_error, logger->lag_s);
    }
  return g_string_free (out, FALSE);
}

char *
dew_report_loggers_json (const DewReport *about, const GArray *loggers, const DewTally *tallies)
{
  DewJson *json = dew_json_new ();

  dew_json_text (json, "format", "dewtier readings");
  dew_json_integer (json, "version", 1);
  dew_json_text (json, "file", about->file);
  dew_json_text (json, "enclosure", about->chamber->name);
  dew_json_list (json, "loggers");
  for (guint i = 0; i < loggers->len; i++)
    {
      const DewLogger *logger = &g_array_index (loggers, DewLogger, i);
      const DewThing *thing = dew_logger_thing (about->variant, logger);

      dew_json_object (json, NULL);
      dew_json_text (json, "name", logger->name);
      dew_json_text (json, "place", logger->place == DEW_LOGGER_ROOM ? "room" : "inside");
      dew_json_integer (json, "thing_id", thing != NULL ? thing->id : 0);
      dew_json_real (json, "t_error_K", logger->t_error_K);
      dew_json_real (json, "rh_error", logger->rh_error);
      dew_json_real (json, "lag_s", logger->lag_s);
      dew_json_real (json, "t_offset_K", logger->t_offset_K);
      dew_json_real (json, "rh_offset", logger->rh_offset);
      write_tally (json, &tallies[i]);
      dew_json_end (json);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}
