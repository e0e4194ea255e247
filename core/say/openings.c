/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/openings.h"

#include <glib/gi18n.h>
#include <math.h>

/* "front, 4.0 cm above the floor, 20.0 x 5.0 cm": where one opening is. */
static char *
opening_in_words (const DewOpening *o, DewTongue tongue)
{
  static const char *const faces[DEW_N_FACES]
    = { N_ ("on the left"), N_ ("on the right"), N_ ("in front"),
        N_ ("at the back"), N_ ("in the floor"), N_ ("in the roof") };
  g_autofree char *up = dew_measure_text (DEW_MEASURE_LENGTH, tongue, o->v0_m);
  g_autofree char *width = dew_measure_text (DEW_MEASURE_LENGTH, tongue, o->u1_m - o->u0_m);
  g_autofree char *height = dew_measure_text (DEW_MEASURE_LENGTH, tongue, o->v1_m - o->v0_m);

  /* Translators: which side, how far above the floor, how wide, how high. */
  return g_strdup_printf (_ ("%s, %s above the floor, %s wide and %s high"),
                          _ (faces[CLAMP (o->face, 0, DEW_N_FACES - 1)]), up, width, height);
}

static const char *
plan_in_words (DewOpeningPlan plan)
{
  switch (plan)
    {
    case DEW_PLAN_FLAP_LOW:
      return _ ("A low flap");
    case DEW_PLAN_ZIP_HIGH:
      return _ ("A zip at the top");
    case DEW_PLAN_FLAP_AND_ZIP:
      return _ ("A low flap and a zip at the top");
    case DEW_PLAN_CUT_LOW:
      return _ ("A low hole, cut");
    default:
      return _ ("A low and a high hole, cut");
    }
}

char *
dew_opening_title (const DewOpeningOption *option, DewTongue tongue)
{
  g_autofree char *first = NULL, *second = NULL;

  if (option->plan == DEW_PLAN_AS_DRAWN)
    return g_strdup (_ ("As it is drawn"));
  if (option->plan == DEW_PLAN_WHOLE)
    return g_strdup (_ ("All openings closed"));
  if (option->openings->len == 0)
    return g_strdup (plan_in_words (option->plan));
  first = opening_in_words (&g_array_index (option->openings, DewOpening, 0), tongue);
  if (option->openings->len == 1)
    /* Translators: what, then where. */
    return g_strdup_printf (_ ("%s: %s"), plan_in_words (option->plan), first);
  second = opening_in_words (&g_array_index (option->openings, DewOpening, 1), tongue);
  /* Translators: what, where the first is, where the second. */
  return g_strdup_printf (_ ("%s: %s; %s"), plan_in_words (option->plan), first, second);
}

char *
dew_opening_stale_words (const DewOpeningOption *option)
{
  if (!option->forecast || !option->stale)
    return NULL;
  return g_strdup_printf (_ ("The air is then changed only %.1f times an hour. It gets stale: open "
                             "the door every day, and look for mould."),
                          option->exchange_1_h);
}

const char *
dew_opening_trouble (const DewOpeningOption *option)
{
  if (option->no_room && option->rigid)
    return _ ("Not here: glass takes neither flap nor zip and is not cut at home, and a zip wants "
              "film");
  return option->no_room ? _ ("There is no room for it on any side") : option->trouble;
}

char *
dew_opening_verdict (const DewOpeningAdvice *advice, DewTongue tongue)
{
  const DewOpeningOption *best = &advice->options[advice->best];
  g_autofree char *title = dew_opening_title (best, tongue);
  g_autofree char *stale = dew_opening_stale_words (best);
  g_autofree char *words = NULL;

  if (best->plan == DEW_PLAN_AS_DRAWN)
    words = g_strdup (
      isnan (best->band) && advice->n_options > 1
        ? _ ("Do not cut the cover. How sure the differences are was not asked.")
        : _ ("Do not cut the cover. Nothing that was tried is better than what is drawn by more "
             "than the forecast is sure of."));
  else if (!best->reversible)
    words = g_strdup_printf (_ ("Better than what is drawn, and than all that can be undone: %s. "
                                "Try it with a flap of the same size for a few days before you "
                                "cut."),
                             title);
  else if (best->plan == DEW_PLAN_WHOLE)
    words = g_strdup (_ ("Do not cut the cover. Close all openings: that is better."));
  else
    words = g_strdup_printf (_ ("Do not cut the cover. Better than what is drawn, and can be "
                                "undone: %s."),
                             title);
  /* Translators: two whole sentences, one after the other. */
  return stale != NULL ? g_strdup_printf (_ ("%s %s"), words, stale) : g_steal_pointer (&words);
}
