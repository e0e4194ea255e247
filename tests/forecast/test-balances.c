/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "say/problems.h"

#include <math.h>

/* Enclosures that somebody might draw, at random but the same every time. Whatever stands in
 * them: what goes in comes out, to 1e-6, and every number is one. Conservation needs no other
 * source. */

#define ENCLOSURES 24
#define BALANCED 1e-6

typedef struct
{
  GRand *random;
  DewChamber *chamber;
  double size_m[3];
  int n_bays;
  double floor_m[6], roof_m[6]; /* of the bays */
} Drawing;

static double
real (Drawing *d, double lo, double hi)
{
  return g_rand_double_range (d->random, lo, hi);
}

static int
whole (Drawing *d, int lo, int hi)
{
  return g_rand_int_range (d->random, lo, hi + 1);
}

static void
draw_cover (Drawing *d)
{
  static const struct
  {
    double u_W_m2K, light, longwave;
  } covers[] = {
    { 3.84, 0.87, 0.60 },
    { 3.80, 0.89, 0.0 },
    { 2.78, 0.82, 0.0 },
    { 1.21, 0.0, 0.0 },
  };
  int kind = whole (d, 0, 3);

  for (int face = 0; face < DEW_N_FACES; face++)
    {
      d->chamber->panels[face].u_value_W_m2K = covers[kind].u_W_m2K;
      d->chamber->panels[face].light_transmission = covers[kind].light;
      d->chamber->panels[face].longwave_transmission = covers[kind].longwave;
    }
  d->chamber->panels[DEW_FACE_ROOF].slope_rad = whole (d, 0, 1) * 0.5;
  d->chamber->leak_area_m2 = exp (real (d, log (2e-4), log (1e-2)));
  d->chamber->room.sun_W_m2 = whole (d, 0, 3) == 0 ? real (d, 50.0, 400.0) : 0.0;
  d->chamber->room.sun_face = whole (d, 0, 3);
}

static void
draw_shelves (Drawing *d)
{
  int shelves = whole (d, 0, (int) (d->size_m[2] / 0.35) - 1);

  d->n_bays = shelves + 1;
  d->floor_m[0] = 0.0;
  for (int s = 0; s < shelves; s++)
    {
      DewShelfBoard board = whole (d, 0, 3);
      double open_ratio = board == DEW_SHELF_SOLID ? 0.0 : real (d, 0.15, 0.9);
      double z_m = d->size_m[2] * (s + 1) / (shelves + 1);
      DewThing *shelf = add_shelf (d->chamber, z_m, board, open_ratio);

      if (whole (d, 0, 1))
        shelf->shelf.gap_back_m = real (d, 0.03, 0.10);
      if (whole (d, 0, 2) == 0)
        shelf->shelf.gap_front_m = real (d, 0.03, 0.10);
      d->roof_m[s] = z_m;
      d->floor_m[s + 1] = z_m + shelf->shelf.thickness_m;
    }
  d->roof_m[shelves] = d->size_m[2];
}

/* One opening in some faces, so that none lies over another. */
static void
draw_openings (Drawing *d)
{
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      double across = d->size_m[face / 2 == 0 ? 1 : 0], up = d->size_m[face / 2 == 2 ? 1 : 2];
      double u = real (d, 0.0, 0.7), v = real (d, 0.0, 0.9), high = MIN (0.1, 1.0 - v);
      DewThing *thing;

      if (whole (d, 0, 2) > 0)
        continue;
      thing = add_hole (d->chamber, face, u * across, (u + real (d, 0.05, 0.3)) * across, v * up,
                        (v + real (d, 0.2, 1.0) * high) * up);
      thing->opening.kind = whole (d, 0, 4);
      thing->opening.open_fraction = real (d, 0.1, 1.0);
    }
}

static void
draw_fans (Drawing *d)
{
  for (int n = whole (d, 0, 2); n > 0; n--)
    {
      int bay = whole (d, 0, d->n_bays - 1);
      DewThing *fan
        = add_thing (d->chamber, DEW_THING_FAN, real (d, 0.12, d->size_m[0] - 0.12),
                     real (d, 0.12, d->size_m[1] - 0.12), 0.5 * (d->floor_m[bay] + d->roof_m[bay]));

      fan->fan.azimuth_rad = real (d, -3.0, 3.0);
      fan->fan.elevation_rad = real (d, -1.5, 1.5);
      fan->fan.diameter_m = 0.08;
      fan->fan.free_delivery_m3_s = real (d, 5.0, 80.0) / 3600.0;
    }
}

/* Middle of the base of a thing that stands in a bay with room round it. */
static DewThing *
stand (Drawing *d, DewThingKind kind, double width_m, double depth_m)
{
  int bay = whole (d, 0, d->n_bays - 1);

  return add_thing (d->chamber, kind, real (d, width_m / 2, d->size_m[0] - width_m / 2),
                    real (d, MAX (depth_m / 2, 0.1), d->size_m[1] - MAX (depth_m / 2, 0.1)),
                    d->floor_m[bay]);
}

static void
draw_water (Drawing *d)
{
  static const double droplet_m[] = { 3e-6, 6.5e-6, 2e-5, 6e-5 };

  for (int n = whole (d, 0, 2); n > 0; n--)
    {
      DewThing *thing = stand (d, DEW_THING_HUMIDIFIER, 0.1, 0.1);

      thing->humidifier.width_m = thing->humidifier.depth_m = 0.1;
      thing->humidifier.height_m = 0.14;
      thing->humidifier.technology = whole (d, 0, 2);
      thing->humidifier.droplet_m = droplet_m[whole (d, 0, 3)];
      thing->humidifier.output_kg_s = real (d, 5.0, 150.0) * 1e-3 / 3600.0;
      thing->humidifier.duty_day = thing->humidifier.duty_night = real (d, 0.0, 1.0);
      thing->humidifier.power_W = real (d, 0.0, 25.0);
      if (whole (d, 0, 1))
        thing->humidifier.set_rh = real (d, 0.5, 0.98);
    }
  for (int n = whole (d, 0, 8); n > 0; n--)
    {
      DewThing *pot = stand (d, DEW_THING_POT, 0.2, 0.2);

      pot->pot.rim_diameter_m = real (d, 0.05, 0.16);
      pot->pot.height_m = 0.85 * pot->pot.rim_diameter_m;
    }
  if (whole (d, 0, 1))
    {
      DewThing *tray = stand (d, DEW_THING_TRAY, 0.35, 0.2);

      tray->tray.width_m = 0.3;
      tray->tray.depth_m = 0.2;
      tray->tray.surface = whole (d, 0, 2);
    }
}

static void
draw_light_and_leaves (Drawing *d)
{
  static const char *const species[] = { "Phalaenopsis", "Hymenophyllum", "Begonia", "" };

  for (int n = whole (d, 0, 2); n > 0; n--)
    {
      int bay = whole (d, 0, d->n_bays - 1);
      DewThing *lamp = add_thing (d->chamber, DEW_THING_LAMP, d->size_m[0] / 2, d->size_m[1] / 2,
                                  d->roof_m[bay] - 0.05);

      lamp->lamp.length_m = 0.8 * d->size_m[0];
      lamp->lamp.power_W = real (d, 5.0, 40.0);
    }
  if (whole (d, 0, 2) == 0)
    stand (d, DEW_THING_MAT, 0.35, 0.25)->mat.power_W = real (d, 3.0, 20.0);
  for (int n = whole (d, 0, 5); n > 0; n--)
    {
      DewThing *plant = stand (d, DEW_THING_PLANT, 0.2, 0.2);

      plant->plant.leaf_area_m2 = real (d, 0.01, 0.15);
      g_strlcpy (plant->plant.species, species[whole (d, 0, 3)], sizeof plant->plant.species);
    }
}

/* Transfer full. */
static DewChamber *
draw (guint seed)
{
  Drawing d = { .random = g_rand_new_with_seed (seed) };

  d.size_m[0] = real (&d, 0.45, 1.2);
  d.size_m[1] = real (&d, 0.35, 0.7);
  d.size_m[2] = real (&d, 0.5, 1.9);
  d.chamber = film_enclosure (d.size_m[0], d.size_m[1], d.size_m[2], real (&d, 5.0, 32.0),
                              real (&d, 0.2, 0.95));
  draw_cover (&d);
  draw_shelves (&d);
  draw_openings (&d);
  draw_fans (&d);
  draw_water (&d);
  draw_light_and_leaves (&d);
  g_rand_free (d.random);
  return d.chamber;
}

static void
assert_is_number (const DewForecast *forecast)
{
  for (int z = 0; z < forecast->n_zones; z++)
    for (int v = 0; v < DEW_N_VALUES; v++)
      {
        double x = forecast->value[v][z];

        g_assert_true (v == DEW_VALUE_AGE ? !isinf (x) : isfinite (x));
        if (v == DEW_VALUE_TEMPERATURE)
          g_assert_true (x > forecast->room_t_C - 30.0 && x < forecast->room_t_C + 60.0);
        else if (v == DEW_VALUE_RH)
          g_assert_true (x >= 0.0 && x <= 1.0);
        else
          g_assert_false (x < -1e-9);
      }
  for (int p = 0; p < forecast->n_places; p++)
    {
      const DewClimate *c = &forecast->places[p].mean;

      g_assert_true (isfinite (c->t_C + c->rh + c->w_kg_kg + c->vpd_Pa + c->speed_m_s
                               + c->still_share + c->mist_kg_kg + c->wetting_kg_m2s + c->drip_kg_s
                               + c->ppfd_mol_m2s));
    }
  for (int i = 0; i < forecast->n_devices; i++)
    {
      const DewDevice *device = &forecast->devices[i];

      g_assert_false (isinf (device->t_C) || isinf (device->water_kg_s));
      g_assert_true (isnan (device->duty) || (device->duty >= 0.0 && device->duty <= 1.0));
    }
}

static void
test_balances (gconstpointer data)
{
  guint seed = GPOINTER_TO_UINT (data);
  g_autoptr (DewChamber) chamber = draw (seed);
  g_autoptr (GArray) problems = dew_chamber_check (chamber, chamber->shown_variant);
  g_autoptr (DewForecast) forecast = NULL;
  const DewBalance *b;

  if (problems->len > 0)
    g_test_fail_printf ("seed %u: %s", seed,
                        dew_problem_text (&g_array_index (problems, DewProblem, 0),
                                          DEW_TONGUE_PLAIN));
  forecast = seed % 3 == 2 ? forecast_by_night (chamber, DEW_GRID_DRAFT)
                           : forecast_by_day (chamber, DEW_GRID_DRAFT);
  assert_is_number (forecast);
  b = &forecast->balance;
  g_test_message ("%.1f C, %.0f %%, %.2f changes per hour, air %.0e, heat %.0e, water %.0e; %.1f s",
                  forecast->all.t_C, 100.0 * forecast->all.rh, 3600.0 * forecast->exchange_1_s,
                  b->air_residual, b->heat_residual, b->water_residual, forecast->seconds);
  g_assert_cmpfloat (b->air_residual, <, BALANCED);
  g_assert_cmpfloat (b->heat_residual, <, BALANCED);
  g_assert_cmpfloat (b->water_residual, <, BALANCED);
  /* The solver says how well it did, and what it took. */
  g_test_message ("%d rounds, last change %.0e; %d solves, %d iterations, residual %.0e, div %.0e",
                  forecast->effort.rounds, forecast->effort.change, forecast->effort.scalar_solves,
                  forecast->effort.scalar_iterations, forecast->effort.residual,
                  forecast->effort.divergence);
  g_assert_cmpfloat (forecast->effort.residual, <, BALANCED);
  g_assert_cmpfloat (forecast->effort.divergence, <, BALANCED);
  g_assert_cmpint (forecast->effort.rounds, >, 0);
  g_assert_cmpint (forecast->effort.scalar_solves, >=, 2 * forecast->effort.rounds);
  g_assert_cmpint (forecast->effort.scalar_iterations, >, forecast->effort.scalar_solves);
  /* The terms are those of the things that stand there. */
  g_assert_cmpfloat (b->water_fallout_kg_s, <=, 0.0);
  g_assert_cmpfloat (b->water_cover_kg_s, <=, 1e-15);
  g_assert_cmpfloat (b->air_in_m3_s, >=, 0.0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint seed = 1; seed <= ENCLOSURES; seed++)
    {
      g_autofree char *path = g_strdup_printf ("/balances/%02u", seed);

      g_test_add_data_func (path, GUINT_TO_POINTER (seed), test_balances);
    }
  return g_test_run ();
}
