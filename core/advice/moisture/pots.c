/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/moisture/moisture-private.h"

#include <math.h>

#define USUAL_MOST_POTS 24

/* --- the pots that a count means ----------------------------------------- */

typedef struct
{
  GPtrArray *spots; /* [n_bays] of arrays of DewPot, best first */
  int *taken;       /* [n_bays] */
  double
    *response; /* [n_bays * n_bays] rise of humidity in the second bay for a pot in the first */
  int count;
} Pots;

static GArray *
pots_as_placed (const Pots *pots, int n_bays)
{
  GArray *layout = g_array_new (FALSE, FALSE, sizeof (DewPot));

  for (int b = 0; b < n_bays; b++)
    {
      const GArray *spots = g_ptr_array_index (pots->spots, b);

      g_array_append_vals (layout, spots->data, pots->taken[b]);
    }
  return layout;
}

static double
predicted_miss (const DewSizer *s, const double *rh_low, const double *response)
{
  double miss = 0.0;

  for (int b = 0; b < s->advice->n_bays; b++)
    {
      double rh = rh_low[b] + (response != NULL ? response[b] : 0.0);
      const DewBandWish *wish = &s->advice->bay_bands[b];

      /* Squares, so that the driest bay comes first. */
      if (rh < wish->rh_lo)
        miss += pow (wish->rh_lo - rh, 2.0);
      if (rh > wish->rh_hi)
        miss += pow (rh - wish->rh_hi, 2.0);
    }
  return miss;
}

/* Adds the pot that is predicted to bring most; FALSE when there is no spot left. */
static gboolean
add_best_pot (const DewSizer *s, Pots *pots, double *rh_low)
{
  int n = s->advice->n_bays, best = -1;
  double least = G_MAXDOUBLE;

  for (int b = 0; b < n; b++)
    {
      const GArray *spots = g_ptr_array_index (pots->spots, b);
      double miss = predicted_miss (s, rh_low, pots->response + b * n);

      if (pots->taken[b] >= (int) spots->len || !(miss < least))
        continue;
      least = miss;
      best = b;
    }
  if (best < 0)
    return FALSE;
  for (int b = 0; b < n; b++)
    rh_low[b] += pots->response[best * n + b];
  pots->taken[best]++;
  pots->count++;
  return TRUE;
}

/* Forecasts what one pot in each bay does, from the bare layout. */
static gboolean
find_response (DewSizer *s, Pots *pots, const DewSizingPoint *bare)
{
  int n = s->advice->n_bays;
  g_autoptr (GPtrArray) layouts = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_layout_free);

  for (int b = 0; b < n; b++)
    {
      const GArray *spots = g_ptr_array_index (pots->spots, b);
      g_autoptr (GArray) one = g_array_new (FALSE, FALSE, sizeof (DewPot));
      DewLayout *layout = dew_layout_new (s->chamber);

      if (spots->len > 0)
        g_array_append_val (one, g_array_index (spots, DewPot, 0));
      dew_sizing_set (layout->chamber, s->variant_id, DEW_SIZING_POTS, one->len, one);
      g_ptr_array_add (layouts, layout);
    }
  if (!dew_layout_bench_run (&s->bench, (DewLayout *const *) layouts->pdata, n, DEW_GRID_DRAFT,
                             s->error))
    return FALSE;
  for (int b = 0; b < n; b++)
    for (int other = 0; other < n; other++)
      {
        const DewLayout *layout = g_ptr_array_index (layouts, b);
        double was = MIN (bare->bays[other].rh, bare->bays[other].rh_night);

        /* A pot never dries: what is less than nothing is the flow's restlessness. */
        if (layout->trouble == NULL)
          pots->response[b * n + other]
            = MAX (0.0, MIN (layout->day->bays[other].mean.rh, layout->night->bays[other].mean.rh)
                          - was);
      }
  return TRUE;
}

/* --- pots ---------------------------------------------------------------- */

static DewPot
pot_to_add (const DewSizer *s, const DewVariant *variant, int *present)
{
  DewThing usual;
  gboolean found = FALSE;

  dew_thing_init (&usual, DEW_THING_POT);
  *present = 0;
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_POT)
        continue;
      if (!found)
        usual.pot = thing->pot;
      found = TRUE;
      (*present)++;
    }
  return s->q->pot != NULL ? *s->q->pot : usual.pot;
}

/* Counts that are forecast: all small ones, then wider apart. */
static gboolean
is_counted (int count, int most)
{
  return count <= 4 || (count <= 12 && count % 2 == 0) || count % 4 == 0 || count == most;
}

static void
lows_of (const DewSizingPoint *point, double *rh_low)
{
  for (int b = 0; b < point->n_bays; b++)
    rh_low[b] = MIN (point->bays[b].rh, point->bays[b].rh_night);
}

/* Layouts of 0, 1, 2 ... pots, made as they are asked for. NULL: there is no spot for so many. */
static GArray *
layout_of (DewSizer *s, Pots *pots, double *rh_low, GPtrArray *between, int count)
{
  while ((int) between->len <= count)
    {
      if (!add_best_pot (s, pots, rh_low))
        return NULL;
      g_ptr_array_add (between, pots_as_placed (pots, s->advice->n_bays));
    }
  return g_ptr_array_index (between, count);
}

/* From what holds on draft zones upward until it holds on settled ones, then down until one less
 * does not. */
static gboolean
settle_count (DewSizer *s, DewSizingCurve *curve, Pots *pots, double *rh_low, GPtrArray *between,
              int most)
{
  int at = dew_sizing_find_least (curve, FALSE), hi, lo = -1, step = 1;
  gboolean holds = FALSE;

  if (at < 0)
    return TRUE;
  for (hi = (int) g_array_index (curve->points, DewSizingPoint, at).x; !holds; step *= 2)
    {
      GArray *layout = layout_of (s, pots, rh_low, between, hi);

      if (layout == NULL)
        return TRUE;
      if (!dew_sizing_settle (s, curve, hi, layout, &holds))
        return FALSE;
      if (holds)
        break;
      lo = hi;
      if (hi >= most)
        return TRUE;
      hi = MIN (most, hi + step);
    }
  for (step = 1; hi - lo > 1; step *= 2)
    {
      int x = lo < 0 ? MAX (0, hi - step) : (lo + hi) / 2;

      if (!dew_sizing_settle (s, curve, x, layout_of (s, pots, rh_low, between, x), &holds))
        return FALSE;
      *(holds ? &hi : &lo) = x;
    }
  return TRUE;
}

/* On draft zones up to the first count that holds: pots one by one by the response, forecast at
 * some counts, and from what those say on. */
static gboolean
walk_up (DewSizer *s, DewSizingCurve *curve, Pots *pots, double *rh_low, GPtrArray *between,
         int most)
{
  while (pots->count < most && dew_sizing_find_least (curve, FALSE) < 0)
    {
      GArray *layout = layout_of (s, pots, rh_low, between, pots->count + 1);
      double x = pots->count;

      if (layout == NULL)
        break;
      if (!is_counted (pots->count, most))
        continue;
      if (!dew_sizing_add_points (s, curve, &x, &layout, 1, DEW_GRID_DRAFT))
        return FALSE;
      if (dew_sizing_nearest (curve, x) >= 0)
        lows_of (&g_array_index (curve->points, DewSizingPoint, dew_sizing_nearest (curve, x)),
                 rh_low);
    }
  return TRUE;
}

static gboolean
walk_pots (DewSizer *s, DewSizingCurve *curve, Pots *pots, double *rh_low, GPtrArray *between,
           int most)
{
  GArray *none = layout_of (s, pots, rh_low, between, 0);
  double x = 0.0;

  if (!dew_sizing_add_points (s, curve, &x, &none, 1, DEW_GRID_DRAFT))
    return FALSE;
  if (curve->points->len == 0)
    return TRUE;
  if (!find_response (s, pots, &g_array_index (curve->points, DewSizingPoint, 0)))
    return FALSE;
  lows_of (&g_array_index (curve->points, DewSizingPoint, 0), rh_low);
  return walk_up (s, curve, pots, rh_low, between, most)
         && settle_count (s, curve, pots, rh_low, between, most);
}

gboolean
dew_sizing_walk_pots (DewSizer *s, DewSizingCurve *curve, const DewVariant *variant)
{
  int n = s->advice->n_bays, present,
      most = s->q->most_pots > 0 ? s->q->most_pots : USUAL_MOST_POTS;
  DewPot pot = pot_to_add (s, variant, &present);
  Pots pots = { dew_sizing_pot_spots (s->chamber, s->variant_id, &pot), g_new0 (int, n),
                g_new0 (double, n *n), 0 };
  g_autofree double *rh_low = g_new0 (double, n);
  g_autoptr (GPtrArray) between = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  gboolean fine;

  g_ptr_array_add (between, g_array_new (FALSE, FALSE, sizeof (DewPot)));
  fine = walk_pots (s, curve, &pots, rh_low, between, most);
  g_ptr_array_unref (pots.spots);
  g_free (pots.taken);
  g_free (pots.response);
  curve->possible = fine && curve->points->len > 1;
  if (fine && !curve->possible)
    curve->trouble = DEW_SIZING_NO_SPOT;
  return fine && dew_sizing_end_walk (s, curve, present);
}
