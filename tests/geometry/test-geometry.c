/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/geometry.h"

#include <math.h>

/* Where things are. The expected figures are worked out by hand on a box of
 * 1 x 0.6 x 2 m; the rules are the promises of core/geometry/geometry.h. */

#define EPSILON_M 1e-12

static DewChamber *
box_new (void)
{
  DewChamber *chamber = dew_chamber_new ();

  for (int face = 0; face < DEW_N_FACES; face++)
    chamber->panels[face].thickness_m = 0.0;
  chamber->outer_m[0] = 1.0;
  chamber->outer_m[1] = 0.6;
  chamber->outer_m[2] = 2.0;
  return chamber;
}

static DewThing *
add (DewChamber *chamber, DewThingKind kind)
{
  DewThing thing;

  dew_thing_init (&thing, kind);
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
}

/* A shelf with its underside at z_m, 1 cm thick and without gaps; its id. */
static guint
add_shelf (DewChamber *chamber, double z_m)
{
  DewThing *thing = add (chamber, DEW_THING_SHELF);

  thing->shelf = (DewShelf){ .z_m = z_m, .thickness_m = 0.01, .open_ratio = 0.8 };
  return thing->id;
}

/* A pot of 0.1 x 0.1 x 0.1 m at (x_m, 0.3, z_m); its id. */
static guint
add_pot (DewChamber *chamber, double x_m, double z_m)
{
  DewThing *thing = add (chamber, DEW_THING_POT);

  thing->pot.x_m = x_m;
  thing->pot.y_m = 0.3;
  thing->pot.z_m = z_m;
  thing->pot.rim_diameter_m = 0.1;
  thing->pot.height_m = 0.1;
  return thing->id;
}

static const DewThing *
thing_of (const DewChamber *chamber, guint id)
{
  return dew_variant_thing (dew_chamber_shown (chamber), id);
}

static void
assert_vector (const double got[3], double x, double y, double z)
{
  g_assert_cmpfloat_with_epsilon (got[0], x, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (got[1], y, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (got[2], z, EPSILON_M);
}

static void
assert_box (const double lo[3], const double hi[3], double x0, double y0, double z0, double x1,
            double y1, double z1)
{
  assert_vector (lo, x0, y0, z0);
  assert_vector (hi, x1, y1, z1);
}

/* --- faces, aims and views --------------------------------------------- */

static void
test_faces (void)
{
  static const struct
  {
    DewFace face;
    int axis, u, v;
    gboolean high;
    double at_m;
  } rows[] = {
    { DEW_FACE_LEFT, 0, 1, 2, FALSE, 0.0 },  { DEW_FACE_RIGHT, 0, 1, 2, TRUE, 1.0 },
    { DEW_FACE_FRONT, 1, 0, 2, FALSE, 0.0 }, { DEW_FACE_BACK, 1, 0, 2, TRUE, 0.6 },
    { DEW_FACE_FLOOR, 2, 0, 1, FALSE, 0.0 }, { DEW_FACE_ROOF, 2, 0, 1, TRUE, 2.0 },
  };
  const double inner_m[3] = { 1.0, 0.6, 2.0 };

  g_assert_cmpint (G_N_ELEMENTS (rows), ==, DEW_N_FACES);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      int u, v;

      g_assert_cmpint (dew_face_axis (rows[i].face), ==, rows[i].axis);
      g_assert_cmpint (dew_face_is_high (rows[i].face), ==, rows[i].high);
      g_assert_cmpint (dew_face_of (rows[i].axis, rows[i].high), ==, rows[i].face);
      g_assert_cmpfloat (dew_face_at_m (rows[i].face, inner_m), ==, rows[i].at_m);
      dew_face_axes (rows[i].face, &u, &v);
      g_assert_cmpint (u, ==, rows[i].u);
      g_assert_cmpint (v, ==, rows[i].v);
    }
}

static void
test_aims (void)
{
  DewThing thing;
  double aim[3];

  dew_direction (0.0, 0.0, aim);
  assert_vector (aim, 1.0, 0.0, 0.0);
  dew_direction (G_PI / 2, 0.0, aim);
  assert_vector (aim, 0.0, 1.0, 0.0);
  dew_direction (G_PI, G_PI / 2, aim);
  assert_vector (aim, 0.0, 0.0, 1.0);
  dew_direction (G_PI, -G_PI / 4, aim);
  assert_vector (aim, -sqrt (0.5), 0.0, -sqrt (0.5));

  dew_thing_init (&thing, DEW_THING_FAN);
  thing.fan.azimuth_rad = -G_PI / 2;
  thing.fan.elevation_rad = 0.0;
  dew_aim_vector (&thing, aim);
  assert_vector (aim, 0.0, -1.0, 0.0);
  g_assert_true (dew_thing_has_aim (&thing));

  /* In the wall: straight through it, whatever the aim says. */
  thing.fan.mount = DEW_FAN_IN_WALL;
  thing.fan.face = DEW_FACE_LEFT;
  thing.fan.sense = DEW_BLOWS_IN;
  dew_aim_vector (&thing, aim);
  assert_vector (aim, 1.0, 0.0, 0.0);
  thing.fan.face = DEW_FACE_ROOF;
  dew_aim_vector (&thing, aim);
  assert_vector (aim, 0.0, 0.0, -1.0);
  thing.fan.sense = DEW_BLOWS_OUT;
  dew_fan_aim (&thing.fan, aim);
  assert_vector (aim, 0.0, 0.0, 1.0);
  g_assert_false (dew_thing_has_aim (&thing));

  dew_thing_init (&thing, DEW_THING_HUMIDIFIER);
  thing.humidifier.azimuth_rad = 0.0;
  thing.humidifier.elevation_rad = G_PI / 2;
  dew_aim_vector (&thing, aim);
  assert_vector (aim, 0.0, 0.0, 1.0);
  g_assert_true (dew_thing_has_aim (&thing));

  dew_thing_init (&thing, DEW_THING_LAMP);
  g_assert_false (dew_thing_has_aim (&thing));
}

static void
test_views (void)
{
  for (DewView view = 0; view < DEW_N_VIEWS; view++)
    {
      int across = dew_view_across (view), up = dew_view_up (view), depth = dew_view_depth (view);

      /* Each axis once. */
      g_assert_cmpint (across + up + depth, ==, 3);
      g_assert_cmpint (across, !=, up);
      g_assert_cmpint (up, !=, depth);
      g_assert_false (dew_face_edge_on (dew_face_of (depth, TRUE), view));
      g_assert_true (dew_face_edge_on (dew_face_of (across, TRUE), view));
      g_assert_true (dew_face_edge_on (dew_face_of (up, FALSE), view));
    }
  g_assert_cmpint (dew_view_nearer (DEW_VIEW_FRONT), ==, -1);
  g_assert_cmpint (dew_view_nearer (DEW_VIEW_SIDE), ==, 1);
  g_assert_cmpint (dew_view_nearer (DEW_VIEW_PLAN), ==, 1);
}

/* --- boxes ------------------------------------------------------------- */

static void
test_boxes (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  DewThing thing;
  double lo[3], hi[3];

  dew_thing_init (&thing, DEW_THING_OPENING);
  thing.opening.face = DEW_FACE_RIGHT;
  thing.opening.u0_m = 0.2;
  thing.opening.u1_m = 0.4;
  thing.opening.v0_m = 1.5;
  thing.opening.v1_m = 1.75;
  dew_thing_box (chamber, &thing, lo, hi);
  assert_box (lo, hi, 1.0, 0.2, 1.5, 1.0, 0.4, 1.75);
  thing.opening.face = DEW_FACE_ROOF;
  thing.opening.v0_m = 0.1;
  thing.opening.v1_m = 0.3;
  dew_thing_box (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.2, 0.1, 2.0, 0.4, 0.3, 2.0);

  dew_thing_init (&thing, DEW_THING_SHELF);
  thing.shelf = (DewShelf){ .z_m = 0.5,
                            .thickness_m = 0.01,
                            .gap_left_m = 0.1,
                            .gap_right_m = 0.2,
                            .gap_front_m = 0.05,
                            .gap_back_m = 0.15 };
  dew_thing_box (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.1, 0.05, 0.5, 0.8, 0.45, 0.51);

  dew_thing_init (&thing, DEW_THING_POT);
  thing.pot
    = (DewPot){ .x_m = 0.5, .y_m = 0.3, .z_m = 0.51, .rim_diameter_m = 0.2, .height_m = 0.15 };
  dew_thing_box (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.4, 0.2, 0.51, 0.6, 0.4, 0.66);

  dew_thing_init (&thing, DEW_THING_INSTRUMENT);
  thing.instrument = (DewInstrument){ 0.5, 0.3, 1.0 };
  dew_thing_box (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.48, 0.28, 0.98, 0.52, 0.32, 1.02);
  dew_thing_body (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.5, 0.3, 1.0, 0.5, 0.3, 1.0);
}

/* The cube round the disc, and the disc itself: flat the way it blows. */
static void
test_fan_boxes (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  DewThing thing;
  double lo[3], hi[3];

  dew_thing_init (&thing, DEW_THING_FAN);
  thing.fan.x_m = 0.5;
  thing.fan.y_m = 0.3;
  thing.fan.z_m = 1.0;
  thing.fan.diameter_m = 0.2;
  thing.fan.depth_m = 0.025;
  thing.fan.azimuth_rad = G_PI / 2;
  thing.fan.elevation_rad = 0.0;
  dew_thing_box (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.4, 0.2, 0.9, 0.6, 0.4, 1.1);
  dew_thing_body (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.4, 0.3, 0.9, 0.6, 0.3, 1.1);
  thing.fan.elevation_rad = G_PI / 6; /* sin 1/2, cos root 3/4 */
  dew_thing_body (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.4, 0.25, 1.0 - 0.1 * sqrt (0.75), 0.6, 0.35, 1.0 + 0.1 * sqrt (0.75));

  thing.fan.mount = DEW_FAN_IN_WALL;
  thing.fan.face = DEW_FACE_BACK;
  dew_thing_box (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.4, 0.575, 0.9, 0.6, 0.6, 1.1);
  thing.fan.face = DEW_FACE_FLOOR;
  dew_thing_box (chamber, &thing, lo, hi);
  assert_box (lo, hi, 0.4, 0.2, 0.0, 0.6, 0.4, 0.025);
}

static void
test_overlap (void)
{
  const double a_lo[3] = { 0.0, 0.0, 0.0 }, a_hi[3] = { 0.2, 0.2, 0.2 };
  double b_lo[3] = { 0.1, 0.1, 0.1 }, b_hi[3] = { 0.3, 0.3, 0.3 };
  const double flat_lo[3] = { -1.0, -1.0, 0.1 }, flat_hi[3] = { 1.0, 1.0, 0.1 };

  g_assert_cmpfloat_with_epsilon (dew_span_shared (0.0, 0.2, 0.1, 0.3), 0.1, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (dew_span_shared (0.0, 1.0, 0.25, 0.5), 0.25, EPSILON_M);
  g_assert_cmpfloat (dew_span_shared (0.0, 0.2, 0.2, 0.3), ==, 0.0);
  g_assert_cmpfloat (dew_span_shared (0.5, 0.6, 0.1, 0.3), ==, 0.0);

  g_assert_true (dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 3, DEW_SLACK_M));
  g_assert_true (dew_boxes_cross (b_lo, b_hi, a_lo, a_hi, 3, DEW_SLACK_M));

  /* Side by side they touch, which is not crossing, and rounding is not either. */
  b_lo[0] = 0.2;
  g_assert_false (dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 3, DEW_SLACK_M));
  b_lo[0] = 0.2 - 1e-9;
  g_assert_false (dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 3, DEW_SLACK_M));
  b_lo[0] = 0.2 - 1e-5;
  g_assert_true (dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 3, DEW_SLACK_M));

  /* One above the other: in the plan they cross, in space they do not. */
  b_lo[2] = 0.2;
  g_assert_true (dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 2, DEW_SLACK_M));
  g_assert_false (dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 3, DEW_SLACK_M));

  /* Nearer than a centimetre. */
  b_lo[2] = 0.205;
  g_assert_true (dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 3, -0.01));
  b_lo[2] = 0.211;
  g_assert_false (dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 3, -0.01));

  /* Something flat crosses what it cuts through. */
  g_assert_true (dew_boxes_cross (a_lo, a_hi, flat_lo, flat_hi, 3, DEW_SLACK_M));
}

static void
test_holes (void)
{
  DewThing zip, fan, pot;
  double lo[2], hi[2];
  DewFace face;

  dew_thing_init (&pot, DEW_THING_POT);
  g_assert_false (dew_thing_in_face (&pot, NULL));

  dew_thing_init (&zip, DEW_THING_OPENING);
  zip.opening.face = DEW_FACE_LEFT;
  zip.opening.u0_m = 0.1;
  zip.opening.u1_m = 0.3;
  zip.opening.v0_m = 0.8;
  zip.opening.v1_m = 1.0;
  g_assert_true (dew_thing_in_face (&zip, &face));
  g_assert_cmpint (face, ==, DEW_FACE_LEFT);

  dew_thing_init (&fan, DEW_THING_FAN);
  fan.fan.y_m = 0.4;
  fan.fan.z_m = 0.9;
  fan.fan.diameter_m = 0.2;
  fan.fan.face = DEW_FACE_LEFT;
  g_assert_false (dew_thing_in_face (&fan, NULL)); /* it hangs free */
  g_assert_false (dew_holes_cross (&zip, &fan));
  fan.fan.mount = DEW_FAN_IN_WALL;
  dew_thing_hole (&fan, lo, hi);
  g_assert_cmpfloat_with_epsilon (lo[0], 0.3, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (hi[0], 0.5, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (lo[1], 0.8, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (hi[1], 1.0, EPSILON_M);

  g_assert_false (dew_holes_cross (&zip, &fan)); /* edge to edge */
  fan.fan.y_m = 0.35;
  g_assert_true (dew_holes_cross (&zip, &fan));
  fan.fan.face = DEW_FACE_RIGHT;
  g_assert_false (dew_holes_cross (&zip, &fan));
}

/* --- bays -------------------------------------------------------------- */

static void
test_bays (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  g_autofree double *z_m = NULL;
  g_autofree guint *shelf_id = NULL;
  const DewVariant *variant;
  guint upper, lower;
  int n;

  /* In the order they were drawn, the upper one first. */
  upper = add_shelf (chamber, 1.5);
  lower = add_shelf (chamber, 0.5);
  variant = dew_chamber_shown (chamber);

  n = dew_variant_bays (chamber, variant, &z_m, &shelf_id);
  g_assert_cmpint (n, ==, 3);
  g_assert_cmpfloat (z_m[0], ==, 0.0);
  g_assert_cmpfloat (z_m[1], ==, 0.5);
  g_assert_cmpfloat (z_m[2], ==, 1.5);
  g_assert_cmpfloat (z_m[3], ==, 2.0);
  g_assert_cmpuint (shelf_id[0], ==, 0);
  g_assert_cmpuint (shelf_id[1], ==, lower);
  g_assert_cmpuint (shelf_id[2], ==, upper);

  /* A board belongs to the bay that stands on it, from its underside on. */
  g_assert_cmpint (dew_bay_at (z_m, n, -0.1), ==, 0);
  g_assert_cmpint (dew_bay_at (z_m, n, 0.0), ==, 0);
  g_assert_cmpint (dew_bay_at (z_m, n, 0.4999), ==, 0);
  g_assert_cmpint (dew_bay_at (z_m, n, 0.5 - 1e-9), ==, 1);
  g_assert_cmpint (dew_bay_at (z_m, n, 0.5), ==, 1);
  g_assert_cmpint (dew_bay_at (z_m, n, 0.505), ==, 1);
  g_assert_cmpint (dew_bay_at (z_m, n, 1.4999), ==, 1);
  g_assert_cmpint (dew_bay_at (z_m, n, 1.5), ==, 2);
  g_assert_cmpint (dew_bay_at (z_m, n, 2.0), ==, 2);
  g_assert_cmpint (dew_bay_at (z_m, n, 2.1), ==, 2);
  g_assert_cmpint (dew_variant_bay_at (chamber, variant, 1.0), ==, 1);

  g_assert_cmpfloat (dew_variant_rest_height (variant, 0.4), ==, 0.0);
  g_assert_cmpfloat (dew_variant_rest_height (variant, 0.505), ==, 0.0);
  g_assert_cmpfloat_with_epsilon (dew_variant_rest_height (variant, 0.51), 0.51, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (dew_variant_rest_height (variant, 1.2), 0.51, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (dew_variant_rest_height (variant, 1.9), 1.51, EPSILON_M);
}

/* The next board above, but only where there is one. */
static void
test_ceiling (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  const double lo[3] = { 0.1, 0.1, 0.6 }, hi[3] = { 0.3, 0.3, 0.7 };
  const DewVariant *variant;
  guint upper;

  add_shelf (chamber, 0.5);
  upper = add_shelf (chamber, 1.5);
  variant = dew_chamber_shown (chamber);
  g_assert_cmpfloat (dew_ceiling_m (chamber, variant, 0.6, lo, hi), ==, 1.5);
  g_assert_cmpfloat (dew_ceiling_m (chamber, variant, 0.0, lo, hi), ==, 0.5);
  g_assert_cmpfloat (dew_ceiling_m (chamber, variant, 1.6, lo, hi), ==, 2.0);
  dew_variant_thing (dew_chamber_shown (chamber), upper)->shelf.gap_left_m = 0.3;
  g_assert_cmpfloat (dew_ceiling_m (chamber, variant, 0.6, lo, hi), ==, 2.0);
}

/* One least bay for the limits of a move and for the check: at the limit all is well,
 * a millimetre further it is not. */
static void
test_least_bay (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint id = add_shelf (chamber, 1.0);
  DewThing *shelf = dew_variant_thing (dew_chamber_shown (chamber), id);
  double low_m, high_m;

  dew_shelf_limits (chamber, dew_chamber_shown (chamber), shelf, &low_m, &high_m);
  g_assert_cmpfloat_with_epsilon (low_m, DEW_BAY_MIN_M, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (high_m, 2.0 - 0.01 - DEW_BAY_MIN_M, EPSILON_M);
  for (int i = 0; i < 4; i++)
    {
      g_autoptr (GArray) problems = NULL;

      shelf->shelf.z_m = i < 2 ? low_m : high_m;
      if (i % 2 == 1)
        shelf->shelf.z_m += i < 2 ? -0.001 : 0.001;
      problems = dew_chamber_check (chamber, 0);
      g_assert_cmpuint (problems->len, ==, i % 2);
    }
}

/* Neighbours, what stands below and above, and where it is now. */
static void
test_shelf_limits (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint middle, stands;
  double low_m, high_m;

  add_shelf (chamber, 0.5);
  middle = add_shelf (chamber, 1.0);
  add_shelf (chamber, 1.5);
  dew_shelf_limits (chamber, dew_chamber_shown (chamber), thing_of (chamber, middle), &low_m,
                    &high_m);
  g_assert_cmpfloat_with_epsilon (low_m, 0.51 + DEW_BAY_MIN_M, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (high_m, 1.5 - 0.01 - DEW_BAY_MIN_M, EPSILON_M);

  /* A pot of 10 cm below must fit under it, and one on it goes along. */
  add_pot (chamber, 0.5, 0.51);
  stands = add_pot (chamber, 0.2, 1.01);
  dew_shelf_limits (chamber, dew_chamber_shown (chamber), thing_of (chamber, middle), &low_m,
                    &high_m);
  g_assert_cmpfloat_with_epsilon (low_m, 0.61, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (high_m, 1.5 - 0.1 - 0.01, EPSILON_M);

  /* Too tall already: it may stay, but not rise. */
  dew_variant_thing (dew_chamber_shown (chamber), stands)->pot.height_m = 0.6;
  dew_shelf_limits (chamber, dew_chamber_shown (chamber), thing_of (chamber, middle), &low_m,
                    &high_m);
  g_assert_cmpfloat (high_m, ==, 1.0);
}

/* --- what stands on what ----------------------------------------------- */

static void
test_stands (void)
{
  static const struct
  {
    DewThingKind kind;
    gboolean stands, solid;
  } rows[] = {
    { DEW_THING_SHELF, FALSE, FALSE },      { DEW_THING_OPENING, FALSE, FALSE },
    { DEW_THING_FAN, FALSE, TRUE },         { DEW_THING_HUMIDIFIER, TRUE, TRUE },
    { DEW_THING_POT, TRUE, TRUE },          { DEW_THING_TRAY, TRUE, TRUE },
    { DEW_THING_LAMP, FALSE, TRUE },        { DEW_THING_MAT, TRUE, TRUE },
    { DEW_THING_SOURCE, TRUE, TRUE },       { DEW_THING_PLANT, TRUE, FALSE },
    { DEW_THING_INSTRUMENT, FALSE, FALSE },
  };

  g_assert_cmpint (G_N_ELEMENTS (rows), ==, DEW_N_THING_KINDS);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DewThing thing;

      dew_thing_init (&thing, rows[i].kind);
      g_assert_cmpint (dew_stands (rows[i].kind), ==, rows[i].stands);
      g_assert_cmpint (dew_is_solid (&thing), ==, rows[i].solid);
    }
}

static void
test_pierced (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint shelf = add_shelf (chamber, 0.5), pot = add_pot (chamber, 0.5, 0.45);
  DewThing *plant;
  DewVariant *variant = dew_chamber_shown (chamber);

  g_assert_true (dew_pierced_by (chamber, variant, thing_of (chamber, pot))
                 == thing_of (chamber, shelf));
  /* From below it only touches; and it stands on it. */
  dew_variant_thing (variant, pot)->pot.z_m = 0.4;
  g_assert_null (dew_pierced_by (chamber, variant, thing_of (chamber, pot)));
  dew_variant_thing (variant, pot)->pot.z_m = 0.51;
  g_assert_null (dew_pierced_by (chamber, variant, thing_of (chamber, pot)));
  /* In the gap beside the board. */
  dew_variant_thing (variant, pot)->pot.z_m = 0.45;
  dew_variant_thing (variant, shelf)->shelf.gap_right_m = 0.55;
  g_assert_null (dew_pierced_by (chamber, variant, thing_of (chamber, pot)));

  /* Leaves grow through. */
  plant = add (chamber, DEW_THING_PLANT);
  plant->plant.x_m = 0.2;
  plant->plant.y_m = 0.3;
  plant->plant.z_m = 0.45;
  g_assert_null (dew_pierced_by (chamber, dew_chamber_shown (chamber), plant));
}

static void
test_carried (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint lower = add_shelf (chamber, 0.5), upper = add_shelf (chamber, 1.0);
  guint on = add_pot (chamber, 0.3, 0.51), near = add_pot (chamber, 0.7, 0.515);
  guint floor = add_pot (chamber, 0.5, 0.0), above = add_pot (chamber, 0.5, 0.53);
  DewThing *plant = add (chamber, DEW_THING_PLANT);
  DewVariant *variant = dew_chamber_shown (chamber);
  const DewThing *shelf = thing_of (chamber, lower);
  double lo_m, hi_m;

  plant->plant.z_m = 0.65;
  g_assert_true (dew_carrier (chamber, variant, thing_of (chamber, on)) == shelf);
  g_assert_true (dew_carrier (chamber, variant, thing_of (chamber, near)) == shelf);
  g_assert_null (dew_carrier (chamber, variant, thing_of (chamber, floor)));
  g_assert_null (dew_carrier (chamber, variant, thing_of (chamber, above)));
  g_assert_null (dew_carrier (chamber, variant, plant));

  g_assert_true (dew_carried_span (chamber, variant, shelf, 0, &lo_m, &hi_m));
  g_assert_cmpfloat_with_epsilon (lo_m, 0.25, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (hi_m, 0.75, EPSILON_M);
  g_assert_false (dew_carried_span (chamber, variant, thing_of (chamber, upper), 0, &lo_m, &hi_m));

  /* The crown above the pots goes along with their shelf, not with the next. */
  g_assert_true (dew_rides_on (chamber, variant, thing_of (chamber, on), shelf));
  g_assert_false (dew_rides_on (chamber, variant, thing_of (chamber, above), shelf));
  g_assert_true (dew_rides_on (chamber, variant, plant, shelf));
  g_assert_false (dew_rides_on (chamber, variant, plant, thing_of (chamber, upper)));
  g_assert_false (dew_rides_on (chamber, variant, shelf, shelf));
}

/* --- what is possible but hardly meant ---------------------------------------------- */

static guint
doubts (const DewChamber *chamber, DewProblemCode code)
{
  g_autoptr (GArray) all = dew_chamber_doubts (chamber, chamber->shown_variant);
  guint n = 0;

  for (guint i = 0; i < all->len; i++)
    n += g_array_index (all, DewProblem, i).code == code;
  g_assert_cmpuint (n, ==, all->len);
  return n;
}

/* Two bodies in one place are found once, neighbours that touch are not. */
static void
test_inside_each_other (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  DewThing *fan;

  add_pot (chamber, 0.3, 0.0);
  add_pot (chamber, 0.4, 0.0);
  g_assert_cmpuint (doubts (chamber, DEW_PROBLEM_INSIDE_OTHER), ==, 0);
  add_pot (chamber, 0.36, 0.0);
  g_assert_cmpuint (doubts (chamber, DEW_PROBLEM_INSIDE_OTHER), ==, 2);
  for (int i = 0; i < 2; i++)
    {
      fan = add (chamber, DEW_THING_FAN);
      fan->fan.x_m = 0.7;
      fan->fan.y_m = 0.3;
      fan->fan.z_m = 1.0;
    }
  g_assert_cmpuint (doubts (chamber, DEW_PROBLEM_INSIDE_OTHER), ==, 3);
}

/* A pot that stands where a plant grows; beside it, under its outer leaves, it may stand. */
static void
test_pot_in_a_plant (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  DewThing *plant = add (chamber, DEW_THING_PLANT);

  plant->plant.x_m = 0.5;
  plant->plant.y_m = 0.3;
  plant->plant.z_m = 0.08;
  plant->plant.width_m = 0.3;
  plant->plant.height_m = 0.2;
  plant->plant.mass_kg = 0.3;
  add_pot (chamber, 0.62, 0.0);
  g_assert_cmpuint (doubts (chamber, DEW_PROBLEM_INSIDE_OTHER), ==, 0);
  add_pot (chamber, 0.47, 0.0);
  g_assert_cmpuint (doubts (chamber, DEW_PROBLEM_INSIDE_OTHER), >=, 1);
}

/* A crown of 0.5 m on the floor under a shelf at 0.4 m grows through it; told with its own
 * height and the height that it has. */
static void
test_crown_through_shelf (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  g_autoptr (GArray) all = NULL;
  DewThing *plant;
  guint shelf_id = add_shelf (chamber, 0.4);

  plant = add (chamber, DEW_THING_PLANT);
  plant->plant.x_m = 0.5;
  plant->plant.y_m = 0.3;
  plant->plant.z_m = 0.1;
  plant->plant.width_m = 0.2;
  plant->plant.height_m = 0.3;
  g_assert_cmpuint (doubts (chamber, DEW_PROBLEM_CROWN_HIGH), ==, 0);
  plant->plant.height_m = 0.5;
  all = dew_chamber_doubts (chamber, chamber->shown_variant);
  g_assert_cmpuint (all->len, ==, 1);
  g_assert_cmpint (g_array_index (all, DewProblem, 0).code, ==, DEW_PROBLEM_CROWN_HIGH);
  g_assert_cmpuint (g_array_index (all, DewProblem, 0).other_id, ==, shelf_id);
  g_assert_cmpfloat_with_epsilon (g_array_index (all, DewProblem, 0).value, 0.5, EPSILON_M);
  g_assert_cmpfloat_with_epsilon (g_array_index (all, DewProblem, 0).max, 0.3, EPSILON_M);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/geometry/faces", test_faces);
  g_test_add_func ("/geometry/aims", test_aims);
  g_test_add_func ("/geometry/views", test_views);
  g_test_add_func ("/geometry/boxes", test_boxes);
  g_test_add_func ("/geometry/fan-boxes", test_fan_boxes);
  g_test_add_func ("/geometry/overlap", test_overlap);
  g_test_add_func ("/geometry/holes", test_holes);
  g_test_add_func ("/geometry/bays", test_bays);
  g_test_add_func ("/geometry/ceiling", test_ceiling);
  g_test_add_func ("/geometry/least-bay", test_least_bay);
  g_test_add_func ("/geometry/shelf-limits", test_shelf_limits);
  g_test_add_func ("/geometry/stands", test_stands);
  g_test_add_func ("/geometry/pierced", test_pierced);
  g_test_add_func ("/geometry/carried", test_carried);
  g_test_add_func ("/geometry/inside-each-other", test_inside_each_other);
  g_test_add_func ("/geometry/pot-in-a-plant", test_pot_in_a_plant);
  g_test_add_func ("/geometry/crown-through-shelf", test_crown_through_shelf);

  return g_test_run ();
}
