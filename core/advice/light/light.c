/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/light/light-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "advice/layouts.h"
#include "forecast/probe.h"
#include "geometry/geometry.h"
#include "moist/constants.h"

/* Where nobody says what stands there: a cool-growing epiphyte of middling wishes, as the
 * fallbacks of a kind of one's own (common practice, no source). */
#define USUAL_LO_MOL_M2S 60e-6
#define USUAL_HI_MOL_M2S 120e-6
#define USUAL_TOP_M 0.15
#define WH_PER_KWH 1000.0
#define DAY_H 24.0
#define HOUR_COSTS 0.02 /* of the power, for each hour away from the usual */

void
dew_light_question_init (DewLightQuestion *question)
{
  memset (question, 0, sizeof *question);
}

/* --- what is to be lit --------------------------------------------------- */

static void
middle_of_place (const DewForecast *f, int place, double at_m[3])
{
  for (int a = 0; a < 3; a++)
    at_m[a] = 0.5 * (f->places[place].lo_m[a] + f->places[place].hi_m[a]);
}

static void
add_standing (DewLighting *l, const DewForecast *f)
{
  for (guint p = 0; p < l->advice->wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (l->advice->wants->plants, DewWanted, p);
      const DewThing *thing
        = plant->thing_id != 0 ? dew_variant_thing (l->variant, plant->thing_id) : NULL;
      DewLightSpot spot = { .count = 1,
                            .lo_mol_m2s = plant->kind.ppfd_lo_mol_m2s,
                            .hi_mol_m2s = plant->kind.ppfd_hi_mol_m2s };
      int place;

      if (thing == NULL || !plant->known || (isnan (spot.lo_mol_m2s) && isnan (spot.hi_mol_m2s)))
        continue;
      place = dew_forecast_place_at (f, plant->at_m);
      if (place < 0)
        continue;
      middle_of_place (f, place, spot.at_m);
      spot.bay = f->places[place].bay;
      spot.top_m = thing->plant.z_m + thing->plant.height_m;
      g_array_append_val (l->spots, spot);
    }
}

/* Geometric means of what is wished for, where nothing stands. */
static void
wished (const DewWants *wants, double *lo, double *hi)
{
  double sum_lo = 0.0, sum_hi = 0.0, n = 0.0;

  for (guint p = 0; p < wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);

      if (!plant->known || !(plant->kind.ppfd_lo_mol_m2s > 0.0)
          || !(plant->kind.ppfd_hi_mol_m2s > 0.0))
        continue;
      sum_lo += plant->count * log (plant->kind.ppfd_lo_mol_m2s);
      sum_hi += plant->count * log (plant->kind.ppfd_hi_mol_m2s);
      n += plant->count;
    }
  *lo = n > 0.0 ? exp (sum_lo / n) : USUAL_LO_MOL_M2S;
  *hi = n > 0.0 ? exp (sum_hi / n) : USUAL_HI_MOL_M2S;
}

static void
add_places (DewLighting *l, const DewForecast *f)
{
  double lo, hi;

  wished (l->advice->wants, &lo, &hi);
  for (int p = 0; p < f->n_places; p++)
    {
      DewLightSpot spot
        = { .bay = f->places[p].bay, .count = 1, .lo_mol_m2s = lo, .hi_mol_m2s = hi };

      middle_of_place (f, p, spot.at_m);
      spot.top_m = f->places[p].lo_m[2] + USUAL_TOP_M;
      g_array_append_val (l->spots, spot);
    }
}

/* What the plants of a bay share of a day's light. */
static void
find_wanted (const DewLighting *l, DewLightBay *bay)
{
  double usual_s = DEW_LIGHT_USUAL_H * DEW_S_PER_H, lo = 0.0, hi = INFINITY;
  double least = INFINITY, most = 0.0;

  for (guint s = 0; s < l->spots->len; s++)
    {
      const DewLightSpot *spot = &g_array_index (l->spots, DewLightSpot, s);

      if (spot->bay != bay->bay)
        continue;
      lo = fmax (lo, spot->lo_mol_m2s);
      hi = fmin (hi, spot->hi_mol_m2s);
      least = fmin (least, spot->lo_mol_m2s);
      most = fmax (most, spot->hi_mol_m2s);
    }
  bay->apart = lo > hi;
  bay->want_lo_mol_m2 = usual_s * (bay->apart ? least : lo);
  bay->want_hi_mol_m2 = usual_s * (bay->apart ? most : hi);
}

static void
find_bays (DewLighting *l, const DewForecast *f, gboolean standing)
{
  DewLightAdvice *advice = l->advice;
  int shelf = 0;

  advice->bays = g_new0 (DewLightBay, f->n_bays);
  for (int b = 0; b < f->n_bays; b++)
    {
      DewLightBay *bay = &advice->bays[advice->n_bays];
      int n = 0;

      shelf += f->bays[b].shelf_id != 0;
      for (guint s = 0; s < l->spots->len; s++)
        n += g_array_index (l->spots, DewLightSpot, s).bay == b;
      if (n == 0)
        continue;
      *bay = (DewLightBay){ .bay = b,
                            .shelf = f->bays[b].shelf_id != 0 ? shelf : 0,
                            .n_plants = standing ? n : 0 };
      g_strlcpy (bay->name, f->bays[b].name, sizeof bay->name);
      find_wanted (l, bay);
      advice->n_bays++;
    }
}

/* --- choosing ------------------------------------------------------------ */

double
dew_routine_day_h (const DewRoutine *routine)
{
  double h = routine->day_until_h - routine->day_from_h;

  return h > 0.0 ? h : h + DAY_H;
}

static void
set_day_h (DewRoutine *routine, double hours)
{
  routine->day_until_h = routine->day_from_h + hours;
  if (routine->day_until_h > DAY_H)
    routine->day_until_h -= DAY_H;
}

/* Lamps that are lit by night alone. */
static gboolean
is_turned (const DewVariant *variant)
{
  gboolean any = FALSE;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_LAMP)
        continue;
      if (thing->lamp.on_day > 0.0)
        return FALSE;
      any |= thing->lamp.on_night > 0.0;
    }
  return any;
}

static double
lit_h (const DewChamber *chamber, const DewVariant *variant)
{
  double day_h = dew_routine_day_h (&chamber->routine);

  return is_turned (variant) ? DAY_H - day_h : day_h;
}

static double
power_of (const DewVariant *variant)
{
  double sum_W = 0.0;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_LAMP)
        sum_W += thing->lamp.power_W * MAX (thing->lamp.on_day, thing->lamp.on_night);
    }
  return sum_W;
}

/* From the top down, for one number of hours: what hangs above is known below. Returns what it is
 * worth; bays [n_bays] and the lighting's copy have the choice. */
static DewLightWorth
choose_for (DewLighting *l, const DewForecast *f, int hours, DewLightBay *bays)
{
  DewLightWorth sum = { 0 };

  set_day_h (&l->chamber->routine, is_turned (l->variant) ? DAY_H - hours : hours);
  for (int n = l->advice->n_bays - 1; n >= 0; n--)
    dew_lighting_choose (l, &bays[n], hours, f->bays[bays[n].bay].z0_m, f->bays[bays[n].bay].z1_m,
                         &sum);
  sum.cost *= 1.0 + HOUR_COSTS * ABS (hours - DEW_LIGHT_USUAL_H);
  return sum;
}

/* The number of hours that does best; the present one is tried first, so of equals it stays. */
static void
choose (DewLighting *l, const DewChamber *drawn, const DewForecast *f)
{
  DewLightAdvice *advice = l->advice;
  guint variant_id = l->variant->id;
  int now = advice->hours_now;
  DewLightWorth best = { G_MAXINT, 0.0, 0.0 };
  g_autofree DewLightBay *blank = g_memdup2 (advice->bays, sizeof *blank * MAX (1, advice->n_bays));

  for (int h = DEW_LIGHT_LEAST_H - 1; h <= DEW_LIGHT_MOST_H; h++)
    {
      int hours = h < DEW_LIGHT_LEAST_H ? CLAMP (now, DEW_LIGHT_LEAST_H, DEW_LIGHT_MOST_H) : h;
      g_autofree DewLightBay *bays = g_memdup2 (blank, sizeof *bays * MAX (1, advice->n_bays));
      DewLighting tried = *l;
      DewLightWorth worth;

      tried.chamber = dew_chamber_copy (drawn);
      tried.variant = dew_chamber_variant (tried.chamber, variant_id);
      worth = choose_for (&tried, f, hours, bays);
      if (best.out < G_MAXINT && !dew_light_is_better (&worth, &best))
        {
          dew_chamber_free (tried.chamber);
          continue;
        }
      best = worth;
      dew_chamber_free (l->chamber);
      l->chamber = tried.chamber;
      l->variant = tried.variant;
      memcpy (advice->bays, bays, sizeof *bays * advice->n_bays);
      advice->hours = hours;
    }
  for (int n = 0; n < advice->n_bays; n++)
    {
      const DewLightBay *bay = &advice->bays[n];

      dew_lighting_judge (l, bay->bay, &advice->bays[n].then);
      advice->change |= bay->n_lamps > 0 || (bay->burns && bay->share != 1.0)
                        || (bay->burns && advice->hours != now);
    }
}

/* --- warmth -------------------------------------------------------------- */

static DewLightWarmth *
warmth_of (const DewLightAdvice *advice, const DewLayout *layout, gboolean by_night)
{
  const DewForecast *lit = by_night ? layout->night : layout->day;
  const DewForecast *dark = by_night ? layout->day : layout->night;
  DewLightWarmth *all = g_new0 (DewLightWarmth, MAX (1, advice->n_bays));

  for (int n = 0; n < advice->n_bays; n++)
    {
      const DewBay *bay = &lit->bays[advice->bays[n].bay];
      DewBandWish band = dew_wants_of_bay (advice->wants, bay->z0_m, bay->z1_m);
      DewLightWarmth *w = &all[n];

      w->t_day_C = bay->mean.t_C;
      w->t_night_C = dark->bays[advice->bays[n].bay].mean.t_C;
      /* A limit that is not known is never passed. */
      if (w->t_day_C > band.t_day_hi_C)
        w->over_K = w->t_day_C - band.t_day_hi_C;
      if (w->t_night_C > band.t_night_hi_C)
        w->over_K = MAX (w->over_K, w->t_night_C - band.t_night_hi_C);
    }
  return all;
}

static double
most_over_K (const DewLightWarmth *all, int n)
{
  double most = 0.0;

  for (int b = 0; b < n; b++)
    most = MAX (most, all[b].over_K);
  return most;
}

/* The same hours, but in the room's night. */
static void
light_by_night (DewVariant *variant)
{
  for (guint t = 0; t < variant->things->len; t++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_LAMP)
        continue;
      thing->lamp.on_night = MAX (thing->lamp.on_day, thing->lamp.on_night);
      thing->lamp.on_day = 0.0;
    }
}

#define COOLER_K 0.5 /* so much cooler is worth turning day and night round */

static gboolean
find_warmth (DewLightAdvice *advice, DewLayoutBench *bench, const DewLayout *drawn,
             const DewChamber *chosen, GError **error)
{
  g_autoptr (DewLayout) by_day = dew_layout_new (chosen);
  g_autoptr (DewLayout) by_night = dew_layout_new (chosen);
  DewLayout *both[2] = { by_day, by_night };

  light_by_night (dew_layout_variant (bench, by_night));
  if (!dew_layout_bench_run (bench, both, 2, DEW_GRID_SETTLED, error))
    return FALSE;
  for (int n = 0; n < 2; n++)
    if (both[n]->trouble != NULL)
      {
        g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                             both[n]->trouble);
        return FALSE;
      }
  advice->now = warmth_of (advice, drawn, FALSE);
  advice->by_day = warmth_of (advice, by_day, FALSE);
  advice->by_night = warmth_of (advice, by_night, TRUE);
  advice->night_better = most_over_K (advice->by_night, advice->n_bays) + COOLER_K
                         < most_over_K (advice->by_day, advice->n_bays);
  return TRUE;
}

/* --- asking -------------------------------------------------------------- */

static gboolean
advise (DewLightAdvice *advice, DewLayoutBench *bench, const DewChamber *chamber, GError **error)
{
  g_autoptr (DewLayout) drawn = dew_layout_new (chamber);
  DewLayout *one[1] = { drawn };
  DewLighting l = { .advice = advice };
  gboolean fine;

  if (!dew_layout_bench_run (bench, one, 1, DEW_GRID_SETTLED, error))
    return FALSE;
  if (drawn->trouble != NULL)
    {
      g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED, drawn->trouble);
      return FALSE;
    }
  l.chamber = dew_chamber_copy (chamber);
  l.variant = dew_chamber_variant (l.chamber, bench->variant_id);
  l.spots = g_array_new (FALSE, FALSE, sizeof (DewLightSpot));
  dew_chamber_inner_m (chamber, l.inner_m);
  add_standing (&l, drawn->day);
  {
    gboolean standing = l.spots->len > 0;

    if (!standing)
      add_places (&l, drawn->day);
    find_bays (&l, drawn->day, standing);
  }
  for (int n = 0; n < advice->n_bays; n++)
    dew_lighting_judge (&l, advice->bays[n].bay, &advice->bays[n].now);
  advice->hours_now = (int) lround (lit_h (chamber, l.variant));
  advice->power_now_W = power_of (l.variant);
  choose (&l, chamber, drawn->day);
  advice->power_W = power_of (l.variant);
  advice->energy_now_kWh_day = advice->power_now_W * advice->hours_now / WH_PER_KWH;
  advice->energy_kWh_day = advice->power_W * advice->hours / WH_PER_KWH;
  fine = find_warmth (advice, bench, drawn, l.chamber, error);
  g_array_unref (l.spots);
  dew_chamber_free (l.chamber);
  return fine;
}

DewLightAdvice *
dew_light_advise (const DewChamber *chamber, guint variant_id, const DewLightQuestion *question,
                  GCancellable *cancellable, GError **error)
{
  g_autoptr (DewLightAdvice) advice = g_new0 (DewLightAdvice, 1);
  const DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  DewLayoutBench bench = { 0 };
  gint64 began = g_get_monotonic_time ();
  gboolean fine;

  if (variant == NULL)
    {
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                   _ ("There is no such variant in this document"));
      return NULL;
    }
  advice->wants = dew_wants_new (chamber, variant, question->lookup, question->lookup_data);
  advice->daylight_mol_m2s = chamber->room.daylight_mol_m2s;
  fine = dew_layout_bench_open (&bench, chamber, variant_id, dew_wants_lookup, advice->wants,
                                question->threads, cancellable, error);
  if (fine)
    {
      bench.progress = question->progress;
      bench.progress_data = question->progress_data;
      bench.total = 6; /* three layouts by day and by night */
      fine = advise (advice, &bench, chamber, error);
    }
  dew_layout_bench_close (&bench);
  if (!fine)
    return NULL;
  advice->seconds = (g_get_monotonic_time () - began) / 1e6;
  return g_steal_pointer (&advice);
}

void
dew_light_apply (DewChamber *chamber, guint variant_id, const DewLightAdvice *advice,
                 gboolean by_night)
{
  DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  g_autofree double *z = NULL;
  g_autofree guint *shelf = NULL;
  int n_bays = dew_variant_bays (chamber, variant, &z, &shelf);

  for (int n = 0; n < advice->n_bays; n++)
    {
      const DewLightBay *bay = &advice->bays[n];

      g_return_if_fail (bay->bay < n_bays);
      for (guint t = variant->things->len; t > 0; t--)
        {
          DewThing *thing = &g_array_index (variant->things, DewThing, t - 1);

          if (thing->kind != DEW_THING_LAMP || thing->lamp.z_m < z[bay->bay] - 1e-9
              || thing->lamp.z_m >= z[bay->bay + 1])
            continue;
          if (bay->n_lamps > 0)
            dew_variant_remove (variant, thing->id);
          else if (bay->burns)
            {
              thing->lamp.on_day *= bay->share;
              thing->lamp.on_night *= bay->share;
            }
        }
      for (int lamp = 0; lamp < bay->n_lamps; lamp++)
        {
          DewThing thing;

          dew_thing_init (&thing, DEW_THING_LAMP);
          thing.lamp = bay->set;
          if (lamp == 1)
            thing.lamp.y_m = bay->second_y_m;
          dew_variant_add (chamber, variant, &thing);
        }
    }
  if (by_night)
    light_by_night (variant);
  set_day_h (&chamber->routine, is_turned (variant) ? DAY_H - advice->hours : advice->hours);
}

void
dew_light_advice_free (DewLightAdvice *advice)
{
  if (advice == NULL)
    return;
  dew_wants_free (advice->wants);
  g_free (advice->bays);
  g_free (advice->now);
  g_free (advice->by_day);
  g_free (advice->by_night);
  g_free (advice);
}
