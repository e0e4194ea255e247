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
  double **all[] = { &a->h,       &a->q,         &a->m,         &a->t,         &a->w,
                     &a->b,       &a->source[0], &a->source[1], &a->source[2], &a->sink[0],
                     &a->sink[1], &a->sink[2],   &a->bent[0],   &a->bent[1],   &a->turned_1_s };

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
  a->trio = dew_trio_new (z);
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
  double *all[] = { a->h,         a->q,         a->m,          a->t,         a->w,       a->b,
                    a->source[0], a->source[1], a->source[2],  a->sink[0],   a->sink[1], a->sink[2],
                    a->bent[0],   a->bent[1],   a->turned_1_s, a->saturation };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_free (all[i]);
  dew_scalar_free (a->plain);
  dew_scalar_free (a->falling);
  dew_trio_free (a->trio);
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

/* How far the fluxes beyond first order follow the state in one step: all the way, a
 * limiter flickers between two states for ever. */
#define BENT_MORE 0.5

/* Condensing sets in at a tenth of its rate and reaches all of it at HAZE_KG_KG. */
DewEvaporation
dew_atmosphere_evaporation (const DewAtmosphere *a, int at)
{
  double slope, gamma, s = deficit (a, at, &slope, &gamma), v = a->z->volume_m3[at];
  double drops = evaporation_constant (a, gamma), haze = 1.0 / (gamma * HAZE_TIME_S);
  double over = -s / HAZE_KG_KG, formed, quick;

  if (s >= 0.0)
    return (DewEvaporation){ v * drops * a->m[at] * s, -v * drops * a->m[at],
                             v * drops * a->m[at] * slope, v * drops * s };
  formed = over < 1.0 ? over * (0.1 + 0.45 * over) : over - 0.45;
  quick = v * haze * MIN (1.0, 0.1 + 0.9 * over);
  return (DewEvaporation){ -v * haze * HAZE_KG_KG * formed, -quick, quick * slope, 0.0 };
}

/* What evaporates or condenses in a zone over dt, implicit: the root between all of the mist
 * gone and saturation of e = dt (c (m - e) + haze) (s - gamma e). The step that carried w, t
 * and m went along with what turned in the step before; that is taken back first, so that a
 * march comes to rest where nothing turns but what the steady state turns, however quick the
 * drops are and long the step is (balanced splitting: Speth, Green, MacNamara & Strang, SIAM
 * J. Numer. Anal. 51, 2013). */
static void
settle_mist (DewAtmosphere *a, double dt)
{
  DEW_EACH_ZONE (a->z, at)
    {
      double before = dt * a->turned_1_s[at], slope, gamma, s, c, quick, p, e = 0.0;

      a->w[at] -= before;
      a->t[at] += a->latent_K * before;
      a->m[at] = MAX (0.0, a->m[at] + before);
      s = deficit (a, at, &slope, &gamma);
      c = s < 0.0 ? 0.0 : dt * evaporation_constant (a, gamma);
      quick = s < 0.0 ? dt / (gamma * HAZE_TIME_S) : c * a->m[at];
      p = 1.0 + c * s + gamma * quick;
      e = 2.0 * quick * s / (p + sqrt (MAX (0.0, p * p - 4.0 * c * gamma * quick * s)));
      a->m[at] -= e;
      a->w[at] += e;
      a->t[at] -= a->latent_K * e;
      a->turned_1_s[at] = e / dt;
    }
}

gboolean
dew_atmosphere_is_foggy (const DewAtmosphere *a)
{
  DEW_EACH_ZONE (a->z, at)
    {
      double slope, gamma;

      if (a->m[at] > MIST_FLOOR || deficit (a, at, &slope, &gamma) < 0.0)
        return TRUE;
    }
  return FALSE;
}

static void
find_buoyancy (DewAtmosphere *a)
{
  double g = a->air.gravity_m_s2;
  double liquid = a->air.vapour_lift > 0.0 ? 1.0 : 0.0;

  /* Virtual temperature with liquid loading. */
  DEW_EACH_ZONE (a->z, at)
    a->b[at]
      = g * (a->air.expansion_1_K * a->t[at] + a->air.vapour_lift * a->w[at] - liquid * a->m[at]);
}

void
dew_atmosphere_refresh (DewAtmosphere *a)
{
  a->fresh = TRUE;
  DEW_EACH_ZONE (a->z, at)
    {
      a->turned_1_s[at] = 0.0;
      a->w[at] = a->q[at] - a->m[at];
      a->t[at] = a->h[at] - a->latent_K * a->w[at];
    }
  find_buoyancy (a);
}

void
dew_atmosphere_gather (DewAtmosphere *a)
{
  DEW_EACH_ZONE (a->z, at)
    {
      a->q[at] = a->w[at] + a->m[at];
      a->h[at] = a->t[at] + a->latent_K * a->w[at];
    }
  find_buoyancy (a);
}

/* --- sources ---------------------------------------------------------------------- */

void
dew_atmosphere_terms (DewAtmosphere *a)
{
  const DewLoads *l = a->loads;
  const DewExchangeTerms *e = a->terms;
  double rho_1 = 1.0 / a->air.density_kg_m3, heat_1 = rho_1 / a->air.specific_heat_J_kgK;

  for (int at = 0; at < a->z->size; at++)
    {
      double vapour = l != NULL ? rho_1 * l->vapour_kg_s[at] : 0.0;

      a->source[0][at] = vapour;
      /* Vapour takes its heat of evaporation from the air, but for what it brings along. */
      a->source[1][at]
        = l != NULL ? heat_1 * (l->heat_W[at] + l->latent_W[at]) - a->latent_K * vapour : 0.0;
      a->source[2][at] = l != NULL ? rho_1 * l->mist_kg_s[at] : 0.0;
      a->sink[0][at] = a->sink[1][at] = a->sink[2][at] = 0.0;
      if (e != NULL)
        {
          a->source[0][at] += e->vapour_source_m3_s[at];
          a->sink[0][at] = e->vapour_sink_m3_s[at];
          a->source[1][at] += e->heat_source_K_m3_s[at];
          a->sink[1][at] = e->heat_sink_m3_s[at];
        }
    }
}

void
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
  if (!mist)
    return;
  flow.fall_m_s = a->fall_m_s;
  flow.fall_share = a->loads != NULL ? a->loads->fall_share : NULL;
  dew_scalar_assemble (a->falling, &flow);
}

void
dew_atmosphere_bend (DewAtmosphere *a, double share)
{
  dew_scalar_bend (a->plain, a->w, 0.0, share, a->bent[0]);
  dew_scalar_bend (a->plain, a->t, 0.0, share, a->bent[1]);
}

/* --- pseudo-time ------------------------------------------------------------------- */

void
dew_atmosphere_step (DewAtmosphere *a, const DewFlow *f, double dt)
{
  const double *flux[3] = { dew_flow_flux (f, 0), dew_flow_flux (f, 1), dew_flow_flux (f, 2) };
  double *carried[3] = { a->w, a->t, a->m };
  gboolean mist = a->misty || dew_atmosphere_is_foggy (a);

  dew_atmosphere_assemble (a, flux, dew_flow_viscosity (f), mist);
  dew_atmosphere_terms (a);
  dew_atmosphere_bend (a, a->fresh ? 1.0 : BENT_MORE);
  a->fresh = FALSE;
  for (int at = 0; at < a->z->size; at++)
    {
      double turned = mist ? a->turned_1_s[at] * a->z->volume_m3[at] : 0.0;

      a->source[0][at] += a->bent[0][at] + turned;
      a->source[1][at] += a->bent[1][at] - a->latent_K * turned;
      a->source[2][at] -= turned;
      if (a->terms != NULL)
        {
          a->source[0][at] += a->terms->vapour_by_t_m3_s[at] * a->t[at];
          a->source[1][at] += a->terms->heat_by_w_m3_s[at] * a->w[at];
        }
    }
  for (int n = 0; n < (mist ? 3 : 2); n++)
    dew_scalar_step (n < 2 ? a->plain : a->falling, carried[n], 0.0, a->sink[n], a->source[n],
                     FALSE, dt);
  if (mist)
    settle_mist (a, dt);
  dew_atmosphere_gather (a);
}

void
dew_atmosphere_take_flow (DewAtmosphere *a, const double *const flux[3], const double *viscosity)
{
  dew_atmosphere_assemble (a, flux, viscosity, TRUE);
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
  DewScalarStatistics one = dew_scalar_statistics (a->plain);
  DewTrioStatistics three = dew_trio_statistics (a->trio);

  return (DewAtmosphereStatistics){
    .rounds = a->rounds,
    .change = a->change,
    .scalar_solves = one.solves + 3 * three.solves,
    .scalar_iterations = one.iterations + 3 * three.iterations,
    .residual = MAX (one.residual, a->residual),
  };
}

/* --- reading ------------------------------------------------------------------------- */

const double *
dew_atmosphere_buoyancy (const DewAtmosphere *a)
{
  return a->b;
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

double
dew_atmosphere_evaporating (const DewAtmosphere *a, int zone)
{
  return a->air.density_kg_m3 * dew_atmosphere_evaporation (a, zone).rate;
}
