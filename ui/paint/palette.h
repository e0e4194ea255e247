/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Colours of the sheet and the scales that turn a forecast's values into
 * colour. Pure functions; no widget, no Cairo.
 *
 * A scale is a path through OKLab (B. Ottosson 2020, "A perceptual color space
 * for image processing"): lightness runs linearly from one end to the other,
 * so that a scale reads the same in grey print and for colour-blind eyes.
 */

#include "say/values.h"

G_BEGIN_DECLS

/* sRGB, each 0..1, not premultiplied. */
typedef struct
{
  double r, g, b;
} DewColour;

typedef struct
{
  gboolean dark;
  gboolean high_contrast;
  DewColour paper;    /* ground of the sheet */
  DewColour air;      /* inside of the enclosure while there is no forecast */
  DewColour body;     /* fill of drawn things */
  DewColour ink;      /* outlines, values */
  DewColour ink_soft; /* dimensions, captions; at least 4.5 : 1 on paper */
  DewColour accent;   /* what is selected or can be grabbed; 4.5 : 1 on paper */
  DewColour leaf;     /* strokes of plants */
  DewColour streak;   /* moving air, over the field */
  DewColour veil;     /* mist */
} DewPalette;

/* One of four that live as long as the program. */
const DewPalette *dew_palette_get (gboolean dark, gboolean high_contrast);

/* OKLab to sRGB; what lies outside sRGB loses chroma, not lightness. */
DewColour dew_colour_from_oklab (double lightness, double a, double b);
void dew_colour_to_oklab (const DewColour *colour, double out[3]);

/* Relative luminance and contrast ratio, WCAG 2.1 definitions. */
double dew_colour_luminance (const DewColour *colour);
double dew_colour_contrast (const DewColour *one, const DewColour *other);

/* Colour at `fraction` (0..1, clamped) of the scale of `value`. */
DewColour dew_scale_colour (const DewPalette *palette, DewValue value, double fraction);

/* Ends of a scale, in the value's own unit (see DewValue), on round numbers. */
typedef struct
{
  double lo, hi;
  double step; /* between the numbers of the legend and between isolines */
} DewRange;

/* Follows the extremes lo..hi of a picture with `range` (zeroed at first):
 * rounded outward, never narrower than is sensible for the value, and left
 * alone as long as the old range still fits well, so that colours do not
 * flicker while something is dragged. Its numbers are round in the user's unit;
 * an old range that is round only in the other unit does not fit. Returns whether
 * it changed. */
gboolean dew_range_follow (DewRange *range, DewValue value, DewTongue tongue, double lo, double hi);
/* The same from a forecast's zones. */
gboolean dew_range_follow_forecast (DewRange *range, DewValue value, DewTongue tongue,
                                    const DewForecast *forecast);
/* A range that holds still: chosen once for a document, from what its plants want (of all
 * variants) and what its room has by day and by night, rounded as above. Humidity always ends
 * at saturation. */
DewRange dew_range_choose (DewValue value, DewTongue tongue, const DewChamber *chamber);
/* Widens it until it holds the zones of a forecast but for the last hundredths, never
 * narrows it; its step stays unless there would be too many. Returns whether it changed. */
gboolean dew_range_widen (DewRange *range, DewValue value, DewTongue tongue,
                          const DewForecast *forecast);
/* The band in which every one of the plants is content, of those that are selected, or else
 * of those that stand between two heights; FALSE where none of them has a wish of this value,
 * or no value pleases all. */
gboolean dew_wanted_band (DewValue value, const DewChamber *chamber, const DewVariant *variant,
                          const guint *selection, guint n_selection, const double z_m[2],
                          gboolean night, DewRange *band);
/* The range that is useful for humid enclosures as a whole, the same for every
 * forecast: pictures beside each other can be compared. */
DewRange dew_range_fixed (DewValue value, DewTongue tongue);
/* How many decimals the numbers at its steps need, in the user's unit. */
int dew_range_decimals (const DewRange *range, DewValue value, DewTongue tongue);
/* 0..1, clamped. NAN stays NAN. */
double dew_range_fraction (const DewRange *range, double value);

G_END_DECLS
