/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/assign/assign-private.h"

#include <math.h>
#include <string.h>

/* Who is to be placed, what is alike, and how each group fits each spot. */

/* --- plants ------------------------------------------------------------- */

static int
standing_by_id (gconstpointer pa, gconstpointer pb)
{
  const DewThing *a = *(const DewThing *const *) pa, *b = *(const DewThing *const *) pb;

  return a->id < b->id ? -1 : a->id > b->id;
}

static int
wish_by_id (gconstpointer pa, gconstpointer pb)
{
  const DewWish *a = *(const DewWish *const *) pa, *b = *(const DewWish *const *) pb;

  return a->id < b->id ? -1 : a->id > b->id;
}

static void
collect_standing (DewAssignJob *job, GArray *fits, GArray *keeps)
{
  g_autoptr (GPtrArray) standing = g_ptr_array_new ();

  for (guint i = 0; i < job->variant->things->len; i++)
    {
      DewThing *thing = &g_array_index (job->variant->things, DewThing, i);

      if (thing->kind == DEW_THING_PLANT)
        g_ptr_array_add (standing, thing);
    }
  g_ptr_array_sort (standing, standing_by_id);
  for (guint i = 0; i < standing->len; i++)
    {
      const DewThing *thing = g_ptr_array_index (standing, i);
      DewAssignPlant plant = { .thing_id = thing->id, .group = -1, .bay = -1, .spot = -1 };
      gboolean keep = thing->plant.keep_place || job->options->keep_standing;
      DewFitPlant fit;

      g_strlcpy (plant.name, thing->name, sizeof plant.name);
      plant.at_m[0] = thing->plant.x_m;
      plant.at_m[1] = thing->plant.y_m;
      plant.at_m[2] = thing->plant.z_m;
      dew_fit_plant_of_thing (job->variant, thing, job->options->lookup, job->options->lookup_data,
                              &fit);
      g_array_append_val (job->plants, plant);
      g_array_append_val (fits, fit);
      g_array_append_val (keeps, keep);
    }
}

static void
collect_wishes (DewAssignJob *job, GArray *fits, GArray *keeps)
{
  g_autoptr (GPtrArray) wishes = g_ptr_array_new ();
  const gboolean keep = FALSE;

  for (guint i = 0; i < job->chamber->wishes->len; i++)
    g_ptr_array_add (wishes, &g_array_index (job->chamber->wishes, DewWish, i));
  g_ptr_array_sort (wishes, wish_by_id);
  for (guint i = 0; i < wishes->len; i++)
    {
      const DewWish *wish = g_ptr_array_index (wishes, i);
      DewFitPlant fit;

      dew_fit_plant_of_wish (wish, job->options->lookup, job->options->lookup_data, &fit);
      for (int k = 0; k < wish->count && job->plants->len <= DEW_ASSIGN_PLANTS_MAX; k++)
        {
          DewAssignPlant plant = { .wish_id = wish->id,
                                   .number = k,
                                   .group = -1,
                                   .bay = -1,
                                   .spot = -1,
                                   .at_m = { NAN, NAN, NAN } };

          g_strlcpy (plant.name, wish->name[0] ? wish->name : wish->species, sizeof plant.name);
          g_array_append_val (job->plants, plant);
          g_array_append_val (fits, fit);
          g_array_append_val (keeps, keep);
        }
    }
}

void
dew_assign_collect (DewAssignJob *job, GArray *fits, GArray *keeps)
{
  collect_standing (job, fits, keeps);
  collect_wishes (job, fits, keeps);
}

DewAssignPlant *
dew_assign_plant (const DewAssignJob *job, int i)
{
  return &g_array_index (job->plants, DewAssignPlant, i);
}

static const char *
species_of (const DewAssignJob *job, int i)
{
  const DewAssignPlant *plant = dew_assign_plant (job, i);

  return plant->thing_id ? dew_variant_thing (job->variant, plant->thing_id)->plant.species
                         : dew_chamber_wish (job->chamber, plant->wish_id)->species;
}

/* --- groups ------------------------------------------------------------- */

static int
real_order (double a, double b)
{
  return a < b ? -1 : a > b;
}

/* By what makes plants alike and nothing else, so that the order of things and wishes does
 * not matter. */
static int
kind_order (gconstpointer pa, gconstpointer pb, gpointer data)
{
  const DewAssignJob *job = data;
  int i = *(const int *) pa, j = *(const int *) pb;
  const DewFitPlant *a = &job->fit[i], *b = &job->fit[j];
  int order
    = (dew_assign_plant (job, j)->thing_id != 0) - (dew_assign_plant (job, i)->thing_id != 0);

  if (order == 0)
    order = strcmp (species_of (job, i), species_of (job, j));
  if (order == 0)
    order = a->state - b->state;
  if (order == 0)
    order = real_order (a->width_m, b->width_m);
  if (order == 0)
    order = real_order (a->height_m, b->height_m);
  if (order == 0)
    order = real_order (a->pot_diameter_m, b->pot_diameter_m);
  if (order == 0)
    order = real_order (a->rise_m, b->rise_m);
  if (order == 0)
    order = real_order (a->mass_kg, b->mass_kg);
  return order;
}

static int
group_order (gconstpointer pa, gconstpointer pb, gpointer data)
{
  int order = kind_order (pa, pb, data);

  return order != 0 ? order : *(const int *) pa - *(const int *) pb;
}

static void
fill_table (DewAssignJob *job, DewAssignGroup *group)
{
  DewAssignment *result = job->result;

  group->score = g_new (gint16, result->n_spots);
  group->out = g_new0 (guint32, result->n_spots);
  for (int s = 0; s < result->n_spots; s++)
    {
      const DewAssignSpot *spot = &result->spots[s];
      double at_m[3];
      gboolean taken;
      DewFit fit;

      group->score[s] = -1;
      /* First, plants as wide as a place stand on places, not between them. */
      if (job->cells > 0 && group->span[0] == job->cells && spot->column % job->cells != 0)
        continue;
      if (job->cells > 0 && group->span[1] == job->cells && spot->row % job->cells != 0)
        continue;
      if (!dew_assign_fit_at (job, &group->plant, group->span, s, &fit, at_m, &taken))
        continue;
      group->score[s] = (gint16) fit.score;
      group->out[s] = fit.out | (taken ? DEW_ASSIGN_TAKEN : 0);
    }
}

void
dew_assign_group (DewAssignJob *job)
{
  DewAssignment *result = job->result;
  g_autoptr (GArray) order = g_array_new (FALSE, FALSE, sizeof (int));
  GArray *groups = g_array_new (FALSE, TRUE, sizeof (DewAssignGroup));

  for (int i = 0; i < (int) job->plants->len; i++)
    if (!job->keep[i])
      g_array_append_val (order, i);
  g_array_sort_with_data (order, group_order, job);
  for (guint k = 0; k < order->len; k++)
    {
      int i = g_array_index (order, int, k);
      DewAssignGroup *group;

      if (k == 0 || kind_order (&g_array_index (order, int, k - 1), &i, job) != 0)
        {
          g_array_set_size (groups, groups->len + 1);
          group = &g_array_index (groups, DewAssignGroup, groups->len - 1);
          group->plant = job->fit[i];
          group->standing = dew_assign_plant (job, i)->thing_id != 0;
          g_strlcpy (group->species, species_of (job, i), sizeof group->species);
          g_strlcpy (group->name, dew_assign_plant (job, i)->name, sizeof group->name);
          group->weight = group->plant.state == DEW_PLANT_WEAK ? 2 : 1;
          group->priority
            = group->standing ? DEW_ASSIGN_PRIORITY_STANDING : DEW_ASSIGN_PRIORITY_WISH;
          dew_assign_span (result, &group->plant, group->span);
          fill_table (job, group);
        }
      group = &g_array_index (groups, DewAssignGroup, groups->len - 1);
      group->count++;
      dew_assign_plant (job, i)->group = (int) groups->len - 1;
    }
  result->n_groups = (int) groups->len;
  result->groups = (DewAssignGroup *) g_array_free (groups, FALSE);
}

int
dew_assign_value (const DewAssignGroup *group, int score, guint32 out)
{
  int value = group->priority + group->weight * score;

  if (score < 0)
    return 0;
  if (out == 0)
    return value;
  return group->standing && (out & ~DEW_ASSIGN_AIR_DEMANDS) == 0 ? value - DEW_ASSIGN_SUFFERING : 0;
}

void
dew_assign_find_stays (DewAssignJob *job)
{
  DewAssignment *result = job->result;
  GArray *stays = g_array_new (FALSE, TRUE, sizeof (DewAssignStay));
  g_autofree double *load_kg = g_new0 (double, result->n_bays);

  for (int i = 0; i < (int) job->plants->len; i++)
    {
      const DewAssignPlant *plant = dew_assign_plant (job, i);
      DewAssignStay stay = { .plant = i };
      DewFit fit;
      int moving;

      if (job->keep[i] || plant->thing_id == 0
          || !dew_assign_covers (job, &job->fit[i], plant->at_m, &stay.bay, stay.first, stay.span))
        continue;
      dew_assign_fit_here (job, &job->fit[i], plant->at_m, stay.bay, &fit);
      stay.score = fit.score;
      stay.out = fit.out;
      /* One that suffers is moved for little. It stands there, whatever it lacks: that is always
       * a choice. */
      moving = fit.out != 0 ? MIN (job->moving, DEW_ASSIGN_MOVING_LEAST) : job->moving;
      stay.value = result->groups[plant->group].priority
                   + result->groups[plant->group].weight * fit.score + moving
                   - (fit.out != 0 ? DEW_ASSIGN_SUFFERING : 0);
      load_kg[stay.bay] += job->fit[i].mass_kg;
      result->stay_value += stay.value;
      g_array_append_val (stays, stay);
    }
  for (int b = 0; b < result->n_bays; b++)
    result->bays[b].load_left_kg = MAX (result->bays[b].load_left_kg, load_kg[b]);
  result->n_stays = (int) stays->len;
  result->stays = (DewAssignStay *) g_array_free (stays, FALSE);
}
