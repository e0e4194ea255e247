/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What lies between air and water or air and room: the cover, wet pots, trays,
 * leaves, shelves. Each finds its own temperature from convection, radiation,
 * conduction and evaporation, and gives heat and vapour to the air of its zones.
 */

#include "transport/atmosphere.h"

G_BEGIN_DECLS

typedef struct _DewSurfaces DewSurfaces;

DewSurfaces *dew_surfaces_new  (const DewZones *zones, const DewChamber *chamber,
                                const DewVariant *variant, const DewAir *air,
                                const DewRoomAir *room, gboolean night);
void         dew_surfaces_free (DewSurfaces *surfaces);

/* Finds the surfaces' state for the air as it is; `speed_m_s` and the rises are
 * [size]. Afterwards the terms hold for that state. */
void dew_surfaces_update (DewSurfaces *surfaces, const double *t_K, const double *w_kg_kg,
                          const double *speed_m_s);
const DewExchangeTerms *dew_surfaces_terms (const DewSurfaces *surfaces);
/* Whether anything here takes up or gives off heat or vapour at all. */
gboolean dew_surfaces_active (const DewSurfaces *surfaces);

G_END_DECLS
