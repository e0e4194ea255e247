/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What stands in the zones and acts on their air: forces of fans, drag of
 * foliage and obstacles, losses of shelves, heat and water given off. Cheap to
 * make anew whenever something is moved. Arrays are [size], padded like the zones. */

#include "zones/zones.h"

G_BEGIN_DECLS

/* A humidifier, whose output a humidistat may set. */
typedef struct
{
  DewHumidifier device;
  guint thing_id;
  double duty; /* share of the time it runs, 0..1 */
} DewMister;

typedef struct
{
  double *drag_1_m;    /* zones: a of the deceleration a |u| u */
  double *deck_loss;   /* faces normal to z: K of a porous shelf */
  double *fall_share;  /* faces normal to z: share of what falls that a porous shelf and
                        * what stands on it let pass, 0..1 */
  double *force[3];    /* faces: force over density, m4/s2 */
  double *heat_W;      /* zones: sensible heat of devices into the air */
  double *vapour_kg_s; /* zones: vapour of sources and devices */
  double *mist_kg_s;   /* zones: droplets of humidifiers */
  double *latent_W;    /* zones: heat that comes with the vapour (steam) */
  GArray *misters;     /* DewMister */
  double latent_heat_J_kg;
} DewLoads;

typedef struct
{
  double density_kg_m3;
  double latent_heat_J_kg;
  gboolean night;
} DewLoadsOptions;

/* Humidifiers run at their fixed duty, those with a humidistat all the time,
 * until dew_loads_set_duty(). */
DewLoads *dew_loads_new (const DewZones *zones, const DewChamber *chamber,
                         const DewVariant *variant, const DewLoadsOptions *options);
void dew_loads_free (DewLoads *loads);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewLoads, dew_loads_free)

/* Changes the share of the time that one humidifier runs: its water, heat and
 * jet follow. */
void dew_loads_set_duty (DewLoads *loads, const DewZones *zones, guint mister, double duty);

G_END_DECLS
