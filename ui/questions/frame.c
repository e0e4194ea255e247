/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "questions/private.h"

#include "widgets/names.h"

#include <glib/gi18n.h>

/* After a change one waits for the next one that long before asking again. */
#define CALM_MS 500

static void
taken_clear (gpointer data)
{
  dew_chamber_free (((DewAskTaken *) data)->chamber);
}

/* --- what is shown of the work --------------------------------------------- */

static void
say_note (DewAsk *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->note), text != NULL ? text : "");
  gtk_widget_set_visible (self->note, text != NULL);
}

void
dew_ask_say (DewAsk *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->said), text != NULL ? text : "");
  gtk_widget_set_visible (self->said, text != NULL && *text != '\0');
}

static void
update_strip (DewAsk *self)
{
  gboolean running = dew_errand_running (self->errand) || self->calm != 0;

  gtk_widget_set_visible (self->strip, running);
  gtk_widget_set_visible (self->again, !running && (self->stopped || self->failed));
  if (running && self->result != NULL)
    gtk_widget_add_css_class (self->body, "lagging");
  else
    gtk_widget_remove_css_class (self->body, "lagging");
}

static void
show_share (DewAsk *self, double share)
{
  g_autofree char *spoken
    = g_strdup_printf (_ ("%s, %.0f %% done"), _ (self->kind->busy), 100.0 * share);

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), share);
  gtk_label_set_text (GTK_LABEL (self->doing), _ (self->kind->busy));
  dew_name_widget (self->bar, spoken);
}

static void
drop_result (DewAsk *self)
{
  if (self->result == NULL)
    return;
  self->kind->free_result (self->result);
  self->result = NULL;
}

/* The rows are about to be others: nothing of the old ones is looked at, now or soon. */
static void
leave_answers (DewAsk *self)
{
  g_clear_handle_id (&self->linger, g_source_remove);
  self->looking = self->hovered = -1;
  dew_document_peek_end (self->document);
}

static void
on_news (DewErrandNews *news, gpointer user_data)
{
  DewAsk *self = user_data;

  switch (news->stage)
    {
    case DEW_ERRAND_UNDER_WAY:
      show_share (self, news->share);
      /* What was found before stays in sight until there is something better. */
      if (news->result != NULL && self->result == NULL)
        self->kind->show (self, news->result, FALSE, self->pane);
      break;
    case DEW_ERRAND_DONE:
      leave_answers (self);
      self->kind->show (self, NULL, FALSE, self->pane);
      drop_result (self);
      self->fits = TRUE;
      self->result = news->result;
      news->taken = TRUE;
      self->kind->show (self, self->result, TRUE, self->pane);
      g_debug ("advice: %s: done", self->kind->title);
      break;
    case DEW_ERRAND_FAILED:
      leave_answers (self);
      self->failed = TRUE;
      self->kind->show (self, NULL, FALSE, self->pane);
      drop_result (self);
      say_note (self, news->error->message);
      g_debug ("advice: %s: %s", self->kind->title, news->error->message);
      break;
    }
  update_strip (self);
}

/* --- asking ---------------------------------------------------------------- */

static void
forget (DewAsk *self)
{
  self->kind->show (self, NULL, FALSE, self->pane);
  drop_result (self);
  dew_ask_say (self, NULL);
}

static void
ask (DewAsk *self)
{
  const char *obstacle;
  g_autofree char *why = NULL;
  gpointer input;

  g_clear_handle_id (&self->calm, g_source_remove);
  self->ours = TRUE;
  leave_answers (self);
  self->ours = FALSE;
  self->fits = FALSE;
  dew_errand_cancel (self->errand);
  self->stopped = self->failed = FALSE;
  say_note (self, NULL);
  g_clear_pointer (&self->base, dew_chamber_free);
  g_array_set_size (self->taken, 0);
  if (dew_document_chamber (self->document) == NULL)
    return;
  self->base = dew_chamber_copy (dew_document_chamber (self->document));
  obstacle = dew_document_obstacle (self->document, NULL);
  if (obstacle != NULL)
    {
      why
        = g_strdup_printf (_ ("There can be no answer while there is no forecast. %s."), obstacle);
      input = NULL;
    }
  else
    input = self->kind->prepare (self, self->pane, &why);
  if (input == NULL)
    {
      forget (self);
      say_note (self, why);
    }
  else
    {
      show_share (self, 0.0);
      g_debug ("advice: %s: asked", self->kind->title);
      dew_errand_start (self->errand, self->kind->work, input, self->kind->free_input,
                        self->kind->free_result);
    }
  update_strip (self);
}

static gboolean
on_calm (gpointer data)
{
  DewAsk *self = data;

  self->calm = 0;
  ask (self);
  return G_SOURCE_REMOVE;
}

static void
ask_soon (DewAsk *self)
{
  dew_errand_cancel (self->errand);
  g_clear_handle_id (&self->calm, g_source_remove);
  if (!gtk_widget_get_mapped (self->frame))
    {
      /* It is asked when it is seen. */
      g_clear_pointer (&self->base, dew_chamber_free);
      return;
    }
  show_share (self, 0.0);
  self->calm = g_timeout_add (CALM_MS, on_calm, self);
  update_strip (self);
}

void
dew_ask_again (DewAsk *self)
{
  self->fits = FALSE;
  ask_soon (self);
}

/* The answer that the document is at: it was taken and not undone. */
static int
taken_answer (DewAsk *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  for (guint i = 0; i < self->taken->len; i++)
    {
      DewAskTaken *taken = &g_array_index (self->taken, DewAskTaken, i);

      if (dew_chamber_equal (chamber, taken->chamber))
        return taken->answer;
    }
  return -1;
}

gboolean
dew_ask_about_this (DewAsk *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  /* What is looked at is an answer to it; any edit would have ended the look. */
  if (dew_document_peeking (self->document))
    return self->base != NULL;
  return self->base != NULL && chamber != NULL
         && (dew_chamber_equal (chamber, self->base) || taken_answer (self) >= 0);
}

void
dew_ask_mark_taken (DewAsk *self)
{
  int taken = taken_answer (self);

  for (guint i = 0; i < self->lists->len; i++)
    for (GtkWidget *row = gtk_widget_get_first_child (g_ptr_array_index (self->lists, i));
         row != NULL; row = gtk_widget_get_next_sibling (row))
      {
        int answer = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), DEW_ASK_ANSWER));
        GtkWidget *mark = g_object_get_data (G_OBJECT (row), DEW_ASK_MARK);

        gtk_widget_set_visible (mark, answer == taken);
      }
}

static void
on_changed (DewAsk *self)
{
  if (self->ours || dew_document_peeking (self->document) || !gtk_widget_get_mapped (self->frame))
    return;
  self->looking = -1;
  if (dew_ask_about_this (self))
    {
      /* Back where it was asked, by undo: nothing to ask after all. */
      if (self->calm != 0 && self->fits)
        {
          g_clear_handle_id (&self->calm, g_source_remove);
          update_strip (self);
        }
      dew_ask_mark_taken (self);
      return;
    }
  ask_soon (self);
}

static void
on_map (DewAsk *self)
{
  if (self->stopped && dew_ask_about_this (self))
    return;
  if (self->fits && dew_ask_about_this (self))
    {
      /* It may have been told to let go of the sheet while it was away. */
      self->kind->show (self, self->result, TRUE, self->pane);
      dew_ask_mark_taken (self);
      return;
    }
  ask (self);
}

static void
on_unmap (DewAsk *self)
{
  g_clear_handle_id (&self->calm, g_source_remove);
  g_clear_handle_id (&self->linger, g_source_remove);
  self->looking = self->hovered = -1;
  if (self->document == NULL)
    return;
  dew_document_peek_end (self->document);
  dew_document_show_merit (self->document, NULL);
  if (dew_errand_running (self->errand))
    {
      dew_errand_cancel (self->errand);
      g_clear_pointer (&self->base, dew_chamber_free);
    }
}

static void
on_stop (DewAsk *self)
{
  dew_errand_cancel (self->errand);
  g_clear_handle_id (&self->calm, g_source_remove);
  self->stopped = TRUE;
  /* What was found for an earlier question is no answer to this one. */
  if (self->result != NULL && !self->fits)
    forget (self);
  if (self->result == NULL)
    say_note (self, _ ("Stopped before there was an answer."));
  update_strip (self);
  gtk_widget_grab_focus (self->again);
}

/* --- the frame ---------------------------------------------------------------- */

/* Who changes what is asked means the document, not what is looked at. */
static void
on_head_focus (DewAsk *self)
{
  dew_ask_look (self, -1);
}

DewDocument *
dew_ask_document (DewAsk *self)
{
  return self->document;
}

const DewChamber *
dew_ask_base (DewAsk *self)
{
  return self->base;
}

gpointer
dew_ask_result (DewAsk *self)
{
  return self->result;
}

gboolean
dew_ask_running (DewAsk *self)
{
  return dew_errand_running (self->errand) || self->calm != 0;
}

GtkBox *
dew_ask_head (DewAsk *self)
{
  return GTK_BOX (self->head);
}

GtkBox *
dew_ask_body (DewAsk *self)
{
  return GTK_BOX (self->body);
}

static GtkWidget *
strip_new (DewAsk *self)
{
  GtkWidget *strip = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *stop = gtk_button_new_with_label (_ ("Stop"));

  self->doing = dew_ask_label_new ("", "soft");
  gtk_widget_set_hexpand (self->doing, TRUE);
  gtk_button_set_has_frame (GTK_BUTTON (stop), FALSE);
  gtk_widget_add_css_class (stop, "way");
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

static GtkWidget *
back_new (void)
{
  GtkWidget *back = gtk_button_new_with_label (_ ("‹ All shelves"));

  gtk_button_set_has_frame (GTK_BUTTON (back), FALSE);
  gtk_widget_set_halign (back, GTK_ALIGN_START);
  gtk_widget_add_css_class (back, "back");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (back), "win.show-bays");
  return back;
}

static void
on_destroy (GtkWidget *frame, gpointer user_data)
{
  DewAsk *self = user_data;

  g_clear_handle_id (&self->calm, g_source_remove);
  g_clear_handle_id (&self->linger, g_source_remove);
  dew_errand_cancel (self->errand);
  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  self->document = NULL;
}

static void
ask_free (gpointer data)
{
  DewAsk *self = data;

  dew_errand_free (self->errand);
  drop_result (self);
  g_clear_pointer (&self->base, dew_chamber_free);
  g_array_unref (self->taken);
  g_ptr_array_unref (self->lists);
  if (self->free_pane != NULL)
    self->free_pane (self->pane);
  g_free (self);
}

DewAsk *
dew_ask_of (GtkWidget *frame)
{
  return g_object_get_data (G_OBJECT (frame), DEW_ASK_KEY);
}

static void
build (DewAsk *self)
{
  GtkWidget *title = dew_ask_label_new (_ (self->kind->title), "pane-title");
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_widget_add_css_class (title, "first");
  self->head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (on_head_focus), self);
  gtk_widget_add_controller (self->head, focus);
  self->body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->note = dew_ask_label_new ("", NULL);
  self->said = dew_ask_label_new ("", "foot");
  self->strip = strip_new (self);
  self->again = gtk_button_new_with_label (_ ("Ask again"));
  gtk_widget_set_halign (self->again, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->again, "way");
  gtk_button_set_has_frame (GTK_BUTTON (self->again), FALSE);
  g_signal_connect_swapped (self->again, "clicked", G_CALLBACK (ask), self);

  gtk_box_append (GTK_BOX (self->frame), back_new ());
  gtk_box_append (GTK_BOX (self->frame), title);
  if (self->kind->purpose != NULL)
    gtk_box_append (GTK_BOX (self->frame), dew_ask_label_new (_ (self->kind->purpose), "soft"));
  gtk_box_append (GTK_BOX (self->frame), self->head);
  gtk_box_append (GTK_BOX (self->frame), self->strip);
  gtk_box_append (GTK_BOX (self->frame), self->note);
  gtk_box_append (GTK_BOX (self->frame), self->again);
  gtk_box_append (GTK_BOX (self->frame), self->body);
  gtk_box_append (GTK_BOX (self->frame), self->said);
  say_note (self, NULL);
  dew_ask_say (self, NULL);
  update_strip (self);
}

GtkWidget *
dew_ask_new (DewDocument *document, const DewAskKind *kind, gpointer pane, GDestroyNotify free_pane)
{
  DewAsk *self = g_new0 (DewAsk, 1);

  self->document = document;
  self->kind = kind;
  self->pane = pane;
  self->free_pane = free_pane;
  self->looking = self->hovered = -1;
  self->taken = g_array_new (FALSE, FALSE, sizeof (DewAskTaken));
  g_array_set_clear_func (self->taken, taken_clear);
  self->lists = g_ptr_array_new ();
  self->errand = dew_errand_new (on_news, self);
  self->frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  g_object_set_data_full (G_OBJECT (self->frame), DEW_ASK_KEY, self, ask_free);
  build (self);
  g_signal_connect_swapped (self->frame, "map", G_CALLBACK (on_map), self);
  g_signal_connect_swapped (self->frame, "unmap", G_CALLBACK (on_unmap), self);
  g_signal_connect (self->frame, "destroy", G_CALLBACK (on_destroy), self);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (on_changed), self);
  return self->frame;
}
