/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What surfaces.c (which surfaces there are, and what they came to) and
 * surfaces-update.c (how each finds its state) share. */

#include "transport/films.h"
#include "transport/leaf.h"
#include "transport/surfaces.h"
#include "transport/wet.h"

G_BEGIN_DECLS

#define EMISSIVITY_WET 0.95 /* water, wet clay, leaves: the same */

/* What is given to the air, K m3/s or kg/kg m3/s: heat, vapour, and of vapour what the cover
 * and boards take by gathering dew. */
typedef enum
{
  DEW_EXCHANGED_HEAT,
  DEW_EXCHANGED_VAPOUR,
  DEW_EXCHANGED_DEW,
  DEW_N_EXCHANGED
} DewExchanged;

/* One face of the cover or of a closed board. */
typedef struct
{
  int zone;  /* that it faces; of a board the one above */
  int below; /* of a board the zone under it, else -1 */
  int panel; /* DewFace; -1 for a board */
  DewFacing facing;
  double area_m2;
  double length_m;
  double out_W_m2K; /* sheet and outer film to what is outside, as the heat goes now */
  double losing_W_m2K, gaining_W_m2K; /* the same where the face is warmer, or cooler, than that */
  double out_K;     /* what is outside, over the room: 0 but for a cover that is held */
  double rad_W_m2K; /* to the radiant node, per side */
  double t_K;       /* over the room */
  double h[2];      /* films: own side, underside of a board */
  double dew[2];    /* condensing, kg/m2s */
  double dewing[2]; /* heat that it brings, W/m2K less per K that the face is warmer */
} Face;

typedef struct
{
  guint thing_id;
  gboolean is_leaf;
  GArray *shares; /* DewShare */
  DewWetSurface wet;
  DewLeaf leaf;
  double area_m2;
  double t_K; /* over the room */
  double water_kg_m2s;
  double radiant_W_m2; /* taken from the radiant node */
  double leaf_vpd_Pa;
  double h_W_m2K;      /* film, of both sides of a leaf */
  double holds_W_m2K;  /* film, radiation and evaporation: what one K more costs it */
  double draws_kg_m2s; /* evaporation per kg/kg that the air at its surface has more */
  double steeper_1_K;  /* what that has more per K that the body is warmer */
} Body;

struct _DewSurfaces
{
  const DewZones *z;
  DewAir air;
  DewRoomAir room;
  DewFilmAir film;
  DewExchangeTerms terms;
  double *lamp_W; /* zones: heat of lamps straight to the air */
  double *cover_sink, *cover_source, *cover_by_w;
  double *cover_vsink, *cover_vsource, *cover_by_t;
  double *before[DEW_N_EXCHANGED]; /* zones: what the terms before gave to the air as it is */
  double miss;                     /* dew_surfaces_miss() */
  GArray *faces;                   /* Face */
  GArray *bodies;                  /* Body */
  const DewDeck *decks;
  int n_decks;
  double *deck_open; /* open ratio per deck */
  double roof_slope_rad;
  double evaporation; /* factor on wet areas */
  double given_W;     /* to the radiant node by lamps, light and sun */
  double leak_W_K;    /* of the node through a cover that passes long waves */
  double radiant_K;   /* the node, over the room */
  double lamp_air_W;
};

G_END_DECLS
