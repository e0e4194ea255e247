/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command-line.h"

#include "advice/compare/compare.h"
#include "flow/pressure.h"
#include "sheets/export.h"
#include "store/file.h"
#include "store/json.h"
#include "store/store.h"
#include "say/problems.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

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
  if (!dew_command_may_write (path, replace))
    return DEW_EXIT_NO;
  text = dew_json_from_chamber (chamber);
  if (g_file_set_contents_full (path, text, -1,
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666,
                                &error))
    return DEW_EXIT_FINE;
  return dew_command_complain (DEW_EXIT_NO, _ ("%s: %s; look at the folder and its permissions"),
                               path, error->message);
}

static int
run_demo (DewAsked *asked)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();

  return write_document (asked->words[0], demo, asked->replace);
}

static int
run_convert (DewAsked *asked)
{
  const char *out = asked->words[1];

  if (!g_str_has_suffix (out, DEW_STORE_SUFFIX) && !g_str_has_suffix (out, ".json"))
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("%s: the name says no form; let it end in .dewtier or .json"),
                                 out);
  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  return write_document (out, asked->chamber, asked->replace);
}

static void
append_problem (GString *out, const char *indent, const DewProblem *problem)
{
  g_autofree char *text = dew_problem_text (problem, DEW_TONGUE_PLAIN);

  g_string_append_printf (out, "%s%s\n", indent, text);
}

static int
run_check (DewAsked *asked)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GArray) unknown = NULL;
  guint n = 0;
  int code;

  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;

  unknown = dew_catalogue_check_species (asked->chamber);
  for (guint i = 0; i < unknown->len; i++)
    append_problem (out, "", &g_array_index (unknown, DewProblem, i));
  for (guint i = 0; i < asked->chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (asked->chamber->variants, DewVariant, i);
      g_autoptr (GArray) problems = dew_chamber_check (asked->chamber, variant->id);
      g_autoptr (GArray) doubts = dew_chamber_doubts (asked->chamber, variant->id);

      if (problems->len == 0)
        g_string_append_printf (out, _ ("Variant \"%s\": ready to forecast\n"), variant->name);
      else
        g_string_append_printf (out,
                                ngettext ("Variant \"%s\": %u to put right\n",
                                          "Variant \"%s\": %u to put right\n", problems->len),
                                variant->name, problems->len);
      for (guint k = 0; k < problems->len; k++)
        append_problem (out, "  ", &g_array_index (problems, DewProblem, k));
      if (doubts->len > 0)
        g_string_append_printf (out, "  %s\n", _ ("Can be forecast, but have a look:"));
      for (guint k = 0; k < doubts->len; k++)
        append_problem (out, "  ", &g_array_index (doubts, DewProblem, k));
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
run_catalogue (DewAsked *asked)
{
  g_autoptr (GString) out = g_string_new (NULL);
  const char *const *names = dew_catalogue_names ();

  if (asked->n == 1)
    {
      const DewCatalogue *catalogue = dew_catalogue (asked->words[0]);

      if (catalogue == NULL)
        return dew_command_complain (DEW_EXIT_NO,
                                     _ ("%s: there is no such catalogue; see dewtier catalogue"),
                                     asked->words[0]);
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
run_cautions (DewAsked *asked)
{
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

/* clang-format off */
static const DewCommand commands[] = {
  { "forecast", dew_command_forecast,
    DEW_OPTION_JSON | DEW_OPTION_GRID | DEW_OPTION_NIGHT | DEW_OPTION_VARIANT | DEW_OPTION_MONTH
      | DEW_OPTION_MEMBERS | DEW_OPTION_BALANCE,
    1, 1, N_ ("FILE"), N_ ("the air at every bay and place"),
    N_ ("Forecasts the air at every bay and place of one variant.") },
  { "sheet", dew_command_sheet,
    DEW_OPTION_NIGHT | DEW_OPTION_COLOUR | DEW_OPTION_FIXED | DEW_OPTION_VARIANT
      | DEW_OPTION_MONTH | DEW_OPTION_PLAN | DEW_OPTION_WIDTH | DEW_OPTION_PAPER
      | DEW_OPTION_UNITS | DEW_OPTION_BARE | DEW_OPTION_BUILD | DEW_OPTION_CARD
      | DEW_OPTION_REPLACE,
    2, 2, N_ ("FILE OUT"), N_ ("the drawing to scale as .pdf, .png or .svg"),
    N_ ("Draws the enclosure and its forecast to scale; OUT ends in .pdf, .png or .svg.") },
  { "labels", dew_command_labels,
    DEW_OPTION_VARIANT | DEW_OPTION_PAPER | DEW_OPTION_UNITS,
    2, 2, N_ ("FILE OUT.pdf"), N_ ("labels for pots, on sheets of labels"),
    N_ ("Makes a label for each plant that stands somewhere: its name, what it wants, its place. "
        "A4: 24 of 70 x 37 mm; Letter: 30 of 2 5/8 x 1 in.") },
  { "thumbnail", dew_command_thumbnail, 0, 3, 3, N_ ("FILE OUT PIXELS"),
    N_ ("a small picture, for managers of files"),
    N_ ("Draws the front of the shown variant, without a forecast, as a PNG that many pixels wide "
        "and high, whatever the name of OUT.") },
  { "advise", dew_command_advise,
    DEW_OPTION_JSON | DEW_OPTION_VARIANT | DEW_OPTION_MONTH | DEW_OPTION_FAN | DEW_OPTION_WALLS
      | DEW_OPTION_CANDIDATES | DEW_OPTION_WEIGHTS | DEW_OPTION_TRIALS | DEW_OPTION_THREADS
      | DEW_OPTION_IMPERIAL | DEW_OPTION_ALL,
    2, 2, N_ ("fan|moisture|light|cut FILE"),
    N_ ("where the fan goes, how much water, which lamp, whether to cut"),
    N_ ("Advises where the fan goes, how much water it takes, which lamp how long, and whether "
        "to cut the cover.") },
  { "assign", dew_command_assign,
    DEW_OPTION_JSON | DEW_OPTION_VARIANT | DEW_OPTION_MONTH | DEW_OPTION_DRAFT
      | DEW_OPTION_MEMBERS | DEW_OPTION_SECONDS | DEW_OPTION_IMPERIAL,
    1, 1, N_ ("FILE"), N_ ("which plant stands where"),
    N_ ("Assigns the plants of a variant, and those wished for, to places.") },
  { "suits", dew_command_suits,
    DEW_OPTION_JSON | DEW_OPTION_VARIANT | DEW_OPTION_MONTH | DEW_OPTION_YEAR | DEW_OPTION_DRAFT
      | DEW_OPTION_IMPERIAL,
    1, 99, N_ ("FILE [KIND]"), N_ ("what else would grow here"),
    N_ ("Tells which kinds of plant would do on each shelf, or what one lacks here.") },
  { "shelves", dew_command_shelves, DEW_OPTION_JSON | DEW_OPTION_VARIANT | DEW_OPTION_IMPERIAL, 1, 1,
    N_ ("FILE"), N_ ("how high the shelves"),
    N_ ("Tells how high the shelves go for what stands there and is wished for.") },
  { "plants", dew_command_plants, 0, 0, 99, N_ ("[NAME]"), N_ ("what is known of kinds of plant"),
    N_ ("Finds kinds of plant by name, genus, common name or group, and tells what they want.") },
  { "wish", dew_command_wish, 0, 2, 99, N_ ("FILE LIST"), N_ ("put plants on the list of wishes"),
    N_ ("Puts plants on the document's list of wishes: \"3 Dracula, 2 Restrepia\".") },
  { "kind", dew_command_kind, 0, 2, 99, N_ ("FILE NAME [KEY=VALUE]..."),
    N_ ("describe a kind of one's own"),
    N_ ("Describes a kind of plant in the document; like=KIND begins with what that wants.") },
  { "compare", dew_command_compare,
    DEW_OPTION_JSON | DEW_OPTION_MONTH | DEW_OPTION_DRAFT | DEW_OPTION_MEMBERS
      | DEW_OPTION_IMPERIAL,
    1, 1 + DEW_COMPARE_SIDES_MAX, N_ ("FILE [VARIANT]..."), N_ ("variants side by side"),
    N_ ("Sets variants side by side, against the first: what gets better and what gets worse.") },
  { "readings", dew_command_readings,
    DEW_OPTION_JSON | DEW_OPTION_VARIANT | DEW_OPTION_MONTH | DEW_OPTION_MEMBERS | DEW_OPTION_TABLE
      | DEW_OPTION_SPAN | DEW_OPTION_DRY, 1, 6, N_ ("ACTION FILE ..."),
    N_ ("what instruments measured, beside the forecast"),
    N_ ("Reads tables of loggers into a document and sets them against the forecast:\n"
        "  look TABLE                              how a table is understood\n"
        "  import FILE TABLE INSTRUMENT            take it into the document\n"
        "  add FILE INSTRUMENT MOMENT WARMTH HUMIDITY  one reading, by hand\n"
        "  mark FILE INSTRUMENT FROM TO doubtful|good|plain\n"
        "  list FILE                               what there is\n"
        "  compare FILE                            measured against forecast\n"
        "  night FILE                              how leaky it is, from an evening's fall\n"
        "  where FILE                              where instruments tell most") },
  { "calibrate", dew_command_calibrate,
    DEW_OPTION_JSON | DEW_OPTION_VARIANT | DEW_OPTION_MONTH | DEW_OPTION_SPAN | DEW_OPTION_APPLY,
    1, 1, N_ ("FILE"), N_ ("what readings tell of leakage, fan and water"),
    N_ ("Finds leakage, flow of the fan, output of the humidifier, heat through the cover and "
        "evaporation from the readings.") },
  { "day", dew_command_day,
    DEW_OPTION_JSON | DEW_OPTION_GRID | DEW_OPTION_VARIANT | DEW_OPTION_MONTH | DEW_OPTION_CLOCK
      | DEW_OPTION_IMPERIAL,
    1, 1, N_ ("FILE"), N_ ("a day by the hour, water, power and cost"),
    N_ ("Follows a day by the hour: air and dew of every bay, water, power, cost, the room.") },
  { "year", dew_command_year,
    DEW_OPTION_JSON | DEW_OPTION_GRID | DEW_OPTION_VARIANT | DEW_OPTION_IMPERIAL,
    1, 1, N_ ("FILE"), N_ ("which weeks fall out of which plant’s wishes"),
    N_ ("Follows a day of each month and says which weeks fall out of which plant’s "
        "wishes.") },
  { "mishap", dew_command_mishap,
    DEW_OPTION_JSON | DEW_OPTION_GRID | DEW_OPTION_VARIANT | DEW_OPTION_MONTH
      | DEW_OPTION_IMPERIAL,
    1, 1, N_ ("FILE"), N_ ("what a power cut, an empty tank, a heat wave do"),
    N_ ("Says what a power cut, an empty tank, a failed fan, an open front, a heat wave and lamps "
        "that stay on do, and how long there is.") },
  { "journal", dew_command_journal, DEW_OPTION_SPAN, 1, 4, N_ ("FILE [KIND NOTE [PHOTO]]"),
    N_ ("notes, changes and readings on one time line"),
    N_ ("Tells notes and changes with the humidity around them, and what is due; or notes down:\n"
        "KIND is note, plant, change, water, refill or rinse; --from tells when, else now.\n"
        "\"every 7\" as the note of water, refill or rinse: due again after seven days.") },
  { "check", run_check, 0, 1, 1, N_ ("FILE"), N_ ("what keeps a variant from being forecast"),
    N_ ("Says what keeps each variant from being forecast.") },
  { "convert", run_convert, DEW_OPTION_REPLACE, 2, 2, N_ ("IN OUT"),
    N_ ("between .dewtier and .json"),
    N_ ("Copies a document into another form: OUT ends in .dewtier or .json.\n"
        "Undo steps are not copied.") },
  { "rescue", dew_command_rescue, 0, 2, 2, N_ ("FILE OUT"),
    N_ ("what can be read of a damaged document"),
    N_ ("Reads what can be read of a damaged document into a new one, OUT, and says what could not "
        "be. FILE stays as it is.") },
  { "demo", run_demo, DEW_OPTION_REPLACE, 1, 1, N_ ("FILE"),
    N_ ("an invented cabinet, to try things on"),
    N_ ("Writes an invented cabinet, to try things on.") },
  { "catalogue", run_catalogue, 0, 0, 1, N_ ("[NAME]"),
    N_ ("figures for covers, fans, plants ... and sources"),
    N_ ("Lists the catalogues, or the rows of one with their sources.") },
  { "self-check", dew_command_self_check, 0, 0, 0, NULL,
    N_ ("whether this build says what is known"),
    N_ ("Holds a few forecasts against published laws and against each other, on this machine.") },
  { "cautions", run_cautions, 0, 0, 0, NULL, N_ ("the safety page"),
    N_ ("Shows the safety page.") },
};
/* clang-format on */

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
    append_help (out, commands[i].name, commands[i].takes != NULL ? _ (commands[i].takes) : "",
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
    if (strcmp (argv[1], commands[i].name) == 0)
      return dew_command_run (&commands[i], argc - 1, argv + 1);

  /* The window takes only files; a mistyped option must not open it. */
  if (argv[1][0] == '-')
    return dew_command_complain (DEW_EXIT_USAGE, _ ("%s: is unknown; see dewtier --help"), argv[1]);
  *handled = FALSE;
  return DEW_EXIT_FINE;
}
