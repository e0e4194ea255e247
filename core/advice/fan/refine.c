/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the best of the places that were tried to the best near them. */
#include "advice/fan/fan-private.h"

#include <math.h>

#include "advice/parallel.h"

#define STARTS 1
#define ROUNDS 3
#define FIRST_STEP_M 0.08 /* about half of what the places are apart */
#define FIRST_TURN (30.0 * G_PI / 180.0)
#define SPEED_STEP 1.25
#define SETTLED_EACH 1 /* of the neighbours of a round */
#define LEAST_GAIN 5e-4

static const DewTrialPace near_pace = { .parts = 3, .steps = 28, .tolerance = 1e-3, .rounds = 2 };

/* --- neighbours ---------------------------------------------------------- */

static int
add_candidate (DewFanSearch *s, const DewFanCandidate *candidate)
{
  DewFanAdvice *advice = s->advice;

  advice->candidates = g_renew (DewFanCandidate, advice->candidates, advice->n_candidates + 1);
  advice->candidates[advice->n_candidates] = *candidate;
  advice->candidates[advice->n_candidates].round = DEW_ROUND_NONE;
  return advice->n_candidates++;
}

static void
try_neighbour (DewFanSearch *s, const DewFanCandidate *of, const DewFan *fan, double speed_factor,
               GArray *jobs)
{
  DewFanCandidate c = *of;
  int job;

  c.fan = *fan;
  c.speed_factor = speed_factor;
  if (!dew_fan_fits (s->bare, s->variant_id, &c.fan, &c.bay))
    return;
  job = add_candidate (s, &c);
  g_array_append_val (jobs, job);
}

/* A step along each axis that the fan can go, a turn each way, a little faster and slower. */
static GArray *
neighbours (DewFanSearch *s, const DewFanCandidate *of, double step_m, double turn)
{
  GArray *jobs = g_array_new (FALSE, FALSE, sizeof (int));
  gboolean in_wall = of->fan.mount == DEW_FAN_IN_WALL;
  int normal = in_wall ? dew_face_axis (of->fan.face) : -1;

  for (int sign = -1; sign <= 1; sign += 2)
    {
      DewFan fan;

      for (int axis = 0; axis < 3; axis++)
        {
          fan = of->fan;
          *(axis == 0 ? &fan.x_m : axis == 1 ? &fan.y_m : &fan.z_m) += sign * step_m;
          if (axis != normal)
            try_neighbour (s, of, &fan, of->speed_factor, jobs);
        }
      fan = of->fan;
      fan.azimuth_rad += sign * turn;
      if (!in_wall && fabs (fan.elevation_rad) < 0.5 * G_PI - 0.1)
        try_neighbour (s, of, &fan, of->speed_factor, jobs);
      fan = of->fan;
      fan.elevation_rad = CLAMP (fan.elevation_rad + sign * turn, -0.5 * G_PI, 0.5 * G_PI);
      if (!in_wall && fan.elevation_rad != of->fan.elevation_rad)
        try_neighbour (s, of, &fan, of->speed_factor, jobs);
      fan = of->fan;
      {
        double factor = sign > 0 ? SPEED_STEP : 1.0 / SPEED_STEP;

        if (MAX (fan.speed_day, fan.speed_night) * factor > 1.0)
          factor = 1.0 / MAX (fan.speed_day, fan.speed_night);
        fan.speed_day *= factor;
        fan.speed_night *= factor;
        if (factor != 1.0)
          try_neighbour (s, of, &fan, of->speed_factor * factor, jobs);
      }
    }
  return jobs;
}

typedef struct
{
  DewFanSearch *search;
  const int *candidates;
} Near;

static void
run_near (int job, int thread, gpointer data)
{
  Near *near = data;
  DewFanCandidate *c = &near->search->advice->candidates[near->candidates[job]];
  DewObjective objective;

  if (!dew_fan_try (near->search, thread, near->candidates[job], &near_pace, near->search->asks,
                    &objective))
    return;
  c->objective = objective;
  c->round = DEW_ROUND_CLOSER;
}

#define NEIGHBOURS 12

int
dew_fan_refine_work (int closer_work, int settled_work)
{
  return (STARTS * ROUNDS + 2) * (NEIGHBOURS * closer_work + 2 * SETTLED_EACH * settled_work);
}

/* --- walking ------------------------------------------------------------- */

static int
best_of_closer (const DewFanSearch *s, const GArray *jobs, const int *taken, int n_taken)
{
  int best = -1;

  for (guint j = 0; j < jobs->len; j++)
    {
      int candidate = g_array_index (jobs, int, j);
      const DewFanCandidate *c = &s->advice->candidates[candidate];
      gboolean is_taken = FALSE;

      for (int t = 0; t < n_taken; t++)
        is_taken |= taken[t] == candidate;
      if (c->round != DEW_ROUND_CLOSER || is_taken
          || (best >= 0 && c->objective.value <= s->advice->candidates[best].objective.value))
        continue;
      best = candidate;
    }
  return best;
}

/* One round about the settled layout `at` (index in chosen). The better one found, or `at`; -1
 * with error when cancelled. */
static int
step (DewFanSearch *s, int at, double step_m, double turn, GError **error)
{
  /* A copy: adding candidates moves them. */
  DewFanCandidate of = s->advice->candidates[s->chosen[at]];
  g_autoptr (GArray) jobs = neighbours (s, &of, step_m, turn);
  Near near = { s, (const int *) (gpointer) jobs->data };
  int settle[SETTLED_EACH], n = 0, first = s->n_chosen, best = at;

  if (jobs->len == 0)
    return at;
  if (!dew_parallel_run ((int) jobs->len, s->n_hands, run_near, NULL, &near, s->cancellable, error))
    return -1;
  s->advice->draft_forecasts += (int) jobs->len * (s->asks[0] + s->asks[1]);
  while (n < SETTLED_EACH)
    {
      settle[n] = best_of_closer (s, jobs, settle, n);
      if (settle[n] < 0)
        break;
      n++;
    }
  if (!dew_fan_settle_more (s, settle, n, error))
    return -1;
  for (int c = first; c < s->n_chosen; c++)
    if (s->settled[c].value > s->settled[best].value + LEAST_GAIN)
      best = c;
  return best;
}

/* The best settled layout that is no near place of those already walked from. */
static int
next_start (const DewFanSearch *s, const int *walked, int n)
{
  int best = -1;

  for (int c = 1; c < s->n_chosen; c++)
    {
      const DewFanCandidate *a = &s->advice->candidates[s->chosen[c]];
      gboolean alike = FALSE;

      for (int w = 0; w < n; w++)
        {
          const DewFanCandidate *b = &s->advice->candidates[s->chosen[walked[w]]];

          alike |= dew_fans_alike (&a->fan, a->bay, &b->fan, b->bay, s->advice->inner_m);
        }
      if (alike || s->settled[c].value < 0.0
          || (best >= 0 && s->settled[c].value <= s->settled[best].value))
        continue;
      best = c;
    }
  return best;
}

gboolean
dew_fan_refine (DewFanSearch *s, GError **error)
{
  int walked[STARTS];

  for (int start = 0; start < STARTS; start++)
    {
      int at = next_start (s, walked, start);
      double step_m = FIRST_STEP_M, turn = FIRST_TURN;

      if (at < 0)
        break;
      for (int round = 0; round < ROUNDS; round++)
        {
          int better = step (s, at, step_m, turn, error);

          if (better < 0)
            return FALSE;
          s->done_before
            += (s->total - s->done_before) / (STARTS * ROUNDS - start * ROUNDS - round + 2);
          dew_fan_tell (s, 0);
          if (better == at)
            {
              step_m *= 0.5;
              turn *= 0.5;
            }
          at = better;
        }
      walked[start] = at;
    }
  return TRUE;
}

/* --- a second fan -------------------------------------------------------- */

#define SECOND_TRIED 24 /* places of the first round, the best ones, beside the best of all */
#define SECOND_SETTLED 2

typedef struct
{
  DewFanSearch *search;
  const DewChamber *first; /* with the best place taken */
  const int *candidates;   /* [n] places for the second */
  DewObjective *objective; /* [n] */
  gboolean *fine;
  DewForecast *(*kept)[2]; /* [n] */
} Second;

static DewChamber *
with_second (const Second *w, int job)
{
  DewChamber *both = dew_chamber_copy (w->first);

  dew_fan_apply (both, w->search->variant_id, DEW_FAN_NEW,
                 &w->search->advice->candidates[w->candidates[job]].fan, 1.0);
  return both;
}

static void
run_second (int job, int thread, gpointer data)
{
  Second *w = data;
  DewFanSearch *s = w->search;
  g_autoptr (DewChamber) both = with_second (w, job);
  g_autoptr (GArray) problems = dew_chamber_check (both, s->variant_id);
  DewForecast *f[2] = { NULL, NULL };
  gboolean whole = problems->len == 0;

  for (int night = 0; night < 2 && whole; night++)
    if (s->asks[night])
      {
        f[night] = dew_trial_forecast (s->hands[thread].trial[night], both, s->variant_id,
                                       &near_pace, NULL);
        whole = f[night] != NULL;
      }
  w->fine[job] = whole;
  if (whole)
    dew_objective_of (s->advice->wants, &s->q->weights, dew_chamber_variant (both, s->variant_id),
                      f[0], f[1], &w->objective[job]);
  dew_forecast_unref (f[0]);
  dew_forecast_unref (f[1]);
}

static void
settle_second (int job, int thread, gpointer data)
{
  Second *w = data;
  DewFanSearch *s = w->search;
  int night = job % 2;
  g_autoptr (DewChamber) both = NULL;

  if (!s->asks[night])
    return;
  both = with_second (w, job / 2);
  w->kept[job / 2][night] = dew_trial_settle (s->hands[thread].trial[night], both, s->variant_id,
                                              &s->options, s->cancellable, NULL);
}

static GArray *
best_places (const DewFanSearch *s)
{
  g_autoptr (GArray) ranked = g_array_new (FALSE, FALSE, sizeof (DewFanRanked));
  GArray *best = g_array_new (FALSE, FALSE, sizeof (int));

  for (int c = 0; c < s->n_first; c++)
    if (s->advice->candidates[c].round >= DEW_ROUND_COARSE)
      {
        DewFanRanked one = { c, s->advice->candidates[c].coarse };

        g_array_append_val (ranked, one);
      }
  g_array_sort (ranked, dew_fan_better_first);
  for (guint r = 0; r < ranked->len && best->len < SECOND_TRIED; r++)
    {
      int c = g_array_index (ranked, DewFanRanked, r).candidate, alike = 0;

      for (guint b = 0; b < best->len; b++)
        {
          const DewFanCandidate *a = &s->advice->candidates[c];
          const DewFanCandidate *o = &s->advice->candidates[g_array_index (best, int, b)];

          alike += dew_fans_alike (&a->fan, a->bay, &o->fan, o->bay, s->advice->inner_m);
        }
      if (alike < 2)
        g_array_append_val (best, c);
    }
  return best;
}

static gboolean
search_second (DewFanSearch *s, const DewChamber *first, Second *w, int n, GError **error)
{
  int chosen[SECOND_SETTLED], settled = 0;

  if (!dew_parallel_run (n, s->n_hands, run_second, NULL, w, s->cancellable, error))
    return FALSE;
  for (; settled < SECOND_SETTLED; settled++)
    {
      int best = -1;

      for (int c = 0; c < n; c++)
        if (w->fine[c] && (best < 0 || w->objective[c].value > w->objective[best].value))
          best = c;
      if (best < 0)
        break;
      w->fine[best] = FALSE;
      chosen[settled] = w->candidates[best];
    }
  w->candidates = chosen;
  if (!dew_parallel_run (2 * settled, s->n_hands, settle_second, NULL, w, s->cancellable, error))
    return FALSE;
  for (int c = 0; c < settled; c++)
    {
      DewObjective o;

      if ((s->asks[0] && w->kept[c][0] == NULL) || (s->asks[1] && w->kept[c][1] == NULL))
        continue;
      {
        g_autoptr (DewChamber) both = with_second (w, c);

        dew_objective_of (s->advice->wants, &s->q->weights,
                          dew_chamber_variant (both, s->variant_id), w->kept[c][0], w->kept[c][1],
                          &o);
      }
      if (s->advice->has_second && o.value <= s->advice->second_value)
        continue;
      s->advice->has_second = TRUE;
      s->advice->second = s->advice->candidates[chosen[c]].fan;
      s->advice->second_bay = s->advice->candidates[chosen[c]].bay;
      s->advice->second_value = o.value;
    }
  return TRUE;
}

gboolean
dew_fan_find_second (DewFanSearch *s, int best, GError **error)
{
  g_autoptr (GArray) places = best_places (s);
  g_autoptr (DewChamber) first
    = dew_chamber_copy (dew_fan_document (s, &s->hands[0], s->chosen[best]));
  int n = (int) places->len;
  g_autofree DewObjective *objective = g_new0 (DewObjective, MAX (1, n));
  g_autofree gboolean *fine = g_new0 (gboolean, MAX (1, n));
  DewForecast *kept[SECOND_SETTLED][2] = { { NULL } };
  Second w = { s, first, (const int *) (gpointer) places->data, objective, fine, kept };
  gboolean done = n == 0 || search_second (s, first, &w, n, error);

  for (int c = 0; c < SECOND_SETTLED; c++)
    {
      dew_forecast_unref (kept[c][0]);
      dew_forecast_unref (kept[c][1]);
    }
  return done;
}
