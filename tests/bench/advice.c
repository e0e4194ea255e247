/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long advice takes: the fan's place and how that grows with the places tried, water,
 * openings. */
#include "bench.h"

#include "advice/fan/fan.h"
#include "advice/moisture/moisture.h"
#include "advice/openings/openings.h"
#include "store/store.h"

#include <math.h>

#define CANDIDATES 500
#define FEW 250
#define MANY 5000

/* Wall clock of one search; -1 when it failed and has been said. */
static double
search (Bench *bench, DewChamber *demo, int candidates, double *work, int *tried)
{
  g_autoptr (DewFanAdvice) advice = NULL;
  g_autoptr (GError) error = NULL;
  double began = bench_now (), worked = bench_work ();
  DewFanQuestion q;

  dew_fan_question_init (&q);
  q.candidates = candidates;
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = demo;
  advice = dew_fan_advise (demo, 0, &q, NULL, &error);
  if (advice == NULL)
    {
      bench_leave_out (bench, "Place of the fan: %s", error->message);
      return -1.0;
    }
  *work = bench_work () - worked;
  *tried = advice->n_candidates;
  return bench_now () - began;
}

static void
measure_fan (Bench *bench, DewChamber *demo)
{
  double work, few_work, many_work, seconds = search (bench, demo, CANDIDATES, &work, &(int){ 0 });
  int tried, few, many;

  if (seconds < 0.0 || search (bench, demo, FEW, &few_work, &few) < 0.0
      || search (bench, demo, MANY, &many_work, &many) < 0.0)
    return;
  seconds = search (bench, demo, CANDIDATES, &work, &tried); /* warm */
  bench_add (bench,
             &(Figure){ .key = "fan_search_s",
                        .what = "fan search, refinement of the best 10",
                        .unit = "s",
                        .value = seconds,
                        .must = 10.0,
                        .goal = 3.0 },
             "%d places and directions, by day and night; %.1f s of all processors together", tried,
             work);
  bench_add (bench,
             &(Figure){ .key = "fan_search_growth",
                        .what = "its growth with the places N",
                        .unit = "N^x",
                        .value = log (many_work / few_work) / log ((double) many / few),
                        .must = NAN,
                        .goal = NAN },
             "%d to %d places; %.1f s of all processors together at the most", few, many,
             many_work);
}

static void
measure_others (Bench *bench, DewChamber *demo)
{
  g_autoptr (DewMoistureAdvice) moisture = NULL;
  g_autoptr (DewOpeningAdvice) openings = NULL;
  DewMoistureQuestion mq;
  DewOpeningQuestion oq;
  double began = bench_now ();

  dew_moisture_question_init (&mq);
  mq.lookup = dew_catalogue_plant_kind;
  mq.lookup_data = demo;
  moisture = dew_moisture_advise (demo, 0, &mq, NULL, NULL);
  if (moisture != NULL)
    bench_add (bench,
               &(Figure){ .key = "moisture_s",
                          .what = "pots, humidifier, vents and lamp sized",
                          .unit = "s",
                          .value = bench_now () - began,
                          .must = NAN,
                          .goal = NAN },
               "demo");
  began = bench_now ();
  dew_opening_question_init (&oq);
  oq.lookup = dew_catalogue_plant_kind;
  oq.lookup_data = demo;
  openings = dew_opening_advise (demo, 0, &oq, NULL, NULL);
  if (openings != NULL)
    bench_add (bench,
               &(Figure){ .key = "openings_s",
                          .what = "cut or not",
                          .unit = "s",
                          .value = bench_now () - began,
                          .must = NAN,
                          .goal = NAN },
               "%d layouts", openings->n_options);
}

void
bench_advice (Bench *bench)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();

  measure_fan (bench, demo);
  measure_others (bench, demo);
}
