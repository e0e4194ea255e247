/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "edit/arrange.h"
#include "flow/flow.h"
#include "forecast/forecast.h"
#include "store/store.h"

#include <dlfcn.h>
#include <execinfo.h>
#include <math.h>
#include <signal.h>
#include <string.h>
#include <sys/time.h>

/* Where the processor time of a forecast goes. A timer of the time that this program has used
 * interrupts it; the functions on the stack tell the phase. Within two points or so. */

#define EVERY_US 1000 /* the kernel may make it as much as 4000 */
#define MOST_SAMPLES 4000
#define DEEPEST 40
#define LONG_ENOUGH_S 2.0

static void *samples[MOST_SAMPLES][DEEPEST];
static int depths[MOST_SAMPLES];
static volatile sig_atomic_t n_samples;

static void
take_sample (int number)
{
  if (n_samples < MOST_SAMPLES)
    {
      depths[n_samples] = backtrace (samples[n_samples], DEEPEST);
      n_samples++;
    }
}

static void
set_timer (int every_us)
{
  struct itimerval timer = { { 0, every_us }, { 0, every_us } };

  setitimer (ITIMER_PROF, &timer, NULL);
}

/* --- phases -------------------------------------------------------------------------- */

enum
{
  MOMENTUM,
  PRESSURE,
  SCALARS,
  STEADY,
  SURFACES,
  SET_UP,
  REST,
  N_PHASES
};

static const char *const phase_names[N_PHASES]
  = { "momentum",   "pressure", "heat, water, mist on the way", "steady solves of them", "surfaces",
      "setting up", "the rest" };

/* The innermost of these on the stack counts. */
static const struct
{
  const char *function;
  int phase;
} functions[] = {
  { "dew_flow_step", MOMENTUM },      { "dew_pressure_solve", PRESSURE },
  { "dew_scalar_step", SCALARS },     { "dew_scalar_assemble", SCALARS },
  { "dew_atmosphere_step", SCALARS }, { "dew_atmosphere_assemble", SCALARS },
  { "dew_atmosphere_solve", STEADY }, { "dew_atmosphere_age", STEADY },
  { "dew_scalar_solve", STEADY },     { "dew_surfaces_update", SURFACES },
  { "dew_pressure_new", SET_UP },     { "dew_flow_new", SET_UP },
  { "dew_atmosphere_new", SET_UP },   { "dew_surfaces_new", SET_UP },
  { "dew_zones_new", SET_UP },        { "dew_loads_new", SET_UP },
};

static int
phase_of (void *const *stack, int depth)
{
  for (int d = 0; d < depth; d++)
    {
      Dl_info info;

      if (dladdr (stack[d], &info) == 0 || info.dli_sname == NULL)
        continue;
      for (guint f = 0; f < G_N_ELEMENTS (functions); f++)
        if (strcmp (info.dli_sname, functions[f].function) == 0)
          return functions[f].phase;
    }
  return REST;
}

/* --- what is sampled ------------------------------------------------------------------- */

typedef void (*Work) (gpointer data);

/* Percent of each phase, by doing the work until enough is seen; false when nothing was. */
static gboolean
sample (Work work, gpointer data, double percent[N_PHASES])
{
  struct sigaction action = { .sa_handler = take_sample, .sa_flags = SA_RESTART };
  double began = bench_work ();
  void *first[1];

  /* The unwinder is loaded by its first use, which must not be inside a signal. */
  backtrace (first, 1);
  sigaction (SIGPROF, &action, NULL);
  n_samples = 0;
  set_timer (EVERY_US);
  do
    work (data);
  while (bench_work () - began < LONG_ENOUGH_S);
  set_timer (0);
  signal (SIGPROF, SIG_IGN);
  memset (percent, 0, sizeof *percent * N_PHASES);
  for (int s = 0; s < n_samples; s++)
    percent[phase_of (samples[s], depths[s])] += 100.0 / n_samples;
  return n_samples > 0;
}

static void
work_cold (gpointer grid)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = GPOINTER_TO_INT (grid);
  dew_forecast_unref (dew_forecast_new (chamber, 0, &options, NULL, NULL));
}

typedef struct
{
  DewForecaster *forecaster;
  DewChamber *chamber;
  guint fan;
  int frame;
} Drag;

static void
work_drag (gpointer data)
{
  Drag *drag = data;
  double shift_m[3] = { drag->frame++ % 20 < 10 ? 0.01 : -0.01, 0.0, 0.0 };
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  dew_variant_shift (drag->chamber, dew_chamber_shown (drag->chamber), drag->fan, shift_m);
  dew_forecast_unref (
    dew_forecaster_follow (drag->forecaster, drag->chamber, 0, &options, 0, NULL, NULL));
}

static gboolean
sample_drag (double percent[N_PHASES])
{
  Drag drag = { dew_forecaster_new (), dew_chamber_demo () };
  GArray *things = dew_chamber_shown (drag.chamber)->things;
  gboolean seen;

  for (guint t = 0; t < things->len && drag.fan == 0; t++)
    if (g_array_index (things, DewThing, t).kind == DEW_THING_FAN)
      drag.fan = g_array_index (things, DewThing, t).id;
  work_drag (&drag);
  seen = sample (work_drag, &drag, percent);
  dew_forecaster_free (drag.forecaster);
  dew_chamber_free (drag.chamber);
  return seen;
}

/* --- steps beside what the machine could do --------------------------------------------- */

/* Numbers that a step of the air reads and writes for a zone: of each axis the coefficients
 * (3 x 11), their sum (36) and three sweeps (42); once the fluxes and speeds (26), the
 * projection (24) and the pressure (20). */
#define NUMBERS_PER_STEP 400

/* Numbers a second that pass through the processor, from a working set as large as that of a
 * step: a[i] = b[i] + s c[i] (the triad of McCalpin's STREAM, from memory). */
static double
numbers_per_second (int size)
{
  g_autofree double *a = g_new0 (double, size);
  g_autofree double *b = g_new0 (double, size);
  g_autofree double *c = g_new0 (double, size);
  double best = G_MAXDOUBLE;

  for (int round = 0; round < 50; round++)
    {
      double began = bench_work (), s = 1.0 + round;

      for (int again = 0; again < 20; again++)
        {
          for (int i = 0; i < size; i++)
            a[i] = b[i] + s * c[i];
          /* Or the compiler sees that once is enough. */
          __asm__ volatile("" ::"r"(a) : "memory");
        }
      best = MIN (best, bench_work () - began);
    }
  return 20.0 * 3.0 * size / best;
}

static void
measure_steps (Bench *bench)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewZones) zones = dew_zones_new (chamber, dew_chamber_shown (chamber), 0.06);
  g_autoptr (DewFlow) flow = NULL;
  g_autofree double *lift = g_new0 (double, zones->size);
  DewFlowOptions options;
  double best = G_MAXDOUBLE, limit;

  dew_flow_options_init (&options);
  flow = dew_flow_new (zones, &options, NULL);
  DEW_EACH_ZONE (zones, at)
    lift[at] = 0.02 * sin (0.7 * at);
  dew_flow_set_buoyancy (flow, lift);
  for (int round = 0; round < 40; round++)
    {
      double began = bench_work ();

      for (int step = 0; step < 5; step++)
        dew_flow_step (flow, 0.5);
      best = MIN (best, (bench_work () - began) / 5.0);
    }
  limit = numbers_per_second (20 * zones->size) / NUMBERS_PER_STEP;
  bench_add (
    bench,
    &(Figure){ .key = "cell_steps_M_s",
               .what = "Steps of the air",
               .unit = "M/s",
               .value = 1e-6 * zones->n_zones / best,
               .must = NAN,
               .goal = NAN },
    "zones times steps; %d zones in %.3f ms; %.0f M/s if its %d numbers a zone only passed "
    "by",
    zones->n_zones, 1e3 * best, 1e-6 * limit, NUMBERS_PER_STEP);
}

void
bench_phases (Bench *bench)
{
  double cold[N_PHASES], fine[N_PHASES], drag[N_PHASES];

  measure_steps (bench);
  if (!sample (work_cold, GINT_TO_POINTER (DEW_GRID_SETTLED), cold) || !sample_drag (drag)
      || !sample (work_cold, GINT_TO_POINTER (DEW_GRID_FINE), fine))
    {
      bench_leave_out (bench, "phases: the timer does not run");
      return;
    }
  for (int p = 0; p < N_PHASES; p++)
    {
      static const char *const keys[N_PHASES]
        = { "phase_momentum", "phase_pressure", "phase_scalars", "phase_steady",
            "phase_surfaces", "phase_set_up",   "phase_rest" };

      bench_add (bench,
                 &(Figure){ .key = keys[p],
                            .what = phase_names[p],
                            .unit = "%",
                            .value = cold[p],
                            .must = NAN,
                            .goal = NAN },
                 "of a cold forecast; %.0f %% of a frame of dragging, %.0f %% of a fine forecast",
                 drag[p], fine[p]);
    }
}
