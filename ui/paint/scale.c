/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/palette.h"

#include <math.h>

/* One row per value: the way of its scale and what is sensible for its range. */
typedef struct
{
  gboolean rising;                /* lightness rises with the value, else it falls */
  double chroma[3], hue[3];       /* at the low end, half-way, at the high end; degrees */
  gboolean from_zero;             /* the range starts at 0 */
  double floor, ceiling;          /* of the range, user's unit */
  double least_span;              /* metric unit */
  DewRange fixed, fixed_imperial; /* user's unit */
} DewScale;

#define NO_LIMIT 1e300

/* A higher value is mostly the darker end, as water darkens paper. Dryness (VPD)
 * and light run the other way, so that dry is pale and bright is bright. */
/* clang-format off */
static const DewScale scales[DEW_N_VALUES] = {
  [DEW_VALUE_TEMPERATURE] = { FALSE, { 0.030, 0.062, 0.135 }, { 298, 358, 42 },
          FALSE, -NO_LIMIT, NO_LIMIT, 2,
          { 5, 35, 5 }, { 40, 100, 10 } },
  [DEW_VALUE_RH] = { FALSE, { 0.075, 0.030, 0.098 }, { 92, 165, 236 },
          FALSE, 0, 100, 10,
          { 40, 100, 10 }, { 40, 100, 10 } },
  [DEW_VALUE_HUMIDITY_RATIO] = { FALSE, { 0.035, 0.050, 0.090 }, { 105, 160, 190 },
          FALSE, 0, NO_LIMIT, 1,
          { 4, 20, 4 }, { 4, 20, 4 } },
  [DEW_VALUE_VPD] = { TRUE, { 0.095, 0.045, 0.070 }, { 275, 330, 70 },
          TRUE, 0, NO_LIMIT, 0.2,
          { 0, 2, 0.5 }, { 0, 2, 0.5 } },
  [DEW_VALUE_SPEED] = { FALSE, { 0.016, 0.055, 0.125 }, { 80, 335, 308 },
          TRUE, 0, NO_LIMIT, 0.1,
          { 0, 1, 0.2 }, { 0, 200, 50 } },
  [DEW_VALUE_AGE] = { FALSE, { 0.030, 0.060, 0.095 }, { 170, 115, 78 },
          TRUE, 0, NO_LIMIT, 1,
          { 0, 30, 5 }, { 0, 30, 5 } },
  [DEW_VALUE_MIST] = { FALSE, { 0.010, 0.030, 0.070 }, { 90, 230, 262 },
          TRUE, 0, NO_LIMIT, 0.05,
          { 0, 1, 0.2 }, { 0, 1, 0.2 } },
  [DEW_VALUE_WETTING] = { FALSE, { 0.022, 0.050, 0.115 }, { 80, 215, 258 },
          TRUE, 0, NO_LIMIT, 10,
          { 0, 100, 20 }, { 0, 100, 20 } },
  [DEW_VALUE_PPFD] = { TRUE, { 0.050, 0.045, 0.105 }, { 305, 20, 95 },
          TRUE, 0, NO_LIMIT, 50,
          { 0, 300, 50 }, { 0, 300, 50 } },
};
/* clang-format on */

DewColour
dew_scale_colour (const DewPalette *palette, DewValue value, double fraction)
{
  const DewScale *scale;
  double pale, deep, muted, lightness, a[3], b[3];
  double w0, w1, w2;

  g_return_val_if_fail (palette != NULL && value < DEW_N_VALUES, (DewColour){ 0 });

  scale = &scales[value];
  fraction = isnan (fraction) ? 0 : CLAMP (fraction, 0, 1);

  /* The deep end stays pale enough for ink on light paper, the pale end deep
   * enough for light ink on slate: 3 : 1, WCAG 2.1, 1.4.11. */
  if (palette->dark)
    {
      pale = palette->high_contrast ? 0.62 : 0.605;
      deep = palette->high_contrast ? 0.30 : 0.315;
      muted = 0.82; /* sRGB holds less chroma in the dark */
    }
  else
    {
      pale = 0.945;
      deep = palette->high_contrast ? 0.61 : 0.57;
      muted = 1;
    }
  lightness = scale->rising ? deep + (pale - deep) * fraction : pale + (deep - pale) * fraction;

  for (int i = 0; i < 3; i++)
    {
      double radians = scale->hue[i] * G_PI / 180;

      a[i] = muted * scale->chroma[i] * cos (radians);
      b[i] = muted * scale->chroma[i] * sin (radians);
    }
  /* The parabola through the three points: no corner where hues meet. */
  w0 = 2 * (fraction - 0.5) * (fraction - 1);
  w1 = -4 * fraction * (fraction - 1);
  w2 = 2 * fraction * (fraction - 0.5);
  return dew_colour_from_oklab (lightness, w0 * a[0] + w1 * a[1] + w2 * a[2],
                                w0 * b[0] + w1 * b[1] + w2 * b[2]);
}

/* --- ranges -------------------------------------------------------------- */

/* The next of 1, 2, 5 x 10^n that is not less than `x`. */
static double
round_step (double x)
{
  double decade = pow (10, floor (log10 (x) + 1e-9));

  for (guint i = 0; i < 3; i++)
    {
      static const double steps[] = { 1, 2, 5 };

      if (x <= steps[i] * decade * (1 + 1e-9))
        return steps[i] * decade;
    }
  return 10 * decade;
}

static DewRange
from_user (DewValue value, DewTongue tongue, const DewRange *user)
{
  const DewUnit *unit = dew_unit (dew_value_measure (value), tongue);

  return (DewRange){ dew_unit_si (unit, user->lo), dew_unit_si (unit, user->hi),
                     user->step / unit->factor };
}

static DewRange
fit_range (DewValue value, DewTongue tongue, double lo, double hi)
{
  const DewScale *scale = &scales[value];
  /* What is sensible is written down in the metric unit. */
  double least = scale->least_span / dew_value_factor (value, DEW_TONGUE_METRIC)
                 * dew_value_factor (value, tongue);
  DewRange range;
  double lack;

  lo = scale->from_zero ? 0 : dew_value_to_user (value, lo, tongue);
  hi = dew_value_to_user (value, hi, tongue);

  lack = least - (hi - lo);
  if (lack > 0)
    {
      if (!scale->from_zero)
        lo -= lack / 2;
      hi = lo + least;
    }
  /* About four numbers in the legend. */
  range.step = round_step ((hi - lo) / 5);
  range.lo = MAX (floor (lo / range.step + 1e-6) * range.step, scale->floor);
  range.hi = MIN (ceil (hi / range.step - 1e-6) * range.step, scale->ceiling);
  if (range.hi - range.lo < least * (1 - 1e-9))
    range.lo = MAX (range.hi - least, scale->floor);

  return from_user (value, tongue, &range);
}

static gboolean
is_round (DewValue value, DewTongue tongue, const DewRange *range)
{
  double step = range->step * dew_value_factor (value, tongue);

  return step > 0 && fabs (round_step (step) / step - 1) < 1e-6;
}

gboolean
dew_range_follow (DewRange *range, DewValue value, DewTongue tongue, double lo, double hi)
{
  const double loosest = 1.7; /* old span over the best one */
  DewRange fit;
  double slack;

  g_return_val_if_fail (range != NULL && value < DEW_N_VALUES, FALSE);

  if (!isfinite (lo) || !isfinite (hi) || lo > hi)
    {
      lo = range->hi > range->lo ? range->lo : 0;
      hi = range->hi > range->lo ? range->hi : lo;
    }
  fit = fit_range (value, tongue, lo, hi);
  slack = 1e-9 * (fit.hi - fit.lo);
  if (range->hi > range->lo && is_round (value, tongue, range) && range->lo <= lo + slack
      && range->hi >= hi - slack && range->hi - range->lo <= loosest * (fit.hi - fit.lo))
    return FALSE;
  if (range->lo == fit.lo && range->hi == fit.hi)
    return FALSE;

  *range = fit;
  return TRUE;
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* A jet or an outlet is a few zones; the rest of the enclosure should not lose its colours
 * to them: the extremes without the outer hundredths. FALSE where nothing is known. */
static gboolean
extremes (DewValue value, const DewForecast *forecast, double *lo, double *hi)
{
  const double tail = 0.02;
  g_autofree double *sorted = NULL;
  int n = 0;

  *lo = *hi = NAN;
  if (forecast->value[value] == NULL)
    return FALSE;
  sorted = g_new (double, MAX (forecast->n_zones, 1));
  for (int i = 0; i < forecast->n_zones; i++)
    if (isfinite (forecast->value[value][i]))
      sorted[n++] = forecast->value[value][i];
  if (n == 0)
    return FALSE;

  qsort (sorted, n, sizeof (double), compare_doubles);
  *lo = sorted[(int) (tail * (n - 1))];
  *hi = sorted[(int) ceil ((1 - tail) * (n - 1))];
  return TRUE;
}

gboolean
dew_range_follow_forecast (DewRange *range, DewValue value, DewTongue tongue,
                           const DewForecast *forecast)
{
  double lo, hi;

  g_return_val_if_fail (range != NULL && forecast != NULL && value < DEW_N_VALUES, FALSE);

  extremes (value, forecast, &lo, &hi);
  return dew_range_follow (range, value, tongue, lo, hi);
}

gboolean
dew_range_widen (DewRange *range, DewValue value, DewTongue tongue, const DewForecast *forecast)
{
  const double most_steps = 9;
  DewRange wider;
  double lo, hi;

  g_return_val_if_fail (range != NULL && forecast != NULL && value < DEW_N_VALUES, FALSE);

  if (!extremes (value, forecast, &lo, &hi) || (lo >= range->lo && hi <= range->hi))
    return FALSE;
  wider = *range;
  if (lo < range->lo)
    wider.lo -= ceil ((range->lo - lo) / range->step - 1e-6) * range->step;
  if (hi > range->hi)
    wider.hi += ceil ((hi - range->hi) / range->step - 1e-6) * range->step;
  if (wider.hi - wider.lo > most_steps * range->step)
    {
      DewRange fit = { 0 };

      dew_range_follow (&fit, value, tongue, wider.lo, wider.hi);
      wider = fit;
    }
  *range = wider;
  return TRUE;
}

DewRange
dew_range_fixed (DewValue value, DewTongue tongue)
{
  const DewScale *scale;

  g_return_val_if_fail (value < DEW_N_VALUES, (DewRange){ 0 });

  scale = &scales[value];
  return from_user (value, tongue,
                    tongue == DEW_TONGUE_IMPERIAL ? &scale->fixed_imperial : &scale->fixed);
}

int
dew_range_decimals (const DewRange *range, DewValue value, DewTongue tongue)
{
  double step;

  g_return_val_if_fail (range != NULL && value < DEW_N_VALUES, 0);

  step = range->step * dew_value_factor (value, tongue);
  return step < 0.0995 ? 2 : step < 0.995 ? 1 : 0;
}

double
dew_range_fraction (const DewRange *range, double value)
{
  g_return_val_if_fail (range != NULL, NAN);

  if (isnan (value))
    return NAN;
  if (!(range->hi > range->lo))
    return 0;
  return CLAMP ((value - range->lo) / (range->hi - range->lo), 0, 1);
}
