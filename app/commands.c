/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands-private.h"

#include "geometry/geometry.h"
#include "report.h"

#include "forecast/bands.h"
#include "flow/pressure.h"
#include "sheets/export.h"
#include "store/file.h"
#include "store/json.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#define MEMBERS_MAX 1000

/* --- forecast ---------------------------------------------------------- */

typedef struct
{
  gboolean json, night, balance;
  char *grid, *variant;
  int month, members;
} ForecastWords;

static gboolean
choose_grid (const char *word, DewGrid *grid)
{
  if (word == NULL)
    return TRUE;
  for (int i = DEW_GRID_DRAFT; i <= DEW_GRID_FINE; i++)
    if (strcmp (word, dew_report_grid_word (i)) == 0)
      {
        *grid = i;
        return TRUE;
      }
  return FALSE;
}

/* FALSE when a word was wrong and has been said. */
static gboolean
read_words (const ForecastWords *words, DewForecastOptions *options)
{
  dew_forecast_options_init (options);
  options->night = words->night;
  options->members = words->members;
  options->wish = dew_catalogue_plant_wish;
  if (!choose_grid (words->grid, &options->grid))
    dew_command_complain (DEW_EXIT_USAGE,
                          _ ("--grid: \"%s\" is unknown; give draft, settled or fine"),
                          words->grid);
  else if (words->month < 0 || words->month > 12)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--month: is %d; give 1 to 12"), words->month);
  else if (words->members < 0 || words->members > MEMBERS_MAX)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--members: is %d; give 0 to %d"), words->members,
                          MEMBERS_MAX);
  else
    return TRUE;
  return FALSE;
}

static int
forecast_file (const char *path, const ForecastWords *words)
{
  g_autoptr (DewChamber) chamber = NULL;
  g_autoptr (DewForecast) forecast = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  const DewVariant *variant;
  DewForecastOptions options;
  DewReport report;

  if (!read_words (words, &options))
    return DEW_EXIT_USAGE;
  chamber = dew_command_load (path);
  if (chamber == NULL)
    return DEW_EXIT_NO;
  if (words->json)
    dew_command_speak_plainly ();
  options.wish_data = chamber;
  if (words->month != 0)
    chamber->month = words->month - 1;
  variant = dew_command_variant (chamber, words->variant);
  if (variant == NULL)
    return dew_command_complain (DEW_EXIT_NO,
                                 _ ("%s: there is no variant \"%s\"; see dewtier check %s"), path,
                                 words->variant, path);

  forecast = dew_forecast_new (chamber, variant->id, &options, NULL, &error);
  if (forecast == NULL)
    return dew_command_complain (DEW_EXIT_NO, "%s: %s", path, error->message);
  report = (DewReport){ path, chamber, variant, forecast };
  text = words->json ? dew_report_json (&report) : dew_report_text (&report, words->balance);
  return dew_command_say (text);
}

static int
run_forecast (int argc, char **argv)
{
  ForecastWords words = { .members = DEW_BAND_MEMBERS };
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &words.json, _ ("Answer in JSON, in SI units"), NULL },
    { "grid", 0, 0, G_OPTION_ARG_STRING, &words.grid, _ ("How fine: draft, settled, fine"),
      "GRID" },
    { "night", 0, 0, G_OPTION_ARG_NONE, &words.night, _ ("By night instead of by day"), NULL },
    { "variant", 0, 0, G_OPTION_ARG_STRING, &words.variant,
      _ ("Another variant than the one shown"), "NAME" },
    { "month", 0, 0, G_OPTION_ARG_INT, &words.month, _ ("Another month, January is 1"), "1..12" },
    { "members", 0, 0, G_OPTION_ARG_INT, &words.members,
      _ ("Forecasts with other unknowns, for the bands; 0: without bands"), "N" },
    { "balance", 0, 0, G_OPTION_ARG_NONE, &words.balance, _ ("With every term of the balances"),
      NULL },
    { NULL },
  };
  int code;

  if (dew_command_parse (&argc, &argv, entries, "FILE",
                         _ ("Forecasts the air at every bay and place of one variant."), 1, 1,
                         &code))
    code = forecast_file (argv[1], &words);
  g_free (words.grid);
  g_free (words.variant);
  return code;
}

/* --- documents --------------------------------------------------------- */

static int
write_document (const char *path, const DewChamber *chamber, gboolean replace)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  if (!g_str_has_suffix (path, ".json"))
    {
      if (dew_store_create (path, chamber, replace, &error))
        return DEW_EXIT_FINE;
      return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
    }
  if (g_file_test (path, G_FILE_TEST_EXISTS) && !replace)
    return dew_command_complain (DEW_EXIT_NO,
                                 _ ("%s: there is such a file already; choose another name or give "
                                    "--replace"),
                                 path);
  text = dew_json_from_chamber (chamber);
  if (g_file_set_contents_full (path, text, -1,
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666,
                                &error))
    return DEW_EXIT_FINE;
  return dew_command_complain (DEW_EXIT_NO, _ ("%s: %s; look at the folder and its permissions"),
                               path, error->message);
}

static int
run_demo (int argc, char **argv)
{
  gboolean replace = FALSE;
  const GOptionEntry entries[] = {
    { "replace", 0, 0, G_OPTION_ARG_NONE, &replace, _ ("Replace a file of that name"), NULL },
    { NULL },
  };
  g_autoptr (DewChamber) demo = NULL;
  int code;

  if (!dew_command_parse (&argc, &argv, entries, "FILE",
                          _ ("Writes an invented cabinet, to try things on."), 1, 1, &code))
    return code;
  demo = dew_chamber_demo ();
  return write_document (argv[1], demo, replace);
}

static int
run_convert (int argc, char **argv)
{
  gboolean replace = FALSE;
  const GOptionEntry entries[] = {
    { "replace", 0, 0, G_OPTION_ARG_NONE, &replace, _ ("Replace a file of that name"), NULL },
    { NULL },
  };
  g_autoptr (DewChamber) chamber = NULL;
  int code;

  if (!dew_command_parse (&argc, &argv, entries, "IN OUT",
                          _ ("Copies a document into another form: OUT ends in .dewtier or .json.\n"
                             "Undo steps are not copied."),
                          2, 2, &code))
    return code;
  if (!g_str_has_suffix (argv[2], DEW_STORE_SUFFIX) && !g_str_has_suffix (argv[2], ".json"))
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("%s: the name says no form; let it end in .dewtier or .json"),
                                 argv[2]);
  chamber = dew_command_load (argv[1]);
  return chamber != NULL ? write_document (argv[2], chamber, replace) : DEW_EXIT_NO;
}

static int
run_check (int argc, char **argv)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (DewChamber) chamber = NULL;
  g_autoptr (GArray) unknown = NULL;
  guint n = 0;
  int code;

  if (!dew_command_parse (&argc, &argv, NULL, "FILE",
                          _ ("Says what keeps each variant from being forecast."), 1, 1, &code))
    return code;
  chamber = dew_command_load (argv[1]);
  if (chamber == NULL)
    return DEW_EXIT_NO;

  unknown = dew_catalogue_check_species (chamber);
  for (guint i = 0; i < unknown->len; i++)
    g_string_append_printf (out, "%s\n", g_array_index (unknown, DewProblem, i).message);
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);
      g_autoptr (GArray) problems = dew_chamber_check (chamber, variant->id);

      if (problems->len == 0)
        g_string_append_printf (out, _ ("Variant \"%s\": nothing amiss\n"), variant->name);
      else
        g_string_append_printf (out,
                                ngettext ("Variant \"%s\": %u to put right\n",
                                          "Variant \"%s\": %u to put right\n", problems->len),
                                variant->name, problems->len);
      for (guint k = 0; k < problems->len; k++)
        g_string_append_printf (out, "  %s\n", g_array_index (problems, DewProblem, k).message);
      n += problems->len;
    }
  code = dew_command_say (out->str);
  return code != DEW_EXIT_FINE ? code : n == 0 ? DEW_EXIT_FINE : DEW_EXIT_NO;
}

/* --- texts ------------------------------------------------------------- */

static void
append_catalogue (GString *out, const DewCatalogue *catalogue)
{
  const char *const *columns = dew_catalogue_columns (catalogue);

  for (guint row = 0; row < dew_catalogue_rows (catalogue); row++)
    {
      for (guint i = 0; columns[i] != NULL; i++)
        {
          const char *text = dew_catalogue_text (catalogue, row, columns[i]);

          if (text[0] != '\0')
            g_string_append_printf (out, i == 0 ? "%s%s\n" : "  %s: %s\n", i == 0 ? "" : columns[i],
                                    text);
        }
    }
}

static int
run_catalogue (int argc, char **argv)
{
  g_autoptr (GString) out = g_string_new (NULL);
  const char *const *names = dew_catalogue_names ();
  int code;

  if (!dew_command_parse (&argc, &argv, NULL, "[NAME]",
                          _ ("Lists the catalogues, or the rows of one with their sources."), 0, 1,
                          &code))
    return code;
  if (argc == 2)
    {
      const DewCatalogue *catalogue = dew_catalogue (argv[1]);

      if (catalogue == NULL)
        return dew_command_complain (DEW_EXIT_NO,
                                     _ ("%s: there is no such catalogue; see dewtier catalogue"),
                                     argv[1]);
      append_catalogue (out, catalogue);
      return dew_command_say (out->str);
    }
  for (guint i = 0; names[i] != NULL; i++)
    {
      guint rows = dew_catalogue_rows (dew_catalogue (names[i]));

      /* Translators: name of a catalogue and how many rows it has, as columns */
      g_string_append_printf (out, ngettext ("%-12s %4u row\n", "%-12s %4u rows\n", rows), names[i],
                              rows);
    }
  return dew_command_say (out->str);
}

static int
run_cautions (int argc, char **argv)
{
  int code;

  if (!dew_command_parse (&argc, &argv, NULL, NULL, _ ("Shows the safety page."), 0, 0, &code))
    return code;
  return dew_command_say (dew_cautions_text ());
}

static void
glib_library (int compiled[3], int running[3])
{
  memcpy (compiled, (int[]){ GLIB_MAJOR_VERSION, GLIB_MINOR_VERSION, GLIB_MICRO_VERSION },
          3 * sizeof (int));
  memcpy (running,
          (int[]){ (int) glib_major_version, (int) glib_minor_version, (int) glib_micro_version },
          3 * sizeof (int));
}

static int
run_version (void)
{
  static const struct
  {
    const char *name;
    void (*tell) (int compiled[3], int running[3]);
  } libraries[] = {
    { "GLib", glib_library },          { "GTK", NULL },
    { "cairo", dew_export_library },   { "SQLite", dew_file_library },
    { "JSON-GLib", dew_json_library }, { "CHOLMOD", dew_pressure_library },
  };
  g_autoptr (GString) out = g_string_new ("dewtier " DEW_VERSION "\n");

  for (guint i = 0; i < G_N_ELEMENTS (libraries); i++)
    {
      int c[3] = { 0 }, r[3] = { -1, -1, -1 };

      g_string_append_printf (out, "%-10s compiled with ", libraries[i].name);
      /* Only the window's program holds it. */
      if (libraries[i].tell == NULL)
        {
          g_string_append (out, DEW_GTK_VERSION "\n");
          continue;
        }
      libraries[i].tell (c, r);
      g_string_append_printf (out, "%d.%d.%d", c[0], c[1], c[2]);
      if (r[0] >= 0)
        g_string_append_printf (out, ", running with %d.%d.%d", r[0], r[1], r[2]);
      g_string_append_c (out, '\n');
    }
  return dew_command_say (out->str);
}

/* --- dispatch ---------------------------------------------------------- */

static const struct
{
  const char *word;
  int (*run) (int argc, char **argv);
  const char *takes, *tells; /* for the help */
} commands[] = {
  { "forecast", run_forecast, N_ ("FILE"), N_ ("the air at every bay and place") },
  { "sheet", dew_command_sheet, N_ ("FILE OUT"),
    N_ ("the drawing to scale as .pdf, .png or .svg") },
  { "advise", dew_command_advise, N_ ("fan|moisture|cut FILE"),
    N_ ("where the fan goes, how much water, whether to cut") },
  { "assign", dew_command_assign, N_ ("FILE"), N_ ("which plant stands where") },
  { "compare", dew_command_compare, N_ ("FILE"), N_ ("variants side by side") },
  { "check", run_check, N_ ("FILE"), N_ ("what keeps a variant from being forecast") },
  { "convert", run_convert, N_ ("IN OUT"), N_ ("between .dewtier and .json") },
  { "demo", run_demo, N_ ("FILE"), N_ ("an invented cabinet, to try things on") },
  { "catalogue", run_catalogue, N_ ("[NAME]"),
    N_ ("figures for covers, fans, plants ... and sources") },
  { "cautions", run_cautions, "", N_ ("the safety page") },
};

static void
append_help (GString *out, const char *word, const char *takes, const char *tells)
{
  const int column = 29; /* characters before what it tells */
  g_autofree char *call
    = g_strdup_printf ("  dewtier %s%s%s", word, word[0] && takes[0] ? " " : "", takes);

  g_string_append_printf (out, "%s%*s  %s\n", call,
                          MAX (column - (int) g_utf8_strlen (call, -1), 0), "", tells);
}

static int
run_help (void)
{
  g_autoptr (GString) out = g_string_new (NULL);

  g_string_append_printf (out, "%s\n", _ ("Usage:"));
  append_help (out, "", _ ("[FILE]..."), _ ("open documents, or the demo, in the window"));
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    append_help (out, commands[i].word, commands[i].takes[0] ? _ (commands[i].takes) : "",
                 _ (commands[i].tells));
  append_help (out, "--version", "", _ ("this program and its libraries"));
  g_string_append_printf (out, "\n%s\n%s\n",
                          _ ("dewtier COMMAND --help tells the options of a command."),
                          _ ("Exit code 0: fine; 1: the answer is no, or the input is bad; 2: not "
                             "understood."));
  return dew_command_say (out->str);
}

int
dew_commands_run (int argc, char **argv, gboolean *handled)
{
  g_return_val_if_fail (handled != NULL, DEW_EXIT_USAGE);

  *handled = TRUE;
  if (argc < 2)
    {
      *handled = FALSE;
      return DEW_EXIT_FINE;
    }
  if (strcmp (argv[1], "--version") == 0)
    return run_version ();
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0)
    return run_help ();
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    if (strcmp (argv[1], commands[i].word) == 0)
      return commands[i].run (argc - 1, argv + 1);

  /* The window takes only files; a mistyped option must not open it. */
  if (argv[1][0] == '-')
    return dew_command_complain (DEW_EXIT_USAGE, _ ("%s: is unknown; see dewtier --help"), argv[1]);
  *handled = FALSE;
  return DEW_EXIT_FINE;
}
