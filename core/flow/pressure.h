/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The pressure matrix of a set of zones for a unit time step, factored once.
 * It lasts as long as walls, shelves and openings stay; the time step only
 * scales it. Reference counted; solving is for one thread at a time.
 *
 * Zones are a grid of straight lines, so the matrix is separable but for a few
 * faces, and is solved by fast diagonalisation with a correction for those
 * (separable.h, apart.h). Where they are many it is factored by CHOLMOD. Both
 * agree to round-off.
 *
 * A part of the zones that no face joins to the room (a sealed enclosure, the space
 * under a board without gaps) has a pressure only up to a level, and only if what is
 * put in is taken out again. There the level is such that the mean over the volume is
 * zero, and a source that does not add up to zero is met by a sink that is spread
 * evenly. */

#include "zones/zones.h"

G_BEGIN_DECLS

typedef struct _DewPressure DewPressure;

/* NULL when the factorisation fails (never for zones of a checked variant). */
DewPressure *dew_pressure_new (const DewZones *zones);
/* The same, always by CHOLMOD: for comparison. */
DewPressure *dew_pressure_new_factored (const DewZones *zones);
DewPressure *dew_pressure_ref (DewPressure *pressure);
void dew_pressure_unref (DewPressure *pressure);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewPressure, dew_pressure_unref)

/* Whether it is solved by fast diagonalisation. */
gboolean dew_pressure_is_fast (const DewPressure *pressure);

/* Solves -div (open / gap grad phi) = source over the zones; phi is zero in the
 * room. source, phi: [size] padded; only zones are read and written. */
void dew_pressure_solve (DewPressure *pressure, const DewZones *zones, const double *source,
                         double *phi);

/* The CHOLMOD that this was compiled with, and the one it runs with: major, minor, patch. */
void dew_pressure_library (int compiled[3], int running[3]);

G_END_DECLS
