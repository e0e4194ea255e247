/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What atmosphere.c (the state, and how it marches) and atmosphere-solve.c (how it
 * finds its steady state) share. */

#include "transport/atmosphere.h"

G_BEGIN_DECLS

#define SATURATION_LOW_C (-40.0)
#define SATURATION_STEP_K 0.1
#define SATURATION_ENTRIES 1200
/* Vapour above saturation condenses on what haze there is within this time; any
 * value well below the seconds that air spends in a zone does the same. */
#define HAZE_TIME_S 0.1
#define MIST_FLOOR 1e-12
#define WATER_DENSITY 1000.0

struct _DewAtmosphere
{
  const DewZones *z;
  DewAir air;
  DewRoomAir room;
  double prandtl;
  double latent_K; /* L / cp: kelvins per kg/kg */
  double vapour_diffusivity_m2_s;

  const DewLoads *loads;
  const DewExchangeTerms *terms;
  double droplet_m, fall_m_s;
  gboolean misty;

  DewScalar *plain;    /* carries h, q, age */
  DewScalar *falling;  /* carries m */
  DewScalar *settling; /* carries q as far as it follows m */
  int rounds;          /* of all coupled solves */
  double change;       /* of the last round of the last one */
  double *h, *q, *m, *t, *w, *b;
  double *source, *sink, *before, *carry;
  double *follow;     /* share of a little more water that would stay mist */
  double *drying;     /* kg/kg of vapour more per K of enthalpy more */
  double *fall_share; /* of the face, for what falls of q */
  double *saturation; /* table over temperature, kg/kg */
};

static inline double
saturation (const DewAtmosphere *a, double t_C, double *slope)
{
  double x = (t_C - SATURATION_LOW_C) / SATURATION_STEP_K;
  /* Also for a number that is none. */
  int i = x > 0.0 ? (int) MIN (x, SATURATION_ENTRIES - 1.0) : 0;
  double step = a->saturation[i + 1] - a->saturation[i];

  *slope = step / SATURATION_STEP_K;
  return a->saturation[i] + step * (x - i);
}

/* Evaporation of mist per second, per mist and per kg/kg of missing vapour.
 * Droplets lose mass by the d2 law with the droplet at its own wet bulb (Hinds,
 * Aerosol Technology, 1999, ch. 13; from memory): K = 8 D rho (ws(t_wet) - w) /
 * rho_water, dm/dt = -(3/2) K m / d^2; ws(t_wet) - w = deficit / gamma. The
 * droplets in the air are taken to have the size at which they were given off. */
static inline double
evaporation_constant (const DewAtmosphere *a, double gamma)
{
  return 12.0 * a->vapour_diffusivity_m2_s * a->air.density_kg_m3
         / (WATER_DENSITY * a->droplet_m * a->droplet_m * gamma);
}

/* Missing vapour of a zone if its mist were m, and d(missing)/dm. */
static inline double
deficit (const DewAtmosphere *a, int at, double m, double *gamma)
{
  double w = a->q[at] - m;
  double slope;
  double ws = saturation (a, a->room.t_C + a->h[at] - a->latent_K * w, &slope);

  *gamma = 1.0 + a->latent_K * slope;
  return ws - (a->room.w_kg_kg + w);
}

/* Whether there is mist, or must be. */
gboolean dew_atmosphere_is_foggy (const DewAtmosphere *atmosphere);
/* Sources and sinks of water and heat into source and sink. */
void dew_atmosphere_water_terms (DewAtmosphere *atmosphere);
void dew_atmosphere_heat_terms (DewAtmosphere *atmosphere);
/* Makes ready what carries q and h, and with `mist` m; returns the flow that does. */
DewScalarFlow dew_atmosphere_assemble (DewAtmosphere *atmosphere, const double *const flux_m3_s[3],
                                       const double *viscosity_m2_s, gboolean mist);

G_END_DECLS
