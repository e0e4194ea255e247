/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/films.h"

#include "moist/moist.h"
#include "moist/constants.h"

#include <math.h>

/* A level disc in air at rest with L = area/perimeter = radius/2: the exact
 * solution of conduction, 4/pi over 2 (Carslaw & Jaeger, Conduction of Heat in
 * Solids, 1959, sec. 8.2). */
#define NUSSELT_STILL 0.6366

DewFilmAir
dew_film_air (double t_C, double p_Pa)
{
  DewFilmAir air;

  air.density_kg_m3 = dew_moist_density (t_C, 0.0, p_Pa);
  air.viscosity_m2_s = dew_moist_viscosity (t_C, p_Pa);
  air.thermal_diffusivity_m2_s = dew_moist_thermal_diffusivity (t_C, p_Pa);
  air.vapour_diffusivity_m2_s = dew_moist_vapour_diffusivity (t_C, p_Pa);
  air.conductivity_W_mK = dew_moist_conductivity (t_C);
  air.prandtl = air.viscosity_m2_s / air.thermal_diffusivity_m2_s;
  air.expansion_1_K = 1.0 / (t_C + DEW_ZERO_C_K);
  air.lewis_factor = pow (air.thermal_diffusivity_m2_s / air.vapour_diffusivity_m2_s, 2.0 / 3.0);
  air.upright_factor = pow (1.0 + pow (0.492 / air.prandtl, 9.0 / 16.0), -8.0 / 27.0);
  return air;
}

/* --- Nusselt numbers --------------------------------------------------- */

static double
sixth_root (double x)
{
  return cbrt (sqrt (x));
}

static double
upright (double rayleigh, double factor)
{
  double root = 0.825 + 0.387 * sixth_root (rayleigh) * factor;

  return root * root;
}

double
dew_nusselt_upright (double rayleigh, double prandtl)
{
  return upright (rayleigh, pow (1.0 + pow (0.492 / prandtl, 9.0 / 16.0), -8.0 / 27.0));
}

double
dew_nusselt_upright_laminar (double rayleigh, double prandtl)
{
  return 0.68
         + 0.670 * sqrt (sqrt (rayleigh))
             * pow (1.0 + pow (0.492 / prandtl, 9.0 / 16.0), -4.0 / 9.0);
}

double
dew_nusselt_level_stirring (double rayleigh)
{
  double laminar = 0.54 * sqrt (sqrt (rayleigh));
  double turbulent = 0.15 * cbrt (rayleigh);

  return fmax (NUSSELT_STILL, fmax (laminar, turbulent));
}

double
dew_nusselt_level_layered (double rayleigh)
{
  return fmax (NUSSELT_STILL, 0.27 * sqrt (sqrt (rayleigh)));
}

double
dew_nusselt_forced (double reynolds, double prandtl)
{
  return 0.664 * sqrt (reynolds) * cbrt (prandtl);
}

double
dew_nusselt_combined (double nusselt_natural, double nusselt_forced)
{
  return cbrt (nusselt_natural * nusselt_natural * nusselt_natural
               + nusselt_forced * nusselt_forced * nusselt_forced);
}

/* --- films -------------------------------------------------------------- */

double
dew_film_h (const DewFilmAir *air, DewFacing facing, double length_m, double virtual_excess_K,
            double speed_m_s)
{
  double rayleigh, natural, forced;

  rayleigh = DEW_GRAVITY_M_S2 * air->expansion_1_K * fabs (virtual_excess_K) * length_m * length_m
             * length_m / (air->viscosity_m2_s * air->thermal_diffusivity_m2_s);
  if (facing == DEW_FACING_SIDE)
    natural = upright (rayleigh, air->upright_factor);
  else if ((facing == DEW_FACING_UP) == (virtual_excess_K > 0.0))
    natural = dew_nusselt_level_stirring (rayleigh);
  else
    natural = dew_nusselt_level_layered (rayleigh);
  forced = dew_nusselt_forced (fabs (speed_m_s) * length_m / air->viscosity_m2_s, air->prandtl);
  return dew_nusselt_combined (natural, forced) * air->conductivity_W_mK / length_m;
}

double
dew_film_mass_velocity (const DewFilmAir *air, double h_W_m2K)
{
  return h_W_m2K / (air->density_kg_m3 * DEW_CP_DRY_AIR * air->lewis_factor);
}

double
dew_film_radiation_h (double emissivity, double t_mean_C)
{
  double t_K = t_mean_C + DEW_ZERO_C_K;

  return 4.0 * emissivity * DEW_STEFAN_BOLTZMANN * t_K * t_K * t_K;
}

/* --- U-values ----------------------------------------------------------- */

double
dew_film_standard_resistance (DewHeatWay way)
{
  switch (way)
    {
    case DEW_HEAT_UP:
      return 0.10;
    case DEW_HEAT_DOWN:
      return 0.17;
    case DEW_HEAT_LEVEL:
    default:
      return 0.13;
    }
}

double
dew_sheet_resistance (double u_value_W_m2K, DewHeatWay way)
{
  return fmax (0.0, 1.0 / u_value_W_m2K - 2.0 * dew_film_standard_resistance (way));
}

double
dew_sheet_u_value (double resistance_m2K_W, DewHeatWay way)
{
  return 1.0 / (resistance_m2K_W + 2.0 * dew_film_standard_resistance (way));
}
