/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A forecast as text for people and as JSON for programs. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef struct
{
  const char *file;
  const DewChamber *chamber; /* month set to the one that was forecast */
  const DewVariant *variant;
  const DewForecast *forecast;
} DewReport;

/* Transfer full. `balance`: with every term of the balances of air, heat and water. */
char *dew_report_text (const DewReport *report, gboolean balance);
/* The form is described in data/README.md. */
char *dew_report_json (const DewReport *report);

/* Members of a JSON object, `indent` deep; key NULL in an array. The first opens a value with
 * its bracket, '{' or '[', which dew_json_close() ends. */
void dew_report_begin (GString *out, int indent, const char *key, char bracket);
void dew_report_integer (GString *out, int indent, const char *key, int value); /* may be < 0 */
void dew_report_flag (GString *out, int indent, const char *key, gboolean flag);

/* Appends a mean as the member `key`, `level` deep. */
void dew_report_climate_json (GString *out, int level, const char *key, const DewClimate *climate);

/* Appends a text and spaces after it, or before it for `right`, up to `width` letters
 * (not bytes); one space at the least. */
void dew_report_pad (GString *out, const char *text, int width, gboolean right);

/* "draft", "settled", "fine". */
const char *dew_report_grid_word (DewGrid grid);

G_END_DECLS
