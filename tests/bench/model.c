/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "case.h"
#include "chamber/chamber.h"
#include "edit/arrange.h"
#include "forecast/bands.h"
#include "forecast/forecast.h"

#include <math.h>
#include <stdlib.h>

#define FRAME_STEP_M 0.01 /* of the pointer between two frames, a brisk drag */
#define FRAMES_PER_DRAG 8
#define N_FRAMES (5 * FRAMES_PER_DRAG)

static DewThing *
first_of_kind (const DewChamber *chamber, DewThingKind kind)
{
  GArray *things = dew_chamber_shown ((DewChamber *) chamber)->things;

  for (guint i = 0; i < things->len; i++)
    if (g_array_index (things, DewThing, i).kind == kind)
      return &g_array_index (things, DewThing, i);
  return NULL;
}

/* Moves the first fan along x, to and fro between the walls. */
static void
move_fan (DewChamber *chamber, double *direction)
{
  const DewThing *thing = first_of_kind (chamber, DEW_THING_FAN);
  double lo_m[3], hi_m[3], inner_m[3], shift_m[3] = { 0 };

  dew_chamber_inner_m (chamber, inner_m);
  dew_thing_box (chamber, thing, lo_m, hi_m);
  if (lo_m[0] + *direction * FRAME_STEP_M < 0.02
      || hi_m[0] + *direction * FRAME_STEP_M > inner_m[0] - 0.02)
    *direction = -*direction;
  shift_m[0] = *direction * FRAME_STEP_M;
  dew_variant_shift (chamber, dew_chamber_shown (chamber), thing->id, shift_m);
}

/* Nothing here may fail, so a failure ends the run with its message. */
static DewForecast *
expect (DewForecast *forecast, GError *error)
{
  if (forecast)
    return forecast;
  g_printerr ("bench: %s\n", error->message);
  exit (1);
}

static DewForecast *
cold (const DewChamber *chamber, const DewForecastOptions *options)
{
  GError *error = NULL;
  DewForecast *forecast = dew_forecast_new (chamber, 0, options, NULL, &error);

  return expect (forecast, error);
}

static DewForecast *
follow (DewForecaster *forecaster, const DewChamber *chamber, const DewForecastOptions *options)
{
  GError *error = NULL;
  DewForecast *forecast = dew_forecaster_follow (forecaster, chamber, 0, options, 0, NULL, &error);

  return expect (forecast, error);
}

static DewForecast *
settle (DewForecaster *forecaster, const DewChamber *chamber, const DewForecastOptions *options)
{
  GError *error = NULL;
  DewForecast *forecast = dew_forecaster_settle (forecaster, chamber, 0, options, NULL, &error);

  return expect (forecast, error);
}

static DewForecastOptions
options_for (DewGrid grid)
{
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = grid;
  return options;
}

/* --- following the pointer ----------------------------------------------- */

static void
measure_drag (Bench *bench, DewGrid grid, const Figure *frame)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewForecaster) follower = dew_forecaster_new ();
  DewForecastOptions dragged = options_for (grid), settled = options_for (DEW_GRID_SETTLED);
  BenchTimes frames = { 0 }, releases = { 0 };
  Figure figure = *frame;
  double direction = 1;
  int zones = 0, release_zones = 0;

  dew_forecast_unref (settle (follower, chamber, &dragged));
  for (int i = 0; i < N_FRAMES; i++)
    {
      g_autoptr (DewForecast) now = NULL;
      g_autoptr (DewForecast) released = NULL;

      move_fan (chamber, &direction);
      bench_start (&frames);
      now = follow (follower, chamber, &dragged);
      bench_stop (&frames);
      zones = now->n_zones;
      if (now->grid != grid)
        {
          bench_leave_out (bench, "%s: the drag shows another grid", frame->what);
          return;
        }
      if (i % FRAMES_PER_DRAG != FRAMES_PER_DRAG - 1)
        continue;
      bench_start (&releases);
      released = settle (follower, chamber, &settled);
      bench_stop (&releases);
      release_zones = released->n_zones;
    }
  bench_take (&figure, &frames, 1e3);
  /* Work that has to fit into a frame. */
  figure.value = figure.processor;
  bench_add (bench, &figure, "%d zones, 1 cm a frame, longest %.1f ms", zones,
             1e3 * frames.work[frames.n - 1]);
  if (grid != DEW_GRID_DRAFT)
    return;
  figure = (Figure){
    .key = "release_ms", .what = "Settled after letting go", .unit = "ms", .must = 100, .goal = 40
  };
  bench_take (&figure, &releases, 1e3);
  bench_add (bench, &figure, "%d zones, from rest; longest %.0f ms", release_zones,
             1e3 * releases.wall[releases.n - 1]);
}

/* What moving a shelf costs beyond a frame in which only the fan moves: new
 * zones, a new factorisation, the state carried over. */
static void
measure_shelf (Bench *bench)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewForecaster) forecaster = dew_forecaster_new ();
  DewForecastOptions draft = options_for (DEW_GRID_DRAFT);
  guint shelf_id = first_of_kind (chamber, DEW_THING_SHELF)->id;
  double fan_ms[N_FRAMES], shelf_ms[N_FRAMES];
  double direction = 1, extra_ms;

  dew_forecast_unref (settle (forecaster, chamber, &draft));
  for (int i = 0; i < N_FRAMES; i++)
    {
      double shift_m[3] = { 0, 0, i % 2 ? 0.01 : -0.01 };
      double start;

      move_fan (chamber, &direction);
      start = bench_work ();
      dew_forecast_unref (follow (forecaster, chamber, &draft));
      fan_ms[i] = 1e3 * (bench_work () - start);

      dew_variant_shift (chamber, dew_chamber_shown (chamber), shelf_id, shift_m);
      start = bench_work ();
      dew_forecast_unref (follow (forecaster, chamber, &draft));
      shelf_ms[i] = 1e3 * (bench_work () - start);
    }
  extra_ms = bench_median (shelf_ms, N_FRAMES) - bench_median (fan_ms, N_FRAMES);
  bench_add (bench,
             &(Figure){ "shelf_extra_ms", "A shelf moved: extra work of a frame", "ms", extra_ms, 5,
                        2 },
             "beyond a frame in which the fan moves; longest frame %.1f ms",
             shelf_ms[N_FRAMES - 1]);
}

/* --- from cold ----------------------------------------------------------- */

/* Times of forecasts from cold; keeps the last. */
static void
time_cold (BenchTimes *times, const DewChamber *chamber, const DewForecastOptions *options,
           guint repeats, DewForecast **last)
{
  times->n = 0;
  for (guint i = 0; i < repeats; i++)
    {
      g_clear_pointer (last, dew_forecast_unref);
      bench_start (times);
      *last = cold (chamber, options);
      bench_stop (times);
    }
}

static void
measure_cold (Bench *bench)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewForecastOptions settled = options_for (DEW_GRID_SETTLED);
  DewForecastOptions fine = options_for (DEW_GRID_FINE);
  g_autoptr (DewForecast) forecast = NULL;
  BenchTimes times = { 0 };
  Figure figure = { .key = "cold_settled_ms",
                    .what = "Forecast of the demo from cold",
                    .unit = "ms",
                    .must = 150,
                    .goal = 60 };

  time_cold (&times, chamber, &settled, 5, &forecast);
  bench_take (&figure, &times, 1e3);
  bench_add (bench, &figure, "%d zones, %d steps, %s", forecast->n_zones, forecast->steps,
             dew_forecast_state_text (forecast));
  time_cold (&times, chamber, &fine, 3, &forecast);
  figure = (Figure){ .key = "cold_fine_s",
                     .what = "Fine forecast of the demo from cold",
                     .unit = "s",
                     .must = 0.4,
                     .goal = 0.15 };
  bench_take (&figure, &times, 1.0);
  bench_add (bench, &figure, "%d zones, %d steps, %s", forecast->n_zones, forecast->steps,
             dew_forecast_state_text (forecast));
}

static DewCase *
load_case (const char *name)
{
  g_autofree char *path = g_build_filename (DEW_TESTS_DIR, "reference", "cases", name, NULL);
  g_autoptr (GError) error = NULL;
  DewCase *c = dew_case_load (path, &error);

  if (c)
    return c;
  g_printerr ("bench: %s\n", error->message);
  exit (1);
}

/* The members of an ensemble over what a grower cannot know; the forecast that
 * they surround is not counted. */
static void
measure_bands (Bench *bench)
{
  enum
  {
    N_MEMBERS = 64,
    N_REPEATS = 3
  };
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewForecastOptions options = options_for (DEW_GRID_SETTLED);
  g_autoptr (DewForecast) forecast = NULL;
  BenchTimes times = { 0 };
  Figure figure = { .key = "ensemble_s",
                    .what = "Bands from an ensemble of 64",
                    .unit = "s",
                    .must = 0.4,
                    .goal = 0.15 };

  forecast = cold (chamber, &options);
  options.members = N_MEMBERS;
  options.seed = 1;
  for (int i = 0; i < N_REPEATS; i++)
    {
      GError *error = NULL;
      DewForecast *with = NULL;

      bench_start (&times);
      with = dew_forecast_with_bands (forecast, chamber, 0, &options, NULL, &error);
      bench_stop (&times);
      expect (with, error);
      dew_forecast_unref (forecast);
      forecast = with;
    }
  bench_take (&figure, &times, 1.0);
  bench_add (bench, &figure, "beyond the forecast itself; lowest bay %.1f +- %.1f C",
             forecast->bays[0].mean.t_C, forecast->bays[0].mean.t_band_K);
}

/* Processor seconds of a settled forecast against zones: the slope of the logarithms by
 * least squares. On an enclosure that settles at every fineness. */
static void
measure_growth (Bench *bench)
{
  static const double wanted_zones[] = { 500, 1300, 3500, 9000, 20000 };
  enum
  {
    N = G_N_ELEMENTS (wanted_zones)
  };
  g_autoptr (DewCase) c = load_case ("through-flow-wire.json");
  DewForecastOptions options;
  double x[N], y[N], mean_x = 0, mean_y = 0, xx = 0, xy = 0;
  int first = 0, last = 0;

  dew_case_options (c, DEW_GRID_SETTLED, &options);
  for (int i = 0; i < N; i++)
    {
      g_autoptr (DewForecast) forecast = NULL;
      BenchTimes times = { 0 };

      options.zone_m = cbrt (c->box_m[0] * c->box_m[1] * c->box_m[2] / wanted_zones[i]);
      time_cold (&times, c->chamber, &options, i < 3 ? 3 : 1, &forecast);
      y[i] = log (bench_median (times.work, times.n));
      x[i] = log (forecast->n_zones);
      mean_x += x[i] / N;
      mean_y += y[i] / N;
      if (i == 0)
        first = forecast->n_zones;
      last = forecast->n_zones;
    }
  for (int i = 0; i < N; i++)
    {
      xx += (x[i] - mean_x) * (x[i] - mean_x);
      xy += (x[i] - mean_x) * (y[i] - mean_y);
    }
  bench_add (bench,
             &(Figure){ "growth_exponent", "Seconds grow with the zones to the power of", "",
                        xy / xx, 1.45, 1.3 },
             "%d zones in %.0f ms to %d zones in %.1f s", first, 1e3 * exp (y[0]), last,
             exp (y[N - 1]));
}

/* The reference solver's seconds, on one core, are in the case files. */
static void
measure_cases (Bench *bench)
{
  static const char *const names[] = { "down-fan-canopy.json", "fan-and-evaporation.json",
                                       "stack-low-heat.json", "through-flow-wire.json" };
  enum
  {
    N = G_N_ELEMENTS (names)
  };
  double ratios[N], median;

  for (int i = 0; i < N; i++)
    {
      g_autoptr (DewCase) c = load_case (names[i]);
      g_autoptr (DewForecast) forecast = NULL;
      DewForecastOptions options;
      BenchTimes times = { 0 };

      dew_case_options (c, DEW_GRID_SETTLED, &options);
      time_cold (&times, c->chamber, &options, 3, &forecast);
      ratios[i] = c->solver_seconds / bench_median (times.work, times.n);
    }
  median = bench_median (ratios, N);
  bench_add (bench,
             &(Figure){ "reference_ratio", "Faster than the reference simulations", "times", median,
                        4000, 10000, TRUE },
             "median of %d cases, %.0f to %.0f, by processor time", N, ratios[0], ratios[N - 1]);
}

void
bench_model (Bench *bench)
{
  measure_drag (bench, DEW_GRID_DRAFT,
                &(Figure){ .key = "drag_frame_ms",
                           .what = "A frame of dragging the fan, draft grid",
                           .unit = "ms",
                           .must = 8,
                           .goal = 4 });
  measure_drag (bench, DEW_GRID_SETTLED,
                &(Figure){ .key = "drag_settled_frame_ms",
                           .what = "A frame of dragging it, settled grid",
                           .unit = "ms",
                           .must = 16,
                           .goal = 8 });
  measure_shelf (bench);
  measure_cold (bench);
  measure_bands (bench);
  measure_growth (bench);
  measure_cases (bench);
}
