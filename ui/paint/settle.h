/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Keeps what is dragged or dropped out of the boards: see dew_chamber_check(),
 * which would refuse to forecast it there. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Things that stand on a shelf or the floor; the rest hangs or is fixed. */
gboolean dew_stands (DewThingKind kind);
/* Whether a board and a thing cannot be in one place: leaves grow through a
 * shelf, everything else does not. */
gboolean dew_is_solid (const DewThing *thing);

/* A shelf that goes through the thing, or NULL. */
const DewThing *dew_pierced_by (const DewChamber *chamber, const DewVariant *variant,
                                const DewThing *thing);
/* Underside of the next shelf above z_m over or under lo..hi (x and y), or the
 * roof. */
double dew_ceiling_m (const DewChamber *chamber, const DewVariant *variant, double z_m,
                      const double lo[3], const double hi[3]);
/* The shelf that a thing stands on, or NULL for the floor and for what hangs. */
const DewThing *dew_carrier (const DewChamber *chamber, const DewVariant *variant,
                             const DewThing *thing);
/* From the first to the last of what stands on a shelf, along an axis. FALSE
 * when nothing does. */
gboolean dew_carried_span (const DewChamber *chamber, const DewVariant *variant,
                           const DewThing *shelf, int axis, double *lo_m, double *hi_m);
/* Moves what stands on a shelf to where all of it is on the shelf, and what
 * hangs in a shelf to its nearer side. */
void dew_settle (const DewChamber *chamber, const DewVariant *variant, DewThing *thing);
/* Lowest and highest underside of a shelf between its neighbours and the solid
 * things below and on it. */
void dew_shelf_limits (const DewChamber *chamber, const DewVariant *variant, const DewThing *shelf,
                       double least_bay_m, double *low_m, double *high_m);

G_END_DECLS
