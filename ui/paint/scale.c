/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/palette.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* One row per value: the way of its scale and what is sensible for its range. */
typedef struct
{
  const char *label;
  const char *unit, *unit_imperial;
  double factor, offset; /* user's number = factor * value + offset */
  double factor_imperial, offset_imperial;
  int decimals;
  gboolean rising;                /* lightness rises with the value, else it falls */
  double chroma[3], hue[3];       /* at the low end, half-way, at the high end; degrees */
  gboolean from_zero;             /* the range starts at 0 */
  double floor, ceiling;          /* of the range, user's unit */
  double least_span;              /* user's unit */
  DewRange fixed, fixed_imperial; /* user's unit */
} DewScale;

#define NO_LIMIT 1e300

/* A higher value is mostly the darker end, as water darkens paper. Dryness (VPD)
 * and light run the other way, so that dry is pale and bright is bright. */
/* clang-format off */
static const DewScale scales[DEW_N_VALUES] = {
  [DEW_VALUE_TEMPERATURE] = { N_ ("Warmth"), "°C", "°F", 1, 0, 1.8, 32, 1, FALSE,
                              { 0.030, 0.062, 0.135 }, { 298, 358, 42 },
                              FALSE, -NO_LIMIT, NO_LIMIT, 2,
                              { 5, 35, 5 }, { 40, 100, 10 } },
  [DEW_VALUE_RH] = { N_ ("Humidity"), "%", "%", 100, 0, 100, 0, 0, FALSE,
                     { 0.075, 0.030, 0.098 }, { 92, 165, 236 },
                     FALSE, 0, 100, 10,
                     { 40, 100, 10 }, { 40, 100, 10 } },
  [DEW_VALUE_HUMIDITY_RATIO] = { N_ ("Water in the air"), "g/kg", "g/kg", 1000, 0, 1000, 0, 1,
                                 FALSE,
                                 { 0.035, 0.050, 0.090 }, { 105, 160, 190 },
                                 FALSE, 0, NO_LIMIT, 1,
                                 { 4, 20, 4 }, { 4, 20, 4 } },
  [DEW_VALUE_VPD] = { N_ ("Drying power"), "kPa", "kPa", 1e-3, 0, 1e-3, 0, 2, TRUE,
                      { 0.095, 0.045, 0.070 }, { 275, 330, 70 },
                      TRUE, 0, NO_LIMIT, 0.2,
                      { 0, 2, 0.5 }, { 0, 2, 0.5 } },
  [DEW_VALUE_SPEED] = { N_ ("Moving air"), "m/s", "ft/min", 1, 0, 196.8504, 0, 2, FALSE,
                        { 0.016, 0.055, 0.125 }, { 80, 335, 308 },
                        TRUE, 0, NO_LIMIT, 0.1,
                        { 0, 1, 0.2 }, { 0, 200, 50 } },
  [DEW_VALUE_AGE] = { N_ ("Age of air"), "min", "min", 1 / 60.0, 0, 1 / 60.0, 0, 1, FALSE,
                      { 0.030, 0.060, 0.095 }, { 170, 115, 78 },
                      TRUE, 0, NO_LIMIT, 1,
                      { 0, 30, 5 }, { 0, 30, 5 } },
  [DEW_VALUE_MIST] = { N_ ("Mist"), "g/kg", "g/kg", 1000, 0, 1000, 0, 2, FALSE,
                       { 0.010, 0.030, 0.070 }, { 90, 230, 262 },
                       TRUE, 0, NO_LIMIT, 0.05,
                       { 0, 1, 0.2 }, { 0, 1, 0.2 } },
  [DEW_VALUE_WETTING] = { N_ ("Wetness"), "mL/m²h", "mL/m²h", 3.6e6, 0, 3.6e6, 0, 0, FALSE,
                          { 0.022, 0.050, 0.115 }, { 80, 215, 258 },
                          TRUE, 0, NO_LIMIT, 10,
                          { 0, 100, 20 }, { 0, 100, 20 } },
  [DEW_VALUE_PPFD] = { N_ ("Light"), "µmol/m²s", "µmol/m²s", 1e6, 0, 1e6, 0, 0, TRUE,
                       { 0.050, 0.045, 0.105 }, { 305, 20, 95 },
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

static double
to_user (const DewScale *scale, gboolean imperial, double x)
{
  return imperial ? scale->factor_imperial * x + scale->offset_imperial
                  : scale->factor * x + scale->offset;
}

static DewRange
from_user (const DewScale *scale, gboolean imperial, const DewRange *user)
{
  double factor = imperial ? scale->factor_imperial : scale->factor;
  double offset = imperial ? scale->offset_imperial : scale->offset;

  return (DewRange){ (user->lo - offset) / factor, (user->hi - offset) / factor,
                     user->step / factor };
}

static double
step_to_user (const DewScale *scale, gboolean imperial, double step)
{
  return step * (imperial ? scale->factor_imperial : scale->factor);
}

static DewRange
fit_range (const DewScale *scale, gboolean imperial, double lo, double hi)
{
  /* What is sensible is written down in the metric unit. */
  double least
    = scale->least_span / scale->factor * (imperial ? scale->factor_imperial : scale->factor);
  DewRange range;
  double lack;

  lo = scale->from_zero ? 0 : to_user (scale, imperial, lo);
  hi = to_user (scale, imperial, hi);

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

  return from_user (scale, imperial, &range);
}

static gboolean
is_round (const DewScale *scale, gboolean imperial, const DewRange *range)
{
  double step = step_to_user (scale, imperial, range->step);

  return step > 0 && fabs (round_step (step) / step - 1) < 1e-6;
}

gboolean
dew_range_follow (DewRange *range, DewValue value, gboolean imperial, double lo, double hi)
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
  fit = fit_range (&scales[value], imperial, lo, hi);
  slack = 1e-9 * (fit.hi - fit.lo);
  if (range->hi > range->lo && is_round (&scales[value], imperial, range) && range->lo <= lo + slack
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

gboolean
dew_range_follow_forecast (DewRange *range, DewValue value, gboolean imperial,
                           const DewForecast *forecast)
{
  /* A jet or an outlet is a few zones; the rest of the enclosure should not
   * lose its colours to them. */
  const double tail = 0.02;
  g_autofree double *sorted = NULL;
  int n = 0;

  g_return_val_if_fail (range != NULL && forecast != NULL && value < DEW_N_VALUES, FALSE);

  if (forecast->value[value] == NULL)
    return dew_range_follow (range, value, imperial, NAN, NAN);

  sorted = g_new (double, MAX (forecast->n_zones, 1));
  for (int i = 0; i < forecast->n_zones; i++)
    if (isfinite (forecast->value[value][i]))
      sorted[n++] = forecast->value[value][i];
  if (n == 0)
    return dew_range_follow (range, value, imperial, NAN, NAN);

  qsort (sorted, n, sizeof (double), compare_doubles);
  return dew_range_follow (range, value, imperial, sorted[(int) (tail * (n - 1))],
                           sorted[(int) ceil ((1 - tail) * (n - 1))]);
}

DewRange
dew_range_fixed (DewValue value, gboolean imperial)
{
  const DewScale *scale;

  g_return_val_if_fail (value < DEW_N_VALUES, (DewRange){ 0 });

  scale = &scales[value];
  return from_user (scale, imperial, imperial ? &scale->fixed_imperial : &scale->fixed);
}

int
dew_range_decimals (const DewRange *range, DewValue value, gboolean imperial)
{
  double step;

  g_return_val_if_fail (range != NULL && value < DEW_N_VALUES, 0);

  step = step_to_user (&scales[value], imperial, range->step);
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

/* --- numbers for people --------------------------------------------------- */

const char *
dew_value_label (DewValue value)
{
  g_return_val_if_fail (value < DEW_N_VALUES, "");

  return _ (scales[value].label);
}

const char *
dew_value_unit (DewValue value, gboolean imperial)
{
  g_return_val_if_fail (value < DEW_N_VALUES, "");

  return imperial ? scales[value].unit_imperial : scales[value].unit;
}

double
dew_value_to_user (DewValue value, double x, gboolean imperial)
{
  g_return_val_if_fail (value < DEW_N_VALUES, NAN);

  return to_user (&scales[value], imperial, x);
}

/* '0', not '-0', and the minus sign of typography. */
static char *
number_text (double number, int decimals)
{
  double unit = pow (10, -decimals);

  if (fabs (number) < unit / 2)
    number = 0;
  if (number < 0)
    return g_strdup_printf ("−%.*f", decimals, -number);
  return g_strdup_printf ("%.*f", decimals, number);
}

/* A time in the unit that suits it. */
static char *
age_text (double seconds, double longest_in_s)
{
  if (seconds < longest_in_s)
    return g_strdup_printf ("%.0f s", seconds);
  if (seconds < 99.5 * 60)
    return g_strdup_printf ("%.*f min", seconds < 9.95 * 60 ? 1 : 0, seconds / 60);
  return g_strdup_printf ("%.*f h", seconds < 9.95 * 3600 ? 1 : 0, seconds / 3600);
}

static int
value_decimals (DewValue value, gboolean imperial)
{
  if (imperial && value == DEW_VALUE_SPEED)
    return 0;
  return scales[value].decimals;
}

char *
dew_value_text (DewValue value, double x, gboolean imperial)
{
  g_autofree char *number = NULL;
  double user;

  g_return_val_if_fail (value < DEW_N_VALUES, NULL);

  if (value == DEW_VALUE_AGE)
    return isnan (x) ? g_strdup (_ ("no exchange")) : age_text (x, 99.5);
  if (isnan (x))
    return g_strdup (_ ("not known"));

  user = dew_value_to_user (value, x, imperial);
  number = number_text (user, value_decimals (value, imperial));
  return g_strdup_printf ("%s %s", number, dew_value_unit (value, imperial));
}

char *
dew_band_text (DewValue value, double band, gboolean imperial)
{
  g_autofree char *number = NULL;
  int decimals;
  double user;

  g_return_val_if_fail (value < DEW_N_VALUES, NULL);

  if (!isfinite (band))
    return NULL;
  if (value == DEW_VALUE_AGE)
    {
      g_autofree char *text = age_text (fabs (band), 59.5);

      return g_strdup_printf ("± %s", text);
    }

  user = fabs (band) * (imperial ? scales[value].factor_imperial : scales[value].factor);
  decimals = value_decimals (value, imperial);
  /* A band that rounds to nothing would promise too much. */
  user = MAX (user, pow (10, -decimals));
  number = number_text (user, decimals);
  return g_strdup_printf ("± %s", number);
}

char *
dew_figure_text (double value, const char *unit)
{
  int decimals = fabs (value) >= 9.95 ? 0 : fabs (value) >= 0.995 ? 1 : 2;
  g_autofree char *number = number_text (value, decimals);

  g_return_val_if_fail (unit != NULL, NULL);

  /* The forecast writes its units in plain letters. */
  return g_strdup_printf ("%s %s", number, strcmp (unit, "mL/m2h") == 0 ? "mL/m²h" : unit);
}

char *
dew_length_text (double length_m, gboolean imperial)
{
  double number = imperial ? length_m / 0.0254 : length_m * 100;
  gboolean whole = fabs (number - round (number)) < 0.05;
  g_autofree char *text = number_text (number, whole ? 0 : 1);

  return g_strdup_printf ("%s %s", text, imperial ? "in" : "cm");
}

const char *
dew_month_name (int month)
{
  static const char *const names[12]
    = { N_ ("January"),   N_ ("February"), N_ ("March"),    N_ ("April"),
        N_ ("May"),       N_ ("June"),     N_ ("July"),     N_ ("August"),
        N_ ("September"), N_ ("October"),  N_ ("November"), N_ ("December") };

  g_return_val_if_fail (month >= 0 && month < 12, "");

  return _ (names[month]);
}

double
dew_climate_value (const DewClimate *climate, DewValue value, double *band)
{
  double ignored;

  g_return_val_if_fail (climate != NULL, NAN);

  if (band == NULL)
    band = &ignored;
  *band = NAN;
  switch (value)
    {
    case DEW_VALUE_TEMPERATURE:
      *band = climate->t_band_K;
      return climate->t_C;
    case DEW_VALUE_RH:
      *band = climate->rh_band;
      return climate->rh;
    case DEW_VALUE_HUMIDITY_RATIO:
      *band = climate->w_band_kg_kg;
      return climate->w_kg_kg;
    case DEW_VALUE_VPD:
      *band = climate->vpd_band_Pa;
      return climate->vpd_Pa;
    case DEW_VALUE_SPEED:
      *band = climate->speed_band_m_s;
      return climate->speed_m_s;
    case DEW_VALUE_AGE:
      *band = climate->age_band_s;
      return climate->age_s;
    case DEW_VALUE_MIST:
      return climate->mist_kg_kg;
    case DEW_VALUE_WETTING:
      return climate->wetting_kg_m2s;
    case DEW_VALUE_PPFD:
      return climate->ppfd_mol_m2s;
    case DEW_N_VALUES:
      break;
    }
  g_return_val_if_reached (NAN);
}
