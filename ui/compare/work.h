/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The comparison of variants as an errand. */

#include "advice/compare/compare.h"
#include "document/errand.h"

G_BEGIN_DECLS

typedef struct
{
  DewChamber *chamber;
  guint ids[DEW_COMPARE_SIDES_MAX];
  int n; /* 2 or more */
} DewCompareInput;

void dew_compare_input_free (gpointer input);
/* A DewErrandWork on a DewCompareInput: a DewComparison without bands first, which is
 * there soon, then one with them. */
gpointer dew_compare_work (gpointer input, DewErrandRun *run, GCancellable *cancellable,
                           GError **error);
/* Frees a DewComparison. */
void dew_compare_result_free (gpointer comparison);

G_END_DECLS
