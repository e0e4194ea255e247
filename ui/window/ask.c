/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a grower asks of the program, as actions of the window. */
#include "window/window-private.h"

#include "questions/ask.h"

#include <string.h>

static const struct
{
  const char *action;
  DewPaneContent content;
} questions[] = {
  { "win.ask-fan", DEW_PANE_ASK_FAN },
  { "win.ask-moisture", DEW_PANE_ASK_MOISTURE },
  { "win.ask-plants", DEW_PANE_ASK_PLANTS },
  { "win.ask-cut", DEW_PANE_ASK_CUT },
};

static guint
selected_fan (DewWindow *self)
{
  guint id = dew_document_selected (self->document);
  const DewVariant *variant = dew_document_variant (self->document);
  const DewThing *thing = variant != NULL ? dew_variant_thing (variant, id) : NULL;

  return thing != NULL && thing->kind == DEW_THING_FAN ? id : 0;
}

static void
ask_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  /* Who has a fan in hand asks about that one. */
  guint fan = selected_fan (self);

  if (dew_document_chamber (self->document) == NULL)
    return;
  dew_window_show_page (self, "sheet");
  dew_document_select (self->document, 0);
  for (guint i = 0; i < G_N_ELEMENTS (questions); i++)
    {
      if (strcmp (name, questions[i].action) == 0)
        dew_pane_show (DEW_PANE (self->pane), questions[i].content);
    }
  if (fan != 0 && dew_pane_content (DEW_PANE (self->pane)) == DEW_PANE_ASK_FAN)
    dew_ask_fan_about (dew_pane_child (DEW_PANE (self->pane)), fan);
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

void
dew_window_install_ask_actions (GtkWidgetClass *widget_class)
{
  for (guint i = 0; i < G_N_ELEMENTS (questions); i++)
    gtk_widget_class_install_action (widget_class, questions[i].action, NULL, ask_action);
  gtk_widget_class_install_action (widget_class, "win.compare", NULL, compare_action);
}
