/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "application.h"

#include "canvas/theme.h"
#include "document/habits.h"
#include "window/window.h"

#define APPLICATION_ID "garden.dewtier.Dewtier"

struct _DewApplication
{
  GtkApplication parent_instance;
};

G_DEFINE_FINAL_TYPE (DewApplication, dew_application, GTK_TYPE_APPLICATION)

static GtkWidget *
show_window (GApplication *application)
{
  GtkWidget *window = dew_window_new (GTK_APPLICATION (application));

  gtk_window_present (GTK_WINDOW (window));
  return window;
}

/* The first run: the tour, and behind it the demo, so that its forecast is there
 * when the tour has been read. */
static void
begin_first (GtkWidget *window)
{
  gtk_widget_activate_action (window, "win.demo", NULL);
  gtk_widget_activate_action (window, "win.tour", NULL);
  dew_habits ()->tour_seen = TRUE;
  dew_habits_keep ();
}

/* One goes on where one stopped: a drawing board still holds its sheet the next
 * morning. */
static void
begin_again (GtkWidget *window)
{
  g_autofree char *last = g_strdup (dew_habits ()->document);

  if (last == NULL)
    gtk_widget_activate_action (window, "win.demo", NULL);
  else if (g_file_test (last, G_FILE_TEST_EXISTS))
    dew_window_open (DEW_WINDOW (window), last);
  else
    gtk_widget_activate_action (window, "win.start", NULL);
}

static void
dew_application_activate (GApplication *application)
{
  GtkWindow *present = gtk_application_get_active_window (GTK_APPLICATION (application));

  if (present != NULL)
    gtk_window_present (present);
  else if (dew_habits ()->tour_seen)
    begin_again (show_window (application));
  else
    begin_first (show_window (application));
}

static void
dew_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  for (int i = 0; i < n_files; i++)
    {
      g_autofree char *path = g_file_get_path (files[i]);
      DewWindow *there = path != NULL ? dew_window_with_file (path) : NULL;

      if (there != NULL)
        {
          gtk_window_present (GTK_WINDOW (there));
          continue;
        }
      /* What cannot be opened is told over the start page of the new window. */
      there = DEW_WINDOW (show_window (application));
      dew_window_open_file (there, files[i]);
    }
}

static void
new_window (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  gtk_widget_activate_action (show_window (G_APPLICATION (user_data)), "win.start", NULL);
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
  static const GActionEntry actions[] = {
    { "new-window", new_window, NULL, NULL, NULL, { 0 } },
    { "quit", quit, NULL, NULL, NULL, { 0 } },
  };
  /* Only chords that no text field uses: these come before the focused widget. */
  static const struct
  {
    const char *action;
    const char *keys[2];
  } accelerators[] = {
    { "app.quit", { "<Control>q", NULL } },
    { "app.new-window", { "<Control><Shift>n", NULL } },
    { "window.close", { "<Control>w", NULL } },
    { "win.open", { "<Control>o", NULL } },
    { "win.new", { "<Control>n", NULL } },
    { "win.save-copy", { "<Control><Shift>s", NULL } },
    { "win.print", { "<Control>p", NULL } },
    { "win.full-screen", { "F11", NULL } },
    { "win.help", { "F1", NULL } },
    { "win.keys", { "<Control>question", NULL } },
  };

  G_APPLICATION_CLASS (dew_application_parent_class)->startup (application);
  g_action_map_add_action_entries (G_ACTION_MAP (application), actions, G_N_ELEMENTS (actions),
                                   application);
  for (guint i = 0; i < G_N_ELEMENTS (accelerators); i++)
    gtk_application_set_accels_for_action (GTK_APPLICATION (application), accelerators[i].action,
                                           accelerators[i].keys);
  dew_theme_follow (gdk_display_get_default ());
  dew_window_apply_units ();
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
