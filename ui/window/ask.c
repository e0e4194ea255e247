/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a grower asks of the program, as actions of the window. */
#include "window/window-private.h"

#include "questions/ask.h"

#include <string.h>

static void
ask_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  DewPane *pane = DEW_PANE (self->pane);
  const DewVariant *variant = dew_document_variant (self->document);
  guint id = dew_document_selected (self->document);
  guint question = 0;

  if (variant == NULL)
    return;
  while (strcmp (name, dew_question_action (question)) != 0)
    question++;
  dew_window_show_page (self, "sheet");
  dew_document_select (self->document, 0);
  dew_pane_show (pane, (DewPaneContent) (DEW_PANE_ASK + question));
  /* Who has a thing in hand asks about that one. */
  if (id != 0 && dew_variant_thing (variant, id) != NULL)
    dew_ask_about (dew_ask_of (dew_pane_child (pane)), dew_variant_thing (variant, id));
  gtk_widget_child_focus (self->pane, GTK_DIR_TAB_FORWARD);
}

static void
compare_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);

  if (dew_document_chamber (self->document) == NULL)
    return;
  dew_window_show_page (self, "compare");
}

static void
hours_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);

  if (dew_document_chamber (self->document) != NULL)
    dew_window_show_page (self, "hours");
}

static void
readings_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);

  if (dew_document_chamber (self->document) != NULL)
    dew_window_show_page (self, "readings");
}

void
dew_window_install_ask_actions (GtkWidgetClass *widget_class)
{
  for (guint i = 0; i < dew_n_questions (); i++)
    gtk_widget_class_install_action (widget_class, dew_question_action (i), NULL, ask_action);
  gtk_widget_class_install_action (widget_class, "win.compare", NULL, compare_action);
  gtk_widget_class_install_action (widget_class, "win.hours", NULL, hours_action);
  gtk_widget_class_install_action (widget_class, "win.readings", NULL, readings_action);
}
