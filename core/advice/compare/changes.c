/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/compare/compare-private.h"

#include "advice/objective.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* What one would notice: common practice, no source. */
#define NOTICED_RH_POINTS 2.0
#define NOTICED_K 0.3
#define NOTICED_STILL_PERCENT 10.0
#define NOTICED_DRIP_ML_H 0.05 /* a drop an hour */
#define NOTICED_L_DAY 0.05
#define NOTICED_MERIT 0.03
#define PLANT_MATTERS 2.0
#define FINDING_MATTERS 3.0

#define S_PER_H 3600.0
#define QUARTS_PER_L 1.0567 /* of the United States; NIST SP 811 */

typedef struct
{
  DewComparison *comparison;
  const DewVariant *base, *other;
  int side;
  gboolean imperial;
  int *bay_of; /* [bays of the first side] bay of the other, -1 */
} Pair;

/* --- saying -------------------------------------------------------------- */

/* A phrase for more and one for less; %s: whose, %s: how much. */
typedef struct
{
  const char *key;
  const char *more_day, *less_day, *more_night, *less_night;
} Phrases;

/* Translators: first a shelf or a plant, then a number with its unit, as "Third shelf: 6 points
 * more humid by day." */
static const Phrases humid = { "rh", N_ ("%s: %s more humid by day."), N_ ("%s: %s drier by day."),
                               N_ ("%s: %s more humid by night."), N_ ("%s: %s drier by night.") };
static const Phrases warm = { "t", N_ ("%s: day %s warmer."), N_ ("%s: day %s cooler."),
                              N_ ("%s: night %s warmer."), N_ ("%s: night %s cooler.") };
static const Phrases still
  = { "still", N_ ("%s: %s more still air by day."), N_ ("%s: %s less still air by day."),
      N_ ("%s: %s more still air by night."), N_ ("%s: %s less still air by night.") };
static const Phrases drips
  = { "drip", N_ ("%s: %s more drips down by day."), N_ ("%s: %s less drips down by day."),
      N_ ("%s: %s more drips down by night."), N_ ("%s: %s less drips down by night.") };
static const Phrases fast = { "speed", N_ ("%s: air %s faster."), N_ ("%s: air %s slower."),
                              N_ ("%s: air %s faster."), N_ ("%s: air %s slower.") };
static const Phrases bright = { "ppfd", N_ ("%s: %s more light."), N_ ("%s: %s less light."),
                                N_ ("%s: %s more light."), N_ ("%s: %s less light.") };
static const Phrases misty
  = { "mist", N_ ("%s: %s more mist falls on it."), N_ ("%s: %s less mist falls on it."),
      N_ ("%s: %s more mist falls on it."), N_ ("%s: %s less mist falls on it.") };
static const Phrases drying
  = { "drying", N_ ("%s: a wet crown dries %s later."), N_ ("%s: a wet crown dries %s sooner."),
      N_ ("%s: a wet crown dries %s later."), N_ ("%s: a wet crown dries %s sooner.") };

#pragma GCC diagnostic push
/* The formats come from the tables above, two %s each. */
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static void
say (DewChange *change, const Phrases *phrases, const char *whose, const char *size, double by)
{
  const char *format = change->night ? by > 0.0 ? phrases->more_night : phrases->less_night
                       : by > 0.0    ? phrases->more_day
                                     : phrases->less_day;
  const char *end;

  g_snprintf (change->words, sizeof change->words, _ (format), whose, size);
  if (!g_utf8_validate (change->words, -1, &end))
    change->words[end - change->words] = '\0';
  g_strlcpy (change->quantity, phrases->key, sizeof change->quantity);
}
#pragma GCC diagnostic pop

/* How much, without a sign; `by` as people read it: K, points, %, mL/h, m/s, umol/m2s. */
static char *
size_of (const Phrases *phrases, double by, gboolean imperial)
{
  by = fabs (by);
  if (phrases == &warm)
    return imperial ? g_strdup_printf (_ ("%.1f °F"), 1.8 * by)
                    : g_strdup_printf (_ ("%.1f K"), by);
  if (phrases == &humid)
    return g_strdup_printf (ngettext ("%.0f point", "%.0f points", (gulong) lround (by)), by);
  if (phrases == &still)
    return g_strdup_printf (_ ("%.0f %%"), by);
  if (phrases == &drips)
    return g_strdup_printf (_ ("%.2f mL/h"), by);
  if (phrases == &misty)
    return g_strdup_printf (_ ("%.1f mL/m²h"), by);
  if (phrases == &drying)
    return g_strdup_printf (_ ("%.1f h"), by);
  if (phrases == &fast)
    return imperial ? g_strdup_printf (_ ("%.0f ft/min"), by / 0.00508)
                    : g_strdup_printf (_ ("%.2f m/s"), by);
  return g_strdup_printf (_ ("%.0f µmol/m²s"), by);
}

/* --- bays ---------------------------------------------------------------- */

/* Bays of the other side that lie where those of the first do: the same number from the
 * floor, or, with other shelves, the one that holds the middle of it. */
static void
match_bays (Pair *pair)
{
  const DewForecast *a = pair->comparison->sides[0].day;
  const DewForecast *b = pair->comparison->sides[pair->side].day;

  pair->bay_of = g_new (int, MAX (1, a->n_bays));
  for (int i = 0; i < a->n_bays; i++)
    {
      double middle_m = 0.5 * (a->bays[i].z0_m + a->bays[i].z1_m);

      pair->bay_of[i] = a->n_bays == b->n_bays ? i : -1;
      for (int j = 0; pair->bay_of[i] < 0 && j < b->n_bays; j++)
        if (middle_m >= b->bays[j].z0_m && middle_m < b->bays[j].z1_m)
          pair->bay_of[i] = j;
    }
}

static char *
bay_name (const DewForecast *forecast, int bay)
{
  int shelf = 0;

  for (int b = 0; b <= bay; b++)
    shelf += forecast->bays[b].shelf_id != 0;
  return dew_advice_bay_name (forecast->bays[bay].shelf_id != 0 ? shelf : 0);
}

static double
bay_drip_mL_h (const DewForecast *forecast, int bay)
{
  double sum = 0.0;

  for (int p = 0; p < forecast->n_places; p++)
    if (forecast->places[p].bay == bay)
      sum += forecast->places[p].mean.drip_kg_s;
  return 1000.0 * S_PER_H * sum;
}

/* The unknown things are the same in both layouts (one cover, one room), so that the errors
 * go together: the band of a difference is taken as the larger of the two, not their sum. */
static double
joint (double a, double b)
{
  return isnan (a) || isnan (b) ? NAN : MAX (a, b);
}

/* `shown` turns the SI difference into what people read; noticed in the same. */
static void
compare_bay (const Pair *pair, int bay, gboolean night, const Phrases *phrases, double from,
             double to, double band, double shown, double noticed, int more_is)
{
  const DewForecast *a = dew_compare_forecast (&pair->comparison->sides[0], night);
  double by = shown * (to - from);
  g_autofree char *name = bay_name (a, bay);
  g_autofree char *size = NULL;
  DewChange change = { .subject = DEW_COMPARE_BAY,
                       .side = pair->side,
                       .bay = bay,
                       .night = night,
                       .from = from,
                       .to = to,
                       .band = band };

  if (!(fabs (by) >= noticed))
    return;
  size = size_of (phrases, by, pair->imperial);
  change.beyond = !(fabs (to - from) < band);
  change.good = by > 0.0 ? more_is : -more_is;
  change.matters = fabs (by) / noticed;
  say (&change, phrases, name, size, by);
  g_array_append_val (pair->comparison->changes, change);
}

static void
compare_bays (const Pair *pair, gboolean night)
{
  const DewForecast *a = dew_compare_forecast (&pair->comparison->sides[0], night);
  const DewForecast *b = dew_compare_forecast (&pair->comparison->sides[pair->side], night);

  for (int i = 0; i < a->n_bays; i++)
    {
      int j = pair->bay_of[i];
      const DewClimate *from, *to;

      if (j < 0)
        continue;
      from = &a->bays[i].mean;
      to = &b->bays[j].mean;
      compare_bay (pair, i, night, &humid, from->rh, to->rh, joint (from->rh_band, to->rh_band),
                   100.0, NOTICED_RH_POINTS, 0);
      compare_bay (pair, i, night, &warm, from->t_C, to->t_C, joint (from->t_band_K, to->t_band_K),
                   1.0, NOTICED_K, 0);
      compare_bay (pair, i, night, &still, from->still_share, to->still_share,
                   joint (from->still_band, to->still_band), 100.0, NOTICED_STILL_PERCENT, -1);
      compare_bay (pair, i, night, &drips, bay_drip_mL_h (a, i) / (1000.0 * S_PER_H),
                   bay_drip_mL_h (b, j) / (1000.0 * S_PER_H), NAN, 1000.0 * S_PER_H,
                   NOTICED_DRIP_ML_H, -1);
    }
}

/* --- plants -------------------------------------------------------------- */

static gboolean
same_plant (const DewThing *a, const DewThing *b)
{
  return b->kind == DEW_THING_PLANT && strcmp (a->name, b->name) == 0
         && strcmp (a->plant.species, b->plant.species) == 0;
}

/* The n-th plant of that name and kind, for the n-th of the first side. */
static const DewThing *
partner (const DewVariant *from, guint index, const DewVariant *to)
{
  const DewThing *thing = &g_array_index (from->things, DewThing, index);
  int nth = 0;

  for (guint i = 0; i < index; i++)
    nth += same_plant (thing, &g_array_index (from->things, DewThing, i));
  for (guint i = 0; i < to->things->len; i++)
    {
      const DewThing *other = &g_array_index (to->things, DewThing, i);

      if (same_plant (thing, other) && nth-- == 0)
        return other;
    }
  return NULL;
}

/* From the unit of a demand's value to SI. */
static double
to_si (DewDemand demand)
{
  switch (demand)
    {
    case DEW_DEMAND_RH_DAY:
    case DEW_DEMAND_RH_NIGHT:
      return 0.01;
    case DEW_DEMAND_LIGHT:
      return 1e-6;
    case DEW_DEMAND_MIST:
    case DEW_DEMAND_DRIP:
      return 1.0 / (1000.0 * S_PER_H);
    case DEW_DEMAND_DRYING:
      return S_PER_H;
    default:
      return 1.0;
    }
}

static const Phrases *
phrases_of (DewDemand demand)
{
  switch (demand)
    {
    case DEW_DEMAND_T_DAY:
    case DEW_DEMAND_T_NIGHT:
      return &warm;
    case DEW_DEMAND_RH_DAY:
    case DEW_DEMAND_RH_NIGHT:
      return &humid;
    case DEW_DEMAND_AIR:
      return &fast;
    case DEW_DEMAND_LIGHT:
      return &bright;
    case DEW_DEMAND_MIST:
      return &misty;
    case DEW_DEMAND_DRIP:
      return &drips;
    case DEW_DEMAND_DRYING:
      return &drying;
    default:
      return NULL;
    }
}

/* One demand of one plant: said when it makes the plant better or worse off. */
static void
compare_demand (const Pair *pair, const DewThing *plant, DewDemand demand, const DewFitDemand *from,
                const DewFitDemand *to)
{
  const Phrases *phrases = phrases_of (demand);
  double by = to->value - from->value, gain = to->merit - from->merit;
  DewChange change
    = { .subject = DEW_COMPARE_PLANT, .side = pair->side, .bay = -1, .thing_id = plant->id };
  g_autofree char *size = NULL;

  if (phrases == NULL || isnan (from->margin) || isnan (to->margin) || fabs (gain) < NOTICED_MERIT)
    return;
  change.night = demand == DEW_DEMAND_T_NIGHT || demand == DEW_DEMAND_RH_NIGHT;
  change.from = to_si (demand) * from->value;
  change.to = to_si (demand) * to->value;
  change.band = to_si (demand) * joint (from->band, to->band);
  change.beyond = !(fabs (change.to - change.from) < change.band);
  change.good = gain > 0.0 ? 1 : -1;
  change.matters = PLANT_MATTERS * fabs (gain) / NOTICED_MERIT;
  size = size_of (phrases, by, pair->imperial);
  say (&change, phrases, plant->name, size, by);
  g_array_append_val (pair->comparison->changes, change);
}

static void
only_there (const Pair *pair, const DewThing *plant, const char *name)
{
  DewChange change = { .subject = DEW_COMPARE_PLANT,
                       .side = pair->side,
                       .bay = -1,
                       .thing_id = plant->id,
                       .from = NAN,
                       .to = NAN,
                       .band = NAN,
                       .beyond = TRUE,
                       .matters = PLANT_MATTERS };

  /* Translators: a plant, then the name of a layout. */
  g_snprintf (change.words, sizeof change.words, _ ("%s stands only in “%s”."), plant->name, name);
  g_strlcpy (change.quantity, "stands", sizeof change.quantity);
  g_array_append_val (pair->comparison->changes, change);
}

static void
compare_plants (const Pair *pair, DewPlantKindLookup lookup, gpointer data)
{
  const DewCompareSide *first = &pair->comparison->sides[0];
  const DewCompareSide *side = &pair->comparison->sides[pair->side];

  for (guint i = 0; i < pair->other->things->len; i++)
    {
      const DewThing *plant = &g_array_index (pair->other->things, DewThing, i);
      const DewThing *was;
      DewFit from, to;

      if (plant->kind != DEW_THING_PLANT)
        continue;
      was = partner (pair->other, i, pair->base);
      if (was == NULL)
        only_there (pair, plant, side->name);
      else if (dew_compare_fit (pair->base, first, was, lookup, data, &from)
               && dew_compare_fit (pair->other, side, plant, lookup, data, &to))
        for (int d = 0; d < DEW_N_DEMANDS; d++)
          compare_demand (pair, plant, d, &from.demand[d], &to.demand[d]);
    }
  for (guint i = 0; i < pair->base->things->len; i++)
    {
      const DewThing *plant = &g_array_index (pair->base->things, DewThing, i);

      if (plant->kind == DEW_THING_PLANT && partner (pair->base, i, pair->other) == NULL)
        only_there (pair, plant, first->name);
    }
}

/* --- findings ------------------------------------------------------------ */

static const char *
name_of (const DewVariant *variant, guint id)
{
  const DewThing *thing = id ? dew_variant_thing (variant, id) : NULL;

  return thing ? thing->name : "";
}

/* The same trouble: of the kind, in the bay, and where it is of a tank or a shelf of that. */
static gboolean
has_finding (const Pair *pair, const DewForecast *in, const DewVariant *its,
             const DewFinding *finding, int bay, const DewVariant *from)
{
  gboolean by_name = finding->kind == DEW_FINDING_TANK || finding->kind == DEW_FINDING_LOAD;

  for (int i = 0; i < in->n_findings; i++)
    if (in->findings[i].kind == finding->kind && in->findings[i].bay == bay
        && (!by_name
            || strcmp (name_of (its, in->findings[i].thing_id), name_of (from, finding->thing_id))
                 == 0))
      return TRUE;
  return FALSE;
}

static void
tell_finding (const Pair *pair, const DewFinding *finding, int bay, gboolean night, int good)
{
  DewChange change = { .subject = DEW_COMPARE_FINDING,
                       .side = pair->side,
                       .bay = bay,
                       .thing_id = finding->thing_id,
                       .night = night,
                       .from = NAN,
                       .to = NAN,
                       .band = NAN,
                       .beyond = TRUE,
                       .good = good,
                       .matters = FINDING_MATTERS * finding->severity };
  const char *format = good > 0 ? night ? _ ("Gone by night: %s.") : _ ("Gone by day: %s.")
                       : night ? _ ("New by night: %s.")
                                : _ ("New by day: %s.");

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_snprintf (change.words, sizeof change.words, format, finding->title);
#pragma GCC diagnostic pop
  g_strlcpy (change.quantity, "finding", sizeof change.quantity);
  g_array_append_val (pair->comparison->changes, change);
}

static int
bay_back (const Pair *pair, int bay)
{
  for (int i = 0; i < pair->comparison->sides[0].day->n_bays; i++)
    if (pair->bay_of[i] == bay)
      return i;
  return -1;
}

static void
compare_findings (const Pair *pair, gboolean night)
{
  const DewForecast *a = dew_compare_forecast (&pair->comparison->sides[0], night);
  const DewForecast *b = dew_compare_forecast (&pair->comparison->sides[pair->side], night);

  for (int i = 0; i < a->n_findings; i++)
    {
      int bay = a->findings[i].bay < 0 ? -1 : pair->bay_of[a->findings[i].bay];

      if (!has_finding (pair, b, pair->other, &a->findings[i], bay, pair->base))
        tell_finding (pair, &a->findings[i], a->findings[i].bay, night, 1);
    }
  for (int i = 0; i < b->n_findings; i++)
    {
      int bay = b->findings[i].bay < 0 ? -1 : bay_back (pair, b->findings[i].bay);

      if (!has_finding (pair, a, pair->base, &b->findings[i], bay, pair->other))
        tell_finding (pair, &b->findings[i], bay, night, -1);
    }
}

/* --- the enclosure ------------------------------------------------------- */

static void
compare_whole (const Pair *pair)
{
  const DewCompareSide *a = &pair->comparison->sides[0];
  const DewCompareSide *b = &pair->comparison->sides[pair->side];
  double by = b->water_kg_day - a->water_kg_day;
  DewChange change = { .subject = DEW_COMPARE_WHOLE,
                       .side = pair->side,
                       .bay = -1,
                       .from = a->water_kg_day,
                       .to = b->water_kg_day,
                       .band = NAN };
  double shown = fabs (by) * (pair->imperial ? QUARTS_PER_L : 1.0);
  const char *format;

  if (fabs (by) < NOTICED_L_DAY)
    return;
  change.beyond = TRUE;
  change.good = by < 0.0 ? 1 : -1;
  change.matters = fabs (by) / NOTICED_L_DAY;
  g_strlcpy (change.quantity, "water", sizeof change.quantity);
  if (pair->imperial)
    format = by > 0.0 ? _ ("%.1f qt more water a day.") : _ ("%.1f qt less water a day.");
  else
    format = by > 0.0 ? _ ("%.1f L more water a day.") : _ ("%.1f L less water a day.");
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_snprintf (change.words, sizeof change.words, format, shown);
#pragma GCC diagnostic pop
  g_array_append_val (pair->comparison->changes, change);
}

void
dew_compare_changes (DewComparison *comparison, const DewChamber *chamber, int side,
                     DewPlantKindLookup lookup, gpointer data, gboolean imperial)
{
  Pair pair = { .comparison = comparison, .side = side, .imperial = imperial };
  gboolean nights = comparison->sides[0].night != NULL && comparison->sides[side].night != NULL;

  pair.base = dew_chamber_variant (chamber, comparison->sides[0].variant_id);
  pair.other = dew_chamber_variant (chamber, comparison->sides[side].variant_id);
  match_bays (&pair);
  compare_whole (&pair);
  compare_plants (&pair, lookup, data);
  for (int night = 0; night <= nights; night++)
    {
      compare_bays (&pair, night);
      compare_findings (&pair, night);
    }
  g_free (pair.bay_of);
}

char *
dew_compare_summary (const DewComparison *comparison, int side)
{
  g_autoptr (GHashTable) better = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) worse = g_hash_table_new (NULL, NULL);
  gboolean any = FALSE;
  guint n_better, n_worse;

  g_return_val_if_fail (comparison != NULL && side >= 1 && side < comparison->n_sides, NULL);

  for (guint i = 0; i < comparison->changes->len; i++)
    {
      const DewChange *change = &g_array_index (comparison->changes, DewChange, i);

      if (change->side != side || !change->beyond)
        continue;
      any = TRUE;
      if (change->subject == DEW_COMPARE_PLANT && change->good != 0)
        g_hash_table_add (change->good > 0 ? better : worse, GUINT_TO_POINTER (change->thing_id));
    }
  n_better = g_hash_table_size (better);
  n_worse = g_hash_table_size (worse);
  if (!any)
    return g_strdup (_ ("The same within what can be known."));
  if (n_better == 0 && n_worse == 0)
    return g_strdup (_ ("Other air, but no plant is better or worse off for it."));
  /* Translators: how many plants something gets better for, and worse. A plant may count
   * twice. */
  return g_strdup_printf (_ ("Something gets better for plants: %u; something gets worse: %u."),
                          n_better, n_worse);
}
