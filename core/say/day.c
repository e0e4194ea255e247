/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/day.h"

#include "moist/constants.h"
#include "say/names.h"

#include <glib/gi18n.h>
#include <math.h>

/* Switching faster than every ten minutes: common practice, no source. */
#define RESTLESS_STARTS 144

static const char *const outs[DEW_N_OUTS] = {
  N_ ("too cool by day"),   N_ ("too warm by day"), N_ ("too cool by night"),
  N_ ("too warm by night"), N_ ("too dry"),         N_ ("too humid"),
};

static const struct
{
  const char *title, *words, *warm, *cold;
} mishaps[DEW_N_MISHAPS] = {
  [DEW_MISHAP_POWER]
  = { N_ ("Power cut"), N_ ("Lamps, fans and humidifiers stand still."),
      N_ (
        "Keep the front shut while it is humid inside, open a flap when it gets warm, wet the pots "
        "and trays by hand; afterwards look whether the humidifier and the timers run again."),
      N_ ("Keep the front shut, do not water, open a flap a little against drip; afterwards look "
          "whether the humidifier and the timers run again.") },
  [DEW_MISHAP_TANK]
  = { N_ ("Empty tank"), N_ ("The humidifier gives nothing, everything else runs."),
      N_ ("Fill trays and wet the clay pots, close flaps, slow the fan; more wet moss or pots hold "
          "longer next time."),
      NULL },
  [DEW_MISHAP_FAN] = { N_ ("Failed fan"), N_ ("Fans stand still, everything else runs."),
                       N_ ("Dim the lamps, open a flap at the top and one at the bottom, mist "
                           "less; keep a spare fan."),
                       NULL },
  [DEW_MISHAP_DOOR]
  = { N_ ("Front left open"), N_ ("The whole front stands open to the room."),
      N_ ("Close it, then wet pots and trays; do not drench dry plants in warm light."), NULL },
  [DEW_MISHAP_HEAT]
  = { N_ ("Heat wave"),
      N_ ("Within a day the room gets 8 °C warmer, with the same water in its air."),
      N_ (
        "Lamps on by night or off, more air through open flaps with everything wet, frozen bottles "
        "over a tray; misting a closed box does not cool it."),
      NULL },
  [DEW_MISHAP_LAMP] = { N_ ("Lamp timer stuck"), N_ ("The lamps stay on by night."),
                        N_ ("Pull the lamps’ plug for the night and check the timer."), NULL },
};

const char *
dew_out_word (DewOut out)
{
  return _ (outs[out]);
}

static char *
points (double share)
{
  g_autofree char *number = dew_number_text (100.0 * share, 0);

  /* Translators: of relative humidity */
  return g_strdup_printf (_ ("%s points"), number);
}

char *
dew_out_words (DewOut out, double beyond, DewTongue tongue)
{
  g_autofree char *by = dew_out_is_warmth (out)
                          ? dew_measure_text (DEW_MEASURE_DIFFERENCE, tongue, beyond)
                          : points (beyond);

  return g_strdup_printf ("%s %s", by, dew_out_word (out));
}

char *
dew_clock_words (double clock_h)
{
  int minutes = (int) lrint (60.0 * clock_h);

  return g_strdup_printf ("%d:%02d", minutes / 60, minutes % 60);
}

char *
dew_span_words (double s)
{
  double h = s / DEW_S_PER_H;

  if (!isfinite (s))
    return g_strdup ("–");
  if (h < 1.5)
    return g_strdup_printf (_ ("%.0f min"), 60.0 * h);
  if (h < 48.0)
    return g_strdup_printf (_ ("%.0f h"), h);
  return g_strdup_printf (_ ("%.0f days"), h / 24.0);
}

/* --- mishaps ---------------------------------------------------------------------------- */

const char *
dew_mishap_title (DewMishapKind kind)
{
  return _ (mishaps[kind].title);
}

const char *
dew_mishap_words (DewMishapKind kind)
{
  return _ (mishaps[kind].words);
}

const char *
dew_mishap_help (DewMishapKind kind, gboolean cold_room)
{
  return _ (cold_room && mishaps[kind].cold != NULL ? mishaps[kind].cold : mishaps[kind].warm);
}

char *
dew_mishap_first (const DewMishap *m)
{
  const DewMishapPlant *plant;
  g_autofree char *after = NULL;

  if (!m->possible)
    return g_strdup (_ ("There is nothing here that can fail so."));
  if (m->first < 0)
    return g_strdup (_ ("No plant’s limit is crossed within two days."));
  plant = &g_array_index (m->plants, DewMishapPlant, m->first);
  after = dew_span_words (plant->after_s);
  /* Translators: a plant, "too dry", how long it takes */
  return g_strdup_printf (_ ("%s: %s after %s"), plant->name, dew_out_word (plant->why), after);
}

/* --- year ----------------------------------------------------------------------------------- */

char *
dew_week_words (int week)
{
  int month, day;

  dew_year_week_begins (week, &month, &day);
  /* Translators: day of the month, month */
  return g_strdup_printf (_ ("%d %s"), day, dew_month_name (month));
}

char *
dew_year_worst_words (const DewYear *year, DewTongue tongue)
{
  const DewYearPlant *plant;
  g_autofree char *week = NULL, *by = NULL;
  gboolean known = FALSE;

  for (guint n = 0; n < year->plants->len; n++)
    known |= g_array_index (year->plants, DewYearPlant, n).known;
  if (!known)
    return g_strdup (_ ("Nothing is known of what the plants here wish."));
  if (year->worst_week < 0)
    return g_strdup (_ ("All weeks are within all plants’ wishes."));
  plant = &g_array_index (year->plants, DewYearPlant, year->worst_plant);
  week = dew_week_words (year->worst_week);
  by = dew_out_words ((DewOut) plant->why[year->worst_week], plant->beyond[year->worst_week],
                      tongue);
  /* Translators: "3 July", a plant, "2.1 °C too warm by night" */
  return g_strdup_printf (_ ("Worst is the week of %s. %s: %s"), week, plant->name, by);
}

/* --- budgets ------------------------------------------------------------------------------------
 */

static void
line (GPtrArray *lines, const char *name, char *words /* taken */)
{
  g_ptr_array_add (lines, g_strdup (name));
  g_ptr_array_add (lines, words);
}

static char *
litres (double kg, DewTongue tongue)
{
  return dew_measure_text (DEW_MEASURE_WATER, tongue, kg);
}

static void
add_water (GPtrArray *lines, const DewDay *day, DewTongue tongue)
{
  const DewDayBudget *b = &day->budget;

  line (lines, _ ("Water from the humidifier, a day"), litres (b->mist_kg, tongue));
  line (lines, _ ("From wet pots and trays"), litres (b->wet_kg, tongue));
  line (lines, _ ("From the plants"), litres (b->leaves_kg, tongue));
  line (lines, _ ("Goes into the room with the air"), litres (b->room_kg, tongue));
  line (lines, _ ("Condenses on cover and boards"), litres (b->condensed_kg, tongue));
  line (lines, _ ("Of that dries again"), litres (b->dried_kg, tongue));
  line (lines, _ ("Of that runs off or drips"), litres (b->run_off_kg, tongue));
  line (lines, _ ("Mist and fog that fall"), litres (b->fallen_kg, tongue));
  for (guint n = 0; n < day->misters->len; n++)
    {
      const DewDayMister *m = &g_array_index (day->misters, DewDayMister, n);
      g_autofree char *lasts = dew_span_words (DEW_S_PER_H * m->tank_hours);

      if (isnan (m->tank_hours))
        continue;
      line (lines, m->name,
            isinf (m->tank_hours) ? g_strdup (_ ("is not needed"))
            /* Translators: how long, how often */
            : m->starts > RESTLESS_STARTS
              /* Translators: how long, how often */
              ? g_strdup_printf (_ ("a filling lasts %s, %d starts a day: it is too strong here, "
                                    "or its humidistat hangs far from it or in its mist"),
                                 lasts, m->starts)
              : g_strdup_printf (ngettext ("a filling lasts %s, %d start a day",
                                           "a filling lasts %s, %d starts a day", m->starts),
                                 lasts, m->starts));
    }
  for (guint n = 0; n < day->wets->len; n++)
    {
      const DewDayWet *w = &g_array_index (day->wets, DewDayWet, n);
      g_autofree char *lasts = dew_span_words (DEW_S_PER_H * w->hours);
      g_autofree char *water = dew_measure_text (DEW_MEASURE_WATER, tongue, w->water_kg);

      line (lines, w->name,
            isinf (w->hours) ? g_strdup_printf (_ ("%s a day"), water)
                             /* Translators: how much, how long */
                             : g_strdup_printf (_ ("%s a day, lasts %s"), water, lasts));
    }
}

static void
add_room (GPtrArray *lines, const DewRoomBudget *b, DewTongue tongue)
{
  g_autofree char *rise = points (b->room_rise);

  line (lines, _ ("Room’s humidity rises by"), g_steal_pointer (&rise));
  if (isfinite (b->wall_rh))
    {
      g_autofree char *with = dew_measure_text (DEW_MEASURE_SHARE, tongue, b->wall_rh);
      g_autofree char *without = dew_measure_text (DEW_MEASURE_SHARE, tongue, b->wall_rh_without);

      line (lines, _ ("Humidity at the wall behind"),
            g_strdup_printf (b->wall_rh >= DEW_BUDGET_WALL_RH
                               ? _ ("%s, without the enclosure %s: mould grows above 80 %%; stand "
                                    "it off the wall, air the room")
                               : _ ("%s, without the enclosure %s"),
                             with, without));
    }
  if (isfinite (b->minerals_g_month))
    {
      g_autofree char *grams = dew_number_text (b->minerals_g_month, 1);

      line (lines, _ ("Minerals that mist leaves on leaves and walls"),
            g_strdup_printf (_ ("%s g a month"), grams));
    }
}

static void
add_power (GPtrArray *lines, const DewRoomBudget *b, const DewChamber *chamber)
{
  g_autofree char *kWh = dew_number_text (b->power_kWh, 2);

  line (lines, _ ("Power, a day"), g_strdup_printf ("%s kWh", kWh));
  if (isfinite (b->cost))
    {
      g_autofree char *month = dew_number_text (b->cost_year / 12.0, 2);
      g_autofree char *year = dew_number_text (b->cost_year, 0);
      const char *money = chamber->routine.currency;

      line (lines, _ ("Costs"),
            /* Translators: an amount, its money, an amount, its money */
            g_strdup_printf (_ ("%s %s a month, %s %s a year"), month, money, year, money));
    }
  if (isfinite (b->noise_day_dBA) || isfinite (b->noise_night_dBA))
    {
      g_autofree char *day = dew_number_text (b->noise_day_dBA, 0);
      g_autofree char *night = dew_number_text (b->noise_night_dBA, 0);

      line (lines, _ ("Noise of the fans, a metre away"),
            g_strdup_printf (_ ("%s dBA by day, %s by night"), day, night));
    }
}

char **
dew_budget_lines (const DewDay *day, const DewRoomBudget *budget, const DewChamber *chamber,
                  DewTongue tongue)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();

  add_water (lines, day, tongue);
  add_power (lines, budget, chamber);
  add_room (lines, budget, tongue);
  g_ptr_array_add (lines, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&lines), FALSE);
}
