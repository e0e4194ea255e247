/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking closely, several things at once, flaps and faces. What is right follows
 * from geometry: from the coordinates of the document and the definitions in sheet.h. */
#include "paint/sheet-private.h"

#include "sheet-fixture.h"

#include <math.h>
#include <string.h>

#define WIDTH 1440
#define HEIGHT 900

typedef struct
{
  DewChamber *chamber;
  DewVariant *variant;
  DewSheet sheet;
  DewSheetLayout layout;
} Scene;

static void
scene_init (Scene *scene)
{
  scene->chamber = fixture_chamber_new ();
  scene->variant = dew_chamber_shown (scene->chamber);
  dew_sheet_init (&scene->sheet, scene->chamber, scene->variant);
  dew_sheet_layout (&scene->sheet, WIDTH, HEIGHT, &scene->layout);
}

static void
scene_clear (Scene *scene)
{
  dew_chamber_free (scene->chamber);
}

/* --- views ---------------------------------------------------------------------------- */

/* Canvases as a window of 1024 x 640, 1440 x 900, 1920 x 1080 and 4K leaves them: all
 * views, aligned as in an orthographic drawing, inside the sheet, and apart. */
static void
test_three_views (void)
{
  static const struct
  {
    double width, height;
  } sizes[] = { { 560, 530 }, { 860, 790 }, { 1340, 970 }, { 3240, 2040 }, { 860, 1400 } };
  Scene scene;

  scene_init (&scene);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      const DewRect *front = &scene.layout.view[DEW_VIEW_FRONT];
      const DewRect *side = &scene.layout.view[DEW_VIEW_SIDE];
      const DewRect *plan = &scene.layout.view[DEW_VIEW_PLAN];

      dew_sheet_layout (&scene.sheet, sizes[i].width, sizes[i].height, &scene.layout);
      for (int view = 0; view < DEW_N_VIEWS; view++)
        {
          const DewRect *rect = &scene.layout.view[view];

          g_assert_true (scene.layout.shown[view]);
          g_assert_cmpfloat (rect->x, >=, 0);
          g_assert_cmpfloat (rect->y, >=, 0);
          g_assert_cmpfloat (rect->x + rect->width, <=, sizes[i].width);
          g_assert_cmpfloat (rect->y + rect->height, <=, sizes[i].height);
        }
      g_assert_cmpfloat (side->y, ==, front->y);
      g_assert_cmpfloat (side->height, ==, front->height);
      if (scene.layout.plan_below)
        {
          g_assert_cmpfloat (plan->x, ==, front->x);
          g_assert_cmpfloat (plan->y, >, front->y + front->height);
        }
      else
        g_assert_cmpfloat (plan->x, >, side->x + side->width);
      g_assert_false (dew_rects_meet (&scene.layout.legend, front, 0));
      g_assert_false (dew_rects_meet (&scene.layout.legend, plan, 0));
      g_assert_false (dew_rects_meet (&scene.layout.legend, side, 0));
    }
  /* On a very small sheet the front view comes first. */
  dew_sheet_layout (&scene.sheet, 380, 340, &scene.layout);
  g_assert_true (scene.layout.shown[DEW_VIEW_FRONT]);
  g_assert_false (scene.layout.shown[DEW_VIEW_SIDE] && scene.layout.shown[DEW_VIEW_PLAN]);
  scene_clear (&scene);
}

/* --- zoom -------------------------------------------------------------------------------- */

/* Wherever one zooms, what was under the pointer stays there, as long as that does
 * not push the drawing out of sight. */
static void
test_zoom_at_pointer (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (11);
  int held = 0;

  for (int i = 0; i < 400; i++)
    {
      DewView view = (DewView) g_rand_int_range (random, 0, DEW_N_VIEWS);
      DewSheetLayout after;
      const DewRect *rect;
      double x, y, before_m[2], after_m[2];
      Scene scene;

      scene_init (&scene);
      rect = &scene.layout.view[view];
      x = rect->x + rect->width * g_rand_double (random);
      y = rect->y + rect->height * g_rand_double (random);
      for (int step = 0; step < 3; step++)
        {
          dew_sheet_layout (&scene.sheet, WIDTH, HEIGHT, &scene.layout);
          dew_layout_to_world (&scene.layout, view, x, y, before_m);
          dew_sheet_zoom (&scene.sheet, WIDTH, HEIGHT,
                          scene.sheet.zoom * g_rand_double_range (random, 0.7, 1.8), x, y);
          dew_sheet_layout (&scene.sheet, WIDTH, HEIGHT, &after);
          dew_layout_to_world (&after, view, x, y, after_m);
          g_assert_cmpfloat (scene.sheet.zoom, >=, 1);
          /* At zoom 1 all of it is in its place again. */
          if (!(scene.sheet.zoom > 1))
            {
              g_assert_cmpfloat (scene.sheet.pan_px[0], ==, 0);
              break;
            }
          /* Views lie on whole px: one of them is what may be off. */
          g_assert_cmpfloat_with_epsilon (after_m[0], before_m[0], 1.5 / after.scale_px_m);
          g_assert_cmpfloat_with_epsilon (after_m[1], before_m[1], 1.5 / after.scale_px_m);
          held++;
        }
      scene_clear (&scene);
    }
  g_assert_cmpint (held, >, 400);
}

static void
test_zoom_limits (void)
{
  Scene scene;
  double scale;

  scene_init (&scene);
  scale = scene.layout.scale_px_m;
  dew_sheet_zoom (&scene.sheet, WIDTH, HEIGHT, 1e9, 700, 400);
  dew_sheet_layout (&scene.sheet, WIDTH, HEIGHT, &scene.layout);
  g_assert_cmpfloat_with_epsilon (scene.layout.scale_px_m, 96 / 0.0254, 1e-6);
  g_assert_cmpfloat (scene.layout.fit_scale_px_m, ==, scale);
  /* However far it is shifted, some of it crosses the middle of the sheet. */
  for (int i = 0; i < 4; i++)
    {
      gboolean across = FALSE, down = FALSE;

      dew_sheet_pan (&scene.sheet, WIDTH, HEIGHT, i & 1 ? 1e6 : -1e6, i & 2 ? 1e6 : -1e6);
      dew_sheet_layout (&scene.sheet, WIDTH, HEIGHT, &scene.layout);
      for (int view = 0; view < DEW_N_VIEWS; view++)
        {
          const DewRect *r = &scene.layout.view[view];

          across = across || (r->x <= WIDTH / 2.0 + 1 && r->x + r->width >= WIDTH / 2.0 - 1);
          down = down || (r->y <= HEIGHT / 2.0 + 1 && r->y + r->height >= HEIGHT / 2.0 - 1);
        }
      g_assert_true (across && down);
    }
  dew_sheet_zoom (&scene.sheet, WIDTH, HEIGHT, 0, 3, 3);
  g_assert_cmpfloat (scene.sheet.zoom, ==, 1);
  g_assert_cmpfloat (scene.sheet.pan_px[0], ==, 0);
  scene_clear (&scene);
}

/* --- flaps ---------------------------------------------------------------------------------- */

static void
test_flap_shape (void)
{
  DewOpening *flap;
  DewFlapShape shape;
  Scene scene;

  scene_init (&scene);
  flap = &fixture_thing (scene.variant, "Low flap")->opening;
  flap->open_fraction = 0;
  /* Shut, its free edge lies where it is shut; open, it stands off to the outside. */
  dew_flap_shape (&scene.layout, DEW_VIEW_SIDE, flap, &shape);
  g_assert_cmpfloat_with_epsilon (shape.edge[0][0], shape.shut[0][0], 1e-6);
  g_assert_cmpfloat_with_epsilon (shape.edge[0][1], shape.shut[0][1], 1e-6);
  flap->open_fraction = 1;
  dew_flap_shape (&scene.layout, DEW_VIEW_SIDE, flap, &shape);
  g_assert_cmpfloat (shape.edge[0][0], <, shape.shut[0][0] - 5);
  /* It does not get longer or shorter. */
  g_assert_cmpfloat_with_epsilon (
    hypot (shape.edge[0][0] - shape.hinge[0][0], shape.edge[0][1] - shape.hinge[0][1]),
    hypot (shape.shut[0][0] - shape.hinge[0][0], shape.shut[0][1] - shape.hinge[0][1]), 1e-6);
  scene_clear (&scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/views/three-views", test_three_views);
  g_test_add_func ("/paint/views/zoom-at-pointer", test_zoom_at_pointer);
  g_test_add_func ("/paint/views/zoom-limits", test_zoom_limits);
  g_test_add_func ("/paint/views/flap-shape", test_flap_shape);
  return g_test_run ();
}
