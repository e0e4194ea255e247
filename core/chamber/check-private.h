/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What checks of values and ids (check.c) and of how things fit together (geometry) share. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

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

/* Begins a check of a variant with the values of the enclosure, the room and its things;
 * the caller frees check->problems. FALSE when there is no such variant or its boxes would
 * be made of impossible numbers, and only give further, misleading words. */
gboolean dew_check_values (DewCheck *check, const DewChamber *chamber, guint variant_id);

G_END_DECLS
