/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a hand does on the drawing, and what it means for the document: pure functions
 * of a copy of it, in metres. Nothing here knows pixels, pointers or widgets; whoever
 * draws turns a point of the screen into view coordinates and what lies under it into a
 * grip.
 *
 * View coordinates are two lengths: (x, z) in the front view, (y, z) in the side view,
 * (x, y) in the plan. They may lie outside the enclosure.
 *
 * A pointer event costs one copy of the document: of what it was when the drag began.
 * dew_chamber_drag() changes that copy in place, and makes none itself. Nor does it check
 * the layout: who shows the copy does that, once.
 *
 * In a drag, things stay inside the enclosure; what stands drops to the shelf below the
 * pointer, or stays in its bay where it is too tall for another; a shelf takes along
 * what is on it and stops at its neighbours; what sits in a wall slides along it, and
 * changes to another wall over an edge of the view; what hangs in a board goes to its
 * nearer side. */

#include "geometry/geometry.h"

G_BEGIN_DECLS

/* --- grips ------------------------------------------------------------- */

typedef enum
{
  DEW_GRIP_BODY,      /* of a thing, and of all that are selected with it */
  DEW_GRIP_LOW_EDGE,  /* of a thing along `axis`: left, front, bottom */
  DEW_GRIP_HIGH_EDGE, /* right, back, top */
  DEW_GRIP_AIM,       /* the tip of the arrow of a fan or a humidifier */
  DEW_GRIP_FLAP,      /* the free edge of a flap: how far it stands open */
  DEW_GRIP_WALL       /* the far side of the enclosure along `axis` */
} DewGripPart;

/* What is held, and in which view. */
typedef struct
{
  DewGripPart part;
  DewView view;
  guint thing_id; /* 0: the enclosure */
  int axis;       /* of an edge or a wall */
} DewGrip;

/* Whether the low and the high edge of a thing can be pulled along an axis. */
void dew_thing_pulled_edges (const DewThing *thing, int axis, gboolean *low, gboolean *high);

/* --- guides ------------------------------------------------------------ */

typedef enum
{
  DEW_GUIDE_LINE,    /* from a to b: what the thing was pulled to */
  DEW_GUIDE_MEASURE, /* from a to b, with its length */
  DEW_GUIDE_OPEN     /* at a: how far a flap is open */
} DewGuideKind;

/* What to show while something is dragged, in view coordinates. */
typedef struct
{
  DewGuideKind kind;
  DewView view;
  double a_m[2], b_m[2];
  double open_fraction; /* of DEW_GUIDE_OPEN */
} DewGuide;

#define DEW_MAX_GUIDES 12
typedef struct
{
  guint n;
  DewGuide guide[DEW_MAX_GUIDES];
} DewGuides;

/* --- dragging ---------------------------------------------------------- */

typedef struct
{
  DewGrip grip;
  /* Everything that is selected (lent; may be NULL): where a body is held and there is
   * more than one, all of them go along as far as all can go, and keep their places to
   * each other; what stands finds the board that is as much higher or lower. */
  const guint *ids;
  guint n_ids;
  /* View coordinates, m. A wall that is dragged changes the scale of the drawing: take
   * both from the drawing as it was when the drag began. */
  double from_m[2], to_m[2];
  /* How far the pull of shelf tops, edges, middles, equal gaps and the grid reaches, m;
   * 0: no snapping. */
  double snap_m;
} DewDrag;

/* Changes the shown variant of `copy`, or its size. `guides` (may be NULL) receives what
 * to show. */
void dew_chamber_drag (DewChamber *copy, const DewDrag *drag, DewGuides *guides);

/* The angle that a fully open flap stands off its wall. */
#define DEW_FLAP_WIDEST_RAD (65 * G_PI / 180)

/* --- dropping ---------------------------------------------------------- */

/* Puts a new thing (from dew_thing_init() or a catalogue, not in the variant yet) at a
 * point of a view: inside the enclosure, standing or hanging as its kind does. An
 * opening goes to the wall whose line is near, else to the face toward the reader, and
 * beside other holes; what is too tall for its bay gets lower. plan_bay: the bay it
 * goes to when it is dropped on the plan. */
void dew_thing_drop (const DewChamber *chamber, const DewVariant *variant, DewThing *thing,
                     DewView view, const double at_m[2], int plan_bay);

/* --- typing over a dimension ------------------------------------------- */

/* A length that is written on the drawing: the clear height of a bay, or the outer size
 * of the enclosure along an axis. */
typedef struct
{
  int axis;
  int bay; /* index from the floor; -1: the enclosure */
} DewDimension;

/* How long it is, m. */
double dew_chamber_dimension (const DewChamber *chamber, const DewDimension *dimension);
/* Sets it as far as what stands there allows: the height of a bay moves the shelf above
 * it (the roof for the top bay). Returns whether anything changed. */
gboolean dew_chamber_set_dimension (DewChamber *chamber, const DewDimension *dimension,
                                    double length_m);

G_END_DECLS
