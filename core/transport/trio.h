/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Linear equations of three quantities that a flow carries side by side and that turn into
 * one another within a zone, as vapour, heat and mist do:
 *
 *     sum over g of block[f][g] x[g]  -  what the neighbours send of x[f]  =  rest[f].
 *
 * The first two go with one set of coefficients, the third, which also falls, with another.
 * BiCGSTAB (van der Vorst, SIAM J. Sci. Stat. Comput. 13, 1992) preconditioned with DILU on
 * blocks of 3 x 3. Arrays are padded like the zones, the quantity innermost:
 * [3 * size] and [9 * size] (row f, column g).
 */

#include "transport/scalar.h"

G_BEGIN_DECLS

typedef struct _DewTrio DewTrio;

/* `zones` must outlive it. */
DewTrio *dew_trio_new (const DewZones *zones);
void dew_trio_free (DewTrio *trio);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewTrio, dew_trio_free)

/* To be filled before each solution, for zones alone. The blocks hold the whole diagonal;
 * the rest is spent. */
double *dew_trio_blocks (DewTrio *trio);
double *dew_trio_rest (DewTrio *trio);

/* Until the largest rest, each quantity's times its weight, is `share` of what it was. Lent:
 * x, zero on the rim. */
const double *dew_trio_solve (DewTrio *trio, const DewScalar *plain, const DewScalar *falling,
                              const double weight[3], double share);

typedef struct
{
  int solves;
  int iterations;
} DewTrioStatistics;

DewTrioStatistics dew_trio_statistics (const DewTrio *trio);

G_END_DECLS
