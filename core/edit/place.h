/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where a new thing goes when nobody points at a place, and what keys do to a thing. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Fills `thing` (id 0) with a typical one of that kind, with a name that no other in the
 * variant has, at the first free place of bay `bay`, or of the nearest one that has
 * room. */
void dew_thing_place (const DewChamber *chamber, const DewVariant *variant, DewThingKind kind,
                      int bay, DewThing *thing);

/* Gives a name that is not taken yet: "Clay pot 3" becomes "Clay pot 4", or the next
 * that is free. */
void dew_variant_free_name (const DewVariant *variant, char name[DEW_NAME_SIZE]);

typedef enum
{
  DEW_NUDGE_LEFT,
  DEW_NUDGE_RIGHT,
  DEW_NUDGE_DOWN,
  DEW_NUDGE_UP,
  DEW_NUDGE_FORWARD, /* toward the front */
  DEW_NUDGE_BACK
} DewNudge;

/* Moves a thing by `step_m` that way and keeps it inside. What stands goes up or down by
 * a whole shelf. What sits in a side wall takes left and right as forward and back.
 * Where several are selected (`ids`, `id` among them; else n is 0 or 1), they go along
 * and keep their places to each other. Returns whether it moved. */
gboolean dew_variant_nudge (const DewChamber *chamber, DewVariant *variant, guint id,
                            const guint *ids, guint n, DewNudge way, double step_m);

/* Changes by `step` (a share of all) how far an opening is open or how much a device
 * runs by day or night. FALSE when the thing has no such amount or it is at its end. */
gboolean dew_thing_change_amount (DewThing *thing, gboolean night, double step);

/* Turns what blows by `step_rad` up (positive) or to the side. FALSE when the thing has
 * no aim. */
gboolean dew_thing_turn (DewThing *thing, gboolean upward, double step_rad);

/* Moves a thing that sticks out of the enclosure, through a shelf or over its edge to the
 * nearest place where it fits. FALSE: it is larger than the enclosure, or sits in a face. */
gboolean dew_variant_move_in (const DewChamber *chamber, DewVariant *variant, guint id);

G_END_DECLS
