/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A leaf in its air: how warm it is, how hard the air pulls at it, how much it
 * transpires. Plain functions. Conductances are in mol/m2s of one leaf side, as
 * plant physiology has them. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Conductance of the stomata and skin (mol/m2s). The magnitudes are from memory of
 * the physiology literature, wide and rough: good for sensible defaults only. */
double dew_leaf_conductance (DewLeafKind kind, gboolean night);

typedef struct
{
  double t_air_C;
  double w_air_kg_kg;
  double p_Pa;
  double speed_m_s;
  double t_radiant_C;         /* mean of what both sides see */
  double absorbed_W_m2;       /* light, per area of one side */
  double length_m;            /* of the leaf, along the air stream */
  double conductance_mol_m2s; /* of the stomata, one side of the leaf has them */
} DewLeaf;

typedef struct
{
  double t_C;
  double vpd_Pa;               /* from leaf to air */
  double transpiration_kg_m2s; /* per area of one side; negative = dew */
  double latent_W_m2;
  double sensible_W_m2; /* from the leaf to the air, both sides */
} DewLeafState;

/* Campbell & Norman, Introduction to Environmental Biophysics, 1998, ch. 14
 * (eq 14.6 and its Penman-Monteith twin): saturation as a straight line from the
 * air's temperature, heat from both sides, vapour from one. Boundary layer: the
 * larger of forced, 0.135 (u/d)^0.5, and free, 0.05 (dT/d)^0.25, with d 0.72 of
 * the length (Table 7.6), not less than conduction into air at rest. */
DewLeafState dew_leaf_state (const DewLeaf *leaf);

/* Boundary layer conductance for heat of one side (mol/m2s) at a leaf-air
 * difference; the one for vapour is 1.09 times it, as 0.147 is of 0.135. */
double dew_leaf_boundary_mol_m2s (double speed_m_s, double length_m, double excess_K);

/* Latent flux (W/m2) by the combination equation of Penman and Monteith (Monteith,
 * Symp. Soc. Exp. Biol. 19, 1965): slope of saturation and psychrometric constant
 * in one unit of pressure per K, deficit in that unit, heat conductance in W/m2K,
 * vapour_ratio: resistance to vapour over resistance to heat. */
double dew_penman_monteith_W_m2 (double slope, double psychrometric, double vapour_ratio,
                                 double net_radiation_W_m2, double heat_W_m2K, double deficit);

/* Light that a leaf takes up (W/m2) from a photon flux (mol/m2s). */
double dew_leaf_absorbed_W_m2 (double ppfd_mol_m2s);

G_END_DECLS
