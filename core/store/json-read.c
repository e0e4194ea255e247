/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/json-read.h"

#include "chamber/chamber-private.h"
#include "store/json-scan.h"
#include "store/json.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

gboolean
dew_json_fail (const DewJsonReader *reader, const char *key, const char *format, ...)
{
  g_autofree char *message = NULL;
  g_autofree char *whole = NULL;
  g_autofree char *plain = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  whole = g_strconcat (reader->path->str, reader->path->len > 0 && key[0] != '\0' ? "." : "", key,
                       reader->path->len > 0 || key[0] != '\0' ? ": " : "", message, NULL);
  /* Keys and words of the file stand in it. */
  plain = dew_text_plain (whole, FALSE);
  g_set_error_literal (reader->error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT, plain);
  return FALSE;
}

gsize
dew_json_enter (DewJsonReader *reader, const char *format, ...)
{
  gsize before = reader->path->len;
  va_list args;

  va_start (args, format);
  g_string_append_vprintf (reader->path, format, args);
  va_end (args);
  return before;
}

void
dew_json_leave (DewJsonReader *reader, gsize before)
{
  g_string_truncate (reader->path, before);
}

const char *
dew_json_type_words (JsonNode *node)
{
  /* Translators: these say what stands in a file, as in "is a list; give a number" */
  switch (json_node_get_node_type (node))
    {
    case JSON_NODE_OBJECT:
      return _ ("an object");
    case JSON_NODE_ARRAY:
      return _ ("a list");
    case JSON_NODE_NULL:
      return _ ("null");
    case JSON_NODE_VALUE:
    default:
      if (json_node_get_value_type (node) == G_TYPE_STRING)
        return _ ("a text");
      return json_node_get_value_type (node) == G_TYPE_BOOLEAN ? _ ("true or false")
                                                               : _ ("a number");
    }
}

/* Numbers in messages are written with a point in every locale. */
static const char *
digits (double value, char *text, gsize size)
{
  return g_ascii_formatd (text, (int) size, "%.10g", value);
}

gboolean
dew_json_field_required (const DewField *field)
{
  static const char *const keys[] = { "x_m", "y_m", "z_m", "u0_m", "u1_m", "v0_m", "v1_m", NULL };

  return g_strv_contains (keys, field->key);
}

/* --- single values ----------------------------------------------------- */

JsonNode *
dew_json_get (const DewJsonReader *reader, JsonObject *object, const char *key)
{
  JsonNode *node = json_object_get_member (object, key);

  if (node == NULL)
    dew_json_fail (reader, key, _ ("is missing"));
  return node;
}

gboolean
dew_json_read_real (const DewJsonReader *reader, const char *key, JsonNode *node, double min,
                    double max, double *value)
{
  char is[32], low[32], high[32];
  GType type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;

  if (type != G_TYPE_INT64 && type != G_TYPE_DOUBLE)
    return dew_json_fail (reader, key, _ ("is %s; give a number"), dew_json_type_words (node));
  *value = json_node_get_double (node);
  if (!isfinite (*value))
    return dew_json_fail (reader, key, _ ("the number is too large; give %s to %s"),
                          digits (min, low, sizeof low), digits (max, high, sizeof high));
  if (*value < min || *value > max)
    return dew_json_fail (reader, key, _ ("is %s; give %s to %s"), digits (*value, is, sizeof is),
                          digits (min, low, sizeof low), digits (max, high, sizeof high));
  return TRUE;
}

gboolean
dew_json_read_count (const DewJsonReader *reader, const char *key, JsonNode *node, gint64 min,
                     gint64 max, gint64 *value)
{
  char low[32], high[32];
  double real;

  if (!dew_json_read_real (reader, key, node, (double) min, (double) max, &real))
    return FALSE;
  if (json_node_get_value_type (node) != G_TYPE_INT64)
    return dew_json_fail (reader, key, _ ("is not a whole number; give %s to %s"),
                          digits ((double) min, low, sizeof low),
                          digits ((double) max, high, sizeof high));
  *value = json_node_get_int (node);
  return TRUE;
}

gboolean
dew_json_read_text (const DewJsonReader *reader, const char *key, JsonNode *node, char *to,
                    gsize size)
{
  g_autofree char *plain = NULL;
  const char *text;

  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    return dew_json_fail (reader, key, _ ("is %s; give a text"), dew_json_type_words (node));
  text = json_node_get_string (node);
  if (strlen (text) >= size)
    return dew_json_fail (reader, key, _ ("is longer than %u bytes; shorten it"),
                          (guint) (size - 1));
  /* As out of the tables (file-read.c). */
  if (!dew_text_has_controls (text))
    plain = dew_text_plain (text, DEW_TEXT_LINES (size));
  dew_text_copy (to, size, plain != NULL ? plain : text);
  return TRUE;
}

static gboolean
read_choice (const DewJsonReader *reader, const DewField *field, JsonNode *node, gpointer record)
{
  g_autofree char *all = NULL;
  const char *text = NULL;

  if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING)
    text = json_node_get_string (node);
  if (dew_field_choose (field, record, text))
    return TRUE;

  all = g_strjoinv (", ", (GStrv) field->choices);
  if (text == NULL)
    return dew_json_fail (reader, field->key, _ ("is %s; give one of: %s"),
                          dew_json_type_words (node), all);
  return dew_json_fail (reader, field->key, _ ("\"%s\" is unknown; give one of: %s"), text, all);
}

static gboolean
read_field (const DewJsonReader *reader, const DewField *field, JsonNode *node, gpointer record)
{
  double real = 0.0;
  gint64 count = 0;

  switch (field->type)
    {
    case DEW_FIELD_REAL:
      if (!dew_json_read_real (reader, field->key, node, field->min, field->max, &real))
        return FALSE;
      dew_field_set_real (field, record, real);
      return TRUE;
    case DEW_FIELD_CHOICE:
      return read_choice (reader, field, node, record);
    case DEW_FIELD_FLAG:
      if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_BOOLEAN)
        return dew_json_fail (reader, field->key, _ ("is %s; give true or false"),
                              dew_json_type_words (node));
      dew_field_set_int (field, record, json_node_get_boolean (node));
      return TRUE;
    case DEW_FIELD_TEXT:
      return dew_json_read_text (reader, field->key, node, (char *) record + field->offset,
                                 field->size);
    case DEW_FIELD_LINK:
    case DEW_FIELD_COUNT:
    default:
      if (!dew_json_read_count (reader, field->key, node, (gint64) field->min, (gint64) field->max,
                                &count))
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

JsonObject *
dew_json_read_object (const DewJsonReader *reader, const char *key, JsonNode *node,
                      const DewField *fields, const char *const *more)
{
  g_autoptr (GList) members = NULL;
  JsonObject *object;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    {
      dew_json_fail (reader, key, _ ("is %s; give an object"), dew_json_type_words (node));
      return NULL;
    }
  object = json_node_get_object (node);
  members = json_object_get_members (object);
  for (GList *l = members; l != NULL; l = l->next)
    if (!is_known (l->data, fields, more))
      {
        g_autofree char *whole = g_strconcat (key, key[0] != '\0' ? "." : "", l->data, NULL);

        dew_json_fail (reader, whole, _ ("the key is unknown; see chamber.schema.json"));
        return NULL;
      }
  return object;
}

gboolean
dew_json_read_fields (const DewJsonReader *reader, JsonObject *object, const DewField *fields,
                      gpointer record)
{
  dew_fields_init (fields, record);
  for (const DewField *field = fields; field->key != NULL; field++)
    {
      JsonNode *node = json_object_get_member (object, field->key);

      if (node == NULL)
        {
          if (dew_json_field_required (field))
            return dew_json_fail (reader, field->key, _ ("is missing"));
          continue;
        }
      if (!read_field (reader, field, node, record))
        return FALSE;
    }
  return TRUE;
}

gboolean
dew_json_read_reals (const DewJsonReader *reader, JsonObject *object, const char *key, double min,
                     double max, double *out, guint n)
{
  JsonNode *node = dew_json_get (reader, object, key);
  JsonArray *list;

  if (node == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return dew_json_fail (reader, key, _ ("is %s; give a list of %u numbers"),
                          dew_json_type_words (node), n);
  list = json_node_get_array (node);
  if (json_array_get_length (list) != n)
    return dew_json_fail (reader, key, _ ("has %u numbers; give %u"), json_array_get_length (list),
                          n);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *element = g_strdup_printf ("%s[%u]", key, i);

      if (!dew_json_read_real (reader, element, json_array_get_element (list, i), min, max,
                               &out[i]))
        return FALSE;
    }
  return TRUE;
}

gboolean
dew_json_read_id (const DewJsonReader *reader, JsonObject *object, guint *id)
{
  JsonNode *node = dew_json_get (reader, object, "id");
  gint64 value = 0;

  if (node == NULL || !dew_json_read_count (reader, "id", node, 1, G_MAXINT, &value))
    return FALSE;
  *id = (guint) value;
  return TRUE;
}

static gboolean
read_kind (const DewJsonReader *reader, JsonNode *node, DewThingKind *kind)
{
  JsonNode *member_node;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return dew_json_fail (reader, "", _ ("is %s; give an object"), dew_json_type_words (node));
  member_node = dew_json_get (reader, json_node_get_object (node), "type");
  if (member_node == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_VALUE (member_node)
      || json_node_get_value_type (member_node) != G_TYPE_STRING)
    return dew_json_fail (reader, "type", _ ("is %s; give a text"),
                          dew_json_type_words (member_node));
  if (!dew_thing_kind_from_key (json_node_get_string (member_node), kind))
    return dew_json_fail (reader, "type", _ ("\"%s\" is unknown; see chamber.schema.json"),
                          json_node_get_string (member_node));
  return TRUE;
}

static gboolean
read_thing (DewJsonReader *reader, JsonNode *node, gpointer things)
{
  static const char *const common[] = { "id", "type", "name", NULL };
  JsonObject *object;
  JsonNode *name;
  DewThingKind kind;
  DewThing thing;

  if (!read_kind (reader, node, &kind))
    return FALSE;
  dew_thing_init (&thing, kind);
  object = dew_json_read_object (reader, "", node, dew_thing_fields (kind), common);
  if (object == NULL || !dew_json_read_id (reader, object, &thing.id)
      || (name = dew_json_get (reader, object, "name")) == NULL
      || !dew_json_read_text (reader, "name", name, thing.name, sizeof thing.name)
      || !dew_json_read_fields (reader, object, dew_thing_fields (kind), &thing))
    return FALSE;
  g_array_append_val ((GArray *) things, thing);
  return TRUE;
}

gboolean
dew_json_read_list (DewJsonReader *reader, JsonObject *object, const char *key, DewJsonRead read,
                    gpointer into)
{
  JsonNode *node = json_object_get_member (object, key);
  JsonArray *list;

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return dew_json_fail (reader, key, _ ("is %s; give a list"), dew_json_type_words (node));
  list = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (list); i++)
    {
      gsize before = dew_json_enter (reader, "%s%s[%u]", reader->path->len > 0 ? "." : "", key, i);
      gboolean ok = read (reader, json_array_get_element (list, i), into);

      dew_json_leave (reader, before);
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

gboolean
dew_json_read_things (DewJsonReader *reader, JsonObject *object, GArray *things)
{
  return dew_json_get (reader, object, "things") != NULL
         && dew_json_read_list (reader, object, "things", read_thing, things);
}

gboolean
dew_json_read_head (const DewJsonReader *reader, JsonObject *root, const char *format, int version)
{
  JsonNode *node = dew_json_get (reader, root, "format");
  gint64 is = 0;

  if (node == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING
      || strcmp (json_node_get_string (node), format) != 0)
    return dew_json_fail (reader, "format", _ ("is not \"%s\"; this is some other JSON"), format);
  node = dew_json_get (reader, root, "version");
  if (node == NULL || !dew_json_read_count (reader, "version", node, 1, G_MAXINT, &is))
    return FALSE;
  if (is <= version)
    return TRUE;
  g_set_error (reader->error, DEW_STORE_ERROR, DEW_STORE_ERROR_NEWER,
               _ ("version: is %d, written by a later version of this program; take that one to "
                  "open it"),
               (int) is);
  return FALSE;
}

JsonNode *
dew_json_parse (const DewJsonReader *reader, JsonParser *parser, const char *text, gsize size,
                gsize bytes_max)
{
  g_autoptr (GError) inner = NULL;

  if (size > bytes_max)
    {
      dew_json_fail (reader, "", _ ("the text is larger than %d MB"),
                     (int) (bytes_max / 1024 / 1024));
      return NULL;
    }
  if (!dew_json_scan (text, size, reader->error))
    return NULL;
  if (!json_parser_load_from_data (parser, text, (gssize) size, &inner))
    {
      dew_json_fail (reader, "", "%s", inner->message);
      return NULL;
    }
  return json_parser_get_root (parser);
}
