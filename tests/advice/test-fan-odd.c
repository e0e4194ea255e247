/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search for the fan's place where there is none, in the walls, and with what cannot be
 * answered. */
#include "ask.h"

#include "../forecast/enclosure.h"
#include "say/fan.h"
#include "say/wants.h"

#include <math.h>
#include <string.h>

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

static void
test_no_fan (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewFanAdvice) advice = NULL;
  DewFanQuestion q;

  dew_variant_remove (dew_chamber_shown (chamber), first_fan (chamber)->id);
  ask_small (&q, chamber);
  q.refine = 2;
  advice = advise (chamber, &q);
  g_assert_cmpuint (advice->fan_id, ==, 0);
  g_assert_cmpint (advice->n_options, >=, 1);
  g_assert_cmpint (advice->present.candidate, ==, -1);
  /* Applied, there is one. */
  g_assert_cmpuint (dew_fan_apply (chamber, 0, 0, &advice->options[0].fan, 1.0), ==,
                    first_fan (chamber)->id);
}

static void
test_fits_nowhere (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewFanAdvice) advice = NULL;
  g_autofree char *verdict = NULL;
  DewFanQuestion q;

  /* 44 cm of fan stands in no bay of 30 cm, and not where it is drawn. */
  first_fan (chamber)->fan.diameter_m = 0.44;
  ask_small (&q, chamber);
  advice = advise (chamber, &q);
  g_assert_cmpint (advice->n_options, ==, 0);
  g_assert_cmpint (advice->n_candidates, ==, 0);
  g_assert_false (advice->present_fits);
  verdict = dew_fan_verdict (advice);
  g_assert_nonnull (strstr (verdict, "fits nowhere"));
}

static void
test_fan_off (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewFanAdvice) advice = NULL;
  g_autofree char *verdict = NULL;
  DewFanQuestion q;

  first_fan (chamber)->fan.speed_day = first_fan (chamber)->fan.speed_night = 0.0;
  ask_small (&q, chamber);
  advice = advise (chamber, &q);
  g_assert_cmpint (advice->n_options, ==, 0);
  verdict = dew_fan_verdict (advice);
  g_assert_nonnull (strstr (verdict, "off"));
}

/* Without any exchange, and so without water: the air only turns over. */
static void
test_sealed (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.5, 0.4, 0.7, 20.0, 0.6);
  g_autoptr (DewFanAdvice) advice = NULL;
  g_autoptr (DewFanAdvice) none = NULL;
  g_autoptr (GError) error = NULL;
  DewFanQuestion q;

  chamber->leak_area_m2 = 0.0;
  add_shelf (chamber, 0.35, DEW_SHELF_WIRE, 0.8);
  add_thing (chamber, DEW_THING_FAN, 0.25, 0.2, 0.15);
  ask_small (&q, chamber);
  q.refine = 2;
  advice = advise (chamber, &q);
  g_assert_true (isfinite (advice->present.objective.value));
  g_assert_cmpint (advice->n_options, >=, 1);
  g_assert_true (isfinite (advice->options[0].objective.value));

  /* With water in it there is no steady state: an error that says so, no answer. */
  add_thing (chamber, DEW_THING_HUMIDIFIER, 0.25, 0.2, 0.358);
  none = dew_fan_advise (chamber, 0, &q, NULL, &error);
  g_assert_null (none);
  g_assert_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID);
}

/* Plants that contradict each other: an answer, and which wish to give up. */
static void
test_contradiction (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_auto (GStrv) contradictions = NULL;
  g_autoptr (DewFanAdvice) advice = NULL;
  DewFanQuestion q;
  const char *names[3] = { "Bog", "Wood", "Steppe" };
  int n = 0;

  for (guint t = 0; t < dew_chamber_shown (chamber)->things->len; t++)
    {
      DewThing *thing = &g_array_index (dew_chamber_shown (chamber)->things, DewThing, t);

      if (thing->kind == DEW_THING_PLANT)
        g_strlcpy (thing->plant.species, names[n++ % 3], sizeof thing->plant.species);
    }
  ask_small (&q, chamber);
  q.refine = 2;
  q.members = -1;
  q.lookup = kind_invented;
  advice = advise (chamber, &q);
  g_assert_cmpint (advice->n_options, >=, 1);
  contradictions = dew_wants_contradictions (advice->wants, DEW_TONGUE_METRIC);
  g_assert_cmpuint (g_strv_length (contradictions), ==, 1);
  g_assert_nonnull (strstr (contradictions[0], "give"));
}

/* Fans in the wall: places on the sides, none over the vent. */
static void
test_in_wall (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewFanAdvice) advice = NULL;
  DewFanQuestion q;

  ask_small (&q, chamber);
  q.refine = 2;
  q.members = -1;
  q.by_mount = FALSE;
  q.walls = TRUE;
  advice = advise (chamber, &q);
  g_assert_cmpint (advice->n_candidates, >, 4);
  for (int i = 0; i < advice->n_candidates; i++)
    {
      const DewFan *fan = &advice->candidates[i].fan;

      g_assert_cmpint (fan->mount, ==, DEW_FAN_IN_WALL);
      g_assert_true (fan->face != DEW_FACE_BACK || fabs (fan->x_m - 0.225) > 0.125 + 0.03
                     || fan->z_m + 0.03 < 0.84 || fan->z_m - 0.03 > 0.87);
      g_assert_true (i >= advice->n_places || advice->candidates[i].round >= DEW_ROUND_COARSE);
    }
  g_assert_cmpint (advice->n_options, >=, 1);
}

/* Speeds and openings are part of the place. */
static void
test_factors (void)
{
  g_autoptr (DewChamber) chamber = enclosure_read ("glass-cabinet.json");
  g_autoptr (DewFanAdvice) advice = NULL;
  static const double speeds[] = { 0.5, 1.0 }, openings[] = { 0.5, 1.0 };
  DewFanQuestion q;
  double day = first_fan (chamber)->fan.speed_day;

  ask_small (&q, chamber);
  q.refine = 2;
  q.members = -1;
  q.speeds = speeds;
  q.n_speeds = 2;
  q.openings = openings;
  q.n_openings = 2;
  advice = advise (chamber, &q);
  g_assert_cmpint (advice->n_places % 4, ==, 0);
  for (int i = 0; i < advice->n_candidates; i++)
    g_assert_cmpfloat_with_epsilon (advice->candidates[i].fan.speed_day,
                                    advice->candidates[i].speed_factor * day, 1e-12);
  /* Half the speed is quieter by 50 log10 2 (fan laws, from memory), wherever it stands. */
  g_assert_cmpfloat_with_epsilon (advice->candidates[2].objective.day[DEW_GOAL_QUIET]
                                    - advice->candidates[0].objective.day[DEW_GOAL_QUIET],
                                  15.05, 0.01);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fan/no-fan", test_no_fan);
  g_test_add_func ("/fan/fits-nowhere", test_fits_nowhere);
  g_test_add_func ("/fan/off", test_fan_off);
  g_test_add_func ("/fan/sealed", test_sealed);
  g_test_add_func ("/fan/contradiction", test_contradiction);
  g_test_add_func ("/fan/in-wall", test_in_wall);
  g_test_add_func ("/fan/factors", test_factors);
  return g_test_run ();
}
