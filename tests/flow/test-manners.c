/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What may be asked of any solver, whatever its physics: the same answer twice, rest
 * where nothing drives, mirrored answers for mirrored enclosures, and never a number
 * that is none. The laws behind it are logic and symmetry; no source. */

#include "flow/flow.h"
#include "forecast/forecast.h"
#include "published/box-flow.h"
#include "published/plain-box.h"

#include <math.h>
#include <string.h>

static DewForecast *
draft (const DewChamber *chamber)
{
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;
  DewForecast *f;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  f = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  return f;
}

/* --- the same again ------------------------------------------------------------------ */

static gpointer
draft_thread (gpointer chamber)
{
  return draft (chamber);
}

/* Every number of the zones, bit for bit. */
static void
assert_same (const DewForecast *a, const DewForecast *b)
{
  gsize bytes = sizeof (double) * a->n_zones;

  g_assert_cmpint (a->n_zones, ==, b->n_zones);
  g_assert_cmpint (a->steps, ==, b->steps);
  for (int v = 0; v < DEW_N_VALUES; v++)
    g_assert_cmpmem (a->value[v], bytes, b->value[v], bytes);
  for (int c = 0; c < 3; c++)
    g_assert_cmpmem (a->velocity_m_s[c], bytes, b->velocity_m_s[c], bytes);
  g_assert_cmpmem (&a->balance, sizeof a->balance, &b->balance, sizeof b->balance);
}

static void
test_repeatable (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewForecast) first = draft (chamber);
  g_autoptr (DewForecast) second = draft (chamber);
  g_autoptr (DewForecast) third = NULL;
  g_autoptr (DewForecast) fourth = NULL;
  GThread *threads[2];

  for (int t = 0; t < 2; t++)
    threads[t] = g_thread_new ("draft", draft_thread, chamber);
  third = g_thread_join (threads[0]);
  fourth = g_thread_join (threads[1]);
  assert_same (first, second);
  assert_same (first, third);
  assert_same (first, fourth);
}

/* --- rest ---------------------------------------------------------------------------- */

static double
fastest (const DewZones *zones, const DewFlow *flow)
{
  double most = 0.0;

  for (int at = 0; at < zones->size; at++)
    most = MAX (most, dew_flow_speed (flow)[at]);
  return most;
}

/* A sealed box at rest, without any load and with air in level layers, warm above:
 * hydrostatic pressure holds it. */
static void
test_rest (void)
{
  const int n[3] = { 6, 5, 9 };
  const double size_m[3] = { 0.6, 0.5, 0.9 }, crowding[3] = { 0.8, 0.0, 1.0 };
  g_autoptr (DewZones) zones = test_box (n, size_m, crowding);
  g_autofree double *lift = g_new0 (double, zones->size);
  g_autoptr (DewFlow) flow = NULL;
  DewFlowOptions options;

  dew_flow_options_init (&options);
  flow = dew_flow_new (zones, &options, NULL);
  for (int s = 0; s < 50; s++)
    g_assert_true (dew_flow_step (flow, 0.7));
  g_assert_cmpfloat (fastest (zones, flow), ==, 0.0);

  for (int k = 1; k <= n[2]; k++)
    for (int j = 1; j <= n[1]; j++)
      for (int i = 1; i <= n[0]; i++)
        lift[dew_zones_at (zones, i, j, k)] = 0.3 * zones->middle_m[2][k] * zones->middle_m[2][k];
  dew_flow_set_buoyancy (flow, lift);
  /* The first pressure that balances the layers is not exact; the little motion that
   * it leaves dies away. */
  for (int s = 0; s < 8000; s++)
    g_assert_true (dew_flow_step (flow, 0.7));
  g_test_message ("fastest air in level layers %.2g m/s", fastest (zones, flow));
  g_assert_cmpfloat (fastest (zones, flow), <, 1e-9);
}

/* --- mirrors ------------------------------------------------------------------------- */

/* A small cabinet, itself (side 0), left and right exchanged (1), or front and back
 * (2). Every length is a whole number of zones, so its zones mirror as well. */
static DewChamber *
mirrored (int side)
{
  const double x = 0.64, y = 0.48, z = 0.8;
  DewChamber *chamber = test_plain_chamber (x, y, z);
  gboolean swap_x = side == 1, swap_y = side == 2;
  double azimuth = 0.4;
  double fan[3] = { 0.2, 0.18, 0.3 }, warm[3] = { 0.48, 0.12, 0.5 };
  DewFace face = swap_x ? DEW_FACE_RIGHT : DEW_FACE_LEFT;
  DewThing shelf;

  test_set_room (chamber, 20.0, 0.5);
  if (swap_x)
    {
      fan[0] = x - fan[0];
      warm[0] = x - warm[0];
      azimuth = G_PI - azimuth;
    }
  if (swap_y)
    {
      fan[1] = y - fan[1];
      warm[1] = y - warm[1];
      azimuth = -azimuth;
    }
  /* On a side wall (y, z), and in the roof (x, y). */
  test_add_hole (chamber, face, swap_y ? y - 0.24 : 0.16, swap_y ? y - 0.16 : 0.24, 0.08, 0.16,
                 0.6);
  test_add_hole (chamber, DEW_FACE_ROOF, swap_x ? x - 0.56 : 0.48, swap_x ? x - 0.48 : 0.56,
                 swap_y ? y - 0.16 : 0.08, swap_y ? y - 0.08 : 0.16, 0.6);
  dew_thing_init (&shelf, DEW_THING_SHELF);
  shelf.shelf.z_m = 0.4 - 0.5 * shelf.shelf.thickness_m;
  shelf.shelf.board = DEW_SHELF_SOLID;
  shelf.shelf.open_ratio = 0.0;
  shelf.shelf.gap_left_m = swap_x ? 0.0 : 0.08;
  shelf.shelf.gap_right_m = swap_x ? 0.08 : 0.0;
  shelf.shelf.gap_front_m = swap_y ? 0.08 : 0.0;
  shelf.shelf.gap_back_m = swap_y ? 0.0 : 0.08;
  dew_variant_add (chamber, dew_chamber_shown (chamber), &shelf);
  test_add_fan (chamber, fan, azimuth, 0.3, 0.12, 0.012);
  test_add_source (chamber, warm, 0.08, 6.0, 2e-6);
  return chamber;
}

/* The order in which zones are visited is not mirrored, so a step's unfinished sweeps
 * are not either; the settled answers agree as far as they are settled. */
static void
test_mirror (void)
{
  g_autoptr (DewChamber) plain = mirrored (0);
  g_autoptr (DewForecast) f = draft (plain);

  g_assert_cmpint (f->state, ==, DEW_FORECAST_SETTLED);
  for (int side = 1; side <= 2; side++)
    {
      g_autoptr (DewChamber) chamber = mirrored (side);
      g_autoptr (DewForecast) m = draft (chamber);
      const int *n = f->n;
      double worst_speed = 0.0, worst_t = 0.0, speed = 0.0, t = 0.0;

      g_assert_cmpmem (m->n, sizeof m->n, f->n, sizeof f->n);
      for (int k = 0; k < n[2]; k++)
        for (int j = 0; j < n[1]; j++)
          for (int i = 0; i < n[0]; i++)
            {
              int a = i + n[0] * (j + n[1] * k);
              int b = (side == 1 ? n[0] - 1 - i : i)
                      + n[0] * ((side == 2 ? n[1] - 1 - j : j) + n[1] * k);

              speed = MAX (speed, f->value[DEW_VALUE_SPEED][a]);
              t = MAX (t, f->value[DEW_VALUE_TEMPERATURE][a] - f->room_t_C);
              worst_speed = MAX (worst_speed, fabs (f->value[DEW_VALUE_SPEED][a]
                                                    - m->value[DEW_VALUE_SPEED][b]));
              worst_t = MAX (worst_t, fabs (f->value[DEW_VALUE_TEMPERATURE][a]
                                            - m->value[DEW_VALUE_TEMPERATURE][b]));
            }
      g_test_message ("%s: speed differs by %.3g of %.3g m/s, warmth by %.3g of %.3g K",
                      side == 1 ? "left and right" : "front and back", worst_speed, speed, worst_t,
                      t);
      g_assert_cmpfloat (worst_speed, <, 0.02 * speed);
      g_assert_cmpfloat (worst_t, <, 0.02 * t);
    }
}

/* --- fans and extremes --------------------------------------------------------------- */

static void
assert_finite (const DewForecast *f)
{
  for (int z = 0; z < f->n_zones; z++)
    {
      for (int v = 0; v < DEW_N_VALUES; v++)
        /* Without any exchange with the room air has no age, by the manual. */
        if (v != DEW_VALUE_AGE || f->balance.air_in_m3_s > 0.0)
          g_assert_true (isfinite (f->value[v][z]));
      for (int a = 0; a < 3; a++)
        g_assert_true (isfinite (f->velocity_m_s[a][z]));
    }
  for (int b = 0; b < f->n_bays; b++)
    {
      const DewClimate *mean = &f->bays[b].mean;

      g_assert_true (isfinite (mean->t_C) && isfinite (mean->rh) && isfinite (mean->w_kg_kg)
                     && isfinite (mean->vpd_Pa) && isfinite (mean->speed_m_s));
    }
  g_assert_true (isfinite (f->balance.heat_residual) && isfinite (f->balance.water_residual)
                 && isfinite (f->balance.air_residual) && isfinite (f->swing));
}

/* Along every edge, face normal and diagonal of a cube; in the middle and in a corner. */
static void
test_fan_directions (void)
{
  for (int direction = 0; direction < 27; direction++)
    {
      double d[3] = { direction % 3 - 1, direction / 3 % 3 - 1, direction / 9 - 1 };
      const double places[2][3] = { { 0.15, 0.15, 0.2 }, { 0.07, 0.07, 0.07 } };

      if (direction == 13)
        continue;
      for (int p = 0; p < 2; p++)
        {
          g_autoptr (DewChamber) chamber = test_plain_chamber (0.3, 0.3, 0.4);
          g_autoptr (DewForecast) f = NULL;

          test_add_hole (chamber, DEW_FACE_ROOF, 0.1, 0.2, 0.1, 0.2, 0.6);
          test_add_fan (chamber, places[p], atan2 (d[1], d[0]), atan2 (d[2], hypot (d[0], d[1])),
                        0.10, 0.01);
          f = draft (chamber);
          assert_finite (f);
          g_assert_cmpfloat (f->all.speed_m_s, >, 0.01);
          g_assert_cmpfloat (f->balance.air_residual, <, 1e-6);
        }
    }
}

/* An answer or an error that says why, never anything that is no number. Takes over
 * the chamber. Returns how much the warmest zone is warmer than the room, NAN for an
 * error. */
static double
check_extreme (const char *what, DewChamber *taken)
{
  g_autoptr (DewChamber) chamber = taken;
  g_autoptr (GError) error = NULL;
  g_autoptr (DewForecast) f = NULL;
  DewForecastOptions options;
  double warmest = -G_MAXDOUBLE;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  f = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_test_message ("%s: %s", what, f != NULL ? dew_forecast_state_text (f) : error->message);
  if (f == NULL)
    {
      g_assert_nonnull (error);
      g_assert_cmpint (strlen (error->message), >, 20);
      return NAN;
    }
  assert_finite (f);
  for (int z = 0; z < f->n_zones; z++)
    warmest = MAX (warmest, f->value[DEW_VALUE_TEMPERATURE][z] - f->room_t_C);
  g_assert_cmpfloat (f->all.rh, >=, 0.0);
  g_assert_cmpfloat (f->all.rh, <=, 1.001);
  return warmest;
}

static DewChamber *
film_cabinet (double t_C, double rh)
{
  const double fan[3] = { 0.3, 0.25, 0.5 }, source[3] = { 0.4, 0.25, 1.2 };
  DewChamber *chamber = dew_chamber_new ();

  test_set_room (chamber, t_C, rh);
  test_add_fan (chamber, fan, 0.3, 0.2, 0.12, 0.018);
  test_add_source (chamber, source, 0.1, 5.0, 5e-6);
  return chamber;
}

static void
test_extremes (void)
{
  const double high[3] = { 0.35, 0.25, 1.45 }, low[3] = { 0.35, 0.25, 0.02 };
  DewChamber *chamber;

  check_extreme ("room at 0 % RH", film_cabinet (20.0, 0.0));
  g_assert_true (isfinite (check_extreme ("room at 1 % RH", film_cabinet (20.0, 0.01))));
  g_assert_true (isfinite (check_extreme ("room at 100 % RH", film_cabinet (20.0, 1.0))));
  g_assert_true (isfinite (check_extreme ("room at -20 C", film_cabinet (-20.0, 0.7))));
  g_assert_true (isfinite (check_extreme ("fog at -20 C", film_cabinet (-20.0, 1.0))));
  g_assert_true (isfinite (check_extreme ("room at 45 C", film_cabinet (45.0, 0.9))));

  /* 30 K of warmth: under the roof, where it lies in a layer, and at the floor. */
  chamber = film_cabinet (15.0, 0.5);
  test_add_source (chamber, high, 0.1, 150.0, 0.0);
  g_assert_cmpfloat (check_extreme ("hot cap", chamber), >, 30.0);
  chamber = film_cabinet (15.0, 0.5);
  test_add_source (chamber, low, 0.1, 300.0, 0.0);
  g_assert_cmpfloat (check_extreme ("hot floor", chamber), >, 30.0);

  chamber = film_cabinet (20.0, 0.5);
  test_add_source (chamber, high, 0.1, 0.0, 5e-5);
  g_assert_true (isfinite (check_extreme ("more vapour than the air can hold", chamber)));
  chamber = film_cabinet (20.0, 0.5);
  test_add_source (chamber, high, 0.1, 0.0, 5e-4);
  check_extreme ("a kettle of it", chamber);

  chamber = film_cabinet (20.0, 0.5);
  chamber->leak_area_m2 = 0.0;
  check_extreme ("vapour that nothing lets out", chamber);

  g_assert_cmpfloat (fabs (check_extreme ("nothing at all", test_plain_chamber (0.5, 0.5, 0.5))), <,
                     1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/manners/repeatable", test_repeatable);
  g_test_add_func ("/manners/rest", test_rest);
  g_test_add_func ("/manners/mirror", test_mirror);
  g_test_add_func ("/manners/fan-directions", test_fan_directions);
  g_test_add_func ("/manners/extremes", test_extremes);
  return g_test_run ();
}
