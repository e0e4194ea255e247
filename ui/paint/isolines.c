/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/contour.h"

#include <math.h>

/* The number goes where the line is clear of everything else, or nowhere. */
static void
paint_level_number (const DewPen *pen, DewView view, const GArray *segments, const char *text,
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

      dew_pen_colour (pen, &pen->palette->paper, 0.82);
      cairo_rectangle (pen->cr, box.x, box.y + 1, box.width, box.height - 2);
      cairo_fill (pen->cr);
      dew_pen_text (pen, DEW_TEXT_MARK, &pen->palette->ink, 1, box.x + width / 2,
                    box.y + height / 2, 0.5, 0.5, text);
      g_array_append_val (taken, box);
      return;
    }
}

static GArray *
taken_places (const DewPen *pen, DewView view, const GArray *avoid)
{
  GArray *taken = g_array_new (FALSE, FALSE, sizeof (DewRect));
  const DewVariant *variant = pen->sheet->variant;

  for (guint i = 0; i < avoid->len; i++)
    g_array_append_val (taken, g_array_index (avoid, DewMark, i).rect);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      DewRect rect;

      if (!dew_view_shows (pen->sheet, pen->layout, view, thing)
          || (view == DEW_VIEW_PLAN && thing->kind == DEW_THING_SHELF))
        continue;
      dew_view_thing_rect (pen->sheet, pen->layout, view, thing, &rect);
      if (thing->kind == DEW_THING_PLANT && view != DEW_VIEW_PLAN)
        rect.height += 0.08 * pen->scale; /* the pot below the crown */
      g_array_append_val (taken, rect);
    }
  return taken;
}

static void
paint_view_isolines (const DewPen *pen, DewView view, const DewRange *range, const GArray *avoid)
{
  g_auto (DewGridPicture) picture = { 0 };
  g_autoptr (GArray) taken = taken_places (pen, view, avoid);
  int levels = (int) lround ((range->hi - range->lo) / range->step);
  int decimals = dew_range_decimals (range, pen->sheet->coloured, pen->sheet->imperial);

  dew_grid_picture_init (&picture, pen, view, pen->sheet->coloured, 7);
  for (int i = 1; i < levels; i++)
    {
      double level = range->lo + i * range->step;
      g_autoptr (GArray) segments = dew_contour_segments (pen, view, &picture, level);
      g_autofree char *text = g_strdup_printf (
          "%.*f", decimals, dew_value_to_user (pen->sheet->coloured, level, pen->sheet->imperial));

      cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
      cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_ROUND);
      dew_pen_colour (pen, &pen->palette->ink, pen->palette->high_contrast ? 0.9 : 0.38);
      dew_contour_stroke (pen, segments);
      paint_level_number (pen, view, segments, text, taken);
    }
}

void
dew_paint_isolines (const DewPen *pen, const GArray *avoid)
{
  DewRange range;

  if (pen->sheet->forecast == NULL || pen->sheet->cannot != NULL
      || pen->sheet->forecast->value[pen->sheet->coloured] == NULL)
    return;

  range = dew_sheet_range (pen->sheet);
  if (!(range.hi > range.lo) || !(range.step > 0))
    return;
  for (int view = 0; view < DEW_N_VIEWS; view++)
    if (pen->layout->shown[view])
      paint_view_isolines (pen, view, &range, avoid);
}
