/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/suits.h"

#include "catalogue/catalogue.h"
#include "say/fit.h"
#include "say/names.h"
#include "say/values.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* --- kinds --------------------------------------------------------------- */

/* "12 to 26 °C"; NULL where neither end is known. */
static char *
range_words (DewValue value, double lo, double hi, DewTongue tongue)
{
  g_autofree char *high = NULL;

  if (isnan (lo) || isnan (hi))
    return NULL;
  high = dew_value_text (value, hi, tongue);
  /* Translators: from and to; the unit stands at the end: "12 to 26 °C". */
  return g_strdup_printf (_ ("%s to %s"), dew_value_figure (value, lo, tongue).number, high);
}

char *
dew_kind_wants_words (const DewPlantKind *kind, DewTongue tongue)
{
  const struct
  {
    const char *format;
    DewValue value;
    double lo, hi;
  } parts[] = {
    /* Translators: in these %s is a range with its unit, as "12 to 26 °C". */
    { N_ ("%s by day"), DEW_VALUE_TEMPERATURE, kind->t_day_min_C, kind->t_day_max_C },
    { N_ ("%s by night"), DEW_VALUE_TEMPERATURE, kind->t_night_min_C, kind->t_night_max_C },
    { N_ ("humidity %s"), DEW_VALUE_RH, kind->rh_min, kind->rh_max },
    { N_ ("light %s"), DEW_VALUE_PPFD, kind->ppfd_lo_mol_m2s, kind->ppfd_hi_mol_m2s },
  };
  GString *all = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *range = range_words (parts[i].value, parts[i].lo, parts[i].hi, tongue);

      if (range == NULL)
        continue;
      if (all->len > 0)
        g_string_append (all, _ (", "));
#pragma GCC diagnostic push
/* The formats come from the table above, one %s each. */
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
      g_string_append_printf (all, _ (parts[i].format), range);
#pragma GCC diagnostic pop
    }
  return g_string_free (all, FALSE);
}

char *
dew_kind_safety_words (const char *species)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  int row = dew_catalogue_plant_row (species);
  const char *safety = row >= 0 ? dew_catalogue_text (plants, (guint) row, "safety") : "";

  if (strcmp (safety, "toxic") == 0)
    return g_strdup (_ ("Poisonous when eaten: out of reach of children and animals, and wash your "
                        "hands after cutting it."));
  if (strcmp (safety, "irritant") == 0)
    return g_strdup (
      _ ("Its sap or hairs may irritate skin and mouth; out of reach of children and "
         "animals."));
  if (strcmp (safety, "unknown") == 0)
    return g_strdup (_ ("Sources disagree whether it is poisonous: treat it as if it were."));
  return g_strdup (
    _ ("Not checked whether it is poisonous; ask before children or animals can reach "
       "it."));
}

/* --- what would do ------------------------------------------------------- */

static char *
months_words (const DewSuits *suits)
{
  return suits->n_months == 12 ? g_strdup (_ ("all year"))
                               : g_strdup (dew_month_name (suits->months[0]));
}

char *
dew_suits_words (const DewSuits *suits)
{
  g_autofree char *months = months_words (suits);
  int n = 0;

  for (int k = 0; k < suits->n_kinds; k++)
    n += suits->kinds[k].fits;
  /* Translators: how many, of how many, and "all year" or the name of a month. */
  return g_strdup_printf (ngettext ("%d of %d kinds would do somewhere here (%s).",
                                    "%d of %d kinds would do somewhere here (%s).", n),
                          n, suits->n_kinds, months);
}

char *
dew_suits_air_words (const DewSuits *suits, int bay, DewTongue tongue)
{
  g_autofree char *day = dew_value_text (DEW_VALUE_TEMPERATURE, suits->day[bay].t_C, tongue);
  g_autofree char *night = dew_value_text (DEW_VALUE_TEMPERATURE, suits->night[bay].t_C, tongue);
  g_autofree char *rh_day = dew_value_text (DEW_VALUE_RH, suits->day[bay].rh, tongue);
  g_autofree char *rh_night = dew_value_text (DEW_VALUE_RH, suits->night[bay].rh, tongue);

  /* Translators: temperature and humidity by day, then by night. */
  return g_strdup_printf (_ ("%s, %s by day; %s, %s by night"), day, rh_day, night, rh_night);
}

/* "Oct, Nov": the months in which it is out of the question. */
static char *
out_words (const DewSuitsBay *bay)
{
  GString *months = g_string_new (NULL);

  for (int m = 0; m < 12; m++)
    if (bay->months_out & (1u << m))
      g_string_append_printf (months, "%s%s", months->len > 0 ? _ (", ") : "", dew_month_name (m));
  return g_string_free (months, FALSE);
}

char *
dew_suits_bay_words (const DewSuits *suits, const DewSuitsKind *kind, int b, DewTongue tongue)
{
  const DewSuitsBay *bay = &kind->bays[b];
  g_autofree char *words = NULL, *needs = NULL, *months = NULL;

  if (bay->place < 0)
    return NULL;
  words = dew_fit_words (&bay->fit, tongue);
  if (bay->months_out == 0)
    return g_steal_pointer (&words);
  needs = dew_fit_needs (&bay->fit, bay->fit.out, tongue);
  if (suits->n_months == 1)
    /* Translators: what is missing, as "3 K cooler nights". */
    return g_strdup_printf (_ ("Lacks %s."), needs != NULL ? needs : words);
  months = out_words (bay);
  /* Translators: what is missing at the worst, and a list of months. */
  return g_strdup_printf (_ ("Lacks up to %s (%s)."), needs != NULL ? needs : words, months);
}

char **
dew_suits_kind_words (const DewSuits *suits, const DewSuitsKind *kind, DewTongue tongue)
{
  GPtrArray *all = g_ptr_array_new ();
  g_autofree char *shelf = kind->best >= 0 ? dew_shelf_title (suits->shelf[kind->best]) : NULL;

  if (kind->best < 0)
    g_ptr_array_add (all,
                     g_strdup_printf (_ ("%s: there is no place for a plant here."), kind->name));
  else if (kind->fits && kind->rests)
    /* Translators: a kind of plant, a shelf. */
    g_ptr_array_add (all, g_strdup_printf (_ ("%s would do here for the summer only; best: %s."),
                                           kind->name, shelf));
  else if (kind->fits)
    /* Translators: a kind of plant, a shelf. */
    g_ptr_array_add (all, g_strdup_printf (_ ("%s would do here; best: %s."), kind->name, shelf));
  else
    g_ptr_array_add (all, g_strdup_printf (_ ("%s would not do here; nearest to it: %s."),
                                           kind->name, shelf));
  if (kind->best >= 0)
    g_ptr_array_add (all, dew_suits_bay_words (suits, kind, kind->best, tongue));
  if (kind->rests)
    g_ptr_array_add (all,
                     g_strdup (_ ("It wants a cold rest in winter, which this shelf does not give "
                                  "it: elsewhere for three to four months.")));
  g_ptr_array_add (all, dew_kind_safety_words (kind->name));
  g_ptr_array_add (all, NULL);
  return (char **) g_ptr_array_free (all, FALSE);
}

/* --- heights ------------------------------------------------------------- */

char *
dew_heights_bay_words (const DewHeights *heights, int b, DewTongue tongue)
{
  const DewHeightsBay *bay = &heights->bays[b];
  g_autofree char *shelf = dew_shelf_title (bay->shelf);
  g_autofree char *clear = dew_length_text (bay->clear_m, tongue);
  g_autofree char *wanted = dew_length_text (bay->need_m, tongue);

  if (bay->tallest[0] == '\0')
    return g_strdup_printf (_ ("%s: %s clear; nothing is to stand there."), shelf, clear);
  if (bay->lamp_m > 0.0)
    /* Translators: a shelf, two lengths, the name of a plant. */
    return g_strdup_printf (_ ("%s: %s clear, %s needed for %s under the lamp."), shelf, clear,
                            wanted, bay->tallest);
  return g_strdup_printf (_ ("%s: %s clear, %s needed for %s."), shelf, clear, wanted,
                          bay->tallest);
}

char *
dew_heights_shelf_words (const DewHeights *heights, int s, DewTongue tongue)
{
  const DewHeightsShelf *shelf = &heights->shelves[s];
  g_autofree char *name = dew_shelf_title (s + 1);
  g_autofree char *now = dew_length_text (shelf->now_m, tongue);
  g_autofree char *then = dew_length_text (shelf->then_m, tongue);

  if (shelf->now_m == shelf->then_m)
    return g_strdup_printf (_ ("%s: stays at %s."), name, now);
  /* Translators: a shelf and two heights over the floor inside. */
  return shelf->then_m > shelf->now_m
           ? g_strdup_printf (_ ("%s: from %s up to %s over the floor."), name, now, then)
           : g_strdup_printf (_ ("%s: from %s down to %s over the floor."), name, now, then);
}

char **
dew_heights_words (const DewHeights *heights, DewTongue tongue)
{
  GPtrArray *all = g_ptr_array_new ();
  g_autofree char *by = dew_length_text (heights->short_m, tongue);
  int plants = 0;

  for (int b = 0; b < heights->n_bays; b++)
    plants += heights->bays[b].n_standing + heights->bays[b].n_wished;
  if (heights->n_shelves == 0)
    g_ptr_array_add (all, g_strdup (_ ("There is no shelf to move.")));
  else if (plants == 0)
    g_ptr_array_add (all, g_strdup (_ ("Nothing stands here and nothing is wished for: any height "
                                       "will do.")));
  else if (!heights->fits)
    g_ptr_array_add (all,
                     g_strdup_printf (_ ("The enclosure is %s too low for all of it: give up the "
                                         "tallest plant, or a shelf."),
                                      by));
  else if (heights->n_moves == 0)
    g_ptr_array_add (all, g_strdup (_ ("The shelves may stay where they are.")));
  else
    g_ptr_array_add (all, g_strdup_printf (ngettext ("Move %d shelf.", "Move %d shelves.",
                                                     heights->n_moves),
                                           heights->n_moves));
  if (heights->n_unplaced > 0)
    g_ptr_array_add (
      all, g_strdup_printf (ngettext ("For %d plant of the list no shelf has floor left.",
                                      "For %d plants of the list no shelf has floor left.",
                                      heights->n_unplaced),
                            heights->n_unplaced));
  g_ptr_array_add (all, NULL);
  return (char **) g_ptr_array_free (all, FALSE);
}
