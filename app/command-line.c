/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command-line.h"

#include "forecast/bands.h"
#include "sheets/export.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

/* --- speaking ---------------------------------------------------------- */

int
dew_command_say (const char *text)
{
  if (fputs (text, stdout) == EOF || fflush (stdout) == EOF)
    return dew_command_complain (
      DEW_EXIT_NO, "%s", _ ("the answer could not be written; look at where the output goes"));
  return DEW_EXIT_FINE;
}

int
dew_command_answer (const DewAsked *asked, const char *text, const GError *error)
{
  if (text == NULL)
    return dew_command_complain (DEW_EXIT_NO, "%s: %s", asked->about.file, error->message);
  return dew_command_say (text);
}

int
dew_command_complain (int code, const char *format, ...)
{
  g_autofree char *message = NULL;
  g_autofree char *plain = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  /* One line that shows what it says, whatever a file's name holds. */
  plain = dew_text_plain (message, FALSE);
  fprintf (stderr, "dewtier: %s\n", plain);
  return code;
}

gboolean
dew_command_choose (const char *option, const char *word, const char *const *words, int n,
                    int *chosen)
{
  g_autoptr (GString) known = g_string_new (NULL);

  if (word == NULL)
    return TRUE;
  for (int i = 0; i < n; i++)
    {
      if (g_ascii_strcasecmp (word, words[i]) == 0)
        {
          *chosen = i;
          return TRUE;
        }
      g_string_append_printf (known, "%s%s", i > 0 ? ", " : "", words[i]);
    }
  /* Translators: an option, the word given for it, a list of the words it knows */
  dew_command_complain (DEW_EXIT_USAGE, _ ("%s: \"%s\" is unknown; give one of %s"), option, word,
                        known->str);
  return FALSE;
}

gboolean
dew_command_within (const char *option, int value, int least, int most)
{
  if (value >= least && value <= most)
    return TRUE;
  /* Translators: an option, the number given for it, the least and the most it takes */
  dew_command_complain (DEW_EXIT_USAGE, _ ("--%s: is %d; give %d to %d"), option, value, least,
                        most);
  return FALSE;
}

gboolean
dew_command_may_write (const char *path, gboolean replace)
{
  if (replace || !g_file_test (path, G_FILE_TEST_EXISTS))
    return TRUE;
  dew_command_complain (DEW_EXIT_NO,
                        _ ("%s: there is such a file already; choose another name or give "
                           "--replace"),
                        path);
  return FALSE;
}

/* --- options ----------------------------------------------------------- */

#define MEMBERS_MAX 1000
#define CANDIDATES_MAX 20000
#define THREADS_MAX 256
#define SECONDS_MAX 3600.0
#define BAYS_MAX 1000
#define PICTURE_PX 1600

typedef struct
{
  DewOption option;
  const char *name;
  GOptionArg type;
  gsize offset; /* in DewAsked */
  const char *help;
  const char *takes; /* for the help */
  int usual;         /* of a number, and its range; what is not given may be outside */
  int least, most;
} Option;

#define AT(member) G_STRUCT_OFFSET (DewAsked, member)
/* clang-format off */
#define FLAG(option, name, help) \
  { DEW_OPTION_##option, #name, G_OPTION_ARG_NONE, AT (name), help, NULL, 0, 0, 0 }
#define TEXT(option, name, help, takes) \
  { DEW_OPTION_##option, #name, G_OPTION_ARG_STRING, AT (name), help, takes, 0, 0, 0 }
#define NUMBER(option, name, help, takes, usual, least, most) \
  { DEW_OPTION_##option, #name, G_OPTION_ARG_INT, AT (name), help, takes, usual, least, most }

/* In the order in which the help of a command tells them. */
static const Option options[] = {
  FLAG (JSON, json, N_ ("Answer in JSON, in SI units")),
  TEXT (GRID, grid, N_ ("How fine: draft, settled, fine"), N_ ("GRID")),
  FLAG (NIGHT, night, N_ ("By night instead of by day")),
  TEXT (COLOUR, colour, N_ ("What is coloured: humidity, warmth, air, age, drying, light, wetness, "
                            "mist, water"), N_ ("VALUE")),
  FLAG (FIXED, fixed, N_ ("The same colours for the same values in every picture")),
  TEXT (VARIANT, variant, N_ ("Another variant than the one shown"), N_ ("NAME")),
  NUMBER (MONTH, month, N_ ("Another month, January is 1"), "1..12", 0, 1, 12),
  FLAG (YEAR, year, N_ ("In every month of the year")),
  TEXT (FAN, fan, N_ ("Which fan, where there are several"), N_ ("NAME")),
  FLAG (WALLS, walls, N_ ("Also try the fan in the walls, and inside")),
  NUMBER (CANDIDATES, candidates, N_ ("How many places of the fan to try, about"), N_ ("N"),
          0, 1, CANDIDATES_MAX),
  TEXT (WEIGHTS, weights,
        N_ ("What counts how much: humid, warmth, even, fresh, dry, gentle, water, quiet; day: "
            "share of the day"), "even=2,water=1"),
  FLAG (DRAFT, draft, N_ ("By quick forecasts")),
  NUMBER (MEMBERS, members,
          N_ ("Forecasts with other unknowns, for the bands; 0: without bands"), N_ ("N"),
          DEW_BAND_MEMBERS, 0, MEMBERS_MAX),
  NUMBER (TRIALS, members,
          N_ ("Forecasts with other unknowns, for the bands; 0: without bands"), N_ ("N"),
          DEW_BAND_MEMBERS, 0, MEMBERS_MAX),
  { DEW_OPTION_SECONDS, "seconds", G_OPTION_ARG_DOUBLE, AT (seconds),
    N_ ("How long to look for a proof at most"), N_ ("S"), 0, 0, 0 },
  FLAG (BALANCE, balance, N_ ("With every term of the balances")),
  NUMBER (THREADS, threads, N_ ("Processors to use at most"), N_ ("N"), 0, 1, THREADS_MAX),
  FLAG (ALL, all, N_ ("Every figure the answer rests on")),
  FLAG (IMPERIAL, imperial, N_ ("Words in degrees Fahrenheit, inches, quarts and pounds")),
  NUMBER (PLAN, plan, N_ ("Which bay is seen from above, the lowest is 1"), N_ ("N"),
          1, 1, BAYS_MAX),
  NUMBER (WIDTH, width, N_ ("How wide a PNG is, in pixels"), N_ ("N"),
          PICTURE_PX, DEW_EXPORT_LEAST_PX, DEW_EXPORT_MOST_PX),
  TEXT (PAPER, paper, N_ ("a4 or letter"), N_ ("PAPER")),
  TEXT (UNITS, units, N_ ("metric or imperial; as the locale has it"), N_ ("UNITS")),
  TEXT (CLOCK, clock, N_ ("steady, spring or autumn: the days on which clocks are changed"),
        N_ ("CLOCK")),
  FLAG (BARE, bare, N_ ("The drawing alone, without a forecast")),
  FLAG (BUILD, build, N_ ("Also the pages for who builds it: cuts and where they are, templates, "
                          "shelves from above, parts, what to see to")),
  FLAG (CARD, card, N_ ("A picture for a message: the drawing with the verdict in words")),
  FLAG (REPLACE, replace, N_ ("Replace a file of that name")),
  TEXT (TABLE, columns, N_ ("Which columns of a table hold what: time, clock, t, rh"),
        "time=1,t=2,rh=3"),
  TEXT (TABLE, dates, N_ ("What its dates begin with: year, day, month"), N_ ("ORDER")),
  { DEW_OPTION_TABLE | DEW_OPTION_SPAN, "zone", G_OPTION_ARG_STRING, AT (zone),
    N_ ("The zone of its times, and of moments that are given"), "Europe/Berlin", 0, 0, 0 },
  TEXT (SPAN, from, N_ ("Readings from then on"), "\"2026-01-31 08:00\""),
  TEXT (SPAN, to, N_ ("Readings until then"), "\"2026-02-28 08:00\""),
  FLAG (DRY, dry, N_ ("In a night test: nothing wet is inside")),
  FLAG (APPLY, apply, N_ ("Take what was found into the document, as a step that can be undone")),
  TEXT (TABLE, degrees, N_ ("C or F"), N_ ("UNIT")),
  TEXT (TABLE, humidity, N_ ("percent or share (0 to 1)"), N_ ("UNIT")),
  TEXT (TABLE, decimal, N_ ("What stands before decimals: point or comma"), ".|,"),
  FLAG (TABLE, room, N_ ("The instrument is in the room, not inside")),
  { DEW_OPTION_TABLE, "leave-out", G_OPTION_ARG_NONE, AT (leave_out),
    N_ ("Leave lines out that cannot be read"), NULL, 0, 0, 0 },
};
/* clang-format on */

/* FALSE when a number was wrong and has been said. */
static gboolean
check_numbers (const DewAsked *asked, guint64 taken)
{
  for (guint i = 0; i < G_N_ELEMENTS (options); i++)
    {
      const Option *option = &options[i];
      int value = G_STRUCT_MEMBER (int, asked, option->offset);

      if ((taken & option->option) != 0 && option->type == G_OPTION_ARG_INT
          && value != option->usual
          && !dew_command_within (option->name, value, option->least, option->most))
        return FALSE;
    }
  if (asked->seconds > 0.0 && asked->seconds <= SECONDS_MAX)
    return TRUE;
  dew_command_complain (DEW_EXIT_USAGE, _ ("--seconds: is %g; give more than 0, to %g"),
                        asked->seconds, SECONDS_MAX);
  return FALSE;
}

/* Reads the options and leaves the other words. FALSE when that is all: help was asked for,
 * or something was wrong and has been said; *code is then the exit code. */
static gboolean
parse (const DewCommand *command, int *argc, char ***argv, DewAsked *asked, int *code)
{
  g_autoptr (GOptionContext) context
    = g_option_context_new (command->takes != NULL ? _ (command->takes) : NULL);
  g_autofree char *name = g_strconcat ("dewtier ", command->name, NULL);
  g_autoptr (GError) error = NULL;
  GOptionEntry entries[G_N_ELEMENTS (options) + 2] = { { NULL } };
  gboolean help = FALSE;
  int n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (options); i++)
    if ((command->options & options[i].option) != 0)
      {
        gpointer at = G_STRUCT_MEMBER_P (asked, options[i].offset);

        if (options[i].type == G_OPTION_ARG_INT)
          *(int *) at = options[i].usual;
        entries[n++] = (GOptionEntry){ .long_name = options[i].name,
                                       .arg = options[i].type,
                                       .arg_data = at,
                                       .description = _ (options[i].help),
                                       .arg_description
                                       = options[i].takes != NULL ? _ (options[i].takes) : NULL };
      }
  entries[n]
    = (GOptionEntry){ "help", 'h', 0, G_OPTION_ARG_NONE, &help, _ ("Show this help"), NULL };
  g_set_prgname (name); /* as the help calls it */
  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_set_summary (context, _ (command->summary));
  g_option_context_add_main_entries (context, entries, NULL);
  *code = DEW_EXIT_USAGE;
  if (!g_option_context_parse (context, argc, argv, &error))
    {
      dew_command_complain (DEW_EXIT_USAGE, _ ("%s; see %s --help"), error->message, name);
      return FALSE;
    }
  if (help)
    {
      g_autofree char *text = g_option_context_get_help (context, TRUE, NULL);

      *code = dew_command_say (text);
      return FALSE;
    }
  /* "--" stays in front of the words that follow it. */
  if (*argc > 1 && strcmp ((*argv)[1], "--") == 0)
    {
      (*argv)++;
      (*argc)--;
    }
  if (*argc - 1 >= command->least && *argc - 1 <= command->most)
    return check_numbers (asked, command->options);
  dew_command_complain (DEW_EXIT_USAGE,
                        *argc - 1 < command->least
                          /* Translators: a command and the words it takes */
                          ? _ ("a word is missing; usage: %s %s")
                          : _ ("there is a word too many; usage: %s %s"),
                        name, command->takes != NULL ? _ (command->takes) : "");
  return FALSE;
}

int
dew_command_run (const DewCommand *command, int argc, char **argv)
{
  DewAsked asked = { .seconds = 10.0 };
  int code;

  if (parse (command, &argc, &argv, &asked, &code))
    {
      asked.words = argv + 1;
      asked.n = argc - 1;
      code = command->run (&asked);
    }
  for (guint i = 0; i < G_N_ELEMENTS (options); i++)
    if (options[i].type == G_OPTION_ARG_STRING)
      g_free (G_STRUCT_MEMBER (char *, &asked, options[i].offset));
  g_clear_pointer (&asked.chamber, dew_chamber_free);
  return code;
}

/* --- the document ------------------------------------------------------ */

const DewVariant *
dew_command_variant (const DewAsked *asked, const char *name)
{
  for (guint i = 0; i < asked->chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (asked->chamber->variants, DewVariant, i);

      if (strcmp (variant->name, name) == 0)
        return variant;
    }
  dew_command_complain (DEW_EXIT_NO, _ ("%s: there is no variant \"%s\"; see dewtier check %s"),
                        asked->about.file, name, asked->about.file);
  return NULL;
}

gboolean
dew_command_open (DewAsked *asked, const char *path)
{
  g_autoptr (GError) error = NULL;

  asked->chamber = dew_store_load (path, &error);
  if (asked->chamber == NULL)
    {
      dew_command_complain (DEW_EXIT_NO, "%s", error->message);
      return FALSE;
    }
  if (asked->month != 0)
    asked->chamber->month = asked->month - 1;
  asked->about = (DewReport){
    .file = path,
    .chamber = asked->chamber,
    .tongue = asked->imperial ? DEW_TONGUE_IMPERIAL : DEW_TONGUE_METRIC,
    .all = asked->all,
  };
  asked->about.variant = asked->variant != NULL ? dew_command_variant (asked, asked->variant)
                                                : dew_chamber_shown (asked->chamber);
  /* For programs: untranslated words and the decimal point from here on. The locale C also
   * passes over what LANGUAGE says. */
  if (asked->json)
    setlocale (LC_ALL, "C");
  return asked->about.variant != NULL;
}

void
dew_command_options (const DewAsked *asked, DewForecastOptions *out)
{
  dew_forecast_options_init (out);
  out->night = asked->night;
  out->members = asked->members;
  out->wish = dew_catalogue_plant_wish;
  out->wish_data = asked->chamber;
  if (asked->draft)
    out->grid = DEW_GRID_DRAFT;
}
