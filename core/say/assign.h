/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What an assignment of plants to places says to people. All transfer full. */

#include "advice/assign/assign.h"
#include "say/units.h"

G_BEGIN_DECLS

/* "second shelf, left front", "without a place". */
char *dew_assign_where (const DewAssignment *assignment, const DewAssignPlant *plant);
/* A sentence on a plant where it is, or on why it has no place: "Night 1.4 K too warm." */
char *dew_assign_words (const DewAssignPlant *plant, DewTongue tongue);
/* What would help one that suffers or has no place: "3 K cooler nights, or a place with 12 cm
 * more height"; NULL: nothing is needed. */
char *dew_assign_needs (const DewAssignment *assignment, const DewAssignPlant *plant,
                        DewTongue tongue);
/* Sentences about the whole: which wish to give up, plants of unknown kinds, plants that keep
 * their place where they should not. NULL-terminated. */
char **dew_assign_notes (const DewAssignment *assignment);
/* "Proven: no other arrangement is better." or "Within 1.2 % of the best there can be; the
 * time was up." */
char *dew_assign_proof_words (const DewAssignment *assignment);

G_END_DECLS
