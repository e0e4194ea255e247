/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How high the shelves: the clear height that each bay needs for what is to stand there, and where
 * the boards would have to be for that, moved as little as can be.
 *
 * A plant needs its crown and its pot and 3 cm to spare; under a lamp that hangs in its bay the
 * lamp and 15 cm from its leaves to it as well (both common practice, no source). Plants that stand
 * count in their bay; those on the list of wishes, tallest first, are counted where they raise the
 * height that is needed least, as far as there is floor for their crowns. */

#include "advice/fit.h"

G_BEGIN_DECLS

typedef struct
{
  guint shelf_id;              /* that it stands on; 0: the floor */
  int shelf;                   /* which shelf from below; 0: the floor */
  double clear_m;              /* now: from the board to the next one or the roof */
  double need_m;               /* of it */
  double then_m;               /* clear, as advised */
  double lamp_m;               /* of need_m, for a lamp that hangs there; 0: none */
  char tallest[DEW_NAME_SIZE]; /* plant that needs it; empty: nothing is to stand there */
  int n_standing, n_wished;    /* plants that are counted here */
} DewHeightsBay;

/* A board, as it is and as advised. */
typedef struct
{
  guint id;
  char name[DEW_NAME_SIZE];
  double now_m, then_m; /* underside */
} DewHeightsShelf;

typedef struct
{
  int n_bays;
  DewHeightsBay *bays; /* from the floor up */
  int n_shelves;
  DewHeightsShelf *shelves; /* from below */
  gboolean fits;            /* there is a height for every shelf */
  double short_m;           /* by how much the enclosure is too low; 0 where it fits */
  int n_moves;              /* shelves that are advised elsewhere */
  int n_unplaced;           /* wishes for whose crowns no bay has floor left */
} DewHeights;

DewHeights *dew_heights_new (const DewChamber *chamber, const DewVariant *variant,
                             DewPlantKindLookup lookup, gpointer data);
void dew_heights_free (DewHeights *heights);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewHeights, dew_heights_free)

/* Moves the shelves there; what stands on them, and what hangs from them, goes along. */
void dew_heights_apply (const DewHeights *heights, DewChamber *chamber, guint variant_id);

G_END_DECLS
