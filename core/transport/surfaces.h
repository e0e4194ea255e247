/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What lies between air and water or air and room: the cover, closed boards, wet
 * pots and trays, leaves; lamps and sunlight that warm them. Each surface finds
 * its own temperature from convection, long-wave radiation, conduction and the
 * heat of evaporation, and gives heat and vapour to the air of its zones.
 *
 * Radiation goes through one mean radiant node: what surfaces, lamps and sun
 * give to it they take from it, so nothing is lost. A cover of U-value 0 lets
 * nothing through and takes no part.
 *
 * A closed box with still air that is warmed by its air alone gets up to twice as warm
 * as its U-value seems to promise. That value counts 0.13 m2K/W inside, of which two
 * thirds are radiation from surroundings as warm as the air (ISO 6946:2017). Where
 * nearly all that a face sees is more of the same cold cover, there are none: air gives
 * its heat by convection alone, at 1 to 3 W/m2K instead of 7.7. What stands inside and
 * is warm (lamps, leaves, boards) and air that moves bring it back toward the promise.
 */

#include "transport/atmosphere.h"
#include "transport/films.h"
#include "transport/leaf.h"
#include "transport/wet.h"

G_BEGIN_DECLS

typedef struct _DewSurfaces DewSurfaces;

/* Everything is taken from the arguments; only `zones` must outlive it. evaporation
 * multiplies the area of pots and trays (1: as drawn). cover_t_C, or NULL: the cover's inner
 * faces are held at that temperature and radiate to nothing, for comparison with simulations
 * whose walls have a fixed temperature. */
DewSurfaces *dew_surfaces_new (const DewZones *zones, const DewChamber *chamber,
                               const DewVariant *variant, const DewAir *air, const DewRoomAir *room,
                               gboolean night, double evaporation, const double *cover_t_C);
void dew_surfaces_free (DewSurfaces *surfaces);

/* Finds the surfaces' state for the air as it is (rises over the room and speed,
 * [size]); afterwards the terms hold for that state. Returns the largest change
 * of a surface's temperature, K. */
double dew_surfaces_update (DewSurfaces *surfaces, const double *t_K, const double *w_kg_kg,
                            const double *speed_m_s);
/* How far the terms before the last update were from what the surfaces then gave to that
 * air: of heat, of vapour and of dew, summed over the zones without their signs, the largest
 * share. Where the air was solved with those terms it is by how much the balances of
 * surfaces and air disagree. */
double dew_surfaces_miss (const DewSurfaces *surfaces);
const DewExchangeTerms *dew_surfaces_terms (const DewSurfaces *surfaces);
/* Whether anything here takes up or gives off heat or vapour at all. */
gboolean dew_surfaces_active (const DewSurfaces *surfaces);

/* State of one wet thing or plant. */
typedef struct
{
  guint thing_id;
  double t_C;         /* of its surface or leaves */
  double water_kg_s;  /* given off; negative = dew */
  double leaf_vpd_Pa; /* NAN but for plants */
} DewBodyState;

int dew_surfaces_n_bodies (const DewSurfaces *surfaces);
DewBodyState dew_surfaces_body (const DewSurfaces *surfaces, int body);

/* One side of the cover. */
typedef struct
{
  double t_C; /* mean of the inner surface */
  double coldest_C;
  double dew_kg_s; /* condensing */
  double heat_W;   /* from the air and the other surfaces to the room */
} DewPanelState;

DewPanelState dew_surfaces_panel (const DewSurfaces *surfaces, DewFace face);

/* The radiant node, C. */
double dew_surfaces_radiant_C (const DewSurfaces *surfaces);

/* Heat (W) that the terms hold for: what lamps give to the air at once; heat and
 * water that cover and boards, and bodies, give to the air; by the terms, which are
 * linear in the air's state. */
typedef struct
{
  double lamp_air_W;
  double cover_W, body_W;
  double cover_kg_s, body_kg_s;
} DewSurfaceSums;

void dew_surfaces_sums (const DewSurfaces *surfaces, const double *t_K, const double *w_kg_kg,
                        DewSurfaceSums *out);

/* Water that drips from roof and boards through the zones, kg/m2s, into drip
 * [size]. What a steep roof gathers runs down its back wall instead. */
void dew_surfaces_drip (const DewSurfaces *surfaces, double *drip_kg_m2s);

/* --- what they are, for who follows them through a day ------------------------------- */

/* One face of the cover, or of a closed board. */
typedef struct
{
  int zone, below; /* padded indices of the zones it faces; below: of a board, else -1 */
  int panel;       /* DewFace; -1 for a board */
  DewFacing facing;
  double area_m2, length_m;
  double losing_W_m2K, gaining_W_m2K; /* to the room, where it is warmer, or cooler, than that */
  double radiation_W_m2K;             /* to the radiant node, per side */
  double t_C;
} DewSurfaceFace;

int dew_surfaces_n_faces (const DewSurfaces *surfaces);
DewSurfaceFace dew_surfaces_face (const DewSurfaces *surfaces, int face);

/* One wet thing or plant, with the air that it was last found in. Lent. */
typedef struct
{
  guint thing_id;
  const GArray *shares;     /* DewShare: the air it is in */
  double area_m2;           /* of leaves one side */
  const DewWetSurface *wet; /* NULL for leaves */
  const DewLeaf *leaf;      /* NULL for what is wet */
  double t_C;
} DewSurfaceBody;

DewSurfaceBody dew_surfaces_body_of (const DewSurfaces *surfaces, int body);

/* Where the heat of lamps and sun goes beside what leaves and trays take up: straight to the
 * air of the zones ([size], W; lent), and to the radiant node (W), of which a cover that passes
 * long waves lets out so much per K over the room. */
const double *dew_surfaces_lamp_W (const DewSurfaces *surfaces);
double dew_surfaces_given_W (const DewSurfaces *surfaces);
double dew_surfaces_leak_W_K (const DewSurfaces *surfaces);

G_END_DECLS
