/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a layout takes to build, as a list of generic parts with amounts. Amounts that hang
 * on how one builds (a tenth more film for seams, length of cables, screws) are common
 * practice, no source; the words say 'about'. */

#include "geometry/geometry.h"
#include "say/units.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_SUPPLY_COVER,
  DEW_SUPPLY_INSIDE, /* shelves, pots, trays, plants */
  DEW_SUPPLY_DEVICE, /* what draws current, and its cable */
  DEW_SUPPLY_SAFETY,
  DEW_N_SUPPLY_GROUPS
} DewSupplyGroup;

typedef struct
{
  DewSupplyGroup group;
  double amount; /* a count, m2 of film, m of cable ... of the row; SI */
  char *amount_text;
  char *words;
} DewSupply;

void dew_supply_free (DewSupply *supply);
/* "Cover", "Inside" ... Lent. */
const char *dew_supply_group_title (DewSupplyGroup group);

/* Group by group. DewSupply, transfer full with free function. */
GPtrArray *dew_supplies (const DewChamber *chamber, const DewVariant *variant, DewTongue tongue);

/* Cable from a device to the floor outside: along the nearer side wall to the back, down to the
 * floor, and a loop below the socket for drops to fall off. m, rounded up to a decimetre. */
double dew_cable_length_m (const DewChamber *chamber, const DewThing *thing);

G_END_DECLS
