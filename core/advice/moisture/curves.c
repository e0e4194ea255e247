/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/moisture/moisture-private.h"

#include <math.h>
#include <string.h>

#define HELD_RH 0.005 /* a bay that misses its band by less holds it */
#define HELD_K 0.1
#define POINTS_PER_K 5.0 /* a kelvin counts as much as this many points of humidity */
#define BISECTIONS 3
#define UP_MOST 4 /* larger values that are tried when settled zones say no */
#define UP_FACTOR 1.5
#define CLOSE_ENOUGH 0.15 /* of an output: humidifiers are not sold more finely */
#define DOWN_MOST 10
#define KNEE_LEAST 0.1 /* of the whole way: flatter curves have no knee */
#define FOGGY_RH 0.97

/* --- one point ----------------------------------------------------------- */

static void
judge_bay (const DewBandWish *wish, DewSizingBay *bay)
{
  double low_rh = MIN (bay->rh, bay->rh_night), high_rh = MAX (bay->rh, bay->rh_night);

  /* Comparisons with an unknown limit (NAN) are false: nothing is missed. */
  bay->short_rh = low_rh < wish->rh_lo ? wish->rh_lo - low_rh : 0.0;
  bay->over_rh = high_rh > wish->rh_hi ? high_rh - wish->rh_hi : 0.0;
  bay->short_K
    = MAX (bay->t_C < wish->t_day_lo_C ? wish->t_day_lo_C - bay->t_C : 0.0,
           bay->t_night_C < wish->t_night_lo_C ? wish->t_night_lo_C - bay->t_night_C : 0.0);
  bay->over_K
    = MAX (bay->t_C > wish->t_day_hi_C ? bay->t_C - wish->t_day_hi_C : 0.0,
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

      if (thing->kind == DEW_THING_POT)
        point->pots[dew_bay_at (s->z_m, point->n_bays, thing->pot.z_m)]++;
    }
}

void
dew_sizing_judge (const DewSizer *s, const DewLayout *layout, gboolean settled,
                  gboolean warmth_counts, DewSizingPoint *out)
{
  out->n_bays = s->advice->n_bays;
  g_free (out->bays);
  out->bays = g_new0 (DewSizingBay, out->n_bays);
  for (int b = 0; b < out->n_bays; b++)
    out->bays[b] = (DewSizingBay){ .t_C = layout->day->bays[b].mean.t_C,
                                   .rh = layout->day->bays[b].mean.rh,
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
      double low = MIN (is->rh, is->rh_night) - wish->rh_lo,
             high = wish->rh_hi - MAX (is->rh, is->rh_night);
      double room = MIN (isnan (low) ? G_MAXDOUBLE : low, isnan (high) ? G_MAXDOUBLE : high);

      if (room < least)
        {
          least = room;
          *bay = b;
        }
    }
  return least;
}

/* --- walking ------------------------------------------------------------- */

/* Forecasts values of a curve and adds their points. layouts: [n] arrays of DewPot or NULL. */
gboolean
dew_sizing_add_points (DewSizer *s, DewSizingCurve *curve, const double *x, GArray *const *layouts,
                       int n, DewGrid grid)
{
  g_autoptr (GPtrArray) made = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_layout_free);

  for (int i = 0; i < n; i++)
    {
      DewLayout *layout = dew_layout_new (s->chamber);

      dew_sizing_set (layout->chamber, s->variant_id, curve->sizing, x[i],
                      layouts != NULL ? layouts[i] : NULL);
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
      dew_sizing_judge (s, layout, grid == DEW_GRID_SETTLED, curve->sizing == DEW_SIZING_VENT,
                        &point);
      while (at < curve->points->len
             && g_array_index (curve->points, DewSizingPoint, at).x < x[i] - 1e-12)
        at++;
      if (at < curve->points->len
          && fabs (g_array_index (curve->points, DewSizingPoint, at).x - x[i]) <= 1e-12)
        g_array_remove_index (curve->points, at);
      g_array_insert_val (curve->points, at, point);
    }
  return TRUE;
}

int
dew_sizing_find_least (const DewSizingCurve *curve, gboolean settled)
{
  gboolean largest = curve->sizing == DEW_SIZING_VENT;
  int found = -1;

  for (guint p = 0; p < curve->points->len; p++)
    {
      const DewSizingPoint *point = &g_array_index (curve->points, DewSizingPoint, p);

      if (point->holds && (point->settled || !settled) && (found < 0 || largest))
        found = p;
    }
  return found;
}

static int
find_lowest (const DewSizingCurve *curve)
{
  int best = -1;

  for (guint p = 0; p < curve->points->len; p++)
    if (best < 0
        || g_array_index (curve->points, DewSizingPoint, p).miss
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

int
dew_sizing_nearest (const DewSizingCurve *curve, double x)
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

gboolean
dew_sizing_settle (DewSizer *s, DewSizingCurve *curve, double x, GArray *layout, gboolean *holds)
{
  g_autoptr (GArray) kept = layout != NULL ? g_array_ref (layout) : NULL;
  int at;

  if (!dew_sizing_add_points (s, curve, &x, layout != NULL ? &layout : NULL, 1, DEW_GRID_SETTLED))
    return FALSE;
  at = dew_sizing_nearest (curve, x);
  *holds = at >= 0 && g_array_index (curve->points, DewSizingPoint, at).settled
           && g_array_index (curve->points, DewSizingPoint, at).holds;
  return TRUE;
}

/* What comes nearest is told, so it is settled too. */
static gboolean
settle_knee (DewSizer *s, DewSizingCurve *curve)
{
  int at = find_knee (curve);
  const DewSizingPoint *point;
  gboolean holds;

  if (at < 0)
    at = find_lowest (curve);
  if (at < 0)
    return TRUE;
  point = &g_array_index (curve->points, DewSizingPoint, at);
  return point->settled || dew_sizing_settle (s, curve, point->x, point->layout, &holds);
}

gboolean
dew_sizing_end_walk (DewSizer *s, DewSizingCurve *curve, double present_x)
{
  if (dew_sizing_find_least (curve, TRUE) < 0 && !settle_knee (s, curve))
    return FALSE;
  curve->least = dew_sizing_find_least (curve, TRUE);
  curve->knee = find_knee (curve);
  curve->present = present_x >= 0.0 ? dew_sizing_nearest (curve, present_x) : -1;
  return TRUE;
}

/* --- humidifier and vents ------------------------------------------------ */

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

/* From what holds on draft zones upward until it holds on settled ones, then down to the smallest
 * that does. */
static gboolean
settle_output (DewSizer *s, DewSizingCurve *curve, double output)
{
  int at = dew_sizing_find_least (curve, FALSE);
  double hi, lo = 0.0, next;
  gboolean holds = FALSE;

  if (at < 0)
    return TRUE;
  hi = g_array_index (curve->points, DewSizingPoint, at).x;
  next = at > 0 ? g_array_index (curve->points, DewSizingPoint, at - 1).x : 0.0;
  if (!dew_sizing_settle (s, curve, hi, NULL, &holds))
    return FALSE;
  for (int up = 0; up < UP_MOST && !holds && hi < output; up++)
    {
      lo = hi;
      hi = MIN (output, UP_FACTOR * hi);
      next = 0.5 * (lo + hi);
      if (!dew_sizing_settle (s, curve, hi, NULL, &holds))
        return FALSE;
    }
  if (!holds || hi <= 0.0)
    return TRUE;
  if (lo == 0.0)
    {
      if (!dew_sizing_settle (s, curve, 0.0, NULL, &holds))
        return FALSE;
      if (holds)
        return TRUE;
    }
  for (int down = 0; down < DOWN_MOST && hi - lo > CLOSE_ENOUGH * hi; down++)
    {
      double x = next > lo && next < hi ? next : 0.5 * (lo + hi);

      if (!dew_sizing_settle (s, curve, x, NULL, &holds))
        return FALSE;
      *(holds ? &hi : &lo) = x;
      next = 0.0;
    }
  return TRUE;
}

/* Where nothing holds: closer round the value that comes nearest. */
static gboolean
walk_near_lowest (DewSizer *s, DewSizingCurve *curve)
{
  const DewSizingPoint *p = (const DewSizingPoint *) curve->points->data;
  int lowest = find_lowest (curve), beside = 0;
  double near[2];

  if (lowest > 0)
    near[beside++] = 0.5 * (p[lowest].x + p[lowest - 1].x);
  if (lowest >= 0 && lowest + 1 < (int) curve->points->len)
    near[beside++] = 0.5 * (p[lowest].x + p[lowest + 1].x);
  return dew_sizing_add_points (s, curve, near, NULL, beside, DEW_GRID_DRAFT);
}

static gboolean
walk_humidifier (DewSizer *s, DewSizingCurve *curve, const DewVariant *variant)
{
  static const double shares[]
    = { 0.0, 1.0 / 64, 1.0 / 32, 1.0 / 16, 1.0 / 8, 1.0 / 4, 1.0 / 2, 1.0 };
  double x[G_N_ELEMENTS (shares)], output;
  int n;

  output = dew_sizing_output_kg_s (variant, &n);
  if (n == 0 || output <= 0.0)
    {
      curve->trouble = n == 0 ? DEW_SIZING_NO_HUMIDIFIER : DEW_SIZING_NO_OUTPUT;
      return TRUE;
    }
  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    x[i] = shares[i] * output;
  if (!dew_sizing_add_points (s, curve, x, NULL, G_N_ELEMENTS (shares), DEW_GRID_DRAFT))
    return FALSE;
  drop_foggy_end (curve);
  for (int bisection = 0; bisection < BISECTIONS; bisection++)
    {
      int least = dew_sizing_find_least (curve, FALSE);
      double middle;

      if (least <= 0)
        break;
      middle = 0.5
               * (g_array_index (curve->points, DewSizingPoint, least).x
                  + g_array_index (curve->points, DewSizingPoint, least - 1).x);
      if (!dew_sizing_add_points (s, curve, &middle, NULL, 1, DEW_GRID_DRAFT))
        return FALSE;
    }
  if (dew_sizing_find_least (curve, FALSE) < 0 && !walk_near_lowest (s, curve))
    return FALSE;
  curve->possible = curve->points->len > 1;
  return settle_output (s, curve, output) && dew_sizing_end_walk (s, curve, -1.0);
}

static gboolean
walk_vent (DewSizer *s, DewSizingCurve *curve, const DewVariant *variant)
{
  static const double x[] = { 0.0, 0.1, 0.25, 0.5, 0.75, 1.0 };
  double open;

  if (dew_sizing_vents (variant, &open) == 0)
    {
      curve->trouble = DEW_SIZING_NO_OPENING;
      return TRUE;
    }
  if (!dew_sizing_add_points (s, curve, x, NULL, G_N_ELEMENTS (x), DEW_GRID_SETTLED))
    return FALSE;
  curve->possible = curve->points->len > 1;
  return dew_sizing_end_walk (s, curve, open);
}

gboolean
dew_sizing_walk (DewSizer *s, DewSizing sizing, DewSizingCurve *out)
{
  const DewVariant *variant = dew_chamber_variant (s->chamber, s->variant_id);

  switch (sizing)
    {
    case DEW_SIZING_POTS:
      return dew_sizing_walk_pots (s, out, variant);
    case DEW_SIZING_HUMIDIFIER:
      return walk_humidifier (s, out, variant);
    case DEW_SIZING_VENT:
      return walk_vent (s, out, variant);
    default:
      g_return_val_if_reached (FALSE);
    }
}
