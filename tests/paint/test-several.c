/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking closely, several things at once, flaps and faces. What is right follows
 * from geometry: from the coordinates of the document and the definitions in sheet.h. */
#include "paint/sheet-private.h"
#include "paint/snap.h"

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

/* --- flaps and faces ---------------------------------------------------------------------- */

static void
drag (Scene *scene, const char *name, DewPart part, DewView view, double from0, double from1,
      double to0, double to1, double snap_m)
{
  const double from_m[2] = { from0, from1 }, to_m[2] = { to0, to1 };
  DewHit hit = { part, view, fixture_thing (scene->variant, name)->id, 0, -1, { 0, 0, 0, 0 } };
  DewGuides guides;

  dew_sheet_drag (scene->chamber, scene->variant, &hit, from_m, to_m, snap_m, &guides);
}

static void
test_lift (void)
{
  const DewOpening *flap;
  DewFlapShape shape;
  Scene scene;

  scene_init (&scene);
  flap = &fixture_thing (scene.variant, "Low flap")->opening;
  /* 12 cm of the hand from shut to open, from half open: 3 cm are a quarter. */
  drag (&scene, "Low flap", DEW_PART_LIFT, DEW_VIEW_FRONT, 0.3, 0.06, 0.3, 0.09, 0);
  g_assert_cmpfloat_with_epsilon (flap->open_fraction, 0.75, 1e-9);
  drag (&scene, "Low flap", DEW_PART_LIFT, DEW_VIEW_FRONT, 0.3, 0.06, 0.3, 0.9, 0);
  g_assert_cmpfloat (flap->open_fraction, ==, 1);
  /* In the side view the front is on the left: outward is to the left. */
  drag (&scene, "Low flap", DEW_PART_LIFT, DEW_VIEW_SIDE, -0.02, 0.06, 0.04, 0.06, 0);
  g_assert_cmpfloat_with_epsilon (flap->open_fraction, 0.5, 1e-9);
  drag (&scene, "Low flap", DEW_PART_LIFT, DEW_VIEW_PLAN, 0.3, -0.01, 0.3, 0.9, 0.01);
  g_assert_cmpfloat (flap->open_fraction, ==, 0);

  /* Shut, its free edge lies where it is shut; open, it stands off to the outside. */
  dew_flap_shape (&scene.layout, DEW_VIEW_SIDE, flap, &shape);
  g_assert_cmpfloat_with_epsilon (shape.edge[0][0], shape.shut[0][0], 1e-6);
  g_assert_cmpfloat_with_epsilon (shape.edge[0][1], shape.shut[0][1], 1e-6);
  fixture_thing (scene.variant, "Low flap")->opening.open_fraction = 1;
  dew_flap_shape (&scene.layout, DEW_VIEW_SIDE, flap, &shape);
  g_assert_cmpfloat (shape.edge[0][0], <, shape.shut[0][0] - 5);
  /* It does not get longer or shorter. */
  g_assert_cmpfloat_with_epsilon (
    hypot (shape.edge[0][0] - shape.hinge[0][0], shape.edge[0][1] - shape.hinge[0][1]),
    hypot (shape.shut[0][0] - shape.hinge[0][0], shape.shut[0][1] - shape.hinge[0][1]), 1e-6);
  scene_clear (&scene);
}

/* An opening is dragged to a wall: which face it is in then, and that it fits there. */
static void
test_faces (void)
{
  static const struct
  {
    DewFace from;
    DewView view;
    double to_m[2];
    DewFace want;
  } rows[] = {
    { DEW_FACE_FRONT, DEW_VIEW_FRONT, { 0.2, 0.9 }, DEW_FACE_FRONT },
    { DEW_FACE_FRONT, DEW_VIEW_FRONT, { -0.02, 0.9 }, DEW_FACE_LEFT },
    { DEW_FACE_FRONT, DEW_VIEW_FRONT, { 0.75, 0.9 }, DEW_FACE_RIGHT },
    { DEW_FACE_FRONT, DEW_VIEW_FRONT, { 0.3, 1.7 }, DEW_FACE_ROOF },
    { DEW_FACE_FRONT, DEW_VIEW_FRONT, { 0.3, -0.1 }, DEW_FACE_FLOOR },
    { DEW_FACE_BACK, DEW_VIEW_FRONT, { 0.2, 0.9 }, DEW_FACE_BACK },
    { DEW_FACE_LEFT, DEW_VIEW_FRONT, { 0.35, 0.9 }, DEW_FACE_FRONT },
    { DEW_FACE_LEFT, DEW_VIEW_FRONT, { 0.02, 1.2 }, DEW_FACE_LEFT },
    { DEW_FACE_LEFT, DEW_VIEW_FRONT, { 0.69, 0.8 }, DEW_FACE_RIGHT },
    { DEW_FACE_FRONT, DEW_VIEW_SIDE, { 0.49, 0.9 }, DEW_FACE_BACK },
    { DEW_FACE_FRONT, DEW_VIEW_SIDE, { 0.25, 0.9 }, DEW_FACE_RIGHT },
    { DEW_FACE_FRONT, DEW_VIEW_PLAN, { 0.3, 0.25 }, DEW_FACE_ROOF },
    { DEW_FACE_FRONT, DEW_VIEW_PLAN, { 0.3, 0.52 }, DEW_FACE_BACK },
    { DEW_FACE_FLOOR, DEW_VIEW_PLAN, { 0.3, 0.25 }, DEW_FACE_FLOOR },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DewThing *flap;
      double lo[3], hi[3], inner[3];
      Scene scene;

      scene_init (&scene);
      flap = fixture_thing (scene.variant, "Low flap");
      flap->opening.face = rows[i].from;
      flap->opening.v0_m = 0.1;
      flap->opening.v1_m = 0.2;
      drag (&scene, "Low flap", DEW_PART_BODY, rows[i].view, 0.2, 0.5, rows[i].to_m[0],
            rows[i].to_m[1], 0);
      g_assert_cmpint (flap->opening.face, ==, rows[i].want);
      dew_chamber_inner_m (scene.chamber, inner);
      dew_thing_box (scene.chamber, flap, lo, hi);
      for (int axis = 0; axis < 3; axis++)
        {
          g_assert_cmpfloat (lo[axis], >=, -1e-9);
          g_assert_cmpfloat (hi[axis], <=, inner[axis] + 1e-9);
        }
      g_assert_cmpfloat_with_epsilon (flap->opening.u1_m - flap->opening.u0_m, 0.2, 1e-9);
      g_assert_cmpfloat_with_epsilon (flap->opening.v1_m - flap->opening.v0_m, 0.1, 1e-9);
      scene_clear (&scene);
    }
}

/* --- several -------------------------------------------------------------------------------- */

static void
drag_several (Scene *scene, const char *const *names, guint n, DewView view, double dx_m,
              double dy_m, double snap_m)
{
  const double from_m[2] = { 0.12, 0.80 }, to_m[2] = { 0.12 + dx_m, 0.80 + dy_m };
  guint ids[8];
  DewHit hit = { .part = DEW_PART_BODY, .view = view, .index = -1 };

  for (guint i = 0; i < n; i++)
    ids[i] = fixture_thing (scene->variant, names[i])->id;
  hit.thing_id = ids[0];
  dew_sheet_drag_several (scene->chamber, scene->variant, &hit, ids, n, from_m, to_m, snap_m, NULL);
}

static void
test_several (void)
{
  static const char *const pots[] = { "Clay pot 1", "Clay pot 2" };
  static const char *const mixed[] = { "Clay pot 1", "Middle hygrometer" };
  static const char *const shelf[] = { "Upper shelf", "Clay pot 3", "Sun pitcher" };
  const DewThing *one, *two, *hygrometer;
  Scene scene;

  scene_init (&scene);
  one = fixture_thing (scene.variant, "Clay pot 1");
  two = fixture_thing (scene.variant, "Clay pot 2");
  hygrometer = fixture_thing (scene.variant, "Middle hygrometer");

  /* Along the shelf by the same way, and to the wall together: pot 1 reaches it with
   * its middle at 6 cm, half its 12 cm. */
  drag_several (&scene, pots, 2, DEW_VIEW_FRONT, 0.05, 0, 0);
  g_assert_cmpfloat_with_epsilon (one->pot.x_m, 0.17, 1e-9);
  g_assert_cmpfloat_with_epsilon (two->pot.x_m, 0.32, 1e-9);
  drag_several (&scene, pots, 2, DEW_VIEW_FRONT, -2, 0, 0);
  g_assert_cmpfloat_with_epsilon (one->pot.x_m, 0.06, 1e-9);
  g_assert_cmpfloat_with_epsilon (two->pot.x_m, 0.21, 1e-9);

  /* One shelf up: both stand on the upper one, whose top is at 1.108 m. */
  drag_several (&scene, pots, 2, DEW_VIEW_FRONT, 0, 0.5, 0);
  g_assert_cmpfloat_with_epsilon (one->pot.z_m, 1.108, 1e-9);
  g_assert_cmpfloat_with_epsilon (two->pot.z_m, 1.108, 1e-9);
  drag_several (&scene, pots, 2, DEW_VIEW_FRONT, 0, -0.36, 0);
  scene_clear (&scene);

  /* What hangs goes along by the way of what stands. */
  scene_init (&scene);
  one = fixture_thing (scene.variant, "Clay pot 1");
  hygrometer = fixture_thing (scene.variant, "Middle hygrometer");
  drag_several (&scene, mixed, 2, DEW_VIEW_FRONT, 0.03, -0.36, 0);
  g_assert_cmpfloat_with_epsilon (one->pot.z_m, 0.388, 1e-9);
  g_assert_cmpfloat_with_epsilon (hygrometer->instrument.z_m, 0.86 - 0.36, 1e-9);
  g_assert_cmpfloat_with_epsilon (hygrometer->instrument.x_m, 0.63, 1e-9);
  scene_clear (&scene);

  /* A shelf with a pot and a crown of its bay: they go once, not twice. */
  scene_init (&scene);
  one = fixture_thing (scene.variant, "Clay pot 3");
  drag_several (&scene, shelf, 3, DEW_VIEW_FRONT, 0, 0.04, 0);
  g_assert_cmpfloat_with_epsilon (fixture_thing (scene.variant, "Upper shelf")->shelf.z_m, 1.14,
                                  1e-9);
  g_assert_cmpfloat_with_epsilon (one->pot.z_m, 1.148, 1e-9);
  g_assert_cmpfloat_with_epsilon (fixture_thing (scene.variant, "Sun pitcher")->plant.z_m, 1.24,
                                  1e-9);
  scene_clear (&scene);
}

/* Random sets, random ways: everything stays inside, nothing new is impossible, and
 * across the sheet the set keeps its shape. */
static void
test_wild_several (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (5);

  for (int i = 0; i < 1500; i++)
    {
      double before_x[8], lo[3], hi[3], inner[3], way_m = NAN;
      double from_m[2], to_m[2];
      guint ids[8], n = (guint) g_rand_int_range (random, 2, 8);
      DewHit hit = { .part = DEW_PART_BODY, .index = -1 };
      Scene scene;

      scene_init (&scene);
      dew_chamber_inner_m (scene.chamber, inner);
      for (guint k = 0; k < n; k++)
        {
          const DewThing *thing
            = &g_array_index (scene.variant->things, DewThing,
                              (guint) g_rand_int_range (random, 0,
                                                        (int) scene.variant->things->len));

          ids[k] = thing->id;
          dew_thing_box (scene.chamber, thing, lo, hi);
          before_x[k] = lo[0];
        }
      hit.thing_id = ids[0];
      hit.view = (DewView) g_rand_int_range (random, 0, DEW_N_VIEWS);
      for (int k = 0; k < 2; k++)
        {
          from_m[k] = g_rand_double_range (random, 0, 1.6);
          to_m[k] = g_rand_double_range (random, -1, 3);
        }
      dew_sheet_drag_several (scene.chamber, scene.variant, &hit, ids, n, from_m, to_m,
                              i % 2 ? 0.01 : 0, NULL);
      for (guint k = 0; k < n; k++)
        {
          const DewThing *thing = dew_variant_thing (scene.variant, ids[k]);

          dew_thing_box (scene.chamber, thing, lo, hi);
          for (int axis = 0; axis < 3; axis++)
            {
              g_assert_cmpfloat (lo[axis], >=, -1e-6);
              g_assert_cmpfloat (hi[axis], <=, inner[axis] + 1e-6);
            }
          if (thing->kind == DEW_THING_SHELF || thing->kind == DEW_THING_OPENING)
            continue;
          if (isnan (way_m))
            way_m = lo[0] - before_x[k];
          g_assert_cmpfloat_with_epsilon (lo[0] - before_x[k], way_m, 1e-9);
        }
      scene_clear (&scene);
    }
}

/* The gap to a neighbour that the neighbour has to the next one. */
static void
test_same_gap (void)
{
  const DewThing *third;
  double d_m, lo[3], hi[3];
  Scene scene;

  scene_init (&scene);
  /* Pots of 12 cm at 12 and 27 cm: 3 cm between them. A third on that shelf, level. */
  fixture_thing (scene.variant, "Clay pot 3")->pot.z_m = 0.748;
  fixture_thing (scene.variant, "Clay pot 3")->pot.x_m = 0.50;
  third = fixture_thing (scene.variant, "Clay pot 3");
  dew_thing_box (scene.chamber, third, lo, hi);
  d_m = dew_snap_move (scene.chamber, scene.variant, third, DEW_VIEW_FRONT, 0, -0.077, 0.006, NULL);
  /* Its left side 3 cm right of 33 cm. */
  g_assert_cmpfloat_with_epsilon (lo[0] + d_m, 0.36, 1e-9);
  scene_clear (&scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/several/three-views", test_three_views);
  g_test_add_func ("/paint/several/zoom-at-pointer", test_zoom_at_pointer);
  g_test_add_func ("/paint/several/zoom-limits", test_zoom_limits);
  g_test_add_func ("/paint/several/lift", test_lift);
  g_test_add_func ("/paint/several/faces", test_faces);
  g_test_add_func ("/paint/several/several", test_several);
  g_test_add_func ("/paint/several/wild-several", test_wild_several);
  g_test_add_func ("/paint/several/same-gap", test_same_gap);
  return g_test_run ();
}
