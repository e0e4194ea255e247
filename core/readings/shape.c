/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/csv-private.h"

#include <string.h>

#define SAMPLE_LINES 300

/* --- what a cell may be --------------------------------------------------------- */

typedef enum
{
  CELL_OTHER,
  CELL_EMPTY,
  CELL_NUMBER,
  CELL_DATE,   /* without a time */
  CELL_MOMENT, /* with one */
  CELL_CLOCK,  /* a time alone */
  CELL_SECONDS,
  CELL_MILLISECONDS
} CellKind;

static gboolean
all_digits (const DewCell *cell)
{
  for (gsize i = 0; i < cell->n; i++)
    if (!g_ascii_isdigit (cell->at[i]))
      return FALSE;
  return TRUE;
}

static CellKind
kind_of (const DewCell *cell)
{
  DewStamp stamp;
  double value;
  char unit;

  if (all_digits (cell) && (cell->n == 9 || cell->n == 10))
    return CELL_SECONDS;
  if (all_digits (cell) && (cell->n == 12 || cell->n == 13))
    return CELL_MILLISECONDS;
  if (dew_csv_number (cell, '.', &value, &unit) == DEW_NUMBER_MISSING)
    return CELL_EMPTY;
  if (dew_stamp_scan (cell->at, cell->n, &stamp))
    {
      if (stamp.n >= 5 || (stamp.n == 4 && stamp.half_day != 0))
        return CELL_MOMENT;
      if (stamp.n >= 2 && memchr (cell->at, ':', cell->n) != NULL)
        return CELL_CLOCK;
      if (stamp.n == 3)
        return CELL_DATE;
    }
  return dew_csv_number (cell, '.', &value, &unit) == DEW_NUMBER_VALUE
             || dew_csv_number (cell, ',', &value, &unit) == DEW_NUMBER_VALUE
           ? CELL_NUMBER
           : CELL_OTHER;
}

static gboolean
tells_when (CellKind kind)
{
  return kind == CELL_DATE || kind == CELL_MOMENT || kind == CELL_SECONDS
         || kind == CELL_MILLISECONDS;
}

/* A line that holds a moment and a number. */
static gboolean
is_reading (const DewCell *cells, int n)
{
  gboolean when = FALSE, number = FALSE;

  for (int i = 0; i < n; i++)
    {
      CellKind kind = kind_of (&cells[i]);

      when = when || tells_when (kind);
      number = number || kind == CELL_NUMBER;
    }
  return when && number;
}

/* --- delimiter ------------------------------------------------------------------- */

/* How many of the first lines are readings when they are cut at `delimiter`; *first is the first
 * such line. */
static guint
count_readings (const char *text, gsize length, char delimiter, int *first)
{
  const char *at = text, *line;
  DewCell cells[DEW_CSV_COLUMNS_MAX];
  guint count = 0;
  gsize n;

  for (int number = 1; number <= SAMPLE_LINES && dew_csv_line (&at, text + length, &line, &n);
       number++)
    if (is_reading (cells, dew_csv_split (line, n, delimiter, cells)))
      if (count++ == 0)
        *first = number;
  return count;
}

/* The delimiter that makes most lines readings; a comma only where nothing else does as well, as
 * it may be the decimal sign. */
static gboolean
find_delimiter (const char *text, gsize length, DewCsvShape *shape)
{
  static const char delimiters[] = { ';', '\t', '|', ',' };
  guint best = 0;
  int first_line = 0;

  for (guint i = 0; i < G_N_ELEMENTS (delimiters); i++)
    {
      int first = 0;
      guint count;

      if (shape->delimiter != 0 && shape->delimiter != delimiters[i])
        continue;
      count = count_readings (text, length, delimiters[i], &first);
      if (count > best)
        {
          best = count;
          first_line = first;
          shape->delimiter = delimiters[i];
        }
    }
  if (shape->first_line == 0)
    shape->first_line = first_line;
  return best > 0;
}

/* --- columns ---------------------------------------------------------------------- */

/* What the sample says of each column. */
typedef struct
{
  int n_columns;
  guint kinds[DEW_CSV_COLUMNS_MAX][CELL_MILLISECONDS + 1];
  gboolean point[DEW_CSV_COLUMNS_MAX], comma[DEW_CSV_COLUMNS_MAX];
  gboolean degrees_C[DEW_CSV_COLUMNS_MAX], degrees_F[DEW_CSV_COLUMNS_MAX];
  gboolean percent[DEW_CSV_COLUMNS_MAX], above_one[DEW_CSV_COLUMNS_MAX];
} Sample;

static void
sample_number (Sample *s, int i, const DewCell *cell)
{
  double value = 0.0;
  char unit = 0;

  if (memchr (cell->at, '.', cell->n) != NULL)
    s->point[i] = TRUE;
  if (memchr (cell->at, ',', cell->n) != NULL)
    s->comma[i] = TRUE;
  if (dew_csv_number (cell, '.', &value, &unit) != DEW_NUMBER_VALUE)
    dew_csv_number (cell, ',', &value, &unit);
  s->degrees_C[i] = s->degrees_C[i] || unit == 'C';
  s->degrees_F[i] = s->degrees_F[i] || unit == 'F';
  s->percent[i] = s->percent[i] || unit == '%';
  s->above_one[i] = s->above_one[i] || value > 1.5;
}

static void
show_line (DewCsvLook *look, int row, const DewCell *cells, int n)
{
  for (int i = 0; i < n; i++)
    look->shown[row][i] = g_strndup (cells[i].at, cells[i].n);
  look->n_columns = MAX (look->n_columns, n);
}

static void
take_sample (const char *text, gsize length, const DewCsvShape *shape, Sample *s, DewCsvLook *look)
{
  const char *at = text, *line;
  DewCell cells[DEW_CSV_COLUMNS_MAX];
  int shown = 0;
  gsize n;

  for (int number = 1;
       number < shape->first_line + SAMPLE_LINES && dew_csv_line (&at, text + length, &line, &n);
       number++)
    {
      int count = dew_csv_split (line, n, shape->delimiter, cells);

      if (number == shape->first_line - 1)
        for (int i = 0; i < count; i++)
          look->head[i] = g_strndup (cells[i].at, cells[i].n);
      if (number < shape->first_line || n == 0)
        continue;
      if (shown < DEW_CSV_SHOWN_LINES)
        show_line (look, shown++, cells, count);
      s->n_columns = MAX (s->n_columns, count);
      for (int i = 0; i < count; i++)
        {
          CellKind kind = kind_of (&cells[i]);

          s->kinds[i][kind]++;
          if (kind == CELL_NUMBER)
            sample_number (s, i, &cells[i]);
        }
    }
}

static CellKind
most_of (const Sample *s, int column)
{
  CellKind best = CELL_OTHER;

  for (CellKind kind = CELL_OTHER; kind <= CELL_MILLISECONDS; kind++)
    if (kind != CELL_EMPTY && s->kinds[column][kind] > s->kinds[column][best])
      best = kind;
  return best;
}

static void
find_when (const Sample *s, DewCsvShape *shape)
{
  CellKind kind;

  for (int i = 0; i < s->n_columns && shape->date_column == 0; i++)
    if (tells_when (most_of (s, i)))
      shape->date_column = i + 1;
  if (shape->date_column < 1 || shape->date_column > s->n_columns)
    return;
  kind = most_of (s, shape->date_column - 1);
  if (kind == CELL_SECONDS && shape->dates == DEW_DATES_ASK)
    shape->dates = DEW_DATES_SECONDS;
  if (kind == CELL_MILLISECONDS && shape->dates == DEW_DATES_ASK)
    shape->dates = DEW_DATES_MILLISECONDS;
  if (kind == CELL_DATE && shape->time_column == 0)
    for (int i = 0; i < s->n_columns; i++)
      if (most_of (s, i) == CELL_CLOCK)
        {
          shape->time_column = i + 1;
          break;
        }
}

static gboolean
holds (const char *name, const char *const *words)
{
  g_autofree char *small = name != NULL ? g_utf8_strdown (name, -1) : g_strdup ("");

  for (; *words != NULL; words++)
    if (strstr (small, *words) != NULL)
      return TRUE;
  return FALSE;
}

/* Names of columns, in the languages of the program and as loggers have them. */
static const char *const derived[] = { "dew",  "tau", "roc", "vpd",   "abs", "heat", "set",
                                       "soll", "min", "max", "light", "lux", NULL };
static const char *const warm[]
  = { "temp", "\302\260c", "\302\260f", "(c)", "(f)", "[c]", "[f]", "t_c", "t_f", NULL };
static const char *const humid[] = { "hum", "feucht", "rh", "rf", "hr", "%", NULL };

/* The one numeric column with such a name; 0 when there is none or more than one. */
static int
named (const Sample *s, const DewCsvLook *look, const char *const *words, const char *const *others)
{
  int found = 0;

  for (int i = 0; i < s->n_columns; i++)
    if (most_of (s, i) == CELL_NUMBER && holds (look->head[i], words)
        && !holds (look->head[i], derived) && (others == NULL || !holds (look->head[i], others)))
      {
        if (found != 0)
          return 0;
        found = i + 1;
      }
  return found;
}

static void
find_values (const Sample *s, DewCsvShape *shape, DewCsvLook *look)
{
  gboolean told = shape->t_column != 0 || shape->rh_column != 0;
  guint numbers = 0;

  for (int i = 0; i < s->n_columns; i++)
    numbers += most_of (s, i) == CELL_NUMBER;
  if (!told)
    {
      shape->t_column = named (s, look, warm, humid);
      shape->rh_column = named (s, look, humid, NULL);
    }
  /* One that was not named when the other was is none, if there is no other number. */
  if (shape->t_column == 0 && shape->rh_column > 0 && (told || numbers == 1))
    shape->t_column = -1;
  if (shape->rh_column == 0 && shape->t_column > 0 && (told || numbers == 1))
    shape->rh_column = -1;
  if (shape->t_column == 0 || shape->rh_column == 0 || (shape->t_column < 0 && shape->rh_column < 0)
      || shape->t_column > s->n_columns || shape->rh_column > s->n_columns || shape->date_column < 1
      || shape->date_column > s->n_columns)
    look->ask |= DEW_ASK_COLUMNS;
}

/* --- units ------------------------------------------------------------------------ */

static void
find_decimal (const Sample *s, DewCsvShape *shape, DewCsvLook *look)
{
  gboolean point = FALSE, comma = FALSE;
  const int columns[] = { shape->t_column, shape->rh_column };

  if (shape->decimal != 0)
    return;
  for (int i = 0; i < 2; i++)
    if (columns[i] > 0)
      {
        point = point || s->point[columns[i] - 1];
        comma = comma || s->comma[columns[i] - 1];
      }
  if (point && comma)
    look->ask |= DEW_ASK_DECIMAL;
  else
    shape->decimal = comma ? ',' : '.';
}

static void
find_degrees (const Sample *s, DewCsvShape *shape, DewCsvLook *look)
{
  static const char *const celsius[] = { "\302\260c", "(c)", "[c]", "celsius", "_c", NULL };
  static const char *const fahrenheit[] = { "\302\260f", "(f)", "[f]", "fahrenheit", "_f", NULL };
  int i = shape->t_column - 1;
  gboolean c, f;

  if (i < 0 || shape->degrees != DEW_DEGREES_ASK)
    return;
  c = s->degrees_C[i] || holds (look->head[i], celsius);
  f = s->degrees_F[i] || holds (look->head[i], fahrenheit);
  if (c == f)
    look->ask |= DEW_ASK_DEGREES;
  else
    shape->degrees = c ? DEW_DEGREES_C : DEW_DEGREES_F;
}

static void
find_humidity (const Sample *s, DewCsvShape *shape, DewCsvLook *look)
{
  static const char *const percent[] = { "%", "percent", "prozent", NULL };
  int i = shape->rh_column - 1;

  if (i < 0 || shape->humidity != DEW_HUMIDITY_ASK)
    return;
  if (s->percent[i] || s->above_one[i] || holds (look->head[i], percent))
    shape->humidity = DEW_HUMIDITY_PERCENT;
  else
    look->ask |= DEW_ASK_HUMIDITY;
}

/* --- dates ------------------------------------------------------------------------- */

typedef struct
{
  guint n, zoned, year_first, first_large, second_large, named;
  guint line_first_large, line_second_large;
  gint64 lo[2], hi[2]; /* of the wall clock, with the day first and with the month first */
} Dates;

static void
dates_add (Dates *d, const DewStamp *stamp, guint line)
{
  static const DewCsvDates orders[2] = { DEW_DATES_DAY_FIRST, DEW_DATES_MONTH_FIRST };
  gboolean exists;
  gint64 wall_s;

  d->n++;
  d->zoned += stamp->zoned;
  d->named += stamp->month_at >= 0;
  if (stamp->month_at >= 0)
    return;
  d->year_first += stamp->digits[0] == 4;
  if (stamp->digits[0] != 4 && stamp->part[0] > 12 && d->first_large++ == 0)
    d->line_first_large = line;
  if (stamp->digits[0] != 4 && stamp->part[1] > 12 && d->second_large++ == 0)
    d->line_second_large = line;
  for (int k = 0; k < 2; k++)
    if (dew_stamp_wall (stamp, orders[k], &wall_s, &exists))
      {
        d->lo[k] = MIN (d->lo[k], wall_s);
        d->hi[k] = MAX (d->hi[k], wall_s);
      }
}

/* All dates of the table, as the one that tells the order may stand anywhere. */
static void
read_dates (const char *text, gsize length, const DewCsvShape *shape, Dates *d, DewCsvLook *look)
{
  const char *at = text, *line;
  DewCell cells[DEW_CSV_COLUMNS_MAX];
  gsize n;

  while (dew_csv_line (&at, text + length, &line, &n))
    {
      DewStamp stamp;
      int count;

      if ((int) ++look->lines < shape->first_line || n == 0)
        continue;
      count = dew_csv_split (line, n, shape->delimiter, cells);
      if (shape->date_column <= count
          && dew_stamp_scan (cells[shape->date_column - 1].at, cells[shape->date_column - 1].n,
                             &stamp)
          && stamp.n >= 3)
        dates_add (d, &stamp, look->lines);
    }
}

static void
find_dates (const char *text, gsize length, DewCsvShape *shape, DewCsvLook *look)
{
  Dates d = { .lo = { G_MAXINT64, G_MAXINT64 }, .hi = { G_MININT64, G_MININT64 } };

  if (shape->date_column < 1)
    return;
  read_dates (text, length, shape, &d, look);
  if (shape->dates == DEW_DATES_SECONDS || shape->dates == DEW_DATES_MILLISECONDS)
    return;
  shape->stamped = d.n > 0 && d.zoned == d.n;
  if (!shape->stamped && shape->zone[0] == '\0')
    look->ask |= DEW_ASK_ZONE;
  for (int k = 0; k < 2; k++)
    (k == 0 ? &look->days_if_day_first : &look->days_if_month_first)[0]
      = d.hi[k] >= d.lo[k] ? (double) (d.hi[k] - d.lo[k]) / DEW_DAY_S : 0.0;
  if (shape->dates != DEW_DATES_ASK)
    return;
  look->is_mixed = d.first_large > 0 && d.second_large > 0;
  if (look->is_mixed)
    look->mixed = (DewCsvProblem){ .code = DEW_CSV_MIXED,
                                   .line = MAX (d.line_first_large, d.line_second_large),
                                   .column = (guint) shape->date_column,
                                   .wanted = (int) MIN (d.line_first_large, d.line_second_large) };
  if (d.year_first == d.n - d.named)
    shape->dates = DEW_DATES_YEAR_FIRST;
  else if (d.first_large > 0 && d.second_large == 0)
    shape->dates = DEW_DATES_DAY_FIRST;
  else if (d.second_large > 0 && d.first_large == 0)
    shape->dates = DEW_DATES_MONTH_FIRST;
  else
    look->ask |= DEW_ASK_DATES;
}

gboolean
dew_csv_look (const char *text, gsize length, DewCsvShape *shape, DewCsvLook *look)
{
  g_autofree Sample *sample = g_new0 (Sample, 1);

  *look = (DewCsvLook){ 0 };
  if (!find_delimiter (text, length, shape))
    {
      for (gsize i = 0; i < length; i++)
        look->lines += text[i] == '\n' || i + 1 == length;
      return FALSE;
    }
  take_sample (text, length, shape, sample, look);
  find_when (sample, shape);
  find_values (sample, shape, look);
  find_decimal (sample, shape, look);
  find_degrees (sample, shape, look);
  find_humidity (sample, shape, look);
  find_dates (text, length, shape, look);
  return TRUE;
}

void
dew_csv_look_clear (DewCsvLook *look)
{
  for (int i = 0; i < DEW_CSV_COLUMNS_MAX; i++)
    {
      g_clear_pointer (&look->head[i], g_free);
      for (int row = 0; row < DEW_CSV_SHOWN_LINES; row++)
        g_clear_pointer (&look->shown[row][i], g_free);
    }
}
