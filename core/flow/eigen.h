/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Small dense eigenvalue problems. */

#include <glib.h>

G_BEGIN_DECLS

/* The modes of diffusion along a line of n cells between closed ends: eigenvalues lambda
 * (1/m2, [n], ascending) and eigenvectors v[cell * stride + mode] of
 *     L v = lambda M v,    v' M v = 1,
 * M the widths (m, [n]) and L the second difference over the distances of neighbours
 * (gap_m[i] from cell i - 1 to i, [n], the first not read). The first mode is level:
 * lambda = 0 and the same number everywhere, both exactly. By cyclic rotations (Jacobi 1846),
 * slow only for hundreds of cells. */
void dew_eigen_line (int n, const double *width_m, const double *gap_m, double *lambda, double *v,
                     int stride);

G_END_DECLS
