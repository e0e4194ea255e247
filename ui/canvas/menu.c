/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The menu of what is selected, by the right button or the menu key. */
#include "canvas/canvas-private.h"

#include <glib/gi18n.h>

/* Entries: words, action, and the key that does the same (shown, not bound here). */
typedef struct
{
  const char *words;
  const char *action;
  const char *key;
} Entry;

/* clang-format off */
static const Entry numbers[] = {
  { N_("Edit the numbers"), "canvas.edit", "Return" },
  { N_("Open wider or run faster"), "canvas.more", "plus" },
  { N_("Close a little or run slower"), "canvas.less", "minus" },
};

static const Entry edits[] = {
  { N_("Cut"), "canvas.cut", "<Control>x" },
  { N_("Copy"), "canvas.copy", "<Control>c" },
  { N_("Paste"), "canvas.paste", "<Control>v" },
  { N_("Duplicate"), "canvas.duplicate", "<Control>d" },
  { N_("Remove"), "canvas.delete", "Delete" },
};

static const Entry lines[] = {
  { N_("Left edges"), "canvas.align-left", NULL },
  { N_("Middles, left to right"), "canvas.align-middle-across", NULL },
  { N_("Right edges"), "canvas.align-right", NULL },
  { N_("Front edges"), "canvas.align-front", NULL },
  { N_("Middles, front to back"), "canvas.align-middle-deep", NULL },
  { N_("Back edges"), "canvas.align-back", NULL },
  { N_("Tops"), "canvas.align-top", NULL },
  { N_("Middles, up and down"), "canvas.align-middle-high", NULL },
  { N_("Bottoms"), "canvas.align-bottom", NULL },
};

static const Entry gaps[] = {
  { N_("From left to right"), "canvas.distribute-across", NULL },
  { N_("From front to back"), "canvas.distribute-deep", NULL },
  { N_("Up and down"), "canvas.distribute-high", NULL },
};

static const Entry looks[] = {
  { N_("Select all"), "canvas.select-all", "<Control>a" },
  { N_("Whole drawing"), "canvas.zoom-fit", "<Control>0" },
};
/* clang-format on */

static GMenuModel *
section_new (const Entry *entries, guint n)
{
  GMenu *menu = g_menu_new ();

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GMenuItem) item = g_menu_item_new (_ (entries[i].words), entries[i].action);

      /* What this thing has not got is not offered. */
      if (entries == numbers)
        g_menu_item_set_attribute (item, "hidden-when", "s", "action-disabled");
      if (entries[i].key != NULL)
        g_menu_item_set_attribute (item, "accel", "s", entries[i].key);
      g_menu_append_item (menu, item);
    }
  return G_MENU_MODEL (menu);
}

static GMenuModel *
model_new (void)
{
  GMenu *menu = g_menu_new (), *arrange = g_menu_new ();
  g_autoptr (GMenuModel) number_part = section_new (numbers, G_N_ELEMENTS (numbers));
  g_autoptr (GMenuModel) edit_part = section_new (edits, G_N_ELEMENTS (edits));
  g_autoptr (GMenuModel) line_part = section_new (lines, G_N_ELEMENTS (lines));
  g_autoptr (GMenuModel) gap_part = section_new (gaps, G_N_ELEMENTS (gaps));
  g_autoptr (GMenuModel) look_part = section_new (looks, G_N_ELEMENTS (looks));

  g_menu_append_section (menu, NULL, number_part);
  g_menu_append_section (menu, NULL, edit_part);
  g_menu_append_submenu (arrange, _ ("Line up"), line_part);
  g_menu_append_submenu (arrange, _ ("Equal gaps"), gap_part);
  g_menu_append_section (menu, NULL, G_MENU_MODEL (arrange));
  g_menu_append_section (menu, NULL, look_part);
  g_object_unref (arrange);
  return G_MENU_MODEL (menu);
}

static void
show_at (DewCanvas *self, double x, double y, double width, double height)
{
  const GdkRectangle rect = { (int) x, (int) y, MAX ((int) width, 1), MAX ((int) height, 1) };

  dew_canvas_end_probe (self);
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &rect);
  gtk_popover_popup (GTK_POPOVER (self->menu));
  g_debug ("menu");
}

static void
on_closed (void)
{
  g_debug ("menu closed");
}

static void
on_right_press (DewCanvas *self, int n_press, double x, double y)
{
  DewHit hit;

  if (!dew_canvas_has_picture (self) || dew_canvas_holds (self))
    return;
  dew_canvas_end_entry (self, TRUE);
  if (dew_canvas_hit_at (self, x, y, &hit) && hit.part == DEW_PART_BODY)
    {
      if (!dew_document_is_selected (self->document, hit.thing_id))
        dew_document_select (self->document, hit.thing_id);
      dew_canvas_focus_thing (self, hit.thing_id);
    }
  else
    {
      dew_document_select (self->document, 0);
      gtk_widget_grab_focus (GTK_WIDGET (self));
    }
  show_at (self, x, y, 1.0, 1.0);
}

/* By the keyboard: at what has it. */
static void
menu_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewCanvas *self = DEW_CANVAS (widget);
  GtkWidget *item = dew_canvas_item (self, dew_document_selected (self->document));
  graphene_rect_t bounds;

  if (item != NULL && gtk_widget_compute_bounds (item, widget, &bounds))
    show_at (self, bounds.origin.x, bounds.origin.y, bounds.size.width, bounds.size.height);
  else
    show_at (self, self->layout.width / 2.0, self->layout.height / 2.0, 1.0, 1.0);
}

void
dew_canvas_install_menu (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "canvas.menu", NULL, menu_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Menu, 0, "canvas.menu", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_F10, GDK_SHIFT_MASK, "canvas.menu",
                                       NULL);
}

void
dew_canvas_init_menu (DewCanvas *self)
{
  GtkGesture *right = gtk_gesture_click_new ();
  g_autoptr (GMenuModel) model = model_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (right), GDK_BUTTON_SECONDARY);
  g_signal_connect_swapped (right, "pressed", G_CALLBACK (on_right_press), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (right));

  self->menu = gtk_popover_menu_new_from_model (model);
  gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
  gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
  g_signal_connect (self->menu, "closed", G_CALLBACK (on_closed), NULL);
  gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
}
