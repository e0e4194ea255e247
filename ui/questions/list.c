/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of answers: one that is pointed at or has the keyboard is looked at on
 * the sheet, a click or Enter takes it. */
#include "questions/private.h"

#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

/* Of a row: which answer it is, and what shows when the document is at it. */
#define ANSWER_KEY "dew-answer"
#define MARK_KEY "dew-taken"

/* Rows that the pointer only passes over are not looked at. */
#define LINGER_MS 90

/* --- looking at an answer -------------------------------------------------- */

/* NULL where it is no answer to this document, or none that can be looked at. */
static DewChamber *
layout_new (DewAsk *self, int answer, DewForecast **forecast)
{
  DewChamber *chamber;

  if (answer < 0 || !self->fits || !dew_ask_about_this (self))
    return NULL;
  chamber = dew_chamber_copy (self->base);
  if (self->question->apply (self, answer, chamber, dew_document_night (self->document), forecast))
    return chamber;
  dew_chamber_free (chamber);
  return NULL;
}

static void
tell_looked (DewAsk *self, int answer)
{
  if (self->question->looked != NULL)
    self->question->looked (self, answer);
}

void
dew_ask_look (DewAsk *self, int answer)
{
  DewForecast *forecast = NULL;
  DewChamber *chamber;

  g_clear_handle_id (&self->linger, g_source_remove);
  if (self->looking == answer)
    return;
  self->looking = answer;
  chamber = layout_new (self, answer, &forecast);
  tell_looked (self, chamber != NULL ? answer : -1);
  if (chamber != NULL)
    {
      g_debug ("advice: %s: look at %d", self->question->title, answer);
      dew_document_peek (self->document, chamber, forecast);
    }
  else
    dew_document_peek_end (self->document);
}

void
dew_ask_leave (DewAsk *self)
{
  g_clear_handle_id (&self->linger, g_source_remove);
  self->looking = self->hovered = -1;
  dew_document_peek_end (self->document);
}

static gboolean
on_linger (gpointer data)
{
  DewAsk *self = data;

  self->linger = 0;
  dew_ask_look (self, self->hovered);
  return G_SOURCE_REMOVE;
}

static void
hover (DewAsk *self, int answer)
{
  self->hovered = answer;
  g_clear_handle_id (&self->linger, g_source_remove);
  self->linger = g_timeout_add (LINGER_MS, on_linger, self);
}

static int
answer_of (gpointer row)
{
  return GPOINTER_TO_INT (g_object_get_data (row, ANSWER_KEY));
}

static int
row_answer (GtkEventController *controller)
{
  return answer_of (gtk_event_controller_get_widget (controller));
}

static void
on_enter (GtkEventController *motion, double x, double y, gpointer user_data)
{
  hover (user_data, row_answer (motion));
}

static void
on_leave (GtkEventController *motion, gpointer user_data)
{
  hover (user_data, -1);
}

/* Not at once: the sheet must not change in the middle of the focus moving. */
static void
on_focus (GtkEventController *focus, gpointer user_data)
{
  hover (user_data, row_answer (focus));
}

static void
on_blur (GtkEventController *focus, gpointer user_data)
{
  DewAsk *self = user_data;

  if (self->hovered == row_answer (focus))
    hover (self, -1);
}

/* --- taking it ---------------------------------------------------------------- */

void
dew_ask_mark_taken (DewAsk *self)
{
  int taken = dew_ask_taken (self);

  for (guint i = 0; i < self->rows->len; i++)
    {
      GObject *row = g_ptr_array_index (self->rows, i);

      gtk_widget_set_visible (g_object_get_data (row, MARK_KEY), answer_of (row) == taken);
    }
}

/* An answer becomes part of the document: one undo step. One to an earlier question that is
 * still in sight does not. */
static void
on_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  DewAsk *self = user_data;
  DewForecast *forecast = NULL;
  DewAskTaken taken = { .answer = answer_of (row) };
  DewChamber *chamber = layout_new (self, taken.answer, &forecast);

  if (chamber == NULL)
    return;
  taken.chamber = dew_chamber_copy (chamber);
  g_array_append_val (self->taken, taken);
  self->ours = TRUE;
  g_clear_handle_id (&self->linger, g_source_remove);
  self->looking = -1;
  tell_looked (self, taken.answer);
  dew_document_peek (self->document, chamber, forecast);
  dew_document_peek_take (self->document, _ (self->question->step));
  self->ours = FALSE;
  dew_ask_mark_taken (self);
}

/* --- the list --------------------------------------------------------------- */

GtkWidget *
dew_ask_list_new (DewAsk *self, const char *name)
{
  GtkWidget *list = gtk_list_box_new ();

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "findings");
  dew_name_widget (list, name);
  g_object_set_data (G_OBJECT (list), DEW_ASK_KEY, self);
  /* What is found half-way cannot be taken, so nothing says that it could be. */
  gtk_widget_set_sensitive (list, self->fits);
  g_signal_connect (list, "row-activated", G_CALLBACK (on_activated), self);
  return list;
}

GtkBox *
dew_ask_list_add (GtkWidget *list, int answer, int number, const char *title)
{
  DewAsk *self = g_object_get_data (G_OBJECT (list), DEW_ASK_KEY);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *row = dew_row_new (box, title);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *mark = dew_words_new (_ ("Taken. Undo takes it back."), "taken");
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  if (number > 0)
    {
      g_autofree char *text = g_strdup_printf ("%d", number);
      GtkWidget *disc = gtk_label_new (text);

      gtk_widget_add_css_class (disc, "flag-number");
      gtk_widget_set_valign (disc, GTK_ALIGN_START);
      gtk_box_append (GTK_BOX (box), disc);
    }
  dew_add_words (GTK_BOX (column), title, "finding-title");
  gtk_box_append (GTK_BOX (column), words);
  gtk_widget_set_visible (mark, FALSE);
  gtk_box_append (GTK_BOX (column), mark);
  gtk_widget_set_hexpand (column, TRUE);
  gtk_box_append (GTK_BOX (box), column);
  gtk_widget_add_css_class (row, "answer");
  g_object_set_data (G_OBJECT (row), ANSWER_KEY, GINT_TO_POINTER (answer));
  g_object_set_data (G_OBJECT (row), MARK_KEY, mark);
  g_signal_connect (motion, "enter", G_CALLBACK (on_enter), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  g_signal_connect (focus, "enter", G_CALLBACK (on_focus), self);
  g_signal_connect (focus, "leave", G_CALLBACK (on_blur), self);
  gtk_widget_add_controller (row, motion);
  gtk_widget_add_controller (row, focus);
  gtk_list_box_append (GTK_LIST_BOX (list), row);
  g_ptr_array_add (self->rows, row);
  return GTK_BOX (words);
}
