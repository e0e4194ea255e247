/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What pulls at a thing while it is dragged: walls, shelf tops, edges and middles of
 * others, equal gaps, and a grid where nothing else is near. */

#include "edit/gesture.h"

G_BEGIN_DECLS

/* The nearest place on the grid of 5 mm. */
double dew_snap_grid (double at_m);
/* The shift along `axis` to use in place of d_m. Adds a guide (`guides` may be NULL) when
 * something pulled. snap_m: how far that reaches; 0: nothing pulls, the grid neither. */
double dew_snap_move (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
                      DewView view, int axis, double d_m, double snap_m, DewGuides *guides);
/* The same for one edge that is pulled to edge_m. */
double dew_snap_edge (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
                      DewView view, int axis, double edge_m, double snap_m, DewGuides *guides);
/* Underside of a shelf between what is below and above: equal bays, else the grid. */
double dew_snap_shelf (double z_m, double thickness_m, double below_m, double above_m,
                       double snap_m);
/* Whole 15 degrees pull from 3 degrees around, else whole degrees. */
double dew_snap_angle (double angle_rad, gboolean snap);

/* A measure at `at_m` on the other axis; none when the way is shorter than 5 mm. */
void dew_guides_measure (DewGuides *guides, DewView view, gboolean standing, double at_m,
                         double from_m, double to_m);
/* Distances from a thing to what is next to it on both sides across the view, walls
 * included. */
void dew_guides_around (DewGuides *guides, const DewChamber *chamber, const DewVariant *variant,
                        const DewThing *thing, DewView view);

G_END_DECLS
