/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "case.h"
#include "chamber/chamber.h"
#include "edit/arrange.h"
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

/* Relative difference in the mean air speed of the bays, with 0.02 m/s added
 * below so that still bays do not count for more than they are. */
static void
add_lag (const DewForecast *now, const DewForecast *settled, double *sum, guint *n, double *worst)
{
  for (int b = 0; b < settled->n_bays; b++)
    {
      double there = settled->bays[b].mean.speed_m_s;
      double lag = fabs (now->bays[b].mean.speed_m_s - there) / (there + 0.02);

      *sum += lag;
      *worst = MAX (*worst, lag);
      (*n)++;
    }
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
measure_drag (Bench *bench)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewForecaster) follower = dew_forecaster_new ();
  g_autoptr (DewForecaster) settler = dew_forecaster_new ();
  DewForecastOptions draft = options_for (DEW_GRID_DRAFT);
  DewForecastOptions settled = options_for (DEW_GRID_SETTLED);
  double frame_ms[N_FRAMES], release_ms[N_FRAMES];
  double direction = 1, lag_sum = 0, lag_worst = 0, median_ms;
  guint n_lags = 0, n_releases = 0;
  int zones = 0, release_zones = 0;

  dew_forecast_unref (settle (follower, chamber, &draft));
  for (int i = 0; i < N_FRAMES; i++)
    {
      g_autoptr (DewForecast) now = NULL;
      g_autoptr (DewForecast) there = NULL;
      g_autoptr (DewForecast) released = NULL;
      double start;

      move_fan (chamber, &direction);
      start = bench_work ();
      now = follow (follower, chamber, &draft);
      frame_ms[i] = 1e3 * (bench_work () - start);
      zones = now->n_zones;
      if (i % FRAMES_PER_DRAG != FRAMES_PER_DRAG - 1)
        continue;

      there = settle (settler, chamber, &draft);
      add_lag (now, there, &lag_sum, &n_lags, &lag_worst);
      start = bench_now ();
      released = settle (follower, chamber, &settled);
      release_ms[n_releases++] = 1e3 * (bench_now () - start);
      release_zones = released->n_zones;
    }

  median_ms = bench_median (frame_ms, N_FRAMES);
  bench_add (bench,
             &(Figure){ "drag_frame_ms", "A frame of dragging the fan", "ms", median_ms, 16, 5 },
             "%d zones, 1 cm a frame, longest %.1f ms", zones, frame_ms[N_FRAMES - 1]);
  bench_add (bench,
             &(Figure){ "drag_lag_mean_percent", "  its lag behind the settled answer", "%",
                        100 * lag_sum / n_lags, 8, 3 },
             "air speed, mean of the bays");
  bench_add (bench,
             &(Figure){ "drag_lag_worst_percent", "  its largest lag", "%", 100 * lag_worst, 20,
                        8 },
             "air speed, worst bay of %u drags", n_releases);
  median_ms = bench_median (release_ms, n_releases);
  bench_add (bench, &(Figure){ "release_ms", "Settled after letting go", "ms", median_ms, 150, 40 },
             "%d zones, from the draft that followed the drag; longest %.0f ms", release_zones,
             release_ms[n_releases - 1]);
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
             &(Figure){ "shelf_extra_ms", "A shelf moved: extra work of a frame", "ms", extra_ms,
                        20, 5 },
             "beyond a frame in which the fan moves; longest frame %.1f ms",
             shelf_ms[N_FRAMES - 1]);
}

/* --- from cold ----------------------------------------------------------- */

static double
cold_seconds (const DewChamber *chamber, const DewForecastOptions *options, guint repeats,
              DewForecast **last)
{
  g_autofree double *seconds = g_new (double, repeats);

  for (guint i = 0; i < repeats; i++)
    {
      double start = bench_now ();
      g_autoptr (DewForecast) forecast = cold (chamber, options);

      seconds[i] = bench_now () - start;
      g_clear_pointer (last, dew_forecast_unref);
      *last = g_steal_pointer (&forecast);
    }
  return bench_median (seconds, repeats);
}

static void
measure_cold (Bench *bench)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewForecastOptions settled = options_for (DEW_GRID_SETTLED);
  DewForecastOptions fine = options_for (DEW_GRID_FINE);
  g_autoptr (DewForecast) forecast = NULL;
  double seconds;

  seconds = cold_seconds (chamber, &settled, 5, &forecast);
  bench_add (bench,
             &(Figure){ "cold_settled_ms", "Forecast of the demo from cold", "ms", 1e3 * seconds,
                        300, 80 },
             "%d zones, %d steps, %s", forecast->n_zones, forecast->steps,
             dew_forecast_state_text (forecast));
  seconds = cold_seconds (chamber, &fine, 3, &forecast);
  bench_add (bench,
             &(Figure){ "cold_fine_s", "Fine forecast of the demo from cold", "s", seconds, 2,
                        0.6 },
             "%d zones, %d steps, %s", forecast->n_zones, forecast->steps,
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
  double alone_s = cold_seconds (chamber, &options, N_REPEATS, &forecast), with_s;

  options.members = N_MEMBERS;
  options.seed = 1;
  with_s = cold_seconds (chamber, &options, N_REPEATS, &forecast);
  bench_add (bench,
             &(Figure){ "ensemble_s", "Bands from an ensemble of 64", "s", with_s - alone_s, 2,
                        0.5 },
             "beyond the forecast itself; lowest bay %.1f +- %.1f C", forecast->bays[0].mean.t_C,
             forecast->bays[0].mean.t_band_K);
}

/* Seconds of a settled forecast against zones: the slope of the logarithms by
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

      options.zone_m = cbrt (c->box_m[0] * c->box_m[1] * c->box_m[2] / wanted_zones[i]);
      y[i] = log (cold_seconds (c->chamber, &options, i < 3 ? 3 : 1, &forecast));
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
                        xy / xx, 1.5, 1.2 },
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

      dew_case_options (c, DEW_GRID_SETTLED, &options);
      ratios[i] = c->solver_seconds / cold_seconds (c->chamber, &options, 3, &forecast);
    }
  median = bench_median (ratios, N);
  bench_add (bench,
             &(Figure){ "reference_ratio", "Faster than the reference simulations", "times", median,
                        1000, 4000, TRUE },
             "median of %d cases, %.0f to %.0f", N, ratios[0], ratios[N - 1]);
}

void
bench_model (Bench *bench)
{
  measure_drag (bench);
  measure_shelf (bench);
  measure_cold (bench);
  measure_bands (bench);
  measure_growth (bench);
  measure_cases (bench);
}
