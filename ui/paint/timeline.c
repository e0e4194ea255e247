/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/timeline.h"

#include <glib/gi18n.h>
#include <math.h>
#include <pango/pangocairo.h>

#define LEFT_EMS 4.5
#define RIGHT_EMS 9.0
#define RAIL_EMS 6.0
#define GAP_EMS 1.4
#define RAIL_LINES 3

typedef struct
{
  cairo_t *cr;
  const DewTimeline *line;
  const DewPalette *palette;
  double x0, x1, font_px;
} Pen;

/* One strip: its place and the values of its ends. */
typedef struct
{
  double y0, y1; /* top and bottom */
  double lo, hi;
  gboolean humidity;
} Strip;

static void
set_colour (const Pen *pen, DewColour colour, double alpha)
{
  cairo_set_source_rgba (pen->cr, colour.r, colour.g, colour.b, alpha);
}

/* anchor: 0 begins there, 0.5 in the middle, 1 ends there. Returns its width. */
static double
say (const Pen *pen, const char *text, double x, double y, double anchor, double most_px)
{
  PangoLayout *layout = pango_cairo_create_layout (pen->cr);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");
  int w, h;

  pango_font_description_set_absolute_size (font, pen->font_px * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  if (most_px > 0.0)
    {
      pango_layout_set_width (layout, (int) (most_px * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  pango_layout_set_text (layout, text, -1);
  pango_layout_get_pixel_size (layout, &w, &h);
  cairo_move_to (pen->cr, x - anchor * w, y - 0.5 * h);
  pango_cairo_show_layout (pen->cr, layout);
  pango_font_description_free (font);
  g_object_unref (layout);
  return w;
}

static double
x_of (const Pen *pen, double time_s)
{
  return pen->x0
         + (pen->x1 - pen->x0) * (time_s - (double) pen->line->from_s)
             / (double) (pen->line->to_s - pen->line->from_s);
}

static double
y_of (const Strip *s, double value)
{
  return s->y1 - (s->y1 - s->y0) * (value - s->lo) / (s->hi - s->lo);
}

/* --- values ------------------------------------------------------------------------ */

/* Least, mean and greatest over the quarters of one pixel. FALSE where nothing was read. */
static gboolean
gather (const DewTimelineLine *line, const Strip *s, double from_s, double to_s, double out[3])
{
  gint64 first = (gint64) floor ((from_s - (double) line->first_s) / DEW_QUARTER_S);
  gint64 last = (gint64) ceil ((to_s - (double) line->first_s) / DEW_QUARTER_S);
  int n = 0;

  for (gint64 q = MAX (first, 0); q < MIN (MAX (last, first + 1), line->n); q++)
    {
      const float *three = s->humidity ? line->quarter[q].rh : line->quarter[q].t_C;

      if (isnan (three[1]))
        continue;
      out[0] = n == 0 ? three[0] : MIN (out[0], three[0]);
      out[2] = n == 0 ? three[2] : MAX (out[2], three[2]);
      out[1] = (n == 0 ? 0.0 : out[1]) + three[1];
      n++;
    }
  if (n == 0)
    return FALSE;
  out[1] /= n;
  return TRUE;
}

static void
fit_strip (const Pen *pen, Strip *s)
{
  double lo = INFINITY, hi = -INFINITY, least = s->humidity ? 0.2 : 4.0;
  const DewTimelineForecast *f = &pen->line->forecast;

  for (int i = 0; i < pen->line->n_lines; i++)
    {
      double three[3];

      if (gather (&pen->line->line[i], s, (double) pen->line->from_s, (double) pen->line->to_s,
                  three))
        {
          lo = MIN (lo, three[0]);
          hi = MAX (hi, three[2]);
        }
    }
  for (int night = 0; night < 2 && f->known; night++)
    {
      double value = s->humidity ? f->rh[night] : f->t_C[night];
      double band = s->humidity ? f->rh_band[night] : f->t_band_K[night];

      lo = MIN (lo, value - band);
      hi = MAX (hi, value + band);
    }
  if (lo > hi)
    {
      lo = s->humidity ? 0.5 : 10.0;
      hi = s->humidity ? 1.0 : 25.0;
    }
  s->lo = (s->humidity ? 0.05 : 1.0) * floor (lo / (s->humidity ? 0.05 : 1.0) - 0.3);
  s->hi = (s->humidity ? 0.05 : 1.0) * ceil (hi / (s->humidity ? 0.05 : 1.0) + 0.3);
  if (s->hi - s->lo < least)
    s->hi = s->lo + least;
  if (s->humidity)
    {
      s->hi = MIN (s->hi, 1.0);
      s->lo = MIN (s->lo, s->hi - least);
    }
}

/* --- what is drawn -------------------------------------------------------------------- */

static void
draw_axis (const Pen *pen, const Strip *s)
{
  const DewUnit *unit
    = dew_unit (s->humidity ? DEW_MEASURE_SHARE : DEW_MEASURE_TEMPERATURE, pen->line->tongue);
  double step = s->humidity ? 0.1 : s->hi - s->lo > 8.0 ? 5.0 : 2.0;

  for (double value = step * ceil (s->lo / step - 1e-9); value <= s->hi + 1e-9; value += step)
    {
      double y = round (y_of (s, value)) + 0.5;
      g_autofree char *text = dew_number_text (dew_unit_shown (unit, value), 0);
      g_autofree char *label = g_strconcat (text, unit->symbol, NULL);

      set_colour (pen, pen->palette->ink_soft, 0.25);
      cairo_set_line_width (pen->cr, 1.0);
      cairo_move_to (pen->cr, pen->x0, y);
      cairo_line_to (pen->cr, pen->x1, y);
      cairo_stroke (pen->cr);
      set_colour (pen, pen->palette->ink_soft, 1.0);
      say (pen, label, pen->x0 - 0.5 * pen->font_px, y, 1.0, 0.0);
    }
}

/* The band by day over the whole width, the one by night hatched into it where it differs. */
static void
draw_forecast (const Pen *pen, const Strip *s)
{
  const DewTimelineForecast *f = &pen->line->forecast;

  for (int night = 0; night < 2 && f->known; night++)
    {
      double value = s->humidity ? f->rh[night] : f->t_C[night];
      double band = s->humidity ? f->rh_band[night] : f->t_band_K[night];
      double top = MAX (s->y0, y_of (s, value + band));
      double foot = MIN (s->y1, y_of (s, value - band));

      set_colour (pen, pen->palette->leaf, 0.16);
      cairo_rectangle (pen->cr, pen->x0, top, pen->x1 - pen->x0, MAX (1.0, foot - top));
      cairo_fill (pen->cr);
      set_colour (pen, pen->palette->leaf, 0.9);
      cairo_set_line_width (pen->cr, 1.5);
      cairo_set_dash (pen->cr, (const double[]){ 2.0, 4.0 }, night ? 2 : 0, 0.0);
      cairo_move_to (pen->cr, pen->x0, y_of (s, value));
      cairo_line_to (pen->cr, pen->x1, y_of (s, value));
      cairo_stroke (pen->cr);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
    }
}

/* The first line in ink, others in softer ones; all of the same weight. */
static DewColour
colour_of (const Pen *pen, int i)
{
  const DewPalette *p = pen->palette;
  const DewColour colours[] = { p->ink, p->accent, p->leaf, p->ink_soft };

  return pen->line->line[i].room ? p->ink_soft : colours[i % G_N_ELEMENTS (colours)];
}

/* What was read in one step of pixels; FALSE where nothing was. */
static gboolean
gather_at (const Pen *pen, const Strip *s, int i, double x, double step_px, double three[3])
{
  double each_s = (double) (pen->line->to_s - pen->line->from_s) / (pen->x1 - pen->x0);
  double from_s = (double) pen->line->from_s + (x - pen->x0) * each_s;

  return gather (&pen->line->line[i], s, from_s, from_s + step_px * each_s, three);
}

/* From the least to the greatest as a pale bar, and the mean as a line that stops at gaps. */
static void
draw_line (const Pen *pen, const Strip *s, int i)
{
  double each_s = (double) (pen->line->to_s - pen->line->from_s) / (pen->x1 - pen->x0);
  double step_px = MAX (1.0, DEW_QUARTER_S / each_s), three[3];
  gboolean down = FALSE;

  set_colour (pen, colour_of (pen, i), 0.18);
  for (double x = pen->x0; x < pen->x1; x += step_px)
    if (gather_at (pen, s, i, x, step_px, three) && three[2] > three[0])
      cairo_rectangle (pen->cr, x, y_of (s, three[2]), step_px,
                       y_of (s, three[0]) - y_of (s, three[2]));
  cairo_fill (pen->cr);
  for (double x = pen->x0; x < pen->x1; x += step_px)
    {
      gboolean there = gather_at (pen, s, i, x, step_px, three);

      if (there && down)
        cairo_line_to (pen->cr, x + 0.5 * step_px, y_of (s, three[1]));
      else if (there)
        cairo_move_to (pen->cr, x + 0.5 * step_px, y_of (s, three[1]));
      down = there;
    }
  set_colour (pen, colour_of (pen, i), 1.0);
  cairo_set_line_width (pen->cr, 1.25);
  cairo_stroke (pen->cr);
}

/* Names at the right end, where the lines end, kept apart. */
static void
draw_names (const Pen *pen, const Strip *s)
{
  double last_y = -INFINITY;

  for (int i = 0; i < pen->line->n_lines; i++)
    {
      double y = MAX (s->y0 + (i + 0.6) * 1.3 * pen->font_px, last_y + 1.2 * pen->font_px);

      set_colour (pen, colour_of (pen, i), 1.0);
      cairo_set_line_width (pen->cr, 2.0);
      cairo_move_to (pen->cr, pen->x1 + 0.5 * pen->font_px, y);
      cairo_line_to (pen->cr, pen->x1 + 1.3 * pen->font_px, y);
      cairo_stroke (pen->cr);
      set_colour (pen, pen->palette->ink, 1.0);
      say (pen, pen->line->line[i].name, pen->x1 + 1.7 * pen->font_px, y, 0.0,
           (RIGHT_EMS - 1.8) * pen->font_px);
      last_y = y;
    }
  if (pen->line->forecast.known)
    {
      set_colour (pen, pen->palette->ink_soft, 1.0);
      say (pen, _ ("forecast; dotted by night"), pen->x1 + 0.5 * pen->font_px,
           s->y1 - 0.7 * pen->font_px, 0.0, (RIGHT_EMS - 0.6) * pen->font_px);
    }
}

/* Moments of the time axis: days, weeks, months or years apart, as there is room. */
static void
draw_times (const Pen *pen, double y)
{
  static const struct
  {
    double step_s;
    const char *format;
  } steps[] = { { 3600.0 * 3, "%H:%M" },   { 86400.0, "%e %b" },      { 86400.0 * 7, "%e %b" },
                { 86400.0 * 30, "%b %Y" }, { 86400.0 * 91, "%b %Y" }, { 86400.0 * 365, "%Y" } };
  double span_s = (double) (pen->line->to_s - pen->line->from_s);
  double room = (pen->x1 - pen->x0) / (6.0 * pen->font_px);
  guint k = 0;

  while (k + 1 < G_N_ELEMENTS (steps) && span_s / steps[k].step_s > room)
    k++;
  for (double at = steps[k].step_s * ceil ((double) pen->line->from_s / steps[k].step_s);
       at < (double) pen->line->to_s; at += steps[k].step_s)
    {
      g_autoptr (GDateTime) moment = g_date_time_new_from_unix_local ((gint64) at);
      g_autofree char *text = g_date_time_format (moment, steps[k].format);
      double x = round (x_of (pen, at)) + 0.5;

      set_colour (pen, pen->palette->ink_soft, 0.6);
      cairo_set_line_width (pen->cr, 1.0);
      cairo_move_to (pen->cr, x, y - 0.7 * pen->font_px);
      cairo_line_to (pen->cr, x, y - 0.3 * pen->font_px);
      cairo_stroke (pen->cr);
      set_colour (pen, pen->palette->ink_soft, 1.0);
      say (pen, g_strstrip (text), x, y + 0.3 * pen->font_px, 0.5, 0.0);
    }
}

/* Marks on the rail, and a thread up through the strips; words in the first line that is free. */
static void
draw_events (const Pen *pen, double top, double rail)
{
  double free_at[RAIL_LINES];

  for (int row = 0; row < RAIL_LINES; row++)
    free_at[row] = -INFINITY;
  for (int i = 0; i < pen->line->n_events; i++)
    {
      const DewTimelineEvent *event = &pen->line->event[i];
      double x = x_of (pen, (double) event->time_s), r = 0.28 * pen->font_px;
      int row = 0;

      if (x < pen->x0 || x > pen->x1)
        continue;
      set_colour (pen, pen->palette->ink_soft, 0.55);
      cairo_set_line_width (pen->cr, 1.0);
      cairo_set_dash (pen->cr, (const double[]){ 1.0, 3.0 }, 2, 0.0);
      cairo_move_to (pen->cr, round (x) + 0.5, top);
      cairo_line_to (pen->cr, round (x) + 0.5, rail);
      cairo_stroke (pen->cr);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
      set_colour (pen, pen->palette->ink, 1.0);
      if (event->change)
        cairo_rectangle (pen->cr, x - r, rail - r, 2.0 * r, 2.0 * r);
      else
        cairo_arc (pen->cr, x, rail, r, 0.0, 2.0 * G_PI);
      cairo_fill (pen->cr);
      while (row < RAIL_LINES && free_at[row] > x)
        row++;
      if (row < RAIL_LINES)
        free_at[row] = x + pen->font_px
                       + say (pen, event->words, x, rail + (row + 1.1) * 1.2 * pen->font_px, 0.0,
                              MIN (16.0 * pen->font_px, pen->x1 + RIGHT_EMS * pen->font_px - x));
    }
}

static Pen
pen_of (cairo_t *cr, const DewTimeline *timeline, const DewPalette *palette, double width,
        double font_px)
{
  return (Pen){ cr,
                timeline,
                palette,
                LEFT_EMS * font_px,
                MAX (width - RIGHT_EMS * font_px, LEFT_EMS * font_px + 10.0),
                font_px };
}

void
dew_timeline_paint (cairo_t *cr, const DewTimeline *timeline, const DewPalette *palette,
                    double width, double height, double font_px)
{
  Pen pen = pen_of (cr, timeline, palette, width, font_px);
  double rail = height - RAIL_EMS * font_px + font_px;
  double each = 0.5 * (rail - (2.0 + 2.0 * GAP_EMS) * font_px);
  Strip strips[2] = { { .humidity = TRUE }, { .humidity = FALSE } };

  if (timeline->to_s <= timeline->from_s || each < 2.0 * font_px)
    return;
  for (int i = 0; i < 2; i++)
    {
      Strip *s = &strips[i];

      s->y0 = 0.8 * font_px + i * (each + GAP_EMS * font_px);
      s->y1 = s->y0 + each;
      fit_strip (&pen, s);
      draw_axis (&pen, s);
      cairo_save (cr);
      cairo_rectangle (cr, pen.x0, s->y0 - 1.0, pen.x1 - pen.x0, each + 2.0);
      cairo_clip (cr);
      draw_forecast (&pen, s);
      for (int k = timeline->n_lines - 1; k >= 0; k--)
        draw_line (&pen, s, k);
      cairo_restore (cr);
    }
  draw_names (&pen, &strips[0]);
  draw_times (&pen, strips[1].y1 + 1.3 * font_px);
  draw_events (&pen, strips[0].y0, rail);
}

gint64
dew_timeline_time_at (const DewTimeline *timeline, double width, double font_px, double x)
{
  Pen pen = pen_of (NULL, timeline, NULL, width, font_px);

  return timeline->from_s
         + (gint64) ((x - pen.x0) / (pen.x1 - pen.x0)
                     * (double) (timeline->to_s - timeline->from_s));
}
