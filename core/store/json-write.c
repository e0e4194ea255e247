/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/json.h"

#include "store/store.h"

#include <string.h>

static void
write_fields (DewJson *json, const DewField *fields, gconstpointer record)
{
  for (const DewField *field = fields; field->key != NULL; field++)
    switch (field->type)
      {
      case DEW_FIELD_REAL:
        dew_json_real (json, field->key, dew_field_get_real (field, record));
        break;
      case DEW_FIELD_CHOICE:
        dew_json_text (json, field->key, field->choices[dew_field_get_int (field, record)]);
        break;
      case DEW_FIELD_FLAG:
        dew_json_flag (json, field->key, dew_field_get_int (field, record));
        break;
      case DEW_FIELD_TEXT:
        dew_json_text (json, field->key, dew_field_get_text (field, record));
        break;
      case DEW_FIELD_LINK:
      default:
        dew_json_integer (json, field->key, dew_field_get_int (field, record));
        break;
      }
}

static void
write_room (DewJson *json, const DewRoom *room)
{
  dew_json_object (json, "room");
  write_fields (json, dew_room_fields (), room);
  for (const DewField *field = dew_month_fields (); field->key != NULL; field++)
    {
      double values[12];

      for (int month = 0; month < 12; month++)
        values[month] = dew_field_get_real (field, &room->months[month]);
      dew_json_reals (json, field->key, values, 12);
    }
  dew_json_end (json);
}

void
dew_json_thing (DewJson *json, const DewThing *thing)
{
  dew_json_object (json, NULL);
  dew_json_integer (json, "id", thing->id);
  dew_json_text (json, "type", dew_thing_kind_key (thing->kind));
  dew_json_text (json, "name", thing->name);
  write_fields (json, dew_thing_fields (thing->kind), thing);
  dew_json_end (json);
}

static void
write_variant (DewJson *json, const DewVariant *variant)
{
  dew_json_object (json, NULL);
  dew_json_integer (json, "id", variant->id);
  dew_json_text (json, "name", variant->name);
  dew_json_list (json, "things");
  for (guint i = 0; i < variant->things->len; i++)
    dew_json_thing (json, &g_array_index (variant->things, DewThing, i));
  dew_json_end (json);
  dew_json_end (json);
}

static void
write_wishes (DewJson *json, const DewChamber *chamber)
{
  dew_json_list (json, "wishes");
  for (guint i = 0; i < chamber->wishes->len; i++)
    {
      const DewWish *wish = &g_array_index (chamber->wishes, DewWish, i);

      dew_json_object (json, NULL);
      dew_json_integer (json, "id", wish->id);
      write_fields (json, dew_wish_fields (), wish);
      dew_json_end (json);
    }
  dew_json_end (json);
  dew_json_list (json, "plant_kinds");
  for (guint i = 0; i < chamber->kinds->len; i++)
    {
      dew_json_object (json, NULL);
      write_fields (json, dew_plant_kind_fields (),
                    &g_array_index (chamber->kinds, DewPlantKind, i));
      dew_json_end (json);
    }
  dew_json_end (json);
}

/**
 * dew_json_from_chamber:
 * @chamber: one that passes dew_chamber_validate()
 *
 * The same enclosure always gives the same bytes.
 *
 * Returns: (transfer full): the JSON form, two spaces of indent, a line feed at
 *   its end.
 */
char *
dew_json_from_chamber (const DewChamber *chamber)
{
  DewJson *json;

  g_return_val_if_fail (chamber != NULL, NULL);

  json = dew_json_new ();
  dew_json_text (json, "format", DEW_JSON_FORMAT);
  dew_json_integer (json, "version", DEW_JSON_VERSION);
  write_fields (json, dew_enclosure_fields () + DEW_N_OUTER_FIELDS, chamber);
  dew_json_reals (json, "outer_m", chamber->outer_m, DEW_N_OUTER_FIELDS);
  dew_json_object (json, "panels");
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      dew_json_object (json, dew_face_key (face));
      write_fields (json, dew_panel_fields (), &chamber->panels[face]);
      dew_json_end (json);
    }
  dew_json_end (json);
  write_room (json, &chamber->room);
  dew_json_integer (json, "month", (guint) chamber->month + 1);
  dew_json_integer (json, "shown_variant", chamber->shown_variant);
  dew_json_integer (json, "next_id", chamber->next_id);
  dew_json_list (json, "variants");
  for (guint i = 0; i < chamber->variants->len; i++)
    write_variant (json, &g_array_index (chamber->variants, DewVariant, i));
  dew_json_end (json);
  write_wishes (json, chamber);
  return dew_json_finish (json);
}
