/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much water it takes, and whether to cut: what must hold for any answer. */
#include "ask.h"

#include "../forecast/enclosure.h"
#include "say/moisture.h"
#include "say/openings.h"

#include <math.h>
#include <string.h>

/* Two settled states of nearly one layout differ by as much: the settling rule lets a bay's
 * humidity ratio move by 1 % of the largest rise over the room, and jets are restless. */
#define RESTLESS_RH 0.01

static DewMoistureAdvice *
advise (const DewChamber *chamber, DewPlantKindLookup lookup, gpointer data, gboolean pots,
        gboolean humidifier, gboolean vent)
{
  g_autoptr (GError) error = NULL;
  DewMoistureAdvice *advice;
  DewMoistureQuestion q;

  dew_moisture_question_init (&q);
  q.lookup = lookup;
  q.lookup_data = data;
  q.members = 4;
  q.most_pots = 12;
  q.skip[DEW_SIZING_POTS] = !pots;
  q.skip[DEW_SIZING_HUMIDIFIER] = !humidifier;
  q.skip[DEW_SIZING_VENT] = !vent;
  advice = dew_moisture_advise (chamber, 0, &q, NULL, &error);
  g_assert_no_error (error);
  return advice;
}

static double
mean_rh (const DewSizingPoint *p)
{
  double sum = 0.0;

  for (int b = 0; b < p->n_bays; b++)
    sum += 0.5 * (p->bays[b].rh + p->bays[b].rh_night) / p->n_bays;
  return sum;
}

static const DewSizingPoint *
point_at (const DewSizingCurve *curve, int index)
{
  g_assert_cmpint (index, >=, 0);
  g_assert_cmpint (index, <, (int) curve->points->len);
  return &g_array_index (curve->points, DewSizingPoint, index);
}

/* Draft and settled zones may differ by their own error: only points of one kind are compared. */
static void
assert_never_drier (const DewSizingCurve *curve)
{
  const DewSizingPoint *before[2] = { NULL, NULL };

  for (guint p = 0; p < curve->points->len; p++)
    {
      const DewSizingPoint *point = point_at (curve, p);

      if (p > 0)
        g_assert_cmpfloat (point->x, >, point_at (curve, p - 1)->x);
      if (before[point->settled] != NULL)
        g_assert_cmpfloat (mean_rh (point), >=, mean_rh (before[point->settled]) - RESTLESS_RH);
      before[point->settled] = point;
    }
  g_assert_true (before[0] != NULL || before[1] != NULL);
}

/* More pots, and a larger humidifier, never dry the enclosure: water is only added. */
static void
test_more_is_wetter (void)
{
  g_autofree char *without = NULL;
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewMoistureAdvice) advice
    = advise (chamber, dew_catalogue_plant_kind, chamber, TRUE, TRUE, FALSE);
  const DewSizingCurve *pots = &advice->curves[DEW_SIZING_POTS];

  assert_never_drier (pots);
  assert_never_drier (&advice->curves[DEW_SIZING_HUMIDIFIER]);
  for (guint p = 0; p < pots->points->len; p++)
    {
      const DewSizingPoint *point = point_at (pots, p);
      int sum = 0;

      for (int b = 0; b < point->n_bays; b++)
        sum += point->pots[b];
      g_assert_cmpint (sum, ==, (int) point->x);
      g_assert_cmpuint (point->layout->len, ==, (guint) point->x);
    }
  /* Without the mister nothing gives off water but tray, pot and leaves: drier than with it. */
  g_assert_cmpint (advice->without.n_bays, ==, 3);
  g_assert_cmpfloat (mean_rh (&advice->without), <, mean_rh (&advice->present));
  g_assert_cmpfloat (advice->without.water_kg_day, <, advice->present.water_kg_day);
  without = dew_sizing_without_words (advice, DEW_TONGUE_METRIC);
  g_assert_nonnull (without);
}

/* What is advised holds on settled zones, and the next smaller value does not; applied, a
 * forecast from rest holds too. */
static void
test_least_holds (void)
{
  g_autofree char *words = NULL;
  g_autoptr (DewChamber) chamber = film_enclosure (0.5, 0.4, 0.7, 20.0, 0.42);
  g_autoptr (DewMoistureAdvice) advice = NULL;
  const DewSizingCurve *curve;
  const DewSizingPoint *least;

  add_shelf (chamber, 0.35, DEW_SHELF_WIRE, 0.8);
  add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.3, 0.05, 0.07);
  add_hole (chamber, DEW_FACE_BACK, 0.2, 0.3, 0.63, 0.65);
  add_thing (chamber, DEW_THING_FAN, 0.25, 0.2, 0.15);
  add_plant (chamber, "Wood", 0.15, 0.2, 0.05);
  add_plant (chamber, "Wood", 0.35, 0.2, 0.40);
  advice = advise (chamber, kind_invented, NULL, TRUE, FALSE, FALSE);
  curve = &advice->curves[DEW_SIZING_POTS];
  g_assert_true (curve->possible);
  g_assert_cmpint (curve->least, >, 0);
  least = point_at (curve, curve->least);
  words = dew_sizing_words (advice, DEW_SIZING_POTS, DEW_TONGUE_METRIC);
  g_test_message ("%s", words);
  g_assert_true (least->holds);
  g_assert_true (least->settled);
  g_assert_false (point_at (curve, curve->least - 1)->holds);
  g_assert_cmpfloat (point_at (curve, curve->least - 1)->x, ==, least->x - 1.0);
  g_assert_true (isfinite (curve->band_rh));
  g_assert_true (point_at (curve, curve->least - 1)->settled);
  g_assert_cmpint (advice->without.n_bays, ==, 0);

  dew_moisture_apply (chamber, 0, advice, DEW_SIZING_POTS, curve->least);
  for (int night = 0; night < 2; night++)
    {
      g_autoptr (DewForecast) f = night ? forecast_by_night (chamber, DEW_GRID_SETTLED)
                                        : forecast_by_day (chamber, DEW_GRID_SETTLED);

      for (int b = 0; b < f->n_bays; b++)
        g_assert_cmpfloat (f->bays[b].mean.rh, >, 0.60 - RESTLESS_RH);
    }
}

static double
lowest_rh (const DewChamber *chamber)
{
  double low = 1.0;

  for (int night = 0; night < 2; night++)
    {
      g_autoptr (DewForecast) f = night ? forecast_by_night (chamber, DEW_GRID_SETTLED)
                                        : forecast_by_day (chamber, DEW_GRID_SETTLED);

      for (int b = 0; b < f->n_bays; b++)
        low = MIN (low, f->bays[b].mean.rh);
    }
  return low;
}

/* None is drawn: one is meant, sized, and put into the drawing. What is advised is what a bisection
 * with forecasts of its own finds, to within the step that humidifiers are sized by. */
static void
test_humidifier_meant (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.5, 0.4, 0.7, 20.0, 0.42);
  g_autoptr (DewMoistureAdvice) advice = NULL;
  g_auto (GStrv) words = NULL;
  const DewSizingCurve *curve;
  const DewHumidistat *stat;
  double lo = 0.0, hi, x;

  add_shelf (chamber, 0.35, DEW_SHELF_WIRE, 0.8);
  add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.3, 0.05, 0.06);
  add_thing (chamber, DEW_THING_FAN, 0.25, 0.2, 0.15);
  add_plant (chamber, "Wood", 0.15, 0.2, 0.02);
  add_plant (chamber, "Wood", 0.35, 0.2, 0.38);
  advice = advise (chamber, kind_invented, NULL, FALSE, TRUE, FALSE);
  curve = &advice->curves[DEW_SIZING_HUMIDIFIER];
  g_assert_true (advice->added);
  g_assert_true (curve->possible);
  g_assert_cmpint (curve->least, >, 0);
  g_assert_true (point_at (curve, curve->least)->settled);
  x = point_at (curve, curve->least)->x;
  hi = 2.0 * x;
  while (hi - lo > 0.05 * hi)
    {
      double middle = 0.5 * (lo + hi);
      g_autoptr (DewChamber) tried = dew_chamber_copy (chamber);
      DewThing device = advice->humidifier;

      device.humidifier.duty_day = device.humidifier.duty_night
        = middle / device.humidifier.output_kg_s;
      dew_variant_add (tried, dew_chamber_shown (tried), &device);
      *(lowest_rh (tried) >= 0.60 - 0.005 ? &hi : &lo) = middle;
    }
  g_test_message ("advised %.4g mL/h, bisection %.4g to %.4g mL/h", x * 3.6e6, lo * 3.6e6,
                  hi * 3.6e6);
  g_assert_cmpfloat (x, <, 1.25 * hi);
  g_assert_cmpfloat (x, >, 0.85 * lo);

  /* The sensor is out of the plume, the set point above what the plants want at least, and a
   * forecast with it holds as the constant output does. */
  stat = &advice->humidistat;
  g_assert_true (stat->possible);
  g_assert_cmpfloat (stat->set_rh, >, 0.60);
  g_assert_cmpfloat (stat->swing_rh, >=, 0.5 * stat->band_rh);
  g_assert_true (stat->point.settled);
  words = dew_humidistat_words (advice, DEW_TONGUE_METRIC);
  for (int w = 0; words[w] != NULL; w++)
    g_test_message ("%s", words[w]);
  g_assert_true (dew_moisture_apply_humidistat (chamber, 0, advice));
  g_assert_cmpuint (dew_chamber_check (chamber, chamber->shown_variant)->len, ==, 0);
  if (stat->point.holds)
    g_assert_cmpfloat (lowest_rh (chamber), >, 0.60 - RESTLESS_RH);
}

/* One shelf of plants that want opposite things: an answer that says so, and no band that
 * holds both. */
static void
test_contradiction (void)
{
  g_autofree char *words = NULL;
  g_autoptr (DewChamber) chamber = film_enclosure (0.5, 0.4, 0.4, 20.0, 0.50);
  g_autoptr (DewMoistureAdvice) advice = NULL;

  add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.25, 0.05, 0.06);
  add_plant (chamber, "Bog", 0.15, 0.2, 0.05);
  add_plant (chamber, "Steppe", 0.35, 0.2, 0.05);
  advice = advise (chamber, kind_invented, NULL, FALSE, FALSE, TRUE);
  g_assert_cmpuint (advice->wants->contradictions->len, ==, 1);
  g_assert_true (advice->curves[DEW_SIZING_VENT].possible);
  words = dew_sizing_words (advice, DEW_SIZING_VENT, DEW_TONGUE_METRIC);
  g_assert_nonnull (words);
}

/* --- cut or not ---------------------------------------------------------- */

static void
test_openings (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("film-house.json");
  g_autofree char *verdict = NULL;
  g_autoptr (DewOpeningAdvice) advice = NULL;
  g_autoptr (GError) error = NULL;
  static const double areas[] = { 40e-4 };
  const DewOpeningOption *drawn, *best;
  DewOpeningQuestion q;
  double most_undoable = 0.0;
  gboolean whole = FALSE;

  dew_opening_question_init (&q);
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = chamber;
  q.areas_m2 = areas;
  q.n_areas = 1;
  q.members = 4;
  advice = dew_opening_advise (chamber, 0, &q, NULL, &error);
  g_assert_no_error (error);
  drawn = &advice->options[0];
  g_assert_cmpint (drawn->plan, ==, DEW_PLAN_AS_DRAWN);
  g_assert_cmpfloat (drawn->gain, ==, 0.0);
  for (int o = 0; o < advice->n_options; o++)
    {
      const DewOpeningOption *option = &advice->options[o];
      g_autofree char *title = dew_opening_title (option, DEW_TONGUE_METRIC);

      g_test_message ("%s: %.4f, %+.4f, %.4f; %.2f an hour", title, option->objective.value,
                      option->gain, option->band, option->exchange_1_h);
      g_assert_true (option->forecast);
      g_assert_true (option->sure == (option->gain > option->band));
      /* Less open lets less air through; more open more (orifice relation: flow rises with area),
       * or the same to a hundredth where it lies beside a hole that air already goes both ways
       * through. */
      if (option->plan != DEW_PLAN_AS_DRAWN && option->plan != DEW_PLAN_WHOLE)
        /* Which side, how high and how wide stand in words. */
        g_assert_nonnull (strstr (title, "above the floor"));
      g_assert_true (option->stale == (option->exchange_1_h < DEW_OPENING_FRESH_1_H));
      if (option->plan == DEW_PLAN_WHOLE)
        g_assert_cmpfloat (option->exchange_1_h, <, drawn->exchange_1_h);
      else if (option->plan != DEW_PLAN_AS_DRAWN)
        g_assert_cmpfloat (option->exchange_1_h, >, 0.99 * drawn->exchange_1_h);
      whole |= option->plan == DEW_PLAN_WHOLE;
      if (option->reversible && option->sure)
        most_undoable = MAX (most_undoable, option->gain);
      if (o > 0)
        g_assert_cmpfloat (advice->options[advice->order[o]].objective.value, <=,
                           advice->options[advice->order[o - 1]].objective.value);
    }
  g_assert_true (whole);
  /* Never a cut when the gain is within the band, nor when something that can be undone does. */
  best = &advice->options[advice->best];
  verdict = dew_opening_verdict (advice, DEW_TONGUE_METRIC);
  g_assert_true (best->plan == DEW_PLAN_AS_DRAWN || best->sure);
  if (!best->reversible)
    g_assert_cmpfloat (best->gain - most_undoable, >, best->band);
  else
    g_assert_nonnull (strstr (verdict, "Do not cut"));

  dew_opening_apply (chamber, 0, &advice->options[advice->n_options - 1]);
  g_assert_cmpuint (dew_chamber_check (chamber, chamber->shown_variant)->len, ==, 0);
}

/* Glass takes neither flap nor zip, and is not cut at home: only what is there may be closed. */
static void
test_glass (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewOpeningAdvice) advice = NULL;
  g_autoptr (GError) error = NULL;
  DewOpeningQuestion q;

  dew_opening_question_init (&q);
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = chamber;
  q.members = -1;
  advice = dew_opening_advise (chamber, 0, &q, NULL, &error);
  g_assert_no_error (error);
  for (int o = 0; o < advice->n_options; o++)
    {
      const DewOpeningOption *option = &advice->options[o];

      if (option->plan == DEW_PLAN_AS_DRAWN || option->plan == DEW_PLAN_WHOLE)
        continue;
      g_assert_false (option->forecast);
      g_assert_true (option->rigid);
      g_assert_nonnull (strstr (dew_opening_trouble (option), "glass"));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/moisture/more-is-wetter", test_more_is_wetter);
  g_test_add_func ("/moisture/least-holds", test_least_holds);
  g_test_add_func ("/moisture/humidifier-meant", test_humidifier_meant);
  g_test_add_func ("/moisture/contradiction", test_contradiction);
  g_test_add_func ("/moisture/openings", test_openings);
  g_test_add_func ("/moisture/glass", test_glass);
  return g_test_run ();
}
