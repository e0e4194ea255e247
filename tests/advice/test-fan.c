/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search for the fan's place: against exhaustive forecasts, mirrored, by one and by two
 * threads. */
#include "ask.h"

#include "../forecast/enclosure.h"
#include "advice/fan/fan-private.h"
#include "say/fan.h"

#include <math.h>

/* What may be lost against the best of all by settled forecasts: the objective differs by
 * less than this between two runs of one layout from other starts. */
#define REGRET 0.02

static void
ask_small (DewFanQuestion *q, DewChamber *chamber)
{
  dew_fan_question_init (q);
  q->weights.day_share = 1.0;
  q->candidates = 24;
  q->refine = 5;
  q->members = 4;
  q->lookup = dew_catalogue_plant_kind;
  q->lookup_data = chamber;
}

static DewFanAdvice *
advise (const DewChamber *chamber, const DewFanQuestion *q)
{
  g_autoptr (GError) error = NULL;
  DewFanAdvice *advice = dew_fan_advise (chamber, 0, q, NULL, &error);

  g_assert_no_error (error);
  return advice;
}

/* A layout's objective by day, forecast from rest: nothing of the search is used. */
static double
settled_value (const DewChamber *chamber, const DewFanAdvice *advice, const DewFan *fan)
{
  g_autoptr (DewChamber) tried = dew_chamber_copy (chamber);
  g_autoptr (DewForecast) day = NULL;
  DewObjective o;

  dew_fan_apply (tried, 0, advice->fan_id, fan, 1.0);
  day = forecast_by_day (tried, DEW_GRID_SETTLED);
  dew_objective_of (advice->wants, &advice->weights, dew_chamber_shown (tried), day, NULL, &o);
  return o.value;
}

/* --- against all --------------------------------------------------------- */

static void
test_regret (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewFanAdvice) advice = NULL;
  DewFanQuestion q;
  double best = 0.0, found, mean = 0.0;

  ask_small (&q, chamber);
  advice = advise (chamber, &q);
  g_assert_cmpint (advice->n_places, >=, 12);
  g_assert_cmpint (advice->n_places, <=, 24);
  g_assert_cmpint (advice->n_options, >=, 1);
  for (int i = 0; i < advice->n_places; i++)
    {
      double value = settled_value (chamber, advice, &advice->candidates[i].fan);

      best = MAX (best, value);
      mean += value / advice->n_places;
    }
  found = settled_value (chamber, advice, &advice->options[0].fan);
  g_test_message ("best of all %.4f, found %.4f, mean %.4f: regret %.4f", best, found, mean,
                  best - found);
  g_assert_cmpfloat (best - found, <=, REGRET);
  g_assert_cmpfloat (found, >, mean);
  /* What the answer says of it is what a forecast from rest says. */
  g_assert_cmpfloat_with_epsilon (advice->options[0].objective.value, found, REGRET);
}

/* --- mirrored ------------------------------------------------------------ */

static int
mirrored_candidate (const DewFanAdvice *mirror, const DewFan *fan, double width_m)
{
  for (int i = 0; i < mirror->n_places; i++)
    {
      const DewFan *other = &mirror->candidates[i].fan;

      if (fabs (width_m - fan->x_m - other->x_m) < 1e-9 && fabs (fan->y_m - other->y_m) < 1e-9
          && fabs (fan->z_m - other->z_m) < 1e-9
          && fabs (fan->elevation_rad - other->elevation_rad) < 1e-9
          && (fabs (cos (fan->azimuth_rad) + cos (other->azimuth_rad)) < 1e-9
              || fabs (cos (fan->elevation_rad)) < 1e-9)
          && (fabs (sin (fan->azimuth_rad) - sin (other->azimuth_rad)) < 1e-9
              || fabs (cos (fan->elevation_rad)) < 1e-9))
        return i;
    }
  return -1;
}

static void
test_mirror (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewChamber) turned = dew_chamber_copy (chamber);
  g_autoptr (DewFanAdvice) advice = NULL;
  g_autoptr (DewFanAdvice) mirror = NULL;
  DewFanQuestion q;
  double worst = 0.0, value;
  DewFan twin_fan;
  int twin;

  mirror_enclosure (turned);
  ask_small (&q, chamber);
  q.members = -1;
  advice = advise (chamber, &q);
  mirror = advise (turned, &q);
  g_assert_cmpint (advice->n_places, ==, mirror->n_places);
  for (int i = 0; i < advice->n_places; i++)
    {
      twin = mirrored_candidate (mirror, &advice->candidates[i].fan, advice->inner_m[0]);
      g_assert_cmpint (twin, >=, 0);
      worst = MAX (worst, fabs (advice->candidates[i].coarse - mirror->candidates[twin].coarse));
    }
  /* The best place mirrored is as good in the mirror as the best one there. */
  twin_fan = advice->options[0].fan;
  twin_fan.x_m = advice->inner_m[0] - twin_fan.x_m;
  twin_fan.azimuth_rad = G_PI - twin_fan.azimuth_rad;
  value = settled_value (turned, mirror, &twin_fan);
  g_test_message (
    "worst coarse difference of twins %.4f; best %.4f, mirrored best %.4f, twin there %.4f", worst,
    advice->options[0].objective.value, mirror->options[0].objective.value, value);
  g_assert_cmpfloat (worst, <=, 2.0 * REGRET);
  g_assert_cmpfloat_with_epsilon (advice->options[0].objective.value,
                                  mirror->options[0].objective.value, REGRET);
  g_assert_cmpfloat (value, >=, mirror->options[0].objective.value - REGRET);
}

/* --- the same for any number of threads ---------------------------------- */

static void
test_threads (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewFanAdvice) one = NULL;
  g_autoptr (DewFanAdvice) two = NULL;
  DewFanQuestion q;

  ask_small (&q, chamber);
  q.refine = 3;
  q.threads = 1;
  one = advise (chamber, &q);
  q.threads = 2;
  two = advise (chamber, &q);
  g_assert_cmpint (one->n_candidates, ==, two->n_candidates);
  for (int i = 0; i < one->n_candidates; i++)
    {
      g_assert_cmpint (one->candidates[i].round, ==, two->candidates[i].round);
      g_assert_true (one->candidates[i].coarse == two->candidates[i].coarse);
      g_assert_cmpmem (&one->candidates[i].objective.raw, sizeof one->candidates[i].objective.raw,
                       &two->candidates[i].objective.raw, sizeof two->candidates[i].objective.raw);
    }
  g_assert_cmpint (one->n_options, ==, two->n_options);
  for (int o = 0; o < one->n_options; o++)
    {
      g_assert_true (one->options[o].gain == two->options[o].gain);
      g_assert_true (one->options[o].band == two->options[o].band);
      g_autofree char *first = dew_fan_title (one, &one->options[o]);
      g_autofree char *second = dew_fan_title (two, &two->options[o]);

      g_assert_cmpstr (first, ==, second);
    }
}

/* --- on the way ---------------------------------------------------------- */

typedef struct
{
  GCancellable *cancellable;
  int calls, last, total;
} Watch;

static void
cancel_soon (int done, int total, const DewFanCandidate *candidates, int n, gpointer data)
{
  Watch *watch = data;

  g_assert_cmpint (done, >=, watch->last);
  g_assert_cmpint (done, <=, total);
  watch->last = done;
  watch->total = total;
  watch->calls++;
  if (watch->cancellable != NULL && done > 0)
    g_cancellable_cancel (watch->cancellable);
}

static void
test_cancel (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (DewFanAdvice) advice = NULL;
  g_autoptr (GError) error = NULL;
  Watch watch = { .cancellable = cancellable };
  DewFanQuestion q;

  ask_small (&q, chamber);
  q.candidates = 200;
  q.progress = cancel_soon;
  q.progress_data = &watch;
  advice = dew_fan_advise (chamber, 0, &q, cancellable, &error);
  g_assert_null (advice);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpint (watch.calls, >=, 1);
  g_assert_cmpint (watch.last, <, watch.total);
}

/* The map has its highest value at the best spot of it, and none beyond the walls' reach. */
static void
test_map (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewFanAdvice) advice = NULL;
  g_autoptr (GArray) spots = NULL;
  g_autofree double *map = g_new (double, 45 * 90);
  const DewFanSpot *best = NULL;
  DewFanQuestion q;
  double highest = 0.0;
  int at = 0, column, row;

  ask_small (&q, chamber);
  q.candidates = 120;
  q.refine = 1;
  q.members = -1;
  advice = advise (chamber, &q);
  spots = dew_fan_spots (advice->candidates, advice->n_candidates);
  g_assert_cmpuint (spots->len, >, 3);
  for (guint s = 0; s < spots->len; s++)
    {
      const DewFanSpot *spot = &g_array_index (spots, DewFanSpot, s);

      if (best == NULL || spot->coarse > best->coarse)
        best = spot;
    }
  for (int i = 0; i < advice->n_candidates; i++)
    g_assert_cmpfloat (advice->candidates[i].coarse, <=, best->coarse);
  dew_fan_map (spots, advice->inner_m, DEW_VIEW_FRONT, 0.0, 0.0, 0.0, 45, 90, map);
  for (int i = 0; i < 45 * 90; i++)
    if (map[i] > highest)
      {
        highest = map[i];
        at = i;
      }
  column = (int) (best->at_m[0] / advice->inner_m[0] * 45);
  row = (int) (best->at_m[2] / advice->inner_m[2] * 90);
  g_assert_cmpint (ABS (at % 45 - column), <=, 1);
  g_assert_cmpint (ABS (at / 45 - row), <=, 1);
  g_assert_cmpfloat (highest, <=, best->coarse + 1e-9);
}

/* --- what the answer may depend on ---------------------------------------- */

/* Where the fan is drawn at first does not matter: the same places, the same answer. */
static void
test_drawn_elsewhere (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewChamber) moved = dew_chamber_copy (chamber);
  g_autoptr (DewFanAdvice) one = NULL, other = NULL;
  DewFan *fan = &first_fan (moved)->fan;
  DewFanQuestion q;

  ask_small (&q, chamber);
  q.members = -1;
  q.refine = 3;
  one = advise (chamber, &q);
  *fan = one->candidates[one->n_places - 1].fan;
  other = advise (moved, &q);
  g_assert_cmpint (one->n_options, >=, 1);
  g_assert_cmpint (other->n_options, >=, 1);
  g_assert_cmpfloat (one->options[0].fan.x_m, ==, other->options[0].fan.x_m);
  g_assert_cmpfloat (one->options[0].fan.y_m, ==, other->options[0].fan.y_m);
  g_assert_cmpfloat (one->options[0].fan.z_m, ==, other->options[0].fan.z_m);
  g_assert_cmpfloat (one->options[0].fan.azimuth_rad, ==, other->options[0].fan.azimuth_rad);
  g_assert_cmpfloat (one->options[0].objective.value, ==, other->options[0].objective.value);
}

/* It goes on from the places: what is advised is no worse than any of them by forecasts from rest,
 * nothing stands right before it, and no two answers are one another's mirror image. */
static void
test_refined (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("film-house.json");
  g_autoptr (DewFanAdvice) advice = NULL;
  DewFanQuestion q;

  ask_small (&q, chamber);
  q.members = -1;
  q.refine = 4;
  advice = advise (chamber, &q);
  g_assert_cmpint (advice->n_candidates, >, advice->n_places);
  g_assert_cmpint (advice->n_options, >=, 1);
  for (int i = 0; i < advice->n_places; i++)
    if (advice->candidates[i].round == DEW_ROUND_SETTLED)
      g_assert_cmpfloat (advice->options[0].objective.value, >=,
                         settled_value (chamber, advice, &advice->candidates[i].fan) - REGRET);
  g_assert_cmpfloat_with_epsilon (advice->options[0].objective.value,
                                  settled_value (chamber, advice, &advice->options[0].fan), 1e-9);
  for (int a = 0; a < advice->n_options; a++)
    for (int b = 0; b < a; b++)
      g_assert_false (dew_fans_mirrored (&advice->options[a].fan,
                                         advice->candidates[advice->options[a].candidate].bay,
                                         &advice->options[b].fan,
                                         advice->candidates[advice->options[b].candidate].bay,
                                         advice->inner_m));
}

/* A weak plant and a new one weigh: the same air is worth something else to them. */
static void
test_state (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewForecast) day = forecast_by_day (chamber, DEW_GRID_DRAFT);
  DewThing *plant = NULL;
  double value[3];

  for (guint t = 0; t < dew_chamber_shown (chamber)->things->len; t++)
    if (g_array_index (dew_chamber_shown (chamber)->things, DewThing, t).kind == DEW_THING_PLANT)
      plant = &g_array_index (dew_chamber_shown (chamber)->things, DewThing, t);
  g_assert_nonnull (plant);
  for (int state = DEW_PLANT_HEALTHY; state <= DEW_PLANT_ARRIVED; state++)
    {
      g_autoptr (DewWants) wants = NULL;
      DewWeights weights;
      DewObjective o;

      plant->plant.state = state;
      wants
        = dew_wants_new (chamber, dew_chamber_shown (chamber), dew_catalogue_plant_kind, chamber);
      dew_weights_init (&weights);
      dew_objective_of (wants, &weights, dew_chamber_shown (chamber), day, NULL, &o);
      value[state] = o.value;
    }
  g_test_message ("healthy %.6f, weak %.6f, arrived %.6f", value[0], value[1], value[2]);
  g_assert_cmpfloat (fabs (value[0] - value[1]), >, 1e-4);
  g_assert_cmpfloat (fabs (value[0] - value[2]), >, 1e-5);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fan/regret", test_regret);
  g_test_add_func ("/fan/mirror", test_mirror);
  g_test_add_func ("/fan/threads", test_threads);
  g_test_add_func ("/fan/drawn-elsewhere", test_drawn_elsewhere);
  g_test_add_func ("/fan/refined", test_refined);
  g_test_add_func ("/fan/state", test_state);
  g_test_add_func ("/fan/cancel", test_cancel);
  g_test_add_func ("/fan/map", test_map);
  return g_test_run ();
}
