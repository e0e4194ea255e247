/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/contour.h"

#include <math.h>

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

  dew_grid_picture_band (picture, pen, view, band, &first, &last);
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

  dew_grid_picture_init (&picture, pen, view, pen->sheet->coloured, pen->sheet->on_paper ? 1 : 4);
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
  gboolean wetness = pen->sheet->coloured == DEW_VALUE_RH
                     || pen->sheet->coloured == DEW_VALUE_HUMIDITY_RATIO
                     || pen->sheet->coloured == DEW_VALUE_WETTING;
  /* On a scale of wetness a pale veil would paint fog drier than the air beside it. */
  DewColour veil
    = wetness ? dew_scale_colour (pen->palette, pen->sheet->coloured, 1) : pen->palette->veil;
  const double density_air = 1.2, density_water = 1000; /* kg/m3 */
  const double least = 0.01;
  const double most = 0.22; /* of thick fog: the colours below must stay readable */
  g_auto (DewGridPicture) picture = { 0 };
  double depth_m, factor, thickest = 0;
  cairo_surface_t *image;

  depth_m = view == DEW_VIEW_PLAN ? pen->layout->plan_hi_m - pen->layout->plan_lo_m
                                  : pen->layout->inner_m[dew_view_depth (view)];
  factor = 3 * density_air * depth_m / (density_water * droplet_m (pen->sheet->variant));

  dew_grid_picture_init (&picture, pen, view, DEW_VALUE_MIST, 8);
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
          out[column] = pack (&veil, hidden);
        }
    }
  cairo_surface_mark_dirty (image);

  for (int band = 0; band < picture.n_bands && thickest > least; band++)
    paint_band (pen, view, &picture, band, image);
  cairo_surface_destroy (image);
}

/* --- a draft -------------------------------------------------------------------------- */

/* What is still on its way is paler, and hatched while it is coarse or of another layout, so
 * that nobody takes it for an answer. */
static void
paint_draft (const DewPen *pen, const DewRect *r)
{
  const double pitch = 9;

  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, r->x, r->y, r->width, r->height);
  cairo_clip (pen->cr);
  dew_pen_colour (pen, &pen->palette->air, 0.3);
  cairo_paint (pen->cr);
  cairo_set_line_width (pen->cr, 1);
  dew_pen_colour (pen, &pen->palette->paper, pen->palette->high_contrast ? 0.8 : 0.42);
  for (double x = r->x - r->height; pen->sheet->draft && x < r->x + r->width; x += pitch)
    dew_pen_line (pen, x, r->y + r->height, x + r->height, r->y);
  cairo_restore (pen->cr);
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
  if (forecast == NULL || pen->sheet->cannot != NULL || pen->sheet->merit != NULL)
    return;

  for (int i = 0; i < SHADES; i++)
    {
      DewColour colour
        = dew_scale_colour (pen->palette, pen->sheet->coloured, (double) i / (SHADES - 1));

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
        if (pen->sheet->following)
          paint_draft (pen, &pen->layout->view[view]);
      }
}
