/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/page.h"

#include "canvas/theme.h"
#include "document/edit.h"
#include "document/tongue.h"
#include "paint/timeline.h"
#include "readings/import.h"
#include "readings/work.h"
#include "say/calibrated.h"
#include "say/diary.h"
#include "say/readings.h"
#include "widgets/drop.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <math.h>

#define CHART_HEIGHT_PX 420
#define LETTER_PX 12.0
#define ZOOM 1.25
#define LEAST_SPAN_S (6 * 3600)

/* An instrument's readings in quarters of an hour, as long as the page is shown. */
typedef struct
{
  DewLogger logger;
  GArray *quarters; /* DewQuarter */
} Line;

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  DewErrand *errand;
  GPtrArray *lines; /* Line */
  GArray *events;   /* DewEvent */
  GArray *marks;    /* DewTimelineEvent, of the events */
  DewReadingsResult *result;
  DewTimeline timeline;
  gint64 dragged_s;
  GtkFileChooserNative *chooser;

  GtkWidget *page, *chart, *due, *import, *words, *bar, *kind, *note, *take, *empty;
} Page;

static void
line_free (gpointer data)
{
  Line *line = data;

  g_clear_pointer (&line->quarters, g_array_unref);
  g_free (line);
}

/* --- what is shown --------------------------------------------------------------------- */

static gint64
now_s (void)
{
  return g_get_real_time () / G_USEC_PER_SEC;
}

/* What the newest comparison forecasts of the first instrument. */
static void
set_forecast (Page *self)
{
  DewTimelineForecast *f = &self->timeline.forecast;
  const DewAgainstAll *all = self->result != NULL ? self->result->against : NULL;

  *f = (DewTimelineForecast){ FALSE };
  for (guint i = 0; all != NULL && i < all->rows->len; i++)
    {
      const DewAgainst *row = &g_array_index (all->rows, DewAgainst, i);

      if (row->witness != g_array_index (all->rows, DewAgainst, 0).witness)
        continue;
      f->known = TRUE;
      f->t_C[row->night] = row->t_C;
      f->t_band_K[row->night] = row->t_band_K;
      f->rh[row->night] = row->rh;
      f->rh_band[row->night] = row->rh_band;
    }
}

static void
set_lines (Page *self)
{
  gint64 first = G_MAXINT64, last = G_MININT64;

  self->timeline.n_lines = 0;
  for (guint i = 0; i < self->lines->len && i < DEW_TIMELINE_LINES; i++)
    {
      const Line *line = g_ptr_array_index (self->lines, i);
      gint64 from_s = line->logger.first_day * DEW_DAY_S;

      self->timeline.line[self->timeline.n_lines++]
        = (DewTimelineLine){ line->logger.name, (const DewQuarter *) line->quarters->data, from_s,
                             line->quarters->len, line->logger.place == DEW_LOGGER_ROOM };
      first = MIN (first, from_s);
      last = MAX (last, (line->logger.last_day + 1) * DEW_DAY_S);
    }
  for (guint i = 0; i < self->events->len && self->lines->len == 0; i++)
    {
      first = MIN (first, g_array_index (self->events, DewEvent, i).time_s - DEW_DAY_S);
      last = MAX (last, g_array_index (self->events, DewEvent, i).time_s + DEW_DAY_S);
    }
  if (first > last)
    {
      first = now_s () - 7 * DEW_DAY_S;
      last = now_s ();
    }
  self->timeline.from_s = first;
  self->timeline.to_s = last;
}

static void
set_events (Page *self)
{
  g_array_set_size (self->marks, 0);
  for (guint i = 0; i < self->events->len; i++)
    {
      const DewEvent *event = &g_array_index (self->events, DewEvent, i);
      DewTimelineEvent mark = { event->time_s, event->change, event->words };

      g_array_append_val (self->marks, mark);
    }
  self->timeline.event = (const DewTimelineEvent *) self->marks->data;
  self->timeline.n_events = (int) self->marks->len;
}

static gboolean
read_lines (Page *self, DewSeries *series, GError **error)
{
  g_autoptr (GArray) loggers = dew_series_loggers (series, error);

  if (loggers == NULL)
    return FALSE;
  g_ptr_array_set_size (self->lines, 0);
  for (guint i = 0; i < loggers->len; i++)
    {
      Line *line = g_new0 (Line, 1);

      line->logger = g_array_index (loggers, DewLogger, i);
      line->quarters = dew_series_quarters (series, &line->logger, line->logger.first_day,
                                            line->logger.last_day, error);
      if (line->quarters == NULL)
        {
          line_free (line);
          return FALSE;
        }
      g_ptr_array_add (self->lines, line);
    }
  return TRUE;
}

static gboolean
read_events (Page *self, DewSeries *series, GError **error)
{
  g_autoptr (GArray) notes = dew_series_notes (series, error);
  g_auto (GStrv) due = NULL;
  gint64 every_s[DEW_N_NOTE_KINDS];

  if (notes == NULL || !dew_series_care (series, every_s, error))
    return FALSE;
  g_clear_pointer (&self->events, g_array_unref);
  self->events = dew_diary (notes, dew_series_history (series));
  due = dew_diary_due (notes, every_s, now_s ());
  dew_empty (self->due);
  for (guint i = 0; due[i] != NULL; i++)
    dew_add_words (GTK_BOX (self->due), due[i], NULL);
  return TRUE;
}

static void
say_words (Page *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->words), text);
  gtk_widget_set_visible (self->words, text[0] != '\0');
}

/* Reads all anew from the file. */
static void
reload (Page *self)
{
  const char *path = dew_document_path (self->document);
  g_autoptr (GError) error = NULL;
  g_autoptr (DewSeries) series = NULL;

  if (path == NULL)
    {
      say_words (self, _ ("Save the enclosure first: readings are kept in its file"));
      return;
    }
  series = dew_series_open (path, &error);
  if (series == NULL || !read_lines (self, series, &error) || !read_events (self, series, &error))
    {
      say_words (self, error->message);
      return;
    }
  self->timeline.tongue = dew_tongue ();
  set_lines (self);
  set_events (self);
  gtk_widget_set_visible (self->empty, self->lines->len == 0);
  gtk_widget_queue_draw (self->chart);
  g_debug ("readings: %u instruments, %u events", self->lines->len, self->events->len);
}

static void
draw_chart (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Page *self = data;
  const char *family;
  double scale = dew_theme_text (GTK_WIDGET (area), &family);

  dew_timeline_paint (cr, &self->timeline, dew_theme_palette (), width, height, LETTER_PX * scale);
}

/* --- moving in time ----------------------------------------------------------------------- */

static gboolean
on_scroll (GtkEventControllerScroll *scroll, double dx, double dy, gpointer data)
{
  Page *self = data;
  gint64 span_s = self->timeline.to_s - self->timeline.from_s;
  gint64 middle_s = self->timeline.from_s + span_s / 2;
  gboolean zoom = (gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll))
                   & GDK_CONTROL_MASK)
                  != 0;

  if (!zoom && dx == 0.0)
    return FALSE; /* the page itself scrolls */
  if (zoom)
    {
      span_s = MAX (LEAST_SPAN_S, (gint64) ((double) span_s * (dy > 0.0 ? ZOOM : 1.0 / ZOOM)));
      self->timeline.from_s = middle_s - span_s / 2;
    }
  else
    self->timeline.from_s += (gint64) (0.1 * dx * (double) span_s);
  self->timeline.to_s = self->timeline.from_s + span_s;
  gtk_widget_queue_draw (self->chart);
  return TRUE;
}

static void
on_drag_begin (GtkGestureDrag *drag, double x, double y, gpointer data)
{
  Page *self = data;

  self->dragged_s = self->timeline.from_s;
}

static void
on_drag (GtkGestureDrag *drag, double dx, double dy, gpointer data)
{
  Page *self = data;
  gint64 span_s = self->timeline.to_s - self->timeline.from_s;
  double width = MAX (100.0, gtk_widget_get_width (self->chart));

  self->timeline.from_s = self->dragged_s - (gint64) (dx / width * (double) span_s);
  self->timeline.to_s = self->timeline.from_s + span_s;
  gtk_widget_queue_draw (self->chart);
}

/* The last so many days; 0: all. */
static void
on_span (GtkButton *button, gpointer data)
{
  Page *self = data;
  int days = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "days"));

  set_lines (self);
  if (days > 0)
    self->timeline.from_s = self->timeline.to_s - days * (gint64) DEW_DAY_S;
  gtk_widget_queue_draw (self->chart);
}

/* --- what is asked --------------------------------------------------------------------------- */

static void
on_news (DewErrandNews *news, gpointer data)
{
  Page *self = data;

  gtk_widget_set_visible (self->bar, dew_errand_running (self->errand));
  if (news->stage == DEW_ERRAND_FAILED)
    say_words (self, news->error->message);
  if (news->stage != DEW_ERRAND_DONE)
    return;
  g_clear_pointer (&self->result, dew_readings_result_free);
  self->result = news->result;
  news->taken = TRUE;
  say_words (self, g_strchomp (self->result->words));
  gtk_widget_set_visible (self->take,
                          self->result->calibration != NULL && self->result->calibration->better);
  set_forecast (self);
  gtk_widget_queue_draw (self->chart);
  g_debug ("readings: answered");
}

static void
on_ask (GtkButton *button, gpointer data)
{
  Page *self = data;
  const DewChamber *chamber = dew_document_chamber (self->document);
  DewReadingsInput *input;

  if (chamber == NULL || dew_document_path (self->document) == NULL)
    return;
  input = g_new0 (DewReadingsInput, 1);
  input->task = (DewReadingsTask) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "task"));
  input->chamber = dew_chamber_copy (chamber);
  input->path = g_strdup (dew_document_path (self->document));
  input->from_s = self->timeline.from_s;
  input->to_s = self->timeline.to_s;
  input->tongue = dew_tongue ();
  gtk_widget_set_visible (self->take, FALSE);
  say_words (self, "");
  dew_errand_start (self->errand, dew_readings_work, input, dew_readings_input_free,
                    dew_readings_result_free);
  gtk_widget_set_visible (self->bar, TRUE);
}

static void
on_take (Page *self)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);

  if (edit == NULL || self->result == NULL || self->result->calibration == NULL)
    return;
  dew_calibration_apply (self->result->calibration, dew_edit_chamber (edit));
  dew_edit_commit (edit, _ ("Calibrate by readings"), NULL);
  gtk_widget_set_visible (self->take, FALSE);
}

static void
on_guide (Page *self)
{
  say_words (self, dew_night_guide ());
}

static void
on_note (Page *self)
{
  DewStore *store = dew_document_store (self->document);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->note)));
  DewNote note = { .time_s = now_s (),
                   .kind = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind)),
                   .text = text };

  if (store == NULL)
    {
      say_words (self, _ ("Save the enclosure first: readings are kept in its file"));
      return;
    }
  if (!dew_series_note (store, &note, NULL, &error))
    {
      say_words (self, error->message);
      return;
    }
  gtk_editable_set_text (GTK_EDITABLE (self->note), "");
  reload (self);
}

static void
on_table_chosen (GtkNativeDialog *dialog, int response, gpointer data)
{
  Page *self = data;
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT
                             ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog))
                             : NULL;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;

  if (path != NULL)
    {
      gtk_widget_set_visible (self->import, TRUE);
      dew_import_look (self->import, path);
    }
  g_clear_object (&self->chooser);
}

static void
on_table (Page *self)
{
  GtkRoot *root = gtk_widget_get_root (self->page);

  g_clear_object (&self->chooser);
  self->chooser
    = gtk_file_chooser_native_new (_ ("A table of readings"), GTK_WINDOW (root),
                                   GTK_FILE_CHOOSER_ACTION_OPEN, _ ("Open"), _ ("Cancel"));
  g_signal_connect (self->chooser, "response", G_CALLBACK (on_table_chosen), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

/* --- the page -----------------------------------------------------------------------------------
 */

static GtkWidget *
button_new (const char *label, GCallback clicked, gpointer data)
{
  GtkWidget *button = dew_way_new (label, "way", NULL);

  g_signal_connect_swapped (button, "clicked", clicked, data);
  return button;
}

static GtkWidget *
number_button_new (const char *label, const char *key, int number, GCallback clicked, gpointer data)
{
  GtkWidget *button = dew_way_new (label, "way", NULL);

  g_object_set_data (G_OBJECT (button), key, GINT_TO_POINTER (number));
  g_signal_connect (button, "clicked", clicked, data);
  return button;
}

static GtkWidget *
spans_new (Page *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14);

  gtk_box_append (GTK_BOX (row),
                  number_button_new (_ ("Three days"), "days", 3, G_CALLBACK (on_span), self));
  gtk_box_append (GTK_BOX (row),
                  number_button_new (_ ("Two weeks"), "days", 14, G_CALLBACK (on_span), self));
  gtk_box_append (GTK_BOX (row),
                  number_button_new (_ ("Ten weeks"), "days", 70, G_CALLBACK (on_span), self));
  gtk_box_append (GTK_BOX (row),
                  number_button_new (_ ("All"), "days", 0, G_CALLBACK (on_span), self));
  gtk_widget_set_halign (row, GTK_ALIGN_START);
  return row;
}

static GtkWidget *
questions_new (Page *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14);

  gtk_box_append (GTK_BOX (row), button_new (_ ("Add readings …"), G_CALLBACK (on_table), self));
  gtk_box_append (GTK_BOX (row),
                  number_button_new (_ ("Set against the forecast"), "task", DEW_READINGS_AGAINST,
                                     G_CALLBACK (on_ask), self));
  gtk_box_append (GTK_BOX (row), number_button_new (_ ("Calibrate"), "task", DEW_READINGS_CALIBRATE,
                                                    G_CALLBACK (on_ask), self));
  gtk_box_append (GTK_BOX (row), number_button_new (_ ("Where to hang instruments"), "task",
                                                    DEW_READINGS_WHERE, G_CALLBACK (on_ask), self));
  gtk_box_append (GTK_BOX (row), button_new (_ ("Night test"), G_CALLBACK (on_guide), self));
  gtk_widget_set_halign (row, GTK_ALIGN_START);
  return row;
}

static GtkWidget *
note_row_new (Page *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkStringList *kinds = gtk_string_list_new (NULL);

  for (int kind = 0; kind < DEW_N_NOTE_KINDS; kind++)
    gtk_string_list_append (kinds, dew_note_kind_name (kind));
  self->kind = dew_drop_new (kinds, _ ("Kind of note"));
  self->note = gtk_entry_new ();
  gtk_widget_set_hexpand (self->note, TRUE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->note), _ ("What happened today"));
  dew_name_widget (self->note, _ ("Note"));
  g_signal_connect_swapped (self->note, "activate", G_CALLBACK (on_note), self);
  gtk_box_append (GTK_BOX (row), self->kind);
  gtk_box_append (GTK_BOX (row), self->note);
  gtk_box_append (GTK_BOX (row), button_new (_ ("Note it down"), G_CALLBACK (on_note), self));
  return row;
}

static GtkWidget *
chart_new (Page *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *scroll
    = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkWidget *chart = dew_picture_new (_ ("Humidity and temperature over time, with notes"), 0,
                                      CHART_HEIGHT_PX, draw_chart, self, NULL);

  gtk_widget_set_hexpand (chart, TRUE);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (on_scroll), self);
  gtk_widget_add_controller (chart, GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (chart, scroll);
  return chart;
}

static void
on_destroy (GtkWidget *page, gpointer data)
{
  dew_errand_cancel (((Page *) data)->errand);
}

static void
page_free (gpointer data)
{
  Page *self = data;

  dew_errand_free (self->errand);
  g_clear_object (&self->chooser);
  g_clear_pointer (&self->result, dew_readings_result_free);
  g_ptr_array_unref (self->lines);
  g_array_unref (self->events);
  g_array_unref (self->marks);
  g_free (self);
}

static void
fill (Page *self, GtkBox *column)
{
  self->chart = chart_new (self);
  self->due = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->empty = dew_words_new (_ ("There are no readings yet. Hang an instrument in the drawing, "
                                  "and add the table that its logger writes."),
                               NULL);
  self->import = dew_import_new (self->document, G_CALLBACK (reload), self);
  self->words = dew_words_new ("", NULL);
  self->bar = dew_words_new (_ ("Working it out …"), "soft");
  self->take = button_new (_ ("Take it into the document"), G_CALLBACK (on_take), self);
  gtk_widget_set_visible (self->import, FALSE);
  gtk_widget_set_visible (self->words, FALSE);
  gtk_widget_set_visible (self->bar, FALSE);
  gtk_widget_set_visible (self->take, FALSE);
  gtk_box_append (column, dew_way_new (_ ("‹ Back to the sheet"), "back", "win.back"));
  gtk_box_append (column, dew_words_new (_ ("Readings and journal"), "page-title"));
  gtk_box_append (column, self->due);
  gtk_box_append (column, questions_new (self));
  gtk_box_append (column, self->import);
  gtk_box_append (column, self->empty);
  gtk_box_append (column, self->chart);
  gtk_box_append (column, spans_new (self));
  gtk_box_append (column, note_row_new (self));
  gtk_box_append (column, self->bar);
  gtk_box_append (column, self->words);
  gtk_box_append (column, self->take);
}

GtkWidget *
dew_readings_page_new (DewDocument *document)
{
  Page *self = g_new0 (Page, 1);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  self->document = document;
  self->errand = dew_errand_new (on_news, self);
  self->lines = g_ptr_array_new_with_free_func (line_free);
  self->events = g_array_new (FALSE, FALSE, sizeof (DewEvent));
  self->marks = g_array_new (FALSE, FALSE, sizeof (DewTimelineEvent));
  self->page = gtk_scrolled_window_new ();
  g_object_set_data_full (G_OBJECT (self->page), "dew-readings", self, page_free);
  dew_name_widget (self->page, _ ("Readings and journal"));
  gtk_widget_add_css_class (column, "compare");
  fill (self, GTK_BOX (column));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->page), column);
  g_signal_connect_swapped (self->page, "map", G_CALLBACK (reload), self);
  g_signal_connect (self->page, "destroy", G_CALLBACK (on_destroy), self);
  return self->page;
}
