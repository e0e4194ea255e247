/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/assign/assign-private.h"

#include <glib/gi18n.h>
#include <math.h>

/* What an assignment says to people. */

static void
put (char *to, gsize size, const char *text)
{
  const char *end;

  g_strlcpy (to, text ? text : "", size);
  if (!g_utf8_validate (to, -1, &end))
    to[end - to] = '\0';
}

/* --- where --------------------------------------------------------------- */

static char *
level_words (const DewAssignment *result, int bay)
{
  static const char *const shelves[]
    = { N_ ("lowest shelf"), N_ ("second shelf"), N_ ("third shelf"),
        N_ ("fourth shelf"), N_ ("fifth shelf"),  N_ ("sixth shelf") };
  int shelf = 0;

  if (result->bays[bay].shelf_id == 0)
    return g_strdup (_ ("floor"));
  for (int b = 0; b <= bay; b++)
    shelf += result->bays[b].shelf_id != 0;
  if (shelf <= (int) G_N_ELEMENTS (shelves))
    return g_strdup (_ (shelves[shelf - 1]));
  return g_strdup_printf (_ ("shelf %d"), shelf);
}

char *
dew_assign_where (const DewAssignment *assignment, const DewAssignPlant *plant)
{
  static const char *const corners[3][3] = {
    { N_ ("left front"), N_ ("middle front"), N_ ("right front") },
    { N_ ("left"), N_ ("middle"), N_ ("right") },
    { N_ ("left back"), N_ ("middle back"), N_ ("right back") },
  };
  g_autofree char *level = NULL;
  const DewAssignSpot *last;
  int third[2];

  g_return_val_if_fail (assignment != NULL && plant != NULL, NULL);

  if (plant->bay < 0)
    return g_strdup (_ ("without a place"));
  last = &assignment->spots[assignment->n_spots - 1];
  for (int a = 0; a < 2; a++)
    third[a] = CLAMP ((int) floor (3.0 * plant->at_m[a] / last->hi_m[a]), 0, 2);
  level = level_words (assignment, plant->bay);
  /* Translators: as "second shelf, left front". */
  return g_strdup_printf (_ ("%s, %s"), level, _ (corners[third[1]][third[0]]));
}

char *
dew_assign_proof_words (const DewAssignment *assignment)
{
  g_return_val_if_fail (assignment != NULL, NULL);

  if (assignment->proven)
    return g_strdup (_ ("Proven: no other arrangement is better."));
  return g_strdup_printf (_ ("Within %.1f %% of the best there can be; then the time was up."),
                          MAX (0.1, ceil (1000.0 * assignment->gap) / 10.0));
}

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

static char *
too_wide (const DewAssignJob *job, const DewAssignGroup *group)
{
  const DewAssignment *result = job->result;
  double short_m = 0.0;
  gboolean imperial = job->options->imperial;

  for (int a = 0; a < 2; a++)
    {
      int most = a == 0 ? result->spots_across : result->spots_deep;

      if (group->span[a] > most)
        short_m = MAX (short_m, group->plant.width_m - job->day->inner_m[a]);
    }
  /* Translators: %.0f is a number, as in "a shelf 12 cm larger". */
  return imperial ? g_strdup_printf (_ ("a shelf %.0f in larger"), ceil (short_m / 0.0254))
                  : g_strdup_printf (_ ("a shelf %.0f cm larger"), ceil (100.0 * short_m));
}

static void
say_nowhere (DewAssignJob *job, DewAssignPlant *plant, const DewAssignGroup *group)
{
  gboolean imperial = job->options->imperial, has_other, any_block;
  g_autofree char *first = NULL, *second = NULL, *both = NULL;
  DewFit other;

  if (!nearest_fits (job, group, &plant->fit, &other, &has_other, &any_block))
    {
      first = any_block ? g_strdup (_ ("room that nothing else stands on")) : too_wide (job, group);
      put (plant->words, sizeof plant->words,
           any_block ? _ ("Everything large enough for it is taken for good.")
                     : _ ("Wider than any shelf."));
      put (plant->needs, sizeof plant->needs, first);
      return;
    }
  g_free (first);
  first = dew_fit_needs (&plant->fit, plant->fit.out, imperial);
  if (has_other)
    second = dew_fit_needs (&other, other.out, imperial);
  if (first != NULL && second != NULL)
    {
      /* Translators: two ways out: "3 K cooler nights, or a place with 12 cm more height". */
      both = g_strdup_printf (_ ("%s, or %s"), first, second);
      put (plant->needs, sizeof plant->needs, both);
    }
  else
    put (plant->needs, sizeof plant->needs, first);
  g_free (both);
  both = dew_fit_words (&plant->fit, imperial);
  put (plant->words, sizeof plant->words, both);
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
say_apart (DewAssignJob *job, DewAssignPlant *plant, const DewAssignGroup *group)
{
  const DewAssignment *result = job->result;
  gboolean imperial = job->options->imperial;
  g_autofree char *words = NULL, *needs = NULL;
  double least = INFINITY;

  if (group->plant.state != DEW_PLANT_ARRIVED)
    {
      put (plant->words, sizeof plant->words,
           _ ("Only the shelf that the new plants have to themselves would do."));
      put (plant->needs, sizeof plant->needs, _ ("the new plants in another room"));
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
  put (plant->words, sizeof plant->words,
       _ ("New plants stand apart, at the bottom, and there it does not do."));
  if (isfinite (least))
    needs = dew_fit_needs (&plant->fit, plant->fit.out, imperial);
  if (needs != NULL)
    /* Translators: %s as in "3 K cooler nights". */
    words = g_strdup_printf (_ ("another room for the first weeks, or down there %s"), needs);
  else
    words = g_strdup (_ ("another room for the first weeks, or a shelf below all others"));
  put (plant->needs, sizeof plant->needs, words);
}

/* A plant for which others leave no room: where it would do, and instead of whom. */
static void
say_crowded (DewAssignJob *job, DewAssignPlant *plant, const DewAssignGroup *group)
{
  const DewAssignment *result = job->result;
  const DewAssignPlant *instead = NULL;
  int least = G_MAXINT, at = -1;
  g_autofree char *needs = NULL, *where = NULL;
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
          instead = one;
        }
    }
  if (at < 0)
    {
      say_apart (job, plant, group);
      return;
    }
  dew_assign_fit_at (job, &group->plant, group->span, at, &plant->fit, at_m, &taken);
  where = level_words (result, result->spots[at].bay);
  /* Translators: the first %s is a shelf, as in "second shelf" or "floor", from the list
   * of these words; the last %s of the first sentence is the name of a plant. */
  if (instead != NULL)
    needs = g_strdup_printf (_ ("room: it would do on the %s instead of %s"), where, instead->name);
  else
    needs = g_strdup_printf (_ ("room, or less weight, on the %s"), where);
  put (plant->needs, sizeof plant->needs, needs);
  put (plant->words, sizeof plant->words, _ ("It would do here, but others need the places more."));
}

/* --- notes about the whole ------------------------------------------------ */

/* At most so many names, then how many more. */
static char *
names_of (const DewAssignment *result, DewAssignVerdict verdict, int *n)
{
  const int most = 4;
  GString *names = g_string_new (NULL);
  int more;

  *n = 0;
  for (int i = 0; i < result->n_plants; i++)
    if (result->plants[i].verdict == verdict && (*n)++ < most)
      /* Translators: stands between the names of a list. */
      g_string_append_printf (names, "%s%s", names->len ? _ (", ") : "", result->plants[i].name);
  more = *n - most;
  if (more > 0)
    /* Translators: after a list of names. */
    g_string_append_printf (names, ngettext (" and %d more", " and %d more", more), more);
  return g_string_free (names, FALSE);
}

static void
note_left_out (DewAssignment *result)
{
  int n_crowded, n_nowhere;
  g_autofree char *crowded = names_of (result, DEW_ASSIGN_CROWDED, &n_crowded);
  g_autofree char *nowhere = names_of (result, DEW_ASSIGN_NOWHERE, &n_nowhere);

  if (n_crowded > 0)
    g_ptr_array_add (
      result->notes,
      g_strdup_printf (ngettext ("There is no room for %d plant. The wish to give up, or to make "
                                 "room for: %s.",
                                 "There is no room for %d plants. The wishes to give up, or to "
                                 "make room for: %s.",
                                 n_crowded),
                       n_crowded, crowded));
  if (n_nowhere > 0)
    g_ptr_array_add (result->notes,
                     g_strdup_printf (ngettext ("%d plant fits nowhere here: %s.",
                                                "%d plants fit nowhere here: %s.", n_nowhere),
                                      n_nowhere, nowhere));
}

static void
note_kinds (const DewAssignJob *job)
{
  DewAssignment *result = job->result;
  int unknown = 0, contradictory = 0;

  for (int i = 0; i < result->n_plants; i++)
    {
      const DewPlantKind *kind = &job->fit[i].kind;

      unknown += !job->fit[i].known;
      contradictory += kind->t_day_min_C > kind->t_day_max_C
                       || kind->t_night_min_C > kind->t_night_max_C || kind->rh_min > kind->rh_max
                       || kind->speed_lo_m_s > kind->speed_hi_m_s
                       || kind->ppfd_lo_mol_m2s > kind->ppfd_hi_mol_m2s;
    }
  if (unknown > 0)
    g_ptr_array_add (
      result->notes,
      g_strdup_printf (ngettext ("The kind of %d plant is not known; only its room and weight "
                                 "were looked at.",
                                 "The kinds of %d plants are not known; only their room and "
                                 "weight were looked at.",
                                 unknown),
                       unknown));
  if (contradictory > 0)
    g_ptr_array_add (
      result->notes,
      g_strdup_printf (ngettext ("What %d plant wants contradicts itself: a least above its most. "
                                 "Mend its kind.",
                                 "What %d plants want contradicts itself: a least above a most. "
                                 "Mend their kinds.",
                                 contradictory),
                       contradictory));
}

static void
note_kept (DewAssignment *result)
{
  for (int i = 0; i < result->n_plants; i++)
    {
      const DewAssignPlant *plant = &result->plants[i];

      if (plant->verdict == DEW_ASSIGN_KEPT && plant->fit.out != 0)
        g_ptr_array_add (result->notes,
                         g_strdup_printf (_ ("%s keeps its place, where it will not do well."),
                                          plant->name));
    }
}

static void
note_new (const DewAssignJob *job)
{
  gboolean any = FALSE;

  for (int i = 0; i < job->result->n_plants; i++)
    any |= job->fit[i].state == DEW_PLANT_ARRIVED
           && job->result->plants[i].verdict != DEW_ASSIGN_KEPT && job->result->plants[i].bay >= 0;
  if (any)
    g_ptr_array_add (job->result->notes,
                     g_strdup (_ ("New plants stand apart, below all others, so that nothing drips "
                                  "or falls from them. The air is shared all the same: another "
                                  "room is safer, for three to six weeks.")));
}

/* --- each plant ------------------------------------------------------------ */

void
dew_assign_explain (DewAssignJob *job)
{
  DewAssignment *result = job->result;
  gboolean imperial = job->options->imperial;

  for (int i = 0; i < result->n_plants; i++)
    {
      DewAssignPlant *plant = &result->plants[i];
      g_autofree char *words = NULL, *needs = NULL;

      switch (plant->verdict)
        {
        case DEW_ASSIGN_NOWHERE:
          say_nowhere (job, plant, &result->groups[plant->group]);
          break;
        case DEW_ASSIGN_CROWDED:
          say_crowded (job, plant, &result->groups[plant->group]);
          break;
        case DEW_ASSIGN_KEPT:
        case DEW_ASSIGN_PLACED:
        case DEW_ASSIGN_SUFFERS:
        default:
          words = plant->bay < 0 ? g_strdup (_ ("It stands outside the shelves."))
                                 : dew_fit_words (&plant->fit, imperial);
          needs = dew_fit_needs (&plant->fit, plant->fit.out, imperial);
          put (plant->words, sizeof plant->words, words);
          put (plant->needs, sizeof plant->needs, needs);
          break;
        }
    }
  note_left_out (result);
  note_kinds (job);
  note_kept (result);
  note_new (job);
}
