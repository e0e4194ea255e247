/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/report.h"

#include "say/findings.h"

/* Keys are the names of the members in core/forecast/forecast.h, so that one
 * description serves both. What is not known is null. */

void
dew_report_members (DewJson *json, const DewMember *members, gconstpointer record)
{
  for (const DewMember *m = members; m->key != NULL; m++)
    {
      gconstpointer at = (const char *) record + m->offset;

      switch (m->type)
        {
        case DEW_MEMBER_REAL:
          dew_json_real (json, m->key, *(const double *) at);
          if (m->band_key != NULL)
            dew_json_real (json, m->band_key, dew_member_band (m, record));
          break;
        case DEW_MEMBER_INTEGER:
          dew_json_integer (json, m->key, *(const int *) at);
          break;
        case DEW_MEMBER_FLAG:
          dew_json_flag (json, m->key, *(const gboolean *) at);
          break;
        case DEW_MEMBER_NAME:
          dew_json_text (json, m->key, at);
          break;
        case DEW_MEMBER_TEXT:
          dew_json_text (json, m->key, *(char *const *) at);
          break;
        case DEW_MEMBER_POINT:
          dew_json_reals (json, m->key, at, 3);
          break;
        case DEW_MEMBER_CLIMATE:
          dew_report_object (json, m->key, dew_climate_members, at);
          break;
        case DEW_MEMBER_FINDING:
        default:
          dew_json_text (json, m->key,
                         *(const int *) at < 0 ? NULL : dew_finding_kind_key (*(const int *) at));
          break;
        }
    }
}

void
dew_report_object (DewJson *json, const char *key, const DewMember *members, gconstpointer record)
{
  dew_json_object (json, key);
  dew_report_members (json, members, record);
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
  dew_report_object (json, "all", dew_climate_members, &forecast->all);
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
      dew_report_object (json, "mean", dew_climate_members, &bay->mean);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_places (DewJson *json, const DewForecast *forecast)
{
  dew_json_list (json, "places");
  for (int i = 0; i < forecast->n_places; i++)
    dew_report_object (json, NULL, dew_place_members, &forecast->places[i]);
  dew_json_end (json);
}

static void
write_exchanges (DewJson *json, const DewForecast *forecast)
{
  dew_json_list (json, "exchanges");
  for (int i = 0; i < forecast->n_exchanges; i++)
    dew_report_object (json, NULL, dew_exchange_members, &forecast->exchanges[i]);
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
      dew_report_members (json, dew_device_members, device);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_cover (DewJson *json, const DewForecast *forecast)
{
  dew_json_object (json, "cover");
  for (int face = 0; face < DEW_N_FACES; face++)
    dew_report_object (json, dew_face_key (face), dew_cover_members, &forecast->cover[face]);
  dew_json_end (json);
}

static void
write_findings (DewJson *json, const DewForecast *forecast)
{
  dew_json_list (json, "findings");
  for (int i = 0; i < forecast->n_findings; i++)
    {
      const DewFinding *finding = &forecast->findings[i];
      g_autofree char *flag = dew_finding_flag (finding);
      g_autofree char *title = dew_finding_title (forecast, finding);

      dew_json_object (json, NULL);
      dew_json_text (json, "kind", dew_finding_kind_key (finding->kind));
      dew_json_text (json, "word", flag);
      dew_json_integer (json, "severity", finding->severity);
      dew_json_integer (json, "thing_id", finding->thing_id);
      dew_json_integer (json, "bay", finding->bay);
      dew_json_reals (json, "at_m", finding->at_m, 3);
      dew_json_real (json, "value", dew_finding_plain (finding, finding->value));
      dew_json_real (json, "threshold", dew_finding_plain (finding, finding->threshold));
      dew_json_text (json, "unit", dew_finding_unit (finding));
      dew_json_text (json, "title", title);
      dew_json_text (json, "cause", dew_finding_cause (finding));
      dew_json_text (json, "remedy", dew_finding_remedy (finding));
      dew_json_text (json, "source", dew_limit_source (finding->limit));
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
  dew_report_object (json, "balance", dew_balance_members, &report->forecast->balance);
  write_findings (json, report->forecast);
  dew_json_text (json, "caution", "A prediction with error, not a measurement.");
  return dew_json_finish (json);
}
