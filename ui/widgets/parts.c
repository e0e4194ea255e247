/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/parts.h"

#include "canvas/theme.h"
#include "widgets/names.h"

#define PANE_CHARS 32

static void
add_class (GtkWidget *widget, const char *css_class)
{
  if (css_class != NULL)
    gtk_widget_add_css_class (widget, css_class);
}

GtkWidget *
dew_words_new (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), PANE_CHARS);
  add_class (label, css_class);
  return label;
}

void
dew_add_words (GtkBox *box, const char *text, const char *css_class)
{
  gtk_box_append (box, dew_words_new (text, css_class));
}

GtkWidget *
dew_way_new (const char *label, const char *css_class, const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_label_set_xalign (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))), TRUE);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  add_class (button, css_class);
  return button;
}

GtkWidget *
dew_row_new (GtkWidget *child, const char *name)
{
  GtkWidget *row = gtk_list_box_row_new ();

  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), child);
  dew_name_widget (row, name);
  return row;
}

GtkWidget *
dew_picture_new (const char *name, int width_px, int height_px, GtkDrawingAreaDrawFunc draw,
                 gpointer data, GDestroyNotify free_data)
{
  GtkWidget *area = name != NULL ? g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role",
                                                 GTK_ACCESSIBLE_ROLE_IMG, NULL)
                                 : gtk_drawing_area_new ();

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), width_px);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), height_px);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw, data, free_data);
  dew_theme_connect (G_OBJECT (area), G_CALLBACK (gtk_widget_queue_draw));
  if (name != NULL)
    dew_name_widget (area, name);
  return area;
}

static GtkWidget *
scrolled_new (GtkWidget *child, const char *name, GtkPolicyType across, GtkPolicyType down)
{
  GtkWidget *scroll = gtk_scrolled_window_new ();

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), across, down);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), child);
  dew_name_widget (scroll, name);
  return scroll;
}

GtkWidget *
dew_scroll_new (GtkWidget *child, const char *name)
{
  return scrolled_new (child, name, GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
}

GtkWidget *
dew_wide_new (GtkWidget *table, const char *name)
{
  return scrolled_new (table, name, GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
}

void
dew_empty (GtkWidget *container)
{
  if (GTK_IS_LIST_BOX (container))
    {
      GtkListBox *list = GTK_LIST_BOX (container);
      GtkListBoxRow *row;

      while ((row = gtk_list_box_get_row_at_index (list, 0)) != NULL)
        gtk_list_box_remove (list, GTK_WIDGET (row));
      return;
    }
  for (GtkWidget *child; (child = gtk_widget_get_first_child (container)) != NULL;)
    if (GTK_IS_GRID (container))
      gtk_grid_remove (GTK_GRID (container), child);
    else
      gtk_box_remove (GTK_BOX (container), child);
}

void
dew_follow (gpointer source, const char *signal, GCallback callback, gpointer data,
            GtkWidget *widget)
{
  GClosure *closure = g_cclosure_new_swap (callback, data, NULL);

  g_object_watch_closure (G_OBJECT (widget), closure);
  g_signal_connect_closure (source, signal, closure, FALSE);
}
