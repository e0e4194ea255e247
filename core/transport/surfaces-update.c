/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/surfaces-private.h"

#include <math.h>
#include <string.h>

#include "moist/moist.h"

#define DEW_STEPS 4
#define LEAF_MOLAR_HEAT 29.3 /* J/molK, Campbell & Norman 1998 */

/* --- one surface ------------------------------------------------------------------ */

/* Air beside a surface. */
typedef struct
{
  double t_K, w, speed; /* rises over the room */
  double t_C, p_w;
} Beside;

/* On the way to a balance air may for a moment be hotter or wetter than any relation of
 * moist air holds for; surfaces see it no worse than this. */
#define COLDEST_SEEN_C (-60.0)
#define WARMEST_SEEN_C 110.0
#define WETTEST_SEEN 0.3 /* kg/kg */

static void
see (const DewSurfaces *s, Beside *b)
{
  b->t_C = CLAMP (s->room.t_C + b->t_K, COLDEST_SEEN_C, WARMEST_SEEN_C);
  b->t_K = b->t_C - s->room.t_C;
  b->w = CLAMP (s->room.w_kg_kg + b->w, 0.0, WETTEST_SEEN) - s->room.w_kg_kg;
  b->p_w = dew_moist_p_w_from_w (s->room.w_kg_kg + b->w, s->air.pressure_Pa);
}

static Beside
beside_zone (const DewSurfaces *s, int zone, const double *t, const double *w, const double *speed)
{
  Beside b = { t[zone], w[zone], speed[zone], 0.0, 0.0 };

  see (s, &b);
  return b;
}

static Beside
beside_body (const DewSurfaces *s, const Body *body, const double *t, const double *w,
             const double *speed)
{
  Beside b = { 0 };

  for (guint n = 0; n < body->shares->len; n++)
    {
      const DewShare *share = &g_array_index (body->shares, DewShare, n);

      b.t_K += share->share * t[share->zone];
      b.w += share->share * w[share->zone];
      b.speed += share->share * speed[share->zone];
    }
  see (s, &b);
  return b;
}

/* Temperature of a face whose balance without dew is k (t - dry) = 0: dew warms
 * it. Newton on k (dry - t) + L dew (t) = 0, which has one root. */
static double
dewed_temperature (const DewSurfaces *s, double k, double dry_K, const Beside *air, double h,
                   double *dew)
{
  double t = dry_K;
  double latent = s->air.latent_heat_J_kg;

  *dew = dew_condensation_kg_m2s (&s->film, h, s->room.t_C + t, air->t_C, air->p_w);
  for (int n = 0; n<DEW_STEPS && * dew> 0.0; n++)
    {
      double step = 1e-3;
      double next
        = dew_condensation_kg_m2s (&s->film, h, s->room.t_C + t + step, air->t_C, air->p_w);
      double slope = k - latent * (next - *dew) / step;

      t += (k * (dry_K - t) + latent * *dew) / slope;
      *dew = dew_condensation_kg_m2s (&s->film, h, s->room.t_C + t, air->t_C, air->p_w);
    }
  return t;
}

static void
update_face (DewSurfaces *s, Face *f, const double *t, const double *w, const double *speed)
{
  Beside own = beside_zone (s, f->zone, t, w, speed);
  double k, dry;

  f->h[0] = dew_film_h (&s->film, f->facing, f->length_m, f->t_K - own.t_K, own.speed);
  if (f->below < 0)
    {
      /* Whether a dry face would be warmer than what is outside hangs on what it faces alone. */
      f->out_W_m2K
        = f->h[0] * (own.t_K - f->out_K) + f->rad_W_m2K * (s->radiant_K - f->out_K) >= 0.0
            ? f->losing_W_m2K
            : f->gaining_W_m2K;
      k = f->h[0] + f->rad_W_m2K + f->out_W_m2K;
      dry = (f->h[0] * own.t_K + f->rad_W_m2K * s->radiant_K + f->out_W_m2K * f->out_K) / k;
      f->t_K = dewed_temperature (s, k, dry, &own, f->h[0], &f->dew[0]);
      return;
    }

  /* A board: both sides at one temperature. */
  Beside under = beside_zone (s, f->below, t, w, speed);
  double dew_top, dew_under;

  f->h[1] = dew_film_h (&s->film, DEW_FACING_DOWN, f->length_m, f->t_K - under.t_K, under.speed);
  k = f->h[0] + f->h[1] + 2.0 * f->rad_W_m2K;
  dry = (f->h[0] * own.t_K + f->h[1] * under.t_K + 2.0 * f->rad_W_m2K * s->radiant_K) / k;
  f->t_K = dewed_temperature (s, k, dry, &own, f->h[0], &dew_top);
  f->t_K = MAX (f->t_K, dewed_temperature (s, k, dry, &under, f->h[1], &dew_under));
  f->dew[0] = dew_condensation_kg_m2s (&s->film, f->h[0], s->room.t_C + f->t_K, own.t_C, own.p_w);
  f->dew[1]
    = dew_condensation_kg_m2s (&s->film, f->h[1], s->room.t_C + f->t_K, under.t_C, under.p_w);
}

static void
update_wet (DewSurfaces *s, Body *b, const Beside *air)
{
  DewWetState state;
  double w_air = MAX (0.0, s->room.w_kg_kg + air->w), w_surface;

  b->wet.t_air_C = air->t_C;
  b->wet.w_air_kg_kg = w_air;
  b->wet.speed_m_s = air->speed;
  b->wet.t_radiant_C = s->room.t_C + s->radiant_K;
  state = dew_wet_surface (&b->wet, &s->film);
  b->t_K = state.t_C - s->room.t_C;
  b->water_kg_m2s = state.evaporation_kg_m2s;
  b->radiant_W_m2 = state.radiant_W_m2;
  w_surface = dew_moist_w_sat (state.t_C, s->air.pressure_Pa);
  b->heat_sink = state.h_W_m2K * b->area_m2 / (s->air.density_kg_m3 * s->air.specific_heat_J_kgK);
  b->vapour_sink = fabs (w_surface - w_air) > 1e-6
                     ? MAX (0.0, state.evaporation_kg_m2s / (w_surface - w_air)) * b->area_m2
                         / s->air.density_kg_m3
                     : 0.0;
  b->vapour_source = b->vapour_sink * (w_surface - s->room.w_kg_kg);
}

static void
update_leaf (DewSurfaces *s, Body *b, const Beside *air)
{
  DewLeafState state;
  double w_air = MAX (0.0, s->room.w_kg_kg + air->w), w_leaf;

  b->leaf.t_air_C = air->t_C;
  b->leaf.w_air_kg_kg = w_air;
  b->leaf.speed_m_s = air->speed;
  b->leaf.t_radiant_C = s->room.t_C + s->radiant_K;
  state = dew_leaf_state (&b->leaf);
  b->t_K = state.t_C - s->room.t_C;
  b->water_kg_m2s = state.transpiration_kg_m2s;
  b->radiant_W_m2 = state.sensible_W_m2 + state.latent_W_m2 - b->leaf.absorbed_W_m2;
  b->leaf_vpd_Pa = state.vpd_Pa;
  w_leaf = dew_moist_w_sat (state.t_C, s->air.pressure_Pa);
  b->heat_sink = 2.0 * LEAF_MOLAR_HEAT
                 * dew_leaf_boundary_mol_m2s (air->speed, b->leaf.length_m, state.t_C - air->t_C)
                 * b->area_m2 / (s->air.density_kg_m3 * s->air.specific_heat_J_kgK);
  b->vapour_sink = fabs (w_leaf - w_air) > 1e-6
                     ? MAX (0.0, state.transpiration_kg_m2s / (w_leaf - w_air)) * b->area_m2
                         / s->air.density_kg_m3
                     : 0.0;
  b->vapour_source = b->vapour_sink * (w_leaf - s->room.w_kg_kg);
}

/* --- all together ------------------------------------------------------------------- */

/* The node's balance, with each face's temperature a known function of it. */
static void
update_radiant (DewSurfaces *s, const double *t)
{
  double take = s->leak_W_K, give = s->given_W;
  double hr = dew_film_radiation_h (EMISSIVITY_WET, s->room.t_C);

  for (guint n = 0; n < s->faces->len; n++)
    {
      const Face *f = &g_array_index (s->faces, Face, n);
      int sides = f->below < 0 ? 1 : 2;
      double r = sides * f->rad_W_m2K;
      double k = f->h[0] + f->h[1] + r + f->out_W_m2K;
      double warm = f->h[0] * t[f->zone] + s->air.latent_heat_J_kg * (f->dew[0] + f->dew[1]);

      if (f->below >= 0)
        warm += f->h[1] * t[f->below];
      take += f->area_m2 * r * (1.0 - r / k);
      give += f->area_m2 * r * warm / k;
    }
  for (guint n = 0; n < s->bodies->len; n++)
    {
      const Body *b = &g_array_index (s->bodies, Body, n);
      double both = (b->is_leaf ? 2.0 : 1.0) * hr * b->area_m2;

      take += both;
      give += both * s->radiant_K - b->radiant_W_m2 * b->area_m2;
    }
  s->radiant_K = take > 0.0
                   ? CLAMP (give / take, COLDEST_SEEN_C - s->room.t_C, WARMEST_SEEN_C - s->room.t_C)
                   : 0.0;
}

/* What a side of a face gives to its zone. The face follows the air beside it, so
 * only the part of the film's conductance that is passed on acts as a sink. */
static void
add_face_terms (DewSurfaces *s, const Face *f, int side, int zone, const double *t, const double *w)
{
  double rho_1 = 1.0 / s->air.density_kg_m3;
  double heat_1 = rho_1 / s->air.specific_heat_J_kgK;
  double h = f->h[side];
  double k = f->h[0] + f->h[1] + (f->below < 0 ? 1.0 : 2.0) * f->rad_W_m2K + f->out_W_m2K;

  s->cover_sink[zone] += f->area_m2 * heat_1 * h * (1.0 - h / k);
  s->cover_source[zone] += f->area_m2 * heat_1 * h * (f->t_K - h / k * t[zone]);
  if (f->dew[side] > 0.0)
    {
      double w_face = dew_moist_w_sat (s->room.t_C + f->t_K, s->air.pressure_Pa) - s->room.w_kg_kg;
      double g
        = w[zone] - w_face > 1e-7 ? f->area_m2 * rho_1 * f->dew[side] / (w[zone] - w_face) : 0.0;

      s->cover_vsink[zone] += g;
      s->cover_vsource[zone] += g * w_face;
    }
}

static void
add_body_terms (DewSurfaces *s, const Body *b)
{
  for (guint n = 0; n < b->shares->len; n++)
    {
      const DewShare *share = &g_array_index (b->shares, DewShare, n);

      s->terms.heat_sink_m3_s[share->zone] += share->share * b->heat_sink;
      s->terms.heat_source_K_m3_s[share->zone] += share->share * b->heat_sink * b->t_K;
      s->terms.vapour_sink_m3_s[share->zone] += share->share * b->vapour_sink;
      s->terms.vapour_source_m3_s[share->zone] += share->share * b->vapour_source;
    }
}

static void
sum_terms (DewSurfaces *s, const double *t, const double *w)
{
  gsize bytes = sizeof (double) * s->z->size;
  double heat_1 = 1.0 / (s->air.density_kg_m3 * s->air.specific_heat_J_kgK);

  memset (s->cover_sink, 0, bytes);
  memset (s->cover_source, 0, bytes);
  memset (s->cover_vsink, 0, bytes);
  memset (s->cover_vsource, 0, bytes);
  for (guint n = 0; n < s->faces->len; n++)
    {
      const Face *f = &g_array_index (s->faces, Face, n);

      add_face_terms (s, f, 0, f->zone, t, w);
      if (f->below >= 0)
        add_face_terms (s, f, 1, f->below, t, w);
    }
  for (int at = 0; at < s->z->size; at++)
    {
      s->terms.heat_sink_m3_s[at] = s->cover_sink[at];
      s->terms.heat_source_K_m3_s[at] = s->cover_source[at] + heat_1 * s->lamp_W[at];
      s->terms.vapour_sink_m3_s[at] = s->cover_vsink[at];
      s->terms.vapour_source_m3_s[at] = s->cover_vsource[at];
    }
  for (guint n = 0; n < s->bodies->len; n++)
    add_body_terms (s, &g_array_index (s->bodies, Body, n));
}

double
dew_surfaces_update (DewSurfaces *s, const double *t, const double *w, const double *speed)
{
  double change = 0.0, radiant = s->radiant_K;

  update_radiant (s, t);
  change = fabs (s->radiant_K - radiant);
  for (guint n = 0; n < s->faces->len; n++)
    {
      Face *f = &g_array_index (s->faces, Face, n);
      double before = f->t_K;

      update_face (s, f, t, w, speed);
      change = MAX (change, fabs (f->t_K - before));
    }
  for (guint n = 0; n < s->bodies->len; n++)
    {
      Body *b = &g_array_index (s->bodies, Body, n);
      Beside air = beside_body (s, b, t, w, speed);
      double before = b->t_K;

      if (b->is_leaf)
        update_leaf (s, b, &air);
      else
        update_wet (s, b, &air);
      change = MAX (change, fabs (b->t_K - before));
    }
  sum_terms (s, t, w);
  return change;
}
