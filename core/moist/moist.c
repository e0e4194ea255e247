/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "moist/moist.h"
#include "moist/constants.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

/* Where a line names "HoF", it is the ASHRAE Handbook of Fundamentals 2017 (SI),
 * chapter 1. The mixture is ideal: the enhancement factor of real moist air is
 * left out, which makes saturated humidity ratios 0.4 to 0.5 % low at sea level
 * (Herrmann, Kretzschmar & Gatley, ASHRAE RP-1485, 2009). */

#define STANDARD_P_PA 101325.0
#define T_LOWEST_C -100.0
#define T_HIGHEST_C 200.0
#define MASS_RATIO 0.621945       /* molar mass of water over that of dry air, HoF eq 20 */
#define VOLUME_RATIO 1.607858     /* its reciprocal, HoF eq 26 */
#define R_DRY_AIR_J_KGK 287.042   /* HoF eq 26 */
#define LATENT_0C_J_KG 2501000.0  /* evaporation at 0 C, HoF eq 30 */
#define SUBLIME_0C_J_KG 2830000.0 /* sublimation at 0 C, HoF eq 35 */
#define CP_ICE_J_KGK 2100.0       /* HoF eq 35 */

/* Newton steps halve the bracket at worst, so 60 reach the last bit of any
 * double in the range of temperatures. */
#define MAX_STEPS 60
#define T_CLOSE_K 1e-10

static bool
in_range (double t_C)
{
  return t_C >= T_LOWEST_C && t_C <= T_HIGHEST_C;
}

double
dew_moist_pressure (double altitude_m)
{
  /* HoF eq 3, -5000..11000 m. */
  if (!(altitude_m >= -5000.0 && altitude_m <= 11000.0))
    return NAN;
  return STANDARD_P_PA * pow (1.0 - 2.25577e-5 * altitude_m, 5.2559);
}

/* --- saturation -------------------------------------------------------- */

/* ln p_sat (Pa) over water and its slope (1/K). Hyland & Wexler, ASHRAE Trans.
 * 89(2A) 500-519, 1983; HoF eq 6, 0..200 C. */
static double
ln_p_water (double t_K, double *slope_1_K)
{
  static const double c[]
    = { -5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673 };
  double inv = 1.0 / t_K;

  if (slope_1_K)
    *slope_1_K = (c[5] - c[0] * inv) * inv + c[2] + t_K * (2.0 * c[3] + t_K * 3.0 * c[4]);
  return c[0] * inv + c[1] + t_K * (c[2] + t_K * (c[3] + t_K * c[4])) + c[5] * log (t_K);
}

/* The same over ice; HoF eq 5, -100..0 C. */
static double
ln_p_ice (double t_K, double *slope_1_K)
{
  static const double c[] = { -5.6745359e3, 6.3925247,     -9.677843e-3, 6.2215701e-7,
                              2.0747825e-9, -9.484024e-13, 4.1635019 };
  double inv = 1.0 / t_K;

  if (slope_1_K)
    *slope_1_K = (c[6] - c[0] * inv) * inv + c[2]
                 + t_K * (2.0 * c[3] + t_K * (3.0 * c[4] + t_K * 4.0 * c[5]));
  return c[0] * inv + c[1] + t_K * (c[2] + t_K * (c[3] + t_K * (c[4] + t_K * c[5])))
         + c[6] * log (t_K);
}

double
dew_moist_p_sat (double t_C)
{
  if (!in_range (t_C))
    return NAN;
  if (t_C < 0.0)
    return exp (ln_p_ice (t_C + DEW_ZERO_C_K, NULL));
  return exp (ln_p_water (t_C + DEW_ZERO_C_K, NULL));
}

double
dew_moist_p_sat_slope (double t_C)
{
  double slope_1_K, ln_p;

  if (!in_range (t_C))
    return NAN;
  ln_p = t_C < 0.0 ? ln_p_ice (t_C + DEW_ZERO_C_K, &slope_1_K)
                   : ln_p_water (t_C + DEW_ZERO_C_K, &slope_1_K);
  return exp (ln_p) * slope_1_K;
}

double
dew_moist_dew_point_from_p (double p_w_Pa)
{
  double (*ln_p_sat) (double, double *);
  double lo_C, hi_C, t_C, ln_p;

  if (!(p_w_Pa > 0.0))
    return NAN;
  ln_p = log (p_w_Pa);

  /* The water branch starts 0.06 Pa above the end of the ice branch; pressures
   * in that gap belong to 0 C. */
  if (ln_p >= ln_p_water (DEW_ZERO_C_K, NULL))
    ln_p_sat = ln_p_water, lo_C = 0.0, hi_C = T_HIGHEST_C;
  else if (ln_p <= ln_p_ice (DEW_ZERO_C_K, NULL))
    ln_p_sat = ln_p_ice, lo_C = T_LOWEST_C, hi_C = 0.0;
  else
    return 0.0;
  if (ln_p < ln_p_sat (lo_C + DEW_ZERO_C_K, NULL) || ln_p > ln_p_sat (hi_C + DEW_ZERO_C_K, NULL))
    return NAN;

  /* First guess by the Magnus form of the WMO Guide No. 8, Annex 4.B. */
  {
    double x = ln_p - log (611.2);
    t_C = 243.12 * x / (17.62 - x);
  }
  for (int i = 0; i < MAX_STEPS; i++)
    {
      double slope_1_K, error, next_C;

      if (!(t_C >= lo_C && t_C <= hi_C))
        t_C = 0.5 * (lo_C + hi_C);
      error = ln_p_sat (t_C + DEW_ZERO_C_K, &slope_1_K) - ln_p;
      if (error > 0.0)
        hi_C = t_C;
      else
        lo_C = t_C;
      next_C = t_C - error / slope_1_K;
      if (fabs (next_C - t_C) < T_CLOSE_K)
        return fmin (fmax (next_C, lo_C), hi_C);
      t_C = next_C;
    }
  return t_C;
}

/* --- humidity ratio ---------------------------------------------------- */

double
dew_moist_w_from_p_w (double p_w_Pa, double p_Pa)
{
  /* HoF eq 20. */
  if (!(p_w_Pa >= 0.0 && p_w_Pa < p_Pa))
    return NAN;
  return MASS_RATIO * p_w_Pa / (p_Pa - p_w_Pa);
}

double
dew_moist_p_w_from_w (double w_kg_kg, double p_Pa)
{
  if (!(w_kg_kg >= 0.0 && p_Pa > 0.0))
    return NAN;
  return p_Pa * w_kg_kg / (MASS_RATIO + w_kg_kg);
}

double
dew_moist_w_sat (double t_C, double p_Pa)
{
  return dew_moist_w_from_p_w (dew_moist_p_sat (t_C), p_Pa);
}

double
dew_moist_w_from_rh (double t_C, double rh, double p_Pa)
{
  return dew_moist_w_from_p_w (rh * dew_moist_p_sat (t_C), p_Pa);
}

double
dew_moist_rh_from_w (double t_C, double w_kg_kg, double p_Pa)
{
  return dew_moist_p_w_from_w (w_kg_kg, p_Pa) / dew_moist_p_sat (t_C);
}

double
dew_moist_dew_point (double w_kg_kg, double p_Pa)
{
  return dew_moist_dew_point_from_p (dew_moist_p_w_from_w (w_kg_kg, p_Pa));
}

/* --- wet bulb ---------------------------------------------------------- */

/* HoF eq 33 (liquid wick) and 35 (frozen wick); may be negative. */
static double
w_over_wick (double t_C, double wick_C, double w_sat_kg_kg, bool frozen)
{
  double sensible = DEW_CP_DRY_AIR * (t_C - wick_C);

  if (frozen)
    return ((SUBLIME_0C_J_KG - 240.0 * wick_C) * w_sat_kg_kg - sensible)
           / (SUBLIME_0C_J_KG + DEW_CP_VAPOUR * t_C - CP_ICE_J_KGK * wick_C);
  return ((LATENT_0C_J_KG - (DEW_CP_WATER - DEW_CP_VAPOUR) * wick_C) * w_sat_kg_kg - sensible)
         / (LATENT_0C_J_KG + DEW_CP_VAPOUR * t_C - DEW_CP_WATER * wick_C);
}

double
dew_moist_w_from_wet_bulb (double t_C, double wet_bulb_C, double p_Pa)
{
  double w;

  if (!in_range (t_C) || !in_range (wet_bulb_C))
    return NAN;
  w = w_over_wick (t_C, wet_bulb_C, dew_moist_w_sat (wet_bulb_C, p_Pa), wet_bulb_C < 0.0);
  return w >= 0.0 ? w : NAN;
}

double
dew_moist_wet_bulb (double t_C, double w_kg_kg, double p_Pa)
{
  double dew_C, lo_C, hi_C, wick_C;
  bool frozen;

  if (!in_range (t_C) || !(w_kg_kg >= 0.0 && p_Pa > 0.0))
    return NAN;

  /* Just below and above 0 C two wicks, ice and water, fit the same air. The
   * liquid one is meant wherever it exists. */
  frozen = w_kg_kg < w_over_wick (t_C, 0.0, dew_moist_w_sat (0.0, p_Pa), false);

  /* Between dew point and air; the order turns round in supersaturated air. */
  dew_C = w_kg_kg > 0.0 ? dew_moist_dew_point (w_kg_kg, p_Pa) : T_LOWEST_C;
  if (isnan (dew_C))
    dew_C = T_LOWEST_C;
  lo_C = fmin (dew_C, t_C);
  hi_C = fmax (dew_C, t_C);
  if (frozen)
    hi_C = fmin (hi_C, 0.0), lo_C = fmin (lo_C, 0.0);
  else
    lo_C = fmax (lo_C, 0.0), hi_C = fmax (hi_C, 0.0);

  wick_C = lo_C + 0.6 * (hi_C - lo_C);
  for (int i = 0; i < MAX_STEPS; i++)
    {
      double t_K = wick_C + DEW_ZERO_C_K;
      double slope_1_K, p_sat_Pa, w_sat, error, slope, next_C;

      p_sat_Pa = exp (frozen ? ln_p_ice (t_K, &slope_1_K) : ln_p_water (t_K, &slope_1_K));
      if (p_sat_Pa >= p_Pa) /* boils: far too warm */
        {
          hi_C = wick_C;
          wick_C = 0.5 * (lo_C + hi_C);
          continue;
        }
      w_sat = MASS_RATIO * p_sat_Pa / (p_Pa - p_sat_Pa);
      error = w_over_wick (t_C, wick_C, w_sat, frozen) - w_kg_kg;
      if (error > 0.0)
        hi_C = wick_C;
      else
        lo_C = wick_C;

      /* The slope leaves out the small change of the latent heat: the steps
       * are then a little off Newton's, not the root. */
      slope = w_sat * slope_1_K * p_Pa / (p_Pa - p_sat_Pa)
              + DEW_CP_DRY_AIR / (frozen ? SUBLIME_0C_J_KG : LATENT_0C_J_KG);
      next_C = wick_C - error / slope;
      if (fabs (next_C - wick_C) < T_CLOSE_K)
        return fmin (fmax (next_C, lo_C), hi_C);
      wick_C = next_C > lo_C && next_C < hi_C ? next_C : 0.5 * (lo_C + hi_C);
    }
  return wick_C;
}

/* --- enthalpy, volume, deficit ------------------------------------------ */

double
dew_moist_enthalpy (double t_C, double w_kg_kg)
{
  /* HoF eq 30. */
  return DEW_CP_DRY_AIR * t_C + w_kg_kg * (LATENT_0C_J_KG + DEW_CP_VAPOUR * t_C);
}

double
dew_moist_t_from_enthalpy (double h_J_kg, double w_kg_kg)
{
  if (!(w_kg_kg >= 0.0))
    return NAN;
  return (h_J_kg - LATENT_0C_J_KG * w_kg_kg) / (DEW_CP_DRY_AIR + DEW_CP_VAPOUR * w_kg_kg);
}

double
dew_moist_w_from_enthalpy (double h_J_kg, double t_C)
{
  double w = (h_J_kg - DEW_CP_DRY_AIR * t_C) / (LATENT_0C_J_KG + DEW_CP_VAPOUR * t_C);

  return w >= 0.0 ? w : NAN;
}

double
dew_moist_volume (double t_C, double w_kg_kg, double p_Pa)
{
  /* HoF eq 26. */
  if (!(w_kg_kg >= 0.0 && p_Pa > 0.0 && t_C > -DEW_ZERO_C_K))
    return NAN;
  return R_DRY_AIR_J_KGK * (t_C + DEW_ZERO_C_K) * (1.0 + VOLUME_RATIO * w_kg_kg) / p_Pa;
}

double
dew_moist_density (double t_C, double w_kg_kg, double p_Pa)
{
  return (1.0 + w_kg_kg) / dew_moist_volume (t_C, w_kg_kg, p_Pa);
}

double
dew_moist_vpd (double t_C, double w_kg_kg, double p_Pa)
{
  double deficit_Pa = dew_moist_p_sat (t_C) - dew_moist_p_w_from_w (w_kg_kg, p_Pa);

  return deficit_Pa < 0.0 ? 0.0 : deficit_Pa;
}

double
dew_moist_vapour_density (double t_C, double w_kg_kg, double p_Pa)
{
  return w_kg_kg / dew_moist_volume (t_C, w_kg_kg, p_Pa);
}

double
dew_moist_t_virtual (double t_C, double w_kg_kg)
{
  /* Exact for the ideal mixture; meteorology's 1 + 0.608 q is its first term. */
  if (!(w_kg_kg >= 0.0))
    return NAN;
  return (t_C + DEW_ZERO_C_K) * (1.0 + VOLUME_RATIO * w_kg_kg) / (1.0 + w_kg_kg) - DEW_ZERO_C_K;
}

double
dew_moist_latent_heat (double t_C)
{
  /* What HoF eq 30 and water of 4186 J/kgK imply, so that vapour and liquid
   * exchange exactly the heat that the enthalpy counts. */
  return LATENT_0C_J_KG - (DEW_CP_WATER - DEW_CP_VAPOUR) * t_C;
}

/* --- transport properties ---------------------------------------------- */

static double
dry_density (double t_C, double p_Pa)
{
  return p_Pa / (R_DRY_AIR_J_KGK * (t_C + DEW_ZERO_C_K));
}

double
dew_moist_viscosity (double t_C, double p_Pa)
{
  /* Sutherland's formula, U.S. Standard Atmosphere 1976 eq 51, over density. */
  double t_K = t_C + DEW_ZERO_C_K;

  if (!in_range (t_C) || !(p_Pa > 0.0))
    return NAN;
  return 1.458e-6 * t_K * sqrt (t_K) / (t_K + 110.4) / dry_density (t_C, p_Pa);
}

double
dew_moist_conductivity (double t_C)
{
  /* U.S. Standard Atmosphere 1976 eq 53. */
  double t_K = t_C + DEW_ZERO_C_K;

  if (!in_range (t_C))
    return NAN;
  return 2.64638e-3 * t_K * sqrt (t_K) / (t_K + 245.4 * pow (10.0, -12.0 / t_K));
}

double
dew_moist_thermal_diffusivity (double t_C, double p_Pa)
{
  if (!(p_Pa > 0.0))
    return NAN;
  return dew_moist_conductivity (t_C) / (dry_density (t_C, p_Pa) * DEW_CP_DRY_AIR);
}

double
dew_moist_vapour_diffusivity (double t_C, double p_Pa)
{
  /* Pruppacher & Klett, Microphysics of Clouds and Precipitation, 1997, eq
   * 13-3, -40..40 C. */
  if (!in_range (t_C) || !(p_Pa > 0.0))
    return NAN;
  return 2.11e-5 * pow ((t_C + DEW_ZERO_C_K) / DEW_ZERO_C_K, 1.94) * STANDARD_P_PA / p_Pa;
}
