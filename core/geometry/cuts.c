/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/geometry.h"

static int
by_place (gconstpointer a, gconstpointer b)
{
  const DewCut *one = a, *other = b;

  if (one->face != other->face)
    return one->face < other->face ? -1 : 1;
  for (int axis = 1; axis >= 0; axis--)
    if (one->lo_m[axis] != other->lo_m[axis])
      return one->lo_m[axis] < other->lo_m[axis] ? -1 : 1;
  return one->thing->id < other->thing->id ? -1 : 1;
}

GArray *
dew_variant_cuts (const DewVariant *variant)
{
  GArray *cuts = g_array_new (FALSE, FALSE, sizeof (DewCut));

  g_return_val_if_fail (variant != NULL, cuts);

  for (guint i = 0; i < variant->things->len; i++)
    {
      DewCut cut = { .thing = &g_array_index (variant->things, DewThing, i) };

      if (!dew_thing_in_face (cut.thing, &cut.face))
        continue;
      cut.round = cut.thing->kind == DEW_THING_FAN;
      dew_thing_hole (cut.thing, cut.lo_m, cut.hi_m);
      g_array_append_val (cuts, cut);
    }
  g_array_sort (cuts, by_place);
  return cuts;
}
