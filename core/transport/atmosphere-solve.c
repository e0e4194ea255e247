/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/atmosphere-private.h"

#include <math.h>
#include <string.h>

#include "transport/scalar-private.h"

#define ROUNDS 40
/* The fluxes beyond first order follow the state all the way in the first rounds, then by a
 * good half, in the end less from round to round: all the way, a limiter flickers between
 * two states for ever. They conserve whichever they are. */
#define SHARP_ROUNDS 3
#define FOLLOWED_ROUNDS 6
#define FOLLOWED 0.6
#define FOLLOWED_LESS 0.35
/* One round changes a zone by no more than this, and by less when the rounds go to and fro. */
#define MOST_WATER 0.02 /* kg/kg */
#define MOST_HEAT_K 30.0
#define STALLED 0.9
#define SHORTEST_PART 0.2
/* Of the residual that the linear equations may leave of a round's. */
#define LINEAR_SHARE 0.03
/* A trace of mist need not be known better than the vapour that it comes from. */
#define TRACE_OF_MIST 0.1
#define LEAST_GIVEN 1e-12 /* K m3/s */

/* --- steady state ------------------------------------------------------------------ */

/* The iteration in one place. Unknown are vapour w, temperature t and mist m, all over the
 * room; T is the transport by air (inflow less outflow), F that by falling, lambda = L / cp,
 * and E what evaporates (dew_atmosphere_evaporation()):
 *
 *     T w       + E (w, t, m)          + sources - sinks w = 0
 *     T t       - lambda E (w, t, m)   + sources - sinks t = 0
 *     (T + F) m - E (w, t, m)          + mist given off    = 0.
 *
 * Each of the three is carried by fluxes that keep it within what its neighbours hold, and
 * total water w + m and enthalpy t + lambda w by the sums of the same fluxes. Were those two
 * limited by themselves, vapour, a small difference of quantities that are carried each in
 * its own way, would be noise; and as condensing is quick and evaporating slow, noise makes
 * rain, dryness and heat of nothing. Vapour and heat go beyond first order (scalar.h), mist
 * does not: it is gone before it has travelled far, and no correction takes away what is not
 * there.
 *
 * Newton's method: E ties the three together within a zone only, so each round solves linear
 * equations with three unknowns a zone (trio.h). E grows with m and falls with w, is bilinear
 * in m and in what the air could still take up, and bends at saturation; five to fifteen
 * rounds do. */

typedef enum
{
  VAPOUR,
  HEAT,
  MIST,
  N_CARRIED
} Carried;

/* What is left of the three equations into the trio's rest, in K m3/s, and what they answer
 * to changes into its blocks. Returns the largest rest over the largest term of its kind, or
 * that of the enclosure as a whole over all that is given off in it, if that is more; weight
 * gets one over the largest term of each kind. */
static double
linearise (DewAtmosphere *a, double weight[N_CARRIED])
{
  const DewZones *z = a->z;
  int s1 = z->stride[1], s2 = z->stride[2];
  double scale[N_CARRIED] = { 1e-300, 1e-300, 1e-300 }, most[N_CARRIED] = { 0.0 };
  double water = 0.0, heat = 0.0, given = LEAST_GIVEN, warmed = 0.0, worst;
  double *blocks = dew_trio_blocks (a->trio), *rest = dew_trio_rest (a->trio);
  double *phi[N_CARRIED] = { a->w, a->t, a->m };
  const double unit[N_CARRIED] = { a->latent_K, 1.0, a->latent_K };

  DEW_EACH_ZONE (z, at)
    {
      DewEvaporation e = dew_atmosphere_evaporation (a, at);
      double by_t = a->terms != NULL ? a->terms->vapour_by_t_m3_s[at] : 0.0;
      double by_w = a->terms != NULL ? a->terms->heat_by_w_m3_s[at] : 0.0;
      const double turned[N_CARRIED]
        = { e.rate + by_t * a->t[at], -a->latent_K * e.rate + by_w * a->w[at], -e.rate };
      const double by[N_CARRIED] = { e.by_w, a->latent_K * e.by_t, e.by_m };
      const double sign[N_CARRIED] = { -1.0, 1.0, 1.0 };

      given += a->latent_K * (fabs (a->source[VAPOUR][at]) + fabs (a->source[MIST][at]));
      warmed += fabs (a->source[HEAT][at]);
      for (int f = 0; f < N_CARRIED; f++)
        {
          const DewScalar *s = f == MIST ? a->falling : a->plain;
          double own = s->diagonal[at] + a->sink[f][at], here;

          here = a->source[f][at] + (f == MIST ? 0.0 : a->bent[f][at]) + turned[f]
                 + dew_scalar_neighbours (s, phi[f], at, s1, s2) - own * phi[f][at];
          rest[3 * at + f] = unit[f] * here;
          most[f] = MAX (most[f], fabs (here));
          scale[f] = MAX (scale[f], MAX (fabs (own * phi[f][at]), fabs (a->source[f][at])));
          for (int g = 0; g < N_CARRIED; g++)
            blocks[9 * at + 3 * f + g] = (f == g ? own : 0.0) + sign[f] * by[g];
        }
      blocks[9 * at + 3 * VAPOUR + HEAT] -= a->latent_K * by_t;
      blocks[9 * at + 3 * HEAT + VAPOUR] -= by_w / a->latent_K;
      water += rest[3 * at + VAPOUR] + rest[3 * at + MIST];
      heat += rest[3 * at + VAPOUR] + rest[3 * at + HEAT];
    }
  scale[MIST] = MAX (scale[MIST], TRACE_OF_MIST * scale[VAPOUR]);
  worst = MAX (fabs (water) / given, fabs (heat) / (given + warmed));
  for (int f = 0; f < N_CARRIED; f++)
    {
      weight[f] = 1.0 / (unit[f] * scale[f]);
      worst = MAX (worst, most[f] / scale[f]);
    }
  return worst;
}

/* Takes `part` of the step that the trio found; returns the largest, in g/kg or K. */
static double
take_step (DewAtmosphere *a, const double *x, double part)
{
  double change = 0.0;

  DEW_EACH_ZONE (a->z, at)
    {
      double dw = CLAMP (part * x[3 * at] / a->latent_K, -MOST_WATER, MOST_WATER);
      double dt = CLAMP (part * x[3 * at + 1], -MOST_HEAT_K, MOST_HEAT_K);
      double dm
        = MAX (CLAMP (part * x[3 * at + 2] / a->latent_K, -MOST_WATER, MOST_WATER), -a->m[at]);

      a->w[at] += dw;
      a->t[at] += dt;
      a->m[at] += dm;
      change = MAX (change, MAX (1e3 * MAX (fabs (dw), fabs (dm)), fabs (dt)));
    }
  return change;
}

/* One whole step more: what evaporates drops out of the sums of water and of heat, so these
 * balance to the last digit, whatever bends are left. */
static void
close_balances (DewAtmosphere *a, double tolerance)
{
  double weight[N_CARRIED];
  const double *x;

  a->residual = linearise (a, weight);
  x = dew_trio_solve (a->trio, a->plain, a->falling, weight, tolerance);
  DEW_EACH_ZONE (a->z, at)
    {
      a->w[at] += x[3 * at + VAPOUR] / a->latent_K;
      a->t[at] += x[3 * at + HEAT];
      a->m[at] += x[3 * at + MIST] / a->latent_K;
      /* Mist that is not there has not become vapour either. */
      if (a->m[at] < 0.0)
        {
          a->w[at] += a->m[at];
          a->t[at] -= a->latent_K * a->m[at];
          a->m[at] = 0.0;
        }
    }
}

static void
solve_together (DewAtmosphere *a, double tolerance)
{
  double share = 1.0, part = 1.0, last = INFINITY;
  double weight[N_CARRIED];
  const double *step;

  for (int round = 0; round < ROUNDS; round++)
    {
      if (round >= SHARP_ROUNDS)
        share = round < FOLLOWED_ROUNDS ? FOLLOWED : share * FOLLOWED_LESS;
      dew_atmosphere_bend (a, share);
      a->residual = linearise (a, weight);
      if (a->residual < tolerance)
        return;
      a->rounds++;
      step = dew_trio_solve (a->trio, a->plain, a->falling, weight,
                             MAX (LINEAR_SHARE, 0.3 * tolerance / a->residual));
      a->change = take_step (a, step, part) / part;
      part = a->change > STALLED * last ? MAX (SHORTEST_PART, 0.7 * part) : MIN (1.0, 1.2 * part);
      last = a->change;
    }
  close_balances (a, tolerance);
}

/* Without mist, dew and wet surfaces neither vapour nor heat knows of the other. */
static void
solve_apart (DewAtmosphere *a, double tolerance)
{
  a->rounds++;
  memset (a->m, 0, sizeof (double) * a->z->size);
  a->residual
    = MAX (dew_scalar_solve (a->plain, a->w, 0.0, a->sink[VAPOUR], a->source[VAPOUR], tolerance),
           dew_scalar_solve (a->plain, a->t, 0.0, a->sink[HEAT], a->source[HEAT], tolerance));
  a->change = 0.0;
}

/* Whether mist, dew or a wet surface makes one of the other. */
static gboolean
ties_heat_to_water (const DewAtmosphere *a)
{
  if (a->misty || dew_atmosphere_is_foggy (a))
    return TRUE;
  for (int at = 0; a->terms != NULL && at < a->z->size; at++)
    if (a->terms->vapour_by_t_m3_s[at] != 0.0 || a->terms->heat_by_w_m3_s[at] != 0.0)
      return TRUE;
  return FALSE;
}

void
dew_atmosphere_solve (DewAtmosphere *a, const double *const flux[3], const double *viscosity,
                      double tolerance)
{
  dew_atmosphere_assemble (a, flux, viscosity, TRUE);
  dew_atmosphere_refresh (a);
  dew_atmosphere_terms (a);
  if (!ties_heat_to_water (a))
    solve_apart (a, tolerance);
  if (ties_heat_to_water (a))
    solve_together (a, tolerance);
  dew_atmosphere_gather (a);
}
