/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/problems.h"

#include "say/names.h"

#include <glib/gi18n.h>
#include <math.h>

/* --- who and how much -------------------------------------------------------- */

/* Translators: the sentences of the checks begin with the first of each pair; the second
 * is the same in the middle of a sentence, after "and", "below", "through". */
static const struct
{
  const char *begins, *inside;
} things[DEW_N_THING_KINDS] = {
  [DEW_THING_SHELF] = { N_ ("The shelf \"%s\""), N_ ("the shelf \"%s\"") },
  [DEW_THING_OPENING] = { N_ ("The opening \"%s\""), N_ ("the opening \"%s\"") },
  [DEW_THING_FAN] = { N_ ("The fan \"%s\""), N_ ("the fan \"%s\"") },
  [DEW_THING_HUMIDIFIER] = { N_ ("The humidifier \"%s\""), N_ ("the humidifier \"%s\"") },
  [DEW_THING_POT] = { N_ ("The wet pot \"%s\""), N_ ("the wet pot \"%s\"") },
  [DEW_THING_TRAY] = { N_ ("The tray \"%s\""), N_ ("the tray \"%s\"") },
  [DEW_THING_LAMP] = { N_ ("The lamp \"%s\""), N_ ("the lamp \"%s\"") },
  [DEW_THING_MAT] = { N_ ("The heat mat \"%s\""), N_ ("the heat mat \"%s\"") },
  [DEW_THING_SOURCE] = { N_ ("The source \"%s\""), N_ ("the source \"%s\"") },
  [DEW_THING_PLANT] = { N_ ("The plant \"%s\""), N_ ("the plant \"%s\"") },
  [DEW_THING_INSTRUMENT] = { N_ ("The instrument \"%s\""), N_ ("the instrument \"%s\"") },
};

#pragma GCC diagnostic push
/* The formats come from the table above, one %s each. */
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static char *
thing_words (DewThingKind kind, const char *name, gboolean begins)
{
  g_return_val_if_fail ((guint) kind < DEW_N_THING_KINDS, g_strdup (name));

  if (name[0] == '\0')
    /* Translators: stands for the name of a thing that has none */
    name = _ ("no name");
  return g_strdup_printf (_ (begins ? things[kind].begins : things[kind].inside), name);
}
#pragma GCC diagnostic pop

/* "The fan "by the door"", "The room in May": what a sentence begins with. */
static char *
subject (const DewProblem *problem)
{
  static const char *const covers[DEW_N_FACES]
    = { N_ ("The cover at the left"), N_ ("The cover at the right"), N_ ("The cover in front"),
        N_ ("The cover at the back"), N_ ("The cover of the floor"), N_ ("The cover of the roof") };
  /* A name that is damaged is not repeated. */
  gboolean nameless
    = (problem->code == DEW_PROBLEM_TEXT_DAMAGED || problem->code == DEW_PROBLEM_TEXT_CONTROLS)
      && g_str_equal (problem->field, "name");

  switch (problem->about)
    {
    case DEW_ABOUT_ENCLOSURE:
      break;
    case DEW_ABOUT_COVER:
      return g_strdup (_ (covers[problem->index]));
    case DEW_ABOUT_ROOM:
      return g_strdup (_ ("The room"));
    case DEW_ABOUT_MONTH:
      return g_strdup_printf (_ ("The room in %s"), dew_month_name (problem->index));
    case DEW_ABOUT_THING:
      return nameless ? g_strdup (dew_thing_kind_label (problem->kind))
                      : thing_words (problem->kind, problem->name, TRUE);
    case DEW_ABOUT_VARIANT:
      return nameless ? g_strdup (_ ("A variant"))
                      : g_strdup_printf (_ ("The variant \"%s\""), problem->name);
    case DEW_ABOUT_WISH:
      return nameless ? g_strdup (_ ("A wish"))
                      : g_strdup_printf (_ ("The wish \"%s\""), problem->name);
    case DEW_ABOUT_KIND:
      return nameless ? g_strdup (_ ("A kind of plant of your own"))
                      : g_strdup_printf (_ ("The kind of plant \"%s\""), problem->name);
    }
  return g_strdup (_ ("The enclosure"));
}

/* Translators: these stand after "the edge of" and "over each other in" */
static const char *
face_words (int face)
{
  static const char *const faces[DEW_N_FACES]
    = { N_ ("the left face"), N_ ("the right face"), N_ ("the front face"),
        N_ ("the back face"), N_ ("the floor"),      N_ ("the roof") };

  g_return_val_if_fail (face >= 0 && face < DEW_N_FACES, "");
  return _ (faces[face]);
}

/* Four digits, so that the little by which something is off can be seen: "400.4 cm". */
static char *
amount (DewMeasure measure, double si, DewTongue tongue, gboolean with_unit)
{
  const DewUnit *unit = dew_unit (measure, tongue);
  double shown = dew_unit_shown (unit, si);
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  if (isnan (si))
    return g_strdup (_ ("not a number"));
  if (isinf (si))
    return g_strdup (si > 0 ? _ ("infinite") : _ ("minus infinite"));
  if (tongue == DEW_TONGUE_PLAIN)
    return g_strconcat (g_ascii_formatd (digits, sizeof digits, "%.4g", shown),
                        with_unit ? unit->symbol : "", NULL);
  return g_strdup_printf ("%s%.4g%s", shown < 0 ? "−" : "", fabs (shown),
                          with_unit ? unit->symbol : "");
}

static char *
length (double m, DewTongue tongue)
{
  return amount (DEW_MEASURE_LENGTH, m, tongue, TRUE);
}

/* --- values ------------------------------------------------------------------- */

static char *
side_words (const DewProblem *problem, DewTongue tongue)
{
  g_autofree char *side = length (problem->value, tongue);
  g_autofree char *min = amount (DEW_MEASURE_LENGTH, problem->min, tongue, FALSE);
  g_autofree char *max = length (problem->max, tongue);
  int axis = problem->index;

  if (isfinite (problem->value))
    return g_strdup_printf (axis == 0   ? _ ("The enclosure is %s wide inside; give %s to %s")
                            : axis == 1 ? _ ("The enclosure is %s deep inside; give %s to %s")
                                        : _ ("The enclosure is %s high inside; give %s to %s"),
                            side, min, max);
  return g_strdup_printf (axis == 0   ? _ ("The width of the enclosure is %s; give %s to %s")
                          : axis == 1 ? _ ("The depth of the enclosure is %s; give %s to %s")
                                      : _ ("The height of the enclosure is %s; give %s to %s"),
                          side, min, max);
}

/* Of one value or name; NULL for other problems. */
static char *
value_words (const DewProblem *problem, const char *who, DewTongue tongue)
{
  g_autofree char *value = NULL, *min = NULL, *max = NULL;
  int number = isfinite (problem->value) ? (int) problem->value : 0;

  switch (problem->code)
    {
    case DEW_PROBLEM_RANGE:
      value = amount (dew_measure_of_field (problem->row), problem->value, tongue, TRUE);
      min = amount (dew_measure_of_field (problem->row), problem->min, tongue, FALSE);
      max = amount (dew_measure_of_field (problem->row), problem->max, tongue, TRUE);
      return g_strdup_printf (_ ("%s: \"%s\" is %s; give %s to %s"), who,
                              dew_field_label (problem->row), value, min, max);
    case DEW_PROBLEM_COUNT:
      return g_strdup_printf (_ ("%s: \"%s\" is %d; give %d to %d"), who,
                              dew_field_label (problem->row), number, (int) problem->min,
                              (int) problem->max);
    case DEW_PROBLEM_CHOICE:
      return g_strdup_printf (_ ("%s: there is no choice number %d for \"%s\""), who, number,
                              dew_field_label (problem->row));
    case DEW_PROBLEM_TEXT_DAMAGED:
      return g_strdup_printf (_ ("%s: the text in \"%s\" is damaged; type it again"), who,
                              problem->field);
    case DEW_PROBLEM_TEXT_CONTROLS:
      return g_strdup_printf (_ ("%s: the text in \"%s\" holds a control character or a mark that "
                                 "nobody sees; type it again"),
                              who, problem->field);
    case DEW_PROBLEM_BAND:
      value = amount (dew_measure_of_field (problem->row), problem->value, tongue, TRUE);
      max = amount (dew_measure_of_field (problem->other_row), problem->max, tongue, TRUE);
      return g_strdup_printf (_ ("%s: \"%s\" is %s, but \"%s\" only %s; make the first smaller or "
                                 "the second larger"),
                              who, dew_field_label (problem->row), value,
                              dew_field_label (problem->other_row), max);
    case DEW_PROBLEM_SIDE:
      return side_words (problem, tongue);
    case DEW_PROBLEM_MONTH:
      return g_strdup_printf (_ ("There is no month number %.0f; give 1 to 12"), problem->value);
    case DEW_PROBLEM_NEXT_ID:
      return g_strdup (_ ("All numbers for things are used up; write the document as JSON, take "
                          "\"next_id\" out, number the things anew, and convert it back"));
    case DEW_PROBLEM_THING_KIND:
      return g_strdup_printf (_ ("There is no kind of thing number %d"), number);
    default:
      return NULL;
    }
}

/* Of ids, names and how many there are; NULL for other problems. */
static char *
document_words (const DewProblem *problem, const char *who)
{
  guint number = isfinite (problem->value) ? (guint) problem->value : 0;
  guint most = isfinite (problem->max) ? (guint) problem->max : 0;

  switch (problem->code)
    {
    case DEW_PROBLEM_ID_OUTSIDE:
      return g_strdup_printf (
        _ ("%s has the number %u; the numbers of this document go from 1 to %u"), who, number,
        most);
    case DEW_PROBLEM_ID_TWICE:
      return g_strdup_printf (_ ("%s has the number %u, which is used twice; give it another"), who,
                              number);
    case DEW_PROBLEM_NO_VARIANT:
      return g_strdup_printf (_ ("There is no variant number %u; choose one of the list"), number);
    case DEW_PROBLEM_NO_SHOWN:
      return g_strdup_printf (_ ("The variant to show (number %u) is not in the document"), number);
    case DEW_PROBLEM_VARIANTS:
      return g_strdup_printf (_ ("There are %u variants; give 1 to %d"), number, (int) most);
    case DEW_PROBLEM_THINGS:
      return g_strdup_printf (_ ("The variant \"%s\" holds %u things; give %d at most"),
                              problem->name, number, (int) most);
    case DEW_PROBLEM_THINGS_ALL:
      return g_strdup_printf (_ ("The variants hold %u things together; give %d at most: remove "
                                 "variants that are not needed any more"),
                              number, (int) most);
    case DEW_PROBLEM_WISHES:
      return g_strdup_printf (
        _ ("There are %u wishes and %u own kinds of plant; give %d and %d at most"), number,
        (guint) problem->min, (int) most, (int) problem->other_max);
    case DEW_PROBLEM_NAMELESS:
      return g_strdup (_ ("A kind of plant of your own has no name; give it one"));
    case DEW_PROBLEM_NAME_TWICE:
      return g_strdup_printf (_ ("%s is there twice; rename one of them"), who);
    case DEW_PROBLEM_TAKEN_AS:
      return g_strdup_printf (_ ("\"%s\" is taken for \"%s\": what that wants is asked for it"),
                              problem->name, problem->other_name);
    case DEW_PROBLEM_UNKNOWN:
      if (problem->other_name[0] != '\0')
        return g_strdup_printf (_ ("Nothing is known of the kind of plant \"%s\"; was \"%s\" "
                                   "meant? Choose one of the list or describe it as a kind of "
                                   "your own"),
                                problem->name, problem->other_name);
      return g_strdup_printf (_ ("Nothing is known of the kind of plant \"%s\"; choose one of the "
                                 "list or describe it as a kind of your own"),
                              problem->name);
    default:
      return NULL;
    }
}

/* --- layout ------------------------------------------------------------------- */

/* A sentence per side, since languages do not agree on how to say them. */
static char *
sticking_out_words (const DewProblem *problem, const char *who, DewTongue tongue)
{
  g_autofree char *by = length (problem->value, tongue);

  switch ((DewFace) problem->index)
    {
    case DEW_FACE_LEFT:
      return g_strdup_printf (_ (
                                "%s sticks out of the enclosure by %s on the left; move it inside"),
                              who, by);
    case DEW_FACE_RIGHT:
      return g_strdup_printf (
        _ ("%s sticks out of the enclosure by %s on the right; move it inside"), who, by);
    case DEW_FACE_FRONT:
      return g_strdup_printf (
        _ ("%s sticks out of the enclosure by %s at the front; move it inside"), who, by);
    case DEW_FACE_BACK:
      return g_strdup_printf (_ (
                                "%s sticks out of the enclosure by %s at the back; move it inside"),
                              who, by);
    case DEW_FACE_FLOOR:
      return g_strdup_printf (
        _ ("%s sticks out of the enclosure by %s through the floor; move it inside"), who, by);
    default:
      return g_strdup_printf (
        _ ("%s sticks out of the enclosure by %s through the roof; move it inside"), who, by);
    }
}

static char *
layout_words (const DewProblem *problem, const char *who, DewTongue tongue)
{
  g_autofree char *value = length (problem->value, tongue);
  g_autofree char *min = length (problem->min, tongue), *max = length (problem->max, tongue);
  g_autofree char *its = thing_words (problem->other_kind, problem->other_name, FALSE);
  g_autofree char *across = NULL;

  switch (problem->code)
    {
    case DEW_PROBLEM_SHELF_LOW:
      return g_strdup_printf (
        _ ("%s lies %s above the floor; raise it to %s or more, or take it out"), who, value, min);
    case DEW_PROBLEM_SHELF_HIGH:
      return g_strdup_printf (_ ("%s ends %s up, but the roof is at %s; lower it"), who, value,
                              max);
    case DEW_PROBLEM_SHELF_GAPS_ACROSS:
      return g_strdup_printf (
        _ ("%s has gaps at left and right that leave nothing of it; make them smaller"), who);
    case DEW_PROBLEM_SHELF_GAPS_DEEP:
      return g_strdup_printf (
        _ ("%s has gaps at front and back that leave nothing of it; make them smaller"), who);
    case DEW_PROBLEM_SHELVES_CROSS:
      /* Translators: 'The shelf "A"', then 'the shelf "B"', as in the sentences below. */
      return g_strdup_printf (_ ("%s and %s cross; move one of them up or down"), who, its);
    case DEW_PROBLEM_SHELVES_NEAR:
      /* Translators: the third %s is 'the shelf "B"'. */
      return g_strdup_printf (_ ("%s leaves only %s below %s; give %s or more"), who, value, its,
                              min);
    case DEW_PROBLEM_HOLE_EMPTY:
      return g_strdup_printf (
        _ ("%s has no size; draw it from its lower left to its upper right corner"), who);
    case DEW_PROBLEM_HOLE_OUTSIDE:
      across = amount (DEW_MEASURE_LENGTH, problem->min, tongue, FALSE);
      /* Translators: the second %s is "the left face" or the like. */
      return g_strdup_printf (
        _ ("%s reaches past the edge of %s (%s by %s); move it in or make it smaller"), who,
        face_words (problem->index), across, max);
    case DEW_PROBLEM_HOLES_CROSS:
      /* Translators: the third %s is "the left face" or the like. */
      return g_strdup_printf (_ ("%s and %s lie over each other in %s; part them"), who, its,
                              face_words (problem->index));
    case DEW_PROBLEM_TOO_LARGE:
      return g_strdup_printf (
        problem->index == 0   ? _ ("%s is %s wide, but the enclosure only %s; take a smaller one")
        : problem->index == 1 ? _ ("%s is %s deep, but the enclosure only %s; take a smaller one")
                              : _ ("%s is %s high, but the enclosure only %s; take a smaller one"),
        who, value, max);
    case DEW_PROBLEM_STICKS_OUT:
      return sticking_out_words (problem, who, tongue);
    case DEW_PROBLEM_THROUGH_SHELF:
      /* Translators: the second %s is 'the shelf "B"'. */
      return g_strdup_printf (_ ("%s goes through %s; move it up, down or into the gap"), who, its);
    case DEW_PROBLEM_POT_WIDE:
      /* Translators: the third %s is 'the shelf "B"'. */
      return g_strdup_printf (_ ("%s is %s wide, more than %s it stands on; take a smaller pot"),
                              who, value, its);
    case DEW_PROBLEM_POT_OVER_EDGE:
      /* Translators: the second %s is 'the shelf "B"'. */
      return g_strdup_printf (_ ("%s stands over the edge of %s; move it onto the shelf"), who,
                              its);
    case DEW_PROBLEM_INSIDE_OTHER:
      /* Translators: 'The fan "A"', then 'the fan "B"'. */
      return g_strdup_printf (_ ("%s and %s are in one place; part them"), who, its);
    case DEW_PROBLEM_CROWN_HIGH:
      /* Translators: 'The plant "A"', two lengths, 'the shelf "B"'. */
      return g_strdup_printf (
        _ ("%s is %s high, but has only %s below %s; give it a higher place or raise the shelf"),
        who, value, max, its);
    case DEW_PROBLEM_SENSOR_GONE:
      return g_strdup_printf (
        _ ("%s: the instrument its humidistat listens to is gone; choose another one, or switch "
           "the humidistat off"),
        who);
    default:
      g_return_val_if_reached (g_strdup (who));
    }
}

/* --- sentences ------------------------------------------------------------------ */

char *
dew_problem_text (const DewProblem *problem, DewTongue tongue)
{
  g_autofree char *who = NULL;
  char *text;

  g_return_val_if_fail (problem != NULL, NULL);

  who = problem->code == DEW_PROBLEM_THING_KIND ? g_strdup ("") : subject (problem);
  text = value_words (problem, who, tongue);
  if (text == NULL)
    text = document_words (problem, who);
  return text != NULL ? text : layout_words (problem, who, tongue);
}

char *
dew_problem_text_here (const DewProblem *problem, guint thing_id, DewTongue tongue)
{
  gboolean first = problem->thing_id == thing_id;
  const char *other = first ? problem->other_name : problem->name;
  /* In the decimals of the field. */
  g_autofree char *min = dew_measure_text (DEW_MEASURE_LENGTH, tongue, problem->min);
  g_autofree char *max = dew_measure_text (DEW_MEASURE_LENGTH, tongue, problem->max);
  g_autofree char *its_z = dew_measure_text (DEW_MEASURE_LENGTH, tongue, problem->z_m[first]);
  g_autofree char *text = NULL;

  if (thing_id != 0 && (first || problem->other_id == thing_id))
    switch (problem->code)
      {
      case DEW_PROBLEM_SHELF_LOW:
        return g_strdup_printf (_ ("Leave at least %s above the floor."), min);
      case DEW_PROBLEM_SHELF_HIGH:
        return g_strdup_printf (_ ("This is too near the roof, which is at %s."), max);
      case DEW_PROBLEM_SHELVES_CROSS:
        /* Translators: a shelf would be put into another one. */
        return g_strdup_printf (_ ("This would lie in %s, which is at %s."), other, its_z);
      case DEW_PROBLEM_SHELVES_NEAR:
        return g_strdup_printf (first ? _ ("Leave at least %s below %s, which is at %s.")
                                      : _ ("Leave at least %s above %s, which is at %s."),
                                min, other, its_z);
      default:
        break;
      }
  text = dew_problem_text (problem, tongue);
  return g_strconcat (text, ".", NULL);
}

gboolean
dew_chamber_validate (const DewChamber *chamber, GError **error)
{
  g_autofree char *text = NULL;
  DewProblem problem;

  if (dew_chamber_is_valid (chamber, &problem))
    return TRUE;
  text = dew_problem_text (&problem, DEW_TONGUE_PLAIN);
  g_set_error_literal (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_INVALID, text);
  return FALSE;
}
