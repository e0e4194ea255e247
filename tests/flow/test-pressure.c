/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The pressure solver on all kinds of zones. The balance of every zone is computed here from
 * the areas of faces, knowing nothing of the solver; the sparse factorisation and mirrored
 * zones give the same. The laws behind it are conservation and symmetry; no source. */

#include "flow/eigen.h"
#include "flow/pressure.h"
#include "published/box-flow.h"
#include "published/plain-box.h"

#include <math.h>
#include <string.h>

/* --- kinds of zones -------------------------------------------------------------------- */

typedef DewZones *(*Make) (int mirror);

static double
turned (double x, double length, gboolean turn)
{
  return turn ? length - x : x;
}

/* A hole in a side wall and one in the roof, mirrored along any axis. */
static void
add_vents (DewChamber *chamber, const double size[3], int mirror)
{
  gboolean tx = mirror == 1, ty = mirror == 2, tz = mirror == 3;
  double y[2] = { turned (0.08, size[1], ty), turned (0.24, size[1], ty) };
  double z[2] = { turned (0.16, size[2], tz), turned (0.30, size[2], tz) };
  double x[2] = { turned (0.10, size[0], tx), turned (0.21, size[0], tx) };

  test_add_hole (chamber, tx ? DEW_FACE_RIGHT : DEW_FACE_LEFT, MIN (y[0], y[1]), MAX (y[0], y[1]),
                 MIN (z[0], z[1]), MAX (z[0], z[1]), 0.6);
  test_add_hole (chamber, tz ? DEW_FACE_FLOOR : DEW_FACE_ROOF, MIN (x[0], x[1]), MAX (x[0], x[1]),
                 MIN (y[0], y[1]), MAX (y[0], y[1]), 0.6);
}

static void
add_board (DewChamber *chamber, const double size[3], int mirror, double z_m, double left_m,
           double front_m)
{
  DewThing shelf;

  dew_thing_init (&shelf, DEW_THING_SHELF);
  shelf.shelf.board = DEW_SHELF_SOLID;
  shelf.shelf.open_ratio = 0.0;
  shelf.shelf.z_m = turned (z_m, size[2], mirror == 3) - 0.5 * shelf.shelf.thickness_m;
  shelf.shelf.gap_left_m = mirror == 1 ? 0.0 : left_m;
  shelf.shelf.gap_right_m = mirror == 1 ? left_m : 0.0;
  shelf.shelf.gap_front_m = mirror == 2 ? 0.0 : front_m;
  shelf.shelf.gap_back_m = mirror == 2 ? front_m : 0.0;
  dew_variant_add (chamber, dew_chamber_shown (chamber), &shelf);
}

static const double size_m[3] = { 0.61, 0.47, 0.83 };

static DewChamber *
plain (void)
{
  return test_plain_chamber (size_m[0], size_m[1], size_m[2]);
}

static DewZones *
cut (DewChamber *taken)
{
  g_autoptr (DewChamber) chamber = taken;

  return dew_zones_new (chamber, dew_chamber_shown (chamber), 0.06);
}

static DewZones *
sealed (int mirror)
{
  return cut (plain ());
}

static DewZones *
vented (int mirror)
{
  DewChamber *chamber = plain ();

  add_vents (chamber, size_m, mirror);
  return cut (chamber);
}

static DewZones *
leaky (int mirror)
{
  DewChamber *chamber = plain ();

  add_vents (chamber, size_m, mirror);
  chamber->leak_area_m2 = 20e-4;
  return cut (chamber);
}

/* So tight that its level hangs by a thread. */
static DewZones *
tight (int mirror)
{
  DewChamber *chamber = plain ();

  chamber->leak_area_m2 = 1e-6;
  return cut (chamber);
}

/* Boards with gaps that lie on no line, mostly closed and mostly open. */
static DewZones *
boards (int mirror)
{
  DewChamber *chamber = plain ();

  add_vents (chamber, size_m, mirror);
  add_board (chamber, size_m, mirror, 0.28, 0.07, 0.0);
  add_board (chamber, size_m, mirror, 0.50, 0.013, 0.05);
  add_board (chamber, size_m, mirror, 0.67, 0.43, 0.0);
  return cut (chamber);
}

/* Boards from wall to wall: three volumes, of which the vents reach one or two and a crack
 * none. */
static DewZones *
parted (int mirror)
{
  DewChamber *chamber = plain ();

  add_vents (chamber, size_m, mirror);
  add_board (chamber, size_m, mirror, 0.36, 0.0, 0.0);
  add_board (chamber, size_m, mirror, 0.60, 0.0, 0.0);
  return cut (chamber);
}

/* The same without any vent, the upper two joined by a gap. */
static DewZones *
parted_sealed (int mirror)
{
  DewChamber *chamber = plain ();

  add_board (chamber, size_m, mirror, 0.36, 0.0, 0.0);
  add_board (chamber, size_m, mirror, 0.60, 0.05, 0.0);
  return cut (chamber);
}

static DewZones *
crowded (int mirror)
{
  const int n[3] = { 9, 1, 12 };
  const double crowding[3] = { 2.0, 0.0, 1.5 };

  return test_box (n, size_m, crowding);
}

/* All of a wall and of the roof open: more faces apart than are worth it. */
static DewZones *
open_wide (int mirror)
{
  DewChamber *chamber = plain ();

  test_add_hole (chamber, mirror == 1 ? DEW_FACE_RIGHT : DEW_FACE_LEFT, 0.0, size_m[1], 0.0,
                 size_m[2], 0.6);
  test_add_hole (chamber, mirror == 2 ? DEW_FACE_BACK : DEW_FACE_FRONT, 0.0, size_m[0], 0.0,
                 size_m[2], 0.6);
  return cut (chamber);
}

static const struct
{
  const char *name;
  Make make;
  gboolean fast;
} kinds[] = {
  { "sealed", sealed, TRUE },        { "vented", vented, TRUE },
  { "leaky", leaky, TRUE },          { "tight", tight, TRUE },
  { "boards", boards, TRUE },        { "parted", parted, TRUE },
  { "crowded", crowded, TRUE },      { "parted-sealed", parted_sealed, TRUE },
  { "open-wide", open_wide, FALSE },
};

/* --- their balance --------------------------------------------------------------------- */

static double
conductance (const DewZones *z, int axis, int i, int j, int k)
{
  int c[3] = { i, j, k }, at = dew_zones_at (z, i, j, k);
  gboolean passes
    = z->kind[axis][at] == DEW_FACE_IS_INSIDE || z->kind[axis][at] == DEW_FACE_IS_ROOM;

  return passes ? z->open_m2[axis][at] / z->gap_m[axis][c[axis]] : 0.0;
}

/* out = -div (open / gap grad phi), phi zero outside. */
static void
outflow (const DewZones *z, const double *phi, double *out)
{
  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int at = dew_zones_at (z, i, j, k);

          out[at] = 0.0;
          for (int a = 0; a < 3; a++)
            {
              double low = conductance (z, a, i, j, k);
              double high = conductance (z, a, i + (a == 0), j + (a == 1), k + (a == 2));

              out[at] += low * (phi[at] - phi[at - z->stride[a]])
                         + high * (phi[at] - phi[at + z->stride[a]]);
            }
        }
}

/* An even number of sources and sinks of all sizes, the same wherever it is called. Made from
 * a field so that every part adds up to zero, as a flow's divergence does. */
static double *
some_source (const DewZones *z, int mirror)
{
  g_autofree double *phi = g_new0 (double, z->size);
  double *source = g_new0 (double, z->size);

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          double x = (mirror == 1 ? z->n[0] + 1 - i : i) * 1.7;
          double y = (mirror == 2 ? z->n[1] + 1 - j : j) * 2.9;
          double h = (mirror == 3 ? z->n[2] + 1 - k : k) * 0.83;

          phi[dew_zones_at (z, i, j, k)] = sin (x * h) + cos (y * y + h) + 0.3 * sin (x + y);
        }
  outflow (z, phi, source);
  return source;
}

static double
largest (const double *a, const double *less, int n)
{
  double most = 0.0;

  for (int i = 0; i < n; i++)
    most = MAX (most, fabs (a[i] - (less != NULL ? less[i] : 0.0)));
  return most;
}

static void
check_balance (DewPressure *pressure, const DewZones *z, const double *source, double *phi)
{
  g_autofree double *out = g_new0 (double, z->size);

  g_assert_nonnull (pressure);
  dew_pressure_solve (pressure, z, source, phi);
  outflow (z, phi, out);
  g_assert_cmpfloat (largest (out, source, z->size), <, 1e-11 * largest (source, NULL, z->size));
}

static void
test_balance (gconstpointer data)
{
  int kind = GPOINTER_TO_INT (data);
  g_autoptr (DewZones) z = kinds[kind].make (0);
  g_autoptr (DewPressure) quick = dew_pressure_new (z);
  g_autoptr (DewPressure) factored = dew_pressure_new_factored (z);
  g_autofree double *source = some_source (z, 0);
  g_autofree double *phi = g_new0 (double, z->size);
  g_autofree double *same = g_new0 (double, z->size);
  double worst;

  check_balance (quick, z, source, phi);
  check_balance (factored, z, source, same);
  g_assert_false (dew_pressure_is_fast (factored));
  worst = largest (phi, same, z->size) / largest (same, NULL, z->size);
  g_test_message ("%s: %d zones, %s, differs from the factorisation by %.2g of the largest",
                  kinds[kind].name, z->n_zones, dew_pressure_is_fast (quick) ? "fast" : "factored",
                  worst);
  g_assert_cmpint (dew_pressure_is_fast (quick), ==, kinds[kind].fast);
  g_assert_cmpfloat (worst, <, 1e-10);
}

/* Only zones are written: the rim stands for the room and stays zero. */
static void
test_rim (gconstpointer data)
{
  g_autoptr (DewZones) z = kinds[GPOINTER_TO_INT (data)].make (0);
  g_autoptr (DewPressure) pressure = dew_pressure_new (z);
  g_autofree double *source = some_source (z, 0);
  g_autofree double *phi = g_new0 (double, z->size);

  dew_pressure_solve (pressure, z, source, phi);
  DEW_EACH_ZONE (z, at)
    phi[at] = 0.0;
  g_assert_cmpfloat (largest (phi, NULL, z->size), ==, 0.0);
}

/* --- mirrors --------------------------------------------------------------------------- */

static void
test_mirror (gconstpointer data)
{
  int kind = GPOINTER_TO_INT (data);
  g_autoptr (DewZones) z = kinds[kind].make (0);
  g_autoptr (DewPressure) pressure = dew_pressure_new (z);
  g_autofree double *source = some_source (z, 0);
  g_autofree double *phi = g_new0 (double, z->size);

  dew_pressure_solve (pressure, z, source, phi);
  for (int mirror = 1; mirror <= 3; mirror++)
    {
      g_autoptr (DewZones) m = kinds[kind].make (mirror);
      g_autoptr (DewPressure) other = dew_pressure_new (m);
      g_autofree double *there = some_source (m, mirror);
      g_autofree double *image = g_new0 (double, m->size);
      double worst = 0.0;

      g_assert_cmpmem (m->n, sizeof m->n, z->n, sizeof z->n);
      dew_pressure_solve (other, m, there, image);
      for (int k = 1; k <= z->n[2]; k++)
        for (int j = 1; j <= z->n[1]; j++)
          for (int i = 1; i <= z->n[0]; i++)
            worst = MAX (worst, fabs (phi[dew_zones_at (z, i, j, k)]
                                      - image[dew_zones_at (m, mirror == 1 ? z->n[0] + 1 - i : i,
                                                            mirror == 2 ? z->n[1] + 1 - j : j,
                                                            mirror == 3 ? z->n[2] + 1 - k : k)]));
      g_test_message ("%s mirrored along axis %d: differs by %.2g of the largest", kinds[kind].name,
                      mirror - 1, worst / largest (phi, NULL, z->size));
      g_assert_cmpfloat (worst, <, 1e-10 * largest (phi, NULL, z->size));
    }
}

/* --- closed parts ---------------------------------------------------------------------- */

/* What is put into a sealed box and not taken out again is met by an even sink, and the
 * level of what cannot have one is zero on the mean of the volume. */
static void
test_closed (void)
{
  g_autoptr (DewZones) z = parted_sealed (0);

  for (int way = 0; way < 2; way++)
    {
      g_autoptr (DewPressure) pressure
        = way == 0 ? dew_pressure_new (z) : dew_pressure_new_factored (z);
      g_autofree double *source = g_new0 (double, z->size);
      g_autofree double *phi = g_new0 (double, z->size);
      g_autofree double *out = g_new0 (double, z->size);
      double below = 0.0, mean[2] = { 0.0 }, most;
      int put = dew_zones_at (z, 2, 2, 2), n_below = 0;

      source[put] = 1.0;
      dew_pressure_solve (pressure, z, source, phi);
      outflow (z, phi, out);
      for (n_below = 1; z->open_m2[2][dew_zones_at (z, 1, 1, n_below + 1)] > 0.0; n_below++)
        ;
      DEW_EACH_ZONE (z, at)
        {
          below += k_ <= n_below ? z->volume_m3[at] : 0.0;
          mean[k_ <= n_below ? 0 : 1] += z->volume_m3[at] * phi[at];
        }
      most = largest (phi, NULL, z->size);
      g_assert_cmpfloat (fabs (mean[0]), <, 1e-11 * below * most);
      g_assert_cmpfloat (fabs (mean[1]), <, 1e-11 * below * most);
      DEW_EACH_ZONE (z, at)
        g_assert_cmpfloat_with_epsilon (out[at],
                                        (at == put ? 1.0 : 0.0)
                                          - (k_ <= n_below ? z->volume_m3[at] / below : 0.0),
                                        1e-11);
    }
}

/* --- modes of a line ------------------------------------------------------------------- */

/* Even cells between closed ends: lambda_m = (2 sin (m pi / 2 n) / h)^2, the discrete cosine
 * transform (Strang, SIAM Review 41, 135-147, 1999; from memory). */
static void
test_line (void)
{
  enum
  {
    N = 23
  };
  const double h = 0.05;
  double width[N], gap[N], lambda[N], v[N * N];

  for (int i = 0; i < N; i++)
    width[i] = gap[i] = h;
  dew_eigen_line (N, width, gap, lambda, v, N);
  for (int m = 0; m < N; m++)
    {
      double root = 2.0 * sin (0.5 * m * G_PI / N) / h;

      g_assert_cmpfloat_with_epsilon (lambda[m], root * root, 1e-12 * lambda[N - 1]);
      for (int o = 0; o < N; o++)
        {
          double sum = 0.0;

          for (int i = 0; i < N; i++)
            sum += width[i] * v[i * N + m] * v[i * N + o];
          g_assert_cmpfloat_with_epsilon (sum, m == o ? 1.0 : 0.0, 1e-13);
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint k = 0; k < G_N_ELEMENTS (kinds); k++)
    {
      const struct
      {
        const char *name;
        GTestDataFunc test;
      } tests[] = { { "balance", test_balance }, { "rim", test_rim }, { "mirror", test_mirror } };

      for (guint t = 0; t < G_N_ELEMENTS (tests); t++)
        {
          g_autofree char *path = g_strdup_printf ("/pressure/%s/%s", tests[t].name, kinds[k].name);

          g_test_add_data_func (path, GINT_TO_POINTER (k), tests[t].test);
        }
    }
  g_test_add_func ("/pressure/closed", test_closed);
  g_test_add_func ("/pressure/line", test_line);
  return g_test_run ();
}
