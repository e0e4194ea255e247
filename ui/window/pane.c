/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/pane.h"

#include "questions/ask.h"
#include "panes/editor.h"
#include "widgets/names.h"
#include "panes/overview.h"
#include "panes/surroundings.h"

#include <glib/gi18n.h>

#define LEAST_WIDTH_PX 250

struct _DewPane
{
  GtkWidget parent_instance;

  DewDocument *document;
  GtkWidget *scroll;
  GtkWidget *kept[DEW_N_PANES]; /* what one comes back to as it was left; NULL: not made yet */
  DewPaneContent content;
};

G_DEFINE_FINAL_TYPE (DewPane, dew_pane, GTK_TYPE_WIDGET)

static void
put (DewPane *self, GtkWidget *child, DewPaneContent content)
{
  GtkWidget *frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_widget_add_css_class (frame, "pane");
  gtk_box_append (GTK_BOX (frame), child);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), frame);
  self->content = content;
}

/* What is kept outlives its time in the pane; its frame does not. */
static void
release_kept (DewPane *self)
{
  for (int i = 0; i < DEW_N_PANES; i++)
    {
      GtkWidget *frame = self->kept[i] != NULL ? gtk_widget_get_parent (self->kept[i]) : NULL;

      if (frame != NULL)
        gtk_box_remove (GTK_BOX (frame), self->kept[i]);
    }
}

static GtkWidget *
make (DewPane *self, DewPaneContent content)
{
  switch (content)
    {
    case DEW_PANE_ENCLOSURE:
      return dew_enclosure_editor_new (self->document);
    case DEW_PANE_ROOM:
      return dew_room_editor_new (self->document);
    case DEW_PANE_ASK_FAN:
      return dew_ask_fan_new (self->document);
    case DEW_PANE_ASK_MOISTURE:
      return dew_ask_moisture_new (self->document);
    case DEW_PANE_ASK_PLANTS:
      return dew_ask_plants_new (self->document);
    case DEW_PANE_ASK_CUT:
      return dew_ask_cut_new (self->document);
    case DEW_PANE_BAYS:
    case DEW_PANE_THING:
    case DEW_N_PANES:
      break;
    }
  return dew_overview_new (self->document);
}

/* Advice takes seconds to find, so it is still there when one comes back. */
static gboolean
is_kept (DewPaneContent content)
{
  return content == DEW_PANE_BAYS || (content >= DEW_PANE_ASK_FAN && content <= DEW_PANE_ASK_CUT);
}

void
dew_pane_show (DewPane *self, DewPaneContent content)
{
  g_return_if_fail (DEW_IS_PANE (self) && content < DEW_N_PANES);

  if (content == DEW_PANE_THING)
    content = DEW_PANE_BAYS;
  release_kept (self);
  if (is_kept (content) && self->kept[content] == NULL)
    self->kept[content] = g_object_ref_sink (make (self, content));
  put (self, is_kept (content) ? self->kept[content] : make (self, content), content);
}

static void
on_selected (DewPane *self)
{
  guint id;

  /* A question that leaves the pane ends its look at an answer, and with it may go what
   * was selected there. */
  if (dew_document_selected (self->document) != 0)
    release_kept (self);
  id = dew_document_selected (self->document);
  if (id != 0)
    put (self, dew_thing_editor_new (self->document, id), DEW_PANE_THING);
  else if (self->content == DEW_PANE_THING || dew_pane_child (self) == NULL)
    dew_pane_show (self, DEW_PANE_BAYS);
}

void
dew_pane_start_over (DewPane *self)
{
  g_return_if_fail (DEW_IS_PANE (self));

  dew_pane_show (self, DEW_PANE_BAYS);
  for (int i = 0; i < DEW_N_PANES; i++)
    {
      if (i != DEW_PANE_BAYS)
        g_clear_object (&self->kept[i]);
    }
}

DewPaneContent
dew_pane_content (DewPane *self)
{
  return self->content;
}

GtkWidget *
dew_pane_child (DewPane *self)
{
  GtkWidget *viewport = gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (self->scroll));

  return gtk_widget_get_first_child (gtk_viewport_get_child (GTK_VIEWPORT (viewport)));
}

GtkWidget *
dew_pane_editor (DewPane *self)
{
  return self->content == DEW_PANE_THING ? dew_pane_child (self) : NULL;
}

void
dew_pane_focus_numbers (DewPane *self)
{
  GtkWidget *editor = dew_pane_editor (self);

  if (editor != NULL)
    dew_thing_editor_focus (editor);
}

static void
dew_pane_dispose (GObject *object)
{
  DewPane *self = DEW_PANE (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  for (int i = 0; i < DEW_N_PANES; i++)
    g_clear_object (&self->kept[i]);
  g_clear_object (&self->document);

  G_OBJECT_CLASS (dew_pane_parent_class)->dispose (object);
}

static void
dew_pane_class_init (DewPaneClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dew_pane_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "pane");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
dew_pane_init (DewPane *self)
{
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request (self->scroll, LEAST_WIDTH_PX, -1);
  dew_name_widget (self->scroll, _ ("Numbers and findings"));
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
}

GtkWidget *
dew_pane_new (DewDocument *document)
{
  DewPane *self = g_object_new (DEW_TYPE_PANE, NULL);

  self->document = g_object_ref (document);
  dew_pane_show (self, DEW_PANE_BAYS);
  g_signal_connect_swapped (document, "selected", G_CALLBACK (on_selected), self);
  return GTK_WIDGET (self);
}
