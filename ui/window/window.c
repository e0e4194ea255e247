/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/window-private.h"

#include "canvas/theme.h"
#include "document/habits.h"
#include "window/bench.h"
#include "widgets/either.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "compare/compare.h"
#include "hours/hours.h"
#include "readings/page.h"
#include "pages/pages.h"
#include "pages/start.h"
#include "panes/tray.h"
#include "panes/viewbar.h"
#include "pages/recent.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>

#define WIDTH_PX 1360
#define HEIGHT_PX 860
#define STATE_CHARS 44
#define TROUBLE_CHARS 90
#define HINT_SECONDS 5

G_DEFINE_FINAL_TYPE (DewWindow, dew_window, GTK_TYPE_APPLICATION_WINDOW)

/* --- head -------------------------------------------------------------- */

static GtkWidget *
head_new (DewWindow *self)
{
  GtkWidget *head = gtk_header_bar_new ();
  GtkWidget *nothing = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *steps = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  self->variants = dew_variant_chooser_new (self->document);
  self->undo = dew_way_new (_ ("Undo"), NULL, "win.undo");
  self->redo = dew_way_new (_ ("Redo"), NULL, "win.redo");
  /* The name on the left says it all; a second title would only repeat it. */
  gtk_header_bar_set_title_widget (GTK_HEADER_BAR (head), nothing);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (head), dew_window_document_button (self));
  gtk_header_bar_pack_start (GTK_HEADER_BAR (head), self->variants);
  gtk_box_append (GTK_BOX (steps), self->undo);
  gtk_box_append (GTK_BOX (steps), self->redo);
  /* Where there is no room for them they are still in the menu and on keys. */
  gtk_header_bar_pack_start (GTK_HEADER_BAR (head),
                             dew_either_new (steps, gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0)));
  gtk_header_bar_pack_end (GTK_HEADER_BAR (head), dew_window_menus ());
  return head;
}

/* --- trouble ----------------------------------------------------------- */

static void
hide_trouble (DewWindow *self)
{
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->trouble), FALSE);
}

/* The bar's own cross is a picture without a word. */
static void
name_cross (GtkWidget *widget)
{
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (GTK_IS_BUTTON (child) && gtk_widget_has_css_class (child, "close"))
        dew_name_widget (child, _ ("Close this message"));
      else
        name_cross (child);
    }
}

static GtkWidget *
trouble_new (DewWindow *self)
{
  GtkWidget *bar = gtk_info_bar_new ();
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  self->trouble_title = dew_words_new (NULL, "finding-title");
  self->trouble_detail = dew_words_new (NULL, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->trouble_title), TROUBLE_CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (self->trouble_detail), TROUBLE_CHARS);
  self->trouble_button = gtk_button_new_with_label ("");
  gtk_widget_set_visible (self->trouble_button, FALSE);
  gtk_widget_set_valign (self->trouble_button, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), self->trouble_title);
  gtk_box_append (GTK_BOX (words), self->trouble_detail);
  gtk_info_bar_add_child (GTK_INFO_BAR (bar), words);
  gtk_info_bar_add_child (GTK_INFO_BAR (bar), self->trouble_button);
  gtk_info_bar_set_message_type (GTK_INFO_BAR (bar), GTK_MESSAGE_WARNING);
  gtk_info_bar_set_show_close_button (GTK_INFO_BAR (bar), TRUE);
  name_cross (bar);
  gtk_info_bar_set_revealed (GTK_INFO_BAR (bar), FALSE);
  g_signal_connect_swapped (bar, "response", G_CALLBACK (hide_trouble), self);
  g_signal_connect_swapped (self->trouble_button, "clicked", G_CALLBACK (hide_trouble), self);
  return bar;
}

void
dew_window_tell_with (DewWindow *self, const char *title, const char *detail, const char *label,
                      const char *action)
{
  g_return_if_fail (DEW_IS_WINDOW (self));

  gtk_label_set_text (GTK_LABEL (self->trouble_title), title);
  gtk_label_set_text (GTK_LABEL (self->trouble_detail), detail);
  gtk_widget_set_visible (self->trouble_button, label != NULL);
  if (label != NULL)
    gtk_button_set_label (GTK_BUTTON (self->trouble_button), label);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->trouble_button), action);
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->trouble), TRUE);
  g_debug ("trouble: %s: %s", title, detail);
}

void
dew_window_tell (DewWindow *self, const char *title, const char *detail)
{
  dew_window_tell_with (self, title, detail, _ ("Save a copy…"), "win.save-copy");
}

/* Of the document: a step that is not saved can be kept as a copy, one that was refused
 * leaves nothing to keep. */
static void
on_trouble (DewWindow *self, const char *title, const char *detail)
{
  GSignalInvocationHint *hint = g_signal_get_invocation_hint (self->document);

  if (hint != NULL && hint->detail == g_quark_from_static_string ("refused"))
    dew_window_tell_with (self, title, detail, NULL, NULL);
  else
    dew_window_tell (self, title, detail);
}

const char *
dew_window_told (DewWindow *self)
{
  if (!gtk_info_bar_get_revealed (GTK_INFO_BAR (self->trouble)))
    return NULL;
  return gtk_label_get_text (GTK_LABEL (self->trouble_title));
}

/* --- hint -------------------------------------------------------------- */

static gboolean
on_hint_over (gpointer data)
{
  DewWindow *self = data;

  self->hint_source = 0;
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->hint), FALSE);
  return G_SOURCE_REMOVE;
}

void
dew_window_hint (DewWindow *self, const char *words)
{
  gtk_label_set_text (GTK_LABEL (gtk_revealer_get_child (GTK_REVEALER (self->hint))), words);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->hint), TRUE);
  g_clear_handle_id (&self->hint_source, g_source_remove);
  self->hint_source = g_timeout_add_seconds (HINT_SECONDS, on_hint_over, self);
  g_debug ("hint: %s", words);
}

static GtkWidget *
hint_new (void)
{
  GtkWidget *revealer = gtk_revealer_new ();
  GtkWidget *label
    = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, "passing");
  gtk_revealer_set_child (GTK_REVEALER (revealer), label);
  gtk_revealer_set_transition_type (GTK_REVEALER (revealer),
                                    GTK_REVEALER_TRANSITION_TYPE_CROSSFADE);
  gtk_widget_set_halign (revealer, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (revealer, GTK_ALIGN_START);
  gtk_widget_set_can_target (revealer, FALSE);
  return revealer;
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
  gtk_label_set_text (GTK_LABEL (self->name), chamber->name);
  gtk_widget_set_tooltip_text (gtk_widget_get_ancestor (self->name, GTK_TYPE_MENU_BUTTON), path);
  /* Translators: title of the window; %s is the enclosure's name. */
  title = g_strdup_printf (_ ("%s – Dewtier"), chamber->name);
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

/* By what the file is, not by what it is called. */
static gboolean
same_file (const char *a, const char *b)
{
  GStatBuf one, other;

  if (a == NULL || b == NULL || g_stat (a, &one) != 0 || g_stat (b, &other) != 0)
    return FALSE;
  return one.st_ino == other.st_ino && one.st_dev == other.st_dev;
}

DewWindow *
dew_window_with_file (const char *path)
{
  GListModel *toplevels = gtk_window_get_toplevels ();
  guint n = g_list_model_get_n_items (toplevels);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GObject) toplevel = g_list_model_get_item (toplevels, i);

      if (DEW_IS_WINDOW (toplevel)
          && same_file (dew_document_path (DEW_WINDOW (toplevel)->document), path))
        return DEW_WINDOW (toplevel);
    }
  return NULL;
}

static void
remember_document (DewWindow *self)
{
  g_autofree char *path = g_canonicalize_filename (dew_document_path (self->document), NULL);

  dew_habits_set_text (&dew_habits ()->document, path);
  dew_habits_keep ();
  dew_recent_add (path);
  dew_window_fill_recent (self);
}

gboolean
dew_window_open (DewWindow *self, const char *path)
{
  g_autoptr (GError) error = NULL;
  DewWindow *there;

  g_return_val_if_fail (DEW_IS_WINDOW (self) && path != NULL, FALSE);

  there = dew_window_with_file (path);
  if (there != NULL && there != self)
    {
      gtk_window_present (GTK_WINDOW (there));
      return TRUE;
    }
  if (!dew_document_open (self->document, path, &error))
    {
      g_autofree char *name = g_filename_display_basename (path);
      g_autofree char *title = g_strdup_printf (_ ("“%s” cannot be opened"), name);

      dew_window_tell_with (self, title, error->message, _ ("Open another…"), "win.open");
      /* A window without a document would be a dead end. */
      if (dew_document_path (self->document) == NULL)
        dew_window_show_page (self, "start");
      return FALSE;
    }
  hide_trouble (self);
  /* What was advised is about the enclosure before. */
  dew_pane_start_over (DEW_PANE (self->pane));
  dew_window_show_page (self, "sheet");
  remember_document (self);
  if (dew_document_read_only (self->document))
    dew_window_tell (self, _ ("This file may only be read"),
                     _ ("You can try things, but nothing of it is kept. "
                        "Save a copy to keep it."));
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

/* --- pages ------------------------------------------------------------- */

static void
on_start_asked (const char *path, gpointer user_data)
{
  dew_window_open (DEW_WINDOW (user_data), path);
}

static void
on_made (const DewChamber *chamber, gpointer user_data)
{
  dew_window_create (DEW_WINDOW (user_data), chamber);
}

static GtkWidget *
page_new (DewWindow *self, const char *page)
{
  if (g_strcmp0 (page, "start") == 0)
    return dew_start_page_new (on_start_asked, self);
  if (g_strcmp0 (page, "new") == 0)
    return dew_new_page_new (on_made, self);
  if (g_strcmp0 (page, "tour") == 0)
    return dew_tour_page_new ();
  if (g_strcmp0 (page, "keys") == 0)
    return dew_keys_page_new ();
  if (g_strcmp0 (page, "cautions") == 0)
    return dew_cautions_page_new ();
  if (g_strcmp0 (page, "compare") == 0)
    return dew_compare_page_new (self->document);
  if (g_strcmp0 (page, "hours") == 0)
    return dew_hours_page_new (self->document);
  if (g_strcmp0 (page, "readings") == 0)
    return dew_readings_page_new (self->document);
  return dew_help_page_new ();
}

const char *
dew_window_page (DewWindow *self)
{
  return gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
}

gboolean
dew_window_on_sheet (DewWindow *self)
{
  return g_strcmp0 (dew_window_page (self), "sheet") == 0;
}

/* To what a page is about; from a page back to where the keyboard was before. */
static void
move_focus (DewWindow *self)
{
  GtkWidget *page = gtk_stack_get_visible_child (GTK_STACK (self->stack));

  if (!dew_window_on_sheet (self))
    {
      GtkWidget *first;

      gtk_widget_child_focus (page, GTK_DIR_TAB_FORWARD);
      first = gtk_window_get_focus (GTK_WINDOW (self));
      if (first != NULL && gtk_widget_has_css_class (first, "back"))
        gtk_widget_child_focus (page, GTK_DIR_TAB_FORWARD);
    }
  else if (self->left == NULL || !gtk_widget_get_mapped (self->left)
           || !gtk_widget_grab_focus (self->left))
    gtk_window_set_focus (GTK_WINDOW (self), NULL);
}

void
dew_window_show_page (DewWindow *self, const char *page)
{
  GtkStack *stack = GTK_STACK (self->stack);
  gboolean passes = g_strcmp0 (page, "start") == 0 || g_strcmp0 (page, "new") == 0;
  GtkWidget *child = gtk_stack_get_child_by_name (stack, page);

  /* What these two show changes between two visits. */
  if (passes && child != NULL && gtk_stack_get_visible_child (stack) != child)
    {
      gtk_stack_remove (stack, child);
      child = NULL;
    }
  if (child == NULL)
    gtk_stack_add_named (stack, page_new (self, page), page);
  /* The stack moves the focus itself, so it is asked for before. */
  if (dew_window_on_sheet (self) && g_strcmp0 (page, "sheet") != 0)
    g_set_weak_pointer (&self->left, gtk_window_get_focus (GTK_WINDOW (self)));
  gtk_stack_set_visible_child_name (stack, page);
  move_focus (self);
  dew_window_update_actions (self);
  g_debug ("page: %s", page);
}

/* --- object ------------------------------------------------------------ */

static void
remember_window (DewWindow *self)
{
  DewHabits *habits = dew_habits ();

  habits->maximised = gtk_window_is_maximized (GTK_WINDOW (self));
  if (!habits->maximised && !gtk_window_is_fullscreen (GTK_WINDOW (self)))
    gtk_window_get_default_size (GTK_WINDOW (self), &habits->width_px, &habits->height_px);
  dew_habits_keep ();
}

/* The size it had the last time, on a screen that may be another one now. */
static void
take_size (DewWindow *self)
{
  const DewHabits *habits = dew_habits ();
  GListModel *monitors = gdk_display_get_monitors (gtk_widget_get_display (GTK_WIDGET (self)));
  g_autoptr (GdkMonitor) monitor = g_list_model_get_item (monitors, 0);
  int width = habits->width_px > 0 ? habits->width_px : WIDTH_PX;
  int height = habits->height_px > 0 ? habits->height_px : HEIGHT_PX;
  GdkRectangle screen;

  if (monitor != NULL)
    {
      gdk_monitor_get_geometry (monitor, &screen);
      width = MIN (width, screen.width);
      height = MIN (height, screen.height);
    }
  gtk_window_set_default_size (GTK_WINDOW (self), width, height);
  if (habits->maximised)
    gtk_window_maximize (GTK_WINDOW (self));
}

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
      dew_window_tell (self, _ ("The last steps are not saved yet"), error->message);
      return TRUE;
    }
  remember_window (self);
  return GTK_WINDOW_CLASS (dew_window_parent_class)->close_request (window);
}

/* F6 goes from the things to place to the sheet, to the pane, and round. */
static gboolean
walk_parts (DewWindow *self, gboolean back)
{
  GtkWidget *parts[] = { self->tray, self->canvas, self->pane };
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));
  int n = G_N_ELEMENTS (parts);
  int at = back ? 0 : n - 1;

  for (int i = 0; focus != NULL && i < n; i++)
    if (focus == parts[i] || gtk_widget_is_ancestor (focus, parts[i]))
      at = i;
  for (int step = 1; step < n; step++)
    if (gtk_widget_child_focus (parts[(at + (back ? n - step : step)) % n], GTK_DIR_TAB_FORWARD))
      break;
  gtk_window_set_focus_visible (GTK_WINDOW (self), TRUE);
  return TRUE;
}

/* While something is carried the keyboard may be anywhere, so Escape is looked
 * for before the focused widget gets it. */
static gboolean
on_key (DewWindow *self, guint key, guint code, GdkModifierType modifiers)
{
  if (key == GDK_KEY_F6 && dew_window_on_sheet (self))
    return walk_parts (self, (modifiers & GDK_SHIFT_MASK) != 0);
  return key == GDK_KEY_Escape && dew_canvas_cancel (DEW_CANVAS (self->canvas));
}

static void
dew_window_dispose (GObject *object)
{
  DewWindow *self = DEW_WINDOW (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_clear_handle_id (&self->hint_source, g_source_remove);
  g_clear_weak_pointer (&self->left);
  g_clear_object (&self->chooser);
  g_clear_object (&self->recent);
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
  dew_window_install_ask_actions (GTK_WIDGET_CLASS (klass));
  dew_window_install_file_actions (GTK_WIDGET_CLASS (klass));
  dew_window_install_paper_actions (GTK_WIDGET_CLASS (klass));
  dew_window_install_edit_actions (GTK_WIDGET_CLASS (klass));
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

  self->canvas = dew_canvas_new (self->document);
  self->pane = dew_pane_new (self->document);
  self->tray = dew_tray_new (self->document, DEW_CANVAS (self->canvas));
  gtk_box_append (GTK_BOX (middle), dew_viewbar_new (self->document));
  self->state = state_new ();
  self->hint = hint_new ();
  gtk_overlay_set_child (GTK_OVERLAY (overlay), self->canvas);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), self->state);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), self->hint);
  gtk_box_append (GTK_BOX (middle), overlay);
  return dew_bench_new (self->tray, middle, self->pane);
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
  /* A page that wants much room must not keep the window from being small. */
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_widget_set_vexpand (self->stack, TRUE);
  gtk_stack_add_named (GTK_STACK (self->stack), sheet_new (self), "sheet");
  gtk_box_append (GTK_BOX (column), self->trouble);
  gtk_box_append (GTK_BOX (column), self->stack);
  gtk_window_set_child (GTK_WINDOW (self), column);
  gtk_window_set_title (GTK_WINDOW (self), "Dewtier");
  take_size (self);

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  dew_window_accept_files (self, column);

  g_signal_connect_swapped (self->document, "trouble", G_CALLBACK (on_trouble), self);
  g_signal_connect_swapped (self->document, "history", G_CALLBACK (on_history), self);
  g_signal_connect_swapped (self->document, "forecast", G_CALLBACK (on_forecast), self);
  g_signal_connect_swapped (self->document, "view", G_CALLBACK (dew_window_update_states), self);
  g_signal_connect_object (gtk_recent_manager_get_default (), "changed",
                           G_CALLBACK (dew_window_fill_recent), self, G_CONNECT_SWAPPED);
  dew_window_add_states (self);
  dew_window_update_actions (self);
}

GtkWidget *
dew_window_new (GtkApplication *application)
{
  return g_object_new (DEW_TYPE_WINDOW, "application", application, NULL);
}
