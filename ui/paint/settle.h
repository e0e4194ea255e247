/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Keeps what is dragged or dropped out of the boards: see dew_chamber_check(),
 * which would refuse to forecast it there. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Moves what stands on a shelf to where all of it is on the shelf, and what
 * hangs in a shelf to its nearer side. */
void dew_settle (const DewChamber *chamber, const DewVariant *variant, DewThing *thing);

G_END_DECLS
