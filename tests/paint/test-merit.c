/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The map of how good a place is, and the small chart of a sizing. What is checked
 * follows from what the picture is to say; there is no published source. */
#include "paint/curve.h"
#include "paint/glance.h"
#include "paint/merit.h"
#include "paint/sheet.h"

#include <math.h>
#include <string.h>

#define WIDTH 900
#define HEIGHT 700

/* Lightness runs one way, so that it reads in grey; in the dark the other way. */
static void
test_colour (void)
{
  for (int dark = 0; dark < 2; dark++)
    for (int contrast = 0; contrast < 2; contrast++)
      {
        const DewPalette *palette = dew_palette_get (dark, contrast);
        double last = NAN;

        for (int i = 0; i <= 20; i++)
          {
            DewColour colour = dew_merit_colour (palette, i / 20.0);
            double lab[3];

            dew_colour_to_oklab (&colour, lab);
            if (i > 0)
              g_assert_cmpfloat (dark ? lab[0] - last : last - lab[0], >, 0.015);
            last = lab[0];
          }
      }
}

static cairo_surface_t *
paint (const DewSheet *sheet)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  DewSheetLayout layout;

  dew_sheet_layout (sheet, WIDTH, HEIGHT, &layout);
  dew_sheet_paint (cr, sheet, &layout);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* Luminance 0..1 at a point of the enclosure in a view. */
static double
light_at (cairo_surface_t *surface, const DewSheet *sheet, DewView view, const double at_m[3])
{
  DewSheetLayout layout;
  double px[2];
  guint32 pixel;

  dew_sheet_layout (sheet, WIDTH, HEIGHT, &layout);
  g_assert_true (dew_layout_to_screen (&layout, view, at_m, px));
  pixel = ((
    const guint32 *) (gconstpointer) (cairo_image_surface_get_data (surface)
                                      + (int) px[1]
                                          * cairo_image_surface_get_stride (surface)))[(int) px[0]];
  return (0.21 * ((pixel >> 16) & 0xff) + 0.72 * ((pixel >> 8) & 0xff) + 0.07 * (pixel & 0xff))
         / 255.0;
}

/* A good place is darker on paper than a poor one and than the air round it; behind
 * each other the best one counts; the plan shows its own bay only. */
static void
test_map (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  const DewMeritSpot spots[] = {
    { { 0.15, 0.10, 0.8 }, 0.0, { 1, 0, 0 }, 0 },
    { { 0.15, 0.40, 0.8 }, 1.0, { 0, 1, 0 }, 0 }, /* behind it, better */
    { { 0.55, 0.25, 0.8 }, 0.0, { 0, 0, 0 }, 0 },
    { { 0.35, 0.25, 1.3 }, 1.0, { 0, 0, 0 }, 0 }, /* above the shelf */
  };
  const double air_m[3] = { 0.35, 0.25, 0.6 };
  g_autoptr (DewMeritMap) map = dew_merit_map_new (spots, G_N_ELEMENTS (spots), "How good it is");
  cairo_surface_t *surface;
  DewSheet sheet;
  DewThing shelf;
  double air;

  dew_thing_init (&shelf, DEW_THING_SHELF);
  shelf.shelf.z_m = 1.0;
  dew_variant_add (chamber, dew_chamber_shown (chamber), &shelf);
  dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
  sheet.merit = map;
  surface = paint (&sheet);
  air = light_at (surface, &sheet, DEW_VIEW_FRONT, air_m);
  g_assert_cmpfloat (light_at (surface, &sheet, DEW_VIEW_FRONT, spots[0].at_m), <, air - 0.4);
  g_assert_cmpfloat (light_at (surface, &sheet, DEW_VIEW_FRONT, spots[2].at_m), <, air - 0.05);
  g_assert_cmpfloat (light_at (surface, &sheet, DEW_VIEW_FRONT, spots[2].at_m), >,
                     light_at (surface, &sheet, DEW_VIEW_FRONT, spots[0].at_m) + 0.2);
  /* The lower bay's plan: both of its spots, none of the bay above. */
  g_assert_cmpfloat (light_at (surface, &sheet, DEW_VIEW_PLAN, spots[1].at_m), <, air - 0.4);
  g_assert_cmpfloat (light_at (surface, &sheet, DEW_VIEW_PLAN, spots[0].at_m), >, air - 0.4);
  {
    const double above_m[3] = { 0.35, 0.25, 0.8 };

    g_assert_cmpfloat_with_epsilon (light_at (surface, &sheet, DEW_VIEW_PLAN, above_m), air, 0.02);
  }
  cairo_surface_destroy (surface);
}

/* An empty map and numbers that are none do no harm. */
static void
test_map_odd (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  const DewMeritSpot spots[]
    = { { { 0.1, 0.1, 0.1 }, NAN, { 0, 0, 1 }, 1 }, { { 5.0, 5.0, 5.0 }, 2.0, { 0, 0, 0 }, 2 } };
  DewSheet sheet;

  for (guint n = 0; n <= G_N_ELEMENTS (spots); n++)
    {
      g_autoptr (DewMeritMap) map = dew_merit_map_new (spots, n, "");

      dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
      sheet.merit = map;
      cairo_surface_destroy (paint (&sheet));
    }
}

static gboolean
is_blank (cairo_surface_t *surface, int y0, int y1)
{
  for (int y = y0; y < y1; y++)
    {
      const guint32 *row
        = (const guint32 *) (gconstpointer) (cairo_image_surface_get_data (surface)
                                             + y * cairo_image_surface_get_stride (surface));

      for (int x = 0; x < cairo_image_surface_get_width (surface); x++)
        if (row[x] != 0)
          return FALSE;
    }
  return TRUE;
}

static void
test_curve (void)
{
  const double x[] = { 0, 2, 4, 8 }, up[] = { 70, 76, 80, 81 }, gaps[] = { NAN, 60, NAN, 62 };
  DewCurve curve = { .n = 4,
                     .x = x,
                     .x_title = "pots",
                     .y_unit = "%",
                     .y_most = 100.0,
                     .n_lines = 2,
                     .lines = { { up, "Top" }, { gaps, "Floor" } },
                     .want_lo = 78,
                     .want_hi = NAN,
                     .n_marks = 1,
                     .marks = { { 4, "enough", TRUE } } };

  for (int size = 40; size <= 640; size *= 4)
    {
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, size, size);
      cairo_t *cr = cairo_create (surface);

      dew_curve_paint (cr, &curve, dew_palette_get (FALSE, FALSE), size, size, 1.0, NULL);
      g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
      cairo_destroy (cr);
      cairo_surface_flush (surface);
      g_assert_false (is_blank (surface, 0, size));
      cairo_surface_destroy (surface);
    }
  /* One point is no curve. */
  curve.n = 1;
  {
    cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 100, 100);
    cairo_t *cr = cairo_create (surface);

    dew_curve_paint (cr, &curve, dew_palette_get (FALSE, FALSE), 100, 100, 1.0, NULL);
    cairo_destroy (cr);
    cairo_surface_flush (surface);
    g_assert_true (is_blank (surface, 0, 100));
    cairo_surface_destroy (surface);
  }
}

/* Drawn without a forecast too: while it is being made. */
static void
test_glance (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 300, 400);
  cairo_t *cr = cairo_create (surface);
  DewSheet sheet;

  dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
  dew_glance_paint (cr, &sheet, 300, 400);
  dew_glance_legend (cr, &sheet, 300, 40);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  g_assert_false (is_blank (surface, 100, 300));
  cairo_surface_destroy (surface);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/merit/colour", test_colour);
  g_test_add_func ("/merit/map", test_map);
  g_test_add_func ("/merit/map-odd", test_map_odd);
  g_test_add_func ("/curve/paint", test_curve);
  g_test_add_func ("/glance/paint", test_glance);
  return g_test_run ();
}
