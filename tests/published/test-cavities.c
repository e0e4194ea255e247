/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Laminar flow in closed cavities by the program's own solver, with a constant
 * viscosity and central differences: what is left of it then is the momentum, the
 * pressure, the buoyancy and the transport of heat. */

#include "published/box-flow.h"
#include "read-table.h"

#include <math.h>

#define POINTS 130
#define PRANDTL 0.71

static void
laminar_options (DewFlowOptions *options, double viscosity_m2_s)
{
  dew_flow_options_init (options);
  options->viscosity_m2_s = viscosity_m2_s;
  options->central_weight = 1.0;
  options->laminar = TRUE;
  /* Two-dimensional: one layer of zones between two planes of symmetry. */
  options->slip[DEW_FACE_FRONT] = options->slip[DEW_FACE_BACK] = TRUE;
}

static void
check_near (const char *what, double value, double expected, double allowed)
{
  g_test_message ("%s: %.5g, published %.5g, off by %.2g of %.2g", what, value, expected,
                  value - expected, allowed);
  if (!(fabs (value - expected) <= allowed))
    g_test_fail_printf ("%s: %.6g instead of %.6g, allowed %.3g", what, value, expected, allowed);
}

/* --- lid-driven ---------------------------------------------------------------------- */

typedef struct
{
  int points;
  double x_m[POINTS], w_m_s[POINTS]; /* upward along the level midline */
  double z_m[POINTS], u_m_s[POINTS]; /* to the right along the upright one */
} Lid;

/* A unit cavity whose roof slides to the right with 1 m/s. */
static void
solve_lid (int n, double reynolds, Lid *lid)
{
  const int zones_n[3] = { n, 1, n }, most = 6000;
  const double size_m[3] = { 1.0, 1.0, 1.0 }, even[3] = { 0.0, 0.0, 0.0 };
  g_autoptr (DewZones) zones = test_box (zones_n, size_m, even);
  g_autoptr (DewFlow) flow = NULL;
  DewFlowOptions options;

  laminar_options (&options, 1.0 / reynolds);
  options.lid_m_s[DEW_FACE_ROOF][0] = 1.0;
  flow = dew_flow_new (zones, &options, NULL);
  g_assert_cmpint (test_flow_settle (flow, zones, 1.6 / n, most, 2e-5), <, most);
  g_assert_cmpfloat (dew_flow_divergence (flow), <, 1e-9);
  lid->points = test_midline (zones, flow, 0, 2, 0.0, 1.0, lid->z_m, lid->u_m_s);
  test_midline (zones, flow, 2, 0, 0.0, 0.0, lid->x_m, lid->w_m_s);
}

/* Every row of both tables of Ghia, Ghia & Shin, J. Comput. Phys. 48, 387-411, 1982,
 * but for the misprint that the file marks. */
static void
check_lid (const Lid *lid, const char *column, double allowed)
{
  g_autoptr (TestTable) u = test_table_read ("published/ghia1982_u_table1.csv");
  g_autoptr (TestTable) v = test_table_read ("published/ghia1982_v_table2.csv");

  for (guint r = 0; r < u->rows->len; r++)
    check_near (column,
                test_interpolate (lid->z_m, lid->u_m_s, lid->points, test_table_number (u, r, "y")),
                test_table_number (u, r, column), allowed);
  for (guint r = 0; r < v->rows->len; r++)
    if (!g_str_equal (column, "Re400") || test_table_number (v, r, "use_Re400") > 0.0)
      check_near (column,
                  test_interpolate (lid->x_m, lid->w_m_s, lid->points,
                                    test_table_number (v, r, "x")),
                  test_table_number (v, r, column), allowed);
}

/* The bands are the accuracy of the tables themselves against converged solutions
 * (own computation on 129 x 129 nodes beside them in the files). */
static void
test_lid_100 (void)
{
  Lid lid;

  solve_lid (40, 100.0, &lid);
  check_lid (&lid, "Re100", 0.010);
}

/* Also the order of convergence: twice the zones, error of the extreme velocities
 * against the same paper a quarter. Its Table I has u_min -0.32726, Table II v_min
 * -0.44993, and their own error leaves room for 1.6 only. */
static void
test_lid_400 (void)
{
  static const double u_min = -0.32726, v_min = -0.44993;
  Lid coarse, fine;
  double error[2][2], where;
  const Lid *lids[2] = { &coarse, &fine };

  solve_lid (32, 400.0, &coarse);
  solve_lid (64, 400.0, &fine);
  check_lid (&fine, "Re400", 0.008);
  for (int g = 0; g < 2; g++)
    {
      error[g][0]
        = fabs (test_peak (lids[g]->z_m, lids[g]->u_m_s, lids[g]->points, -1.0, &where) - u_min);
      error[g][1]
        = fabs (test_peak (lids[g]->x_m, lids[g]->w_m_s, lids[g]->points, -1.0, &where) - v_min);
    }
  for (int c = 0; c < 2; c++)
    {
      double order = log2 (error[0][c] / error[1][c]);

      g_test_message ("order of convergence %.2f", order);
      g_assert_cmpfloat (order, >, 1.6);
    }
}

/* --- heated from the side ------------------------------------------------------------ */

/* Unit cavity, 1 K between the walls, unit buoyancy: Ra sets the diffusivities. */
static TestHeated *
heated_new (const int n[3], const double size_m[3], double crowding, double rayleigh,
            gboolean slip_sides)
{
  const double crowd[3] = { crowding, 0.0, crowding };
  double diffusivity = 1.0 / sqrt (rayleigh * PRANDTL);
  DewFlowOptions options;

  laminar_options (&options, PRANDTL * diffusivity);
  options.slip[DEW_FACE_LEFT] = options.slip[DEW_FACE_RIGHT] = slip_sides;
  return test_heated_new (test_box (n, size_m, crowd), &options, diffusivity, 1.0);
}

/* de Vahl Davis, Int. J. Numer. Methods Fluids 3, 249-264, 1983, Table V, within
 * 1, 2, 3, 6 %: mean Nusselt number, the largest velocity along both midlines and
 * where it is. */
static void
test_heated_cavity (gconstpointer data)
{
  g_autoptr (TestTable) table = test_table_read ("published/devahldavis1983_table5.csv");
  static const struct
  {
    int n;
    double band, dt_s;
  } by_row[4] = { { 32, 0.01, 0.3 }, { 32, 0.02, 0.3 }, { 40, 0.03, 0.2 }, { 48, 0.06, 0.1 } };
  const int r = GPOINTER_TO_INT (data), n = by_row[r].n, most = 20000;
  const int zones_n[3] = { n, 1, n };
  const double size_m[3] = { 1.0, 1.0, 1.0 };
  double band = by_row[r].band;
  g_autoptr (TestHeated) heated
    = heated_new (zones_n, size_m, 1.2, test_table_number (table, r, "Ra"), FALSE);
  double x[POINTS], u[POINTS], at, peak, expected;
  int points;

  test_heated_set_wall (heated, DEW_FACE_LEFT, 0.5);
  test_heated_set_wall (heated, DEW_FACE_RIGHT, -0.5);
  g_assert_cmpint (test_heated_settle (heated, by_row[r].dt_s, most, 2e-5), <, most);

  expected = test_table_number (table, r, "Nu_mean");
  peak = test_heated_wall_K_m3_s (heated, DEW_FACE_LEFT, 0.5) / heated->diffusivity_m2_s;
  check_near ("Nu", peak, expected, band * expected);
  points = test_midline (heated->zones, heated->flow, 0, 2, 0.0, 0.0, x, u);
  peak = test_peak (x, u, points, 1.0, &at) / heated->diffusivity_m2_s;
  expected = test_table_number (table, r, "u_max");
  check_near ("u_max", peak, expected, band * expected);
  check_near ("its height", at, test_table_number (table, r, "z_u_max"), band);
  points = test_midline (heated->zones, heated->flow, 2, 0, 0.0, 0.0, x, u);
  peak = test_peak (x, u, points, 1.0, &at) / heated->diffusivity_m2_s;
  expected = test_table_number (table, r, "w_max");
  check_near ("w_max", peak, expected, band * expected);
  check_near ("its distance", at, test_table_number (table, r, "x_w_max"), band);
}

/* A narrow tall slot between a warm and a cold wall: all heat is conducted, and
 * w = (g beta dT W^2 / nu) (s^3 / 6 - s / 24), s = x / W - 1/2, so the largest is
 * g beta dT W^2 / (72 sqrt(3) nu) at s = -+ 1 / (2 sqrt(3)). Batchelor, Q. Appl.
 * Math. 12, 209-233, 1954 (from memory; follows from the two balances). 2 %. */
static void
test_slot (void)
{
  const int zones_n[3] = { 20, 1, 60 }, most = 5000;
  const double width = 0.010, size_m[3] = { width, width, 0.3 }, even[3] = { 0.0, 0.0, 0.0 };
  const double viscosity = 1.5e-5, difference = 5.0, lift = 9.81 / 293.15;
  double exact = lift * difference * width * width / (72.0 * sqrt (3.0) * viscosity);
  double conducted = viscosity / PRANDTL * difference / width * size_m[1] * size_m[2];
  double x[POINTS], w[POINTS], at, peak;
  g_autoptr (TestHeated) heated = NULL;
  DewFlowOptions options;

  laminar_options (&options, viscosity);
  heated = test_heated_new (test_box (zones_n, size_m, even), &options, viscosity / PRANDTL, lift);
  test_heated_set_wall (heated, DEW_FACE_LEFT, 0.5 * difference);
  test_heated_set_wall (heated, DEW_FACE_RIGHT, -0.5 * difference);
  g_assert_cmpint (test_heated_settle (heated, 0.1, most, 1e-5), <, most);

  int points = test_midline (heated->zones, heated->flow, 2, 0, 0.0, 0.0, x, w);

  peak = test_peak (x, w, points, 1.0, &at);
  check_near ("upward", peak, exact, 0.02 * exact);
  check_near ("its place", at / width - 0.5, -0.5 / sqrt (3.0), 0.01);
  peak = test_peak (x, w, points, -1.0, &at);
  check_near ("downward", peak, -exact, 0.02 * exact);
  check_near ("its place", at / width - 0.5, 0.5 / sqrt (3.0), 0.01);
  for (int i = 0; i < points; i++)
    {
      double s = x[i] / width - 0.5;

      check_near ("profile", w[i], exact * 72.0 * sqrt (3.0) * (s * s * s / 6.0 - s / 24.0),
                  0.02 * exact);
    }
  /* The ends of the slot turn the air round, which adds a little. */
  check_near ("Nu", test_heated_wall_K_m3_s (heated, DEW_FACE_LEFT, 0.5 * difference) / conducted,
              1.0, 0.02);
}

/* --- heated from below --------------------------------------------------------------- */

/* Growth per second of a small roll in a layer at rest. */
static double
growth_1_s (double rayleigh, double width, gboolean slip_sides, double *nusselt)
{
  const int zones_n[3] = { 24, 1, 24 };
  const double size_m[3] = { width, 1.0, 1.0 };
  const double dt = 0.5;
  const int steps = 300;
  g_autoptr (TestHeated) heated = heated_new (zones_n, size_m, 0.0, rayleigh, slip_sides);
  const DewZones *z = heated->zones;
  double largest[2] = { 0.0, 0.0 };

  test_heated_set_wall (heated, DEW_FACE_FLOOR, 0.5);
  test_heated_set_wall (heated, DEW_FACE_ROOF, -0.5);
  for (int k = 1; k <= z->n[2]; k++)
    for (int i = 1; i <= z->n[0]; i++)
      heated->t_K[dew_zones_at (z, i, 1, k)]
        = 0.5 - z->middle_m[2][k]
          + 1e-4 * cos (G_PI * z->middle_m[0][i] / width) * sin (G_PI * z->middle_m[2][k]);
  test_heated_march (heated, dt, steps);
  for (int part = 0; part < 2; part++)
    {
      test_heated_march (heated, dt, steps);
      for (int at = 0; at < z->size; at++)
        largest[part] = MAX (largest[part], dew_flow_speed (heated->flow)[at]);
    }
  *nusselt
    = test_heated_wall_K_m3_s (heated, DEW_FACE_FLOOR, 0.5) / (heated->diffusivity_m2_s * width);
  return log (largest[1] / largest[0]) / (steps * dt);
}

/* The Rayleigh number at which a roll neither grows nor dies, by a straight line
 * between one below and one above. */
static double
onset (double below, double above, double width, gboolean slip_sides)
{
  double nusselt, low = growth_1_s (below, width, slip_sides, &nusselt);
  double high = growth_1_s (above, width, slip_sides, &nusselt);

  g_assert_cmpfloat (low, <, 0.0);
  g_assert_cmpfloat (high, >, 0.0);
  return below + (above - below) * -low / (high - low);
}

/* Square box, insulated sides: Ra 2585.02 (a published value of the linear theory of
 * boxes; seen quoted, after Gelfgat, J. Comput. Phys. 156, 1999, from memory). */
static void
test_onset_box (void)
{
  double nusselt;

  check_near ("onset in a square box", onset (2400.0, 2800.0, 1.0, FALSE), 2585.02, 0.02 * 2585.02);
  /* Well below nothing moves, well above heat is carried. */
  g_assert_cmpfloat (growth_1_s (2000.0, 1.0, FALSE, &nusselt), <, 0.0);
  check_near ("Nu at rest", nusselt, 1.0, 1e-6);
  growth_1_s (6000.0, 1.0, FALSE, &nusselt);
  g_assert_cmpfloat (nusselt, >, 1.3);
}

/* Infinite layer between rigid plates: Ra 1707.76 for rolls of wave number 3.117
 * (Chandrasekhar, Hydrodynamic and Hydromagnetic Stability, 1961, ch. II; from
 * memory). Half a wave length between two planes of symmetry is that layer. */
static void
test_onset_layer (void)
{
  check_near ("onset in a layer", onset (1600.0, 1800.0, G_PI / 3.117, TRUE), 1707.76,
              0.02 * 1707.76);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cavities/lid/re100", test_lid_100);
  g_test_add_func ("/cavities/lid/re400", test_lid_400);
  g_test_add_data_func ("/cavities/heated/ra1e3", GINT_TO_POINTER (0), test_heated_cavity);
  g_test_add_data_func ("/cavities/heated/ra1e4", GINT_TO_POINTER (1), test_heated_cavity);
  g_test_add_data_func ("/cavities/heated/ra1e5", GINT_TO_POINTER (2), test_heated_cavity);
  g_test_add_data_func ("/cavities/heated/ra1e6", GINT_TO_POINTER (3), test_heated_cavity);
  g_test_add_func ("/cavities/slot", test_slot);
  g_test_add_func ("/cavities/onset/box", test_onset_box);
  g_test_add_func ("/cavities/onset/layer", test_onset_layer);
  return g_test_run ();
}
