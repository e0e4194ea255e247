/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What zones.c (the bare grid) and variant.c (shelves, openings and leakage of a
 * variant on it) share. */

#include "zones/zones.h"

G_BEGIN_DECLS

/* A closed grid; walls' distances are still to be found. line_m: [n + 1] each, copied. */
DewZones *dew_zones_from_lines (const int n[3], const double *const line_m[3]);
/* Distance of every zone to the nearest wall or closed board. */
void dew_zones_find_walls (DewZones *zones);

G_END_DECLS
