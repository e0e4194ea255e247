/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/atmosphere.h"

#include <math.h>
#include <string.h>

#include "moist/moist.h"

#define SATURATION_LOW_C (-40.0)
#define SATURATION_STEP_K 0.1
#define SATURATION_ENTRIES 1200
/* Vapour above saturation condenses on what haze there is within this time; any
 * value well below the seconds that air spends in a zone does the same. */
#define HAZE_TIME_S 0.1
#define MIST_FLOOR 1e-12
#define WATER_DENSITY 1000.0
#define OUTER_ITERATIONS 40
#define STALLED 0.9
#define SHORTEST_PART 0.15
#define NEAR_WATER 3e-4 /* kg/kg */
#define NEAR_HEAT_K 0.3
#define MOST_SHORT 0.1 /* of all the mist */
/* One iteration changes foggy air by no more than this: what fog answers is known for
 * small changes only. */
#define MOST_WATER 0.02 /* kg/kg */
#define MOST_HEAT_K 30.0

struct _DewAtmosphere
{
  const DewZones *z;
  DewAir          air;
  DewRoomAir      room;
  double          prandtl;
  double          latent_K; /* L / cp: kelvins per kg/kg */
  double          vapour_diffusivity_m2_s;

  const DewLoads         *loads;
  const DewExchangeTerms *terms;
  double          droplet_m, fall_m_s;
  gboolean        misty;

  DewScalar *plain; /* carries h, q, age */
  DewScalar *falling; /* carries m */
  DewScalar *settling; /* carries q as far as it follows m */
  double *h, *q, *m, *t, *w, *b;
  double *source, *sink, *before, *carry;
  double *follow;     /* share of a little more water that would stay mist */
  double *drying;     /* kg/kg of vapour more per K of enthalpy more */
  double *fall_share; /* of the face, for what falls of q */
  double *saturation; /* table over temperature, kg/kg */
};

/* --- life ---------------------------------------------------------------------- */

DewAtmosphere *
dew_atmosphere_new (const DewZones *z, const DewAir *air, const DewRoomAir *room, double prandtl)
{
  DewAtmosphere *a = g_new0 (DewAtmosphere, 1);
  double **all[] = { &a->h, &a->q, &a->m, &a->t, &a->w, &a->b, &a->source, &a->sink, &a->before,
                     &a->carry, &a->follow, &a->drying, &a->fall_share };

  a->z = z;
  a->air = *air;
  a->prandtl = prandtl;
  a->latent_K = air->latent_heat_J_kg / air->specific_heat_J_kgK;
  if (a->air.thermal_diffusivity_m2_s <= 0.0)
    a->air.thermal_diffusivity_m2_s = a->air.viscosity_m2_s / 0.71;
  a->droplet_m = 5e-6;
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    *all[i] = g_new0 (double, z->size);
  a->plain = dew_scalar_new (z);
  a->falling = dew_scalar_new (z);
  a->settling = dew_scalar_new (z);
  /* Looked up in every zone and step: a table with linear steps of 0.1 K is
   * within 1e-5 of the relation. */
  a->saturation = g_new0 (double, SATURATION_ENTRIES + 1);
  for (int i = 0; i <= SATURATION_ENTRIES; i++)
    a->saturation[i] = dew_moist_w_sat (SATURATION_LOW_C + SATURATION_STEP_K * i, air->pressure_Pa);
  dew_atmosphere_set_room (a, room);
  return a;
}

void
dew_atmosphere_free (DewAtmosphere *a)
{
  if (a == NULL)
    return;
  double *all[] = { a->h, a->q, a->m, a->t, a->w, a->b, a->source, a->sink, a->before, a->carry,
                    a->follow, a->drying, a->fall_share, a->saturation };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_free (all[i]);
  dew_scalar_free (a->plain);
  dew_scalar_free (a->falling);
  dew_scalar_free (a->settling);
  g_free (a);
}

void
dew_atmosphere_set_loads (DewAtmosphere *a, const DewLoads *loads)
{
  a->loads = loads;
  a->misty = FALSE;
  for (int at = 0; at < a->z->size; at++)
    a->misty |= loads->mist_kg_s[at] > 0.0;
}

void
dew_atmosphere_set_terms (DewAtmosphere *a, const DewExchangeTerms *terms)
{
  a->terms = terms;
}

void
dew_atmosphere_set_mist (DewAtmosphere *a, double droplet_m, double fall_m_s)
{
  a->droplet_m = droplet_m;
  a->fall_m_s = fall_m_s;
}

void
dew_atmosphere_set_room (DewAtmosphere *a, const DewRoomAir *room)
{
  a->room = *room;
  a->vapour_diffusivity_m2_s = dew_moist_vapour_diffusivity (room->t_C, a->air.pressure_Pa);
}

/* --- saturation and droplets ---------------------------------------------------- */

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
static double
evaporation_constant (const DewAtmosphere *a, double gamma)
{
  return 12.0 * a->vapour_diffusivity_m2_s * a->air.density_kg_m3 / (WATER_DENSITY * a->droplet_m * a->droplet_m * gamma);
}

/* Missing vapour of a zone if its mist were m, and d(missing)/dm. */
static double
deficit (const DewAtmosphere *a, int at, double m, double *gamma)
{
  double w = a->q[at] - m;
  double slope;
  double ws = saturation (a, a->room.t_C + a->h[at] - a->latent_K * w, &slope);

  *gamma = 1.0 + a->latent_K * slope;
  return ws - (a->room.w_kg_kg + w);
}

/* Evaporation or condensation of a zone's mist over dt, implicit. */
static void
settle_mist (DewAtmosphere *a, double dt)
{
  const DewZones *z = a->z;

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int at = dew_zones_at (z, 1, j, k), end = at + z->n[0]; at < end; at++)
        {
          double gamma, m = MAX (a->m[at], 0.0);
          double s = deficit (a, at, m, &gamma);

          if (s <= 0.0)
            m -= s / gamma * (1.0 - exp (-dt / HAZE_TIME_S));
          else if (m > MIST_FLOOR)
            {
              /* c gamma x^2 + (1 + c (s - gamma m)) x - m = 0 */
              double c = dt * evaporation_constant (a, gamma);
              double p = 1.0 + c * (s - gamma * m);

              m = 2.0 * m / (p + sqrt (p * p + 4.0 * c * gamma * m));
            }
          else
            m = 0.0;
          a->m[at] = m;
        }
}

static gboolean
is_foggy (const DewAtmosphere *a)
{
  const DewZones *z = a->z;

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int at = dew_zones_at (z, 1, j, k), end = at + z->n[0]; at < end; at++)
        {
          double gamma;

          if (a->m[at] > MIST_FLOOR || deficit (a, at, 0.0, &gamma) < 0.0)
            return TRUE;
        }
  return FALSE;
}

void
dew_atmosphere_refresh (DewAtmosphere *a)
{
  const DewZones *z = a->z;
  double g = a->air.gravity_m_s2;

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int at = dew_zones_at (z, 1, j, k), end = at + z->n[0]; at < end; at++)
        {
          a->w[at] = a->q[at] - a->m[at];
          a->t[at] = a->h[at] - a->latent_K * a->w[at];
          /* Virtual temperature with liquid loading. */
          a->b[at] = g * (a->air.expansion_1_K * a->t[at] + a->air.vapour_lift * (a->w[at])
                          - (a->air.vapour_lift > 0.0 ? a->m[at] : 0.0));
        }
}

/* --- sources ---------------------------------------------------------------------- */

static void
water_terms (DewAtmosphere *a)
{
  const DewZones *z = a->z;
  const DewLoads *l = a->loads;
  const DewExchangeTerms *e = a->terms;
  double rho_1 = 1.0 / a->air.density_kg_m3;

  for (int at = 0; at < z->size; at++)
    {
      a->source[at] = l != NULL ? rho_1 * (l->vapour_kg_s[at] + l->mist_kg_s[at]) : 0.0;
      a->sink[at] = 0.0;
      if (e != NULL)
        {
          a->source[at] += e->vapour_source_m3_s[at] + e->vapour_sink_m3_s[at] * a->m[at];
          a->sink[at] = e->vapour_sink_m3_s[at];
        }
    }
}

static void
heat_terms (DewAtmosphere *a)
{
  const DewZones *z = a->z;
  const DewLoads *l = a->loads;
  const DewExchangeTerms *e = a->terms;
  double heat_1 = 1.0 / (a->air.density_kg_m3 * a->air.specific_heat_J_kgK);

  for (int at = 0; at < z->size; at++)
    {
      double w = a->q[at] - a->m[at];

      a->source[at] = l != NULL ? heat_1 * (l->heat_W[at] + l->latent_W[at]) : 0.0;
      a->sink[at] = 0.0;
      if (e != NULL)
        {
          a->source[at] += e->heat_source_K_m3_s[at] + e->heat_sink_m3_s[at] * a->latent_K * w
                           + a->latent_K * (e->vapour_source_m3_s[at] - e->vapour_sink_m3_s[at] * w);
          a->sink[at] = e->heat_sink_m3_s[at];
        }
    }
}

static DewScalarFlow
assemble (DewAtmosphere *a, const double *const flux[3], const double *viscosity, gboolean mist)
{
  DewScalarFlow flow = {
    .flux_m3_s = { flux[0], flux[1], flux[2] },
    .viscosity_m2_s = viscosity,
    .laminar_m2_s = a->air.viscosity_m2_s,
    .molecular_m2_s = a->air.thermal_diffusivity_m2_s,
    .prandtl_turbulent = a->prandtl,
  };

  dew_scalar_assemble (a->plain, &flow);
  if (mist)
    {
      DewScalarFlow falling = flow;

      falling.fall_m_s = a->fall_m_s;
      falling.fall_share = a->loads != NULL ? a->loads->fall_share : NULL;
      /* A limiter that flickers in falling rain moves more water than the air does. */
      falling.blunt = TRUE;
      dew_scalar_assemble (a->falling, &falling);
    }
  return flow;
}

/* What falling moves of the mist while marching, to first order: what sinks in from the
 * zone above less what sinks out, m3/s times kg/kg. Boards stop it, wires and pots catch
 * their part. */
static void
fall_while_marching (const DewAtmosphere *a, double *into)
{
  const DewZones *z = a->z;
  int s2 = z->stride[2];

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int at = dew_zones_at (z, 1, j, k), end = at + z->n[0]; at < end; at++)
        {
          double passes = a->loads != NULL ? a->loads->fall_share[at + s2] : 1.0;

          into[at] = a->fall_m_s
                     * ((k < z->n[2] ? passes * z->open_m2[2][at + s2] * a->m[at + s2] : 0.0)
                        - z->gross_m2[2][at] * a->m[at]);
        }
}

/* --- pseudo-time ------------------------------------------------------------------- */

void
dew_atmosphere_step (DewAtmosphere *a, const DewFlow *f, double dt)
{
  const double *flux[3] = { dew_flow_flux (f, 0), dew_flow_flux (f, 1), dew_flow_flux (f, 2) };
  const DewZones *z = a->z;
  gboolean mist = a->misty || is_foggy (a);

  assemble (a, flux, dew_flow_viscosity (f), FALSE);
  water_terms (a);
  if (mist)
    {
      fall_while_marching (a, a->carry);
      for (int at = 0; at < z->size; at++)
        a->source[at] += a->carry[at];
    }
  dew_scalar_step (a->plain, a->q, 0.0, a->sink, a->source, TRUE, dt);
  heat_terms (a);
  dew_scalar_step (a->plain, a->h, 0.0, a->sink, a->source, TRUE, dt);
  if (mist)
    {
      for (int at = 0; at < z->size; at++)
        a->source[at] = a->carry[at]
                        + (a->loads != NULL ? a->loads->mist_kg_s[at] / a->air.density_kg_m3 : 0.0);
      /* Mist is gone before it has travelled far: its fronts need not be sharp
       * on the way. */
      dew_scalar_step (a->plain, a->m, 0.0, NULL, a->source, FALSE, dt);
      settle_mist (a, dt);
    }
  dew_atmosphere_refresh (a);
}

/* --- steady state ------------------------------------------------------------------ */

/* Mist by Newton's method on its own balance, with water and enthalpy held: the
 * missing vapour grows with m, so the equation has one answer. */
static double
solve_mist (DewAtmosphere *a, double tolerance)
{
  const DewZones *z = a->z;
  double change = 0.0, largest = MIST_FLOOR;

  memcpy (a->before, a->m, sizeof (double) * z->size);
  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int at = dew_zones_at (z, 1, j, k), end = at + z->n[0]; at < end; at++)
        {
          double gamma, m = a->m[at];
          double s = deficit (a, at, m, &gamma);
          double v = z->volume_m3[at];

          a->source[at] = a->loads != NULL ? a->loads->mist_kg_s[at] / a->air.density_kg_m3 : 0.0;
          if (s > 0.0)
            {
              double c = evaporation_constant (a, gamma) * v;

              a->sink[at] = c * (s + gamma * m);
              a->source[at] += c * gamma * m * m;
            }
          else
            {
              a->sink[at] = v / HAZE_TIME_S;
              a->source[at] += v / HAZE_TIME_S * MAX (0.0, m - s / gamma);
            }
        }
  dew_scalar_solve (a->falling, a->m, 0.0, a->sink, a->source, tolerance);
  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int at = dew_zones_at (z, 1, j, k), end = at + z->n[0]; at < end; at++)
        {
          a->m[at] = MAX (0.0, a->m[at]);
          change = MAX (change, fabs (a->m[at] - a->before[at]));
          largest = MAX (largest, a->m[at]);
        }
  return change / largest;
}

static double
largest_change (const DewZones *z, const double *now, const double *before)
{
  double change = 0.0;

  for (int at = 0; at < z->size; at++)
    if (z->volume_m3[at] > 0.0)
      {
        double here = fabs (now[at] - before[at]);

        /* Also from what is no number. */
        if (!(here < INFINITY))
          return INFINITY;
        change = MAX (change, here);
      }
  return change;
}

/* Air and mist that leave a zone by flow and by falling, m3/s. */
static double
leaving_m3_s (const DewAtmosphere *a, const DewScalarFlow *flow, int at)
{
  double sum = a->fall_m_s * a->z->gross_m2[2][at];

  for (int axis = 0; axis < 3; axis++)
    sum += MAX (0.0, -flow->flux_m3_s[axis][at])
           + MAX (0.0, flow->flux_m3_s[axis][at + a->z->stride[axis]]);
  return sum;
}

/* How mist answers to a little more water or warmth: in saturated air all added water
 * stays mist and warmth makes vapour of it, in dry air neither; drops that are coarse
 * are gone before they can answer. */
static void
find_answers (DewAtmosphere *a, const DewScalarFlow *flow)
{
  for (int at = 0; at < a->z->size; at++)
    {
      double gamma, s, rate, v = a->z->volume_m3[at];

      a->follow[at] = a->drying[at] = 0.0;
      a->fall_share[at] = 0.0;
      if (v <= 0.0)
        continue;
      s = deficit (a, at, a->m[at], &gamma);
      if (s <= 0.0)
        a->follow[at] = 1.0;
      else if (a->m[at] > MIST_FLOOR)
        {
          rate = evaporation_constant (a, gamma) * v;
          a->follow[at] = rate * gamma * a->m[at]
                          / (leaving_m3_s (a, flow, at) + rate * (s + gamma * a->m[at]));
        }
      a->drying[at] = a->follow[at] * (gamma - 1.0) / (gamma * a->latent_K);
      a->fall_share[at] = a->follow[at] * (a->loads != NULL ? a->loads->fall_share[at] : 1.0);
    }
}

/* What falling moves of the mist as it is: all that moves it less what the air does. */
static void
add_fallen (DewAtmosphere *a, const DewScalarFlow *with)
{
  DewScalarFlow flow = *with;

  flow.blunt = TRUE;
  dew_scalar_assemble (a->settling, &flow);
  memset (a->carry, 0, sizeof (double) * a->z->size);
  dew_scalar_apply (a->settling, a->m, 0.0, a->carry, NULL);
  dew_scalar_apply (a->falling, a->m, 0.0, a->source, a->carry);
}

/* Mist falls through the air, vapour does not: what that moves of the water, with the
 * mist following q. Were the mist held, a fog that sinks faster than the openings
 * let it out would drive the water from one extreme to the other. */
static void
add_fall_of_mist (DewAtmosphere *a, const DewScalarFlow *with)
{
  const DewZones *z = a->z;
  DewScalarFlow flow = *with;

  add_fallen (a, with);
  flow.fall_m_s = a->fall_m_s;
  flow.fall_share = a->fall_share;
  flow.blunt = TRUE;
  dew_scalar_assemble (a->settling, &flow);
  memset (a->carry, 0, sizeof (double) * z->size);
  dew_scalar_apply (a->settling, a->q, 0.0, a->carry, NULL);
  for (int at = 0; at < z->size; at++)
    a->source[at] -= a->carry[at];
  dew_scalar_apply (a->plain, a->q, 0.0, a->source, NULL);
  for (int at = 0; at < z->size; at++)
    if (z->volume_m3[at] > 0.0)
      {
        /* All that lands under a zone is counted above, but only what follows lands. */
        double idle = a->fall_m_s * z->gross_m2[2][at] * (1.0 - a->follow[at]);

        a->source[at] -= idle * a->q[at];
        a->sink[at] -= idle;
      }
}

/* Whether the water found would take away mist that is not there: then it was not the
 * mist that gave way. */
static gboolean
takes_too_much (const DewAtmosphere *a)
{
  double mist = 0.0, short_of = 0.0;

  for (int at = 0; at < a->z->size; at++)
    {
      double left = a->m[at] + a->follow[at] * (a->q[at] - a->before[at]);

      mist += a->z->volume_m3[at] * a->m[at];
      short_of += a->z->volume_m3[at] * MAX (0.0, -left);
    }
  return short_of > MOST_SHORT * mist;
}

/* The water with what sinks of it; dew_follows: dew is taken from the vapour, which in
 * fog stays as it is, else as if all the water that comes or goes were vapour. The
 * first is right and quick; the second never runs away. */
static void
solve_misty_water (DewAtmosphere *a, const DewScalarFlow *flow, gboolean dew_follows,
                   double tolerance)
{
  water_terms (a);
  if (dew_follows)
    for (int at = 0; at < a->z->size; at++)
      {
        a->source[at] -= a->sink[at] * a->follow[at] * a->q[at];
        a->sink[at] *= 1.0 - a->follow[at];
      }
  add_fall_of_mist (a, flow);
  dew_scalar_solve (a->settling, a->q, 0.0, a->sink, a->source, tolerance);
}

/* Keeps the step from `before` to now within what is trusted; returns its largest. */
static double
hold_back (const DewAtmosphere *a, double *now, double most, double part)
{
  double change = largest_change (a->z, now, a->before);

  for (int at = 0; at < a->z->size; at++)
    now[at] = a->before[at] + part * CLAMP (now[at] - a->before[at], -most, most);
  return MIN (change, most);
}

/* Returns the largest change, kg/kg; of which `part` was made in foggy air. */
static double
solve_water (DewAtmosphere *a, const DewScalarFlow *flow, gboolean mist, double part,
             double tolerance)
{
  const DewZones *z = a->z;
  double change;

  memcpy (a->before, a->q, sizeof (double) * z->size);
  if (!mist)
    {
      water_terms (a);
      dew_scalar_solve (a->plain, a->q, 0.0, a->sink, a->source, tolerance);
      return largest_change (z, a->q, a->before);
    }
  solve_misty_water (a, flow, TRUE, tolerance);
  if (takes_too_much (a))
    {
      memcpy (a->q, a->before, sizeof (double) * z->size);
      solve_misty_water (a, flow, FALSE, tolerance);
    }
  change = hold_back (a, a->q, MOST_WATER, part);
  for (int at = 0; at < z->size; at++)
    a->m[at] = MAX (0.0, a->m[at] + a->follow[at] * (a->q[at] - a->before[at]));
  return change;
}

/* Returns the largest change, K, as with water. */
static double
solve_heat (DewAtmosphere *a, gboolean mist, double part, double tolerance)
{
  const DewZones *z = a->z;
  double change;
  const DewExchangeTerms *e = a->terms;

  memcpy (a->before, a->h, sizeof (double) * z->size);
  heat_terms (a);
  for (int at = 0; mist && e != NULL && at < z->size; at++)
    {
      double less = a->latent_K * (e->heat_sink_m3_s[at] - e->vapour_sink_m3_s[at]) * a->drying[at];

      a->sink[at] -= less;
      a->source[at] -= less * a->h[at];
    }
  dew_scalar_solve (a->plain, a->h, 0.0, a->sink, a->source, tolerance);
  if (!mist)
    return largest_change (z, a->h, a->before);
  change = hold_back (a, a->h, MOST_HEAT_K, part);
  for (int at = 0; at < z->size; at++)
    a->m[at] = MAX (0.0, a->m[at] - a->drying[at] * (a->h[at] - a->before[at]));
  return change;
}

/* Water and heat once more with the mist as it is, so that they balance to the last
 * digit though the iterations were cut short; unless that leads far away. */
static void
close_balances (DewAtmosphere *a, const DewScalarFlow *flow, double tolerance)
{
  const DewZones *z = a->z;
  gsize bytes = sizeof (double) * z->size;
  g_autofree double *q = g_memdup2 (a->q, bytes);
  g_autofree double *h = g_memdup2 (a->h, bytes);

  water_terms (a);
  add_fallen (a, flow);
  dew_scalar_solve (a->plain, a->q, 0.0, a->sink, a->source, tolerance);
  heat_terms (a);
  dew_scalar_solve (a->plain, a->h, 0.0, a->sink, a->source, tolerance);
  if (largest_change (z, a->q, q) < NEAR_WATER && largest_change (z, a->h, h) < NEAR_HEAT_K)
    return;
  memcpy (a->q, q, bytes);
  memcpy (a->h, h, bytes);
}

void
dew_atmosphere_solve (DewAtmosphere *a, const double *const flux[3], const double *viscosity,
                      double tolerance)
{
  gboolean mist = a->misty || is_foggy (a);
  DewScalarFlow flow = assemble (a, flux, viscosity, TRUE);
  double part = 1.0, last = INFINITY;

  for (int it = 0; it < OUTER_ITERATIONS; it++)
    {
      double moved = 0.0;

      if (mist)
        {
          solve_mist (a, tolerance);
          moved = solve_mist (a, tolerance);
          find_answers (a, &flow);
        }
      moved = MAX (moved, solve_water (a, &flow, mist, part, tolerance) / 1e-3);
      moved = MAX (moved, solve_heat (a, mist, part, tolerance) / 1.0);
      if (!mist && it == 0)
        {
          mist = is_foggy (a);
          if (!mist)
            break; /* q does not depend on h without mist */
        }
      if (moved < MAX (tolerance, 1e-7) * 10.0)
        break;
      /* Drops that fall for long answer to all the air they came through, and too
       * much: to and fro unless the steps are shorter. */
      if (mist && moved > STALLED * last)
        part = MAX (SHORTEST_PART, 0.7 * part);
      last = moved;
    }
  if (mist)
    close_balances (a, &flow, tolerance);
  dew_atmosphere_refresh (a);
}

gboolean
dew_atmosphere_age (DewAtmosphere *a, const double *const flux[3], const double *viscosity,
                    double *age)
{
  const DewZones *z = a->z;
  double exchange = 0.0;

  for (int p = 0; p < z->n_patches; p++)
    exchange = MAX (exchange, fabs (flux[z->patches[p].axis][z->patches[p].face]));
  if (exchange <= 1e-12)
    {
      for (int at = 0; at < z->size; at++)
        age[at] = NAN;
      return FALSE;
    }
  assemble (a, flux, viscosity, FALSE);
  dew_scalar_solve (a->plain, age, 0.0, NULL, z->volume_m3, 1e-8);
  return TRUE;
}

/* --- reading ------------------------------------------------------------------------- */

const double *
dew_atmosphere_buoyancy (const DewAtmosphere *a)
{
  return a->b;
}

double
dew_atmosphere_frequency (const DewAtmosphere *a)
{
  const DewZones *z = a->z;
  double largest = 0.0;

  for (int k = 2; k <= z->n[2]; k++)
    {
      double gap_1 = 1.0 / z->gap_m[2][k];

      for (int j = 1; j <= z->n[1]; j++)
        for (int at = dew_zones_at (z, 1, j, k), end = at + z->n[0]; at < end; at++)
          largest = MAX (largest, (a->b[at] - a->b[at - z->stride[2]]) * gap_1);
    }
  return sqrt (largest);
}

double *
dew_atmosphere_enthalpy (DewAtmosphere *a)
{
  return a->h;
}

double *
dew_atmosphere_water (DewAtmosphere *a)
{
  return a->q;
}

double *
dew_atmosphere_mist (DewAtmosphere *a)
{
  return a->m;
}

const double *
dew_atmosphere_t (const DewAtmosphere *a)
{
  return a->t;
}

const double *
dew_atmosphere_w (const DewAtmosphere *a)
{
  return a->w;
}

double
dew_atmosphere_water_inflow (const DewAtmosphere *a, const DewPatch *patch)
{
  return a->air.density_kg_m3 * dew_scalar_inflow (a->plain, patch, a->q, 0.0);
}

double
dew_atmosphere_heat_inflow (const DewAtmosphere *a, const DewPatch *patch)
{
  return a->air.density_kg_m3 * a->air.specific_heat_J_kgK
         * dew_scalar_inflow (a->plain, patch, a->h, 0.0);
}

double
dew_atmosphere_mist_inflow (const DewAtmosphere *a, const DewPatch *patch)
{
  return a->air.density_kg_m3 * dew_scalar_inflow (a->plain, patch, a->m, 0.0);
}

double
dew_atmosphere_mist_settling (const DewAtmosphere *a, int zone)
{
  return a->air.density_kg_m3 * a->fall_m_s * a->m[zone];
}

double
dew_atmosphere_fallout (const DewAtmosphere *a, int zone)
{
  return a->air.density_kg_m3 * dew_scalar_landing (a->falling, zone) * a->m[zone];
}
