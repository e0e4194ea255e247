/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/report-private.h"

#include "say/findings.h"

/* Keys are the names of the members in core/forecast/forecast.h, so that one
 * description serves both. */

/* --- for all reports ------------------------------------------------------- */

void
dew_report_head (DewJson *json, const char *format, const DewReport *about)
{
  dew_report_put (json, WORDS ("format", format), INTEGER_OF ("version", 1),
                  WORDS ("file", about->file), WORDS ("enclosure", about->chamber->name));
}

static void
write_member (DewJson *json, const char *key, DewMemberType type, gconstpointer at)
{
  switch (type)
    {
    case DEW_MEMBER_REAL:
      dew_json_real (json, key, *(const double *) at);
      break;
    case DEW_MEMBER_INTEGER:
      dew_json_integer (json, key, *(const int *) at);
      break;
    case DEW_MEMBER_FLAG:
      dew_json_flag (json, key, *(const gboolean *) at);
      break;
    case DEW_MEMBER_NAME:
      dew_json_text (json, key, at);
      break;
    case DEW_MEMBER_POINT:
      dew_json_reals (json, key, at, 3);
      break;
    case DEW_MEMBER_CLIMATE:
      dew_report_object (json, key, dew_climate_members, at);
      break;
    case DEW_MEMBER_FINDING:
    default:
      dew_json_text (json, key,
                     *(const int *) at < 0 ? NULL : dew_finding_kind_key (*(const int *) at));
      break;
    }
}

void
dew_report_items (DewJson *json, const DewItem *items)
{
  for (; items->key != NULL; items++)
    write_member (json, items->key, items->type, items->at);
}

void
dew_report_members (DewJson *json, const DewMember *members, gconstpointer record)
{
  for (const DewMember *m = members; m->key != NULL; m++)
    {
      write_member (json, m->key, m->type, (const char *) record + m->offset);
      if (m->band_key != NULL)
        dew_json_real (json, m->band_key, dew_member_band (m, record));
    }
}

void
dew_report_object (DewJson *json, const char *key, const DewMember *members, gconstpointer record)
{
  dew_json_object (json, key);
  dew_report_members (json, members, record);
  dew_json_end (json);
}

void
dew_report_list (DewJson *json, const char *key, const DewMember *members, gconstpointer records,
                 int n, gsize size)
{
  dew_json_list (json, key);
  for (int i = 0; i < n; i++)
    dew_report_object (json, NULL, members, (const char *) records + (gsize) i * size);
  dew_json_end (json);
}

/* --- a forecast -------------------------------------------------------------- */

static void
write_head (DewJson *json, const DewReport *about, const DewForecast *forecast)
{
  dew_report_head (json, "dewtier forecast", about);
  dew_report_put (json, WORDS ("variant", about->variant->name),
                  INTEGER_OF ("variant_id", about->variant->id),
                  INTEGER_OF ("month", about->chamber->month + 1), FLAG (forecast, night),
                  WORDS ("grid", dew_grid_keys[forecast->grid]),
                  WORDS ("state", dew_state_keys[forecast->state]), FLAG (forecast, two_answers));
  dew_json_list (json, "zones");
  for (int axis = 0; axis < 3; axis++)
    dew_json_integer (json, NULL, forecast->n[axis]);
  dew_json_end (json);
  dew_report_put (json, INTEGER (forecast, n_zones), INTEGER (forecast, steps),
                  REAL (forecast, swing), REAL (forecast, seconds), POINT (forecast, inner_m),
                  REAL (forecast, room_t_C), REAL (forecast, room_rh),
                  REAL (forecast, room_w_kg_kg), REAL (forecast, pressure_Pa),
                  REAL (forecast, radiant_C), REAL (forecast, exchange_1_s),
                  REAL (forecast, evaporated_share));
  dew_report_object (json, "all", dew_climate_members, &forecast->all);
}

static void
write_bays (DewJson *json, const DewReport *about, const DewForecast *forecast)
{
  dew_json_list (json, "bays");
  for (int i = 0; i < forecast->n_bays; i++)
    {
      const DewBay *bay = &forecast->bays[i];
      const DewThing *shelf = dew_variant_thing (about->variant, bay->shelf_id);

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER_OF ("bay", i),
                      WORDS ("stands_on", shelf != NULL ? shelf->name : "floor"),
                      INTEGER (bay, shelf_id), REAL (bay, z0_m), REAL (bay, z1_m));
      dew_report_object (json, "mean", dew_climate_members, &bay->mean);
      if (forecast->other != NULL)
        dew_report_object (json, "other_mean", dew_climate_members, &forecast->other[i]);
      else
        dew_json_text (json, "other_mean", NULL);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_devices (DewJson *json, const DewReport *about, const DewForecast *forecast)
{
  dew_json_list (json, "devices");
  for (int i = 0; i < forecast->n_devices; i++)
    {
      const DewDevice *device = &forecast->devices[i];
      const DewThing *thing = dew_variant_thing (about->variant, device->thing_id);

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER (device, thing_id),
                      WORDS ("name", thing != NULL ? thing->name : ""));
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
      g_autofree char *cause = dew_finding_cause (finding);

      dew_report_record (json, NULL, WORDS ("kind", dew_finding_kind_key (finding->kind)),
                         WORDS ("word", flag), INTEGER (finding, severity),
                         INTEGER (finding, thing_id), INTEGER (finding, bay), POINT (finding, at_m),
                         REAL_OF ("value", dew_finding_plain (finding, finding->value)),
                         REAL_OF ("threshold", dew_finding_plain (finding, finding->threshold)),
                         WORDS ("unit", dew_finding_unit (finding)), WORDS ("title", title),
                         WORDS ("cause", cause), INTEGER (finding, by_id),
                         WORDS ("remedy", dew_finding_remedy (finding)),
                         WORDS ("source", dew_limit_source (finding->limit)));
    }
  dew_json_end (json);
}

char *
dew_report_forecast_json (const DewReport *about, const DewForecast *forecast)
{
  DewJson *json = dew_json_new ();

  write_head (json, about, forecast);
  write_bays (json, about, forecast);
  dew_report_list (json, "places", dew_place_members, forecast->places, forecast->n_places,
                   sizeof (DewPlace));
  dew_report_list (json, "exchanges", dew_exchange_members, forecast->exchanges,
                   forecast->n_exchanges, sizeof (DewExchange));
  write_devices (json, about, forecast);
  write_cover (json, forecast);
  dew_report_object (json, "balance", dew_balance_members, &forecast->balance);
  write_findings (json, forecast);
  dew_json_text (json, "caution", "A prediction with error, not a measurement.");
  return dew_json_finish (json);
}
