/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/fan/fan-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "advice/parallel.h"

/* How far each round goes, found by trial: 203 places in the demo were forecast to the end. By
 * the coarse round their objectives correlate to 0.65 with the settled ones, by the closer round
 * to 0.85; the best ten of either hold one that is 0.008 behind the best of all, a third of the
 * usual band. More steps (164 ms a place instead of 68) brought nothing. */
static const DewTrialPace coarse_pace = { .parts = 2, .steps = 20, .tolerance = 3e-3, .rounds = 1 };
static const DewTrialPace closer_pace = { .parts = 3, .steps = 28, .tolerance = 1e-3, .rounds = 2 };

#define CLOSER_SHARE 3 /* candidates of the closer round for each settled one */
#define USUAL_REFINE 10
#define ALIKE_MOST 3 /* of the settled ones may be nearly the same */
/* Work of one forecast of each round, in coarse ones: for the progress. */
#define CLOSER_WORK 3
#define SETTLED_WORK 25

void
dew_fan_question_init (DewFanQuestion *question)
{
  memset (question, 0, sizeof *question);
  question->by_mount = TRUE;
  dew_weights_init (&question->weights);
}

/* --- a search ------------------------------------------------------------ */

guint
dew_fan_apply (DewChamber *chamber, guint variant_id, guint fan_id, const DewFan *fan,
               double opening_factor)
{
  DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  DewThing *thing
    = fan_id != 0 && fan_id != DEW_FAN_NEW ? dew_variant_thing (variant, fan_id) : NULL;

  if (fan_id != 0 && fan_id != DEW_FAN_NEW && (thing == NULL || thing->kind != DEW_THING_FAN))
    return 0;
  if (thing == NULL)
    {
      DewThing new_fan;

      dew_thing_init (&new_fan, DEW_THING_FAN);
      thing = dew_variant_add (chamber, variant, &new_fan);
    }
  thing->fan = *fan;
  fan_id = thing->id;
  for (guint t = 0; t < variant->things->len && opening_factor != 1.0; t++)
    {
      DewThing *opening = &g_array_index (variant->things, DewThing, t);

      if (opening->kind == DEW_THING_OPENING)
        opening->opening.open_fraction
          = CLAMP (opening->opening.open_fraction * opening_factor, 0.0, 1.0);
    }
  return fan_id;
}

/* The document with one candidate in it; candidate -1: as it is. */
const DewChamber *
dew_fan_document (const DewFanSearch *s, DewFanHand *hand, int candidate)
{
  const DewFanCandidate *c;

  if (candidate < 0)
    return s->chamber;
  c = &s->advice->candidates[candidate];
  dew_chamber_free (hand->chamber);
  hand->chamber = dew_chamber_copy (s->chamber);
  dew_fan_apply (hand->chamber, s->variant_id, s->advice->present_fits ? s->advice->fan_id : 0,
                 &c->fan, c->opening_factor);
  return hand->chamber;
}

gboolean
dew_fan_try (const DewFanSearch *s, int thread, int candidate, const DewTrialPace *pace,
             const gboolean asks[2], DewObjective *out)
{
  DewFanHand *hand = &s->hands[thread];
  const DewChamber *chamber = dew_fan_document (s, hand, candidate);
  g_autoptr (DewForecast) day = NULL;
  g_autoptr (DewForecast) night = NULL;

  if (asks[0])
    day = dew_trial_forecast (hand->trial[0], chamber, s->variant_id, pace, NULL);
  if (asks[1])
    night = dew_trial_forecast (hand->trial[1], chamber, s->variant_id, pace, NULL);
  if ((asks[0] && day == NULL) || (asks[1] && night == NULL))
    return FALSE;
  dew_objective_of (s->advice->wants, &s->q->weights, dew_chamber_variant (chamber, s->variant_id),
                    day, night, out);
  return TRUE;
}

/* --- rounds -------------------------------------------------------------- */

static void
run_coarse (int job, int thread, gpointer data)
{
  DewFanSearch *s = data;
  DewFanCandidate *c = &s->advice->candidates[job];
  /* By day, unless only the night counts. */
  gboolean asks[2] = { s->asks[0], !s->asks[0] };

  if (!dew_fan_try (s, thread, job, &coarse_pace, asks, &c->objective))
    return;
  c->coarse = c->objective.value;
  c->round = DEW_ROUND_COARSE;
}

static void
run_closer (int job, int thread, gpointer data)
{
  DewFanSearch *s = data;
  int candidate = s->chosen[job];
  DewObjective objective;

  /* The layout as it is needs no closer look: it is settled in any case. */
  if (candidate < 0 || !dew_fan_try (s, thread, candidate, &closer_pace, s->asks, &objective))
    return;
  s->advice->candidates[candidate].objective = objective;
  s->advice->candidates[candidate].round = DEW_ROUND_CLOSER;
}

static void
run_settled (int job, int thread, gpointer data)
{
  DewFanSearch *s = data;
  DewFanHand *hand = &s->hands[thread];
  int at = s->settle_from + job / 2, candidate = s->chosen[at], night = job % 2;

  if (!s->asks[night])
    return;
  s->kept[at][night] = dew_trial_settle (hand->trial[night], dew_fan_document (s, hand, candidate),
                                         s->variant_id, &s->options, s->cancellable, NULL);
}

void
dew_fan_tell (DewFanSearch *s, int done)
{
  if (s->q->progress != NULL)
    s->q->progress (MIN (s->total, s->done_before + done), s->total, s->advice->candidates,
                    s->advice->n_candidates, s->q->progress_data);
}

static void
tell_coarse (int done, gpointer data)
{
  dew_fan_tell (data, done);
}

static void
tell_closer (int done, gpointer data)
{
  dew_fan_tell (data, CLOSER_WORK * done);
}

static void
tell_settled (int done, gpointer data)
{
  dew_fan_tell (data, SETTLED_WORK * done);
}

int
dew_fan_better_first (gconstpointer pa, gconstpointer pb)
{
  const DewFanRanked *a = pa, *b = pb;

  if (a->value != b->value)
    return a->value < b->value ? 1 : -1;
  return a->candidate - b->candidate;
}

/* Candidates that reached a round, best first. */
static GArray *
rank (const DewFanSearch *s, DewRound round)
{
  GArray *ranked = g_array_new (FALSE, FALSE, sizeof (DewFanRanked));

  for (int i = 0; i < s->advice->n_candidates; i++)
    if (s->advice->candidates[i].round >= round)
      {
        DewFanRanked one = { i, s->advice->candidates[i].objective.value };

        g_array_append_val (ranked, one);
      }
  qsort (ranked->data, ranked->len, sizeof (DewFanRanked), dew_fan_better_first);
  return ranked;
}

/* The layout as it is, then the best `most` of that round of which no more than `alike_most`
 * are nearly the same. */
static void
choose (DewFanSearch *s, DewRound round, int most, int alike_most)
{
  g_autoptr (GArray) ranked = rank (s, round);

  g_free (s->chosen);
  s->chosen = g_new (int, most + 1);
  s->chosen[0] = -1;
  s->n_chosen = 1;
  for (guint r = 0; r < ranked->len && s->n_chosen <= most; r++)
    {
      int candidate = g_array_index (ranked, DewFanRanked, r).candidate, alike = 0;
      const DewFanCandidate *c = &s->advice->candidates[candidate];

      for (int o = 1; o < s->n_chosen; o++)
        {
          const DewFanCandidate *other = &s->advice->candidates[s->chosen[o]];

          alike += dew_fans_alike (&c->fan, c->bay, &other->fan, other->bay, s->advice->inner_m);
        }
      if (alike < alike_most)
        s->chosen[s->n_chosen++] = candidate;
    }
}

static gboolean
run_rounds (DewFanSearch *s, GError **error)
{
  DewFanAdvice *advice = s->advice;
  int refine = s->q->refine > 0 ? s->q->refine : USUAL_REFINE;
  int closer = MIN (advice->n_candidates, CLOSER_SHARE * refine), asked = s->asks[0] + s->asks[1];

  refine = MIN (refine, advice->n_candidates);
  s->total = advice->n_candidates + CLOSER_WORK * (closer + 1) + 2 * SETTLED_WORK * (refine + 1)
             + dew_fan_refine_work (CLOSER_WORK, SETTLED_WORK);
  s->options.grid = DEW_GRID_SETTLED;

  if (!dew_parallel_run (advice->n_candidates, s->n_hands, run_coarse, tell_coarse, s,
                         s->cancellable, error))
    return FALSE;
  s->done_before = advice->n_candidates;
  choose (s, DEW_ROUND_COARSE, closer, G_MAXINT);
  if (!dew_parallel_run (s->n_chosen, s->n_hands, run_closer, tell_closer, s, s->cancellable,
                         error))
    return FALSE;
  s->done_before += CLOSER_WORK * (closer + 1);
  advice->draft_forecasts = advice->n_candidates + asked * (s->n_chosen - 1);
  choose (s, DEW_ROUND_CLOSER, refine, ALIKE_MOST);
  s->kept = g_malloc0 (sizeof *s->kept * s->n_chosen);
  s->settled = g_new0 (DewObjective, s->n_chosen);
  if (!dew_parallel_run (2 * s->n_chosen, s->n_hands, run_settled, tell_settled, s, s->cancellable,
                         error))
    return FALSE;
  s->done_before += 2 * SETTLED_WORK * (refine + 1);
  advice->settled_forecasts = asked * s->n_chosen;
  return TRUE;
}

/* Objectives of the settled forecasts; FALSE with error when the layout as it is has none. */
static gboolean
judge_settled (DewFanSearch *s, GError **error)
{
  for (int n = s->settle_from; n < s->n_chosen; n++)
    {
      int candidate = s->chosen[n];
      const DewChamber *chamber = dew_fan_document (s, &s->hands[0], candidate);
      gboolean whole
        = (s->kept[n][0] != NULL || !s->asks[0]) && (s->kept[n][1] != NULL || !s->asks[1]);

      if (!whole && candidate < 0)
        {
          g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                       _ ("The layout as it is could not be forecast to the end"));
          return FALSE;
        }
      if (!whole)
        {
          s->settled[n].value = -1.0;
          continue;
        }
      dew_objective_of (s->advice->wants, &s->q->weights,
                        dew_chamber_variant (chamber, s->variant_id), s->kept[n][0], s->kept[n][1],
                        &s->settled[n]);
      if (candidate < 0)
        continue;
      s->advice->candidates[candidate].objective = s->settled[n];
      s->advice->candidates[candidate].round = DEW_ROUND_SETTLED;
    }
  return TRUE;
}

gboolean
dew_fan_settle_more (DewFanSearch *s, const int *candidates, int n, GError **error)
{
  int all = s->n_chosen + n;

  s->chosen = g_renew (int, s->chosen, all);
  s->kept = g_realloc (s->kept, sizeof *s->kept * all);
  s->settled = g_renew (DewObjective, s->settled, all);
  s->settle_from = s->n_chosen;
  for (int c = 0; c < n; c++)
    {
      s->chosen[s->n_chosen] = candidates[c];
      s->kept[s->n_chosen][0] = s->kept[s->n_chosen][1] = NULL;
      s->n_chosen++;
    }
  s->advice->settled_forecasts += n * (s->asks[0] + s->asks[1]);
  return dew_parallel_run (2 * n, s->n_hands, run_settled, NULL, s, s->cancellable, error)
         && judge_settled (s, error);
}

/* --- asking -------------------------------------------------------------- */

static const DewThing *
fan_asked_about (const DewVariant *variant, guint fan_id)
{
  const DewThing *first = NULL;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_FAN)
        continue;
      if (thing->id == fan_id)
        return thing;
      if (first == NULL)
        first = thing;
    }
  return fan_id == 0 ? first : NULL;
}

/* Whether all that is wrong with the layout is about one thing. */
static gboolean
only_trouble_is (const DewChamber *chamber, guint variant_id, guint thing_id)
{
  g_autoptr (GArray) problems = dew_chamber_check (chamber, variant_id);

  for (guint p = 0; p < problems->len; p++)
    if (g_array_index (problems, DewProblem, p).thing_id != thing_id)
      return FALSE;
  return problems->len > 0;
}

/* What all trials start from, so that the answer does not depend on where the fan is drawn: one in
 * the middle of the first bay where it fits, blowing up or to the back; else in the middle one of
 * the places; as it is drawn where there is no place. */
static DewChamber *
start_layout (const DewFanSearch *s)
{
  DewChamber *from = dew_chamber_copy (s->n_first > 0 ? s->bare : s->chamber);
  g_autofree double *z = NULL;
  g_autofree guint *shelf = NULL;
  DewFan fan;
  int n, bay;

  if (s->n_first == 0)
    return from;
  fan = s->advice->candidates[s->n_first / 2].fan;
  n = dew_variant_bays (s->bare, dew_chamber_variant (s->bare, s->variant_id), &z, &shelf);
  for (int at = 0; at < 2 * n; at++)
    {
      DewFan middle = fan;

      middle.mount = DEW_FAN_FREE;
      middle.x_m = 0.5 * s->advice->inner_m[0];
      middle.y_m = 0.5 * s->advice->inner_m[1];
      middle.z_m = 0.5 * (z[at / 2] + z[at / 2 + 1]);
      middle.azimuth_rad = 0.5 * G_PI;
      middle.elevation_rad = at % 2 == 0 ? 0.5 * G_PI : 0.0;
      if (!dew_fan_fits (s->bare, s->variant_id, &middle, &bay))
        continue;
      fan = middle;
      break;
    }
  dew_fan_apply (from, s->variant_id, 0, &fan, 1.0);
  return from;
}

static gboolean
start_search (DewFanSearch *s, GError **error)
{
  g_autoptr (DewChamber) from = start_layout (s);
  int jobs = MAX (2 * (s->q->refine > 0 ? s->q->refine : USUAL_REFINE), s->advice->n_candidates);

  for (int night = 0; night < 2; night++)
    {
      if (!s->asks[night])
        continue;
      s->options.night = night;
      s->start[night]
        = dew_trial_start_new (from, s->variant_id, &s->options, s->cancellable, error);
      if (s->start[night] == NULL)
        return FALSE;
    }
  s->n_hands = dew_parallel_threads (s->q->threads, jobs);
  s->hands = g_new0 (DewFanHand, s->n_hands);
  for (int h = 0; h < s->n_hands; h++)
    for (int night = 0; night < 2; night++)
      if (s->asks[night])
        s->hands[h].trial[night] = dew_trial_new (s->start[night]);
  return TRUE;
}

static void
end_search (DewFanSearch *s)
{
  for (int h = 0; h < s->n_hands; h++)
    {
      dew_trial_free (s->hands[h].trial[0]);
      dew_trial_free (s->hands[h].trial[1]);
      dew_chamber_free (s->hands[h].chamber);
    }
  for (int n = 0; n < s->n_chosen && s->kept != NULL; n++)
    {
      dew_forecast_unref (s->kept[n][0]);
      dew_forecast_unref (s->kept[n][1]);
    }
  dew_trial_start_free (s->start[0]);
  dew_trial_start_free (s->start[1]);
  dew_chamber_free (s->without);
  dew_chamber_free (s->bare);
  g_free (s->hands);
  g_free (s->chosen);
  g_free (s->kept);
  g_free (s->settled);
}

/* The fan to place, and the places for it. */
static void
find_places (DewFanSearch *s, const DewThing *thing, DewFan *fan)
{
  DewFanAdvice *advice = s->advice;
  DewChamber *bare = dew_chamber_copy (s->chamber);
  gboolean stand = s->q->stand, walls = s->q->walls;
  GArray *places;

  if (advice->fan_id != 0)
    dew_variant_remove (dew_chamber_variant (bare, s->variant_id), advice->fan_id);
  if (s->q->by_mount)
    {
      stand = fan->mount == DEW_FAN_FREE;
      walls = !stand;
    }
  places = dew_fan_places (bare, s->variant_id, fan, s->q, stand, walls, s->q->candidates);
  advice->n_candidates = places->len;
  advice->candidates = (DewFanCandidate *) g_array_free (places, FALSE);
  advice->present_fits
    = thing == NULL || !only_trouble_is (s->chamber, s->variant_id, advice->fan_id);
  if (!advice->present_fits)
    {
      s->without = dew_chamber_copy (bare);
      s->chamber = s->without;
    }
  advice->off = !(fan->speed_day > 0.0) && !(fan->speed_night > 0.0);
  if (advice->off)
    advice->n_candidates = 0;
  s->bare = bare;
  s->n_first = advice->n_places = advice->n_candidates;
}

DewFanAdvice *
dew_fan_advise (const DewChamber *chamber, guint variant_id, const DewFanQuestion *question,
                GCancellable *cancellable, GError **error)
{
  g_autoptr (DewFanAdvice) advice = g_new0 (DewFanAdvice, 1);
  DewFanSearch s = { .chamber = chamber,
                     .variant_id = variant_id,
                     .q = question,
                     .advice = advice,
                     .cancellable = cancellable };
  const DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  const DewThing *thing = variant != NULL ? fan_asked_about (variant, question->fan_id) : NULL;
  gint64 began = g_get_monotonic_time ();
  DewThing usual;
  gboolean fine;

  if (variant == NULL || (question->fan_id != 0 && thing == NULL))
    {
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                   variant == NULL ? _ ("There is no such variant in this document")
                                   : _ ("There is no such fan in this variant"));
      return NULL;
    }
  dew_thing_init (&usual, DEW_THING_FAN);
  if (question->typical != NULL)
    usual.fan = *question->typical;
  if (thing != NULL)
    usual = *thing;
  advice->fan_id = thing != NULL ? thing->id : 0;
  advice->weights = question->weights;
  dew_chamber_inner_m (chamber, advice->inner_m);
  advice->wants = dew_wants_new (chamber, variant, question->lookup, question->lookup_data);
  dew_forecast_options_init (&s.options);
  s.options.wish = dew_wants_lookup;
  s.options.wish_data = advice->wants;
  s.asks[0] = question->weights.day_share > 0.0;
  s.asks[1] = question->weights.day_share < 1.0;
  find_places (&s, thing, &usual.fan);
  fine = start_search (&s, error) && run_rounds (&s, error) && judge_settled (&s, error)
         && dew_fan_refine (&s, error) && dew_fan_answer (&s, error);
  end_search (&s);
  if (!fine)
    return NULL;
  advice->seconds = (g_get_monotonic_time () - began) / 1e6;
  return g_steal_pointer (&advice);
}

/* --- life ---------------------------------------------------------------- */

static void
clear_option (DewFanOption *option)
{
  dew_forecast_unref (option->day);
  dew_forecast_unref (option->night);
  g_clear_pointer (&option->bays, g_array_unref);
  g_clear_pointer (&option->changes, g_array_unref);
  g_clear_pointer (&option->against_best, g_array_unref);
}

void
dew_fan_advice_free (DewFanAdvice *advice)
{
  if (advice == NULL)
    return;
  clear_option (&advice->present);
  for (int o = 0; o < advice->n_options; o++)
    clear_option (&advice->options[o]);
  g_free (advice->options);
  g_free (advice->candidates);
  dew_wants_free (advice->wants);
  g_free (advice);
}
