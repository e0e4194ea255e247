/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/separable.h"

#include "flow/eigen.h"
#include "zones/twice.h"

#include <math.h>
#include <string.h>

/* --- set-up ------------------------------------------------------------------ */

static void
set_up_modes (DewSeparable *s, const DewZones *z)
{
  g_autofree double *x = g_new (double, s->n[0]);
  g_autofree double *y = g_new (double, s->n[1]);

  s->x_modes = g_new0 (double, s->n[0] * s->row);
  s->x_cells = g_new0 (double, s->n[0] * s->row);
  s->y_modes = g_new0 (double, s->n[1] * s->n[1]);
  s->y_cells = g_new0 (double, s->n[1] * s->n[1]);
  dew_eigen_line (s->n[0], z->width_m[0] + 1, z->gap_m[0] + 1, x, s->x_modes, s->row);
  dew_eigen_line (s->n[1], z->width_m[1] + 1, z->gap_m[1] + 1, y, s->y_modes, s->n[1]);
  for (int i = 0; i < s->n[0]; i++)
    for (int m = 0; m < s->n[0]; m++)
      s->x_cells[m * s->row + i] = s->x_modes[i * s->row + m];
  for (int j = 0; j < s->n[1]; j++)
    for (int m = 0; m < s->n[1]; m++)
      s->y_cells[m * s->n[1] + j] = s->y_modes[j * s->n[1] + m];
  s->level = s->x_modes[0] * s->y_modes[0];

  s->lambda = g_new0 (double, s->plane);
  for (int j = 0; j < s->n[1]; j++)
    for (int i = 0; i < s->n[0]; i++)
      s->lambda[j * s->row + i] = x[i] + y[j];
}

DewSeparable *
dew_separable_new (const DewZones *z, const double *share)
{
  DewSeparable *s = g_new0 (DewSeparable, 1);

  memcpy (s->n, z->n, sizeof s->n);
  s->row = DEW_WHOLE_LANES (s->n[0]);
  s->plane = s->row * s->n[1];
  s->size = s->plane * s->n[2];
  set_up_modes (s, z);
  s->link = g_new0 (double, s->n[2] + 1);
  s->inverse = g_new0 (double, s->size);
  s->work = g_new0 (double, 2 * s->plane);
  s->slab = g_new0 (int, s->n[2]);
  s->pin_plane = g_new0 (int, s->n[2]);
  s->n_slabs = 1;
  for (int k = 1; k < s->n[2]; k++)
    {
      s->link[k] = share[k] / z->gap_m[2][k + 1];
      if (share[k] == 0.0)
        s->pin_plane[s->n_slabs++] = k;
      s->slab[k] = s->n_slabs - 1;
    }
  return s;
}

void
dew_separable_free (DewSeparable *s)
{
  if (s == NULL)
    return;
  g_free (s->x_modes);
  g_free (s->x_cells);
  g_free (s->y_modes);
  g_free (s->y_cells);
  g_free (s->lambda);
  g_free (s->link);
  g_free (s->inverse);
  g_free (s->work);
  g_free (s->slab);
  g_free (s->pin_plane);
  g_free (s);
}

void
dew_separable_factor (DewSeparable *s, const DewZones *z, const double *pin)
{
  for (int k = 0; k < s->n[2]; k++)
    for (int m = 0; m < s->plane; m++)
      {
        double *inverse = s->inverse + k * s->plane + m;
        double below = s->link[k], pivot = s->lambda[m] * z->width_m[2][k + 1];

        if (m % s->row >= s->n[0])
          continue; /* no mode; stays 0 */
        pivot += s->link[k] + s->link[k + 1];
        if (k > 0)
          pivot -= below * below * inverse[-s->plane];
        if (m == 0 && s->pin_plane[s->slab[k]] == k)
          pivot += pin[s->slab[k]];
        *inverse = 1.0 / pivot;
      }
}

/* --- products ------------------------------------------------------------------ */

/* out[r][c] = sum over i of a[r][i] b[i][c] for n_rows rows and n_columns times DEW_LANES
 * columns, both small and known to the compiler. The sum runs in the order of i. */
DEW_PART void
tile (int n_rows, int n_columns, int n, const double *a, int a_row, const double *b, int b_row,
      double *out, int out_row)
{
  DewLanes sum[4][2] = { 0 };

  for (int i = 0; i < n; i++)
    for (int c = 0; c < n_columns; c++)
      {
        DewLanes right = *(const DewLanes *) (b + i * b_row + c * DEW_LANES);

        for (int r = 0; r < n_rows; r++)
          sum[r][c] += a[r * a_row + i] * right;
      }
  for (int r = 0; r < n_rows; r++)
    for (int c = 0; c < n_columns; c++)
      *(DewLanes *) (out + r * out_row + c * DEW_LANES) = sum[r][c];
}

/* out = a b: a [n_rows][n], b [n][width], width whole lanes. */
DEW_PART void
multiply (int n_rows, int n, int width, const double *a, int a_row, const double *b, int b_row,
          double *out, int out_row)
{
  int r = 0;

  for (; r + 4 <= n_rows; r += 4)
    {
      const double *left = a + r * a_row;
      double *to = out + r * out_row;
      int c = 0;

      for (; c + 2 * DEW_LANES <= width; c += 2 * DEW_LANES)
        tile (4, 2, n, left, a_row, b + c, b_row, to + c, out_row);
      if (c < width)
        tile (4, 1, n, left, a_row, b + c, b_row, to + c, out_row);
    }
  for (; r < n_rows; r++)
    {
      int c = 0;

      for (; c + 2 * DEW_LANES <= width; c += 2 * DEW_LANES)
        tile (1, 2, n, a + r * a_row, a_row, b + c, b_row, out + r * out_row + c, out_row);
      if (c < width)
        tile (1, 1, n, a + r * a_row, a_row, b + c, b_row, out + r * out_row + c, out_row);
    }
}

DEW_TWICE void
dew_separable_to_modes (DewSeparable *s, const DewZones *z, const double *source, double *modes)
{
  for (int k = 0; k < s->n[2]; k++)
    {
      multiply (s->n[1], s->n[0], s->row, source + dew_zones_at (z, 1, 1, k + 1), z->stride[1],
                s->x_modes, s->row, s->work, s->row);
      multiply (s->n[1], s->n[1], s->row, s->y_cells, s->n[1], s->work, s->row,
                modes + k * s->plane, s->row);
    }
}

DEW_TWICE void
dew_separable_from_modes (DewSeparable *s, const DewZones *z, const double *modes, double *phi)
{
  double *cells = s->work + s->plane;

  for (int k = 0; k < s->n[2]; k++)
    {
      multiply (s->n[1], s->n[1], s->row, s->y_modes, s->n[1], modes + k * s->plane, s->row,
                s->work, s->row);
      multiply (s->n[1], s->n[0], s->row, s->work, s->row, s->x_cells, s->row, cells, s->row);
      for (int j = 0; j < s->n[1]; j++)
        memcpy (phi + dew_zones_at (z, 1, j + 1, k + 1), cells + j * s->row,
                sizeof (double) * s->n[0]);
    }
}

/* --- lines along z ------------------------------------------------------------- */

/* Elimination upward of one plane; `below` is not read where nothing links it. */
DEW_PART void
eliminate (int plane, const double *restrict inverse, const double *restrict from, double link,
           const double *restrict below, double *restrict to)
{
  if (link == 0.0)
    for (int m = 0; m < plane; m++)
      to[m] = inverse[m] * from[m];
  else
    for (int m = 0; m < plane; m++)
      to[m] = inverse[m] * (from[m] + link * below[m]);
}

DEW_PART void
substitute (int plane, const double *restrict inverse, double link, const double *restrict above,
            double *restrict to)
{
  for (int m = 0; m < plane; m++)
    to[m] += inverse[m] * (link * above[m]);
}

DEW_TWICE void
dew_separable_solve (const DewSeparable *s, const double *source, double *modes)
{
  int plane = s->plane, n = s->n[2];

  for (int k = 0; k < n; k++)
    eliminate (plane, s->inverse + k * plane, source + k * plane, s->link[k],
               k > 0 ? modes + (k - 1) * plane : NULL, modes + k * plane);
  for (int k = n - 2; k >= 0; k--)
    if (s->link[k + 1] != 0.0)
      substitute (plane, s->inverse + k * plane, s->link[k + 1], modes + (k + 1) * plane,
                  modes + k * plane);
}

DEW_TWICE void
dew_separable_solve_plane (const DewSeparable *s, int first, const double *source, double *modes)
{
  int plane = s->plane, end = first + 1;

  eliminate (plane, s->inverse + first * plane, source, 0.0, NULL, modes + first * plane);
  for (; end < s->n[2] && s->link[end] != 0.0; end++)
    {
      const double *restrict inverse = s->inverse + end * plane;
      const double *restrict below = modes + (end - 1) * plane;
      double *restrict to = modes + end * plane, link = s->link[end];

      for (int m = 0; m < plane; m++)
        to[m] = inverse[m] * (link * below[m]);
    }
  for (int k = end - 2; k >= first; k--)
    substitute (plane, s->inverse + k * plane, s->link[k + 1], modes + (k + 1) * plane,
                modes + k * plane);
  if (end < s->n[2])
    memset (modes + end * plane, 0, sizeof (double) * plane * (s->n[2] - end));
}

/* --- single cells ---------------------------------------------------------------- */

DEW_TWICE void
dew_separable_row (const DewSeparable *s, const double *modes, int j, int k, double *row)
{
  multiply (1, s->n[1], s->row, s->y_modes + j * s->n[1], s->n[1], modes + k * s->plane, s->row,
            row, s->row);
}

DEW_TWICE void
dew_separable_add_row (const DewSeparable *s, double *modes, int j, int k,
                       const double *restrict row)
{
  for (int n = 0; n < s->n[1]; n++)
    {
      double *restrict to = modes + k * s->plane + n * s->row;
      double y = s->y_modes[j * s->n[1] + n];

      for (int m = 0; m < s->row; m++)
        to[m] += y * row[m];
    }
}
