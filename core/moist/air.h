/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Air treated as a Boussinesq fluid: one set of properties for the whole
 * enclosure, taken at the state of the room. */
typedef struct
{
  double density_kg_m3;
  double specific_heat_J_kgK;
  double viscosity_m2_s;           /* kinematic */
  double thermal_diffusivity_m2_s; /* 0: viscosity over 0.71 */
  double expansion_1_K;
  double gravity_m_s2;
  double latent_heat_J_kg;
  double pressure_Pa;
  double vapour_lift; /* relative loss of density per kg/kg of vapour, 0.608; 0: vapour without
                         buoyancy */
} DewAir;
