/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/chart.h"

#include <math.h>
#include <pango/pangocairo.h>

#define AXIS_PX 0.75
#define LINE_PX 1.5
#define DOT_PX 4.0
#define GAP_PX 4.0

static void
set_colour (cairo_t *cr, const DewColour *colour, double alpha)
{
  cairo_set_source_rgba (cr, colour->r, colour->g, colour->b, alpha);
}

static PangoLayout *
words_new (cairo_t *cr, const char *text, double font_px, int *width, int *height)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_font_description_set_absolute_size (font, font_px * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  pango_layout_set_text (layout, text, -1);
  pango_layout_get_pixel_size (layout, width, height);
  return layout;
}

/* Where the axes are, px. */
typedef struct
{
  double left, top, width, height;
} Frame;

static void
to_px (const DewChart *chart, const Frame *frame, double x, double y, double out[2])
{
  out[0] = frame->left + frame->width * x / chart->x_hi;
  out[1] = frame->top + frame->height * (1.0 - y / chart->y_hi);
}

static void
paint_axes (cairo_t *cr, const DewChart *chart, const DewPalette *palette, const Frame *frame,
            double font_px)
{
  g_autoptr (PangoLayout) x_words = NULL, y_words = NULL;
  int width, height;

  set_colour (cr, &palette->ink_soft, 1.0);
  cairo_set_line_width (cr, AXIS_PX);
  cairo_move_to (cr, frame->left, frame->top);
  cairo_line_to (cr, frame->left, frame->top + frame->height);
  cairo_line_to (cr, frame->left + frame->width, frame->top + frame->height);
  cairo_stroke (cr);
  x_words = words_new (cr, chart->x_text, font_px, &width, &height);
  cairo_move_to (cr, frame->left + frame->width - width, frame->top + frame->height + GAP_PX / 2.0);
  pango_cairo_show_layout (cr, x_words);
  y_words = words_new (cr, chart->y_text, font_px, &width, &height);
  cairo_move_to (cr, frame->left, frame->top - height - GAP_PX / 2.0);
  pango_cairo_show_layout (cr, y_words);
}

static void
paint_line (cairo_t *cr, const DewChart *chart, const DewChartLine *line, const DewPalette *palette,
            const Frame *frame)
{
  cairo_save (cr);
  cairo_rectangle (cr, frame->left, frame->top - 1.0, frame->width + 1.0, frame->height + 1.0);
  cairo_clip (cr);
  for (int i = 0; i < line->n; i++)
    {
      double at[2];

      to_px (chart, frame, line->x[i], line->y[i], at);
      cairo_line_to (cr, at[0], at[1]);
    }
  set_colour (cr, line->soft ? &palette->ink_soft : &palette->ink, 1.0);
  cairo_set_line_width (cr, line->soft ? AXIS_PX : LINE_PX);
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* The words stand where there is room, off the lines: they fall to the right, so above
 * and to the right is free, unless the edge is near. */
static void
paint_mark (cairo_t *cr, const DewChart *chart, const DewChartMark *mark, const DewPalette *palette,
            const Frame *frame, double font_px)
{
  g_autoptr (PangoLayout) words = NULL;
  int width, height;
  double at[2], x, y;

  to_px (chart, frame, mark->x, mark->y, at);
  set_colour (cr, &palette->paper, 1.0);
  cairo_arc (cr, at[0], at[1], DOT_PX + 1.5, 0.0, 2.0 * G_PI);
  cairo_fill (cr);
  set_colour (cr, &palette->ink, 1.0);
  cairo_arc (cr, at[0], at[1], DOT_PX, 0.0, 2.0 * G_PI);
  cairo_fill (cr);
  if (mark->text == NULL)
    return;
  words = words_new (cr, mark->text, font_px, &width, &height);
  x = MAX (frame->left + GAP_PX, MIN (at[0] + DOT_PX + GAP_PX, frame->left + frame->width - width));
  y = MAX (at[1] - DOT_PX - GAP_PX - height, frame->top - height / 2.0);
  set_colour (cr, &palette->paper, 0.9);
  cairo_rectangle (cr, x - 2.0, y, width + 4.0, height);
  cairo_fill (cr);
  set_colour (cr, &palette->ink, 1.0);
  cairo_move_to (cr, x, y);
  pango_cairo_show_layout (cr, words);
}

void
dew_chart_paint (cairo_t *cr, const DewChart *chart, const DewPalette *palette, double width,
                 double height, double font_px)
{
  double line_px = 1.4 * font_px;
  Frame frame = { 1.0, line_px + GAP_PX, width - DOT_PX - 3.0, 0.0 };

  g_return_if_fail (cr != NULL && chart != NULL && palette != NULL);

  frame.height = height - frame.top - line_px - GAP_PX;
  if (!(chart->x_hi > 0.0) || !(chart->y_hi > 0.0) || frame.height < font_px)
    return;
  paint_axes (cr, chart, palette, &frame, font_px);
  for (int i = 0; i < chart->n_lines; i++)
    paint_line (cr, chart, &chart->line[i], palette, &frame);
  for (int i = 0; i < chart->n_marks; i++)
    paint_mark (cr, chart, &chart->mark[i], palette, &frame, font_px);
}

/* --- strips ---------------------------------------------------------------- */

void
dew_strip_fit (DewStrip *strip, double least_span)
{
  double ends[4] = { strip->want_lo, strip->want_hi, strip->got, strip->got };
  double lo = INFINITY, hi = -INFINITY, room;

  if (!isnan (strip->band))
    {
      ends[2] -= strip->band;
      ends[3] += strip->band;
    }
  for (int i = 0; i < 4; i++)
    {
      if (!isfinite (ends[i]))
        continue;
      lo = MIN (lo, ends[i]);
      hi = MAX (hi, ends[i]);
    }
  if (!(hi >= lo))
    lo = hi = 0.0;
  room = MAX (0.12 * (hi - lo), 0.5 * (least_span - (hi - lo)));
  strip->lo = lo - room;
  strip->hi = hi + room;
}

void
dew_strip_paint (cairo_t *cr, const DewStrip *strip, const DewPalette *palette, double width,
                 double height)
{
  double middle = round (height / 2.0), span = strip->hi - strip->lo;
  double lo = isnan (strip->want_lo) ? strip->lo : strip->want_lo;
  double hi = isnan (strip->want_hi) ? strip->hi : strip->want_hi;
  double at;

  g_return_if_fail (cr != NULL && strip != NULL && palette != NULL);
  if (!(span > 0.0))
    return;

  set_colour (cr, &palette->ink_soft, 0.45);
  cairo_set_line_width (cr, AXIS_PX);
  cairo_move_to (cr, 0.0, middle);
  cairo_line_to (cr, width, middle);
  cairo_stroke (cr);
  if (!isnan (strip->want_lo) || !isnan (strip->want_hi))
    {
      set_colour (cr, &palette->ink, palette->high_contrast ? 0.4 : 0.2);
      cairo_rectangle (cr, width * (lo - strip->lo) / span, middle - height / 4.0,
                       width * (hi - lo) / span, height / 2.0);
      cairo_fill (cr);
    }
  if (!isfinite (strip->got))
    return;
  at = width * (strip->got - strip->lo) / span;
  set_colour (cr, &palette->ink, 1.0);
  if (!isnan (strip->band))
    {
      double reach = width * strip->band / span;

      cairo_set_line_width (cr, LINE_PX);
      cairo_move_to (cr, MAX (0.0, at - reach), middle);
      cairo_line_to (cr, MIN (width, at + reach), middle);
      cairo_stroke (cr);
    }
  /* By shape: a tick inside its band, a dot on the tick outside. */
  cairo_set_line_width (cr, 2.0);
  cairo_move_to (cr, at, middle - height / 2.0 + 1.0);
  cairo_line_to (cr, at, middle + height / 2.0 - 1.0);
  cairo_stroke (cr);
  if (strip->outside)
    {
      cairo_arc (cr, at, middle, DOT_PX, 0.0, 2.0 * G_PI);
      cairo_fill (cr);
    }
}
