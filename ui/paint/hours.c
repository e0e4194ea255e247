/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/hours.h"

#include <math.h>
#include <pango/pangocairo.h>

#include "moist/constants.h"
#include "say/day.h"
#include "say/names.h"
#include "say/where.h"

#define LEFT 9.5  /* letters: names and values */
#define RIGHT 3.2 /* numbers of a strip */
#define STRIP 6.6 /* letters: height of a strip with the gap under it */
#define GAP 1.5
#define FOOT 3.2 /* the line of time */
#define HEAD 0.4
#define LINE_PX 1.5
#define DETAIL_PX 0.75
#define WEEKS_LEFT 12.0
#define WEEK_ROW 1.9

typedef struct
{
  cairo_t *cr;
  const DewHours *h;
  double left, right, width, height;
} Pen;

/* --- letters -------------------------------------------------------------------------- */

static void
ink (cairo_t *cr, const DewColour *c, double alpha)
{
  cairo_set_source_rgba (cr, c->r, c->g, c->b, alpha);
}

/* align: 0 begins at x, 0.5 is centred there, 1 ends there; y is the middle. most_px: 0, or where
 * it is cut. */
static void
write_text (cairo_t *cr, const char *text, double size_px, gboolean bold, double x, double y,
            double align, double most_px)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");
  PangoAttrList *attributes = pango_attr_list_new ();
  int width, height;

  pango_font_description_set_absolute_size (font, size_px * PANGO_SCALE);
  if (bold)
    pango_font_description_set_weight (font, PANGO_WEIGHT_SEMIBOLD);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  if (most_px > 0.0)
    {
      pango_layout_set_width (layout, (int) (most_px * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  pango_layout_set_text (layout, text, -1);
  pango_layout_get_pixel_size (layout, &width, &height);
  cairo_move_to (cr, round (x - align * width), round (y - height / 2.0));
  pango_cairo_show_layout (cr, layout);
  g_object_unref (layout);
}

/* --- a day ---------------------------------------------------------------------------------- */

double
dew_hours_height (int n_bays, double font_px)
{
  return font_px * (HEAD + n_bays * STRIP + FOOT);
}

static double
length_s (const DewHours *h)
{
  return h->day->time_s[h->day->n - 1];
}

double
dew_hours_time_at (const DewHours *h, double width, double x)
{
  double left = LEFT * h->font_px, right = width - RIGHT * h->font_px;

  return CLAMP ((x - left) / (right - left), 0.0, 1.0) * length_s (h);
}

static double
across (const Pen *pen, double time_s)
{
  return pen->left + time_s / length_s (pen->h) * (pen->right - pen->left);
}

static const double *
series_of (const DewHours *h, int bay)
{
  return h->value == DEW_VALUE_RH ? h->day->bays[bay].rh : h->day->bays[bay].t_C;
}

/* One scale for all strips, so that they can be compared. */
static DewRange
range_of (const DewHours *h)
{
  DewRange range = { 0 };
  double lo = INFINITY, hi = -INFINITY;

  for (int b = 0; b < h->day->n_bays; b++)
    for (int k = 0; k < h->day->n; k++)
      {
        gboolean rh = h->value == DEW_VALUE_RH;

        lo = fmin (lo, rh ? h->day->bays[b].rh_lo[k] : h->day->bays[b].t_C[k]);
        hi = fmax (hi, rh ? h->day->bays[b].rh_hi[k] : h->day->bays[b].t_C[k]);
        lo = fmin (lo, rh ? h->day->room_rh[k] : h->day->room_t_C[k]);
        hi = fmax (hi, rh ? h->day->room_rh[k] : h->day->room_t_C[k]);
      }
  dew_range_follow (&range, h->value, h->tongue, lo, hi);
  return range;
}

static double
up (const DewRange *range, double top, double bottom, double value)
{
  return bottom - CLAMP ((value - range->lo) / (range->hi - range->lo), 0.0, 1.0) * (bottom - top);
}

static void
trace (const Pen *pen, const double *series, const DewRange *range, double top, double bottom)
{
  for (int k = 0; k < pen->h->day->n; k++)
    cairo_line_to (pen->cr, across (pen, pen->h->day->time_s[k]),
                   up (range, top, bottom, series[k]));
}

/* What pleases all plants of the bay, by day and by night. */
static void
paint_wanted (const Pen *pen, int bay, const DewRange *range, double top, double bottom)
{
  const DewDay *day = pen->h->day;
  const DewBay *at = &day->steady[1]->bays[bay];
  const double z_m[2] = { at->z0_m, at->z1_m };
  const DewColour *c = &pen->h->palette->ink;

  for (int night = 0; night < 2; night++)
    {
      DewRange want;

      if (!dew_wanted_band (pen->h->value, pen->h->chamber, dew_chamber_shown (pen->h->chamber),
                            NULL, 0, z_m, night, &want))
        continue;
      ink (pen->cr, c, pen->h->palette->high_contrast ? 0.22 : 0.1);
      for (int k = 0; k + 1 < day->n; k++)
        if ((day->is_day[k] == 0) == night)
          {
            double x0 = across (pen, day->time_s[k]), x1 = across (pen, day->time_s[k + 1]);
            double y1 = up (range, top, bottom, isfinite (want.hi) ? want.hi : range->hi);
            double y0 = up (range, top, bottom, isfinite (want.lo) ? want.lo : range->lo);

            cairo_rectangle (pen->cr, x0, y1, x1 - x0, y0 - y1);
          }
      cairo_fill (pen->cr);
    }
}

/* Between the least and the most of each ten minutes: what the humidistat makes of it. */
static void
paint_sway (const Pen *pen, const DewDayBay *bay, const DewRange *range, double top, double bottom)
{
  const DewDay *day = pen->h->day;
  DewColour c = dew_scale_colour (pen->h->palette, DEW_VALUE_RH, 0.75);

  ink (pen->cr, &c, 0.4);
  for (int k = 0; k < day->n; k++)
    cairo_line_to (pen->cr, across (pen, day->time_s[k]), up (range, top, bottom, bay->rh_hi[k]));
  for (int k = day->n - 1; k >= 0; k--)
    cairo_line_to (pen->cr, across (pen, day->time_s[k]), up (range, top, bottom, bay->rh_lo[k]));
  cairo_close_path (pen->cr);
  cairo_fill (pen->cr);
}

static void
paint_numbers (const Pen *pen, const DewRange *range, double top, double bottom)
{
  const DewHours *h = pen->h;
  int decimals = dew_range_decimals (range, h->value, h->tongue);
  const double ends[2] = { range->lo, range->hi };

  ink (pen->cr, &h->palette->ink_soft, 1.0);
  for (int k = 0; k < 2; k++)
    {
      g_autofree char *number
        = dew_number_text (dew_value_to_user (h->value, ends[k], h->tongue), decimals);
      double y = k == 0 ? bottom - 0.3 * h->font_px : top + 0.3 * h->font_px;

      write_text (pen->cr, number, 0.8 * h->font_px, FALSE, pen->right + 0.5 * h->font_px, y, 0.0,
                  0.0);
    }
}

static char *
band_of (const DewHours *h, int bay)
{
  double band = NAN;

  if (h->sure == NULL || h->sure->n_bays != h->day->n_bays)
    return NULL;
  dew_climate_value (&h->sure->bays[bay].mean, h->value, &band);
  return dew_band_text (h->value, band, h->tongue);
}

static void
paint_strip (const Pen *pen, int bay, const DewRange *range, double top)
{
  const DewHours *h = pen->h;
  double bottom = top + (STRIP - GAP) * h->font_px, value;
  const double *series = series_of (h, bay);
  g_autofree char *name = dew_bay_name (bay, h->day->n_bays);
  g_autofree char *text = NULL, *band = band_of (h, bay);
  const DewThing *shelf
    = dew_variant_thing (dew_chamber_shown (h->chamber), h->day->bays[bay].shelf_id);
  static const double dots[] = { 2.0, 3.0 };

  paint_wanted (pen, bay, range, top, bottom);
  if (h->value == DEW_VALUE_RH)
    paint_sway (pen, &h->day->bays[bay], range, top, bottom);
  ink (pen->cr, &h->palette->ink_soft, 0.5);
  cairo_set_line_width (pen->cr, DETAIL_PX);
  cairo_move_to (pen->cr, pen->left, round (bottom) + 0.5);
  cairo_line_to (pen->cr, pen->right, round (bottom) + 0.5);
  cairo_stroke (pen->cr);
  ink (pen->cr, &h->palette->ink_soft, 1.0);
  cairo_set_dash (pen->cr, dots, 2, 0.0);
  trace (pen, h->value == DEW_VALUE_RH ? h->day->room_rh : h->day->room_t_C, range, top, bottom);
  cairo_stroke (pen->cr);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  ink (pen->cr, &h->palette->ink, 1.0);
  cairo_set_line_width (pen->cr, LINE_PX);
  trace (pen, series, range, top, bottom);
  cairo_stroke (pen->cr);
  paint_numbers (pen, range, top, bottom);

  value = dew_day_at (h->day, series, h->time_s);
  text = dew_value_text (h->value, value, h->tongue);
  ink (pen->cr, &h->palette->ink, 1.0);
  write_text (pen->cr, text, 1.5 * h->font_px, TRUE, pen->left - 0.8 * h->font_px,
              top + 1.1 * h->font_px, 1.0, 0.0);
  ink (pen->cr, &h->palette->ink_soft, 1.0);
  if (band != NULL)
    write_text (pen->cr, band, 0.88 * h->font_px, FALSE, pen->left - 0.8 * h->font_px,
                top + 2.6 * h->font_px, 1.0, 0.0);
  write_text (pen->cr, shelf != NULL && shelf->name[0] != '\0' ? shelf->name : name,
              0.88 * h->font_px, FALSE, 0.0, bottom - 0.9 * h->font_px, 0.0,
              (LEFT - 0.8) * h->font_px);
}

/* The line of time: thick while it is as by day, a gap where the front stands open. */
static void
paint_line (const Pen *pen, double y)
{
  const DewHours *h = pen->h;
  const DewDay *day = h->day;

  for (int k = 0; k + 1 < day->n; k++)
    {
      ink (pen->cr, &h->palette->ink, day->is_day[k] ? 1.0 : 0.6);
      cairo_set_line_width (pen->cr, day->is_day[k] ? 3.0 : 1.0);
      cairo_move_to (pen->cr, across (pen, day->time_s[k]), round (y) + 0.5);
      cairo_line_to (pen->cr, across (pen, day->time_s[k + 1]), round (y) + 0.5);
      cairo_stroke (pen->cr);
      if (day->is_open[k])
        {
          double x = across (pen, day->time_s[k]);

          cairo_set_line_width (pen->cr, LINE_PX);
          cairo_move_to (pen->cr, x, y - 2.0);
          cairo_line_to (pen->cr, x + 0.5 * h->font_px, y - 0.6 * h->font_px);
          cairo_stroke (pen->cr);
        }
    }
  for (int hour = 0; hour <= 24; hour += 3)
    {
      double t = hour * DEW_S_PER_H, x;
      g_autofree char *clock = NULL;

      if (t > length_s (h) + 1.0)
        break;
      clock = dew_clock_words (hour == 24 ? 24.0 : dew_routine_clock_h (day->clock, t));
      x = round (across (pen, t)) + 0.5;
      ink (pen->cr, &h->palette->ink_soft, 1.0);
      cairo_set_line_width (pen->cr, 1.0);
      cairo_move_to (pen->cr, x, y + 2.0);
      cairo_line_to (pen->cr, x, y + 6.0);
      cairo_stroke (pen->cr);
      write_text (pen->cr, clock, 0.8 * h->font_px, FALSE, x, y + 1.3 * h->font_px, 0.5, 0.0);
    }
}

static void
paint_pointer (const Pen *pen, double line_y)
{
  double x = round (across (pen, pen->h->time_s)) + 0.5;

  ink (pen->cr, &pen->h->palette->accent, 1.0);
  cairo_set_line_width (pen->cr, 1.0);
  cairo_move_to (pen->cr, x, HEAD * pen->h->font_px);
  cairo_line_to (pen->cr, x, line_y);
  cairo_stroke (pen->cr);
  cairo_arc (pen->cr, x, line_y, 0.42 * pen->h->font_px, 0.0, 2.0 * G_PI);
  cairo_fill (pen->cr);
}

void
dew_hours_paint (cairo_t *cr, const DewHours *h, double width, double height)
{
  Pen pen = { cr, h, LEFT * h->font_px, width - RIGHT * h->font_px, width, height };
  double top = HEAD * h->font_px, line_y;
  DewRange range;

  g_return_if_fail (h->day != NULL && h->palette != NULL);

  range = range_of (h);
  for (int b = h->day->n_bays - 1; b >= 0; b--, top += STRIP * h->font_px)
    paint_strip (&pen, b, &range, top);
  line_y = top + 0.2 * h->font_px;
  paint_line (&pen, line_y);
  paint_pointer (&pen, line_y);
}

/* --- a year ---------------------------------------------------------------------------------- */

double
dew_weeks_height (const DewYear *year, double font_px)
{
  return font_px * (2.2 + WEEK_ROW * year->plants->len + 0.5);
}

static double
week_px (const DewWeeks *w, double width)
{
  return (width - WEEKS_LEFT * w->font_px) / DEW_WEEKS;
}

gboolean
dew_weeks_at (const DewWeeks *w, double width, double x, double y, int *week, int *plant)
{
  double row = (y / w->font_px - 2.2) / WEEK_ROW;
  double column = (x - WEEKS_LEFT * w->font_px) / week_px (w, width);

  if (row < 0.0 || row >= w->year->plants->len || column < 0.0 || column >= DEW_WEEKS)
    return FALSE;
  *week = (int) column;
  *plant = (int) row;
  return TRUE;
}

/* By shape: a triangle up for warm, down for cool, hollow by night; a ring for dry, a disc for
 * humid. */
void
dew_weeks_sign (cairo_t *cr, const DewPalette *palette, int why, double x, double y, double size)
{
  double r = 0.42 * size;
  gboolean warm = why == DEW_OUT_WARM_DAY || why == DEW_OUT_WARM_NIGHT;
  gboolean hollow = why == DEW_OUT_COLD_NIGHT || why == DEW_OUT_WARM_NIGHT || why == DEW_OUT_DRY;

  ink (cr, &palette->ink, 1.0);
  cairo_new_path (cr);
  if (why >= DEW_OUT_DRY)
    cairo_arc (cr, x, y, hollow ? r - 0.5 : r, 0.0, 2.0 * G_PI);
  else
    {
      double tip = warm ? -r : r;

      cairo_move_to (cr, x, y + tip);
      cairo_line_to (cr, x + r, y - 0.8 * tip);
      cairo_line_to (cr, x - r, y - 0.8 * tip);
      cairo_close_path (cr);
    }
  cairo_set_line_width (cr, 1.2);
  if (hollow)
    cairo_stroke (cr);
  else
    cairo_fill (cr);
}

static void
paint_months (cairo_t *cr, const DewWeeks *w, double width, double height)
{
  static const double starts[13] = { 0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365 };
  double left = WEEKS_LEFT * w->font_px, day_px = week_px (w, width) / 7.0;

  for (int m = 0; m < 12; m++)
    {
      double x = left + starts[m] * day_px, wide = (starts[m + 1] - starts[m]) * day_px;

      ink (cr, &w->palette->ink_soft, 0.35);
      cairo_set_line_width (cr, DETAIL_PX);
      cairo_move_to (cr, round (x) + 0.5, 0.6 * w->font_px);
      cairo_line_to (cr, round (x) + 0.5, height);
      cairo_stroke (cr);
      ink (cr, &w->palette->ink_soft, 1.0);
      write_text (cr, dew_month_name (m), 0.8 * w->font_px, FALSE, x + 0.3 * w->font_px,
                  1.0 * w->font_px, 0.0, wide - 0.4 * w->font_px);
    }
}

void
dew_weeks_paint (cairo_t *cr, const DewWeeks *w, double width, double height)
{
  double left = WEEKS_LEFT * w->font_px, cell = week_px (w, width);

  g_return_if_fail (w->year != NULL && w->palette != NULL);

  paint_months (cr, w, width, height);
  for (guint n = 0; n < w->year->plants->len; n++)
    {
      const DewYearPlant *plant = &g_array_index (w->year->plants, DewYearPlant, n);
      double y = w->font_px * (2.2 + WEEK_ROW * (n + 0.5));

      ink (cr, &w->palette->ink, plant->known ? 1.0 : 0.6);
      write_text (cr, plant->name, 0.92 * w->font_px, FALSE, 0.0, y, 0.0, left - 0.6 * w->font_px);
      for (int week = 0; week < DEW_WEEKS; week++)
        {
          double x = left + (week + 0.5) * cell;

          if (plant->why[week] >= 0)
            {
              double weight = dew_out_weight ((DewOut) plant->why[week], plant->beyond[week]);

              /* The larger the worse. */
              dew_weeks_sign (cr, w->palette, plant->why[week], x, y,
                              MIN (cell, WEEK_ROW * w->font_px)
                                * CLAMP (0.45 + 0.35 * weight, 0.45, 0.95));
            }
          else
            {
              ink (cr, &w->palette->ink_soft, plant->known ? 0.6 : 0.25);
              cairo_arc (cr, x, y, 1.0, 0.0, 2.0 * G_PI);
              cairo_fill (cr);
            }
        }
    }
  if (w->week >= 0)
    {
      ink (cr, &w->palette->accent, 1.0);
      cairo_set_line_width (cr, LINE_PX);
      cairo_rectangle (cr, left + w->week * cell - 1.0,
                       w->font_px * (2.2 + WEEK_ROW * w->plant) + 1.0, cell + 2.0,
                       WEEK_ROW * w->font_px - 2.0);
      cairo_stroke (cr);
    }
}

/* --- time that is left ----------------------------------------------------------------------- */

#define LEFT_ROW 1.6
#define SOONEST_S 300.0

static double
left_at (double s, double width)
{
  double last = DEW_MISHAP_HOURS * DEW_S_PER_H;

  return CLAMP (log (MAX (s, SOONEST_S) / SOONEST_S) / log (last / SOONEST_S), 0.0, 1.0) * width;
}

double
dew_time_left_height (const DewMishap *m, double font_px)
{
  int n = 0;

  for (guint k = 0; k < m->plants->len; k++)
    n += g_array_index (m->plants, DewMishapPlant, k).known;
  return font_px * (LEFT_ROW * n + 1.8);
}

static void
paint_left_times (cairo_t *cr, const DewTimeLeft *l, double from, double width, double bottom)
{
  static const double hours[] = { 1.0 / 6.0, 0.5, 1.0, 3.0, 6.0, 12.0, 24.0, 48.0 };

  for (guint k = 0; k < G_N_ELEMENTS (hours); k++)
    {
      double x = round (from + left_at (hours[k] * DEW_S_PER_H, width)) + 0.5;
      g_autofree char *words = dew_span_words (hours[k] * DEW_S_PER_H);

      ink (cr, &l->palette->ink_soft, 0.35);
      cairo_set_line_width (cr, DETAIL_PX);
      cairo_move_to (cr, x, 0.0);
      cairo_line_to (cr, x, bottom);
      cairo_stroke (cr);
      ink (cr, &l->palette->ink_soft, 1.0);
      write_text (cr, words, 0.8 * l->font_px, FALSE, x, bottom + 0.9 * l->font_px, 0.5, 0.0);
    }
}

void
dew_time_left_paint (cairo_t *cr, const DewTimeLeft *l, double width, double height)
{
  double from = WEEKS_LEFT * l->font_px, wide = width - from - 3.0 * l->font_px;
  double y = 0.5 * LEFT_ROW * l->font_px;

  paint_left_times (cr, l, from, wide, height - 1.7 * l->font_px);
  for (guint n = 0; n < l->mishap->plants->len; n++)
    {
      const DewMishapPlant *plant = &g_array_index (l->mishap->plants, DewMishapPlant, n);
      double x = from + (plant->crossed ? left_at (plant->after_s, wide) : wide);

      if (!plant->known)
        continue;
      ink (cr, &l->palette->ink, 1.0);
      write_text (cr, plant->name, 0.92 * l->font_px, FALSE, 0.0, y, 0.0, from - 0.6 * l->font_px);
      cairo_set_line_width (cr, plant->crossed ? LINE_PX : DETAIL_PX);
      cairo_move_to (cr, from, round (y) + 0.5);
      cairo_line_to (cr, x - (plant->crossed ? 0.6 * l->font_px : 0.0), round (y) + 0.5);
      cairo_stroke (cr);
      if (plant->crossed)
        dew_weeks_sign (cr, l->palette, plant->why, x, y, 1.2 * l->font_px);
      y += LEFT_ROW * l->font_px;
    }
}
