/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/known.h"

#include "forecast/forecast.h"
#include "moist/constants.h"
#include "moist/moist.h"

#include <math.h>
#include <string.h>

#define SIDE_X_M 0.6
#define SIDE_Y_M 0.5
#define SIDE_Z_M 1.0
#define ROOM_C 20.0
#define ROOM_RH 0.5

/* A box whose cover lets no heat through, leaking through leak_m2 at 4 Pa. */
static DewChamber *
box_new (double leak_m2)
{
  DewChamber *chamber = dew_chamber_new ();

  chamber->outer_m[0] = SIDE_X_M;
  chamber->outer_m[1] = SIDE_Y_M;
  chamber->outer_m[2] = SIDE_Z_M;
  chamber->leak_area_m2 = leak_m2;
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      chamber->panels[face].u_value_W_m2K = 0.0;
      chamber->panels[face].longwave_transmission = 0.0;
    }
  for (int month = 0; month < 12; month++)
    chamber->room.months[month] = (DewMonth){
      .t_day_C = ROOM_C, .t_night_C = ROOM_C, .rh_day = ROOM_RH, .rh_night = ROOM_RH
    };
  chamber->room.sun_W_m2 = 0.0;
  return chamber;
}

static DewThing *
add (DewChamber *chamber, DewThingKind kind)
{
  DewThing thing;

  dew_thing_init (&thing, kind);
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
}

static DewOpening *
add_hole (DewChamber *chamber, DewFace face, double low_m)
{
  DewOpening *hole = &add (chamber, DEW_THING_OPENING)->opening;

  hole->face = face;
  hole->kind = DEW_OPENING_HOLE;
  hole->u0_m = 0.15;
  hole->u1_m = 0.35;
  hole->v0_m = low_m;
  hole->v1_m = low_m + 0.1;
  hole->free_ratio = hole->open_fraction = 1.0;
  return hole;
}

static DewForecast *
draft_of (const DewChamber *chamber, GError **error)
{
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  return dew_forecast_new (chamber, 0, &options, NULL, error);
}

/* --- the laws ---------------------------------------------------------------- */

/* ASHRAE Handbook, Fundamentals 2017, ch. 1, table 3: 2.3393 kPa over water at 20 °C (value from
 * memory). */
static void
saturation (DewKnown *known)
{
  known->found = dew_moist_p_sat (20.0);
  known->expected = 2339.3;
  known->allowed = 1e-3 * known->expected;
}

/* Steady dilution: excess = source / flow, in kg of water per kg of air, of a box that is stirred
 * (Etheridge & Sandberg, Building Ventilation, 1996); as far as a stirred one is mixed. */
static gboolean
dilution (DewKnown *known, GError **error)
{
  const double in_m3_s = 10.0 / DEW_S_PER_H, vapour_kg_s = 10e-3 / DEW_S_PER_H;
  g_autoptr (DewChamber) chamber = box_new (0.0);
  g_autoptr (DewForecast) f = NULL;
  DewOpening *duct = add_hole (chamber, DEW_FACE_LEFT, 0.05);
  DewSource *source;
  DewFan *fan;

  duct->kind = DEW_OPENING_DUCT;
  duct->duct_flow_m3_s = in_m3_s;
  add_hole (chamber, DEW_FACE_RIGHT, 0.75);
  source = &add (chamber, DEW_THING_SOURCE)->source;
  source->x_m = 0.3;
  source->y_m = 0.25;
  source->z_m = 0.0;
  source->width_m = source->depth_m = 0.2;
  source->heat_W = 0.0;
  source->vapour_kg_s = vapour_kg_s;
  source->latent_from_air = FALSE;
  fan = &add (chamber, DEW_THING_FAN)->fan;
  fan->x_m = 0.3;
  fan->y_m = 0.25;
  fan->z_m = 0.4;
  fan->elevation_rad = G_PI / 2;
  fan->free_delivery_m3_s = 8 * in_m3_s;
  fan->power_W = 0.0;
  f = draft_of (chamber, error);
  if (f == NULL)
    return FALSE;
  known->found = f->all.w_kg_kg - f->room_w_kg_kg;
  known->expected
    = vapour_kg_s / (in_m3_s * dew_moist_density (f->room_t_C, f->room_w_kg_kg, f->pressure_Pa));
  known->allowed = 0.05 * known->expected;
  return TRUE;
}

/* A fan in the wall works where its straight characteristic meets the power law of leakage
 * (effective leakage area at 4 Pa, ASHRAE Handbook, Fundamentals 2017, ch. 16). */
static gboolean
extractor (DewKnown *known, GError **error)
{
  const double free_m3_s = 20.0 / DEW_S_PER_H, stall_Pa = 10.0, leak_m2 = 20e-4;
  g_autoptr (DewChamber) chamber = box_new (leak_m2);
  g_autoptr (DewForecast) f = NULL;
  DewFan *fan = &add (chamber, DEW_THING_FAN)->fan;
  double low_Pa = 0.0, high_Pa = stall_Pa, rho;

  fan->mount = DEW_FAN_IN_WALL;
  fan->face = DEW_FACE_BACK;
  fan->sense = DEW_BLOWS_OUT;
  fan->x_m = 0.3;
  fan->y_m = SIDE_Y_M;
  fan->z_m = 0.8;
  fan->diameter_m = 0.1;
  fan->free_delivery_m3_s = free_m3_s;
  fan->stall_pressure_Pa = stall_Pa;
  fan->power_W = 0.0;
  f = draft_of (chamber, error);
  if (f == NULL)
    return FALSE;
  rho = dew_moist_density (f->room_t_C, f->room_w_kg_kg, f->pressure_Pa);
  while (high_Pa - low_Pa > 1e-9)
    {
      double dp_Pa = 0.5 * (low_Pa + high_Pa);
      double through = leak_m2 * sqrt (8.0 / rho) * pow (dp_Pa / 4.0, chamber->leak_exponent);

      if (through < free_m3_s * (1.0 - dp_Pa / stall_Pa))
        low_Pa = dp_Pa;
      else
        high_Pa = dp_Pa;
    }
  known->found = f->balance.air_out_m3_s;
  known->expected = free_m3_s * (1.0 - low_Pa / stall_Pa);
  known->allowed = 0.03 * known->expected;
  return TRUE;
}

/* --- the demo ------------------------------------------------------------------ */

static gboolean
balances (DewKnown *known, GError **error)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (DewForecast) f = draft_of (demo, error);

  if (f == NULL)
    return FALSE;
  known->found = MAX (fabs (f->balance.air_residual),
                      MAX (fabs (f->balance.heat_residual), fabs (f->balance.water_residual)));
  known->expected = 0.0;
  known->allowed = 1e-6;
  return TRUE;
}

static gboolean
same (DewKnown *known, GError **error)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (DewForecast) one = draft_of (demo, error);
  g_autoptr (DewForecast) other = one != NULL ? draft_of (demo, error) : NULL;

  if (other == NULL)
    return FALSE;
  known->found = known->expected = known->allowed = 0.0;
  for (int value = 0; value < DEW_N_VALUES; value++)
    for (int zone = 0; zone < one->n_zones; zone++)
      known->found
        += memcmp (&one->value[value][zone], &other->value[value][zone], sizeof (double)) != 0;
  return TRUE;
}

/**
 * dew_known_ask:
 * @known: (out): what was found beside what is known
 *
 * Returns: FALSE with @error when no forecast could be made.
 */
gboolean
dew_known_ask (DewKnownKind kind, DewKnown *known, GError **error)
{
  gboolean made = TRUE;

  g_return_val_if_fail (kind < DEW_N_KNOWN && known != NULL, FALSE);

  *known = (DewKnown){ .kind = kind };
  switch (kind)
    {
    case DEW_KNOWN_SATURATION:
      saturation (known);
      break;
    case DEW_KNOWN_DILUTION:
      made = dilution (known, error);
      break;
    case DEW_KNOWN_EXTRACTOR:
      made = extractor (known, error);
      break;
    case DEW_KNOWN_BALANCES:
      made = balances (known, error);
      break;
    default:
      made = same (known, error);
    }
  known->holds = made && fabs (known->found - known->expected) <= known->allowed;
  return made;
}
