/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/findings-private.h"

#include "geometry/geometry.h"
#include "transport/wet.h"
#include "moist/constants.h"

#include <math.h>

#define WET_EMITS 0.95 /* Incropera Table A.11 */
#define TAPER 0.85     /* mean over rim diameter of a clay pot: common practice, no source */
#define STANDS_ON_M 0.02
#define TANK_KG 1.0  /* the empty device: common practice, no source */
#define FRAME_KG 6.0 /* of a light shelf frame with its cover: common practice, no source */
#define LIGHT_KG 5.0 /* contents below this do not make a frame tip over */

/* --- water left --------------------------------------------------------- */

static double
nominal_kg_s (const DewHumidifier *h, gboolean night)
{
  /* A humidistat decides by itself; its share of the whole is by output. */
  double duty = h->set_rh > 0.0 ? 1.0 : night ? h->duty_night : h->duty_day;

  return duty * h->output_kg_s;
}

/* What the humidifiers give off in this forecast over what they would give off running as
 * set: the humidistats' own duty shows only in the balance. */
static double
running_share (const DewJudge *judge)
{
  double nominal = 0.0, given = judge->forecast->balance.water_device_kg_s;
  gboolean humidistat = FALSE;

  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (judge->variant->things, DewThing, i);

      if (thing->kind == DEW_THING_HUMIDIFIER)
        {
          nominal += nominal_kg_s (&thing->humidifier, judge->forecast->night);
          humidistat |= thing->humidifier.set_rh > 0.0;
        }
      else if (thing->kind == DEW_THING_SOURCE)
        given -= thing->source.vapour_kg_s;
    }
  if (!humidistat || !(given > 0.0) || nominal <= 0.0)
    return 1.0;
  return MIN (1.0, given / nominal);
}

static void
judge_tank (DewJudge *judge, const DewThing *thing, double share)
{
  const DewHumidifier *h = &thing->humidifier;
  double at_m[3] = { h->x_m, h->y_m, h->z_m };
  double rate_kg_s = share * nominal_kg_s (h, judge->forecast->night);
  double lasts_s = h->tank_kg / rate_kg_s;
  DewLimit which = lasts_s < dew_limit (DEW_LIMIT_TANK_NIGHT) * DEW_S_PER_H ? DEW_LIMIT_TANK_NIGHT
                                                                            : DEW_LIMIT_TANK_DAY;
  double limit_s = dew_limit (which) * DEW_S_PER_H;
  DewCandidate *c;

  if (!(rate_kg_s > 0.0) || !(h->tank_kg > 0.0) || !(lasts_s < limit_s))
    return;
  c = dew_judge_add (judge, DEW_CAUSE_SMALL_TANK, which == DEW_LIMIT_TANK_NIGHT ? 2 : 1, thing,
                     at_m);
  dew_candidate_below (c, lasts_s, limit_s, which);
}

static void
judge_reserve (DewJudge *judge, const DewThing *thing)
{
  gboolean pot = thing->kind == DEW_THING_POT;
  double at_m[3] = { pot ? thing->pot.x_m : thing->tray.x_m, pot ? thing->pot.y_m : thing->tray.y_m,
                     pot ? thing->pot.z_m : thing->tray.z_m };
  double water_kg = pot ? thing->pot.water_kg : thing->tray.water_kg;
  const DewClimate *air = dew_judge_climate (judge, at_m);
  DewFilmAir film = dew_film_air (air->t_C, judge->forecast->pressure_Pa);
  DewWetSurface surface = {
    .emissivity = WET_EMITS,
    .t_air_C = air->t_C,
    .w_air_kg_kg = air->w_kg_kg,
    .p_Pa = judge->forecast->pressure_Pa,
    .speed_m_s = air->speed_m_s,
    .t_radiant_C = air->t_C,
  };
  double area_m2, rate_kg_s, lasts_s, limit_s = dew_limit (DEW_LIMIT_POT) * DEW_S_PER_H;
  DewCandidate *c;

  if (pot)
    {
      surface.facing = DEW_FACING_SIDE;
      surface.length_m = thing->pot.height_m;
      surface.wetted_fraction = thing->pot.wetted_fraction;
      area_m2 = G_PI * TAPER * thing->pot.rim_diameter_m * thing->pot.height_m;
    }
  else
    {
      surface.facing = DEW_FACING_UP;
      area_m2 = thing->tray.width_m * thing->tray.depth_m;
      surface.length_m = area_m2 / (2.0 * (thing->tray.width_m + thing->tray.depth_m));
      surface.wetted_fraction = 1.0;
    }
  rate_kg_s = area_m2 * dew_wet_surface (&surface, &film).evaporation_kg_m2s;
  lasts_s = water_kg / rate_kg_s;
  if (!(rate_kg_s > 0.0) || !(water_kg > 0.0) || !(lasts_s < limit_s))
    return;
  c = dew_judge_add (judge, DEW_CAUSE_SMALL_RESERVE, 1, thing, at_m);
  dew_candidate_below (c, lasts_s, limit_s, DEW_LIMIT_POT);
}

/* --- electricity -------------------------------------------------------- */

static gboolean
mains_device (const DewThing *thing, double at_m[3])
{
  switch (thing->kind)
    {
    case DEW_THING_FAN:
      at_m[0] = thing->fan.x_m, at_m[1] = thing->fan.y_m, at_m[2] = thing->fan.z_m;
      return !thing->fan.low_voltage;
    case DEW_THING_HUMIDIFIER:
      at_m[0] = thing->humidifier.x_m, at_m[1] = thing->humidifier.y_m;
      at_m[2] = thing->humidifier.z_m;
      return !thing->humidifier.low_voltage;
    case DEW_THING_LAMP:
      at_m[0] = thing->lamp.x_m, at_m[1] = thing->lamp.y_m, at_m[2] = thing->lamp.z_m;
      return !thing->lamp.low_voltage;
    case DEW_THING_MAT:
      at_m[0] = thing->mat.x_m, at_m[1] = thing->mat.y_m, at_m[2] = thing->mat.z_m;
      return !thing->mat.low_voltage;
    default:
      return FALSE;
    }
}

static void
judge_mains (DewJudge *judge, const DewThing *thing)
{
  double at_m[3];
  const DewClimate *air;
  gboolean wet;
  DewCandidate *c;

  /* Above the roof it stands in the room. */
  if (!mains_device (thing, at_m) || dew_forecast_bay_at (judge->forecast, at_m[2]) < 0)
    return;
  air = dew_judge_climate (judge, at_m);
  wet = air->rh >= dew_limit (DEW_LIMIT_MAINS) || air->drip_kg_s > 0.0 || air->wetting_kg_m2s > 0.0;
  c = dew_judge_add (judge, wet ? DEW_CAUSE_MAINS_WET : DEW_CAUSE_MAINS_INSIDE, wet ? 2 : 1, thing,
                     at_m);
  dew_candidate_above (c, air->rh, dew_limit (DEW_LIMIT_MAINS), DEW_LIMIT_MAINS);
}

void
dew_judge_devices (DewJudge *judge)
{
  double share = running_share (judge);

  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (judge->variant->things, DewThing, i);

      if (thing->kind == DEW_THING_HUMIDIFIER)
        judge_tank (judge, thing, share);
      if (thing->kind == DEW_THING_POT || thing->kind == DEW_THING_TRAY)
        judge_reserve (judge, thing);
      judge_mains (judge, thing);
    }
}

/* --- weight ------------------------------------------------------------- */

/* Wet mass (kg) of what stands, and the height (m) of its base and of its middle. */
static double
standing_kg (const DewVariant *variant, const DewThing *thing, double *base_m, double *middle_m)
{
  switch (thing->kind)
    {
    case DEW_THING_POT:
      *base_m = thing->pot.z_m;
      *middle_m = *base_m + 0.5 * thing->pot.height_m;
      return thing->pot.mass_kg;
    case DEW_THING_TRAY:
      *base_m = thing->tray.z_m;
      *middle_m = *base_m + 0.5 * thing->tray.height_m;
      return thing->tray.water_kg;
    case DEW_THING_PLANT:
      /* Its crown begins above the pot it stands in. */
      *base_m = dew_variant_rest_height (variant, thing->plant.z_m);
      *middle_m = thing->plant.z_m + 0.25 * thing->plant.height_m;
      return thing->plant.mass_kg;
    case DEW_THING_HUMIDIFIER:
      *base_m = thing->humidifier.z_m;
      *middle_m = *base_m + 0.5 * thing->humidifier.height_m;
      return thing->humidifier.tank_kg + TANK_KG;
    default:
      *base_m = *middle_m = 0.0;
      return 0.0;
    }
}

static void
judge_shelf (DewJudge *judge, const DewThing *shelf)
{
  double top_m = shelf->shelf.z_m + shelf->shelf.thickness_m;
  double at_m[3] = { 0.5 * judge->forecast->inner_m[0], 0.0, top_m };
  double load_kg = 0.0, may_kg = dew_limit (DEW_LIMIT_LOAD) * shelf->shelf.load_limit_kg;
  gboolean over;
  DewCandidate *c;

  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      double base_m, middle_m;
      double kg = standing_kg (judge->variant, &g_array_index (judge->variant->things, DewThing, i),
                               &base_m, &middle_m);

      if (fabs (base_m - top_m) <= STANDS_ON_M)
        load_kg += kg;
    }
  if (!(shelf->shelf.load_limit_kg > 0.0) || !(load_kg > may_kg))
    return;
  over = load_kg > shelf->shelf.load_limit_kg;
  c = dew_judge_add (judge, over ? DEW_CAUSE_OVERLOAD : DEW_CAUSE_UNEVEN_LOAD, over ? 2 : 1, shelf,
                     at_m);
  dew_candidate_above (c, load_kg, over ? shelf->shelf.load_limit_kg : may_kg,
                       over ? DEW_LIMIT_RATING : DEW_LIMIT_LOAD);
}

static void
judge_tipping (DewJudge *judge)
{
  const DewChamber *chamber = judge->chamber;
  double contents_kg = 0.0, moment_kg_m = 0.0, half_m, centre_m, tip_rad, limit_rad;
  double at_m[3] = { 0.5 * judge->forecast->inner_m[0], 0.0, judge->forecast->inner_m[2] };
  DewCandidate *c;

  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      double base_m, middle_m;
      double kg = standing_kg (judge->variant, &g_array_index (judge->variant->things, DewThing, i),
                               &base_m, &middle_m);

      contents_kg += kg;
      moment_kg_m += kg * middle_m;
    }
  if (contents_kg < LIGHT_KG)
    return;
  /* It tips about the near edge of its base once the centre of mass is past it. */
  half_m = 0.5 * MIN (chamber->outer_m[0], chamber->outer_m[1]);
  centre_m = (moment_kg_m + FRAME_KG * 0.5 * chamber->outer_m[2]) / (contents_kg + FRAME_KG);
  tip_rad = atan2 (half_m, centre_m);
  limit_rad = dew_limit (DEW_LIMIT_TIP) * G_PI / 180.0;
  if (!(tip_rad < limit_rad))
    return;
  c = dew_judge_add (judge, DEW_CAUSE_TOP_HEAVY, 2, NULL, at_m);
  c->finding.bay = -1;
  dew_candidate_below (c, tip_rad, limit_rad, DEW_LIMIT_TIP);
}

void
dew_judge_loads (DewJudge *judge)
{
  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (judge->variant->things, DewThing, i);

      if (thing->kind == DEW_THING_SHELF)
        judge_shelf (judge, thing);
    }
  judge_tipping (judge);
}
