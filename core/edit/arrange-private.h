/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What moving and copying of several things share. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

typedef struct
{
  double lo[3], hi[3]; /* m */
} DewBox;

/* The things of a set, each once, in drawing order: GArray of guint. */
GArray *dew_set_ids (const DewVariant *variant, const guint *ids, guint n);
/* Adds d[3] to the fields that say where a thing is. */
void dew_thing_move (DewThing *thing, const double d[3]);
/* Whether a thing can be moved along an axis. */
gboolean dew_thing_moves (const DewThing *thing, int axis);
/* Shifts a set as dew_variant_shift_set() does, however far. */
void dew_set_shift (const DewChamber *chamber, DewVariant *variant, const GArray *ids,
                    const double d[3]);
/* Limits d[3] to what leaves the set inside. */
void dew_set_clamp (const DewChamber *chamber, const DewVariant *variant, const GArray *ids,
                    double d[3]);

G_END_DECLS
