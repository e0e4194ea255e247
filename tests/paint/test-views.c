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

/* Canvases as a window of 1024 x 640, 1440 x 900, 1920 x 1080 and 4K leaves them: every bay
 * is a row. The front view takes the height of the sheet, each bay has its plan level with it,
 * the plans are of one scale and in one column, and nothing lies on anything else. */
static void
test_every_bay_is_a_row (void)
{
  static const struct
  {
    double width, height;
    gboolean plans, side;
  } sizes[]
    = { { 560, 530, FALSE, FALSE }, { 640, 540, TRUE, FALSE },  { 860, 790, TRUE, FALSE },
        { 1340, 970, TRUE, TRUE },  { 3240, 2040, TRUE, TRUE }, { 860, 1400, TRUE, FALSE } };
  Scene scene;

  scene_init (&scene);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      const DewSheetLayout *layout = &scene.layout;
      const DewRect *front = &layout->view[DEW_VIEW_FRONT];
      const DewRect *side = &layout->view[DEW_VIEW_SIDE];
      g_autofree double *z_m = NULL;
      int n = dew_variant_bays (scene.chamber, scene.variant, &z_m, NULL);

      dew_sheet_layout (&scene.sheet, sizes[i].width, sizes[i].height, &scene.layout);
      g_assert_true (layout->shown[DEW_VIEW_FRONT]);
      g_assert_cmpint (layout->shown[DEW_VIEW_PLAN], ==, sizes[i].plans);
      g_assert_cmpint (layout->shown[DEW_VIEW_SIDE], ==, sizes[i].side);
      g_assert_true (fixture_inside_sheet (front, layout));
      g_assert_cmpfloat (front->height, >,
                         sizes[i].width < 900 && sizes[i].height > 900
                           ? 0.5 * sizes[i].height
                           : 0.8 * (sizes[i].height - 132) - 1);
      g_assert_false (dew_rects_meet (&layout->legend, front, 0));
      g_assert_cmpint (layout->n_plans, ==, sizes[i].plans ? n : 0);
      for (int bay = 0; bay < layout->n_plans; bay++)
        {
          const DewRect *plan = &layout->plan[bay];
          double middle = (z_m[bay] + z_m[bay + 1]) / 2 / layout->inner_m[2];
          double level = front->y + front->height * (1 - middle);

          g_assert_true (fixture_inside_sheet (plan, layout));
          g_assert_cmpfloat (plan->x, ==, layout->plan[0].x);
          g_assert_cmpfloat (plan->width, ==, layout->plan[0].width);
          g_assert_cmpfloat_with_epsilon (plan->height / layout->inner_m[1],
                                          plan->width / layout->inner_m[0],
                                          1.0 / layout->inner_m[1] + 1.0 / layout->inner_m[0]);
          /* Level with its bay: the middle of the bay is somewhere in its plan. */
          g_assert_true (dew_rect_holds (plan, plan->x, level, 2));
          g_assert_false (dew_rects_meet (plan, front, 40));
          g_assert_false (dew_rects_meet (plan, &layout->legend, 0));
          if (bay > 0)
            g_assert_false (dew_rects_meet (plan, &layout->plan[bay - 1], 18));
          if (layout->shown[DEW_VIEW_SIDE])
            g_assert_false (dew_rects_meet (plan, side, 20));
          g_assert_cmpint (dew_layout_plan_at (layout, plan->x + plan->width / 2,
                                               plan->y + plan->height / 2),
                           ==, bay);
        }
      if (!layout->shown[DEW_VIEW_SIDE])
        continue;
      g_assert_true (fixture_inside_sheet (side, layout));
      g_assert_cmpfloat (side->y, ==, front->y);
      g_assert_cmpfloat (side->height, ==, front->height);
      g_assert_false (dew_rects_meet (&layout->legend, side, 0));
    }
  scene_clear (&scene);
}

/* A plan that is enlarged lies over the columns beside the front view, is larger by a third
 * at least, hides what it covers, and what is pointed at there is of its bay. */
static void
test_enlarged_plan (void)
{
  Scene scene;

  scene_init (&scene);
  for (int bay = 0; bay < 4; bay++)
    {
      const DewRect *large = &scene.layout.view[DEW_VIEW_PLAN];
      DewSheetLayout small;
      DewHit hit;

      scene.sheet.plan_bay = bay;
      scene.sheet.plan_large = FALSE;
      dew_sheet_layout (&scene.sheet, 960, 800, &small);
      scene.sheet.plan_large = TRUE;
      dew_sheet_layout (&scene.sheet, 960, 800, &scene.layout);
      g_assert_true (scene.layout.plan_large);
      g_assert_true (fixture_inside_sheet (large, &scene.layout));
      g_assert_cmpfloat (large->width, >, 1.3 * small.plan[bay].width);
      g_assert_false (dew_rects_meet (large, &scene.layout.view[DEW_VIEW_FRONT], 4));
      g_assert_false (dew_rects_meet (large, &scene.layout.legend, 0));
      g_assert_false (dew_layout_shows_plan (&scene.layout, bay));
      g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, large->x + 3, large->y + 9, &hit));
      g_assert_cmpint (hit.view, ==, DEW_VIEW_PLAN);
      fixture_check_marks (&scene.sheet, &scene.layout);
    }
  scene_clear (&scene);
}

/* Where there is no room for both, the side view can take the place of the plans. */
static void
test_side_instead (void)
{
  Scene scene;

  scene_init (&scene);
  dew_sheet_layout (&scene.sheet, 860, 790, &scene.layout);
  g_assert_true (scene.layout.can_switch);
  g_assert_false (scene.layout.shown[DEW_VIEW_SIDE]);
  scene.sheet.side_instead = TRUE;
  dew_sheet_layout (&scene.sheet, 860, 790, &scene.layout);
  g_assert_true (scene.layout.can_switch);
  g_assert_true (scene.layout.shown[DEW_VIEW_SIDE]);
  g_assert_false (scene.layout.shown[DEW_VIEW_PLAN]);
  g_assert_true (fixture_inside_sheet (&scene.layout.view[DEW_VIEW_SIDE], &scene.layout));
  fixture_check_marks (&scene.sheet, &scene.layout);
  dew_sheet_layout (&scene.sheet, 1500, 900, &scene.layout);
  g_assert_true (scene.layout.shown[DEW_VIEW_SIDE] && scene.layout.shown[DEW_VIEW_PLAN]);
  g_assert_false (scene.layout.can_switch);
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
  g_test_add_func ("/paint/views/every-bay-is-a-row", test_every_bay_is_a_row);
  g_test_add_func ("/paint/views/enlarged-plan", test_enlarged_plan);
  g_test_add_func ("/paint/views/side-instead", test_side_instead);
  g_test_add_func ("/paint/views/zoom-at-pointer", test_zoom_at_pointer);
  g_test_add_func ("/paint/views/zoom-limits", test_zoom_limits);
  g_test_add_func ("/paint/views/flap-shape", test_flap_shape);
  return g_test_run ();
}
