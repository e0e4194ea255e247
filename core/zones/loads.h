/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What stands in the zones and acts on their air: forces of fans, drag of
 * foliage and obstacles, losses of shelves, heat and water given off. Cheap to
 * make anew whenever something is moved. Arrays are padded like the zones. */

#include "zones/zones.h"

G_BEGIN_DECLS

typedef struct
{
  double *drag_1_m;     /* [size] zones: a of the deceleration a |u| u */
  double *deck_loss;    /* [size] faces normal to z: K of a porous shelf */
  double *force[3];     /* [size] faces: force over density, m4/s2 */
  double *heat_W;       /* [size] zones: sensible heat of devices into the air */
  double *vapour_kg_s;  /* [size] zones: vapour of sources and devices */
  double *mist_kg_s;    /* [size] zones: droplets of humidifiers, at full duty */
  double *latent_W;     /* [size] zones: heat that comes with the vapour (steam) */
} DewLoads;

typedef struct
{
  double   density_kg_m3;
  double   latent_heat_J_kg;
  gboolean night;
} DewLoadsOptions;

DewLoads *dew_loads_new  (const DewZones *zones, const DewChamber *chamber,
                          const DewVariant *variant, const DewLoadsOptions *options);
/* Without anything in it: for benchmarks. */
DewLoads *dew_loads_new_empty (const DewZones *zones);
void      dew_loads_free (DewLoads *loads);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewLoads, dew_loads_free)

G_END_DECLS
