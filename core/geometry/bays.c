/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/geometry.h"

#include <math.h>

/* Bays, and how far up and down there is room. */

typedef struct
{
  double z_m;
  guint id;
} Board;

static int
board_compare (gconstpointer a, gconstpointer b)
{
  const Board *p = a, *q = b;

  if (p->z_m != q->z_m)
    return p->z_m < q->z_m ? -1 : 1;
  return p->id < q->id ? -1 : p->id > q->id;
}

int
dew_variant_bays (const DewChamber *chamber, const DewVariant *variant, double **z_m,
                  guint **shelf_id)
{
  g_autoptr (GArray) boards = g_array_new (FALSE, FALSE, sizeof (Board));
  double inner[3];
  int n;

  g_return_val_if_fail (chamber != NULL && variant != NULL && z_m != NULL, 0);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_SHELF)
        {
          Board board = { thing->shelf.z_m, thing->id };

          g_array_append_val (boards, board);
        }
    }
  g_array_sort (boards, board_compare);

  n = (int) boards->len + 1;
  dew_chamber_inner_m (chamber, inner);
  *z_m = g_new0 (double, n + 1);
  if (shelf_id != NULL)
    *shelf_id = g_new0 (guint, n);
  for (int i = 1; i < n; i++)
    {
      const Board *board = &g_array_index (boards, Board, i - 1);

      (*z_m)[i] = board->z_m;
      if (shelf_id != NULL)
        (*shelf_id)[i] = board->id;
    }
  (*z_m)[n] = inner[2];
  return n;
}

int
dew_bay_at (const double *z_m, int n, double at_m)
{
  int bay = 0;

  while (bay + 1 < n && at_m >= z_m[bay + 1] - DEW_SLACK_M)
    bay++;
  return bay;
}

int
dew_variant_bay_at (const DewChamber *chamber, const DewVariant *variant, double at_m)
{
  g_autofree double *z_m = NULL;
  int n = dew_variant_bays (chamber, variant, &z_m, NULL);

  return dew_bay_at (z_m, n, at_m);
}

double
dew_variant_rest_height (const DewVariant *variant, double z_m)
{
  double rest = 0.0;

  g_return_val_if_fail (variant != NULL, 0.0);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_SHELF)
        {
          double top = thing->shelf.z_m + thing->shelf.thickness_m;

          if (top <= z_m + DEW_SLACK_M)
            rest = MAX (rest, top);
        }
    }
  return rest;
}

double
dew_ceiling_m (const DewChamber *chamber, const DewVariant *variant, double z_m, const double lo[3],
               const double hi[3])
{
  double inner[3], ceiling;

  dew_chamber_inner_m (chamber, inner);
  ceiling = inner[2];
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *shelf = &g_array_index (variant->things, DewThing, i);
      double shelf_lo[3], shelf_hi[3];

      if (shelf->kind != DEW_THING_SHELF || shelf->shelf.z_m < z_m)
        continue;
      dew_thing_box (chamber, shelf, shelf_lo, shelf_hi);
      if (dew_boxes_cross (lo, hi, shelf_lo, shelf_hi, 2, DEW_SLACK_M))
        ceiling = MIN (ceiling, shelf->shelf.z_m);
    }
  return ceiling;
}

void
dew_shelf_limits (const DewChamber *chamber, const DewVariant *variant, const DewThing *shelf,
                  double *low_m, double *high_m)
{
  double z = shelf->shelf.z_m, top = z + shelf->shelf.thickness_m;
  double below = 0, next, above, tallest = DEW_BAY_MIN_M, stands_up_to = 0, inner[3], headroom;

  dew_chamber_inner_m (chamber, inner);
  next = headroom = inner[2];
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);

      if (other->kind != DEW_THING_SHELF || other->id == shelf->id)
        continue;
      if (other->shelf.z_m < z)
        below = MAX (below, other->shelf.z_m + other->shelf.thickness_m);
      else
        next = MIN (next, other->shelf.z_m);
    }
  above = next;
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];

      if (other->kind == DEW_THING_SHELF || other->kind == DEW_THING_OPENING)
        continue;
      dew_thing_box (chamber, other, lo, hi);
      if (!dew_is_solid (other))
        {
          /* Crowns and instruments of this bay go along, through shelves but not
           * through the roof. */
          if (lo[2] > top - DEW_STANDING_M && lo[2] < next - DEW_STANDING_M)
            headroom = MIN (headroom, inner[2] - hi[2]);
        }
      else if (fabs (lo[2] - top) <= DEW_STANDING_M)
        tallest = MAX (tallest, hi[2] - top); /* goes along */
      else if (lo[2] >= top)
        above = MIN (above, lo[2]); /* hangs over it */
      else if (hi[2] <= z + DEW_SLACK_M)
        stands_up_to = MAX (stands_up_to, hi[2]);
    }
  /* Where it is now is always allowed: a drag must not begin with a jump. */
  *low_m = MIN (MAX (below + DEW_BAY_MIN_M, stands_up_to), z);
  *high_m = MAX (MIN (above - tallest - shelf->shelf.thickness_m, z + headroom), z);
}
