/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A small chart of how something answers to more of something else: a line for
 * each bay, the wanted band behind, and marks at a few places. Plain Cairo. */

#include <cairo.h>

#include "paint/palette.h"

G_BEGIN_DECLS

#define DEW_CURVE_LINES_MAX 8
#define DEW_CURVE_MARKS_MAX 4

typedef struct
{
  const double *y;  /* [n], units of the reader; NAN: not known */
  const char *name; /* at its end */
} DewCurveLine;

typedef struct
{
  double x;
  const char *name; /* "now", "enough" */
  gboolean strong;  /* the one to take */
} DewCurveMark;

/* Everything is lent. */
typedef struct
{
  int n;           /* points */
  const double *x; /* [n], ascending, units of the reader */
  int x_digits;
  const char *x_title; /* under the axis, unit included */
  const char *y_unit;  /* after the highest number */
  int n_lines;
  DewCurveLine lines[DEW_CURVE_LINES_MAX];
  double y_most;           /* what y cannot pass; NAN: none */
  double want_lo, want_hi; /* of y; NAN: none */
  int n_marks;
  DewCurveMark marks[DEW_CURVE_MARKS_MAX];
} DewCurve;

/* text_scale: 1 = 10.5 pt at 96 dpi; font_family may be NULL. */
void dew_curve_paint (cairo_t *cr, const DewCurve *curve, const DewPalette *palette, double width,
                      double height, double text_scale, const char *font_family);

G_END_DECLS
