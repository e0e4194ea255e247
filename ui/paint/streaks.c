/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/streaks.h"

#include <math.h>
#include <string.h>

#define TRAIL_EVERY_S 0.055 /* so a trail is a bit more than half a second of way */
#define LIFE_LEAST_S 2.0
#define LIFE_MOST_S 6.0
#define FADE_IN_S 0.5
#define FADE_OUT_S 0.8
#define BUSY_M_S 0.25    /* from here on a place gets its full share of streaks */
#define QUIET_SHARE 0.12 /* what still air gets of that */
#define BIRTH_TRIES 6

typedef struct
{
  double at_m[3];
  double trail_m[DEW_STREAK_POINTS][3]; /* newest first */
  guint points;
  double since_point_s;
  double age_s, life_s;
} Particle;

struct _DewStreaks
{
  guint64 random; /* state */
  guint n;
  Particle *particles;
};

/* xorshift64* (Vigna 2016, "An experimental exploration of Marsaglia's xorshift
 * generators, scrambled"): GRand's results may change between versions. */
static double
next_random (DewStreaks *streaks)
{
  streaks->random ^= streaks->random >> 12;
  streaks->random ^= streaks->random << 25;
  streaks->random ^= streaks->random >> 27;
  return (double) ((streaks->random * G_GUINT64_CONSTANT (2685821657736338717)) >> 11)
         / (double) (G_GUINT64_CONSTANT (1) << 53);
}

DewStreaks *
dew_streaks_new (guint count, guint seed)
{
  DewStreaks *streaks = g_new0 (DewStreaks, 1);

  streaks->n = count;
  streaks->particles = g_new0 (Particle, MAX (count, 1));
  streaks->random = ((guint64) seed << 32 | 0x9e3779b9u) ^ G_GUINT64_CONSTANT (0x2545f4914f6cdd1d);
  /* Similar seeds part within a few draws. */
  for (int i = 0; i < 16; i++)
    next_random (streaks);
  return streaks;
}

void
dew_streaks_free (DewStreaks *streaks)
{
  if (streaks == NULL)
    return;
  g_free (streaks->particles);
  g_free (streaks);
}

static void
give_birth (DewStreaks *streaks, Particle *particle, const DewForecast *forecast)
{
  for (int i = 0; i < BIRTH_TRIES; i++)
    {
      double velocity[3], speed, chance;

      for (int axis = 0; axis < 3; axis++)
        particle->at_m[axis] = next_random (streaks) * forecast->inner_m[axis];
      chance = next_random (streaks);
      if (!dew_forecast_velocity (forecast, particle->at_m[0], particle->at_m[1], particle->at_m[2],
                                  velocity))
        continue;
      speed
        = sqrt (velocity[0] * velocity[0] + velocity[1] * velocity[1] + velocity[2] * velocity[2]);
      if (chance > QUIET_SHARE + (1 - QUIET_SHARE) * MIN (speed / BUSY_M_S, 1))
        continue;

      particle->life_s = LIFE_LEAST_S + (LIFE_MOST_S - LIFE_LEAST_S) * next_random (streaks);
      particle->age_s = 0;
      particle->since_point_s = 0;
      particle->points = 1;
      memcpy (particle->trail_m[0], particle->at_m, sizeof particle->at_m);
      return;
    }
  particle->points = 0;
}

/* Second-order Runge-Kutta: an Euler step would spiral out of an eddy. */
static gboolean
carry (Particle *particle, double dt_s, const DewForecast *forecast)
{
  double here[3], middle[3];
  double *at = particle->at_m;

  if (!dew_forecast_velocity (forecast, at[0], at[1], at[2], here)
      || !dew_forecast_velocity (forecast, at[0] + dt_s / 2 * here[0], at[1] + dt_s / 2 * here[1],
                                 at[2] + dt_s / 2 * here[2], middle))
    return FALSE;
  for (int axis = 0; axis < 3; axis++)
    {
      at[axis] += dt_s * middle[axis];
      if (!(at[axis] >= 0 && at[axis] <= forecast->inner_m[axis]))
        return FALSE;
    }
  return TRUE;
}

static void
extend_trail (Particle *particle, double dt_s)
{
  particle->since_point_s += dt_s;
  if (particle->since_point_s >= TRAIL_EVERY_S || particle->points < 2)
    {
      memmove (particle->trail_m[1], particle->trail_m[0],
               sizeof particle->trail_m[0] * (DEW_STREAK_POINTS - 1));
      particle->points = MIN (particle->points + 1, DEW_STREAK_POINTS);
      particle->since_point_s = 0;
    }
  memcpy (particle->trail_m[0], particle->at_m, sizeof particle->at_m);
}

void
dew_streaks_step (DewStreaks *streaks, double dt_s, const DewForecast *forecast)
{
  const double longest_s = 0.1;
  /* Births are spread over a life, or all would end together. */
  double share;

  g_return_if_fail (streaks != NULL && forecast != NULL);

  dt_s = CLAMP (dt_s, 0, longest_s);
  share = MIN (1, dt_s / (FADE_IN_S * 2));
  for (guint i = 0; i < streaks->n; i++)
    {
      Particle *particle = &streaks->particles[i];

      if (particle->points == 0)
        {
          if (next_random (streaks) < share)
            give_birth (streaks, particle, forecast);
          continue;
        }
      particle->age_s += dt_s;
      if (particle->age_s >= particle->life_s || !carry (particle, dt_s, forecast))
        particle->points = 0;
      else
        extend_trail (particle, dt_s);
    }
}

guint
dew_streaks_count (const DewStreaks *streaks)
{
  g_return_val_if_fail (streaks != NULL, 0);

  return streaks->n;
}

guint
dew_streaks_trail (const DewStreaks *streaks, guint index, double points_m[DEW_STREAK_POINTS][3],
                   double *strength)
{
  const Particle *particle;

  g_return_val_if_fail (streaks != NULL && index < streaks->n, 0);

  particle = &streaks->particles[index];
  memcpy (points_m, particle->trail_m, sizeof particle->trail_m[0] * particle->points);
  *strength
    = CLAMP (MIN (particle->age_s / FADE_IN_S, (particle->life_s - particle->age_s) / FADE_OUT_S),
             0, 1);
  return particle->points;
}
