/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/glance.h"

#include "paint/sheet-private.h"

#include <math.h>

#define MARGIN_PX 14.0
#define LABELS_PX 104.0 /* right of the view, at text scale 1 */
#define LEAST_SCALE 20.0

static void
place (const DewSheet *sheet, double width, double height, DewSheetLayout *layout)
{
  DewRect *front = &layout->view[DEW_VIEW_FRONT];
  double margin = MARGIN_PX * sheet->text_scale, labels = LABELS_PX * sheet->text_scale, scale;

  layout->width = width;
  layout->height = height;
  dew_chamber_inner_m (sheet->chamber, layout->inner_m);
  for (int axis = 0; axis < 3; axis++)
    layout->inner_m[axis] = MAX (layout->inner_m[axis], 1e-3);
  scale = MIN ((width - labels - 2 * margin) / layout->inner_m[0],
               (height - 2 * margin) / layout->inner_m[2]);
  layout->scale_px_m = layout->fit_scale_px_m = MAX (scale, LEAST_SCALE);
  layout->shown[DEW_VIEW_FRONT] = TRUE;
  layout->plan_hi_m = layout->inner_m[2];
  front->width = round (layout->inner_m[0] * layout->scale_px_m);
  front->height = round (layout->inner_m[2] * layout->scale_px_m);
  front->x = round (MAX ((width - labels - front->width) / 2, margin));
  front->y = round (MAX ((height - front->height) / 2, margin));
}

/* The values of the bays and the flags; the rest belongs to a drawing that is
 * worked on. */
static GArray *
marks_of (const DewSheet *sheet, const DewSheetLayout *layout)
{
  GArray *marks = dew_sheet_marks (sheet, layout);

  for (guint i = marks->len; i > 0; i--)
    {
      DewMarkKind kind = g_array_index (marks, DewMark, i - 1).kind;

      if (kind != DEW_MARK_BAY && kind != DEW_MARK_FLAG)
        g_array_remove_index (marks, i - 1);
    }
  return marks;
}

void
dew_glance_paint (cairo_t *cr, const DewSheet *sheet, double width, double height)
{
  DewSheetLayout layout = { 0 };
  g_autoptr (GArray) marks = NULL;
  DewPen pen;

  g_return_if_fail (cr != NULL && sheet != NULL && sheet->palette != NULL);

  place (sheet, width, height, &layout);
  pen = (DewPen){ cr, sheet, &layout, sheet->palette, layout.scale_px_m, sheet->text_scale };
  marks = marks_of (sheet, &layout);
  cairo_save (cr);
  dew_paint_field (&pen);
  cairo_restore (cr);
  cairo_save (cr);
  dew_paint_air (&pen);
  cairo_restore (cr);
  cairo_save (cr);
  dew_paint_isolines (&pen, marks);
  dew_paint_view_ink (&pen, DEW_VIEW_FRONT);
  dew_paint_marks (&pen, marks);
  cairo_restore (cr);
}

void
dew_glance_legend (cairo_t *cr, const DewSheet *sheet, double width, double height)
{
  DewSheetLayout layout = { .width = width, .height = height };
  double margin = MARGIN_PX * sheet->text_scale;
  DewPen pen;

  g_return_if_fail (cr != NULL && sheet != NULL && sheet->palette != NULL);

  layout.legend = (DewRect){ margin, 4 * sheet->text_scale, width - 2 * margin, height };
  pen = (DewPen){ cr, sheet, &layout, sheet->palette, 1, sheet->text_scale };
  cairo_save (cr);
  dew_paint_legend (&pen);
  cairo_restore (cr);
}
