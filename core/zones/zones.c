/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "zones/zones-private.h"

#include "geometry/geometry.h"

#include <math.h>
#include <string.h>

#define LARGEST_ZONES 20000

/* --- bare grid ----------------------------------------------------------- */

DewZones *
dew_zones_from_lines (const int n[3], const double *const line_m[3])
{
  DewZones *z = g_new0 (DewZones, 1);

  for (int a = 0; a < 3; a++)
    {
      z->n[a] = n[a];
      z->line_m[a] = g_memdup2 (line_m[a], sizeof (double) * (n[a] + 1));
      z->inner_m[a] = line_m[a][n[a]];
      z->width_m[a] = g_new0 (double, n[a] + 2);
      z->middle_m[a] = g_new0 (double, n[a] + 2);
      z->gap_m[a] = g_new0 (double, n[a] + 2);
      for (int i = 1; i <= n[a]; i++)
        {
          z->width_m[a][i] = line_m[a][i] - line_m[a][i - 1];
          z->middle_m[a][i] = 0.5 * (line_m[a][i] + line_m[a][i - 1]);
        }
      z->width_m[a][0] = z->width_m[a][1];
      z->width_m[a][n[a] + 1] = z->width_m[a][n[a]];
      z->middle_m[a][0] = -z->middle_m[a][1];
      z->middle_m[a][n[a] + 1] = 2 * z->inner_m[a] - z->middle_m[a][n[a]];
      z->gap_m[a][1] = 0.5 * z->width_m[a][1];
      z->gap_m[a][n[a] + 1] = 0.5 * z->width_m[a][n[a]];
      for (int i = 2; i <= n[a]; i++)
        z->gap_m[a][i] = z->middle_m[a][i] - z->middle_m[a][i - 1];
    }
  z->stride[0] = 1;
  z->stride[1] = n[0] + 2;
  z->stride[2] = (n[0] + 2) * (n[1] + 2);
  z->size = z->stride[2] * (n[2] + 2);
  z->n_zones = n[0] * n[1] * n[2];
  z->volume_m3 = g_new0 (double, z->size);
  z->wall_m = g_new0 (double, z->size);
  for (int a = 0; a < 3; a++)
    {
      z->gross_m2[a] = g_new0 (double, z->size);
      z->open_m2[a] = g_new0 (double, z->size);
      z->kind[a] = g_new0 (guint8, z->size);
    }

  for (int k = 1; k <= n[2] + 1; k++)
    for (int j = 1; j <= n[1] + 1; j++)
      for (int i = 1; i <= n[0] + 1; i++)
        {
          int at = dew_zones_at (z, i, j, k);
          int c[3] = { i, j, k };
          double w[3] = { z->width_m[0][i], z->width_m[1][j], z->width_m[2][k] };

          for (int a = 0; a < 3; a++)
            {
              int b = (a + 1) % 3, d = (a + 2) % 3;

              if (c[b] > n[b] || c[d] > n[d])
                continue;
              z->gross_m2[a][at] = w[b] * w[d];
              if (c[a] > 1 && c[a] <= n[a])
                {
                  z->kind[a][at] = DEW_FACE_IS_INSIDE;
                  z->open_m2[a][at] = w[b] * w[d];
                }
            }
          if (i <= n[0] && j <= n[1] && k <= n[2])
            z->volume_m3[at] = w[0] * w[1] * w[2];
        }
  z->sealed = TRUE;
  z->leak_exponent = 0.65;
  return z;
}

/* Nearest of the walls and of the closed faces above and below. */
void
dew_zones_find_walls (DewZones *z)
{
  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int at = dew_zones_at (z, i, j, k);
          double zm = z->middle_m[2][k];
          double d = MIN (MIN (z->middle_m[0][i], z->inner_m[0] - z->middle_m[0][i]),
                          MIN (z->middle_m[1][j], z->inner_m[1] - z->middle_m[1][j]));

          for (int f = k; f >= 1; f--)
            if (z->open_m2[2][dew_zones_at (z, i, j, f)]
                < 0.5 * z->gross_m2[2][dew_zones_at (z, i, j, f)])
              {
                d = MIN (d, zm - z->line_m[2][f - 1]);
                break;
              }
          for (int f = k + 1; f <= z->n[2] + 1; f++)
            if (z->open_m2[2][dew_zones_at (z, i, j, f)]
                < 0.5 * z->gross_m2[2][dew_zones_at (z, i, j, f)])
              {
                d = MIN (d, z->line_m[2][f - 1] - zm);
                break;
              }
          z->wall_m[at] = d;
        }
}

DewZones *
dew_zones_new_box (const int n[3], const double *const line_m[3])
{
  DewZones *z = dew_zones_from_lines (n, line_m);

  dew_zones_find_walls (z);
  return z;
}

void
dew_zones_free (DewZones *z)
{
  if (z == NULL)
    return;
  for (int a = 0; a < 3; a++)
    {
      g_free (z->line_m[a]);
      g_free (z->width_m[a]);
      g_free (z->middle_m[a]);
      g_free (z->gap_m[a]);
      g_free (z->gross_m2[a]);
      g_free (z->open_m2[a]);
      g_free (z->kind[a]);
    }
  g_free (z->volume_m3);
  g_free (z->wall_m);
  g_free (z->patches);
  g_free (z->decks);
  g_free (z);
}

gboolean
dew_zones_same (const DewZones *a, const DewZones *b)
{
  if (memcmp (a->n, b->n, sizeof a->n) != 0)
    return FALSE;
  for (int c = 0; c < 3; c++)
    if (memcmp (a->line_m[c], b->line_m[c], sizeof (double) * (a->n[c] + 1)) != 0
        || memcmp (a->open_m2[c], b->open_m2[c], sizeof (double) * a->size) != 0
        || memcmp (a->kind[c], b->kind[c], a->size) != 0)
      return FALSE;
  if (a->n_patches != b->n_patches || a->leak_exponent != b->leak_exponent)
    return FALSE;
  for (int p = 0; p < a->n_patches; p++)
    if (a->patches[p].axis != b->patches[p].axis || a->patches[p].face != b->patches[p].face
        || a->patches[p].area_m2 != b->patches[p].area_m2
        || a->patches[p].loss != b->patches[p].loss)
      return FALSE;
  return TRUE;
}

double
dew_zones_size_for (const double inner_m[3], int wanted, double largest_m)
{
  double volume = inner_m[0] * inner_m[1] * inner_m[2];
  double h = MIN (cbrt (volume / wanted), largest_m);

  return MAX (h, cbrt (volume / LARGEST_ZONES));
}

int
dew_zones_find (const DewZones *z, int axis, double x_m)
{
  int lo = 0, hi = z->n[axis];

  while (hi - lo > 1)
    {
      int mid = (lo + hi) / 2;

      if (z->line_m[axis][mid] <= x_m)
        lo = mid;
      else
        hi = mid;
    }
  return lo + 1;
}

GArray *
dew_zones_shares (const DewZones *z, const double lo_m[3], const double hi_m[3])
{
  GArray *shares = g_array_new (FALSE, FALSE, sizeof (DewShare));
  int first[3], last[3];
  double lo[3], hi[3], whole = 1.0;

  for (int a = 0; a < 3; a++)
    {
      lo[a] = CLAMP (lo_m[a], 0.0, z->inner_m[a] - 1e-6);
      hi[a] = CLAMP (hi_m[a], lo[a] + 1e-6, z->inner_m[a]);
      first[a] = dew_zones_find (z, a, lo[a]);
      last[a] = dew_zones_find (z, a, hi[a] - 1e-9);
      whole *= hi[a] - lo[a];
    }
  for (int k = first[2]; k <= last[2]; k++)
    for (int j = first[1]; j <= last[1]; j++)
      for (int i = first[0]; i <= last[0]; i++)
        {
          int c[3] = { i, j, k };
          DewShare share = { dew_zones_at (z, i, j, k), 1.0, 0.0 };

          for (int a = 0; a < 3; a++)
            share.volume_m3
              *= dew_span_shared (lo[a], hi[a], z->line_m[a][c[a] - 1], z->line_m[a][c[a]]);
          share.share = share.volume_m3 / whole;
          if (share.volume_m3 > 0.0)
            g_array_append_val (shares, share);
        }
  return shares;
}

/* Index pair and weight of the upper one, for linear interpolation among
 * ascending points p[first .. last]; constant outside. */
static void
bracket (const double *p, int first, int last, double x, int *low, double *weight)
{
  if (x <= p[first] || first == last)
    {
      *low = first;
      *weight = 0.0;
      return;
    }
  if (x >= p[last])
    {
      *low = last - 1;
      *weight = 1.0;
      return;
    }
  int i = first;

  while (p[i + 1] < x)
    i++;
  *low = i;
  *weight = (x - p[i]) / (p[i + 1] - p[i]);
}

void
dew_zones_remap (const DewZones *fz, const double *from, const DewZones *tz, double *to, int axis)
{
  int low[3];
  double weight[3];
  int extra[3] = { axis == 0, axis == 1, axis == 2 };

  for (int k = 1; k <= tz->n[2] + extra[2]; k++)
    for (int j = 1; j <= tz->n[1] + extra[1]; j++)
      for (int i = 1; i <= tz->n[0] + extra[0]; i++)
        {
          int c[3] = { i, j, k };
          double sum = 0.0;

          for (int a = 0; a < 3; a++)
            {
              if (a == axis)
                /* Face c lies on line c - 1. */
                bracket (fz->line_m[a] - 1, 1, fz->n[a] + 1,
                         tz->line_m[a][c[a] - 1] * fz->inner_m[a] / tz->inner_m[a], &low[a],
                         &weight[a]);
              else
                bracket (fz->middle_m[a], 1, fz->n[a],
                         tz->middle_m[a][c[a]] * fz->inner_m[a] / tz->inner_m[a], &low[a],
                         &weight[a]);
            }
          for (int corner = 0; corner < 8; corner++)
            {
              double w = 1.0;
              int p[3];

              for (int a = 0; a < 3; a++)
                {
                  int up = (corner >> a) & 1;

                  w *= up ? weight[a] : 1.0 - weight[a];
                  p[a] = low[a] + up;
                }
              if (w > 0.0)
                sum += w * from[dew_zones_at (fz, p[0], p[1], p[2])];
            }
          to[dew_zones_at (tz, i, j, k)] = sum;
        }
}
