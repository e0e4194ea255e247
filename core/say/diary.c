/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/diary.h"

#include "say/readings.h"

#include <glib/gi18n.h>
#include <math.h>

#define AROUND_S (3 * DEW_DAY_S)

static void
event_clear (gpointer data)
{
  g_clear_pointer (&((DewEvent *) data)->words, g_free);
}

static int
by_time (gconstpointer a, gconstpointer b)
{
  gint64 one = ((const DewEvent *) a)->time_s, other = ((const DewEvent *) b)->time_s;

  return (one > other) - (one < other);
}

const char *
dew_note_kind_name (DewNoteKind kind)
{
  switch (kind)
    {
    case DEW_NOTE_PLANT:
      return _ ("Plant");
    case DEW_NOTE_CHANGE:
      return _ ("Change");
    case DEW_NOTE_WATER:
      return _ ("Watered");
    case DEW_NOTE_REFILL:
      return _ ("Refilled");
    case DEW_NOTE_RINSE:
      return _ ("Rinsed");
    case DEW_NOTE_PLAIN:
    case DEW_N_NOTE_KINDS:
    default:
      return _ ("Note");
    }
}

GArray *
dew_diary (const GArray *notes, const DewHistory *history)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewEvent));

  g_array_set_clear_func (out, event_clear);
  for (guint i = 0; i < notes->len; i++)
    {
      const DewNote *note = &g_array_index (notes, DewNote, i);
      DewEvent event = { .time_s = note->time_s, .kind = note->kind };

      event.words = note->about[0] != '\0' ? g_strdup_printf ("%s: %s", note->about, note->text)
                                           : g_strdup (note->text);
      g_array_append_val (out, event);
    }
  for (guint n = 1; n <= dew_history_index (history); n++)
    if (dew_history_made_s (history, n) > 0)
      {
        DewEvent event = { .time_s = dew_history_made_s (history, n),
                           .change = TRUE,
                           .kind = DEW_NOTE_CHANGE,
                           .words = g_strdup (dew_history_label (history, n)) };

        g_array_append_val (out, event);
      }
  g_array_sort (out, by_time);
  return out;
}

char **
dew_diary_due (const GArray *notes, const gint64 every_s[DEW_N_NOTE_KINDS], gint64 now_s)
{
  g_autoptr (GStrvBuilder) out = g_strv_builder_new ();
  static const char *const words[DEW_N_NOTE_KINDS] = {
    [DEW_NOTE_WATER] = N_ ("Water the plants"),
    [DEW_NOTE_REFILL] = N_ ("Refill the humidifier"),
    [DEW_NOTE_RINSE] = N_ ("Rinse the humidifier"),
  };

  for (int kind = 0; kind < DEW_N_NOTE_KINDS; kind++)
    {
      gint64 last_s = G_MININT64;
      g_autofree char *text = NULL;

      if (every_s[kind] <= 0 || words[kind] == NULL)
        continue;
      for (guint i = 0; i < notes->len; i++)
        if ((int) g_array_index (notes, DewNote, i).kind == kind)
          last_s = MAX (last_s, g_array_index (notes, DewNote, i).time_s);
      if (last_s == G_MININT64)
        text = g_strdup_printf (_ ("%s: never noted"), _ (words[kind]));
      else if (last_s + every_s[kind] <= now_s)
        text = g_strdup_printf (_ ("%s: due for %.0f days"), _ (words[kind]),
                                (double) (now_s - last_s - every_s[kind]) / DEW_DAY_S);
      if (text != NULL)
        g_strv_builder_add (out, text);
    }
  return g_strv_builder_end (out);
}

/* Mean humidity of all instruments inside; NAN when nothing was read. */
static double
mean_inside (DewSeries *series, const GArray *loggers, gint64 from_s, gint64 to_s)
{
  double sum = 0.0;
  int count = 0;

  for (guint i = 0; i < loggers->len; i++)
    {
      const DewLogger *logger = &g_array_index (loggers, DewLogger, i);
      g_autoptr (GArray) readings = NULL;
      DewReadingMeans means;

      if (logger->place != DEW_LOGGER_INSIDE)
        continue;
      readings = dew_series_readings (series, logger, from_s, to_s, TRUE, NULL);
      if (readings == NULL)
        continue;
      dew_readings_means (readings, from_s, to_s, &means);
      if (!isnan (means.rh_mean))
        {
          sum += means.rh_mean;
          count++;
        }
    }
  return count > 0 ? sum / count : NAN;
}

static void
append_event (GString *out, DewSeries *series, const GArray *loggers, const DewEvent *event)
{
  g_autofree char *when = dew_moment_text (event->time_s, NULL);
  double before = mean_inside (series, loggers, event->time_s - AROUND_S, event->time_s);
  double after = mean_inside (series, loggers, event->time_s, event->time_s + AROUND_S);

  g_string_append_printf (out, "%s  %s: %s", when,
                          event->change ? _ ("In the document") : dew_note_kind_name (event->kind),
                          event->words);
  if (!isnan (before) && !isnan (after))
    g_string_append_printf (out, _ ("  (inside %.0f %% the three days before, %.0f %% after)"),
                            100.0 * before, 100.0 * after);
  g_string_append_c (out, '\n');
}

char *
dew_report_diary_text (const DewReport *about, DewSeries *series, gint64 now_s, GError **error)
{
  g_autoptr (GArray) notes = dew_series_notes (series, error);
  g_autoptr (GArray) loggers = notes != NULL ? dew_series_loggers (series, error) : NULL;
  g_autoptr (GArray) events = NULL;
  g_auto (GStrv) due = NULL;
  gint64 every_s[DEW_N_NOTE_KINDS];
  GString *out;

  if (loggers == NULL || !dew_series_care (series, every_s, error))
    return NULL;
  events = dew_diary (notes, dew_series_history (series));
  due = dew_diary_due (notes, every_s, now_s);
  out = g_string_new (NULL);
  for (guint i = 0; i < events->len; i++)
    append_event (out, series, loggers, &g_array_index (events, DewEvent, i));
  if (events->len == 0)
    g_string_append (out, _ ("The journal is empty.\n"));
  for (guint i = 0; due[i] != NULL; i++)
    g_string_append_printf (out, "! %s\n", due[i]);
  return g_string_free (out, FALSE);
}
