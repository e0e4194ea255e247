/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>

/* A grid of values over one view, row 0 lowest, with the heights at which it
 * may jump (shelves). */
typedef struct
{
  int     columns, rows;
  double *value;
  double *z_m;    /* [n_bands + 1], ascending; only the ends in the plan */
  int     n_bands;
} DewGridPicture;

static void
picture_clear (DewGridPicture *picture)
{
  g_free (picture->value);
  g_free (picture->z_m);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DewGridPicture, picture_clear)

static void
picture_init (DewGridPicture *picture, const DewPen *pen, DewView view, DewValue value,
              double cell_px)
{
  const DewRect *rect = &pen->layout->view[view];
  gboolean plan = view == DEW_VIEW_PLAN;

  picture->columns = CLAMP ((int) ceil (rect->width / cell_px), 12, 240);
  picture->rows = CLAMP ((int) ceil (rect->height / cell_px), 12, 400);
  picture->value = g_new (double, (gsize) picture->columns * picture->rows);
  dew_forecast_picture (pen->sheet->forecast, value, view, plan ? pen->layout->plan_lo_m : 0,
                        plan ? pen->layout->plan_hi_m : 0, picture->columns, picture->rows,
                        picture->value);
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

/* Rows whose middles lie in a band: first..last - 1. */
static void
picture_band (const DewGridPicture *picture, const DewPen *pen, DewView view, int band,
              int *first, int *last)
{
  double cell_m = pen->layout->inner_m[dew_view_up (view)] / picture->rows;

  *first = CLAMP ((int) ceil (picture->z_m[band] / cell_m - 0.5), 0, picture->rows);
  *last = CLAMP ((int) ceil (picture->z_m[band + 1] / cell_m - 0.5), *first, picture->rows);
}

/* --- colours -------------------------------------------------------------------- */

#define SHADES 512

static guint32
pack (const DewColour *colour, double alpha)
{
  guint a = (guint) lround (alpha * 255);
  guint r = (guint) lround (colour->r * alpha * 255);
  guint g = (guint) lround (colour->g * alpha * 255);
  guint b = (guint) lround (colour->b * alpha * 255);

  return a << 24 | r << 16 | g << 8 | b;
}

/* Paints rows of an image over their part of a view. Each band is clipped and
 * continues its own edge, so that a jump at a shelf stays a jump. */
static void
paint_band (const DewPen *pen, DewView view, const DewGridPicture *picture, int band,
            cairo_surface_t *image)
{
  const DewRect *rect = &pen->layout->view[view];
  double up_m = pen->layout->inner_m[dew_view_up (view)];
  double y0 = rect->y + rect->height * (1 - picture->z_m[band + 1] / up_m);
  double y1 = rect->y + rect->height * (1 - picture->z_m[band] / up_m);
  double top, bottom;
  cairo_surface_t *part;
  int first, last;

  picture_band (picture, pen, view, band, &first, &last);
  if (last <= first)
    return;

  part = cairo_surface_create_for_rectangle (image, 0, picture->rows - last, picture->columns,
                                             last - first);
  cairo_save (pen->cr);
  top = band == picture->n_bands - 1 ? rect->y : round (y0);
  /* One px over the band below: where px do not fall on those of the paper, a
   * seam would show the ground. The line of the shelf lies on it. */
  bottom = band == 0 ? rect->y + rect->height : round (y1) + 1;
  cairo_rectangle (pen->cr, rect->x, top, rect->width, bottom - top);
  cairo_clip (pen->cr);
  cairo_translate (pen->cr, rect->x, rect->y + rect->height * (1 - (double) last / picture->rows));
  cairo_scale (pen->cr, rect->width / picture->columns, rect->height / picture->rows);
  cairo_set_source_surface (pen->cr, part, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (pen->cr), CAIRO_FILTER_BILINEAR);
  cairo_pattern_set_extend (cairo_get_source (pen->cr), CAIRO_EXTEND_PAD);
  cairo_paint (pen->cr);
  cairo_restore (pen->cr);
  cairo_surface_destroy (part);
}

static cairo_surface_t *
picture_image (const DewGridPicture *picture)
{
  return cairo_image_surface_create (CAIRO_FORMAT_ARGB32, picture->columns, picture->rows);
}

static guint32 *
image_row (cairo_surface_t *image, const DewGridPicture *picture, int row)
{
  guchar *data = cairo_image_surface_get_data (image);
  gsize stride = cairo_image_surface_get_stride (image);

  return (guint32 *) (gpointer) (data + (picture->rows - 1 - row) * stride);
}

static void
paint_colours (const DewPen *pen, DewView view, const DewRange *range, const guint32 *shades)
{
  g_auto (DewGridPicture) picture = { 0 };
  cairo_surface_t *image;

  picture_init (&picture, pen, view, pen->sheet->coloured, 4);
  image = picture_image (&picture);
  cairo_surface_flush (image);
  for (int row = 0; row < picture.rows; row++)
    {
      guint32 *out = image_row (image, &picture, row);

      for (int column = 0; column < picture.columns; column++)
        {
          double value = picture.value[(gsize) row * picture.columns + column];
          double fraction = dew_range_fraction (range, value);

          /* No number, no colour: the bare ground shows. */
          out[column] = isnan (fraction) ? 0 : shades[lround (fraction * (SHADES - 1))];
        }
    }
  cairo_surface_mark_dirty (image);

  for (int band = 0; band < picture.n_bands; band++)
    paint_band (pen, view, &picture, band, image);
  cairo_surface_destroy (image);
}

/* --- mist ------------------------------------------------------------------------- */

static double
droplet_m (const DewVariant *variant)
{
  const double typical_m = 5e-6;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_HUMIDIFIER && thing->humidifier.technology == DEW_MIST_ULTRASONIC
          && thing->humidifier.droplet_m > 0)
        return thing->humidifier.droplet_m;
    }
  return typical_m;
}

/* How much of what is behind a depth of mist it hides: extinction of drops much
 * larger than the wavelength of light, efficiency 2 (Hinds, Aerosol Technology,
 * 2nd ed., ch. 16.2), so beta = 2 * area = 3 * mass / (density * diameter). */
static void
paint_veil (const DewPen *pen, DewView view)
{
  const double density_air = 1.2, density_water = 1000; /* kg/m3 */
  const double least = 0.01;
  const double most = 0.22; /* of thick fog: the colours below must stay readable */
  g_auto (DewGridPicture) picture = { 0 };
  double depth_m, factor, thickest = 0;
  cairo_surface_t *image;

  depth_m = view == DEW_VIEW_PLAN ? pen->layout->plan_hi_m - pen->layout->plan_lo_m
                                  : pen->layout->inner_m[dew_view_depth (view)];
  factor = 3 * density_air * depth_m / (density_water * droplet_m (pen->sheet->variant));

  picture_init (&picture, pen, view, DEW_VALUE_MIST, 8);
  image = picture_image (&picture);
  cairo_surface_flush (image);
  for (int row = 0; row < picture.rows; row++)
    {
      guint32 *out = image_row (image, &picture, row);

      for (int column = 0; column < picture.columns; column++)
        {
          double mist = picture.value[(gsize) row * picture.columns + column];
          double hidden = isfinite (mist) && mist > 0 ? most * (1 - exp (-factor * mist)) : 0;

          thickest = MAX (thickest, hidden);
          out[column] = pack (&pen->palette->veil, hidden);
        }
    }
  cairo_surface_mark_dirty (image);

  for (int band = 0; band < picture.n_bands && thickest > least; band++)
    paint_band (pen, view, &picture, band, image);
  cairo_surface_destroy (image);
}

void
dew_paint_field (const DewPen *pen)
{
  const DewForecast *forecast = pen->sheet->forecast;
  guint32 shades[SHADES];
  DewRange range;

  for (int view = 0; view < DEW_N_VIEWS; view++)
    if (pen->layout->shown[view])
      {
        const DewRect *rect = &pen->layout->view[view];

        cairo_rectangle (pen->cr, rect->x, rect->y, rect->width, rect->height);
        dew_pen_colour (pen, &pen->palette->air, 1);
        cairo_fill (pen->cr);
      }
  if (forecast == NULL || pen->sheet->cannot != NULL)
    return;

  for (int i = 0; i < SHADES; i++)
    {
      DewColour colour = dew_scale_colour (pen->palette, pen->sheet->coloured,
                                           (double) i / (SHADES - 1));

      shades[i] = pack (&colour, 1);
    }
  range = dew_sheet_range (pen->sheet);
  for (int view = 0; view < DEW_N_VIEWS; view++)
    if (pen->layout->shown[view])
      {
        if (forecast->value[pen->sheet->coloured] != NULL)
          paint_colours (pen, view, &range, shades);
        /* Mist on the scale of mist would be shown twice. */
        if (forecast->value[DEW_VALUE_MIST] != NULL && pen->sheet->coloured != DEW_VALUE_MIST)
          paint_veil (pen, view);
      }
}

/* --- isolines ---------------------------------------------------------------------- */

typedef struct
{
  double x0, y0, x1, y1;
} DewSegment;

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
      DewSegment one = { cut_x[shift % 4], cut_y[shift % 4], cut_x[(shift + 1) % 4],
                         cut_y[(shift + 1) % 4] };
      DewSegment two = { cut_x[(shift + 2) % 4], cut_y[(shift + 2) % 4], cut_x[(shift + 3) % 4],
                         cut_y[(shift + 3) % 4] };

      g_array_append_val (out, one);
      g_array_append_val (out, two);
    }
}

static GArray *
level_segments (const DewPen *pen, DewView view, const DewGridPicture *picture, double level)
{
  const DewRect *rect = &pen->layout->view[view];
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewSegment));
  double w = rect->width / picture->columns, h = rect->height / picture->rows;

  for (int band = 0; band < picture->n_bands; band++)
    {
      int first, last;

      picture_band (picture, pen, view, band, &first, &last);
      /* Samples lie at the middles of cells; half a cell more on each side, with
       * the value of the edge, takes the lines up to walls and shelves. */
      for (int row = first - 1; row < last && last > first; row++)
        for (int column = -1; column < picture->columns; column++)
          {
            const double *below
                = picture->value + (gsize) MAX (row, first) * picture->columns;
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
  double step_user = fabs (dew_value_to_user (pen->sheet->coloured, range->step, FALSE)
                           - dew_value_to_user (pen->sheet->coloured, 0, FALSE));
  int decimals = step_user < 0.0995 ? 2 : step_user < 0.995 ? 1 : 0;

  picture_init (&picture, pen, view, pen->sheet->coloured, 7);
  for (int i = 1; i < levels; i++)
    {
      double level = range->lo + i * range->step;
      g_autoptr (GArray) segments = level_segments (pen, view, &picture, level);
      g_autofree char *text = g_strdup_printf (
          "%.*f", decimals, dew_value_to_user (pen->sheet->coloured, level, pen->sheet->imperial));

      cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
      cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_ROUND);
      dew_pen_colour (pen, &pen->palette->ink, pen->palette->high_contrast ? 0.9 : 0.38);
      for (guint j = 0; j < segments->len; j++)
        {
          const DewSegment *s = &g_array_index (segments, DewSegment, j);

          cairo_move_to (pen->cr, s->x0, s->y0);
          cairo_line_to (pen->cr, s->x1, s->y1);
          /* One long path of crossing pieces is slow; many small ones are not. */
          if (j % 64 == 63)
            cairo_stroke (pen->cr);
        }
      cairo_stroke (pen->cr);
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

/* --- legend -------------------------------------------------------------------------- */

/* Whether zones lie beyond an end of the colours. */
static void
beyond_ends (const DewPen *pen, const DewRange *range, gboolean *below, gboolean *above)
{
  const double slack = 0.02 * (range->hi - range->lo);
  const DewForecast *forecast = pen->sheet->forecast;
  const double *value = forecast->value[pen->sheet->coloured];

  *below = *above = FALSE;
  for (int i = 0; i < forecast->n_zones; i++)
    {
      *below = *below || value[i] < range->lo - slack;
      *above = *above || value[i] > range->hi + slack;
    }
}

static void
paint_scale_bar (const DewPen *pen, const DewRange *range, double x, double y, double width,
                 double height)
{
  DewValue value = pen->sheet->coloured;
  gboolean imperial = pen->sheet->imperial;
  int numbers = (int) lround ((range->hi - range->lo) / range->step);
  double step_user = fabs (dew_value_to_user (value, range->step, imperial)
                           - dew_value_to_user (value, 0, imperial));
  int decimals = step_user < 0.0995 ? 2 : step_user < 0.995 ? 1 : 0;
  cairo_pattern_t *scale = cairo_pattern_create_linear (x, 0, x + width, 0);
  gboolean below, above;

  beyond_ends (pen, range, &below, &above);
  for (int i = 0; i <= 48; i++)
    {
      DewColour c = dew_scale_colour (pen->palette, value, i / 48.0);

      cairo_pattern_add_color_stop_rgb (scale, i / 48.0, c.r, c.g, c.b);
    }
  cairo_rectangle (pen->cr, x, y, width, height);
  cairo_set_source (pen->cr, scale);
  cairo_fill (pen->cr);
  cairo_pattern_destroy (scale);

  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  for (int i = 0; i <= numbers; i++)
    {
      double at = MIN (range->lo + i * range->step, range->hi);
      double tick = x + width * (at - range->lo) / (range->hi - range->lo);
      g_autofree char *bare
          = g_strdup_printf ("%.*f", decimals, dew_value_to_user (value, at, imperial));
      g_autofree char *text
          = g_strdup_printf ("%s%s%s%s",
                             i == 0 && below ? "≤ " : i == numbers && above ? "≥ " : "", bare,
                             i == numbers ? " " : "",
                             i == numbers ? dew_value_unit (value, imperial) : "");
      DewTextMeter meter;
      double text_width, text_height;

      dew_text_meter_init (&meter, pen->sheet);
      dew_text_measure (&meter, DEW_TEXT_NUMBER, bare, &text_width, &text_height);
      if (i == numbers && above)
        text_width += text_height; /* the sign before it */
      else if (i == 0 && below)
        text_width += text_height;
      dew_text_meter_clear (&meter);
      dew_pen_colour (pen, &pen->palette->ink_soft, 0.8);
      dew_pen_line (pen, dew_crisp (tick - 0.5), y + height, dew_crisp (tick - 0.5),
                    y + height + 4 * pen->unit);
      /* The number stands under its tick; the unit follows the last one. */
      dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, tick - text_width / 2,
                    y + height + 5 * pen->unit, 0, 0, text);
    }
}

void
dew_paint_legend (const DewPen *pen)
{
  const DewRect *legend = &pen->layout->legend;
  const DewPalette *palette = pen->palette;
  const char *label = dew_value_label (pen->sheet->coloured);
  DewTextMeter meter;
  DewRange range;
  double width, height, x;

  if (pen->sheet->cannot != NULL)
    {
      g_autofree char *text = g_strdup_printf ("cannot: %s", pen->sheet->cannot);

      dew_pen_text (pen, DEW_TEXT_CAPTION, &palette->accent, 1, legend->x, legend->y, 0, 0, text);
      return;
    }
  if (pen->sheet->forecast == NULL)
    {
      dew_pen_text (pen, DEW_TEXT_CAPTION, &palette->ink_soft, 1, legend->x, legend->y, 0, 0,
                    "The first forecast is being made; colours follow.");
      return;
    }

  range = dew_sheet_range (pen->sheet);
  dew_text_meter_init (&meter, pen->sheet);
  dew_text_measure (&meter, DEW_TEXT_CAPTION, label, &width, &height);
  dew_text_meter_clear (&meter);
  dew_pen_text (pen, DEW_TEXT_CAPTION, &palette->ink, 1, legend->x,
                legend->y + 5 * pen->unit, 0, 0.5, label);
  if (!(range.hi > range.lo) || pen->sheet->forecast->value[pen->sheet->coloured] == NULL)
    {
      dew_pen_text (pen, DEW_TEXT_CAPTION, &palette->ink_soft, 1,
                    legend->x + width + 16 * pen->unit, legend->y + 5 * pen->unit, 0, 0.5,
                    pen->sheet->coloured == DEW_VALUE_AGE ? "no exchange of air with the room"
                                                          : "not known");
      return;
    }
  x = legend->x + width + 20 * pen->unit;
  paint_scale_bar (pen, &range, round (x), legend->y,
                   MAX (legend->width - (x - legend->x) - 60 * pen->unit, 80),
                   round (10 * pen->unit));
}
