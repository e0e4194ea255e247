/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Several things at once: lining them up, spreading them, moving and copying them
 * as a set. Axes are 0 (x, across), 1 (y, deep) and 2 (z, up).
 *
 * A thing moves only where it can: a shelf up and down, an opening and a fan in
 * the wall within their face. Along other axes it stays, and does not count. What
 * stands on a shelf goes up and down with it.
 *
 * `ids` may hold an id twice, or one that is not in the variant: those are left
 * out. On a refusal (FALSE or NULL with DEW_CHAMBER_ERROR_REFUSED, the reason in
 * one sentence) nothing has changed. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_EDGE_LOW, /* left, front, bottom */
  DEW_EDGE_MIDDLE,
  DEW_EDGE_HIGH /* right, back, top */
} DewEdge;

/* Brings one edge, or the middles, of all to the outermost of the set (to the
 * middle of the set). Needs two things that can move along the axis. */
gboolean dew_variant_align (const DewChamber *chamber, DewVariant *variant, const guint *ids,
                            guint n, int axis, DewEdge edge, GError **error);

/* Makes the gaps between neighbours equal; the outermost two stay. Needs three
 * things that can move along the axis and room for those between. */
gboolean dew_variant_distribute (const DewChamber *chamber, DewVariant *variant, const guint *ids,
                                 guint n, int axis, GError **error);

/* Moves a thing to where its reference point (the fields x, y, z; the lower
 * corner of an opening; z of a shelf) is shifted by d[3] metres. What stands
 * on a shelf goes up and down with it, and so do the plants and instruments of
 * the bay above it. */
void dew_variant_shift (const DewChamber *chamber, DewVariant *variant, guint id,
                        const double d[3]);

/* Copies the things, with new ids and free names, to the next free spot beside them:
 * the nearest at the same height, else on another shelf, else a little aside over
 * what is there. A humidistat listens to the copy of its instrument when that is
 * copied too. Returns the ids of the copies, GArray of guint, transfer full. */
GArray *dew_variant_duplicate (DewChamber *chamber, DewVariant *variant, const guint *ids, guint n,
                               GError **error);

/* Adds copies of `things` (GArray of DewThing, of this or another document) to the
 * variant: with new ids and free names, where they were or at the next free spot.
 * A humidistat whose instrument is neither among them nor in the variant listens at
 * its own outlet. Returns the new ids, as above. */
GArray *dew_variant_insert (DewChamber *chamber, DewVariant *variant, const GArray *things,
                            GError **error);

G_END_DECLS
