/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/csv-private.h"

#include <math.h>
#include <string.h>

/* --- lines and cells -------------------------------------------------------- */

gboolean
dew_csv_line (const char **at, const char *end, const char **line, gsize *n)
{
  const char *stop;

  if (*at >= end)
    return FALSE;
  *line = *at;
  stop = *at;
  while (stop < end && *stop != '\n' && *stop != '\r')
    stop++;
  *n = (gsize) (stop - *line);
  if (stop + 1 < end && stop[0] == '\r' && stop[1] == '\n')
    stop++;
  *at = MIN (stop + 1, end);
  return TRUE;
}

/* A cell without the blanks around it; a space of fixed width (U+00A0) is one. */
static void
trim (DewCell *cell)
{
  while (cell->n > 0 && (cell->at[0] == ' ' || cell->at[0] == '\t'))
    {
      cell->at++;
      cell->n--;
    }
  while (cell->n > 0)
    {
      const char *last = cell->at + cell->n - 1;

      if (*last == ' ' || *last == '\t')
        cell->n--;
      else if (cell->n > 1 && (guint8) last[0] == 0xa0 && (guint8) last[-1] == 0xc2)
        cell->n -= 2;
      else
        break;
    }
}

/* The end of a cell that begins with a quote: behind its second one (RFC 4180, section 2: a
 * doubled quote is a letter). NULL when there is none. */
static const char *
quoted_end (const char *at, const char *end)
{
  for (at++; at < end; at++)
    if (*at == '"')
      {
        if (at + 1 < end && at[1] == '"')
          at++;
        else
          return at + 1;
      }
  return NULL;
}

int
dew_csv_split (const char *line, gsize n, char delimiter, DewCell *cells)
{
  const char *at = line, *end = line + n;
  int count = 0;

  while (count < DEW_CSV_COLUMNS_MAX)
    {
      DewCell *cell = &cells[count++];
      const char *begin = at, *stop;

      while (at < end && *at == ' ' && delimiter != ' ')
        at++;
      if (at < end && *at == '"')
        {
          stop = quoted_end (at, end);
          if (stop == NULL)
            return -1;
          *cell = (DewCell){ at + 1, (gsize) (stop - at) - 2, (guint) (begin - line) + 1 };
          at = stop;
          while (at < end && *at != delimiter)
            at++;
        }
      else
        {
          while (at < end && *at != delimiter)
            at++;
          *cell = (DewCell){ begin, (gsize) (at - begin), (guint) (begin - line) + 1 };
        }
      trim (cell);
      if (at >= end)
        break;
      at++;
    }
  return count;
}

/* --- numbers ------------------------------------------------------------------ */

static gboolean
is_word (const char *at, gsize n, const char *word)
{
  return n == strlen (word) && g_ascii_strncasecmp (at, word, n) == 0;
}

/* What loggers write where they have nothing. */
static gboolean
is_nothing (const DewCell *cell)
{
  static const char *const words[] = { "-",    "--",   "---",   "nan", "n/a",  "na",
                                       "null", "none", "error", "err", "#n/a", "\342\200\223" };

  if (cell->n == 0)
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (is_word (cell->at, cell->n, words[i]))
      return TRUE;
  return FALSE;
}

static gboolean
is_unit (const char *at, gsize n, char *unit)
{
  static const struct
  {
    const char *word;
    char unit;
  } units[] = {
    { "", 0 },    { "C", 'C' },   { "\302\260C", 'C' }, { "F", 'F' },      { "\302\260F", 'F' },
    { "%", '%' }, { "%RH", '%' }, { "% RH", '%' },      { "\302\260", 0 },
  };

  while (n > 0 && *at == ' ')
    {
      at++;
      n--;
    }
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (is_word (at, n, units[i].word))
      {
        *unit = units[i].unit;
        return TRUE;
      }
  return FALSE;
}

DewNumberKind
dew_csv_number (const DewCell *cell, char decimal, double *value, char *unit)
{
  const char *at = cell->at, *end = at + cell->n;
  double number = 0.0, place = 1.0, sign = 1.0;
  int digits = 0;

  *unit = 0;
  if (is_nothing (cell))
    return DEW_NUMBER_MISSING;
  if (*at == '-' || *at == '+')
    sign = *at++ == '-' ? -1.0 : 1.0;
  else if (end - at > 3 && memcmp (at, "\342\210\222", 3) == 0) /* a minus sign */
    {
      sign = -1.0;
      at += 3;
    }
  for (; at < end && g_ascii_isdigit (*at); at++, digits++)
    number = 10.0 * number + (*at - '0');
  if (at < end && *at == decimal)
    for (at++; at < end && g_ascii_isdigit (*at); at++, digits++)
      {
        place /= 10.0;
        number += place * (*at - '0');
      }
  if (digits == 0 || digits > 18 || !is_unit (at, (gsize) (end - at), unit))
    return DEW_NUMBER_NOT;
  *value = sign * number;
  return DEW_NUMBER_VALUE;
}
