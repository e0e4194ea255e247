/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/assign/assign-private.h"
#include "geometry/geometry.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define PROOF_S 10.0
#define FIRST_SHARE 0.6 /* of the time for the answer that is offered first */
#define PLACE_CELLS 2   /* to a place's side, before plants are tried more closely */

G_DEFINE_QUARK (dew - assign - error - quark, dew_assign_error)

void
dew_assign_options_init (DewAssignOptions *options)
{
  g_return_if_fail (options != NULL);

  *options = (DewAssignOptions){ .seconds = PROOF_S, .moving = DEW_ASSIGN_MOVING };
}

/* --- the problem and its quarantine -------------------------------------- */

static gboolean
is_arrived (const DewAssignGroup *group)
{
  return group->plant.state == DEW_PLANT_ARRIVED;
}

/* A choice is tagged with its left front spot, or, below zero, with a plant's stay where it is.
 * Its own inverse. */
static int
stay_tag (int stay)
{
  return -1 - stay;
}

static GArray *
make_choices (const DewAssignment *result, int quarantine_bays)
{
  GArray *choices = g_array_new (FALSE, FALSE, sizeof (DewPackingChoice));

  for (int g = 0; g < result->n_groups; g++)
    {
      const DewAssignGroup *group = &result->groups[g];

      for (int s = 0; s < result->n_spots; s++)
        {
          const DewAssignSpot *spot = &result->spots[s];
          int value = dew_assign_value (group, group->score[s], group->out[s]);

          if (value > 0 && (spot->bay < quarantine_bays) == is_arrived (group))
            g_array_append_val (choices, ((DewPackingChoice){ g,
                                                              value,
                                                              spot->bay,
                                                              { spot->column, spot->row },
                                                              { group->span[0], group->span[1] },
                                                              group->plant.mass_kg,
                                                              s }));
        }
    }
  for (int y = 0; y < result->n_stays; y++)
    {
      const DewAssignStay *stay = &result->stays[y];
      int g = result->plants[stay->plant].group;
      gboolean apart = (stay->bay < quarantine_bays) == is_arrived (&result->groups[g]);

      g_array_append_val (choices,
                          ((DewPackingChoice){ g,
                                               stay->value - (apart ? 0 : DEW_ASSIGN_SUFFERING),
                                               stay->bay,
                                               { stay->first[0], stay->first[1] },
                                               { stay->span[0], stay->span[1] },
                                               result->groups[g].plant.mass_kg,
                                               stay_tag (y),
                                               TRUE }));
    }
  return choices;
}

/* The least and the most bays, from the floor up, that kept plants leave to the new ones. */
static void
quarantine_range (const DewAssignJob *job, int *least, int *most, gboolean *any)
{
  const DewAssignment *result = job->result;

  *least = 0;
  *most = result->n_bays;
  *any = FALSE;
  for (int i = 0; i < (int) job->plants->len; i++)
    {
      gboolean arrived = job->fit[i].state == DEW_PLANT_ARRIVED;
      int bay, first[2], span[2];

      *any |= arrived;
      if (!job->keep[i]
          || !dew_assign_covers (job, &job->fit[i], dew_assign_plant (job, i)->at_m, &bay, first,
                                 span))
        continue;
      if (arrived)
        *least = MAX (*least, bay + 1);
      else
        *most = MIN (*most, bay);
    }
  if (!*any)
    *most = 0;
}

static gboolean
solve (DewAssignJob *job, double seconds, gint64 floor_value, GCancellable *cancellable,
       GArray **choices, DewPackingSolution *best)
{
  DewAssignment *result = job->result;
  g_autofree guint8 *taken = g_new0 (guint8, result->n_spots);
  g_autofree double *load_kg = g_new (double, result->n_bays);
  g_autofree int *count = g_new0 (int, result->n_groups + 1);
  gint64 end_us = g_get_monotonic_time () + (gint64) (1e6 * seconds);
  int least, most;
  gboolean any;

  quarantine_range (job, &least, &most, &any);
  if (least > most)
    {
      /* Kept plants contradict each other: without a quarantine. */
      result->new_among_others = TRUE;
      least = most = 0;
    }
  result->quarantine_range[0] = least;
  result->quarantine_range[1] = most;
  for (int s = 0; s < result->n_spots; s++)
    taken[s] = result->spots[s].blocked;
  for (int b = 0; b < result->n_bays; b++)
    load_kg[b] = result->bays[b].load_left_kg;
  for (int g = 0; g < result->n_groups; g++)
    count[g] = result->groups[g].count;

  *best = (DewPackingSolution){ .value = floor_value, .bound = 0.0, .proven = TRUE };
  result->ceiling = 0.0;
  *choices = NULL;
  /* The lowest bay alone is the likeliest quarantine: what it is worth cuts the others. */
  for (int n = 0; n <= most - least; n++)
    {
      int first = CLAMP (1, least, most);
      int k = n == 0 ? first : n - 1 + least < first ? n - 1 + least : n + least;
      GArray *these = make_choices (result, k);
      const DewPackingProblem problem = {
        result->n_bays,
        result->spots_across,
        result->spots_deep,
        taken,
        load_kg,
        result->n_groups,
        count,
        (int) these->len,
        (DewPackingChoice *) these->data,
      };
      DewPackingSolution solution = { 0 };
      double left_s = (end_us - g_get_monotonic_time ()) / 1e6;
      gboolean went_on
        = dew_packing_solve (&problem, MAX (left_s, 0.02), best->value, cancellable, &solution);

      best->proven &= solution.proven;
      best->bound = MAX (best->bound, solution.bound);
      result->ceiling = MAX (result->ceiling, solution.ceiling);
      if (solution.value > best->value)
        {
          g_free (best->chosen);
          best->chosen = g_steal_pointer (&solution.chosen);
          best->value = solution.value;
          if (*choices != NULL)
            g_array_unref (*choices);
          *choices = g_array_ref (these);
          result->quarantine_bays = k;
        }
      g_free (solution.chosen);
      g_array_unref (these);
      if (!went_on)
        return FALSE;
    }
  if (best->proven)
    best->bound = MAX (best->value, 0);
  return TRUE;
}

/* --- from choices to plants ---------------------------------------------- */

static double
way_m (const DewAssignPlant *plant, const double at_m[3])
{
  double sum = 0.0;

  if (plant->thing_id == 0)
    return 0.0;
  for (int a = 0; a < 3; a++)
    sum += (plant->at_m[a] - at_m[a]) * (plant->at_m[a] - at_m[a]);
  return sqrt (sum);
}

/* Which plant of the group takes the place: the one that stands nearest, then the first. */
static DewAssignPlant *
nearest_of_group (DewAssignJob *job, int group, const double at_m[3])
{
  DewAssignPlant *best = NULL;
  double best_m = INFINITY;

  for (int i = 0; i < job->result->n_plants; i++)
    {
      DewAssignPlant *plant = &job->result->plants[i];

      if (plant->group == group && plant->bay < 0 && way_m (plant, at_m) < best_m)
        {
          best = plant;
          best_m = way_m (plant, at_m);
        }
    }
  return best;
}

static void
place (DewAssignJob *job, const GArray *choices, const DewPackingSolution *solution)
{
  DewAssignment *result = job->result;

  /* Who stays first, so that nobody takes their name. */
  for (int pass = 0; pass < 2; pass++)
    for (guint c = 0; choices != NULL && c < choices->len; c++)
      {
        const DewPackingChoice *choice = &g_array_index (choices, DewPackingChoice, c);
        const DewAssignGroup *group = &result->groups[choice->group];
        DewAssignPlant *plant;
        double at_m[3];
        gboolean taken;
        DewFit fit;

        if (!solution->chosen[c] || (choice->tag < 0) != (pass == 0))
          continue;
        if (choice->tag < 0)
          {
            plant = &result->plants[result->stays[stay_tag (choice->tag)].plant];
            plant->stays = TRUE;
            dew_assign_fit_here (job, &group->plant, plant->at_m, choice->bay, &plant->fit);
          }
        else
          {
            dew_assign_fit_at (job, &group->plant, group->span, choice->tag, &fit, at_m, &taken);
            plant = nearest_of_group (job, choice->group, at_m);
            plant->fit = fit;
            plant->spot = choice->tag;
            memcpy (plant->at_m, at_m, sizeof at_m);
          }
        plant->bay = choice->bay;
        plant->value = choice->value;
        plant->verdict = plant->fit.out == 0 ? DEW_ASSIGN_PLACED : DEW_ASSIGN_SUFFERS;
      }
}

static void
place_kept (DewAssignJob *job)
{
  for (int i = 0; i < job->result->n_plants; i++)
    {
      DewAssignPlant *plant = &job->result->plants[i];
      int first[2], span[2];

      if (!job->keep[i])
        continue;
      plant->verdict = DEW_ASSIGN_KEPT;
      plant->stays = TRUE;
      plant->fit = (DewFit){ 0 };
      if (dew_assign_covers (job, &job->fit[i], plant->at_m, &plant->bay, first, span))
        dew_assign_fit_here (job, &job->fit[i], plant->at_m, plant->bay, &plant->fit);
    }
}

/* Bays that no new plant came to stand in are nobody's. */
static void
mark_quarantine (DewAssignJob *job)
{
  DewAssignment *result = job->result;
  gboolean any = FALSE;

  for (int i = 0; i < result->n_plants; i++)
    any |= job->fit[i].state == DEW_PLANT_ARRIVED && result->plants[i].bay >= 0;
  if (!any)
    result->quarantine_bays = 0;
  for (int b = 0; b < result->n_bays; b++)
    result->bays[b].quarantine = b < result->quarantine_bays;
}

/* A plant without a place: some places would do, or none. */
static void
leave_out (DewAssignJob *job)
{
  for (int i = 0; i < job->result->n_plants; i++)
    {
      DewAssignPlant *plant = &job->result->plants[i];
      const DewAssignGroup *group;

      if (job->keep[i] || plant->bay >= 0)
        continue;
      group = &job->result->groups[plant->group];
      plant->verdict = DEW_ASSIGN_NOWHERE;
      for (int s = 0; s < job->result->n_spots; s++)
        if (group->score[s] >= 0 && group->out[s] == 0)
          plant->verdict = DEW_ASSIGN_CROWDED;
    }
}

static void
count_up (DewAssignJob *job)
{
  DewAssignment *result = job->result;
  double now = 0.0, then = 0.0;
  int n = 0;

  for (int i = 0; i < result->n_plants; i++)
    {
      const DewAssignPlant *plant = &result->plants[i];
      gboolean apart
        = (plant->bay < result->quarantine_bays) == (job->fit[i].state == DEW_PLANT_ARRIVED);

      result->n_kept += plant->verdict == DEW_ASSIGN_KEPT;
      result->n_placed += plant->verdict == DEW_ASSIGN_PLACED;
      result->n_suffer += plant->verdict == DEW_ASSIGN_SUFFERS
                          || (plant->verdict == DEW_ASSIGN_KEPT && plant->fit.out != 0);
      result->n_without
        += plant->verdict == DEW_ASSIGN_CROWDED || plant->verdict == DEW_ASSIGN_NOWHERE;
      result->n_moves += plant->thing_id != 0 && plant->bay >= 0 && !plant->stays;
      result->n_new += plant->wish_id != 0 && plant->bay >= 0;
      result->new_among_others |= plant->stays && plant->bay >= 0 && !apart;
    }
  for (int y = 0; y < result->n_stays; y++)
    {
      const DewAssignPlant *plant = &result->plants[result->stays[y].plant];

      now += result->stays[y].score;
      then += plant->bay >= 0 ? plant->fit.score : 0;
      n++;
    }
  result->mean_now = n > 0 ? now / n : NAN;
  result->mean_then = n > 0 ? then / n : NAN;
}

/* --- the whole ----------------------------------------------------------- */

static gboolean
belongs (const DewChamber *chamber, const DewVariant *variant, const DewForecast *forecast)
{
  g_autofree double *z_m = NULL;
  g_autofree guint *shelf_id = NULL;
  double inner_m[3];
  int n = dew_variant_bays (chamber, variant, &z_m, &shelf_id);

  dew_chamber_inner_m (chamber, inner_m);
  if (n != forecast->n_bays)
    return FALSE;
  for (int a = 0; a < 3; a++)
    if (fabs (inner_m[a] - forecast->inner_m[a]) > 1e-6)
      return FALSE;
  for (int b = 0; b < n; b++)
    if (shelf_id[b] != forecast->bays[b].shelf_id || fabs (z_m[b] - forecast->bays[b].z0_m) > 1e-6)
      return FALSE;
  return TRUE;
}

static gboolean
check_number (guint n, GError **error)
{
  if (n == 0)
    g_set_error_literal (error, DEW_ASSIGN_ERROR, DEW_ASSIGN_ERROR_NO_PLANTS,
                         _ ("There is no plant to find a place for. Put plants into the "
                            "enclosure or on the list of wishes."));
  else if (n > DEW_ASSIGN_PLANTS_MAX)
    g_set_error (error, DEW_ASSIGN_ERROR, DEW_ASSIGN_ERROR_TOO_MANY,
                 _ ("There are more than %d plants. Ask for fewer of them."),
                 DEW_ASSIGN_PLANTS_MAX);
  return n > 0 && n <= DEW_ASSIGN_PLANTS_MAX;
}

gboolean
dew_assign_check_plants (const DewChamber *chamber, const DewVariant *variant, GError **error)
{
  guint n = 0;

  g_return_val_if_fail (chamber != NULL && variant != NULL, FALSE);

  for (guint i = 0; i < variant->things->len; i++)
    n += g_array_index (variant->things, DewThing, i).kind == DEW_THING_PLANT;
  for (guint i = 0; i < chamber->wishes->len; i++)
    n += (guint) g_array_index (chamber->wishes, DewWish, i).count;
  return check_number (n, error);
}

static gboolean
check_input (const DewAssignJob *job, GError **error)
{
  if (!check_number (job->plants->len, error))
    return FALSE;
  if (job->day->n_places == 0)
    g_set_error_literal (error, DEW_ASSIGN_ERROR, DEW_ASSIGN_ERROR_NO_PLACES,
                         _ ("There is no place on which a plant could stand. Make room on a shelf "
                            "or on the floor."));
  else
    return TRUE;
  return FALSE;
}

/* Room for anything at all: a spot with nothing on it and a hand's breadth of height. */
static gboolean
has_room (const DewAssignment *result)
{
  for (int s = 0; s < result->n_spots; s++)
    if (!result->spots[s].blocked && result->spots[s].clear_m > 0.01)
      return TRUE;
  return FALSE;
}

static void
read_air (DewAssignJob *job)
{
  job->air = g_new (DewFitPlace, job->day->n_places);
  for (int p = 0; p < job->day->n_places; p++)
    dew_fit_place_air (job->variant, job->day, job->night, p, &job->air[p]);
}

/* Solves on one grid. floor_value: what is to be passed; when nothing passes it the value of the
 * result is that and nobody has a place. NULL: cancelled. */
static DewAssignment *
attempt (DewAssignJob *job, int cells, double seconds, gint64 floor_value,
         GCancellable *cancellable)
{
  g_autoptr (GArray) choices = NULL;
  g_autoptr (DewAssignment) result = g_new0 (DewAssignment, 1);
  DewPackingSolution solution = { 0 };

  job->result = result;
  job->cells = cells;
  dew_assign_lay_out (job);
  for (int i = 0; i < (int) job->plants->len; i++)
    if (job->keep[i])
      dew_assign_keep (job, i);
  dew_assign_group (job);
  result->n_plants = (int) job->plants->len;
  result->plants = g_memdup2 (job->plants->data, sizeof (DewAssignPlant) * job->plants->len);
  dew_assign_find_stays (job);
  if (!solve (job, seconds, floor_value, cancellable, &choices, &solution))
    {
      g_free (solution.chosen);
      return NULL;
    }
  result->proven = solution.proven;
  result->value = (double) MAX (solution.value, 0);
  result->bound = solution.bound;
  result->gap = (result->bound - result->value) / MAX (1.0, result->value);
  place_kept (job);
  place (job, choices, &solution);
  mark_quarantine (job);
  leave_out (job);
  count_up (job);
  dew_assign_explain (job);
  g_free (solution.chosen);
  return g_steal_pointer (&result);
}

/* Whether every plant has as good a place as there is at all: then no grid could do better. */
static gboolean
all_at_their_best (const DewAssignment *result)
{
  return result->n_without == 0 && result->value >= result->ceiling;
}

/* First on quarters of places, which leaves room between plants; where plants contend for places,
 * on a grid that fits their own sizes. NULL: cancelled. */
static DewAssignment *
answer (DewAssignJob *job, int moving, double seconds, GCancellable *cancellable)
{
  gint64 end_us = g_get_monotonic_time () + (gint64) (1e6 * seconds);
  g_autoptr (DewAssignment) wide = NULL;
  g_autoptr (DewAssignment) close = NULL;

  job->moving = moving;
  wide = attempt (job, PLACE_CELLS, 0.3 * seconds, -1, cancellable);
  if (wide == NULL)
    return NULL;
  wide->at_their_best = all_at_their_best (wide);
  if (wide->at_their_best)
    return g_steal_pointer (&wide);
  close = attempt (job, 0, MAX (0.02, (end_us - g_get_monotonic_time ()) / 1e6),
                   (gint64) wide->value, cancellable);
  if (close == NULL)
    return NULL;
  if (close->value > wide->value)
    {
      close->at_their_best = all_at_their_best (close);
      return g_steal_pointer (&close);
    }
  /* As good with more air between the plants; what the finer grid has proven holds for it. */
  wide->proven = close->proven;
  wide->bound = MAX (close->bound, wide->value);
  wide->gap = (wide->bound - wide->value) / MAX (1.0, wide->value);
  return g_steal_pointer (&wide);
}

/* What the plants get out of it, whatever the moving costs. */
static double
worth (const DewAssignment *result, int moving)
{
  double sum = result->value;

  for (int y = 0; y < result->n_stays; y++)
    if (result->plants[result->stays[y].plant].stays)
      sum -= result->stays[y].out != 0 ? MIN (moving, DEW_ASSIGN_MOVING_LEAST) : moving;
  return sum;
}

/* The arrangement that few moves lead to, with the one that as many lead to as are of use. */
static DewAssignment *
answers (DewAssignJob *job, GCancellable *cancellable)
{
  double seconds = job->options->seconds > 0.0 ? job->options->seconds : PROOF_S;
  int moving = job->options->moving > 0 ? job->options->moving : DEW_ASSIGN_MOVING;
  gint64 end_us = g_get_monotonic_time () + (gint64) (1e6 * seconds);
  g_autoptr (DewAssignment) few = answer (job, moving, FIRST_SHARE * seconds, cancellable);
  g_autoptr (DewAssignment) all = NULL;

  if (few == NULL || few->n_stays == 0 || moving <= DEW_ASSIGN_MOVING_LEAST)
    return g_steal_pointer (&few);
  all = answer (job, DEW_ASSIGN_MOVING_LEAST, MAX (0.02, (end_us - g_get_monotonic_time ()) / 1e6),
                cancellable);
  if (all == NULL)
    return NULL;
  if (all->n_moves > few->n_moves && worth (all, DEW_ASSIGN_MOVING_LEAST) > worth (few, moving))
    few->all_moves = g_steal_pointer (&all);
  return g_steal_pointer (&few);
}

static DewAssignment *
work (DewAssignJob *job, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) fits = g_array_new (FALSE, FALSE, sizeof (DewFitPlant));
  g_autoptr (GArray) keeps = g_array_new (FALSE, FALSE, sizeof (gboolean));
  g_autoptr (DewAssignment) room = NULL;
  DewAssignment *result = NULL;

  dew_assign_collect (job, fits, keeps);
  if (!check_input (job, error))
    return NULL;
  job->fit = (DewFitPlant *) fits->data;
  job->keep = (gboolean *) keeps->data;
  read_air (job);
  job->result = room = g_new0 (DewAssignment, 1);
  job->cells = PLACE_CELLS;
  dew_assign_lay_out (job);
  if (!has_room (room))
    g_set_error_literal (error, DEW_ASSIGN_ERROR, DEW_ASSIGN_ERROR_NO_PLACES,
                         _ ("There is no place on which a plant could stand. Make room on a "
                            "shelf or on the floor."));
  else if ((result = answers (job, cancellable)) == NULL)
    g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _ ("The search was stopped."));
  return result;
}

DewAssignment *
dew_assign_new (const DewChamber *chamber, guint variant_id, const DewForecast *day,
                const DewForecast *night, const DewAssignOptions *options,
                GCancellable *cancellable, GError **error)
{
  DewAssignOptions usual;
  DewAssignJob job = { 0 };
  DewAssignment *result;
  gint64 start_us = g_get_monotonic_time ();

  g_return_val_if_fail (chamber != NULL && day != NULL, NULL);

  dew_assign_options_init (&usual);
  job.chamber = chamber;
  job.variant
    = variant_id ? dew_chamber_variant (chamber, variant_id) : dew_chamber_shown (chamber);
  job.day = day;
  job.night = night;
  job.options = options ? options : &usual;
  if (job.variant == NULL || !belongs (chamber, job.variant, day)
      || (night != NULL
          && (!belongs (chamber, job.variant, night) || night->n_places != day->n_places)))
    {
      g_set_error_literal (error, DEW_ASSIGN_ERROR, DEW_ASSIGN_ERROR_FORECAST,
                           _ ("The forecast is not of this layout. Wait until it has followed."));
      return NULL;
    }
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;

  job.plants = g_array_new (FALSE, FALSE, sizeof (DewAssignPlant));
  result = work (&job, cancellable, error);
  if (result != NULL)
    {
      result->wants
        = dew_wants_new (chamber, job.variant, job.options->lookup, job.options->lookup_data);
      result->seconds = (g_get_monotonic_time () - start_us) / 1e6;
    }
  g_array_unref (job.plants);
  g_free (job.air);
  return result;
}

void
dew_assign_free (DewAssignment *assignment)
{
  if (assignment == NULL)
    return;
  for (int g = 0; g < assignment->n_groups; g++)
    {
      g_free (assignment->groups[g].score);
      g_free (assignment->groups[g].out);
    }
  g_free (assignment->bays);
  g_free (assignment->spots);
  g_free (assignment->groups);
  g_free (assignment->plants);
  g_free (assignment->stays);
  dew_wants_free (assignment->wants);
  dew_assign_free (assignment->all_moves);
  g_free (assignment);
}
