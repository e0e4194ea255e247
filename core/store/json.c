/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/json.h"

#include "store/json-read.h"
#include "store/store.h"
#include "say/problems.h"

#include <glib/gi18n.h>
#include <string.h>

#define JSON_BYTES_MAX (16 * 1024 * 1024) /* some more than the largest document has */

static gboolean
read_panels (DewJsonReader *reader, JsonNode *node, DewChamber *chamber)
{
  static const char *const none[] = { NULL };
  const char *faces[DEW_N_FACES + 1] = { NULL };
  JsonObject *panels;

  for (int face = 0; face < DEW_N_FACES; face++)
    faces[face] = dew_face_key (face);
  panels = dew_json_read_object (reader, "panels", node, NULL, faces);
  if (panels == NULL)
    return FALSE;

  for (int face = 0; face < DEW_N_FACES; face++)
    {
      JsonNode *panel = json_object_get_member (panels, faces[face]);
      gsize before;
      JsonObject *object;
      gboolean ok;

      if (panel == NULL)
        continue;
      before = dew_json_enter (reader, "panels.%s", faces[face]);
      object = dew_json_read_object (reader, "", panel, dew_panel_fields (), none);
      ok = object != NULL
           && dew_json_read_fields (reader, object, dew_panel_fields (), &chamber->panels[face]);
      dew_json_leave (reader, before);
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_room (DewJsonReader *reader, JsonNode *node, DewRoom *room)
{
  const char *months[8] = { NULL };
  gsize before = dew_json_enter (reader, "room");
  JsonObject *object;
  gboolean ok;

  for (guint i = 0; dew_month_fields ()[i].key != NULL; i++)
    months[i] = dew_month_fields ()[i].key;
  object = dew_json_read_object (reader, "", node, dew_room_fields (), months);
  ok = object != NULL && dew_json_read_fields (reader, object, dew_room_fields (), room);
  for (const DewField *field = dew_month_fields (); ok && field->key != NULL; field++)
    {
      double values[12] = { 0.0 };

      ok = dew_json_read_reals (reader, object, field->key, field->min, field->max, values, 12);
      for (int month = 0; month < 12; month++)
        dew_field_set_real (field, &room->months[month], values[month]);
    }
  dew_json_leave (reader, before);
  return ok;
}

static gboolean
read_variant (DewJsonReader *reader, JsonNode *node, gpointer chamber)
{
  static const char *const keys[] = { "id", "name", "things", NULL };
  JsonObject *object = dew_json_read_object (reader, "", node, NULL, keys);
  DewVariant *variant;
  JsonNode *name;
  char text[DEW_NAME_SIZE];

  if (object == NULL)
    return FALSE;
  name = dew_json_get (reader, object, "name");
  if (name == NULL || !dew_json_read_text (reader, "name", name, text, sizeof text))
    return FALSE;
  variant = dew_chamber_add_variant (chamber, text, NULL);
  return dew_json_read_id (reader, object, &variant->id)
         && dew_json_read_things (reader, object, variant->things);
}

/* --- wishes and own kinds ---------------------------------------------- */

static gboolean
read_wish (DewJsonReader *reader, JsonNode *node, gpointer wishes)
{
  static const char *const common[] = { "id", NULL };
  JsonObject *object = dew_json_read_object (reader, "", node, dew_wish_fields (), common);
  DewWish wish = { 0 };

  if (object == NULL || !dew_json_read_id (reader, object, &wish.id)
      || !dew_json_read_fields (reader, object, dew_wish_fields (), &wish))
    return FALSE;
  g_array_append_val ((GArray *) wishes, wish);
  return TRUE;
}

static gboolean
read_plant_kind (DewJsonReader *reader, JsonNode *node, gpointer kinds)
{
  static const char *const none[] = { NULL };
  const DewField *fields = dew_plant_kind_fields ();
  JsonObject *object = dew_json_read_object (reader, "", node, fields, none);
  DewPlantKind kind = { { 0 } };

  if (object == NULL || dew_json_get (reader, object, "name") == NULL
      || !dew_json_read_fields (reader, object, fields, &kind))
    return FALSE;
  g_array_append_val ((GArray *) kinds, kind);
  return TRUE;
}

/* Before version 3 the kind of leaf followed from the name and the group. */
static void
guess_leaves (DewChamber *chamber)
{
  for (guint i = 0; i < chamber->kinds->len; i++)
    {
      DewPlantKind *kind = &g_array_index (chamber->kinds, DewPlantKind, i);

      kind->leaf = (int) dew_catalogue_leaf_guess (kind->name, kind->group);
    }
}

/* --- the whole --------------------------------------------------------- */

/* The largest id in use, and one more where the file leaves next_id out. */
static guint
first_free_id (const DewChamber *chamber)
{
  guint last = 0;

  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      last = MAX (last, variant->id);
      for (guint k = 0; k < variant->things->len; k++)
        last = MAX (last, g_array_index (variant->things, DewThing, k).id);
    }
  for (guint i = 0; i < chamber->wishes->len; i++)
    last = MAX (last, g_array_index (chamber->wishes, DewWish, i).id);
  return last + 1;
}

static gboolean
read_numbers (const DewJsonReader *reader, JsonObject *root, DewChamber *chamber)
{
  JsonNode *node;
  gint64 count = 0;

  if ((node = json_object_get_member (root, "month")) != NULL)
    {
      if (!dew_json_read_count (reader, "month", node, 1, 12, &count))
        return FALSE;
      chamber->month = (int) count - 1;
    }
  chamber->next_id = first_free_id (chamber);
  if ((node = json_object_get_member (root, "next_id")) != NULL)
    {
      if (!dew_json_read_count (reader, "next_id", node, chamber->next_id, G_MAXINT, &count))
        return FALSE;
      chamber->next_id = (guint) count;
    }
  chamber->shown_variant
    = chamber->variants->len > 0 ? g_array_index (chamber->variants, DewVariant, 0).id : 0;
  if ((node = json_object_get_member (root, "shown_variant")) != NULL)
    {
      if (!dew_json_read_count (reader, "shown_variant", node, 1, G_MAXINT, &count))
        return FALSE;
      chamber->shown_variant = (guint) count;
    }
  return TRUE;
}

static gboolean
read_chamber (DewJsonReader *reader, JsonNode *node, DewChamber *chamber)
{
  static const char *const keys[]
    = { "format",        "version", "outer_m",  "panels", "room",        "month",
        "shown_variant", "next_id", "variants", "wishes", "plant_kinds", NULL };
  const DewField *sizes = dew_enclosure_fields (), *others = sizes + DEW_N_OUTER_FIELDS;
  JsonObject *root;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return dew_json_fail (reader, "", _ ("the text holds %s; give an object"),
                          dew_json_type_words (node));
  if (!dew_json_read_head (reader, json_node_get_object (node), DEW_JSON_FORMAT, DEW_JSON_VERSION))
    return FALSE;
  root = dew_json_read_object (reader, "", node, others, keys);
  if (root == NULL || dew_json_get (reader, root, "name") == NULL
      || !dew_json_read_fields (reader, root, others, chamber)
      || !dew_json_read_reals (reader, root, "outer_m", sizes->min, sizes->max, chamber->outer_m,
                               DEW_N_OUTER_FIELDS))
    return FALSE;
  if ((node = json_object_get_member (root, "panels")) != NULL
      && !read_panels (reader, node, chamber))
    return FALSE;
  if ((node = json_object_get_member (root, "room")) != NULL
      && !read_room (reader, node, &chamber->room))
    return FALSE;
  g_array_set_size (chamber->variants, 0);
  if (dew_json_get (reader, root, "variants") == NULL
      || !dew_json_read_list (reader, root, "variants", read_variant, chamber)
      || !dew_json_read_list (reader, root, "wishes", read_wish, chamber->wishes)
      || !dew_json_read_list (reader, root, "plant_kinds", read_plant_kind, chamber->kinds))
    return FALSE;
  if (json_object_get_int_member (root, "version") < 3)
    guess_leaves (chamber);
  return read_numbers (reader, root, chamber);
}

/**
 * dew_json_to_chamber:
 * @length: bytes, or -1 when @text ends with a zero
 *
 * What the schema gives a default may be left out. Everything else is taken as
 * it stands or refused; the result passes dew_chamber_validate().
 *
 * Returns: (transfer full) (nullable): NULL with %DEW_STORE_ERROR_CONTENT or
 *   %DEW_STORE_ERROR_NEWER
 */
DewChamber *
dew_json_to_chamber (const char *text, gssize length, GError **error)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (GString) path = g_string_new (NULL);
  g_autoptr (GError) inner = NULL;
  DewJsonReader reader = { path, error };
  JsonNode *root;

  g_return_val_if_fail (text != NULL, NULL);

  root = dew_json_parse (&reader, parser, text, length < 0 ? strlen (text) : (gsize) length,
                         JSON_BYTES_MAX);
  if (root == NULL)
    return NULL;

  if (!read_chamber (&reader, root, chamber))
    return NULL;
  if (!dew_chamber_validate (chamber, &inner))
    {
      dew_json_fail (&reader, "", "%s", inner->message);
      return NULL;
    }
  return g_steal_pointer (&chamber);
}

void
dew_json_library (int compiled[3], int running[3])
{
  compiled[0] = JSON_MAJOR_VERSION;
  compiled[1] = JSON_MINOR_VERSION;
  compiled[2] = JSON_MICRO_VERSION;
}
