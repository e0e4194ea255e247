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
 * that of the enclosure as a whole over all that is given off in it, if that is more. */
static double
linearise (DewAtmosphere *a)
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
      const double turned[N_CARRIED] = { e.rate, -a->latent_K * e.rate, -e.rate };
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
      water += rest[3 * at + VAPOUR] + rest[3 * at + MIST];
      heat += rest[3 * at + VAPOUR] + rest[3 * at + HEAT];
    }
  scale[MIST] = MAX (scale[MIST], TRACE_OF_MIST * scale[VAPOUR]);
  worst = MAX (fabs (water) / given, fabs (heat) / (given + warmed));
  for (int f = 0; f < N_CARRIED; f++)
    worst = MAX (worst, most[f] / scale[f]);
  return worst;
}

/* Takes `part` of the step that the trio found; returns the largest, in g/kg or K. */
static double
advance (DewAtmosphere *a, const double *x, double part)
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

static void
solve_foggy (DewAtmosphere *a, double tolerance)
{
  double share = 1.0, part = 1.0, last = INFINITY;
  const double *step;

  for (int round = 0; round < ROUNDS; round++)
    {
      share = getenv ("MISTUP")         ? 0
              : round < 3               ? 1.0
              : round < FOLLOWED_ROUNDS ? 0.6
                                        : share * FOLLOWED_LESS;
      dew_atmosphere_bend (a, share);
      a->residual = linearise (a);
      if (a->residual < tolerance)
        return;
      a->rounds++;
      step = dew_trio_solve (a->trio, a->plain, a->falling,
                             MAX (LINEAR_SHARE, 0.3 * tolerance / a->residual));
      a->change = advance (a, step, part) / part;
      part = a->change > STALLED * last ? MAX (SHORTEST_PART, 0.7 * part) : MIN (1.0, 1.2 * part);
      last = a->change;
    }
}

/* Without mist neither vapour nor heat knows of the other. */
static void
solve_clear (DewAtmosphere *a, double tolerance)
{
  a->rounds++;
  memset (a->m, 0, sizeof (double) * a->z->size);
  a->residual
    = MAX (dew_scalar_solve (a->plain, a->w, 0.0, a->sink[VAPOUR], a->source[VAPOUR], tolerance),
           dew_scalar_solve (a->plain, a->t, 0.0, a->sink[HEAT], a->source[HEAT], tolerance));
  a->change = 0.0;
}

/* What the zones held some time ago flows in, what they hold now flows out, in that time. */
static void
add_past (DewAtmosphere *a, const DewAtmospherePast *past)
{
  DEW_EACH_ZONE (a->z, at)
    {
      double store = a->z->volume_m3[at] / past->seconds;
      double w = past->q[at] - past->m[at];

      a->source[VAPOUR][at] += store * w;
      a->source[HEAT][at] += store * (past->h[at] - a->latent_K * w);
      a->source[MIST][at] += store * past->m[at];
      for (int f = 0; f < N_CARRIED; f++)
        a->sink[f][at] += store;
    }
}

void
dew_atmosphere_solve (DewAtmosphere *a, const double *const flux[3], const double *viscosity,
                      const DewAtmospherePast *past, double tolerance)
{
  dew_atmosphere_assemble (a, flux, viscosity, TRUE);
  dew_atmosphere_refresh (a);
  dew_atmosphere_terms (a);
  if (past != NULL)
    add_past (a, past);
  if (!a->misty && !dew_atmosphere_is_foggy (a))
    solve_clear (a, tolerance);
  if (a->misty || dew_atmosphere_is_foggy (a))
    solve_foggy (a, tolerance);
  dew_atmosphere_gather (a);
}
