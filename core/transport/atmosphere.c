/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/atmosphere-private.h"

#include <math.h>
#include <string.h>

#include "moist/moist.h"

/* --- life ---------------------------------------------------------------------- */

DewAtmosphere *
dew_atmosphere_new (const DewZones *z, const DewAir *air, const DewRoomAir *room, double prandtl)
{
  DewAtmosphere *a = g_new0 (DewAtmosphere, 1);
  double **all[]
    = { &a->h,    &a->q,      &a->m,     &a->t,      &a->w,      &a->b,         &a->source,
        &a->sink, &a->before, &a->carry, &a->follow, &a->drying, &a->fall_share };

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
  double *all[]
    = { a->h,    a->q,      a->m,     a->t,      a->w,      a->b,          a->source,
        a->sink, a->before, a->carry, a->follow, a->drying, a->fall_share, a->saturation };

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

/* Evaporation or condensation of a zone's mist over dt, implicit. */
static void
settle_mist (DewAtmosphere *a, double dt)
{
  const DewZones *z = a->z;

  DEW_EACH_ZONE (z, at)
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

gboolean
dew_atmosphere_is_foggy (const DewAtmosphere *a)
{
  const DewZones *z = a->z;

  DEW_EACH_ZONE (z, at)
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

  DEW_EACH_ZONE (z, at)
    {
      a->w[at] = a->q[at] - a->m[at];
      a->t[at] = a->h[at] - a->latent_K * a->w[at];
      /* Virtual temperature with liquid loading. */
      a->b[at] = g
                 * (a->air.expansion_1_K * a->t[at] + a->air.vapour_lift * (a->w[at])
                    - (a->air.vapour_lift > 0.0 ? a->m[at] : 0.0));
    }
}

/* --- sources ---------------------------------------------------------------------- */

void
dew_atmosphere_water_terms (DewAtmosphere *a)
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

void
dew_atmosphere_heat_terms (DewAtmosphere *a)
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
          a->source[at]
            += e->heat_source_K_m3_s[at] + e->heat_sink_m3_s[at] * a->latent_K * w
               + a->latent_K * (e->vapour_source_m3_s[at] - e->vapour_sink_m3_s[at] * w);
          a->sink[at] = e->heat_sink_m3_s[at];
        }
    }
}

DewScalarFlow
dew_atmosphere_assemble (DewAtmosphere *a, const double *const flux[3], const double *viscosity,
                         gboolean mist)
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
  gboolean mist = a->misty || dew_atmosphere_is_foggy (a);

  dew_atmosphere_assemble (a, flux, dew_flow_viscosity (f), FALSE);
  dew_atmosphere_water_terms (a);
  if (mist)
    {
      fall_while_marching (a, a->carry);
      for (int at = 0; at < z->size; at++)
        a->source[at] += a->carry[at];
    }
  dew_scalar_step (a->plain, a->q, 0.0, a->sink, a->source, TRUE, dt);
  dew_atmosphere_heat_terms (a);
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

/* --- age ------------------------------------------------------------------------ */

gboolean
dew_atmosphere_age (DewAtmosphere *a, const double *const flux[3], const double *viscosity,
                    double tolerance, double *age)
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
  dew_atmosphere_assemble (a, flux, viscosity, FALSE);
  dew_scalar_solve (a->plain, age, 0.0, NULL, z->volume_m3, tolerance);
  return TRUE;
}

DewAtmosphereStatistics
dew_atmosphere_statistics (const DewAtmosphere *a)
{
  const DewScalar *all[] = { a->plain, a->falling, a->settling };
  DewAtmosphereStatistics sum = { .rounds = a->rounds,
                                  .change = a->change,
                                  .residual = dew_scalar_statistics (a->plain).residual };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    {
      DewScalarStatistics one = dew_scalar_statistics (all[i]);

      sum.scalar_solves += one.solves;
      sum.scalar_iterations += one.iterations;
    }
  return sum;
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
