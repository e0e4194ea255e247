/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/droplet.h"

#include "moist/moist.h"
#include "moist/constants.h"

#include <math.h>
#include <stddef.h>

#define WATER_KG_M3 998.2          /* at 20 C */
#define SURFACE_TENSION_N_M 0.0728 /* water at 20 C; IAPWS R1-76(2014) */
#define FREE_PATH_M 0.066e-6       /* air at 20 C and one atmosphere; Hinds ch. 2 */

double
dew_droplet_lang_m (double frequency_Hz)
{
  return 0.34
         * cbrt (8.0 * M_PI * SURFACE_TENSION_N_M / (WATER_KG_M3 * frequency_Hz * frequency_Hz));
}

double
dew_droplet_fall_speed_m_s (double diameter_m, double density_kg_m3, double fluid_kg_m3,
                            double viscosity_m2_s)
{
  double stokes_m_s = DEW_GRAVITY_M_S2 * (density_kg_m3 / fluid_kg_m3 - 1.0) * diameter_m
                      * diameter_m / (18.0 * viscosity_m2_s);
  double speed_m_s = stokes_m_s;

  /* Newton on v (1 + 0.15 Re^0.687) = v_Stokes, whose left side bends upward: from
   * above it comes down without overshoot. */
  for (int i = 0; i < 30; i++)
    {
      double drag = 0.15 * pow (speed_m_s * diameter_m / viscosity_m2_s, 0.687);
      double step = (speed_m_s * (1.0 + drag) - stokes_m_s) / (1.0 + 1.687 * drag);

      speed_m_s -= step;
      if (fabs (step) <= 1e-12 * stokes_m_s)
        break;
    }
  return speed_m_s;
}

double
dew_droplet_settling_m_s (double diameter_m, double t_C, double p_Pa)
{
  double path_m = FREE_PATH_M * (101325.0 / p_Pa) * ((t_C + DEW_ZERO_C_K) / 293.15);
  double slip = 1.0 + 2.52 * path_m / diameter_m;

  return slip
         * dew_droplet_fall_speed_m_s (diameter_m, WATER_KG_M3, dew_moist_density (t_C, 0.0, p_Pa),
                                       dew_moist_viscosity (t_C, p_Pa));
}

double
dew_droplet_shrink_m2_s (double t_C, double w_kg_kg, double p_Pa, double *t_drop_C)
{
  double p_w_Pa = dew_moist_p_w_from_w (w_kg_kg, p_Pa);
  double drop_C = t_C, shrink_m2_s = NAN;

  /* Heat comes and vapour goes through the same still air (both Nusselt numbers
   * are 2), so k (t - t_drop) = lambda D (p_sat - p_w)/(R T). Saturation bends
   * upward: Newton from the warm side comes down without overshoot. */
  for (int i = 0; i < 30; i++)
    {
      double film_C = 0.5 * (t_C + drop_C);
      double carry = dew_moist_vapour_diffusivity (film_C, p_Pa)
                     / (DEW_R_VAPOUR_J_KGK * (film_C + DEW_ZERO_C_K));
      double latent = dew_moist_latent_heat (drop_C) * carry / dew_moist_conductivity (film_C);
      double excess_Pa = dew_moist_p_sat (drop_C) - p_w_Pa;
      double step_K
        = (drop_C - t_C + latent * excess_Pa) / (1.0 + latent * dew_moist_p_sat_slope (drop_C));

      shrink_m2_s = 8.0 * carry * excess_Pa / WATER_KG_M3;
      drop_C -= step_K;
      if (!(fabs (step_K) > 1e-9))
        break;
    }
  if (t_drop_C)
    *t_drop_C = drop_C;
  return shrink_m2_s;
}

double
dew_droplet_life_s (double diameter_m, double t_C, double w_kg_kg, double p_Pa)
{
  double shrink_m2_s = dew_droplet_shrink_m2_s (t_C, w_kg_kg, p_Pa, NULL);

  if (isnan (shrink_m2_s))
    return NAN;
  return shrink_m2_s > 0.0 ? diameter_m * diameter_m / shrink_m2_s : INFINITY;
}

double
dew_droplet_fall_m (double diameter_m, double t_C, double w_kg_kg, double p_Pa)
{
  enum
  {
    STEPS = 100
  };
  double shrink_m2_s = dew_droplet_shrink_m2_s (t_C, w_kg_kg, p_Pa, NULL);
  double viscosity = dew_moist_viscosity (t_C, p_Pa);
  double schmidt_root = cbrt (viscosity / dew_moist_vapour_diffusivity (t_C, p_Pa));
  double fallen_m = 0.0;

  if (isnan (shrink_m2_s))
    return NAN;
  if (shrink_m2_s <= 0.0)
    return INFINITY;
  /* Equal steps of the square, each at its middle. */
  for (int i = 0; i < STEPS; i++)
    {
      double d_m = diameter_m * sqrt ((i + 0.5) / STEPS);
      double speed_m_s = dew_droplet_settling_m_s (d_m, t_C, p_Pa);
      double faster = 1.0 + 0.3 * sqrt (speed_m_s * d_m / viscosity) * schmidt_root;

      fallen_m += speed_m_s * diameter_m * diameter_m / STEPS / (shrink_m2_s * faster);
    }
  return fallen_m;
}
