/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/fit.h"

#include "say/sizes.h"

#include <glib/gi18n.h>
#include <math.h>

#define COMFORTABLE 0.6 /* merit from which on one says so */

/* What is said of a demand: below and above its limits, inside near the lower and the upper
 * one, and what it needs in both cases. */
typedef struct
{
  const char *label;
  DewMeasure measure;
  const char *below, *above;
  const char *over_least, *under_most;
  const char *need_more, *need_less;
} Words;

/* Translators: in all of these %s is a number with its unit, as "1.4 K" or "3 points". */
/* clang-format off */
static const Words words[DEW_N_DEMANDS] = {
  [DEW_DEMAND_T_DAY] = { N_ ("Day temperature"), DEW_MEASURE_DIFFERENCE,
                         N_ ("Day %s too cool"), N_ ("Day %s too warm"),
                         N_ ("Day %s above its coolest"), N_ ("Day %s below its warmest"),
                         N_ ("%s warmer days"), N_ ("%s cooler days") },
  [DEW_DEMAND_T_NIGHT] = { N_ ("Night temperature"), DEW_MEASURE_DIFFERENCE,
                           N_ ("Night %s too cool"), N_ ("Night %s too warm"),
                           N_ ("Night %s above its coolest"), N_ ("Night %s below its warmest"),
                           N_ ("%s warmer nights"), N_ ("%s cooler nights") },
  [DEW_DEMAND_RH_DAY] = { N_ ("Humidity by day"), DEW_MEASURE_SHARE,
                          N_ ("Air by day %s too dry"), N_ ("Air by day %s too humid"),
                          N_ ("Air by day %s more humid than its least"),
                          N_ ("Air by day %s drier than its most"),
                          N_ ("%s more humid air by day"), N_ ("%s drier air by day") },
  [DEW_DEMAND_RH_NIGHT] = { N_ ("Humidity by night"), DEW_MEASURE_SHARE,
                            N_ ("Air by night %s too dry"), N_ ("Air by night %s too humid"),
                            N_ ("Air by night %s more humid than its least"),
                            N_ ("Air by night %s drier than its most"),
                            N_ ("%s more humid air by night"), N_ ("%s drier air by night") },
  [DEW_DEMAND_AIR] = { N_ ("Moving air"), DEW_MEASURE_SPEED,
                       N_ ("Air %s too slow"), N_ ("Air %s too fast"),
                       N_ ("Air %s faster than its least"), N_ ("Air %s slower than its most"),
                       N_ ("air that moves %s faster"), N_ ("air that moves %s slower") },
  [DEW_DEMAND_LIGHT] = { N_ ("Light"), DEW_MEASURE_LIGHT,
                         N_ ("Light %s too weak"), N_ ("Light %s too strong"),
                         N_ ("Light %s above its least"), N_ ("Light %s below its most"),
                         N_ ("%s more light"), N_ ("%s less light") },
  [DEW_DEMAND_MIST] = { N_ ("Mist that falls"), DEW_MEASURE_WETTING,
                        NULL, N_ ("Mist falls on it, %s more than it can bear"),
                        NULL, N_ ("Falling mist %s below what it bears"),
                        NULL, N_ ("a place where %s less mist falls") },
  [DEW_DEMAND_DRIP] = { N_ ("Drip"), DEW_MEASURE_DRIP,
                        NULL, N_ ("Drips on it, %s too much"),
                        NULL, N_ ("Drip %s below what it bears"),
                        NULL, N_ ("a place where %s less drips down") },
  [DEW_DEMAND_DRYING] = { N_ ("Drying of the crown"), DEW_MEASURE_HOURS,
                          NULL, N_ ("A wet crown dries %s too late"),
                          NULL, N_ ("A wet crown dries %s sooner than it must"),
                          NULL, N_ ("a crown that dries %s sooner") },
  [DEW_DEMAND_HEIGHT] = { N_ ("Height"), DEW_MEASURE_LENGTH,
                          N_ ("Needs %s more height"), NULL,
                          N_ ("%s of height to spare"), NULL,
                          N_ ("a place with %s more height"), NULL },
  [DEW_DEMAND_BOARD] = { N_ ("Foothold"), DEW_MEASURE_LENGTH,
                         NULL, N_ ("Its pot stands %s too far over the shelf's edge"),
                         NULL, N_ ("Its pot could stand %s further over the shelf's edge"),
                         NULL, N_ ("a shelf that reaches %s further") },
  [DEW_DEMAND_REACH] = { N_ ("Reach"), DEW_MEASURE_LENGTH,
                         NULL, N_ ("%s beyond easy reach"),
                         NULL, N_ ("%s within easy reach"),
                         NULL, N_ ("a place %s nearer to the front") },
  [DEW_DEMAND_WEIGHT] = { N_ ("Weight"), DEW_MEASURE_MASS,
                          N_ ("%s too heavy for the shelf"), NULL,
                          N_ ("%s of load to spare"), NULL,
                          N_ ("a shelf that bears %s more"), NULL },
};
/* clang-format on */

/* The size of a margin, which is in the unit of the demand; signs are said in words. */
static char *
size_of (DewDemand demand, double margin, DewTongue tongue)
{
  double si = dew_demand_si (demand) * margin;

  return words[demand].measure == DEW_MEASURE_SHARE
           ? dew_points_text (si)
           : dew_size_text (words[demand].measure, tongue, si);
}

#pragma GCC diagnostic push
/* The formats come from the table above, one %s each. */
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static char *
fill_in (const char *format, const char *text)
{
  return g_strdup_printf (_ (format), text);
}
#pragma GCC diagnostic pop

char *
dew_fit_demand_words (const DewFit *fit, DewDemand demand, DewTongue tongue)
{
  const DewFitDemand *d;
  const Words *w;
  g_autofree char *size = NULL;

  g_return_val_if_fail (fit != NULL && demand >= 0 && demand < DEW_N_DEMANDS, NULL);

  d = &fit->demand[demand];
  w = &words[demand];
  if (isnan (d->margin))
    return g_strdup_printf (_ ("%s: nothing is asked"), _ (w->label));
  size = size_of (demand, d->margin, tongue);
  if (d->margin < 0.0)
    return fill_in (d->above ? w->above : w->below, size);
  return fill_in (d->above ? w->under_most : w->over_least, size);
}

/**
 * dew_fit_words:
 *
 * Names the tightest margin. One that is smaller than the band of the forecast is said to
 * be unsure.
 */
char *
dew_fit_words (const DewFit *fit, DewTongue tongue)
{
  const DewFitDemand *d;
  g_autofree char *tightest = NULL, *off = NULL;

  g_return_val_if_fail (fit != NULL, NULL);

  d = &fit->demand[fit->tightest];
  if (isnan (d->margin))
    return g_strdup (_ ("Nothing is known of what it wants."));
  tightest = dew_fit_demand_words (fit, fit->tightest, tongue);
  if (fit->unknown && !(d->margin < 0.0))
    return g_strdup (_ ("There is room for it; what this kind wants is not known."));
  if (d->unsure)
    {
      off = size_of (fit->tightest, d->band, tongue);
      if (d->margin < 0.0)
        /* Translators: as "Night 1.4 K too warm, but the forecast may be off by 1.6 K." */
        return g_strdup_printf (_ ("%s, but the forecast may be off by %s."), tightest, off);
      /* Translators: as "Inside. Night 0.4 K below its warmest, but the forecast may be ..." */
      return g_strdup_printf (_ ("Inside. %s, but the forecast may be off by %s."), tightest, off);
    }
  if (d->margin < 0.0)
    /* Translators: as "Night 1.4 K too warm." */
    return g_strdup_printf (_ ("%s."), tightest);
  if (d->merit < COMFORTABLE)
    /* Translators: as "Just inside. Night 0.2 K below its warmest." */
    return g_strdup_printf (_ ("Just inside. %s."), tightest);
  /* Translators: as "Comfortable. Night 2.8 K below its warmest." */
  return g_strdup_printf (_ ("Comfortable. %s."), tightest);
}

char *
dew_fit_needs (const DewFit *fit, guint demands, DewTongue tongue)
{
  char *all = NULL;

  g_return_val_if_fail (fit != NULL, NULL);

  for (int i = 0; i < DEW_N_DEMANDS; i++)
    {
      const DewFitDemand *d = &fit->demand[i];
      const char *format = d->above ? words[i].need_less : words[i].need_more;
      g_autofree char *size = NULL, *one = NULL, *before = all;

      if (!(demands & DEW_DEMAND_BIT (i)) || !(d->margin < 0.0))
        {
          before = NULL;
          continue;
        }
      size = size_of (i, d->margin, tongue);
      one = fill_in (format, size);
      /* Translators: as "3 K cooler nights and 4 points drier air by day". */
      all
        = before == NULL ? g_steal_pointer (&one) : g_strdup_printf (_ ("%s and %s"), before, one);
    }
  return all;
}
