/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>
#include <string.h>

/* A fixed scatter of 0..1 from two whole numbers, for places that look thrown
 * and are always the same. */
static double
scatter (guint a, guint b)
{
  guint x = a * 0x9e3779b1u ^ b * 0x85ebca77u;

  x ^= x >> 15;
  x *= 0x2c1b3ce5u;
  x ^= x >> 12;
  x *= 0x297a2d39u;
  x ^= x >> 15;
  return x / 4294967296.0;
}

/* The way that air goes through `at` in a moment, half of it before, half after. */
static gboolean
short_way (const DewForecast *forecast, const double at[3], double seconds, double from[3],
           double to[3])
{
  const int steps = 4;

  for (int direction = -1; direction <= 1; direction += 2)
    {
      double *end = direction < 0 ? from : to;
      double velocity[3];

      memcpy (end, at, sizeof (double) * 3);
      for (int i = 0; i < steps; i++)
        {
          if (!dew_forecast_velocity (forecast, end[0], end[1], end[2], velocity))
            return i > 0 || direction > 0;
          for (int axis = 0; axis < 3; axis++)
            end[axis] += direction * velocity[axis] * seconds / (2 * steps);
        }
    }
  return TRUE;
}

/* Still mode: line segments over a loose grid, as long as the air's way in a
 * moment, with a dot at the end it goes to. */
static void
paint_segments (const DewPen *pen, DewView view)
{
  const double moment_s = 0.7, longest_px = 34, shortest_px = 2;
  const DewRect *rect = &pen->layout->view[view];
  const double *inner_m = pen->layout->inner_m;
  int across = dew_view_across (view), up = dew_view_up (view), depth = dew_view_depth (view);
  double pitch = 24 * sqrt (pen->unit);
  int columns = MAX ((int) (rect->width / pitch), 3), rows = MAX ((int) (rect->height / pitch), 3);
  double depth_lo = view == DEW_VIEW_PLAN ? pen->layout->plan_lo_m : 0;
  double depth_hi = view == DEW_VIEW_PLAN ? pen->layout->plan_hi_m : inner_m[depth];

  for (int row = 0; row < rows; row++)
    for (int column = 0; column < columns; column++)
      {
        guint key = (guint) (row * columns + column) * 3;
        double at[3], from[3], to[3], a[2], b[2], length, strength;

        at[across] = (column + 0.2 + 0.6 * scatter (key, view)) / columns * inner_m[across];
        at[up] = (row + 0.2 + 0.6 * scatter (key + 1, view)) / rows * inner_m[up];
        at[depth] = depth_lo + (0.15 + 0.7 * scatter (key + 2, view)) * (depth_hi - depth_lo);
        if (!short_way (pen->sheet->forecast, at, moment_s, from, to))
          continue;

        dew_layout_to_screen (pen->layout, view, from, a);
        dew_layout_to_screen (pen->layout, view, to, b);
        length = hypot (b[0] - a[0], b[1] - a[1]);
        if (length > longest_px)
          {
            a[0] = b[0] + (a[0] - b[0]) * longest_px / length;
            a[1] = b[1] + (a[1] - b[1]) * longest_px / length;
          }
        strength = 0.26 + 0.24 * MIN (length / longest_px, 1);
        dew_pen_colour (pen, &pen->palette->streak, strength);
        if (length > shortest_px)
          {
            cairo_set_line_width (pen->cr, 1);
            dew_pen_line (pen, a[0], a[1], b[0], b[1]);
          }
        cairo_arc (pen->cr, b[0], b[1], 1.1, 0, 2 * G_PI);
        cairo_fill (pen->cr);
      }
}

void
dew_paint_air (const DewPen *pen)
{
  const DewForecast *forecast = pen->sheet->forecast;

  if (forecast == NULL || pen->sheet->cannot != NULL || forecast->face_m_s[0] == NULL)
    return;

  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_BEVEL);
  cairo_set_antialias (pen->cr, CAIRO_ANTIALIAS_FAST);
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      const DewRect *rect = &pen->layout->view[view];

      if (!pen->layout->shown[view])
        continue;
      cairo_save (pen->cr);
      cairo_rectangle (pen->cr, rect->x, rect->y, rect->width, rect->height);
      cairo_clip (pen->cr);
      if (pen->sheet->streaks != NULL)
        dew_paint_streaks (pen, view);
      else
        paint_segments (pen, view);
      cairo_restore (pen->cr);
    }
}
