/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program in a country that writes 0,5: what programs read must not change. The
 * locale is made for the test from the sources of the C library. */
#include <glib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/wait.h>

#define PROGRAM DEW_BUILD_DIR "/app/dewtier"
#define LOCALE "de_DE.UTF-8"

static char *folder;

/* Standard output of a program; `german`: in that locale. */
static char *
ask (gboolean german, const char *const *words)
{
  g_auto (GStrv) environment = g_get_environ ();
  g_autoptr (GError) error = NULL;
  char *out = NULL;
  int status;

  environment = g_environ_setenv (environment, "LOCPATH", folder, TRUE);
  environment = g_environ_setenv (environment, "LC_ALL", german ? LOCALE : "C", TRUE);
  environment = g_environ_setenv (environment, "LANGUAGE", german ? "de" : "", TRUE);
  environment = g_environ_unsetenv (environment, "DISPLAY");
  environment = g_environ_unsetenv (environment, "WAYLAND_DISPLAY");
  g_spawn_sync (NULL, (char **) words, environment,
                G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &out, NULL, &status,
                &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, &error));
  return out;
}

#define ASK(german, ...) ask (german, (const char *const[]){ __VA_ARGS__, NULL })

/* Without the one line that says how long it took. */
static char *
without_seconds (const char *json)
{
  g_autoptr (GRegex) line = g_regex_new ("\"seconds\": [0-9.e+-]+", 0, 0, NULL);

  return g_regex_replace_literal (line, json, -1, 0, "", 0, NULL);
}

static void
test_locale_is_there (void)
{
  g_autofree char *point = ASK (TRUE, "locale", "decimal_point");

  g_assert_cmpstr (g_strstrip (point), ==, ",");
}

static void
test_same_json (void)
{
  g_autofree char *demo = g_build_filename (folder, "demo.dewtier", NULL);
  g_autofree char *json = g_build_filename (folder, "demo.json", NULL);
  g_autofree char *json_german = g_build_filename (folder, "german.json", NULL);
  g_autofree char *made = ASK (TRUE, PROGRAM, "demo", demo);
  g_autofree char *plain = NULL, *german = NULL, *one = NULL, *two = NULL;
  g_autofree char *converted = NULL, *converted_german = NULL, *file = NULL, *file_german = NULL;

  plain = ASK (FALSE, PROGRAM, "forecast", demo, "--json", "--grid", "draft", "--members", "0");
  german = ASK (TRUE, PROGRAM, "forecast", demo, "--json", "--grid", "draft", "--members", "0");
  g_assert_nonnull (strstr (plain, "\"seconds\": "));
  one = without_seconds (plain);
  two = without_seconds (german);
  g_assert_cmpuint (strlen (one), >, 1000);
  g_assert_cmpstr (one, ==, two);

  converted = ASK (FALSE, PROGRAM, "convert", demo, json);
  converted_german = ASK (TRUE, PROGRAM, "convert", demo, json_german);
  g_assert_true (g_file_get_contents (json, &file, NULL, NULL));
  g_assert_true (g_file_get_contents (json_german, &file_german, NULL, NULL));
  g_assert_cmpstr (file, ==, file_german);
}

int
main (int argc, char **argv)
{
  g_autofree char *into = NULL;
  g_autoptr (GError) error = NULL;
  int result, status;

  g_test_init (&argc, &argv, NULL);
  folder = g_dir_make_tmp ("dewtier-locale-XXXXXX", NULL);
  into = g_build_filename (folder, LOCALE, NULL);
  {
    const char *const words[] = { "localedef", "-i", "de_DE", "-f", "UTF-8", into, NULL };

    g_spawn_sync (NULL, (char **) words, NULL,
                  G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL,
                  NULL, NULL, NULL, NULL, &status, &error);
    g_assert_no_error (error);
  }
  g_test_add_func ("/locale/is-there", test_locale_is_there);
  g_test_add_func ("/locale/same-json", test_same_json);
  result = g_test_run ();
  {
    const char *const words[] = { "rm", "-rf", folder, NULL };

    g_spawn_sync (NULL, (char **) words, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status,
                  NULL);
  }
  g_free (folder);
  return result;
}
