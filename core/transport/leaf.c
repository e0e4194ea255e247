/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/leaf.h"

#include "moist/moist.h"
#include "transport/films.h"
#include "transport/light.h"

#include <math.h>

#define CP_AIR_J_MOLK 29.3 /* Campbell & Norman 1998, Table A.1 */
#define WATER_KG_MOL 0.018015
#define SHAPE 0.72       /* Campbell & Norman p. 101 */
#define FORCED_MOL 0.135 /* Table 7.6, heat */
#define FREE_MOL 0.05    /* Table 7.6, heat */
#define VAPOUR_TO_HEAT (0.147 / 0.135)
#define LEAF_EMISSIVITY 0.97  /* Campbell & Norman ch. 10 */
#define LEAF_ABSORPTANCE 0.85 /* of 400-700 nm; Campbell & Norman ch. 11, from memory */
/* A disc in air at rest: Nu = 8/pi on its diameter (Carslaw & Jaeger 1959, sec.
 * 8.2); 21e-6 m2/s times 41.6 mol/m3 is the diffusivity of heat in moles. */
#define STILL_MOL_M (2.546 * 21.0e-6 * 41.6)

/* mol/m2s. Literature magnitudes from memory: CAM orchids 5-40 by night and up to
 * 10 by day, thin orchids 20-100, slipper orchids 10-50 (low level: Zeiger et al.,
 * Plant Physiol. 77, 1985), shade ferns 30-150, epiphytic ferns 20-80; shut leaves
 * 1-6 mmol/m2s through the skin. Filmy leaves, without skin or stomata: so high
 * that the boundary layer alone counts. Herbs like shade ferns: common practice,
 * no source. */
/* clang-format off */
static const double conductance[DEW_N_LEAF_KINDS][2] = {
  [DEW_LEAF_CAM_ORCHID]     = { 0.005, 0.020 },
  [DEW_LEAF_THIN_ORCHID]    = { 0.050, 0.004 },
  [DEW_LEAF_SLIPPER_ORCHID] = { 0.025, 0.003 },
  [DEW_LEAF_SHADE_FERN]     = { 0.080, 0.006 },
  [DEW_LEAF_EPIPHYTIC_FERN] = { 0.040, 0.003 },
  [DEW_LEAF_FILMY]          = { 1.000, 1.000 },
  [DEW_LEAF_HERB]           = { 0.080, 0.006 },
};
/* clang-format on */

double
dew_leaf_conductance (DewLeafKind kind, gboolean night)
{
  g_return_val_if_fail (kind >= 0 && kind < DEW_N_LEAF_KINDS, NAN);
  return conductance[kind][night ? 1 : 0];
}

double
dew_leaf_boundary_mol_m2s (double speed_m_s, double length_m, double excess_K)
{
  double d_m = SHAPE * length_m;
  double forced = FORCED_MOL * sqrt (fabs (speed_m_s) / d_m);
  double free = FREE_MOL * sqrt (sqrt (fabs (excess_K) / d_m));

  return fmax (STILL_MOL_M / d_m, fmax (forced, free));
}

double
dew_penman_monteith_W_m2 (double slope, double psychrometric, double vapour_ratio,
                          double net_radiation_W_m2, double heat_W_m2K, double deficit)
{
  return (slope * net_radiation_W_m2 + heat_W_m2K * deficit)
         / (slope + psychrometric * vapour_ratio);
}

double
dew_leaf_absorbed_W_m2 (double ppfd_mol_m2s)
{
  return LEAF_ABSORPTANCE * ppfd_mol_m2s / DEW_LIGHT_MOL_J;
}

DewLeafState
dew_leaf_state (const DewLeaf *leaf)
{
  DewLeafState state;
  double slope_Pa_K = dew_moist_p_sat_slope (leaf->t_air_C);
  double deficit_Pa
    = dew_moist_p_sat (leaf->t_air_C) - dew_moist_p_w_from_w (leaf->w_air_kg_kg, leaf->p_Pa);
  double latent_J_mol = dew_moist_latent_heat (leaf->t_air_C) * WATER_KG_MOL;
  double gamma_Pa_K = CP_AIR_J_MOLK * leaf->p_Pa / latent_J_mol;
  double radiant_mol = dew_film_radiation_h (LEAF_EMISSIVITY, leaf->t_air_C) / CP_AIR_J_MOLK;
  double net_W_m2
    = leaf->absorbed_W_m2 + 2.0 * radiant_mol * CP_AIR_J_MOLK * (leaf->t_radiant_C - leaf->t_air_C);
  double excess_K = 0.0;

  /* Only free convection makes the leaf's warmth feed back on itself, with the
   * fourth root: four rounds close it to a thousandth. */
  for (int i = 0; i < 4; i++)
    {
      double heat_mol = dew_leaf_boundary_mol_m2s (leaf->speed_m_s, leaf->length_m, excess_K);
      double both_mol = 2.0 * (heat_mol + radiant_mol);
      double vapour_mol
        = 1.0 / (1.0 / leaf->conductance_mol_m2s + 1.0 / (VAPOUR_TO_HEAT * heat_mol));

      state.latent_W_m2 = dew_penman_monteith_W_m2 (slope_Pa_K, gamma_Pa_K, both_mol / vapour_mol,
                                                    net_W_m2, both_mol * CP_AIR_J_MOLK, deficit_Pa);
      excess_K = (net_W_m2 - state.latent_W_m2) / (both_mol * CP_AIR_J_MOLK);
      state.sensible_W_m2 = 2.0 * heat_mol * CP_AIR_J_MOLK * excess_K;
    }
  state.t_C = leaf->t_air_C + excess_K;
  state.transpiration_kg_m2s = state.latent_W_m2 / dew_moist_latent_heat (leaf->t_air_C);
  state.vpd_Pa = dew_moist_p_sat (state.t_C) - dew_moist_p_w_from_w (leaf->w_air_kg_kg, leaf->p_Pa);
  return state;
}
