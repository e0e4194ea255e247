/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/light.h"

#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

static char *
day_light_text (double mol_m2)
{
  g_autofree char *number = dew_number_text (mol_m2, 1);

  /* Translators: a day's light: moles of photons on a square metre. */
  return g_strdup_printf (_ ("%s mol/m² a day"), number);
}

static char *
photons_text (double mol_m2s, DewTongue tongue)
{
  return dew_measure_text (DEW_MEASURE_LIGHT, tongue, mol_m2s);
}

char *
dew_light_shelf (const DewLightBay *bay)
{
  return dew_shelf_called (bay->name, bay->shelf);
}

/* "at half of its power": only where it is dimmed. */
static char *
dimmed_in_words (const DewLightBay *bay)
{
  return bay->share != 1.0 ? g_strdup_printf (_ (" With a dimmer at %.0f %%."), 100.0 * bay->share)
                           : g_strdup ("");
}

char *
dew_light_bay_words (const DewLightBay *bay, DewTongue tongue)
{
  g_autofree char *above = dew_measure_text (DEW_MEASURE_LENGTH, tongue, bay->above_m);
  g_autofree char *dimmed = dimmed_in_words (bay);
  g_autofree char *words = NULL;

  if (bay->n_lamps > 0)
    words = g_strdup_printf (ngettext ("Hang %d of these, %s above the highest leaves: %s.",
                                       "Hang %d of these side by side, %s above the highest "
                                       "leaves: %s.",
                                       (gulong) bay->n_lamps),
                             bay->n_lamps, above, bay->lamp);
  else if (bay->burns)
    words = g_strdup (_ ("Keep its lamps."));
  else if (bay->then.dark == 0 && bay->then.bright == 0)
    words = g_strdup (_ ("No lamp is needed here: enough light comes from elsewhere."));
  else if (!bay->too_low)
    words = g_strdup (_ ("No lamp of the catalogue makes this better."));
  if (bay->too_low)
    return g_strconcat (words != NULL ? words : "", words != NULL ? dimmed : "",
                        words != NULL ? " " : "", _ ("No other lamp has room above these leaves."),
                        NULL);
  return g_strconcat (words, dimmed, NULL);
}

static char *
got_in_words (const DewLightOn *on, const char *when, DewTongue tongue)
{
  g_autofree char *mean = photons_text (on->mean_mol_m2s, tongue);
  g_autofree char *day = day_light_text (on->day_mol_m2);

  /* Translators: now or then, light at once, light of a day. */
  return g_strdup_printf (_ ("%s: %s while lit, %s"), when, mean, day);
}

char **
dew_light_bay_figures (const DewLightAdvice *advice, int n, DewTongue tongue)
{
  const DewLightBay *bay = &advice->bays[n];
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  g_autofree char *lo = dew_number_text (bay->want_lo_mol_m2, 1);
  g_autofree char *hi = day_light_text (bay->want_hi_mol_m2);

  g_ptr_array_add (lines, g_strdup_printf (bay->apart ? _ ("wanted: from %s to %s, by one plant or "
                                                           "another; no light suits all of them")
                                                      : _ ("wanted: %s to %s"),
                                           lo, hi));
  g_ptr_array_add (lines, got_in_words (&bay->now, _ ("now"), tongue));
  if (bay->then.day_mol_m2 != bay->now.day_mol_m2)
    g_ptr_array_add (lines, got_in_words (&bay->then, _ ("then"), tongue));
  if (bay->n_plants > 0 && bay->then.dark > 0)
    g_ptr_array_add (lines, g_strdup_printf (ngettext ("%d of %d plant stays too dark.",
                                                       "%d of %d plants stay too dark.",
                                                       (gulong) bay->n_plants),
                                             bay->then.dark, bay->n_plants));
  if (bay->n_plants > 0 && bay->then.bright > 0)
    g_ptr_array_add (lines, g_strdup_printf (ngettext ("%d of %d plant gets too much light.",
                                                       "%d of %d plants get too much light.",
                                                       (gulong) bay->n_plants),
                                             bay->then.bright, bay->n_plants));
  g_ptr_array_add (lines, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&lines), FALSE);
}

static void
count (const DewLightAdvice *advice, gboolean then, int *dark, int *bright, int *all)
{
  *dark = *bright = *all = 0;
  for (int n = 0; n < advice->n_bays; n++)
    {
      const DewLightOn *on = then ? &advice->bays[n].then : &advice->bays[n].now;

      *dark += on->dark;
      *bright += on->bright;
      *all += advice->bays[n].n_plants;
    }
}

char *
dew_light_verdict (const DewLightAdvice *advice, DewTongue tongue)
{
  int dark, bright, all, lamps = 0, still_dark, still_bright;
  g_autofree char *what = NULL, *why = NULL;

  count (advice, FALSE, &dark, &bright, &all);
  count (advice, TRUE, &still_dark, &still_bright, &all);
  for (int n = 0; n < advice->n_bays; n++)
    lamps += advice->bays[n].n_lamps;
  if (lamps > 0)
    what = g_strdup_printf (ngettext ("Hang %d lamp, lit %d hours a day.",
                                      "Hang %d lamps, lit %d hours a day.", (gulong) lamps),
                            lamps, advice->hours);
  else if (advice->change)
    what = g_strdup_printf (_ ("Keep the lamps and light them %d hours a day (now %d)."),
                            advice->hours, advice->hours_now);
  else if (dark + bright == 0)
    return g_strdup (_ ("Leave the light as it is: every plant gets what it wants."));
  else
    what = g_strdup (_ ("Leave the light as it is: nothing in the catalogue is better."));
  if (all == 0)
    why = g_strdup (_ ("No plant of a known kind stands here; it is judged by what is wished for, "
                       "or by a usual cool grower, at every place."));
  else
    why = g_strdup_printf (
      ngettext ("Of %d plant, now too dark: %d, too bright: %d; then: %d and %d.",
                "Of %d plants, now too dark: %d, too bright: %d; then: %d and %d.", (gulong) all),
      all, dark, bright, still_dark, still_bright);
  /* Translators: two whole sentences, one after the other. */
  return g_strdup_printf (_ ("%s %s"), what, why);
}

static double
most_over_K (const DewLightWarmth *all, int n_bays, int *worst)
{
  double most = 0.0;

  *worst = 0;
  for (int n = 0; n < n_bays; n++)
    if (all[n].over_K > most)
      {
        most = all[n].over_K;
        *worst = n;
      }
  return most;
}

char *
dew_light_warmth_words (const DewLightAdvice *advice, DewTongue tongue)
{
  int worst, unused;
  double now = most_over_K (advice->now, advice->n_bays, &unused);
  double by_day = most_over_K (advice->by_day, advice->n_bays, &worst);
  double by_night = most_over_K (advice->by_night, advice->n_bays, &unused);
  g_autofree char *over = dew_measure_text (DEW_MEASURE_DIFFERENCE, tongue, by_day);
  g_autofree char *turned = dew_measure_text (DEW_MEASURE_DIFFERENCE, tongue, by_night);
  g_autofree char *before = dew_measure_text (DEW_MEASURE_DIFFERENCE, tongue, now);
  g_autofree char *shelf = NULL;

  if (by_day <= 0.0)
    return g_strdup (_ ("By day and by night it stays within the warmth that the plants bear, each "
                        "against its own limits."));
  shelf = dew_light_shelf (&advice->bays[worst]);
  if (advice->night_better && by_night <= 0.0)
    return g_strdup_printf (_ ("%s gets %s too warm (now %s). Light the lamps in the room's night "
                               "instead: then day and night are within what the plants bear."),
                            shelf, over, before);
  if (advice->night_better)
    return g_strdup_printf (_ (
                              "%s gets %s too warm (now %s). Lit in the room's night instead it is "
                              "%s."),
                            shelf, over, before, turned);
  return g_strdup_printf (_ ("%s gets %s too warm (now %s), and lit in the room's night it is no "
                             "better: the room itself is too warm, or the lamps need more air."),
                          shelf, over, before);
}

char *
dew_light_power_words (const DewLightAdvice *advice)
{
  g_autofree char *energy = dew_number_text (advice->energy_kWh_day, 2);
  g_autofree char *before = dew_number_text (advice->energy_now_kWh_day, 2);

  return g_strdup_printf (_ ("%.0f W while lit, %s kWh a day (now %.0f W, %s kWh)."),
                          advice->power_W, energy, advice->power_now_W, before);
}

char **
dew_light_cautions (const DewLightAdvice *advice)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  gboolean mains = FALSE, hung = FALSE;

  for (int n = 0; n < advice->n_bays; n++)
    {
      hung |= advice->bays[n].n_lamps > 0;
      mains |= advice->bays[n].n_lamps > 0 && !advice->bays[n].set.low_voltage;
    }
  if (!(advice->daylight_mol_m2s > 0.0))
    g_ptr_array_add (lines, g_strdup (_ ("No daylight is counted. Measure it beside the enclosure "
                                         "over a day and write it down with the room.")));
  if (mains)
    g_ptr_array_add (lines,
                     g_strdup (_ ("A lamp runs on mains voltage: in wet air only one made for wet "
                                  "places, on a circuit with a residual-current device, fitted "
                                  "as local rules ask, by a qualified person where in doubt.")));
  if (hung)
    g_ptr_array_add (lines,
                     g_strdup (_ ("Hang it on two fixings that bear more than its weight, clear of "
                                  "film and leaves; the supply and its plug outside and above any "
                                  "water, with a drip loop in the cable. Raise light over two "
                                  "weeks.")));
  g_ptr_array_add (lines, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&lines), FALSE);
}
