/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>

typedef struct
{
  double size_px;
  PangoWeight weight;
} DewTextLook;

/* Three sizes: a value, words and numbers, and what stands on lines. */
static const DewTextLook looks[] = {
  [DEW_TEXT_CAPTION] = { 12, PANGO_WEIGHT_NORMAL },
  [DEW_TEXT_NUMBER] = { 12, PANGO_WEIGHT_NORMAL },
  [DEW_TEXT_FLAG] = { 12, PANGO_WEIGHT_MEDIUM },
  [DEW_TEXT_VALUE] = { 21, PANGO_WEIGHT_SEMIBOLD },
  [DEW_TEXT_MARK] = { 10, PANGO_WEIGHT_NORMAL },
};

static PangoLayout *
text_layout (PangoContext *context, const char *family, double unit, DewTextStyle style,
             const char *text)
{
  PangoLayout *layout = pango_layout_new (context);
  PangoFontDescription *font = pango_font_description_new ();
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_font_description_set_family (font, family != NULL ? family : "Sans");
  pango_font_description_set_weight (font, looks[style].weight);
  pango_font_description_set_absolute_size (font, looks[style].size_px * unit * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);

  /* Figures of one width, so that a changing number does not dance. */
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  pango_layout_set_text (layout, text, -1);
  return layout;
}

void
dew_text_meter_init (DewTextMeter *meter, const DewSheet *sheet)
{
  meter->context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  meter->family = sheet->font_family;
  meter->unit = sheet->text_scale;
}

void
dew_text_meter_clear (DewTextMeter *meter)
{
  g_clear_object (&meter->context);
}

void
dew_text_measure (const DewTextMeter *meter, DewTextStyle style, const char *text, double *width,
                  double *height)
{
  g_autoptr (PangoLayout) layout
    = text_layout (meter->context, meter->family, meter->unit, style, text);
  PangoRectangle extents;

  pango_layout_get_extents (layout, NULL, &extents);
  *width = (double) extents.width / PANGO_SCALE;
  *height = (double) extents.height / PANGO_SCALE;
}

void
dew_pen_text (const DewPen *pen, DewTextStyle style, const DewColour *colour, double alpha,
              double x, double y, double align_x, double align_y, const char *text)
{
  PangoContext *context = pango_cairo_create_context (pen->cr);
  g_autoptr (PangoLayout) layout = NULL;
  PangoRectangle extents;

  layout = text_layout (context, pen->sheet->font_family, pen->unit, style, text);
  pango_layout_get_extents (layout, NULL, &extents);
  dew_pen_colour (pen, colour, alpha);
  cairo_move_to (pen->cr, x - align_x * extents.width / PANGO_SCALE,
                 y - align_y * extents.height / PANGO_SCALE);
  pango_cairo_show_layout (pen->cr, layout);
  g_object_unref (context);
}

void
dew_pen_text_at (const DewPen *pen, DewTextStyle style, const DewColour *colour, double x, double y,
                 const char *text)
{
  dew_pen_text (pen, style, colour, 1, x, y, 0, 0, text);
}

void
dew_pen_text_open (const DewPen *pen, DewTextStyle style, const DewColour *colour, double x,
                   double y, const char *text)
{
  PangoContext *context = pango_cairo_create_context (pen->cr);
  g_autoptr (PangoLayout) layout
    = text_layout (context, pen->sheet->font_family, pen->unit, style, text);

  cairo_new_path (pen->cr);
  cairo_move_to (pen->cr, x, y);
  pango_cairo_layout_path (pen->cr, layout);
  dew_pen_colour (pen, &pen->palette->paper, 1);
  cairo_fill_preserve (pen->cr);
  dew_pen_colour (pen, colour, 1);
  cairo_set_line_width (pen->cr, looks[style].size_px > 16 ? 0.9 : 0.6);
  cairo_stroke (pen->cr);
  g_object_unref (context);
}

void
dew_pen_paragraph (const DewPen *pen, DewTextStyle style, const DewColour *colour,
                   const DewRect *box, const char *text)
{
  PangoContext *context = pango_cairo_create_context (pen->cr);
  g_autoptr (PangoLayout) layout = NULL;

  layout = text_layout (context, pen->sheet->font_family, pen->unit, style, text);
  pango_layout_set_width (layout, (int) (box->width * PANGO_SCALE));
  pango_layout_set_height (layout, (int) (box->height * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  dew_pen_colour (pen, colour, 1.0);
  cairo_move_to (pen->cr, box->x, box->y);
  pango_cairo_show_layout (pen->cr, layout);
  g_object_unref (context);
}

void
dew_pen_text_upright (const DewPen *pen, DewTextStyle style, const DewColour *colour, double alpha,
                      double x, double y, const char *text)
{
  cairo_save (pen->cr);
  cairo_translate (pen->cr, x, y);
  cairo_rotate (pen->cr, -G_PI / 2);
  dew_pen_text (pen, style, colour, alpha, 0, 0, 0.5, 0.5, text);
  cairo_restore (pen->cr);
}

void
dew_pen_colour (const DewPen *pen, const DewColour *colour, double alpha)
{
  cairo_set_source_rgba (pen->cr, colour->r, colour->g, colour->b, alpha);
}

void
dew_pen_line (const DewPen *pen, double x0, double y0, double x1, double y1)
{
  cairo_move_to (pen->cr, x0, y0);
  cairo_line_to (pen->cr, x1, y1);
  cairo_stroke (pen->cr);
}

double
dew_crisp (double x)
{
  return floor (x) + 0.5;
}

gboolean
dew_rects_meet (const DewRect *a, const DewRect *b, double gap)
{
  return a->x < b->x + b->width + gap && b->x < a->x + a->width + gap
         && a->y < b->y + b->height + gap && b->y < a->y + a->height + gap;
}

gboolean
dew_rect_holds (const DewRect *rect, double x, double y, double slack)
{
  return x >= rect->x - slack && x <= rect->x + rect->width + slack && y >= rect->y - slack
         && y <= rect->y + rect->height + slack;
}
