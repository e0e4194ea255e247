/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/snap.h"

#include <math.h>

#define GRID_M 0.005

/* Another thing that may pull along an axis. */
typedef struct
{
  gboolean shelf, opening;
  gboolean near; /* edges pull only within a bay: across shelves nobody sees them line up */
  double lo[3], hi[3];
} Neighbour;

/* The best pull found so far. */
typedef struct
{
  DewView view;
  int axis, cross;
  double lo[3], hi[3], inner[3]; /* of what is pulled, and of the enclosure */
  GArray *neighbours;            /* Neighbour */
  double wanted_m;               /* a shift, or where an edge goes */
  double best_m;                 /* that obeys the pull */
  double distance;               /* from what is wanted */
  double line_m;                 /* where its guide is drawn */
  double reach[2];               /* along the other axis of the view, of the guide */
} Pull;

static void
pull_begin (Pull *pull, const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
            DewView view, int axis, double wanted_m, double snap_m)
{
  double rest;

  *pull = (Pull){ .view = view, .axis = axis, .wanted_m = wanted_m, .distance = snap_m };
  pull->cross = axis == dew_view_across (view) ? dew_view_up (view) : dew_view_across (view);
  dew_thing_box (chamber, thing, pull->lo, pull->hi);
  dew_chamber_inner_m (chamber, pull->inner);
  pull->neighbours = g_array_new (FALSE, FALSE, sizeof (Neighbour));
  rest = dew_variant_rest_height (variant, pull->lo[2]);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);
      Neighbour next = { other->kind == DEW_THING_SHELF, other->kind == DEW_THING_OPENING };

      if (other->id == thing->id || (next.shelf && axis != 2))
        continue;
      dew_thing_box (chamber, other, next.lo, next.hi);
      next.near = dew_variant_rest_height (variant, next.lo[2]) == rest;
      g_array_append_val (pull->neighbours, next);
    }
}

static void
offer (Pull *pull, double at_m, double line_m, double reach_lo, double reach_hi)
{
  double distance = fabs (at_m - pull->wanted_m);

  /* A hair of preference for what was offered first: walls before others. */
  if (distance >= pull->distance - 1e-9)
    return;
  pull->best_m = at_m;
  pull->distance = distance;
  pull->line_m = line_m;
  pull->reach[0] = reach_lo;
  pull->reach[1] = reach_hi;
}

/* Two things are neighbours along the axis when a line along it can meet both. */
static gboolean
beside (const Pull *pull, const double a_lo[3], const double a_hi[3], const Neighbour *b)
{
  return a_lo[pull->cross] < b->hi[pull->cross] && b->lo[pull->cross] < a_hi[pull->cross];
}

/* What was found, else the `otherwise`. */
static double
pull_end (Pull *pull, double snap_m, double otherwise, DewGuides *guides)
{
  g_array_unref (pull->neighbours);
  if (!(pull->distance < snap_m))
    return otherwise;
  if (guides != NULL && guides->n < DEW_MAX_GUIDES)
    {
      int along = pull->axis == dew_view_across (pull->view) ? 0 : 1;
      DewGuide guide = { .kind = DEW_GUIDE_LINE, .view = pull->view };

      guide.a_m[along] = guide.b_m[along] = pull->line_m;
      guide.a_m[1 - along] = pull->reach[0];
      guide.b_m[1 - along] = pull->reach[1];
      guides->guide[guides->n++] = guide;
    }
  return pull->best_m;
}

/* Middle of the gap between the nearest neighbours on both sides. */
static void
offer_equal_gap (Pull *pull)
{
  int axis = pull->axis, cross = pull->cross;
  const double *lo = pull->lo, *hi = pull->hi;
  double middle = (lo[axis] + hi[axis]) / 2 + pull->wanted_m;
  double left = 0, right = pull->inner[axis];
  gboolean any = FALSE;

  for (guint i = 0; i < pull->neighbours->len; i++)
    {
      const Neighbour *next = &g_array_index (pull->neighbours, Neighbour, i);

      if (next->shelf || next->opening || !beside (pull, lo, hi, next))
        continue;
      if (next->hi[axis] <= middle)
        left = MAX (left, next->hi[axis]);
      else if (next->lo[axis] >= middle)
        right = MIN (right, next->lo[axis]);
      else
        continue;
      any = TRUE;
    }
  if (any && right - left > hi[axis] - lo[axis])
    offer (pull, (left + right) / 2 - (lo[axis] + hi[axis]) / 2, (left + right) / 2, lo[cross],
           hi[cross]);
}

/* As far from a neighbour as that one is from the next: rows of pots. */
static void
offer_same_gap (Pull *pull)
{
  const double least_gap_m = 0.003;
  int axis = pull->axis, cross = pull->cross;
  const double *lo = pull->lo, *hi = pull->hi;

  for (guint i = 0; i < pull->neighbours->len; i++)
    for (guint j = 0; j < pull->neighbours->len; j++)
      {
        const Neighbour *left = &g_array_index (pull->neighbours, Neighbour, i);
        const Neighbour *right = &g_array_index (pull->neighbours, Neighbour, j);
        double gap = right->lo[axis] - left->hi[axis];

        if (left->shelf || right->shelf || gap < least_gap_m || !left->near || !right->near
            || !beside (pull, left->lo, left->hi, right))
          continue;
        offer (pull, right->hi[axis] + gap - lo[axis], right->hi[axis] + gap / 2, lo[cross],
               hi[cross]);
        offer (pull, left->lo[axis] - gap - hi[axis], left->lo[axis] - gap / 2, lo[cross],
               hi[cross]);
      }
}

double
dew_snap_grid (double at_m)
{
  return round (at_m / GRID_M) * GRID_M;
}

double
dew_snap_move (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
               DewView view, int axis, double d_m, double snap_m, DewGuides *guides)
{
  double lo, hi, inner, across, middle;
  Pull pull;

  if (snap_m <= 0)
    return d_m;

  pull_begin (&pull, chamber, variant, thing, view, axis, d_m, snap_m);
  lo = pull.lo[axis];
  hi = pull.hi[axis];
  inner = pull.inner[axis];
  across = pull.inner[pull.cross];
  middle = (lo + hi) / 2;
  offer (&pull, -lo, 0, 0, across);
  offer (&pull, inner - hi, inner, 0, across);
  offer (&pull, inner / 2 - middle, inner / 2, 0, across);
  for (guint i = 0; i < pull.neighbours->len; i++)
    {
      const Neighbour *next = &g_array_index (pull.neighbours, Neighbour, i);
      double next_lo = next->lo[axis], next_hi = next->hi[axis], half = (next_lo + next_hi) / 2;
      double reach_lo = MIN (pull.lo[pull.cross], next->lo[pull.cross]);
      double reach_hi = MAX (pull.hi[pull.cross], next->hi[pull.cross]);

      if (!next->shelf)
        offer (&pull, half - middle, half, reach_lo, reach_hi);
      if (!next->shelf && !next->near)
        continue;
      /* Stand on the top of a shelf, hang from its underside, touch a side. */
      offer (&pull, next_hi - lo, next_hi, reach_lo, reach_hi);
      offer (&pull, next_lo - hi, next_lo, reach_lo, reach_hi);
      if (next->shelf)
        continue;
      offer (&pull, next_lo - lo, next_lo, reach_lo, reach_hi);
      offer (&pull, next_hi - hi, next_hi, reach_lo, reach_hi);
    }
  offer_equal_gap (&pull);
  offer_same_gap (&pull);
  return pull_end (&pull, snap_m, dew_snap_grid (middle + d_m) - middle, guides);
}

double
dew_snap_edge (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
               DewView view, int axis, double edge_m, double snap_m, DewGuides *guides)
{
  Pull pull;

  if (snap_m <= 0)
    return edge_m;

  pull_begin (&pull, chamber, variant, thing, view, axis, edge_m, snap_m);
  offer (&pull, 0, 0, 0, pull.inner[pull.cross]);
  offer (&pull, pull.inner[axis], pull.inner[axis], 0, pull.inner[pull.cross]);
  for (guint i = 0; i < pull.neighbours->len; i++)
    {
      const Neighbour *next = &g_array_index (pull.neighbours, Neighbour, i);
      double reach_lo = MIN (pull.lo[pull.cross], next->lo[pull.cross]);
      double reach_hi = MAX (pull.hi[pull.cross], next->hi[pull.cross]);

      if (!next->shelf && !next->near)
        continue;
      offer (&pull, next->lo[axis], next->lo[axis], reach_lo, reach_hi);
      offer (&pull, next->hi[axis], next->hi[axis], reach_lo, reach_hi);
    }
  return pull_end (&pull, snap_m, dew_snap_grid (edge_m), guides);
}

double
dew_snap_shelf (double z_m, double thickness_m, double below_m, double above_m, double snap_m)
{
  double equal = (below_m + above_m - thickness_m) / 2;

  if (snap_m <= 0)
    return z_m;
  return fabs (z_m - equal) < snap_m ? equal : dew_snap_grid (z_m);
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
  DewGuide guide = { .kind = DEW_GUIDE_MEASURE, .view = view };
  int along = standing ? 1 : 0;

  if (guides->n >= DEW_MAX_GUIDES || to_m - from_m < least_m)
    return;
  guide.a_m[1 - along] = guide.b_m[1 - along] = at_m;
  guide.a_m[along] = from_m;
  guide.b_m[along] = to_m;
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

      if (other->id == thing->id || other->kind == DEW_THING_SHELF
          || other->kind == DEW_THING_OPENING)
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
