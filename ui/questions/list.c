/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of answers: one that is pointed at or has the keyboard is looked at on
 * the sheet, a click or Enter takes it. */
#include "questions/private.h"

#include "widgets/names.h"

#include <glib/gi18n.h>

/* Rows that the pointer only passes over are not looked at. */
#define LINGER_MS 90

/* --- looking at an answer -------------------------------------------------- */

void
dew_ask_look (DewAsk *self, int answer)
{
  DewForecast *forecast = NULL;
  DewChamber *chamber = NULL;

  g_clear_handle_id (&self->linger, g_source_remove);
  if (self->looking == answer)
    return;
  self->looking = answer;
  if (answer >= 0 && self->fits && dew_ask_about_this (self))
    chamber = self->kind->layout (self, answer, dew_document_night (self->document), &forecast,
                                  self->pane);
  if (self->kind->looked != NULL)
    self->kind->looked (self, chamber != NULL ? answer : -1, self->pane);
  if (chamber != NULL)
    {
      g_debug ("advice: %s: look at %d", self->kind->title, answer);
      dew_document_peek (self->document, chamber, forecast);
    }
  else
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
row_answer (GtkEventController *controller)
{
  GtkWidget *row = gtk_event_controller_get_widget (controller);

  return GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), DEW_ASK_ANSWER));
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

gboolean
dew_ask_take (DewAsk *self, int answer)
{
  DewForecast *forecast = NULL;
  DewChamber *chamber;
  DewAskTaken taken;
  gboolean changed;

  g_return_val_if_fail (self != NULL, FALSE);

  if (!self->fits || !dew_ask_about_this (self))
    return FALSE;
  chamber
    = self->kind->layout (self, answer, dew_document_night (self->document), &forecast, self->pane);
  if (chamber == NULL)
    return FALSE;
  taken.answer = answer;
  taken.chamber = dew_chamber_copy (chamber);
  g_array_append_val (self->taken, taken);
  self->ours = TRUE;
  g_clear_handle_id (&self->linger, g_source_remove);
  self->looking = -1;
  if (self->kind->looked != NULL)
    self->kind->looked (self, answer, self->pane);
  dew_document_peek (self->document, chamber, forecast);
  changed = dew_document_peek_take (self->document, _ (self->kind->step));
  self->ours = FALSE;
  dew_ask_mark_taken (self);
  return changed;
}

/* --- the list --------------------------------------------------------------- */

static void
on_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  dew_ask_take (user_data, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), DEW_ASK_ANSWER)));
}

GtkWidget *
dew_ask_list_new (DewAsk *self, const char *name)
{
  GtkWidget *list = gtk_list_box_new ();

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "findings");
  dew_name_widget (list, name);
  g_object_set_data (G_OBJECT (list), DEW_ASK_KEY, self);
  g_signal_connect (list, "row-activated", G_CALLBACK (on_activated), self);
  g_ptr_array_add (self->lists, list);
  return list;
}

void
dew_ask_list_clear (GtkWidget *list)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (list), row);
}

void
dew_ask_list_add (GtkWidget *list, int answer, int number, const char *title, GtkWidget *words)
{
  DewAsk *self = g_object_get_data (G_OBJECT (list), DEW_ASK_KEY);
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *mark = dew_ask_label_new (_ ("Taken. Undo takes it back."), "taken");
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
  gtk_box_append (GTK_BOX (column), dew_ask_label_new (title, "finding-title"));
  if (words != NULL)
    gtk_box_append (GTK_BOX (column), words);
  gtk_widget_set_visible (mark, FALSE);
  gtk_box_append (GTK_BOX (column), mark);
  gtk_widget_set_hexpand (column, TRUE);
  gtk_box_append (GTK_BOX (box), column);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  dew_name_widget (row, title);
  gtk_widget_add_css_class (row, "answer");
  g_object_set_data (G_OBJECT (row), DEW_ASK_ANSWER, GINT_TO_POINTER (answer));
  g_object_set_data (G_OBJECT (row), DEW_ASK_MARK, mark);
  g_signal_connect (motion, "enter", G_CALLBACK (on_enter), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  g_signal_connect (focus, "enter", G_CALLBACK (on_focus), self);
  g_signal_connect (focus, "leave", G_CALLBACK (on_blur), self);
  gtk_widget_add_controller (row, motion);
  gtk_widget_add_controller (row, focus);
  gtk_list_box_append (GTK_LIST_BOX (list), row);
}
