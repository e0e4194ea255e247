/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/json.h"

#include "chamber/chamber-private.h"
#include "store/json-scan.h"
#include "store/store.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

#define JSON_BYTES_MAX (32 * 1024 * 1024)

/* Where the reader is, for messages: "variants[0].things[3]". */
typedef struct
{
  GString *path;
  GError **error;
} Reader;

static gboolean G_GNUC_PRINTF (3, 4)
  fail (const Reader *reader, const char *key, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (reader->error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT, "%s%s%s%s%s",
               reader->path->str, reader->path->len > 0 && key[0] != '\0' ? "." : "", key,
               reader->path->len > 0 || key[0] != '\0' ? ": " : "", message);
  return FALSE;
}

/* Goes down one step; the result goes to leave(). */
static gsize G_GNUC_PRINTF (2, 3) enter (Reader *reader, const char *format, ...)
{
  gsize before = reader->path->len;
  va_list args;

  va_start (args, format);
  g_string_append_vprintf (reader->path, format, args);
  va_end (args);
  return before;
}

static void
leave (Reader *reader, gsize before)
{
  g_string_truncate (reader->path, before);
}

static const char *
type_words (JsonNode *node)
{
  switch (json_node_get_node_type (node))
    {
    case JSON_NODE_OBJECT:
      return "an object";
    case JSON_NODE_ARRAY:
      return "a list";
    case JSON_NODE_NULL:
      return "null";
    case JSON_NODE_VALUE:
    default:
      if (json_node_get_value_type (node) == G_TYPE_STRING)
        return "a text";
      return json_node_get_value_type (node) == G_TYPE_BOOLEAN ? "true or false" : "a number";
    }
}

/* Numbers in messages are written with a point in every locale. */
static const char *
digits (double value, char *text, gsize size)
{
  return g_ascii_formatd (text, (int) size, "%.6g", value);
}

gboolean
dew_json_field_required (const DewField *field)
{
  static const char *const keys[] = { "x_m", "y_m", "z_m", "u0_m", "u1_m", "v0_m", "v1_m", NULL };

  return g_strv_contains (keys, field->key);
}

/* --- single values ----------------------------------------------------- */

static JsonNode *
member (const Reader *reader, JsonObject *object, const char *key)
{
  JsonNode *node = json_object_get_member (object, key);

  if (node == NULL)
    fail (reader, key, "is missing");
  return node;
}

static gboolean
read_real (const Reader *reader, const char *key, JsonNode *node, double min, double max,
           double *value)
{
  char is[32], low[32], high[32];
  GType type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;

  if (type != G_TYPE_INT64 && type != G_TYPE_DOUBLE)
    return fail (reader, key, "is %s; give a number", type_words (node));
  *value = json_node_get_double (node);
  if (!isfinite (*value))
    return fail (reader, key, "the number is too large; give %s to %s",
                 digits (min, low, sizeof low), digits (max, high, sizeof high));
  if (*value < min || *value > max)
    return fail (reader, key, "is %s; give %s to %s", digits (*value, is, sizeof is),
                 digits (min, low, sizeof low), digits (max, high, sizeof high));
  return TRUE;
}

static gboolean
read_count (const Reader *reader, const char *key, JsonNode *node, gint64 min, gint64 max,
            gint64 *value)
{
  double real;

  if (!read_real (reader, key, node, (double) min, (double) max, &real))
    return FALSE;
  if (json_node_get_value_type (node) != G_TYPE_INT64)
    return fail (reader, key,
                 "is not a whole number; give %" G_GINT64_FORMAT " to %" G_GINT64_FORMAT, min, max);
  *value = json_node_get_int (node);
  return TRUE;
}

static gboolean
read_text (const Reader *reader, const char *key, JsonNode *node, char *to, gsize size)
{
  const char *text;

  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    return fail (reader, key, "is %s; give a text", type_words (node));
  text = json_node_get_string (node);
  if (strlen (text) >= size)
    return fail (reader, key, "is longer than %u bytes; shorten it", (guint) (size - 1));
  dew_text_copy (to, size, text);
  return TRUE;
}

static gboolean
read_choice (const Reader *reader, const DewField *field, JsonNode *node, int *value)
{
  g_autofree char *all = g_strjoinv (", ", (GStrv) field->choices);
  const char *text;

  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    return fail (reader, field->key, "is %s; give one of: %s", type_words (node), all);
  text = json_node_get_string (node);
  for (*value = 0; field->choices[*value] != NULL; (*value)++)
    if (strcmp (field->choices[*value], text) == 0)
      return TRUE;
  return fail (reader, field->key, "\"%s\" is unknown; give one of: %s", text, all);
}

static gboolean
read_field (const Reader *reader, const DewField *field, JsonNode *node, gpointer record)
{
  double real = 0.0;
  gint64 count = 0;
  int choice = 0;

  switch (field->type)
    {
    case DEW_FIELD_REAL:
      if (!read_real (reader, field->key, node, field->min, field->max, &real))
        return FALSE;
      dew_field_set_real (field, record, real);
      return TRUE;
    case DEW_FIELD_CHOICE:
      if (!read_choice (reader, field, node, &choice))
        return FALSE;
      dew_field_set_int (field, record, choice);
      return TRUE;
    case DEW_FIELD_FLAG:
      if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_BOOLEAN)
        return fail (reader, field->key, "is %s; give true or false", type_words (node));
      dew_field_set_int (field, record, json_node_get_boolean (node));
      return TRUE;
    case DEW_FIELD_TEXT:
      return read_text (reader, field->key, node, (char *) record + field->offset, field->size);
    case DEW_FIELD_LINK:
    case DEW_FIELD_COUNT:
    default:
      if (!read_count (reader, field->key, node, (gint64) field->min, (gint64) field->max, &count))
        return FALSE;
      dew_field_set_int (field, record, (int) count);
      return TRUE;
    }
}

/* --- objects ----------------------------------------------------------- */

static gboolean
is_known (const char *key, const DewField *fields, const char *const *more)
{
  return (fields != NULL && dew_field_find (fields, key) != NULL) || g_strv_contains (more, key);
}

static JsonObject *
as_object (const Reader *reader, const char *key, JsonNode *node, const DewField *fields,
           const char *const *more)
{
  g_autoptr (GList) members = NULL;
  JsonObject *object;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    {
      fail (reader, key, "is %s; give an object", type_words (node));
      return NULL;
    }
  object = json_node_get_object (node);
  members = json_object_get_members (object);
  for (GList *l = members; l != NULL; l = l->next)
    if (!is_known (l->data, fields, more))
      {
        g_autofree char *whole = g_strconcat (key, key[0] != '\0' ? "." : "", l->data, NULL);

        fail (reader, whole, "the key is unknown; see chamber.schema.json");
        return NULL;
      }
  return object;
}

static gboolean
read_fields (const Reader *reader, JsonObject *object, const DewField *fields, gpointer record)
{
  dew_fields_init (fields, record);
  for (const DewField *field = fields; field->key != NULL; field++)
    {
      JsonNode *node = json_object_get_member (object, field->key);

      if (node == NULL)
        {
          if (dew_json_field_required (field))
            return fail (reader, field->key, "is missing");
          continue;
        }
      if (!read_field (reader, field, node, record))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_reals (const Reader *reader, JsonObject *object, const char *key, double min, double max,
            double *out, guint n)
{
  JsonNode *node = member (reader, object, key);
  JsonArray *list;

  if (node == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail (reader, key, "is %s; give a list of %u numbers", type_words (node), n);
  list = json_node_get_array (node);
  if (json_array_get_length (list) != n)
    return fail (reader, key, "has %u numbers; give %u", json_array_get_length (list), n);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *element = g_strdup_printf ("%s[%u]", key, i);

      if (!read_real (reader, element, json_array_get_element (list, i), min, max, &out[i]))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_panels (Reader *reader, JsonNode *node, DewChamber *chamber)
{
  static const char *const none[] = { NULL };
  const char *faces[DEW_N_FACES + 1] = { NULL };
  JsonObject *panels;

  for (int face = 0; face < DEW_N_FACES; face++)
    faces[face] = dew_face_key (face);
  panels = as_object (reader, "panels", node, NULL, faces);
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
      before = enter (reader, "panels.%s", faces[face]);
      object = as_object (reader, "", panel, dew_panel_fields (), none);
      ok = object != NULL
           && read_fields (reader, object, dew_panel_fields (), &chamber->panels[face]);
      leave (reader, before);
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_room (Reader *reader, JsonNode *node, DewRoom *room)
{
  static const char *const months[] = { "t_day_C", "t_night_C", "rh_day", "rh_night", NULL };
  gsize before = enter (reader, "room");
  JsonObject *object = as_object (reader, "", node, dew_room_fields (), months);
  gboolean ok = object != NULL && read_fields (reader, object, dew_room_fields (), room)
                && read_reals (reader, object, "t_day_C", -30.0, 50.0, room->t_day_C, 12)
                && read_reals (reader, object, "t_night_C", -30.0, 50.0, room->t_night_C, 12)
                && read_reals (reader, object, "rh_day", 0.01, 1.0, room->rh_day, 12)
                && read_reals (reader, object, "rh_night", 0.01, 1.0, room->rh_night, 12);

  leave (reader, before);
  return ok;
}

static gboolean
read_id (const Reader *reader, JsonObject *object, guint *id)
{
  JsonNode *node = member (reader, object, "id");
  gint64 value = 0;

  if (node == NULL || !read_count (reader, "id", node, 1, G_MAXINT, &value))
    return FALSE;
  *id = (guint) value;
  return TRUE;
}

static gboolean
read_kind (const Reader *reader, JsonNode *node, DewThingKind *kind)
{
  JsonNode *member_node;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail (reader, "", "is %s; give an object", type_words (node));
  member_node = member (reader, json_node_get_object (node), "type");
  if (member_node == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_VALUE (member_node)
      || json_node_get_value_type (member_node) != G_TYPE_STRING)
    return fail (reader, "type", "is %s; give a text", type_words (member_node));
  if (!dew_thing_kind_from_key (json_node_get_string (member_node), kind))
    return fail (reader, "type", "\"%s\" is unknown; see chamber.schema.json",
                 json_node_get_string (member_node));
  return TRUE;
}

static gboolean
read_thing (const Reader *reader, JsonNode *node, DewThing *thing)
{
  static const char *const common[] = { "id", "type", "name", NULL };
  JsonObject *object;
  JsonNode *name;
  DewThingKind kind;

  if (!read_kind (reader, node, &kind))
    return FALSE;
  dew_thing_init (thing, kind);
  object = as_object (reader, "", node, dew_thing_fields (kind), common);
  if (object == NULL || !read_id (reader, object, &thing->id))
    return FALSE;
  name = member (reader, object, "name");
  return name != NULL && read_text (reader, "name", name, thing->name, sizeof thing->name)
         && read_fields (reader, object, dew_thing_fields (kind), thing);
}

static gboolean
read_things (Reader *reader, JsonObject *object, GArray *things)
{
  JsonNode *node = member (reader, object, "things");
  JsonArray *list;

  if (node == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail (reader, "things", "is %s; give a list", type_words (node));
  list = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (list); i++)
    {
      gsize before = enter (reader, ".things[%u]", i);
      DewThing thing;
      gboolean ok = read_thing (reader, json_array_get_element (list, i), &thing);

      leave (reader, before);
      if (!ok)
        return FALSE;
      g_array_append_val (things, thing);
    }
  return TRUE;
}

static gboolean
read_variant (Reader *reader, JsonNode *node, DewChamber *chamber)
{
  static const char *const keys[] = { "id", "name", "things", NULL };
  JsonObject *object = as_object (reader, "", node, NULL, keys);
  DewVariant *variant;
  JsonNode *name;
  char text[DEW_NAME_SIZE];

  if (object == NULL)
    return FALSE;
  name = member (reader, object, "name");
  if (name == NULL || !read_text (reader, "name", name, text, sizeof text))
    return FALSE;
  variant = dew_chamber_add_variant (chamber, text, NULL);
  return read_id (reader, object, &variant->id) && read_things (reader, object, variant->things);
}

static gboolean
read_variants (Reader *reader, JsonNode *node, DewChamber *chamber)
{
  JsonArray *list;

  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail (reader, "variants", "is %s; give a list", type_words (node));
  list = json_node_get_array (node);
  g_array_set_size (chamber->variants, 0);
  for (guint i = 0; i < json_array_get_length (list); i++)
    {
      gsize before = enter (reader, "variants[%u]", i);
      gboolean ok = read_variant (reader, json_array_get_element (list, i), chamber);

      leave (reader, before);
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

/* --- wishes and own kinds ---------------------------------------------- */

static gboolean
read_wish (const Reader *reader, JsonNode *node, DewChamber *chamber)
{
  static const char *const common[] = { "id", NULL };
  JsonObject *object = as_object (reader, "", node, dew_wish_fields (), common);
  DewWish wish = { 0 };

  if (object == NULL || !read_id (reader, object, &wish.id)
      || !read_fields (reader, object, dew_wish_fields (), &wish))
    return FALSE;
  g_array_append_val (chamber->wishes, wish);
  return TRUE;
}

static gboolean
read_plant_kind (const Reader *reader, JsonNode *node, DewChamber *chamber)
{
  static const char *const none[] = { NULL };
  const DewField *fields = dew_plant_kind_fields ();
  JsonObject *object = as_object (reader, "", node, fields, none);
  DewPlantKind kind = { { 0 } };

  if (object == NULL || member (reader, object, "name") == NULL
      || !read_fields (reader, object, fields, &kind))
    return FALSE;
  g_array_append_val (chamber->kinds, kind);
  return TRUE;
}

/* A list that older files do not have. */
static gboolean
read_list (Reader *reader, JsonObject *root, const char *key,
           gboolean (*read) (const Reader *reader, JsonNode *node, DewChamber *chamber),
           DewChamber *chamber)
{
  JsonNode *node = json_object_get_member (root, key);
  JsonArray *list;

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail (reader, key, "is %s; give a list", type_words (node));
  list = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (list); i++)
    {
      gsize before = enter (reader, "%s[%u]", key, i);
      gboolean ok = read (reader, json_array_get_element (list, i), chamber);

      leave (reader, before);
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

/* --- the whole --------------------------------------------------------- */

static gboolean
read_head (const Reader *reader, JsonObject *root)
{
  JsonNode *node = member (reader, root, "format");
  gint64 version = 0;

  if (node == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING
      || strcmp (json_node_get_string (node), DEW_JSON_FORMAT) != 0)
    return fail (reader, "format", "is not \"%s\"; this is some other JSON", DEW_JSON_FORMAT);
  node = member (reader, root, "version");
  if (node == NULL || !read_count (reader, "version", node, 1, G_MAXINT, &version))
    return FALSE;
  if (version <= DEW_JSON_VERSION)
    return TRUE;
  g_set_error (reader->error, DEW_STORE_ERROR, DEW_STORE_ERROR_NEWER,
               "version: is %" G_GINT64_FORMAT ", written by a later version of this program; "
               "take that one to open it",
               version);
  return FALSE;
}

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
read_numbers (const Reader *reader, JsonObject *root, DewChamber *chamber)
{
  JsonNode *node;
  gint64 count = 0;

  if ((node = json_object_get_member (root, "leak_area_m2")) != NULL
      && !read_real (reader, "leak_area_m2", node, 0.0, 0.2, &chamber->leak_area_m2))
    return FALSE;
  if ((node = json_object_get_member (root, "leak_exponent")) != NULL
      && !read_real (reader, "leak_exponent", node, 0.5, 1.0, &chamber->leak_exponent))
    return FALSE;
  if ((node = json_object_get_member (root, "month")) != NULL)
    {
      if (!read_count (reader, "month", node, 1, 12, &count))
        return FALSE;
      chamber->month = (int) count - 1;
    }
  chamber->next_id = first_free_id (chamber);
  if ((node = json_object_get_member (root, "next_id")) != NULL)
    {
      if (!read_count (reader, "next_id", node, chamber->next_id, G_MAXINT, &count))
        return FALSE;
      chamber->next_id = (guint) count;
    }
  chamber->shown_variant
    = chamber->variants->len > 0 ? g_array_index (chamber->variants, DewVariant, 0).id : 0;
  if ((node = json_object_get_member (root, "shown_variant")) != NULL)
    {
      if (!read_count (reader, "shown_variant", node, 1, G_MAXINT, &count))
        return FALSE;
      chamber->shown_variant = (guint) count;
    }
  return TRUE;
}

static gboolean
read_chamber (Reader *reader, JsonNode *node, DewChamber *chamber)
{
  static const char *const keys[]
    = { "format",   "version", "name",          "note",    "outer_m",      "panels",
        "room",     "month",   "shown_variant", "next_id", "leak_area_m2", "leak_exponent",
        "variants", "wishes",  "plant_kinds",   NULL };
  JsonObject *root;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail (reader, "", "the text holds %s; give an object", type_words (node));
  if (!read_head (reader, json_node_get_object (node)))
    return FALSE;
  root = as_object (reader, "", node, NULL, keys);
  if (root == NULL || (node = member (reader, root, "name")) == NULL
      || !read_text (reader, "name", node, chamber->name, sizeof chamber->name))
    return FALSE;
  if ((node = json_object_get_member (root, "note")) != NULL
      && !read_text (reader, "note", node, chamber->note, sizeof chamber->note))
    return FALSE;
  if (!read_reals (reader, root, "outer_m", 0.0, 1000.0, chamber->outer_m, 3))
    return FALSE;
  if ((node = json_object_get_member (root, "panels")) != NULL
      && !read_panels (reader, node, chamber))
    return FALSE;
  if ((node = json_object_get_member (root, "room")) != NULL
      && !read_room (reader, node, &chamber->room))
    return FALSE;
  node = member (reader, root, "variants");
  return node != NULL && read_variants (reader, node, chamber)
         && read_list (reader, root, "wishes", read_wish, chamber)
         && read_list (reader, root, "plant_kinds", read_plant_kind, chamber)
         && read_numbers (reader, root, chamber);
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
  Reader reader = { path, error };
  gsize size;

  g_return_val_if_fail (text != NULL, NULL);

  size = length < 0 ? strlen (text) : (gsize) length;
  if (size > JSON_BYTES_MAX)
    {
      fail (&reader, "", "the text is larger than %d MB", JSON_BYTES_MAX / 1024 / 1024);
      return NULL;
    }
  if (!dew_json_scan (text, size, error))
    return NULL;
  if (!json_parser_load_from_data (parser, text, (gssize) size, &inner))
    {
      fail (&reader, "", "%s", inner->message);
      return NULL;
    }

  chamber->note[0] = '\0';
  if (!read_chamber (&reader, json_parser_get_root (parser), chamber))
    return NULL;
  if (!dew_chamber_validate (chamber, &inner))
    {
      fail (&reader, "", "%s", inner->message);
      return NULL;
    }
  return g_steal_pointer (&chamber);
}
