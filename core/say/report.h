/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A forecast as text for people and as JSON for programs. */

#include "forecast/members.h"
#include "store/json-writer.h"

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

/* The members of a record, and all of it as the member `key`. */
void dew_report_members (DewJson *json, const DewMember *members, gconstpointer record);
void dew_report_object (DewJson *json, const char *key, const DewMember *members,
                        gconstpointer record);

/* Appends a text and spaces after it, or before it for `right`, up to `width` letters
 * (not bytes); one space at the least. */
void dew_report_pad (GString *out, const char *text, int width, gboolean right);

/* "draft", "settled", "fine". */
const char *dew_report_grid_word (DewGrid grid);

G_END_DECLS
