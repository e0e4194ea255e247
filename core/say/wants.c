/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/wants.h"

#include <glib/gi18n.h>

static char *
limit_in_words (DewWantLimit limit, double value, DewTongue tongue)
{
  const DewUnit *unit
    = dew_unit (limit == DEW_WANT_RH ? DEW_MEASURE_SHARE : DEW_MEASURE_TEMPERATURE, tongue);
  g_autofree char *number = dew_number_text (dew_unit_shown (unit, value), 0);

  return g_strconcat (number, unit->symbol, NULL);
}

static char *
clash_in_words (DewWantLimit limit, gboolean wants_more, const char *name, const char *its,
                const char *theirs)
{
  /* Translators: a kind of plant, the limit it sets, the limit that the others set. */
  switch (limit)
    {
    case DEW_WANT_T_DAY:
      return g_strdup_printf (
        wants_more
          ? _ ("No day temperature suits all: %s wants at least %s, the others at most %s.")
          : _ ("No day temperature suits all: %s wants at most %s, the others at least %s."),
        name, its, theirs);
    case DEW_WANT_T_NIGHT:
      return g_strdup_printf (
        wants_more
          ? _ ("No night temperature suits all: %s wants at least %s, the others at most %s.")
          : _ ("No night temperature suits all: %s wants at most %s, the others at least %s."),
        name, its, theirs);
    default:
      return g_strdup_printf (
        wants_more ? _ ("No humidity suits all: %s wants at least %s, the others at most %s.")
                   : _ ("No humidity suits all: %s wants at most %s, the others at least %s."),
        name, its, theirs);
    }
}

char *
dew_contradiction_words (const DewContradiction *c, DewTongue tongue)
{
  g_autofree char *its = limit_in_words (c->limit, c->its, tongue);
  g_autofree char *theirs = limit_in_words (c->limit, c->theirs, tongue);
  g_autofree char *clash = clash_in_words (c->limit, c->wants_more, c->name, its, theirs);
  g_autofree char *advice = NULL;

  if (c->others == 0)
    advice = g_strdup_printf (_ ("Find %s a shelf of its own or another enclosure, or give it up."),
                              c->name);
  else
    advice = g_strdup_printf (
      ngettext ("Find %s and %d more a shelf of their own or another enclosure, or give them up.",
                "Find %s and %d more a shelf of their own or another enclosure, or give them up.",
                c->others),
      c->name, c->others);
  /* Translators: two whole sentences, one after the other. */
  return g_strdup_printf (_ ("%s %s"), clash, advice);
}

char **
dew_wants_contradictions (const DewWants *wants, DewTongue tongue)
{
  char **words = g_new0 (char *, wants->contradictions->len + 1);

  for (guint i = 0; i < wants->contradictions->len; i++)
    words[i] = dew_contradiction_words (&g_array_index (wants->contradictions, DewContradiction, i),
                                        tongue);
  return words;
}
