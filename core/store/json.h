/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the writer and the reader of the JSON form share. The form is described
 * in data/chamber.schema.json and data/README.md. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

#define DEW_JSON_FORMAT "dewtier enclosure"
#define DEW_JSON_VERSION 2 /* 2: wishes, own kinds, state and pot of a plant */

/* Appends the shortest decimal that reads back as the same double; null for
 * what JSON has no number for. */
void dew_json_append_number (GString *out, double value);
/* Appends a quoted and escaped text. */
void dew_json_append_text (GString *out, const char *text);

/* Starts a member of an object, or with key NULL an element of a list: a comma
 * where one is needed, a new line, `indent` times two spaces, the key. */
void dew_json_member (GString *out, int indent, const char *key);
void dew_json_member_text (GString *out, int indent, const char *key, const char *text);
void dew_json_member_real (GString *out, int indent, const char *key, double value);
void dew_json_member_count (GString *out, int indent, const char *key, guint value);
void dew_json_member_reals (GString *out, int indent, const char *key, const double *values, int n);
/* An element of a list: a thing as an object. */
void dew_json_member_thing (GString *out, int indent, const DewThing *thing);
/* Ends what was begun by appending '{' or '['. */
void dew_json_close (GString *out, int indent, char bracket);

/* Whether a file has to give this field: where a thing is has no fallback. */
gboolean dew_json_field_required (const DewField *field);

/* The JSON-GLib that this was compiled with: major, minor, patch. It does not tell which one
 * it runs with, so `running` stays. */
void dew_json_library (int compiled[3], int running[3]);

G_END_DECLS
