/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A front view by itself, to stand in a row with others. */
#include "paint/sheet-private.h"

#include <math.h>

void
dew_paint_front (cairo_t *cr, const DewChamber *chamber, const DewPalette *palette,
                 double scale_px_m, double middle_px, double floor_px)
{
  const DewVariant *variant = dew_chamber_shown (chamber);
  DewSheetLayout layout = { 0 };
  DewRect *front = &layout.view[DEW_VIEW_FRONT];
  DewSheet sheet;
  DewPen pen;

  g_return_if_fail (cr != NULL && variant != NULL && palette != NULL && scale_px_m > 0);

  dew_sheet_init (&sheet, chamber, variant);
  sheet.palette = palette;
  dew_chamber_inner_m (chamber, layout.inner_m);
  for (int axis = 0; axis < 3; axis++)
    layout.inner_m[axis] = MAX (layout.inner_m[axis], 1e-3);
  layout.scale_px_m = scale_px_m;
  layout.shown[DEW_VIEW_FRONT] = TRUE;
  layout.plan_hi_m = layout.inner_m[2];
  front->width = round (layout.inner_m[0] * scale_px_m);
  front->height = round (layout.inner_m[2] * scale_px_m);
  front->x = round (middle_px - front->width / 2);
  front->y = round (floor_px - front->height);
  pen = (DewPen){ cr, &sheet, &layout, palette, scale_px_m, 1 };

  cairo_save (cr);
  dew_pen_colour (&pen, &palette->air, 1);
  cairo_rectangle (cr, front->x, front->y, front->width, front->height);
  cairo_fill (cr);
  dew_paint_view_ink (&pen, DEW_VIEW_FRONT);
  cairo_restore (cr);
}
