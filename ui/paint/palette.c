/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/palette.h"

#include <math.h>

/* --- OKLab -------------------------------------------------------------- */

/* IEC 61966-2-1, the sRGB transfer function. */
static double
srgb_to_linear (double v)
{
  return v <= 0.04045 ? v / 12.92 : pow ((v + 0.055) / 1.055, 2.4);
}

static double
linear_to_srgb (double v)
{
  return v <= 0.0031308 ? v * 12.92 : 1.055 * pow (v, 1 / 2.4) - 0.055;
}

/* Matrices: Ottosson 2020, "A perceptual color space for image processing". */
static void
oklab_to_linear (double lightness, double a, double b, double out[3])
{
  double l = lightness + 0.3963377774 * a + 0.2158037573 * b;
  double m = lightness - 0.1055613458 * a - 0.0638541728 * b;
  double s = lightness - 0.0894841775 * a - 1.2914855480 * b;

  l = l * l * l;
  m = m * m * m;
  s = s * s * s;
  out[0] = +4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s;
  out[1] = -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s;
  out[2] = -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s;
}

static gboolean
inside_srgb (const double linear[3])
{
  const double slack = 1e-6;

  for (int i = 0; i < 3; i++)
    if (linear[i] < -slack || linear[i] > 1 + slack)
      return FALSE;
  return TRUE;
}

DewColour
dew_colour_from_oklab (double lightness, double a, double b)
{
  double linear[3];

  lightness = CLAMP (lightness, 0, 1);
  oklab_to_linear (lightness, a, b, linear);
  if (!inside_srgb (linear))
    {
      double kept = 0, lost = 1;

      for (int i = 0; i < 24; i++)
        {
          double middle = (kept + lost) / 2;

          oklab_to_linear (lightness, a * middle, b * middle, linear);
          if (inside_srgb (linear))
            kept = middle;
          else
            lost = middle;
        }
      oklab_to_linear (lightness, a * kept, b * kept, linear);
    }

  return (DewColour){ linear_to_srgb (CLAMP (linear[0], 0, 1)),
                      linear_to_srgb (CLAMP (linear[1], 0, 1)),
                      linear_to_srgb (CLAMP (linear[2], 0, 1)) };
}

void
dew_colour_to_oklab (const DewColour *colour, double out[3])
{
  double r, g, b, l, m, s;

  g_return_if_fail (colour != NULL);

  r = srgb_to_linear (colour->r);
  g = srgb_to_linear (colour->g);
  b = srgb_to_linear (colour->b);
  l = cbrt (0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  m = cbrt (0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  s = cbrt (0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  out[0] = 0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s;
  out[1] = 1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s;
  out[2] = 0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s;
}

/* WCAG 2.1, "relative luminance". */
double
dew_colour_luminance (const DewColour *colour)
{
  g_return_val_if_fail (colour != NULL, 0);

  return 0.2126 * srgb_to_linear (colour->r) + 0.7152 * srgb_to_linear (colour->g)
         + 0.0722 * srgb_to_linear (colour->b);
}

/* WCAG 2.1, "contrast ratio". */
double
dew_colour_contrast (const DewColour *one, const DewColour *other)
{
  double a = dew_colour_luminance (one);
  double b = dew_colour_luminance (other);

  return (MAX (a, b) + 0.05) / (MIN (a, b) + 0.05);
}

/* --- the sheet ---------------------------------------------------------- */

/* Lightness, chroma, hue in degrees. */
static DewColour
lch (double lightness, double chroma, double hue)
{
  double radians = hue * G_PI / 180;

  return dew_colour_from_oklab (lightness, chroma * cos (radians), chroma * sin (radians));
}

static void
fill_light (DewPalette *palette, gboolean contrast)
{
  palette->paper = contrast ? lch (1, 0, 0) : lch (0.982, 0.007, 85);
  palette->air = contrast ? lch (1, 0, 0) : lch (0.955, 0.006, 85);
  palette->body = contrast ? lch (1, 0, 0) : lch (0.985, 0.008, 85);
  palette->ink = contrast ? lch (0, 0, 0) : lch (0.25, 0.022, 245);
  palette->ink_soft = contrast ? lch (0.30, 0, 0) : lch (0.51, 0.016, 245);
  palette->accent = contrast ? lch (0.42, 0.20, 8) : lch (0.53, 0.205, 10);
  palette->leaf = contrast ? lch (0.22, 0.05, 150) : lch (0.275, 0.070, 152);
  palette->streak = lch (0.30, 0.03, 245);
  palette->veil = lch (0.99, 0.004, 230);
}

static void
fill_dark (DewPalette *palette, gboolean contrast)
{
  palette->paper = contrast ? lch (0, 0, 0) : lch (0.225, 0.017, 250);
  palette->air = contrast ? lch (0, 0, 0) : lch (0.255, 0.017, 250);
  palette->body = contrast ? lch (0, 0, 0) : lch (0.205, 0.016, 250);
  palette->ink = contrast ? lch (1, 0, 0) : lch (0.935, 0.010, 85);
  palette->ink_soft = contrast ? lch (0.90, 0, 0) : lch (0.735, 0.014, 245);
  palette->accent = contrast ? lch (0.84, 0.13, 5) : lch (0.74, 0.155, 14);
  palette->leaf = contrast ? lch (0.94, 0.06, 150) : lch (0.92, 0.060, 152);
  palette->streak = lch (0.99, 0.004, 90);
  palette->veil = lch (0.90, 0.010, 230);
}

const DewPalette *
dew_palette_get (gboolean dark, gboolean high_contrast)
{
  static DewPalette palettes[4];
  static gsize ready;

  if (g_once_init_enter (&ready))
    {
      for (int i = 0; i < 4; i++)
        {
          palettes[i].dark = (i & 1) != 0;
          palettes[i].high_contrast = (i & 2) != 0;
          if (palettes[i].dark)
            fill_dark (&palettes[i], palettes[i].high_contrast);
          else
            fill_light (&palettes[i], palettes[i].high_contrast);
        }
      g_once_init_leave (&ready, 1);
    }

  return &palettes[(dark ? 1 : 0) | (high_contrast ? 2 : 0)];
}
