/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the writer and the reader of the JSON form of a document share. The form is described
 * in data/chamber.schema.json and data/README.md. */

#include "chamber/chamber.h"
#include "store/json-writer.h"

G_BEGIN_DECLS

#define DEW_JSON_FORMAT "dewtier enclosure"
#define DEW_JSON_VERSION 4 /* 2: wishes, own kinds, state and pot of a plant; 3: their leaves */

/* An element of a list: a thing as an object. */
void dew_json_thing (DewJson *json, const DewThing *thing);

/* Whether a file has to give this field: where a thing is has no fallback. */
gboolean dew_json_field_required (const DewField *field);

/* The JSON-GLib that this was compiled with: major, minor, patch. It does not tell which one
 * it runs with, so `running` stays. */
void dew_json_library (int compiled[3], int running[3]);

G_END_DECLS
