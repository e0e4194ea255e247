/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Fast diagonalisation (Lynch, Rice & Thomas, Numerische Mathematik 6, 185-199, 1964; from
 * memory) of a pressure matrix that is a sum of products,
 *
 *     L0 = Lx (x) My (x) Mz + Mx (x) Ly (x) Mz + Mx (x) My (x) Lz,
 *
 * M the widths of zones and L the second differences between closed ends; Lz of each plane of
 * faces times one share that is open. In the modes of x and y (dew_eigen_line) every pair of
 * modes is a line of its own along z, solved by elimination (Thomas) with kept pivots. That is
 * 4 (nx + ny) + 8 operations a zone.
 *
 * Planes without any opening part the zones into slabs. A slab's level is free, so the level
 * mode of one plane of each is held by a term of its own on the diagonal, the pin; who wants
 * the matrix without it takes it out again (apart.h).
 *
 * Modes are kept as [plane z][mode y][mode x], `row` numbers from one mode of y to the next
 * and `plane` from one plane to the next; the first of each plane is the level mode. */

#include "zones/zones.h"

G_BEGIN_DECLS

typedef struct
{
  int n[3];
  int row, plane;
  int size;        /* plane * n[2] */
  double *x_modes; /* [n[0]][row] values of the modes of x in a cell; the rest of a row is 0 */
  double *x_cells; /* [n[0]][row] the same with cells along the row */
  double *y_modes; /* [n[1]][n[1]] values of the modes of y in a cell */
  double *y_cells; /* [n[1]][n[1]] the same with cells along the row */
  double *lambda;  /* [plane] 1/m2, of x and y together */
  double *link;    /* [n[2] + 1] open share over distance below a plane, 1/m; 0 at both ends */
  double *inverse; /* [size] 1 / pivot */
  double *work;    /* [2 plane] */
  double level;    /* of the level mode in every cell, 1/m */

  int n_slabs;
  int *slab;      /* [n[2]] of a plane */
  int *pin_plane; /* [n_slabs] the plane that is held */
} DewSeparable;

/* share: [n[2] + 1] of each plane of faces normal to z, that below plane k at k. The pins are
 * not set yet. */
DewSeparable *dew_separable_new (const DewZones *zones, const double *share);
void dew_separable_free (DewSeparable *separable);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewSeparable, dew_separable_free)

/* Sets the pivots. pin: [n_slabs] what is added to the diagonal of a slab's level mode, 1/m:
 * to the slab as a whole pin times the area in plan is like openings of so much area over
 * distance to the room. */
void dew_separable_factor (DewSeparable *separable, const DewZones *zones, const double *pin);

/* source: [size] of the zones, padded; modes: [size] of this. */
void dew_separable_to_modes (DewSeparable *separable, const DewZones *zones, const double *source,
                             double *modes);
void dew_separable_from_modes (DewSeparable *separable, const DewZones *zones, const double *modes,
                               double *phi);
/* Solves for all modes; both [size], not the same. */
void dew_separable_solve (const DewSeparable *separable, const double *source, double *modes);
/* The same for a source [plane] in plane k alone. What lies below k is not written. */
void dew_separable_solve_plane (const DewSeparable *separable, int k, const double *source,
                                double *modes);

/* From modes to the row j of plane k of cells, along x still as modes; and the reverse, added
 * to modes. row: [row]. */
void dew_separable_row (const DewSeparable *separable, const double *modes, int j, int k,
                        double *row);
void dew_separable_add_row (const DewSeparable *separable, double *modes, int j, int k,
                            const double *row);

G_END_DECLS
