/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report.h"

#include "store/json.h"

/* Keys are the names of the members in core/forecast/forecast.h, so that one
 * description serves both. What is not known is null. */

static const char *const finding_words[DEW_N_FINDINGS] = {
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

#define REAL(struct_, member) dew_json_real (json, #member, (struct_)->member)

void
dew_report_climate_json (DewJson *json, const char *key, const DewClimate *climate)
{
  dew_json_object (json, key);
  REAL (climate, t_C);
  REAL (climate, t_band_K);
  REAL (climate, rh);
  REAL (climate, rh_band);
  REAL (climate, w_kg_kg);
  REAL (climate, w_band_kg_kg);
  REAL (climate, vpd_Pa);
  REAL (climate, vpd_band_Pa);
  REAL (climate, speed_m_s);
  REAL (climate, speed_band_m_s);
  REAL (climate, still_share);
  REAL (climate, still_band);
  REAL (climate, age_s);
  REAL (climate, age_band_s);
  REAL (climate, mist_kg_kg);
  REAL (climate, wetting_kg_m2s);
  REAL (climate, drip_kg_s);
  REAL (climate, ppfd_mol_m2s);
  dew_json_end (json);
}

static void
write_head (DewJson *json, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;
  static const char *const states[] = {
    [DEW_FORECAST_FOLLOWING] = "following",
    [DEW_FORECAST_SETTLED] = "settled",
    [DEW_FORECAST_UNSTEADY] = "unsteady",
  };

  dew_json_text (json, "format", "dewtier forecast");
  dew_json_integer (json, "version", 1);
  dew_json_text (json, "file", report->file);
  dew_json_text (json, "enclosure", report->chamber->name);
  dew_json_text (json, "variant", report->variant->name);
  dew_json_integer (json, "variant_id", report->variant->id);
  dew_json_integer (json, "month", (guint) report->chamber->month + 1);
  dew_json_flag (json, "night", forecast->night);
  dew_json_text (json, "grid", dew_report_grid_word (forecast->grid));
  dew_json_text (json, "state", states[forecast->state]);
  dew_json_flag (json, "two_answers", forecast->two_answers);
  dew_json_list (json, "zones");
  for (int axis = 0; axis < 3; axis++)
    dew_json_integer (json, NULL, forecast->n[axis]);
  dew_json_end (json);
  dew_json_integer (json, "n_zones", forecast->n_zones);
  dew_json_integer (json, "steps", forecast->steps);
  dew_json_real (json, "swing", forecast->swing);
  dew_json_real (json, "seconds", forecast->seconds);
  dew_json_reals (json, "inner_m", forecast->inner_m, 3);
  dew_json_real (json, "room_t_C", forecast->room_t_C);
  dew_json_real (json, "room_rh", forecast->room_rh);
  dew_json_real (json, "room_w_kg_kg", forecast->room_w_kg_kg);
  dew_json_real (json, "pressure_Pa", forecast->pressure_Pa);
  dew_json_real (json, "radiant_C", forecast->radiant_C);
  dew_json_real (json, "exchange_1_s", forecast->exchange_1_s);
  dew_json_real (json, "evaporated_share", forecast->evaporated_share);
  dew_report_climate_json (json, "all", &forecast->all);
}

static void
write_bays (DewJson *json, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;

  dew_json_list (json, "bays");
  for (int i = 0; i < forecast->n_bays; i++)
    {
      const DewBay *bay = &forecast->bays[i];
      const DewThing *shelf = dew_variant_thing (report->variant, bay->shelf_id);

      dew_json_object (json, NULL);
      dew_json_integer (json, "bay", i);
      dew_json_text (json, "stands_on", shelf != NULL ? shelf->name : "floor");
      dew_json_integer (json, "shelf_id", bay->shelf_id);
      dew_json_real (json, "z0_m", bay->z0_m);
      dew_json_real (json, "z1_m", bay->z1_m);
      dew_report_climate_json (json, "mean", &bay->mean);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_places (DewJson *json, const DewForecast *forecast)
{
  dew_json_list (json, "places");
  for (int i = 0; i < forecast->n_places; i++)
    {
      const DewPlace *place = &forecast->places[i];

      dew_json_object (json, NULL);
      dew_json_integer (json, "bay", place->bay);
      dew_json_integer (json, "column", place->column);
      dew_json_integer (json, "row", place->row);
      dew_json_reals (json, "lo_m", place->lo_m, 3);
      dew_json_reals (json, "hi_m", place->hi_m, 3);
      dew_report_climate_json (json, "mean", &place->mean);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_exchanges (DewJson *json, const DewForecast *forecast)
{
  dew_json_list (json, "exchanges");
  for (int i = 0; i < forecast->n_exchanges; i++)
    {
      const DewExchange *exchange = &forecast->exchanges[i];

      dew_json_object (json, NULL);
      dew_json_integer (json, "thing_id", exchange->thing_id);
      dew_json_text (json, "name", exchange->name);
      REAL (exchange, inflow_m3_s);
      REAL (exchange, outflow_m3_s);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_devices (DewJson *json, const DewReport *report)
{
  dew_json_list (json, "devices");
  for (int i = 0; i < report->forecast->n_devices; i++)
    {
      const DewDevice *device = &report->forecast->devices[i];
      const DewThing *thing = dew_variant_thing (report->variant, device->thing_id);

      dew_json_object (json, NULL);
      dew_json_integer (json, "thing_id", device->thing_id);
      dew_json_text (json, "name", thing != NULL ? thing->name : "");
      REAL (device, duty);
      REAL (device, water_kg_s);
      REAL (device, hours_of_water);
      REAL (device, t_C);
      REAL (device, leaf_vpd_Pa);
      REAL (device, flow_m3_s);
      REAL (device, wetting_kg_m2s);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_cover (DewJson *json, const DewForecast *forecast)
{
  dew_json_object (json, "cover");
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      const DewCover *cover = &forecast->cover[face];

      dew_json_object (json, dew_face_key (face));
      REAL (cover, t_C);
      REAL (cover, coldest_C);
      REAL (cover, dew_kg_s);
      REAL (cover, heat_W);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_balance (DewJson *json, const DewBalance *balance)
{
  dew_json_object (json, "balance");
  REAL (balance, air_in_m3_s);
  REAL (balance, air_out_m3_s);
  REAL (balance, heat_source_W);
  REAL (balance, heat_latent_W);
  REAL (balance, heat_surface_W);
  REAL (balance, heat_openings_W);
  REAL (balance, heat_cover_W);
  REAL (balance, water_device_kg_s);
  REAL (balance, water_surface_kg_s);
  REAL (balance, water_openings_kg_s);
  REAL (balance, water_cover_kg_s);
  REAL (balance, water_fallout_kg_s);
  REAL (balance, air_residual);
  REAL (balance, heat_residual);
  REAL (balance, water_residual);
  dew_json_end (json);
}

static void
write_findings (DewJson *json, const DewForecast *forecast)
{
  dew_json_list (json, "findings");
  for (int i = 0; i < forecast->n_findings; i++)
    {
      const DewFinding *finding = &forecast->findings[i];

      dew_json_object (json, NULL);
      dew_json_text (json, "kind", finding_words[finding->kind]);
      dew_json_text (json, "word", finding->word);
      dew_json_integer (json, "severity", finding->severity);
      dew_json_integer (json, "thing_id", finding->thing_id);
      dew_json_integer (json, "bay", finding->bay);
      dew_json_reals (json, "at_m", finding->at_m, 3);
      dew_json_real (json, "value", finding->value);
      dew_json_real (json, "threshold", finding->threshold);
      dew_json_text (json, "unit", finding->unit);
      dew_json_text (json, "title", finding->title);
      dew_json_text (json, "cause", finding->cause);
      dew_json_text (json, "remedy", finding->remedy);
      dew_json_text (json, "source", finding->source);
      dew_json_end (json);
    }
  dew_json_end (json);
}

char *
dew_report_json (const DewReport *report)
{
  DewJson *json = dew_json_new ();

  write_head (json, report);
  write_bays (json, report);
  write_places (json, report->forecast);
  write_exchanges (json, report->forecast);
  write_devices (json, report);
  write_cover (json, report->forecast);
  write_balance (json, &report->forecast->balance);
  write_findings (json, report->forecast);
  dew_json_text (json, "caution", "A prediction with error, not a measurement.");
  return dew_json_finish (json);
}
