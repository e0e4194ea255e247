/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The network against exact answers and against another integrator. */
#include "day/net.h"

#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include "moist/moist.h"

#define P_PA 101325.0
#define VOLUME_M3 0.5

static const DewAir air = { .pressure_Pa = P_PA,
                            .density_kg_m3 = 1.2,
                            .specific_heat_J_kgK = 1010.0,
                            .latent_heat_J_kg = 2.45e6 };

/* One bay with what is given; everything else 0. */
typedef struct
{
  double exchange[1], carried[2][1], door[1], heat[1], vapour[1], mist[1], fall[1];
  DewNetDrive drive;
} Box;

static void
box_init (Box *box, const DewSkin *skins)
{
  memset (box, 0, sizeof *box);
  box->drive = (DewNetDrive){ .n_bays = 1,
                              .exchange_m3_s = box->exchange,
                              .carried = { box->carried[0], box->carried[1] },
                              .door_m3_s = box->door,
                              .heat_W = box->heat,
                              .vapour_kg_s = box->vapour,
                              .mist_kg_s = box->mist,
                              .fall_1_s = box->fall,
                              .skins = skins };
}

/* Steps of one length, or as the error allows where dt_s is the first guess. */
static int
march (DewNet *net, double dt_s, double until_s, double tolerance)
{
  double t = 0.0, h = dt_s;
  int n = 0;

  while (t < until_s - 1e-9)
    {
      double step = MIN (h, until_s - t), error = dew_net_try (net, step, tolerance);

      g_assert_true (isfinite (error));
      if (tolerance < INFINITY && error > 1.0)
        {
          h = 0.5 * step;
          continue;
        }
      dew_net_take (net);
      t += step;
      n++;
      if (tolerance < INFINITY && error < 0.25)
        h = MIN (2.0 * h, 600.0);
    }
  return n;
}

/* Air that is only exchanged: dT/dt = (P / rho cp - Q (T - T_room)) / V, whose answer is an
 * exponential (any text on first-order systems). */
static void
test_exponential (void)
{
  Box box;
  double volume = VOLUME_M3, q = 1e-3, power = 4.0, w = 0.006, vapour = 3e-6;
  g_autoptr (DewNet) net = dew_net_new (1, 0, &volume, &air);
  double tau = VOLUME_M3 / q;
  double rise = power / (air.density_kg_m3 * air.specific_heat_J_kgK * q);
  double w_rise = vapour / (air.density_kg_m3 * q);

  box_init (&box, NULL);
  box.exchange[0] = q;
  box.heat[0] = power;
  box.vapour[0] = vapour;
  dew_net_rest (net, NULL, 20.0, w);
  dew_net_drive (net, &box.drive);
  for (int k = 1; k <= 6; k++)
    {
      double grown = 1.0 - exp (-300.0 * k / tau);
      DewNetState s;

      march (net, 5.0, 300.0, 0.05);
      s = dew_net_state (net);
      g_assert_cmpfloat_with_epsilon (s.t_C[0], 20.0 + rise * grown, 2e-3);
      g_assert_cmpfloat_with_epsilon (s.w_kg_kg[0], w + w_rise * grown, 3e-6);
    }
  /* Steps of ten times what the air needs come to the same end. */
  march (net, 10.0 * tau, 400.0 * tau, INFINITY);
  g_assert_cmpfloat_with_epsilon (dew_net_state (net).t_C[0], 20.0 + rise, 1e-6);
}

/* A wall with heat in it and air that follows at once: the wall's time is C / (hA in line with
 * rho cp Q). */
static void
test_slow_wall (void)
{
  DewSkin wall = { .kind = DEW_SKIN_MASS,
                   .panel = -1,
                   .bay = { 0, -1 },
                   .area_m2 = 2.0,
                   .film_W_m2K = 5.0,
                   .capacity_J_K = 5e4 };
  Box box;
  double volume = 1e-4, q = 1e-2, expected, conductance;
  g_autoptr (DewNet) net = dew_net_new (1, 1, &volume, &air);

  box_init (&box, &wall);
  box.exchange[0] = q;
  dew_net_rest (net, &wall, 30.0, 0.005);
  dew_net_set_room (net, 20.0, 0.005);
  dew_net_drive (net, &box.drive);
  march (net, 1.0, 3600.0, 0.05);
  conductance = 1.0 / (1.0 / 10.0 + 1.0 / (air.density_kg_m3 * air.specific_heat_J_kgK * q));
  expected = 20.0 + 10.0 * exp (-3600.0 * conductance / wall.capacity_J_K);
  g_assert_cmpfloat_with_epsilon (dew_net_state (net).skin[0], expected, 0.01);
}

/* Warm air of known wetness over a pane that is kept cold: what condenses is the mass transfer of
 * Chilton & Colburn times the difference of vapour pressures, by hand; and when the pane gets warm
 * all of it is back in the air. */
static void
test_dew_comes_and_goes (void)
{
  DewSkin pane = { .kind = DEW_SKIN_PANEL,
                   .panel = 0,
                   .bay = { 0, -1 },
                   .area_m2 = 0.5,
                   .length_m = 1.0,
                   .facing = DEW_FACING_SIDE,
                   .losing_W_m2K = 2000.0,
                   .gaining_W_m2K = 2000.0,
                   .capacity_J_K = 500.0,
                   .holds_kg = 1.0 };
  Box box;
  double volume = 1e4; /* so much air that it stays as it is */
  g_autoptr (DewNet) net = dew_net_new (1, 1, &volume, &air);
  double t = 20.0, w = dew_moist_w_from_rh (20.0, 0.85, P_PA), t_pane = 10.0;
  DewFilmAir film = dew_film_air (t_pane, P_PA);
  double h, flux, by_hand, water;
  DewNetState s;

  box_init (&box, &pane);
  dew_net_rest (net, &pane, t_pane, w);
  dew_net_set_bay (net, 0, t, w);
  dew_net_set_room (net, t_pane, w);
  dew_net_drive (net, &box.drive);
  march (net, 1.0, 3600.0, 1.0);
  s = dew_net_state (net);
  g_assert_cmpfloat_with_epsilon (s.skin[0], t_pane, 0.1);
  h = dew_film_h (&film, DEW_FACING_SIDE, 1.0, s.skin[0] - t, 0.0);
  flux = dew_film_mass_velocity (&film, h)
         * (dew_moist_p_w_from_w (w, P_PA) - dew_moist_p_sat (s.skin[0]))
         / (461.52 * (0.5 * (t + s.skin[0]) + 273.15));
  by_hand = flux * pane.area_m2 * 3600.0;
  g_assert_cmpfloat (by_hand, >, 0.005);
  g_assert_cmpfloat_with_epsilon (s.skin[1], by_hand, 0.02 * by_hand);
  g_assert_cmpfloat_with_epsilon (s.book[DEW_BOOK_CONDENSED], s.skin[1], 1e-9);

  water = dew_net_water_kg (net);
  dew_net_set_room (net, 35.0, w);
  march (net, 1.0, 12.0 * 3600.0, 1.0);
  s = dew_net_state (net);
  g_assert_cmpfloat (s.skin[1], <, 1e-3 * by_hand);
  g_assert_cmpfloat (s.skin[1], >, -1e-5 * by_hand);
  g_assert_cmpfloat_with_epsilon (dew_net_water_kg (net) / water, 1.0, 1e-12);
}

/* Air that gets more mist than it can take up is full, never fuller, and holds the rest as fog. */
static void
test_fog (void)
{
  Box box;
  double volume = VOLUME_M3;
  g_autoptr (DewNet) net = dew_net_new (1, 0, &volume, &air);
  double energy, water;
  DewNetState s;

  box_init (&box, NULL);
  dew_net_rest (net, NULL, 20.0, 0.010);
  box.mist[0] = 5e-5;
  dew_net_drive (net, &box.drive);
  energy = dew_net_energy_J (net);
  water = dew_net_water_kg (net);
  march (net, 1.0, 120.0, 1.0);
  s = dew_net_state (net);
  g_assert_cmpfloat (s.fog_kg_kg[0], >, 0.0);
  g_assert_cmpfloat_with_epsilon (s.w_kg_kg[0], dew_moist_w_sat (s.t_C[0], P_PA), 1e-7);
  g_assert_cmpfloat_with_epsilon (dew_net_energy_J (net), energy, 1e-9 * fabs (energy));
  g_assert_cmpfloat_with_epsilon (dew_net_water_kg (net), water + 120.0 * 5e-5, 1e-12);
  /* Cooled to its wet bulb by what it took up (ASHRAE Handbook Fundamentals, ch. 1). */
  g_assert_cmpfloat_with_epsilon (s.t_C[0], dew_moist_wet_bulb (20.0, 0.010, P_PA), 0.1);
}

/* --- another integrator ------------------------------------------------------------------- */

/* A reduced enclosure: two bays, cover, a wet pot, leaves, a pot's mass. */
typedef struct
{
  DewSkin skins[6];
  double exchange[4], carried[2][2], door[2], heat[2], vapour[2], mist[2], fall[2], volume[2];
  DewNetDrive drive;
} Reduced;

static void
reduced_init (Reduced *r)
{
  static const DewSkin skins[6] = {
    { .kind = DEW_SKIN_PANEL,
      .panel = 0,
      .bay = { 0, -1 },
      .area_m2 = 1.0,
      .length_m = 0.7,
      .speed_m_s = { 0.1 },
      .losing_W_m2K = 6.0,
      .gaining_W_m2K = 6.0,
      .radiation_W_m2K = 3.0,
      .capacity_J_K = 800.0,
      .holds_kg = 0.1 },
    { .kind = DEW_SKIN_PANEL,
      .panel = 0,
      .bay = { 1, -1 },
      .area_m2 = 1.2,
      .length_m = 0.7,
      .speed_m_s = { 0.05 },
      .losing_W_m2K = 6.0,
      .gaining_W_m2K = 6.0,
      .radiation_W_m2K = 3.0,
      .capacity_J_K = 900.0,
      .holds_kg = 0.1 },
    { .kind = DEW_SKIN_BOARD,
      .panel = -1,
      .bay = { 1, 0 },
      .area_m2 = 0.2,
      .length_m = 0.15,
      .facing = DEW_FACING_UP,
      .speed_m_s = { 0.1, 0.1 },
      .radiation_W_m2K = 5.0,
      .capacity_J_K = 2500.0,
      .holds_kg = 0.1 },
    { .kind = DEW_SKIN_WET,
      .panel = -1,
      .bay = { 0, -1 },
      .area_m2 = 0.1,
      .length_m = 0.1,
      .speed_m_s = { 0.1 },
      .wetted = 0.85,
      .capacity_J_K = 3000.0,
      .holds_kg = 0.5 },
    { .kind = DEW_SKIN_LEAF,
      .panel = -1,
      .bay = { 1, -1 },
      .area_m2 = 0.2,
      .length_m = 0.06,
      .speed_m_s = { 0.1 },
      .light_W = 3.0,
      .conductance_mol_m2s = 0.05,
      .capacity_J_K = 240.0 },
    { .kind = DEW_SKIN_MASS,
      .panel = -1,
      .bay = { 0, -1 },
      .area_m2 = 0.2,
      .film_W_m2K = 7.7,
      .capacity_J_K = 8000.0 },
  };

  memset (r, 0, sizeof *r);
  memcpy (r->skins, skins, sizeof skins);
  memcpy (r->exchange, (double[]){ 3.5e-3, -3e-3, -3e-3, 3.4e-3 }, sizeof r->exchange);
  memcpy (r->volume, (double[]){ 0.25, 0.3 }, sizeof r->volume);
  r->heat[1] = 10.0;
  r->fall[0] = r->fall[1] = 1e-3;
  r->drive = (DewNetDrive){ .n_bays = 2,
                            .exchange_m3_s = r->exchange,
                            .carried = { r->carried[0], r->carried[1] },
                            .door_m3_s = r->door,
                            .heat_W = r->heat,
                            .vapour_kg_s = r->vapour,
                            .mist_kg_s = r->mist,
                            .fall_1_s = r->fall,
                            .given_W = 5.0,
                            .leak_W_K = 0.5,
                            .skins = r->skins,
                            .room_K_s = -4.0 / (4.0 * 3600.0) };
}

static int
rates (realtype t, N_Vector y, N_Vector out, void *net)
{
  dew_net_rates (net, N_VGetArrayPointer (y), N_VGetArrayPointer (out));
  return 0;
}

/* Four hours of it by CVODE (Hindmarsh et al., ACM Trans. Math. Softw. 31, 2005): variable-order
 * backward differences, tolerance 1e-9. */
static void
by_cvode (DewNet *net, double until_s, double *end)
{
  int n = dew_net_size (net);
  SUNContext context;
  N_Vector y;
  SUNMatrix a;
  SUNLinearSolver solver;
  void *cvode;
  realtype t;

  g_assert_cmpint (SUNContext_Create (NULL, &context), ==, 0);
  y = N_VNew_Serial (n, context);
  memcpy (N_VGetArrayPointer (y), dew_net_unknowns (net), sizeof (double) * (gsize) n);
  cvode = CVodeCreate (CV_BDF, context);
  CVodeInit (cvode, rates, 0.0, y);
  CVodeSStolerances (cvode, 1e-9, 1e-10);
  CVodeSetUserData (cvode, net);
  CVodeSetMaxNumSteps (cvode, 200000);
  a = SUNDenseMatrix (n, n, context);
  solver = SUNLinSol_Dense (y, a, context);
  CVodeSetLinearSolver (cvode, solver, a);
  g_assert_cmpint (CVode (cvode, until_s, y, &t, CV_NORMAL), ==, CV_SUCCESS);
  memcpy (end, N_VGetArrayPointer (y), sizeof (double) * (gsize) n);
  CVodeFree (&cvode);
  SUNLinSolFree (solver);
  SUNMatDestroy (a);
  N_VDestroy (y);
  SUNContext_Free (&context);
}

static void
test_against_cvode (void)
{
  const double until_s = 4.0 * 3600.0;
  Reduced r;
  g_autoptr (DewNet) net = NULL;
  g_autofree double *end = NULL;
  double worst_K = 0.0, worst_kg = 0.0;
  int n, steps;

  reduced_init (&r);
  net = dew_net_new (2, 6, r.volume, &air);
  dew_net_rest (net, r.skins, 18.0, dew_moist_w_from_rh (18.0, 0.7, P_PA));
  dew_net_drive (net, &r.drive);
  n = dew_net_size (net);
  end = g_new0 (double, n);
  by_cvode (net, until_s, end);
  steps = march (net, 1.0, until_s, 1.0);
  for (int i = 0; i < n; i++)
    {
      double miss = fabs (dew_net_unknowns (net)[i] - end[i]);

      if (i < 2 || i == 4 || (i >= 7 && (i - 7) % 3 == 0))
        worst_K = MAX (worst_K, miss);
      else if (i >= 7)
        worst_kg = MAX (worst_kg, miss);
    }
  g_test_message ("%d steps; off by %.4f K, %.2e kg", steps, worst_K, worst_kg);
  g_assert_cmpint (steps, <, 400);
  g_assert_cmpfloat (worst_K, <, 0.03);
  g_assert_cmpfloat (worst_kg, <, 2e-4);
}

/* The sums of what passes close at any step, from a second to the longest that a day takes: the air
 * of a bay is replaced four times in that. */
static void
test_conserves (gconstpointer data)
{
  double dt = *(const double *) data, latent = air.latent_heat_J_kg, energy, water, left;
  Reduced r;
  g_autoptr (DewNet) net = NULL;
  const double *k;

  reduced_init (&r);
  r.mist[0] = 2e-5; /* into fog */
  r.vapour[1] = 1e-6;
  r.door[1] = 1e-3;
  r.skins[0].losing_W_m2K = r.skins[0].gaining_W_m2K = 20.0; /* dew */
  net = dew_net_new (2, 6, r.volume, &air);
  dew_net_rest (net, r.skins, 18.0, dew_moist_w_from_rh (18.0, 0.7, P_PA));
  dew_net_drive (net, &r.drive);
  energy = dew_net_energy_J (net);
  water = dew_net_water_kg (net);
  march (net, dt, 4.0 * 3600.0, INFINITY);
  k = dew_net_state (net).book;
  g_assert_cmpfloat (k[DEW_BOOK_CONDENSED], >, 0.0);
  left = dew_net_energy_J (net) - energy - k[DEW_BOOK_HEAT_IN] + k[DEW_BOOK_HEAT_AIR]
         + k[DEW_BOOK_HEAT_COVER] + k[DEW_BOOK_HEAT_WAVES];
  g_assert_cmpfloat (fabs (left), <, 1e-9 * fabs (k[DEW_BOOK_HEAT_AIR]) + latent * 1e-12);
  left = dew_net_water_kg (net) - water - k[DEW_BOOK_WATER_IN] - k[DEW_BOOK_LEAVES]
         + k[DEW_BOOK_WATER_AIR] + k[DEW_BOOK_RUN_OFF] + k[DEW_BOOK_FOG];
  g_assert_cmpfloat (fabs (left), <, 1e-12);
}

int
main (int argc, char **argv)
{
  static const double steps[] = { 1.0, 60.0, 600.0 };

  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/day/net/exponential", test_exponential);
  g_test_add_func ("/day/net/slow-wall", test_slow_wall);
  g_test_add_func ("/day/net/dew", test_dew_comes_and_goes);
  g_test_add_func ("/day/net/fog", test_fog);
  g_test_add_func ("/day/net/cvode", test_against_cvode);
  for (guint n = 0; n < G_N_ELEMENTS (steps); n++)
    {
      g_autofree char *path = g_strdup_printf ("/day/net/conserves/%.0f-s", steps[n]);

      g_test_add_data_func (path, &steps[n], test_conserves);
    }
  return g_test_run ();
}
