/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/year.h"

#include <math.h>

#define YEAR_DAYS 365.0
#define TOLERANCE 3.0 /* of steps: what a day of a month comes to hardly changes */

static const int month_days[12] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };

void
dew_year_week_begins (int week, int *month, int *day)
{
  int at = 7 * week;

  for (*month = 0; at >= month_days[*month]; (*month)++)
    at -= month_days[*month];
  *day = at + 1;
}

/* The months whose middles lie round the middle of a week, and how far it is to the second. */
static double
between_months (int week, int *before, int *after)
{
  double at = 7.0 * week + 3.5, start = 0.0, last = -0.5 * month_days[11];

  for (int m = 0; m < 12; m++)
    {
      double middle = start + 0.5 * month_days[m];

      if (at < middle)
        {
          *after = m;
          *before = (m + 11) % 12;
          return (at - last) / (middle - last);
        }
      last = middle;
      start += month_days[m];
    }
  *before = 11;
  *after = 0;
  return (at - last) / (YEAR_DAYS + 0.5 * month_days[0] - last);
}

static void
find_weeks (DewYearPlant *plant)
{
  for (int week = 0; week < DEW_WEEKS; week++)
    {
      int before, after;
      double share = between_months (week, &before, &after);

      plant->why[week] = -1;
      for (int o = 0; o < DEW_N_OUTS; o++)
        {
          double beyond
            = plant->month[before].beyond[o]
              + share * (plant->month[after].beyond[o] - plant->month[before].beyond[o]);
          double most = plant->why[week] >= 0
                          ? dew_out_weight ((DewOut) plant->why[week], plant->beyond[week])
                          : 0.0;

          if (!(beyond > 0.0) || dew_out_weight ((DewOut) o, beyond) <= most)
            continue;
          plant->beyond[week] = beyond;
          plant->why[week] = o;
        }
      plant->weeks_out += plant->why[week] >= 0;
    }
}

static void
judge_plants (DewYear *year, DewPlantWishLookup lookup, gpointer data)
{
  double most = 0.0;

  for (guint n = 0; n < year->days[0]->plants->len; n++)
    {
      const DewDayPlant *from = &g_array_index (year->days[0]->plants, DewDayPlant, n);
      DewYearPlant plant = { .thing_id = from->thing_id };
      DewPlantWish wish;

      g_strlcpy (plant.name, from->name, sizeof plant.name);
      plant.known = lookup != NULL && lookup (from->species, &wish, data);
      for (int week = 0; week < DEW_WEEKS; week++)
        plant.why[week] = -1;
      for (int m = 0; m < 12 && plant.known; m++)
        dew_day_judge (year->days[m], &g_array_index (year->days[m]->plants, DewDayPlant, n), &wish,
                       &plant.month[m]);
      if (plant.known)
        find_weeks (&plant);
      for (int week = 0; week < DEW_WEEKS; week++)
        if (plant.why[week] >= 0
            && dew_out_weight ((DewOut) plant.why[week], plant.beyond[week]) > most)
          {
            most = dew_out_weight ((DewOut) plant.why[week], plant.beyond[week]);
            year->worst_week = week;
            year->worst_plant = (int) n;
          }
      g_array_append_val (year->plants, plant);
    }
}

DewYear *
dew_year_new (const DewChamber *chamber, guint variant_id, const DewDayOptions *options,
              DewPlantWishLookup lookup, gpointer lookup_data, DewYearTell tell, gpointer tell_data,
              GCancellable *cancellable, GError **error)
{
  gint64 start = g_get_monotonic_time ();
  g_autoptr (DewYear) year = g_new0 (DewYear, 1);
  g_autoptr (DewChamber) copy = dew_chamber_copy (chamber);
  DewDayOptions o = *options;

  o.tolerance = o.tolerance > 0.0 ? o.tolerance : TOLERANCE;
  year->plants = g_array_new (FALSE, FALSE, sizeof (DewYearPlant));
  year->worst_week = year->worst_plant = -1;
  for (int m = 0; m < 12; m++)
    {
      copy->month = m;
      year->days[m] = dew_day_new (copy, variant_id, &o, cancellable, error);
      if (year->days[m] == NULL)
        return NULL;
      if (tell != NULL)
        tell ((m + 1) / 12.0, tell_data);
    }
  judge_plants (year, lookup, lookup_data);
  year->seconds = (g_get_monotonic_time () - start) / 1e6;
  return g_steal_pointer (&year);
}

void
dew_year_free (DewYear *year)
{
  if (year == NULL)
    return;
  for (int m = 0; m < 12; m++)
    g_clear_pointer (&year->days[m], dew_day_unref);
  g_array_unref (year->plants);
  g_free (year);
}
