/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pages/recent.h"

#include "document/habits.h"

#include <string.h>

#define PROGRAM "dewtier"
#define MIME_TYPE "application/vnd.dewtier.enclosure"

void
dew_recent_add (const char *path)
{
  g_autofree char *whole = g_canonicalize_filename (path, NULL);
  g_autofree char *uri = g_filename_to_uri (whole, NULL, NULL);
  char mime_type[] = MIME_TYPE, name[] = PROGRAM, command[] = PROGRAM " %f";
  char *groups[] = { NULL };
  GtkRecentData data
    = { .mime_type = mime_type, .app_name = name, .app_exec = command, .groups = groups };

  if (uri != NULL)
    gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &data);
}

static int
compare_newest (gconstpointer a, gconstpointer b)
{
  return -g_date_time_compare (gtk_recent_info_get_modified ((GtkRecentInfo *) a),
                               gtk_recent_info_get_modified ((GtkRecentInfo *) b));
}

static gboolean
holds (const GPtrArray *paths, const char *path)
{
  for (guint i = 0; i < paths->len; i++)
    if (strcmp (g_ptr_array_index (paths, i), path) == 0)
      return TRUE;
  return FALSE;
}

static void
add_path (GPtrArray *paths, guint most, const char *path)
{
  if (path != NULL && paths->len < most && !holds (paths, path)
      && g_file_test (path, G_FILE_TEST_IS_REGULAR))
    g_ptr_array_add (paths, g_strdup (path));
}

char **
dew_recent_paths (guint most)
{
  GPtrArray *paths = g_ptr_array_new ();
  GList *items = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());

  /* The desktop's list follows a moment later, and may be switched off. */
  add_path (paths, most, dew_habits ()->document);
  items = g_list_sort (items, compare_newest);
  for (GList *l = items; l != NULL; l = l->next)
    {
      GtkRecentInfo *info = l->data;

      if (gtk_recent_info_has_application (info, PROGRAM) && gtk_recent_info_is_local (info))
        {
          g_autofree char *path = g_filename_from_uri (gtk_recent_info_get_uri (info), NULL, NULL);

          add_path (paths, most, path);
        }
    }
  g_list_free_full (items, (GDestroyNotify) gtk_recent_info_unref);
  g_ptr_array_add (paths, NULL);
  return (char **) g_ptr_array_free (paths, FALSE);
}
