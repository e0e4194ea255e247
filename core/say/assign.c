/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/assign.h"

#include "catalogue/catalogue.h"
#include "say/fit.h"
#include "say/wants.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* --- where --------------------------------------------------------------- */

/* Which shelf from below; 0: the floor. */
static int
level_of (const DewAssignment *result, int bay)
{
  int shelf = 0;

  for (int b = 0; result->bays[bay].shelf_id != 0 && b <= bay; b++)
    shelf += result->bays[b].shelf_id != 0;
  return shelf;
}

static char *
level_words (const DewAssignment *result, int bay)
{
  return dew_shelf_words (level_of (result, bay));
}

char *
dew_assign_level (const DewAssignment *assignment, int bay)
{
  g_return_val_if_fail (assignment != NULL && bay < assignment->n_bays, NULL);

  return bay < 0 ? g_strdup (_ ("Without a place")) : dew_shelf_title (level_of (assignment, bay));
}

char *
dew_assign_corner (const DewAssignment *assignment, const DewAssignPlant *plant)
{
  static const char *const corners[3][3] = {
    { N_ ("left front"), N_ ("middle front"), N_ ("right front") },
    { N_ ("left"), N_ ("middle"), N_ ("right") },
    { N_ ("left back"), N_ ("middle back"), N_ ("right back") },
  };
  const DewAssignSpot *last;
  int third[2];

  g_return_val_if_fail (assignment != NULL && plant != NULL, NULL);

  if (plant->bay < 0)
    return NULL;
  last = &assignment->spots[assignment->n_spots - 1];
  for (int a = 0; a < 2; a++)
    third[a] = CLAMP ((int) floor (3.0 * plant->at_m[a] / last->hi_m[a]), 0, 2);
  return g_strdup (_ (corners[third[1]][third[0]]));
}

char *
dew_assign_where (const DewAssignment *assignment, const DewAssignPlant *plant)
{
  g_autofree char *level = NULL;
  g_autofree char *corner = NULL;

  g_return_val_if_fail (assignment != NULL && plant != NULL, NULL);

  if (plant->bay < 0)
    return g_strdup (_ ("without a place"));
  level = level_words (assignment, plant->bay);
  corner = dew_assign_corner (assignment, plant);
  /* Translators: as "second shelf, left front". */
  return g_strdup_printf (_ ("%s, %s"), level, corner);
}

const char *
dew_assign_verdict_word (const DewAssignPlant *plant)
{
  switch (plant->verdict)
    {
    case DEW_ASSIGN_KEPT:
      return _ ("keeps its place");
    case DEW_ASSIGN_PLACED:
      return plant->stays ? _ ("stays") : plant->thing_id != 0 ? _ ("moves") : _ ("comes in");
    case DEW_ASSIGN_SUFFERS:
      return plant->stays ? _ ("stays and suffers: nothing better is free")
                          : _ ("moves, and still suffers: nothing better is free");
    case DEW_ASSIGN_CROWDED:
      return _ ("others need its places more");
    case DEW_ASSIGN_NOWHERE:
    default:
      return _ ("fits nowhere");
    }
}

char *
dew_assign_proof_words (const DewAssignment *assignment)
{
  const DewAssignSpot *spot;

  g_return_val_if_fail (assignment != NULL, NULL);

  if (assignment->at_their_best)
    return g_strdup (_ ("Proven: every plant has as good a place as there is for it here."));
  spot = &assignment->spots[0];
  if (assignment->proven)
    /* Translators: centimetres across and deep. */
    return g_strdup_printf (_ ("Proven for pots on a grid of %.1f by %.1f cm: no arrangement on it "
                               "is better. Pushed closer by hand, a little more may fit."),
                            100.0 * spot->hi_m[0], 100.0 * spot->hi_m[1]);
  return g_strdup_printf (_ ("Within %.1f %% of the best there can be; then the time was up."),
                          MAX (0.1, ceil (1000.0 * assignment->gap) / 10.0));
}

/* --- what to do ----------------------------------------------------------- */

static char *
decision_words (const DewAssignment *a)
{
  int moves = a->n_moves, new = a->n_new;

  if (moves == 0 && new == 0)
    return g_strdup (a->n_stays + a->n_kept > 0 ? _ ("Everything stays where it is.")
                                                : _ ("Nothing can be placed."));
  if (moves == 0)
    return g_strdup_printf (ngettext ("%d plant comes in; none that stands here moves.",
                                      "%d plants come in; none that stands here moves.", new),
                            new);
  if (new == 0)
    /* Translators: how many move, and of how many. */
    return g_strdup_printf (ngettext ("Move %d of %d plants.", "Move %d of %d plants.", moves),
                            moves, a->n_stays + a->n_kept);
  /* Translators: how many move, of how many; then how many come in from the list. */
  return g_strdup_printf (ngettext ("Move %d of %d plants; %d come in from the list.",
                                    "Move %d of %d plants; %d come in from the list.", moves),
                          moves, a->n_stays + a->n_kept, new);
}

/* Whether some plant is outside what it wants by however little. */
static gboolean
any_short (const DewAssignment *a)
{
  for (int i = 0; i < a->n_plants; i++)
    for (int k = 0; k < DEW_N_DEMANDS; k++)
      if (a->plants[i].fit.demand[k].margin < 0.0) /* never of NAN, where nothing is asked */
        return TRUE;
  return FALSE;
}

static char *
summary_words (const DewAssignment *a)
{
  int n = a->n_plants, well = n - a->n_suffer - a->n_without;

  if (well == n && !any_short (a))
    return g_strdup (_ ("Every plant has a place that suits it."));
  if (well == n)
    return g_strdup (
      _ ("Every plant has a place that it bears, though not all get all they want."));
  /* Translators: how many are well placed, and how many there are. */
  return g_strdup_printf (_ ("%d of %d plants have a place that they bear."), well, n);
}

/* Scores are told in points of 100. */
static char *
gain_words (const DewAssignment *a)
{
  if (a->n_moves == 0 || isnan (a->mean_now))
    return NULL;
  /* Translators: two means of a score from 0 to 100. */
  return g_strdup_printf (_ ("How well the plants that stand here fare goes from %.1f to %.1f of "
                             "100 points."),
                          a->mean_now / 10.0, a->mean_then / 10.0);
}

char *
dew_assign_more_words (const DewAssignment *assignment)
{
  const DewAssignment *all = assignment->all_moves;
  double more;

  if (all == NULL)
    return NULL;
  more = (all->mean_then - assignment->mean_then) / 10.0;
  if (all->n_new > assignment->n_new || all->n_without < assignment->n_without)
    return g_strdup_printf (ngettext ("With %d move, %d more would have a place.",
                                      "With %d moves, %d more would have a place.", all->n_moves),
                            all->n_moves, assignment->n_without - all->n_without);
  if (more < 0.05)
    return NULL;
  /* Translators: how many plants move, and points of 100. */
  return g_strdup_printf (
    ngettext ("Moving %d would bring %.1f points more. No single one of those "
              "moves brings much.",
              "Moving %d would bring %.1f points more. No single one of those "
              "moves brings much.",
              all->n_moves),
    all->n_moves, more);
}

/* --- each plant ------------------------------------------------------------ */

char *
dew_assign_words (const DewAssignPlant *plant, DewTongue tongue)
{
  switch (plant->why)
    {
    case DEW_ASSIGN_OUTSIDE:
      return g_strdup (_ ("It stands outside the shelves."));
    case DEW_ASSIGN_ALL_TAKEN:
      return g_strdup (_ ("Everything large enough for it is taken for good."));
    case DEW_ASSIGN_TOO_WIDE:
      return g_strdup (_ ("Wider than any shelf."));
    case DEW_ASSIGN_OTHERS_FIRST:
      return g_strdup (_ ("It would do here, but others need the places more."));
    case DEW_ASSIGN_FOR_NEW_ONES:
      return g_strdup (_ ("Only the shelf that the new plants have to themselves would do."));
    case DEW_ASSIGN_NOT_DOWN_THERE:
    case DEW_ASSIGN_NO_ROOM_DOWN_THERE:
      return g_strdup (_ ("New plants stand apart, at the bottom, and there it does not do."));
    case DEW_ASSIGN_MARGIN:
    default:
      return dew_fit_words (&plant->fit, tongue);
    }
}

static char *
fit_needs (const DewAssignPlant *plant, DewTongue tongue)
{
  g_autofree char *first = dew_fit_needs (&plant->fit, plant->fit.out, tongue);
  g_autofree char *second = dew_fit_needs (&plant->other, plant->other.out, tongue);

  if (first == NULL || second == NULL)
    return g_steal_pointer (&first);
  /* Translators: two ways out: "3 K cooler nights, or a place with 12 cm more height". */
  return g_strdup_printf (_ ("%s, or %s"), first, second);
}

static char *
room_needs (const DewAssignment *assignment, const DewAssignPlant *plant)
{
  g_autofree char *where = level_words (assignment, plant->would_bay);

  /* Translators: the first %s is a shelf, as in "second shelf" or "floor", from the list
   * of these words; the last %s of the first sentence is the name of a plant. */
  if (plant->instead >= 0)
    return g_strdup_printf (_ ("room: it would do on the %s instead of %s"), where,
                            assignment->plants[plant->instead].name);
  return g_strdup_printf (_ ("room, or less weight, on the %s"), where);
}

char *
dew_assign_needs (const DewAssignment *assignment, const DewAssignPlant *plant, DewTongue tongue)
{
  const DewUnit *length = dew_unit (DEW_MEASURE_LENGTH, tongue);
  g_autofree char *needs = NULL;

  switch (plant->why)
    {
    case DEW_ASSIGN_ALL_TAKEN:
      return g_strdup (_ ("room that nothing else stands on"));
    case DEW_ASSIGN_TOO_WIDE:
      /* Translators: the unit is %s, as in "a shelf 12 cm larger". */
      return g_strdup_printf (_ ("a shelf %.0f%s larger"), ceil (length->factor * plant->short_m),
                              length->symbol);
    case DEW_ASSIGN_OTHERS_FIRST:
      return room_needs (assignment, plant);
    case DEW_ASSIGN_FOR_NEW_ONES:
      return g_strdup (_ ("the new plants in another room"));
    case DEW_ASSIGN_NOT_DOWN_THERE:
      needs = dew_fit_needs (&plant->fit, plant->fit.out, tongue);
      if (needs != NULL)
        /* Translators: %s as in "3 K cooler nights". */
        return g_strdup_printf (_ ("another room for the first weeks, or down there %s"), needs);
      G_GNUC_FALLTHROUGH;
    case DEW_ASSIGN_NO_ROOM_DOWN_THERE:
      return g_strdup (_ ("another room for the first weeks, or a shelf below all others"));
    case DEW_ASSIGN_MARGIN:
    case DEW_ASSIGN_OUTSIDE:
    default:
      return fit_needs (plant, tongue);
    }
}

gboolean
dew_assign_alike (const DewAssignPlant *a, const DewAssignPlant *b)
{
  return a->group == b->group && a->bay == b->bay && a->verdict == b->verdict
         && a->stays == b->stays && a->fit.score == b->fit.score
         && a->fit.tightest == b->fit.tightest && a->why == b->why && a->instead == b->instead
         && a->verdict != DEW_ASSIGN_KEPT && strcmp (a->name, b->name) == 0;
}

/* --- notes about the whole ------------------------------------------------ */

/* At most so many plants are told of by name. */
#define MOST_NAMED 4

/* Plants of one group that are left out for one reason, in a sentence. */
static char *
left_out_words (const DewAssignment *a, const DewAssignPlant *plant, int count, DewTongue tongue)
{
  g_autofree char *needs = dew_assign_needs (a, plant, tongue);
  g_autofree char *who
    = count > 1 ? g_strdup_printf (_ ("%d × %s"), count, plant->name) : g_strdup (plant->name);

  if (plant->verdict == DEW_ASSIGN_CROWDED)
    /* Translators: a plant, then what it would take: "room: it would do on the second shelf
     * instead of ..." */
    return g_strdup_printf (_ ("No room for %s. It takes %s, or another enclosure."), who,
                            needs != NULL ? needs : _ ("room"));
  /* Translators: a plant, then what it would take: "3 K cooler nights". */
  return g_strdup_printf (_ ("Not here: %s. It takes %s, or another enclosure or room that has "
                             "that."),
                          who, needs != NULL ? needs : _ ("other air"));
}

static void
lead_left_out (const DewAssignment *a, DewTongue tongue, GPtrArray *lead)
{
  g_autofree gboolean *told = g_new0 (gboolean, MAX (1, a->n_plants));
  int named = 0, more = 0;

  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *plant = &a->plants[i];
      int count = 0;

      if (told[i] || (plant->verdict != DEW_ASSIGN_CROWDED && plant->verdict != DEW_ASSIGN_NOWHERE))
        continue;
      for (int k = i; k < a->n_plants; k++)
        if (a->plants[k].group == plant->group && a->plants[k].verdict == plant->verdict
            && strcmp (a->plants[k].name, plant->name) == 0)
          {
            told[k] = TRUE;
            count++;
          }
      if (named++ < MOST_NAMED)
        g_ptr_array_add (lead, left_out_words (a, plant, count, tongue));
      else
        more += count;
    }
  if (more > 0)
    g_ptr_array_add (lead, g_strdup_printf (ngettext ("%d more has no place.",
                                                      "%d more have no place.", more),
                                            more));
}

/* Whether some plant suffers, or has no place, for what the contradiction is about. */
static gboolean
someone_lacks (const DewAssignment *a, DewWantLimit limit)
{
  static const guint of[DEW_N_WANTS] = {
    [DEW_WANT_RH] = DEW_DEMAND_BIT (DEW_DEMAND_RH_DAY) | DEW_DEMAND_BIT (DEW_DEMAND_RH_NIGHT),
    [DEW_WANT_T_DAY] = DEW_DEMAND_BIT (DEW_DEMAND_T_DAY),
    [DEW_WANT_T_NIGHT] = DEW_DEMAND_BIT (DEW_DEMAND_T_NIGHT),
  };

  for (int i = 0; i < a->n_plants; i++)
    if (a->plants[i].fit.out & of[limit])
      return TRUE;
  return FALSE;
}

/* What no one air can do for all, unless places of their own do it. */
static void
lead_contradictions (const DewAssignment *a, DewTongue tongue, GPtrArray *lead)
{
  for (guint i = 0; a->wants != NULL && i < a->wants->contradictions->len; i++)
    {
      const DewContradiction *one = &g_array_index (a->wants->contradictions, DewContradiction, i);

      if (someone_lacks (a, one->limit))
        g_ptr_array_add (lead, dew_contradiction_words (one, tongue));
    }
}

char **
dew_assign_lead (const DewAssignment *assignment, DewTongue tongue)
{
  GPtrArray *lead = g_ptr_array_new ();
  char *gain;

  g_return_val_if_fail (assignment != NULL, NULL);

  if (assignment->n_without > 0)
    g_ptr_array_add (lead, g_strdup_printf (ngettext ("%d of %d plants has no place here.",
                                                      "%d of %d plants have no place here.",
                                                      assignment->n_without),
                                            assignment->n_without, assignment->n_plants));
  lead_left_out (assignment, tongue, lead);
  lead_contradictions (assignment, tongue, lead);
  g_ptr_array_add (lead, decision_words (assignment));
  g_ptr_array_add (lead, summary_words (assignment));
  gain = gain_words (assignment);
  if (gain != NULL)
    g_ptr_array_add (lead, gain);
  g_ptr_array_add (lead, NULL);
  return (char **) g_ptr_array_free (lead, FALSE);
}

static void
note_kinds (const DewAssignment *result, GPtrArray *notes)
{
  int unknown = result->n_unknown, contradictory = result->n_contradictory;

  if (unknown > 0)
    g_ptr_array_add (
      notes,
      g_strdup_printf (ngettext ("The kind of %d plant is not known; only its room and weight "
                                 "were looked at.",
                                 "The kinds of %d plants are not known; only their room and "
                                 "weight were looked at.",
                                 unknown),
                       unknown));
  if (contradictory > 0)
    g_ptr_array_add (
      notes,
      g_strdup_printf (ngettext ("What %d plant wants contradicts itself: a least above its most. "
                                 "Mend its kind.",
                                 "What %d plants want contradicts itself: a least above a most. "
                                 "Mend their kinds.",
                                 contradictory),
                       contradictory));
}

static void
note_kept (const DewAssignment *result, GPtrArray *notes)
{
  for (int i = 0; i < result->n_plants; i++)
    {
      const DewAssignPlant *plant = &result->plants[i];

      if (plant->verdict == DEW_ASSIGN_KEPT && plant->fit.out != 0)
        g_ptr_array_add (notes,
                         g_strdup_printf (_ ("%s keeps its place, where it will not do well."),
                                          plant->name));
    }
}

static void
note_new (const DewAssignment *result, GPtrArray *notes)
{
  if (result->new_apart)
    g_ptr_array_add (notes,
                     g_strdup (_ ("New plants stand apart, below all others, so that nothing drips "
                                  "or falls from them. The air is shared all the same: another "
                                  "room is safer, for three to six weeks.")));
}

/* Names of groups whose row says so, each once. */
static void
note_poison (const DewAssignment *result, GPtrArray *notes)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  g_autoptr (GString) names = g_string_new (NULL);

  for (int g = 0; g < result->n_groups; g++)
    {
      int row = dew_catalogue_plant_row (result->groups[g].species);
      const char *safety = row >= 0 ? dew_catalogue_text (plants, (guint) row, "safety") : "";

      if ((strcmp (safety, "toxic") == 0 || strcmp (safety, "irritant") == 0)
          && strstr (names->str, result->groups[g].name) == NULL)
        g_string_append_printf (names, "%s%s", names->len > 0 ? _ (", ") : "",
                                result->groups[g].name);
    }
  if (names->len > 0)
    g_ptr_array_add (
      notes, g_strdup_printf (_ ("Poisonous or irritant: %s. Out of reach of children and "
                                 "animals. Of the others it is not said that they are safe."),
                              names->str));
}

char **
dew_assign_notes (const DewAssignment *assignment)
{
  GPtrArray *notes = g_ptr_array_new ();

  if (assignment->new_among_others)
    g_ptr_array_add (notes, g_strdup (_ ("Plants that keep their places stand so that the new ones "
                                         "cannot be kept apart below the others. Let one of them "
                                         "move.")));
  note_kinds (assignment, notes);
  note_kept (assignment, notes);
  note_new (assignment, notes);
  note_poison (assignment, notes);
  g_ptr_array_add (notes, NULL);
  return (char **) g_ptr_array_free (notes, FALSE);
}
