/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the sheet tells besides the drawing: scale, probe, plan, units. */
#include "paint/contour.h"

#include "forecast/limits.h"
#include "forecast/probe.h"
#include "store/store.h"
#include "sheet-fixture.h"

#include <math.h>
#include <string.h>

typedef struct
{
  DewChamber *chamber;
  DewForecast *forecast;
  DewSheet sheet;
  DewSheetLayout layout;
} Scene;

static void
scene_init (Scene *scene, double width, double height)
{
  scene->chamber = fixture_chamber_new ();
  scene->forecast = fixture_forecast_new (scene->chamber);
  fixture_add_places (scene->forecast);
  scene->forecast->pressure_Pa = 101325;
  dew_sheet_init (&scene->sheet, scene->chamber, dew_chamber_shown (scene->chamber));
  scene->sheet.forecast = scene->forecast;
  dew_sheet_layout (&scene->sheet, width, height, &scene->layout);
}

static void
scene_clear (Scene *scene)
{
  fixture_forecast_free (scene->forecast);
  dew_chamber_free (scene->chamber);
}

static cairo_surface_t *
paint (const Scene *scene, DewLayers layers)
{
  cairo_surface_t *surface
    = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) scene->layout.width,
                                  (int) scene->layout.height);
  cairo_t *cr = cairo_create (surface);

  dew_sheet_paint_layers (cr, &scene->sheet, &scene->layout, layers);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static guint32
pixel (cairo_surface_t *surface, double x, double y)
{
  const guchar *data = cairo_image_surface_get_data (surface);
  guint32 argb;

  memcpy (&argb, data + (int) y * cairo_image_surface_get_stride (surface) + (int) x * 4,
          sizeof argb);
  return argb;
}

static double
lightness (cairo_surface_t *surface, double x, double y)
{
  guint32 argb = pixel (surface, x, y);
  const DewColour colour
    = { (argb >> 16 & 0xff) / 255.0, (argb >> 8 & 0xff) / 255.0, (argb & 0xff) / 255.0 };
  double lab[3];

  dew_colour_to_oklab (&colour, lab);
  return lab[0];
}

/* --- scale --------------------------------------------------------------------------- */

/* With a fixed scale a value has its colour whatever else is in the picture. */
static void
test_fixed_scale (void)
{
  Scene scene;
  const DewRect *front = &scene.layout.view[DEW_VIEW_FRONT];
  DewRange range;
  DewColour want;
  cairo_surface_t *surface;
  guint32 argb;
  gboolean below, above;

  scene_init (&scene, 1200, 900);
  scene.sheet.fixed_scale = TRUE;
  range = dew_sheet_range (&scene.sheet);
  g_assert_cmpfloat_with_epsilon (range.lo, 0.4, 1e-12);
  g_assert_cmpfloat_with_epsilon (range.hi, 1.0, 1e-12);
  surface = paint (&scene, DEW_LAYER_FIELD);
  argb = pixel (surface, front->x + front->width / 2, front->y + front->height * 0.75);
  want = dew_scale_colour (scene.sheet.palette, DEW_VALUE_RH, (0.5 - 0.4) / 0.6);
  g_assert_cmpfloat_with_epsilon ((argb >> 16 & 0xff) / 255.0, want.r, 0.015);
  g_assert_cmpfloat_with_epsilon ((argb & 0xff) / 255.0, want.b, 0.015);
  cairo_surface_destroy (surface);

  dew_sheet_beyond (&scene.sheet, &range, &below, &above);
  g_assert_false (below || above);
  /* One zone of 1200 counts on a fixed scale. */
  scene.forecast->value[DEW_VALUE_RH][7] = 0.2;
  dew_sheet_beyond (&scene.sheet, &range, &below, &above);
  g_assert_true (below);
  g_assert_false (above);
  scene_clear (&scene);
}

/* The legend shows another picture when its scale is fixed, and points where values
 * lie beyond an end. */
static void
test_legend_tells (void)
{
  Scene scene;
  cairo_surface_t *fitted, *fixed, *beyond;
  gsize size;

  scene_init (&scene, 1200, 900);
  size = (gsize) (scene.layout.width * scene.layout.height) * 4;
  fitted = paint (&scene, DEW_LAYER_INK);
  scene.sheet.fixed_scale = TRUE;
  fixed = paint (&scene, DEW_LAYER_INK);
  g_assert_cmpint (memcmp (cairo_image_surface_get_data (fitted),
                           cairo_image_surface_get_data (fixed), size),
                   !=, 0);
  scene.forecast->value[DEW_VALUE_RH][7] = 0.2;
  beyond = paint (&scene, DEW_LAYER_INK);
  /* Nothing in the ink of the drawing shows one zone but the legend's end. */
  {
    const DewRect *legend = &scene.layout.legend;
    guint changed = 0;

    for (double y = legend->y; y < legend->y + 12; y++)
      for (double x = legend->x; x < legend->x + legend->width; x++)
        changed += pixel (fixed, x, y) != pixel (beyond, x, y);
    g_assert_cmpuint (changed, >, 10);
  }
  cairo_surface_destroy (fitted);
  cairo_surface_destroy (fixed);
  cairo_surface_destroy (beyond);
  scene_clear (&scene);
}

/* Numbers of the scale are round in the unit that is shown: 1, 2 or 5 times a power of
 * ten, and its ends are whole multiples (common practice of scales, no source). */
static void
test_round_in_both_units (void)
{
  static const struct
  {
    DewValue value;
    double lo, hi;
  } rows[] = {
    { DEW_VALUE_TEMPERATURE, 17.3, 22.8 },
    { DEW_VALUE_TEMPERATURE, 18.1, 18.4 },
    { DEW_VALUE_SPEED, 0.01, 0.31 },
    { DEW_VALUE_SPEED, 0, 1.2 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DewRange range = { 0 };

      for (int imperial = 0; imperial < 2; imperial++)
        {
          double zero = dew_value_to_user (rows[i].value, 0, imperial), step, lo, digits;

          /* Switching the unit makes a new scale, though the old one would still fit. */
          g_assert_true (
            dew_range_follow (&range, rows[i].value, imperial, rows[i].lo, rows[i].hi));
          step = dew_value_to_user (rows[i].value, range.step, imperial) - zero;
          lo = dew_value_to_user (rows[i].value, range.lo, imperial);
          digits = step / pow (10, floor (log10 (step) + 1e-9));
          g_assert_true (fabs (digits - 1) < 1e-6 || fabs (digits - 2) < 1e-6
                         || fabs (digits - 5) < 1e-6);
          g_assert_cmpfloat_with_epsilon (lo / step, round (lo / step), 1e-6);
          g_assert_cmpfloat (range.lo, <=, rows[i].lo + 1e-9);
          g_assert_cmpfloat (range.hi, >=, rows[i].hi - 1e-9);
          g_assert_false (
            dew_range_follow (&range, rows[i].value, imperial, rows[i].lo, rows[i].hi));
        }
    }
}

/* --- units ----------------------------------------------------------------------------- */

/* Exact definitions: 1 in = 25.4 mm (international yard and pound agreement, 1959),
 * F = 1.8 C + 32, 1 m/s = 196.85 ft/min. */
static void
test_imperial_words (void)
{
  static const struct
  {
    DewValue value;
    double x;
    const char *text;
  } rows[] = {
    { DEW_VALUE_TEMPERATURE, 20, "68.0 °F" },   { DEW_VALUE_TEMPERATURE, -40, "−40.0 °F" },
    { DEW_VALUE_SPEED, 0.25, "49 ft/min" },     { DEW_VALUE_RH, 0.84, "84 %" },
    { DEW_VALUE_PPFD, 124e-6, "124 µmol/m²s" },
  };
  static const char *const band = "± 0.9"; /* 0.5 K */
  g_autofree char *length = dew_length_text (0.4, TRUE);
  g_autofree char *whole = dew_length_text (0.254, TRUE);
  g_autofree char *band_text = dew_band_text (DEW_VALUE_TEMPERATURE, 0.5, TRUE);

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = dew_value_text (rows[i].value, rows[i].x, TRUE);

      g_assert_cmpstr (text, ==, rows[i].text);
    }
  g_assert_cmpstr (length, ==, "15.7 in");
  g_assert_cmpstr (whole, ==, "10 in");
  g_assert_cmpstr (band_text, ==, band);
}

/* Every number around the drawing follows the unit. */
static void
test_imperial_marks (void)
{
  Scene scene;
  guint lengths = 0, values = 0;

  scene_init (&scene, 1440, 900);
  scene.sheet.tongue = TRUE;
  scene.sheet.coloured = DEW_VALUE_TEMPERATURE;
  {
    g_autoptr (GArray) marks = dew_sheet_marks (&scene.sheet, &scene.layout);

    for (guint i = 0; i < marks->len; i++)
      {
        const DewMark *mark = &g_array_index (marks, DewMark, i);

        g_assert_null (strstr (mark->text, "cm"));
        g_assert_null (strstr (mark->unit, "°C"));
        g_assert_null (strstr (mark->below, "°C"));
        lengths += g_str_has_suffix (mark->text, " in");
        values += g_str_equal (mark->unit, "°F");
      }
  }
  g_assert_cmpuint (lengths, >=, 3);
  g_assert_cmpuint (values, ==, 2);
  scene_clear (&scene);
}

/* Nothing that is written lies on anything else, in both units, with places, for every
 * value and with large text. */
static void
test_labels_apart (void)
{
  static const double sizes[][3] = {
    { 640, 480, 1 },  { 700, 560, 1 },   { 850, 800, 1 },     { 1024, 640, 1 },
    { 1100, 760, 1 }, { 1440, 900, 1 },  { 1920, 1080, 1.5 }, { 1300, 500, 1 },
    { 760, 1000, 1 }, { 1920, 1080, 2 }, { 3840, 2160, 2 },
  };
  Scene scene;

  scene_init (&scene, 1440, 900);
  fixture_add_finding (scene.forecast, 0.1, 0.2, 0.05, DEW_CAUSE_STILL_AIR);
  fixture_add_finding (scene.forecast, 0.12, 0.2, 0.06, DEW_CAUSE_COLD_ROOF);
  fixture_add_finding (scene.forecast, 0.65, 0.4, 1.5, DEW_CAUSE_WET_CROWN);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (int value = 0; value < DEW_N_VALUES; value++)
      for (int imperial = 0; imperial < 2; imperial++)
        for (int bay = 0; bay < 4; bay++)
          {
            scene.sheet.coloured = value;
            scene.sheet.tongue = imperial;
            scene.sheet.plan_bay = bay;
            scene.sheet.text_scale = sizes[i][2];
            dew_sheet_layout (&scene.sheet, sizes[i][0], sizes[i][1], &scene.layout);
            fixture_check_marks (&scene.sheet, &scene.layout);
          }
  scene_clear (&scene);
}

/* On crowded sheets of many sizes, scales of text and arrangements no two labels ever lie on
 * each other; what finds no place is left out, the less important first: the worst finding
 * keeps its flag wherever there is room for one at all. */
static void
test_crowded_labels (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (20);
  guint flags = 0, wanted = 0;

  for (int round = 0; round < 120; round++)
    {
      Scene scene;
      g_autoptr (GArray) marks = NULL;
      int findings = g_rand_int_range (random, 1, 16), bays = g_rand_int_range (random, 1, 14);
      double width = g_rand_double_range (random, 420, 2000);
      double height = g_rand_double_range (random, 380, 1200);

      scene_init (&scene, width, height);
      scene.forecast->bays = g_renew (DewBay, scene.forecast->bays, bays);
      scene.forecast->n_bays = bays;
      for (int bay = 0; bay < bays; bay++)
        {
          scene.forecast->bays[bay] = scene.forecast->bays[0];
          scene.forecast->bays[bay].z0_m = scene.layout.inner_m[2] * bay / bays;
          scene.forecast->bays[bay].z1_m = scene.layout.inner_m[2] * (bay + 1) / bays;
        }
      scene.forecast->n_places = 0;
      for (int i = 0; i < findings; i++)
        fixture_add_finding (scene.forecast, g_rand_double_range (random, 0, 0.7),
                             g_rand_double_range (random, 0, 0.5),
                             g_rand_double_range (random, 0, 1.6),
                             (DewFindingCause) g_rand_int_range (random, 0, DEW_N_CAUSES));
      scene.sheet.coloured = g_rand_int_range (random, 0, DEW_N_VALUES);
      scene.sheet.tongue = g_rand_int_range (random, 0, 2);
      scene.sheet.plan_bay = g_rand_int_range (random, 0, 4);
      scene.sheet.plan_large = g_rand_boolean (random);
      scene.sheet.side_instead = g_rand_boolean (random);
      scene.sheet.text_scale = g_rand_double_range (random, 0.9, 2);
      dew_sheet_layout (&scene.sheet, width, height, &scene.layout);
      fixture_check_marks (&scene.sheet, &scene.layout);
      marks = dew_sheet_marks (&scene.sheet, &scene.layout);
      wanted++;
      for (guint i = 0; i < marks->len; i++)
        if (g_array_index (marks, DewMark, i).kind == DEW_MARK_FLAG
            && g_array_index (marks, DewMark, i).view == DEW_VIEW_FRONT
            && g_array_index (marks, DewMark, i).index == 0)
          flags++;
      scene_clear (&scene);
    }
  g_assert_cmpuint (flags * 10, >=, wanted * 9);
}

/* --- colours that hold still ------------------------------------------------------------- */

/* Chosen from plants and room, the colours of a document are the same whatever a forecast
 * holds, as long as it lies within; what leaves them widens them and nothing narrows them.
 * Humidity always ends at saturation, so that wetter is never cut off. */
static void
test_colours_hold_still (void)
{
  Scene scene;
  DewRange range, before;
  double *rh;

  scene_init (&scene, 1200, 900);
  rh = scene.forecast->value[DEW_VALUE_RH];
  for (int value = 0; value < DEW_N_VALUES; value++)
    for (int tongue = 0; tongue < 2; tongue++)
      {
        range = dew_range_choose (value, tongue, scene.chamber);
        g_assert_cmpfloat (range.hi, >, range.lo);
        g_assert_cmpfloat ((range.hi - range.lo) / range.step, <, 10);
        before = range;
        dew_range_widen (&range, value, tongue, scene.forecast);
        g_assert_cmpfloat (range.lo, <=, before.lo);
        g_assert_cmpfloat (range.hi, >=, before.hi);
        before = range;
        g_assert_false (dew_range_widen (&range, value, tongue, scene.forecast));
        g_assert_cmpmem (&range, sizeof range, &before, sizeof before);
      }
  range = dew_range_choose (DEW_VALUE_RH, FALSE, scene.chamber);
  g_assert_cmpfloat (range.hi, ==, 1);
  for (int i = 0; i < scene.forecast->n_zones; i++)
    rh[i] = range.lo - 0.07;
  g_assert_true (dew_range_widen (&range, DEW_VALUE_RH, FALSE, scene.forecast));
  g_assert_cmpfloat (range.lo, <=, rh[0]);
  before = range;
  for (int i = 0; i < scene.forecast->n_zones; i++)
    rh[i] = 0.97;
  g_assert_false (dew_range_widen (&range, DEW_VALUE_RH, FALSE, scene.forecast));
  g_assert_cmpmem (&range, sizeof range, &before, sizeof before);
  scene_clear (&scene);
}

/* Fog over saturated air is not painted paler, that is drier, than the same air without. */
static void
test_fog_is_not_paler (void)
{
  Scene scene;
  const DewRect *front = &scene.layout.view[DEW_VIEW_FRONT];
  double x, y, clear, foggy;
  cairo_surface_t *surface;

  scene_init (&scene, 1200, 900);
  x = front->x + front->width / 2;
  y = front->y + front->height / 3;
  for (int i = 0; i < scene.forecast->n_zones; i++)
    scene.forecast->value[DEW_VALUE_RH][i] = 1;
  surface = paint (&scene, DEW_LAYER_FIELD);
  clear = lightness (surface, x, y);
  cairo_surface_destroy (surface);
  if (scene.forecast->value[DEW_VALUE_MIST] == NULL)
    scene.forecast->value[DEW_VALUE_MIST] = g_new0 (double, scene.forecast->n_zones);
  for (int i = 0; i < scene.forecast->n_zones; i++)
    scene.forecast->value[DEW_VALUE_MIST][i] = 5e-3;
  surface = paint (&scene, DEW_LAYER_FIELD);
  foggy = lightness (surface, x, y);
  cairo_surface_destroy (surface);
  g_assert_cmpfloat (foggy, <=, clear + 0.005);
  scene_clear (&scene);
}

/* The number of dark px in a rectangle. */
static guint
dark_px (cairo_surface_t *surface, const DewRect *r)
{
  guint n = 0;

  for (int y = (int) r->y; y < r->y + r->height; y++)
    for (int x = (int) r->x; x < r->x + r->width; x++)
      n += lightness (surface, x, y) < 0.5;
  return n;
}

/* What is on its way looks so at a glance: a paler, hatched field, and open numbers with far
 * less ink than settled ones. */
static void
test_draft_looks_so (void)
{
  Scene scene;
  const DewRect *front = &scene.layout.view[DEW_VIEW_FRONT];
  guint ink[2] = { 0 };
  double light[2];

  scene_init (&scene, 1200, 900);
  for (int draft = 0; draft < 2; draft++)
    {
      g_autoptr (GArray) marks = dew_sheet_marks (&scene.sheet, &scene.layout);
      cairo_surface_t *surface;

      scene.sheet.following = scene.sheet.draft = draft;
      surface = paint (&scene, DEW_LAYER_GROUND | DEW_LAYER_FIELD);
      light[draft] = 0;
      for (int i = 0; i < 200; i++)
        light[draft] += lightness (surface, front->x + 20 + i, front->y + front->height - 30) / 200;
      cairo_surface_destroy (surface);
      surface = paint (&scene, DEW_LAYER_GROUND | DEW_LAYER_INK);
      for (guint i = 0; i < marks->len; i++)
        if (g_array_index (marks, DewMark, i).kind == DEW_MARK_BAY)
          {
            DewRect number = g_array_index (marks, DewMark, i).rect;

            number.width = 30;
            number.height = 22;
            ink[draft] += dark_px (surface, &number);
          }
      cairo_surface_destroy (surface);
    }
  g_assert_cmpfloat (light[1], >, light[0] + 0.02);
  g_assert_cmpuint (ink[0], >, 50);
  g_assert_cmpuint (ink[1], <, ink[0] * 3 / 4);
  scene_clear (&scene);
}

/* --- probe ------------------------------------------------------------------------------- */

/* The fixture's warmth is linear, so that its mean from front to back at a point is
 * known: 18 + 4 x / width + 6 z / height, away from the outer half zones. */
static void
test_probe_is_the_value (void)
{
  Scene scene;

  scene_init (&scene, 1200, 900);
  for (double u = 0.1; u < 0.95; u += 0.1)
    for (double v = 0.05; v < 0.97; v += 0.07)
      {
        const double at_m[2] = { u * scene.layout.inner_m[0], v * scene.layout.inner_m[2] };
        DewProbed probed;

        g_assert_true (dew_forecast_probe (scene.forecast, DEW_VIEW_FRONT, at_m, 0, 0, &probed));
        g_assert_cmpfloat_with_epsilon (probed.climate.t_C, 18 + 4 * u + 6 * v, 1e-9);
        g_assert_cmpint (probed.bay, ==, v < 0.5 ? 0 : 1);
        if (fabs (v - 0.5) > 0.03)
          g_assert_cmpfloat_with_epsilon (probed.climate.rh, v < 0.5 ? 0.5 : 0.9, 1e-12);
        g_assert_cmpfloat_with_epsilon (probed.climate.rh_band, 0.04, 1e-12);
      }
  {
    const double outside_m[2] = { -0.01, 0.5 }, in_m[2] = { 0.35, 0.4 };
    DewProbe probe = { DEW_VIEW_FRONT, { in_m[0], in_m[1] } };
    g_autofree char *text = NULL;
    DewProbed probed;

    g_assert_false (dew_forecast_probe (scene.forecast, DEW_VIEW_FRONT, outside_m, 0, 0, &probed));
    scene.sheet.probe = &probe;
    text = dew_sheet_probe_text (&scene.sheet, &scene.layout);
    g_assert_nonnull (strstr (text, "Floor"));
    g_assert_nonnull (strstr (text, "50 %  ± 4"));
    g_assert_nonnull (strstr (text, "21.5 °C  ± 0.5")); /* 18 + 4 / 2 + 6 * 0.4 / 1.6 */
    g_free (text);
    scene.sheet.tongue = TRUE;
    text = dew_sheet_probe_text (&scene.sheet, &scene.layout);
    g_assert_nonnull (strstr (text, "70.7 °F  ± 0.9"));
    g_assert_nonnull (strstr (text, "39 ft/min"));
  }
  scene_clear (&scene);
}

/* A band that is wide at one of the places on the way is the band of the probe. */
static void
test_probe_takes_the_widest_band (void)
{
  Scene scene;
  DewProbed probed;
  const double left_m[2] = { 0.1, 0.4 }, right_m[2] = { 0.6, 0.4 };

  scene_init (&scene, 1200, 900);
  scene.forecast->places[3].mean.t_band_K = 2.5; /* left, behind, below */
  g_assert_true (dew_forecast_probe (scene.forecast, DEW_VIEW_FRONT, left_m, 0, 0, &probed));
  g_assert_cmpfloat_with_epsilon (probed.climate.t_band_K, 2.5, 1e-12);
  g_assert_true (dew_forecast_probe (scene.forecast, DEW_VIEW_FRONT, right_m, 0, 0, &probed));
  g_assert_cmpfloat_with_epsilon (probed.climate.t_band_K, 0.5, 1e-12);
  scene.forecast->places[0].mean.t_band_K = NAN;
  g_assert_true (dew_forecast_probe (scene.forecast, DEW_VIEW_FRONT, left_m, 0, 0, &probed));
  g_assert_true (isnan (probed.climate.t_band_K));
  scene_clear (&scene);
}

/* Its words are on the sheet and never under the pointer, wherever it is. */
static void
test_probe_keeps_away (void)
{
  static const double sizes[][3] = { { 640, 480, 1 }, { 1440, 900, 1 }, { 1920, 1080, 2 } };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      Scene scene;
      DewProbe probe;

      scene_init (&scene, 1440, 900);
      scene.sheet.text_scale = sizes[i][2];
      scene.sheet.probe = &probe;
      dew_sheet_layout (&scene.sheet, sizes[i][0], sizes[i][1], &scene.layout);
      for (int view = 0; view < DEW_N_VIEWS; view++)
        for (double u = 0.02; u < 1; u += 0.12)
          for (double v = 0.02; v < 1 && scene.layout.shown[view]; v += 0.12)
            {
              const DewRect *r = &scene.layout.view[view];
              double x = r->x + u * r->width, y = r->y + (1 - v) * r->height;
              cairo_surface_t *surface;
              DewRect rect;
              guint inked = 0;

              probe = (DewProbe){ view,
                                  { u * scene.layout.inner_m[dew_view_across (view)],
                                    v * scene.layout.inner_m[dew_view_up (view)] } };
              g_assert_true (dew_sheet_probe_rect (&scene.sheet, &scene.layout, &rect));
              g_assert_true (dew_rect_holds (&rect, x, y, 0));
              g_assert_cmpfloat (rect.x, >=, -1);
              g_assert_cmpfloat (rect.y, >=, -1);
              g_assert_cmpfloat (rect.x + rect.width, <=, scene.layout.width + 1);
              g_assert_cmpfloat (rect.y + rect.height, <=, scene.layout.height + 1);
              surface = paint (&scene, DEW_LAYER_PROBE);
              for (int dy = -8; dy <= 8; dy++)
                for (int dx = -8; dx <= 8; dx++)
                  if (x + dx >= 0 && y + dy >= 0 && x + dx < scene.layout.width
                      && y + dy < scene.layout.height)
                    inked += pixel (surface, x + dx, y + dy) != 0;
              /* The cross alone: two lines of 10 px. */
              g_assert_cmpuint (inked, >, 8);
              g_assert_cmpuint (inked, <, 40);
              cairo_surface_destroy (surface);
            }
      scene_clear (&scene);
    }
}

/* --- plan --------------------------------------------------------------------------------- */

/* Air that gets faster evenly from left to right: 0.5 m/s at the right wall. */
static void
fill_speed (Scene *scene)
{
  const DewForecast *f = scene->forecast;

  for (int zone = 0; zone < f->n_zones; zone++)
    {
      int i = zone % f->n[0];

      f->value[DEW_VALUE_SPEED][zone]
        = 0.5 * (f->line_m[0][i] + f->line_m[0][i + 1]) / 2 / f->inner_m[0];
      f->value[DEW_VALUE_PPFD][zone]
        = 200e-6 * (f->line_m[0][i] + f->line_m[0][i + 1]) / 2 / f->inner_m[0];
    }
}

/* The line of the reach is where the air is as fast as the limit, here half-way. */
static void
test_reach_is_where_it_is (void)
{
  Scene scene;
  g_autoptr (GArray) segments = NULL;
  const DewRect *plan = &scene.layout.view[DEW_VIEW_PLAN];
  const double from_m[2] = { 0.6, 0.25 }, slow_m[2] = { 0.05, 0.25 };
  double level, reach_m;
  DewPen pen;

  scene_init (&scene, 1440, 900);
  fill_speed (&scene);
  pen = (DewPen){ NULL,
                  &scene.sheet,
                  &scene.layout,
                  scene.sheet.palette,
                  dew_layout_view_scale (&scene.layout, DEW_VIEW_PLAN),
                  1 };
  segments = dew_sheet_reach (&pen, &level);
  g_assert_cmpfloat_with_epsilon (level, 0.25, 1e-12);
  g_assert_cmpuint (segments->len, >, 10);
  for (guint i = 0; i < segments->len; i++)
    {
      const DewSegment *s = &g_array_index (segments, DewSegment, i);

      g_assert_cmpfloat_with_epsilon (s->x0, plan->x + plan->width / 2, 0.5);
      g_assert_cmpfloat_with_epsilon (s->x1, plan->x + plan->width / 2, 0.5);
    }
  /* To the left from 0.6 m the air falls below the limit at 0.35 m; to the right the
   * wall ends it; where it starts slow for long, there is none. */
  reach_m = dew_forecast_reach (scene.forecast, from_m, G_PI, 0.1, 0.3, 0.25);
  g_assert_cmpfloat_with_epsilon (reach_m, 0.25, 0.006);
  reach_m = dew_forecast_reach (scene.forecast, from_m, 0, 0.1, 0.3, 0.25);
  g_assert_cmpfloat_with_epsilon (reach_m, 0.1, 0.006);
  reach_m = dew_forecast_reach (scene.forecast, slow_m, 0, 0.1, 0.3, 0.25);
  g_assert_cmpfloat (reach_m, ==, 0);
  scene_clear (&scene);
}

/* Half of the most that falls on the shelf, which is in the last zone at the right:
 * 95 % of 200, so at 47.5 % of the width. */
static void
test_light_is_where_it_is (void)
{
  Scene scene;
  g_autoptr (GArray) segments = NULL;
  const DewRect *plan = &scene.layout.view[DEW_VIEW_PLAN];
  double level;
  DewPen pen;

  scene_init (&scene, 1440, 900);
  pen = (DewPen){ NULL,
                  &scene.sheet,
                  &scene.layout,
                  scene.sheet.palette,
                  dew_layout_view_scale (&scene.layout, DEW_VIEW_PLAN),
                  1 };
  segments = dew_sheet_light (&pen, &level);
  g_assert_cmpuint (segments->len, ==, 0); /* without light no line */
  g_array_unref (segments);
  fill_speed (&scene);
  segments = dew_sheet_light (&pen, &level);
  g_assert_cmpfloat_with_epsilon (level, 95e-6, 1e-6);
  for (guint i = 0; i < segments->len; i++)
    g_assert_cmpfloat_with_epsilon (g_array_index (segments, DewSegment, i).x0,
                                    plan->x + 0.475 * plan->width, 0.8);
  g_assert_cmpuint (segments->len, >, 10);
  scene_clear (&scene);
}

/* Each place of the bay has its mark, in its own rectangle, dark only where one must
 * act. */
static void
test_plan_marks (void)
{
  Scene scene;
  cairo_surface_t *surface;

  scene_init (&scene, 1440, 900);
  for (int bay = 0; bay < 4; bay++)
    {
      g_autoptr (GArray) places = NULL;
      double middle_m;
      int expected;

      scene.sheet.plan_bay = bay;
      dew_sheet_layout (&scene.sheet, 1440, 900, &scene.layout);
      middle_m = (scene.layout.plan_lo_m + scene.layout.plan_hi_m) / 2;
      expected = middle_m < scene.layout.inner_m[2] / 2 ? 0 : 1; /* the fixture's two bays */
      places = dew_sheet_plan_places (&scene.sheet, &scene.layout);
      g_assert_cmpuint (places->len, ==, 6);
      surface = paint (&scene, DEW_LAYER_GROUND | DEW_LAYER_INK);
      for (guint i = 0; i < places->len; i++)
        {
          const DewPlanPlace *one = &g_array_index (places, DewPlanPlace, i);

          g_assert_cmpint (scene.forecast->places[one->place].bay, ==, expected);
          g_assert_cmpint (one->verdict, ==, one->place % 3);
          g_assert_true (dew_rect_holds (&one->rect, one->at_px[0], one->at_px[1], 0));
          /* In a small plan what is fine has no mark. */
          if (one->verdict == DEW_VERDICT_FINE && scene.layout.n_plans > 0)
            continue;
          if (one->verdict == DEW_VERDICT_ACT)
            g_assert_cmpfloat (lightness (surface, one->at_px[0], one->at_px[1]), <, 0.4);
          else
            g_assert_cmpfloat (lightness (surface, one->at_px[0], one->at_px[1]), >, 0.8);
        }
      cairo_surface_destroy (surface);
    }
  scene_clear (&scene);
}

/* On a real forecast: what is found about air, light or water at a place is not told as
 * fine there, and a bay without findings has only fine places. */
static void
test_plan_agrees_with_findings (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewForecast) forecast = NULL;
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;
  DewSheet sheet;
  guint compared = 0;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  options.night = TRUE;
  options.wish = dew_catalogue_plant_wish;
  forecast = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
  sheet.forecast = forecast;
  for (int bay = 0; bay < forecast->n_bays; bay++)
    {
      g_autoptr (GArray) places = NULL;
      DewSheetLayout layout;
      gboolean found = FALSE;

      sheet.plan_bay = bay;
      dew_sheet_layout (&sheet, 1440, 900, &layout);
      g_assert_true (layout.shown[DEW_VIEW_PLAN]);
      places = dew_sheet_plan_places (&sheet, &layout);
      g_assert_cmpuint (places->len, >, 0);
      for (int i = 0; i < forecast->n_findings; i++)
        {
          const DewFinding *finding = &forecast->findings[i];

          if (finding->bay != bay)
            continue;
          found = TRUE;
          if (finding->kind == DEW_FINDING_TANK || finding->kind == DEW_FINDING_LOAD
              || finding->kind == DEW_FINDING_ELECTRIC || finding->kind == DEW_FINDING_POT_DRY)
            continue;
          for (guint p = 0; p < places->len; p++)
            {
              const DewPlanPlace *one = &g_array_index (places, DewPlanPlace, p);
              const DewPlace *place = &forecast->places[one->place];

              if (finding->at_m[0] < place->lo_m[0] || finding->at_m[0] >= place->hi_m[0]
                  || finding->at_m[1] < place->lo_m[1] || finding->at_m[1] >= place->hi_m[1])
                continue;
              g_assert_cmpint (one->verdict, >=, finding->severity);
              compared++;
            }
        }
      for (guint p = 0; p < places->len && !found; p++)
        g_assert_cmpint (g_array_index (places, DewPlanPlace, p).verdict, ==, DEW_VERDICT_FINE);
    }
  g_assert_cmpuint (compared, >, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/picture/fixed-scale", test_fixed_scale);
  g_test_add_func ("/paint/picture/legend-tells", test_legend_tells);
  g_test_add_func ("/paint/picture/round-in-both-units", test_round_in_both_units);
  g_test_add_func ("/paint/picture/imperial-words", test_imperial_words);
  g_test_add_func ("/paint/picture/imperial-marks", test_imperial_marks);
  g_test_add_func ("/paint/picture/labels-apart", test_labels_apart);
  g_test_add_func ("/paint/picture/crowded-labels", test_crowded_labels);
  g_test_add_func ("/paint/picture/colours-hold-still", test_colours_hold_still);
  g_test_add_func ("/paint/picture/fog-is-not-paler", test_fog_is_not_paler);
  g_test_add_func ("/paint/picture/draft-looks-so", test_draft_looks_so);
  g_test_add_func ("/paint/picture/probe-is-the-value", test_probe_is_the_value);
  g_test_add_func ("/paint/picture/probe-takes-the-widest-band", test_probe_takes_the_widest_band);
  g_test_add_func ("/paint/picture/probe-keeps-away", test_probe_keeps_away);
  g_test_add_func ("/paint/picture/reach-is-where-it-is", test_reach_is_where_it_is);
  g_test_add_func ("/paint/picture/light-is-where-it-is", test_light_is_where_it_is);
  g_test_add_func ("/paint/picture/plan-marks", test_plan_marks);
  g_test_add_func ("/paint/picture/plan-agrees-with-findings", test_plan_agrees_with_findings);
  return g_test_run ();
}
