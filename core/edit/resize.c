/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How large things and the enclosure get: by an edge that is pulled, a wall, or a number
 * that is typed over. */
#include "edit/edit-private.h"

#include "edit/arrange.h"
#include "edit/snap.h"
#include "chamber/chamber-private.h"

#include <math.h>

#define LEAST_SIZE_M 0.005
#define LEAST_SHELF_M 0.05 /* across or deep: less carries nothing */

/* --- pulling an edge --------------------------------------------------- */

void
dew_thing_pulled_edges (const DewThing *thing, int axis, gboolean *low, gboolean *high)
{
  switch (thing->kind)
    {
    case DEW_THING_OPENING:
      *low = *high = axis != dew_face_axis (thing->opening.face);
      break;
    case DEW_THING_HUMIDIFIER:
    case DEW_THING_POT:
    case DEW_THING_TRAY:
    case DEW_THING_SOURCE:
    case DEW_THING_PLANT:
      *low = axis != 2;
      *high = TRUE;
      break;
    case DEW_THING_SHELF:
    case DEW_THING_LAMP:
    case DEW_THING_MAT:
      *low = *high = axis != 2;
      break;
    default:
      *low = *high = FALSE;
    }
}

/* The field that says how large a thing is along an axis, or NULL. */
static const DewField *
size_field (const DewThing *thing, int axis)
{
  static const char *const keys[3] = { "width_m", "depth_m", "height_m" };
  static const char *const lamp_keys[3] = { "length_m", "width_m", "height_m" };
  const char *key = keys[axis];

  if (thing->kind == DEW_THING_LAMP)
    key = lamp_keys[axis];
  else if (thing->kind == DEW_THING_POT && axis < 2)
    key = "rim_diameter_m";
  return dew_field_find (dew_thing_fields (thing->kind), key);
}

/* Between where an edge may be pulled: the walls, a shelf for what stands on it,
 * what stands on it for a shelf, and the next shelf above. */
static void
edge_limits (const DewHold *hold, int axis, gboolean high, const double lo[3], const double hi[3],
             double limits[2])
{
  const DewThing *thing = hold->thing, *shelf;
  double least = thing->kind == DEW_THING_SHELF ? LEAST_SHELF_M : LEAST_SIZE_M;
  double shelf_lo[3], shelf_hi[3], first, last;

  limits[0] = high ? lo[axis] + least : 0;
  limits[1] = high ? hold->inner_m[axis] : hi[axis] - least;
  if (thing->kind == DEW_THING_SHELF)
    {
      if (dew_carried_span (hold->chamber, hold->variant, thing, axis, &first, &last))
        limits[high ? 0 : 1]
          = high ? MAX (limits[0], MIN (last, hi[axis])) : MIN (limits[1], MAX (first, lo[axis]));
      return;
    }
  if (axis == 2)
    {
      if (dew_is_solid (thing))
        limits[1] = dew_ceiling_m (hold->chamber, hold->variant, lo[2], lo, hi);
      return;
    }
  shelf = dew_carrier (hold->chamber, hold->variant, thing);
  if (shelf == NULL)
    return;
  dew_thing_box (hold->chamber, shelf, shelf_lo, shelf_hi);
  limits[0] = MAX (limits[0], shelf_lo[axis]);
  limits[1] = MIN (limits[1], shelf_hi[axis]);
}

/* The longest that a thing may get along an axis. A pot is round: what limits it
 * one way limits it the other. */
static double
longest_m (const DewHold *hold, int axis, double along_m)
{
  const DewThing *shelf;
  double lo[3], hi[3];

  if (hold->thing->kind != DEW_THING_POT || axis == 2)
    return along_m;
  shelf = dew_carrier (hold->chamber, hold->variant, hold->thing);
  if (shelf == NULL)
    return MIN (along_m, hold->inner_m[1 - axis]);
  dew_thing_box (hold->chamber, shelf, lo, hi);
  return MIN (along_m, hi[1 - axis] - lo[1 - axis]);
}

/* A new length for what has a size: the other edge stays, z is the foot, x and
 * y are middles. */
static void
set_length (DewHold *hold, int axis, gboolean high, double edge, double other)
{
  const DewField *size = size_field (hold->thing, axis);
  double length, lo[3], hi[3];

  if (size == NULL)
    return;
  length = longest_m (hold, axis, CLAMP (fabs (edge - other), size->min, size->max));
  dew_field_set_real (size, hold->thing, length);
  if (axis == 2)
    return;
  dew_field_set_real (dew_place_field (hold->thing, axis), hold->thing,
                      high ? other + length / 2 : other - length / 2);
  for (int i = 0; i < 2; i++)
    {
      dew_thing_box (hold->chamber, hold->thing, lo, hi);
      dew_thing_shift (hold->thing, i, dew_shift_inside (lo[i], hi[i], 0, 0, hold->inner_m[i]));
    }
  dew_thing_settle (hold->chamber, hold->variant, hold->thing);
}

/* The edges of a shelf are gaps to the walls, those of an opening coordinates on its
 * face; everything else has a length. */
static void
set_edge (DewHold *hold, int axis, gboolean high, double edge, double other)
{
  DewShelf *shelf = &hold->thing->shelf;
  DewOpening *opening = &hold->thing->opening;
  int u, v;

  if (hold->thing->kind == DEW_THING_SHELF)
    {
      double *gaps[2][2] = { { &shelf->gap_left_m, &shelf->gap_right_m },
                             { &shelf->gap_front_m, &shelf->gap_back_m } };

      if (axis < 2)
        *gaps[axis][high] = high ? hold->inner_m[axis] - edge : edge;
    }
  else if (hold->thing->kind == DEW_THING_OPENING)
    {
      dew_face_axes (opening->face, &u, &v);
      if (axis == u)
        *(high ? &opening->u1_m : &opening->u0_m) = edge;
      else if (axis == v)
        *(high ? &opening->v1_m : &opening->v0_m) = edge;
    }
  else
    set_length (hold, axis, high, edge, other);
}

void
dew_hold_pull_edge (DewHold *hold)
{
  gboolean high = hold->drag->grip.part == DEW_GRIP_HIGH_EDGE;
  DewView view = hold->drag->grip.view;
  int axis = hold->drag->grip.axis, i = axis == hold->axes[0] ? 0 : 1, cross = hold->axes[1 - i];
  double lo[3], hi[3], limits[2], edge;

  dew_thing_box (hold->chamber, hold->thing, lo, hi);
  edge = dew_snap_edge (hold->chamber, hold->variant, hold->thing, view, axis,
                        (high ? hi : lo)[axis] + hold->way_m[i], hold->drag->snap_m, hold->guides);
  edge_limits (hold, axis, high, lo, hi, limits);
  edge = CLAMP (edge, limits[0], MAX (limits[0], limits[1]));
  set_edge (hold, axis, high, edge, (high ? lo : hi)[axis]);

  dew_thing_box (hold->chamber, hold->thing, lo, hi);
  dew_guides_measure (hold->guides, view, i == 1, (lo[cross] + hi[cross]) / 2, lo[axis], hi[axis]);
}

/* --- the enclosure ----------------------------------------------------- */

/* The least inner length that still holds everything. */
static double
needed_length (const DewChamber *chamber, const DewVariant *variant, int axis)
{
  double needed = DEW_ENCLOSURE_MIN_M;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];

      dew_thing_box (chamber, thing, lo, hi);
      if (thing->kind == DEW_THING_SHELF)
        {
          if (axis == 2)
            needed = MAX (needed, hi[2] + DEW_BAY_MIN_M);
        }
      else if (thing->kind != DEW_THING_OPENING || dew_face_axis (thing->opening.face) != axis)
        needed = MAX (needed, hi[axis]);
    }
  return needed;
}

static gboolean
set_outer (DewChamber *chamber, const DewVariant *variant, int axis, double outer_m)
{
  double inner[3], cover, was = chamber->outer_m[axis];

  dew_chamber_inner_m (chamber, inner);
  cover = was - inner[axis];
  outer_m
    = CLAMP (outer_m - cover, needed_length (chamber, variant, axis), DEW_ENCLOSURE_MAX_M) + cover;
  if (fabs (outer_m - was) < 1e-9)
    return FALSE;
  chamber->outer_m[axis] = outer_m;
  return TRUE;
}

void
dew_hold_pull_wall (DewHold *hold)
{
  int axis = hold->drag->grip.axis;
  double outer = hold->chamber->outer_m[axis] + hold->way_m[axis == hold->axes[0] ? 0 : 1];

  if (hold->drag->snap_m > 0)
    outer = dew_snap_grid (outer);
  set_outer (hold->chamber, hold->variant, axis, outer);
}

/* --- dimensions -------------------------------------------------------- */

double
dew_chamber_dimension (const DewChamber *chamber, const DewDimension *dimension)
{
  g_autofree double *z_m = NULL;
  int n;

  g_return_val_if_fail (chamber != NULL && dimension != NULL, NAN);

  if (dimension->bay < 0)
    return chamber->outer_m[dimension->axis];
  n = dew_variant_bays (chamber, dew_chamber_shown (chamber), &z_m, NULL);
  g_return_val_if_fail (dimension->bay < n, NAN);
  return z_m[dimension->bay + 1] - z_m[dimension->bay];
}

gboolean
dew_chamber_set_dimension (DewChamber *chamber, const DewDimension *dimension, double length_m)
{
  g_autofree double *z_m = NULL;
  g_autofree guint *shelf_id = NULL;
  double d[3] = { 0, 0, 0 };
  DewVariant *variant;
  const DewThing *shelf;
  double low, high;
  int n, bay;

  g_return_val_if_fail (chamber != NULL && dimension != NULL, FALSE);

  if (!isfinite (length_m) || length_m <= 0)
    return FALSE;
  variant = dew_chamber_shown (chamber);
  bay = dimension->bay;
  if (bay < 0)
    return set_outer (chamber, variant, dimension->axis, length_m);

  n = dew_variant_bays (chamber, variant, &z_m, &shelf_id);
  g_return_val_if_fail (bay < n, FALSE);
  if (bay == n - 1)
    return set_outer (chamber, variant, 2, chamber->outer_m[2] + length_m - (z_m[n] - z_m[bay]));

  shelf = dew_variant_thing (variant, shelf_id[bay + 1]);
  dew_shelf_limits (chamber, variant, shelf, &low, &high);
  d[2] = CLAMP (z_m[bay] + length_m, low, high) - z_m[bay + 1];
  if (fabs (d[2]) < 1e-9)
    return FALSE;
  dew_variant_shift (chamber, variant, shelf->id, d);
  return TRUE;
}
