/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/gesture.h"
#include "edit/snap.h"
#include "furnished.h"
#include "geometry/geometry.h"
#include "say/problems.h"

#include <math.h>
#include <string.h>

/* What drags mean: places are worked out by hand from the table of the furnished
 * enclosure; what holds for any drag is tried on random ones. */

typedef struct
{
  DewChamber *chamber;
  DewVariant *variant;
} Scene;

static void
scene_init (Scene *scene)
{
  scene->chamber = fixture_chamber_new ();
  scene->variant = dew_chamber_shown (scene->chamber);
}

static void
scene_clear (Scene *scene)
{
  dew_chamber_free (scene->chamber);
}

/* What a drag by (across, up) of a thing's body makes of its place. NAN: not
 * looked at. */
static void
test_drag_bodies (void)
{
  static const struct
  {
    const char *name;
    DewView view;
    double from_m[2], to_m[2];
    double snap_m;
    double want_m[3];
  } rows[] = {
    /* free: both ways, exactly as far as the pointer without snapping */
    { "Slow fan", DEW_VIEW_FRONT, { 0.09, 0.12 }, { 0.123, 0.219 }, 0, { 0.123, NAN, 0.219 } },
    { "Slow fan", DEW_VIEW_SIDE, { 0.34, 0.12 }, { 0.251, 0.12 }, 0, { 0.09, 0.251, 0.12 } },
    { "Slow fan", DEW_VIEW_PLAN, { 0.09, 0.34 }, { 0.211, 0.203 }, 0, { 0.211, 0.203, 0.12 } },
    /* stands: the foot goes to the shelf below the pointer (top of a shelf is
     * z + thickness), and to the floor below the lowest */
    { "Clay pot 1", DEW_VIEW_FRONT, { 0.12, 0.80 }, { 0.22, 1.30 }, 0, { 0.22, NAN, 1.108 } },
    { "Clay pot 1", DEW_VIEW_FRONT, { 0.12, 0.80 }, { 0.22, 0.50 }, 0, { 0.22, NAN, 0.388 } },
    { "Clay pot 1", DEW_VIEW_FRONT, { 0.12, 0.80 }, { 0.22, -0.3 }, 0, { 0.22, NAN, 0 } },
    { "Clay pot 1", DEW_VIEW_FRONT, { 0.12, 0.80 }, { 0.12, 0.90 }, 0, { 0.12, NAN, 0.748 } },
    /* a crown keeps its height above the shelf: 1.20 - 1.108 = 0.092 */
    { "Sun pitcher", DEW_VIEW_FRONT, { 0.45, 1.25 }, { 0.45, 0.5 }, 0, { 0.45, NAN, 0.48 } },
    /* walls stop: half a pot of 0.12 m from the corner */
    { "Clay pot 1", DEW_VIEW_FRONT, { 0.12, 0.80 }, { -2, 0.80 }, 0, { 0.06, NAN, 0.748 } },
    { "Clay pot 1", DEW_VIEW_PLAN, { 0.12, 0.25 }, { 9, 0.25 }, 0, { NAN, 0.25, 0.748 } },
    /* the 5 mm grid, where nothing else pulls within 4 mm */
    { "Slow fan", DEW_VIEW_FRONT, { 0.09, 0.12 }, { 0.0957, 0.2013 }, 0.004, { NAN, NAN, 0.200 } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DewThing *thing;
      double lo[3], hi[3], at[3];
      DewDrag drag = { .grip = { DEW_GRIP_BODY, rows[i].view }, .snap_m = rows[i].snap_m };
      Scene scene;

      scene_init (&scene);
      thing = fixture_thing (scene.variant, rows[i].name);
      drag.grip.thing_id = thing->id;
      memcpy (drag.from_m, rows[i].from_m, sizeof drag.from_m);
      memcpy (drag.to_m, rows[i].to_m, sizeof drag.to_m);
      dew_chamber_drag (scene.chamber, &drag, NULL);
      dew_thing_box (scene.chamber, thing, lo, hi);
      for (int axis = 0; axis < 3; axis++)
        at[axis] = (lo[axis] + hi[axis]) / 2;
      if (thing->kind != DEW_THING_FAN)
        at[2] = lo[2];
      for (int axis = 0; axis < 3; axis++)
        if (!isnan (rows[i].want_m[axis]))
          g_assert_cmpfloat_with_epsilon (at[axis], rows[i].want_m[axis], 1e-9);
      scene_clear (&scene);
    }
}

/* Drags what is called that (NULL: the enclosure). Returns whether that changed anything. */
static gboolean
drag (Scene *scene, const char *name, DewGripPart part, DewView view, int axis, double from0,
      double from1, double to0, double to1, double snap_m)
{
  g_autoptr (DewChamber) before = dew_chamber_copy (scene->chamber);
  guint id = name != NULL ? fixture_thing (scene->variant, name)->id : 0;
  DewDrag drag = { { part, view, id, axis }, NULL, 0, { from0, from1 }, { to0, to1 }, snap_m };
  DewGuides guides;

  dew_chamber_drag (scene->chamber, &drag, &guides);
  return !dew_chamber_equal (before, scene->chamber);
}

static void
test_drag_shelf (void)
{
  const DewThing *pot, *shelf;
  double pot_was_m;
  Scene scene;

  scene_init (&scene);
  shelf = fixture_thing (scene.variant, "Middle shelf");
  pot = fixture_thing (scene.variant, "Clay pot 1");
  pot_was_m = pot->pot.z_m;
  g_assert_true (
    drag (&scene, "Middle shelf", DEW_GRIP_BODY, DEW_VIEW_FRONT, 0, 0.3, 0.74, 0.3, 0.79, 0));
  g_assert_cmpfloat_with_epsilon (shelf->shelf.z_m, 0.79, 1e-9);
  /* What stands on it goes along. */
  g_assert_cmpfloat_with_epsilon (pot->pot.z_m - pot_was_m, 0.05, 1e-9);

  /* It does not pass its neighbours: the pots on it stop under the shelf at 1.10 m. */
  g_assert_true (
    drag (&scene, "Middle shelf", DEW_GRIP_BODY, DEW_VIEW_FRONT, 0, 0.3, 0.79, 0.3, 1.5, 0));
  g_assert_cmpfloat_with_epsilon (shelf->shelf.z_m, 1.10 - pot->pot.height_m - 0.008, 1e-9);

  /* Equal bays pull: between 0.388 and 1.10 for a board of 8 mm. */
  g_assert_true (drag (&scene, "Middle shelf", DEW_GRIP_BODY, DEW_VIEW_FRONT, 0, 0.3,
                       shelf->shelf.z_m, 0.3, 0.741, 0.01));
  g_assert_cmpfloat_with_epsilon (shelf->shelf.z_m, (0.388 + 1.10 - 0.008) / 2, 1e-9);
  scene_clear (&scene);
}

static void
test_drag_edges (void)
{
  const DewThing *tray, *flap, *shelf, *pot;
  Scene scene;

  scene_init (&scene);
  /* 0.40 m wide round 0.30 m: the right edge from 0.50 to 0.56, the left stays. */
  tray = fixture_thing (scene.variant, "Moss tray");
  g_assert_true (
    drag (&scene, "Moss tray", DEW_GRIP_HIGH_EDGE, DEW_VIEW_FRONT, 0, 0.50, 0.4, 0.56, 0.4, 0));
  g_assert_cmpfloat_with_epsilon (tray->tray.width_m, 0.46, 1e-9);
  g_assert_cmpfloat_with_epsilon (tray->tray.x_m, 0.33, 1e-9);

  /* An edge does not pass the other one, nor a wall. */
  flap = fixture_thing (scene.variant, "Low flap");
  g_assert_true (
    drag (&scene, "Low flap", DEW_GRIP_LOW_EDGE, DEW_VIEW_FRONT, 0, 0.25, 0.08, 0.9, 0.08, 0));
  g_assert_cmpfloat (flap->opening.u0_m, <, flap->opening.u1_m);
  g_assert_true (
    drag (&scene, "Low flap", DEW_GRIP_HIGH_EDGE, DEW_VIEW_FRONT, 0, 0.45, 0.08, 5, 0.08, 0));
  {
    double inner[3];

    dew_chamber_inner_m (scene.chamber, inner);
    g_assert_cmpfloat_with_epsilon (flap->opening.u1_m, inner[0], 1e-9);
  }

  /* A shelf's edge is a gap to the wall. */
  shelf = fixture_thing (scene.variant, "Lower shelf");
  g_assert_true (
    drag (&scene, "Lower shelf", DEW_GRIP_LOW_EDGE, DEW_VIEW_SIDE, 1, 0.03, 0.38, 0.08, 0.38, 0));
  g_assert_cmpfloat_with_epsilon (shelf->shelf.gap_front_m, 0.08, 1e-9);

  /* A pot grows up from its foot. */
  pot = fixture_thing (scene.variant, "Clay pot 1");
  g_assert_true (drag (&scene, "Clay pot 1", DEW_GRIP_HIGH_EDGE, DEW_VIEW_FRONT, 2, 0.12,
                       0.748 + pot->pot.height_m, 0.12, 0.748 + 0.2, 0));
  g_assert_cmpfloat_with_epsilon (pot->pot.height_m, 0.2, 1e-9);
  g_assert_cmpfloat_with_epsilon (pot->pot.z_m, 0.748, 1e-9);
  scene_clear (&scene);
}

/* Azimuth 0 is to the right, pi / 2 to the back, elevation pi / 2 up: the
 * document's own definition. */
static void
test_drag_aim (void)
{
  const DewThing *fan;
  Scene scene;

  scene_init (&scene);
  fan = fixture_thing (scene.variant, "Slow fan");
  g_assert_true (
    drag (&scene, "Slow fan", DEW_GRIP_AIM, DEW_VIEW_FRONT, 0, 0.1, 0.2, 0.09, 0.30, 0.01));
  g_assert_cmpfloat_with_epsilon (fan->fan.elevation_rad, G_PI / 2, 1e-6);
  g_assert_true (
    drag (&scene, "Slow fan", DEW_GRIP_AIM, DEW_VIEW_FRONT, 0, 0.1, 0.2, 0.19, 0.121, 0.01));
  g_assert_cmpfloat_with_epsilon (fan->fan.elevation_rad, 0, 1e-9); /* within 3 degrees of level */
  g_assert_true (
    drag (&scene, "Slow fan", DEW_GRIP_AIM, DEW_VIEW_PLAN, 0, 0.1, 0.2, 0.09, 0.44, 0.01));
  g_assert_cmpfloat_with_epsilon (fan->fan.azimuth_rad, G_PI / 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (fan->fan.elevation_rad, 0, 1e-9);
  /* Aimed to the back, turned in the front view: straight at the pointer. */
  g_assert_true (drag (&scene, "Slow fan", DEW_GRIP_AIM, DEW_VIEW_FRONT, 0, 0.1, 0.2, 0.09 + 0.1,
                       0.12 + 0.1, 0));
  g_assert_cmpfloat_with_epsilon (fan->fan.azimuth_rad, 0, 1e-6);
  g_assert_cmpfloat_with_epsilon (fan->fan.elevation_rad, G_PI / 4, 1e-6);
  scene_clear (&scene);
}

static void
test_drag_wall (void)
{
  double inner[3];
  Scene scene;

  scene_init (&scene);
  g_assert_true (drag (&scene, NULL, DEW_GRIP_WALL, DEW_VIEW_FRONT, 0, 0.7, 1, 0.783, 1, 0.01));
  g_assert_cmpfloat_with_epsilon (scene.chamber->outer_m[0], 0.785, 1e-9);
  /* The roof stops at what hangs below it, not inside it. */
  g_assert_true (drag (&scene, NULL, DEW_GRIP_WALL, DEW_VIEW_FRONT, 2, 0.3, 1.6, 0.3, 0.2, 0));
  dew_chamber_inner_m (scene.chamber, inner);
  g_assert_cmpfloat (inner[2], >=, 1.54);
  scene_clear (&scene);
}

/* Snapping to a neighbour's middle and to the middle of a gap. */
static void
test_snap (void)
{
  static const struct
  {
    double at_deg, want_deg;
  } angles[] = { { 44, 45 }, { 2.9, 0 }, { 8.3, 8 }, { -88, -90 }, { 178, 180 } };
  DewThing *pot;
  double lo[3], hi[3], d_m;
  DewGuides guides = { 0 };
  Scene scene;

  for (guint i = 0; i < G_N_ELEMENTS (angles); i++)
    g_assert_cmpfloat_with_epsilon (dew_snap_angle (angles[i].at_deg * G_PI / 180, TRUE) * 180
                                      / G_PI,
                                    angles[i].want_deg, 1e-9);

  scene_init (&scene);
  pot = fixture_thing (scene.variant, "Clay pot 3");
  /* 0.60 to 0.645 m: the right wall is at 0.64 for a pot of 0.12 m. */
  dew_thing_box (scene.chamber, pot, lo, hi);
  d_m = dew_snap_move (scene.chamber, scene.variant, pot, DEW_VIEW_FRONT, 0, 0.045, 0.02, &guides);
  {
    double inner[3];

    dew_chamber_inner_m (scene.chamber, inner);
    g_assert_cmpfloat_with_epsilon (hi[0] + d_m, inner[0], 1e-9);
    g_assert_cmpuint (guides.n, ==, 1);
    g_assert_cmpfloat_with_epsilon (guides.guide[0].a_m[0], inner[0], 1e-9);
  }
  scene_clear (&scene);
}

static void
test_lift (void)
{
  const DewOpening *flap;
  Scene scene;

  scene_init (&scene);
  flap = &fixture_thing (scene.variant, "Low flap")->opening;
  /* 12 cm of the hand from shut to open, from half open: 3 cm are a quarter. */
  drag (&scene, "Low flap", DEW_GRIP_FLAP, DEW_VIEW_FRONT, 0, 0.3, 0.06, 0.3, 0.09, 0);
  g_assert_cmpfloat_with_epsilon (flap->open_fraction, 0.75, 1e-9);
  drag (&scene, "Low flap", DEW_GRIP_FLAP, DEW_VIEW_FRONT, 0, 0.3, 0.06, 0.3, 0.9, 0);
  g_assert_cmpfloat (flap->open_fraction, ==, 1);
  /* In the side view the front is on the left: outward is to the left. */
  drag (&scene, "Low flap", DEW_GRIP_FLAP, DEW_VIEW_SIDE, 0, -0.02, 0.06, 0.04, 0.06, 0);
  g_assert_cmpfloat_with_epsilon (flap->open_fraction, 0.5, 1e-9);
  drag (&scene, "Low flap", DEW_GRIP_FLAP, DEW_VIEW_PLAN, 0, 0.3, -0.01, 0.3, 0.9, 0.01);
  g_assert_cmpfloat (flap->open_fraction, ==, 0);
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
      drag (&scene, "Low flap", DEW_GRIP_BODY, rows[i].view, 0, 0.2, 0.5, rows[i].to_m[0],
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

static void
drag_several (Scene *scene, const char *const *names, guint n, DewView view, double dx_m,
              double dy_m, double snap_m)
{
  guint ids[8];
  DewDrag drag = { .grip = { DEW_GRIP_BODY, view },
                   .ids = ids,
                   .n_ids = n,
                   .from_m = { 0.12, 0.80 },
                   .to_m = { 0.12 + dx_m, 0.80 + dy_m },
                   .snap_m = snap_m };

  for (guint i = 0; i < n; i++)
    ids[i] = fixture_thing (scene->variant, names[i])->id;
  drag.grip.thing_id = ids[0];
  dew_chamber_drag (scene->chamber, &drag, NULL);
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
      guint ids[8], n = (guint) g_rand_int_range (random, 2, 8);
      DewDrag drag = { .ids = ids, .n_ids = n, .snap_m = i % 2 ? 0.01 : 0 };
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
      drag.grip.thing_id = ids[0];
      drag.grip.view = (DewView) g_rand_int_range (random, 0, DEW_N_VIEWS);
      for (int k = 0; k < 2; k++)
        {
          drag.from_m[k] = g_rand_double_range (random, 0, 1.6);
          drag.to_m[k] = g_rand_double_range (random, -1, 3);
        }
      dew_chamber_drag (scene.chamber, &drag, NULL);
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

static void
assert_sound (const Scene *scene, const char *what)
{
  g_autoptr (GArray) problems = dew_chamber_check (scene->chamber, scene->variant->id);

  for (guint i = 0; i < problems->len; i++)
    if (g_array_index (problems, DewProblem, i).code != DEW_PROBLEM_HOLES_CROSS)
      g_error ("%s: %s", what,
               dew_problem_text (&g_array_index (problems, DewProblem, i), DEW_TONGUE_PLAIN));
}

/* The grips that a thing offers in a view, and where they are. */
static guint
offered_grips (const Scene *scene, const DewThing *thing, DewView view, DewGrip grips[6],
               double at_m[6][2])
{
  int axes[2] = { dew_view_across (view), dew_view_up (view) };
  double lo[3], hi[3];
  guint n = 0;

  dew_thing_box (scene->chamber, thing, lo, hi);
  for (int i = 0; i < 2; i++)
    {
      gboolean ends[2];

      dew_thing_pulled_edges (thing, axes[i], &ends[0], &ends[1]);
      for (int high = 0; high < 2; high++)
        if (ends[high])
          {
            at_m[n][i] = (high ? hi : lo)[axes[i]];
            at_m[n][1 - i] = (lo[axes[1 - i]] + hi[axes[1 - i]]) / 2;
            grips[n++] = (DewGrip){ high ? DEW_GRIP_HIGH_EDGE : DEW_GRIP_LOW_EDGE, view, thing->id,
                                    axes[i] };
          }
    }
  at_m[n][0] = hi[axes[0]];
  at_m[n][1] = hi[axes[1]];
  if (dew_thing_has_aim (thing))
    grips[n++] = (DewGrip){ DEW_GRIP_AIM, view, thing->id, 0 };
  else if (thing->kind == DEW_THING_OPENING && thing->opening.kind == DEW_OPENING_FLAP)
    grips[n++] = (DewGrip){ DEW_GRIP_FLAP, view, thing->id, 0 };
  return n;
}

/* Wild drags of every part of everything leave a document that can still be
 * forecast; only holes in a face may be dragged over each other. */
static void
test_wild_drags (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (4711);
  guint held[DEW_GRIP_WALL + 1] = { 0 };

  for (int i = 0; i < 3000; i++)
    {
      g_autofree char *what = NULL;
      double at_m[6][2];
      DewDrag drag = { .snap_m = i % 2 ? 0.01 : 0 };
      const DewThing *thing;
      DewGrip grips[6];
      DewGuides guides;
      Scene scene;
      guint n;

      scene_init (&scene);
      thing = &g_array_index (scene.variant->things, DewThing,
                              g_rand_int_range (random, 0, scene.variant->things->len));
      drag.grip.thing_id = thing->id;
      drag.grip.view = g_rand_int_range (random, 0, DEW_N_VIEWS);
      for (int k = 0; k < 2; k++)
        {
          drag.from_m[k] = g_rand_double_range (random, 0, 1.6);
          drag.to_m[k] = g_rand_double_range (random, -1, 3);
        }
      /* Only what is offered can be pulled. */
      n = offered_grips (&scene, thing, drag.grip.view, grips, at_m);
      if (i % 4 != 0 && n > 0)
        {
          guint which = g_rand_int_range (random, 0, n);

          drag.grip = grips[which];
          memcpy (drag.from_m, at_m[which], sizeof drag.from_m);
        }
      held[drag.grip.part]++;
      what = g_strdup_printf ("drag %d of %s, part %d, view %d, axis %d, %.3f %.3f to %.3f %.3f", i,
                              thing->name, drag.grip.part, drag.grip.view, drag.grip.axis,
                              drag.from_m[0], drag.from_m[1], drag.to_m[0], drag.to_m[1]);
      dew_chamber_drag (scene.chamber, &drag, &guides);
      g_assert_cmpuint (guides.n, <=, DEW_MAX_GUIDES);
      assert_sound (&scene, what);
      scene_clear (&scene);
    }
  for (int part = 0; part < DEW_GRIP_WALL; part++)
    g_assert_cmpuint (held[part], >, 30);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/edit/drag/bodies", test_drag_bodies);
  g_test_add_func ("/edit/drag/shelf", test_drag_shelf);
  g_test_add_func ("/edit/drag/edges", test_drag_edges);
  g_test_add_func ("/edit/drag/aim", test_drag_aim);
  g_test_add_func ("/edit/drag/wall", test_drag_wall);
  g_test_add_func ("/edit/drag/snap", test_snap);
  g_test_add_func ("/edit/drag/lift", test_lift);
  g_test_add_func ("/edit/drag/faces", test_faces);
  g_test_add_func ("/edit/drag/several", test_several);
  g_test_add_func ("/edit/drag/wild-several", test_wild_several);
  g_test_add_func ("/edit/drag/same-gap", test_same_gap);
  g_test_add_func ("/edit/drag/wild", test_wild_drags);
  return g_test_run ();
}
