/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/surfaces-private.h"

#include <math.h>
#include <string.h>

#include "moist/moist.h"

#define DEW_STEPS 4
#define TRACE_OF_DEW 1e-3    /* of all vapour that is exchanged: need not be known better */
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

/* Heat (W/m2K) that dew brings less to a face per K that this is warmer. */
static double
dewing_at (const DewSurfaces *s, double t_K, const Beside *air, double h, double dew)
{
  const double step = 1e-3;

  if (dew <= 0.0)
    return 0.0;
  return s->air.latent_heat_J_kg / step
         * (dew
            - dew_condensation_kg_m2s (&s->film, h, s->room.t_C + t_K + step, air->t_C, air->p_w));
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
      t += (k * (dry_K - t) + latent * *dew) / (k + dewing_at (s, t, air, h, *dew));
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
      f->dewing[0] = dewing_at (s, f->t_K, &own, f->h[0], f->dew[0]);
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
  f->dewing[0] = dewing_at (s, f->t_K, &own, f->h[0], f->dew[0]);
  f->dewing[1] = dewing_at (s, f->t_K, &under, f->h[1], f->dew[1]);
}

/* What a body answers to its air: one K of it costs film, radiation and evaporation. */
static void
note_answers (DewSurfaces *s, Body *b, double radiant_W_m2K, double w_surface, double w_air)
{
  double step = 0.01, t_C = s->room.t_C + b->t_K;
  double steeper = (dew_moist_w_sat (t_C + step, s->air.pressure_Pa) - w_surface) / step;

  b->draws_kg_m2s
    = fabs (w_surface - w_air) > 1e-6 ? MAX (0.0, b->water_kg_m2s / (w_surface - w_air)) : 0.0;
  b->steeper_1_K = steeper;
  b->holds_W_m2K = b->h_W_m2K + radiant_W_m2K + s->air.latent_heat_J_kg * b->draws_kg_m2s * steeper;
}

static void
update_wet (DewSurfaces *s, Body *b, const Beside *air)
{
  DewWetState state;
  double w_air = MAX (0.0, s->room.w_kg_kg + air->w);

  b->wet.t_air_C = air->t_C;
  b->wet.w_air_kg_kg = w_air;
  b->wet.speed_m_s = air->speed;
  b->wet.t_radiant_C = s->room.t_C + s->radiant_K;
  state = dew_wet_surface (&b->wet, &s->film);
  b->t_K = state.t_C - s->room.t_C;
  b->water_kg_m2s = state.evaporation_kg_m2s;
  b->radiant_W_m2 = state.radiant_W_m2;
  b->h_W_m2K = state.h_W_m2K;
  note_answers (s, b, dew_film_radiation_h (EMISSIVITY_WET, state.t_C),
                dew_moist_w_sat (state.t_C, s->air.pressure_Pa), w_air);
}

static void
update_leaf (DewSurfaces *s, Body *b, const Beside *air)
{
  DewLeafState state;
  double w_air = MAX (0.0, s->room.w_kg_kg + air->w);

  b->leaf.t_air_C = air->t_C;
  b->leaf.w_air_kg_kg = w_air;
  b->leaf.speed_m_s = air->speed;
  b->leaf.t_radiant_C = s->room.t_C + s->radiant_K;
  state = dew_leaf_state (&b->leaf);
  b->t_K = state.t_C - s->room.t_C;
  b->water_kg_m2s = state.transpiration_kg_m2s;
  b->radiant_W_m2 = state.sensible_W_m2 + state.latent_W_m2 - b->leaf.absorbed_W_m2;
  b->leaf_vpd_Pa = state.vpd_Pa;
  b->h_W_m2K = 2.0 * LEAF_MOLAR_HEAT
               * dew_leaf_boundary_mol_m2s (air->speed, b->leaf.length_m, state.t_C - air->t_C);
  note_answers (s, b, 2.0 * dew_film_radiation_h (EMISSIVITY_WET, state.t_C),
                dew_moist_w_sat (state.t_C, s->air.pressure_Pa), w_air);
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
      double dewing = f->dewing[0] + f->dewing[1];
      double k = f->h[0] + f->h[1] + r + f->out_W_m2K + dewing;
      double warm = f->h[0] * t[f->zone] + s->air.latent_heat_J_kg * (f->dew[0] + f->dew[1])
                    + dewing * f->t_K;

      if (f->below >= 0)
        warm += f->h[1] * t[f->below];
      take += f->area_m2 * r * (1.0 - r / k);
      give += f->area_m2 * r * warm / k;
    }
  for (guint n = 0; n < s->bodies->len; n++)
    {
      const Body *b = &g_array_index (s->bodies, Body, n);
      double both = (b->is_leaf ? 2.0 : 1.0) * hr;
      double net = b->area_m2 * both * (1.0 - both / MAX (both, b->holds_W_m2K));

      take += net;
      give += net * s->radiant_K - b->radiant_W_m2 * b->area_m2;
    }
  s->radiant_K = take > 0.0
                   ? CLAMP (give / take, COLDEST_SEEN_C - s->room.t_C, WARMEST_SEEN_C - s->room.t_C)
                   : 0.0;
}

/* What a side of a face gives to its zone, and how that answers to the zone's own t and w: the
 * face follows them. With the balance film (t - t_face) + L dew + ... = 0, whose sum of
 * coefficients is k, dt_face/dt = h / k and dt_face/dw = L g / k, dew = g (w - w_face). */
static void
add_face_terms (DewSurfaces *s, const Face *f, int side, int zone, const double *t, const double *w)
{
  double rho_1 = 1.0 / s->air.density_kg_m3, latent = s->air.latent_heat_J_kg;
  double heat_1 = rho_1 / s->air.specific_heat_J_kgK;
  double h = f->h[side], g = 0.0, by_w = 0.0;
  double k = f->h[0] + f->h[1] + (f->below < 0 ? 1.0 : 2.0) * f->rad_W_m2K + f->out_W_m2K
             + f->dewing[0] + f->dewing[1];
  double sink = f->area_m2 * heat_1 * h * (1.0 - h / k);

  if (f->dew[side] > 0.0)
    {
      double w_face = dew_moist_w_sat (s->room.t_C + f->t_K, s->air.pressure_Pa) - s->room.w_kg_kg;

      g = w[zone] - w_face > 1e-7 ? f->dew[side] / (w[zone] - w_face) : 0.0;
      by_w = f->area_m2 * heat_1 * h * latent * g / k;
    }
  s->cover_sink[zone] += sink;
  s->cover_by_w[zone] += by_w;
  s->cover_source[zone]
    += f->area_m2 * heat_1 * h * (f->t_K - t[zone]) + sink * t[zone] - by_w * w[zone];
  if (f->dew[side] > 0.0)
    {
      double vsink = f->area_m2 * rho_1 * g * (1.0 - f->dewing[side] / k);
      double by_t = f->area_m2 * rho_1 * f->dewing[side] / latent * h / k;

      s->cover_vsink[zone] += vsink;
      s->cover_by_t[zone] += by_t;
      s->cover_vsource[zone]
        += vsink * w[zone] - by_t * t[zone] - f->area_m2 * rho_1 * f->dew[side];
    }
}

static void
add_body_terms (DewSurfaces *s, const Body *b, const double *t, const double *w)
{
  double rho_1 = 1.0 / s->air.density_kg_m3, latent = s->air.latent_heat_J_kg;
  double heat_1 = rho_1 / s->air.specific_heat_J_kgK;
  double h = b->h_W_m2K, k = b->holds_W_m2K, g = b->draws_kg_m2s;
  double sink = b->area_m2 * heat_1 * h * (1.0 - h / k);
  double by_w = b->area_m2 * heat_1 * h * latent * g / k;
  double vsink = b->area_m2 * rho_1 * g * (1.0 - latent * g * b->steeper_1_K / k);
  double by_t = b->area_m2 * rho_1 * g * b->steeper_1_K * h / k;
  double t_mean = 0.0, w_mean = 0.0;

  for (guint n = 0; n < b->shares->len; n++)
    {
      const DewShare *share = &g_array_index (b->shares, DewShare, n);

      t_mean += share->share * t[share->zone];
      w_mean += share->share * w[share->zone];
    }
  for (guint n = 0; n < b->shares->len; n++)
    {
      const DewShare *share = &g_array_index (b->shares, DewShare, n);

      s->terms.heat_sink_m3_s[share->zone] += share->share * sink;
      s->terms.heat_by_w_m3_s[share->zone] += share->share * by_w;
      s->terms.heat_source_K_m3_s[share->zone]
        += share->share
           * (b->area_m2 * heat_1 * h * (b->t_K - t_mean) + sink * t_mean - by_w * w_mean);
      s->terms.vapour_sink_m3_s[share->zone] += share->share * vsink;
      s->terms.vapour_by_t_m3_s[share->zone] += share->share * by_t;
      s->terms.vapour_source_m3_s[share->zone]
        += share->share * (b->area_m2 * rho_1 * b->water_kg_m2s + vsink * w_mean - by_t * t_mean);
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
  memset (s->cover_by_w, 0, bytes);
  memset (s->cover_by_t, 0, bytes);
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
      s->terms.heat_by_w_m3_s[at] = s->cover_by_w[at];
      s->terms.vapour_by_t_m3_s[at] = s->cover_by_t[at];
    }
  for (guint n = 0; n < s->bodies->len; n++)
    add_body_terms (s, &g_array_index (s->bodies, Body, n), t, w);
}

static double
exchanged (const DewSurfaces *s, DewExchanged what, int at, double t, double w)
{
  switch (what)
    {
    case DEW_EXCHANGED_HEAT:
      return dew_exchange_heat (&s->terms, at, t, w);
    case DEW_EXCHANGED_VAPOUR:
      return dew_exchange_vapour (&s->terms, at, t, w);
    default:
      return s->cover_vsource[at] - s->cover_vsink[at] * w + s->cover_by_t[at] * t;
    }
}

static void
note_before (DewSurfaces *s, const double *t, const double *w)
{
  for (int n = 0; n < DEW_N_EXCHANGED; n++)
    DEW_EACH_ZONE (s->z, at)
      s->before[n][at] = exchanged (s, n, at, t[at], w[at]);
}

static void
find_miss (DewSurfaces *s, const double *t, const double *w)
{
  double whole[DEW_N_EXCHANGED] = { 0.0 }, miss[DEW_N_EXCHANGED] = { 0.0 };

  for (int n = 0; n < DEW_N_EXCHANGED; n++)
    DEW_EACH_ZONE (s->z, at)
      {
        double now = exchanged (s, n, at, t[at], w[at]);

        whole[n] += fabs (now);
        miss[n] += fabs (now - s->before[n][at]);
      }
  whole[DEW_EXCHANGED_DEW]
    = MAX (whole[DEW_EXCHANGED_DEW], TRACE_OF_DEW * whole[DEW_EXCHANGED_VAPOUR]);
  s->miss = 0.0;
  for (int n = 0; n < DEW_N_EXCHANGED; n++)
    if (miss[n] > 0.0)
      s->miss = MAX (s->miss, miss[n] / whole[n]);
}

double
dew_surfaces_update (DewSurfaces *s, const double *t, const double *w, const double *speed)
{
  double change = 0.0, radiant = s->radiant_K;

  note_before (s, t, w);
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
  find_miss (s, t, w);
  return change;
}
