/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Tables of readings as loggers and their programs write them, of any common shape: delimiter,
 * decimal comma, order of dates, zone of times, degrees, lines above the table.
 *
 * Looking at a table (dew_csv_look()) finds what the text itself proves. What it does not prove
 * is listed in `ask`, and the table is not read until somebody has answered: nothing is guessed.
 * Every problem says its line, its cell and what was wanted there.
 */

#include "readings/readings.h"

G_BEGIN_DECLS

#define DEW_CSV_BYTES_MAX (256u * 1024u * 1024u)
#define DEW_CSV_COLUMNS_MAX 64
#define DEW_CSV_PROBLEMS_MAX 100 /* kept of a table; all are counted */

typedef enum
{
  DEW_DATES_ASK,
  DEW_DATES_YEAR_FIRST,  /* 2026-01-31 */
  DEW_DATES_DAY_FIRST,   /* 31.01.2026 */
  DEW_DATES_MONTH_FIRST, /* 01/31/2026 */
  DEW_DATES_SECONDS,     /* since 1970, UTC */
  DEW_DATES_MILLISECONDS
} DewCsvDates;

typedef enum
{
  DEW_DEGREES_ASK,
  DEW_DEGREES_C,
  DEW_DEGREES_F
} DewCsvDegrees;

typedef enum
{
  DEW_HUMIDITY_ASK,
  DEW_HUMIDITY_PERCENT,
  DEW_HUMIDITY_SHARE /* 0 to 1 */
} DewCsvHumidity;

/* What has to be asked. */
typedef enum
{
  DEW_ASK_COLUMNS = 1 << 0,
  DEW_ASK_DATES = 1 << 1,
  DEW_ASK_DEGREES = 1 << 2,
  DEW_ASK_HUMIDITY = 1 << 3,
  DEW_ASK_ZONE = 1 << 4,
  DEW_ASK_DECIMAL = 1 << 5
} DewCsvAsk;

/* How a table is to be understood. Zero is "not told" throughout; columns count from 1. */
typedef struct
{
  char delimiter; /* ',', ';', '\t' or '|' */
  char decimal;   /* '.' or ',' */
  int first_line; /* of the readings; the lines above are the head */
  int date_column;
  int time_column; /* 0: the time stands with the date */
  int t_column;    /* -1: there is none */
  int rh_column;   /* -1: there is none */
  DewCsvDates dates;
  DewCsvDegrees degrees;
  DewCsvHumidity humidity;
  char zone[64];    /* "Europe/Berlin", "UTC", "+01:00"; empty: not told */
  gboolean stamped; /* found: times bear their own zone */
} DewCsvShape;

typedef enum
{
  DEW_CSV_NO_CELL,   /* there are too few cells: `wanted` columns */
  DEW_CSV_NO_DATE,   /* no date or time of the order that was told */
  DEW_CSV_NO_DAY,    /* such a day or hour does not exist: 30 February, 25:00 */
  DEW_CSV_NO_NUMBER, /* neither a number nor an empty cell */
  DEW_CSV_FAR,       /* a number that no instrument reads there */
  DEW_CSV_NO_END,    /* a quote that is not closed on its line */
  DEW_CSV_NUL,       /* a zero byte */
  DEW_CSV_MIXED      /* day first and month first in one table */
} DewCsvProblemCode;

typedef enum
{
  DEW_CSV_CELL_DATE,
  DEW_CSV_CELL_TIME,
  DEW_CSV_CELL_T,
  DEW_CSV_CELL_RH
} DewCsvCell;

typedef struct
{
  DewCsvProblemCode code;
  guint line;   /* from 1 */
  guint column; /* cell, from 1 */
  guint letter; /* of the line, from 1, where the cell begins */
  DewCsvCell cell;
  int wanted;
  char found[48]; /* as much of the cell as there is room for, UTF-8 */
} DewCsvProblem;

/* --- the text -------------------------------------------------------------- */

/* The text as UTF-8 (transfer full, NUL-terminated, *length without the NUL): the mark of byte
 * order is taken off, UTF-16 is told by it, and what is no UTF-8 is read as Latin-1, in which
 * every byte is a letter. NULL when there is nothing to read or a byte of it is zero; *problem
 * says where. */
char *dew_csv_text (const char *bytes, gsize n, gsize *length, DewCsvProblem *problem);

/* --- looking ---------------------------------------------------------------- */

#define DEW_CSV_SHOWN_LINES 6

typedef struct
{
  guint ask; /* of DewCsvAsk; 0: the table can be read */
  guint lines;
  char *head[DEW_CSV_COLUMNS_MAX];                       /* names of columns, or NULL */
  char *shown[DEW_CSV_SHOWN_LINES][DEW_CSV_COLUMNS_MAX]; /* cells of the first lines */
  int n_columns;
  double days_if_day_first, days_if_month_first; /* that the table spans; for who is asked */
  DewCsvProblem mixed;                           /* code DEW_CSV_MIXED: such dates are there */
  gboolean is_mixed;
} DewCsvLook;

void dew_csv_look_clear (DewCsvLook *look);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DewCsvLook, dew_csv_look_clear)

/* Finds out what `shape` does not tell yet. FALSE when the text is no table of readings at all:
 * look->ask is then 0 and look->lines says how many lines were read. */
gboolean dew_csv_look (const char *text, gsize length, DewCsvShape *shape, DewCsvLook *look);

/* --- reading ----------------------------------------------------------------- */

typedef struct
{
  GArray *readings;     /* DewReading, in order of time, marked; source is 0 */
  guint lines;          /* that should hold a reading */
  guint missing;        /* cells without a value */
  guint backwards;      /* stamps earlier than that of the line before, see DEW_MARK_CLOCK */
  guint same, conflict; /* stamps that come twice, as of DewMerge */
  guint twice_hour;     /* stamps in the hour that the end of summer time brings twice */
  guint no_hour;        /* stamps in the hour that its begin leaves out: the clock did not follow */
  guint n_problems;
  GArray *problems; /* DewCsvProblem, the first DEW_CSV_PROBLEMS_MAX */
} DewCsvTable;

void dew_csv_table_clear (DewCsvTable *table);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DewCsvTable, dew_csv_table_clear)

/* Called now and then with the share that is done; FALSE stops. */
typedef gboolean (*DewCsvProgress) (double share, gpointer user_data);

/* Reads a table whose shape is known (dew_csv_look() asked nothing). Lines with problems are left
 * out and counted. FALSE when it was stopped, or the zone is unknown (table->lines is then 0). */
gboolean dew_csv_read (const char *text, gsize length, const DewCsvShape *shape,
                       DewCsvProgress progress, gpointer user_data, DewCsvTable *table);

/* Whether there is a zone of that name: an IANA name that this computer knows, "UTC", "+01:00". */
gboolean dew_csv_zone_known (const char *zone);

/* One date and time as a person types it, year first ("2026-01-31 08:00"), in a zone (NULL: this
 * computer's). */
gboolean dew_csv_moment (const char *text, const char *zone, gint64 *time_s);

G_END_DECLS
