/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Surfaces with water on them: a wall of wet clay, moss, open water that finds
 * its own temperature, and a cold cover that gathers dew. Plain functions. */

#include "transport/films.h"

/* Rate at which vapour leaves (positive) a wet surface of known temperature, or
 * condenses on it (negative), kg/m2s: h_m (p_sat(t_surface) - p_w)/(R_v T_film),
 * h_m from dew_film_mass_velocity(). The difference is that of the vapour pressures
 * at one temperature: what drives diffusion is the share of vapour in the air
 * (Incropera ch. 6 and 14), and only so does dew set in at the dew point. */
double dew_vapour_flux_kg_m2s (const DewFilmAir *air, double h_W_m2K, double t_surface_C,
                               double t_air_C, double p_w_Pa);

/* Dew that gathers on a dry surface, kg/m2s: exactly 0 from the dew point up. */
double dew_condensation_kg_m2s (const DewFilmAir *air, double h_W_m2K, double t_surface_C,
                                double t_air_C, double p_w_Pa);

typedef struct
{
  DewFacing facing;
  double length_m;        /* as for dew_film_h() */
  double emissivity;      /* 0.95 for wet clay, moss and water (Incropera Table A.11) */
  double wetted_fraction; /* 0..1 of the area that is wet */
  double t_air_C;
  double w_air_kg_kg;
  double p_Pa;
  double speed_m_s;     /* of the air along it */
  double t_radiant_C;   /* mean of what it sees */
  double absorbed_W_m2; /* light and lamp heat taken up, and any heat from behind */
} DewWetSurface;

typedef struct
{
  double t_C;
  double evaporation_kg_m2s; /* of the whole area; negative = condensing */
  double sensible_W_m2;      /* from the air to the surface */
  double radiant_W_m2;       /* long wave, from the surroundings to the surface */
  double latent_W_m2;        /* taken by evaporation */
  double h_W_m2K;            /* convective film */
} DewWetState;

/* Steady balance: absorbed + radiant + sensible = latent. Its root is bracketed,
 * so there is an answer for every input in the range of core/moist; the terms
 * close to 1e-6 W/m2. About 1 us. `film` is the air of dew_film_air() near t_air_C. */
DewWetState dew_wet_surface (const DewWetSurface *surface, const DewFilmAir *film);
