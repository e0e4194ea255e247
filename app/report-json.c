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

void
dew_report_begin (GString *out, int indent, const char *key, char bracket)
{
  dew_json_member (out, indent, key);
  g_string_append_c (out, bracket);
}

void
dew_report_flag (GString *out, int indent, const char *key, gboolean flag)
{
  dew_json_member (out, indent, key);
  g_string_append (out, flag ? "true" : "false");
}

/* A bay of a finding may be -1. */
void
dew_report_integer (GString *out, int indent, const char *key, int value)
{
  dew_json_member (out, indent, key);
  g_string_append_printf (out, "%d", value);
}

#define REAL(struct_, member) dew_json_member_real (out, indent, #member, (struct_)->member)

void
dew_report_climate_json (GString *out, int level, const char *key, const DewClimate *climate)
{
  int indent = level + 1;

  dew_report_begin (out, level, key, '{');
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
  dew_json_close (out, level, '}');
}

static void
write_head (GString *out, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;
  static const char *const states[] = {
    [DEW_FORECAST_FOLLOWING] = "following",
    [DEW_FORECAST_SETTLED] = "settled",
    [DEW_FORECAST_UNSTEADY] = "unsteady",
  };

  dew_json_member_text (out, 1, "format", "dewtier forecast");
  dew_json_member_count (out, 1, "version", 1);
  dew_json_member_text (out, 1, "file", report->file);
  dew_json_member_text (out, 1, "enclosure", report->chamber->name);
  dew_json_member_text (out, 1, "variant", report->variant->name);
  dew_json_member_count (out, 1, "variant_id", report->variant->id);
  dew_json_member_count (out, 1, "month", (guint) report->chamber->month + 1);
  dew_report_flag (out, 1, "night", forecast->night);
  dew_json_member_text (out, 1, "grid", dew_report_grid_word (forecast->grid));
  dew_json_member_text (out, 1, "state", states[forecast->state]);
  dew_report_flag (out, 1, "two_answers", forecast->two_answers);
  dew_report_begin (out, 1, "zones", '[');
  for (int axis = 0; axis < 3; axis++)
    dew_report_integer (out, 2, NULL, forecast->n[axis]);
  dew_json_close (out, 1, ']');
  dew_report_integer (out, 1, "n_zones", forecast->n_zones);
  dew_report_integer (out, 1, "steps", forecast->steps);
  dew_json_member_real (out, 1, "swing", forecast->swing);
  dew_json_member_real (out, 1, "seconds", forecast->seconds);
  dew_json_member_reals (out, 1, "inner_m", forecast->inner_m, 3);
  dew_json_member_real (out, 1, "room_t_C", forecast->room_t_C);
  dew_json_member_real (out, 1, "room_rh", forecast->room_rh);
  dew_json_member_real (out, 1, "room_w_kg_kg", forecast->room_w_kg_kg);
  dew_json_member_real (out, 1, "pressure_Pa", forecast->pressure_Pa);
  dew_json_member_real (out, 1, "radiant_C", forecast->radiant_C);
  dew_json_member_real (out, 1, "exchange_1_s", forecast->exchange_1_s);
  dew_json_member_real (out, 1, "evaporated_share", forecast->evaporated_share);
  dew_report_climate_json (out, 1, "all", &forecast->all);
}

static void
write_bays (GString *out, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;

  dew_report_begin (out, 1, "bays", '[');
  for (int i = 0; i < forecast->n_bays; i++)
    {
      const DewBay *bay = &forecast->bays[i];
      const DewThing *shelf = dew_variant_thing (report->variant, bay->shelf_id);

      dew_report_begin (out, 2, NULL, '{');
      dew_report_integer (out, 3, "bay", i);
      dew_json_member_text (out, 3, "stands_on", shelf != NULL ? shelf->name : "floor");
      dew_json_member_count (out, 3, "shelf_id", bay->shelf_id);
      dew_json_member_real (out, 3, "z0_m", bay->z0_m);
      dew_json_member_real (out, 3, "z1_m", bay->z1_m);
      dew_report_climate_json (out, 3, "mean", &bay->mean);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

static void
write_places (GString *out, const DewForecast *forecast)
{
  dew_report_begin (out, 1, "places", '[');
  for (int i = 0; i < forecast->n_places; i++)
    {
      const DewPlace *place = &forecast->places[i];

      dew_report_begin (out, 2, NULL, '{');
      dew_report_integer (out, 3, "bay", place->bay);
      dew_report_integer (out, 3, "column", place->column);
      dew_report_integer (out, 3, "row", place->row);
      dew_json_member_reals (out, 3, "lo_m", place->lo_m, 3);
      dew_json_member_reals (out, 3, "hi_m", place->hi_m, 3);
      dew_report_climate_json (out, 3, "mean", &place->mean);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

static void
write_exchanges (GString *out, const DewForecast *forecast)
{
  dew_report_begin (out, 1, "exchanges", '[');
  for (int i = 0; i < forecast->n_exchanges; i++)
    {
      const DewExchange *exchange = &forecast->exchanges[i];
      int indent = 3;

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_count (out, 3, "thing_id", exchange->thing_id);
      dew_json_member_text (out, 3, "name", exchange->name);
      REAL (exchange, inflow_m3_s);
      REAL (exchange, outflow_m3_s);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

static void
write_devices (GString *out, const DewReport *report)
{
  dew_report_begin (out, 1, "devices", '[');
  for (int i = 0; i < report->forecast->n_devices; i++)
    {
      const DewDevice *device = &report->forecast->devices[i];
      const DewThing *thing = dew_variant_thing (report->variant, device->thing_id);
      int indent = 3;

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_count (out, 3, "thing_id", device->thing_id);
      dew_json_member_text (out, 3, "name", thing != NULL ? thing->name : "");
      REAL (device, duty);
      REAL (device, water_kg_s);
      REAL (device, hours_of_water);
      REAL (device, t_C);
      REAL (device, leaf_vpd_Pa);
      REAL (device, flow_m3_s);
      REAL (device, wetting_kg_m2s);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

static void
write_cover (GString *out, const DewForecast *forecast)
{
  dew_report_begin (out, 1, "cover", '{');
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      const DewCover *cover = &forecast->cover[face];
      int indent = 3;

      dew_report_begin (out, 2, dew_face_key (face), '{');
      REAL (cover, t_C);
      REAL (cover, coldest_C);
      REAL (cover, dew_kg_s);
      REAL (cover, heat_W);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, '}');
}

static void
write_balance (GString *out, const DewBalance *balance)
{
  int indent = 2;

  dew_report_begin (out, 1, "balance", '{');
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
  dew_json_close (out, 1, '}');
}

static void
write_findings (GString *out, const DewForecast *forecast)
{
  dew_report_begin (out, 1, "findings", '[');
  for (int i = 0; i < forecast->n_findings; i++)
    {
      const DewFinding *finding = &forecast->findings[i];

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_text (out, 3, "kind", finding_words[finding->kind]);
      dew_json_member_text (out, 3, "word", finding->word);
      dew_report_integer (out, 3, "severity", finding->severity);
      dew_json_member_count (out, 3, "thing_id", finding->thing_id);
      dew_report_integer (out, 3, "bay", finding->bay);
      dew_json_member_reals (out, 3, "at_m", finding->at_m, 3);
      dew_json_member_real (out, 3, "value", finding->value);
      dew_json_member_real (out, 3, "threshold", finding->threshold);
      dew_json_member_text (out, 3, "unit", finding->unit);
      dew_json_member_text (out, 3, "title", finding->title);
      dew_json_member_text (out, 3, "cause", finding->cause);
      dew_json_member_text (out, 3, "remedy", finding->remedy);
      dew_json_member_text (out, 3, "source", finding->source);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

char *
dew_report_json (const DewReport *report)
{
  GString *out = g_string_new ("{");

  write_head (out, report);
  write_bays (out, report);
  write_places (out, report->forecast);
  write_exchanges (out, report->forecast);
  write_devices (out, report);
  write_cover (out, report->forecast);
  write_balance (out, &report->forecast->balance);
  write_findings (out, report->forecast);
  dew_json_member_text (out, 1, "caution", "A prediction with error, not a measurement.");
  dew_json_close (out, 0, '}');
  g_string_append_c (out, '\n');
  return g_string_free (out, FALSE);
}
