/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/gesture.h"
#include "edit/place.h"
#include "edit/refuse.h"
#include "furnished.h"
#include "geometry/geometry.h"
#include "say/problems.h"

#include <math.h>
#include <string.h>

/* Where things go that are dropped, placed and moved by keys, and what numbers that are
 * typed over do. */

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

static void
test_dimensions (void)
{
  DewDimension bay = { 2, 0 }, wide = { 0, -1 };
  double outer_m;
  Scene scene;

  scene_init (&scene);
  g_assert_cmpfloat_with_epsilon (dew_chamber_dimension (scene.chamber, &bay), 0.38, 1e-9);
  g_assert_true (dew_chamber_set_dimension (scene.chamber, &bay, 0.45));
  g_assert_cmpfloat_with_epsilon (fixture_thing (scene.variant, "Lower shelf")->shelf.z_m, 0.45,
                                  1e-9);
  g_assert_cmpfloat_with_epsilon (dew_chamber_dimension (scene.chamber, &bay), 0.45, 1e-9);

  /* The top bay moves the roof. */
  bay.bay = 3;
  outer_m = scene.chamber->outer_m[2];
  {
    double was_m = dew_chamber_dimension (scene.chamber, &bay);

    g_assert_true (dew_chamber_set_dimension (scene.chamber, &bay, was_m + 0.1));
    g_assert_cmpfloat_with_epsilon (scene.chamber->outer_m[2], outer_m + 0.1, 1e-9);
  }

  g_assert_true (dew_chamber_set_dimension (scene.chamber, &wide, 0.9));
  g_assert_cmpfloat_with_epsilon (scene.chamber->outer_m[0], 0.9, 1e-9);
  /* Nonsense changes nothing; absurd sizes are held. */
  g_assert_false (dew_chamber_set_dimension (scene.chamber, &wide, NAN));
  g_assert_false (dew_chamber_set_dimension (scene.chamber, &wide, -1));
  g_assert_true (dew_chamber_set_dimension (scene.chamber, &wide, 1e6));
  g_assert_cmpfloat (scene.chamber->outer_m[0], <, 4.1);
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
        dew_thing_drop (scene.chamber, scene.variant, &thing, view, at_m, i % 4);
        if (kind == DEW_THING_SHELF)
          {
            /* Two shelves at one height are the grower's to part: look at the
             * place only. */
            g_assert_cmpfloat (thing.shelf.z_m, >=, DEW_BAY_MIN_M);
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
  double inner_m[3];
  DewThing thing;

  scene_init (scene);
  dew_chamber_inner_m (scene->chamber, inner_m);
  g_array_set_size (scene->variant->things, 0);
  dew_thing_init (&thing, DEW_THING_SHELF);
  thing.shelf.z_m = 0.2;
  *shelf_id = dew_variant_add (scene->chamber, scene->variant, &thing)->id;
  dew_thing_init (&thing, DEW_THING_OPENING);
  thing.opening.kind = DEW_OPENING_ZIP;
  thing.opening.face = DEW_FACE_FRONT;
  thing.opening.open_fraction = 0;
  thing.opening.u0_m = 0.2;
  thing.opening.u1_m = inner_m[0] - 0.15;
  thing.opening.v0_m = 0.02;
  thing.opening.v1_m = inner_m[2] - 0.1;
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
  dew_thing_drop (scene.chamber, scene.variant, &flap, DEW_VIEW_FRONT, on_zip_m, 0);
  g_assert_cmpint (flap.opening.face, ==, DEW_FACE_FRONT);
  g_assert_cmpfloat (flap.opening.u1_m, <=, 0.2 + 1e-9);
  g_assert_cmpfloat (flap.opening.u1_m - flap.opening.u0_m, >=, 0.05);
  dew_variant_add (scene.chamber, scene.variant, &flap);

  dew_thing_init (&mister, DEW_THING_HUMIDIFIER);
  g_assert_cmpfloat (mister.humidifier.height_m, >, 0.2);
  dew_thing_drop (scene.chamber, scene.variant, &mister, DEW_VIEW_FRONT, low_m, 0);
  g_assert_cmpfloat (mister.humidifier.z_m, ==, 0);
  g_assert_cmpfloat (mister.humidifier.height_m, <, 0.2);
  g_assert_cmpfloat (mister.humidifier.height_m, >, 0.15);
  dew_variant_add (scene.chamber, scene.variant, &mister);

  problems = dew_chamber_check (scene.chamber, scene.variant->id);
  g_assert_cmpuint (problems->len, ==, 0);
  scene_clear (&scene);
}

static void
test_place (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewVariant *variant = dew_chamber_shown (chamber);
  double inner_m[3];

  dew_chamber_inner_m (chamber, inner_m);
  for (DewThingKind kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      DewThing new_thing;
      double lo[3], hi[3];

      dew_thing_place (chamber, variant, kind, 0, &new_thing);
      dew_thing_box (chamber, &new_thing, lo, hi);
      g_test_message ("%s", new_thing.name);
      g_assert_cmpint (new_thing.kind, ==, kind);
      for (int axis = 0; axis < 3; axis++)
        {
          g_assert_cmpfloat (lo[axis], >=, -1e-9);
          g_assert_cmpfloat (hi[axis], <=, inner_m[axis] + 1e-9);
        }
      for (guint i = 0; i < variant->things->len; i++)
        g_assert_cmpstr (g_array_index (variant->things, DewThing, i).name, !=, new_thing.name);
    }
}

static void
test_nudge (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewVariant *variant = dew_chamber_shown (chamber);

  for (guint i = 0; i < variant->things->len; i++)
    {
      guint id = g_array_index (variant->things, DewThing, i).id;

      for (DewNudge way = DEW_NUDGE_LEFT; way <= DEW_NUDGE_BACK; way++)
        {
          double inner_m[3], lo[3], hi[3];

          /* However often the key is pressed, the thing stays inside. */
          for (int press = 0; press < 50; press++)
            dew_variant_nudge (chamber, variant, id, NULL, 0, way, 0.05);
          dew_chamber_inner_m (chamber, inner_m);
          dew_thing_box (chamber, dew_variant_thing (variant, id), lo, hi);
          for (int axis = 0; axis < 3; axis++)
            {
              g_assert_cmpfloat (lo[axis], >=, -1e-6);
              g_assert_cmpfloat (hi[axis], <=, inner_m[axis] + 1e-6);
            }
        }
    }
}

/* However a board is brought near the floor or the roof: what is dropped, dragged and typed
 * stops at the bay that the check still takes. */
static void
test_least_bay (void)
{
  const double floor_m[2] = { 0.3, 0.0 };
  const DewDimension lowest = { 2, 0 };
  DewDrag down = { .from_m = { 0.3, 0.5 }, .to_m = { 0.3, -1.0 } };
  DewDrag roof = { .grip = { DEW_GRIP_WALL, DEW_VIEW_FRONT, 0, 2 }, .from_m = { 0.3, 1.6 } };
  double inner_m[3];
  DewThing thing;
  DewShelf *shelf;
  Scene scene;

  scene_init (&scene);
  g_array_set_size (scene.variant->things, 0);
  dew_thing_init (&thing, DEW_THING_SHELF);
  dew_thing_drop (scene.chamber, scene.variant, &thing, DEW_VIEW_FRONT, floor_m, 0);
  g_assert_cmpfloat_with_epsilon (thing.shelf.z_m, DEW_BAY_MIN_M, 1e-9);

  thing.shelf.z_m = 0.5;
  down.grip.thing_id = dew_variant_add (scene.chamber, scene.variant, &thing)->id;
  shelf = &dew_variant_thing (scene.variant, down.grip.thing_id)->shelf;
  dew_chamber_drag (scene.chamber, &roof, NULL);
  dew_chamber_inner_m (scene.chamber, inner_m);
  g_assert_cmpfloat_with_epsilon (inner_m[2], 0.5 + shelf->thickness_m + DEW_BAY_MIN_M, 1e-9);
  assert_sound (&scene, "roof");
  g_assert_true (dew_chamber_set_dimension (scene.chamber, &lowest, DEW_BAY_MIN_M));
  g_assert_cmpfloat_with_epsilon (shelf->z_m, DEW_BAY_MIN_M, 1e-9);
  g_assert_false (dew_chamber_set_dimension (scene.chamber, &lowest, DEW_BAY_MIN_M / 2.0));
  shelf->z_m = 0.3;
  dew_chamber_drag (scene.chamber, &down, NULL);
  g_assert_cmpfloat_with_epsilon (shelf->z_m, DEW_BAY_MIN_M, 1e-9);
  assert_sound (&scene, "shelf");
  scene_clear (&scene);
}

/* What sits in a side wall takes left and right as forward and back, a fan like an
 * opening; straight through its wall nothing moves. */
static void
test_nudge_in_wall (void)
{
  DewThing thing;
  DewFan *fan;
  Scene scene;
  guint id;

  scene_init (&scene);
  dew_thing_init (&thing, DEW_THING_FAN);
  thing.fan.mount = DEW_FAN_IN_WALL;
  thing.fan.face = DEW_FACE_LEFT;
  thing.fan.x_m = 0.0;
  thing.fan.y_m = 0.2;
  thing.fan.z_m = 0.9;
  id = dew_variant_add (scene.chamber, scene.variant, &thing)->id;
  fan = &dew_variant_thing (scene.variant, id)->fan;
  g_assert_true (
    dew_variant_nudge (scene.chamber, scene.variant, id, NULL, 0, DEW_NUDGE_RIGHT, 0.05));
  g_assert_cmpfloat_with_epsilon (fan->y_m, 0.25, 1e-9);
  g_assert_cmpfloat (fan->x_m, ==, 0.0);
  id = fixture_thing (scene.variant, "Low flap")->id;
  g_assert_false (
    dew_variant_nudge (scene.chamber, scene.variant, id, NULL, 0, DEW_NUDGE_BACK, 0.05));
  scene_clear (&scene);
}

/* One key more than there is room for does nothing: the thing stays whole inside. */
static void
test_nudge_at_the_wall (void)
{
  DewThing *fan;
  double inner_m[3], lo[3], hi[3];
  Scene scene;

  scene_init (&scene);
  fan = fixture_thing (scene.variant, "Slow fan");
  dew_chamber_inner_m (scene.chamber, inner_m);
  fan->fan.x_m = inner_m[0] - fan->fan.diameter_m / 2.0 - 0.004;
  g_assert_true (
    dew_variant_nudge (scene.chamber, scene.variant, fan->id, NULL, 0, DEW_NUDGE_RIGHT, 0.05));
  dew_thing_box (scene.chamber, fan, lo, hi);
  g_assert_cmpfloat_with_epsilon (hi[0], inner_m[0], 1e-9);
  g_assert_false (
    dew_variant_nudge (scene.chamber, scene.variant, fan->id, NULL, 0, DEW_NUDGE_RIGHT, 0.05));
  dew_thing_box (scene.chamber, fan, lo, hi);
  g_assert_cmpfloat (hi[0], <=, inner_m[0] + 1e-9);
  scene_clear (&scene);
}

/* What a change breaks is refused, what was broken before is not; of several faults the
 * thing's own comes first. */
static void
test_refuse (void)
{
  g_autoptr (DewChamber) before = NULL;
  DewThing *lamp, *pot;
  DewProblem why;
  Scene scene;

  scene_init (&scene);
  before = dew_chamber_copy (scene.chamber);
  lamp = fixture_thing (scene.variant, "Top lamp");
  pot = fixture_thing (scene.variant, "Clay pot 1");
  g_assert_false (dew_change_is_refused (before, scene.chamber, pot->id, &why));
  lamp->lamp.z_m = 3.0;
  pot->pot.x_m = 2.0;
  g_assert_true (dew_change_is_refused (before, scene.chamber, pot->id, &why));
  g_assert_cmpuint (why.thing_id, ==, pot->id);
  g_assert_cmpstr (why.field, ==, "x_m");
  g_assert_true (dew_change_is_refused (before, scene.chamber, 0, &why));
  g_assert_cmpuint (why.thing_id, ==, lamp->id);
  g_assert_false (dew_change_is_refused (scene.chamber, scene.chamber, pot->id, &why));
  scene_clear (&scene);
}

/* What sticks out of the enclosure is moved in as far as it must, and no further; what is
 * larger than the enclosure stays. */
static void
test_move_in (void)
{
  const DewThing *fan;
  double lo[3], hi[3], y_m;
  g_autoptr (GArray) problems = NULL;
  Scene scene;
  DewThing *moved;

  scene_init (&scene);
  fan = fixture_thing (scene.variant, "Slow fan");
  moved = dew_variant_thing (scene.variant, fan->id);
  y_m = moved->fan.y_m;
  moved->fan.x_m = 3.0;
  g_assert_true (dew_variant_move_in (scene.chamber, scene.variant, fan->id));
  dew_thing_body (scene.chamber, moved, lo, hi);
  {
    double inner_m[3];

    dew_chamber_inner_m (scene.chamber, inner_m);
    g_assert_cmpfloat_with_epsilon (hi[0], inner_m[0], 1e-9);
  }
  g_assert_cmpfloat_with_epsilon (moved->fan.y_m, y_m, 1e-9);
  problems = dew_chamber_check (scene.chamber, scene.chamber->shown_variant);
  g_assert_cmpuint (problems->len, ==, 0);
  moved->fan.diameter_m = 4.0;
  g_assert_false (dew_variant_move_in (scene.chamber, scene.variant, fan->id));
  scene_clear (&scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/edit/place/dimensions", test_dimensions);
  g_test_add_func ("/edit/place/drop", test_drop);
  g_test_add_func ("/edit/place/drop-makes-room", test_drop_makes_room);
  g_test_add_func ("/edit/place/move-in", test_move_in);
  g_test_add_func ("/edit/place/new", test_place);
  g_test_add_func ("/edit/place/nudge", test_nudge);
  g_test_add_func ("/edit/place/refuse", test_refuse);
  g_test_add_func ("/edit/place/least-bay", test_least_bay);
  g_test_add_func ("/edit/place/nudge-in-wall", test_nudge_in_wall);
  g_test_add_func ("/edit/place/nudge-at-the-wall", test_nudge_at_the_wall);
  return g_test_run ();
}
