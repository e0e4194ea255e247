/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Moving things by their bodies: one by itself, or several that keep their places to
 * each other. */
#include "edit/edit-private.h"

#include "edit/arrange.h"
#include "edit/snap.h"

#include <math.h>
#include <string.h>

/* --- one thing --------------------------------------------------------- */

const DewField *
dew_place_field (const DewThing *thing, int axis)
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };

  return dew_field_find (dew_thing_fields (thing->kind), keys[axis]);
}

gboolean
dew_thing_moves (const DewThing *thing, int axis)
{
  DewFace face;

  if (thing->kind == DEW_THING_SHELF)
    return axis == 2;
  return !dew_thing_in_face (thing, &face) || dew_face_axis (face) != axis;
}

void
dew_thing_shift (DewThing *thing, int axis, double d_m)
{
  DewOpening *opening = &thing->opening;
  const DewField *field;
  int u, v;

  if (!dew_thing_moves (thing, axis))
    return;
  if (thing->kind == DEW_THING_OPENING)
    {
      dew_face_axes (opening->face, &u, &v);
      *(axis == u ? &opening->u0_m : &opening->v0_m) += d_m;
      *(axis == u ? &opening->u1_m : &opening->v1_m) += d_m;
      return;
    }
  field = dew_place_field (thing, axis);
  dew_field_set_real (field, thing, dew_field_get_real (field, thing) + d_m);
}

void
dew_variant_shift (const DewChamber *chamber, DewVariant *variant, guint id, const double d[3])
{
  DewThing *thing = dew_variant_thing (variant, id);

  g_return_if_fail (thing != NULL);

  for (guint i = 0; thing->kind == DEW_THING_SHELF && i < variant->things->len; i++)
    {
      DewThing *rider = &g_array_index (variant->things, DewThing, i);

      if (dew_rides_on (chamber, variant, rider, thing))
        dew_thing_shift (rider, 2, d[2]);
    }
  for (int axis = 0; axis < 3; axis++)
    dew_thing_shift (thing, axis, d[axis]);
}

double
dew_shift_inside (double lo, double hi, double d_m, double first, double last)
{
  if (hi - lo >= last - first)
    return (first + last - hi - lo) / 2;
  return CLAMP (d_m, first - lo, last - hi);
}

static void
keep_on_shelf (const DewChamber *chamber, const DewVariant *variant, DewThing *thing)
{
  const DewThing *shelf = dew_carrier (chamber, variant, thing);
  double lo[3], hi[3], shelf_lo[3], shelf_hi[3];

  if (shelf == NULL)
    return;
  dew_thing_box (chamber, thing, lo, hi);
  dew_thing_box (chamber, shelf, shelf_lo, shelf_hi);
  for (int axis = 0; axis < 2; axis++)
    dew_thing_shift (thing, axis,
                     dew_shift_inside (lo[axis], hi[axis], 0, shelf_lo[axis], shelf_hi[axis]));
}

void
dew_thing_settle (const DewChamber *chamber, const DewVariant *variant, DewThing *thing)
{
  const DewThing *shelf;
  double lo[3], hi[3], shelf_lo[3], shelf_hi[3], inner[3], up, down;

  if (dew_stands (thing->kind))
    {
      keep_on_shelf (chamber, variant, thing);
      return;
    }
  shelf = dew_pierced_by (chamber, variant, thing);
  if (shelf == NULL)
    return;
  dew_thing_box (chamber, thing, lo, hi);
  dew_thing_box (chamber, shelf, shelf_lo, shelf_hi);
  dew_chamber_inner_m (chamber, inner);
  up = shelf_hi[2] - lo[2];
  down = shelf_lo[2] - hi[2];
  if (hi[2] + up > inner[2] || (lo[2] + down >= 0 && -down < up))
    dew_thing_shift (thing, 2, down);
  else
    dew_thing_shift (thing, 2, up);
}

/* --- the way of what is held ------------------------------------------- */

/* How far a shelf goes up. */
static double
shelf_way (DewHold *hold)
{
  const DewThing *shelf = hold->thing;
  DewView view = hold->drag->grip.view;
  double height = shelf->shelf.thickness_m, z = shelf->shelf.z_m;
  double below = 0, above = hold->inner_m[2], low, high, wanted;

  if (view == DEW_VIEW_PLAN)
    return 0;
  for (guint i = 0; i < hold->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (hold->variant->things, DewThing, i);

      if (other->kind != DEW_THING_SHELF || other->id == shelf->id)
        continue;
      if (other->shelf.z_m < z)
        below = MAX (below, other->shelf.z_m + other->shelf.thickness_m);
      else
        above = MIN (above, other->shelf.z_m);
    }
  wanted = dew_snap_shelf (z + hold->way_m[1], height, below, above, hold->drag->snap_m);
  dew_shelf_limits (hold->chamber, hold->variant, shelf, &low, &high);
  wanted = CLAMP (wanted, low, high);
  dew_guides_measure (hold->guides, view, TRUE, hold->inner_m[hold->axes[0]] / 2, below, wanted);
  dew_guides_measure (hold->guides, view, TRUE, hold->inner_m[hold->axes[0]] / 2, wanted + height,
                      above);
  return wanted - z;
}

/* What stands drops to the shelf below the pointer, and keeps the height it had above its
 * shelf (a crown above its pot). */
static void
drop_to_shelf (const DewHold *hold, DewThing *thing, double lo, double hi)
{
  double was = dew_variant_rest_height (hold->variant, hold->drag->from_m[1]);
  double rest = dew_variant_rest_height (hold->variant, MAX (hold->drag->to_m[1], 0));
  double d_m = dew_shift_inside (lo, hi, rest - was, 0, hold->inner_m[2]);

  dew_thing_shift (thing, 2, d_m);
  /* Too tall for that bay: it stays in its own. */
  if (dew_pierced_by (hold->chamber, hold->variant, thing) != NULL)
    dew_thing_shift (thing, 2, -d_m);
}

/* `thing` is the one that is held, or a copy of it. */
static void
slide (const DewHold *hold, DewThing *thing)
{
  for (int i = 0; i < 2; i++)
    {
      int axis = hold->axes[i];
      double lo[3], hi[3], d_m;

      dew_thing_box (hold->chamber, thing, lo, hi);
      if (axis == 2 && dew_stands (thing->kind))
        {
          drop_to_shelf (hold, thing, lo[2], hi[2]);
          continue;
        }
      d_m = dew_snap_move (hold->chamber, hold->variant, thing, hold->drag->grip.view, axis,
                           hold->way_m[i], hold->drag->snap_m, hold->guides);
      dew_thing_shift (thing, axis,
                       dew_shift_inside (lo[axis], hi[axis], d_m, 0, hold->inner_m[axis]));
    }
}

/* --- one by itself ----------------------------------------------------- */

/* What sits in a wall follows the pointer into another one: over an edge of the
 * view, or from an edge onto the surface. Returns whether it did. */
static gboolean
change_face (const DewHold *hold)
{
  const DewDrag *drag = hold->drag;
  double lo[3], hi[3], at_m[3];
  DewFace from, to;

  if (!dew_thing_in_face (hold->thing, &from))
    return FALSE;
  to = dew_face_dragged_to (hold->inner_m, drag->grip.view, from, drag->to_m);
  if (to == from)
    return FALSE;
  dew_thing_box (hold->chamber, hold->thing, lo, hi);
  for (int axis = 0; axis < 3; axis++)
    at_m[axis] = dew_face_axis (from) == axis ? hold->inner_m[axis] / 2 : (lo[axis] + hi[axis]) / 2;
  at_m[hold->axes[0]] = drag->to_m[0];
  at_m[hold->axes[1]] = drag->to_m[1];
  dew_thing_put_in_face (hold->thing, to, hold->inner_m, at_m);
  return TRUE;
}

static void
move_one (DewHold *hold)
{
  if (hold->thing->kind == DEW_THING_SHELF)
    {
      const double up[3] = { 0, 0, shelf_way (hold) };

      dew_variant_shift (hold->chamber, hold->variant, hold->thing->id, up);
      return;
    }
  if (!change_face (hold))
    slide (hold, hold->thing);
  if (hold->thing->kind != DEW_THING_OPENING)
    dew_thing_settle (hold->chamber, hold->variant, hold->thing);
  dew_guides_around (hold->guides, hold->chamber, hold->variant, hold->thing,
                     hold->drag->grip.view);
}

/* --- several ----------------------------------------------------------- */

static gboolean
holds (const guint *ids, guint n, guint id)
{
  for (guint i = 0; i < n; i++)
    if (ids[i] == id)
      return TRUE;
  return FALSE;
}

GArray *
dew_set_ids (const DewVariant *variant, const guint *ids, guint n)
{
  GArray *set = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < variant->things->len; i++)
    {
      guint id = g_array_index (variant->things, DewThing, i).id;

      if (holds (ids, n, id))
        g_array_append_val (set, id);
    }
  return set;
}

static gboolean
set_holds (const GArray *set, guint id)
{
  return holds ((const guint *) (gconstpointer) set->data, set->len, id);
}

double
dew_set_clamp (const DewChamber *chamber, const DewVariant *variant, const GArray *set, int axis,
               double d_m)
{
  double inner[3];

  dew_chamber_inner_m (chamber, inner);
  for (guint i = 0; i < set->len; i++)
    {
      const DewThing *thing = dew_set_thing (variant, set, i);
      double margin = thing->kind == DEW_THING_SHELF ? DEW_BAY_MIN_M : 0.0;
      double lo[3], hi[3];

      dew_thing_box (chamber, thing, lo, hi);
      if (dew_thing_moves (thing, axis))
        d_m = CLAMP (d_m, MIN (0, margin - lo[axis]), MAX (0, inner[axis] - margin - hi[axis]));
    }
  return d_m;
}

/* What goes up and down with the shelves of a set, each once, whether it is in the set
 * or not. */
static GArray *
set_riders (const DewChamber *chamber, const DewVariant *variant, const GArray *set)
{
  GArray *riders = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      gboolean rides = FALSE;

      for (guint k = 0; k < set->len && !rides; k++)
        {
          const DewThing *shelf = dew_set_thing (variant, set, k);

          rides = shelf->kind == DEW_THING_SHELF && dew_rides_on (chamber, variant, thing, shelf);
        }
      if (rides)
        g_array_append_val (riders, thing->id);
    }
  return riders;
}

/* What stands goes to the board that is as much higher or lower, and keeps its
 * height over it. */
static void
lift_standing (const DewChamber *chamber, const DewVariant *variant, DewThing *thing, double d_m)
{
  const double sunk_m = 0.02; /* a board a little higher than expected is meant too */
  double lo[3], hi[3], inner[3], was, rest;

  dew_thing_box (chamber, thing, lo, hi);
  dew_chamber_inner_m (chamber, inner);
  was = dew_variant_rest_height (variant, lo[2]);
  rest = dew_variant_rest_height (variant, MAX (lo[2] + d_m + sunk_m, 0));
  dew_thing_shift (thing, 2, dew_shift_inside (lo[2], hi[2], rest - was, 0, inner[2]));
}

/* Shelves and what rides on them first: what stands looks for its board among them. */
static void
move_all (const DewChamber *chamber, DewVariant *variant, const GArray *set, const double d_m[3])
{
  g_autoptr (GArray) riders = set_riders (chamber, variant, set);

  for (guint i = 0; i < riders->len; i++)
    dew_thing_shift (dew_set_thing (variant, riders, i), 2, d_m[2]);
  for (guint i = 0; i < set->len; i++)
    {
      DewThing *shelf = dew_set_thing (variant, set, i);

      if (shelf->kind == DEW_THING_SHELF)
        dew_thing_shift (shelf, 2, d_m[2]);
    }
  for (guint i = 0; i < set->len; i++)
    {
      DewThing *thing = dew_set_thing (variant, set, i);

      if (thing->kind == DEW_THING_SHELF)
        continue;
      dew_thing_shift (thing, 0, d_m[0]);
      dew_thing_shift (thing, 1, d_m[1]);
      if (set_holds (riders, thing->id))
        continue;
      if (!dew_stands (thing->kind))
        dew_thing_shift (thing, 2, d_m[2]);
      else if (d_m[2] != 0)
        lift_standing (chamber, variant, thing, d_m[2]);
    }
}

/* No board that crosses something or leaves, and nothing that a board cuts. */
static gboolean
fits_together (const DewChamber *chamber, const DewVariant *variant, const GArray *set)
{
  double inner[3];

  dew_chamber_inner_m (chamber, inner);
  for (guint i = 0; i < set->len; i++)
    {
      const DewThing *thing = dew_set_thing (variant, set, i);
      double margin = thing->kind == DEW_THING_SHELF ? DEW_BAY_MIN_M : 0.0;
      double lo[3], hi[3];

      dew_thing_box (chamber, thing, lo, hi);
      if (lo[2] < margin - DEW_SLACK_M || hi[2] > inner[2] - margin + DEW_SLACK_M)
        return FALSE;
    }
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      const DewThing *board = dew_pierced_by (chamber, variant, thing);

      if (board != NULL && (set_holds (set, thing->id) || set_holds (set, board->id)))
        return FALSE;
    }
  return TRUE;
}

gboolean
dew_set_shift (const DewChamber *chamber, DewVariant *variant, const GArray *set,
               const DewThing *lead, const double d_m[3])
{
  g_autoptr (GArray) before = g_array_copy (variant->things);
  gsize size = before->len * sizeof (DewThing);
  gboolean did_fit = fits_together (chamber, variant, set);
  double way_m[3] = { d_m[0], d_m[1], d_m[2] };

  for (int axis = 0; axis < 3; axis++)
    if (axis != 2 || !dew_stands (lead->kind))
      way_m[axis] = dew_set_clamp (chamber, variant, set, axis, way_m[axis]);
  for (int attempt = 0; attempt < 2; attempt++)
    {
      move_all (chamber, variant, set, way_m);
      if (!did_fit || fits_together (chamber, variant, set))
        return memcmp (variant->things->data, before->data, size) != 0;
      /* Not that way up or down: they stay in their bays. */
      memcpy (variant->things->data, before->data, size);
      way_m[2] = 0;
    }
  return FALSE;
}

static void
move_several (DewHold *hold)
{
  g_autoptr (GArray) set = dew_set_ids (hold->variant, hold->drag->ids, hold->drag->n_ids);
  double d_m[3] = { 0, 0, 0 };

  if (hold->thing->kind == DEW_THING_SHELF)
    d_m[2] = shelf_way (hold);
  else
    {
      DewThing moved = *hold->thing;
      double lo[3], was_lo[3], hi[3];

      dew_thing_box (hold->chamber, &moved, was_lo, hi);
      slide (hold, &moved);
      dew_thing_box (hold->chamber, &moved, lo, hi);
      for (int axis = 0; axis < 3; axis++)
        d_m[axis] = lo[axis] - was_lo[axis];
    }
  dew_set_shift (hold->chamber, hold->variant, set, hold->thing, d_m);
}

void
dew_hold_move (DewHold *hold)
{
  if (hold->drag->n_ids > 1)
    move_several (hold);
  else
    move_one (hold);
}
