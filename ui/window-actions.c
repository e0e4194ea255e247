/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that a user can do in the window as actions, so that menus,
 * buttons, keys and tests share one path. */
#include "window-private.h"

#include <string.h>

/* --- files ------------------------------------------------------------- */

static GtkFileChooserNative *
chooser_new (DewWindow *self, const char *title, GtkFileChooserAction action, const char *accept)
{
  GtkFileChooserNative *chooser
    = gtk_file_chooser_native_new (title, GTK_WINDOW (self), action, accept, "Cancel");
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, "Enclosures");
  gtk_file_filter_add_suffix (filter, DEW_STORE_SUFFIX + 1);
  gtk_file_filter_add_suffix (filter, "json");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), filter);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (chooser), TRUE);
  g_clear_object (&self->chooser);
  self->chooser = GTK_NATIVE_DIALOG (chooser);
  return chooser;
}

/* The chosen path, or NULL for anything but "accept" (Escape gives another
 * response than Cancel). Ends the chooser. */
static char *
chosen_path (DewWindow *self, int response)
{
  g_autoptr (GFile) file = NULL;
  char *path = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
  if (file != NULL)
    path = g_file_get_path (file);
  g_clear_object (&self->chooser);
  return path;
}

static void
on_open_response (GtkNativeDialog *dialog, int response, gpointer user_data)
{
  DewWindow *self = user_data;
  g_autofree char *path = chosen_path (self, response);

  if (path != NULL)
    dew_window_open (self, path);
}

static void
open_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  GtkFileChooserNative *chooser
    = chooser_new (self, "Open an enclosure", GTK_FILE_CHOOSER_ACTION_OPEN, "Open");

  g_signal_connect (chooser, "response", G_CALLBACK (on_open_response), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static char *
with_suffix (const char *path)
{
  if (g_str_has_suffix (path, DEW_STORE_SUFFIX))
    return g_strdup (path);
  return g_strconcat (path, DEW_STORE_SUFFIX, NULL);
}

static void
on_new_response (GtkNativeDialog *dialog, int response, gpointer user_data)
{
  DewWindow *self = user_data;
  g_autofree char *chosen = chosen_path (self, response);
  g_autofree char *path = NULL;
  g_autofree char *name = NULL;
  g_autoptr (DewChamber) chamber = NULL;
  g_autoptr (GError) error = NULL;

  if (chosen == NULL)
    return;
  path = with_suffix (chosen);
  name = g_path_get_basename (path);
  name[strlen (name) - strlen (DEW_STORE_SUFFIX)] = '\0';
  chamber = dew_chamber_new ();
  dew_name_set (chamber->name, name);
  /* The chooser has asked already whether a file of that name may go. */
  if (dew_store_create (path, chamber, TRUE, &error))
    dew_window_open (self, path);
  else
    dew_window_tell (self, "The new enclosure could not be written", error->message);
}

static void
new_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  GtkFileChooserNative *chooser
    = chooser_new (self, "Name the new enclosure", GTK_FILE_CHOOSER_ACTION_SAVE, "Create");

  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), "Enclosure" DEW_STORE_SUFFIX);
  g_signal_connect (chooser, "response", G_CALLBACK (on_new_response), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static gboolean
write_json (DewWindow *self, const char *path, GError **error)
{
  g_autofree char *text = dew_json_from_chamber (dew_document_chamber (self->document));

  return g_file_set_contents (path, text, -1, error);
}

static void
on_copy_response (GtkNativeDialog *dialog, int response, gpointer user_data)
{
  DewWindow *self = user_data;
  g_autofree char *chosen = chosen_path (self, response);
  g_autoptr (GError) error = NULL;
  gboolean written;

  if (chosen == NULL)
    return;
  if (g_str_has_suffix (chosen, ".json"))
    written = write_json (self, chosen, &error);
  else
    {
      g_autofree char *path = with_suffix (chosen);

      written = dew_document_save_copy (self->document, path, &error);
    }
  if (!written)
    dew_window_tell (self, "The copy could not be written", error->message);
}

static void
save_copy_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  GtkFileChooserNative *chooser
    = chooser_new (self, "Save a copy", GTK_FILE_CHOOSER_ACTION_SAVE, "Save");
  g_autofree char *suggestion = NULL;

  suggestion = g_strconcat (dew_document_chamber (self->document)->name, DEW_STORE_SUFFIX, NULL);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser),
                                     g_strdelimit (suggestion, "/", '-'));
  g_signal_connect (chooser, "response", G_CALLBACK (on_copy_response), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

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

static void
edit_numbers_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  dew_pane_focus_numbers (DEW_PANE (DEW_WINDOW (widget)->pane));
}

static void
page_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  const char *page = g_str_has_suffix (name, "back") ? "sheet" : strchr (name, '.') + 1;

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page);
  gtk_widget_child_focus (gtk_stack_get_visible_child (GTK_STACK (self->stack)),
                          GTK_DIR_TAB_FORWARD);
}

static void
on_still (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  DewWindow *self = user_data;

  dew_canvas_set_still (DEW_CANVAS (self->canvas), g_variant_get_boolean (state));
  g_simple_action_set_state (action, state);
}

/* The only action with a state: short lines instead of moving streaks. */
void
dew_window_add_still (DewWindow *self)
{
  g_autoptr (GSimpleAction) still
    = g_simple_action_new_stateful ("still", NULL, g_variant_new_boolean (FALSE));

  g_signal_connect (still, "change-state", G_CALLBACK (on_still), self);
  g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (still));
}

/* Escape: the nearest thing that can be left is left. */
static void
leave_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);

  if (g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "sheet") != 0)
    gtk_widget_activate_action (widget, "win.back", NULL);
  else if (!dew_canvas_cancel (DEW_CANVAS (self->canvas)))
    gtk_widget_activate_action (widget, "win.show-bays", NULL);
}

void
dew_window_update_actions (DewWindow *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  const char *back = dew_document_can_undo (self->document);
  const char *again = dew_document_can_redo (self->document);
  g_autofree char *undo_tip = g_strdup_printf ("Undo: %s", back != NULL ? back : "nothing yet");
  g_autofree char *redo_tip = g_strdup_printf ("Redo: %s", again != NULL ? again : "nothing");

  gtk_widget_action_set_enabled (widget, "win.undo", back != NULL);
  gtk_widget_action_set_enabled (widget, "win.redo", again != NULL);
  gtk_widget_action_set_enabled (widget, "win.save-copy",
                                 dew_document_chamber (self->document) != NULL);
  gtk_widget_set_tooltip_text (self->undo, undo_tip);
  gtk_widget_set_tooltip_text (self->redo, redo_tip);
}

void
dew_window_install_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.open", NULL, open_action);
  gtk_widget_class_install_action (widget_class, "win.new", NULL, new_action);
  gtk_widget_class_install_action (widget_class, "win.save-copy", NULL, save_copy_action);
  gtk_widget_class_install_action (widget_class, "win.undo", NULL, undo_action);
  gtk_widget_class_install_action (widget_class, "win.redo", NULL, redo_action);
  gtk_widget_class_install_action (widget_class, "win.show-bays", NULL, show_bays_action);
  gtk_widget_class_install_action (widget_class, "win.show-enclosure", NULL,
                                   show_enclosure_action);
  gtk_widget_class_install_action (widget_class, "win.show-room", NULL, show_room_action);
  gtk_widget_class_install_action (widget_class, "win.edit-numbers", NULL, edit_numbers_action);
  gtk_widget_class_install_action (widget_class, "win.help", NULL, page_action);
  gtk_widget_class_install_action (widget_class, "win.cautions", NULL, page_action);
  gtk_widget_class_install_action (widget_class, "win.back", NULL, page_action);
  gtk_widget_class_install_action (widget_class, "win.leave", NULL, leave_action);

  /* In the bubble phase: a text field has its own undo and its own Escape. */
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_z, GDK_CONTROL_MASK, "win.undo",
                                       NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_z,
                                       GDK_CONTROL_MASK | GDK_SHIFT_MASK, "win.redo", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_y, GDK_CONTROL_MASK, "win.redo",
                                       NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "win.leave", NULL);
}
