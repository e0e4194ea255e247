/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/openings.h"

#include <glib/gi18n.h>

#define CM2_PER_M2 1e4
#define IN2_PER_M2 1550.0

static char *
area_in_words (double area_m2, DewTongue tongue)
{
  return tongue == DEW_TONGUE_IMPERIAL
           ? g_strdup_printf (_ ("%.0f square inches"), area_m2 * IN2_PER_M2)
           : g_strdup_printf (_ ("%.0f cm²"), area_m2 * CM2_PER_M2);
}

char *
dew_opening_title (const DewOpeningOption *option, DewTongue tongue)
{
  g_autofree char *area = area_in_words (option->area_m2, tongue);

  /* Translators: %s is an area, as in "25 cm²". */
  switch (option->plan)
    {
    case DEW_PLAN_AS_DRAWN:
      return g_strdup (_ ("As it is drawn"));
    case DEW_PLAN_WHOLE:
      return g_strdup (_ ("The cover whole, everything closed"));
    case DEW_PLAN_FLAP_LOW:
      return g_strdup_printf (_ ("A low flap lifted by %s"), area);
    case DEW_PLAN_ZIP_HIGH:
      return g_strdup_printf (_ ("A zip drawn open at the top by %s"), area);
    case DEW_PLAN_FLAP_AND_ZIP:
      return g_strdup_printf (_ ("A low flap and a zip at the top, %s each"), area);
    case DEW_PLAN_CUT_LOW:
      return g_strdup_printf (_ ("A low hole of %s, cut"), area);
    default:
      return g_strdup_printf (_ ("A low and a high hole of %s each, cut"), area);
    }
}

const char *
dew_opening_trouble (const DewOpeningOption *option)
{
  return option->no_room ? _ ("There is no room for it on any side") : option->trouble;
}

char *
dew_opening_verdict (const DewOpeningAdvice *advice, DewTongue tongue)
{
  const DewOpeningOption *best = &advice->options[advice->best];
  g_autofree char *title = dew_opening_title (best, tongue);

  if (best->plan == DEW_PLAN_AS_DRAWN)
    return g_strdup (_ ("Do not cut. Nothing that was tried is better than what is drawn by more "
                        "than the forecast is sure of."));
  if (!best->reversible)
    return g_strdup_printf (_ (
                              "Better than what is drawn, and than all that can be undone: %s. Try "
                              "it with a flap of the same size for a few days before you cut."),
                            title);
  if (best->plan == DEW_PLAN_WHOLE)
    return g_strdup (_ ("Do not cut. Keep the cover whole: with everything closed it is better."));
  return g_strdup_printf (_ ("Do not cut. Better than what is drawn, and can be undone: %s."),
                          title);
}
