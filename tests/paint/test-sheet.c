/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include "sheet-fixture.h"

#include <math.h>
#include <string.h>

static cairo_surface_t *
paint (const DewSheet *sheet, int width, int height, DewLayers layers, DewSheetLayout *layout)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);

  dew_sheet_layout (sheet, width, height, layout);
  dew_sheet_paint_layers (cr, sheet, layout, layers);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static DewColour
pixel (cairo_surface_t *surface, double x, double y)
{
  const guchar *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  guint32 argb;

  memcpy (&argb, data + (int) y * stride + (int) x * 4, sizeof argb);
  return (DewColour){ (argb >> 16 & 0xff) / 255.0, (argb >> 8 & 0xff) / 255.0,
                      (argb & 0xff) / 255.0 };
}

static void
assert_colour (const DewColour *got, const DewColour *want)
{
  const double slack = 3.0 / 255; /* 512 shades, 8 bit, bilinear */

  g_assert_cmpfloat_with_epsilon (got->r, want->r, slack);
  g_assert_cmpfloat_with_epsilon (got->g, want->g, slack);
  g_assert_cmpfloat_with_epsilon (got->b, want->b, slack);
}

/* --- no colour but the model's numbers ----------------------------------------------- */

/* The fixture's temperature is linear, so the colour at any point away from the
 * walls follows from the coordinates alone. */
static void
test_colour_is_the_value (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewForecast *forecast = fixture_forecast_new (chamber);
  DewSheet sheet;

  dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
  sheet.forecast = forecast;
  sheet.coloured = DEW_VALUE_TEMPERATURE;
  sheet.range = (DewRange){ 16, 30, 2 };
  for (int dark = 0; dark < 2; dark++)
    {
      DewSheetLayout layout;
      cairo_surface_t *surface;

      sheet.palette = dew_palette_get (dark, FALSE);
      surface = paint (&sheet, 1200, 800, DEW_LAYER_GROUND | DEW_LAYER_FIELD, &layout);
      for (double u = 0.1; u < 0.95; u += 0.1)
        for (double v = 0.05; v < 0.97; v += 0.09)
          {
            const DewRect *front = &layout.view[DEW_VIEW_FRONT];
            const DewRect *side = &layout.view[DEW_VIEW_SIDE];
            double x = floor (front->x + u * front->width);
            double y = floor (front->y + v * front->height);
            double across = (x + 0.5 - front->x) / front->width;
            double up = 1 - (y + 0.5 - front->y) / front->height;
            DewColour got = pixel (surface, x, y);
            DewColour want = dew_scale_colour (sheet.palette, DEW_VALUE_TEMPERATURE,
                                               (18 + 4 * across + 6 * up - 16) / 14);

            assert_colour (&got, &want);
            /* From the side the mean over the width. */
            got = pixel (surface, side->x + u * side->width, y);
            want = dew_scale_colour (sheet.palette, DEW_VALUE_TEMPERATURE,
                                     (18 + 4 * 0.5 + 6 * up - 16) / 14);
            assert_colour (&got, &want);
          }
      cairo_surface_destroy (surface);
    }
  fixture_forecast_free (forecast);
}

/* An even field is one colour up to every wall: nothing fades, glows or darkens
 * on its own. Things in the enclosure add none. */
static void
test_even_field_is_flat (void)
{
  g_autoptr (DewChamber) chamber = fixture_chamber_new ();
  DewForecast *forecast = fixture_forecast_new (chamber);
  DewSheetLayout layout;
  cairo_surface_t *surface;
  DewColour want;
  DewSheet sheet;

  dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
  sheet.forecast = forecast;
  sheet.coloured = DEW_VALUE_SPEED;
  sheet.range = (DewRange){ 0, 0.5, 0.1 };
  want = dew_scale_colour (sheet.palette, DEW_VALUE_SPEED, 0.2 / 0.5);
  surface = paint (&sheet, 1200, 800, DEW_LAYER_GROUND | DEW_LAYER_FIELD, &layout);
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      const DewRect *r = &layout.view[view];

      g_assert_true (layout.shown[view]);
      for (double y = r->y; y < r->y + r->height; y++)
        for (double x = r->x; x < r->x + r->width; x++)
          {
            DewColour got = pixel (surface, x, y);

            assert_colour (&got, &want);
          }
    }
  cairo_surface_destroy (surface);
  fixture_forecast_free (forecast);
}

/* What jumps at a board jumps on the sheet, within the two pixels of its line. */
static void
test_jump_stays (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewVariant *variant = dew_chamber_shown (chamber);
  DewForecast *forecast = fixture_forecast_new (chamber);
  DewThing shelf;
  DewSheetLayout layout;
  cairo_surface_t *surface;
  DewColour dry, wet, got;
  DewSheet sheet;
  double x, line;

  dew_thing_init (&shelf, DEW_THING_SHELF);
  shelf.shelf.z_m = forecast->inner_m[2] / 2;
  dew_variant_add (chamber, variant, &shelf);
  dew_sheet_init (&sheet, chamber, variant);
  sheet.forecast = forecast;
  sheet.range = (DewRange){ 0.4, 1, 0.1 };
  surface = paint (&sheet, 1200, 800, DEW_LAYER_GROUND | DEW_LAYER_FIELD, &layout);
  dry = dew_scale_colour (sheet.palette, DEW_VALUE_RH, (0.5 - 0.4) / 0.6);
  wet = dew_scale_colour (sheet.palette, DEW_VALUE_RH, (0.9 - 0.4) / 0.6);
  x = layout.view[DEW_VIEW_FRONT].x + layout.view[DEW_VIEW_FRONT].width / 2;
  line = layout.view[DEW_VIEW_FRONT].y + layout.view[DEW_VIEW_FRONT].height / 2;
  got = pixel (surface, x, line - 2);
  assert_colour (&got, &wet);
  got = pixel (surface, x, line + 2);
  assert_colour (&got, &dry);
  cairo_surface_destroy (surface);
  fixture_forecast_free (forecast);
}

/* Without a forecast, or when there can be none, nothing is coloured. */
static void
test_nothing_to_colour (void)
{
  g_autoptr (DewChamber) chamber = fixture_chamber_new ();
  DewForecast *forecast = fixture_forecast_new (chamber);

  for (int i = 0; i < 2; i++)
    {
      DewSheetLayout layout;
      cairo_surface_t *surface;
      DewColour got;
      DewSheet sheet;

      dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
      if (i == 1)
        {
          sheet.forecast = forecast;
          sheet.cannot = "the fan is outside the enclosure";
        }
      surface
        = paint (&sheet, 1200, 800, DEW_LAYER_GROUND | DEW_LAYER_FIELD | DEW_LAYER_AIR, &layout);
      got = pixel (surface, layout.view[DEW_VIEW_FRONT].x + 40, layout.view[DEW_VIEW_FRONT].y + 40);
      assert_colour (&got, &sheet.palette->air);
      cairo_surface_destroy (surface);
    }
  fixture_forecast_free (forecast);
}

/* --- the same again -------------------------------------------------------------------- */

static void
assert_same_picture (cairo_surface_t *a, cairo_surface_t *b)
{
  gsize size = (gsize) cairo_image_surface_get_stride (a) * cairo_image_surface_get_height (a);

  g_assert_cmpint (cairo_image_surface_get_stride (a), ==, cairo_image_surface_get_stride (b));
  g_assert_true (memcmp (cairo_image_surface_get_data (a), cairo_image_surface_get_data (b), size)
                 == 0);
}

static void
test_same_twice (void)
{
  g_autoptr (DewChamber) chamber = fixture_chamber_new ();
  DewForecast *forecast = fixture_forecast_new (chamber);
  cairo_surface_t *surfaces[2];

  fixture_add_finding (forecast, 0.3, 0.2, 0.9, DEW_CAUSE_STILL_AIR);
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (DewStreaks) streaks = dew_streaks_new (200, 3);
      DewSheetLayout layout;
      DewSheet sheet;

      for (int step = 0; step < 60; step++)
        dew_streaks_step (streaks, 1 / 60.0, forecast);
      dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
      sheet.forecast = forecast;
      sheet.streaks = streaks;
      sheet.selected_id = fixture_thing (sheet.variant, "Slow fan")->id;
      surfaces[i] = paint (&sheet, 1100, 800, DEW_LAYER_ALL, &layout);
    }
  assert_same_picture (surfaces[0], surfaces[1]);
  cairo_surface_destroy (surfaces[0]);
  cairo_surface_destroy (surfaces[1]);
  fixture_forecast_free (forecast);
}

/* Layers on top of each other are the whole. */
static void
test_layers_add_up (void)
{
  g_autoptr (DewChamber) chamber = fixture_chamber_new ();
  DewForecast *forecast = fixture_forecast_new (chamber);
  cairo_surface_t *whole, *parts;
  DewSheetLayout layout;
  DewSheet sheet;
  cairo_t *cr;

  dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
  sheet.forecast = forecast;
  whole = paint (&sheet, 900, 700, DEW_LAYER_ALL, &layout);
  parts = paint (&sheet, 900, 700, DEW_LAYER_GROUND | DEW_LAYER_FIELD, &layout);
  cr = cairo_create (parts);
  dew_sheet_paint_layers (cr, &sheet, &layout, DEW_LAYER_AIR);
  dew_sheet_paint_layers (cr, &sheet, &layout, DEW_LAYER_INK);
  cairo_destroy (cr);
  cairo_surface_flush (parts);
  assert_same_picture (whole, parts);
  cairo_surface_destroy (whole);
  cairo_surface_destroy (parts);
  fixture_forecast_free (forecast);
}

/* --- layout ----------------------------------------------------------------------------- */

/* Views lie inside the sheet, apart from each other, at one scale, in line;
 * labels, dimensions and flags never lie on each other. */
static void
test_layout (void)
{
  static const struct
  {
    double width, height, text;
    gboolean side, plan; /* whether they must be shown */
  } rows[] = {
    { 1920, 1080, 1, TRUE, TRUE },  { 1440, 900, 1, TRUE, TRUE },     { 1000, 700, 1, TRUE, TRUE },
    { 850, 800, 1, FALSE, TRUE },   { 700, 900, 1, FALSE, FALSE },    { 560, 560, 1, FALSE, FALSE },
    { 1440, 900, 2, FALSE, FALSE }, { 1000, 900, 1.5, FALSE, FALSE },
  };
  double scale;
  g_autoptr (DewChamber) chamber = fixture_chamber_new ();
  DewForecast *forecast = fixture_forecast_new (chamber);

  for (int i = 0; i < 6; i++)
    fixture_add_finding (forecast, 0.1 + 0.1 * i, 0.2, 1.4 - 0.2 * (i % 3), DEW_CAUSE_STREAM);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DewSheetLayout layout;
      DewSheet sheet;

      dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
      sheet.forecast = forecast;
      sheet.text_scale = rows[i].text;
      for (int bay = 0; bay < 4; bay++)
        {
          const DewRect *front = &layout.view[DEW_VIEW_FRONT];
          const DewRect *side = &layout.view[DEW_VIEW_SIDE];
          const DewRect *plan = &layout.view[DEW_VIEW_PLAN];

          sheet.plan_bay = bay;
          sheet.coloured = bay == 0   ? DEW_VALUE_RH
                           : bay == 1 ? DEW_VALUE_AGE
                           : bay == 2 ? DEW_VALUE_SPEED
                                      : DEW_VALUE_PPFD;
          dew_sheet_layout (&sheet, rows[i].width, rows[i].height, &layout);
          g_assert_true (layout.shown[DEW_VIEW_FRONT]);
          g_assert_true (layout.shown[DEW_VIEW_SIDE] || !rows[i].side);
          g_assert_true (layout.shown[DEW_VIEW_PLAN] || !rows[i].plan);
          for (int view = 0; view < DEW_N_VIEWS; view++)
            {
              if (!layout.shown[view])
                continue;
              g_assert_true (fixture_inside_sheet (&layout.view[view], &layout));
              g_assert_false (dew_rects_meet (&layout.view[view], &layout.legend, 2));
              scale = view == DEW_VIEW_PLAN && layout.n_plans > 0 ? layout.plan_scale_px_m
                                                                  : layout.scale_px_m;
              g_assert_cmpfloat_with_epsilon (layout.view[view].width,
                                              layout.inner_m[dew_view_across (view)] * scale, 0.51);
              g_assert_cmpfloat_with_epsilon (layout.view[view].height,
                                              layout.inner_m[dew_view_up (view)] * scale, 0.51);
              for (int other = view + 1; other < DEW_N_VIEWS; other++)
                if (layout.shown[other])
                  g_assert_false (dew_rects_meet (&layout.view[view], &layout.view[other], 20));
            }
          if (layout.shown[DEW_VIEW_SIDE])
            g_assert_cmpfloat (side->y, ==, front->y);
          if (layout.plan_below)
            g_assert_cmpfloat (plan->x, ==, front->x);
          fixture_check_marks (&sheet, &layout);
        }
    }
  fixture_forecast_free (forecast);
}

static void
test_there_and_back (void)
{
  g_autoptr (DewChamber) chamber = fixture_chamber_new ();
  DewSheetLayout layout;
  DewSheet sheet;

  dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
  dew_sheet_layout (&sheet, 1440, 900, &layout);
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      const double at_m[3] = { 0.123, 0.234, 0.345 };
      double px[2], back_m[2];
      DewView found;

      g_assert_true (dew_layout_to_screen (&layout, view, at_m, px));
      g_assert_true (dew_layout_view_at (&layout, px[0], px[1], &found));
      g_assert_cmpint (found, ==, view);
      g_assert_true (dew_layout_to_world (&layout, view, px[0], px[1], back_m));
      g_assert_cmpfloat_with_epsilon (back_m[0], at_m[dew_view_across (view)], 1e-9);
      g_assert_cmpfloat_with_epsilon (back_m[1], at_m[dew_view_up (view)], 1e-9);
    }
}

/* Every state and value can be painted on sheets of any size, without a word
 * from GLib. */
static void
test_paints_anything (void)
{
  static const double sizes[][2] = { { 8, 8 }, { 300, 200 }, { 640, 480 }, { 1600, 500 } };
  g_autoptr (DewChamber) full = fixture_chamber_new ();
  g_autoptr (DewChamber) empty = dew_chamber_new ();
  DewForecast *forecast = fixture_forecast_new (full);

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (int value = 0; value < DEW_N_VALUES; value++)
      {
        DewSheetLayout layout;
        DewSheet sheet;

        dew_sheet_init (&sheet, full, dew_chamber_shown (full));
        sheet.forecast = forecast;
        sheet.coloured = value;
        sheet.tongue = value % 2;
        sheet.palette = dew_palette_get (value & 1, value & 2);
        cairo_surface_destroy (paint (&sheet, sizes[i][0], sizes[i][1], DEW_LAYER_ALL, &layout));
      }
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 48, 48);
      cairo_t *cr = cairo_create (surface);
      const guchar *data;
      guint inked = 0;

      dew_paint_kind (cr, kind, dew_palette_get (FALSE, FALSE), 48, 48);
      cairo_surface_flush (surface);
      data = cairo_image_surface_get_data (surface);
      for (int i = 0; i < 48 * cairo_image_surface_get_stride (surface); i++)
        inked += data[i] != 0;
      g_assert_cmpuint (inked, >, 100);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  {
    DewSheetLayout layout;
    DewSheet sheet;

    dew_sheet_init (&sheet, empty, dew_chamber_shown (empty));
    cairo_surface_destroy (paint (&sheet, 800, 600, DEW_LAYER_ALL, &layout));
  }
  fixture_forecast_free (forecast);
}

/* --- streaks ------------------------------------------------------------------------------ */

/* In air that moves evenly at 0.2 m/s a streak is a level line that grows by
 * speed times time: x = x0 + v t. */
static void
test_streaks_follow_air (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewForecast *forecast = fixture_forecast_new (chamber);
  g_autoptr (DewStreaks) streaks = dew_streaks_new (300, 11);
  guint seen = 0;

  for (int step = 0; step < 120; step++)
    dew_streaks_step (streaks, 1 / 60.0, forecast);
  g_assert_cmpuint (dew_streaks_count (streaks), ==, 300);
  for (guint i = 0; i < 300; i++)
    {
      double before[DEW_STREAK_POINTS][3], strength;
      guint n = dew_streaks_trail (streaks, i, before, &strength);

      g_assert_cmpfloat (strength, >=, 0);
      g_assert_cmpfloat (strength, <=, 1);
      for (guint p = 0; p < n; p++)
        for (int axis = 0; axis < 3; axis++)
          {
            g_assert_cmpfloat (before[p][axis], >=, 0);
            g_assert_cmpfloat (before[p][axis], <=, forecast->inner_m[axis]);
            if (axis > 0)
              g_assert_cmpfloat_with_epsilon (before[p][axis], before[0][axis], 1e-12);
          }
      seen += n > 1;
    }
  g_assert_cmpuint (seen, >, 60);

  {
    g_autoptr (DewStreaks) one = dew_streaks_new (1, 5);
    double a[DEW_STREAK_POINTS][3], b[DEW_STREAK_POINTS][3], strength;
    guint n = 0;

    while (n == 0)
      {
        dew_streaks_step (one, 1 / 60.0, forecast);
        n = dew_streaks_trail (one, 0, a, &strength);
      }
    dew_streaks_step (one, 0.05, forecast);
    if (dew_streaks_trail (one, 0, b, &strength) > 0)
      g_assert_cmpfloat_with_epsilon (b[0][0] - a[0][0], 0.2 * 0.05, 1e-9);
  }
  fixture_forecast_free (forecast);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/sheet/colour-is-the-value", test_colour_is_the_value);
  g_test_add_func ("/paint/sheet/even-field-is-flat", test_even_field_is_flat);
  g_test_add_func ("/paint/sheet/jump-stays", test_jump_stays);
  g_test_add_func ("/paint/sheet/nothing-to-colour", test_nothing_to_colour);
  g_test_add_func ("/paint/sheet/same-twice", test_same_twice);
  g_test_add_func ("/paint/sheet/layers-add-up", test_layers_add_up);
  g_test_add_func ("/paint/sheet/layout", test_layout);
  g_test_add_func ("/paint/sheet/there-and-back", test_there_and_back);
  g_test_add_func ("/paint/sheet/paints-anything", test_paints_anything);
  g_test_add_func ("/paint/sheet/streaks-follow-air", test_streaks_follow_air);
  return g_test_run ();
}
