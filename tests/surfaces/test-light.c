/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/light.h"

#include <math.h>

static const double inner_m[3] = { 0.6, 0.4, 1.5 };

static void
check (const char *what, double value, double expected, double relative)
{
  if (!(fabs (value - expected) <= relative * fabs (expected)))
    g_test_fail_printf ("%s: %.10g instead of %.10g", what, value, expected);
}

static DewVariant
empty_variant (void)
{
  DewVariant variant = { .things = g_array_new (FALSE, TRUE, sizeof (DewThing)) };

  return variant;
}

static void
add_lamp (DewVariant *variant, double x_m, double y_m, double z_m, double length_m, double width_m,
          double power_W, double efficacy_mol_J)
{
  DewThing thing = { .kind = DEW_THING_LAMP };

  thing.lamp = (DewLamp){ .x_m = x_m,
                          .y_m = y_m,
                          .z_m = z_m,
                          .length_m = length_m,
                          .width_m = width_m,
                          .power_W = power_W,
                          .efficacy_mol_J = efficacy_mol_J,
                          .on_day = 1.0 };
  g_array_append_val (variant->things, thing);
}

static void
add_shelf (DewVariant *variant, double z_m, double open_ratio, double gap_left_m)
{
  DewThing thing = { .kind = DEW_THING_SHELF };

  thing.shelf = (DewShelf){
    .z_m = z_m, .thickness_m = 0.01, .open_ratio = open_ratio, .gap_left_m = gap_left_m
  };
  g_array_append_val (variant->things, thing);
}

/* View factors of a spot and a parallel rectangle or disc, from any heat-transfer text
 * (Howell's catalogue B-3 and B-4; Incropera ch. 13). */
static void
test_view_factor (void)
{
  /* A corner of a square as large as its distance: 0.13853. */
  check ("corner", dew_light_corner_factor (1.0, 1.0, 1.0), 0.138532, 1e-5);
  /* A quarter of the half space for an endless quadrant, all of it for a plane. */
  check ("quadrant", dew_light_corner_factor (1e7, 1e7, 1.0), 0.25, 1e-6);
  check ("plane", dew_light_view_factor (-1e7, 1e7, -1e7, 1e7, 1.0), 1.0, 1e-6);
  /* Small and far: area x cos x cos/(pi r^2). */
  check ("far", dew_light_view_factor (3.0, 3.01, -0.005, 0.005, 4.0),
         1e-4 * 16.0 / (G_PI * (3.005 * 3.005 + 16.0) * (3.005 * 3.005 + 16.0)), 1e-4);
  /* A disc of radius R on the axis at c: R2/(R2 + c2), here as strips of a square grid
   * whose middles lie in the disc. */
  {
    const int n = 400;
    double sum = 0.0, side = 2.0 / n;
    for (int j = 0; j < n; j++)
      for (int i = 0; i < n; i++)
        {
          double x = -1.0 + i * side, y = -1.0 + j * side;
          double mx = x + 0.5 * side, my = y + 0.5 * side;
          if (mx * mx + my * my < 1.0)
            sum += dew_light_view_factor (x, x + side, y, y + side, 1.5);
        }
    check ("disc", sum, 1.0 / (1.0 + 2.25), 1e-3);
  }
}

static void
test_sum_over_floor (void)
{
  /* Every photon that leaves downward meets a large enough floor: the flux summed over
   * it is power x efficacy. */
  DewVariant variant = empty_variant ();
  double sum = 0.0;
  const double half = 12.0, step = 0.1;

  add_lamp (&variant, 0.3, 0.2, 0.5, 0.5, 0.1, 20.0, 2.0e-6);
  for (double y = -half; y < half; y += step)
    for (double x = -half; x < half; x += step)
      sum += dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, x, y, 0.0) * step * step;
  check ("all photons", sum, 20.0 * 2.0e-6, 0.01);
  g_array_unref (variant.things);
}

static double
mean_on_shelf (const DewVariant *variant, double z_m)
{
  double sum = 0.0;

  for (int j = 0; j < 20; j++)
    for (int i = 0; i < 30; i++)
      sum += dew_light_ppfd_mol_m2s (variant, inner_m, FALSE, (i + 0.5) * 0.02, (j + 0.5) * 0.02,
                                     z_m);
  return sum / 600.0;
}

/* Growers count on about 70 umol/m2s from a 20 W ordinary strip (1.6 umol/J) over a
 * shelf of 60 x 40 cm at 30 cm, about 115 from a good bar (2.5): common practice, no
 * source. It is reckoned with some 55 % of the light reaching the shelf, of which the
 * walls throw back a part that is left out here. */
static void
test_strip (void)
{
  DewVariant variant = empty_variant ();
  double umol;

  add_lamp (&variant, 0.3, 0.2, 0.8, 0.6, 0.02, 20.0, 1.6e-6);
  umol = mean_on_shelf (&variant, 0.5) * 1e6;
  if (!(umol > 45.0 && umol < 90.0))
    g_test_fail_printf ("strip: %.1f umol/m2s", umol);
  /* In proportion to the power, and dark by night with the night setting at nothing. */
  check ("bar", mean_on_shelf (&variant, 0.5) * 2.5 / 1.6 * 1e6, 115.0, 0.35);
  g_assert_cmpfloat (dew_light_ppfd_mol_m2s (&variant, inner_m, TRUE, 0.3, 0.2, 0.5), ==, 0.0);
  /* Nothing shines up. */
  g_assert_cmpfloat (dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.3, 0.2, 0.9), ==, 0.0);
  g_array_unref (variant.things);
}

/* A shelf between lets through its open ratio, its gap everything: geometry by hand. */
static void
test_shade (void)
{
  DewVariant variant = empty_variant ();
  double bare, left, right;

  add_lamp (&variant, 0.3, 0.2, 1.2, 0.5, 0.1, 20.0, 2.0e-6);
  bare = dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.3, 0.2, 0.5);
  add_shelf (&variant, 0.8, 0.85, 0.0);
  check ("wire", dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.3, 0.2, 0.5), 0.85 * bare,
         1e-9);
  add_shelf (&variant, 1.0, 0.5, 0.0);
  check ("two", dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.3, 0.2, 0.5), 0.5 * 0.85 * bare,
         1e-9);
  /* Above the lamp or below the spot it shades nothing. */
  add_shelf (&variant, 1.3, 0.0, 0.0);
  add_shelf (&variant, 0.2, 0.0, 0.0);
  check ("beside", dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.3, 0.2, 0.5),
         0.5 * 0.85 * bare, 1e-9);
  g_array_set_size (variant.things, 1);

  /* A solid shelf with a gap along the left: light only from that side, and only so
   * much as the lamp's part seen through the gap. Spot at x 0.05, half way down. */
  add_shelf (&variant, 0.85, 0.0, 0.15);
  left = dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.05, 0.2, 0.5);
  right = dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.55, 0.2, 0.5);
  g_assert_cmpfloat (right, ==, 0.0);
  {
    /* The gap ends at x 0.15 half way up: it shows the lamp up to x 0.25. */
    double seen = dew_light_view_factor (0.05 - 0.05, 0.25 - 0.05, -0.05, 0.05, 0.7) * 40e-6 / 0.05;
    check ("through the gap", left, seen, 0.05);
  }
  g_array_unref (variant.things);
}

/* Light share = efficacy/4.8 umol/J, which gives 0.42, 0.52, 0.58, 0.63 (McCree 1972 and
 * later spectra); nothing of the power is lost. */
static void
test_lamp_heat (void)
{
  static const double shares[][2]
    = { { 2.0e-6, 0.42 }, { 2.5e-6, 0.52 }, { 2.8e-6, 0.58 }, { 3.0e-6, 0.63 } };

  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    {
      DewLamp lamp
        = { .power_W = 40.0, .efficacy_mol_J = shares[i][0], .on_day = 0.5, .on_night = 0.0 };
      DewLampHeat heat = dew_light_lamp_heat (&lamp, FALSE);

      check ("share", heat.light_W, 20.0 * shares[i][1], 0.01);
      check ("all", heat.light_W + heat.radiant_W + heat.convective_W, 20.0, 1e-12);
      g_assert_cmpfloat (heat.radiant_W, >, 0.0);
      g_assert_cmpfloat (heat.convective_W, >, 0.0);
      heat = dew_light_lamp_heat (&lamp, TRUE);
      g_assert_cmpfloat (heat.light_W + heat.radiant_W + heat.convective_W, ==, 0.0);
    }
}

/* A small even (Lambertian) source seen from straight below: photons/(pi d2), so a quarter at
 * twice the distance; off its axis the fourth power of the cosine (inverse square and cosine
 * laws: any text on illumination, as Incropera ch. 12 on diffuse emitters). */
static void
test_inverse_square (void)
{
  DewVariant variant = empty_variant ();
  double near, far, aside, photons = 10.0 * 2.0e-6;

  add_lamp (&variant, 0.3, 0.2, 1.4, 0.01, 0.01, 10.0, 2.0e-6);
  near = dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.3, 0.2, 0.9);
  far = dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.3, 0.2, 0.4);
  aside = dew_light_ppfd_mol_m2s (&variant, inner_m, FALSE, 0.3 + 0.5, 0.2, 0.9);
  check ("on the axis", near, photons / (G_PI * 0.25), 1e-3);
  check ("twice as far", near / far, 4.0, 1e-3);
  check ("45 degrees aside", aside / near, 0.25, 1e-3);
  g_array_unref (variant.things);
}

/* Daylight: of an even surrounding a level spot sees the roof by its view factor and the walls by
 * the rest (their sum is 1: the enclosure rule, Incropera ch. 13). All by hand. */
static void
test_daylight (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewVariant variant = empty_variant ();
  double roof = dew_light_view_factor (-0.3, 0.3, -0.2, 0.2, 1.0), above;

  for (int face = 0; face < DEW_N_FACES; face++)
    chamber->panels[face].light_transmission = 1.0;
  chamber->room.daylight_mol_m2s = 50e-6;
  check ("clear cover",
         dew_light_daylight_mol_m2s (chamber, &variant, inner_m, FALSE, 0.3, 0.2, 0.5), 50e-6,
         1e-9);
  g_assert_cmpfloat (dew_light_daylight_mol_m2s (chamber, &variant, inner_m, TRUE, 0.3, 0.2, 0.5),
                     ==, 0.0);
  chamber->panels[DEW_FACE_ROOF].light_transmission = 0.0;
  check ("dark roof", dew_light_daylight_mol_m2s (chamber, &variant, inner_m, FALSE, 0.3, 0.2, 0.5),
         50e-6 * (1.0 - roof), 1e-9);
  chamber->panels[DEW_FACE_BACK].light_transmission = 0.0;
  check ("and a dark wall",
         dew_light_daylight_mol_m2s (chamber, &variant, inner_m, FALSE, 0.3, 0.2, 0.5),
         0.75 * 50e-6 * (1.0 - roof), 1e-9);
  chamber->panels[DEW_FACE_BACK].light_transmission
    = chamber->panels[DEW_FACE_ROOF].light_transmission = 1.0;
  add_shelf (&variant, 0.8, 0.0, 0.0);
  above = dew_light_view_factor (-0.3, 0.3, -0.2, 0.2, 0.3);
  check ("under a solid shelf",
         dew_light_daylight_mol_m2s (chamber, &variant, inner_m, FALSE, 0.3, 0.2, 0.5),
         50e-6 * (1.0 - above), 1e-9);
  g_array_unref (variant.things);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/light/view-factor", test_view_factor);
  g_test_add_func ("/light/sum-over-floor", test_sum_over_floor);
  g_test_add_func ("/light/strip", test_strip);
  g_test_add_func ("/light/shade", test_shade);
  g_test_add_func ("/light/inverse-square", test_inverse_square);
  g_test_add_func ("/light/daylight", test_daylight);
  g_test_add_func ("/light/lamp-heat", test_lamp_heat);
  return g_test_run ();
}
