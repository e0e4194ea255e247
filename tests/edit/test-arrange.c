/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/arrange.h"
#include "edit/edit-private.h"
#include "../chamber/random-chamber.h"
#include "say/problems.h"

#include <math.h>
#include <string.h>

/* Lining up, spreading, moving and copying several things. The expected places are
 * worked out by hand; what holds for any set is tried on random documents. */

#define EPSILON_M 1e-9

/* 1 x 0.6 x 1.5 m inside, a wire shelf at 0.5 m (top at 0.51). */
static DewChamber *
box_new (guint *shelf)
{
  DewChamber *chamber = dew_chamber_new ();
  DewThing thing;

  for (int face = 0; face < DEW_N_FACES; face++)
    chamber->panels[face].thickness_m = 0.0;
  chamber->outer_m[0] = 1.0;
  chamber->outer_m[1] = 0.6;
  chamber->outer_m[2] = 1.5;
  dew_thing_init (&thing, DEW_THING_SHELF);
  thing.shelf.z_m = 0.5;
  thing.shelf.thickness_m = 0.01;
  *shelf = dew_variant_add (chamber, dew_chamber_shown (chamber), &thing)->id;
  return chamber;
}

static guint
add_pot (DewChamber *chamber, double x_m, double y_m, double z_m, double width_m)
{
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_POT);
  thing.pot.x_m = x_m;
  thing.pot.y_m = y_m;
  thing.pot.z_m = z_m;
  thing.pot.rim_diameter_m = width_m;
  thing.pot.height_m = 0.1;
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing)->id;
}

static const DewPot *
pot (const DewChamber *chamber, guint id)
{
  return &dew_variant_thing (dew_chamber_shown (chamber), id)->pot;
}

static void
assert_near (double is, double wanted)
{
  g_assert_cmpfloat_with_epsilon (is, wanted, EPSILON_M);
}

static void
test_align (void)
{
  guint shelf;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  DewVariant *variant = dew_chamber_shown (chamber);
  const guint ids[]
    = { add_pot (chamber, 0.20, 0.10, 0.0, 0.10), add_pot (chamber, 0.50, 0.30, 0.0, 0.20),
        add_pot (chamber, 0.80, 0.50, 0.51, 0.06) };

  /* Left edges at 0.15, 0.40, 0.77. */
  g_assert_true (dew_variant_align (chamber, variant, ids, 3, 0, DEW_EDGE_LOW, NULL));
  assert_near (pot (chamber, ids[0])->x_m, 0.20);
  assert_near (pot (chamber, ids[1])->x_m, 0.25);
  assert_near (pot (chamber, ids[2])->x_m, 0.18);
  assert_near (pot (chamber, ids[1])->y_m, 0.30);
  /* Backs at 0.15, 0.40, 0.53. */
  g_assert_true (dew_variant_align (chamber, variant, ids, 3, 1, DEW_EDGE_HIGH, NULL));
  assert_near (pot (chamber, ids[0])->y_m, 0.48);
  assert_near (pot (chamber, ids[1])->y_m, 0.43);
  assert_near (pot (chamber, ids[2])->y_m, 0.50);
  /* The set reaches from 0.15 to 0.35. */
  g_assert_true (dew_variant_align (chamber, variant, ids, 3, 0, DEW_EDGE_MIDDLE, NULL));
  for (int i = 0; i < 3; i++)
    assert_near (pot (chamber, ids[i])->x_m, 0.25);
  /* Tops at 0.1, 0.1, 0.61. */
  g_assert_true (dew_variant_align (chamber, variant, ids, 3, 2, DEW_EDGE_HIGH, NULL));
  for (int i = 0; i < 3; i++)
    assert_near (pot (chamber, ids[i])->z_m, 0.51);
}

/* A shelf takes along what stands on it, a thing in a wall stays in its face. */
static void
test_align_where_they_can (void)
{
  guint shelf;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  DewVariant *variant = dew_chamber_shown (chamber);
  g_autoptr (GError) error = NULL;
  DewThing thing;
  guint standing = add_pot (chamber, 0.3, 0.3, 0.51, 0.1);
  guint below = add_pot (chamber, 0.6, 0.3, 0.0, 0.1);
  guint second, hole;

  dew_thing_init (&thing, DEW_THING_SHELF);
  thing.shelf.z_m = 1.0;
  thing.shelf.thickness_m = 0.01;
  second = dew_variant_add (chamber, variant, &thing)->id;
  dew_thing_init (&thing, DEW_THING_OPENING);
  thing.opening.face = DEW_FACE_FRONT;
  hole = dew_variant_add (chamber, variant, &thing)->id;

  /* Across, only one of these can move. */
  g_assert_false (dew_variant_align (chamber, variant, (guint[]){ shelf, second, below }, 3, 0,
                                     DEW_EDGE_LOW, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED);
  g_clear_error (&error);
  g_assert_false (
    dew_variant_align (chamber, variant, (guint[]){ hole, below }, 2, 1, DEW_EDGE_LOW, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED);
  g_clear_error (&error);

  /* The opening reaches from 0.1 to 0.3, the pot from 0.55. */
  g_assert_true (
    dew_variant_align (chamber, variant, (guint[]){ hole, below }, 2, 0, DEW_EDGE_LOW, &error));
  assert_near (pot (chamber, below)->x_m, 0.15);

  /* The lower shelf down to a pot's foot at 0: its pot goes with it, also when it is
   * among the chosen. */
  g_assert_true (
    dew_variant_align (chamber, variant, (guint[]){ shelf, below }, 2, 2, DEW_EDGE_LOW, &error));
  assert_near (dew_variant_thing (variant, shelf)->shelf.z_m, 0.0);
  assert_near (pot (chamber, standing)->z_m, 0.01);
  g_assert_true (dew_variant_align (chamber, variant, (guint[]){ standing, second, shelf }, 3, 2,
                                    DEW_EDGE_HIGH, &error));
  assert_near (dew_variant_thing (variant, shelf)->shelf.z_m, 1.0);
  assert_near (pot (chamber, standing)->z_m, 1.01 - 0.1);
}

static void
test_distribute (void)
{
  guint shelf;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  DewVariant *variant = dew_chamber_shown (chamber);
  g_autoptr (GError) error = NULL;
  const guint ids[]
    = { add_pot (chamber, 0.85, 0.3, 0.0, 0.10), add_pot (chamber, 0.30, 0.3, 0.0, 0.20),
        add_pot (chamber, 0.10, 0.3, 0.0, 0.10), add_pot (chamber, 0.35, 0.3, 0.0, 0.10) };

  /* From 0.05 to 0.90 less 0.5 of pots: gaps of 0.35 / 3. */
  g_assert_true (dew_variant_distribute (chamber, variant, ids, 4, 0, &error));
  assert_near (pot (chamber, ids[2])->x_m, 0.10);
  assert_near (pot (chamber, ids[1])->x_m, 0.15 + 0.35 / 3.0 + 0.10);
  assert_near (pot (chamber, ids[3])->x_m, 0.15 + 0.35 / 3.0 + 0.20 + 0.35 / 3.0 + 0.05);
  assert_near (pot (chamber, ids[0])->x_m, 0.85);

  g_assert_false (dew_variant_distribute (chamber, variant, ids, 2, 0, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED);
  g_clear_error (&error);
  /* The same one three times is one. */
  g_assert_false (dew_variant_distribute (chamber, variant,
                                          (guint[]){ ids[0], ids[0], ids[0], 9999 }, 4, 0, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED);
  g_clear_error (&error);
  /* All at one place: no room between. */
  g_assert_true (dew_variant_align (chamber, variant, ids, 4, 0, DEW_EDGE_MIDDLE, &error));
  g_assert_false (dew_variant_distribute (chamber, variant, ids, 4, 0, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED);
}

/* Shifts a set as a drag of `lead` does. */
static void
shift_set (DewChamber *chamber, guint lead, const guint *ids, guint n, double x_m, double y_m,
           double z_m)
{
  DewVariant *variant = dew_chamber_shown (chamber);
  g_autoptr (GArray) set = dew_set_ids (variant, ids, n);

  dew_set_shift (chamber, variant, set, dew_variant_thing (variant, lead),
                 (double[]){ x_m, y_m, z_m });
}

static void
test_shift_set (void)
{
  guint shelf;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  DewVariant *variant = dew_chamber_shown (chamber);
  const guint ids[]
    = { add_pot (chamber, 0.2, 0.1, 0.51, 0.1), add_pot (chamber, 0.6, 0.3, 0.51, 0.1), shelf };

  /* 0.35 to the right is what the right one has; 0.25 to the back. What stands goes up to
   * a board or not at all. */
  shift_set (chamber, ids[0], ids, 2, 0.9, 0.9, 0.1);
  assert_near (pot (chamber, ids[0])->x_m, 0.55);
  assert_near (pot (chamber, ids[1])->x_m, 0.95);
  assert_near (pot (chamber, ids[0])->y_m, 0.35);
  assert_near (pot (chamber, ids[1])->z_m, 0.51);
  assert_near (dew_variant_thing (variant, shelf)->shelf.z_m, 0.5);

  /* Shelf and pots together move once, whoever rides on whom. */
  shift_set (chamber, shelf, ids, 3, -0.1, 0.0, 0.2);
  assert_near (pot (chamber, ids[0])->z_m, 0.71);
  assert_near (pot (chamber, ids[0])->x_m, 0.45);
  assert_near (dew_variant_thing (variant, shelf)->shelf.z_m, 0.7);

  /* A pot that is not in the set rides along. */
  shift_set (chamber, shelf, ids + 1, 2, 0.0, 0.0, -0.1);
  assert_near (pot (chamber, ids[0])->z_m, 0.61);
  assert_near (pot (chamber, ids[1])->z_m, 0.61);
}

/* Two boards that go up by as much as they are apart: what stands on the lower one is then
 * where the upper one was, and must not be lifted with that one again. A fan in a wall
 * stays in it, and keeps nobody else. */
static void
test_shift_once (void)
{
  guint shelf;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  DewVariant *variant = dew_chamber_shown (chamber);
  guint low_pot = add_pot (chamber, 0.2, 0.1, 0.51, 0.1), fan, ids[2];
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_SHELF);
  thing.shelf.z_m = 0.8;
  thing.shelf.thickness_m = 0.01;
  ids[0] = shelf;
  ids[1] = dew_variant_add (chamber, variant, &thing)->id;
  shift_set (chamber, ids[1], ids, 2, 0.0, 0.0, 0.3);
  assert_near (dew_variant_thing (variant, shelf)->shelf.z_m, 0.8);
  assert_near (dew_variant_thing (variant, ids[1])->shelf.z_m, 1.1);
  assert_near (pot (chamber, low_pot)->z_m, 0.81);

  dew_thing_init (&thing, DEW_THING_FAN);
  thing.fan.mount = DEW_FAN_IN_WALL;
  thing.fan.face = DEW_FACE_LEFT;
  thing.fan.y_m = 0.3;
  thing.fan.z_m = 1.2;
  fan = dew_variant_add (chamber, variant, &thing)->id;
  ids[0] = low_pot;
  ids[1] = fan;
  shift_set (chamber, low_pot, ids, 2, -0.1, 0.0, 0.0);
  assert_near (pot (chamber, low_pot)->x_m, 0.1);
  assert_near (dew_variant_thing (variant, fan)->fan.x_m, thing.fan.x_m);
}

/* In any document: the set keeps its shape, nothing leaves that was inside, and the
 * rest stays, but for what rides on shelves. */
static void
test_shift_any_set (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (7);

  for (int round = 0; round < 300; round++)
    {
      g_autoptr (DewChamber) chamber = random_chamber (random);
      g_autoptr (DewChamber) before = dew_chamber_copy (chamber);
      DewVariant *variant = dew_chamber_shown (chamber);
      const DewVariant *old = dew_chamber_shown (before);
      guint n = variant->things->len, lead = 0;
      g_autofree guint *ids = g_new0 (guint, n + 1);
      double d[3], done[3] = { 0.0, 0.0, 0.0 }, inner[3];

      dew_chamber_inner_m (chamber, inner);
      for (guint i = 0; i < n; i++)
        {
          ids[i] = g_rand_boolean (random) ? g_array_index (variant->things, DewThing, i).id : 0;
          lead = ids[i] != 0 ? ids[i] : lead;
        }
      for (int axis = 0; axis < 3; axis++)
        d[axis] = g_rand_double_range (random, -2.0, 2.0);
      if (lead == 0)
        continue;
      shift_set (chamber, lead, ids, n, d[0], d[1], d[2]);
      for (guint i = 0; i < n; i++)
        {
          const DewThing *thing = &g_array_index (variant->things, DewThing, i);
          const DewThing *was = &g_array_index (old->things, DewThing, i);
          double lo[3], hi[3], old_lo[3], old_hi[3];

          dew_thing_box (chamber, thing, lo, hi);
          dew_thing_box (before, was, old_lo, old_hi);
          for (int axis = 0; axis < 3; axis++)
            {
              double moved = lo[axis] - old_lo[axis];

              /* What stands goes by boards, all else by one way. */
              if (fabs (moved) > 1e-9 && (axis < 2 || !dew_stands (thing->kind)))
                {
                  if (done[axis] == 0.0)
                    done[axis] = moved;
                  g_assert_cmpfloat_with_epsilon (moved, done[axis], 1e-9);
                  g_assert_cmpfloat (fabs (moved), <=, fabs (d[axis]) + 1e-9);
                }
              if (ids[i] == 0)
                g_assert_true (axis == 2 || fabs (moved) < 1e-9);
              else if (axis < 2
                       || (!dew_stands (thing->kind)
                           && !dew_stands (dew_variant_thing (old, lead)->kind)))
                {
                  g_assert_true (lo[axis] >= MIN (0.0, old_lo[axis]) - 1e-9);
                  g_assert_true (hi[axis] <= MAX (inner[axis], old_hi[axis]) + 1e-9);
                }
            }
        }
    }
}

static gboolean
boxes_overlap (const DewChamber *chamber, guint one, guint other)
{
  const DewVariant *variant = dew_chamber_shown (chamber);
  double lo[2][3], hi[2][3];

  dew_thing_box (chamber, dew_variant_thing (variant, one), lo[0], hi[0]);
  dew_thing_box (chamber, dew_variant_thing (variant, other), lo[1], hi[1]);
  for (int axis = 0; axis < 3; axis++)
    if (lo[0][axis] >= hi[1][axis] - 1e-9 || lo[1][axis] >= hi[0][axis] - 1e-9)
      return FALSE;
  return TRUE;
}

static void
test_duplicate (void)
{
  guint shelf;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  DewVariant *variant = dew_chamber_shown (chamber);
  g_autoptr (GArray) copies = NULL;
  g_autoptr (GArray) problems = NULL;
  g_autoptr (GError) error = NULL;
  guint id = add_pot (chamber, 0.30, 0.30, 0.51, 0.10);
  guint next;

  g_strlcpy (dew_variant_thing (variant, id)->name, "Clay pot 3", DEW_NAME_SIZE);
  copies = dew_variant_duplicate (chamber, variant, &id, 1, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (copies->len, ==, 1);
  next = g_array_index (copies, guint, 0);
  g_assert_cmpuint (next, !=, id);
  g_assert_cmpstr (dew_variant_thing (variant, next)->name, ==, "Clay pot 4");
  /* To the right, on the same shelf, as near as there is room. */
  assert_near (pot (chamber, next)->z_m, 0.51);
  assert_near (pot (chamber, next)->y_m, 0.30);
  assert_near (pot (chamber, next)->x_m, 0.41);
  assert_near (pot (chamber, id)->x_m, 0.30);

  /* Twenty more: none over another, all where they may be. */
  for (int i = 0; i < 20; i++)
    {
      g_array_unref (copies);
      copies = dew_variant_duplicate (chamber, variant, &id, 1, &error);
      g_assert_no_error (error);
    }
  problems = dew_chamber_check (chamber, variant->id);
  g_assert_cmpuint (problems->len, ==, 0);
  for (guint i = 0; i < variant->things->len; i++)
    for (guint k = 0; k < i; k++)
      {
        const DewThing *a = &g_array_index (variant->things, DewThing, i);
        const DewThing *b = &g_array_index (variant->things, DewThing, k);

        g_assert_false (boxes_overlap (chamber, a->id, b->id));
        g_assert_cmpstr (a->name, !=, b->name);
      }
  g_assert_null (dew_variant_duplicate (chamber, variant, NULL, 0, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED);
}

/* A shelf with what stands on it goes to where there is room for both. */
static void
test_duplicate_shelf (void)
{
  guint shelf;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  DewVariant *variant = dew_chamber_shown (chamber);
  guint standing = add_pot (chamber, 0.3, 0.3, 0.51, 0.1);
  g_autoptr (GArray) copies
    = dew_variant_duplicate (chamber, variant, (guint[]){ standing, shelf }, 2, NULL);
  g_autoptr (GArray) problems = dew_chamber_check (chamber, variant->id);
  const DewThing *copy;

  g_assert_cmpuint (copies->len, ==, 2);
  g_assert_cmpuint (problems->len, ==, 0);
  copy = dew_variant_thing (variant, g_array_index (copies, guint, 0));
  g_assert_cmpint (copy->kind, ==, DEW_THING_SHELF);
  assert_near (pot (chamber, g_array_index (copies, guint, 1))->z_m, copy->shelf.z_m + 0.01);
  assert_near (pot (chamber, standing)->z_m, 0.51);
}

static guint
add_humidistat (DewChamber *chamber, guint *instrument)
{
  DewVariant *variant = dew_chamber_shown (chamber);
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_INSTRUMENT);
  thing.instrument.x_m = 0.8;
  *instrument = dew_variant_add (chamber, variant, &thing)->id;
  dew_thing_init (&thing, DEW_THING_HUMIDIFIER);
  thing.humidifier.set_rh = 0.8;
  thing.humidifier.sensor_id = (int) *instrument;
  return dew_variant_add (chamber, variant, &thing)->id;
}

static void
test_duplicate_links (void)
{
  guint shelf, instrument;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  DewVariant *variant = dew_chamber_shown (chamber);
  guint humidifier = add_humidistat (chamber, &instrument);
  g_autoptr (GArray) both
    = dew_variant_duplicate (chamber, variant, (guint[]){ humidifier, instrument }, 2, NULL);
  g_autoptr (GArray) alone = dew_variant_duplicate (chamber, variant, &humidifier, 1, NULL);

  /* In drawing order: the instrument first. */
  g_assert_cmpint (
    dew_variant_thing (variant, g_array_index (both, guint, 1))->humidifier.sensor_id, ==,
    (int) g_array_index (both, guint, 0));
  g_assert_cmpint (
    dew_variant_thing (variant, g_array_index (alone, guint, 0))->humidifier.sensor_id, ==,
    (int) instrument);
  g_assert_cmpint (dew_variant_thing (variant, humidifier)->humidifier.sensor_id, ==,
                   (int) instrument);
}

/* Into another document: where they were, when that is free; no link to a stranger. */
static void
test_insert (void)
{
  guint shelf, other_shelf, instrument;
  g_autoptr (DewChamber) chamber = box_new (&shelf);
  g_autoptr (DewChamber) other = box_new (&other_shelf);
  g_autoptr (GArray) things = g_array_new (FALSE, FALSE, sizeof (DewThing));
  g_autoptr (GArray) first = NULL;
  g_autoptr (GArray) second = NULL;
  DewVariant *to = dew_chamber_shown (other);
  guint humidifier = add_humidistat (chamber, &instrument);

  g_array_append_val (things, *dew_variant_thing (dew_chamber_shown (chamber), humidifier));
  first = dew_variant_insert (other, to, things, NULL);
  g_assert_cmpuint (first->len, ==, 1);
  assert_near (dew_variant_thing (to, g_array_index (first, guint, 0))->humidifier.x_m, 0.2);
  g_assert_cmpint (dew_variant_thing (to, g_array_index (first, guint, 0))->humidifier.sensor_id,
                   ==, 0);
  /* The second time that is taken. */
  second = dew_variant_insert (other, to, things, NULL);
  g_assert_false (
    boxes_overlap (other, g_array_index (first, guint, 0), g_array_index (second, guint, 0)));
}

/* Copies of anything in any document stay valid, keep their shape and get names and
 * ids of their own. */
static void
test_duplicate_anything (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (9);

  for (int round = 0; round < 60; round++)
    {
      g_autoptr (DewChamber) chamber = random_chamber (random);
      DewVariant *variant = dew_chamber_shown (chamber);
      guint n = variant->things->len, n_chosen = 0;
      g_autofree guint *ids = g_new0 (guint, n + 1);
      g_autoptr (GArray) copies = NULL;
      g_autoptr (GError) error = NULL;

      for (guint i = 0; i < n; i++)
        if (g_rand_boolean (random))
          ids[n_chosen++] = g_array_index (variant->things, DewThing, i).id;
      copies = dew_variant_duplicate (chamber, variant, ids, n_chosen, &error);
      if (n_chosen == 0)
        {
          g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED);
          continue;
        }
      g_assert_cmpuint (copies->len, ==, n_chosen);
      g_assert_cmpuint (variant->things->len, ==, n + n_chosen);
      for (guint i = 0; i < n_chosen; i++)
        {
          const DewThing *copy = dew_variant_thing (variant, g_array_index (copies, guint, i));
          const DewThing *was = dew_variant_thing (variant, ids[i]);

          g_assert_cmpint (copy->kind, ==, was->kind);
          g_assert_true (g_utf8_validate (copy->name, -1, NULL));
          for (guint k = 0; k < variant->things->len; k++)
            {
              const DewThing *thing = &g_array_index (variant->things, DewThing, k);

              g_assert_true (thing == copy || strcmp (thing->name, copy->name) != 0);
            }
        }
      dew_chamber_validate (chamber, &error);
      g_assert_no_error (error);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/arrange/align", test_align);
  g_test_add_func ("/arrange/align-where-they-can", test_align_where_they_can);
  g_test_add_func ("/arrange/distribute", test_distribute);
  g_test_add_func ("/arrange/shift-set", test_shift_set);
  g_test_add_func ("/arrange/shift-once", test_shift_once);
  g_test_add_func ("/arrange/shift-any-set", test_shift_any_set);
  g_test_add_func ("/arrange/duplicate", test_duplicate);
  g_test_add_func ("/arrange/duplicate-shelf", test_duplicate_shelf);
  g_test_add_func ("/arrange/duplicate-links", test_duplicate_links);
  g_test_add_func ("/arrange/insert", test_insert);
  g_test_add_func ("/arrange/duplicate-anything", test_duplicate_anything);
  return g_test_run ();
}
