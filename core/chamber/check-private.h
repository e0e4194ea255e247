/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What check.c (values, ids) and layout.c (how things fit together) share. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

#define DEW_SLACK_M 1e-6 /* rounding of what was typed in other units */

typedef struct
{
  GArray *problems; /* DewProblem */
  const DewChamber *chamber;
  const DewVariant *variant;
  double inner_m[3];
} DewCheck;

/* Up to five digits, never with a comma, whatever the locale. */
typedef struct
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
} DewNumber;

DewNumber dew_check_number (double value);

void dew_check_report (DewCheck *check, guint thing_id, const char *field, const char *format, ...)
  G_GNUC_PRINTF (4, 5);

/* The unit to say after a number; a fraction and a bare number have none. */
const char *dew_check_unit (DewQuantity quantity);

/* "The fan "by the door"", as a sentence begins, and "the fan ..." inside one. Free
 * with g_free(). */
char *dew_check_words (const DewThing *thing);
char *dew_check_words_inside (const DewThing *thing);

/* "the front face" */
const char *dew_check_face (DewFace face);

/* Reports what does not fit about one thing of check->variant. All values are
 * known to be in range. */
void dew_check_layout (DewCheck *check, const DewThing *thing);

G_END_DECLS
