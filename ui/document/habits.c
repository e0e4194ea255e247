/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document/habits.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>

#define WINDOW "window"
#define PERSON "person"
#define FILES "files"

/* Sizes beyond these come from a damaged file or a screen that is gone. */
#define LEAST_PX 320
#define MOST_PX 16384

static const char *const units_keys[] = { "locale", "metric", "imperial" };

static int
read_size (GKeyFile *file, const char *key)
{
  int size_px = g_key_file_get_integer (file, WINDOW, key, NULL);

  return size_px >= LEAST_PX && size_px <= MOST_PX ? size_px : 0;
}

static char *
read_path (GKeyFile *file, const char *key)
{
  g_autofree char *path = g_key_file_get_string (file, FILES, key, NULL);

  return path != NULL && g_path_is_absolute (path) ? g_steal_pointer (&path) : NULL;
}

static DewUnitsHabit
read_units (GKeyFile *file)
{
  g_autofree char *key = g_key_file_get_string (file, PERSON, "units", NULL);

  for (guint i = 0; key != NULL && i < G_N_ELEMENTS (units_keys); i++)
    if (strcmp (key, units_keys[i]) == 0)
      return (DewUnitsHabit) i;
  return DEW_UNITS_OF_LOCALE;
}

void
dew_habits_read (DewHabits *habits, const char *path)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GError) error = NULL;

  g_return_if_fail (habits != NULL && path != NULL);

  *habits = (DewHabits){ 0 };
  if (!g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, &error))
    {
      g_debug ("habits: %s", error->message);
      return;
    }
  habits->width_px = read_size (file, "width");
  habits->height_px = read_size (file, "height");
  habits->maximised = g_key_file_get_boolean (file, WINDOW, "maximised", NULL);
  habits->units = read_units (file);
  habits->still = g_key_file_get_boolean (file, PERSON, "still", NULL);
  habits->tour_seen = g_key_file_get_boolean (file, PERSON, "tour-seen", NULL);
  habits->folder = read_path (file, "folder");
  habits->document = read_path (file, "document");
}

gboolean
dew_habits_write (const DewHabits *habits, const char *path, GError **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *folder = g_path_get_dirname (path);

  g_return_val_if_fail (habits != NULL, FALSE);

  g_key_file_set_integer (file, WINDOW, "width", habits->width_px);
  g_key_file_set_integer (file, WINDOW, "height", habits->height_px);
  g_key_file_set_boolean (file, WINDOW, "maximised", habits->maximised);
  g_key_file_set_string (file, PERSON, "units", units_keys[habits->units]);
  g_key_file_set_boolean (file, PERSON, "still", habits->still);
  g_key_file_set_boolean (file, PERSON, "tour-seen", habits->tour_seen);
  if (habits->folder != NULL)
    g_key_file_set_string (file, FILES, "folder", habits->folder);
  if (habits->document != NULL)
    g_key_file_set_string (file, FILES, "document", habits->document);
  if (g_mkdir_with_parents (folder, 0700) != 0)
    {
      int code = errno;

      g_set_error (error, G_FILE_ERROR, g_file_error_from_errno (code), "%s: %s", folder,
                   g_strerror (code));
      return FALSE;
    }
  /* Writes beside it and renames, so the file is never half there. */
  return g_key_file_save_to_file (file, path, error);
}

void
dew_habits_clear (DewHabits *habits)
{
  g_clear_pointer (&habits->folder, g_free);
  g_clear_pointer (&habits->document, g_free);
}

void
dew_habits_set_text (char **place, const char *text)
{
  char *copy = g_strdup (text);

  g_free (*place);
  *place = copy;
}

static char *
own_path (void)
{
  return g_build_filename (g_get_user_config_dir (), "dewtier", "habits", NULL);
}

DewHabits *
dew_habits (void)
{
  static DewHabits own;
  static gboolean read;

  if (!read)
    {
      g_autofree char *path = own_path ();

      dew_habits_read (&own, path);
      read = TRUE;
    }
  return &own;
}

void
dew_habits_keep (void)
{
  g_autofree char *path = own_path ();
  g_autoptr (GError) error = NULL;

  if (!dew_habits_write (dew_habits (), path, &error))
    g_debug ("habits: %s", error->message);
}
