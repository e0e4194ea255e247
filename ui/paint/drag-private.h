/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the parts of a drag share. */

#include "paint/sheet-private.h"

G_BEGIN_DECLS

#define DEW_LEAST_BAY_M 0.04 /* between two shelves */

/* A drag in progress, unpacked. */
typedef struct
{
  DewChamber *chamber;
  DewVariant *variant;
  const DewHit *hit;
  DewThing *thing;
  const double *from_m, *to_m;
  double snap_m;
  double inner_m[3];
  DewGuides *guides;
} DewDrag;

/* The field of a thing's place along an axis, or NULL. */
const DewField *dew_place_field (const DewThing *thing, int axis);
/* The edges of a shelf are gaps to the walls, those of an opening coordinates
 * on its face: where that number is kept; NULL for everything else. */
double *dew_thing_edge (DewThing *thing, int axis, gboolean high);
/* Shifts one thing alone along an axis; what sits in a wall only along it. */
void dew_thing_shift (DewThing *thing, int axis, double d_m);
/* How far a thing may go so that lo..hi stays inside 0..inner; one that is too
 * large is put in the middle. */
double dew_shift_inside (double lo, double hi, double d_m, double inner);

/* move.c */
void dew_drag_body (DewDrag *drag);
/* All of ids go the way of the held one, as far as all of them can. */
void dew_drag_bodies (DewDrag *drag, const guint *ids, guint n);

/* face.c */
/* Puts what sits in a wall (an opening, a wall fan) into a face: its middle at
 * at_m, its size kept as far as the face is large enough. */
void dew_put_in_face (DewThing *thing, DewFace face, const double inner_m[3], const double at_m[3]);
/* The face meant by a point of a view when a new thing is dropped: the wall
 * whose line is near, else the face toward the reader. */
DewFace dew_face_at (const double inner_m[3], DewView view, const double at_m[2]);
/* The face meant when a thing of `from` is dragged to a point. It leaves a face
 * that is seen as a surface only over an edge of the view, and one that is seen
 * edge-on when the pointer is nearer to another wall or well inside. */
DewFace dew_face_after_drag (const double inner_m[3], DewView view, DewFace from,
                             const double at_m[2]);

G_END_DECLS
