/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Moving things by their bodies: one by itself, or several that keep their
 * places to each other. */
#include "edit/arrange.h"
#include "paint/drag-private.h"

#include "paint/settle.h"
#include "paint/snap.h"

#include <math.h>
#include <string.h>

/* --- moving ------------------------------------------------------------------------ */

static void
move_shelf (DewDrag *drag)
{
  DewThing *shelf = drag->thing;
  double height = shelf->shelf.thickness_m, z = shelf->shelf.z_m;
  double below = 0, above = drag->inner_m[2], low, high;
  double d[3] = { 0, 0, 0 }, wanted;

  if (drag->hit->view == DEW_VIEW_PLAN)
    return;
  for (guint i = 0; i < drag->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (drag->variant->things, DewThing, i);

      if (other->kind != DEW_THING_SHELF || other->id == shelf->id)
        continue;
      if (other->shelf.z_m < z)
        below = MAX (below, other->shelf.z_m + other->shelf.thickness_m);
      else
        above = MIN (above, other->shelf.z_m);
    }
  wanted = z + drag->to_m[1] - drag->from_m[1];
  wanted = dew_snap_shelf (wanted, height, below, above, drag->snap_m);
  dew_shelf_limits (drag->chamber, drag->variant, shelf, DEW_LEAST_BAY_M, &low, &high);
  wanted = CLAMP (wanted, low, high);
  d[2] = wanted - z;
  dew_variant_shift (drag->chamber, drag->variant, shelf->id, d);
  if (drag->guides != NULL)
    {
      double at = drag->inner_m[dew_view_across (drag->hit->view)] * 0.5;

      dew_guides_measure (drag->guides, drag->hit->view, TRUE, at, below, wanted);
      dew_guides_measure (drag->guides, drag->hit->view, TRUE, at, wanted + height, above);
    }
}

/* What stands drops to the shelf below the pointer, and keeps the height it
 * had above its shelf (a crown above its pot). */
static double
drop_height (const DewDrag *drag)
{
  double was = dew_variant_rest_height (drag->variant, drag->from_m[1]);
  double rest = dew_variant_rest_height (drag->variant, MAX (drag->to_m[1], 0));

  return rest - was;
}

/* What sits in a wall follows the pointer into another one: over an edge of the
 * view, or from an edge onto the surface. Returns whether it did. */
static gboolean
change_face (DewDrag *drag)
{
  DewView view = drag->hit->view;
  DewThing *thing = drag->thing;
  gboolean opening = thing->kind == DEW_THING_OPENING;
  DewFace from, to;
  double lo[3], hi[3], at_m[3];

  if (!opening && (thing->kind != DEW_THING_FAN || thing->fan.mount != DEW_FAN_IN_WALL))
    return FALSE;
  from = opening ? thing->opening.face : thing->fan.face;
  to = dew_face_after_drag (drag->inner_m, view, from, drag->to_m);
  if (to == from)
    return FALSE;
  dew_thing_box (drag->chamber, thing, lo, hi);
  for (int axis = 0; axis < 3; axis++)
    at_m[axis] = dew_face_axis (from) == axis ? drag->inner_m[axis] / 2 : (lo[axis] + hi[axis]) / 2;
  at_m[dew_view_across (view)] = drag->to_m[0];
  at_m[dew_view_up (view)] = drag->to_m[1];
  dew_put_in_face (thing, to, drag->inner_m, at_m);
  return TRUE;
}

static void
slide_thing (DewDrag *drag)
{
  DewView view = drag->hit->view;
  int axes[2] = { dew_view_across (view), dew_view_up (view) };

  for (int i = 0; i < 2; i++)
    {
      int axis = axes[i];
      double lo[3], hi[3], d_m = drag->to_m[i] - drag->from_m[i];

      dew_thing_box (drag->chamber, drag->thing, lo, hi);
      if (axis == 2 && dew_stands (drag->thing->kind))
        {
          d_m = dew_shift_inside (lo[2], hi[2], drop_height (drag), drag->inner_m[2]);
          dew_thing_shift (drag->thing, 2, d_m);
          /* Too tall for that bay: it stays in its own. */
          if (dew_pierced_by (drag->chamber, drag->variant, drag->thing) != NULL)
            dew_thing_shift (drag->thing, 2, -d_m);
          continue;
        }
      d_m = dew_snap_move (drag->chamber, drag->variant, drag->thing, view, axis, d_m, drag->snap_m,
                           drag->guides);
      dew_thing_shift (drag->thing, axis,
                       dew_shift_inside (lo[axis], hi[axis], d_m, drag->inner_m[axis]));
    }
}

static void
move_thing (DewDrag *drag)
{
  if (!change_face (drag))
    slide_thing (drag);
  if (drag->thing->kind != DEW_THING_OPENING)
    dew_settle (drag->chamber, drag->variant, drag->thing);
  if (drag->guides != NULL)
    dew_guides_around (drag->guides, drag->chamber, drag->variant, drag->thing, drag->hit->view);
}

void
dew_drag_body (DewDrag *drag)
{
  if (drag->thing->kind == DEW_THING_SHELF)
    move_shelf (drag);
  else
    move_thing (drag);
}

/* --- several ----------------------------------------------------------------------- */

static void
box_corner (const DewChamber *chamber, const DewThing *thing, double at_m[3])
{
  double hi[3];

  dew_thing_box (chamber, thing, at_m, hi);
}

/* How far the thing that is held moves when it is alone. */
static void
way_of_held (const DewDrag *drag, double d_m[3])
{
  g_autoptr (DewChamber) trial = dew_chamber_copy (drag->chamber);
  DewDrag alone = *drag;
  double before[3], after[3];

  alone.chamber = trial;
  alone.variant = dew_chamber_variant (trial, drag->variant->id);
  alone.thing = dew_variant_thing (alone.variant, drag->thing->id);
  box_corner (trial, alone.thing, before);
  if (alone.thing->kind == DEW_THING_SHELF)
    move_shelf (&alone);
  else
    slide_thing (&alone);
  box_corner (trial, alone.thing, after);
  for (int axis = 0; axis < 3; axis++)
    d_m[axis] = after[axis] - before[axis];
}

static gboolean
seen_before (const guint *ids, guint at)
{
  for (guint i = 0; i < at; i++)
    if (ids[i] == ids[at])
      return TRUE;
  return FALSE;
}

/* Whether a thing is higher or lower than in `before`, a copy of all things. */
static gboolean
has_risen (const DewDrag *drag, const GArray *before, const DewThing *thing)
{
  double lo[3], hi[3], was_lo[3], was_hi[3];

  for (guint i = 0; i < before->len; i++)
    {
      const DewThing *was = &g_array_index (before, DewThing, i);

      if (was->id != thing->id)
        continue;
      dew_thing_box (drag->chamber, was, was_lo, was_hi);
      dew_thing_box (drag->chamber, thing, lo, hi);
      return lo[2] < was_lo[2] || lo[2] > was_lo[2];
    }
  return FALSE;
}

/* The part of d_m along an axis that keeps all of them inside. */
static double
way_inside (const DewDrag *drag, const guint *ids, guint n, int axis, double d_m)
{
  for (guint i = 0; i < n; i++)
    {
      const DewThing *thing = dew_variant_thing (drag->variant, ids[i]);
      double lo[3], hi[3];

      if (thing == NULL || thing->kind == DEW_THING_SHELF)
        continue;
      dew_thing_box (drag->chamber, thing, lo, hi);
      if (thing->kind == DEW_THING_OPENING && dew_face_axis (thing->opening.face) == axis)
        continue;
      if (d_m < 0 && lo[axis] + d_m < 0)
        d_m = MIN (-lo[axis], 0);
      else if (d_m > 0 && hi[axis] + d_m > drag->inner_m[axis])
        d_m = MAX (drag->inner_m[axis] - hi[axis], 0);
    }
  return d_m;
}

/* What stands goes to the board that is as much higher or lower, and keeps its
 * height over it. */
static void
lift_standing (const DewDrag *drag, DewThing *thing, double d_m)
{
  const double sunk_m = 0.02; /* a board a little higher than expected is meant too */
  double lo[3], hi[3], was, rest;

  dew_thing_box (drag->chamber, thing, lo, hi);
  was = dew_variant_rest_height (drag->variant, lo[2]);
  rest = dew_variant_rest_height (drag->variant, MAX (lo[2] + d_m + sunk_m, 0));
  dew_thing_shift (thing, 2, dew_shift_inside (lo[2], hi[2], rest - was, drag->inner_m[2]));
}

/* Shelves first: what rises with one must not rise twice. */
static void
move_all (const DewDrag *drag, const guint *ids, guint n, const double d_m[3])
{
  const double up[3] = { 0, 0, d_m[2] };
  g_autoptr (GArray) before = g_array_copy (drag->variant->things);

  for (guint i = 0; i < n; i++)
    {
      const DewThing *thing = dew_variant_thing (drag->variant, ids[i]);

      if (thing != NULL && thing->kind == DEW_THING_SHELF && !seen_before (ids, i))
        dew_variant_shift (drag->chamber, drag->variant, thing->id, up);
    }
  for (guint i = 0; i < n; i++)
    {
      DewThing *thing = dew_variant_thing (drag->variant, ids[i]);
      gboolean carried;

      if (thing == NULL || thing->kind == DEW_THING_SHELF || seen_before (ids, i))
        continue;
      carried = has_risen (drag, before, thing);
      dew_thing_shift (thing, 0, d_m[0]);
      dew_thing_shift (thing, 1, d_m[1]);
      if (carried)
        continue;
      if (!dew_stands (thing->kind))
        dew_thing_shift (thing, 2, d_m[2]);
      else if (d_m[2] != 0)
        lift_standing (drag, thing, d_m[2]);
    }
}

/* Boards that would cross something or leave, and things that a board would cut. */
static gboolean
fits_together (const DewDrag *drag, const guint *ids, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      const DewThing *thing = dew_variant_thing (drag->variant, ids[i]);
      double low, high, lo[3], hi[3];

      if (thing == NULL)
        continue;
      dew_thing_box (drag->chamber, thing, lo, hi);
      if (lo[2] < -1e-6 || hi[2] > drag->inner_m[2] + 1e-6
          || dew_pierced_by (drag->chamber, drag->variant, thing) != NULL)
        return FALSE;
      if (thing->kind != DEW_THING_SHELF)
        continue;
      dew_shelf_limits (drag->chamber, drag->variant, thing, DEW_LEAST_BAY_M, &low, &high);
      for (guint j = 0; j < drag->variant->things->len; j++)
        if (dew_pierced_by (drag->chamber, drag->variant,
                            &g_array_index (drag->variant->things, DewThing, j))
            == thing)
          return FALSE;
      if (thing->shelf.z_m < DEW_LEAST_BAY_M)
        return FALSE;
    }
  return TRUE;
}

/* Moves all by d_m as far as all can go; `lead` is the one that d_m was found for. */
static gboolean
shift_bodies (const DewDrag *drag, const DewThing *lead, const guint *ids, guint n, double d_m[3])
{
  g_autoptr (GArray) before = g_array_copy (drag->variant->things);
  gboolean did_fit = fits_together (drag, ids, n);

  for (int axis = 0; axis < 3; axis++)
    if (axis != 2 || !dew_stands (lead->kind))
      d_m[axis] = way_inside (drag, ids, n, axis, d_m[axis]);
  for (int attempt = 0; attempt < 2; attempt++)
    {
      move_all (drag, ids, n, d_m);
      if (!did_fit || fits_together (drag, ids, n))
        return memcmp (drag->variant->things->data, before->data, before->len * sizeof (DewThing))
               != 0;
      /* Not that way up or down: they stay in their bays. */
      memcpy (drag->variant->things->data, before->data, before->len * sizeof (DewThing));
      d_m[2] = 0;
    }
  return FALSE;
}

void
dew_drag_bodies (DewDrag *drag, const guint *ids, guint n)
{
  double d_m[3];

  way_of_held (drag, d_m);
  shift_bodies (drag, drag->thing, ids, n, d_m);
}

gboolean
dew_sheet_shift_several (DewChamber *chamber, DewVariant *variant, guint lead_id, const guint *ids,
                         guint n, const double d_m[3])
{
  DewDrag drag = { chamber, variant, NULL, NULL, NULL, NULL, 0, { 0 }, NULL };
  double way_m[3] = { d_m[0], d_m[1], d_m[2] };
  const DewThing *lead;

  g_return_val_if_fail (chamber != NULL && variant != NULL && ids != NULL, FALSE);

  lead = dew_variant_thing (variant, lead_id);
  if (lead == NULL)
    return FALSE;
  dew_chamber_inner_m (chamber, drag.inner_m);
  return shift_bodies (&drag, lead, ids, n, way_m);
}
