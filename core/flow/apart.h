/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What sets a pressure matrix apart from the separable one (separable.h): faces to the room,
 * boards with gaps, and the pins that must go again. They are few, and enter as
 *
 *     A = L0 + U D U',    A^-1 b = x - L0^-1 U C^-1 U' x,   x = L0^-1 b,
 *     C = D^-1 + U' L0^-1 U
 *
 * (Woodbury 1950), C kept as L D L'. With the roots of |D| taken into U, D is 1 or -1; with
 * the positive ones first the pivots are at least 1 there and lie between -1 and 0 after, as
 * long as A is positive definite, so that none need be sought. */

#include "flow/separable.h"

G_BEGIN_DECLS

/* A conductance that L0 has too little of (m, open area over distance; negative: too much),
 * from a cell to the room or, two cells given, between them. */
typedef struct
{
  int cell[2][3]; /* i, j, k from 0 */
  int n_cells;
  double more_m;
} DewApartFace;

typedef struct _DewApart DewApart;

/* loose: [n_slabs] whether the pin of a slab is to be taken out again. pin: as given to
 * dew_separable_factor(). NULL when the result is not positive definite. */
DewApart *dew_apart_new (const DewSeparable *separable, const GArray *faces, const gboolean *loose,
                         const double *pin);
void dew_apart_free (DewApart *apart);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewApart, dew_apart_free)

/* From x = L0^-1 b in modes to that of A: takes U C^-1 U' x off the source, with which L0 is to
 * be solved once more. Both [size]. FALSE when there is nothing to correct. */
gboolean dew_apart_correct (DewApart *apart, const DewSeparable *separable, const double *x,
                            double *source);

G_END_DECLS
