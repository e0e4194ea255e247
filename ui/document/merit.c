/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document/merit.h"

DewMeritMap *
dew_merit_map_new (const DewMeritSpot *spots, guint n, const char *legend)
{
  DewMeritMap *map = g_new0 (DewMeritMap, 1);

  map->n = n;
  map->spots = g_memdup2 (spots, n * sizeof *spots);
  map->legend = g_strdup (legend);
  return map;
}

void
dew_merit_map_free (DewMeritMap *map)
{
  if (map == NULL)
    return;
  g_free (map->spots);
  g_free (map->legend);
  g_free (map);
}
