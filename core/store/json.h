/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the writer and the reader of the JSON form share. The form is described
 * in data/chamber.schema.json and data/README.md. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

#define DEW_JSON_FORMAT "dewtier enclosure"
#define DEW_JSON_VERSION 1

/* Appends the shortest decimal that reads back as the same double; null for
 * what JSON has no number for. */
void dew_json_append_number (GString *out, double value);
/* Appends a quoted and escaped text. */
void dew_json_append_text   (GString *out, const char *text);

/* Whether a file has to give this field: where a thing is has no fallback. */
gboolean dew_json_field_required (const DewField *field);

G_END_DECLS
