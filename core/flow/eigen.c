/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/eigen.h"

#include <math.h>

#define MOST_ROUNDS 40

/* Rotates rows and columns p and q of the symmetric a so that a[p][q] becomes zero, and the
 * rows p and q of v, which collect the eigenvectors. */
static void
rotate (int n, double *a, double *v, int p, int q)
{
  double theta = 0.5 * (a[q * n + q] - a[p * n + p]) / a[p * n + q];
  double t = copysign (1.0, theta) / (fabs (theta) + sqrt (theta * theta + 1.0));
  double c = 1.0 / sqrt (t * t + 1.0), s = t * c;

  for (int k = 0; k < n; k++)
    {
      double x = a[k * n + p], y = a[k * n + q];

      a[k * n + p] = c * x - s * y;
      a[k * n + q] = s * x + c * y;
    }
  for (int k = 0; k < n; k++)
    {
      double x = a[p * n + k], y = a[q * n + k];

      a[p * n + k] = c * x - s * y;
      a[q * n + k] = s * x + c * y;
      x = v[p * n + k];
      y = v[q * n + k];
      v[p * n + k] = c * x - s * y;
      v[q * n + k] = s * x + c * y;
    }
  /* Exactly; what rounding leaves there would never go. */
  a[p * n + q] = a[q * n + p] = 0.0;
}

/* Until nothing is left beside the diagonal that could change a digit. */
static void
diagonalise (int n, double *a, double *v)
{
  double size = 0.0;

  for (int i = 0; i < n * n; i++)
    {
      v[i] = i % (n + 1) == 0 ? 1.0 : 0.0;
      size = MAX (size, fabs (a[i]));
    }
  for (int round = 0; round < MOST_ROUNDS; round++)
    {
      gboolean done = TRUE;

      for (int p = 0; p < n; p++)
        for (int q = p + 1; q < n; q++)
          if (fabs (a[p * n + q]) > 1e-17 * size)
            {
              rotate (n, a, v, p, q);
              done = FALSE;
            }
      if (done)
        return;
    }
}

void
dew_eigen_line (int n, const double *width, const double *gap, double *lambda, double *v,
                int stride)
{
  g_autofree double *a = g_new0 (double, n *n);
  g_autofree double *rows = g_new (double, n *n);
  g_autofree int *order = g_new (int, n);
  double length = 0.0;

  for (int i = 1; i < n; i++)
    {
      double g = 1.0 / gap[i];

      a[i * n + i] += g / width[i];
      a[(i - 1) * n + i - 1] += g / width[i - 1];
      a[i * n + i - 1] = a[(i - 1) * n + i] = -g / sqrt (width[i] * width[i - 1]);
    }
  diagonalise (n, a, rows);
  for (int i = 0; i < n; i++)
    {
      int at = i;

      for (; at > 0 && a[order[at - 1] * (n + 1)] > a[i * (n + 1)]; at--)
        order[at] = order[at - 1];
      order[at] = i;
      length += width[i];
    }
  for (int m = 0; m < n; m++)
    {
      lambda[m] = m == 0 ? 0.0 : a[order[m] * (n + 1)];
      for (int i = 0; i < n; i++)
        v[i * stride + m] = m == 0 ? 1.0 / sqrt (length) : rows[order[m] * n + i] / sqrt (width[i]);
    }
}
