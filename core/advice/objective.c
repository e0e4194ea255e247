/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/objective.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "forecast/findings.h"
#include "forecast/limits.h"
#include "forecast/probe.h"
#include "moist/constants.h"

#define S_PER_DAY 86400.0
#define ML_PER_KG 1000.0
#define FILM_KG_M2 0.1 /* of water on a leaf, as in dew_findings_drying_s() */
#define SLOW_COUNTS \
  0.25                   /* slow but fresh air, against slow and old; common practice, no source \
                          */
#define QUIET_SPEED 0.25 /* of full speed: hardly heard; common practice, no source */
#define SOUND_POWER_OF_SPEED \
  5 /* sound power of a fan rises with the fifth power of its speed, \
     * 50 log10 n: fan laws, ASHRAE Handbook, from memory */

/* clang-format off */
static const DewGoalInfo parts[DEW_N_GOALS] = {
  [DEW_GOAL_HUMID]
  = { "humid", N_ ("Humidity as wanted"),
      N_ ("By how much the air at the plants is drier or damper than they bear."), N_ ("points"), 1,
      5.0, 2.0, "5 points are what a cheap hygrometer errs by: data/thresholds.csv, sensor error" },
  [DEW_GOAL_WARMTH]
  = { "warmth", N_ ("Warmth as wanted"),
      N_ ("By how much the air at the plants is warmer or cooler than they bear."), "K", 1,
      1.0, 1.0, "common practice, no source" },
  [DEW_GOAL_EVEN]
  = { "even", N_ ("Even humidity"),
      N_ ("How far the humidity of a damp and of a dry place lie apart."), N_ ("points"), 1, 5.0,
      1.0, "half of data/thresholds.csv, shelf spread: common practice, no source" },
  [DEW_GOAL_FRESH]
  = { "fresh", N_ ("No dead air"),
      N_ ("The share of the air at the places that stands still; most of all where it is "
          "also old."),
      "%", 0, 10.0, 2.0, "limits as of the findings; the rest common practice, no source" },
  [DEW_GOAL_DRY]
  = { "dry", N_ ("Dry crowns"),
      N_ ("Water that drips or settles on a plant that does not like it, beyond what the "
          "air takes up again."),
      "mL/h", 2, 0.1, 1.5, "two drops an hour: common practice, no source" },
  [DEW_GOAL_GENTLE] = { "gentle", N_ ("No draught"),
                        N_ ("By how much the air at the leaves is faster than they like."),
                        "m/s", 2, 0.1, 1.0, "common practice, no source" },
  [DEW_GOAL_WATER]
  = { "water", N_ ("Little water"), N_ ("What humidifiers, pots, trays and leaves give off."),
      N_ ("L/day"), 2, 1.0, 0.5, "common practice, no source" },
  [DEW_GOAL_QUIET]
  = { "quiet", N_ ("Quiet"),
      N_ ("How much louder the fans are than one at a quarter of its speed."), "dB", 0, 15.0,
      0.25, "a fan at half of its speed: fan laws, from memory" },
};
/* clang-format on */

const DewGoalInfo *
dew_goal_info (DewGoal part)
{
  g_return_val_if_fail (part < DEW_N_GOALS, NULL);
  return &parts[part];
}

/* --- weights ------------------------------------------------------------- */

void
dew_weights_init (DewWeights *weights)
{
  for (int p = 0; p < DEW_N_GOALS; p++)
    weights->weight[p] = parts[p].weight;
  weights->day_share = 0.5;
}

static gboolean
parse_one (const char *word, DewWeights *weights, GError **error)
{
  const char *equals = strchr (word, '=');
  g_autofree char *key = equals != NULL ? g_strndup (word, equals - word) : g_strdup (word);
  char *end = NULL;
  double value = equals != NULL ? g_ascii_strtod (equals + 1, &end) : NAN;

  g_strstrip (key);
  if (end == NULL || end == equals + 1 || *end != '\0' || !(value >= 0.0 && value <= 1000.0))
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ (
                     "\"%s\" is no weight; write a part and a number from 0 to 1000, as in even=2"),
                   word);
      return FALSE;
    }
  if (strcmp (key, "day") == 0 && value <= 1.0)
    {
      weights->day_share = value;
      return TRUE;
    }
  for (int p = 0; p < DEW_N_GOALS; p++)
    if (strcmp (key, parts[p].key) == 0)
      {
        weights->weight[p] = value;
        return TRUE;
      }
  g_set_error (
    error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
    _ ("\"%s\" cannot be weighed; there are humid, warmth, even, fresh, dry, gentle, water, "
       "quiet, and day from 0 to 1"),
    key);
  return FALSE;
}

gboolean
dew_weights_parse (const char *text, DewWeights *weights, GError **error)
{
  g_auto (GStrv) words = g_strsplit (text, ",", -1);
  DewWeights read = *weights;
  double sum = 0.0;

  for (int w = 0; words[w] != NULL; w++)
    if (!parse_one (g_strstrip (words[w]), &read, error))
      return FALSE;
  for (int p = 0; p < DEW_N_GOALS; p++)
    sum += read.weight[p];
  if (sum <= 0.0)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ ("All weights are zero; give at least one part some weight"));
      return FALSE;
    }
  *weights = read;
  return TRUE;
}

/* --- one forecast -------------------------------------------------------- */

static double
outside (double value, double lo, double hi)
{
  /* A limit that is not known (NAN) is never passed. */
  return MAX (0.0, MAX (value < lo ? lo - value : 0.0, value > hi ? value - hi : 0.0));
}

/* Raw values at one place for one plant, added with a weight. */
static void
judge (const DewForecast *f, const DewPlantKind *kind, const DewBandWish *band, double footprint_m2,
       const DewPlace *place, double weight, double *raw)
{
  const DewClimate *c = &place->mean;
  double area_m2 = (place->hi_m[0] - place->lo_m[0]) * (place->hi_m[1] - place->lo_m[1]);
  double covers_m2 = MIN (footprint_m2, area_m2);
  double t_lo = f->night ? band->t_night_lo_C : band->t_day_lo_C;
  double t_hi = f->night ? band->t_night_hi_C : band->t_day_hi_C;
  double fast = dew_limit (DEW_LIMIT_DRAUGHT);
  double minds = kind->crown == DEW_CROWN_HARMFUL ? 1.0
                 : kind->crown == DEW_CROWN_BRIEF ? 0.5
                                                  : 0.0;

  raw[DEW_GOAL_HUMID] += weight * 100.0 * outside (c->rh, band->rh_lo, band->rh_hi);
  raw[DEW_GOAL_WARMTH] += weight * outside (c->t_C, t_lo, t_hi);
  if (kind->speed_hi_m_s < fast)
    fast = kind->speed_hi_m_s;
  raw[DEW_GOAL_GENTLE] += weight * MAX (0.0, c->speed_m_s - fast);
  if (minds > 0.0 && c->wetting_kg_m2s > 0.0)
    {
      double drip_kg_m2s = c->drip_kg_s / area_m2;
      double dries_h = dew_findings_drying_s (c, f->pressure_Pa) / DEW_S_PER_H;
      double loses_kg_m2s = MAX (isinf (dries_h) ? 0.0 : FILM_KG_M2 / (dries_h * DEW_S_PER_H),
                                 dew_limit (DEW_LIMIT_MIST) / ML_PER_KG / DEW_S_PER_H);
      double mist_kg_m2s = MAX (0.0, c->wetting_kg_m2s - drip_kg_m2s - loses_kg_m2s);

      raw[DEW_GOAL_DRY]
        += weight * minds * covers_m2 * (drip_kg_m2s + mist_kg_m2s) * ML_PER_KG * DEW_S_PER_H;
    }
}

static void
judge_plants (const DewWants *wants, const DewForecast *f, double *raw)
{
  static const DewPlantKind nothing = { .speed_hi_m_s = NAN, .crown = DEW_CROWN_BRIEF };
  double total = 0.0;

  for (guint p = 0; p < wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);

      total += plant->weight * plant->count;
    }
  for (guint p = 0; p < wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);
      const DewPlantKind *k = &plant->asks;
      double share = plant->weight * plant->count / total;
      const DewBandWish own = { k->rh_min,      k->rh_max,        k->t_day_min_C,
                                k->t_day_max_C, k->t_night_min_C, k->t_night_max_C };
      const DewBandWish *band = wants->usual ? &wants->band : &own;
      int place = dew_forecast_place_at (f, plant->at_m);

      if (place >= 0)
        judge (f, k, band, plant->footprint_m2, &f->places[place], share, raw);
      else
        for (int i = 0; i < f->n_places; i++)
          judge (f, k, band, plant->footprint_m2, &f->places[i], share / f->n_places, raw);
    }
  if (wants->plants->len == 0)
    for (int i = 0; i < f->n_places; i++)
      judge (f, &nothing, &wants->band, G_MAXDOUBLE, &f->places[i], 1.0 / f->n_places, raw);
}

/* Whether all plants of a bay want still air, as filmy ferns do. */
static gboolean
bay_likes_still (const DewWants *wants, const DewForecast *f, int bay)
{
  gboolean any = FALSE;

  for (guint p = 0; p < wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);

      if (dew_forecast_bay_at (f, plant->at_m[2]) != bay)
        continue;
      any = TRUE;
      if (!(plant->asks.speed_lo_m_s < dew_limit (DEW_LIMIT_STILL)))
        return FALSE;
    }
  return any;
}

/* 0 for air of half the age that counts as old, 1 from that age on; so a little older air is
 * always a little worse. */
static double
oldness (const DewForecast *f, double age_s)
{
  double old_s
    = MIN (dew_limit (DEW_LIMIT_OLD) * f->all.age_s, dew_limit (DEW_LIMIT_UNCHANGED) * DEW_S_PER_H);

  if (isnan (age_s) || !(old_s > 0.0))
    return 1.0;
  return CLAMP (2.0 * age_s / old_s - 1.0, 0.0, 1.0);
}

static void
judge_places (const DewWants *wants, const DewForecast *f, double *raw)
{
  double sum = 0.0, squares = 0.0, dead = 0.0;
  int counted = 0;

  for (int b = 0; b < f->n_bays; b++)
    {
      gboolean still_is_fine = bay_likes_still (wants, f, b);

      for (int p = 0; p < f->n_places; p++)
        {
          const DewClimate *c = &f->places[p].mean;

          if (f->places[p].bay != b)
            continue;
          sum += c->rh;
          squares += c->rh * c->rh;
          if (still_is_fine)
            continue;
          dead += c->still_share * (SLOW_COUNTS + (1.0 - SLOW_COUNTS) * oldness (f, c->age_s));
          counted++;
        }
    }
  if (f->n_places > 0)
    raw[DEW_GOAL_EVEN]
      = 200.0 * sqrt (MAX (0.0, squares / f->n_places - pow (sum / f->n_places, 2.0)));
  if (counted > 0)
    raw[DEW_GOAL_FRESH] = 100.0 * dead / counted;
}

static double
noise_dB (const DewVariant *variant, gboolean night)
{
  double power = 0.0;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_FAN)
        power += pow ((night ? thing->fan.speed_night : thing->fan.speed_day) / QUIET_SPEED,
                      SOUND_POWER_OF_SPEED);
    }
  return power > 1.0 ? 10.0 * log10 (power) : 0.0;
}

static void
judge_forecast (const DewWants *wants, const DewVariant *variant, const DewForecast *f, double *raw)
{
  for (int p = 0; p < DEW_N_GOALS; p++)
    raw[p] = f != NULL ? 0.0 : NAN;
  if (f == NULL)
    return;
  judge_plants (wants, f, raw);
  judge_places (wants, f, raw);
  raw[DEW_GOAL_WATER]
    = MAX (0.0, f->balance.water_device_kg_s + f->balance.water_surface_kg_s) * S_PER_DAY;
  raw[DEW_GOAL_QUIET] = noise_dB (variant, f->night);
}

void
dew_objective_of (const DewWants *wants, const DewWeights *weights, const DewVariant *variant,
                  const DewForecast *day, const DewForecast *night, DewObjective *out)
{
  double day_share = night == NULL ? 1.0 : day == NULL ? 0.0 : weights->day_share;
  double sum = 0.0, total = 0.0;

  g_return_if_fail (day != NULL || night != NULL);

  judge_forecast (wants, variant, day, out->day);
  judge_forecast (wants, variant, night, out->night);
  for (int p = 0; p < DEW_N_GOALS; p++)
    {
      out->raw[p] = (day != NULL ? day_share * out->day[p] : 0.0)
                    + (night != NULL ? (1.0 - day_share) * out->night[p] : 0.0);
      out->merit[p] = 1.0 / (1.0 + out->raw[p] / parts[p].half);
      sum += weights->weight[p] * out->merit[p];
      total += weights->weight[p];
    }
  out->value = total > 0.0 ? sum / total : 0.0;
}
