/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/changes.h"

#include "moist/constants.h"
#include "say/findings.h"
#include "say/sizes.h"
#include "say/where.h"

#include <glib/gi18n.h>

/* What is said of more and of less; %s: whose, %s: how much. A phrase that is the same by day
 * and by night stands under always. */
typedef struct
{
  const char *more, *less;
} Phrases;

/* Translators: first a shelf or a plant, then a number with its unit, as "Third shelf: 6 points
 * more humid by day." */
/* clang-format off */
static const struct
{
  DewMeasure measure;
  Phrases by_day, by_night, always;
} phrases[DEW_N_CHANGES] = {
  [DEW_CHANGE_RH] = { DEW_MEASURE_SHARE,
                      { N_ ("%s: %s more humid by day."), N_ ("%s: %s drier by day.") },
                      { N_ ("%s: %s more humid by night."), N_ ("%s: %s drier by night.") },
                      { N_ ("%s: %s more humid."), N_ ("%s: %s drier.") } },
  [DEW_CHANGE_EVEN] = { DEW_MEASURE_SHARE, { NULL, NULL }, { NULL, NULL },
                        { N_ ("%s: %s more even."), N_ ("%s: %s less even.") } },
  [DEW_CHANGE_T] = { DEW_MEASURE_DIFFERENCE,
                     { N_ ("%s: day %s warmer."), N_ ("%s: day %s cooler.") },
                     { N_ ("%s: night %s warmer."), N_ ("%s: night %s cooler.") },
                     { N_ ("%s: %s warmer."), N_ ("%s: %s cooler.") } },
  [DEW_CHANGE_STILL] = { DEW_MEASURE_SHARE,
                         /* Translators: in these six a shelf, then two shares of its air. */
                         { N_ ("%s: still air by day up from %s to %s."),
                           N_ ("%s: still air by day down from %s to %s.") },
                         { N_ ("%s: still air by night up from %s to %s."),
                           N_ ("%s: still air by night down from %s to %s.") },
                         { N_ ("%s: still air up from %s to %s."),
                           N_ ("%s: still air down from %s to %s.") } },
  [DEW_CHANGE_DRIP] = { DEW_MEASURE_DRIP,
                        { N_ ("%s: %s more drips down by day."), N_ ("%s: %s less drips down by day.") },
                        { N_ ("%s: %s more drips down by night."),
                          N_ ("%s: %s less drips down by night.") },
                        { N_ ("%s is dripped on more, by %s."), N_ ("%s is dripped on less, by %s.") } },
  [DEW_CHANGE_SPEED] = { DEW_MEASURE_SPEED, { NULL, NULL }, { NULL, NULL },
                         { N_ ("%s: air %s faster."), N_ ("%s: air %s slower.") } },
  [DEW_CHANGE_PPFD] = { DEW_MEASURE_LIGHT, { NULL, NULL }, { NULL, NULL },
                        { N_ ("%s: %s more light."), N_ ("%s: %s less light.") } },
  [DEW_CHANGE_MIST] = { DEW_MEASURE_WETTING, { NULL, NULL }, { NULL, NULL },
                        { N_ ("%s: %s more mist falls on it."), N_ ("%s: %s less mist falls on it.") } },
  [DEW_CHANGE_DRYING] = { DEW_MEASURE_HOURS, { NULL, NULL }, { NULL, NULL },
                          { N_ ("%s: a wet crown dries %s later."),
                            N_ ("%s: a wet crown dries %s sooner.") } },
  /* Of the whole enclosure: only how much. */
  [DEW_CHANGE_WATER] = { DEW_MEASURE_TANK, { NULL, NULL }, { NULL, NULL },
                         { N_ ("%s more water a day."), N_ ("%s less water a day.") } },
  [DEW_CHANGE_DRAUGHT] = { DEW_MEASURE_SPEED, { NULL, NULL }, { NULL, NULL },
                           { N_ ("More draught on the leaves, by %s."),
                             N_ ("Less draught on the leaves, by %s.") } },
  [DEW_CHANGE_NOISE] = { DEW_MEASURE_NUMBER, { NULL, NULL }, { NULL, NULL },
                         { N_ ("Louder by %s."), N_ ("Quieter by %s.") } },
};
/* clang-format on */

static char *
size_of (const DewChange *change, DewTongue tongue)
{
  double by = change->to - change->from;

  if (change->of == DEW_CHANGE_RH || change->of == DEW_CHANGE_EVEN)
    return dew_points_text (by);
  if (change->of == DEW_CHANGE_NOISE)
    return g_strdup_printf ("%.0f dB", ABS (by));
  return dew_size_text (phrases[change->of].measure, tongue, by);
}

#pragma GCC diagnostic push
/* The formats come from the table above. */
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static char *
measured (const DewChange *change, DewTongue tongue)
{
  const Phrases *said = change->when == DEW_CHANGE_BY_NIGHT ? &phrases[change->of].by_night
                        : change->when == DEW_CHANGE_BY_DAY ? &phrases[change->of].by_day
                                                            : &phrases[change->of].always;
  const char *format;
  g_autofree char *whose = change->subject == DEW_COMPARE_BAY
                             ? dew_shelf_called (change->name, change->shelf)
                             : g_strdup (change->name);
  g_autofree char *size = size_of (change, tongue);

  if (said->more == NULL)
    said = &phrases[change->of].always;
  format = _ (change->to > change->from ? said->more : said->less);
  if (change->subject == DEW_COMPARE_WHOLE)
    return g_strdup_printf (format, size);
  if (change->of == DEW_CHANGE_STILL)
    {
      g_autofree char *is = dew_measure_text (DEW_MEASURE_SHARE, tongue, change->to);
      g_autofree char *was = dew_measure_text (DEW_MEASURE_SHARE, tongue, change->from);

      return g_strdup_printf (format, whose, was, is);
    }
  return g_strdup_printf (format, whose, size);
}
#pragma GCC diagnostic pop

static char *
found (const DewComparison *comparison, const DewChange *change)
{
  gboolean night = change->when == DEW_CHANGE_BY_NIGHT;
  const DewForecast *forecast = dew_compare_forecast (&comparison->sides[change->only_in], night);
  g_autofree char *title = dew_finding_title (forecast, &forecast->findings[change->finding]);

  if (change->only_in == 0)
    return night ? g_strdup_printf (_ ("Gone by night: %s."), title)
                 : g_strdup_printf (_ ("Gone by day: %s."), title);
  return night ? g_strdup_printf (_ ("New by night: %s."), title)
               : g_strdup_printf (_ ("New by day: %s."), title);
}

static char *
exchanged (const DewChange *change)
{
  return g_strdup_printf (_ ("The air is changed %.1f times an hour instead of %.1f."),
                          DEW_S_PER_H * change->to, DEW_S_PER_H * change->from);
}

char *
dew_change_words (const DewComparison *comparison, const DewChange *change, DewTongue tongue)
{
  if (change->of == DEW_CHANGE_EXCHANGE)
    return exchanged (change);
  if (change->of != DEW_CHANGE_STANDS && change->of != DEW_CHANGE_FINDING)
    return measured (change, tongue);
  g_return_val_if_fail (comparison != NULL, NULL);
  if (change->of == DEW_CHANGE_FINDING)
    return found (comparison, change);
  /* Translators: a plant, then the name of a layout. */
  return g_strdup_printf (_ ("%s stands only in “%s”."), change->name,
                          comparison->sides[change->only_in].name);
}

char **
dew_trade_offs_words (const GArray *changes, DewTongue tongue)
{
  char **words = g_new0 (char *, changes->len + 1);

  for (guint i = 0; i < changes->len; i++)
    words[i] = dew_change_words (NULL, &g_array_index (changes, DewChange, i), tongue);
  return words;
}

char *
dew_compare_summary (const DewComparison *comparison, int side)
{
  g_autoptr (GHashTable) better = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) worse = g_hash_table_new (NULL, NULL);
  gboolean any = FALSE;
  guint n_better, n_worse;

  g_return_val_if_fail (comparison != NULL && side >= 1 && side < comparison->n_sides, NULL);

  for (guint i = 0; i < comparison->changes->len; i++)
    {
      const DewChange *change = &g_array_index (comparison->changes, DewChange, i);

      if (change->side != side || !change->beyond)
        continue;
      any = TRUE;
      if (change->subject == DEW_COMPARE_PLANT && change->good != 0)
        g_hash_table_add (change->good > 0 ? better : worse, GUINT_TO_POINTER (change->thing_id));
    }
  n_better = g_hash_table_size (better);
  n_worse = g_hash_table_size (worse);
  if (!any)
    return g_strdup (_ ("The same within what can be known."));
  if (n_better == 0 && n_worse == 0)
    return g_strdup (_ ("Other air, but no plant is better or worse off for it."));
  if (n_better == 0)
    return g_strdup_printf (ngettext ("Worse for %u plant, better for none.",
                                      "Worse for %u plants, better for none.", n_worse),
                            n_worse);
  /* Translators: how many plants something gets better for, and for how many worse. A plant may
   * count twice. */
  return g_strdup_printf (ngettext ("Better for %u plant, worse for %u.",
                                    "Better for %u plants, worse for %u.", n_better),
                          n_better, n_worse);
}
