/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/findings-private.h"

#include <glib/gi18n.h>

#include <math.h>

#define S_PER_H 3600.0
#define FAR_RH 0.05 /* beyond its band by this much a plant suffers soon: act. */
#define FAR_T_K 2.0 /* Common practice, no source. */

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
         || climate->age_s > dew_limit (DEW_LIMIT_UNCHANGED) * S_PER_H;
}

void
dew_judge_still (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                 const DewClimate *climate, double limit_m_s)
{
  DewCandidate *c = dew_judge_add (judge, DEW_FINDING_STILL, severity, thing, at_m);

  dew_candidate_below (c, climate->speed_m_s, limit_m_s, "m/s", dew_limit_source (DEW_LIMIT_STILL));
  dew_candidate_say (
    c, _ ("still"),
    _ ("The air here hardly moves and is seldom replaced, so what gets wet stays wet "
       "and mould finds its place."),
    _ ("Turn a fan so that it blows along a wall past this spot, keep a gap at the "
       "shelf's edge, or grow here what likes still air."));
}

double
dew_judge_mist_limit (const DewJudge *judge, const DewClimate *climate)
{
  double drying_h = dew_findings_drying_h (climate, judge->forecast->pressure_Pa);
  double loses_kg_m2s = isinf (drying_h) ? 0.0 : 0.1 / (drying_h * S_PER_H);

  return MAX (loses_kg_m2s, dew_limit (DEW_LIMIT_MIST) / 1000.0 / S_PER_H);
}

void
dew_judge_mist (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                const DewClimate *climate)
{
  double limit_kg_m2s = dew_judge_mist_limit (judge, climate);
  DewCandidate *c;

  if (!(climate->wetting_kg_m2s > limit_kg_m2s))
    return;
  c = dew_judge_add (judge, DEW_FINDING_MIST_WETS, severity, thing, at_m);
  dew_candidate_above (c, climate->wetting_kg_m2s * 1000.0 * S_PER_H,
                       limit_kg_m2s * 1000.0 * S_PER_H, "mL/m2h",
                       dew_limit_source (DEW_LIMIT_MIST));
  dew_candidate_say (
    c, _ ("wet"),
    _ ("More mist comes down here than this humid air can take up again, so leaves "
       "stay wet."),
    _ ("Point the outlet elsewhere, raise it into moving air, run it less, or move "
       "the plant out of the fog."));
}

void
dew_judge_drip (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                const DewClimate *climate)
{
  int bay = dew_judge_bay (judge, at_m[2]);
  gboolean roof = bay == judge->forecast->n_bays - 1;
  double ml_h = climate->drip_kg_s * 1000.0 * S_PER_H;
  DewCandidate *c;

  if (!(ml_h > dew_limit (DEW_LIMIT_DRIP)))
    return;
  c = dew_judge_add (judge, roof ? DEW_FINDING_ROOF_DRIP : DEW_FINDING_SHELF_DRIP, severity, thing,
                     at_m);
  dew_candidate_above (c, ml_h, dew_limit (DEW_LIMIT_DRIP), "mL/h",
                       dew_limit_source (DEW_LIMIT_DRIP));
  if (roof)
    dew_candidate_say (
      c, _ ("drip"),
      _ ("The roof is colder than the dew point of the air under it; the water "
         "gathers and falls here."),
      _ ("Lay something insulating on the roof, tilt it so that the water runs off, "
         "let air pass along it, or make less mist at night."));
  else
    dew_candidate_say (c, _ ("drip"),
                       _ ("Water falls from the shelf above, or through it from higher up."),
                       _ ("Put a tray under what is above, or move the plant out from under the "
                          "drip."));
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
  double drying_h;
} Spot;

static DewCandidate *
add (const Spot *spot, DewFindingKind kind, int severity)
{
  return dew_judge_add (spot->judge, kind, severity, spot->plant, spot->at_m);
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
  if (!wants_still && speed < limit && dew_judge_old_air (spot->judge, spot->climate))
    dew_judge_still (spot->judge, spot->plant, spot->at_m, speed < still ? 2 : 1, spot->climate,
                     limit);

  {
    gboolean mount = spot->plant->plant.mass_kg == 0.0;
    gboolean drying = spot->climate->vpd_Pa > dew_limit (DEW_LIMIT_DRYING_AIR);
    DewLimit which = mount && drying ? DEW_LIMIT_MOUNT_DRAUGHT : DEW_LIMIT_DRAUGHT;
    gboolean by_wish = wish->speed_hi_m_s < dew_limit (which);
    DewCandidate *c;

    limit = by_wish ? wish->speed_hi_m_s : dew_limit (which);
    if (!(speed > limit))
      return;
    c = add (spot, DEW_FINDING_DRAUGHTY, speed > 1.5 * limit ? 2 : 1);
    dew_candidate_above (c, speed, limit, "m/s",
                         by_wish ? _ ("Plant catalogue") : dew_limit_source (which));
    dew_candidate_say (
      c, _ ("draught"),
      _ ("A stream of air from a fan or an opening meets the leaves; they lose more "
         "water than they like."),
      _ ("Aim the fan past the plants, slow it down, or put something sturdy in the "
         "stream."));
  }
}

static void
judge_drying (const Spot *spot)
{
  DewLimit which
    = spot->wish->crown == DEW_CROWN_HARMFUL ? DEW_LIMIT_DRY_HARMFUL : DEW_LIMIT_DRY_BRIEF;
  double hours = MIN (spot->drying_h, 99.0);
  g_autofree char *word = NULL;
  DewCandidate *c;

  if (spot->wish->crown > DEW_CROWN_BRIEF || !(hours > dew_limit (which)))
    return;
  /* Translators: on a flag; keep it short. */
  word = g_strdup_printf (_ ("wet for %.0f h"), hours);
  c = add (spot, DEW_FINDING_SLOW_TO_DRY, spot->wetted ? 2 : 1);
  dew_candidate_above (c, hours, dew_limit (which), "h", dew_limit_source (which));
  dew_candidate_say (c, word, _ ("In air this humid and slow, water in the crown stays for hours."),
                     _ ("Keep water out of the crown, water early in the day, or let more air pass "
                        "here."));
}

/* A limit of temperature, humidity or light; the value is what people read. */
static void
judge_band (const Spot *spot, DewFindingKind kind, double value, double limit, double far,
            double band, const char *unit, const char *word, const char *cause, const char *remedy)
{
  gboolean above
    = kind == DEW_FINDING_MOIST || kind == DEW_FINDING_WARM || kind == DEW_FINDING_BRIGHT;
  double by = above ? value - limit : limit - value;
  DewCandidate *c;

  if (!(by > 0.0)) /* NAN: no wish */
    return;
  /* Within the forecast's own uncertainty it is a thing to watch. */
  c = add (spot, kind, by > far && !(by < band) ? 2 : 1);
  if (above)
    dew_candidate_above (c, value, limit, unit, _ ("Plant catalogue"));
  else
    dew_candidate_below (c, value, limit, unit, _ ("Plant catalogue"));
  dew_candidate_say (c, word, cause, remedy);
}

static void
judge_climate (const Spot *spot)
{
  const DewClimate *air = spot->climate;
  const DewPlantWish *wish = spot->wish;
  gboolean night = spot->judge->forecast->night;

  judge_band (spot, DEW_FINDING_DRY, 100.0 * air->rh, 100.0 * wish->rh_min, 100.0 * FAR_RH,
              100.0 * air->rh_band, "%", _ ("dry"),
              _ ("More humid air leaves here than comes, or the shelf is warmer than the rest."),
              _ ("Close an opening a little, give more mist or wet clay near by, or move the plant "
                 "lower."));
  judge_band (spot, DEW_FINDING_MOIST, 100.0 * air->rh, 100.0 * wish->rh_max, 100.0 * FAR_RH,
              100.0 * air->rh_band, "%", _ ("humid"), _ ("The air here is close to full of water."),
              _ ("Open a little above and below, run the mist less, or move the plant to a drier "
                 "shelf."));
  judge_band (spot, DEW_FINDING_WARM, air->t_C, night ? wish->t_night_max_C : wish->t_day_max_C,
              FAR_T_K, air->t_band_K, "°C", _ ("warm"),
              night ? _ ("The night stays warmer than this plant bears.")
                    : _ ("Lamps, the room or the sun make it warmer than this plant bears."),
              night ? _ ("A cooler room at night, more exchange with it, or the lowest shelf.")
                    : _ ("More distance to the lamp, lamps on at night, more exchange, or a lower "
                         "shelf."));
  judge_band (
    spot, DEW_FINDING_COOL, air->t_C, night ? wish->t_night_min_C : wish->t_day_min_C, FAR_T_K,
    air->t_band_K, "°C", _ ("cool"),
    _ ("The room, a cold cover or evaporating water keep it cooler than this plant bears."),
    _ ("Less exchange, a heat mat, a higher shelf, or another plant here."));
}

static void
judge_light (const Spot *spot)
{
  double umol = spot->climate->ppfd_mol_m2s * 1e6;
  gboolean lamps = FALSE;

  for (guint i = 0; i < spot->judge->variant->things->len; i++)
    lamps |= g_array_index (spot->judge->variant->things, DewThing, i).kind == DEW_THING_LAMP;
  /* Without lamps it lives by window light, of which nothing is known here. */
  if (spot->judge->forecast->night || !lamps)
    return;
  judge_band (spot, DEW_FINDING_DARK, umol, spot->wish->ppfd_lo_mol_m2s * 1e6,
              0.5 * spot->wish->ppfd_lo_mol_m2s * 1e6, NAN, "umol/m2s", _ ("dark"),
              _ ("Little of the lamps' light reaches this spot."),
              _ ("Bring it nearer to the lamp, out of the shade of shelf and neighbours, or add "
                 "light."));
  judge_band (spot, DEW_FINDING_BRIGHT, umol, spot->wish->ppfd_hi_mol_m2s * 1e6,
              0.5 * spot->wish->ppfd_hi_mol_m2s * 1e6, NAN, "umol/m2s", _ ("bright"),
              _ ("The lamp is near and strong."),
              _ ("More distance to the lamp, less power, or a place to the side of it."));
}

static void
judge_disease (const Spot *spot)
{
  double wet_h = spot->wetted ? MIN (spot->drying_h, 24.0) : 0.0;
  double needs_h = dew_limit_wet_h (spot->climate->t_C);
  DewCandidate *c;

  if (spot->wish->crown == DEW_CROWN_WELCOME)
    return;
  if (wet_h > needs_h)
    {
      c = add (spot, DEW_FINDING_DISEASE, spot->wish->crown == DEW_CROWN_HARMFUL ? 2 : 1);
      dew_candidate_above (c, wet_h, needs_h, "h", dew_limit_source (DEW_LIMIT_WET_HOURS));
      dew_candidate_say (
        c, _ ("rot"),
        _ ("Leaves are wetted here and stay wet longer than grey mould needs at this "
           "warmth."),
        _ ("Stop the wetting first; then let more air pass and take off old leaves "
           "and petals."));
      return;
    }
  if (spot->climate->vpd_Pa < dew_limit (DEW_LIMIT_DAMP)
      && spot->climate->speed_m_s < dew_limit (DEW_LIMIT_STILL)
      && !(spot->wish->speed_lo_m_s < dew_limit (DEW_LIMIT_STILL)))
    {
      c = add (spot, DEW_FINDING_DISEASE, 1);
      dew_candidate_below (c, spot->climate->vpd_Pa / 1000.0, dew_limit (DEW_LIMIT_DAMP) / 1000.0,
                           "kPa", dew_limit_source (DEW_LIMIT_DAMP));
      dew_candidate_say (
        c, _ ("rot"), _ ("The air is nearly full of water and stands still; so fungi spread best."),
        _ ("Keep the air moving past the leaves; a little less mist helps too."));
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
      spot.drying_h = dew_findings_drying_h (spot.climate, judge->forecast->pressure_Pa);
      spot.wetted = spot.climate->wetting_kg_m2s > dew_judge_mist_limit (judge, spot.climate)
                    || spot.climate->drip_kg_s * 1000.0 * S_PER_H > dew_limit (DEW_LIMIT_DRIP);
      if (spot.climate->wetting_kg_m2s > dew_judge_mist_limit (judge, spot.climate))
        spot.drying_h = INFINITY;
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

      if (plant->kind != DEW_THING_PLANT || dew_judge_bay (judge, plant->plant.z_m) != bay)
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
          if (place->mean.speed_m_s < dew_limit (DEW_LIMIT_STILL)
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
