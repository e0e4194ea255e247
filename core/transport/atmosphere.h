/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Temperature, vapour and suspended mist of the zones, moved by a flow and
 * acting back on it by buoyancy.
 *
 * What is carried are two quantities that evaporation inside the air leaves
 * alone, so that mist makes nothing stiff,
 *     total water   q = w + m               (kg/kg over the room)
 *     enthalpy      h = t + (L / cp) w      (K over the room)
 * and the mist m itself, which evaporates at a finite rate toward saturation.
 * w and t follow. All rises are over the room, whose air has none. Of what the air
 * carries, w, t and m are limited, each by itself, and q and h are their sums: so
 * vapour and temperature stay within what their neighbours hold and what evaporates.
 *
 * Arrays are padded like the zones.
 */

#include "flow/flow.h"
#include "moist/air.h"
#include "transport/scalar.h"

G_BEGIN_DECLS

/* What surfaces (cover, pots, leaves) give to the air of each zone, linear in
 * the zone's own state:
 *     heat   = rho cp (heat_source - heat_sink * t + heat_by_w * w)       W
 *     vapour = rho (vapour_source - vapour_sink * w + vapour_by_t * t)    kg/s
 * as a surface follows its air: in moister air it is warmer, in warmer air it
 * gives off more or gathers less. The vapour brings its heat of evaporation with
 * it (or takes it along). */
typedef struct
{
  double *heat_sink_m3_s;
  double *heat_source_K_m3_s;
  double *heat_by_w_m3_s; /* K m3/s per kg/kg */
  double *vapour_sink_m3_s;
  double *vapour_source_m3_s;
  double *vapour_by_t_m3_s; /* kg/kg m3/s per K */
} DewExchangeTerms;

/* K m3/s and kg/kg m3/s of one zone. */
static inline double
dew_exchange_heat (const DewExchangeTerms *e, int zone, double t_K, double w_kg_kg)
{
  return e->heat_source_K_m3_s[zone] - e->heat_sink_m3_s[zone] * t_K
         + e->heat_by_w_m3_s[zone] * w_kg_kg;
}

static inline double
dew_exchange_vapour (const DewExchangeTerms *e, int zone, double t_K, double w_kg_kg)
{
  return e->vapour_source_m3_s[zone] - e->vapour_sink_m3_s[zone] * w_kg_kg
         + e->vapour_by_t_m3_s[zone] * t_K;
}

typedef struct
{
  double t_C, w_kg_kg;
} DewRoomAir;

typedef struct _DewAtmosphere DewAtmosphere;

DewAtmosphere *dew_atmosphere_new (const DewZones *zones, const DewAir *air, const DewRoomAir *room,
                                   double prandtl_turbulent);
void dew_atmosphere_free (DewAtmosphere *atmosphere);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewAtmosphere, dew_atmosphere_free)

/* Lent; must outlive their use. duty: share of the mist and vapour of humidified
 * devices that is given off. `terms` may be NULL. droplet_m and fall_m_s are of the
 * mist that is given off. */
void dew_atmosphere_set_loads (DewAtmosphere *atmosphere, const DewLoads *loads);
void dew_atmosphere_set_terms (DewAtmosphere *atmosphere, const DewExchangeTerms *terms);
void dew_atmosphere_set_mist (DewAtmosphere *atmosphere, double droplet_m, double fall_m_s);
void dew_atmosphere_set_room (DewAtmosphere *atmosphere, const DewRoomAir *room);

/* One pseudo-time step with the flow as it is. */
void dew_atmosphere_step (DewAtmosphere *atmosphere, const DewFlow *flow, double dt_s);
/* Steady state on a given flow (window means, say), to `tolerance`. */
void dew_atmosphere_solve (DewAtmosphere *atmosphere, const double *const flux_m3_s[3],
                           const double *viscosity_m2_s, double tolerance);
/* Takes up a flow without changing the state: what is read of openings and fallout then holds
 * for both. */
void dew_atmosphere_take_flow (DewAtmosphere *atmosphere, const double *const flux_m3_s[3],
                               const double *viscosity_m2_s);
/* Mean age of air (s) on that flow, to `tolerance`, into age_s [size], which holds a first
 * guess. Without any exchange with the room FALSE, and NAN everywhere. */
gboolean dew_atmosphere_age (DewAtmosphere *atmosphere, const double *const flux_m3_s[3],
                             const double *viscosity_m2_s, double tolerance, double *age_s);

/* What the steady states have cost since the atmosphere was made, ages included. */
typedef struct
{
  int rounds;    /* of mist, water and heat in turn */
  double change; /* that the last round made: in g/kg, in K, or in shares of the thickest mist */
  int scalar_solves; /* linear steady states within them */
  int scalar_iterations;
  double residual; /* of the last one of water, heat or age, over its largest term */
} DewAtmosphereStatistics;

DewAtmosphereStatistics dew_atmosphere_statistics (const DewAtmosphere *atmosphere);

/* Upward acceleration, m/s2; kept up to date by step, solve and refresh. */
const double *dew_atmosphere_buoyancy (const DewAtmosphere *atmosphere);

/* State, [size]: may be written (start values, remapping), then refresh. */
double *dew_atmosphere_enthalpy (DewAtmosphere *atmosphere); /* h */
double *dew_atmosphere_water (DewAtmosphere *atmosphere);    /* q */
double *dew_atmosphere_mist (DewAtmosphere *atmosphere);     /* m */
/* Whether there is mist, or must be. */
gboolean dew_atmosphere_is_foggy (const DewAtmosphere *atmosphere);
void dew_atmosphere_refresh (DewAtmosphere *atmosphere);
/* Derived, [size]: rises over the room. */
const double *dew_atmosphere_t (const DewAtmosphere *atmosphere); /* K */
const double *dew_atmosphere_w (const DewAtmosphere *atmosphere); /* kg/kg */

/* Water and heat that cross one opening, by the last solve. */
double dew_atmosphere_water_inflow (const DewAtmosphere *atmosphere,
                                    const DewPatch *patch); /* kg/s */
double dew_atmosphere_heat_inflow (const DewAtmosphere *atmosphere,
                                   const DewPatch *patch); /* W, enthalpy */
double dew_atmosphere_mist_inflow (const DewAtmosphere *atmosphere,
                                   const DewPatch *patch); /* kg/s */
/* Mist that sinks through a level spot in a zone, kg/m2s. */
double dew_atmosphere_mist_settling (const DewAtmosphere *atmosphere, int zone);
/* Mist that the air of a zone takes up (negative: vapour that turns to mist), kg/s. */
double dew_atmosphere_evaporating (const DewAtmosphere *atmosphere, int zone);
/* Mist that lands under a zone, kg/s. */
double dew_atmosphere_fallout (const DewAtmosphere *atmosphere, int zone);

G_END_DECLS
