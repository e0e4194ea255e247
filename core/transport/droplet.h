/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A drop of mist: how fast it falls and how long it lives. Plain functions. */

/* Mass median diameter (m) of a mist made by ultrasound of a frequency (Hz):
 * Lang, J. Acoust. Soc. Am. 34, 1962, with water of 20 C. */
double dew_droplet_lang_m (double frequency_Hz);

/* Terminal settling speed (m/s) of a ball of diameter (m) and density (kg/m3) in a
 * fluid of density (kg/m3) and kinematic viscosity (m2/s). Stokes with the drag of
 * Schiller & Naumann 1933 (Re < 800). */
double dew_droplet_fall_speed_m_s (double diameter_m, double density_kg_m3, double fluid_kg_m3,
                                   double viscosity_m2_s);
/* A water drop in air: the same with Cunningham's slip (Hinds, Aerosol Technology,
 * 1999, eq 3.19, diameters above 0.1 um). */
double dew_droplet_settling_m_s (double diameter_m, double t_C, double p_Pa);

/* The d2 law: the square of the diameter shrinks by this much per second (m2/s),
 * with the drop at its own wet-bulb temperature (Hinds ch. 13; Netz, arXiv
 * 2004.12584). Negative when the air is supersaturated and the drop grows.
 * t_drop_C (may be NULL) gets that temperature. */
double dew_droplet_shrink_m2_s (double t_C, double w_kg_kg, double p_Pa, double *t_drop_C);

/* Seconds until a drop at rest is gone; INFINITY in saturated air. */
double dew_droplet_life_s (double diameter_m, double t_C, double w_kg_kg, double p_Pa);

/* Metres a drop falls in still air until it is gone, evaporating faster for its fall
 * (Ranz & Marshall, Chem. Eng. Prog. 48, 1952); INFINITY in saturated air. */
double dew_droplet_fall_m (double diameter_m, double t_C, double w_kg_kg, double p_Pa);
