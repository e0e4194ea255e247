/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the drawing can do, once more as actions of the window: menus in the head
 * are outside the canvas, and a key pressed in a pane does not reach it. */
#include "window/window-private.h"

#include <string.h>

/* Each "win.NAME" does "canvas.NAME". The key is one that works anywhere in the
 * window; those that a text field needs for itself belong to the canvas. */
static const struct
{
  const char *name;
  guint key;
  GdkModifierType modifiers;
} forwarded[] = {
  { "zoom-in", GDK_KEY_plus, GDK_CONTROL_MASK },
  { "zoom-out", GDK_KEY_minus, GDK_CONTROL_MASK },
  { "zoom-fit", GDK_KEY_0, GDK_CONTROL_MASK },
  { "cut", 0, 0 },
  { "copy", 0, 0 },
  { "paste", 0, 0 },
  { "duplicate", GDK_KEY_d, GDK_CONTROL_MASK },
  { "delete", 0, 0 },
  { "select-all", 0, 0 },
  { "select-none", 0, 0 },
  { "align-left", 0, 0 },
  { "align-middle-across", 0, 0 },
  { "align-right", 0, 0 },
  { "align-front", 0, 0 },
  { "align-middle-deep", 0, 0 },
  { "align-back", 0, 0 },
  { "align-top", 0, 0 },
  { "align-middle-high", 0, 0 },
  { "align-bottom", 0, 0 },
  { "distribute-across", 0, 0 },
  { "distribute-deep", 0, 0 },
  { "distribute-high", 0, 0 },
};

static void
forward_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  g_autofree char *action = g_strconcat ("canvas.", strchr (name, '.') + 1, NULL);

  gtk_widget_activate_action (self->canvas, action, NULL);
}

/* What a press on a row of the tray does, for who does not point. */
static void
add_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  int kind = g_variant_get_int32 (parameter);

  if (kind >= 0 && kind < DEW_N_THING_KINDS)
    dew_canvas_focus_thing (DEW_CANVAS (self->canvas),
                            dew_document_add (self->document, (DewThingKind) kind));
}

void
dew_window_update_edit_actions (DewWindow *self)
{
  gboolean possible = dew_document_chamber (self->document) != NULL && dew_window_on_sheet (self);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.add", possible);
  for (guint i = 0; i < G_N_ELEMENTS (forwarded); i++)
    {
      g_autofree char *action = g_strconcat ("win.", forwarded[i].name, NULL);

      gtk_widget_action_set_enabled (GTK_WIDGET (self), action, possible);
    }
}

void
dew_window_install_edit_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.add", "i", add_action);
  for (guint i = 0; i < G_N_ELEMENTS (forwarded); i++)
    {
      g_autofree char *action = g_strconcat ("win.", forwarded[i].name, NULL);

      gtk_widget_class_install_action (widget_class, action, NULL, forward_action);
      if (forwarded[i].key != 0)
        gtk_widget_class_add_binding_action (widget_class, forwarded[i].key, forwarded[i].modifiers,
                                             action, NULL);
    }
}
