/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The streaks of a view as one mask. Hundreds of slim shapes thirty times a second are
 * most of what a still sheet costs; drawn here by hand and laid on at once they cost a
 * fifth of as many fills. */
#include "paint/sheet-private.h"

#include <math.h>

#define STREAK_ALPHA 0.46
#define STREAK_HALF 0.85 /* px, half its width at the head */
#define LEAST_PX 1.5     /* shorter pieces cost as much and show nothing */
#define FULL_PX 6.0      /* streaks shorter than that are fainter */

/* Coverage of the part of a view that lies on the sheet, in device px. */
typedef struct
{
  guchar *data;
  int width, height, stride;
} DewMask;

/* floor() as a call costs more than the rest of a pixel. */
static inline int
whole (double x)
{
  const int far = 1 << 20; /* no mask is so large */

  return (int) (x + far) - far;
}

static void
cover (DewMask *mask, int x, int y, double strength)
{
  guchar *at, value;

  if (x < 0 || y < 0 || x >= mask->width || y >= mask->height)
    return;
  at = mask->data + y * mask->stride + x;
  value = (guchar) (255 * strength + 0.5);
  /* The most, not the sum: pieces of a streak share their ends. */
  if (value > *at)
    *at = value;
}

/* A straight piece from (x0, y0), half as wide as half0, to (x1, y1): goes along the
 * axis on which it is longer, and across it as far as it is wide. */
static void
draw_piece (DewMask *mask, double x0, double y0, double half0, double x1, double y1, double half1,
            double strength)
{
  gboolean level = fabs (x1 - x0) >= fabs (y1 - y0);
  double a0 = level ? x0 : y0, a1 = level ? x1 : y1; /* along */
  double b0 = level ? y0 : x0, b1 = level ? y1 : x1; /* across */
  double once = 1 / (a1 - a0), slant = (b1 - b0) * once;
  double square = 1 / sqrt (1 + slant * slant), wide = 1 / square;
  int first = whole (MIN (a0, a1)), last = whole (MAX (a0, a1));

  for (int a = first; a <= last; a++)
    {
      double share = CLAMP ((a + 0.5 - a0) * once, 0, 1);
      double middle = b0 + share * (b1 - b0), half = half0 + share * (half1 - half0);
      double most = MIN (2 * half, 1), reach = (half + 0.5) * wide;
      int end = whole (middle + reach);

      for (int b = whole (middle - reach); b <= end; b++)
        {
          double covered = half + 0.5 - fabs (b + 0.5 - middle) * square;

          if (covered > 0)
            cover (mask, level ? a : b, level ? b : a, strength * MIN (covered, most));
        }
    }
}

/* Runs out to nothing at its tail, as a stroke of a brush does. px: newest first. */
static void
draw_streak (DewMask *mask, double px[][2], guint n, double half, double strength, double scale)
{
  double kept[DEW_STREAK_POINTS][2], length = 0;
  guint k = 0;

  for (guint i = 0; i < n; i++)
    {
      double way = k > 0 ? hypot (px[i][0] - kept[k - 1][0], px[i][1] - kept[k - 1][1]) : 0;

      if (k > 0 && way < LEAST_PX * scale)
        continue;
      length += way;
      kept[k][0] = px[i][0];
      kept[k][1] = px[i][1];
      k++;
    }
  strength *= STREAK_ALPHA * MIN (length / (FULL_PX * scale), 1);
  for (guint i = 0; i + 1 < k; i++)
    draw_piece (mask, kept[i][0], kept[i][1], half * (1 - (double) i / (k - 1)), kept[i + 1][0],
                kept[i + 1][1], half * (1 - (double) (i + 1) / (k - 1)), strength);
}

/* The part of a view that lies on the sheet. */
static DewRect
shown_part (const DewSheetLayout *layout, DewView view)
{
  const DewRect *rect = &layout->view[view];
  double x0 = floor (MAX (rect->x, 0)), y0 = floor (MAX (rect->y, 0));
  double x1 = ceil (MIN (rect->x + rect->width, layout->width));
  double y1 = ceil (MIN (rect->y + rect->height, layout->height));

  return (DewRect){ x0, y0, x1 - x0, y1 - y0 };
}

static void
draw_streaks (const DewPen *pen, DewView view, const DewRect *part, double scale, DewMask *mask)
{
  const double full_px2 = 2e5; /* area of the front view that carries all of them */
  const DewStreaks *streaks = pen->sheet->streaks;
  const DewRect *front = &pen->layout->view[DEW_VIEW_FRONT];
  double share = CLAMP (front->width * front->height / full_px2, 0.25, 1);
  guint count = (guint) (dew_streaks_count (streaks) * share);

  for (guint i = 0; i < count; i++)
    {
      double points_m[DEW_STREAK_POINTS][3], px[DEW_STREAK_POINTS][2], strength;
      guint n = dew_streaks_trail (streaks, i, points_m, &strength);

      if (n < 2
          || (view == DEW_VIEW_PLAN
              && (points_m[0][2] < pen->layout->plan_lo_m
                  || points_m[0][2] > pen->layout->plan_hi_m)))
        continue;
      for (guint p = 0; p < n; p++)
        {
          dew_layout_to_screen (pen->layout, view, points_m[p], px[p]);
          px[p][0] = (px[p][0] - part->x) * scale;
          px[p][1] = (px[p][1] - part->y) * scale;
        }
      draw_streak (mask, px, n, STREAK_HALF * scale, strength, scale);
    }
}

void
dew_paint_streaks (const DewPen *pen, DewView view)
{
  DewRect part = shown_part (pen->layout, view);
  double scale = pen->sheet->device_scale > 0 ? pen->sheet->device_scale : 1;
  cairo_surface_t *surface;
  DewMask mask;

  if (!(part.width > 0 && part.height > 0))
    return;
  surface = cairo_image_surface_create (CAIRO_FORMAT_A8, (int) ceil (part.width * scale),
                                        (int) ceil (part.height * scale));
  cairo_surface_flush (surface);
  mask = (DewMask){ cairo_image_surface_get_data (surface), cairo_image_surface_get_width (surface),
                    cairo_image_surface_get_height (surface),
                    cairo_image_surface_get_stride (surface) };
  if (mask.data != NULL)
    draw_streaks (pen, view, &part, scale, &mask);
  cairo_surface_mark_dirty (surface);
  cairo_surface_set_device_scale (surface, scale, scale);
  dew_pen_colour (pen, &pen->palette->streak, 1);
  cairo_mask_surface (pen->cr, surface, part.x, part.y);
  cairo_surface_destroy (surface);
}
