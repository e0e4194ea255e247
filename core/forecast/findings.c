/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/findings.h"

#include "forecast/findings-private.h"
#include "transport/wet.h"

#include <math.h>
#include <string.h>

#define FILM_KG_M2 0.1 /* 0.1 mm of water */
#define LEAF_M 0.1
#define WET_EMITS 0.95 /* Incropera Table A.11 */

const char *
dew_finding_kind_key (DewFindingKind kind)
{
  static const char *const keys[DEW_N_FINDINGS] = {
    [DEW_FINDING_STILL] = "still",
    [DEW_FINDING_DRAUGHTY] = "draughty",
    [DEW_FINDING_SLOW_TO_DRY] = "slow_to_dry",
    [DEW_FINDING_MIST_WETS] = "mist_wets",
    [DEW_FINDING_ROOF_DRIP] = "roof_drip",
    [DEW_FINDING_SHELF_DRIP] = "shelf_drip",
    [DEW_FINDING_DRY] = "dry",
    [DEW_FINDING_MOIST] = "moist",
    [DEW_FINDING_WARM] = "warm",
    [DEW_FINDING_COOL] = "cool",
    [DEW_FINDING_DISEASE] = "disease",
    [DEW_FINDING_TANK] = "tank",
    [DEW_FINDING_LOAD] = "load",
    [DEW_FINDING_ELECTRIC] = "electric",
    [DEW_FINDING_DARK] = "dark",
    [DEW_FINDING_BRIGHT] = "bright",
    [DEW_FINDING_POT_DRY] = "pot_dry",
  };

  g_return_val_if_fail (kind >= 0 && kind < DEW_N_FINDINGS, "");
  return keys[kind];
}

double
dew_findings_drying_s (const DewClimate *climate, double pressure_Pa)
{
  DewWetSurface leaf = {
    .facing = DEW_FACING_UP,
    .length_m = LEAF_M,
    .emissivity = WET_EMITS,
    .wetted_fraction = 1.0,
    .t_air_C = climate->t_C,
    .w_air_kg_kg = climate->w_kg_kg,
    .p_Pa = pressure_Pa,
    .speed_m_s = climate->speed_m_s,
    .t_radiant_C = climate->t_C,
  };
  DewFilmAir film = dew_film_air (climate->t_C, pressure_Pa);
  double rate_kg_m2s = dew_wet_surface (&leaf, &film).evaporation_kg_m2s;

  if (isnan (rate_kg_m2s))
    return NAN;
  return rate_kg_m2s > 0.0 ? FILM_KG_M2 / rate_kg_m2s : INFINITY;
}

/* --- places ------------------------------------------------------------- */

const DewClimate *
dew_judge_climate (const DewJudge *judge, const double at_m[3])
{
  const DewForecast *f = judge->forecast;
  int bay = dew_forecast_bay_at (f, at_m[2]), place = dew_forecast_place_at (f, at_m);

  return place >= 0 ? &f->places[place].mean : bay >= 0 ? &f->bays[bay].mean : &f->all;
}

double
dew_judge_trifle (double band, double shown)
{
  return isfinite (band) ? MAX (0.5 * band, shown) : shown;
}

/* --- candidates --------------------------------------------------------- */

static const DewFindingKind kind_of[DEW_N_CAUSES] = {
  [DEW_CAUSE_STILL_AIR] = DEW_FINDING_STILL,
  [DEW_CAUSE_STREAM] = DEW_FINDING_DRAUGHTY,
  [DEW_CAUSE_WET_CROWN] = DEW_FINDING_SLOW_TO_DRY,
  [DEW_CAUSE_FALLING_MIST] = DEW_FINDING_MIST_WETS,
  [DEW_CAUSE_COLD_ROOF] = DEW_FINDING_ROOF_DRIP,
  [DEW_CAUSE_SHELF_ABOVE] = DEW_FINDING_SHELF_DRIP,
  [DEW_CAUSE_DRY_AIR] = DEW_FINDING_DRY,
  [DEW_CAUSE_FULL_AIR] = DEW_FINDING_MOIST,
  [DEW_CAUSE_WARM_DAY] = DEW_FINDING_WARM,
  [DEW_CAUSE_WARM_NIGHT] = DEW_FINDING_WARM,
  [DEW_CAUSE_COLD] = DEW_FINDING_COOL,
  [DEW_CAUSE_WETTED_LEAVES] = DEW_FINDING_DISEASE,
  [DEW_CAUSE_DAMP_STILLNESS] = DEW_FINDING_DISEASE,
  [DEW_CAUSE_SMALL_TANK] = DEW_FINDING_TANK,
  [DEW_CAUSE_OVERLOAD] = DEW_FINDING_LOAD,
  [DEW_CAUSE_UNEVEN_LOAD] = DEW_FINDING_LOAD,
  [DEW_CAUSE_TOP_HEAVY] = DEW_FINDING_LOAD,
  [DEW_CAUSE_MAINS_WET] = DEW_FINDING_ELECTRIC,
  [DEW_CAUSE_MAINS_INSIDE] = DEW_FINDING_ELECTRIC,
  [DEW_CAUSE_SHADE] = DEW_FINDING_DARK,
  [DEW_CAUSE_STRONG_LIGHT] = DEW_FINDING_BRIGHT,
  [DEW_CAUSE_SMALL_RESERVE] = DEW_FINDING_POT_DRY,
};

DewCandidate *
dew_judge_add (DewJudge *judge, DewFindingCause cause, int severity, const DewThing *thing,
               const double at_m[3])
{
  DewCandidate *candidate;
  DewFinding *finding;

  g_array_set_size (judge->candidates, judge->candidates->len + 1);
  candidate = &g_array_index (judge->candidates, DewCandidate, judge->candidates->len - 1);
  finding = &candidate->finding;
  finding->kind = kind_of[cause];
  finding->cause = cause;
  finding->severity = severity;
  finding->thing_id = thing ? thing->id : 0;
  finding->bay = dew_forecast_bay_at (judge->forecast, at_m[2]);
  memcpy (finding->at_m, at_m, sizeof finding->at_m);
  if (thing)
    g_strlcpy (finding->name, thing->name, sizeof finding->name);
  return candidate;
}

/* A limit of 0 or of below-zero degrees has no ratio: then the difference counts. */
static void
measure (DewCandidate *candidate, double value, double threshold, DewLimit limit, double by)
{
  candidate->finding.value = value;
  candidate->finding.threshold = threshold;
  candidate->finding.limit = limit;
  candidate->excess = 1.0 + by / MAX (fabs (threshold), 1e-9);
}

void
dew_candidate_above (DewCandidate *candidate, double value, double threshold, DewLimit limit)
{
  measure (candidate, value, threshold, limit, value - threshold);
}

void
dew_candidate_below (DewCandidate *candidate, double value, double threshold, DewLimit limit)
{
  measure (candidate, value, threshold, limit, threshold - value);
}

/* --- what each place and thing has ---------------------------------------- */

/* About the air, light and water at a place, not about the device that stands there. */
static gboolean
is_of_a_place (DewFindingKind kind)
{
  return kind != DEW_FINDING_TANK && kind != DEW_FINDING_LOAD && kind != DEW_FINDING_ELECTRIC
         && kind != DEW_FINDING_POT_DRY;
}

static void
mark_place (DewForecast *f, const DewCandidate *c)
{
  for (int p = 0; p < f->n_places; p++)
    {
      DewPlace *place = &f->places[p];

      if (place->bay != c->finding.bay || c->finding.at_m[0] < place->lo_m[0]
          || c->finding.at_m[0] >= place->hi_m[0] || c->finding.at_m[1] < place->lo_m[1]
          || c->finding.at_m[1] >= place->hi_m[1])
        continue;
      place->severity = c->finding.severity;
      place->worst = c->finding.kind;
      place->excess = c->excess;
    }
}

/* The worst comes first in `candidates`, so going backwards it has the last word. */
static void
mark_all (DewForecast *f, const GArray *candidates)
{
  for (int p = 0; p < f->n_places; p++)
    {
      f->places[p].severity = 0;
      f->places[p].worst = -1;
      f->places[p].excess = NAN;
    }
  for (int d = 0; d < f->n_devices; d++)
    {
      f->devices[d].severity = 0;
      f->devices[d].worst = -1;
    }
  for (guint i = candidates->len; i > 0; i--)
    {
      const DewCandidate *c = &g_array_index (candidates, DewCandidate, i - 1);

      if (is_of_a_place (c->finding.kind))
        mark_place (f, c);
      for (int d = 0; c->finding.thing_id != 0 && d < f->n_devices; d++)
        {
          if (f->devices[d].thing_id != c->finding.thing_id)
            continue;
          f->devices[d].severity = c->finding.severity;
          f->devices[d].worst = c->finding.kind;
        }
    }
}

/* What stands apart in the list: tanks and shelves by themselves, all else by bay. */
static gboolean
same_subject (const DewFinding *a, const DewFinding *b)
{
  if (a->kind != b->kind)
    return FALSE;
  switch (a->kind)
    {
    case DEW_FINDING_TANK:
    case DEW_FINDING_LOAD:
      return a->thing_id == b->thing_id;
    default:
      return a->bay == b->bay;
    }
}

static int
worse_first (gconstpointer pa, gconstpointer pb)
{
  const DewCandidate *a = pa, *b = pb;

  if (a->finding.severity != b->finding.severity)
    return b->finding.severity - a->finding.severity;
  if (a->excess != b->excess)
    return a->excess < b->excess ? 1 : -1;
  if (a->finding.kind != b->finding.kind)
    return (int) a->finding.kind - (int) b->finding.kind;
  if (a->finding.bay != b->finding.bay)
    return a->finding.bay - b->finding.bay;
  return a->finding.thing_id < b->finding.thing_id ? -1 : a->finding.thing_id > b->finding.thing_id;
}

void
dew_findings_make (const DewChamber *chamber, const DewVariant *variant, DewPlantWishLookup lookup,
                   gpointer data, DewForecast *forecast)
{
  g_autoptr (GArray) candidates = g_array_new (FALSE, TRUE, sizeof (DewCandidate));
  DewJudge judge = { chamber, variant, forecast, lookup, data, candidates };
  guint n = 0;

  g_return_if_fail (chamber != NULL && variant != NULL && forecast != NULL);

  dew_judge_plants (&judge);
  dew_judge_places (&judge);
  dew_judge_devices (&judge);
  dew_judge_loads (&judge);
  g_array_sort (candidates, worse_first);
  mark_all (forecast, candidates);

  g_free (forecast->findings);
  forecast->findings = g_new0 (DewFinding, candidates->len);
  for (guint i = 0; i < candidates->len; i++)
    {
      DewCandidate *c = &g_array_index (candidates, DewCandidate, i);
      guint first;

      for (first = 0; first < n; first++)
        if (same_subject (&g_array_index (candidates, DewCandidate, first).finding, &c->finding))
          break;
      if (first < n)
        {
          /* Plants are counted; empty places round them are not worth a number. */
          if (c->finding.thing_id != 0)
            g_array_index (candidates, DewCandidate, first).finding.others++;
          continue;
        }
      if (n != i)
        g_array_index (candidates, DewCandidate, n) = *c;
      n++;
    }
  for (guint i = 0; i < n; i++)
    {
      forecast->findings[i] = g_array_index (candidates, DewCandidate, i).finding;
      dew_judge_blame (&judge, &forecast->findings[i]);
    }
  forecast->n_findings = n;
}
