/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/readings.h"

#include <math.h>
#include <stdlib.h>

/* A spike is what Hampel's filter finds (F. R. Hampel, J. Am. Stat. Assoc. 69, 1974: far from the
 * median of the neighbours, in units of their median deviation), where it lasts no longer than two
 * readings: an opened door or a burst of mist is no error. The limits in K and points keep the
 * last digit of a calm sensor from being one; common practice, no source. */
#define NEIGHBOURS 5 /* on either side */
#define DEVIATIONS 6.0
#define SPIKE_LEAST_K 1.5
#define SPIKE_LEAST_RH 0.06
#define SPIKE_LONGEST 2

/* Cheap sensors that got wet stand at the top of their scale for hours; in fog a sound one does
 * too, and cannot be told from them: its readings say "100 %" and no more. */
#define STUCK_RH 0.99
#define STUCK_TOP_S (6 * 3600)
#define STUCK_STILL_S (48 * 3600) /* neither temperature nor humidity moves by a digit */

#define IMPOSSIBLE_RH 1.03
#define IMPOSSIBLE_COLD_C (-30.0)
#define IMPOSSIBLE_HOT_C 70.0

static int
by_size (gconstpointer a, gconstpointer b)
{
  float x = *(const float *) a, y = *(const float *) b;

  return (x > y) - (x < y);
}

static float
median (float *x, int n)
{
  qsort (x, (size_t) n, sizeof *x, by_size);
  return x[n / 2];
}

static float
value_of (const DewReading *r, gboolean humidity)
{
  return humidity ? r->rh : r->t_C;
}

/* Whether reading i lies far from its neighbours. */
static gboolean
is_far (const DewReading *r, guint n, guint i, gboolean humidity)
{
  float x[2 * NEIGHBOURS], middle, own = value_of (&r[i], humidity);
  float least = humidity ? (float) SPIKE_LEAST_RH : (float) SPIKE_LEAST_K;
  int count = 0;

  if (isnan (own))
    return FALSE;
  for (guint k = i >= NEIGHBOURS ? i - NEIGHBOURS : 0; k < n && k <= i + NEIGHBOURS; k++)
    if (k != i && !isnan (value_of (&r[k], humidity)))
      x[count++] = value_of (&r[k], humidity);
  if (count < NEIGHBOURS)
    return FALSE;
  middle = median (x, count);
  if (fabsf (own - middle) < least)
    return FALSE;
  for (int k = 0; k < count; k++)
    x[k] = fabsf (x[k] - middle);
  return fabsf (own - middle) > DEVIATIONS * 1.4826 * median (x, count);
}

/* Nearly all readings are near the one before: those need no median. */
static gboolean
is_calm (const DewReading *r, guint n, guint i)
{
  for (guint k = i > 0 ? i - 1 : 0; k <= i + 1 && k < n; k++)
    if (k != i && fabsf (r[k].t_C - r[i].t_C) < SPIKE_LEAST_K / 3.0
        && fabsf (r[k].rh - r[i].rh) < SPIKE_LEAST_RH / 3.0)
      return TRUE;
  return FALSE;
}

static void
mark_spikes (DewReading *r, guint n)
{
  guint run = 0;

  for (guint i = 0; i <= n; i++)
    {
      gboolean far
        = i < n && !is_calm (r, n, i) && (is_far (r, n, i, FALSE) || is_far (r, n, i, TRUE));

      if (far)
        run++;
      else
        {
          for (guint k = 1; k <= run && run <= SPIKE_LONGEST; k++)
            r[i - k].marks |= DEW_MARK_SPIKE;
          run = 0;
        }
    }
}

static gboolean
at_top (const DewReading *first, const DewReading *r)
{
  return r->rh >= STUCK_RH && fabsf (r->rh - first->rh) < 5e-5f;
}

static gboolean
unmoved (const DewReading *first, const DewReading *r)
{
  return r->rh == first->rh && r->t_C == first->t_C;
}

/* Marks stretches of readings that are alike in the sense of `alike` for at least least_s. */
static void
mark_stretches (DewReading *r, guint n, gboolean (*alike) (const DewReading *, const DewReading *),
                gint64 least_s)
{
  guint first = 0;

  for (guint i = 0; i <= n; i++)
    {
      if (i < n && alike (&r[first], &r[i]))
        continue;
      if (i > first + 2 && r[i - 1].time_s - r[first].time_s >= least_s
          && alike (&r[first], &r[first]))
        for (guint k = first; k < i; k++)
          r[k].marks |= DEW_MARK_STUCK;
      first = i;
    }
}

void
dew_readings_mark (GArray *readings)
{
  DewReading *r = (DewReading *) readings->data;

  for (guint i = 0; i < readings->len; i++)
    {
      r[i].marks &= (guint16) ~(DEW_MARK_SPIKE | DEW_MARK_STUCK | DEW_MARK_IMPOSSIBLE);
      if (r[i].rh > IMPOSSIBLE_RH || r[i].rh < 0.0f || r[i].t_C < IMPOSSIBLE_COLD_C
          || r[i].t_C > IMPOSSIBLE_HOT_C)
        r[i].marks |= DEW_MARK_IMPOSSIBLE;
    }
  mark_spikes (r, readings->len);
  mark_stretches (r, readings->len, at_top, STUCK_TOP_S);
  mark_stretches (r, readings->len, unmoved, STUCK_STILL_S);
}
