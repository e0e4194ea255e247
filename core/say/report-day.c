/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days, years and mishaps whole: text and JSON. */
#include "say/day.h"

#include "moist/constants.h"
#include "say/names.h"
#include "say/report-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define NAME_WIDTH 26
#define CELL_WIDTH 16
#define ROW_S 3600.0

static const char *const out_keys[DEW_N_OUTS]
  = { "cool_day", "warm_day", "cool_night", "warm_night", "dry", "humid" };
static const char *const mishap_keys[DEW_N_MISHAPS]
  = { "power_cut", "empty_tank", "failed_fan", "front_open", "heat_wave", "lamp_stuck" };

static const char *
bay_name (const DewReport *about, guint shelf_id)
{
  const DewThing *shelf = dew_variant_thing (about->variant, shelf_id);

  return shelf != NULL && shelf->name[0] != '\0' ? shelf->name
         : shelf != NULL                         ? _ ("Shelf")
                                                 : _ ("Floor");
}

static void
append_title (GString *out, const DewReport *about, const char *what)
{
  /* Translators: enclosure, variant, "a day in May" */
  g_string_append_printf (out, _ ("%s, variant \"%s\": %s\n\n"), about->chamber->name,
                          about->variant->name, what);
}

/* --- a day --------------------------------------------------------------------------------- */

static void
append_hours (GString *out, const DewReport *about, const DewDay *day)
{
  dew_report_pad (out, _ ("Hour"), 8, FALSE);
  dew_report_pad (out, _ ("Room"), CELL_WIDTH, TRUE);
  for (int b = day->n_bays - 1; b >= 0; b--)
    dew_report_pad (out, bay_name (about, day->bays[b].shelf_id), CELL_WIDTH, TRUE);
  g_string_append_c (out, '\n');
  for (int k = 0; k < day->n; k++)
    {
      double rest = fmod (day->time_s[k] + 1e-6, ROW_S);
      g_autofree char *clock = dew_clock_words (dew_routine_clock_h (day->clock, day->time_s[k]));
      g_autofree char *room
        = g_strdup_printf ("%.1f C %3.0f %%", day->room_t_C[k], 100.0 * day->room_rh[k]);

      if (rest > 1.0)
        continue;
      dew_report_pad (out, clock, 6, FALSE);
      dew_report_pad (out, day->is_open[k] ? "o" : day->is_day[k] ? "*" : "", 2, FALSE);
      dew_report_pad (out, room, CELL_WIDTH, TRUE);
      for (int b = day->n_bays - 1; b >= 0; b--)
        {
          g_autofree char *cell
            = g_strdup_printf ("%.1f C %3.0f %%", day->bays[b].t_C[k], 100.0 * day->bays[b].rh[k]);

          dew_report_pad (out, cell, CELL_WIDTH, TRUE);
        }
      g_string_append_c (out, '\n');
    }
  g_string_append_printf (
    out, "%s\n\n", _ ("Means of the ten minutes before; *: as by day, o: the front stands open."));
}

static void
append_plants (GString *out, const DewReport *about, const DewDay *day, DewPlantWishLookup lookup,
               gpointer data)
{
  for (guint n = 0; n < day->plants->len; n++)
    {
      const DewDayPlant *plant = &g_array_index (day->plants, DewDayPlant, n);
      DewOutHours hours;
      DewPlantWish wish;
      g_autoptr (GString) words = g_string_new (NULL);

      if (lookup == NULL || !lookup (plant->species, &wish, data))
        g_string_append (words, _ ("nothing is known of what it wishes"));
      else
        dew_day_judge (day, plant, &wish, &hours);
      for (int o = 0; o < DEW_N_OUTS && words->len < 200 && lookup != NULL
                      && lookup (plant->species, &wish, data);
           o++)
        if (hours.beyond[o] > 0.0)
          {
            g_autofree char *by = dew_out_words ((DewOut) o, hours.beyond[o], about->tongue);

            /* Translators: "2.1 °C too warm by night" and for how many hours */
            g_string_append_printf (words, _ ("%s%s for %.0f h"), words->len > 0 ? ", " : "", by,
                                    MAX (1.0, hours.hours[o]));
          }
      dew_report_pad (out, plant->name, NAME_WIDTH, FALSE);
      g_string_append_printf (out, "%s\n", words->len > 0 ? words->str : _ ("within its wishes"));
    }
  if (day->plants->len > 0)
    g_string_append_c (out, '\n');
}

static void
append_lines (GString *out, char **lines)
{
  for (int n = 0; lines[n] != NULL; n += 2)
    {
      dew_report_pad (out, lines[n], 44, FALSE);
      g_string_append_printf (out, "%s\n", lines[n + 1]);
    }
}

char *
dew_report_day_text (const DewReport *about, const DewDay *day, DewPlantWishLookup lookup,
                     gpointer data)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *what
    = g_strdup_printf (_ ("a day in %s"), dew_month_name (about->chamber->month));
  g_auto (GStrv) lines = NULL;
  DewRoomBudget budget;

  append_title (out, about, what);
  append_hours (out, about, day);
  append_plants (out, about, day, lookup, data);
  dew_budget_find (about->chamber, about->variant->id, day, &budget);
  lines = dew_budget_lines (day, &budget, about->chamber, about->tongue);
  append_lines (out, lines);
  g_string_append_printf (
    out,
    /* Translators: numbers: how far, how small, how small, days, seconds */
    _ ("\nThe air is that of steady days and nights; bays stray from them by up to %.1f K.\n"
       "Left over in the balances: heat %.0e, water %.0e. %d days until it begins anew, %.1f s.\n"),
    day->off_K, day->budget.energy_miss, day->budget.water_miss, day->days, day->seconds);
  if (!day->anew)
    g_string_append (out, _ ("It does not come back to where it begins: the next day differs.\n"));
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static void
write_series (DewJson *json, const char *key, const double *series, int n)
{
  dew_json_reals (json, key, series, n);
}

static void
write_budget (DewJson *json, const DewReport *about, const DewDay *day)
{
  const DewDayBudget *b = &day->budget;
  DewRoomBudget r;
  const DewRoomBudget *room = &r;

  dew_budget_find (about->chamber, about->variant->id, day, &r);
  dew_report_record (json, "budget", REAL (b, mist_kg), REAL (b, wet_kg), REAL (b, leaves_kg),
                     REAL (b, vapour_kg), REAL (b, room_kg), REAL (b, condensed_kg),
                     REAL (b, dried_kg), REAL (b, run_off_kg), REAL (b, fallen_kg),
                     REAL (b, lamps_J), REAL (b, misters_J), REAL (b, cover_J), REAL (b, air_J),
                     REAL (b, waves_J), REAL (b, energy_miss), REAL (b, water_miss),
                     REAL (room, power_kWh), REAL (room, cost), REAL (room, cost_year),
                     REAL (room, noise_day_dBA), REAL (room, noise_night_dBA), REAL (room, room_L),
                     REAL (room, room_rise_kg_m3), REAL (room, room_rise), REAL (room, wall_rh),
                     REAL (room, wall_rh_without), REAL (room, minerals_g_month));
}

static void
write_out_hours (DewJson *json, const DewOutHours *hours)
{
  dew_json_list (json, "outside");
  for (int o = 0; o < DEW_N_OUTS; o++)
    if (isfinite (hours->beyond[o]))
      {
        dew_json_object (json, NULL);
        dew_report_put (json, WORDS ("why", out_keys[o]), REAL_OF ("hours", hours->hours[o]),
                        REAL_OF ("beyond", hours->beyond[o]), REAL_OF ("limit", hours->limit[o]));
        dew_json_end (json);
      }
  dew_json_end (json);
}

static void
write_plants (DewJson *json, const DewDay *day, DewPlantWishLookup lookup, gpointer data)
{
  dew_json_list (json, "plants");
  for (guint n = 0; n < day->plants->len; n++)
    {
      const DewDayPlant *plant = &g_array_index (day->plants, DewDayPlant, n);
      DewPlantWish wish;

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER (plant, thing_id), WORDS ("name", plant->name),
                      INTEGER (plant, bay));
      write_series (json, "t_C", plant->t_C, day->n);
      write_series (json, "rh", plant->rh, day->n);
      if (lookup != NULL && lookup (plant->species, &wish, data))
        {
          DewOutHours hours;

          dew_day_judge (day, plant, &wish, &hours);
          write_out_hours (json, &hours);
        }
      dew_json_end (json);
    }
  dew_json_end (json);
}

/* Without what comes before: of one day of a year as well. */
static void
write_day (DewJson *json, const DewReport *about, const DewDay *day, DewPlantWishLookup lookup,
           gpointer data)
{
  static const char *const clocks[] = { "steady", "spring", "autumn" };

  dew_report_put (json, WORDS ("clock", clocks[day->clock]), INTEGER (day, days), FLAG (day, anew),
                  INTEGER (day, steps), INTEGER (day, switches), REAL (day, off_K),
                  REAL (day, seconds));
  write_series (json, "time_s", day->time_s, day->n);
  write_series (json, "room_t_C", day->room_t_C, day->n);
  write_series (json, "room_rh", day->room_rh, day->n);
  dew_json_list (json, "bays");
  for (int b = 0; b < day->n_bays; b++)
    {
      const DewDayBay *bay = &day->bays[b];

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER_OF ("bay", b),
                      WORDS ("stands_on", bay_name (about, bay->shelf_id)),
                      INTEGER (bay, shelf_id));
      write_series (json, "t_C", bay->t_C, day->n);
      write_series (json, "rh", bay->rh, day->n);
      write_series (json, "rh_lo", bay->rh_lo, day->n);
      write_series (json, "rh_hi", bay->rh_hi, day->n);
      write_series (json, "dew_kg", bay->dew_kg, day->n);
      dew_json_end (json);
    }
  dew_json_end (json);
  dew_json_list (json, "humidifiers");
  for (guint n = 0; n < day->misters->len; n++)
    {
      const DewDayMister *m = &g_array_index (day->misters, DewDayMister, n);

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER (m, thing_id), WORDS ("name", m->name), REAL (m, water_kg),
                      INTEGER (m, starts), REAL (m, tank_kg), REAL (m, tank_hours));
      write_series (json, "duty", m->duty, day->n);
      dew_json_end (json);
    }
  dew_json_end (json);
  dew_json_list (json, "wet");
  for (guint n = 0; n < day->wets->len; n++)
    {
      const DewDayWet *w = &g_array_index (day->wets, DewDayWet, n);

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER (w, thing_id), WORDS ("name", w->name), REAL (w, water_kg),
                      REAL (w, full_kg), REAL (w, hours));
      dew_json_end (json);
    }
  dew_json_end (json);
  write_plants (json, day, lookup, data);
  write_budget (json, about, day);
}

char *
dew_report_day_json (const DewReport *about, const DewDay *day, DewPlantWishLookup lookup,
                     gpointer data)
{
  DewJson *json = dew_json_new ();

  dew_report_head (json, "dewtier day", about);
  dew_report_put (json, WORDS ("variant", about->variant->name),
                  INTEGER_OF ("month", about->chamber->month + 1));
  write_day (json, about, day, lookup, data);
  return dew_json_finish (json);
}

/* --- a year ---------------------------------------------------------------------------------- */

/* A letter a week: what is out, or a point. */
static const char letters[DEW_N_OUTS + 1] = "cwCWdh";

char *
dew_report_year_text (const DewReport *about, const DewYear *year)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *worst = dew_year_worst_words (year, about->tongue);

  append_title (out, about, _ ("a year"));
  dew_report_pad (out, _ ("Month"), NAME_WIDTH, FALSE);
  for (int b = year->days[0]->n_bays - 1; b >= 0; b--)
    dew_report_pad (out, bay_name (about, year->days[0]->bays[b].shelf_id), 24, TRUE);
  g_string_append_c (out, '\n');
  for (int m = 0; m < 12; m++)
    {
      const DewDay *day = year->days[m];

      dew_report_pad (out, dew_month_name (m), NAME_WIDTH, FALSE);
      for (int b = day->n_bays - 1; b >= 0; b--)
        {
          double t[2] = { INFINITY, -INFINITY }, rh[2] = { INFINITY, -INFINITY };
          g_autofree char *cell = NULL;

          for (int k = 1; k < day->n; k++)
            {
              t[0] = fmin (t[0], day->bays[b].t_C[k]);
              t[1] = fmax (t[1], day->bays[b].t_C[k]);
              rh[0] = fmin (rh[0], day->bays[b].rh[k]);
              rh[1] = fmax (rh[1], day->bays[b].rh[k]);
            }
          cell = g_strdup_printf ("%.0f-%.0f C %.0f-%.0f %%", t[0], t[1], 100.0 * rh[0],
                                  100.0 * rh[1]);
          dew_report_pad (out, cell, 24, TRUE);
        }
      g_string_append_c (out, '\n');
    }
  g_string_append_printf (out, "\n%s\n",
                          _ ("Weeks from January on; c, w: too cool, too warm by day; C, W: by "
                             "night; d: too dry; h: too humid"));
  for (guint n = 0; n < year->plants->len; n++)
    {
      const DewYearPlant *plant = &g_array_index (year->plants, DewYearPlant, n);

      dew_report_pad (out, plant->name, NAME_WIDTH, FALSE);
      for (int week = 0; week < DEW_WEEKS; week++)
        g_string_append_c (out, !plant->known           ? '?'
                                : plant->why[week] >= 0 ? letters[plant->why[week]]
                                                        : '.');
      g_string_append_c (out, '\n');
    }
  g_string_append_printf (out, "\n%s\n", worst);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
dew_report_year_json (const DewReport *about, const DewYear *year)
{
  DewJson *json = dew_json_new ();

  dew_report_head (json, "dewtier year", about);
  dew_report_put (json, WORDS ("variant", about->variant->name), REAL (year, seconds),
                  INTEGER (year, worst_week), INTEGER (year, worst_plant));
  dew_json_list (json, "months");
  for (int m = 0; m < 12; m++)
    {
      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER_OF ("month", m + 1));
      write_day (json, about, year->days[m], NULL, NULL);
      dew_json_end (json);
    }
  dew_json_end (json);
  dew_json_list (json, "plants");
  for (guint n = 0; n < year->plants->len; n++)
    {
      const DewYearPlant *plant = &g_array_index (year->plants, DewYearPlant, n);

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER (plant, thing_id), WORDS ("name", plant->name),
                      FLAG (plant, known), INTEGER (plant, weeks_out));
      dew_json_reals (json, "beyond", plant->beyond, DEW_WEEKS);
      dew_json_list (json, "why");
      for (int week = 0; week < DEW_WEEKS; week++)
        dew_json_text (json, NULL, plant->why[week] >= 0 ? out_keys[plant->why[week]] : NULL);
      dew_json_end (json);
      dew_json_end (json);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}

/* --- mishaps ------------------------------------------------------------------------------------
 */

static gboolean
is_cold (const DewReport *about)
{
  return about->chamber->room.months[CLAMP (about->chamber->month, 0, 11)].t_night_C
         < DEW_COLD_ROOM_C;
}

char *
dew_report_mishaps_text (const DewReport *about, const DewMishaps *mishaps)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *what
    = g_strdup_printf (_ ("mishaps in %s"), dew_month_name (about->chamber->month));

  append_title (out, about, what);
  for (int k = 0; k < DEW_N_MISHAPS; k++)
    {
      const DewMishap *m = &mishaps->mishaps[k];
      g_autofree char *first = dew_mishap_first (m), *clock = dew_clock_words (m->from_h);

      g_string_append_printf (out, "%s: %s\n", dew_mishap_title (m->kind),
                              dew_mishap_words (m->kind));
      if (!m->possible)
        {
          g_string_append_printf (out, "  %s\n\n", first);
          continue;
        }
      /* Translators: a clock time, then what happens first */
      g_string_append_printf (out, _ ("  From %s on. %s\n"), clock, first);
      for (guint n = 0; n < m->plants->len; n++)
        {
          const DewMishapPlant *plant = &g_array_index (m->plants, DewMishapPlant, n);
          g_autofree char *after = dew_span_words (plant->after_s);

          if (!plant->crossed || (int) n == m->first)
            continue;
          g_string_append (out, "  ");
          dew_report_pad (out, plant->name, NAME_WIDTH, FALSE);
          g_string_append_printf (out, _ ("%s after %s\n"), dew_out_word (plant->why), after);
        }
      g_string_append_printf (out, _ ("  What helps: %s\n\n"),
                              dew_mishap_help (m->kind, is_cold (about)));
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
dew_report_mishaps_json (const DewReport *about, const DewMishaps *mishaps)
{
  DewJson *json = dew_json_new ();

  dew_report_head (json, "dewtier mishaps", about);
  dew_report_put (json, WORDS ("variant", about->variant->name),
                  INTEGER_OF ("month", about->chamber->month + 1), REAL (mishaps, seconds));
  dew_json_list (json, "mishaps");
  for (int k = 0; k < DEW_N_MISHAPS; k++)
    {
      const DewMishap *m = &mishaps->mishaps[k];

      dew_json_object (json, NULL);
      dew_report_put (json, WORDS ("mishap", mishap_keys[k]), FLAG (m, possible), REAL (m, from_h));
      dew_json_list (json, "plants");
      for (guint n = 0; m->possible && n < m->plants->len; n++)
        {
          const DewMishapPlant *plant = &g_array_index (m->plants, DewMishapPlant, n);

          dew_json_object (json, NULL);
          dew_report_put (json, INTEGER (plant, thing_id), WORDS ("name", plant->name),
                          FLAG (plant, known), FLAG (plant, crossed), REAL (plant, after_s),
                          WORDS ("why", plant->crossed ? out_keys[plant->why] : NULL),
                          REAL (plant, reaches));
          dew_json_end (json);
        }
      dew_json_end (json);
      dew_json_list (json, "bays");
      for (int b = 0; m->possible && b < m->n_bays; b++)
        {
          dew_json_object (json, NULL);
          write_series (json, "t_C", m->t_C + b * m->n, m->n);
          write_series (json, "rh", m->rh + b * m->n, m->n);
          dew_json_end (json);
        }
      dew_json_end (json);
      dew_json_end (json);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}
