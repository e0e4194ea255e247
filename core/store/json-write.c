/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/json.h"

#include "store/store.h"

#include <float.h>
#include <math.h>
#include <string.h>

void
dew_json_append_number (GString *out, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (!isfinite (value))
    {
      g_string_append (out, "null");
      return;
    }
  /* Fifteen digits are always kept; only below the normal range can fewer do. */
  for (int digits = fabs (value) < DBL_MIN ? 1 : 15; digits <= 17; digits++)
    {
      char format[8];

      g_snprintf (format, sizeof format, "%%.%dg", digits);
      g_ascii_formatd (text, sizeof text, format, value);
      if (g_ascii_strtod (text, NULL) == value)
        break;
    }
  g_string_append (out, text);
}

void
dew_json_append_text (GString *out, const char *text)
{
  g_string_append_c (out, '"');
  for (const char *p = text; *p != '\0'; p++)
    {
      if (*p == '"' || *p == '\\')
        g_string_append_printf (out, "\\%c", *p);
      else if (*p == '\n')
        g_string_append (out, "\\n");
      else if ((guchar) *p < 0x20)
        g_string_append_printf (out, "\\u%04x", (guint) *p);
      else
        g_string_append_c (out, *p);
    }
  g_string_append_c (out, '"');
}

void
dew_json_member (GString *out, int indent, const char *key)
{
  char last = out->len > 0 ? out->str[out->len - 1] : '{';

  g_string_append (out, last == '{' || last == '[' ? "\n" : ",\n");
  g_string_append_printf (out, "%*s", 2 * indent, "");
  if (key == NULL)
    return;
  dew_json_append_text (out, key);
  g_string_append (out, ": ");
}

void
dew_json_close (GString *out, int indent, char bracket)
{
  char last = out->str[out->len - 1];

  if (last != '{' && last != '[')
    g_string_append_printf (out, "\n%*s", 2 * indent, "");
  g_string_append_c (out, bracket);
}

void
dew_json_member_text (GString *out, int indent, const char *key, const char *text)
{
  dew_json_member (out, indent, key);
  dew_json_append_text (out, text);
}

void
dew_json_member_real (GString *out, int indent, const char *key, double value)
{
  dew_json_member (out, indent, key);
  dew_json_append_number (out, value);
}

void
dew_json_member_count (GString *out, int indent, const char *key, guint value)
{
  dew_json_member (out, indent, key);
  g_string_append_printf (out, "%u", value);
}

void
dew_json_member_reals (GString *out, int indent, const char *key, const double *values, int n)
{
  dew_json_member (out, indent, key);
  g_string_append_c (out, '[');
  for (int i = 0; i < n; i++)
    {
      g_string_append (out, i > 0 ? ", " : "");
      dew_json_append_number (out, values[i]);
    }
  g_string_append_c (out, ']');
}

static void
write_fields (GString *out, int indent, const DewField *fields, gconstpointer record)
{
  for (const DewField *field = fields; field->key != NULL; field++)
    {
      dew_json_member (out, indent, field->key);
      switch (field->type)
        {
        case DEW_FIELD_REAL:
          dew_json_append_number (out, dew_field_get_real (field, record));
          break;
        case DEW_FIELD_CHOICE:
          dew_json_append_text (out, field->choices[dew_field_get_int (field, record)]);
          break;
        case DEW_FIELD_FLAG:
          g_string_append (out, dew_field_get_int (field, record) ? "true" : "false");
          break;
        case DEW_FIELD_TEXT:
          dew_json_append_text (out, dew_field_get_text (field, record));
          break;
        case DEW_FIELD_LINK:
        default:
          g_string_append_printf (out, "%d", dew_field_get_int (field, record));
          break;
        }
    }
}

static void
write_room (GString *out, const DewRoom *room)
{
  dew_json_member (out, 1, "room");
  g_string_append_c (out, '{');
  write_fields (out, 2, dew_room_fields (), room);
  dew_json_member_reals (out, 2, "t_day_C", room->t_day_C, 12);
  dew_json_member_reals (out, 2, "t_night_C", room->t_night_C, 12);
  dew_json_member_reals (out, 2, "rh_day", room->rh_day, 12);
  dew_json_member_reals (out, 2, "rh_night", room->rh_night, 12);
  dew_json_close (out, 1, '}');
}

void
dew_json_member_thing (GString *out, int indent, const DewThing *thing)
{
  dew_json_member (out, indent, NULL);
  g_string_append_c (out, '{');
  dew_json_member_count (out, indent + 1, "id", thing->id);
  dew_json_member_text (out, indent + 1, "type", dew_thing_kind_key (thing->kind));
  dew_json_member_text (out, indent + 1, "name", thing->name);
  write_fields (out, indent + 1, dew_thing_fields (thing->kind), thing);
  dew_json_close (out, indent, '}');
}

static void
write_variant (GString *out, const DewVariant *variant)
{
  dew_json_member (out, 2, NULL);
  g_string_append_c (out, '{');
  dew_json_member_count (out, 3, "id", variant->id);
  dew_json_member_text (out, 3, "name", variant->name);
  dew_json_member (out, 3, "things");
  g_string_append_c (out, '[');
  for (guint i = 0; i < variant->things->len; i++)
    dew_json_member_thing (out, 4, &g_array_index (variant->things, DewThing, i));
  dew_json_close (out, 3, ']');
  dew_json_close (out, 2, '}');
}

static void
write_wishes (GString *out, const DewChamber *chamber)
{
  dew_json_member (out, 1, "wishes");
  g_string_append_c (out, '[');
  for (guint i = 0; i < chamber->wishes->len; i++)
    {
      const DewWish *wish = &g_array_index (chamber->wishes, DewWish, i);

      dew_json_member (out, 2, NULL);
      g_string_append_c (out, '{');
      dew_json_member_count (out, 3, "id", wish->id);
      write_fields (out, 3, dew_wish_fields (), wish);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
  dew_json_member (out, 1, "plant_kinds");
  g_string_append_c (out, '[');
  for (guint i = 0; i < chamber->kinds->len; i++)
    {
      dew_json_member (out, 2, NULL);
      g_string_append_c (out, '{');
      write_fields (out, 3, dew_plant_kind_fields (),
                    &g_array_index (chamber->kinds, DewPlantKind, i));
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
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
  GString *out;

  g_return_val_if_fail (chamber != NULL, NULL);

  out = g_string_new ("{");
  dew_json_member_text (out, 1, "format", DEW_JSON_FORMAT);
  dew_json_member_count (out, 1, "version", DEW_JSON_VERSION);
  dew_json_member_text (out, 1, "name", chamber->name);
  dew_json_member_text (out, 1, "note", chamber->note);
  dew_json_member_reals (out, 1, "outer_m", chamber->outer_m, 3);
  dew_json_member (out, 1, "panels");
  g_string_append_c (out, '{');
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      dew_json_member (out, 2, dew_face_key (face));
      g_string_append_c (out, '{');
      write_fields (out, 3, dew_panel_fields (), &chamber->panels[face]);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, '}');
  dew_json_member_real (out, 1, "leak_area_m2", chamber->leak_area_m2);
  dew_json_member_real (out, 1, "leak_exponent", chamber->leak_exponent);
  write_room (out, &chamber->room);
  dew_json_member_count (out, 1, "month", (guint) chamber->month + 1);
  dew_json_member_count (out, 1, "shown_variant", chamber->shown_variant);
  dew_json_member_count (out, 1, "next_id", chamber->next_id);
  dew_json_member (out, 1, "variants");
  g_string_append_c (out, '[');
  for (guint i = 0; i < chamber->variants->len; i++)
    write_variant (out, &g_array_index (chamber->variants, DewVariant, i));
  dew_json_close (out, 1, ']');
  write_wishes (out, chamber);
  dew_json_close (out, 0, '}');
  g_string_append_c (out, '\n');
  return g_string_free (out, FALSE);
}
