/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/store.h"

#include "store/json-read.h"
#include "store/json.h"
#include "say/problems.h"

#include <glib/gi18n.h>
#include <string.h>

#define THINGS_FORMAT "dewtier things"
#define THINGS_VERSION 1
#define THINGS_BYTES_MAX (4 * 1024 * 1024)

char *
dew_things_to_text (const DewChamber *chamber, const DewVariant *variant, const guint *ids, guint n)
{
  DewJson *json;

  g_return_val_if_fail (chamber != NULL && variant != NULL && (ids != NULL || n == 0), NULL);

  json = dew_json_new ();
  dew_json_text (json, "format", THINGS_FORMAT);
  dew_json_integer (json, "version", THINGS_VERSION);
  dew_json_list (json, "things");
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      gboolean wanted = FALSE;

      for (guint k = 0; k < n && !wanted; k++)
        wanted = ids[k] == thing->id;
      if (wanted)
        dew_json_thing (json, thing);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}

/* Numbers were checked while reading; texts, ids and how many there are by the rules
 * of a document that holds just them. */
static gboolean
check_things (const DewJsonReader *reader, const GArray *things)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (GError) inner = NULL;
  DewVariant *variant = dew_chamber_shown (chamber);

  if (things->len == 0)
    return dew_json_fail (reader, "things", _ ("is empty; there is nothing to paste"));
  /* An id of its own that no thing has. */
  for (guint i = 0; i < things->len; i++)
    chamber->next_id = MAX (chamber->next_id, g_array_index (things, DewThing, i).id + 1);
  variant->id = chamber->shown_variant = chamber->next_id++;
  g_array_append_vals (variant->things, things->data, things->len);
  return dew_chamber_validate (chamber, &inner) || dew_json_fail (reader, "", "%s", inner->message);
}

GArray *
dew_things_from_text (const char *text, gssize length, GError **error)
{
  static const char *const keys[] = { "format", "version", "things", NULL };
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (GArray) things = g_array_new (FALSE, FALSE, sizeof (DewThing));
  g_autoptr (GString) path = g_string_new (NULL);
  DewJsonReader reader = { path, error };
  JsonObject *object;
  JsonNode *root;

  g_return_val_if_fail (text != NULL, NULL);

  root = dew_json_parse (&reader, parser, text, length < 0 ? strlen (text) : (gsize) length,
                         THINGS_BYTES_MAX);
  if (root == NULL)
    return NULL;
  if (!JSON_NODE_HOLDS_OBJECT (root))
    {
      dew_json_fail (&reader, "", _ ("the text holds %s; give an object"),
                     dew_json_type_words (root));
      return NULL;
    }
  if (!dew_json_read_head (&reader, json_node_get_object (root), THINGS_FORMAT, THINGS_VERSION))
    return NULL;
  object = dew_json_read_object (&reader, "", root, NULL, keys);
  if (object == NULL || !dew_json_read_things (&reader, object, things)
      || !check_things (&reader, things))
    return NULL;
  return g_steal_pointer (&things);
}
