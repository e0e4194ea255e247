/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking at the sheet more closely: zoom about a point, and shifting. */
#include "paint/sheet-private.h"

#include <math.h>

double
dew_layout_most_zoom (const DewSheetLayout *layout)
{
  g_return_val_if_fail (layout != NULL, 1);
  return MAX (DEW_LIFE_SIZE_PX_M / layout->fit_scale_px_m, 1);
}

/* The rectangle round all views that are shown. */
static void
bounds (const DewSheetLayout *layout, double lo[2], double hi[2])
{
  lo[0] = lo[1] = INFINITY;
  hi[0] = hi[1] = -INFINITY;
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      const DewRect *rect = &layout->view[view];

      if (!layout->shown[view])
        continue;
      lo[0] = MIN (lo[0], rect->x);
      lo[1] = MIN (lo[1], rect->y);
      hi[0] = MAX (hi[0], rect->x + rect->width);
      hi[1] = MAX (hi[1], rect->y + rect->height);
    }
}

static DewView
nearest_view (const DewSheetLayout *layout, double x, double y)
{
  DewView best = DEW_VIEW_FRONT;
  double nearest = INFINITY;

  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      const DewRect *r = &layout->view[view];
      double dx = MAX (MAX (r->x - x, x - r->x - r->width), 0);
      double dy = MAX (MAX (r->y - y, y - r->y - r->height), 0);

      if (!layout->shown[view] || hypot (dx, dy) >= nearest)
        continue;
      nearest = hypot (dx, dy);
      best = view;
    }
  return best;
}

void
dew_sheet_pan (DewSheet *sheet, double width, double height, double dx_px, double dy_px)
{
  const double size[2] = { width, height };
  double lo[2], hi[2];
  DewSheetLayout layout;

  g_return_if_fail (sheet != NULL);

  if (!(sheet->zoom > 1))
    {
      sheet->zoom = 1;
      sheet->pan_px[0] = sheet->pan_px[1] = 0;
      return;
    }
  sheet->pan_px[0] += dx_px;
  sheet->pan_px[1] += dy_px;
  dew_sheet_layout (sheet, width, height, &layout);
  bounds (&layout, lo, hi);
  /* The drawing never leaves the middle of the sheet. */
  for (int i = 0; i < 2; i++)
    if (lo[i] > size[i] / 2)
      sheet->pan_px[i] -= lo[i] - size[i] / 2;
    else if (hi[i] < size[i] / 2)
      sheet->pan_px[i] += size[i] / 2 - hi[i];
}

void
dew_sheet_zoom (DewSheet *sheet, double width, double height, double zoom, double x, double y)
{
  DewSheetLayout before, after;
  DewView view;
  double at_m[2], there_px[2], point_m[3] = { 0, 0, 0 };

  g_return_if_fail (sheet != NULL);

  dew_sheet_layout (sheet, width, height, &before);
  view = nearest_view (&before, x, y);
  dew_layout_to_world (&before, view, x, y, at_m);
  point_m[dew_view_across (view)] = at_m[0];
  point_m[dew_view_up (view)] = at_m[1];

  sheet->zoom = CLAMP (zoom, 1, dew_layout_most_zoom (&before));
  dew_sheet_layout (sheet, width, height, &after);
  dew_layout_to_screen (&after, view, point_m, there_px);
  dew_sheet_pan (sheet, width, height, x - there_px[0], y - there_px[1]);
}
