/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/work.h"

#include "say/calibrated.h"
#include "say/readings.h"

void
dew_readings_input_free (gpointer data)
{
  DewReadingsInput *input = data;

  dew_chamber_free (input->chamber);
  g_free (input->path);
  g_free (input);
}

void
dew_readings_result_free (gpointer data)
{
  DewReadingsResult *result = data;

  g_free (result->words);
  dew_against_free (result->against);
  dew_calibration_free (result->calibration);
  g_free (result);
}

static DewWitness *
take_witnesses (const DewReadingsInput *input, int *n, GError **error)
{
  g_autoptr (DewSeries) series = dew_series_open (input->path, error);
  g_autoptr (GArray) loggers = series != NULL ? dew_series_loggers (series, error) : NULL;
  const DewVariant *variant = dew_chamber_shown (input->chamber);
  DewWitness *out;

  *n = 0;
  if (loggers == NULL)
    return NULL;
  out = g_new0 (DewWitness, MAX (1, loggers->len));
  for (guint i = 0; i < loggers->len; i++)
    if (dew_logger_witness (series, &g_array_index (loggers, DewLogger, i), variant, input->from_s,
                            input->to_s, &out[*n], error)
        != NULL)
      (*n)++;
  return out;
}

static gboolean
do_task (const DewReadingsInput *input, const DewWitness *witnesses, int n,
         DewReadingsResult *result, GCancellable *cancellable, GError **error)
{
  g_autoptr (GTimeZone) zone = g_time_zone_new_local ();
  DewReport about = { .file = input->path,
                      .chamber = input->chamber,
                      .variant = dew_chamber_shown (input->chamber),
                      .tongue = input->tongue };
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  if (input->task == DEW_READINGS_AGAINST)
    {
      result->against = dew_against (input->chamber, 0, witnesses, n, zone, input->from_s,
                                     input->to_s, &options, cancellable, error);
      if (result->against != NULL)
        result->words = dew_report_against_text (&about, witnesses, result->against, zone);
    }
  else if (input->task == DEW_READINGS_CALIBRATE)
    {
      result->calibration = dew_calibrate (input->chamber, 0, witnesses, n, zone, input->from_s,
                                           input->to_s, cancellable, error);
      if (result->calibration != NULL)
        result->words = dew_report_calibration_text (&about, result->calibration);
    }
  else
    {
      DewLogger usual;
      g_autoptr (DewHang) hang = NULL;

      dew_logger_init (&usual, "");
      hang = dew_hang (input->chamber, 0, DEW_HANG_MOST, usual.t_error_K, usual.rh_error,
                       cancellable, error);
      if (hang != NULL)
        result->words = dew_report_hang_text (&about, hang);
    }
  return result->words != NULL;
}

gpointer
dew_readings_work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  DewReadingsInput *input = data;
  DewReadingsResult *result = g_new0 (DewReadingsResult, 1);
  int n = 0;
  DewWitness *witnesses = take_witnesses (input, &n, error);
  gboolean ok;

  result->task = input->task;
  ok = witnesses != NULL && do_task (input, witnesses, n, result, cancellable, error);
  for (int i = 0; i < n; i++)
    g_array_unref (witnesses[i].readings);
  g_free (witnesses);
  if (ok)
    return result;
  dew_readings_result_free (result);
  return NULL;
}
