/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/snap.h"

#include "paint/sheet-private.h"

#include <math.h>

/* The best pull found so far. */
typedef struct
{
  double d_m;      /* shift that obeys it */
  double distance; /* from the wanted shift */
  double line_m;   /* where its guide is drawn */
  double reach[2]; /* along the other axis of the view, of the guide */
} DewPull;

static void
offer (DewPull *pull, double wanted_m, double d_m, double line_m, double reach_lo, double reach_hi)
{
  double distance = fabs (d_m - wanted_m);

  /* A hair of preference for what was offered first: walls before others. */
  if (distance >= pull->distance - 1e-9)
    return;
  pull->d_m = d_m;
  pull->distance = distance;
  pull->line_m = line_m;
  pull->reach[0] = reach_lo;
  pull->reach[1] = reach_hi;
}

static void
add_guide (DewGuides *guides, DewView view, int axis, const DewPull *pull)
{
  gboolean standing = axis == dew_view_across (view);
  DewGuide guide = { .view = view };

  if (guides == NULL || guides->n >= DEW_MAX_GUIDES)
    return;
  guide.a_m[standing ? 0 : 1] = guide.b_m[standing ? 0 : 1] = pull->line_m;
  guide.a_m[standing ? 1 : 0] = pull->reach[0];
  guide.b_m[standing ? 1 : 0] = pull->reach[1];
  guides->guide[guides->n++] = guide;
}

/* Two things are neighbours along `axis` when a line along it can meet both. */
static gboolean
beside (const double lo[3], const double hi[3], const double other_lo[3], const double other_hi[3],
        DewView view, int axis)
{
  int cross = axis == dew_view_across (view) ? dew_view_up (view) : dew_view_across (view);

  return lo[cross] < other_hi[cross] && other_lo[cross] < hi[cross];
}

/* Edges pull only within a bay: across shelves nobody sees them line up. */
static gboolean
same_bay (const DewVariant *variant, const double lo[3], const double other_lo[3])
{
  return dew_variant_rest_height (variant, lo[2]) == dew_variant_rest_height (variant, other_lo[2]);
}

static gboolean
counts (const DewThing *thing, const DewThing *other, int axis)
{
  if (other->id == thing->id)
    return FALSE;
  if (other->kind == DEW_THING_SHELF)
    return axis == 2;
  return TRUE;
}

/* Middle of the gap between the nearest neighbours on both sides. */
static void
offer_equal_gap (DewPull *pull, const DewChamber *chamber, const DewVariant *variant,
                 const DewThing *thing, DewView view, int axis, double wanted_m, const double lo[3],
                 const double hi[3], double inner)
{
  double middle = (lo[axis] + hi[axis]) / 2 + wanted_m;
  double left = 0, right = inner;
  gboolean any = FALSE;
  int cross = axis == dew_view_across (view) ? dew_view_up (view) : dew_view_across (view);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);
      double other_lo[3], other_hi[3];

      if (!counts (thing, other, axis) || other->kind == DEW_THING_SHELF
          || other->kind == DEW_THING_OPENING)
        continue;
      dew_thing_box (chamber, other, other_lo, other_hi);
      if (!beside (lo, hi, other_lo, other_hi, view, axis))
        continue;
      if (other_hi[axis] <= middle)
        {
          left = MAX (left, other_hi[axis]);
          any = TRUE;
        }
      else if (other_lo[axis] >= middle)
        {
          right = MIN (right, other_lo[axis]);
          any = TRUE;
        }
    }
  if (any && right - left > hi[axis] - lo[axis])
    offer (pull, wanted_m, (left + right) / 2 - (lo[axis] + hi[axis]) / 2, (left + right) / 2,
           lo[cross], hi[cross]);
}

/* As far from a neighbour as that one is from the next: rows of pots. */
static void
offer_same_gap (DewPull *pull, const DewChamber *chamber, const DewVariant *variant,
                const DewThing *thing, DewView view, int axis, double wanted_m, const double lo[3],
                const double hi[3])
{
  const double least_gap_m = 0.003;
  int cross = axis == dew_view_across (view) ? dew_view_up (view) : dew_view_across (view);

  for (guint i = 0; i < variant->things->len; i++)
    for (guint j = 0; j < variant->things->len; j++)
      {
        const DewThing *left = &g_array_index (variant->things, DewThing, i);
        const DewThing *right = &g_array_index (variant->things, DewThing, j);
        double left_lo[3], left_hi[3], right_lo[3], right_hi[3], gap;

        if (i == j || !counts (thing, left, axis) || !counts (thing, right, axis)
            || left->kind == DEW_THING_SHELF || right->kind == DEW_THING_SHELF)
          continue;
        dew_thing_box (chamber, left, left_lo, left_hi);
        dew_thing_box (chamber, right, right_lo, right_hi);
        gap = right_lo[axis] - left_hi[axis];
        if (gap < least_gap_m || !same_bay (variant, lo, left_lo)
            || !same_bay (variant, lo, right_lo)
            || !beside (left_lo, left_hi, right_lo, right_hi, view, axis))
          continue;
        offer (pull, wanted_m, right_hi[axis] + gap - lo[axis], right_hi[axis] + gap / 2, lo[cross],
               hi[cross]);
        offer (pull, wanted_m, left_lo[axis] - gap - hi[axis], left_lo[axis] - gap / 2, lo[cross],
               hi[cross]);
      }
}

static double
on_grid (double at_m)
{
  return round (at_m / DEW_SNAP_GRID_M) * DEW_SNAP_GRID_M;
}

double
dew_snap_move (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
               DewView view, int axis, double d_m, double snap_m, DewGuides *guides)
{
  DewPull pull = { .distance = snap_m };
  double lo[3], hi[3], inner[3], middle;
  int cross = axis == dew_view_across (view) ? dew_view_up (view) : dew_view_across (view);

  if (snap_m <= 0)
    return d_m;

  dew_thing_box (chamber, thing, lo, hi);
  dew_chamber_inner_m (chamber, inner);
  middle = (lo[axis] + hi[axis]) / 2;
  offer (&pull, d_m, -lo[axis], 0, 0, inner[cross]);
  offer (&pull, d_m, inner[axis] - hi[axis], inner[axis], 0, inner[cross]);
  offer (&pull, d_m, inner[axis] / 2 - middle, inner[axis] / 2, 0, inner[cross]);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);
      double other_lo[3], other_hi[3], other_middle, reach_lo, reach_hi;

      if (!counts (thing, other, axis))
        continue;
      dew_thing_box (chamber, other, other_lo, other_hi);
      other_middle = (other_lo[axis] + other_hi[axis]) / 2;
      reach_lo = MIN (lo[cross], other_lo[cross]);
      reach_hi = MAX (hi[cross], other_hi[cross]);
      if (other->kind != DEW_THING_SHELF)
        offer (&pull, d_m, other_middle - middle, other_middle, reach_lo, reach_hi);
      if (other->kind != DEW_THING_SHELF && !same_bay (variant, lo, other_lo))
        continue;
      /* Stand on the top of a shelf, hang from its underside, touch a side. */
      offer (&pull, d_m, other_hi[axis] - lo[axis], other_hi[axis], reach_lo, reach_hi);
      offer (&pull, d_m, other_lo[axis] - hi[axis], other_lo[axis], reach_lo, reach_hi);
      if (other->kind == DEW_THING_SHELF)
        continue;
      offer (&pull, d_m, other_lo[axis] - lo[axis], other_lo[axis], reach_lo, reach_hi);
      offer (&pull, d_m, other_hi[axis] - hi[axis], other_hi[axis], reach_lo, reach_hi);
    }
  offer_equal_gap (&pull, chamber, variant, thing, view, axis, d_m, lo, hi, inner[axis]);
  offer_same_gap (&pull, chamber, variant, thing, view, axis, d_m, lo, hi);

  if (pull.distance < snap_m)
    {
      add_guide (guides, view, axis, &pull);
      return pull.d_m;
    }
  return on_grid (middle + d_m) - middle;
}

double
dew_snap_edge (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
               DewView view, int axis, double edge_m, double snap_m, DewGuides *guides)
{
  DewPull pull = { .distance = snap_m };
  double lo[3], hi[3], inner[3];
  int cross = axis == dew_view_across (view) ? dew_view_up (view) : dew_view_across (view);

  if (snap_m <= 0)
    return edge_m;

  dew_thing_box (chamber, thing, lo, hi);
  dew_chamber_inner_m (chamber, inner);
  offer (&pull, edge_m, 0, 0, 0, inner[cross]);
  offer (&pull, edge_m, inner[axis], inner[axis], 0, inner[cross]);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);
      double other_lo[3], other_hi[3], reach_lo, reach_hi;

      if (!counts (thing, other, axis))
        continue;
      dew_thing_box (chamber, other, other_lo, other_hi);
      if (other->kind != DEW_THING_SHELF && !same_bay (variant, lo, other_lo))
        continue;
      reach_lo = MIN (lo[cross], other_lo[cross]);
      reach_hi = MAX (hi[cross], other_hi[cross]);
      offer (&pull, edge_m, other_lo[axis], other_lo[axis], reach_lo, reach_hi);
      offer (&pull, edge_m, other_hi[axis], other_hi[axis], reach_lo, reach_hi);
    }
  if (pull.distance < snap_m)
    {
      add_guide (guides, view, axis, &pull);
      return pull.d_m;
    }
  return on_grid (edge_m);
}

double
dew_snap_shelf (double z_m, double thickness_m, double below_m, double above_m, double snap_m)
{
  double equal = (below_m + above_m - thickness_m) / 2;

  if (snap_m <= 0)
    return z_m;
  if (fabs (z_m - equal) < snap_m)
    return equal;
  return on_grid (z_m);
}

double
dew_snap_angle (double angle_rad, gboolean snap)
{
  const double coarse = 15 * G_PI / 180, fine = G_PI / 180, reach = 3 * G_PI / 180;
  double nearest = round (angle_rad / coarse) * coarse;

  if (!snap)
    return angle_rad;
  if (fabs (angle_rad - nearest) <= reach)
    return nearest;
  return round (angle_rad / fine) * fine;
}

void
dew_guides_measure (DewGuides *guides, DewView view, gboolean standing, double at_m, double from_m,
                    double to_m)
{
  const double least_m = 0.005;
  DewGuide guide = { .view = view, .measure = TRUE };

  if (guides->n >= DEW_MAX_GUIDES || to_m - from_m < least_m)
    return;
  guide.a_m[standing ? 0 : 1] = guide.b_m[standing ? 0 : 1] = at_m;
  guide.a_m[standing ? 1 : 0] = from_m;
  guide.b_m[standing ? 1 : 0] = to_m;
  guides->guide[guides->n++] = guide;
}

void
dew_guides_around (DewGuides *guides, const DewChamber *chamber, const DewVariant *variant,
                   const DewThing *thing, DewView view)
{
  int across = dew_view_across (view), up = dew_view_up (view);
  double lo[3], hi[3], inner[3], left = 0, right, at;

  dew_thing_box (chamber, thing, lo, hi);
  dew_chamber_inner_m (chamber, inner);
  right = inner[across];
  at = (lo[up] + hi[up]) / 2;
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);
      double other_lo[3], other_hi[3];

      if (!counts (thing, other, across) || other->kind == DEW_THING_OPENING)
        continue;
      dew_thing_box (chamber, other, other_lo, other_hi);
      if (other_lo[up] > at || other_hi[up] < at)
        continue;
      if (other_hi[across] <= lo[across])
        left = MAX (left, other_hi[across]);
      else if (other_lo[across] >= hi[across])
        right = MIN (right, other_lo[across]);
    }
  dew_guides_measure (guides, view, FALSE, at, left, lo[across]);
  dew_guides_measure (guides, view, FALSE, at, hi[across], right);
  /* What hangs or is fixed to a wall also has a height to read. */
  if (view != DEW_VIEW_PLAN && lo[2] - dew_variant_rest_height (variant, lo[2]) > 0.001)
    dew_guides_measure (guides, view, TRUE, (lo[across] + hi[across]) / 2,
                        dew_variant_rest_height (variant, lo[2]), lo[2]);
  if (view == DEW_VIEW_PLAN)
    {
      at = (lo[0] + hi[0]) / 2;
      dew_guides_measure (guides, view, TRUE, at, 0, lo[1]);
      dew_guides_measure (guides, view, TRUE, at, hi[1], inner[1]);
    }
}
