/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/csv-private.h"

#include <string.h>

/* --- scanning ------------------------------------------------------------------- */

static gboolean
add_part (DewStamp *s, int value, int digits)
{
  if (s->n == G_N_ELEMENTS (s->part))
    return FALSE;
  s->part[s->n] = value;
  s->digits[s->n++] = digits;
  return TRUE;
}

/* "20260131" and "081530" are three parts each, where such are due. */
static gboolean
add_digits (DewStamp *s, const char *at, int digits)
{
  int value = 0;

  if (digits > 8)
    return FALSE;
  for (int i = 0; i < digits; i++)
    value = 10 * value + (at[i] - '0');
  if (digits == 8 && s->n == 0)
    return add_part (s, value / 10000, 4) && add_part (s, value / 100 % 100, 2)
           && add_part (s, value % 100, 2);
  if (digits == 6 && s->n == 3)
    return add_part (s, value / 10000, 2) && add_part (s, value / 100 % 100, 2)
           && add_part (s, value % 100, 2);
  return digits <= 4 && add_part (s, value, digits);
}

/* The number of a month by its first three letters, in English; 0: none. */
static int
month_of (const char *at, gsize n)
{
  static const char names[] = "janfebmaraprmayjunjulaugsepoctnovdec";

  if (n < 3)
    return 0;
  for (int m = 0; m < 12; m++)
    if (g_ascii_strncasecmp (at, names + 3 * m, 3) == 0)
      return m + 1;
  return 0;
}

static gboolean
add_word (DewStamp *s, const char *at, gsize n)
{
  int month = month_of (at, n);

  if (n == 1 && (*at == 'T' || *at == 't'))
    return TRUE;
  if (n == 1 && (*at == 'Z' || *at == 'z') && s->n >= 3)
    {
      s->zoned = TRUE;
      return TRUE;
    }
  if (n == 3
      && (g_ascii_strncasecmp (at, "UTC", 3) == 0 || g_ascii_strncasecmp (at, "GMT", 3) == 0))
    {
      s->zoned = TRUE;
      return TRUE;
    }
  if (n == 2 && g_ascii_tolower (at[1]) == 'm' && s->n >= 1)
    {
      char half = g_ascii_tolower (at[0]);

      s->half_day = half == 'a' ? 1 : half == 'p' ? 2 : 0;
      return s->half_day != 0;
    }
  if (month == 0 || s->month_at >= 0 || s->n > 2)
    return FALSE;
  s->month_at = s->n;
  return add_part (s, month, 2);
}

/* "+01:00", "+0100" or "-5" behind a time. */
static gboolean
scan_zone (DewStamp *s, const char *at, const char *end)
{
  int sign = *at == '-' ? -1 : 1, digits = 0, value = 0;

  for (at++; at < end; at++)
    {
      if (*at == ':' && digits == 2)
        continue;
      if (!g_ascii_isdigit (*at) || ++digits > 4)
        return FALSE;
      value = 10 * value + (*at - '0');
    }
  if (digits == 0 || digits == 3)
    return FALSE;
  if (digits <= 2)
    value *= 100;
  s->zoned = TRUE;
  s->zone_s = sign * (value / 100 * 3600 + value % 100 * 60);
  return value / 100 <= 14 && value % 100 < 60;
}

static const char *
skip (const char *at, const char *end, gboolean (*of_kind) (char))
{
  while (at < end && of_kind (*at))
    at++;
  return at;
}

static gboolean
is_digit (char c)
{
  return g_ascii_isdigit (c);
}

static gboolean
is_letter (char c)
{
  return g_ascii_isalpha (c);
}

gboolean
dew_stamp_scan (const char *text, gsize n, DewStamp *s)
{
  const char *at = text, *end = text + n;

  *s = (DewStamp){ .month_at = -1 };
  while (at < end)
    {
      const char *begin = at;

      if (is_digit (*at))
        {
          /* Parts of a second are left out. */
          gboolean fraction = s->n == 6 && at > text && (at[-1] == '.' || at[-1] == ',');

          at = skip (at, end, is_digit);
          if (!fraction && !add_digits (s, begin, (int) MIN (at - begin, 99)))
            return FALSE;
        }
      else if (is_letter (*at))
        {
          at = skip (at, end, is_letter);
          if (!add_word (s, begin, (gsize) (at - begin)))
            return FALSE;
        }
      else if ((*at == '+' || *at == '-') && s->n >= 5)
        return scan_zone (s, at, end);
      else if (strchr ("-./: ,", *at) != NULL)
        at++;
      else
        return FALSE;
    }
  return s->n > 0;
}

/* --- calendar -------------------------------------------------------------------- */

/* H. F. Fliegel and T. C. Van Flandern, Communications of the ACM 11 (1968), p. 657, counted from
 * 1970. */
gint64
dew_days_of_date (int year, int month, int day)
{
  gint64 y = year, m = month, d = day, shift = (m - 14) / 12;

  return d - 32075 + 1461 * (y + 4800 + shift) / 4 + 367 * (m - 2 - 12 * shift) / 12
         - 3 * ((y + 4900 + shift) / 100) / 4 - 2440588;
}

static gboolean
date_of (const DewStamp *s, DewCsvDates dates, int *year, int *month, int *day)
{
  /* A month with a name leaves no doubt which part is which. */
  int order = s->month_at < 0     ? (int) dates
              : s->digits[0] == 4 ? DEW_DATES_YEAR_FIRST
              : s->month_at == 0  ? DEW_DATES_MONTH_FIRST
                                  : DEW_DATES_DAY_FIRST;
  int year_at = order == DEW_DATES_YEAR_FIRST ? 0 : 2;

  *year = s->part[year_at];
  *month = s->part[order == DEW_DATES_MONTH_FIRST ? 0 : 1];
  *day = s->part[order == DEW_DATES_YEAR_FIRST ? 2 : order == DEW_DATES_DAY_FIRST ? 0 : 1];
  if (s->digits[year_at] == 2)
    *year += 2000;
  else if (s->digits[year_at] != 4)
    return FALSE;
  return TRUE;
}

static gboolean
hour_of (const DewStamp *s, int *second_of_day)
{
  int hour = s->n > 3 ? s->part[3] : 0, minute = s->n > 4 ? s->part[4] : 0;
  int second = s->n > 5 ? s->part[5] : 0;

  if (s->half_day != 0)
    {
      if (hour < 1 || hour > 12)
        return FALSE;
      hour = hour % 12 + (s->half_day == 2 ? 12 : 0);
    }
  *second_of_day = hour * 3600 + minute * 60 + second;
  /* 24:00 is the end of a day (ISO 8601:2004, 4.2.3). */
  return minute < 60 && second < 60 && (hour < 24 || *second_of_day == DEW_DAY_S);
}

gboolean
dew_stamp_wall (const DewStamp *s, DewCsvDates dates, gint64 *wall_s, gboolean *exists)
{
  int year, month, day, second_of_day;

  *exists = TRUE;
  if (s->n < 3 || s->n > 6 || (s->n == 4 && s->half_day == 0)
      || !date_of (s, dates, &year, &month, &day))
    return FALSE;
  *exists
    = g_date_valid_dmy ((GDateDay) MIN (day, 99), (GDateMonth) MIN (month, 13), (GDateYear) year)
      && year >= 1990 && year < 2200 && hour_of (s, &second_of_day);
  if (!*exists)
    return FALSE;
  *wall_s = dew_days_of_date (year, month, day) * DEW_DAY_S + second_of_day;
  return TRUE;
}
