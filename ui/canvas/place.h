/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where a new thing goes when nobody points at a place, and how a thing moves
 * by keys. Pure functions on the document. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Fills `thing` (id 0) with a typical one of that kind, named so that no other
 * in the variant has the name, at the first free place of bay `bay`, or of the nearest one
 * that has room. */
void dew_place_new_thing (const DewChamber *chamber, const DewVariant *variant, DewThingKind kind,
                          int bay, DewThing *thing);

/* A name of that kind that is free in the variant: "Fan", "Fan 2" ... */
void dew_place_name (const DewVariant *variant, DewThingKind kind, char name[DEW_NAME_SIZE]);

typedef enum
{
  DEW_NUDGE_LEFT,
  DEW_NUDGE_RIGHT,
  DEW_NUDGE_DOWN,
  DEW_NUDGE_UP,
  DEW_NUDGE_FORWARD, /* toward the front */
  DEW_NUDGE_BACK
} DewNudge;

/* Moves a thing by `step_m` that way and keeps it inside. What stands goes up
 * or down by a whole shelf. What sits in a side wall takes left and right as
 * forward and back. Returns whether it moved. */
gboolean dew_place_nudge (DewChamber *chamber, DewVariant *variant, guint id, DewNudge way,
                          double step_m);

/* The same with several that are selected (`ids`, `id` among them): they keep their
 * places to each other. */
gboolean dew_place_nudge_several (DewChamber *chamber, DewVariant *variant, guint id,
                                  const guint *ids, guint n, DewNudge way, double step_m);

/* Changes by `step` (a share of all) how far an opening is open or how much a
 * device runs by day or night. FALSE when the thing has no such amount or it is at
 * its end. */
gboolean dew_place_change_amount (DewVariant *variant, guint id, gboolean night, double step);

/* Turns what blows by `step_rad` up (positive) or to the side. FALSE when the
 * thing has no aim. */
gboolean dew_place_turn (DewVariant *variant, guint id, gboolean upward, double step_rad);

/* Whether a thing of that kind stands on shelf or floor. */
gboolean dew_place_stands (DewThingKind kind);

/* In words: "Second bay, 12 cm from the left, 20 cm from the front". Free with
 * g_free(). */
char *dew_place_words (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing);

G_END_DECLS
