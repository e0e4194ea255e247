/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/pane.h"

#include "panes/editor.h"
#include "panes/several.h"
#include "panes/surroundings.h"
#include "questions/ask.h"
#include "widgets/parts.h"
#include "window/overview.h"

#include <glib/gi18n.h>

#define LEAST_WIDTH_PX 250

struct _DewPane
{
  GtkWidget parent_instance;

  DewDocument *document;
  GtkWidget *scroll;
  GtkWidget *frame; /* in it, round the present child */
  GtkWidget **kept; /* [n_contents()]: what one comes back to as it was left; NULL: not made */
  DewPaneContent content;
};

G_DEFINE_FINAL_TYPE (DewPane, dew_pane, GTK_TYPE_WIDGET)

static guint
n_contents (void)
{
  return DEW_PANE_ASK + dew_n_questions ();
}

static void
put (DewPane *self, GtkWidget *child, DewPaneContent content)
{
  self->frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (self->frame, "pane");
  gtk_box_append (GTK_BOX (self->frame), child);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), self->frame);
  self->content = content;
}

/* What is kept outlives its time in the pane; its frame does not. */
static void
release_kept (DewPane *self)
{
  for (guint i = 0; i < n_contents (); i++)
    if (self->kept[i] != NULL && gtk_widget_get_parent (self->kept[i]) != NULL)
      gtk_box_remove (GTK_BOX (gtk_widget_get_parent (self->kept[i])), self->kept[i]);
}

/* Advice takes seconds to find, so it is still there when one comes back. */
static GtkWidget *
kept (DewPane *self, DewPaneContent content)
{
  if (self->kept[content] == NULL)
    self->kept[content] = g_object_ref_sink (
      content >= DEW_PANE_ASK ? dew_ask_new (self->document, content - DEW_PANE_ASK)
                              : dew_overview_new (self->document));
  return self->kept[content];
}

void
dew_pane_show (DewPane *self, DewPaneContent content)
{
  GtkWidget *child;

  g_return_if_fail (DEW_IS_PANE (self) && content < n_contents ());

  if (content == DEW_PANE_THING)
    content = DEW_PANE_BAYS;
  release_kept (self);
  if (content == DEW_PANE_ENCLOSURE)
    child = dew_enclosure_editor_new (self->document);
  else if (content == DEW_PANE_ROOM)
    child = dew_room_editor_new (self->document);
  else
    child = kept (self, content);
  put (self, child, content);
}

static void
on_selected (DewPane *self)
{
  guint id, n;

  /* A question that leaves the pane ends its look at an answer, and with it may go what
   * was selected there. */
  if (dew_document_selected (self->document) != 0)
    release_kept (self);
  id = dew_document_selected (self->document);
  dew_document_selection (self->document, &n);
  if (n > 1)
    put (self, dew_several_new (self->document), DEW_PANE_THING);
  else if (id != 0)
    put (self, dew_thing_editor_new (self->document, id), DEW_PANE_THING);
  else if (self->content == DEW_PANE_THING || dew_pane_child (self) == NULL)
    dew_pane_show (self, DEW_PANE_BAYS);
}

void
dew_pane_start_over (DewPane *self)
{
  g_return_if_fail (DEW_IS_PANE (self));

  dew_pane_show (self, DEW_PANE_BAYS);
  for (guint i = DEW_PANE_ASK; i < n_contents (); i++)
    g_clear_object (&self->kept[i]);
}

DewPaneContent
dew_pane_content (DewPane *self)
{
  return self->content;
}

GtkWidget *
dew_pane_child (DewPane *self)
{
  return self->frame != NULL ? gtk_widget_get_first_child (self->frame) : NULL;
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
  guint n;

  dew_document_selection (self->document, &n);
  if (editor != NULL && n == 1)
    dew_thing_editor_focus (editor);
}

static void
dew_pane_dispose (GObject *object)
{
  DewPane *self = DEW_PANE (object);

  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  for (guint i = 0; self->kept != NULL && i < n_contents (); i++)
    g_clear_object (&self->kept[i]);
  g_clear_pointer (&self->kept, g_free);
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
  self->kept = g_new0 (GtkWidget *, n_contents ());
  self->scroll = dew_scroll_new (NULL, _ ("Numbers and findings"));
  gtk_widget_set_size_request (self->scroll, LEAST_WIDTH_PX, -1);
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
}

GtkWidget *
dew_pane_new (DewDocument *document)
{
  DewPane *self = g_object_new (DEW_TYPE_PANE, NULL);

  self->document = g_object_ref (document);
  dew_pane_show (self, DEW_PANE_BAYS);
  dew_follow (document, "selected", G_CALLBACK (on_selected), self, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
