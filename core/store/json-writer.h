/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The one writer of JSON: documents, things on the clipboard and every report. The same
 * calls give the same bytes: two spaces of indent, a member a line, lists of numbers and keys
 * in one line, and a line feed at the end. */

#include <glib.h>

G_BEGIN_DECLS

typedef struct _DewJson DewJson;

/* Begins a text with the object that is the whole of it. */
DewJson *dew_json_new (void);
/* Ends it and frees the writer; transfer full. What was begun has to be ended before. */
char *dew_json_finish (DewJson *json);

/* Begins a value that dew_json_end() ends. Here and below `key` is that of a member of an
 * object, NULL for an element of a list. */
void dew_json_object (DewJson *json, const char *key);
void dew_json_list (DewJson *json, const char *key);
void dew_json_end (DewJson *json);

void dew_json_text (DewJson *json, const char *key, const char *text); /* NULL: null */
void dew_json_integer (DewJson *json, const char *key, gint64 value);
void dew_json_flag (DewJson *json, const char *key, gboolean flag);
/* The shortest decimal that reads back as the same double; null for what JSON has no number
 * for. */
void dew_json_real (DewJson *json, const char *key, double value);
void dew_json_reals (DewJson *json, const char *key, const double *values, int n);
void dew_json_integers (DewJson *json, const char *key, const int *values, int n);
/* Lists of texts, ended by NULL; none are an empty list. Sentences one a line, keys in one. */
void dew_json_sentences (DewJson *json, const char *key, char *const *texts);
void dew_json_keys (DewJson *json, const char *key, const char *const *keys);

G_END_DECLS
