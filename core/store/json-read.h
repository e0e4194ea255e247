/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Strict reading of values, records and things from JSON, shared by whole documents
 * (json.c) and by things on their way through the clipboard (clipboard.c). */

#include <json-glib/json-glib.h>

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Where the reader is, for messages: "variants[0].things[3]". */
typedef struct
{
  GString *path;
  GError **error;
} DewJsonReader;

/* Parses text that passes dew_json_scan() and is not larger than `bytes_max`. Lends
 * the root as long as `parser` lives; NULL with the reader's error. */
JsonNode *dew_json_parse (const DewJsonReader *reader, JsonParser *parser, const char *text,
                          gsize size, gsize bytes_max);

/* Sets DEW_STORE_ERROR_CONTENT with the place in front. Always FALSE. */
gboolean dew_json_fail (const DewJsonReader *reader, const char *key, const char *format, ...)
  G_GNUC_PRINTF (3, 4);
/* Goes down one step; what it returns goes to dew_json_leave(). */
gsize dew_json_enter (DewJsonReader *reader, const char *format, ...) G_GNUC_PRINTF (2, 3);
void dew_json_leave (DewJsonReader *reader, gsize before);

/* "an object", "a list" ..., in the user's language. */
const char *dew_json_type_words (JsonNode *node);

/* The member, or NULL with an error. Lends. */
JsonNode *dew_json_get (const DewJsonReader *reader, JsonObject *object, const char *key);

gboolean dew_json_read_real (const DewJsonReader *reader, const char *key, JsonNode *node,
                             double min, double max, double *value);
gboolean dew_json_read_count (const DewJsonReader *reader, const char *key, JsonNode *node,
                              gint64 min, gint64 max, gint64 *value);
gboolean dew_json_read_text (const DewJsonReader *reader, const char *key, JsonNode *node, char *to,
                             gsize size);
/* The text has to be `format` and the version one that is known. */
gboolean dew_json_read_head (const DewJsonReader *reader, JsonObject *root, const char *format,
                             int version);

/* The node as an object with no other keys than those of `fields` (or NULL) and
 * `more`; NULL with an error. */
JsonObject *dew_json_read_object (const DewJsonReader *reader, const char *key, JsonNode *node,
                                  const DewField *fields, const char *const *more);
gboolean dew_json_read_fields (const DewJsonReader *reader, JsonObject *object,
                               const DewField *fields, gpointer record);
gboolean dew_json_read_reals (const DewJsonReader *reader, JsonObject *object, const char *key,
                              double min, double max, double *out, guint n);
gboolean dew_json_read_id (const DewJsonReader *reader, JsonObject *object, guint *id);
/* One element of a list, put `into` where it belongs. */
typedef gboolean (*DewJsonRead) (DewJsonReader *reader, JsonNode *node, gpointer into);
/* Each element of the list that a member holds; there may be no such member. */
gboolean dew_json_read_list (DewJsonReader *reader, JsonObject *object, const char *key,
                             DewJsonRead read, gpointer into);
/* The member "things" of an object, appended to an array of DewThing. */
gboolean dew_json_read_things (DewJsonReader *reader, JsonObject *object, GArray *things);

G_END_DECLS
