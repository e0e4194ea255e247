/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/fit.h"

#include "forecast/findings.h"
#include "forecast/limits.h"
#include "geometry/geometry.h"
#include "moist/constants.h"

#include <math.h>

#define ML_PER_KG 1000.0
#define CM 100.0
#define UMOL 1e6

/* Where 'watch' turns to 'act' in the findings: beyond the limit by this much. */
#define FAR_T_K 2.0
#define FAR_RH_POINTS 5.0
/* Above the most it is not the humidity that harms but wet and still air (Ohio State University
 * Extension, AEX-804-01), which are asked by themselves: some points over for some hours are no
 * end of a plant. */
#define FAR_RH_OVER_POINTS 12.0
#define FAR_LIGHT 0.5 /* of the limit */
#define FAR_SPEED 0.5 /* of the limit */

/* The rest is common practice, no source. */
#define PLATEAU 0.25         /* of a band's width: further inside is as good as can be */
#define DRIP_FAR_ML_H 0.5    /* ten drops an hour */
#define DRYING_MOST_H 99.0   /* saturated air dries nothing */
#define DRY_CROWN_MERIT 0.35 /* at least, where nothing wets the crown but the grower */
#define SPARE_CM 3.0         /* above a crown */
#define OVER_EDGE 6.0        /* a sixth of a pot may stand over the edge */
#define REACH_CM 60.0        /* an arm */
#define REACH_TENDED_CM 40.0 /* for plants that are looked at daily */
#define WEAK_RH 0.95         /* nearly saturated air, as in a recovery box */
#define WEAK_SPEED_M_S 0.3   /* gentle air: data/thresholds.csv */
#define MOST_RISE_M 0.25     /* of a crown over its pot's foot */
#define SCORE_STEP 20        /* finer differences are not worth moving a plant */
#define WEAK_LIGHT 0.5       /* of what a healthy one gets */

/* --- demands ------------------------------------------------------------- */

static const struct
{
  const char *key, *unit;
  double si;
} demands[DEW_N_DEMANDS] = {
  [DEW_DEMAND_T_DAY] = { "t_day", "K", 1.0 },
  [DEW_DEMAND_T_NIGHT] = { "t_night", "K", 1.0 },
  [DEW_DEMAND_RH_DAY] = { "rh_day", "points", 0.01 },
  [DEW_DEMAND_RH_NIGHT] = { "rh_night", "points", 0.01 },
  [DEW_DEMAND_AIR] = { "air", "m/s", 1.0 },
  [DEW_DEMAND_LIGHT] = { "light", "umol/m2s", 1e-6 },
  [DEW_DEMAND_MIST] = { "mist", "mL/m2h", 1.0 / (ML_PER_KG * DEW_S_PER_H) },
  [DEW_DEMAND_DRIP] = { "drip", "mL/h", 1.0 / (ML_PER_KG * DEW_S_PER_H) },
  [DEW_DEMAND_DRYING] = { "drying", "h", DEW_S_PER_H },
  [DEW_DEMAND_HEIGHT] = { "height", "cm", 0.01 },
  [DEW_DEMAND_BOARD] = { "board", "cm", 0.01 },
  [DEW_DEMAND_REACH] = { "reach", "cm", 0.01 },
  [DEW_DEMAND_WEIGHT] = { "weight", "kg", 1.0 },
};

const char *
dew_demand_key (DewDemand demand)
{
  g_return_val_if_fail (demand >= 0 && demand < DEW_N_DEMANDS, "");
  return demands[demand].key;
}

const char *
dew_demand_unit (DewDemand demand)
{
  g_return_val_if_fail (demand >= 0 && demand < DEW_N_DEMANDS, "");
  return demands[demand].unit;
}

double
dew_demand_si (DewDemand demand)
{
  g_return_val_if_fail (demand >= 0 && demand < DEW_N_DEMANDS, 1.0);
  return demands[demand].si;
}

/* --- one number against its limits -------------------------------------- */

static DewFitDemand
nothing_asked (double value)
{
  return (DewFitDemand){ .value = value, .limit = NAN, .margin = NAN, .band = NAN, .merit = 1.0 };
}

/* A limit of NAN is none. `full`: margin from which on the merit is 1. `far`: excess at which
 * it is 1/4. */
static DewFitDemand
against (double value, double limit, gboolean above, double full, double far, double band)
{
  DewFitDemand d = { .value = value, .limit = limit, .band = band, .above = above };

  if (isnan (limit) || isnan (value))
    return nothing_asked (value);
  d.margin = above ? limit - value : value - limit;
  if (d.margin >= 0.0)
    d.merit = full > 0.0 ? 0.5 + 0.5 * MIN (1.0, d.margin / full) : 1.0;
  else
    d.merit = 0.5 / (1.0 - d.margin / far);
  d.unsure = fabs (d.margin) < band;
  d.out = -d.margin > far && !(-d.margin < band);
  return d;
}

/* The one that troubles the plant more. */
static DewFitDemand
worse (DewFitDemand a, DewFitDemand b)
{
  if (isnan (a.margin) || isnan (b.margin))
    return isnan (a.margin) ? b : a;
  if (a.out != b.out)
    return a.out ? a : b;
  if (a.merit != b.merit)
    return a.merit < b.merit ? a : b;
  return a.margin <= b.margin ? a : b;
}

/* min, ideal and max: the merit is 1 at the ideal only. */
static DewFitDemand
around_ideal (double value, double min, double ideal, double max, double far_below,
              double far_above, double band)
{
  double low_full = isnan (ideal) ? PLATEAU * (max - min) : ideal - min;
  double high_full = isnan (ideal) ? PLATEAU * (max - min) : max - ideal;

  return worse (against (value, min, FALSE, low_full, far_below, band),
                against (value, max, TRUE, high_full, far_above, band));
}

/* --- the demands -------------------------------------------------------- */

static DewFitDemand
judge_speed (const DewPlantKind *kind, gboolean mount, const DewClimate *air, gboolean old)
{
  double still = dew_limit (DEW_LIMIT_STILL);
  gboolean drying = mount && air->vpd_Pa > dew_limit (DEW_LIMIT_DRYING_AIR);
  double most = dew_limit (drying ? DEW_LIMIT_MOUNT_DRAUGHT : DEW_LIMIT_DRAUGHT);
  double speed = air->speed_m_s, band = air->speed_band_m_s;
  DewFitDemand slow = nothing_asked (speed), fast;

  /* Half of what it likes will do, but nobody is well in dead air; who likes it still does
   * not ask, nor does one of unknown kind. */
  if (kind->speed_lo_m_s >= still)
    {
      double limit = MAX (still, 0.5 * kind->speed_lo_m_s);

      slow = against (speed, limit, FALSE, kind->speed_lo_m_s - limit, limit, band);
      slow.out = old && speed < still && !(still - speed < band);
    }
  if (kind->speed_hi_m_s < most)
    most = kind->speed_hi_m_s;
  fast = against (speed, most, TRUE, PLATEAU * most, FAR_SPEED * most, band);
  return worse (slow, fast);
}

static DewFitDemand
judge_light (const DewPlantKind *kind, const DewClimate *air)
{
  double lo = UMOL * kind->ppfd_lo_mol_m2s, hi = UMOL * kind->ppfd_hi_mol_m2s;
  double value = UMOL * air->ppfd_mol_m2s;

  return worse (against (value, lo, FALSE, PLATEAU * (hi - lo), FAR_LIGHT * lo, NAN),
                against (value, hi, TRUE, PLATEAU * (hi - lo), FAR_LIGHT * hi, NAN));
}

static double
mist_mL_m2h (const DewClimate *air)
{
  return air->wetting_kg_m2s * ML_PER_KG * DEW_S_PER_H;
}

static DewFitDemand
judge_mist (int crown, const DewClimate *air, double limit_mL_m2h)
{
  DewFitDemand d;

  if (crown > DEW_CROWN_BRIEF)
    return nothing_asked (mist_mL_m2h (air));
  d = against (mist_mL_m2h (air), limit_mL_m2h, TRUE, 0.5 * limit_mL_m2h, limit_mL_m2h, NAN);
  d.out = crown == DEW_CROWN_HARMFUL && d.margin < 0.0;
  return d;
}

static DewFitDemand
judge_drip (int crown, const DewClimate *air)
{
  double limit = dew_limit (DEW_LIMIT_DRIP), value = air->drip_kg_s * ML_PER_KG * DEW_S_PER_H;
  DewFitDemand d;

  if (crown > DEW_CROWN_BRIEF)
    return nothing_asked (value);
  d = against (value, limit, TRUE, 0.5 * limit, DRIP_FAR_ML_H, NAN);
  d.out = crown == DEW_CROWN_HARMFUL && d.margin < 0.0;
  return d;
}

/* Never out of the question by itself: what must not get wet is kept from mist and drip. */
static DewFitDemand
judge_drying (int crown, const DewClimate *air, double drying_h, double limit_mL_m2h)
{
  DewLimit which = crown == DEW_CROWN_HARMFUL ? DEW_LIMIT_DRY_HARMFUL : DEW_LIMIT_DRY_BRIEF;
  gboolean misted = mist_mL_m2h (air) > limit_mL_m2h;
  gboolean wetted = misted || air->drip_kg_s * ML_PER_KG * DEW_S_PER_H > dew_limit (DEW_LIMIT_DRIP);
  double limit = dew_limit (which);
  double value = misted || !(drying_h < DRYING_MOST_H) ? DRYING_MOST_H : drying_h;
  DewFitDemand d;

  if (crown > DEW_CROWN_BRIEF)
    return nothing_asked (value);
  d = against (value, limit, TRUE, 0.5 * limit, wetted ? limit : 2.0 * limit, NAN);
  if (!wetted)
    d.merit = MAX (d.merit, DRY_CROWN_MERIT);
  d.out = FALSE;
  return d;
}

/* What knows no half measures. */
static DewFitDemand
all_or_nothing (double value, double limit, gboolean above, double full)
{
  DewFitDemand d = against (value, limit, above, full, 1e-6, NAN);

  d.out = d.margin < -1e-9;
  if (d.out)
    d.merit = 0.0;
  return d;
}

static void
judge_room (const DewFitPlant *plant, const DewFitPlace *place, DewFitDemand *demand)
{
  double height = plant->height_m + plant->rise_m;
  double reach = plant->state == DEW_PLANT_HEALTHY ? REACH_CM : REACH_TENDED_CM;
  double over = CM * plant->pot_diameter_m / OVER_EDGE;

  demand[DEW_DEMAND_HEIGHT]
    = isinf (place->clear_m) ? nothing_asked (place->clear_m)
                             : all_or_nothing (CM * place->clear_m, CM * height, FALSE, SPARE_CM);
  demand[DEW_DEMAND_BOARD] = plant->pot_diameter_m > 0.0
                               ? all_or_nothing (CM * place->over_edge_m, over, TRUE, over)
                               : nothing_asked (CM * place->over_edge_m);
  demand[DEW_DEMAND_REACH] = against (CM * place->from_front_m, reach, TRUE, 0.0, REACH_CM, NAN);
  demand[DEW_DEMAND_REACH].out = FALSE;
  demand[DEW_DEMAND_WEIGHT] = isinf (place->load_left_kg)
                                ? nothing_asked (place->load_left_kg)
                                : all_or_nothing (place->load_left_kg, plant->mass_kg, FALSE, 0.0);
}

static void
judge_air (const DewPlantKind *kind, const DewFitPlant *plant, const DewFitPlace *place,
           DewFitDemand *demand)
{
  gboolean mount = plant->pot_diameter_m <= 0.0 && plant->mass_kg <= 0.0;
  const DewClimate *day = &place->day, *night = &place->night;

  demand[DEW_DEMAND_T_DAY] = around_ideal (day->t_C, kind->t_day_min_C, kind->t_day_ideal_C,
                                           kind->t_day_max_C, FAR_T_K, FAR_T_K, day->t_band_K);
  demand[DEW_DEMAND_RH_DAY]
    = around_ideal (100.0 * day->rh, 100.0 * kind->rh_min, 100.0 * kind->rh_ideal,
                    100.0 * kind->rh_max, FAR_RH_POINTS, FAR_RH_OVER_POINTS, 100.0 * day->rh_band);
  demand[DEW_DEMAND_AIR] = judge_speed (kind, mount, day, place->old_day);
  demand[DEW_DEMAND_LIGHT]
    = place->lamps ? judge_light (kind, day) : nothing_asked (UMOL * day->ppfd_mol_m2s);
  demand[DEW_DEMAND_MIST] = judge_mist (kind->crown, day, place->mist_day_mL_m2h);
  demand[DEW_DEMAND_DRIP] = judge_drip (kind->crown, day);
  demand[DEW_DEMAND_DRYING]
    = judge_drying (kind->crown, day, place->drying_day_h, place->mist_day_mL_m2h);
  demand[DEW_DEMAND_T_NIGHT] = nothing_asked (NAN);
  demand[DEW_DEMAND_RH_NIGHT] = nothing_asked (NAN);
  if (!place->by_night)
    return;

  demand[DEW_DEMAND_T_NIGHT]
    = around_ideal (night->t_C, kind->t_night_min_C, kind->t_night_ideal_C, kind->t_night_max_C,
                    FAR_T_K, FAR_T_K, night->t_band_K);
  demand[DEW_DEMAND_RH_NIGHT]
    = around_ideal (100.0 * night->rh, 100.0 * kind->rh_min, 100.0 * kind->rh_ideal,
                    100.0 * kind->rh_max, FAR_RH_POINTS, FAR_RH_OVER_POINTS,
                    100.0 * night->rh_band);
  demand[DEW_DEMAND_AIR]
    = worse (demand[DEW_DEMAND_AIR], judge_speed (kind, mount, night, place->old_night));
  demand[DEW_DEMAND_MIST]
    = worse (demand[DEW_DEMAND_MIST], judge_mist (kind->crown, night, place->mist_night_mL_m2h));
  demand[DEW_DEMAND_DRIP] = worse (demand[DEW_DEMAND_DRIP], judge_drip (kind->crown, night));
  demand[DEW_DEMAND_DRYING]
    = worse (demand[DEW_DEMAND_DRYING],
             judge_drying (kind->crown, night, place->drying_night_h, place->mist_night_mL_m2h));
}

static gboolean
tighter (const DewFitDemand *a, const DewFitDemand *b)
{
  if (isnan (a->margin) != isnan (b->margin))
    return isnan (b->margin);
  if (a->out != b->out)
    return a->out;
  return a->merit < b->merit;
}

void
dew_fit_kind_in_state (const DewPlantKind *kind, int state, DewPlantKind *out)
{
  g_return_if_fail (kind != NULL && out != NULL);

  *out = *kind;
  if (state != DEW_PLANT_WEAK)
    return;
  out->rh_ideal = MAX (WEAK_RH, kind->rh_min);
  out->rh_max = 1.0;
  out->speed_lo_m_s = 0.0;
  if (!(kind->speed_hi_m_s < WEAK_SPEED_M_S))
    out->speed_hi_m_s = WEAK_SPEED_M_S;
  out->ppfd_lo_mol_m2s = WEAK_LIGHT * kind->ppfd_lo_mol_m2s;
  out->ppfd_hi_mol_m2s = WEAK_LIGHT * kind->ppfd_hi_mol_m2s;
  out->crown = DEW_CROWN_HARMFUL;
}

void
dew_fit_judge (const DewFitPlant *plant, const DewFitPlace *place, DewFit *out)
{
  DewPlantKind kind;
  double sum = 0.0;
  int n = 0;

  g_return_if_fail (plant != NULL && place != NULL && out != NULL);

  dew_fit_kind_in_state (&plant->kind, plant->state, &kind);
  *out = (DewFit){ .worst_merit = 1.0, .unknown = !plant->known };
  judge_air (&kind, plant, place, out->demand);
  judge_room (plant, place, out->demand);
  for (int d = 0; d < DEW_N_DEMANDS; d++)
    {
      const DewFitDemand *demand = &out->demand[d];

      if (isnan (demand->margin))
        continue;
      n++;
      sum += demand->merit;
      out->worst_merit = MIN (out->worst_merit, demand->merit);
      if (demand->out)
        out->out |= DEW_DEMAND_BIT (d);
      if (tighter (demand, &out->demand[out->tightest]))
        out->tightest = d;
    }
  out->mean_merit = n > 0 ? sum / n : 1.0;
  out->score
    = SCORE_STEP
      * (int) lround (1000.0 / SCORE_STEP * (0.5 * out->worst_merit + 0.5 * out->mean_merit));
}

/* --- places ------------------------------------------------------------- */

static double
mist_limit_mL_m2h (double drying_h)
{
  /* As the findings: what a wet leaf loses, but not less than what counts. */
  double loses = isinf (drying_h) ? 0.0 : 0.1 / drying_h * 1000.0;

  return MAX (loses, dew_limit (DEW_LIMIT_MIST));
}

static gboolean
is_old (const DewForecast *forecast, const DewClimate *air)
{
  return isnan (air->age_s) || air->age_s > dew_limit (DEW_LIMIT_OLD) * forecast->all.age_s
         || air->age_s > dew_limit (DEW_LIMIT_UNCHANGED) * DEW_S_PER_H;
}

void
dew_fit_place_air (const DewVariant *variant, const DewForecast *day, const DewForecast *night,
                   int place, DewFitPlace *out)
{
  g_return_if_fail (variant != NULL && day != NULL && out != NULL);
  g_return_if_fail (place >= 0 && place < day->n_places);
  g_return_if_fail (night == NULL || place < night->n_places);

  *out = (DewFitPlace){ .day = day->places[place].mean,
                        .clear_m = INFINITY,
                        .load_left_kg = INFINITY };
  out->drying_day_h = dew_findings_drying_s (&out->day, day->pressure_Pa) / DEW_S_PER_H;
  out->mist_day_mL_m2h = mist_limit_mL_m2h (out->drying_day_h);
  out->old_day = is_old (day, &out->day);
  for (guint i = 0; i < variant->things->len; i++)
    out->lamps |= g_array_index (variant->things, DewThing, i).kind == DEW_THING_LAMP;
  /* Daylight, where the room has any. */
  out->lamps |= out->day.ppfd_mol_m2s > 0.0;
  if (night == NULL)
    return;
  out->by_night = TRUE;
  out->night = night->places[place].mean;
  out->drying_night_h = dew_findings_drying_s (&out->night, night->pressure_Pa) / DEW_S_PER_H;
  out->mist_night_mL_m2h = mist_limit_mL_m2h (out->drying_night_h);
  out->old_night = is_old (night, &out->night);
}

static void
mix_climate (DewClimate *sum, const DewClimate *air, double weight)
{
  sum->t_C += weight * air->t_C;
  sum->rh += weight * air->rh;
  sum->vpd_Pa += weight * air->vpd_Pa;
  sum->speed_m_s += weight * air->speed_m_s;
  sum->age_s += weight * air->age_s;
  sum->ppfd_mol_m2s += weight * air->ppfd_mol_m2s;
  sum->wetting_kg_m2s = MAX (sum->wetting_kg_m2s, air->wetting_kg_m2s);
  sum->drip_kg_s = MAX (sum->drip_kg_s, air->drip_kg_s);
  /* Their errors go together: the same leak, the same room. NAN stays NAN. */
  sum->t_band_K
    = air->t_band_K > sum->t_band_K || isnan (air->t_band_K) ? air->t_band_K : sum->t_band_K;
  sum->rh_band = air->rh_band > sum->rh_band || isnan (air->rh_band) ? air->rh_band : sum->rh_band;
  sum->speed_band_m_s = air->speed_band_m_s > sum->speed_band_m_s || isnan (air->speed_band_m_s)
                          ? air->speed_band_m_s
                          : sum->speed_band_m_s;
}

void
dew_fit_place_mix (const DewFitPlace *places, const int *indices, const double *weights, int n,
                   DewFitPlace *out)
{
  DewClimate day = { 0 }, night = { 0 };

  g_return_if_fail (places != NULL && n > 0 && out != NULL);

  *out = places[indices[0]];
  if (n == 1)
    return;
  for (int i = 0; i < n; i++)
    {
      const DewFitPlace *place = &places[indices[i]];

      mix_climate (&day, &place->day, weights[i]);
      mix_climate (&night, &place->night, weights[i]);
      out->drying_day_h = MAX (out->drying_day_h, place->drying_day_h);
      out->drying_night_h = MAX (out->drying_night_h, place->drying_night_h);
      out->mist_day_mL_m2h = MIN (out->mist_day_mL_m2h, place->mist_day_mL_m2h);
      out->mist_night_mL_m2h = MIN (out->mist_night_mL_m2h, place->mist_night_mL_m2h);
      out->old_day |= place->old_day;
      out->old_night |= place->old_night;
    }
  out->day = day;
  out->night = night;
}

/* --- plants ------------------------------------------------------------- */

double
dew_fit_pot_height_m (double pot_diameter_m)
{
  return 0.85 * pot_diameter_m;
}

double
dew_fit_mass_kg (double pot_diameter_m)
{
  /* A pot that tapers to 0.85 and is 0.85 high, full of mix that has just been watered, and the
   * empty pot: the masses of data/plants.csv. Mixes of peat, bark and moss weigh 650 to 950 kg/m3
   * at container capacity (published, value from memory); shelves have to bear the heavier. */
  const double wet_mix_kg_m3 = 850.0;
  double d = 0.85 * pot_diameter_m;

  return pot_diameter_m > 0.0 ? 0.04 + wet_mix_kg_m3 * G_PI_4 * d * d * d : 0.0;
}

double
dew_fit_leaf_area_m2 (double width_m)
{
  return 2.0 * G_PI_4 * width_m * width_m;
}

static void
find_kind (const char *species, DewPlantKindLookup lookup, gpointer data, DewFitPlant *out)
{
  const DewPlantKind nothing = {
    .t_day_min_C = NAN,
    .t_day_ideal_C = NAN,
    .t_day_max_C = NAN,
    .t_night_min_C = NAN,
    .t_night_ideal_C = NAN,
    .t_night_max_C = NAN,
    .rh_min = NAN,
    .rh_ideal = NAN,
    .rh_max = NAN,
    .speed_lo_m_s = NAN,
    .speed_hi_m_s = NAN,
    .ppfd_lo_mol_m2s = NAN,
    .ppfd_hi_mol_m2s = NAN,
    .height_m = NAN,
    .width_m = NAN,
    .leaf_length_m = NAN,
    .crown = DEW_CROWN_BRIEF,
  };

  out->known = lookup != NULL && species[0] != '\0' && lookup (species, &out->kind, data);
  if (!out->known)
    out->kind = nothing;
}

/* A crown is at least as wide as its pot. */
static void
settle_size (DewFitPlant *plant)
{
  plant->width_m = MAX (plant->width_m, plant->pot_diameter_m);
}

/* Of a pot whose size nobody gave: from the board or tray under it to the crown. */
static double
rise_of (const DewVariant *variant, const DewPlant *plant)
{
  double base = dew_variant_rest_height (variant, plant->z_m);

  if (plant->pot_diameter_m > 0.0)
    return dew_fit_pot_height_m (plant->pot_diameter_m);
  if (plant->mass_kg <= 0.0)
    return 0.0;
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      const DewTray *tray = &thing->tray;

      if (thing->kind == DEW_THING_TRAY && tray->z_m + tray->height_m <= plant->z_m + 1e-6
          && fabs (plant->x_m - tray->x_m) <= 0.5 * tray->width_m
          && fabs (plant->y_m - tray->y_m) <= 0.5 * tray->depth_m)
        base = MAX (base, tray->z_m + tray->height_m);
    }
  return CLAMP (plant->z_m - base, 0.0, MOST_RISE_M);
}

void
dew_fit_plant_of_thing (const DewVariant *variant, const DewThing *thing, DewPlantKindLookup lookup,
                        gpointer data, DewFitPlant *out)
{
  const DewPlant *plant;

  g_return_if_fail (variant != NULL && thing != NULL && out != NULL);
  g_return_if_fail (thing->kind == DEW_THING_PLANT);

  plant = &thing->plant;
  *out = (DewFitPlant){ .state = plant->state,
                        .width_m = MAX (plant->width_m, plant->depth_m),
                        .height_m = plant->height_m,
                        .pot_diameter_m = plant->pot_diameter_m,
                        .rise_m = rise_of (variant, plant),
                        .mass_kg = plant->mass_kg };
  find_kind (plant->species, lookup, data, out);
  settle_size (out);
}

/* Of a kind that nobody knows: as wide as two pots and as high as wide, or a hand. */
void
dew_fit_plant_of_wish (const DewWish *wish, DewPlantKindLookup lookup, gpointer data,
                       DewFitPlant *out)
{
  const double hand_m = 0.1;

  g_return_if_fail (wish != NULL && out != NULL);

  *out = (DewFitPlant){ .state = wish->state,
                        .width_m = wish->width_m,
                        .height_m = wish->height_m,
                        .pot_diameter_m = wish->pot_diameter_m,
                        .rise_m = dew_fit_pot_height_m (wish->pot_diameter_m),
                        .mass_kg = dew_fit_mass_kg (wish->pot_diameter_m) };
  find_kind (wish->species, lookup, data, out);
  if (!(out->width_m > 0.0))
    out->width_m
      = out->kind.width_m > 0.0 ? out->kind.width_m : MAX (hand_m, 2.0 * out->pot_diameter_m);
  if (!(out->height_m > 0.0))
    out->height_m = out->kind.height_m > 0.0 ? out->kind.height_m : out->width_m;
  settle_size (out);
}
