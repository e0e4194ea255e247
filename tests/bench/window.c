/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "forecast/forecast.h"
#include "store/store.h"

#include <glib/gstdio.h>
#include <math.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* The program itself, started on a display in memory. The moment of the first
 * coloured picture is told by its own log: "state: ..." comes with a forecast,
 * and the picture with the next frame. */

#define START_LIMIT_S 20.0
#define REST_S 4.0  /* until all is settled */
#define WATCH_S 3.0 /* over which the use of the core is measured */
#define N_STARTS 5

static gboolean
spawn (char **argv, char **environment, GPid *pid, int *out)
{
  return g_spawn_async_with_pipes (NULL, argv, environment,
                                   G_SPAWN_SEARCH_PATH | G_SPAWN_DO_NOT_REAP_CHILD
                                     | G_SPAWN_STDERR_TO_DEV_NULL,
                                   NULL, NULL, pid, NULL, out, NULL, NULL);
}

static void
stop (GPid pid)
{
  kill (pid, SIGTERM);
  waitpid (pid, NULL, 0);
  g_spawn_close_pid (pid);
}

/* The next line from `fd`, without its end; NULL at the end of the output or
 * when `until` (bench_now()) has passed. */
static char *
next_line (int fd, double until)
{
  g_autoptr (GString) line = g_string_new (NULL);
  GPollFD wait = { fd, G_IO_IN, 0 };
  char c;

  for (;;)
    {
      int left_ms = (int) (1e3 * (until - bench_now ()));

      if (left_ms <= 0 || g_poll (&wait, 1, left_ms) <= 0 || read (fd, &c, 1) != 1)
        return NULL;
      if (c == '\n')
        return g_strdup (line->str);
      g_string_append_c (line, c);
    }
}

/* Reads on for a while, so that the program never waits for its log. */
static void
let_run (int fd, double seconds)
{
  double until = bench_now () + seconds;
  char *line;

  while ((line = next_line (fd, until)))
    g_free (line);
  if (bench_now () < until)
    g_usleep ((gulong) ((until - bench_now ()) * G_USEC_PER_SEC));
}

/* Starts Xvfb on a free display; its number, newly allocated, or NULL. */
static char *
start_display (GPid *pid)
{
  char *argv[] = { "Xvfb",         "-displayfd", "1",   "-screen",  "0",
                   "1920x1080x24", "-nolisten",  "tcp", "-noreset", NULL };
  g_autofree char *number = NULL;
  int out;

  if (!spawn (argv, NULL, pid, &out))
    return NULL;
  number = next_line (out, bench_now () + START_LIMIT_S);
  close (out);
  if (number)
    return g_strdup_printf (":%s", number);
  stop (*pid);
  return NULL;
}

static char **
program_environment (const char *display, const char *home)
{
  char **environment = g_get_environ ();

  environment = g_environ_setenv (environment, "DISPLAY", display, TRUE);
  environment = g_environ_unsetenv (environment, "WAYLAND_DISPLAY");
  environment = g_environ_setenv (environment, "GDK_BACKEND", "x11", TRUE);
  environment = g_environ_setenv (environment, "GSK_RENDERER", "cairo", TRUE);
  environment = g_environ_setenv (environment, "GSETTINGS_BACKEND", "memory", TRUE);
  environment = g_environ_setenv (environment, "GTK_A11Y", "none", TRUE);
  environment = g_environ_setenv (environment, "DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  environment = g_environ_setenv (environment, "HOME", home, TRUE);
  environment = g_environ_setenv (environment, "XDG_DATA_HOME", home, TRUE);
  environment = g_environ_setenv (environment, "XDG_CONFIG_HOME", home, TRUE);
  environment = g_environ_setenv (environment, "G_MESSAGES_DEBUG", "dewtier", TRUE);
  return environment;
}

static gboolean
says_forecast (const char *line)
{
  const char *state = strstr (line, "state: ");

  return state && !strstr (state, "working") && !strstr (state, "cannot")
         && state[strlen ("state: ")] != '\0';
}

/* Peak resident memory, MB, or NAN. */
static double
peak_memory_MB (GPid pid)
{
  g_autofree char *path = g_strdup_printf ("/proc/%d/status", (int) pid);
  g_autofree char *text = NULL;
  const char *at;

  if (!g_file_get_contents (path, &text, NULL, NULL) || !(at = strstr (text, "VmHWM:")))
    return NAN;
  return g_ascii_strtod (at + strlen ("VmHWM:"), NULL) * 1024 / 1e6;
}

/* Processor time used so far, s, or NAN. */
static double
processor_seconds (GPid pid)
{
  g_autofree char *path = g_strdup_printf ("/proc/%d/stat", (int) pid);
  g_autofree char *text = NULL;
  g_auto (GStrv) fields = NULL;
  const char *after_name;

  if (!g_file_get_contents (path, &text, NULL, NULL) || !(after_name = strrchr (text, ')')))
    return NAN;
  /* proc(5): user and system time are fields 14 and 15; field 3 comes next. */
  fields = g_strsplit (after_name + 2, " ", -1);
  if (g_strv_length (fields) < 13)
    return NAN;
  return (g_ascii_strtod (fields[11], NULL) + g_ascii_strtod (fields[12], NULL))
         / sysconf (_SC_CLK_TCK);
}

/* Starts the program and waits for its first forecast. Seconds, or NAN. */
static double
start_program (char **argv, char **environment, GPid *pid, int *out)
{
  double start = bench_now ();
  char *line;

  if (!spawn (argv, environment, pid, out))
    return NAN;
  while ((line = next_line (*out, start + START_LIMIT_S)))
    {
      gboolean there = says_forecast (line);

      g_free (line);
      if (there)
        return bench_now () - start;
    }
  stop (*pid);
  close (*out);
  return NAN;
}

static void
watch_at_rest (Bench *bench, GPid pid, int out)
{
  double before, start;

  let_run (out, REST_S);
  before = processor_seconds (pid);
  start = bench_now ();
  let_run (out, WATCH_S);
  bench_add (bench,
             &(Figure){ "streaks_core_percent", "Core used while air is seen moving", "%",
                        100 * (processor_seconds (pid) - before) / (bench_now () - start), 30, 10 },
             "window as it opens, 1920 x 1080 display in memory, software rendering");
  bench_add (bench,
             &(Figure){ "window_memory_MB", "Memory of the program with the demo", "MB",
                        peak_memory_MB (pid), 200, 120 },
             "peak resident");
}

static void
measure_window (Bench *bench, const char *display, const char *folder)
{
  g_autofree char *program = g_build_filename (DEW_BUILD_DIR, "app", "dewtier", NULL);
  g_autofree char *file = g_build_filename (folder, "demo.dewtier", NULL);
  g_auto (GStrv) environment = program_environment (display, folder);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  char *argv[] = { program, file, NULL };
  double seconds[N_STARTS], median;

  if (!dew_store_create (file, demo, TRUE, NULL))
    {
      bench_leave_out (bench, "the window: %s cannot be written", file);
      return;
    }
  for (int i = 0; i < N_STARTS; i++)
    {
      GPid pid;
      int out;

      seconds[i] = start_program (argv, environment, &pid, &out);
      if (isnan (seconds[i]))
        {
          bench_leave_out (bench, "the window: %s told of no forecast", program);
          return;
        }
      if (i == N_STARTS - 1)
        watch_at_rest (bench, pid, out);
      stop (pid);
      close (out);
    }
  median = bench_median (seconds, N_STARTS);
  bench_add (bench,
             &(Figure){ "start_s", "Start to the first coloured picture", "s", median, 1.5, 0.6 },
             "demo document, median of %d, longest %.2f s", N_STARTS, seconds[N_STARTS - 1]);
}

static void
remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        remove_folder (path);
      else
        g_unlink (path);
    }
  g_rmdir (folder);
}

void
bench_window (Bench *bench)
{
  g_autofree char *folder = g_dir_make_tmp ("dewtier-bench-XXXXXX", NULL);
  g_autofree char *display = NULL;
  GPid server;

  if (folder)
    display = start_display (&server);
  if (display)
    {
      measure_window (bench, display, folder);
      stop (server);
    }
  else
    bench_leave_out (bench, "the window: Xvfb does not start");
  if (folder)
    remove_folder (folder);
}
