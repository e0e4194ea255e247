/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/surfaces.h"

struct _DewSurfaces
{
  const DewZones  *z;
  DewExchangeTerms terms;
  gboolean         active;
};

DewSurfaces *
dew_surfaces_new (const DewZones *z, const DewChamber *chamber, const DewVariant *variant,
                  const DewAir *air, const DewRoomAir *room, gboolean night)
{
  DewSurfaces *s = g_new0 (DewSurfaces, 1);
  double heat_1 = 1.0 / (air->density_kg_m3 * air->specific_heat_J_kgK);

  s->z = z;
  s->terms.heat_sink_m3_s = g_new0 (double, z->size);
  s->terms.heat_source_K_m3_s = g_new0 (double, z->size);
  s->terms.vapour_sink_m3_s = g_new0 (double, z->size);
  s->terms.vapour_source_m3_s = g_new0 (double, z->size);
  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int at = dew_zones_at (z, i, j, k);
          int c[3] = { i, j, k };

          for (int a = 0; a < 3; a++)
            for (int end = 0; end < 2; end++)
              if (c[a] == (end ? z->n[a] : 1))
                {
                  int face = at + end * z->stride[a];
                  double closed = z->gross_m2[a][face] - z->open_m2[a][face];

                  s->terms.heat_sink_m3_s[at] += heat_1 * closed * chamber->panels[2 * a + end].u_value_W_m2K;
                  s->active |= closed * chamber->panels[2 * a + end].u_value_W_m2K > 0.0;
                }
        }
  return s;
}

void
dew_surfaces_free (DewSurfaces *s)
{
  if (s == NULL)
    return;
  g_free (s->terms.heat_sink_m3_s);
  g_free (s->terms.heat_source_K_m3_s);
  g_free (s->terms.vapour_sink_m3_s);
  g_free (s->terms.vapour_source_m3_s);
  g_free (s);
}

void
dew_surfaces_update (DewSurfaces *s, const double *t, const double *w, const double *speed)
{
}

const DewExchangeTerms *
dew_surfaces_terms (const DewSurfaces *s)
{
  return &s->terms;
}

gboolean
dew_surfaces_active (const DewSurfaces *s)
{
  return s->active;
}
