/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a device does in a forecast, put together for its pane: where on its curve a
 * fan runs, how much a humidifier gives and how long its tank lasts, what a lamp turns
 * into light and heat, how cold a wet pot is.
 */

#include "forecast/forecast.h"

G_BEGIN_DECLS

/* NAN where it has no meaning for the thing. */
typedef struct
{
  gboolean night;
  double power_W; /* drawn now */

  /* fan: the straight characteristic of the model, at the present speed, and the point
   * on it. A fan that stands free raises no pressure, so its point is at free delivery;
   * what the air feels is its thrust. */
  gboolean in_wall;
  double speed; /* share of full speed */
  double free_m3_s, stall_Pa;
  double flow_m3_s, pressure_Pa;
  double outlet_m_s; /* flow over the disc */
  double thrust_N;   /* rho Q^2 / A of a free fan */

  /* humidifier, pot, tray, moss, plant */
  double duty;       /* share of the time a humidifier runs */
  double water_kg_s; /* given off; negative = gathers dew */
  double hours_of_water;
  double t_C;         /* of the wet surface or the leaves */
  double below_air_K; /* cooler than the air round it by this */

  /* lamp: power_W = light_W + heat_W; light on the places of the bay under it */
  double light_W, heat_W;
  double ppfd_mean_mol_m2s, ppfd_least_mol_m2s, ppfd_most_mol_m2s;
} DewWorking;

/* FALSE when the forecast knows nothing of the thing (it was made before the thing
 * came). Only reads; for any thread. */
gboolean dew_working_point (const DewForecast *forecast, const DewChamber *chamber,
                            const DewThing *thing, DewWorking *out);

/* Pressure rise (Pa) of a fan at a flow (m3/s) on the model's straight characteristic
 * between stall pressure and free delivery, at `speed` (share of full speed), by the fan
 * laws Q ~ n, dp ~ n^2 (ASHRAE Handbook, Systems and Equipment, fans; from memory).
 * Negative beyond free delivery; 0 at speed 0. */
double dew_fan_pressure_Pa (const DewFan *fan, double speed, double flow_m3_s);

G_END_DECLS
