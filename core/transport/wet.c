/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/wet.h"

#include "moist/moist.h"
#include "moist/constants.h"

#include <math.h>

#define CLOSED_W_M2 1e-7
#define MAX_STEPS 80

static double
vapour_flux (const DewFilmAir *air, double h_W_m2K, double p_sat_Pa, double p_w_Pa,
             double t_surface_C, double t_air_C)
{
  double t_film_K = 0.5 * (t_surface_C + t_air_C) + DEW_ZERO_C_K;

  return dew_film_mass_velocity (air, h_W_m2K) * (p_sat_Pa - p_w_Pa)
         / (DEW_R_VAPOUR_J_KGK * t_film_K);
}

double
dew_vapour_flux_kg_m2s (const DewFilmAir *air, double h_W_m2K, double t_surface_C, double t_air_C,
                        double p_w_Pa)
{
  return vapour_flux (air, h_W_m2K, dew_moist_p_sat (t_surface_C), p_w_Pa, t_surface_C, t_air_C);
}

double
dew_condensation_kg_m2s (const DewFilmAir *air, double h_W_m2K, double t_surface_C, double t_air_C,
                         double p_w_Pa)
{
  double p_sat_Pa = dew_moist_p_sat (t_surface_C);

  if (p_sat_Pa >= p_w_Pa)
    return 0.0;
  return -vapour_flux (air, h_W_m2K, p_sat_Pa, p_w_Pa, t_surface_C, t_air_C);
}

/* Fills `state` for a trial temperature; returns what is left over, W/m2, which
 * falls as the surface warms. */
static double
surplus (const DewWetSurface *s, const DewFilmAir *film, double p_w_Pa, double t_virtual_air_C,
         double t_C, DewWetState *state)
{
  double p_sat_Pa = dew_moist_p_sat (t_C);
  double excess_K, p_there_Pa;

  /* Air at a partly wet surface lies between the free air and saturation. */
  p_there_Pa = (1.0 - s->wetted_fraction) * p_w_Pa + s->wetted_fraction * p_sat_Pa;
  excess_K
    = dew_moist_t_virtual (t_C, dew_moist_w_from_p_w (p_there_Pa, s->p_Pa)) - t_virtual_air_C;

  state->t_C = t_C;
  state->h_W_m2K = dew_film_h (film, s->facing, s->length_m, excess_K, s->speed_m_s);
  state->evaporation_kg_m2s
    = s->wetted_fraction * vapour_flux (film, state->h_W_m2K, p_sat_Pa, p_w_Pa, t_C, s->t_air_C);
  state->latent_W_m2 = state->evaporation_kg_m2s * dew_moist_latent_heat (t_C);
  state->sensible_W_m2 = state->h_W_m2K * (s->t_air_C - t_C);
  state->radiant_W_m2
    = dew_film_radiation_h (s->emissivity, 0.5 * (s->t_radiant_C + t_C)) * (s->t_radiant_C - t_C);
  return s->absorbed_W_m2 + state->radiant_W_m2 + state->sensible_W_m2 - state->latent_W_m2;
}

DewWetState
dew_wet_surface (const DewWetSurface *s, const DewFilmAir *film)
{
  DewWetState state;
  double p_w_Pa = dew_moist_p_w_from_w (s->w_air_kg_kg, s->p_Pa);
  double t_virtual_air_C = dew_moist_t_virtual (s->t_air_C, s->w_air_kg_kg);
  /* Dry air of 45 C has its wet bulb 30 K lower; light of full sun on a dry
   * patch warms it by less than 90 K. */
  double lo_C = fmin (s->t_air_C, s->t_radiant_C) - 60.0;
  double hi_C = fmax (s->t_air_C, s->t_radiant_C) + 90.0;
  double p_sat_air_Pa = dew_moist_p_sat (s->t_air_C);
  double slope_Pa_K = dew_moist_p_sat_slope (s->t_air_C);
  double t_C, last_C = NAN, last_W_m2 = NAN;

  if (isnan (p_w_Pa + t_virtual_air_C + p_sat_air_Pa) || !(s->length_m > 0.0))
    {
      state = (DewWetState){ NAN, NAN, NAN, NAN, NAN, NAN };
      return state;
    }

  /* First guess: Penman's straight line through the saturation curve with a film
   * of 4 W/m2K. The vapour term counts in W per Pa. */
  {
    double h_r = dew_film_radiation_h (s->emissivity, s->t_air_C);
    double h = 4.0;
    double latent_W_m2Pa = s->wetted_fraction * dew_film_mass_velocity (film, h) * 2.45e6
                           / (DEW_R_VAPOUR_J_KGK * (s->t_air_C + DEW_ZERO_C_K));
    t_C = s->t_air_C
          + (s->absorbed_W_m2 + h_r * (s->t_radiant_C - s->t_air_C)
             - latent_W_m2Pa * (p_sat_air_Pa - p_w_Pa))
              / (h + h_r + latent_W_m2Pa * slope_Pa_K);
    t_C = fmin (fmax (t_C, lo_C + 1.0), hi_C - 1.0);
  }

  for (int i = 0; i < MAX_STEPS; i++)
    {
      double left_W_m2 = surplus (s, film, p_w_Pa, t_virtual_air_C, t_C, &state);
      double slope_W_m2K, next_C;

      if (fabs (left_W_m2) < CLOSED_W_M2)
        break;
      if (left_W_m2 > 0.0)
        lo_C = t_C;
      else
        hi_C = t_C;
      slope_W_m2K = isnan (last_C) ? -20.0 : (left_W_m2 - last_W_m2) / (t_C - last_C);
      next_C = slope_W_m2K < 0.0 ? t_C - left_W_m2 / slope_W_m2K : lo_C;
      if (!(next_C > lo_C && next_C < hi_C))
        next_C = 0.5 * (lo_C + hi_C);
      if (next_C == t_C)
        break;
      last_C = t_C;
      last_W_m2 = left_W_m2;
      t_C = next_C;
    }
  return state;
}
