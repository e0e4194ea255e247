/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What atmosphere.c (the state, and how it marches) and atmosphere-solve.c (how it
 * finds its steady state) share. */

#include "transport/atmosphere.h"
#include "transport/trio.h"

G_BEGIN_DECLS

#define SATURATION_LOW_C (-40.0)
#define SATURATION_STEP_K 0.1
#define SATURATION_ENTRIES 1200
/* Vapour above saturation condenses on what haze there is within this time; any value well
 * below the seconds that air spends in a zone, and below those in which a humidifier fills
 * one, does the same. It sets in over as much water as a thousandth of relative humidity:
 * with a kink Newton's method goes to and fro across it. */
#define HAZE_TIME_S 1e-3
#define HAZE_KG_KG 1e-5
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

  DewScalar *plain;   /* carries w, t, age */
  DewScalar *falling; /* carries m */
  DewTrio *trio;
  int rounds;      /* of all coupled solves */
  double change;   /* of the last round of the last one */
  double residual; /* of the last one, over its largest term */
  double *h, *q, *m, *t, *w, *b;
  double *source[3], *sink[3]; /* of w, t and m */
  double *bent[2];             /* what fluxes of w and t beyond first order bring */
  double *turned_1_s;          /* zones: what evaporated in the last step, kg/kg a second */
  gboolean fresh;              /* the state was written: those know nothing of it */
  double *saturation;          /* table over temperature, kg/kg */
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

/* Missing vapour of a zone, kg/kg; gamma is how much faster it falls than evaporation
 * brings vapour, as that cools. */
static inline double
deficit (const DewAtmosphere *a, int at, double *slope, double *gamma)
{
  double ws = saturation (a, a->room.t_C + a->t[at], slope);

  *gamma = 1.0 + a->latent_K * *slope;
  return ws - (a->room.w_kg_kg + a->w[at]);
}

/* What evaporates in a zone (kg/kg m3/s; negative: condenses), for its w, t and m as they
 * are, and how that grows with each of them. */
typedef struct
{
  double rate;
  double by_w, by_t, by_m;
} DewEvaporation;

DewEvaporation dew_atmosphere_evaporation (const DewAtmosphere *atmosphere, int zone);

/* Sources and sinks of w, t and m. */
void dew_atmosphere_terms (DewAtmosphere *atmosphere);
/* Makes ready what carries w and t, and with `mist` m. */
void dew_atmosphere_assemble (DewAtmosphere *atmosphere, const double *const flux_m3_s[3],
                              const double *viscosity_m2_s, gboolean mist);
/* Fluxes of w and t beyond first order: the given share of the way to those of the state as
 * it is. */
void dew_atmosphere_bend (DewAtmosphere *atmosphere, double share);
/* q, h and buoyancy of w, t and m; dew_atmosphere_refresh() goes the other way. */
void dew_atmosphere_gather (DewAtmosphere *atmosphere);

G_END_DECLS
