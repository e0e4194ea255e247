/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/findings-private.h"

#include "moist/constants.h"

#include <math.h>

#define FAR_RH 0.05 /* beyond its band by this much a plant suffers soon: act. */
#define FAR_T_K 2.0 /* Common practice, no source. */
/* Full air by itself harms little, wet and still air does (AEX-804-01). */
#define FAR_RH_OVER 0.12

/* The last digit that people see: at its limit is not beyond it. */
#define SHOWN_M_S 0.005
#define SHOWN_RH 0.005
#define SHOWN_T_K 0.05
#define SHOWN_MOL_M2S 0.5e-6

/* Plants of no known kind: only what would trouble nearly every plant. */
static const DewPlantWish anything = {
  .t_day_min_C = NAN,
  .t_day_max_C = NAN,
  .t_night_min_C = NAN,
  .t_night_max_C = NAN,
  .rh_min = NAN,
  .rh_max = NAN,
  .speed_lo_m_s = NAN,
  .speed_hi_m_s = NAN,
  .ppfd_lo_mol_m2s = NAN,
  .ppfd_hi_mol_m2s = NAN,
  .crown = DEW_CROWN_BRIEF,
};

/* --- shared by plants and empty places ---------------------------------- */

/* Without any exchange the age has no end: NAN counts as old. */
gboolean
dew_judge_old_air (const DewJudge *judge, const DewClimate *climate)
{
  double mean_s = judge->forecast->all.age_s;

  return isnan (climate->age_s) || climate->age_s > dew_limit (DEW_LIMIT_OLD) * mean_s
         || climate->age_s > dew_limit (DEW_LIMIT_UNCHANGED) * DEW_S_PER_H;
}

void
dew_judge_still (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                 const DewClimate *climate, double limit_m_s)
{
  DewCandidate *c = dew_judge_add (judge, DEW_CAUSE_STILL_AIR, severity, thing, at_m);

  dew_candidate_below (c, climate->speed_m_s, limit_m_s, DEW_LIMIT_STILL);
}

double
dew_judge_mist_limit (const DewJudge *judge, const DewClimate *climate)
{
  double drying_s = dew_findings_drying_s (climate, judge->forecast->pressure_Pa);
  double loses_kg_m2s = isinf (drying_s) ? 0.0 : 0.1 / drying_s;

  return MAX (loses_kg_m2s, dew_limit (DEW_LIMIT_MIST) / 1000.0 / DEW_S_PER_H);
}

void
dew_judge_mist (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                const DewClimate *climate)
{
  double limit_kg_m2s = dew_judge_mist_limit (judge, climate);
  DewCandidate *c;

  if (!(climate->wetting_kg_m2s > limit_kg_m2s))
    return;
  c = dew_judge_add (judge, DEW_CAUSE_FALLING_MIST, severity, thing, at_m);
  dew_candidate_above (c, climate->wetting_kg_m2s, limit_kg_m2s, DEW_LIMIT_MIST);
}

void
dew_judge_drip (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                const DewClimate *climate)
{
  int bay = dew_forecast_bay_at (judge->forecast, at_m[2]);
  gboolean roof = bay == judge->forecast->n_bays - 1;
  double ml_h = climate->drip_kg_s * 1000.0 * DEW_S_PER_H;
  DewCandidate *c;

  if (!(ml_h > dew_limit (DEW_LIMIT_DRIP)))
    return;
  c = dew_judge_add (judge, roof ? DEW_CAUSE_COLD_ROOF : DEW_CAUSE_SHELF_ABOVE, severity, thing,
                     at_m);
  dew_candidate_above (c, climate->drip_kg_s, dew_limit (DEW_LIMIT_DRIP) / 1000.0 / DEW_S_PER_H,
                       DEW_LIMIT_DRIP);
}

/* --- one plant ---------------------------------------------------------- */

typedef struct
{
  DewJudge *judge;
  const DewThing *plant;
  const DewPlantWish *wish;
  const DewClimate *climate;
  double at_m[3];
  gboolean wetted; /* by mist or drip */
  double drying_s;
} Spot;

static DewCandidate *
add (const Spot *spot, DewFindingCause cause, int severity)
{
  return dew_judge_add (spot->judge, cause, severity, spot->plant, spot->at_m);
}

static void
judge_air (const Spot *spot)
{
  const DewPlantWish *wish = spot->wish;
  double speed = spot->climate->speed_m_s;
  double still = dew_limit (DEW_LIMIT_STILL);
  gboolean wants_still = wish->speed_lo_m_s < still;
  double limit;

  /* Half of what it likes at least, but nobody asks for less than dead air. */
  limit = isnan (wish->speed_lo_m_s) ? still : MAX (still, 0.5 * wish->speed_lo_m_s);
  /* Still air is a matter of mould: here only what reads as the limit itself is let pass. */
  if (!wants_still && speed < limit - SHOWN_M_S && dew_judge_old_air (spot->judge, spot->climate))
    dew_judge_still (spot->judge, spot->plant, spot->at_m, speed < still ? 2 : 1, spot->climate,
                     limit);

  {
    gboolean mount = spot->plant->plant.mass_kg == 0.0;
    gboolean drying = spot->climate->vpd_Pa > dew_limit (DEW_LIMIT_DRYING_AIR);
    DewLimit which = mount && drying ? DEW_LIMIT_MOUNT_DRAUGHT : DEW_LIMIT_DRAUGHT;
    gboolean by_wish = wish->speed_hi_m_s < dew_limit (which);
    DewCandidate *c;

    limit = by_wish ? wish->speed_hi_m_s : dew_limit (which);
    if (!(speed - limit > dew_judge_trifle (spot->climate->speed_band_m_s, SHOWN_M_S)))
      return;
    c = add (spot, DEW_CAUSE_STREAM, speed > 1.5 * limit ? 2 : 1);
    dew_candidate_above (c, speed, limit, by_wish ? DEW_LIMIT_WISH : which);
  }
}

static void
judge_drying (const Spot *spot)
{
  DewLimit which
    = spot->wish->crown == DEW_CROWN_HARMFUL ? DEW_LIMIT_DRY_HARMFUL : DEW_LIMIT_DRY_BRIEF;
  double drying_s = MIN (spot->drying_s, 99.0 * DEW_S_PER_H);
  double limit_s = dew_limit (which) * DEW_S_PER_H;
  DewCandidate *c;

  if (spot->wish->crown > DEW_CROWN_BRIEF || !(drying_s > limit_s))
    return;
  c = add (spot, DEW_CAUSE_WET_CROWN, spot->wetted ? 2 : 1);
  dew_candidate_above (c, drying_s, limit_s, which);
}

/* A limit of temperature, humidity or light. */
static void
judge_band (const Spot *spot, DewFindingCause cause, double value, double limit, double far,
            double band, double shown)
{
  gboolean above = cause == DEW_CAUSE_FULL_AIR || cause == DEW_CAUSE_WARM_DAY
                   || cause == DEW_CAUSE_WARM_NIGHT || cause == DEW_CAUSE_STRONG_LIGHT;
  double by = above ? value - limit : limit - value;
  DewCandidate *c;

  if (!(by > dew_judge_trifle (band, shown))) /* NAN: no wish */
    return;
  /* Within the forecast's own uncertainty it is a thing to watch. */
  c = add (spot, cause, by > far && !(by < band) ? 2 : 1);
  if (above)
    dew_candidate_above (c, value, limit, DEW_LIMIT_WISH);
  else
    dew_candidate_below (c, value, limit, DEW_LIMIT_WISH);
}

static void
judge_climate (const Spot *spot)
{
  const DewClimate *air = spot->climate;
  const DewPlantWish *wish = spot->wish;
  gboolean night = spot->judge->forecast->night;

  judge_band (spot, DEW_CAUSE_DRY_AIR, air->rh, wish->rh_min, FAR_RH, air->rh_band, SHOWN_RH);
  judge_band (spot, DEW_CAUSE_FULL_AIR, air->rh, wish->rh_max, FAR_RH_OVER, air->rh_band, SHOWN_RH);
  judge_band (spot, night ? DEW_CAUSE_WARM_NIGHT : DEW_CAUSE_WARM_DAY, air->t_C,
              night ? wish->t_night_max_C : wish->t_day_max_C, FAR_T_K, air->t_band_K, SHOWN_T_K);
  judge_band (spot, DEW_CAUSE_COLD, air->t_C, night ? wish->t_night_min_C : wish->t_day_min_C,
              FAR_T_K, air->t_band_K, SHOWN_T_K);
}

static void
judge_light (const Spot *spot)
{
  double ppfd_mol_m2s = spot->climate->ppfd_mol_m2s;
  double lo_mol_m2s = spot->wish->ppfd_lo_mol_m2s, hi_mol_m2s = spot->wish->ppfd_hi_mol_m2s;

  if (spot->judge->forecast->night)
    return;
  judge_band (spot, DEW_CAUSE_SHADE, ppfd_mol_m2s, lo_mol_m2s, 0.5 * lo_mol_m2s, NAN,
              SHOWN_MOL_M2S);
  judge_band (spot, DEW_CAUSE_STRONG_LIGHT, ppfd_mol_m2s, hi_mol_m2s, 0.5 * hi_mol_m2s, NAN,
              SHOWN_MOL_M2S);
}

static void
judge_disease (const Spot *spot)
{
  double wet_s = spot->wetted ? MIN (spot->drying_s, 24.0 * DEW_S_PER_H) : 0.0;
  double needs_s = dew_limit_wet_h (spot->climate->t_C) * DEW_S_PER_H;
  DewCandidate *c;

  if (spot->wish->crown == DEW_CROWN_WELCOME)
    return;
  if (wet_s > needs_s)
    {
      c = add (spot, DEW_CAUSE_WETTED_LEAVES, spot->wish->crown == DEW_CROWN_HARMFUL ? 2 : 1);
      dew_candidate_above (c, wet_s, needs_s, DEW_LIMIT_WET_HOURS);
    }
  else if (spot->climate->vpd_Pa < dew_limit (DEW_LIMIT_DAMP)
           && spot->climate->speed_m_s < dew_limit (DEW_LIMIT_STILL)
           && !(spot->wish->speed_lo_m_s < dew_limit (DEW_LIMIT_STILL)))
    {
      c = add (spot, DEW_CAUSE_DAMP_STILLNESS, 1);
      dew_candidate_below (c, spot->climate->vpd_Pa, dew_limit (DEW_LIMIT_DAMP), DEW_LIMIT_DAMP);
    }
}

static void
judge_wetting (const Spot *spot)
{
  int severity = spot->wish->crown == DEW_CROWN_HARMFUL ? 2 : 1;

  if (spot->wish->crown > DEW_CROWN_BRIEF)
    return;
  dew_judge_mist (spot->judge, spot->plant, spot->at_m, severity, spot->climate);
  dew_judge_drip (spot->judge, spot->plant, spot->at_m, severity, spot->climate);
}

void
dew_judge_plants (DewJudge *judge)
{
  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      const DewThing *plant = &g_array_index (judge->variant->things, DewThing, i);
      DewPlantWish wish = anything;
      Spot spot;

      if (plant->kind != DEW_THING_PLANT)
        continue;
      if (!judge->lookup || !plant->plant.species[0]
          || !judge->lookup (plant->plant.species, &wish, judge->lookup_data))
        wish = anything;
      spot = (Spot){ .judge = judge,
                     .plant = plant,
                     .wish = &wish,
                     .at_m = { plant->plant.x_m, plant->plant.y_m, plant->plant.z_m } };
      spot.climate = dew_judge_climate (judge, spot.at_m);
      spot.drying_s = dew_findings_drying_s (spot.climate, judge->forecast->pressure_Pa);
      spot.wetted = spot.climate->wetting_kg_m2s > dew_judge_mist_limit (judge, spot.climate)
                    || spot.climate->drip_kg_s * 1000.0 * DEW_S_PER_H > dew_limit (DEW_LIMIT_DRIP);
      if (spot.climate->wetting_kg_m2s > dew_judge_mist_limit (judge, spot.climate))
        spot.drying_s = INFINITY;
      judge_air (&spot);
      judge_wetting (&spot);
      judge_drying (&spot);
      judge_climate (&spot);
      judge_light (&spot);
      judge_disease (&spot);
    }
}

/* --- places without a plant --------------------------------------------- */

/* What the plants of a bay say about its empty places. */
static void
plants_of_bay (const DewJudge *judge, int bay, int *n, gboolean *all_want_still)
{
  *n = 0;
  *all_want_still = TRUE;
  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      const DewThing *plant = &g_array_index (judge->variant->things, DewThing, i);
      DewPlantWish wish = anything;

      if (plant->kind != DEW_THING_PLANT
          || dew_forecast_bay_at (judge->forecast, plant->plant.z_m) != bay)
        continue;
      (*n)++;
      if (!judge->lookup || !plant->plant.species[0]
          || !judge->lookup (plant->plant.species, &wish, judge->lookup_data)
          || !(wish.speed_lo_m_s < dew_limit (DEW_LIMIT_STILL)))
        *all_want_still = FALSE;
    }
}

void
dew_judge_places (DewJudge *judge)
{
  const DewForecast *f = judge->forecast;

  for (int bay = 0; bay < f->n_bays; bay++)
    {
      int n;
      gboolean all_want_still;

      plants_of_bay (judge, bay, &n, &all_want_still);
      for (int p = 0; p < f->n_places; p++)
        {
          const DewPlace *place = &f->places[p];
          double at_m[3];

          if (place->bay != bay)
            continue;
          for (int a = 0; a < 3; a++)
            at_m[a] = 0.5 * (place->lo_m[a] + place->hi_m[a]);
          if (place->mean.speed_m_s < dew_limit (DEW_LIMIT_STILL) - SHOWN_M_S
              && dew_judge_old_air (judge, &place->mean) && !(n > 0 && all_want_still))
            dew_judge_still (judge, NULL, at_m, 1, &place->mean, dew_limit (DEW_LIMIT_STILL));
          /* Mist and drops beside the plants do no harm. */
          if (n > 0)
            continue;
          dew_judge_mist (judge, NULL, at_m, 1, &place->mean);
          dew_judge_drip (judge, NULL, at_m, 1, &place->mean);
        }
    }
}
