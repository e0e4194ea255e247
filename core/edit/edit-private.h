/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the rules of this folder share. */

#include "edit/gesture.h"

G_BEGIN_DECLS

/* --- one thing --------------------------------------------------------- */

/* The field of a thing's place along an axis, or NULL. */
const DewField *dew_place_field (const DewThing *thing, int axis);
/* Whether a thing can be moved along an axis: a shelf up and down, what sits in a face
 * within it. */
gboolean dew_thing_moves (const DewThing *thing, int axis);
/* Shifts one thing alone along an axis, if it can be moved that way. */
void dew_thing_shift (DewThing *thing, int axis, double d_m);
/* What becomes of a shift by d_m that has to leave lo..hi inside first..last; what is too
 * large is put in the middle. */
double dew_shift_inside (double lo, double hi, double d_m, double first, double last);
/* Moves what stands on a shelf to where all of it is on the shelf, and what hangs in a
 * shelf to its nearer side: dew_chamber_check() would refuse it there. */
void dew_thing_settle (const DewChamber *chamber, const DewVariant *variant, DewThing *thing);

/* --- what sits in a face ----------------------------------------------- */

/* Puts an opening or a wall fan into a face: its middle at at_m, its size kept as far as
 * the face is large enough. */
void dew_thing_put_in_face (DewThing *thing, DewFace face, const double inner_m[3],
                            const double at_m[3]);
/* The face meant by a point of a view when a new thing is dropped: the wall whose line is
 * near, else the face toward the reader. */
DewFace dew_face_dropped_on (const double inner_m[3], DewView view, const double at_m[2]);
/* The face meant when a thing of `from` is dragged to a point. It leaves a face that is
 * seen as a surface only over an edge of the view, and one that is seen edge-on when the
 * pointer is nearer to another wall or well inside. */
DewFace dew_face_dragged_to (const double inner_m[3], DewView view, DewFace from,
                             const double at_m[2]);

/* --- several things ---------------------------------------------------- */

/* The things of a set, each once, in drawing order: GArray of guint. */
GArray *dew_set_ids (const DewVariant *variant, const guint *ids, guint n);
#define dew_set_thing(variant, set, i) dew_variant_thing (variant, g_array_index (set, guint, i))
/* What is left of a shift by d_m along an axis that leaves the set inside: something that
 * is outside already may stay there, but not go further. */
double dew_set_clamp (const DewChamber *chamber, const DewVariant *variant, const GArray *set,
                      int axis, double d_m);
/* Shifts a set by d_m, as far as all of it can go, and not up or down where something
 * would then cross a board or leave. What stands finds the board that is as much higher
 * or lower; what rides on a shelf of the set goes along with it. `lead` is the thing that
 * d_m was found for. Returns whether anything moved. */
gboolean dew_set_shift (const DewChamber *chamber, DewVariant *variant, const GArray *set,
                        const DewThing *lead, const double d_m[3]);

/* --- a drag in progress ------------------------------------------------ */

typedef struct
{
  DewChamber *chamber;
  DewVariant *variant;
  DewThing *thing; /* that is held; NULL: the enclosure */
  const DewDrag *drag;
  double inner_m[3];
  int axes[2];     /* across and up, of the view */
  double way_m[2]; /* of the pointer, along them */
  DewGuides *guides;
} DewHold;

/* move.c: bodies */
void dew_hold_move (DewHold *hold);
/* resize.c: edges and walls */
void dew_hold_pull_edge (DewHold *hold);
void dew_hold_pull_wall (DewHold *hold);

G_END_DECLS
