/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of this folder share with the store: records handled through
 * their field tables. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

#define DEW_ENCLOSURE_MIN_M 0.1 /* inner clear side */
#define DEW_ENCLOSURE_MAX_M 4.0
#define DEW_BAY_MIN_M 0.03  /* lower bays cannot hold anything */
#define DEW_STANDING_M 0.01 /* this near above a board stands on it */
#define DEW_THINGS_MAX 2000 /* of a variant */

/* Sets every field of a record to its fallback. */
void dew_fields_init (const DewField *fields, gpointer record);
/* Exactly equal; two NANs count as equal so that a copy equals its original. */
gboolean dew_fields_equal (const DewField *fields, gconstpointer a, gconstpointer b);
/* Equal as dew_fields_equal() means it. */
gboolean dew_real_equal (double a, double b);
/* Copies as much of `text` as fits in `size` bytes without splitting a character. */
void dew_text_copy (char *to, gsize size, const char *text);
/* Adds d[3] to the fields that say where a thing is. */
void dew_thing_move (DewThing *thing, const double d[3]);
/* Whether a thing goes up and down with a shelf: what stands on it, the plants
 * above it (a crown starts at the rim of its pot) and the instruments among them. */
gboolean dew_variant_rides_on (const DewChamber *chamber, const DewVariant *variant,
                               const DewThing *thing, const DewThing *shelf);
/* The box that has to be inside. A fan's disc seen at an angle is smaller than its
 * cube, so a fan may stand with its back to the cover. */
void dew_thing_body (const DewChamber *chamber, const DewThing *thing, double lo[3], double hi[3]);
/* Whether both have the same wishes (ids included) and own kinds in the same order. */
gboolean dew_wishes_equal (const DewChamber *a, const DewChamber *b);

G_END_DECLS
