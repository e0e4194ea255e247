/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/heights/heights.h"

#include "edit/arrange.h"
#include "geometry/geometry.h"

#include <math.h>
#include <string.h>

#define SPARE_M 0.03       /* above a crown: common practice, no source */
#define LAMP_AWAY_M 0.15   /* from leaves to a lamp: common practice, no source */
#define FULL 0.7           /* of a floor under crowns is as full as one can tend: likewise */
#define LEAST_CLEAR_M 0.10 /* of a bay in which nothing is to stand */
#define STEP_M 0.01        /* holes of a frame are not finer */

/* --- what a bay needs ---------------------------------------------------- */

static double
plant_m (const DewFitPlant *plant)
{
  return plant->rise_m + plant->height_m + SPARE_M;
}

static void
need (DewHeightsBay *bay, double height_m, const char *name)
{
  if (height_m + bay->lamp_m <= bay->need_m)
    return;
  bay->need_m = height_m + bay->lamp_m;
  g_strlcpy (bay->tallest, name, sizeof bay->tallest);
}

/* What a lamp that hangs in a bay takes of its height, with the air under it. */
static void
count_lamps (const DewChamber *chamber, const DewVariant *variant, const double *z_m,
             DewHeights *heights)
{
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];
      int b;

      if (thing->kind != DEW_THING_LAMP)
        continue;
      dew_thing_box (chamber, thing, lo, hi);
      b = dew_bay_at (z_m, heights->n_bays, lo[2]);
      heights->bays[b].lamp_m
        = MAX (heights->bays[b].lamp_m, MAX (0.0, z_m[b + 1] - lo[2]) + LAMP_AWAY_M);
    }
}

static void
count_standing (const DewVariant *variant, const double *z_m, DewPlantKindLookup lookup,
                gpointer data, DewHeights *heights, double *floor_left_m2)
{
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      DewFitPlant plant;
      int b;

      if (thing->kind != DEW_THING_PLANT)
        continue;
      dew_fit_plant_of_thing (variant, thing, lookup, data, &plant);
      b = dew_bay_at (z_m, heights->n_bays, thing->plant.z_m);
      heights->bays[b].n_standing++;
      floor_left_m2[b] -= plant.width_m * plant.width_m;
      need (&heights->bays[b], plant_m (&plant), thing->name);
    }
}

typedef struct
{
  DewFitPlant plant;
  const char *name;
} Wished;

static int
tallest_first (gconstpointer pa, gconstpointer pb)
{
  const Wished *a = pa, *b = pb;

  return plant_m (&a->plant) > plant_m (&b->plant) ? -1 : plant_m (&a->plant) < plant_m (&b->plant);
}

/* Where it raises the need least; ties: where most floor is left. */
static void
count_wish (DewHeights *heights, const Wished *wished, double *floor_left_m2)
{
  double area_m2 = wished->plant.width_m * wished->plant.width_m, least_m = INFINITY;
  int best = -1;

  for (int b = 0; b < heights->n_bays; b++)
    {
      const DewHeightsBay *bay = &heights->bays[b];
      double more_m
        = MAX (0.0, plant_m (&wished->plant) + bay->lamp_m - MAX (bay->need_m, bay->clear_m));

      if (floor_left_m2[b] < area_m2 || more_m > least_m
          || (more_m == least_m && floor_left_m2[b] <= floor_left_m2[best]))
        continue;
      least_m = more_m;
      best = b;
    }
  if (best < 0)
    {
      heights->n_unplaced++;
      return;
    }
  heights->bays[best].n_wished++;
  floor_left_m2[best] -= area_m2;
  need (&heights->bays[best], plant_m (&wished->plant), wished->name);
}

static void
count_wishes (const DewChamber *chamber, DewPlantKindLookup lookup, gpointer data,
              DewHeights *heights, double *floor_left_m2)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Wished));

  for (guint w = 0; w < chamber->wishes->len; w++)
    {
      const DewWish *wish = &g_array_index (chamber->wishes, DewWish, w);
      Wished one = { .name = wish->name[0] != '\0' ? wish->name : wish->species };

      dew_fit_plant_of_wish (wish, lookup, data, &one.plant);
      for (int k = 0; k < wish->count; k++)
        g_array_append_val (all, one);
    }
  g_array_sort (all, tallest_first);
  for (guint i = 0; i < all->len; i++)
    count_wish (heights, &g_array_index (all, Wished, i), floor_left_m2);
}

/* --- where the boards go ------------------------------------------------- */

static double
thickness_m (const DewVariant *variant, guint id)
{
  return dew_variant_thing (variant, id)->shelf.thickness_m;
}

/* Each board between the lowest and the highest that all bays leave it, as near as can be to where
 * it is. */
static void
place_boards (const DewVariant *variant, double inner_m, DewHeights *heights)
{
  int n = heights->n_shelves, first = heights->n_bays - n;
  g_autofree double *most_m = g_new0 (double, n + 1);
  double least_m = first > 0 ? heights->bays[0].need_m : 0.0, top_m = inner_m;

  for (int s = n - 1; s >= 0; s--)
    {
      most_m[s]
        = top_m - heights->bays[first + s].need_m - thickness_m (variant, heights->shelves[s].id);
      top_m = most_m[s];
    }
  heights->short_m = MAX (0.0, (first > 0 ? heights->bays[0].need_m : 0.0) - top_m);
  heights->fits = heights->short_m <= 1e-9;
  for (int s = 0; s < n; s++)
    {
      DewHeightsShelf *shelf = &heights->shelves[s];

      shelf->then_m = shelf->now_m;
      if (!heights->fits)
        continue;
      if (shelf->now_m < least_m - 1e-9)
        shelf->then_m = MIN (STEP_M * ceil (least_m / STEP_M - 1e-6), most_m[s]);
      else if (shelf->now_m > most_m[s] + 1e-9)
        shelf->then_m = MAX (STEP_M * floor (most_m[s] / STEP_M + 1e-6), least_m);
      heights->n_moves += shelf->then_m != shelf->now_m;
      least_m = shelf->then_m + thickness_m (variant, shelf->id) + heights->bays[first + s].need_m;
    }
}

static void
measure_then (const DewVariant *variant, double inner_m, DewHeights *heights)
{
  int first = heights->n_bays - heights->n_shelves;

  for (int b = 0; b < heights->n_bays; b++)
    {
      double lo_m = 0.0, hi_m = inner_m;

      if (b >= first)
        lo_m = heights->shelves[b - first].then_m
               + thickness_m (variant, heights->shelves[b - first].id);
      if (b + 1 - first < heights->n_shelves && b + 1 >= first)
        hi_m = heights->shelves[b + 1 - first].then_m;
      heights->bays[b].then_m = hi_m - lo_m;
    }
}

/* --- the whole ----------------------------------------------------------- */

DewHeights *
dew_heights_new (const DewChamber *chamber, const DewVariant *variant, DewPlantKindLookup lookup,
                 gpointer data)
{
  DewHeights *heights = g_new0 (DewHeights, 1);
  g_autofree double *z_m = NULL;
  g_autofree guint *shelf_id = NULL;
  g_autofree double *floor_left_m2 = NULL;
  double inner_m[3];

  g_return_val_if_fail (chamber != NULL && variant != NULL, heights);

  dew_chamber_inner_m (chamber, inner_m);
  heights->n_bays = dew_variant_bays (chamber, variant, &z_m, &shelf_id);
  heights->bays = g_new0 (DewHeightsBay, heights->n_bays);
  heights->shelves = g_new0 (DewHeightsShelf, heights->n_bays);
  floor_left_m2 = g_new0 (double, heights->n_bays);
  for (int b = 0; b < heights->n_bays; b++)
    {
      DewHeightsBay *bay = &heights->bays[b];
      double board_m = shelf_id[b] != 0 ? thickness_m (variant, shelf_id[b]) : 0.0;

      bay->shelf_id = shelf_id[b];
      bay->clear_m = z_m[b + 1] - z_m[b] - board_m;
      bay->need_m = LEAST_CLEAR_M;
      floor_left_m2[b] = FULL * inner_m[0] * inner_m[1];
      if (shelf_id[b] == 0)
        continue;
      heights->shelves[heights->n_shelves]
        = (DewHeightsShelf){ .id = shelf_id[b], .now_m = z_m[b] };
      g_strlcpy (heights->shelves[heights->n_shelves].name,
                 dew_variant_thing (variant, shelf_id[b])->name, DEW_NAME_SIZE);
      bay->shelf = ++heights->n_shelves;
    }
  count_lamps (chamber, variant, z_m, heights);
  count_standing (variant, z_m, lookup, data, heights, floor_left_m2);
  count_wishes (chamber, lookup, data, heights, floor_left_m2);
  place_boards (variant, inner_m[2], heights);
  measure_then (variant, inner_m[2], heights);
  return heights;
}

void
dew_heights_free (DewHeights *heights)
{
  if (heights == NULL)
    return;
  g_free (heights->bays);
  g_free (heights->shelves);
  g_free (heights);
}

/* Where lamps hang, each under the board or roof above it: they go with it. */
static void
hang_lamps (const DewHeights *heights, const double *z_m, const DewVariant *before,
            DewVariant *variant)
{
  int first = heights->n_bays - heights->n_shelves;

  for (guint i = 0; i < before->things->len; i++)
    {
      const DewThing *lamp = &g_array_index (before->things, DewThing, i);
      int above;

      if (lamp->kind != DEW_THING_LAMP)
        continue;
      above = dew_bay_at (z_m, heights->n_bays, lamp->lamp.z_m) + 1 - first;
      if (above < heights->n_shelves)
        dew_variant_thing (variant, lamp->id)->lamp.z_m
          = lamp->lamp.z_m + heights->shelves[above].then_m - heights->shelves[above].now_m;
    }
}

/* From the top down what goes up, then from the bottom up what goes down, so that no board passes
 * another on its way. */
void
dew_heights_apply (const DewHeights *heights, DewChamber *chamber, guint variant_id)
{
  DewVariant *variant
    = variant_id ? dew_chamber_variant (chamber, variant_id) : dew_chamber_shown (chamber);
  g_autoptr (DewChamber) before = NULL;
  g_autofree double *z_m = NULL;
  g_autofree guint *shelf_id = NULL;

  g_return_if_fail (heights != NULL && variant != NULL);

  before = dew_chamber_copy (chamber);
  dew_variant_bays (chamber, variant, &z_m, &shelf_id);
  for (int pass = 0; pass < 2; pass++)
    for (int k = 0; k < heights->n_shelves; k++)
      {
        const DewHeightsShelf *shelf
          = &heights->shelves[pass == 0 ? heights->n_shelves - 1 - k : k];
        double by_m = shelf->then_m - shelf->now_m;

        if ((pass == 0 && by_m > 0.0) || (pass == 1 && by_m < 0.0))
          dew_variant_shift (chamber, variant, shelf->id, (const double[]){ 0.0, 0.0, by_m });
      }
  hang_lamps (heights, z_m, dew_chamber_variant (before, variant->id), variant);
}
