/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/arrange.h"
#include "paint/drag-private.h"

#include "paint/settle.h"
#include "paint/snap.h"

#include <glib/gi18n.h>
#include <math.h>

#define LEAST_SIZE_M 0.005
#define LEAST_SHELF_M 0.05 /* across or deep: less carries nothing */
#define LEAST_SIDE_M 0.1   /* of the enclosure; dew_chamber_check() says the same */
#define MOST_SIDE_M 4.0

/* --- reading and writing places -------------------------------------------------- */

const DewField *
dew_place_field (const DewThing *thing, int axis)
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };

  return dew_field_find (dew_thing_fields (thing->kind), keys[axis]);
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

double *
dew_thing_edge (DewThing *thing, int axis, gboolean high)
{
  int u, v;

  if (thing->kind == DEW_THING_SHELF)
    {
      if (axis == 0)
        return high ? &thing->shelf.gap_right_m : &thing->shelf.gap_left_m;
      if (axis == 1)
        return high ? &thing->shelf.gap_back_m : &thing->shelf.gap_front_m;
      return NULL;
    }
  if (thing->kind != DEW_THING_OPENING)
    return NULL;
  dew_face_axes (thing->opening.face, &u, &v);
  if (axis == u)
    return high ? &thing->opening.u1_m : &thing->opening.u0_m;
  if (axis == v)
    return high ? &thing->opening.v1_m : &thing->opening.v0_m;
  return NULL;
}

void
dew_thing_shift (DewThing *thing, int axis, double d_m)
{
  double *lo = dew_thing_edge (thing, axis, FALSE), *hi = dew_thing_edge (thing, axis, TRUE);
  const DewField *field;

  if (thing->kind == DEW_THING_OPENING)
    {
      if (lo == NULL)
        return;
      *lo += d_m;
      *hi += d_m;
      return;
    }
  if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL
      && axis == dew_face_axis (thing->fan.face))
    return;
  field = dew_place_field (thing, axis);
  if (field != NULL)
    dew_field_set_real (field, thing, dew_field_get_real (field, thing) + d_m);
}

double
dew_shift_inside (double lo, double hi, double d_m, double inner)
{
  if (hi - lo >= inner)
    return (inner - hi - lo) / 2;
  return CLAMP (d_m, -lo, inner - hi);
}

/* --- pulling an edge ------------------------------------------------------------------ */

/* Between where an edge may be pulled: the walls, a shelf for what stands on it,
 * what stands on it for a shelf, and the next shelf above. */
static void
edge_limits (const DewDrag *drag, int axis, gboolean high, const double lo[3], const double hi[3],
             double limits[2])
{
  const DewThing *thing = drag->thing, *shelf;
  double least = thing->kind == DEW_THING_SHELF ? LEAST_SHELF_M : LEAST_SIZE_M;
  double shelf_lo[3], shelf_hi[3], first, last;

  limits[0] = high ? lo[axis] + least : 0;
  limits[1] = high ? drag->inner_m[axis] : hi[axis] - least;
  if (thing->kind == DEW_THING_SHELF)
    {
      if (dew_carried_span (drag->chamber, drag->variant, thing, axis, &first, &last))
        limits[high ? 0 : 1]
          = high ? MAX (limits[0], MIN (last, hi[axis])) : MIN (limits[1], MAX (first, lo[axis]));
      return;
    }
  if (axis == 2)
    {
      if (dew_is_solid (thing))
        limits[1] = dew_ceiling_m (drag->chamber, drag->variant, lo[2], lo, hi);
      return;
    }
  shelf = dew_carrier (drag->chamber, drag->variant, thing);
  if (shelf == NULL)
    return;
  dew_thing_box (drag->chamber, shelf, shelf_lo, shelf_hi);
  limits[0] = MAX (limits[0], shelf_lo[axis]);
  limits[1] = MIN (limits[1], shelf_hi[axis]);
}

/* The longest that a thing may get along an axis. A pot is round: what limits it
 * one way limits it the other. */
static double
longest_m (const DewDrag *drag, int axis, double along_m)
{
  const DewThing *shelf = dew_carrier (drag->chamber, drag->variant, drag->thing);
  double lo[3], hi[3];

  if (drag->thing->kind != DEW_THING_POT || axis == 2)
    return along_m;
  if (shelf == NULL)
    return MIN (along_m, drag->inner_m[1 - axis]);
  dew_thing_box (drag->chamber, shelf, lo, hi);
  return MIN (along_m, hi[1 - axis] - lo[1 - axis]);
}

/* A new length for what has a size: the other edge stays, z is the foot, x and
 * y are middles. */
static void
set_length (DewDrag *drag, const DewField *size, int axis, gboolean high, double edge, double other)
{
  double length = longest_m (drag, axis, CLAMP (fabs (edge - other), size->min, size->max));
  double lo[3], hi[3];

  dew_field_set_real (size, drag->thing, length);
  if (axis == 2)
    return;
  dew_field_set_real (dew_place_field (drag->thing, axis), drag->thing,
                      high ? other + length / 2 : other - length / 2);
  for (int i = 0; i < 2; i++)
    {
      dew_thing_box (drag->chamber, drag->thing, lo, hi);
      dew_thing_shift (drag->thing, i, dew_shift_inside (lo[i], hi[i], 0, drag->inner_m[i]));
    }
  dew_settle (drag->chamber, drag->variant, drag->thing);
}

static void
pull_edge (DewDrag *drag)
{
  gboolean high = drag->hit->part == DEW_PART_HI;
  DewView view = drag->hit->view;
  int axis = drag->hit->axis, i = axis == dew_view_across (view) ? 0 : 1;
  double lo[3], hi[3], limits[2], edge, other;
  double *direct = dew_thing_edge (drag->thing, axis, high);
  const DewField *size = size_field (drag->thing, axis);

  dew_thing_box (drag->chamber, drag->thing, lo, hi);
  edge = (high ? hi : lo)[axis] + drag->to_m[i] - drag->from_m[i];
  other = (high ? lo : hi)[axis];
  edge = dew_snap_edge (drag->chamber, drag->variant, drag->thing, view, axis, edge, drag->snap_m,
                        drag->guides);
  edge_limits (drag, axis, high, lo, hi, limits);
  edge = CLAMP (edge, limits[0], MAX (limits[0], limits[1]));

  if (drag->thing->kind == DEW_THING_SHELF)
    *direct = high ? drag->inner_m[axis] - edge : edge;
  else if (drag->thing->kind == DEW_THING_OPENING)
    *direct = edge;
  else if (size != NULL)
    set_length (drag, size, axis, high, edge, other);
  if (drag->guides != NULL)
    {
      int cross = i == 0 ? dew_view_up (view) : dew_view_across (view);

      dew_thing_box (drag->chamber, drag->thing, lo, hi);
      dew_guides_measure (drag->guides, view, i == 1, (lo[cross] + hi[cross]) / 2, lo[axis],
                          hi[axis]);
    }
}

/* --- aiming ------------------------------------------------------------------------------ */

static void
set_aim (DewThing *thing, const double aim[3])
{
  const double upright = 1e-3; /* azimuth means nothing then: keep it */
  double elevation = asin (CLAMP (aim[2], -1, 1));
  gboolean turns = hypot (aim[0], aim[1]) > upright;
  double azimuth = atan2 (aim[1], aim[0]);

  if (thing->kind == DEW_THING_FAN)
    {
      thing->fan.elevation_rad = elevation;
      if (turns)
        thing->fan.azimuth_rad = azimuth;
    }
  else if (thing->kind == DEW_THING_HUMIDIFIER)
    {
      thing->humidifier.elevation_rad = elevation;
      if (turns)
        thing->humidifier.azimuth_rad = azimuth;
    }
}

/* The tip follows the pointer in the plane of the view; how much the jet leans
 * toward the reader stays, unless it did hardly anything else. */
static void
turn_aim (DewDrag *drag)
{
  const double lean_most = 0.95;
  DewView view = drag->hit->view;
  int across = dew_view_across (view), up = dew_view_up (view), depth = dew_view_depth (view);
  double lo[3], hi[3], aim[3], base[2], dx, dy, angle, lean, plane;

  dew_thing_box (drag->chamber, drag->thing, lo, hi);
  base[0] = (lo[across] + hi[across]) / 2;
  base[1] = (lo[up] + hi[up]) / 2;
  if (drag->thing->kind == DEW_THING_HUMIDIFIER && up == 2)
    base[1] = hi[2];
  dx = drag->to_m[0] - base[0];
  dy = drag->to_m[1] - base[1];
  if (hypot (dx, dy) < 1e-6)
    return;

  angle = dew_snap_angle (atan2 (dy, dx), drag->snap_m > 0);
  dew_aim_vector (drag->thing, aim);
  lean = fabs (aim[depth]) > lean_most ? 0 : aim[depth];
  plane = sqrt (1 - lean * lean);
  aim[depth] = lean;
  aim[across] = plane * cos (angle);
  aim[up] = plane * sin (angle);
  set_aim (drag->thing, aim);
}

/* --- lifting a flap ------------------------------------------------------------------------- */

static void
lift_flap (DewDrag *drag)
{
  const double coarse = 0.05, fine = 0.01; /* of fully open */
  double step = drag->snap_m > 0 ? coarse : fine;
  DewOpening *opening = &drag->thing->opening;
  double lo[3], hi[3];

  if (drag->thing->kind != DEW_THING_OPENING || opening->kind != DEW_OPENING_FLAP)
    return;
  opening->open_fraction
    = CLAMP (round (dew_flap_lifted (opening, drag->hit->view, drag->from_m, drag->to_m) / step)
               * step,
             0, 1);
  if (drag->guides != NULL)
    {
      DewGuide guide = { .view = drag->hit->view };

      dew_thing_box (drag->chamber, drag->thing, lo, hi);
      guide.a_m[0] = (lo[dew_view_across (guide.view)] + hi[dew_view_across (guide.view)]) / 2;
      guide.a_m[1] = hi[dew_view_up (guide.view)];
      /* Translators: how far a flap is lifted, shown beside it while it is pulled. */
      g_snprintf (guide.words, sizeof guide.words, _ ("%.0f %% open"),
                  opening->open_fraction * 100);
      drag->guides->guide[drag->guides->n++] = guide;
    }
}

/* --- the enclosure -------------------------------------------------------------------------- */

/* The least inner length that still holds everything. */
static double
needed_length (const DewChamber *chamber, const DewVariant *variant, int axis)
{
  double needed = LEAST_SIDE_M;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];

      dew_thing_box (chamber, thing, lo, hi);
      if (thing->kind == DEW_THING_SHELF)
        {
          if (axis == 2)
            needed = MAX (needed, hi[2] + DEW_LEAST_BAY_M);
          continue;
        }
      if (thing->kind == DEW_THING_OPENING && dew_face_axis (thing->opening.face) == axis)
        continue;
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
  outer_m = CLAMP (outer_m - cover, needed_length (chamber, variant, axis), MOST_SIDE_M) + cover;
  if (fabs (outer_m - was) < 1e-9)
    return FALSE;
  chamber->outer_m[axis] = outer_m;
  return TRUE;
}

static void
pull_wall (DewDrag *drag)
{
  int axis = drag->hit->axis, i = axis == dew_view_across (drag->hit->view) ? 0 : 1;
  double outer = drag->chamber->outer_m[axis] + drag->to_m[i] - drag->from_m[i];

  if (drag->snap_m > 0)
    outer = round (outer / DEW_SNAP_GRID_M) * DEW_SNAP_GRID_M;
  set_outer (drag->chamber, drag->variant, axis, outer);
}

/* --- public ---------------------------------------------------------------------------------- */

static gboolean
drag_part (DewDrag *drag, const guint *ids, guint n)
{
  switch (drag->hit->part)
    {
    case DEW_PART_BODY:
      if (n > 1)
        dew_drag_bodies (drag, ids, n);
      else
        dew_drag_body (drag);
      return TRUE;
    case DEW_PART_LO:
    case DEW_PART_HI:
      pull_edge (drag);
      return TRUE;
    case DEW_PART_AIM:
      turn_aim (drag);
      return TRUE;
    case DEW_PART_LIFT:
      lift_flap (drag);
      return TRUE;
    case DEW_PART_WALL:
      pull_wall (drag);
      return TRUE;
    default:
      return FALSE;
    }
}

gboolean
dew_sheet_drag_several (DewChamber *chamber, DewVariant *variant, const DewHit *hit,
                        const guint *ids, guint n, const double from_m[2], const double to_m[2],
                        double snap_m, DewGuides *guides)
{
  g_autoptr (DewChamber) before = NULL;
  DewDrag drag = { chamber, variant, hit, NULL, from_m, to_m, snap_m, { 0 }, guides };

  g_return_val_if_fail (chamber != NULL && variant != NULL && hit != NULL, FALSE);

  if (guides != NULL)
    guides->n = 0;
  before = dew_chamber_copy (chamber);
  dew_chamber_inner_m (chamber, drag.inner_m);
  drag.thing = dew_variant_thing (variant, hit->thing_id);
  if (drag.thing == NULL && hit->part != DEW_PART_WALL)
    return FALSE;
  return drag_part (&drag, ids, n) && !dew_chamber_equal (before, chamber);
}

gboolean
dew_sheet_drag (DewChamber *chamber, DewVariant *variant, const DewHit *hit, const double from_m[2],
                const double to_m[2], double snap_m, DewGuides *guides)
{
  return dew_sheet_drag_several (chamber, variant, hit, NULL, 0, from_m, to_m, snap_m, guides);
}

double
dew_sheet_dimension (const DewChamber *chamber, const DewVariant *variant, const DewHit *hit)
{
  g_autofree double *z_m = NULL;
  int n;

  g_return_val_if_fail (chamber != NULL && variant != NULL && hit != NULL, NAN);

  if (hit->index < 0)
    return chamber->outer_m[hit->axis];
  n = dew_variant_bays (chamber, variant, &z_m, NULL);
  g_return_val_if_fail (hit->index < n, NAN);
  return z_m[hit->index + 1] - z_m[hit->index];
}

gboolean
dew_sheet_set_dimension (DewChamber *chamber, DewVariant *variant, const DewHit *hit,
                         double length_m)
{
  g_autofree double *z_m = NULL;
  g_autofree guint *shelf_id = NULL;
  double d[3] = { 0, 0, 0 };
  const DewThing *shelf;
  double low, high;
  int n, bay;

  g_return_val_if_fail (chamber != NULL && variant != NULL && hit != NULL, FALSE);

  if (!isfinite (length_m) || length_m <= 0)
    return FALSE;
  if (hit->index < 0)
    return set_outer (chamber, variant, hit->axis, length_m);

  n = dew_variant_bays (chamber, variant, &z_m, &shelf_id);
  bay = hit->index;
  g_return_val_if_fail (bay < n, FALSE);
  if (bay == n - 1)
    return set_outer (chamber, variant, 2, chamber->outer_m[2] + length_m - (z_m[n] - z_m[bay]));

  shelf = dew_variant_thing (variant, shelf_id[bay + 1]);
  dew_shelf_limits (chamber, variant, shelf, DEW_LEAST_BAY_M, &low, &high);
  d[2] = CLAMP (z_m[bay] + length_m, low, high) - z_m[bay + 1];
  if (fabs (d[2]) < 1e-9)
    return FALSE;
  dew_variant_shift (chamber, variant, shelf->id, d);
  return TRUE;
}
