/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"
#include "paint/snap.h"

#include "sheet-fixture.h"

#include <math.h>
#include <string.h>

#define WIDTH 1440
#define HEIGHT 900

/* The enclosure on a sheet, ready to be pointed at. */
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

static void
middle_px (const Scene *scene, const DewThing *thing, DewView view, double px[2])
{
  DewRect r;

  g_assert_true (dew_sheet_thing_rect (&scene->sheet, &scene->layout, thing->id, view, &r));
  px[0] = r.x + r.width / 2;
  px[1] = r.y + r.height / 2;
}

/* --- hits ---------------------------------------------------------------------------- */

/* Pointing at the middle of a thing finds it, in every view that shows it. */
static void
test_hit_things (void)
{
  static const char *const names[] = {
    "Slow fan", "Small mister", "Clay pot 1",        "Clay pot 3",           "Moss tray",
    "Low flap", "Lower shelf",  "Middle hygrometer", "Pitcher plant, large",
  };
  Scene scene;

  scene_init (&scene);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      const DewThing *thing = fixture_thing (scene.variant, names[i]);
      double px[2];
      DewHit hit;

      middle_px (&scene, thing, DEW_VIEW_FRONT, px);
      /* A shelf is grabbed between what stands on it. */
      if (thing->kind == DEW_THING_SHELF)
        px[0] = scene.layout.view[DEW_VIEW_FRONT].x + 12;
      g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, px[0], px[1], &hit));
      g_assert_cmpint (hit.part, ==, DEW_PART_BODY);
      g_assert_cmpuint (hit.thing_id, ==, thing->id);
      g_assert_cmpint (hit.view, ==, DEW_VIEW_FRONT);
    }
  scene_clear (&scene);
}

static void
test_hit_parts (void)
{
  DewForecast *forecast;
  DewThing *fan;
  double tip_m[3], px[2];
  const DewRect *front;
  DewHit hit;
  Scene scene;

  scene_init (&scene);
  front = &scene.layout.view[DEW_VIEW_FRONT];
  fan = fixture_thing (scene.variant, "Slow fan");

  /* Handles answer only on what is selected. */
  dew_aim_tip (scene.chamber, fan, tip_m);
  g_assert_true (dew_layout_to_screen (&scene.layout, DEW_VIEW_FRONT, tip_m, px));
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, px[0], px[1], &hit));
  g_assert_cmpint (hit.part, !=, DEW_PART_AIM);
  scene.sheet.selected_id = fan->id;
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, px[0], px[1], &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_AIM);
  g_assert_cmpuint (hit.thing_id, ==, fan->id);

  /* The far walls, and the air between. */
  g_assert_true (
    dew_sheet_hit (&scene.sheet, &scene.layout, front->x + front->width + 2, front->y + 30, &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_WALL);
  g_assert_cmpint (hit.axis, ==, 0);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, front->x + 40, front->y - 3, &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_WALL);
  g_assert_cmpint (hit.axis, ==, 2);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, front->x + 20,
                                front->y + front->height - 0.60 * scene.layout.scale_px_m, &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_BAY);
  g_assert_cmpint (hit.index, ==, 1); /* the second bay: 0.38 to 0.74 m */
  g_assert_false (dew_sheet_hit (&scene.sheet, &scene.layout, 3, 3, &hit));

  /* Every number, label and flag can be pointed at where it is drawn. */
  forecast = fixture_forecast_new (scene.chamber);
  fixture_add_finding (forecast, 0.35, 0.2, 0.6, "still");
  scene.sheet.forecast = forecast;
  scene.sheet.selected_id = 0;
  {
    g_autoptr (GArray) marks = dew_sheet_marks (&scene.sheet, &scene.layout);
    guint found[4] = { 0 };

    for (guint i = 0; i < marks->len; i++)
      {
        const DewMark *mark = &g_array_index (marks, DewMark, i);
        static const DewPart parts[]
          = { DEW_PART_NONE, DEW_PART_DIMENSION, DEW_PART_BAY, DEW_PART_FLAG };

        found[mark->kind]++;
        if (mark->kind == DEW_MARK_CAPTION)
          continue;
        g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout,
                                      mark->rect.x + mark->rect.width / 2,
                                      mark->rect.y + mark->rect.height / 2, &hit));
        g_assert_cmpint (hit.part, ==, parts[mark->kind]);
        g_assert_cmpint (hit.index, ==, mark->index);
      }
    g_assert_cmpuint (found[DEW_MARK_DIMENSION], ==, 4 + 1 + 2); /* bays, height, width and depth */
    g_assert_cmpuint (found[DEW_MARK_BAY], ==, 2);
    g_assert_cmpuint (found[DEW_MARK_FLAG], >=, 1);
  }
  fixture_forecast_free (forecast);
  scene_clear (&scene);
}

/* --- drags ---------------------------------------------------------------------------- */

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
      DewGuides guides;
      DewThing *thing;
      double lo[3], hi[3], at[3];
      DewHit hit = { .part = DEW_PART_BODY, .view = rows[i].view, .index = -1 };
      Scene scene;

      scene_init (&scene);
      thing = fixture_thing (scene.variant, rows[i].name);
      hit.thing_id = thing->id;
      dew_sheet_drag (scene.chamber, scene.variant, &hit, rows[i].from_m, rows[i].to_m,
                      rows[i].snap_m, &guides);
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

static void
drag (Scene *scene, const char *name, DewPart part, DewView view, int axis, double from0,
      double from1, double to0, double to1, double snap_m)
{
  const double from_m[2] = { from0, from1 }, to_m[2] = { to0, to1 };
  DewHit hit = { part, view, name != NULL ? fixture_thing (scene->variant, name)->id : 0,
                 axis, -1,   { 0, 0, 0, 0 } };
  DewGuides guides;

  g_assert_true (
    dew_sheet_drag (scene->chamber, scene->variant, &hit, from_m, to_m, snap_m, &guides));
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
  drag (&scene, "Middle shelf", DEW_PART_BODY, DEW_VIEW_FRONT, 0, 0.3, 0.74, 0.3, 0.79, 0);
  g_assert_cmpfloat_with_epsilon (shelf->shelf.z_m, 0.79, 1e-9);
  /* What stands on it goes along. */
  g_assert_cmpfloat_with_epsilon (pot->pot.z_m - pot_was_m, 0.05, 1e-9);

  /* It does not pass its neighbours: the pots on it stop under the shelf at 1.10 m. */
  drag (&scene, "Middle shelf", DEW_PART_BODY, DEW_VIEW_FRONT, 0, 0.3, 0.79, 0.3, 1.5, 0);
  g_assert_cmpfloat_with_epsilon (shelf->shelf.z_m, 1.10 - pot->pot.height_m - 0.008, 1e-9);

  /* Equal bays pull: between 0.388 and 1.10 for a board of 8 mm. */
  drag (&scene, "Middle shelf", DEW_PART_BODY, DEW_VIEW_FRONT, 0, 0.3, shelf->shelf.z_m, 0.3, 0.741,
        0.01);
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
  drag (&scene, "Moss tray", DEW_PART_HI, DEW_VIEW_FRONT, 0, 0.50, 0.4, 0.56, 0.4, 0);
  g_assert_cmpfloat_with_epsilon (tray->tray.width_m, 0.46, 1e-9);
  g_assert_cmpfloat_with_epsilon (tray->tray.x_m, 0.33, 1e-9);

  /* An edge does not pass the other one, nor a wall. */
  flap = fixture_thing (scene.variant, "Low flap");
  drag (&scene, "Low flap", DEW_PART_LO, DEW_VIEW_FRONT, 0, 0.25, 0.08, 0.9, 0.08, 0);
  g_assert_cmpfloat (flap->opening.u0_m, <, flap->opening.u1_m);
  drag (&scene, "Low flap", DEW_PART_HI, DEW_VIEW_FRONT, 0, 0.45, 0.08, 5, 0.08, 0);
  {
    double inner[3];

    dew_chamber_inner_m (scene.chamber, inner);
    g_assert_cmpfloat_with_epsilon (flap->opening.u1_m, inner[0], 1e-9);
  }

  /* A shelf's edge is a gap to the wall. */
  shelf = fixture_thing (scene.variant, "Lower shelf");
  drag (&scene, "Lower shelf", DEW_PART_LO, DEW_VIEW_SIDE, 1, 0.03, 0.38, 0.08, 0.38, 0);
  g_assert_cmpfloat_with_epsilon (shelf->shelf.gap_front_m, 0.08, 1e-9);

  /* A pot grows up from its foot. */
  pot = fixture_thing (scene.variant, "Clay pot 1");
  drag (&scene, "Clay pot 1", DEW_PART_HI, DEW_VIEW_FRONT, 2, 0.12, 0.748 + pot->pot.height_m, 0.12,
        0.748 + 0.2, 0);
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
  drag (&scene, "Slow fan", DEW_PART_AIM, DEW_VIEW_FRONT, 0, 0.1, 0.2, 0.09, 0.30, 0.01);
  g_assert_cmpfloat_with_epsilon (fan->fan.elevation_rad, G_PI / 2, 1e-6);
  drag (&scene, "Slow fan", DEW_PART_AIM, DEW_VIEW_FRONT, 0, 0.1, 0.2, 0.19, 0.121, 0.01);
  g_assert_cmpfloat_with_epsilon (fan->fan.elevation_rad, 0, 1e-9); /* within 3 degrees of level */
  drag (&scene, "Slow fan", DEW_PART_AIM, DEW_VIEW_PLAN, 0, 0.1, 0.2, 0.09, 0.44, 0.01);
  g_assert_cmpfloat_with_epsilon (fan->fan.azimuth_rad, G_PI / 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (fan->fan.elevation_rad, 0, 1e-9);
  /* Aimed to the back, turned in the front view: straight at the pointer. */
  drag (&scene, "Slow fan", DEW_PART_AIM, DEW_VIEW_FRONT, 0, 0.1, 0.2, 0.09 + 0.1, 0.12 + 0.1, 0);
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
  drag (&scene, NULL, DEW_PART_WALL, DEW_VIEW_FRONT, 0, 0.7, 1, 0.783, 1, 0.01);
  g_assert_cmpfloat_with_epsilon (scene.chamber->outer_m[0], 0.785, 1e-9);
  /* The roof stops at what hangs below it, not inside it. */
  drag (&scene, NULL, DEW_PART_WALL, DEW_VIEW_FRONT, 2, 0.3, 1.6, 0.3, 0.2, 0);
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

/* --- dimensions ------------------------------------------------------------------------ */

static void
test_dimensions (void)
{
  DewHit bay = { .part = DEW_PART_DIMENSION, .axis = 2, .index = 0 };
  DewHit wide = { .part = DEW_PART_DIMENSION, .axis = 0, .index = -1 };
  double outer_m;
  Scene scene;

  scene_init (&scene);
  g_assert_cmpfloat_with_epsilon (dew_sheet_dimension (scene.chamber, scene.variant, &bay), 0.38,
                                  1e-9);
  g_assert_true (dew_sheet_set_dimension (scene.chamber, scene.variant, &bay, 0.45));
  g_assert_cmpfloat_with_epsilon (fixture_thing (scene.variant, "Lower shelf")->shelf.z_m, 0.45,
                                  1e-9);
  g_assert_cmpfloat_with_epsilon (dew_sheet_dimension (scene.chamber, scene.variant, &bay), 0.45,
                                  1e-9);

  /* The top bay moves the roof. */
  bay.index = 3;
  outer_m = scene.chamber->outer_m[2];
  {
    double was_m = dew_sheet_dimension (scene.chamber, scene.variant, &bay);

    g_assert_true (dew_sheet_set_dimension (scene.chamber, scene.variant, &bay, was_m + 0.1));
    g_assert_cmpfloat_with_epsilon (scene.chamber->outer_m[2], outer_m + 0.1, 1e-9);
  }

  g_assert_true (dew_sheet_set_dimension (scene.chamber, scene.variant, &wide, 0.9));
  g_assert_cmpfloat_with_epsilon (scene.chamber->outer_m[0], 0.9, 1e-9);
  /* Nonsense changes nothing; absurd sizes are held. */
  g_assert_false (dew_sheet_set_dimension (scene.chamber, scene.variant, &wide, NAN));
  g_assert_false (dew_sheet_set_dimension (scene.chamber, scene.variant, &wide, -1));
  g_assert_true (dew_sheet_set_dimension (scene.chamber, scene.variant, &wide, 1e6));
  g_assert_cmpfloat (scene.chamber->outer_m[0], <, 4.1);
  scene_clear (&scene);
}

/* --- whatever one does -------------------------------------------------------------------- */

static void
assert_sound (const Scene *scene, const char *what)
{
  g_autoptr (GArray) problems = dew_chamber_check (scene->chamber, scene->variant->id);

  for (guint i = 0; i < problems->len; i++)
    if (strstr (g_array_index (problems, DewProblem, i).message, "over each other") == NULL)
      g_error ("%s: %s", what, g_array_index (problems, DewProblem, i).message);
}

/* Everything can be dropped anywhere on any view and is then where it can be
 * forecast. */
static void
test_drop (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (20);

  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    for (int i = 0; i < 12; i++)
      {
        DewView view = i % DEW_N_VIEWS;
        double at_m[2];
        DewThing thing;
        Scene scene;

        scene_init (&scene);
        at_m[0] = g_rand_double_range (random, -0.1, 0.8);
        at_m[1] = g_rand_double_range (random, -0.1, 1.7);
        dew_thing_init (&thing, kind);
        g_strlcpy (thing.name, "New", sizeof thing.name);
        dew_sheet_drop (scene.chamber, scene.variant, &thing, view, at_m, i % 4);
        if (kind == DEW_THING_SHELF)
          {
            /* Two shelves at one height are the grower's to part: look at the
             * place only. */
            g_assert_cmpfloat (thing.shelf.z_m, >=, 0.05);
            g_assert_cmpfloat (thing.shelf.z_m, <, 1.6);
          }
        else
          {
            dew_variant_add (scene.chamber, scene.variant, &thing);
            assert_sound (&scene, dew_thing_kind_label (kind));
          }
        scene_clear (&scene);
      }
}

/* An enclosure with nothing but a low shelf and a zip in the middle of its front. */
static void
scene_with_zip (Scene *scene, guint *shelf_id, guint *zip_id)
{
  DewThing thing;

  scene_init (scene);
  g_array_set_size (scene->variant->things, 0);
  dew_thing_init (&thing, DEW_THING_SHELF);
  thing.shelf.z_m = 0.2;
  *shelf_id = dew_variant_add (scene->chamber, scene->variant, &thing)->id;
  dew_thing_init (&thing, DEW_THING_OPENING);
  thing.opening.kind = DEW_OPENING_ZIP;
  thing.opening.face = DEW_FACE_FRONT;
  thing.opening.open_fraction = 0;
  thing.opening.u0_m = 0.2;
  thing.opening.u1_m = scene->layout.inner_m[0] - 0.15;
  thing.opening.v0_m = 0.02;
  thing.opening.v1_m = scene->layout.inner_m[2] - 0.1;
  *zip_id = dew_variant_add (scene->chamber, scene->variant, &thing)->id;
}

/* What is dropped where another hole is, or under a shelf that is too low for it, finds
 * room: nothing is left that keeps the forecast from being made. */
static void
test_drop_makes_room (void)
{
  const double on_zip_m[2] = { 0.3, 0.1 }, low_m[2] = { 0.4, 0.05 };
  g_autoptr (GArray) problems = NULL;
  guint shelf_id, zip_id;
  DewThing flap, mister;
  Scene scene;

  scene_with_zip (&scene, &shelf_id, &zip_id);
  dew_thing_init (&flap, DEW_THING_OPENING);
  dew_sheet_drop (scene.chamber, scene.variant, &flap, DEW_VIEW_FRONT, on_zip_m, 0);
  g_assert_cmpint (flap.opening.face, ==, DEW_FACE_FRONT);
  g_assert_cmpfloat (flap.opening.u1_m, <=, 0.2 + 1e-9);
  g_assert_cmpfloat (flap.opening.u1_m - flap.opening.u0_m, >=, 0.05);
  dew_variant_add (scene.chamber, scene.variant, &flap);

  dew_thing_init (&mister, DEW_THING_HUMIDIFIER);
  g_assert_cmpfloat (mister.humidifier.height_m, >, 0.2);
  dew_sheet_drop (scene.chamber, scene.variant, &mister, DEW_VIEW_FRONT, low_m, 0);
  g_assert_cmpfloat (mister.humidifier.z_m, ==, 0);
  g_assert_cmpfloat (mister.humidifier.height_m, <, 0.2);
  g_assert_cmpfloat (mister.humidifier.height_m, >, 0.15);
  dew_variant_add (scene.chamber, scene.variant, &mister);

  problems = dew_chamber_check (scene.chamber, scene.variant->id);
  g_assert_cmpuint (problems->len, ==, 0);
  scene_clear (&scene);
}

/* A shut zip is its seam only: a shelf behind the film is grabbed through it. */
static void
test_zip_is_a_seam (void)
{
  guint shelf_id, zip_id;
  double seam_px[2], shelf_px[2];
  DewHit hit;
  Scene scene;

  scene_with_zip (&scene, &shelf_id, &zip_id);
  middle_px (&scene, dew_variant_thing (scene.variant, zip_id), DEW_VIEW_FRONT, seam_px);
  middle_px (&scene, dew_variant_thing (scene.variant, shelf_id), DEW_VIEW_FRONT, shelf_px);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, seam_px[0], seam_px[1], &hit));
  g_assert_cmpuint (hit.thing_id, ==, zip_id);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, seam_px[0] + 20, shelf_px[1], &hit));
  g_assert_cmpuint (hit.thing_id, ==, shelf_id);
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, seam_px[0] + 20, seam_px[1], &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_BAY);
  scene_clear (&scene);
}

/* A plant is taken hold of by its pot as well, which is drawn below its crown. */
static void
test_hit_pot_of_plant (void)
{
  guint shelf_id, zip_id, id;
  DewThing plant;
  DewHit hit;
  Scene scene;
  DewRect r;

  scene_with_zip (&scene, &shelf_id, &zip_id);
  dew_thing_init (&plant, DEW_THING_PLANT);
  plant.plant.x_m = 0.1;
  plant.plant.z_m = 0.206 + 0.08;
  id = dew_variant_add (scene.chamber, scene.variant, &plant)->id;
  g_assert_true (dew_sheet_thing_rect (&scene.sheet, &scene.layout, id, DEW_VIEW_FRONT, &r));
  g_assert_true (dew_sheet_hit (&scene.sheet, &scene.layout, r.x + r.width / 2,
                                r.y + r.height + 0.05 * scene.layout.scale_px_m, &hit));
  g_assert_cmpint (hit.part, ==, DEW_PART_BODY);
  g_assert_cmpuint (hit.thing_id, ==, id);
  scene_clear (&scene);
}

/* Wild drags of every part of everything leave a document that can still be
 * forecast; only holes in a face may be dragged over each other. */
static void
test_wild_drags (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (4711);

  for (int i = 0; i < 3000; i++)
    {
      static const DewPart parts[] = { DEW_PART_BODY, DEW_PART_LO, DEW_PART_HI, DEW_PART_AIM };
      g_autofree char *what = NULL;
      DewHandle handles[DEW_MAX_HANDLES];
      DewHit hit = { .part = parts[i % G_N_ELEMENTS (parts)], .index = -1 };
      double from_m[2], to_m[2];
      const DewThing *thing;
      DewGuides guides;
      Scene scene;
      guint n;

      scene_init (&scene);
      thing = &g_array_index (scene.variant->things, DewThing,
                              g_rand_int_range (random, 0, scene.variant->things->len));
      hit.thing_id = thing->id;
      hit.view = g_rand_int_range (random, 0, DEW_N_VIEWS);
      for (int k = 0; k < 2; k++)
        {
          from_m[k] = g_rand_double_range (random, 0, 1.6);
          to_m[k] = g_rand_double_range (random, -1, 3);
        }
      /* Only handles that are offered can be pulled. */
      if (hit.part != DEW_PART_BODY)
        {
          scene.sheet.plan_bay = i % 4;
          dew_sheet_layout (&scene.sheet, WIDTH, HEIGHT, &scene.layout);
          n = dew_sheet_handles (&scene.sheet, &scene.layout, hit.view, thing, handles);
          if (n > 0)
            {
              guint which = g_rand_int_range (random, 0, n);

              hit.part = handles[which].part;
              hit.axis = handles[which].axis;
              dew_layout_to_world (&scene.layout, hit.view, handles[which].at_px[0],
                                   handles[which].at_px[1], from_m);
            }
          else
            hit.part = DEW_PART_BODY;
        }
      what = g_strdup_printf ("drag %d of %s, part %d, view %d, axis %d, %.3f %.3f to %.3f %.3f", i,
                              thing->name, hit.part, hit.view, hit.axis, from_m[0], from_m[1],
                              to_m[0], to_m[1]);
      dew_sheet_drag (scene.chamber, scene.variant, &hit, from_m, to_m, i % 2 ? 0.01 : 0, &guides);
      g_assert_cmpuint (guides.n, <=, DEW_MAX_GUIDES);
      assert_sound (&scene, what);
      scene_clear (&scene);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/pointer/hit-things", test_hit_things);
  g_test_add_func ("/paint/pointer/hit-parts", test_hit_parts);
  g_test_add_func ("/paint/pointer/drag-bodies", test_drag_bodies);
  g_test_add_func ("/paint/pointer/drag-shelf", test_drag_shelf);
  g_test_add_func ("/paint/pointer/drag-edges", test_drag_edges);
  g_test_add_func ("/paint/pointer/drag-aim", test_drag_aim);
  g_test_add_func ("/paint/pointer/drag-wall", test_drag_wall);
  g_test_add_func ("/paint/pointer/snap", test_snap);
  g_test_add_func ("/paint/pointer/dimensions", test_dimensions);
  g_test_add_func ("/paint/pointer/drop", test_drop);
  g_test_add_func ("/paint/pointer/drop-makes-room", test_drop_makes_room);
  g_test_add_func ("/paint/pointer/zip-is-a-seam", test_zip_is_a_seam);
  g_test_add_func ("/paint/pointer/hit-pot-of-plant", test_hit_pot_of_plant);
  g_test_add_func ("/paint/pointer/wild-drags", test_wild_drags);
  return g_test_run ();
}
