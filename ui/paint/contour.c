/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/contour.h"

#include <math.h>

void
dew_grid_picture_clear (DewGridPicture *picture)
{
  g_free (picture->value);
  g_free (picture->z_m);
}

void
dew_grid_picture_init (DewGridPicture *picture, const DewPen *pen, DewView view, DewValue value,
                       double cell_px)
{
  const DewRect *rect = &pen->layout->view[view];
  gboolean plan = view == DEW_VIEW_PLAN;

  picture->columns = CLAMP ((int) ceil (rect->width / cell_px), 12, 240);
  picture->rows = CLAMP ((int) ceil (rect->height / cell_px), 12, 400);
  picture->value = g_new (double, (gsize) picture->columns * picture->rows);
  dew_forecast_picture (pen->sheet->forecast, value, view, plan ? pen->layout->plan_lo_m : 0,
                        plan ? pen->layout->plan_hi_m : 0, picture->columns, picture->rows,
                        picture->value);
  if (plan)
    {
      picture->n_bands = 1;
      picture->z_m = g_new0 (double, 2);
      picture->z_m[1] = pen->layout->inner_m[1];
    }
  else
    picture->n_bands
        = dew_variant_bays (pen->sheet->chamber, pen->sheet->variant, &picture->z_m, NULL);
}

void
dew_grid_picture_band (const DewGridPicture *picture, const DewPen *pen, DewView view, int band,
                       int *first, int *last)
{
  double cell_m = pen->layout->inner_m[dew_view_up (view)] / picture->rows;

  *first = CLAMP ((int) ceil (picture->z_m[band] / cell_m - 0.5), 0, picture->rows);
  *last = CLAMP ((int) ceil (picture->z_m[band + 1] / cell_m - 0.5), *first, picture->rows);
}

/* --- lines at a level ------------------------------------------------------------------ */

/* Where a level crosses the edge between two samples, as a share of the edge. */
static double
crossing (double a, double b, double level)
{
  return (level - a) / (b - a);
}

/* Marching squares on one cell of four samples, corners counted round from the
 * lower left. A saddle is cut as its mean says. */
static void
cell_segments (const double corner[4], double level, double x, double y, double w, double h,
               GArray *out)
{
  static const double corner_x[4] = { 0, 1, 1, 0 }, corner_y[4] = { 0, 0, 1, 1 };
  double cut_x[4], cut_y[4];
  int n = 0;

  for (int i = 0; i < 4; i++)
    {
      int j = (i + 1) % 4;
      double share;

      if (isnan (corner[i]))
        return;
      if ((corner[i] >= level) == (corner[j] >= level))
        continue;
      share = crossing (corner[i], corner[j], level);
      cut_x[n] = x + w * (corner_x[i] + share * (corner_x[j] - corner_x[i]));
      cut_y[n] = y - h * (corner_y[i] + share * (corner_y[j] - corner_y[i]));
      n++;
    }
  if (n == 2)
    {
      DewSegment segment = { cut_x[0], cut_y[0], cut_x[1], cut_y[1] };

      g_array_append_val (out, segment);
    }
  else if (n == 4)
    {
      gboolean high = (corner[0] + corner[1] + corner[2] + corner[3]) / 4 >= level;
      int shift = high == (corner[0] >= level) ? 0 : 3;
      DewSegment one = { cut_x[shift % 4], cut_y[shift % 4], cut_x[(shift + 1) % 4],
                         cut_y[(shift + 1) % 4] };
      DewSegment two = { cut_x[(shift + 2) % 4], cut_y[(shift + 2) % 4], cut_x[(shift + 3) % 4],
                         cut_y[(shift + 3) % 4] };

      g_array_append_val (out, one);
      g_array_append_val (out, two);
    }
}

GArray *
dew_contour_segments (const DewPen *pen, DewView view, const DewGridPicture *picture,
                      double level)
{
  const DewRect *rect = &pen->layout->view[view];
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewSegment));
  double w = rect->width / picture->columns, h = rect->height / picture->rows;

  for (int band = 0; band < picture->n_bands; band++)
    {
      int first, last;

      dew_grid_picture_band (picture, pen, view, band, &first, &last);
      /* Samples lie at the middles of cells; half a cell more on each side, with
       * the value of the edge, takes the lines up to walls and shelves. */
      for (int row = first - 1; row < last && last > first; row++)
        for (int column = -1; column < picture->columns; column++)
          {
            const double *below
                = picture->value + (gsize) MAX (row, first) * picture->columns;
            const double *above
                = picture->value + (gsize) MIN (row + 1, last - 1) * picture->columns;
            int left = MAX (column, 0), right = MIN (column + 1, picture->columns - 1);
            const double corner[4] = { below[left], below[right], above[right], above[left] };
            double x = MAX (column + 0.5, 0), y = MAX (row + 0.5, first);
            double x1 = MIN (column + 1.5, picture->columns), y1 = MIN (row + 1.5, last);

            cell_segments (corner, level, rect->x + x * w, rect->y + rect->height - y * h,
                           (x1 - x) * w, (y1 - y) * h, out);
          }
    }
  return out;
}

void
dew_contour_stroke (const DewPen *pen, const GArray *segments)
{
  for (guint i = 0; i < segments->len; i++)
    {
      const DewSegment *s = &g_array_index (segments, DewSegment, i);

      cairo_move_to (pen->cr, s->x0, s->y0);
      cairo_line_to (pen->cr, s->x1, s->y1);
      /* One long path of crossing pieces is slow; many small ones are not. */
      if (i % 64 == 63)
        cairo_stroke (pen->cr);
    }
  cairo_stroke (pen->cr);
}
