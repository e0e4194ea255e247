/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the pane of a question looks like, and what it shows of the work. */
#include "questions/private.h"

#include "questions/weights.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

static void
say (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

void
dew_ask_note (DewAsk *self, const char *text)
{
  say (self->note, text);
}

void
dew_ask_say (DewAsk *self, const char *text)
{
  say (self->said, text);
}

void
dew_ask_tell (DewAsk *self, const char *text, const char *css_class)
{
  dew_add_words (GTK_BOX (self->body), text, css_class);
}

void
dew_ask_show (DewAsk *self, gpointer result, gboolean final)
{
  g_ptr_array_set_size (self->rows, 0);
  dew_empty (self->body);
  gtk_widget_set_visible (self->tail, result != NULL);
  if (result != NULL)
    self->question->show (self, result, final);
  else if (self->question->forget != NULL)
    self->question->forget (self);
}

void
dew_ask_update (DewAsk *self)
{
  gboolean running = dew_ask_running (self);

  gtk_widget_set_visible (self->strip, running);
  gtk_widget_set_visible (self->again, !running && (self->stopped || self->failed));
  if (running && self->result != NULL)
    gtk_widget_add_css_class (self->body, "lagging");
  else
    gtk_widget_remove_css_class (self->body, "lagging");
}

void
dew_ask_show_share (DewAsk *self, double share)
{
  const char *busy = _ (self->question->busy);
  g_autofree char *spoken = g_strdup_printf (_ ("%s, %.0f %% done"), busy, 100.0 * share);

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), share);
  gtk_label_set_text (GTK_LABEL (self->doing), busy);
  dew_name_widget (self->bar, spoken);
}

GtkWidget *
dew_ask_head (DewAsk *self)
{
  return self->head;
}

GtkWidget *
dew_ask_body (DewAsk *self)
{
  return self->body;
}

GtkWidget *
dew_ask_tail (DewAsk *self)
{
  return self->tail;
}

/* --- building ----------------------------------------------------------------- */

static void
on_stop (DewAsk *self)
{
  dew_ask_stop (self);
  gtk_widget_grab_focus (self->again);
}

static GtkWidget *
strip_new (DewAsk *self)
{
  GtkWidget *strip = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *stop = dew_way_new (_ ("Stop"), "way", NULL);

  self->doing = dew_words_new ("", "soft");
  gtk_widget_set_hexpand (self->doing, TRUE);
  g_signal_connect_swapped (stop, "clicked", G_CALLBACK (on_stop), self);
  gtk_box_append (GTK_BOX (row), self->doing);
  gtk_box_append (GTK_BOX (row), stop);
  self->bar = gtk_progress_bar_new ();
  gtk_widget_add_css_class (self->bar, "errand");
  gtk_box_append (GTK_BOX (strip), row);
  gtk_box_append (GTK_BOX (strip), self->bar);
  gtk_widget_add_css_class (strip, "errand");
  return strip;
}

/* Who changes what is asked means the document, not what is looked at. */
static void
on_head_focus (DewAsk *self)
{
  dew_ask_look (self, -1);
}

void
dew_ask_build (DewAsk *self)
{
  GtkBox *frame = GTK_BOX (self->frame);
  GtkWidget *title = dew_words_new (_ (self->question->title), "pane-title");
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_widget_add_css_class (title, "first");
  self->head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (on_head_focus), self);
  gtk_widget_add_controller (self->head, focus);
  self->strip = strip_new (self);
  self->note = dew_words_new (NULL, NULL);
  self->again = dew_way_new (_ ("Ask again"), "way", NULL);
  g_signal_connect_swapped (self->again, "clicked", G_CALLBACK (dew_ask_now), self);
  self->body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->tail = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->said = dew_words_new (NULL, "foot");

  gtk_box_append (frame, dew_way_new (_ ("‹ All shelves"), "back", "win.show-bays"));
  gtk_box_append (frame, title);
  gtk_box_append (frame, dew_words_new (_ (self->question->purpose), "soft"));
  gtk_box_append (frame, self->head);
  gtk_box_append (frame, self->strip);
  gtk_box_append (frame, self->note);
  gtk_box_append (frame, self->again);
  gtk_box_append (frame, self->body);
  gtk_box_append (frame, self->tail);
  gtk_box_append (frame, self->said);
  if (self->question->build != NULL)
    self->question->build (self);
  if (self->question->weighed)
    gtk_box_append (GTK_BOX (self->head), dew_ask_weights_new (self));
  dew_ask_note (self, NULL);
  dew_ask_say (self, NULL);
  dew_ask_show (self, NULL, FALSE);
  dew_ask_update (self);
}
