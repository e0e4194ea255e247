/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What looking at a table and reading it share: cells, numbers and stamps. */

#include "readings/csv.h"

G_BEGIN_DECLS

/* A cell: bytes of the text, without its quotes and the blanks around it. */
typedef struct
{
  const char *at;
  gsize n;
  guint letter; /* of the line, from 1; in bytes */
} DewCell;

/* Splits a line (no line feed in it). Returns how many cells there are, at most
 * DEW_CSV_COLUMNS_MAX; -1 when a quote is not closed. */
int dew_csv_split (const char *line, gsize n, char delimiter, DewCell *cells);

/* The next line without its end; FALSE at the end of the text. */
gboolean dew_csv_line (const char **at, const char *end, const char **line, gsize *n);

typedef enum
{
  DEW_NUMBER_VALUE,
  DEW_NUMBER_MISSING, /* empty, or a word that loggers write for nothing */
  DEW_NUMBER_NOT
} DewNumberKind;

/* `unit` learns what stood behind it: 'C', 'F', '%' or 0. */
DewNumberKind dew_csv_number (const DewCell *cell, char decimal, double *value, char *unit);

/* The parts of a date and a time as they stand there. */
typedef struct
{
  int n;         /* of parts */
  int part[7];   /* date, then hour, minute, second */
  int digits[7]; /* of each */
  int month_at;  /* which part was the name of a month; -1: none */
  int half_day;  /* 0 none, 1 am, 2 pm */
  gboolean zoned;
  int zone_s; /* east of Greenwich */
} DewStamp;

/* FALSE when the text is no stamp. */
gboolean dew_stamp_scan (const char *text, gsize n, DewStamp *stamp);

/* Seconds since 1970 of the clock on the wall, by the order of its date. FALSE with *exists FALSE
 * when there is no such day or hour; FALSE with *exists TRUE when the parts are not such a date. */
gboolean dew_stamp_wall (const DewStamp *stamp, DewCsvDates dates, gint64 *wall_s,
                         gboolean *exists);

/* Days since 1970 of a date of the Gregorian calendar. */
gint64 dew_days_of_date (int year, int month, int day);

G_END_DECLS
