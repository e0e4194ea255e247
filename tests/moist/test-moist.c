/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "moist/moist.h"

#include "read-table.h"

#include <math.h>
#include <string.h>

#define P0 101325.0

/* The relative tolerance is of the expected value. */
static void
check (const char *what, double value, double expected, double relative, double absolute)
{
  double allowed = relative * fabs (expected) + absolute;

  if (!(fabs (value - expected) <= allowed))
    g_test_fail_printf ("%s: %.10g instead of %.10g, off by %.3g, allowed %.3g", what, value,
                        expected, value - expected, allowed);
}

/* Rows of psychrolib's own test suite; the handbook's tables are named in the
 * column "handbook" (ASHRAE Handbook Fundamentals 2017 ch. 1). */
static gboolean
psychrolib_row (const char *quantity, const char *input, double p_Pa, double *value)
{
  double a = g_ascii_strtod (input, NULL);
  double w = dew_moist_w_from_wet_bulb (40.0, 20.0, p_Pa);

  if (!strcmp (quantity, "GetSatVapPres"))
    *value = dew_moist_p_sat (a);
  else if (!strcmp (quantity, "GetSatHumRatio"))
    *value = dew_moist_w_sat (a, p_Pa);
  else if (!strcmp (quantity, "GetSatAirEnthalpy"))
    *value = dew_moist_enthalpy (a, dew_moist_w_sat (a, p_Pa));
  else if (!strcmp (quantity, "GetHumRatioFromVapPres"))
    *value = dew_moist_w_from_p_w (a, p_Pa);
  else if (!strcmp (quantity, "GetHumRatioFromTWetBulb"))
    *value = dew_moist_w_from_wet_bulb (a, g_ascii_strtod (strchr (input, '/') + 1, NULL), p_Pa);
  else if (!strcmp (quantity, "GetTWetBulbFromRelHum"))
    *value = dew_moist_wet_bulb (7.0, dew_moist_w_from_rh (7.0, 0.61, p_Pa), p_Pa);
  else if (!strcmp (quantity, "GetDryAirEnthalpy"))
    *value = dew_moist_enthalpy (a, 0.0);
  else if (!strcmp (quantity, "GetDryAirVolume"))
    *value = dew_moist_volume (a, 0.0, p_Pa);
  else if (!strcmp (quantity, "GetMoistAirEnthalpy"))
    *value = dew_moist_enthalpy (30.0, 0.02);
  else if (!strcmp (quantity, "GetMoistAirVolume"))
    *value = dew_moist_volume (30.0, 0.02, p_Pa);
  else if (!strcmp (quantity, "GetStandardAtmPressure"))
    *value = dew_moist_pressure (a);
  else if (!strcmp (quantity, "Example 1: W"))
    *value = w;
  else if (!strcmp (quantity, "Example 1: dew point"))
    *value = dew_moist_dew_point (w, p_Pa);
  else if (!strcmp (quantity, "Example 1: RH"))
    *value = dew_moist_rh_from_w (40.0, w, p_Pa);
  else if (!strcmp (quantity, "Example 1: h"))
    *value = dew_moist_enthalpy (40.0, w);
  else if (!strcmp (quantity, "Example 1: v"))
    *value = dew_moist_volume (40.0, w, p_Pa);
  else
    return FALSE;
  return TRUE;
}

static void
test_library_rows (void)
{
  g_autoptr (TestTable) table = test_table_read ("moist/psychrolib_test_values.csv");

  for (guint row = 0; row < table->rows->len; row++)
    {
      const char *quantity = test_table_text (table, row, "quantity");
      const char *tolerance = test_table_text (table, row, "tolerance");
      double by = g_ascii_strtod (tolerance + 4, NULL);
      double value = NAN;

      g_assert_true (g_str_has_prefix (tolerance, "abs ") || g_str_has_prefix (tolerance, "rel "));
      g_assert_true (psychrolib_row (quantity, test_table_text (table, row, "input"),
                                     test_table_number (table, row, "pressure_Pa"), &value));
      check (quantity, value, test_table_number (table, row, "expected"),
             tolerance[0] == 'r' ? by : 0.0, tolerance[0] == 'a' ? by : 0.0);
    }
}

static void
test_saturation_rows (void)
{
  g_autoptr (TestTable) table = test_table_read ("moist/psychrometrics_saturation.csv");

  for (guint row = 0; row < table->rows->len; row++)
    {
      double t_C = test_table_number (table, row, "t_C");
      double p_sat = dew_moist_p_sat (t_C);
      double w = dew_moist_w_sat (t_C, P0);
      double h_kJ_kg = dew_moist_enthalpy (t_C, w) / 1000.0;
      double v = dew_moist_volume (t_C, w, P0);

      /* The row of 0 C is over ice there, over water here: 0.06 Pa apart. */
      check ("pws", p_sat, test_table_number (table, row, "pws_HW_Pa"), 0.0,
             t_C > 0.0 ? 0.006 : 0.07);
      /* Two formulations of one property, from memory. */
      check ("pws IAPWS", p_sat, test_table_number (table, row, "pws_IAPWS_Pa"), 3e-4, 0.0);
      if (!isnan (test_table_number (table, row, "pws_tab3_2017_Pa")))
        {
          /* ASHRAE Handbook Fundamentals 2017 ch. 1 Tables 3 and 2. */
          check ("pws 2017", p_sat, test_table_number (table, row, "pws_tab3_2017_Pa"), 3e-4, 0.0);
          check ("Ws 2017", w, test_table_number (table, row, "Ws_tab2_2017"), 6e-3, 0.0);
          check ("hs 2017", h_kJ_kg, test_table_number (table, row, "hs_tab2_2017_kJkg"), 5e-3,
                 0.0);
        }
      /* Table 2 of the editions 1985 to 2005, from memory. The bands are the
       * enhancement factor that an ideal mixture lacks. */
      check ("Ws", w, test_table_number (table, row, "Ws_tab_mem"), 6e-3, 0.0);
      check ("hs", h_kJ_kg, test_table_number (table, row, "hs_tab_mem_kJkg"), 5e-3, 0.0);
      check ("vs", v, test_table_number (table, row, "vs_tab_mem_m3kg"), 1e-3, 0.0);
      check ("Ws ideal", w, test_table_number (table, row, "Ws_ideal"), 1e-4, 6e-7);
      check ("hs ideal", h_kJ_kg, test_table_number (table, row, "hs_ideal_kJkg"), 0.0, 2e-3);
      check ("vs ideal", v, test_table_number (table, row, "vs_ideal_m3kg"), 0.0, 1e-4);
    }
}

/* Computed with npm psychrolib 1.1.1. */
static void
test_state_rows (void)
{
  g_autoptr (TestTable) table = test_table_read ("moist/psychrometrics_states.csv");

  for (guint row = 0; row < table->rows->len; row++)
    {
      double t_C = test_table_number (table, row, "t_C");
      double rh = test_table_number (table, row, "RH");
      double w = dew_moist_w_from_rh (t_C, rh, P0);

      check ("W", w, test_table_number (table, row, "W"), 0.0, 6e-7);
      check ("dew", dew_moist_dew_point (w, P0), test_table_number (table, row, "t_dew_C"), 0.0,
             2e-3);
      check ("wet", dew_moist_wet_bulb (t_C, w, P0), test_table_number (table, row, "t_wet_C"), 0.0,
             2e-3);
      check ("h", dew_moist_enthalpy (t_C, w) / 1000.0, test_table_number (table, row, "h_kJkg"),
             0.0, 6e-4);
      check ("v", dew_moist_volume (t_C, w, P0), test_table_number (table, row, "v_m3kg"), 0.0,
             6e-6);
      check ("vpd", dew_moist_vpd (t_C, w, P0), test_table_number (table, row, "vpd_Pa"), 0.0,
             0.06);
      check ("g/m3", dew_moist_vapour_density (t_C, w, P0) * 1000.0,
             test_table_number (table, row, "abs_hum_g_m3"), 0.0, 1e-3);
    }
}

/* 3000 random states, -10..45 C, 1..100 % RH, 0..4000 m, npm psychrolib 1.1.1
 * (freeze-psychrolib.mjs). That library looks for wet bulb and dew point by
 * halving to 0.001 K. */
static void
test_frozen_states (void)
{
  g_autoptr (TestTable) table = test_table_read ("moist/psychrolib_states.csv");
  guint frozen = 0;

  g_assert_cmpuint (table->rows->len, ==, 3000);
  for (guint row = 0; row < table->rows->len; row++)
    {
      double t_C = test_table_number (table, row, "t_C");
      double rh = test_table_number (table, row, "rh");
      double p_Pa = test_table_number (table, row, "p_Pa");
      double w = dew_moist_w_from_rh (t_C, rh, p_Pa);
      double wet_C = test_table_number (table, row, "wet_C");
      /* That library keeps to ice up to the triple point, 0.01 C. */
      double same = t_C >= 0.0 && t_C <= 0.01 ? 2e-4 : 1e-7;

      check ("w", w, test_table_number (table, row, "w_kg_kg"), same, 0.0);
      check ("rh", dew_moist_rh_from_w (t_C, w, p_Pa), rh, 1e-12, 0.0);
      check ("dew", dew_moist_dew_point (w, p_Pa), test_table_number (table, row, "dew_C"), 0.0,
             1.5e-3);
      if (wet_C < 0.0 && dew_moist_wet_bulb (t_C, w, p_Pa) >= 0.0)
        {
          /* A frozen and a liquid wick fit this air; that library found the
           * other one, which must fit our relation as well. */
          check ("wet, frozen", dew_moist_w_from_wet_bulb (t_C, wet_C, p_Pa), w, 0.0, 1e-6);
          frozen++;
        }
      else
        check ("wet", dew_moist_wet_bulb (t_C, w, p_Pa), wet_C, 0.0, 1.5e-3);
      check ("h", dew_moist_enthalpy (t_C, w), test_table_number (table, row, "h_J_kg"), same,
             0.01);
      check ("v", dew_moist_volume (t_C, w, p_Pa), test_table_number (table, row, "v_m3_kg"), same,
             0.0);
      check ("vpd", dew_moist_vpd (t_C, w, p_Pa), test_table_number (table, row, "vpd_Pa"), same,
             1e-3);
    }
  g_assert_cmpuint (frozen, <, 30);
}

static void
test_points (void)
{
  double w;

  /* ASHRAE Handbook Fundamentals 2017 ch. 1 Example 1 (rows of the table too),
   * with psychrolib's digits. */
  w = dew_moist_w_from_wet_bulb (40.0, 20.0, P0);
  check ("PC2 W", w, 0.0064008, 1e-4, 0.0);
  check ("PC2 dew", dew_moist_dew_point (w, P0), 7.4336, 1e-4, 1e-3);
  check ("PC2 RH", dew_moist_rh_from_w (40.0, w, P0), 0.13980, 1e-4, 0.0);
  check ("PC2 h", dew_moist_enthalpy (40.0, w), 56724.6, 1e-4, 0.0);
  check ("PC2 v", dew_moist_volume (40.0, w, P0), 0.896248, 1e-4, 0.0);
  check ("PC2 pw", dew_moist_p_w_from_w (w, P0), 1032.17, 1e-4, 0.0);

  /* psychrolib's test suite. */
  check ("PC3", dew_moist_w_from_wet_bulb (30.0, 25.0, 95461.0), 0.0192281, 3e-4, 0.0);
  check ("PC4", dew_moist_w_from_wet_bulb (-1.0, -5.0, 95461.0), 0.00120400, 3e-4, 0.0);
  check ("PC5", dew_moist_w_from_p_w (3169.7, 95461.0), 0.02136040, 1e-6, 0.0);
  w = dew_moist_w_from_rh (7.0, 0.61, 100000.0);
  check ("PC6", dew_moist_wet_bulb (7.0, w, 100000.0), 3.92667, 1e-3, 0.0);
  check ("PC7", dew_moist_w_from_enthalpy (81316.0, 30.0), 0.0200, 1e-3, 0.0);

  /* IAPWS-IF97 region 4 at 300 K (IAPWS R7-97(2012) Table 35) and IAPWS
   * R14-08(2011) over ice at 230 K: other formulations of the same property. */
  check ("PC9", dew_moist_p_sat (300.0 - 273.15), 3536.58941, 1e-3, 0.0);
  check ("PC10", dew_moist_p_sat (230.0 - 273.15), 8.94735, 1e-3, 0.0);

  /* npm psychrolib 1.1.1: PC11 to PC13. */
  {
    static const double rows[3][9] = {
      { 20, 0.5, 0.007262, 9.272, 13.783, 38.552, 0.84016, 1169.4, 8.643 },
      { 22, 0.6, 0.009895, 13.886, 16.874, 47.285, 0.84943, 1057.9, 11.649 },
      { 25, 0.8, 0.015962, 21.309, 22.380, 65.813, 0.86630, 633.8, 18.425 },
    };
    for (int i = 0; i < 3; i++)
      {
        const double *r = rows[i];
        w = dew_moist_w_from_rh (r[0], r[1], P0);
        check ("PC11 W", w, r[2], 5e-4, 0.0);
        check ("PC11 dew", dew_moist_dew_point (w, P0), r[3], 5e-4, 0.0);
        check ("PC11 wet", dew_moist_wet_bulb (r[0], w, P0), r[4], 5e-4, 0.0);
        check ("PC11 h", dew_moist_enthalpy (r[0], w) / 1000.0, r[5], 5e-4, 0.0);
        check ("PC11 v", dew_moist_volume (r[0], w, P0), r[6], 5e-4, 0.0);
        check ("PC11 vpd", dew_moist_vpd (r[0], w, P0), r[7], 5e-4, 0.0);
        check ("PC11 g/m3", dew_moist_vapour_density (r[0], w, P0) * 1000.0, r[8], 5e-4, 0.0);
      }
  }
}

/* Allen et al., FAO Irrigation and Drainage Paper 56, 1998. Its saturation
 * formula (Tetens) is another one, 0.03 to 0.13 % off. */
static void
test_fao56 (void)
{
  g_autoptr (TestTable) table = test_table_read ("moist/fao56_examples.csv");
  int seen = 0;

  for (guint row = 0; row < table->rows->len; row++)
    {
      const char *quantity = test_table_text (table, row, "quantity");
      double expected = test_table_number (table, row, "expected");

      if (g_str_has_prefix (quantity, "e0("))
        {
          double t_C = g_ascii_strtod (quantity + 3, NULL);
          check (quantity, dew_moist_p_sat (t_C) / 1000.0, expected, 1.5e-3, 5e-4);
          seen++;
        }
      else if (g_str_has_prefix (quantity, "slope of e0"))
        {
          check (quantity, dew_moist_p_sat_slope (30.2) / 1000.0, expected, 2e-3, 5e-4);
          seen++;
        }
      else if (g_str_has_prefix (quantity, "pressure at 1800 m"))
        {
          /* FAO-56 eq 7 takes a warmer standard atmosphere (20 C). */
          check (quantity, dew_moist_pressure (1800.0) / 1000.0, expected, 5e-3, 0.0);
          seen++;
        }
      else if (g_str_has_prefix (quantity, "ea from dew point"))
        {
          check (quantity, dew_moist_p_sat (14.8) / 1000.0, expected, 1.5e-3, 5e-3);
          seen++;
        }
    }
  g_assert_cmpint (seen, ==, 6);

  /* Example 4, PC8: a fan psychrometer at 1200 m reads 25.6 and 19.5 C. */
  check ("PC8",
         dew_moist_p_w_from_w (dew_moist_w_from_wet_bulb (25.6, 19.5, 87900.0), 87900.0) / 1000.0,
         1.91, 5e-3, 5e-3);
  /* FAO-56 eq 3-1 (Harrison 1963), from memory. */
  for (double t_C = 0.0; t_C <= 50.0; t_C += 5.0)
    check ("latent heat", dew_moist_latent_heat (t_C), 2.501e6 - 2361.0 * t_C, 1e-3, 0.0);
}

/* Buoyancy of vapour: virtual temperature T (1 + 0.608 q), any meteorology text
 * (WMO Guide No. 8), from memory; the numbers are that formula's. */
static void
test_virtual_temperature (void)
{
  static const double rows[2][5] = {
    { 20.0, 0.50, 0.85, 0.00305, 0.90 },
    { 24.0, 0.45, 0.90, 0.00501, 1.49 },
  };

  for (int i = 0; i < 2; i++)
    {
      double t_C = rows[i][0];
      double w0 = dew_moist_w_from_rh (t_C, rows[i][1], P0);
      double w1 = dew_moist_w_from_rh (t_C, rows[i][2], P0);
      double lighter = 1.0 - dew_moist_density (t_C, w1, P0) / dew_moist_density (t_C, w0, P0);

      check ("lift", lighter, rows[i][3], 0.03, 0.0);
      check ("lift in K", dew_moist_t_virtual (t_C, w1) - dew_moist_t_virtual (t_C, w0), rows[i][4],
             0.03, 0.0);
      /* Definition: dry air at the virtual temperature has the same density. */
      check ("density", dew_moist_density (dew_moist_t_virtual (t_C, w1), 0.0, P0),
             dew_moist_density (t_C, w1, P0), 1e-6, 0.0);
    }
}

/* U.S. Standard Atmosphere 1976: sea level, 15 C: dynamic viscosity 1.7894e-5
 * Pa s, conductivity 0.025326 W/mK, density 1.2250 kg/m3 (from memory). Water
 * vapour in air 25 C: 0.26e-4 m2/s at 298 K, Incropera Table A.8, from memory,
 * which is 4 % above the formula. */
static void
test_transport_properties (void)
{
  check ("viscosity", dew_moist_viscosity (15.0, P0), 1.7894e-5 / 1.2250, 3e-4, 0.0);
  check ("conductivity", dew_moist_conductivity (15.0), 0.025326, 1e-4, 0.0);
  check ("vapour in air", dew_moist_vapour_diffusivity (25.0, P0), 2.6e-5, 0.05, 0.0);
  /* Prandtl number of air near 300 K 0.707, Incropera Table A.4, from memory. */
  check ("Pr", dew_moist_viscosity (26.85, P0) / dew_moist_thermal_diffusivity (26.85, P0), 0.707,
         0.01, 0.0);
  /* All three go with 1/p (kinetic theory of gases). */
  check ("1/p", dew_moist_viscosity (20.0, P0 / 2.0), 2.0 * dew_moist_viscosity (20.0, P0), 1e-12,
         0.0);
  check ("1/p", dew_moist_vapour_diffusivity (20.0, P0 / 2.0),
         2.0 * dew_moist_vapour_diffusivity (20.0, P0), 1e-12, 0.0);
  check ("1/p", dew_moist_thermal_diffusivity (20.0, P0 / 2.0),
         2.0 * dew_moist_thermal_diffusivity (20.0, P0), 1e-12, 0.0);
}

/* Every inverse undoes its relation, over the whole range and across 0 C. */
static void
test_inverses (void)
{
  for (double t_C = -60.0; t_C <= 60.0; t_C += 0.37)
    {
      double near = 1e-4;

      check ("dew of p_sat", dew_moist_dew_point_from_p (dew_moist_p_sat (t_C)), t_C, 0.0, 1e-8);
      /* The slope against the chord (not across the kink at 0 C). */
      if (fabs (t_C) > 2.0 * near)
        check ("slope", dew_moist_p_sat_slope (t_C),
               (dew_moist_p_sat (t_C + near) - dew_moist_p_sat (t_C - near)) / (2.0 * near), 1e-6,
               1e-9);
      for (double rh = 0.02; rh <= 1.0; rh += 0.07)
        {
          double w = dew_moist_w_from_rh (t_C, rh, 90000.0);
          double wet_C = dew_moist_wet_bulb (t_C, w, 90000.0);

          g_assert_cmpfloat (wet_C, <=, t_C + 1e-9);
          g_assert_cmpfloat (wet_C, >=, dew_moist_dew_point (w, 90000.0) - 1e-9);
          check ("w of wet bulb", dew_moist_w_from_wet_bulb (t_C, wet_C, 90000.0), w, 1e-7, 1e-11);
          check ("p_w", dew_moist_w_from_p_w (dew_moist_p_w_from_w (w, 9e4), 9e4), w, 1e-12, 0.0);
          check ("t of h", dew_moist_t_from_enthalpy (dew_moist_enthalpy (t_C, w), w), t_C, 1e-10,
                 1e-10);
          check ("w of h", dew_moist_w_from_enthalpy (dew_moist_enthalpy (t_C, w), t_C), w, 1e-9,
                 1e-12);
        }
    }
  /* Saturated air is its own wet bulb and dew point. */
  check ("wet", dew_moist_wet_bulb (18.0, dew_moist_w_sat (18.0, P0), P0), 18.0, 0.0, 1e-8);
  check ("dew", dew_moist_dew_point (dew_moist_w_sat (18.0, P0), P0), 18.0, 0.0, 1e-8);
  /* Bone-dry air still has a wet bulb, if no dew point. */
  g_assert_cmpfloat (dew_moist_wet_bulb (25.0, 0.0, P0), <, 10.0);
}

/* Out of range means NAN, never a number. */
static void
test_out_of_range (void)
{
  g_assert_true (isnan (dew_moist_p_sat (-100.5)));
  g_assert_true (isnan (dew_moist_p_sat (200.5)));
  g_assert_true (isnan (dew_moist_p_sat (NAN)));
  g_assert_true (isnan (dew_moist_p_sat_slope (300.0)));
  g_assert_true (isnan (dew_moist_dew_point_from_p (0.0)));
  g_assert_true (isnan (dew_moist_dew_point_from_p (-1.0)));
  g_assert_true (isnan (dew_moist_dew_point_from_p (1e8)));
  g_assert_true (isnan (dew_moist_dew_point_from_p (NAN)));
  g_assert_true (isnan (dew_moist_dew_point (0.0, P0)));
  g_assert_true (isnan (dew_moist_w_sat (120.0, P0)));
  g_assert_true (isnan (dew_moist_w_from_p_w (P0, P0)));
  g_assert_true (isnan (dew_moist_w_from_p_w (-1.0, P0)));
  g_assert_true (isnan (dew_moist_p_w_from_w (-0.001, P0)));
  g_assert_true (isnan (dew_moist_rh_from_w (20.0, -0.001, P0)));
  g_assert_true (isnan (dew_moist_w_from_rh (20.0, -0.1, P0)));
  g_assert_true (isnan (dew_moist_w_from_wet_bulb (40.0, 5.0, P0)));
  g_assert_true (isnan (dew_moist_wet_bulb (20.0, -0.001, P0)));
  g_assert_true (isnan (dew_moist_wet_bulb (20.0, NAN, P0)));
  g_assert_true (isnan (dew_moist_wet_bulb (NAN, 0.01, P0)));
  g_assert_true (isnan (dew_moist_w_from_enthalpy (0.0, 30.0)));
  g_assert_true (isnan (dew_moist_volume (20.0, 0.01, 0.0)));
  g_assert_true (isnan (dew_moist_pressure (20000.0)));
  g_assert_true (isnan (dew_moist_viscosity (20.0, -1.0)));
  g_assert_true (isnan (dew_moist_vpd (20.0, -1.0, P0)));
  /* Supersaturated air is no error; its deficit is none. */
  g_assert_cmpfloat (dew_moist_vpd (20.0, 0.02, P0), ==, 0.0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/moist/library-rows", test_library_rows);
  g_test_add_func ("/moist/saturation-rows", test_saturation_rows);
  g_test_add_func ("/moist/state-rows", test_state_rows);
  g_test_add_func ("/moist/frozen-states", test_frozen_states);
  g_test_add_func ("/moist/points", test_points);
  g_test_add_func ("/moist/fao56", test_fao56);
  g_test_add_func ("/moist/virtual-temperature", test_virtual_temperature);
  g_test_add_func ("/moist/transport-properties", test_transport_properties);
  g_test_add_func ("/moist/inverses", test_inverses);
  g_test_add_func ("/moist/out-of-range", test_out_of_range);
  return g_test_run ();
}
