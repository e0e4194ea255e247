/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window-private.h"

#include "canvas/theme.h"
#include "panes/bench.h"
#include "panes/pages.h"
#include "panes/tray.h"
#include "panes/viewbar.h"

#define WIDTH_PX 1360
#define HEIGHT_PX 860
#define STATE_CHARS 44

G_DEFINE_FINAL_TYPE (DewWindow, dew_window, GTK_TYPE_APPLICATION_WINDOW)

/* --- head -------------------------------------------------------------- */

static GtkWidget *
menu_button_new (const char *label, GMenuModel *menu, const char *css_class)
{
  GtkWidget *button = gtk_menu_button_new ();

  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), label);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), menu);
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_widget_add_css_class (button, css_class);
  return button;
}

static GtkWidget *
name_button_new (void)
{
  g_autoptr (GMenu) menu = g_menu_new ();

  g_menu_append (menu, "Open…", "win.open");
  g_menu_append (menu, "New…", "win.new");
  g_menu_append (menu, "Save a copy…", "win.save-copy");
  return menu_button_new ("", G_MENU_MODEL (menu), "document");
}

static GtkWidget *
more_button_new (void)
{
  g_autoptr (GMenu) menu = g_menu_new ();

  g_menu_append (menu, "Enclosure and cover", "win.show-enclosure");
  g_menu_append (menu, "Room it stands in", "win.show-room");
  g_menu_append (menu, "Still picture", "win.still");
  g_menu_append (menu, "How to use this", "win.help");
  g_menu_append (menu, "Cautions", "win.cautions");
  return menu_button_new ("More", G_MENU_MODEL (menu), "more");
}

static GtkWidget *
word_button_new (const char *label, const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

static GtkWidget *
head_new (DewWindow *self)
{
  GtkWidget *head = gtk_header_bar_new ();
  GtkWidget *nothing = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  self->name = name_button_new ();
  self->undo = word_button_new ("Undo", "win.undo");
  self->redo = word_button_new ("Redo", "win.redo");
  /* The name on the left says it all; a second title would only repeat it. */
  gtk_header_bar_set_title_widget (GTK_HEADER_BAR (head), nothing);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (head), self->name);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (head), dew_variant_chooser_new (self->document));
  gtk_header_bar_pack_end (GTK_HEADER_BAR (head), more_button_new ());
  gtk_header_bar_pack_end (GTK_HEADER_BAR (head), self->redo);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (head), self->undo);
  return head;
}

/* --- trouble ----------------------------------------------------------- */

static GtkWidget *
trouble_new (DewWindow *self)
{
  GtkWidget *bar = gtk_info_bar_new ();
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  self->trouble_title = gtk_label_new (NULL);
  self->trouble_detail = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->trouble_title, "finding-title");
  gtk_label_set_xalign (GTK_LABEL (self->trouble_title), 0.0f);
  gtk_label_set_xalign (GTK_LABEL (self->trouble_detail), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (self->trouble_detail), TRUE);
  gtk_box_append (GTK_BOX (words), self->trouble_title);
  gtk_box_append (GTK_BOX (words), self->trouble_detail);
  gtk_info_bar_add_child (GTK_INFO_BAR (bar), words);
  gtk_info_bar_set_message_type (GTK_INFO_BAR (bar), GTK_MESSAGE_WARNING);
  gtk_info_bar_add_button (GTK_INFO_BAR (bar), "Save a copy…", GTK_RESPONSE_APPLY);
  gtk_info_bar_set_show_close_button (GTK_INFO_BAR (bar), TRUE);
  gtk_info_bar_set_revealed (GTK_INFO_BAR (bar), FALSE);
  return bar;
}

static void
on_trouble_response (DewWindow *self, int response)
{
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->trouble), FALSE);
  if (response == GTK_RESPONSE_APPLY)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.save-copy", NULL);
}

void
dew_window_tell (DewWindow *self, const char *title, const char *detail)
{
  g_return_if_fail (DEW_IS_WINDOW (self));

  gtk_label_set_text (GTK_LABEL (self->trouble_title), title);
  gtk_label_set_text (GTK_LABEL (self->trouble_detail), detail);
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->trouble), TRUE);
  g_debug ("trouble: %s: %s", title, detail);
}

static void
tell_in_dialog (DewWindow *self, const char *title, const char *detail)
{
  GtkWidget *dialog
    = gtk_message_dialog_new (GTK_WINDOW (self), GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                              GTK_MESSAGE_ERROR, GTK_BUTTONS_CLOSE, "%s", title);

  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", detail);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
  g_debug ("dialog: %s: %s", title, detail);
}

/* --- document ---------------------------------------------------------- */

static void
on_history (DewWindow *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  const char *path = dew_document_path (self->document);
  g_autofree char *title = NULL;

  dew_window_update_actions (self);
  if (chamber == NULL)
    return;
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->name), chamber->name);
  gtk_widget_set_tooltip_text (self->name, path);
  title = g_strdup_printf ("%s – Dewtier", chamber->name);
  gtk_window_set_title (GTK_WINDOW (self), title);
}

static void
on_forecast (DewWindow *self)
{
  gboolean said_on_sheet = dew_document_forecast (self->document) == NULL
                           && dew_document_obstacle (self->document, NULL) != NULL;

  gtk_label_set_text (GTK_LABEL (self->state), dew_document_state (self->document));
  gtk_widget_set_visible (self->state, !said_on_sheet);
}

gboolean
dew_window_open (DewWindow *self, const char *path)
{
  g_autoptr (GError) error = NULL;

  g_return_val_if_fail (DEW_IS_WINDOW (self) && path != NULL, FALSE);

  if (!dew_document_open (self->document, path, &error))
    {
      g_autofree char *name = g_filename_display_basename (path);
      g_autofree char *title = g_strdup_printf ("“%s” cannot be opened", name);

      tell_in_dialog (self, title, error->message);
      return FALSE;
    }
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->trouble), FALSE);
  if (dew_document_read_only (self->document))
    dew_window_tell (self, "This file may only be read",
                     "You can try things, but nothing of it is kept. Save a copy to keep it.");
  return TRUE;
}

DewDocument *
dew_window_document (DewWindow *self)
{
  return self->document;
}

DewCanvas *
dew_window_canvas (DewWindow *self)
{
  return DEW_CANVAS (self->canvas);
}

DewPane *
dew_window_pane (DewWindow *self)
{
  return DEW_PANE (self->pane);
}

/* --- object ------------------------------------------------------------ */

/* What could not be written must not vanish with the window unseen. Who has been
 * told may close it all the same. */
static gboolean
dew_window_close_request (GtkWindow *window)
{
  DewWindow *self = DEW_WINDOW (window);
  g_autoptr (GError) error = NULL;

  dew_canvas_cancel (DEW_CANVAS (self->canvas));
  if (!dew_document_flush (self->document, &error) && !self->told_unsaved)
    {
      self->told_unsaved = TRUE;
      dew_window_tell (self, "The last steps are not saved yet", error->message);
      return TRUE;
    }
  return GTK_WINDOW_CLASS (dew_window_parent_class)->close_request (window);
}

/* While something is carried the keyboard may be anywhere, so Escape is looked
 * for before the focused widget gets it. */
static gboolean
on_key (DewWindow *self, guint key)
{
  return key == GDK_KEY_Escape && dew_canvas_cancel (DEW_CANVAS (self->canvas));
}

static void
dew_window_dispose (GObject *object)
{
  DewWindow *self = DEW_WINDOW (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_clear_object (&self->chooser);
  G_OBJECT_CLASS (dew_window_parent_class)->dispose (object);
  /* After the widgets, which only borrow it. */
  g_clear_object (&self->document);
}

static void
dew_window_class_init (DewWindowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dew_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = dew_window_close_request;
  dew_window_install_actions (GTK_WIDGET_CLASS (klass));
}

/* The state of the forecast has one quiet place: the lower corner of the sheet. */
static GtkWidget *
state_new (void)
{
  GtkWidget *state
    = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);

  gtk_label_set_wrap (GTK_LABEL (state), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (state), STATE_CHARS);
  gtk_label_set_xalign (GTK_LABEL (state), 1.0f);
  gtk_label_set_justify (GTK_LABEL (state), GTK_JUSTIFY_RIGHT);
  gtk_widget_set_halign (state, GTK_ALIGN_END);
  gtk_widget_set_valign (state, GTK_ALIGN_END);
  gtk_widget_set_can_target (state, FALSE);
  gtk_widget_add_css_class (state, "state");
  return state;
}

static GtkWidget *
sheet_new (DewWindow *self)
{
  GtkWidget *overlay = gtk_overlay_new ();
  GtkWidget *middle = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *tray;

  self->canvas = dew_canvas_new (self->document);
  self->pane = dew_pane_new (self->document);
  tray = dew_tray_new (self->document, DEW_CANVAS (self->canvas));
  gtk_box_append (GTK_BOX (middle), dew_viewbar_new (self->document));
  self->state = state_new ();
  gtk_overlay_set_child (GTK_OVERLAY (overlay), self->canvas);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), self->state);
  gtk_box_append (GTK_BOX (middle), overlay);
  return dew_bench_new (tray, middle, self->pane);
}

static void
dew_window_init (DewWindow *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->document = dew_document_new ();
  gtk_window_set_titlebar (GTK_WINDOW (self), head_new (self));
  self->trouble = trouble_new (self);
  self->stack = gtk_stack_new ();
  gtk_stack_set_transition_type (GTK_STACK (self->stack), GTK_STACK_TRANSITION_TYPE_CROSSFADE);
  gtk_widget_set_vexpand (self->stack, TRUE);
  gtk_stack_add_named (GTK_STACK (self->stack), sheet_new (self), "sheet");
  gtk_stack_add_named (GTK_STACK (self->stack), dew_help_page_new (), "help");
  gtk_stack_add_named (GTK_STACK (self->stack), dew_cautions_page_new (), "cautions");
  gtk_box_append (GTK_BOX (column), self->trouble);
  gtk_box_append (GTK_BOX (column), self->stack);
  gtk_window_set_child (GTK_WINDOW (self), column);
  gtk_window_set_default_size (GTK_WINDOW (self), WIDTH_PX, HEIGHT_PX);
  gtk_window_set_title (GTK_WINDOW (self), "Dewtier");

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);

  g_signal_connect_swapped (self->trouble, "response", G_CALLBACK (on_trouble_response), self);
  g_signal_connect_swapped (self->document, "trouble", G_CALLBACK (dew_window_tell), self);
  g_signal_connect_swapped (self->document, "history", G_CALLBACK (on_history), self);
  g_signal_connect_swapped (self->document, "forecast", G_CALLBACK (on_forecast), self);
  dew_window_add_still (self);
  dew_window_update_actions (self);
}

GtkWidget *
dew_window_new (GtkApplication *application)
{
  return g_object_new (DEW_TYPE_WINDOW, "application", application, NULL);
}
