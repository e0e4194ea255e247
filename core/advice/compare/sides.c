/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/compare/compare-private.h"

#include "forecast/probe.h"
#include "moist/constants.h"

#include <math.h>
#include <string.h>

/* Common practice, no source. */
#define NOTICED_MERIT 0.03
#define PLANT_MATTERS 2.0
#define FINDING_MATTERS 3.0

typedef struct
{
  DewComparison *comparison;
  const DewVariant *base, *other;
  int side;
  int *bay_of; /* [bays of the first side] bay of the other, -1 */
} Pair;

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

      pair->bay_of[i] = a->n_bays == b->n_bays ? i : dew_forecast_bay_at (b, middle_m);
    }
}

/* The shelf that a bay stands on, from below; 0: the floor. */
static int
shelf_of (const DewForecast *forecast, int bay)
{
  int shelf = 0;

  for (int b = 0; b <= bay; b++)
    shelf += forecast->bays[b].shelf_id != 0;
  return forecast->bays[bay].shelf_id != 0 ? shelf : 0;
}

static double
bay_drip_kg_s (const DewForecast *forecast, int bay)
{
  double sum = 0.0;

  for (int p = 0; p < forecast->n_places; p++)
    if (forecast->places[p].bay == bay)
      sum += forecast->places[p].mean.drip_kg_s;
  return sum;
}

/* The unknown things are the same in both layouts (one cover, one room), so that the errors
 * go together: the band of a difference is taken as the larger of the two, not their sum. */
static double
joint (double a, double b)
{
  return isnan (a) || isnan (b) ? NAN : MAX (a, b);
}

static void
compare_bay (const Pair *pair, int bay, gboolean night, DewChangeOf of, double from, double to,
             double band, int more_is)
{
  const DewForecast *a = dew_compare_forecast (&pair->comparison->sides[0], night);
  double by = to - from, noticed = dew_change_noticed (of);
  DewChange change = { .subject = DEW_COMPARE_BAY,
                       .of = of,
                       .when = night ? DEW_CHANGE_BY_NIGHT : DEW_CHANGE_BY_DAY,
                       .side = pair->side,
                       .bay = bay,
                       .shelf = shelf_of (a, bay),
                       .from = from,
                       .to = to,
                       .band = band,
                       .beyond = !(fabs (by) < band),
                       .good = by > 0.0 ? more_is : -more_is,
                       .matters = fabs (by) / noticed };

  g_strlcpy (change.name, a->bays[bay].name, sizeof change.name);
  if (fabs (by) >= noticed)
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
      compare_bay (pair, i, night, DEW_CHANGE_RH, from->rh, to->rh,
                   joint (from->rh_band, to->rh_band), 0);
      compare_bay (pair, i, night, DEW_CHANGE_T, from->t_C, to->t_C,
                   joint (from->t_band_K, to->t_band_K), 0);
      compare_bay (pair, i, night, DEW_CHANGE_STILL, from->still_share, to->still_share,
                   joint (from->still_band, to->still_band), -1);
      compare_bay (pair, i, night, DEW_CHANGE_DRIP, bay_drip_kg_s (a, i), bay_drip_kg_s (b, j), NAN,
                   -1);
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

/* What a demand measures; DEW_N_CHANGES: nothing that another layout changes. */
static DewChangeOf
change_of (DewDemand demand)
{
  switch (demand)
    {
    case DEW_DEMAND_T_DAY:
    case DEW_DEMAND_T_NIGHT:
      return DEW_CHANGE_T;
    case DEW_DEMAND_RH_DAY:
    case DEW_DEMAND_RH_NIGHT:
      return DEW_CHANGE_RH;
    case DEW_DEMAND_AIR:
      return DEW_CHANGE_SPEED;
    case DEW_DEMAND_LIGHT:
      return DEW_CHANGE_PPFD;
    case DEW_DEMAND_MIST:
      return DEW_CHANGE_MIST;
    case DEW_DEMAND_DRIP:
      return DEW_CHANGE_DRIP;
    case DEW_DEMAND_DRYING:
      return DEW_CHANGE_DRYING;
    default:
      return DEW_N_CHANGES;
    }
}

/* One demand of one plant: told when it makes the plant better or worse off. */
static void
compare_demand (const Pair *pair, const DewThing *plant, DewDemand demand, const DewFitDemand *from,
                const DewFitDemand *to)
{
  gboolean night = demand == DEW_DEMAND_T_NIGHT || demand == DEW_DEMAND_RH_NIGHT;
  double si = dew_demand_si (demand), gain = to->merit - from->merit;
  DewChange change = { .subject = DEW_COMPARE_PLANT,
                       .of = change_of (demand),
                       .when = night ? DEW_CHANGE_BY_NIGHT : DEW_CHANGE_BY_DAY,
                       .side = pair->side,
                       .bay = -1,
                       .thing_id = plant->id,
                       .from = si * from->value,
                       .to = si * to->value,
                       .band = si * joint (from->band, to->band),
                       .good = gain > 0.0 ? 1 : -1,
                       .matters = PLANT_MATTERS * fabs (gain) / NOTICED_MERIT };

  if (change.of == DEW_N_CHANGES || isnan (from->margin) || isnan (to->margin)
      || fabs (gain) < NOTICED_MERIT)
    return;
  change.beyond = !(fabs (change.to - change.from) < change.band);
  g_strlcpy (change.name, plant->name, sizeof change.name);
  g_array_append_val (pair->comparison->changes, change);
}

static void
only_there (const Pair *pair, const DewThing *plant, int side)
{
  DewChange change = { .subject = DEW_COMPARE_PLANT,
                       .of = DEW_CHANGE_STANDS,
                       .side = pair->side,
                       .bay = -1,
                       .thing_id = plant->id,
                       .only_in = side,
                       .from = NAN,
                       .to = NAN,
                       .band = NAN,
                       .beyond = TRUE,
                       .matters = PLANT_MATTERS };

  g_strlcpy (change.name, plant->name, sizeof change.name);
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
        only_there (pair, plant, pair->side);
      else if (dew_compare_fit (pair->base, first, was, lookup, data, &from)
               && dew_compare_fit (pair->other, side, plant, lookup, data, &to))
        for (int d = 0; d < DEW_N_DEMANDS; d++)
          compare_demand (pair, plant, d, &from.demand[d], &to.demand[d]);
    }
  for (guint i = 0; i < pair->base->things->len; i++)
    {
      const DewThing *plant = &g_array_index (pair->base->things, DewThing, i);

      if (plant->kind == DEW_THING_PLANT && partner (pair->base, i, pair->other) == NULL)
        only_there (pair, plant, 0);
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

/* A finding (index) that only one side has; bay: of the first side. */
static void
tell_finding (const Pair *pair, int finding, int only_in, int bay, gboolean night)
{
  const DewFinding *found
    = &dew_compare_forecast (&pair->comparison->sides[only_in], night)->findings[finding];
  DewChange change = { .subject = DEW_COMPARE_FINDING,
                       .of = DEW_CHANGE_FINDING,
                       .when = night ? DEW_CHANGE_BY_NIGHT : DEW_CHANGE_BY_DAY,
                       .side = pair->side,
                       .bay = bay,
                       .thing_id = found->thing_id,
                       .only_in = only_in,
                       .finding = finding,
                       .from = NAN,
                       .to = NAN,
                       .band = NAN,
                       .beyond = TRUE,
                       .good = only_in == 0 ? 1 : -1,
                       .matters = FINDING_MATTERS * found->severity };

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
        tell_finding (pair, i, 0, a->findings[i].bay, night);
    }
  for (int i = 0; i < b->n_findings; i++)
    {
      int bay = b->findings[i].bay < 0 ? -1 : bay_back (pair, b->findings[i].bay);

      if (!has_finding (pair, a, pair->base, &b->findings[i], bay, pair->other))
        tell_finding (pair, i, pair->side, bay, night);
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
                       .of = DEW_CHANGE_WATER,
                       .side = pair->side,
                       .bay = -1,
                       .from = a->water_kg_day,
                       .to = b->water_kg_day,
                       .band = NAN,
                       .beyond = TRUE,
                       .good = by < 0.0 ? 1 : -1,
                       .matters = fabs (by) / dew_change_noticed (DEW_CHANGE_WATER) };

  if (!(fabs (by) < dew_change_noticed (DEW_CHANGE_WATER)))
    g_array_append_val (pair->comparison->changes, change);
}

void
dew_compare_changes (DewComparison *comparison, const DewChamber *chamber, int side,
                     DewPlantKindLookup lookup, gpointer data)
{
  Pair pair = { .comparison = comparison, .side = side };
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
