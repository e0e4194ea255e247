/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Moist air as an ideal mixture, at any pressure. Temperatures in degrees
 * Celsius, pressures in Pa, humidity ratio W in kg vapour per kg dry air,
 * relative humidity as a fraction. Plain functions without state; out of range
 * arguments give NAN, never a wrong number. */

/* Standard atmosphere: pressure (Pa) at an altitude (m). */
double dew_moist_pressure (double altitude_m);

/* Saturation vapour pressure (Pa), over ice below 0 C, over water from 0 C. */
double dew_moist_p_sat (double t_C);
/* d p_sat / d t (Pa/K). */
double dew_moist_p_sat_slope (double t_C);
/* Temperature (C) at which p_sat is p_w: the dew or frost point. */
double dew_moist_dew_point_from_p (double p_w_Pa);

double dew_moist_w_from_p_w (double p_w_Pa, double p_Pa);
double dew_moist_p_w_from_w (double w_kg_kg, double p_Pa);
double dew_moist_w_sat (double t_C, double p_Pa);
double dew_moist_w_from_rh (double t_C, double rh, double p_Pa);
double dew_moist_rh_from_w (double t_C, double w_kg_kg, double p_Pa);
double dew_moist_dew_point (double w_kg_kg, double p_Pa);
/* Thermodynamic wet bulb. */
double dew_moist_wet_bulb (double t_C, double w_kg_kg, double p_Pa);
double dew_moist_w_from_wet_bulb (double t_C, double wet_bulb_C, double p_Pa);
/* Enthalpy (J per kg dry air), zero for dry air at 0 C and liquid water at 0 C. */
double dew_moist_enthalpy (double t_C, double w_kg_kg);
double dew_moist_t_from_enthalpy (double h_J_kg, double w_kg_kg);
double dew_moist_w_from_enthalpy (double h_J_kg, double t_C);
/* Volume per kg dry air (m3/kg) and density of the mixture (kg/m3). */
double dew_moist_volume (double t_C, double w_kg_kg, double p_Pa);
double dew_moist_density (double t_C, double w_kg_kg, double p_Pa);
/* Vapour pressure deficit of the air (Pa), never negative. */
double dew_moist_vpd (double t_C, double w_kg_kg, double p_Pa);
/* Vapour per volume (kg/m3). */
double dew_moist_vapour_density (double t_C, double w_kg_kg, double p_Pa);
/* Temperature (C) of dry air as heavy as this air (virtual temperature). */
double dew_moist_t_virtual (double t_C, double w_kg_kg);
/* Heat of evaporation (J/kg). */
double dew_moist_latent_heat (double t_C);

/* Transport properties of air at pressure p: kinematic viscosity, thermal
 * diffusivity, diffusivity of vapour (m2/s), conductivity (W/mK). */
double dew_moist_viscosity (double t_C, double p_Pa);
double dew_moist_thermal_diffusivity (double t_C, double p_Pa);
double dew_moist_vapour_diffusivity (double t_C, double p_Pa);
double dew_moist_conductivity (double t_C);

#define DEW_CP_DRY_AIR 1006.0 /* J/kgK, ASHRAE Handbook Fundamentals 2017 ch. 1 eq 30 */
#define DEW_CP_VAPOUR 1860.0
#define DEW_CP_WATER 4186.0
