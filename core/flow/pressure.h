/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The pressure matrix of a set of zones for a unit time step, factored once.
 * It lasts as long as walls, shelves and openings stay; the time step only
 * scales it. Reference counted; solving is for one thread at a time. */

#include "zones/zones.h"

G_BEGIN_DECLS

typedef struct _DewPressure DewPressure;

/* NULL when the factorisation fails (never for zones of a checked variant). */
DewPressure *dew_pressure_new (const DewZones *zones);
DewPressure *dew_pressure_ref (DewPressure *pressure);
void dew_pressure_unref (DewPressure *pressure);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewPressure, dew_pressure_unref)

/* Solves -div (open / gap grad phi) = source over the zones; phi is zero in the
 * room, or, in a sealed enclosure, zero on the mean. source, phi: [size] padded;
 * only zones are read and written. */
void dew_pressure_solve (DewPressure *pressure, const DewZones *zones, const double *source,
                         double *phi);

/* The CHOLMOD that this was compiled with, and the one it runs with: major, minor, patch. */
void dew_pressure_library (int compiled[3], int running[3]);

G_END_DECLS
