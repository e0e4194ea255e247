/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/assign/assign-private.h"

#include <math.h>

/* Why a plant has the place it has, or none, and what would help. */

/* --- what would help ------------------------------------------------------ */

/* How far a fit is from bearable: its demands that are out, in the measure of each. */
static double
distance (const DewFit *fit)
{
  static const double measure[DEW_N_DEMANDS] = {
    [DEW_DEMAND_T_DAY] = 2.0,    [DEW_DEMAND_T_NIGHT] = 2.0, [DEW_DEMAND_RH_DAY] = 5.0,
    [DEW_DEMAND_RH_NIGHT] = 5.0, [DEW_DEMAND_AIR] = 0.05,    [DEW_DEMAND_LIGHT] = 40.0,
    [DEW_DEMAND_MIST] = 5.0,     [DEW_DEMAND_DRIP] = 0.5,    [DEW_DEMAND_DRYING] = 4.0,
    [DEW_DEMAND_HEIGHT] = 5.0,   [DEW_DEMAND_BOARD] = 2.0,   [DEW_DEMAND_REACH] = 30.0,
    [DEW_DEMAND_WEIGHT] = 1.0,
  };
  double sum = 0.0;

  for (int d = 0; d < DEW_N_DEMANDS; d++)
    if (fit->out & DEW_DEMAND_BIT (d))
      sum += 1.0 - fit->demand[d].margin / measure[d];
  return sum;
}

/* The nearest fit, and the nearest that lacks something else; FALSE when no block fits at
 * all or all are taken. */
static gboolean
nearest_fits (const DewAssignJob *job, const DewAssignGroup *group, DewFit *nearest, DewFit *other,
              gboolean *has_other, gboolean *any_block)
{
  double nearest_away = INFINITY, other_away = INFINITY;

  *any_block = *has_other = FALSE;
  for (int pass = 0; pass < 2; pass++)
    for (int s = 0; s < job->result->n_spots; s++)
      {
        double at_m[3], away;
        gboolean taken;
        DewFit fit;

        if (group->score[s] < 0)
          continue;
        *any_block = TRUE;
        if (group->out[s] & DEW_ASSIGN_TAKEN)
          continue;
        dew_assign_fit_at (job, &group->plant, group->span, s, &fit, at_m, &taken);
        away = distance (&fit);
        if (pass == 0 && away < nearest_away)
          {
            nearest_away = away;
            *nearest = fit;
          }
        /* Another way out must not lack what the first lacks. */
        if (pass == 1 && (fit.out & nearest->out) == 0 && away < other_away)
          {
            other_away = away;
            *other = fit;
            *has_other = TRUE;
          }
      }
  return isfinite (nearest_away);
}

/* By how much it is wider than any shelf. */
static double
too_wide_m (const DewAssignJob *job, const DewAssignGroup *group)
{
  double short_m = 0.0;

  for (int a = 0; a < 2; a++)
    if (group->span[a] > (a == 0 ? job->result->spots_across : job->result->spots_deep))
      short_m = MAX (short_m, group->plant.width_m - job->day->inner_m[a]);
  return short_m;
}

static void
explain_nowhere (DewAssignJob *job, DewAssignPlant *plant, const DewAssignGroup *group)
{
  gboolean has_other, any_block;

  if (!nearest_fits (job, group, &plant->fit, &plant->other, &has_other, &any_block))
    {
      plant->why = any_block ? DEW_ASSIGN_ALL_TAKEN : DEW_ASSIGN_TOO_WIDE;
      plant->short_m = any_block ? 0.0 : too_wide_m (job, group);
    }
  if (!has_other)
    plant->other.out = 0;
}

/* Which plants stand in a block; how much they are worth. */
static int
occupants (const DewAssignment *result, const DewAssignGroup *group, int spot,
           const DewAssignPlant **one)
{
  const DewAssignSpot *corner = &result->spots[spot];
  int worth = 0;

  *one = NULL;
  for (int i = 0; i < result->n_plants; i++)
    {
      const DewAssignPlant *plant = &result->plants[i];
      const DewAssignSpot *its;
      const int *span;

      if (plant->bay != corner->bay || plant->spot < 0)
        {
          if (plant->bay == corner->bay && plant->verdict != DEW_ASSIGN_KEPT)
            worth += plant->value;
          continue;
        }
      its = &result->spots[plant->spot];
      span = result->groups[plant->group].span;
      if (its->column < corner->column + group->span[0] && corner->column < its->column + span[0]
          && its->row < corner->row + group->span[1] && corner->row < its->row + span[1])
        {
          worth += plant->value;
          *one = plant;
        }
    }
  return worth;
}

/* What would do lies on the wrong side of the quarantine. */
static void
explain_apart (DewAssignJob *job, DewAssignPlant *plant, const DewAssignGroup *group)
{
  const DewAssignment *result = job->result;
  double least = INFINITY;

  if (group->plant.state != DEW_PLANT_ARRIVED)
    {
      plant->why = DEW_ASSIGN_FOR_NEW_ONES;
      return;
    }
  for (int s = 0; s < result->n_spots; s++)
    {
      double at_m[3];
      gboolean taken;
      DewFit fit;

      if (group->score[s] < 0 || result->spots[s].bay > 0)
        continue;
      dew_assign_fit_at (job, &group->plant, group->span, s, &fit, at_m, &taken);
      if (!taken && distance (&fit) < least)
        {
          least = distance (&fit);
          plant->fit = fit;
        }
    }
  plant->why = isfinite (least) ? DEW_ASSIGN_NOT_DOWN_THERE : DEW_ASSIGN_NO_ROOM_DOWN_THERE;
}

/* A plant for which others leave no room: where it would do, and instead of whom. */
static void
explain_crowded (DewAssignJob *job, DewAssignPlant *plant, const DewAssignGroup *group)
{
  const DewAssignment *result = job->result;
  int least = G_MAXINT, at = -1;
  double at_m[3];
  gboolean taken;

  for (int s = 0; s < result->n_spots; s++)
    {
      const DewAssignPlant *one;
      int worth;

      if (group->score[s] < 0 || group->out[s] != 0
          || result->bays[result->spots[s].bay].quarantine
               != (group->plant.state == DEW_PLANT_ARRIVED))
        continue;
      worth = occupants (result, group, s, &one);
      if (worth < least)
        {
          least = worth;
          at = s;
          plant->instead = one != NULL ? (int) (one - result->plants) : -1;
        }
    }
  if (at < 0)
    {
      explain_apart (job, plant, group);
      return;
    }
  dew_assign_fit_at (job, &group->plant, group->span, at, &plant->fit, at_m, &taken);
  plant->why = DEW_ASSIGN_OTHERS_FIRST;
  plant->would_bay = result->spots[at].bay;
}

/* --- the whole ------------------------------------------------------------ */

static gboolean
contradicts_itself (const DewPlantKind *kind)
{
  return kind->t_day_min_C > kind->t_day_max_C || kind->t_night_min_C > kind->t_night_max_C
         || kind->rh_min > kind->rh_max || kind->speed_lo_m_s > kind->speed_hi_m_s
         || kind->ppfd_lo_mol_m2s > kind->ppfd_hi_mol_m2s;
}

void
dew_assign_explain (DewAssignJob *job)
{
  DewAssignment *result = job->result;

  for (int i = 0; i < result->n_plants; i++)
    {
      DewAssignPlant *plant = &result->plants[i];
      const DewAssignGroup *group = &result->groups[plant->group];

      plant->why = DEW_ASSIGN_MARGIN;
      plant->would_bay = plant->instead = -1;
      if (plant->verdict == DEW_ASSIGN_NOWHERE)
        explain_nowhere (job, plant, group);
      else if (plant->verdict == DEW_ASSIGN_CROWDED)
        explain_crowded (job, plant, group);
      else if (plant->bay < 0)
        plant->why = DEW_ASSIGN_OUTSIDE;
      result->n_unknown += !job->fit[i].known;
      result->n_contradictory += contradicts_itself (&job->fit[i].kind);
      result->new_apart |= job->fit[i].state == DEW_PLANT_ARRIVED
                           && plant->verdict != DEW_ASSIGN_KEPT && plant->bay >= 0;
    }
}
