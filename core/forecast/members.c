/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/members.h"

#include "moist/constants.h"

#include <glib/gi18n.h>
#include <math.h>

/* clang-format off */
#define AT(member) #member, DEW_MEMBER_REAL, G_STRUCT_OFFSET (RECORD, member)
#define BAND(member) #member, G_STRUCT_OFFSET (RECORD, member)
#define NO_BAND NULL, 0
#define PLAIN(kind, member) DEW_MEMBER (kind, RECORD, member)
#define END { .key = NULL }

#define RECORD DewClimate
const DewMember dew_climate_members[] = {
  [DEW_CLIMATE_T] = { AT (t_C), BAND (t_band_K), N_ ("temp C"), 1.0, 1, NULL, DEW_VALUE_TEMPERATURE },
  [DEW_CLIMATE_RH] = { AT (rh), BAND (rh_band), N_ ("RH %"), 100.0, 0, NULL, DEW_VALUE_RH },
  [DEW_CLIMATE_W] = { AT (w_kg_kg), BAND (w_band_kg_kg), N_ ("water g/kg"), 1000.0, 2, NULL,
    DEW_VALUE_HUMIDITY_RATIO },
  [DEW_CLIMATE_VPD] = { AT (vpd_Pa), BAND (vpd_band_Pa), N_ ("VPD kPa"), 1e-3, 2, NULL, DEW_VALUE_VPD },
  [DEW_CLIMATE_SPEED] = { AT (speed_m_s), BAND (speed_band_m_s), N_ ("speed m/s"), 1.0, 2, NULL, DEW_VALUE_SPEED },
  [DEW_CLIMATE_STILL] = { AT (still_share), BAND (still_band), N_ ("still %"), 100.0, 0, NULL, DEW_VALUE_RH },
  [DEW_CLIMATE_AGE] = { AT (age_s), BAND (age_band_s), N_ ("age min"), 1.0 / 60.0, 1, NULL, DEW_VALUE_AGE },
  [DEW_CLIMATE_MIST] = { AT (mist_kg_kg), NO_BAND, NULL, 0.0, 0, NULL, DEW_VALUE_MIST },
  [DEW_CLIMATE_WETTING] = { AT (wetting_kg_m2s), NO_BAND, NULL, 0.0, 0, NULL, DEW_VALUE_WETTING },
  [DEW_CLIMATE_DRIP] = { AT (drip_kg_s), NO_BAND, NULL, 0.0, 0, NULL, DEW_N_VALUES },
  [DEW_CLIMATE_PPFD] = { AT (ppfd_mol_m2s), NO_BAND, NULL, 0.0, 0, NULL, DEW_VALUE_PPFD },
  END
};
#undef RECORD

#define RECORD DewPlace
const DewMember dew_place_members[] = {
  PLAIN (INTEGER, bay), PLAIN (INTEGER, column), PLAIN (INTEGER, row),
  PLAIN (POINT, lo_m), PLAIN (POINT, hi_m),
  PLAIN (CLIMATE, mean),
  PLAIN (INTEGER, severity), PLAIN (FINDING, worst), PLAIN (REAL, excess),
  END
};
#undef RECORD

#define RECORD DewExchange
const DewMember dew_exchange_members[] = {
  PLAIN (INTEGER, thing_id), PLAIN (NAME, name),
  PLAIN (REAL, inflow_m3_s), PLAIN (REAL, outflow_m3_s),
  END
};
#undef RECORD

#define RECORD DewDevice
const DewMember dew_device_members[] = {
  PLAIN (REAL, duty),
  PLAIN (REAL, water_kg_s), PLAIN (REAL, hours_of_water),
  PLAIN (REAL, t_C), PLAIN (REAL, leaf_vpd_Pa),
  PLAIN (REAL, flow_m3_s), PLAIN (REAL, wetting_kg_m2s),
  PLAIN (REAL, pressure_Pa), PLAIN (REAL, power_W),
  PLAIN (INTEGER, severity), PLAIN (FINDING, worst),
  END
};
#undef RECORD

#define RECORD DewCover
const DewMember dew_cover_members[] = {
  PLAIN (REAL, t_C), PLAIN (REAL, coldest_C), PLAIN (REAL, dew_kg_s), PLAIN (REAL, heat_W),
  END
};
#undef RECORD

#define RECORD DewBalance
#define M3_H DEW_S_PER_H, 3, "m3/h"
#define W 1.0, 2, "W"
#define G_H 3.6e6, 2, "g/h"
#define LEFT_OVER N_ ("  left over"), 1.0, 1, NULL
const DewMember dew_balance_members[] = {
  { AT (air_in_m3_s), NO_BAND, N_ ("  in from the room"), M3_H, DEW_SUM_AIR },
  { AT (air_out_m3_s), NO_BAND, N_ ("  out to the room"), M3_H, DEW_SUM_AIR },
  { AT (heat_source_W), NO_BAND, N_ ("  devices"), W, DEW_SUM_HEAT },
  { AT (heat_latent_W), NO_BAND, N_ ("  evaporation and dew"), W, DEW_SUM_HEAT },
  { AT (heat_surface_W), NO_BAND, N_ ("  pots, trays, leaves"), W, DEW_SUM_HEAT },
  { AT (heat_openings_W), NO_BAND, N_ ("  openings"), W, DEW_SUM_HEAT },
  { AT (heat_cover_W), NO_BAND, N_ ("  cover"), W, DEW_SUM_HEAT },
  { AT (water_device_kg_s), NO_BAND, N_ ("  devices"), G_H, DEW_SUM_WATER },
  { AT (water_surface_kg_s), NO_BAND, N_ ("  pots, trays, leaves"), G_H, DEW_SUM_WATER },
  { AT (water_openings_kg_s), NO_BAND, N_ ("  openings"), G_H, DEW_SUM_WATER },
  { AT (water_cover_kg_s), NO_BAND, N_ ("  dew on cover and shelves"), G_H, DEW_SUM_WATER },
  { AT (water_fallout_kg_s), NO_BAND, N_ ("  mist that fell"), G_H, DEW_SUM_WATER },
  { AT (air_residual), NO_BAND, LEFT_OVER, DEW_SUM_AIR },
  { AT (heat_residual), NO_BAND, LEFT_OVER, DEW_SUM_HEAT },
  { AT (water_residual), NO_BAND, LEFT_OVER, DEW_SUM_WATER },
  END
};
#undef RECORD

/* clang-format on */

const char *const dew_grid_keys[] = {
  [DEW_GRID_DRAFT] = "draft",
  [DEW_GRID_SETTLED] = "settled",
  [DEW_GRID_FINE] = "fine",
};

const char *const dew_state_keys[] = {
  [DEW_FORECAST_FOLLOWING] = "following",
  [DEW_FORECAST_SETTLED] = "settled",
  [DEW_FORECAST_UNSTEADY] = "unsteady",
};

const DewMember *
dew_climate_member (DewValue value)
{
  const DewMember *member = dew_climate_members;

  g_return_val_if_fail (value < DEW_N_VALUES, member);

  while (member->of != (int) value)
    member++;
  return member;
}

double
dew_member_real (const DewMember *member, gconstpointer record)
{
  return G_STRUCT_MEMBER (double, record, member->offset);
}

double
dew_member_band (const DewMember *member, gconstpointer record)
{
  return member->band_key != NULL ? G_STRUCT_MEMBER (double, record, member->band) : NAN;
}
