/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "application.h"

#include "canvas/theme.h"
#include "window.h"

#include <glib/gstdio.h>

#define APPLICATION_ID "garden.dewtier.Dewtier"
#define DEMO_FILE "Hallway cabinet" DEW_STORE_SUFFIX

struct _DewApplication
{
  GtkApplication parent_instance;
};

G_DEFINE_FINAL_TYPE (DewApplication, dew_application, GTK_TYPE_APPLICATION)

/* The demo lives with the user's data, so that what is tried on it is there
 * the next time. */
static char *
demo_path (GError **error)
{
  g_autofree char *folder = g_build_filename (g_get_user_data_dir (), "dewtier", NULL);
  g_autofree char *path = g_build_filename (folder, DEMO_FILE, NULL);
  g_autoptr (DewChamber) demo = NULL;

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return g_steal_pointer (&path);
  if (g_mkdir_with_parents (folder, 0700) != 0)
    {
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_FAILED,
                   "The folder %s cannot be made; look at its permissions", folder);
      return NULL;
    }
  demo = dew_chamber_demo ();
  if (!dew_store_create (path, demo, FALSE, error))
    return NULL;
  return g_steal_pointer (&path);
}

static DewWindow *
show_window (GtkApplication *application)
{
  GtkWidget *window = dew_window_new (application);

  gtk_window_present (GTK_WINDOW (window));
  return DEW_WINDOW (window);
}

static void
open_demo (DewWindow *window)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = demo_path (&error);

  if (path != NULL)
    dew_window_open (window, path);
  else
    dew_window_tell (window, "The demo could not be written", error->message);
}

static void
dew_application_activate (GApplication *application)
{
  GtkWindow *present = gtk_application_get_active_window (GTK_APPLICATION (application));

  if (present != NULL)
    gtk_window_present (present);
  else
    open_demo (show_window (GTK_APPLICATION (application)));
}

static void
dew_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  for (int i = 0; i < n_files; i++)
    {
      g_autofree char *path = g_file_get_path (files[i]);
      DewWindow *window = show_window (GTK_APPLICATION (application));

      /* A window without a document would be a dead end. */
      if (path == NULL || !dew_window_open (window, path))
        open_demo (window);
    }
}

static void
quit (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  GList *windows = gtk_application_get_windows (GTK_APPLICATION (user_data));

  while (windows != NULL)
    {
      GList *next = windows->next;

      gtk_window_close (GTK_WINDOW (windows->data));
      windows = next;
    }
}

static void
dew_application_startup (GApplication *application)
{
  static const GActionEntry actions[] = { { "quit", quit, NULL, NULL, NULL, { 0 } } };
  static const struct
  {
    const char *action;
    const char *keys[2];
  } accelerators[] = {
    { "app.quit", { "<Control>q", NULL } },      { "window.close", { "<Control>w", NULL } },
    { "win.open", { "<Control>o", NULL } },      { "win.new", { "<Control>n", NULL } },
    { "win.help", { "F1", NULL } },              { "win.save-copy", { "<Control><Shift>s", NULL } },
  };

  G_APPLICATION_CLASS (dew_application_parent_class)->startup (application);
  g_action_map_add_action_entries (G_ACTION_MAP (application), actions, G_N_ELEMENTS (actions),
                                   application);
  for (guint i = 0; i < G_N_ELEMENTS (accelerators); i++)
    gtk_application_set_accels_for_action (GTK_APPLICATION (application), accelerators[i].action,
                                           accelerators[i].keys);
  dew_theme_follow (gdk_display_get_default ());
}

static void
dew_application_class_init (DewApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  application_class->activate = dew_application_activate;
  application_class->open = dew_application_open;
  application_class->startup = dew_application_startup;
}

static void
dew_application_init (DewApplication *self)
{
}

DewApplication *
dew_application_new (void)
{
  return g_object_new (DEW_TYPE_APPLICATION, "application-id", APPLICATION_ID, "flags",
                       G_APPLICATION_HANDLES_OPEN, NULL);
}
