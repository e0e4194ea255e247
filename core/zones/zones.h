/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The enclosure cut into zones: a rectilinear grid of finite volumes, its
 * faces, and which of them are closed, open, or lead to the room.
 *
 * All arrays over zones and faces share one padded index
 *     I = i + stride[1] * j + stride[2] * k,   i = 0 .. n[0] + 1, ...
 * where 1 .. n are zones and 0 and n + 1 a rim of ghosts. The face normal to
 * axis a with index I is the one on the low side of zone I, so the faces of an
 * axis run from 1 to n[a] + 1. Arrays have `size` entries; those of the rim that
 * have no meaning are zero.
 *
 * A DewZones depends on walls, shelves and openings only: nothing that is
 * usually dragged (fans, pots, plants) changes it. What those do to the air is
 * in a DewLoads. Neither changes once made, but for dew_loads_free().
 */

#include <glib.h>

#include "chamber/chamber.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_FACE_IS_CLOSED,
  DEW_FACE_IS_INSIDE, /* between two zones */
  DEW_FACE_IS_ROOM,   /* to the room: the pressure difference drives it */
  DEW_FACE_IS_FIXED   /* to the room: a flow is given */
} DewFaceKind;

/* Part of an opening that lies on one boundary face. */
typedef struct
{
  guint thing_id; /* 0 = leakage */
  int axis;
  int face;       /* padded index of the face */
  int zone;       /* padded index of the zone inside */
  int sign;       /* +1 when positive velocity on the face leads into the enclosure */
  double area_m2; /* open area of this part */
  double loss;    /* K of dp = 0.5 rho K u^2; 0 for leakage and fixed flows */
} DewPatch;

/* A shelf as a plane of faces. */
typedef struct
{
  guint thing_id;
  int k; /* faces normal to z with this index */
  double z_m;
} DewDeck;

typedef struct
{
  int n[3];
  int stride[3];
  int size;
  int n_zones;
  double inner_m[3];
  double *line_m[3];   /* [n + 1] */
  double *width_m[3];  /* [n + 2], rim: width of the neighbour */
  double *middle_m[3]; /* [n + 2], rim: mirrored */
  double *gap_m[3];  /* [n + 2] from the middle of i - 1 to that of i; half a width at the walls */
  double *volume_m3; /* [size] */
  double *gross_m2[3]; /* [size] area of the face, open or not */
  double *open_m2[3];  /* [size] open area of the face */
  guint8 *kind[3];     /* [size] DewFaceKind */
  double *wall_m;      /* [size] distance from the middle of a zone to the nearest solid surface */
  int n_patches;
  DewPatch *patches;
  int n_decks;
  DewDeck *decks;
  gboolean sealed; /* no face leads to the room */
  double leak_exponent;
} DewZones;

/* Zones of a variant, wanted size `zone_m`. The variant must have passed
 * dew_chamber_check(). */
DewZones *dew_zones_new (const DewChamber *chamber, const DewVariant *variant, double zone_m);

/* A closed box with given grid lines (m), copied: for benchmarks. */
DewZones *dew_zones_new_box (const int n[3], const double *const line_m[3]);
void dew_zones_free (DewZones *zones);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewZones, dew_zones_free)

/* Whether two sets of zones are the same but for the ids of what made them: then
 * a flow and its factorisation may be kept. */
gboolean dew_zones_same (const DewZones *a, const DewZones *b);

/* A zone size (m) that suits the enclosure and the wanted fineness: so that a
 * box of usual size gets about `wanted` zones, none larger than `largest_m`. */
double dew_zones_size_for (const double inner_m[3], int wanted, double largest_m);

static inline int
dew_zones_at (const DewZones *zones, int i, int j, int k)
{
  return i + zones->stride[1] * j + zones->stride[2] * k;
}

/* Walks the zones in the order of their memory, or backward; `at` is the padded index. */
#define DEW_EACH_ZONE(z, at) \
  for (int k_ = 1; k_ <= (z)->n[2]; k_++) \
    for (int j_ = 1; j_ <= (z)->n[1]; j_++) \
      for (int at = dew_zones_at (z, 1, j_, k_), end_ = at + (z)->n[0]; at < end_; at++)
#define DEW_EACH_ZONE_BACK(z, at) \
  for (int k_ = (z)->n[2]; k_ >= 1; k_--) \
    for (int j_ = (z)->n[1]; j_ >= 1; j_--) \
      for (int at = dew_zones_at (z, (z)->n[0], j_, k_), end_ = at - (z)->n[0]; at > end_; at--)

/* Index (1 .. n) of the zone along an axis that holds x (m), clamped. */
int dew_zones_find (const DewZones *zones, int axis, double x_m);

/* A zone and how much of something lies in it. */
typedef struct
{
  int zone;         /* padded index */
  double volume_m3; /* shared with the box */
  double share;     /* of the box; the shares of a box inside the enclosure sum to 1 */
} DewShare;

/* The zones that the box lo..hi (m) overlaps: a GArray of DewShare (transfer
 * full). A box that is flat along an axis counts as a thin sheet; what sticks out
 * of the enclosure is cut off. */
GArray *dew_zones_shares (const DewZones *zones, const double lo_m[3], const double hi_m[3]);

/* Spreads the array `from` over `from_zones` onto `to_zones` by linear
 * interpolation between zone middles (axis < 0) or faces (axis 0..2). */
void dew_zones_remap (const DewZones *from_zones, const double *from, const DewZones *to_zones,
                      double *to, int axis);

G_END_DECLS
