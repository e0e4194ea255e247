/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier readings compare|night|where and dewtier calibrate: what readings say of the forecast. */
#include "command-line.h"

#include "say/calibrated.h"
#include "say/readings.h"

#include <glib/gi18n.h>
#include <math.h>

/* --- the witnesses -------------------------------------------------------------------- */

typedef struct
{
  DewWitness *witness; /* [n] */
  int n;
  gint64 from_s, to_s;
  GTimeZone *zone;
} Witnesses;

static void
witnesses_clear (Witnesses *w)
{
  for (int i = 0; i < w->n; i++)
    g_array_unref (w->witness[i].readings);
  g_clear_pointer (&w->witness, g_free);
  g_clear_pointer (&w->zone, g_time_zone_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Witnesses, witnesses_clear)

/* From --from and --to, else all there is. */
static gboolean
take_times (const DewAsked *asked, const GArray *loggers, Witnesses *out)
{
  gint64 first = G_MAXINT64, last = G_MININT64;

  for (guint i = 0; i < loggers->len; i++)
    {
      const DewLogger *logger = &g_array_index (loggers, DewLogger, i);

      if (logger->n == 0)
        continue;
      first = MIN (first, logger->first_day * DEW_DAY_S);
      last = MAX (last, (logger->last_day + 1) * DEW_DAY_S);
    }
  if (first > last)
    {
      dew_command_complain (DEW_EXIT_NO, _ ("%s: there are no readings in it yet; import some"),
                            asked->words[asked->n > 1 ? 1 : 0]);
      return FALSE;
    }
  out->zone
    = asked->zone != NULL ? g_time_zone_new_identifier (asked->zone) : g_time_zone_new_local ();
  out->from_s = first;
  out->to_s = last;
  if (out->zone == NULL
      || (asked->from != NULL && !dew_csv_moment (asked->from, asked->zone, &out->from_s))
      || (asked->to != NULL && !dew_csv_moment (asked->to, asked->zone, &out->to_s))
      || out->to_s <= out->from_s)
    {
      dew_command_complain (DEW_EXIT_USAGE,
                            _ ("--from and --to: give year, month, day and time, the earlier one "
                               "first, such as --from \"2026-01-31 08:00\", and a known --zone"));
      return FALSE;
    }
  return TRUE;
}

static gboolean
take_witnesses (const DewAsked *asked, const char *path, Witnesses *out)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewSeries) series = dew_series_open (path, &error);
  g_autoptr (GArray) loggers = series != NULL ? dew_series_loggers (series, &error) : NULL;

  if (loggers == NULL)
    {
      dew_command_complain (DEW_EXIT_NO, "%s", error->message);
      return FALSE;
    }
  if (!take_times (asked, loggers, out))
    return FALSE;
  out->witness = g_new0 (DewWitness, loggers->len);
  for (guint i = 0; i < loggers->len; i++)
    {
      GArray *readings
        = dew_logger_witness (series, &g_array_index (loggers, DewLogger, i), asked->about.variant,
                              out->from_s, out->to_s, &out->witness[out->n], &error);

      if (readings == NULL)
        {
          dew_command_complain (DEW_EXIT_NO, "%s", error->message);
          return FALSE;
        }
      out->n++;
    }
  return TRUE;
}

/* --- what is asked ----------------------------------------------------------------------- */

int
dew_command_readings_compare (DewAsked *asked)
{
  g_auto (Witnesses) w = { 0 };
  g_autoptr (DewAgainstAll) all = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewForecastOptions options;

  if (!dew_command_open (asked, asked->words[1]) || !take_witnesses (asked, asked->words[1], &w))
    return DEW_EXIT_NO;
  dew_command_options (asked, &options);
  all = dew_against (asked->chamber, asked->about.variant->id, w.witness, w.n, w.zone, w.from_s,
                     w.to_s, &options, NULL, &error);
  if (all != NULL)
    text = asked->json ? dew_report_against_json (&asked->about, w.witness, all)
                       : dew_report_against_text (&asked->about, w.witness, all, w.zone);
  return dew_command_answer (asked, text, error);
}

int
dew_command_readings_night (DewAsked *asked)
{
  g_auto (Witnesses) w = { 0 };
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewNightAnswer answer;
  double area_m2 = -1.0;

  if (asked->n == 1)
    return dew_command_say (dew_night_guide ());
  if (asked->from == NULL || asked->to == NULL)
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("give the evening with --from and --to; dewtier "
                                    "readings night tells how it is done"));
  if (!dew_command_open (asked, asked->words[1]) || !take_witnesses (asked, asked->words[1], &w))
    return DEW_EXIT_NO;
  dew_night_test (asked->chamber, &(DewNightTest){ w.witness, w.n, w.from_s, w.to_s, asked->dry },
                  &answer);
  if (answer.found
      && !dew_night_leakage (asked->chamber, asked->about.variant->id, answer.exchange_1_s,
                             &area_m2, NULL, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  text = asked->json ? dew_report_night_json (&asked->about, &answer, area_m2)
                     : dew_report_night_text (&asked->about, &answer, area_m2);
  return dew_command_say (text) != DEW_EXIT_FINE ? DEW_EXIT_NO
         : answer.found                          ? DEW_EXIT_FINE
                                                 : DEW_EXIT_NO;
}

int
dew_command_readings_where (DewAsked *asked)
{
  g_autoptr (DewHang) hang = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewLogger usual;

  if (!dew_command_open (asked, asked->words[1]))
    return DEW_EXIT_NO;
  dew_logger_init (&usual, "");
  hang = dew_hang (asked->chamber, asked->about.variant->id, DEW_HANG_MOST, usual.t_error_K,
                   usual.rh_error, NULL, &error);
  if (hang != NULL)
    text = asked->json ? dew_report_hang_json (&asked->about, hang)
                       : dew_report_hang_text (&asked->about, hang);
  return dew_command_answer (asked, text, error);
}

/* --- calibration ---------------------------------------------------------------------------- */

/* An undo step like any other: what the document said before is one step back, and what was found
 * is kept beside it. */
static gboolean
apply (const DewAsked *asked, const DewCalibration *calibration, GError **error)
{
  g_autoptr (DewStore) store = dew_store_open (asked->words[0], error);
  g_autoptr (DewHistory) history = NULL;
  g_autofree char *report = dew_report_calibration_json (&asked->about, calibration);

  if (store == NULL)
    return FALSE;
  history = dew_store_history (store);
  if (!dew_history_push (history, calibration->chamber, _ ("Calibrate by readings"), NULL, error))
    return FALSE;
  dew_store_save (store, history, NULL, NULL);
  return dew_store_flush (store, error) && dew_series_keep (store, "fit", report, error);
}

int
dew_command_calibrate (DewAsked *asked)
{
  g_auto (Witnesses) w = { 0 };
  g_autoptr (DewCalibration) calibration = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  if (!dew_command_open (asked, asked->words[0]) || !take_witnesses (asked, asked->words[0], &w))
    return DEW_EXIT_NO;
  calibration = dew_calibrate (asked->chamber, asked->about.variant->id, w.witness, w.n, w.zone,
                               w.from_s, w.to_s, NULL, &error);
  if (calibration == NULL || (asked->apply && !apply (asked, calibration, &error)))
    return dew_command_complain (DEW_EXIT_NO, "%s: %s", asked->words[0], error->message);
  text = asked->json ? dew_report_calibration_json (&asked->about, calibration)
                     : dew_report_calibration_text (&asked->about, calibration);
  return dew_command_say (text);
}
