/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where things are: faces and aims, boxes, bays, what stands on what, and whether
 * a layout fits together. Pure functions of a document, which none of them changes.
 *
 * Axes are 0 (x, to the right), 1 (y, to the back) and 2 (z, up); all lengths are
 * metres. A box is lo[3], hi[3]. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* The least clear height of a bay. Lower ones hold nothing, and no forecast is made of
 * them; whatever moves or adds boards keeps to it. */
#define DEW_BAY_MIN_M 0.03
#define DEW_STANDING_M 0.01 /* this near above a board stands on it */

/* --- faces and aims ---------------------------------------------------- */

/* The axis that goes through a face. */
int dew_face_axis (DewFace face);
/* Right, back and roof: the face lies at the far end of its axis, not at 0. */
gboolean dew_face_is_high (DewFace face);
/* The face at an end of an axis. */
DewFace dew_face_of (int axis, gboolean high);
/* Where a face lies on its axis, m. inner_m: [3], of dew_chamber_inner_m(). */
double dew_face_at_m (DewFace face, const double inner_m[3]);
/* Axes of the u and v of an opening: across, and up or (floor, roof) deep. */
void dew_face_axes (DewFace face, int *u, int *v);

/* Unit vectors: of an aim as DewFan has it; of the way a fan blows, in the wall straight
 * through its face; of the way a fan or a humidifier blows (other things: to the right). */
void dew_direction (double azimuth_rad, double elevation_rad, double out[3]);
void dew_fan_aim (const DewFan *fan, double out[3]);
void dew_aim_vector (const DewThing *thing, double out[3]);
/* Whether the aim of a thing can be turned: not that of a fan in the wall. */
gboolean dew_thing_has_aim (const DewThing *thing);

/* --- views ------------------------------------------------------------- */

typedef enum
{
  DEW_VIEW_FRONT, /* across: x, up: z */
  DEW_VIEW_SIDE,  /* across: y, up: z; seen from the right */
  DEW_VIEW_PLAN   /* across: x, up: y; seen from above */
} DewView;

#define DEW_N_VIEWS (DEW_VIEW_PLAN + 1)

/* The axes of a view: across, up, and through it. */
int dew_view_across (DewView view);
int dew_view_up (DewView view);
int dew_view_depth (DewView view);
/* Which way is toward the reader: 1 when larger is nearer, -1 when smaller is. */
int dew_view_nearer (DewView view);
/* Whether a face is seen edge-on in a view, and not as a surface. */
gboolean dew_face_edge_on (DewFace face, DewView view);
/* Which way is out of a face that is seen edge-on, in view coordinates. */
void dew_face_outward (DewFace face, DewView view, double out[2]);

/* --- boxes ------------------------------------------------------------- */

/* The box a thing takes up. A shelf without its gaps, an opening as a flat box on
 * its face, a fan as the cube round its disc, a fan in the wall as a box at its face
 * that is as deep as its frame, an instrument as a small cube. */
void dew_thing_box (const DewChamber *chamber, const DewThing *thing, double lo[3], double hi[3]);
/* The box that has to be inside. A fan's disc seen at an angle is smaller than its
 * cube, so a fan may stand with its back to the cover; an instrument is a point. */
void dew_thing_body (const DewChamber *chamber, const DewThing *thing, double lo[3], double hi[3]);

/* Whether a thing sits in a face: an opening, or a fan in the wall. `face` may be NULL. */
gboolean dew_thing_in_face (const DewThing *thing, DewFace *face);
/* Its rectangle there: from lo[2] to hi[2], along dew_face_axes(). */
void dew_thing_hole (const DewThing *thing, double lo[2], double hi[2]);
/* Whether two things sit in one face and their rectangles cross there by more than
 * rounding. */
gboolean dew_holes_cross (const DewThing *a, const DewThing *b);

/* A hole to make in the cover. */
typedef struct
{
  const DewThing *thing; /* lent by the variant: an opening, or a fan in the wall */
  DewFace face;
  gboolean round;          /* as wide as high, for a fan */
  double lo_m[2], hi_m[2]; /* along dew_face_axes(), from the inner edges of the face */
} DewCut;

/* Every one of a variant, face by face, on each from below and from the left: DewCut,
 * transfer full. They hold until things change. */
GArray *dew_variant_cuts (const DewVariant *variant);

/* The length that the spans a and b have in common; 0 where they are apart. */
double dew_span_shared (double a_lo, double a_hi, double b_lo, double b_hi);
/* Whether each of two boxes begins before the other ends along the first n axes, by more
 * than by_m. DEW_SLACK_M, rounding: those that only touch do not cross. Negative: those do
 * that are nearer than so much. */
gboolean dew_boxes_cross (const double *a_lo, const double *a_hi, const double *b_lo,
                          const double *b_hi, int n, double by_m);

/* --- bays -------------------------------------------------------------- */

/* Bays from the floor up: z of every boundary, floor and roof included,
 * ascending; shelf undersides bound them. Returns the number of bays;
 * z_m: [n + 1], free with g_free(). shelf_id: [n], the shelf each bay stands
 * on, 0 for the floor; may be NULL. */
int dew_variant_bays (const DewChamber *chamber, const DewVariant *variant, double **z_m,
                      guint **shelf_id);
/* The bay that holds a height: from its lower boundary on (or a rounding below it), up to
 * but without the upper one; the lowest below all and the highest above. z_m: [n + 1]. */
int dew_bay_at (const double *z_m, int n, double at_m);
int dew_variant_bay_at (const DewChamber *chamber, const DewVariant *variant, double at_m);

/* Height at which something would stand if let go at z: the top of the next shelf
 * below, or the floor. */
double dew_variant_rest_height (const DewVariant *variant, double z_m);
/* Underside of the next shelf above z_m over or under lo..hi (x and y), or the roof. */
double dew_ceiling_m (const DewChamber *chamber, const DewVariant *variant, double z_m,
                      const double lo[3], const double hi[3]);
/* Lowest and highest underside of a shelf between its neighbours, DEW_BAY_MIN_M from each,
 * and the solid things below and on it. Where it is now is always among them. */
void dew_shelf_limits (const DewChamber *chamber, const DewVariant *variant, const DewThing *shelf,
                       double *low_m, double *high_m);

/* --- what stands on what ----------------------------------------------- */

/* Things that stand on a shelf or the floor; the rest hangs or is fixed. */
gboolean dew_stands (DewThingKind kind);
/* Whether a board and a thing cannot be in one place: leaves grow through a
 * shelf, everything else does not. */
gboolean dew_is_solid (const DewThing *thing);

/* A shelf that goes through the thing, or NULL. */
const DewThing *dew_pierced_by (const DewChamber *chamber, const DewVariant *variant,
                                const DewThing *thing);
/* The shelf that a thing stands on, or NULL for the floor, for what hangs and for
 * plants, whose crowns are above their pots. */
const DewThing *dew_carrier (const DewChamber *chamber, const DewVariant *variant,
                             const DewThing *thing);
/* From the first to the last of what stands on a shelf, along an axis. FALSE
 * when nothing does. */
gboolean dew_carried_span (const DewChamber *chamber, const DewVariant *variant,
                           const DewThing *shelf, int axis, double *lo_m, double *hi_m);
/* Whether a thing goes up and down with a shelf: what is on it, a free fan or a lamp
 * too, the plants above it (a crown starts at the rim of its pot) and the instruments
 * among them. */
gboolean dew_rides_on (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
                       const DewThing *shelf);

/* --- whether a layout fits together ------------------------------------ */

/* Everything that keeps a variant (0: the shown one) from being forecast: non-finite and out of
 * range values, zero sizes, things outside the box, shelves that cross, a
 * humidistat whose instrument is gone ... Returns a GArray of DewProblem
 * (transfer full), empty when all is well. */
GArray *dew_chamber_check (const DewChamber *chamber, guint variant_id);
/* What fits and can be forecast, but is hardly meant: things inside things (two fans on one
 * spot, a pot in a plant), plants that grow through the shelf above. DewProblem; free with
 * g_array_unref(). */
GArray *dew_chamber_doubts (const DewChamber *chamber, guint variant_id);

G_END_DECLS
