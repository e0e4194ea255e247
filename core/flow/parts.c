/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/parts.h"

double
dew_parts_conductance (const DewZones *z, int axis, const int c[3])
{
  int at = dew_zones_at (z, c[0], c[1], c[2]);

  if (z->kind[axis][at] != DEW_FACE_IS_INSIDE && z->kind[axis][at] != DEW_FACE_IS_ROOM)
    return 0.0;
  return z->open_m2[axis][at] / z->gap_m[axis][c[axis]];
}

static int
root_of (int *up, int i)
{
  while (up[i] != i)
    i = up[i] = up[up[i]];
  return i;
}

DewParts *
dew_parts_new (const DewZones *z)
{
  DewParts *p = g_new0 (DewParts, 1);
  int n = z->n_zones, step[3] = { 1, z->n[0], z->n[0] * z->n[1] };
  g_autofree int *up = g_new (int, n);
  g_autofree guint8 *room = g_new0 (guint8, n);

  for (int i = 0; i < n; i++)
    up[i] = i;
  for (int k = 1; k <= z->n[2] + 1; k++)
    for (int j = 1; j <= z->n[1] + 1; j++)
      for (int i = 1; i <= z->n[0] + 1; i++)
        for (int a = 0; a < 3; a++)
          {
            int c[3] = { i, j, k };
            int zone = (i - 1) + step[1] * (j - 1) + step[2] * (k - 1);

            if (dew_parts_conductance (z, a, c) <= 0.0)
              continue;
            if (z->kind[a][dew_zones_at (z, i, j, k)] == DEW_FACE_IS_ROOM)
              room[c[a] == 1 ? zone : zone - step[a]] = 1;
            else
              {
                int low = root_of (up, zone - step[a]), high = root_of (up, zone);

                up[MAX (low, high)] = MIN (low, high);
              }
          }

  /* The root of a part is its first zone. */
  p->part = g_new (int, n);
  p->closed = g_new (gboolean, n);
  p->volume_m3 = g_new0 (double, n);
  for (int zone = 0; zone < n; zone++)
    {
      int root = root_of (up, zone), i = zone % z->n[0], j = zone / step[1] % z->n[1];

      if (root == zone)
        {
          p->closed[p->n] = TRUE;
          p->part[zone] = p->n++;
        }
      p->part[zone] = p->part[root];
      if (room[zone])
        p->closed[p->part[zone]] = FALSE;
      p->volume_m3[p->part[zone]]
        += z->volume_m3[dew_zones_at (z, i + 1, j + 1, zone / step[2] + 1)];
    }
  return p;
}

void
dew_parts_free (DewParts *p)
{
  if (p == NULL)
    return;
  g_free (p->part);
  g_free (p->closed);
  g_free (p->volume_m3);
  g_free (p);
}
