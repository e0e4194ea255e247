/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/readings.h"

#include <math.h>
#include <stdlib.h>

#define GAP_INTERVALS 5.0
#define GAP_LEAST_S 900.0
#define SLOPE_S \
  900 /* over which a change is looked at: shorter ones are noise of the last digit \
       */

gboolean
dew_reading_counts (const DewReading *reading)
{
  return (reading->marks & DEW_MARK_TRUSTED) != 0 || (reading->marks & ~DEW_MARK_CLOCK) == 0;
}

gint64
dew_reading_day (gint64 time_s)
{
  return time_s >= 0 ? time_s / DEW_DAY_S : -((-time_s + DEW_DAY_S - 1) / DEW_DAY_S);
}

static int
by_time (gconstpointer a, gconstpointer b)
{
  gint64 one = ((const DewReading *) a)->time_s, other = ((const DewReading *) b)->time_s;

  return (one > other) - (one < other);
}

void
dew_readings_sort (GArray *readings)
{
  const DewReading *r = (const DewReading *) readings->data;

  for (guint i = 1; i < readings->len; i++)
    if (r[i].time_s < r[i - 1].time_s)
      {
        g_array_sort (readings, by_time); /* a merge sort: equal ones keep their order */
        return;
      }
}

/* Half of the last digit that is kept. */
static gboolean
same_value (float a, float b)
{
  return (isnan (a) && isnan (b)) || fabsf (a - b) < 0.006f;
}

static gboolean
same_reading (const DewReading *a, const DewReading *b)
{
  return same_value (a->t_C, b->t_C) && same_value (100.0f * a->rh, 100.0f * b->rh);
}

void
dew_readings_merge (GArray *into, const GArray *more, DewMerge *merge)
{
  GArray *all = g_array_sized_new (FALSE, FALSE, sizeof (DewReading), into->len + more->len);
  const DewReading *a = (const DewReading *) into->data, *b = (const DewReading *) more->data;
  guint i = 0, k = 0;

  while (i < into->len || k < more->len)
    {
      gboolean old = k == more->len || (i < into->len && a[i].time_s <= b[k].time_s);
      const DewReading *next = old ? &a[i++] : &b[k++];
      const DewReading *last = all->len > 0 ? &g_array_index (all, DewReading, all->len - 1) : NULL;

      if (!old && last != NULL && last->time_s == next->time_s)
        {
          if (same_reading (last, next))
            merge->same++;
          else
            merge->conflict++;
          continue;
        }
      merge->added += old ? 0 : 1;
      g_array_append_val (all, *next);
    }
  g_array_set_size (into, 0);
  g_array_append_vals (into, all->data, all->len);
  g_array_unref (all);
}

/* --- what a list holds --------------------------------------------------- */

static int
by_size (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static double
median_interval (const DewReading *r, guint n)
{
  g_autofree double *steps = NULL;
  double median;

  if (n < 2)
    return NAN;
  steps = g_new (double, n - 1);
  for (guint i = 1; i < n; i++)
    steps[i - 1] = (double) (r[i].time_s - r[i - 1].time_s);
  qsort (steps, n - 1, sizeof *steps, by_size);
  median = steps[(n - 1) / 2];
  return median;
}

void
dew_readings_tally (const GArray *readings, DewTally *out)
{
  const DewReading *r = (const DewReading *) readings->data;
  double gap_s;

  *out = (DewTally){ .n = readings->len, .interval_s = median_interval (r, readings->len) };
  if (readings->len == 0)
    return;
  out->first_s = r[0].time_s;
  out->last_s = r[readings->len - 1].time_s;
  gap_s = MAX (GAP_LEAST_S, GAP_INTERVALS * out->interval_s);
  for (guint i = 0; i < readings->len; i++)
    {
      double step_s = i > 0 ? (double) (r[i].time_s - r[i - 1].time_s) : 0.0;

      out->doubtful += !dew_reading_counts (&r[i]);
      out->spikes += (r[i].marks & DEW_MARK_SPIKE) != 0;
      out->stuck += (r[i].marks & DEW_MARK_STUCK) != 0;
      out->impossible += (r[i].marks & DEW_MARK_IMPOSSIBLE) != 0;
      out->clock += (r[i].marks & DEW_MARK_CLOCK) != 0;
      out->gaps += step_s > gap_s;
      out->longest_gap_s = MAX (out->longest_gap_s, step_s);
    }
}

/* --- means --------------------------------------------------------------- */

typedef struct
{
  guint n;
  double sum, squares, first, least, most; /* sums are about the first */
} Sum;

static void
sum_add (Sum *s, double x)
{
  if (!isfinite (x))
    return;
  if (s->n == 0)
    *s = (Sum){ .first = x, .least = x, .most = x };
  s->n++;
  s->sum += x - s->first;
  s->squares += (x - s->first) * (x - s->first);
  s->least = MIN (s->least, x);
  s->most = MAX (s->most, x);
}

static double
sum_mean (const Sum *s)
{
  return s->n > 0 ? s->first + s->sum / s->n : NAN;
}

static double
sum_sd (const Sum *s)
{
  return s->n > 1 ? sqrt (MAX (0.0, (s->squares - s->sum * s->sum / s->n) / (s->n - 1))) : NAN;
}

/* The first reading at or after a time. */
static guint
find (const GArray *readings, gint64 time_s)
{
  guint lo = 0, hi = readings->len;

  while (lo < hi)
    {
      guint mid = lo + (hi - lo) / 2;

      if (g_array_index (readings, DewReading, mid).time_s < time_s)
        lo = mid + 1;
      else
        hi = mid;
    }
  return lo;
}

void
dew_readings_means (const GArray *readings, gint64 from_s, gint64 to_s, DewReadingMeans *out)
{
  Sum t = { 0 }, rh = { 0 }, slope_t = { 0 }, slope_rh = { 0 };
  const DewReading *mark = NULL;

  for (guint i = find (readings, from_s); i < readings->len; i++)
    {
      const DewReading *r = &g_array_index (readings, DewReading, i);

      if (r->time_s >= to_s)
        break;
      if (!dew_reading_counts (r))
        continue;
      sum_add (&t, r->t_C);
      sum_add (&rh, r->rh);
      if (mark == NULL)
        mark = r;
      if (r->time_s - mark->time_s >= SLOPE_S)
        {
          double dt_s = (double) (r->time_s - mark->time_s);

          sum_add (&slope_t, fabs (r->t_C - mark->t_C) / dt_s);
          sum_add (&slope_rh, fabs (r->rh - mark->rh) / dt_s);
          mark = r;
        }
    }
  *out = (DewReadingMeans){
    .n = MAX (t.n, rh.n),
    .t_mean_C = sum_mean (&t),
    .t_min_C = t.n > 0 ? t.least : NAN,
    .t_max_C = t.n > 0 ? t.most : NAN,
    .t_sd_K = sum_sd (&t),
    .rh_mean = sum_mean (&rh),
    .rh_min = rh.n > 0 ? rh.least : NAN,
    .rh_max = rh.n > 0 ? rh.most : NAN,
    .rh_sd = sum_sd (&rh),
    .slope_t_K_s = slope_t.n > 0 ? sum_mean (&slope_t) : 0.0,
    .slope_rh_1_s = slope_rh.n > 0 ? sum_mean (&slope_rh) : 0.0,
  };
}
