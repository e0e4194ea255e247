/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The thin layer of air on a surface: heat it passes (W/m2K), the vapour that
 * goes with it, long-wave radiation, and the conventional resistances that a
 * U-value is made of. Plain functions without state. */

/* Which way the surface looks. */
typedef enum
{
  DEW_FACING_SIDE,
  DEW_FACING_UP,
  DEW_FACING_DOWN
} DewFacing;

/* Air next to a surface, at the mean temperature of both. */
typedef struct
{
  double density_kg_m3;
  double viscosity_m2_s; /* kinematic */
  double thermal_diffusivity_m2_s;
  double vapour_diffusivity_m2_s;
  double conductivity_W_mK;
  double prandtl;
  double expansion_1_K;
  double lewis_factor;   /* (thermal over vapour diffusivity)^(2/3) */
  double upright_factor; /* the Prandtl term of dew_nusselt_upright() */
} DewFilmAir;

/* NAN in every field when out of the range of core/moist. Make it once for many
 * surfaces: 10 K change its values by 2 to 6 %. */
DewFilmAir dew_film_air (double t_C, double p_Pa);

/* Mean Nusselt numbers of natural convection, on the length named with each;
 * Rayleigh number from the size of the difference, never negative. */

/* Upright plate, length = height, Ra 0..1e12. Churchill & Chu, Int. J. Heat Mass
 * Transfer 18, 1323-1329, 1975, for all Ra. */
double dew_nusselt_upright (double rayleigh, double prandtl);
/* Same source, its more exact form for laminar flow, Ra < 1e9. */
double dew_nusselt_upright_laminar (double rayleigh, double prandtl);
/* Level plate that stirs the air (warm facing up or cool facing down), length =
 * area over perimeter, Ra 1e4..1e11. McAdams, Heat Transmission, 1954; Lloyd &
 * Moran, J. Heat Transfer 96, 1974. Of the two branches the larger, which joins
 * them without a step at Ra 4.7e6; below, not less than conduction. */
double dew_nusselt_level_stirring (double rayleigh);
/* Level plate under or over layered air (cool facing up or warm facing down),
 * Ra 1e5..1e10. McAdams 1954. */
double dew_nusselt_level_layered (double rayleigh);

/* Laminar flow along a plate, mean over its length, Re < 5e5, Pr > 0.6
 * (Pohlhausen; Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 7). */
double dew_nusselt_forced (double reynolds, double prandtl);
/* Natural and forced flow that help each other: sum of the cubes (Churchill,
 * AIChE J. 23, 1977; Incropera ch. 9). */
double dew_nusselt_combined (double nusselt_natural, double nusselt_forced);

/* Convective film coefficient (W/m2K) of one face. length_m: height of an upright
 * face, area over perimeter of a level one (natural), and also what the flow of
 * speed_m_s passes along. virtual_excess_K: surface minus air in virtual
 * temperature, so that moisture at a wet surface lifts too (Incropera ch. 9);
 * its sign tells whether a level face stirs the air. */
double dew_film_h (const DewFilmAir *air, DewFacing facing, double length_m,
                   double virtual_excess_K, double speed_m_s);

/* Mass transfer velocity (m/s) that belongs to a film coefficient (W/m2K):
 * h/(rho cp Le^(2/3)). Chilton & Colburn, Ind. Eng. Chem. 26, 1934; Incropera ch. 6. */
double dew_film_mass_velocity (const DewFilmAir *air, double h_W_m2K);

/* Long-wave radiation made linear: 4 eps sigma Tm^3 (W/m2K), ISO 6946:2017 Annex C. */
double dew_film_radiation_h (double emissivity, double t_mean_C);

/* --- U-values ---------------------------------------------------------- */

typedef enum
{
  DEW_HEAT_LEVEL, /* through an upright sheet */
  DEW_HEAT_UP,    /* out through a roof */
  DEW_HEAT_DOWN   /* out through a floor */
} DewHeatWay;

/* Resistance of one indoor surface film, m2K/W: 0.13, 0.10, 0.17. ISO 6946:2017
 * Table 7. */
double dew_film_standard_resistance (DewHeatWay way);
/* Resistance of the sheet alone (m2K/W, not below 0) from a U-value (W/m2K) that
 * was given with an indoor film on both faces; and back. U-values in catalogues
 * of covers are for an upright sheet (DEW_HEAT_LEVEL), whatever face of an
 * enclosure the sheet is later used for. */
double dew_sheet_resistance (double u_value_W_m2K, DewHeatWay way);
double dew_sheet_u_value (double resistance_m2K_W, DewHeatWay way);

#define DEW_STEFAN_BOLTZMANN 5.670374e-8 /* W/m2K4, CODATA 2018 */
