/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Small charts for the panes, in the manner of the sheet: ink on paper, no frame, the
 * units at the ends of the axes. Pure Cairo; no widget. */

#include <cairo.h>

#include "paint/palette.h"

G_BEGIN_DECLS

#define DEW_CHART_LINES 4
#define DEW_CHART_MARKS 2

typedef struct
{
  const double *x, *y; /* [n], units of the axes, lent */
  int n;
  gboolean soft; /* thin and in the softer ink */
} DewChartLine;

/* A point with its words beside it. */
typedef struct
{
  double x, y;
  const char *text; /* lent, may be NULL */
} DewChartMark;

typedef struct
{
  double x_hi, y_hi;           /* both axes begin at 0 */
  const char *x_text, *y_text; /* of the ends of the axes: "65 m³/h"; lent */
  DewChartLine line[DEW_CHART_LINES];
  int n_lines;
  DewChartMark mark[DEW_CHART_MARKS];
  int n_marks;
} DewChart;

/* Fills width x height px. font_px: height of the letters. */
void dew_chart_paint (cairo_t *cr, const DewChart *chart, const DewPalette *palette, double width,
                      double height, double font_px);

/* What is wanted against what is got, on one line: the wanted band as a bar, the value
 * as a tick with its own band beside it. Ends that are NAN are open. */
typedef struct
{
  double lo, hi; /* of the whole strip */
  double want_lo, want_hi;
  double got, band; /* band: NAN = not known */
  gboolean outside; /* the tick is drawn as what matters */
} DewStrip;

/* Sets lo and hi so that both fit with some room. */
void dew_strip_fit (DewStrip *strip, double least_span);
void dew_strip_paint (cairo_t *cr, const DewStrip *strip, const DewPalette *palette, double width,
                      double height);

G_END_DECLS
