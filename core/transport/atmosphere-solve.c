/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/atmosphere-private.h"

#include <math.h>
#include <string.h>

#define OUTER_ITERATIONS 40
/* Of 1 g/kg of water, 1 K and the thickest mist: the limiter flickers by as much. */
#define STILL_ENOUGH 3e-4
#define STALLED 0.9
#define SHORTEST_PART 0.15
#define NEAR_WATER 3e-4 /* kg/kg */
#define NEAR_HEAT_K 0.3
#define MOST_SHORT 0.1 /* of all the mist */
/* One iteration changes foggy air by no more than this: what fog answers is known for
 * small changes only. */
#define MOST_WATER 0.02 /* kg/kg */
#define MOST_HEAT_K 30.0

/* --- steady state ------------------------------------------------------------------ */

/* The iteration in one place. Unknown are total water q, enthalpy h and mist m, all over the
 * room; v is a zone's volume, T the transport by air (inflow less outflow), F that by
 * falling, lambda = L / cp. Vapour and temperature follow, w = q - m and t = h - lambda w,
 * and so does what the air could still take up,
 *
 *     s(q, h, m) = ws(t) - w,    gamma = 1 + lambda ws'(t):
 *     ds/dm = gamma,    ds/dq = -gamma,    ds/dh = ws' = (gamma - 1) / lambda.
 *
 * Mist, of which P is given off, evaporates at c m s (evaporation_constant()) and forms as
 * fast as tau where s < 0:
 *
 *     (T + F) m + P - v c m s = 0             s > 0
 *     (T + F) m + P - v s / (gamma tau) = 0   s <= 0.
 *
 * With q and h held that has one root; solve_mist() goes there by Newton's method, in which
 * v c m s becomes v c ((s + gamma m) m' - gamma m^2) for the new m'. Two rounds do.
 *
 * Then water and heat, in which m must not be held: a fog answers to both. With l the air
 * and mist that leave a zone (leaving_m3_s()), the mist's own balance gives to first order
 *
 *     dm/dq = follow = v c gamma m / (l + v c (s + gamma m)),   1 where s <= 0
 *     dm/dh = -drying = -follow (gamma - 1) / (gamma lambda).
 *
 * So q' solves
 *
 *     T q' + F (m + follow (q' - q)) + sources - sinks (w + (1 - follow) (q' - q)) = 0,
 *
 * then m += follow (q' - q); h' likewise, with m -= drying (h' - h) and with what surfaces
 * take of heat and of vapour (times lambda) held apart, as a warmer fog is moister. Both
 * steps are clipped to what a first order is worth, and shortened where the rounds go to and
 * fro. It ends when a round changes nothing that counts; then water and heat are solved
 * once more with m as it is, so that both balance to the last digit. */

/* Mist by Newton's method on its own balance, with water and enthalpy held: the
 * missing vapour grows with m, so the equation has one answer. */
static double
solve_mist (DewAtmosphere *a, double tolerance)
{
  const DewZones *z = a->z;
  double change = 0.0, largest = MIST_FLOOR;

  memcpy (a->before, a->m, sizeof (double) * z->size);
  DEW_EACH_ZONE (z, at)
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
  DEW_EACH_ZONE (z, at)
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
  dew_atmosphere_water_terms (a);
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
      dew_atmosphere_water_terms (a);
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
  dew_atmosphere_heat_terms (a);
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

  dew_atmosphere_water_terms (a);
  add_fallen (a, flow);
  dew_scalar_solve (a->plain, a->q, 0.0, a->sink, a->source, tolerance);
  dew_atmosphere_heat_terms (a);
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
  gboolean mist = a->misty || dew_atmosphere_is_foggy (a);
  DewScalarFlow flow = dew_atmosphere_assemble (a, flux, viscosity, TRUE);
  double part = 1.0, last = INFINITY;

  for (int it = 0; it < OUTER_ITERATIONS; it++)
    {
      double moved = 0.0;

      a->rounds++;
      if (mist)
        {
          solve_mist (a, tolerance);
          moved = solve_mist (a, tolerance);
          find_answers (a, &flow);
        }
      moved = MAX (moved, solve_water (a, &flow, mist, part, tolerance) / 1e-3);
      moved = MAX (moved, solve_heat (a, mist, part, tolerance) / 1.0);
      a->change = moved;
      if (!mist && it == 0)
        {
          mist = dew_atmosphere_is_foggy (a);
          if (!mist)
            break; /* q does not depend on h without mist */
        }
      if (moved < MAX (10.0 * tolerance, STILL_ENOUGH))
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
