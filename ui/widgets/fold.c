/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/fold.h"

#include "widgets/names.h"
#include "widgets/parts.h"

struct _DewFold
{
  GtkWidget parent_instance;

  GtkWidget *button; /* toggle: down while it is open */
  GtkWidget *arrow;
  GtkWidget *title;
  GtkWidget *child;
};

G_DEFINE_FINAL_TYPE (DewFold, dew_fold, GTK_TYPE_WIDGET)

static void
on_toggled (DewFold *self)
{
  gboolean open = dew_fold_is_open (self);

  gtk_widget_set_visible (self->child, open);
  gtk_image_set_from_icon_name (GTK_IMAGE (self->arrow),
                                open ? "pan-down-symbolic" : "pan-end-symbolic");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_STATE_EXPANDED, open,
                               -1);
}

gboolean
dew_fold_is_open (DewFold *self)
{
  g_return_val_if_fail (DEW_IS_FOLD (self), FALSE);
  return gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->button));
}

void
dew_fold_set_open (DewFold *self, gboolean open)
{
  g_return_if_fail (DEW_IS_FOLD (self));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->button), open);
}

void
dew_fold_set_title (DewFold *self, const char *title)
{
  g_return_if_fail (DEW_IS_FOLD (self) && title != NULL);
  gtk_label_set_text (GTK_LABEL (self->title), title);
  dew_name_widget (self->button, title);
}

static void
dew_fold_dispose (GObject *object)
{
  DewFold *self = DEW_FOLD (object);

  g_clear_pointer (&self->button, gtk_widget_unparent);
  g_clear_pointer (&self->child, gtk_widget_unparent);

  G_OBJECT_CLASS (dew_fold_parent_class)->dispose (object);
}

static void
dew_fold_class_init (DewFoldClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dew_fold_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "fold");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
dew_fold_init (DewFold *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  self->arrow = gtk_image_new_from_icon_name ("pan-end-symbolic");
  gtk_widget_set_valign (self->arrow, GTK_ALIGN_START);
  self->title = dew_words_new (NULL, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->title), -1);
  gtk_box_append (GTK_BOX (row), self->arrow);
  gtk_box_append (GTK_BOX (row), self->title);
  self->button = gtk_toggle_button_new ();
  gtk_button_set_child (GTK_BUTTON (self->button), row);
  gtk_button_set_has_frame (GTK_BUTTON (self->button), FALSE);
  gtk_widget_set_halign (self->button, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->button, "fold");
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  g_signal_connect_swapped (self->button, "toggled", G_CALLBACK (on_toggled), self);
}

GtkWidget *
dew_fold_new (const char *title, GtkWidget *child)
{
  DewFold *self = g_object_new (DEW_TYPE_FOLD, NULL);

  self->child = child;
  gtk_widget_set_parent (child, GTK_WIDGET (self));
  dew_fold_set_title (self, title);
  on_toggled (self);
  return GTK_WIDGET (self);
}
