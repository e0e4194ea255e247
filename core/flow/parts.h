/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Which zones air can pass between at all: parts, each joined to the room or closed. */

#include "zones/zones.h"

G_BEGIN_DECLS

typedef struct
{
  int n;
  int *part;         /* [n_zones] of each zone, x fastest, then y */
  gboolean *closed;  /* [n] no face leads to the room */
  double *volume_m3; /* [n] */
} DewParts;

DewParts *dew_parts_new (const DewZones *zones);
void dew_parts_free (DewParts *parts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewParts, dew_parts_free)

/* Conductance (m) of the face on the low side of zone (i, j, k) along an axis: open area over
 * the distance of what it joins; 0 unless it is inside or leads to the room. */
double dew_parts_conductance (const DewZones *zones, int axis, const int cell[3]);

G_END_DECLS
