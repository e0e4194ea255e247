/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reader.h"

#include "case.h"

#include <math.h>
#include <string.h>

void
reader_fail (Reader *reader, const Place *place, const char *format, ...)
{
  g_autofree char *what = NULL;
  va_list args;

  if (reader->error)
    return;
  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (&reader->error, DEW_CASE_ERROR, DEW_CASE_ERROR_INVALID, "%s: %s%s%s", reader->path,
               place->where, *place->where ? ": " : "", what);
}

void
reader_warn (const Reader *reader, const Place *place, const char *format, ...)
{
  g_autofree char *what = NULL;
  va_list args;

  if (reader->error)
    return;
  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  g_printerr ("%s: %s%s%s\n", reader->path, place->where, *place->where ? ": " : "", what);
}

gboolean
place_has (const Place *place, const char *key)
{
  return place->object && json_object_has_member (place->object, key)
         && !json_object_get_null_member (place->object, key);
}

static gboolean
node_number (JsonNode *node, double *out)
{
  GType type;

  if (!node || !JSON_NODE_HOLDS_VALUE (node))
    return FALSE;
  type = json_node_get_value_type (node);
  if (type != G_TYPE_INT64 && type != G_TYPE_DOUBLE)
    return FALSE;
  *out = json_node_get_double (node);
  return isfinite (*out);
}

double
read_number (Reader *reader, const Place *place, const char *key, double min, double max)
{
  double value = min;

  if (reader->error || !place->object)
    return min;
  if (!place_has (place, key))
    reader_fail (reader, place, "'%s' is missing", key);
  else if (!node_number (json_object_get_member (place->object, key), &value))
    reader_fail (reader, place, "'%s' is not a number", key);
  else if (value < min || value > max)
    reader_fail (reader, place, "'%s' is %g; expected %g to %g", key, value, min, max);
  return value;
}

double
read_number_or (Reader *reader, const Place *place, const char *key, double min, double max,
                double fallback)
{
  return place_has (place, key) ? read_number (reader, place, key, min, max) : fallback;
}

const char *
read_text (Reader *reader, const Place *place, const char *key)
{
  JsonNode *node;

  if (reader->error || !place->object)
    return "";
  node = json_object_get_member (place->object, key);
  if (!node || !JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    {
      reader_fail (reader, place, node ? "'%s' is not a text" : "'%s' is missing", key);
      return "";
    }
  return json_node_get_string (node);
}

gboolean
read_flag_or (Reader *reader, const Place *place, const char *key, gboolean fallback)
{
  JsonNode *node;

  if (reader->error || !place_has (place, key))
    return fallback;
  node = json_object_get_member (place->object, key);
  if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    return json_node_get_boolean (node);
  reader_fail (reader, place, "'%s' is neither true nor false", key);
  return fallback;
}

void
read_numbers (Reader *reader, const Place *place, const char *key, guint n, double *out)
{
  JsonNode *node;
  JsonArray *array;

  memset (out, 0, n * sizeof *out);
  if (reader->error || !place->object)
    return;
  node = json_object_get_member (place->object, key);
  if (!node || !JSON_NODE_HOLDS_ARRAY (node)
      || json_array_get_length (json_node_get_array (node)) != n)
    {
      reader_fail (reader, place, "'%s' is not a list of %u numbers", key, n);
      return;
    }
  array = json_node_get_array (node);
  for (guint i = 0; i < n; i++)
    if (!node_number (json_array_get_element (array, i), &out[i]))
      {
        reader_fail (reader, place, "'%s' item %u is not a number", key, i);
        return;
      }
}

void
read_box (Reader *reader, const Place *place, const double size_m[3], double lo[3], double hi[3])
{
  const double slack_m = 1e-9;
  double v[6];

  read_numbers (reader, place, "box_m", 6, v);
  for (int a = 0; a < 3; a++)
    {
      lo[a] = v[2 * a];
      hi[a] = v[2 * a + 1];
      if (lo[a] >= hi[a] || lo[a] < -slack_m || hi[a] > size_m[a] + slack_m)
        reader_fail (reader, place, "'box_m' is not a box inside the enclosure (axis %c)",
                     "xyz"[a]);
    }
}

Place
read_object (Reader *reader, const Place *place, const char *key)
{
  Place child = { NULL };
  JsonNode *node;

  if (reader->error || !place->object)
    return child;
  g_snprintf (child.where, sizeof child.where, "%s%s%s", place->where, *place->where ? "." : "",
              key);
  node = json_object_get_member (place->object, key);
  if (node && JSON_NODE_HOLDS_OBJECT (node))
    child.object = json_node_get_object (node);
  else
    reader_fail (reader, place, node ? "'%s' is not an object" : "'%s' is missing", key);
  return child;
}

guint
list_length (Reader *reader, const Place *place, const char *key, gboolean needed)
{
  JsonNode *node;

  if (reader->error || !place->object)
    return 0;
  node = json_object_get_member (place->object, key);
  if (node && JSON_NODE_HOLDS_ARRAY (node))
    return json_array_get_length (json_node_get_array (node));
  if (node || needed)
    reader_fail (reader, place, node ? "'%s' is not a list" : "'%s' is missing", key);
  return 0;
}

Place
list_item (Reader *reader, const Place *place, const char *key, guint index)
{
  Place child = { NULL };
  JsonNode *node;

  if (reader->error || !place->object)
    return child;
  g_snprintf (child.where, sizeof child.where, "%s[%u]", key, index);
  node = json_array_get_element (json_object_get_array_member (place->object, key), index);
  if (JSON_NODE_HOLDS_OBJECT (node))
    child.object = json_node_get_object (node);
  else
    reader_fail (reader, &child, "not an object");
  return child;
}

void
warn_unknown (const Reader *reader, const Place *place, const char *const *known)
{
  g_autoptr (GList) members = NULL;

  if (reader->error || !place->object)
    return;
  members = json_object_get_members (place->object);
  for (GList *l = members; l; l = l->next)
    {
      JsonNode *node = json_object_get_member (place->object, l->data);

      if (g_strv_contains (known, l->data) || JSON_NODE_HOLDS_NULL (node)
          || (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING))
        continue;
      reader_warn (reader, place, "'%s' is not known and has no effect", (const char *) l->data);
    }
}
