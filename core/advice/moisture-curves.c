/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/moisture-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define HELD_RH 0.005      /* a bay that misses its band by less holds it */
#define HELD_K 0.1
#define POINTS_PER_K 5.0   /* a kelvin counts as much as this many points of humidity */
#define USUAL_MOST_POTS 24
#define BISECTIONS 3
#define VERIFIED_MOST 3    /* next larger values that are tried when settled zones say no */
#define KNEE_LEAST 0.1     /* of the whole way: flatter curves have no knee */
#define DAY_H 24.0
#define FOGGY_RH 0.97
#define MOST_LAMP_H 16

/* --- one point ------------------------------------------------------------------------------- */

static void
judge_bay (const DewBandWish *wish, DewSizingBay *bay)
{
  double low_rh = MIN (bay->rh, bay->rh_night), high_rh = MAX (bay->rh, bay->rh_night);

  /* Comparisons with an unknown limit (NAN) are false: nothing is missed. */
  bay->short_rh = low_rh < wish->rh_lo ? wish->rh_lo - low_rh : 0.0;
  bay->over_rh = high_rh > wish->rh_hi ? high_rh - wish->rh_hi : 0.0;
  bay->short_K = MAX (bay->t_C < wish->t_day_lo_C ? wish->t_day_lo_C - bay->t_C : 0.0,
                      bay->t_night_C < wish->t_night_lo_C ? wish->t_night_lo_C - bay->t_night_C : 0.0);
  bay->over_K = MAX (bay->t_C > wish->t_day_hi_C ? bay->t_C - wish->t_day_hi_C : 0.0,
                     bay->t_night_C > wish->t_night_hi_C ? bay->t_night_C - wish->t_night_hi_C : 0.0);
}

static void
judge_point (const DewSizer *s, gboolean warmth_counts, DewSizingPoint *point)
{
  point->holds = TRUE;
  point->miss = 0.0;
  for (int b = 0; b < point->n_bays; b++)
    {
      DewSizingBay *bay = &point->bays[b];

      judge_bay (&s->advice->bay_bands[b], bay);
      point->miss += 100.0 * (bay->short_rh + bay->over_rh);
      point->holds = point->holds && bay->short_rh <= HELD_RH && bay->over_rh <= HELD_RH;
      if (!warmth_counts)
        continue;
      point->miss += POINTS_PER_K * (bay->short_K + bay->over_K);
      point->holds = point->holds && bay->short_K <= HELD_K && bay->over_K <= HELD_K;
    }
}

static void
count_pots (const DewSizer *s, const DewVariant *variant, DewSizingPoint *point)
{
  point->pots = g_new0 (int, point->n_bays);
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      for (int b = 0; b < point->n_bays && thing->kind == DEW_THING_POT; b++)
        point->pots[b] += thing->pot.z_m >= s->z_m[b] && thing->pot.z_m < s->z_m[b + 1];
    }
}

void
dew_sizing_judge (const DewSizer *s, const DewLayout *layout, gboolean settled, gboolean warmth_counts,
                  DewSizingPoint *out)
{
  out->n_bays = s->advice->n_bays;
  g_free (out->bays);
  out->bays = g_new0 (DewSizingBay, out->n_bays);
  for (int b = 0; b < out->n_bays; b++)
    out->bays[b] = (DewSizingBay) { .t_C = layout->day->bays[b].mean.t_C, .rh = layout->day->bays[b].mean.rh,
                                    .t_night_C = layout->night->bays[b].mean.t_C,
                                    .rh_night = layout->night->bays[b].mean.rh };
  judge_point (s, warmth_counts, out);
  out->water_kg_day = dew_layout_water_kg_day (layout);
  out->settled = settled;
  g_clear_pointer (&out->pots, g_free);
  count_pots (s, dew_layout_variant (&s->bench, layout), out);
}

void
dew_sizing_point_clear (DewSizingPoint *point)
{
  g_clear_pointer (&point->bays, g_free);
  g_clear_pointer (&point->pots, g_free);
  g_clear_pointer (&point->layout, g_array_unref);
}

double
dew_sizing_margin (const DewSizer *s, const DewSizingPoint *point, int *bay)
{
  double least = G_MAXDOUBLE;

  *bay = 0;
  for (int b = 0; b < point->n_bays; b++)
    {
      const DewBandWish *wish = &s->advice->bay_bands[b];
      const DewSizingBay *is = &point->bays[b];
      double low = MIN (is->rh, is->rh_night) - wish->rh_lo, high = wish->rh_hi - MAX (is->rh, is->rh_night);
      double room = MIN (isnan (low) ? G_MAXDOUBLE : low, isnan (high) ? G_MAXDOUBLE : high);

      if (room < least)
        {
          least = room;
          *bay = b;
        }
    }
  return least;
}

/* --- the pots that a count means --------------------------------------------------------------- */

typedef struct
{
  GPtrArray *spots;    /* [n_bays] of arrays of DewPot, best first */
  int       *taken;    /* [n_bays] */
  double    *response; /* [n_bays * n_bays] rise of humidity in the second bay for a pot in the first */
  int        count;
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
  if (!dew_layout_bench_run (&s->bench, (DewLayout *const *) layouts->pdata, n, DEW_GRID_DRAFT, s->error))
    return FALSE;
  for (int b = 0; b < n; b++)
    for (int other = 0; other < n; other++)
      {
        const DewLayout *layout = g_ptr_array_index (layouts, b);
        double was = MIN (bare->bays[other].rh, bare->bays[other].rh_night);

        /* A pot never dries: what is less than nothing is the flow's restlessness. */
        if (layout->trouble == NULL)
          pots->response[b * n + other]
              = MAX (0.0, MIN (layout->day->bays[other].mean.rh, layout->night->bays[other].mean.rh) - was);
      }
  return TRUE;
}

/* --- walking ------------------------------------------------------------------------------------- */

/* Forecasts values of a curve and adds their points. layouts: [n] arrays of DewPot or NULL. */
static gboolean
add_points (DewSizer *s, DewSizingCurve *curve, const double *x, GArray *const *layouts, int n, DewGrid grid)
{
  g_autoptr (GPtrArray) made = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_layout_free);

  for (int i = 0; i < n; i++)
    {
      DewLayout *layout = dew_layout_new (s->chamber);

      dew_sizing_set (layout->chamber, s->variant_id, curve->sizing, x[i], layouts != NULL ? layouts[i] : NULL);
      g_ptr_array_add (made, layout);
    }
  if (!dew_layout_bench_run (&s->bench, (DewLayout *const *) made->pdata, n, grid, s->error))
    return FALSE;
  for (int i = 0; i < n; i++)
    {
      const DewLayout *layout = g_ptr_array_index (made, i);
      DewSizingPoint point = { .x = x[i] };
      guint at = 0;

      if (layout->trouble != NULL)
        continue;
      if (layouts != NULL)
        point.layout = g_array_ref (layouts[i]);
      dew_sizing_judge (s, layout, grid == DEW_GRID_SETTLED, curve->sizing == DEW_SIZING_VENT, &point);
      while (at < curve->points->len && g_array_index (curve->points, DewSizingPoint, at).x < x[i] - 1e-12)
        at++;
      if (at < curve->points->len && fabs (g_array_index (curve->points, DewSizingPoint, at).x - x[i]) <= 1e-12)
        g_array_remove_index (curve->points, at);
      g_array_insert_val (curve->points, at, point);
    }
  return TRUE;
}

/* The smallest (of a vent: the largest) value that holds, -1. */
static int
find_least (const DewSizingCurve *curve)
{
  gboolean largest = curve->sizing == DEW_SIZING_VENT || curve->sizing == DEW_SIZING_LAMP;
  int found = -1;

  for (guint p = 0; p < curve->points->len; p++)
    if (g_array_index (curve->points, DewSizingPoint, p).holds && (found < 0 || largest))
      found = p;
  return found;
}

static int
find_lowest (const DewSizingCurve *curve)
{
  int best = -1;

  for (guint p = 0; p < curve->points->len; p++)
    if (best < 0 || g_array_index (curve->points, DewSizingPoint, p).miss
                        < g_array_index (curve->points, DewSizingPoint, best).miss)
      best = p;
  return best;
}

/* The bottom of a curve that falls and rises again. Of one that only falls the point farthest
 * below the straight line between both ends, both axes scaled to 1 (Satopaa, V. et al., ICDCS
 * Workshops 2011, 'Kneedle', from memory). -1 for one that does not bend. */
static int
find_knee (const DewSizingCurve *curve)
{
  guint n = curve->points->len, best = 0;
  const DewSizingPoint *p = (const DewSizingPoint *) curve->points->data;
  double most, high = 0.0, low = G_MAXDOUBLE, far = KNEE_LEAST;

  for (guint i = 0; i < n; i++)
    {
      high = MAX (high, p[i].miss);
      low = MIN (low, p[i].miss);
    }
  if (n < 3 || high - low < 1.0)
    return -1;
  best = find_lowest (curve);
  if (best > 0 && best + 1 < n)
    return (int) best;
  best = 0;
  most = p[n - 1].x - p[0].x;
  for (guint i = 1; i < n; i++)
    {
      double below = (1.0 - (p[i].miss - low) / (high - low)) - (p[i].x - p[0].x) / most;

      if (below > far)
        {
          far = below;
          best = i;
        }
    }
  return best > 0 ? (int) best : -1;
}

static int
nearest_point (const DewSizingCurve *curve, double x)
{
  int best = -1;
  double least = G_MAXDOUBLE;

  for (guint p = 0; p < curve->points->len; p++)
    {
      double away = fabs (g_array_index (curve->points, DewSizingPoint, p).x - x);

      if (away < least)
        {
          least = away;
          best = p;
        }
    }
  return best;
}

/* Settled zones have the last word: what does not hold on them gives way to the next value. */
static gboolean
verify (DewSizer *s, DewSizingCurve *curve)
{
  int step = curve->sizing == DEW_SIZING_VENT ? -1 : 1;

  for (int tries = 0; tries < VERIFIED_MOST; tries++)
    {
      int at = find_least (curve);
      DewSizingPoint *point;

      if (at < 0)
        at = find_knee (curve);
      if (at < 0)
        return TRUE;
      point = &g_array_index (curve->points, DewSizingPoint, at);
      if (point->settled)
        return TRUE;

      double x = point->x;
      g_autoptr (GArray) layout = point->layout != NULL ? g_array_ref (point->layout) : NULL;
      gboolean held = point->holds;

      if (!add_points (s, curve, &x, layout != NULL ? &layout : NULL, 1, DEW_GRID_SETTLED))
        return FALSE;
      at = nearest_point (curve, x);
      if (!held || g_array_index (curve->points, DewSizingPoint, at).holds || at + step < 0
          || at + step >= (int) curve->points->len)
        return TRUE;
    }
  return TRUE;
}

static gboolean
end_walk (DewSizer *s, DewSizingCurve *curve, double present_x)
{
  if (!verify (s, curve))
    return FALSE;
  curve->least = find_least (curve);
  curve->knee = find_knee (curve);
  curve->present = present_x >= 0.0 ? nearest_point (curve, present_x) : -1;
  return TRUE;
}

/* --- pots ------------------------------------------------------------------------------------------- */

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

/* Pots one by one by the response; forecast at some counts, as many at a time as there are
 * processors' worth of, and from what those say on. */
static gboolean
walk_pots (DewSizer *s, DewSizingCurve *curve, const DewVariant *variant)
{
  int n = s->advice->n_bays, present, most = s->q->most_pots > 0 ? s->q->most_pots : USUAL_MOST_POTS;
  DewPot pot = pot_to_add (s, variant, &present);
  Pots pots = { dew_sizing_pot_spots (s->chamber, s->variant_id, &pot), g_new0 (int, n),
                g_new0 (double, n * n), 0 };
  g_autofree double *rh_low = g_new0 (double, n);
  g_autoptr (GPtrArray) between = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  g_autoptr (GArray) none = g_array_new (FALSE, FALSE, sizeof (DewPot));
  GArray *layouts[1] = { none };
  double x = 0.0;
  gboolean fine = add_points (s, curve, &x, layouts, 1, DEW_GRID_DRAFT), more = TRUE;

  g_ptr_array_add (between, g_array_ref (none));
  if (fine && curve->points->len > 0)
    {
      fine = find_response (s, &pots, &g_array_index (curve->points, DewSizingPoint, 0));
      lows_of (&g_array_index (curve->points, DewSizingPoint, 0), rh_low);
    }
  while (fine && more && curve->points->len > 0 && pots.count < most && find_least (curve) < 0)
    {
      more = add_best_pot (s, &pots, rh_low);
      if (!more)
        break;
      g_ptr_array_add (between, pots_as_placed (&pots, n));
      if (!is_counted (pots.count, most))
        continue;
      x = pots.count;
      layouts[0] = g_ptr_array_index (between, pots.count);
      fine = add_points (s, curve, &x, layouts, 1, DEW_GRID_DRAFT);
      if (fine && nearest_point (curve, x) >= 0)
        lows_of (&g_array_index (curve->points, DewSizingPoint, nearest_point (curve, x)), rh_low);
    }
  /* The counts that were passed over just below the first that holds. */
  for (int least = find_least (curve); fine && least > 0;)
    {
      double above = g_array_index (curve->points, DewSizingPoint, least).x;
      double below = g_array_index (curve->points, DewSizingPoint, least - 1).x;

      if (above - below < 1.5)
        break;
      x = floor (0.5 * (above + below));
      layouts[0] = g_ptr_array_index (between, (int) x);
      fine = add_points (s, curve, &x, layouts, 1, DEW_GRID_DRAFT);
      least = find_least (curve);
    }
  /* One more than needed, so that settled zones may ask for it. */
  if (fine && find_least (curve) == (int) curve->points->len - 1 && add_best_pot (s, &pots, rh_low))
    {
      x = pots.count;
      layouts[0] = pots_as_placed (&pots, n);
      fine = add_points (s, curve, &x, layouts, 1, DEW_GRID_DRAFT);
      g_array_unref (layouts[0]);
    }
  g_ptr_array_unref (pots.spots);
  g_free (pots.taken);
  g_free (pots.response);
  curve->possible = fine && curve->points->len > 1;
  if (fine && !curve->possible)
    curve->words = g_strdup (_("There is no free spot for a wet pot on any shelf."));
  return fine && end_walk (s, curve, present);
}

/* --- humidifier and vents ------------------------------------------------------------------------------ */

/* More mist than what fills every bay with fog is no question of size any more. */
static void
drop_foggy_end (DewSizingCurve *curve)
{
  for (guint p = 0; p + 1 < curve->points->len; p++)
    {
      const DewSizingPoint *point = &g_array_index (curve->points, DewSizingPoint, p);
      gboolean foggy = TRUE;

      for (int b = 0; b < point->n_bays; b++)
        foggy = foggy && MIN (point->bays[b].rh, point->bays[b].rh_night) > FOGGY_RH;
      if (foggy)
        {
          g_array_set_size (curve->points, p + 1);
          return;
        }
    }
}

static gboolean
walk_humidifier (DewSizer *s, DewSizingCurve *curve, const DewVariant *variant)
{
  static const double shares[] = { 0.0, 1.0 / 64, 1.0 / 32, 1.0 / 16, 1.0 / 8, 1.0 / 4, 1.0 / 2, 1.0 };
  double x[G_N_ELEMENTS (shares)], output;
  int n;

  output = dew_sizing_output_kg_s (variant, &n);
  if (n == 0 || output <= 0.0)
    {
      curve->words = g_strdup (n == 0 ? _("There is no humidifier in this layout.")
                                      : _("The humidifier gives off nothing; say how much it can."));
      return TRUE;
    }
  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    x[i] = shares[i] * output;
  if (!add_points (s, curve, x, NULL, G_N_ELEMENTS (shares), DEW_GRID_DRAFT))
    return FALSE;
  drop_foggy_end (curve);
  for (int bisection = 0; bisection < BISECTIONS; bisection++)
    {
      int least = find_least (curve);
      double middle;

      if (least <= 0)
        break;
      middle = 0.5 * (g_array_index (curve->points, DewSizingPoint, least).x
                      + g_array_index (curve->points, DewSizingPoint, least - 1).x);
      if (!add_points (s, curve, &middle, NULL, 1, DEW_GRID_DRAFT))
        return FALSE;
    }
  /* Where nothing holds: closer round the value that comes nearest. */
  if (find_least (curve) < 0)
    {
      const DewSizingPoint *p = (const DewSizingPoint *) curve->points->data;
      int lowest = find_lowest (curve), beside = 0;
      double near[2];

      if (lowest > 0)
        near[beside++] = 0.5 * (p[lowest].x + p[lowest - 1].x);
      if (lowest >= 0 && lowest + 1 < (int) curve->points->len)
        near[beside++] = 0.5 * (p[lowest].x + p[lowest + 1].x);
      if (!add_points (s, curve, near, NULL, beside, DEW_GRID_DRAFT))
        return FALSE;
    }
  curve->possible = curve->points->len > 1;
  return end_walk (s, curve, -1.0);
}

static gboolean
walk_vent (DewSizer *s, DewSizingCurve *curve, const DewVariant *variant)
{
  static const double x[] = { 0.0, 0.1, 0.2, 0.35, 0.5, 0.75, 1.0 };
  double open;

  if (dew_sizing_vents (variant, &open) == 0)
    {
      curve->words = g_strdup (_("There is no vent in this layout to open or close."));
      return TRUE;
    }
  if (!add_points (s, curve, x, NULL, G_N_ELEMENTS (x), DEW_GRID_DRAFT))
    return FALSE;
  curve->possible = curve->points->len > 1;
  return end_walk (s, curve, open);
}

/* --- lamp hours ------------------------------------------------------------------------------------------ */

/* Means over a day of the lit and the dark steady state, for each number of hours: what a march
 * through the hours would give a light enclosure. Wanted likewise from day and night. */
static gboolean
walk_lamp (DewSizer *s, DewSizingCurve *curve, const DewVariant *variant)
{
  const DewSizingPoint *now = &s->advice->present;
  gboolean lamp = FALSE;

  for (guint t = 0; t < variant->things->len; t++)
    lamp |= g_array_index (variant->things, DewThing, t).kind == DEW_THING_LAMP;
  if (!lamp)
    {
      curve->words = g_strdup (_("There is no lamp in this layout."));
      return TRUE;
    }
  for (int h = 0; h <= MOST_LAMP_H; h++)
    {
      DewSizingPoint point = { .x = h, .n_bays = now->n_bays, .bays = g_new0 (DewSizingBay, now->n_bays),
                               .settled = TRUE, .holds = TRUE, .water_kg_day = now->water_kg_day };
      double lit = h / DAY_H;

      for (int b = 0; b < now->n_bays; b++)
        {
          const DewSizingBay *is = &now->bays[b];
          const DewBandWish *w = &s->advice->bay_bands[b];
          double lo = lit * w->t_day_lo_C + (1.0 - lit) * w->t_night_lo_C;
          double hi = lit * w->t_day_hi_C + (1.0 - lit) * w->t_night_hi_C;
          DewSizingBay *bay = &point.bays[b];

          bay->t_C = bay->t_night_C = lit * is->t_C + (1.0 - lit) * is->t_night_C;
          bay->rh = bay->rh_night = lit * is->rh + (1.0 - lit) * is->rh_night;
          bay->short_rh = bay->rh < w->rh_lo ? w->rh_lo - bay->rh : 0.0;
          bay->over_rh = bay->rh > w->rh_hi ? bay->rh - w->rh_hi : 0.0;
          bay->short_K = bay->t_C < lo ? lo - bay->t_C : 0.0;
          bay->over_K = bay->t_C > hi ? bay->t_C - hi : 0.0;
          point.miss += 100.0 * (bay->short_rh + bay->over_rh) + POINTS_PER_K * (bay->short_K + bay->over_K);
          point.holds = point.holds && bay->short_rh <= HELD_RH && bay->over_rh <= HELD_RH
                        && bay->short_K <= HELD_K && bay->over_K <= HELD_K;
        }
      g_array_append_val (curve->points, point);
    }
  curve->possible = TRUE;
  curve->least = find_least (curve);
  return TRUE;
}

gboolean
dew_sizing_walk (DewSizer *s, DewSizing sizing, DewSizingCurve *out)
{
  const DewVariant *variant = s->variant_id != 0 ? dew_chamber_variant (s->chamber, s->variant_id)
                                                 : dew_chamber_shown (s->chamber);

  switch (sizing)
    {
    case DEW_SIZING_POTS:
      return walk_pots (s, out, variant);
    case DEW_SIZING_HUMIDIFIER:
      return walk_humidifier (s, out, variant);
    case DEW_SIZING_VENT:
      return walk_vent (s, out, variant);
    case DEW_SIZING_LAMP:
      return walk_lamp (s, out, variant);
    default:
      g_return_val_if_reached (FALSE);
    }
}
