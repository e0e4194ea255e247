/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What an assignment of plants to places says to people. All transfer full. */

#include "advice/assign/assign.h"
#include "say/units.h"

G_BEGIN_DECLS

/* Plants of one kind that are advised the same and of which the same is said. */
gboolean dew_assign_alike (const DewAssignPlant *a, const DewAssignPlant *b);
/* What becomes of a plant: "moves", "comes in", "stays". Lent. */
const char *dew_assign_verdict_word (const DewAssignPlant *plant);
/* "left front" within its shelf; NULL: it has no place. */
char *dew_assign_corner (const DewAssignment *assignment, const DewAssignPlant *plant);
/* "second shelf, left front", "without a place". */
char *dew_assign_where (const DewAssignment *assignment, const DewAssignPlant *plant);
/* A sentence on a plant where it is, or on why it has no place: "Night 1.4 K too warm." */
char *dew_assign_words (const DewAssignPlant *plant, DewTongue tongue);
/* What would help one that suffers or has no place: "3 K cooler nights, or a place with 12 cm
 * more height"; NULL: nothing is needed. */
char *dew_assign_needs (const DewAssignment *assignment, const DewAssignPlant *plant,
                        DewTongue tongue);
/* What leads the answer, in order: who has no place and what would save them, what no one air can
 * do for all, how many move and come in, and what that brings. NULL-terminated. */
char **dew_assign_lead (const DewAssignment *assignment, DewTongue tongue);
/* What more moves would bring (all_moves); NULL: nothing. */
char *dew_assign_more_words (const DewAssignment *assignment);
/* "Third shelf", "Floor"; "Without a place" of -1. */
char *dew_assign_level (const DewAssignment *assignment, int bay);
/* Sentences about the whole: plants of unknown kinds, plants that keep their place where they
 * should not. NULL-terminated. */
char **dew_assign_notes (const DewAssignment *assignment);
/* Whether and for what it is proven, or "Within 1.2 % of the best there can be; the time was
 * up." */
char *dew_assign_proof_words (const DewAssignment *assignment);

G_END_DECLS
