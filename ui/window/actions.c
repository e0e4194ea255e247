/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a user can do with the window as a whole, as actions, so that menus,
 * buttons, keys and tests share one path. */
#include "window/window-private.h"

#include "document/tongue.h"
#include "document/habits.h"

#include <glib/gi18n.h>
#include <string.h>

/* --- undo -------------------------------------------------------------- */

static void
undo_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);

  /* In the middle of a drag the drag is what there is to take back. */
  if (!dew_canvas_cancel (DEW_CANVAS (self->canvas)))
    dew_document_undo (self->document);
}

static void
redo_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);

  dew_canvas_cancel (DEW_CANVAS (self->canvas));
  dew_document_redo (self->document);
}

/* --- what is shown ----------------------------------------------------- */

static void
show_pane (GtkWidget *widget, DewPaneContent content)
{
  DewWindow *self = DEW_WINDOW (widget);

  if (!dew_window_on_sheet (self))
    dew_window_show_page (self, "sheet");
  dew_document_select (self->document, 0);
  dew_pane_show (DEW_PANE (self->pane), content);
}

static void
show_bays_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  show_pane (widget, DEW_PANE_BAYS);
}

static void
show_enclosure_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  show_pane (widget, DEW_PANE_ENCLOSURE);
}

static void
show_room_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  show_pane (widget, DEW_PANE_ROOM);
}

/* Name and note lead the pane of the enclosure. */
static void
name_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  show_pane (widget, DEW_PANE_ENCLOSURE);
  gtk_widget_child_focus (DEW_WINDOW (widget)->pane, GTK_DIR_TAB_FORWARD);
}

static void
edit_numbers_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  dew_pane_focus_numbers (DEW_PANE (DEW_WINDOW (widget)->pane));
}

static void
page_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  dew_window_show_page (DEW_WINDOW (widget), strchr (name, '.') + 1);
}

/* Back to the drawing, or to the start page while there is none. */
static void
back_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  gboolean drawn = dew_document_path (self->document) != NULL;

  dew_window_show_page (self, drawn ? "sheet" : "start");
}

/* Escape: the nearest thing that can be left is left. */
static void
leave_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);

  if (!dew_window_on_sheet (self))
    {
      back_action (widget, name, NULL);
      return;
    }
  if (dew_canvas_cancel (DEW_CANVAS (self->canvas))
      || dew_canvas_put_back_plan (DEW_CANVAS (self->canvas)))
    return;
  if (gtk_window_is_fullscreen (GTK_WINDOW (self)) && dew_document_selected (self->document) == 0
      && dew_pane_content (DEW_PANE (self->pane)) == DEW_PANE_BAYS)
    gtk_window_unfullscreen (GTK_WINDOW (self));
  else
    show_bays_action (widget, name, NULL);
}

/* The next flag lights up, and its shelf comes into sight; what is selected stays. */
static void
walk_findings_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  const DewForecast *forecast = dew_document_forecast (self->document);
  int lit = dew_document_lit_finding (self->document), n, step;

  if (forecast == NULL || forecast->n_findings == 0)
    return;
  n = forecast->n_findings;
  step = g_str_has_suffix (name, "next-finding") ? 1 : n - 1;
  lit = lit < 0 ? (step == 1 ? 0 : n - 1) : (lit + step) % n;
  dew_document_light_finding (self->document, lit);
  if (forecast->findings[lit].bay >= 0)
    dew_document_set_plan_bay (self->document, forecast->findings[lit].bay);
  g_debug ("finding: %d of %d", lit + 1, n);
}

/* --- actions with a state ---------------------------------------------- */

static void
on_still (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  DewWindow *self = user_data;

  dew_canvas_set_still (DEW_CANVAS (self->canvas), g_variant_get_boolean (state));
  g_simple_action_set_state (action, state);
  dew_habits ()->still = g_variant_get_boolean (state);
  dew_habits_keep ();
}

static void
on_full_screen (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  DewWindow *self = user_data;

  if (g_variant_get_boolean (state))
    gtk_window_fullscreen (GTK_WINDOW (self));
  else
    gtk_window_unfullscreen (GTK_WINDOW (self));
}

static void
on_fullscreened (DewWindow *self)
{
  gboolean full = gtk_window_is_fullscreen (GTK_WINDOW (self));
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), "full-screen");

  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_boolean (full));
  if (full)
    dew_window_hint (self, _ ("Full screen. F11 or Escape leaves it."));
}

static void
on_night (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  dew_document_set_night (DEW_WINDOW (user_data)->document, g_variant_get_boolean (state));
}

static void
on_colour (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  dew_document_colour_by (DEW_WINDOW (user_data)->document, (DewValue) g_variant_get_int32 (state));
}

static const char *const units_names[] = { "locale", "metric", "imperial" };

static void
on_units (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  const char *wanted = g_variant_get_string (state, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (units_names); i++)
    if (strcmp (wanted, units_names[i]) == 0)
      dew_habits ()->units = (DewUnitsHabit) i;
  g_simple_action_set_state (action, state);
  dew_window_apply_units ();
  dew_habits_keep ();
}

void
dew_window_apply_units (void)
{
  switch (dew_habits ()->units)
    {
    case DEW_UNITS_METRIC:
      dew_tongue_choose (DEW_TONGUE_METRIC);
      break;
    case DEW_UNITS_IMPERIAL:
      dew_tongue_choose (DEW_TONGUE_IMPERIAL);
      break;
    case DEW_UNITS_OF_LOCALE:
      dew_tongue_choose (dew_tongue_of_locale ());
      break;
    }
}

static void
add_state (DewWindow *self, const char *name, const GVariantType *parameter, GVariant *state,
           GCallback change)
{
  g_autoptr (GSimpleAction) action = g_simple_action_new_stateful (name, parameter, state);

  g_signal_connect (action, "change-state", change, self);
  g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));
}

void
dew_window_add_states (DewWindow *self)
{
  const DewHabits *habits = dew_habits ();
  static const char *const of_canvas[] = { "fixed-scale", "large-plan", "side-view" };

  for (guint i = 0; i < G_N_ELEMENTS (of_canvas); i++)
    {
      g_autoptr (GPropertyAction) action
        = g_property_action_new (of_canvas[i], self->canvas, of_canvas[i]);

      g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));
    }
  add_state (self, "still", NULL, g_variant_new_boolean (habits->still), G_CALLBACK (on_still));
  add_state (self, "full-screen", NULL, g_variant_new_boolean (FALSE), G_CALLBACK (on_full_screen));
  add_state (self, "night", NULL, g_variant_new_boolean (FALSE), G_CALLBACK (on_night));
  add_state (self, "colour", G_VARIANT_TYPE_INT32, g_variant_new_int32 (DEW_VALUE_RH),
             G_CALLBACK (on_colour));
  add_state (self, "units", G_VARIANT_TYPE_STRING,
             g_variant_new_string (units_names[habits->units]), G_CALLBACK (on_units));
  dew_canvas_set_still (DEW_CANVAS (self->canvas), habits->still);
  g_signal_connect (self, "notify::fullscreened", G_CALLBACK (on_fullscreened), NULL);
}

static void
set_state (DewWindow *self, const char *name, GVariant *state)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);

  g_simple_action_set_state (G_SIMPLE_ACTION (action), state);
}

void
dew_window_update_states (DewWindow *self)
{
  set_state (self, "night", g_variant_new_boolean (dew_document_night (self->document)));
  set_state (self, "colour", g_variant_new_int32 ((int) dew_document_coloured (self->document)));
}

void
dew_window_update_actions (DewWindow *self)
{
  static const char *const of_document[]
    = { "win.save-copy",    "win.open-folder",   "win.export",         "win.export-build",
        "win.export-card",  "win.export-labels", "win.print",          "win.print-build",
        "win.print-labels", "win.name",          "win.show-enclosure", "win.show-room",
        "win.show-bays",    "win.back" };
  GtkWidget *widget = GTK_WIDGET (self);
  gboolean drawn = dew_document_chamber (self->document) != NULL;
  gboolean on_sheet = dew_window_on_sheet (self);
  const char *back = drawn ? dew_document_can_undo (self->document) : NULL;
  const char *again = drawn ? dew_document_can_redo (self->document) : NULL;
  /* Translators: %s is the name of a step, such as "Move fan". */
  g_autofree char *undo_tip = back != NULL ? g_strdup_printf (_ ("Undo: %s"), back) : NULL;
  g_autofree char *redo_tip = again != NULL ? g_strdup_printf (_ ("Redo: %s"), again) : NULL;

  gtk_widget_action_set_enabled (widget, "win.undo", back != NULL && on_sheet);
  gtk_widget_action_set_enabled (widget, "win.redo", again != NULL && on_sheet);
  for (guint i = 0; i < G_N_ELEMENTS (of_document); i++)
    gtk_widget_action_set_enabled (widget, of_document[i], drawn);
  dew_window_update_edit_actions (self);
  gtk_widget_set_visible (self->variants, drawn);
  gtk_widget_set_tooltip_text (self->undo, undo_tip != NULL ? undo_tip : _ ("Nothing to undo yet"));
  gtk_widget_set_tooltip_text (self->redo, redo_tip != NULL ? redo_tip : _ ("Nothing to redo"));
}

void
dew_window_install_actions (GtkWidgetClass *widget_class)
{
  static const struct
  {
    const char *name;
    GtkWidgetActionActivateFunc activate;
  } actions[] = {
    { "win.undo", undo_action },
    { "win.redo", redo_action },
    { "win.show-bays", show_bays_action },
    { "win.show-enclosure", show_enclosure_action },
    { "win.show-room", show_room_action },
    { "win.name", name_action },
    { "win.edit-numbers", edit_numbers_action },
    { "win.start", page_action },
    { "win.new", page_action },
    { "win.tour", page_action },
    { "win.help", page_action },
    { "win.cautions", page_action },
    { "win.back", back_action },
    { "win.keys", page_action },
    { "win.leave", leave_action },
  };
  const GdkModifierType ctrl = GDK_CONTROL_MASK, shift = GDK_SHIFT_MASK;

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_class_install_action (widget_class, actions[i].name, NULL, actions[i].activate);

  /* In the bubble phase: a text field has its own undo and its own Escape. */
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_z, ctrl, "win.undo", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_z, ctrl | shift, "win.redo", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_y, ctrl, "win.redo", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "win.leave", NULL);
  for (guint i = 0; i < DEW_WINDOW_COLOURS; i++)
    gtk_widget_class_add_binding_action (widget_class, GDK_KEY_1 + i, GDK_ALT_MASK, "win.colour",
                                         "i", (gint32) dew_window_colours[i]);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_F7, 0, "win.night", NULL);
  gtk_widget_class_install_action (widget_class, "win.next-finding", NULL, walk_findings_action);
  gtk_widget_class_install_action (widget_class, "win.last-finding", NULL, walk_findings_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_F8, 0, "win.next-finding", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_F8, GDK_SHIFT_MASK, "win.last-finding",
                                       NULL);
}
