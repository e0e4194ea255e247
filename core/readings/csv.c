/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/csv-private.h"

#include <math.h>
#include <string.h>

/* Nothing that a grower hangs reads beyond these: a number outside is of another column, another
 * unit, or a word for "no answer". */
#define T_LEAST_C (-40.0)
#define T_MOST_C 85.0
#define RH_LEAST (-0.05)
#define RH_MOST 1.2

#define PROGRESS_LINES 20000

/* --- the text --------------------------------------------------------------------- */

static char *
from_utf16 (const char *bytes, gsize n, gboolean big, gsize *length)
{
  return g_convert_with_fallback (bytes, (gssize) (n & ~(gsize) 1), "UTF-8",
                                  big ? "UTF-16BE" : "UTF-16LE", "?", NULL, length, NULL);
}

char *
dew_csv_text (const char *bytes, gsize n, gsize *length, DewCsvProblem *problem)
{
  char *text = NULL;
  const char *zero;

  *problem = (DewCsvProblem){ .code = DEW_CSV_NUL, .line = 1, .column = 1, .letter = 1 };
  if (n >= 2 && (guint8) bytes[0] == 0xff && (guint8) bytes[1] == 0xfe)
    text = from_utf16 (bytes + 2, n - 2, FALSE, length);
  else if (n >= 2 && (guint8) bytes[0] == 0xfe && (guint8) bytes[1] == 0xff)
    text = from_utf16 (bytes + 2, n - 2, TRUE, length);
  else
    {
      if (n >= 3 && memcmp (bytes, "\357\273\277", 3) == 0)
        {
          bytes += 3;
          n -= 3;
        }
      if (g_utf8_validate_len (bytes, n, NULL) || memchr (bytes, '\0', n) != NULL)
        {
          text = g_strndup (bytes, n);
          *length = n;
        }
      else
        text = g_convert (bytes, (gssize) n, "UTF-8", "ISO-8859-1", NULL, length, NULL);
    }
  if (text == NULL || *length == 0)
    {
      g_free (text);
      return NULL;
    }
  zero = memchr (bytes, '\0', n);
  if (strlen (text) == *length)
    return text;
  for (const char *at = bytes; zero != NULL && at < zero; at++)
    problem->line += *at == '\n';
  g_free (text);
  return NULL;
}

/* --- zones -------------------------------------------------------------------------- */

/* From the clock on the wall to UTC, remembered for a quarter of an hour: no zone changes within
 * one. */
typedef struct
{
  GTimeZone *zone; /* NULL: UTC */
  gint64 quarter;  /* of the wall clock */
  int n;           /* offsets that it may have: 0 where the hour does not exist */
  gint64 offset_s[2];
} Clock;

gboolean
dew_csv_zone_known (const char *name)
{
  GTimeZone *zone = name[0] != '\0' ? g_time_zone_new_identifier (name) : NULL;
  gboolean known = zone != NULL;

  g_clear_pointer (&zone, g_time_zone_unref);
  return known;
}

static gint64
offset_at (GTimeZone *zone, gint64 utc_s)
{
  return g_time_zone_get_offset (zone,
                                 g_time_zone_find_interval (zone, G_TIME_TYPE_UNIVERSAL, utc_s));
}

/* The offsets in force a day before and a day after are the only ones that there can be. */
static void
clock_turn (Clock *clock, gint64 wall_s)
{
  gint64 early = offset_at (clock->zone, wall_s - DEW_DAY_S);
  gint64 late = offset_at (clock->zone, wall_s + DEW_DAY_S);

  clock->quarter = wall_s / 900;
  clock->n = 0;
  clock->offset_s[0] = early;
  if (offset_at (clock->zone, wall_s - early) == early)
    clock->offset_s[clock->n++] = early;
  if (late != early && offset_at (clock->zone, wall_s - late) == late)
    clock->offset_s[clock->n++] = late;
}

/* UTC of a wall clock, given that of the line before: of the hour that comes twice, the first
 * pass until the clock goes back. */
static gint64
clock_utc (Clock *clock, gint64 wall_s, gint64 before_s, DewCsvTable *table)
{
  gint64 utc_s;

  if (clock->zone == NULL)
    return wall_s;
  if (clock->quarter != wall_s / 900)
    clock_turn (clock, wall_s);
  utc_s = wall_s - clock->offset_s[0];
  if (clock->n == 0)
    table->no_hour++;
  if (clock->n == 2)
    {
      table->twice_hour++;
      if (utc_s < before_s)
        utc_s = wall_s - clock->offset_s[1];
    }
  return utc_s;
}

/* --- lines --------------------------------------------------------------------------- */

/* A line as it stands there. */
typedef struct
{
  gint64 wall_s;
  float t_C, rh;
  int zone_s;
  gboolean zoned;
} Row;

typedef struct
{
  const DewCsvShape *shape;
  DewCsvTable *table;
  GArray *rows; /* Row */
  const char *line;
  guint number;
} Reader;

static void
complain (Reader *reader, DewCsvProblemCode code, const DewCell *cell, int column, DewCsvCell what)
{
  DewCsvProblem problem = { .code = code,
                            .line = reader->number,
                            .column = (guint) MAX (column, 1),
                            .letter = 1,
                            .cell = what,
                            .wanted = column };

  reader->table->n_problems++;
  if (reader->table->problems->len >= DEW_CSV_PROBLEMS_MAX)
    return;
  if (cell != NULL)
    {
      g_autofree char *found = g_strndup (cell->at, MIN (cell->n, sizeof problem.found - 1));
      g_autofree char *valid = g_utf8_make_valid (found, -1);

      /* A letter that was cut in two becomes a longer sign. */
      g_utf8_strncpy (problem.found, valid, MIN (g_utf8_strlen (valid, -1), 14));
      problem.letter
        = (guint) g_utf8_pointer_to_offset (reader->line, reader->line + cell->letter - 1) + 1;
    }
  g_array_append_val (reader->table->problems, problem);
}

/* FALSE when it is no value and that was complained of. */
static gboolean
read_value (Reader *reader, const DewCell *cells, int column, DewCsvCell what, float *out)
{
  const DewCell *cell = &cells[column - 1];
  gboolean warm = what == DEW_CSV_CELL_T;
  double value = NAN;
  char unit;

  switch (dew_csv_number (cell, reader->shape->decimal, &value, &unit))
    {
    case DEW_NUMBER_MISSING:
      reader->table->missing++;
      *out = NAN;
      return TRUE;
    case DEW_NUMBER_NOT:
      complain (reader, DEW_CSV_NO_NUMBER, cell, column, what);
      return FALSE;
    case DEW_NUMBER_VALUE:
    default:
      break;
    }
  if (warm && reader->shape->degrees == DEW_DEGREES_F)
    value = (value - 32.0) / 1.8;
  if (!warm && reader->shape->humidity == DEW_HUMIDITY_PERCENT)
    value /= 100.0;
  *out = (float) value;
  if (warm ? value >= T_LEAST_C && value <= T_MOST_C : value >= RH_LEAST && value <= RH_MOST)
    return TRUE;
  complain (reader, DEW_CSV_FAR, cell, column, what);
  return FALSE;
}

/* The time of a day that stands in a cell of its own goes behind the parts of the date. */
static gboolean
add_clock (DewStamp *stamp, const DewCell *cell)
{
  DewStamp clock;

  if (stamp->n != 3 || !dew_stamp_scan (cell->at, cell->n, &clock) || clock.n < 1 || clock.n > 3
      || (clock.n == 1 && clock.half_day == 0))
    return FALSE;
  for (int i = 0; i < clock.n; i++)
    stamp->part[3 + i] = clock.part[i];
  stamp->n = 3 + clock.n;
  stamp->half_day = clock.half_day;
  stamp->zoned = clock.zoned;
  stamp->zone_s = clock.zone_s;
  return TRUE;
}

static gboolean
read_seconds (Reader *reader, const DewCell *cell, int column, Row *row)
{
  double value;
  char unit;

  if (dew_csv_number (cell, reader->shape->decimal, &value, &unit) != DEW_NUMBER_VALUE)
    {
      complain (reader, DEW_CSV_NO_DATE, cell, column, DEW_CSV_CELL_DATE);
      return FALSE;
    }
  if (reader->shape->dates == DEW_DATES_MILLISECONDS)
    value /= 1000.0;
  if (value < 631152000.0 || value > 7258118400.0) /* the years 1990 to 2200 */
    {
      complain (reader, DEW_CSV_NO_DAY, cell, column, DEW_CSV_CELL_DATE);
      return FALSE;
    }
  row->wall_s = (gint64) floor (value);
  row->zoned = TRUE;
  return TRUE;
}

static gboolean
read_when (Reader *reader, const DewCell *cells, Row *row)
{
  const DewCsvShape *shape = reader->shape;
  const DewCell *date = &cells[shape->date_column - 1];
  DewStamp stamp;
  gboolean exists = TRUE;

  if (shape->dates == DEW_DATES_SECONDS || shape->dates == DEW_DATES_MILLISECONDS)
    return read_seconds (reader, date, shape->date_column, row);
  if (!dew_stamp_scan (date->at, date->n, &stamp))
    {
      complain (reader, DEW_CSV_NO_DATE, date, shape->date_column, DEW_CSV_CELL_DATE);
      return FALSE;
    }
  if (shape->time_column > 0 && !add_clock (&stamp, &cells[shape->time_column - 1]))
    {
      complain (reader, DEW_CSV_NO_DATE, &cells[shape->time_column - 1], shape->time_column,
                DEW_CSV_CELL_TIME);
      return FALSE;
    }
  if (!dew_stamp_wall (&stamp, shape->dates, &row->wall_s, &exists))
    {
      complain (reader, exists ? DEW_CSV_NO_DATE : DEW_CSV_NO_DAY, date, shape->date_column,
                DEW_CSV_CELL_DATE);
      return FALSE;
    }
  row->zoned = stamp.zoned;
  row->zone_s = stamp.zone_s;
  return TRUE;
}

static void
read_line (Reader *reader, gsize n)
{
  const DewCsvShape *shape = reader->shape;
  DewCell cells[DEW_CSV_COLUMNS_MAX];
  int count = dew_csv_split (reader->line, n, shape->delimiter, cells);
  int needed
    = MAX (MAX (shape->date_column, shape->time_column), MAX (shape->t_column, shape->rh_column));
  Row row = { .t_C = NAN, .rh = NAN };

  reader->table->lines++;
  if (count < 0)
    {
      complain (reader, DEW_CSV_NO_END, NULL, 1, DEW_CSV_CELL_DATE);
      return;
    }
  if (count < needed)
    {
      complain (reader, DEW_CSV_NO_CELL, NULL, needed, DEW_CSV_CELL_DATE);
      return;
    }
  if (read_when (reader, cells, &row)
      && (shape->t_column < 1
          || read_value (reader, cells, shape->t_column, DEW_CSV_CELL_T, &row.t_C))
      && (shape->rh_column < 1
          || read_value (reader, cells, shape->rh_column, DEW_CSV_CELL_RH, &row.rh)))
    g_array_append_val (reader->rows, row);
}

/* --- from lines to readings ------------------------------------------------------------ */

/* Whether the newest line stands first. */
static gboolean
is_newest_first (const GArray *rows)
{
  guint down = 0;

  for (guint i = 1; i < rows->len; i++)
    down += g_array_index (rows, Row, i).wall_s < g_array_index (rows, Row, i - 1).wall_s;
  return rows->len > 2 && down > (rows->len - 1) / 2;
}

static void
append_rows (const GArray *rows, Clock *clock, DewCsvTable *table)
{
  gboolean down = is_newest_first (rows);
  gint64 before_s = G_MININT64;

  for (guint i = 0; i < rows->len; i++)
    {
      const Row *row = &g_array_index (rows, Row, down ? rows->len - 1 - i : i);
      DewReading reading = { .t_C = row->t_C, .rh = row->rh };

      reading.time_s
        = row->zoned ? row->wall_s - row->zone_s : clock_utc (clock, row->wall_s, before_s, table);
      if (reading.time_s < before_s)
        {
          table->backwards++;
          reading.marks = DEW_MARK_CLOCK;
        }
      before_s = reading.time_s;
      if (!isnan (row->t_C) || !isnan (row->rh))
        g_array_append_val (table->readings, reading);
    }
}

/* Of equal stamps the first stays. */
static void
drop_doubles (DewCsvTable *table)
{
  GArray *once = g_array_sized_new (FALSE, FALSE, sizeof (DewReading), table->readings->len);
  DewMerge merge = { 0 };

  dew_readings_sort (table->readings);
  dew_readings_merge (once, table->readings, &merge);
  table->same = merge.same;
  table->conflict = merge.conflict;
  g_array_unref (table->readings);
  table->readings = once;
}

gboolean
dew_csv_read (const char *text, gsize length, const DewCsvShape *shape, DewCsvProgress progress,
              gpointer user_data, DewCsvTable *table)
{
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (Row));
  Reader reader = { .shape = shape, .table = table, .rows = rows };
  const char *at = text;
  Clock clock = { .quarter = G_MININT64 };
  gsize n;

  *table = (DewCsvTable){ .readings = g_array_new (FALSE, FALSE, sizeof (DewReading)),
                          .problems = g_array_new (FALSE, FALSE, sizeof (DewCsvProblem)) };
  if (shape->zone[0] != '\0' && !dew_csv_zone_known (shape->zone))
    return FALSE;
  while (dew_csv_line (&at, text + length, &reader.line, &n))
    {
      if ((int) ++reader.number >= shape->first_line && n > 0)
        read_line (&reader, n);
      if (progress != NULL && reader.number % PROGRESS_LINES == 0
          && !progress ((double) (at - text) / (double) length, user_data))
        return FALSE;
    }
  if (shape->zone[0] != '\0')
    clock.zone = g_time_zone_new_identifier (shape->zone);
  append_rows (rows, &clock, table);
  g_clear_pointer (&clock.zone, g_time_zone_unref);
  drop_doubles (table);
  dew_readings_mark (table->readings);
  return TRUE;
}

void
dew_csv_table_clear (DewCsvTable *table)
{
  g_clear_pointer (&table->readings, g_array_unref);
  g_clear_pointer (&table->problems, g_array_unref);
}

gboolean
dew_csv_moment (const char *text, const char *zone, gint64 *time_s)
{
  Clock clock = { .quarter = G_MININT64 };
  DewCsvTable unused = { 0 };
  DewStamp stamp;
  gboolean exists;

  if ((zone != NULL && !dew_csv_zone_known (zone)) || !dew_stamp_scan (text, strlen (text), &stamp)
      || (stamp.digits[0] != 4 && stamp.month_at < 0)
      || !dew_stamp_wall (&stamp, DEW_DATES_YEAR_FIRST, time_s, &exists))
    return FALSE;
  if (stamp.zoned)
    {
      *time_s -= stamp.zone_s;
      return TRUE;
    }
  clock.zone = zone != NULL ? g_time_zone_new_identifier (zone) : g_time_zone_new_local ();
  *time_s = clock_utc (&clock, *time_s, G_MININT64, &unused);
  g_time_zone_unref (clock.zone);
  return TRUE;
}
