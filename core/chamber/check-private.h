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

/* Adds a problem of who is named in `who` (about, thing_id, kind, name, index) and lends it
 * until the next one is added: the caller fills in its numbers. */
DewProblem *dew_check_report (DewCheck *check, const DewProblem *who, DewProblemCode code,
                              const char *field);

/* Who a thing is, for the above. */
DewProblem dew_check_thing (const DewThing *thing);

/* Begins a check of a variant with the values of the enclosure, the room and its things;
 * the caller frees check->problems. FALSE when there is no such variant or its boxes would
 * be made of impossible numbers, and only give further, misleading words. */
gboolean dew_check_values (DewCheck *check, const DewChamber *chamber, guint variant_id);

G_END_DECLS
