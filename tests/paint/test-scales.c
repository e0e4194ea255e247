/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/palette.h"

#include <math.h>

#define STEPS 64

/* --- colour arithmetic, apart from the program's own ------------------------------ */

/* IEC 61966-2-1, sRGB to linear light. */
static double
to_linear (double v)
{
  return v <= 0.04045 ? v / 12.92 : pow ((v + 0.055) / 1.055, 2.4);
}

static void
linear_of (const DewColour *colour, double out[3])
{
  out[0] = to_linear (colour->r);
  out[1] = to_linear (colour->g);
  out[2] = to_linear (colour->b);
}

/* Luminance of linear sRGB, IEC 61966-2-1 (rounded as in WCAG 2.1). */
static double
luminance_of (const double linear[3])
{
  return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
}

/* CIE 1976 L*, CIE 15:2004, eq. 8.1. */
static double
cie_lightness (double luminance)
{
  double limit = 216.0 / 24389;

  return luminance > limit ? 116 * cbrt (luminance) - 16 : luminance * 24389 / 27;
}

/* What colour-blind eyes make of linear sRGB. */
typedef struct
{
  const char *name;
  double matrix[3][3];
} Vision;

/* clang-format off */
static const Vision visions[] = {
  { "all cones", { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } } },
  /* Vienot, Brettel, Mollon 1999, "Digital video colourmaps for checking the
   * legibility of displays by dichromats", as matrices for linear sRGB (from
   * memory, compared with three public programs that carry the same numbers). */
  { "protanope, Vienot", { { 0.11238, 0.88762, 0 }, { 0.11238, 0.88762, 0 },
                           { 0.00401, -0.00401, 1 } } },
  { "deuteranope, Vienot", { { 0.29275, 0.70725, 0 }, { 0.29275, 0.70725, 0 },
                             { -0.02234, 0.02234, 1 } } },
  /* Machado, Oliveira, Fernandes 2009, "A physiologically-based model for
   * simulation of color vision deficiency", severity 1.0 (from memory, compared
   * in the same way). */
  { "protanope, Machado", { { 0.152286, 1.052583, -0.204868 }, { 0.114503, 0.786281, 0.099216 },
                            { -0.003882, -0.048116, 1.051998 } } },
  { "deuteranope, Machado", { { 0.367322, 0.860646, -0.227968 }, { 0.280085, 0.672501, 0.047413 },
                              { -0.011820, 0.042940, 0.968881 } } },
  { "tritanope, Machado", { { 1.255528, -0.076749, -0.178779 }, { -0.078411, 0.930809, 0.147602 },
                            { 0.004733, 0.691367, 0.303900 } } },
};
/* clang-format on */

static void
see (const Vision *vision, const DewColour *colour, double linear[3])
{
  double full[3];

  linear_of (colour, full);
  for (int i = 0; i < 3; i++)
    {
      linear[i] = 0;
      for (int j = 0; j < 3; j++)
        linear[i] += vision->matrix[i][j] * full[j];
      linear[i] = CLAMP (linear[i], 0, 1);
    }
}

/* --- OKLab -------------------------------------------------------------------------- */

/* CSS Color Module Level 4, sample conversions of the primaries to oklch()
 * (from memory): lightness, chroma, hue in degrees. */
static void
test_oklab (void)
{
  static const struct
  {
    DewColour colour;
    double lightness, chroma, hue;
  } rows[] = {
    { { 1, 0, 0 }, 0.62796, 0.25768, 29.234 },
    { { 0, 1, 0 }, 0.86644, 0.29483, 142.495 },
    { { 0, 0, 1 }, 0.45201, 0.31321, 264.052 },
    { { 1, 1, 1 }, 1.0, 0.0, 0.0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double lab[3];
      DewColour back;

      dew_colour_to_oklab (&rows[i].colour, lab);
      g_assert_cmpfloat_with_epsilon (lab[0], rows[i].lightness, 2e-5);
      g_assert_cmpfloat_with_epsilon (hypot (lab[1], lab[2]), rows[i].chroma, 2e-5);
      if (rows[i].chroma > 0)
        g_assert_cmpfloat_with_epsilon (fmod (atan2 (lab[2], lab[1]) * 180 / G_PI + 360, 360),
                                        rows[i].hue, 2e-2);
      back = dew_colour_from_oklab (lab[0], lab[1], lab[2]);
      g_assert_cmpfloat_with_epsilon (back.r, rows[i].colour.r, 2e-3);
      g_assert_cmpfloat_with_epsilon (back.g, rows[i].colour.g, 2e-3);
      g_assert_cmpfloat_with_epsilon (back.b, rows[i].colour.b, 2e-3);
    }
}

/* Outside sRGB: lightness stays, chroma goes. */
static void
test_gamut (void)
{
  for (int hue = 0; hue < 360; hue += 15)
    {
      DewColour colour
        = dew_colour_from_oklab (0.7, 0.4 * cos (hue * G_PI / 180), 0.4 * sin (hue * G_PI / 180));
      double lab[3];

      dew_colour_to_oklab (&colour, lab);
      g_assert_cmpfloat_with_epsilon (lab[0], 0.7, 2e-3);
      g_assert_cmpfloat (hypot (lab[1], lab[2]), <, 0.4);
      g_assert_cmpfloat (hypot (lab[1], lab[2]), >, 0.08);
    }
}

/* WCAG 2.1: black on white is 21 : 1; W3C's own note on rounding takes #777 on
 * white as 4.48 : 1, just short of 4.5 (from memory). */
static void
test_contrast (void)
{
  const DewColour white = { 1, 1, 1 }, black = { 0, 0, 0 };
  const DewColour grey = { 0x77 / 255.0, 0x77 / 255.0, 0x77 / 255.0 };

  g_assert_cmpfloat_with_epsilon (dew_colour_contrast (&white, &black), 21, 1e-9);
  g_assert_cmpfloat_with_epsilon (dew_colour_contrast (&black, &white), 21, 1e-9);
  g_assert_cmpfloat_with_epsilon (dew_colour_contrast (&grey, &white), 4.48, 0.005);
}

/* --- scales --------------------------------------------------------------------------- */

/* Every scale, on every sheet and for every eye, gets steadily lighter or darker:
 * it can be read in grey. Ten parts of it differ by at least 1.5 of L* each,
 * about 1.5 just noticeable differences (common practice, no source). */
static void
test_monotonic (void)
{
  const double least_step = 1.5;

  for (int sheet = 0; sheet < 4; sheet++)
    for (int value = 0; value < DEW_N_VALUES; value++)
      for (guint v = 0; v < G_N_ELEMENTS (visions); v++)
        {
          const DewPalette *palette = dew_palette_get (sheet & 1, sheet & 2);
          double first = 0, last = 0, before = 0, tenth = 0, sign;

          for (int i = 0; i <= STEPS; i += STEPS)
            {
              DewColour colour = dew_scale_colour (palette, value, (double) i / STEPS);
              double linear[3];

              see (&visions[v], &colour, linear);
              *(i == 0 ? &first : &last) = cie_lightness (luminance_of (linear));
            }
          sign = last > first ? 1 : -1;
          for (int i = 0; i <= 60; i++)
            {
              DewColour colour = dew_scale_colour (palette, value, i / 60.0);
              double linear[3], lightness;

              see (&visions[v], &colour, linear);
              lightness = cie_lightness (luminance_of (linear));
              if (i > 0 && sign * (lightness - before) <= 0)
                g_error ("%s is not monotonic for %s near %d/60 on sheet %d",
                         dew_value_label (value), visions[v].name, i, sheet);
              before = lightness;
              if (i % 6 == 0)
                {
                  if (i > 0 && fabs (lightness - tenth) < least_step)
                    g_error ("%s: a tenth near %d/60 is only %.2f L* for %s on sheet %d",
                             dew_value_label (value), i, fabs (lightness - tenth), visions[v].name,
                             sheet);
                  tenth = lightness;
                }
            }
        }
}

/* IEC 61966-2-1, linear light to sRGB. */
static double
to_srgb (double v)
{
  return v <= 0.0031308 ? v * 12.92 : 1.055 * pow (v, 1 / 2.4) - 0.055;
}

/* No scale sets red against green: the span from end to end, in OKLab, loses
 * less than 30 % to colour-blind eyes, and no two neighbouring tenths fall
 * together (a just noticeable difference is about 0.02; common practice, no
 * source). */
static void
test_distinct (void)
{
  for (int sheet = 0; sheet < 4; sheet++)
    for (int value = 0; value < DEW_N_VALUES; value++)
      {
        double full_span = 0;

        for (guint v = 0; v < G_N_ELEMENTS (visions); v++)
          {
            double seen[11][3], span;

            for (int i = 0; i <= 10; i++)
              {
                DewColour colour
                  = dew_scale_colour (dew_palette_get (sheet & 1, sheet & 2), value, i / 10.0);
                double linear[3];

                see (&visions[v], &colour, linear);
                colour
                  = (DewColour){ to_srgb (linear[0]), to_srgb (linear[1]), to_srgb (linear[2]) };
                dew_colour_to_oklab (&colour, seen[i]);
                if (i > 0)
                  g_assert_cmpfloat (hypot (hypot (seen[i][0] - seen[i - 1][0],
                                                   seen[i][1] - seen[i - 1][1]),
                                            seen[i][2] - seen[i - 1][2]),
                                     >, 0.02);
              }
            span = hypot (hypot (seen[10][0] - seen[0][0], seen[10][1] - seen[0][1]),
                          seen[10][2] - seen[0][2]);
            if (v == 0)
              full_span = span;
            g_assert_cmpfloat (span, >, 0.7 * full_span);
          }
      }
}

/* WCAG 2.1, 1.4.3 (text, 4.5 : 1) and 1.4.11 (lines that carry meaning, 3 : 1). */
static void
test_legible (void)
{
  for (int sheet = 0; sheet < 4; sheet++)
    {
      const DewPalette *p = dew_palette_get (sheet & 1, sheet & 2);
      const DewColour *grounds[] = { &p->paper, &p->body, &p->air };
      const DewColour *texts[] = { &p->ink, &p->ink_soft, &p->accent };

      for (guint g = 0; g < G_N_ELEMENTS (grounds); g++)
        for (guint t = 0; t < G_N_ELEMENTS (texts); t++)
          g_assert_cmpfloat (dew_colour_contrast (texts[t], grounds[g]), >=, 4.5);
      if (p->high_contrast)
        g_assert_cmpfloat (dew_colour_contrast (&p->ink_soft, &p->paper), >=, 7);

      for (int value = 0; value < DEW_N_VALUES; value++)
        for (int i = 0; i <= 20; i++)
          {
            DewColour field = dew_scale_colour (p, value, i / 20.0);
            /* The chip under the number of an isoline. */
            DewColour chip
              = { 0.82 * p->paper.r + 0.18 * field.r, 0.82 * p->paper.g + 0.18 * field.g,
                  0.82 * p->paper.b + 0.18 * field.b };

            g_assert_cmpfloat (dew_colour_contrast (&p->ink, &field), >=, 3);
            g_assert_cmpfloat (dew_colour_contrast (&p->leaf, &field), >=, 3);
            g_assert_cmpfloat (dew_colour_contrast (&p->ink, &chip), >=, 4.5);
          }
    }
}

/* --- ranges ------------------------------------------------------------------------------ */

static void
test_range_rounding (void)
{
  static const struct
  {
    DewValue value;
    double lo, hi;           /* of the picture */
    double want_lo, want_hi; /* of the legend */
  } rows[] = {
    { DEW_VALUE_RH, 0.72, 0.93, 0.70, 0.95 },      { DEW_VALUE_RH, 0.62, 1.00, 0.60, 1.00 },
    { DEW_VALUE_RH, 0.998, 1.00, 0.90, 1.00 }, /* never narrower than ten points */
    { DEW_VALUE_TEMPERATURE, 18.3, 22.7, 18, 23 }, { DEW_VALUE_TEMPERATURE, 20.0, 20.1, 19, 21.5 },
    { DEW_VALUE_TEMPERATURE, -3.4, 1.2, -4, 2 },   { DEW_VALUE_SPEED, 0.01, 0.38, 0, 0.4 },
    { DEW_VALUE_VPD, 120, 870, 0, 1000 },          { DEW_VALUE_AGE, 65, 1100, 0, 1200 },
    { DEW_VALUE_PPFD, 3e-6, 148e-6, 0, 150e-6 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DewRange range = { 0 };

      g_assert_true (dew_range_follow (&range, rows[i].value, FALSE, rows[i].lo, rows[i].hi));
      g_assert_cmpfloat (range.lo, <=, rows[i].lo + 1e-12);
      g_assert_cmpfloat (range.hi, >=, rows[i].hi - 1e-12);
      g_assert_cmpfloat_with_epsilon (range.lo, rows[i].want_lo, 1e-9 * (1 + fabs (range.lo)));
      g_assert_cmpfloat_with_epsilon (range.hi, rows[i].want_hi, 1e-9 * (1 + fabs (range.hi)));
      g_assert_cmpfloat ((range.hi - range.lo) / range.step, <, 8.5);
      g_assert_cmpfloat ((range.hi - range.lo) / range.step, >, 1.5);
    }
}

static void
test_range_rests (void)
{
  DewRange range = { 0 }, before;

  g_assert_true (dew_range_follow (&range, DEW_VALUE_TEMPERATURE, FALSE, 18.2, 22.8));
  before = range;
  /* A drag that moves the extremes a little leaves the colours alone. */
  g_assert_false (dew_range_follow (&range, DEW_VALUE_TEMPERATURE, FALSE, 18.4, 22.3));
  g_assert_false (dew_range_follow (&range, DEW_VALUE_TEMPERATURE, FALSE, 18.9, 22.0));
  g_assert_cmpmem (&range, sizeof range, &before, sizeof before);
  /* What does not fit, or would be a small part of the scale, moves it. */
  g_assert_true (dew_range_follow (&range, DEW_VALUE_TEMPERATURE, FALSE, 18.2, 24.1));
  g_assert_cmpfloat (range.hi, >=, 24.1);
  g_assert_true (dew_range_follow (&range, DEW_VALUE_TEMPERATURE, FALSE, 19.9, 21.0));
  g_assert_cmpfloat (range.hi - range.lo, <=, 3);
}

static void
test_fraction (void)
{
  const DewRange range = { 10, 20, 2 };

  g_assert_cmpfloat (dew_range_fraction (&range, 10), ==, 0);
  g_assert_cmpfloat (dew_range_fraction (&range, 12.5), ==, 0.25);
  g_assert_cmpfloat (dew_range_fraction (&range, 99), ==, 1);
  g_assert_cmpfloat (dew_range_fraction (&range, -5), ==, 0);
  g_assert_true (isnan (dew_range_fraction (&range, NAN)));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/scales/oklab", test_oklab);
  g_test_add_func ("/paint/scales/gamut", test_gamut);
  g_test_add_func ("/paint/scales/contrast", test_contrast);
  g_test_add_func ("/paint/scales/monotonic", test_monotonic);
  g_test_add_func ("/paint/scales/distinct", test_distinct);
  g_test_add_func ("/paint/scales/legible", test_legible);
  g_test_add_func ("/paint/scales/range-rounding", test_range_rounding);
  g_test_add_func ("/paint/scales/range-rests", test_range_rests);
  g_test_add_func ("/paint/scales/fraction", test_fraction);
  return g_test_run ();
}
