/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "catalogue/catalogue.h"
#include "edit/arrange.h"
#include "forecast/forecast.h"
#include "say/problems.h"

#include <math.h>

/* What one sees while a fan is dragged, beside what is true of the same layout: on eight
 * enclosures that have little in common. */

#define FRAME_STEP_M 0.01
#define FRAMES 8
#define DRAGS 2

/* Rows of the table of enclosures, whether two flaps are lifted, and a humidifier stands in it. */
static const struct
{
  const char *kind;
  gboolean flaps, mist;
} enclosures[] = {
  { "film greenhouse, four shelves", TRUE, TRUE },
  { "film greenhouse, wide, four shelves", FALSE, TRUE },
  { "wardrobe frame with film", TRUE, FALSE },
  { "glass cabinet, narrow", FALSE, TRUE },
  { "glass terrarium, tall", FALSE, FALSE },
  { "acrylic case, two shelves", FALSE, TRUE },
  { "small twin-wall greenhouse, moved indoors", FALSE, TRUE },
  { "cold cabinet, converted", TRUE, FALSE },
};

/* --- enclosures ------------------------------------------------------------------------ */

static void
add_flap (DewChamber *chamber, const double inner_m[3], gboolean high)
{
  DewThing flap;

  dew_thing_init (&flap, DEW_THING_OPENING);
  flap.opening.kind = DEW_OPENING_HOLE;
  flap.opening.face = high ? DEW_FACE_RIGHT : DEW_FACE_LEFT;
  flap.opening.u0_m = 0.2 * inner_m[1];
  flap.opening.u1_m = 0.8 * inner_m[1];
  flap.opening.v0_m = high ? inner_m[2] - 0.14 : 0.04;
  flap.opening.v1_m = flap.opening.v0_m + 0.10;
  flap.opening.free_ratio = 1.0;
  flap.opening.discharge_coefficient = 0.61;
  dew_variant_add (chamber, dew_chamber_shown (chamber), &flap);
}

/* Halfway between the lowest shelf and what is above it. */
static double
fan_level_m (const DewVariant *variant, const double inner_m[3])
{
  double lowest = inner_m[2], next = inner_m[2];

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_SHELF)
        continue;
      next = MIN (next, MAX (lowest, thing->shelf.z_m));
      lowest = MIN (lowest, thing->shelf.z_m);
    }
  return lowest < inner_m[2] ? 0.5 * (lowest + next) : 0.45 * inner_m[2];
}

/* With a fan above the lowest shelf and a warm, perhaps a wet thing on the floor. NULL, said
 * why, when that does not fit. */
static DewChamber *
furnish (Bench *bench, guint which, guint *fan_id)
{
  const DewCatalogue *kinds = dew_catalogue ("enclosures");
  g_autoptr (DewChamber) chamber
    = dew_chamber_from_kind (dew_catalogue_find (kinds, enclosures[which].kind));
  DewVariant *variant = dew_chamber_shown (chamber);
  g_autoptr (GArray) problems = NULL;
  double inner_m[3];
  DewThing thing;

  dew_chamber_inner_m (chamber, inner_m);
  for (int high = 0; high < 2 && enclosures[which].flaps; high++)
    add_flap (chamber, inner_m, high);
  dew_thing_init (&thing, DEW_THING_FAN);
  thing.fan.x_m = 0.3 * inner_m[0];
  thing.fan.y_m = 0.5 * inner_m[1];
  thing.fan.z_m = fan_level_m (variant, inner_m);
  thing.fan.diameter_m = 0.08;
  thing.fan.free_delivery_m3_s = 0.008;
  *fan_id = dew_variant_add (chamber, variant, &thing)->id;
  dew_thing_init (&thing, DEW_THING_SOURCE);
  thing.source.x_m = 0.7 * inner_m[0];
  thing.source.y_m = 0.4 * inner_m[1];
  thing.source.z_m = 0.02;
  thing.source.heat_W = 12.0;
  thing.source.vapour_kg_s = enclosures[which].mist ? 5e-6 : 0.0;
  dew_variant_add (chamber, variant, &thing);
  problems = dew_chamber_check (chamber, variant->id);
  if (problems->len > 0)
    {
      g_autofree char *why
        = dew_problem_text (&g_array_index (problems, DewProblem, 0), DEW_TONGUE_PLAIN);

      bench_leave_out (bench, "a drag in '%s': %s", enclosures[which].kind, why);
      return NULL;
    }
  return g_steal_pointer (&chamber);
}

/* --- how far off ------------------------------------------------------------------------- */

typedef struct
{
  double sum, worst;
  int n;
  const char *where; /* the worst */
} Off;

static void
add (Off *off, double value, guint which)
{
  off->sum += value;
  off->n++;
  if (value > off->worst)
    {
      off->worst = value;
      off->where = enclosures[which].kind;
    }
}

/* With 0.02 m/s below, so that still bays do not count for more than they are. */
static double
speed_off (const DewClimate *a, const DewClimate *there)
{
  return 100.0 * fabs (a->speed_m_s - there->speed_m_s) / (there->speed_m_s + 0.02);
}

typedef struct
{
  Off lag;                     /* behind the same grid settled: speed */
  Off speed, humidity, warmth; /* of the picture while dragging against the settled grid */
  Off jump;                    /* on release, in bands; the largest of the three */
} Offs;

static void
compare (Offs *offs, guint which, const DewForecast *now, const DewForecast *same_grid,
         const DewForecast *released)
{
  for (int b = 0; b < released->n_bays; b++)
    {
      const DewClimate *seen = &now->bays[b].mean, *rest = &released->bays[b].mean;

      add (&offs->lag, speed_off (seen, &same_grid->bays[b].mean), which);
      add (&offs->speed, speed_off (seen, rest), which);
      add (&offs->humidity, 100.0 * fabs (seen->rh - rest->rh), which);
      add (&offs->warmth, fabs (seen->t_C - rest->t_C), which);
    }
}

static void
compare_with_bands (Offs *offs, guint which, const DewForecast *now, const DewForecast *sure)
{
  for (int b = 0; b < sure->n_bays; b++)
    {
      const DewClimate *seen = &now->bays[b].mean, *rest = &sure->bays[b].mean;
      double most = MAX (fabs (seen->speed_m_s - rest->speed_m_s) / rest->speed_band_m_s,
                         MAX (fabs (seen->rh - rest->rh) / rest->rh_band,
                              fabs (seen->t_C - rest->t_C) / rest->t_band_K));

      if (isfinite (most))
        add (&offs->jump, most, which);
    }
}

/* --- dragging ------------------------------------------------------------------------------ */

static void
drag (Bench *bench, Offs *offs, guint which)
{
  guint fan = 0;
  g_autoptr (DewChamber) chamber = furnish (bench, which, &fan);
  g_autoptr (GError) error = NULL;
  g_autoptr (DewForecaster) follower = dew_forecaster_new ();
  g_autoptr (DewForecaster) settler = dew_forecaster_new ();
  DewForecastOptions settled;

  if (chamber == NULL)
    return;
  dew_forecast_options_init (&settled);
  settled.grid = DEW_GRID_SETTLED;
  for (int d = 0; d < DRAGS; d++)
    {
      g_autoptr (DewForecast) now = NULL;
      g_autoptr (DewForecast) same_grid = NULL;
      g_autoptr (DewForecast) released = NULL;
      g_autoptr (DewForecast) sure = NULL;
      DewForecastOptions same = settled;

      /* Before one drags it one has it before one's eyes. */
      if (d == 0)
        dew_forecast_unref (dew_forecaster_settle (follower, chamber, 0, &settled, NULL, NULL));
      for (int frame = 0; frame < FRAMES; frame++)
        {
          double shift_m[3] = { d == 0 ? FRAME_STEP_M : 0.0, 0.0, d == 0 ? 0.0 : FRAME_STEP_M };

          dew_variant_shift (chamber, dew_chamber_shown (chamber), fan, shift_m);
          g_clear_pointer (&now, dew_forecast_unref);
          now = dew_forecaster_follow (follower, chamber, 0, &settled, 0, NULL, &error);
          if (now == NULL)
            break;
        }
      if (now != NULL)
        {
          same.grid = now->grid;
          same_grid = dew_forecaster_settle (settler, chamber, 0, &same, NULL, &error);
        }
      if (same_grid != NULL)
        released = dew_forecaster_settle (follower, chamber, 0, &settled, NULL, &error);
      if (released == NULL)
        {
          bench_leave_out (bench, "a drag in '%s': %s", enclosures[which].kind, error->message);
          return;
        }
      compare (offs, which, now, same_grid, released);
      sure = dew_forecaster_assure (follower, released, chamber, 0, &settled, NULL, NULL);
      if (sure != NULL)
        compare_with_bands (offs, which, now, sure);
    }
}

static void
tell (Bench *bench, const Off *off, const Figure *figure)
{
  Figure row = *figure;

  row.value = off->worst;
  bench_add (bench, &row, "worst bay, %s; mean %.2g", off->where != NULL ? off->where : "none",
             off->sum / off->n);
}

void
bench_drags (Bench *bench)
{
  Offs offs = { 0 };

  for (guint e = 0; e < G_N_ELEMENTS (enclosures); e++)
    drag (bench, &offs, e);
  if (offs.lag.n == 0 || offs.jump.n == 0)
    return;
  bench_add (bench,
             &(Figure){ .key = "drag_lag_mean_percent",
                        .what = "Lag of a drag behind its own grid settled",
                        .unit = "%",
                        .value = offs.lag.sum / offs.lag.n,
                        .must = 1,
                        .goal = 0.5 },
             "air speed, mean of the bays of %u enclosures", (guint) G_N_ELEMENTS (enclosures));
  tell (bench, &offs.lag,
        &(Figure){ .key = "drag_lag_worst_percent",
                   .what = "  the largest",
                   .unit = "%",
                   .must = 3,
                   .goal = 2 });
  tell (bench, &offs.speed,
        &(Figure){ .key = "drag_speed_percent",
                   .what = "A drag against the settled grid: air speed",
                   .unit = "%",
                   .must = 10,
                   .goal = 4 });
  tell (bench, &offs.humidity,
        &(Figure){ .key = "drag_humidity_points",
                   .what = "  humidity",
                   .unit = "points",
                   .must = 2,
                   .goal = 1 });
  tell (bench, &offs.warmth,
        &(Figure){
          .key = "drag_warmth_K", .what = "  temperature", .unit = "K", .must = 0.2, .goal = 0.1 });
  tell (bench, &offs.jump,
        &(Figure){ .key = "release_jump_bands",
                   .what = "  jump on release, in half widths of the band",
                   .unit = "",
                   .must = 1,
                   .goal = 0.5 });
}
