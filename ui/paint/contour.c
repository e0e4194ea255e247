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
  gboolean plan = view == DEW_VIEW_PLAN;

  dew_grid_picture_init_between (picture, pen, view, value, cell_px,
                                 plan ? pen->layout->plan_lo_m : 0,
                                 plan ? pen->layout->plan_hi_m : 0);
}

void
dew_grid_picture_init_between (DewGridPicture *picture, const DewPen *pen, DewView view,
                               DewValue value, double cell_px, double lo_m, double hi_m)
{
  const DewRect *rect = &pen->layout->view[view];
  gboolean plan = view == DEW_VIEW_PLAN;
  /* Paper is looked at closely. */
  int most = pen->sheet->on_paper ? 1600 : 400;

  picture->columns = CLAMP ((int) ceil (rect->width / cell_px), 12, most * 3 / 5);
  picture->rows = CLAMP ((int) ceil (rect->height / cell_px), 12, most);
  picture->value = g_new (double, (gsize) picture->columns * picture->rows);
  dew_forecast_picture (pen->sheet->forecast, value, view, lo_m, hi_m, picture->columns,
                        picture->rows, picture->value);
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
      DewSegment one
        = { cut_x[shift % 4], cut_y[shift % 4], cut_x[(shift + 1) % 4], cut_y[(shift + 1) % 4] };
      DewSegment two = { cut_x[(shift + 2) % 4], cut_y[(shift + 2) % 4], cut_x[(shift + 3) % 4],
                         cut_y[(shift + 3) % 4] };

      g_array_append_val (out, one);
      g_array_append_val (out, two);
    }
}

GArray *
dew_contour_segments (const DewPen *pen, DewView view, const DewGridPicture *picture, double level)
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
            const double *below = picture->value + (gsize) MAX (row, first) * picture->columns;
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

/* The next piece that begins or ends where the line has come to, turned so that it
 * goes on from there; FALSE at the end of the line. */
static gboolean
next_piece (const GArray *segments, guint8 *used, double at[2])
{
  const double touch = 1e-3; /* px */

  for (guint i = 0; i < segments->len; i++)
    {
      const DewSegment *s = &g_array_index (segments, DewSegment, i);

      if (used[i])
        continue;
      if (fabs (s->x0 - at[0]) < touch && fabs (s->y0 - at[1]) < touch)
        {
          at[0] = s->x1;
          at[1] = s->y1;
        }
      else if (fabs (s->x1 - at[0]) < touch && fabs (s->y1 - at[1]) < touch)
        {
          at[0] = s->x0;
          at[1] = s->y0;
        }
      else
        continue;
      used[i] = 1;
      return TRUE;
    }
  return FALSE;
}

void
dew_contour_stroke_joined (const DewPen *pen, const GArray *segments)
{
  g_autofree guint8 *used = g_new0 (guint8, MAX (segments->len, 1));

  for (guint i = 0; i < segments->len; i++)
    {
      const DewSegment *s = &g_array_index (segments, DewSegment, i);
      double ends[2][2] = { { s->x1, s->y1 }, { s->x0, s->y0 } };

      if (used[i])
        continue;
      used[i] = 1;
      /* Both ways from the first piece. */
      for (int way = 0; way < 2; way++)
        {
          double *at = ends[way];

          if (way == 0)
            {
              cairo_move_to (pen->cr, s->x0, s->y0);
              cairo_line_to (pen->cr, at[0], at[1]);
            }
          else
            cairo_move_to (pen->cr, at[0], at[1]);
          while (next_piece (segments, used, at))
            cairo_line_to (pen->cr, at[0], at[1]);
        }
      cairo_stroke (pen->cr);
    }
}

void
dew_contour_number (const DewPen *pen, DewView view, const GArray *segments, const char *text,
                    GArray *taken)
{
  const guint least = 8; /* segments: shorter lines are told by their neighbours */
  const DewRect *rect = &pen->layout->view[view];
  DewTextMeter meter;
  double width, height;
  guint stride = MAX (segments->len / 60, 1);

  if (segments->len < least)
    return;
  dew_text_meter_init (&meter, pen->sheet);
  dew_text_measure (&meter, DEW_TEXT_MARK, text, &width, &height);
  dew_text_meter_clear (&meter);
  width += 6 * pen->unit;

  for (guint i = 0; i < segments->len; i += stride)
    {
      /* From the middle of the line outward. */
      guint at = (segments->len / 2 + (i % 2 ? i : segments->len - i)) % segments->len;
      const DewSegment *s = &g_array_index (segments, DewSegment, at);
      DewRect box = { round ((s->x0 + s->x1 - width) / 2), round ((s->y0 + s->y1 - height) / 2),
                      width, height };
      gboolean clear = box.x > rect->x + 3 && box.x + box.width < rect->x + rect->width - 3
                       && box.y > rect->y + 3 && box.y + box.height < rect->y + rect->height - 3;

      for (guint j = 0; clear && j < taken->len; j++)
        clear = !dew_rects_meet (&box, &g_array_index (taken, DewRect, j), 4);
      if (!clear)
        continue;

      dew_pen_colour (pen, &pen->palette->paper, 0.92);
      cairo_rectangle (pen->cr, box.x, box.y + 1, box.width, box.height - 2);
      cairo_fill (pen->cr);
      dew_pen_text (pen, DEW_TEXT_MARK, &pen->palette->ink, 1, box.x + width / 2,
                    box.y + height / 2, 0.5, 0.5, text);
      g_array_append_val (taken, box);
      return;
    }
}
