/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The values of a forecast for people: their names, and number and unit apart, so that
 * nobody cuts words to pieces. What is newly allocated is freed with g_free(). */

#include "forecast/forecast.h"
#include "say/units.h"

G_BEGIN_DECLS

/* '84' and '%'; '3' and 'min'. Without a figure ('no exchange', 'not known') the words stand
 * in `number` and the unit is empty. */
typedef struct
{
  char number[128];
  const char *unit; /* without a space before it; lives as long as the program */
} DewFigure;

/* 'Humidity', 'Warmth' ... in the user's language. */
const char *dew_value_label (DewValue value);
/* What it is measured in. An age is no measure: its unit suits the figure. */
DewMeasure dew_value_measure (DewValue value);
/* '%', '°C': of a column; "min" for ages. */
const char *dew_value_unit (DewValue value, DewTongue tongue);
/* The number of `x` (unit of DewValue) in that unit: 84 for 0.84; and what a difference
 * of 1 is there. */
double dew_value_to_user (DewValue value, double x, DewTongue tongue);
double dew_value_factor (DewValue value, DewTongue tongue);

/* `x` as people read it, and its band in the same decimals, never less than the last of
 * them: FALSE while the band is unknown. */
DewFigure dew_value_figure (DewValue value, double x, DewTongue tongue);
gboolean dew_band_figure (DewValue value, double band, DewTongue tongue, DewFigure *figure);

/* '84 %', '20.1 °C', 'no exchange' for an age that does not exist. Newly allocated. */
char *dew_value_text (DewValue value, double x, DewTongue tongue);
/* '± 4', or NULL while the band is unknown; the unit is that of the value, but for ages
 * ('± 20 s'). Newly allocated. */
char *dew_band_text (DewValue value, double band, DewTongue tongue);
/* Both of a climate, '84 % ± 4', kept together where lines break. Newly allocated. */
char *dew_climate_text (const DewClimate *climate, DewValue value, DewTongue tongue);

/* '40 cm' or '15.7 in': of a dimension. Newly allocated. */
char *dew_length_text (double length_m, DewTongue tongue);

/* The value and its band in a climate, units of DewValue; band may be NULL. */
double dew_climate_value (const DewClimate *climate, DewValue value, double *band);

G_END_DECLS
