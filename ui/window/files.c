/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Documents: opening, making, copying, dropping them onto the window. */
#include "window/window-private.h"

#include "document/habits.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#define DEMO_FILE "Hallway cabinet" DEW_STORE_SUFFIX
/* Beyond this many files of one name something else is wrong. */
#define MOST_NAMES 1000

/* --- choosers ---------------------------------------------------------- */

GtkFileChooserNative *
dew_window_chooser_new (DewWindow *self, const char *title, GtkFileChooserAction action,
                        const char *accept)
{
  GtkFileChooserNative *chooser
    = gtk_file_chooser_native_new (title, GTK_WINDOW (self), action, accept, _ ("Cancel"));
  const char *last = dew_habits ()->folder;

  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (chooser), TRUE);
  if (last != NULL && g_file_test (last, G_FILE_TEST_IS_DIR))
    {
      g_autoptr (GFile) folder = g_file_new_for_path (last);

      gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (chooser), folder, NULL);
    }
  g_clear_object (&self->chooser);
  self->chooser = GTK_NATIVE_DIALOG (chooser);
  return chooser;
}

void
dew_window_add_filter (GtkFileChooserNative *chooser, const char *name, const char *const *suffixes)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  for (guint i = 0; suffixes[i] != NULL; i++)
    gtk_file_filter_add_suffix (filter, suffixes[i]);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), filter);
}

static void
add_enclosure_filter (GtkFileChooserNative *chooser)
{
  static const char *const suffixes[] = { DEW_STORE_SUFFIX + 1, "json", NULL };

  dew_window_add_filter (chooser, _ ("Enclosures"), suffixes);
}

/* Escape gives another response than Cancel. */
char *
dew_window_chosen_path (DewWindow *self, int response)
{
  g_autoptr (GFile) file = NULL;
  char *path = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
  if (file != NULL)
    path = g_file_get_path (file);
  g_clear_object (&self->chooser);
  if (path != NULL)
    {
      g_autofree char *folder = g_path_get_dirname (path);

      dew_habits_set_text (&dew_habits ()->folder, folder);
      dew_habits_keep ();
    }
  return path;
}

/* --- open -------------------------------------------------------------- */

static void
on_open_response (GtkNativeDialog *dialog, int response, gpointer user_data)
{
  DewWindow *self = user_data;
  g_autofree char *path = dew_window_chosen_path (self, response);

  if (path != NULL)
    dew_window_open (self, path);
}

static void
open_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  GtkFileChooserNative *chooser = dew_window_chooser_new (self, _ ("Open an enclosure"),
                                                          GTK_FILE_CHOOSER_ACTION_OPEN, _ ("Open"));

  add_enclosure_filter (chooser);
  g_signal_connect_object (chooser, "response", G_CALLBACK (on_open_response), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static void
open_file_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  dew_window_open (DEW_WINDOW (widget), g_variant_get_string (parameter, NULL));
}

char *
dew_window_demo_path (GError **error)
{
  g_autofree char *folder = g_build_filename (g_get_user_data_dir (), "dewtier", NULL);
  g_autofree char *path = g_build_filename (folder, DEMO_FILE, NULL);
  g_autoptr (DewChamber) demo = NULL;

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return g_steal_pointer (&path);
  if (g_mkdir_with_parents (folder, 0700) != 0)
    {
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_FAILED,
                   _ ("The folder %s cannot be made; look at its permissions"), folder);
      return NULL;
    }
  demo = dew_chamber_demo ();
  if (!dew_store_create (path, demo, FALSE, error))
    return NULL;
  return g_steal_pointer (&path);
}

/* The demo lives with the user's data, so that what is tried on it is there the
 * next time. */
static void
demo_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = dew_window_demo_path (&error);

  if (path != NULL)
    dew_window_open (self, path);
  else
    dew_window_tell_with (self, _ ("The demo could not be written"), error->message,
                          _ ("New enclosure…"), "win.new");
}

/* --- new --------------------------------------------------------------- */

/* Where documents go that nobody chose a place for. */
static char *
documents_folder (void)
{
  const char *documents = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);

  return g_strdup (documents != NULL ? documents : g_get_home_dir ());
}

/* What the enclosure is called, as a file name. */
static char *
file_name_of (const char *name)
{
  char *copy = g_strstrip (g_strdup (name));

  g_strdelimit (copy, "/\\:*?\"<>|\n\t", '-');
  /* A leading point would hide it. */
  if (*copy == '.')
    *copy = '-';
  if (*copy == '\0')
    {
      g_free (copy);
      copy = g_strdup (_ ("Enclosure"));
    }
  return copy;
}

static char *
free_path (const char *folder, const char *name)
{
  for (int i = 1; i <= MOST_NAMES; i++)
    {
      g_autofree char *file = i == 1 ? g_strconcat (name, DEW_STORE_SUFFIX, NULL)
                                     : g_strdup_printf ("%s %d" DEW_STORE_SUFFIX, name, i);
      g_autofree char *path = g_build_filename (folder, file, NULL);

      if (!g_file_test (path, G_FILE_TEST_EXISTS))
        return g_steal_pointer (&path);
    }
  return NULL;
}

gboolean
dew_window_create (DewWindow *self, const DewChamber *chamber)
{
  g_autofree char *folder = documents_folder ();
  g_autofree char *name = file_name_of (chamber->name);
  g_autofree char *path = free_path (folder, name);
  g_autofree char *place = NULL;
  g_autofree char *words = NULL;
  g_autoptr (GError) error = NULL;

  g_mkdir_with_parents (folder, 0755);
  if (path == NULL)
    path = g_build_filename (folder, name, NULL);
  if (!dew_store_create (path, chamber, FALSE, &error))
    {
      dew_window_tell_with (self, _ ("The new enclosure could not be written"), error->message,
                            NULL, NULL);
      return FALSE;
    }
  if (!dew_window_open (self, path))
    return FALSE;
  place = g_filename_display_basename (folder);
  /* Translators: the name of an enclosure, and of the folder that its file is in. */
  words = g_strdup_printf (_ ("“%s” is kept in %s. Drag things in from the left."), chamber->name,
                           place);
  dew_window_hint (self, words);
  g_debug ("created: %s", path);
  return TRUE;
}

/* --- copies ------------------------------------------------------------ */

static char *
with_suffix (const char *path, const char *suffix)
{
  if (g_str_has_suffix (path, suffix))
    return g_strdup (path);
  return g_strconcat (path, suffix, NULL);
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
  g_autofree char *chosen = dew_window_chosen_path (self, response);
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;
  gboolean json, written;

  if (chosen == NULL)
    return;
  /* What is only looked at is no part of the copy. */
  dew_document_peek_end (self->document);
  json = g_str_has_suffix (chosen, ".json");
  path = json ? g_strdup (chosen) : with_suffix (chosen, DEW_STORE_SUFFIX);
  written = json ? write_json (self, path, &error)
                 : dew_document_save_copy (self->document, path, &error);
  if (!written)
    dew_window_tell (self, _ ("The copy could not be written"), error->message);
  else if (!json)
    {
      g_autofree char *name = g_filename_display_basename (path);
      /* Translators: %s is the name of a file. */
      g_autofree char *words = g_strdup_printf (_ ("You now work in the copy, %s."), name);

      dew_window_hint (self, words);
    }
}

void
dew_window_suggest (GtkFileChooserNative *chooser, const char *name, const char *suffix)
{
  g_autofree char *file = file_name_of (name);
  g_autofree char *suggestion = g_strconcat (file, suffix, NULL);

  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), suggestion);
}

static void
save_copy_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  GtkFileChooserNative *chooser
    = dew_window_chooser_new (self, _ ("Save a copy"), GTK_FILE_CHOOSER_ACTION_SAVE, _ ("Save"));

  add_enclosure_filter (chooser);
  dew_window_suggest (chooser, dew_document_chamber (self->document)->name, DEW_STORE_SUFFIX);
  g_signal_connect_object (chooser, "response", G_CALLBACK (on_copy_response), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* --- its folder -------------------------------------------------------- */

static void
on_folder_shown (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (DewWindow) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = NULL;
  g_autofree char *words = NULL;

  /* The window may be gone by now. */
  if (g_app_info_launch_default_for_uri_finish (result, &error) || self->document == NULL)
    return;
  folder = g_path_get_dirname (dew_document_path (self->document));
  /* Translators: %s is the path of a folder. */
  words = g_strdup_printf (_ ("No program for folders was found. It is %s."), folder);
  dew_window_tell_with (self, _ ("The folder cannot be shown"), words, NULL, NULL);
}

static void
open_folder_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  g_autofree char *path = g_canonicalize_filename (dew_document_path (self->document), NULL);
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *uri = g_filename_to_uri (folder, NULL, NULL);

  g_app_info_launch_default_for_uri_async (uri, NULL, NULL, on_folder_shown, g_object_ref (self));
}

/* --- dropped files ----------------------------------------------------- */

gboolean
dew_window_open_file (DewWindow *self, GFile *file)
{
  g_autofree char *path = g_file_get_path (file);
  g_autofree char *uri = NULL;

  if (path != NULL)
    return dew_window_open (self, path);
  uri = g_file_get_uri (file);
  dew_window_tell_with (self, _ ("Only files on this computer can be opened"), uri,
                        _ ("Open another…"), "win.open");
  if (dew_document_path (self->document) == NULL)
    dew_window_show_page (self, "start");
  return FALSE;
}

/* The first in this window, more of them in windows of their own. */
static gboolean
take_files (DewWindow *self, GSList *files)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (self));
  gboolean taken = FALSE;

  for (GSList *l = files; l != NULL; l = l->next)
    {
      g_autofree char *path = g_file_get_path (l->data);
      DewWindow *window = self;

      if (taken && application != NULL && path != NULL && dew_window_with_file (path) == NULL)
        {
          window = DEW_WINDOW (dew_window_new (application));
          gtk_window_present (GTK_WINDOW (window));
        }
      taken = dew_window_open_file (window, l->data) || taken;
    }
  return taken;
}

static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, gpointer user_data)
{
  DewWindow *self = user_data;

  g_debug ("drop: %s", G_VALUE_TYPE_NAME (value));
  if (G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    return take_files (self, g_value_get_boxed (value));
  if (G_VALUE_HOLDS (value, G_TYPE_FILE))
    {
      GSList one = { g_value_get_object (value), NULL };

      return take_files (self, &one);
    }
  return FALSE;
}

void
dew_window_accept_files (DewWindow *self, GtkWidget *widget)
{
  GType types[] = { GDK_TYPE_FILE_LIST, G_TYPE_FILE };
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_COPY);

  gtk_drop_target_set_gtypes (target, types, G_N_ELEMENTS (types));
  g_signal_connect (target, "drop", G_CALLBACK (on_drop), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (target));
  gtk_widget_add_css_class (widget, "drop-ground");
}

void
dew_window_install_file_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.open", NULL, open_action);
  gtk_widget_class_install_action (widget_class, "win.open-file", "s", open_file_action);
  gtk_widget_class_install_action (widget_class, "win.demo", NULL, demo_action);
  gtk_widget_class_install_action (widget_class, "win.save-copy", NULL, save_copy_action);
  gtk_widget_class_install_action (widget_class, "win.open-folder", NULL, open_folder_action);
}
