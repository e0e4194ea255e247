/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/curve.h"

#include "paint/sheet-private.h"

#include <math.h>

/* The chart on its way to the paper. */
typedef struct
{
  const DewCurve *curve;
  DewPen pen;
  DewTextMeter meter;
  DewRect plot; /* px */
  double x_lo, x_hi, y_lo, y_hi, y_step;
} Chart;

static double
px_x (const Chart *chart, double x)
{
  return chart->plot.x + chart->plot.width * (x - chart->x_lo) / (chart->x_hi - chart->x_lo);
}

static double
px_y (const Chart *chart, double y)
{
  return chart->plot.y + chart->plot.height * (chart->y_hi - y) / (chart->y_hi - chart->y_lo);
}

/* A step of 1, 2 or 5 that gives about `n` numbers. */
static double
round_step (double span, int n)
{
  double raw = span / n, decade = pow (10.0, floor (log10 (raw)));

  return decade
         * (raw <= decade         ? 1.0
            : raw <= 2.0 * decade ? 2.0
            : raw <= 5.0 * decade ? 5.0
                                  : 10.0);
}

static void
find_ranges (Chart *chart)
{
  const DewCurve *curve = chart->curve;
  double lo = INFINITY, hi = -INFINITY;

  for (int k = 0; k < curve->n_lines; k++)
    for (int i = 0; i < curve->n; i++)
      if (isfinite (curve->lines[k].y[i]))
        {
          lo = MIN (lo, curve->lines[k].y[i]);
          hi = MAX (hi, curve->lines[k].y[i]);
        }
  if (isfinite (curve->want_lo))
    {
      lo = MIN (lo, curve->want_lo);
      hi = MAX (hi, curve->want_lo);
    }
  if (!isfinite (lo))
    lo = hi = 0.0;
  if (hi - lo < 1.0)
    hi = lo + 1.0;
  chart->y_step = round_step (hi - lo, 3);
  chart->y_lo = floor (lo / chart->y_step - 0.1) * chart->y_step;
  chart->y_hi = ceil (hi / chart->y_step + 0.1) * chart->y_step;
  if (isfinite (curve->y_most))
    chart->y_hi = MIN (chart->y_hi, MAX (curve->y_most, hi));
  chart->x_lo = curve->x[0];
  chart->x_hi = curve->x[curve->n - 1];
  if (!(chart->x_hi > chart->x_lo))
    chart->x_hi = chart->x_lo + 1.0;
}

static double
text_width (const Chart *chart, const char *text)
{
  double width, height;

  dew_text_measure (&chart->meter, DEW_TEXT_NUMBER, text, &width, &height);
  return width;
}

static void
place_plot (Chart *chart, double width, double height)
{
  const DewCurve *curve = chart->curve;
  double unit = chart->pen.unit, right = 0.0, line_height, left;
  g_autofree char *highest = g_strdup_printf ("%.0f %s", chart->y_hi, curve->y_unit);

  dew_text_measure (&chart->meter, DEW_TEXT_NUMBER, highest, &left, &line_height);
  for (int k = 0; k < curve->n_lines; k++)
    right = MAX (right, text_width (chart, curve->lines[k].name));
  chart->plot.x = left + 8.0 * unit;
  chart->plot.y = line_height + 6.0 * unit;
  chart->plot.width = MAX (width - chart->plot.x - right - 10.0 * unit, 20.0);
  chart->plot.height = MAX (height - chart->plot.y - 2.2 * line_height - 8.0 * unit, 20.0);
}

static void
paint_ground (const Chart *chart)
{
  const DewCurve *curve = chart->curve;
  const DewPen *pen = &chart->pen;
  const DewRect *plot = &chart->plot;

  if (isfinite (curve->want_lo))
    {
      double hi = isfinite (curve->want_hi) ? MIN (curve->want_hi, chart->y_hi) : chart->y_hi;
      double lo = MAX (curve->want_lo, chart->y_lo);

      if (hi > lo)
        {
          dew_pen_colour (pen, &pen->palette->ink, 0.07);
          cairo_rectangle (pen->cr, plot->x, px_y (chart, hi), plot->width,
                           px_y (chart, lo) - px_y (chart, hi));
          cairo_fill (pen->cr);
        }
    }
  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  for (double y = chart->y_lo; y <= chart->y_hi + 1e-9; y += chart->y_step)
    {
      gboolean last = y + chart->y_step > chart->y_hi + 1e-9;
      g_autofree char *text
        = last ? g_strdup_printf ("%.0f %s", y, curve->y_unit) : g_strdup_printf ("%.0f", y);

      dew_pen_colour (pen, &pen->palette->ink_soft, 0.25);
      dew_pen_line (pen, plot->x, dew_crisp (px_y (chart, y)), plot->x + plot->width,
                    dew_crisp (px_y (chart, y)));
      dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, plot->x - 6.0 * pen->unit,
                    px_y (chart, y), 1, 0.5, text);
    }
}

static void
paint_axis (const Chart *chart)
{
  const DewCurve *curve = chart->curve;
  const DewPen *pen = &chart->pen;
  double y = chart->plot.y + chart->plot.height, last_end = -1e9;
  double step = round_step (chart->x_hi - chart->x_lo, 5);

  if (curve->x_digits == 0)
    step = MAX (step, 1.0);
  for (double x = ceil (chart->x_lo / step - 1e-9) * step; x <= chart->x_hi + 1e-9; x += step)
    {
      /* No "-0". */
      g_autofree char *text = g_strdup_printf ("%.*f", curve->x_digits, x + 0.0);
      double half = text_width (chart, text) / 2.0, at = px_x (chart, x);

      dew_pen_colour (pen, &pen->palette->ink_soft, 0.8);
      dew_pen_line (pen, dew_crisp (at), y, dew_crisp (at), y + 4.0 * pen->unit);
      if (at - half < last_end + 6.0 * pen->unit)
        continue;
      last_end = at + half;
      dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, at, y + 5.0 * pen->unit, 0.5,
                    0, text);
    }
  dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1,
                chart->plot.x + chart->plot.width / 2.0, y + 20.0 * pen->unit, 0.5, 0,
                curve->x_title);
}

static void
paint_marks (const Chart *chart)
{
  const DewPen *pen = &chart->pen;
  double last_end = -1e9;

  for (int i = 0; i < chart->curve->n_marks; i++)
    {
      const DewCurveMark *mark = &chart->curve->marks[i];
      const DewColour *ink = mark->strong ? &pen->palette->ink : &pen->palette->ink_soft;
      double x = px_x (chart, mark->x), half = text_width (chart, mark->name) / 2.0, at;

      cairo_set_line_width (pen->cr, mark->strong ? DEW_LINE_OUTLINE : DEW_LINE_DETAIL);
      dew_pen_colour (pen, ink, 1);
      dew_pen_line (pen, dew_crisp (x), chart->plot.y, dew_crisp (x),
                    chart->plot.y + chart->plot.height);
      at = MAX (x, last_end + half + 6.0 * pen->unit);
      dew_pen_text (pen, DEW_TEXT_NUMBER, ink, 1, at, chart->plot.y - 2.0 * pen->unit, 0.5, 1,
                    mark->name);
      last_end = at + half;
    }
}

/* Names at the ends of the lines, moved apart where they would meet. */
static void
paint_names (const Chart *chart)
{
  const DewCurve *curve = chart->curve;
  const DewPen *pen = &chart->pen;
  double at[DEW_CURVE_LINES_MAX], line_height, width;
  int order[DEW_CURVE_LINES_MAX], n = 0;

  dew_text_measure (&chart->meter, DEW_TEXT_NUMBER, "0", &width, &line_height);
  for (int k = 0; k < curve->n_lines; k++)
    {
      double y = curve->lines[k].y[curve->n - 1];
      int i;

      if (!isfinite (y))
        continue;
      for (i = n++; i > 0 && at[i - 1] > px_y (chart, y); i--)
        {
          at[i] = at[i - 1];
          order[i] = order[i - 1];
        }
      at[i] = px_y (chart, y);
      order[i] = k;
    }
  for (int i = 1; i < n; i++)
    at[i] = MAX (at[i], at[i - 1] + 0.9 * line_height);
  for (int i = 0; i < n; i++)
    dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1,
                  chart->plot.x + chart->plot.width + 6.0 * pen->unit, at[i], 0, 0.5,
                  curve->lines[order[i]].name);
}

static void
paint_lines (const Chart *chart)
{
  const DewCurve *curve = chart->curve;
  const DewPen *pen = &chart->pen;

  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
  for (int k = 0; k < curve->n_lines; k++)
    {
      gboolean open = FALSE;

      cairo_new_path (pen->cr);
      for (int i = 0; i < curve->n; i++)
        {
          double y = curve->lines[k].y[i];

          if (!isfinite (y))
            open = FALSE;
          else if (open)
            cairo_line_to (pen->cr, px_x (chart, curve->x[i]), px_y (chart, y));
          else
            {
              cairo_move_to (pen->cr, px_x (chart, curve->x[i]), px_y (chart, y));
              open = TRUE;
            }
        }
      dew_pen_colour (pen, &pen->palette->ink, 0.85);
      cairo_set_line_width (pen->cr, DEW_LINE_OUTLINE);
      cairo_stroke (pen->cr);
    }
}

void
dew_curve_paint (cairo_t *cr, const DewCurve *curve, const DewPalette *palette, double width,
                 double height, double text_scale, const char *font_family)
{
  DewSheet sheet = { .palette = palette, .text_scale = text_scale, .font_family = font_family };
  Chart chart = { .curve = curve };

  g_return_if_fail (cr != NULL && curve != NULL && palette != NULL);

  if (curve->n < 2)
    return;
  chart.pen = (DewPen){ cr, &sheet, NULL, palette, 1.0, text_scale };
  dew_text_meter_init (&chart.meter, &sheet);
  find_ranges (&chart);
  place_plot (&chart, width, height);
  cairo_save (cr);
  paint_ground (&chart);
  paint_axis (&chart);
  paint_lines (&chart);
  paint_names (&chart);
  paint_marks (&chart);
  cairo_restore (cr);
  dew_text_meter_clear (&chart.meter);
}
