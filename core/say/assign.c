/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/assign.h"

#include "say/fit.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

/* --- where --------------------------------------------------------------- */

static char *
level_words (const DewAssignment *result, int bay)
{
  int shelf = 0;

  for (int b = 0; result->bays[bay].shelf_id != 0 && b <= bay; b++)
    shelf += result->bays[b].shelf_id != 0;
  return dew_shelf_words (shelf);
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
note_left_out (const DewAssignment *result, GPtrArray *notes)
{
  int n_crowded, n_nowhere;
  g_autofree char *crowded = names_of (result, DEW_ASSIGN_CROWDED, &n_crowded);
  g_autofree char *nowhere = names_of (result, DEW_ASSIGN_NOWHERE, &n_nowhere);

  if (n_crowded > 0)
    g_ptr_array_add (
      notes,
      g_strdup_printf (ngettext ("There is no room for %d plant. The wish to give up, or to make "
                                 "room for: %s.",
                                 "There is no room for %d plants. The wishes to give up, or to "
                                 "make room for: %s.",
                                 n_crowded),
                       n_crowded, crowded));
  if (n_nowhere > 0)
    g_ptr_array_add (notes,
                     g_strdup_printf (ngettext ("%d plant fits nowhere here: %s.",
                                                "%d plants fit nowhere here: %s.", n_nowhere),
                                      n_nowhere, nowhere));
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

char **
dew_assign_notes (const DewAssignment *assignment)
{
  GPtrArray *notes = g_ptr_array_new ();

  if (assignment->new_among_others)
    g_ptr_array_add (notes, g_strdup (_ ("Plants that keep their places stand so that the new ones "
                                         "cannot be kept apart below the others. Let one of them "
                                         "move.")));
  note_left_out (assignment, notes);
  note_kinds (assignment, notes);
  note_kept (assignment, notes);
  note_new (assignment, notes);
  g_ptr_array_add (notes, NULL);
  return (char **) g_ptr_array_free (notes, FALSE);
}
