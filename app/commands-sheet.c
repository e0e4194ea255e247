/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier sheet: the drawing with its forecast as PDF, PNG or SVG. */
#include "commands-private.h"

#include "forecast/bands.h"
#include "geometry/geometry.h"
#include "say/units.h"
#include "sheets/export.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

#define PICTURE_PX 1600

typedef struct
{
  gboolean night, fixed, bare;
  char *coloured, *variant, *paper, *units;
  int month, width, plan;
} SheetWords;

/* Words of the command line, not for translation: scripts hold them. */
static const char *const value_words[DEW_N_VALUES] = {
  [DEW_VALUE_TEMPERATURE] = "warmth",
  [DEW_VALUE_RH] = "humidity",
  [DEW_VALUE_HUMIDITY_RATIO] = "water",
  [DEW_VALUE_VPD] = "drying",
  [DEW_VALUE_SPEED] = "air",
  [DEW_VALUE_AGE] = "age",
  [DEW_VALUE_MIST] = "mist",
  [DEW_VALUE_WETTING] = "wetness",
  [DEW_VALUE_PPFD] = "light",
};
static const char *const paper_words[] = { [DEW_PAPER_A4] = "a4", [DEW_PAPER_LETTER] = "letter" };
static const char *const unit_words[] = { "metric", "imperial" };

/* Index of a word, or -1 when it has been said that there is no such one. */
static int
choose (const char *option, const char *word, const char *const *words, int n, int fallback)
{
  g_autoptr (GString) known = g_string_new (NULL);

  if (word == NULL)
    return fallback;
  for (int i = 0; i < n; i++)
    {
      if (g_ascii_strcasecmp (word, words[i]) == 0)
        return i;
      g_string_append_printf (known, "%s%s", i > 0 ? ", " : "", words[i]);
    }
  /* Translators: an option, the word given for it, a list of the words it knows */
  dew_command_complain (DEW_EXIT_USAGE, _ ("%s: \"%s\" is unknown; give one of %s"), option, word,
                        known->str);
  return -1;
}

/* What the words mean; FALSE when one was wrong and has been said. */
static gboolean
read_words (const SheetWords *words, DewPrintout *printout, DewPaper *paper)
{
  int value = choose ("--colour", words->coloured, value_words, DEW_N_VALUES, DEW_VALUE_RH);
  int sheet, tongue;

  if (value < 0)
    return FALSE;
  sheet = choose ("--paper", words->paper, paper_words, G_N_ELEMENTS (paper_words), DEW_PAPER_A4);
  if (sheet < 0)
    return FALSE;
  tongue = choose ("--units", words->units, unit_words, G_N_ELEMENTS (unit_words),
                   dew_tongue_of_locale ());
  if (tongue < 0)
    return FALSE;
  printout->coloured = value;
  printout->fixed_scale = words->fixed;
  printout->tongue = tongue;
  *paper = sheet;
  return TRUE;
}

/* FALSE when a number was wrong and has been said. */
static gboolean
check_numbers (const SheetWords *words)
{
  if (words->month < 0 || words->month > 12)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--month: is %d; give 1 to 12"), words->month);
  else if (words->width < DEW_EXPORT_LEAST_PX || words->width > DEW_EXPORT_MOST_PX)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--width: is %d; give %d to %d"), words->width,
                          DEW_EXPORT_LEAST_PX, DEW_EXPORT_MOST_PX);
  else if (words->plan < 1)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--plan: is %d; the lowest bay is 1"), words->plan);
  else
    return TRUE;
  return FALSE;
}

/* The bay of the plan; -1 when there is none of that number and it has been said. */
static int
plan_bay (const DewChamber *chamber, const DewVariant *variant, int plan)
{
  g_autofree double *z_m = NULL;
  int n = dew_variant_bays (chamber, variant, &z_m, NULL);

  if (plan <= n)
    return plan - 1;
  dew_command_complain (DEW_EXIT_NO,
                        ngettext ("--plan: is %d, but there is only %d bay",
                                  "--plan: is %d, but there are only %d bays", n),
                        plan, n);
  return -1;
}

static int
draw_file (const char *in, const char *out, DewExportForm form, const SheetWords *words)
{
  g_autoptr (DewChamber) chamber = NULL;
  g_autoptr (DewForecast) forecast = NULL;
  g_autoptr (GError) error = NULL;
  const DewVariant *variant;
  DewForecastOptions options;
  g_auto (DewPrintout) printout = { 0 };
  DewPaper paper;

  chamber = dew_command_load (in);
  if (chamber == NULL)
    return DEW_EXIT_NO;
  if (words->month != 0)
    chamber->month = words->month - 1;
  variant = dew_command_variant (chamber, words->variant);
  if (variant == NULL)
    return dew_command_complain (DEW_EXIT_NO,
                                 _ ("%s: there is no variant \"%s\"; see dewtier check %s"), in,
                                 words->variant, in);
  dew_printout_init (&printout, chamber, variant, NULL);
  if (!read_words (words, &printout, &paper))
    return DEW_EXIT_USAGE;
  printout.plan_bay = plan_bay (chamber, variant, words->plan);
  if (printout.plan_bay < 0)
    return DEW_EXIT_NO;

  dew_forecast_options_init (&options);
  options.night = words->night;
  options.members = DEW_BAND_MEMBERS;
  options.wish = dew_catalogue_plant_wish;
  options.wish_data = chamber;
  if (!words->bare)
    {
      forecast = dew_forecast_new (chamber, variant->id, &options, NULL, &error);
      if (forecast == NULL)
        return dew_command_complain (DEW_EXIT_NO, _ ("%s: %s (--bare draws it without a forecast)"),
                                     in, error->message);
    }
  printout.forecast = forecast;
  dew_printout_fit (&printout, paper);
  if (!dew_export_file (&printout, form, words->width, out, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  return DEW_EXIT_FINE;
}

int
dew_command_sheet (int argc, char **argv)
{
  SheetWords words = { .width = PICTURE_PX, .plan = 1 };
  const GOptionEntry entries[] = {
    { "night", 0, 0, G_OPTION_ARG_NONE, &words.night, _ ("By night instead of by day"), NULL },
    { "colour", 0, 0, G_OPTION_ARG_STRING, &words.coloured,
      _ ("What is coloured: humidity, warmth, air, age, drying, light, wetness, mist, water"),
      _ ("VALUE") },
    { "fixed", 0, 0, G_OPTION_ARG_NONE, &words.fixed,
      _ ("The same colours for the same values in every picture"), NULL },
    { "variant", 0, 0, G_OPTION_ARG_STRING, &words.variant,
      _ ("Another variant than the one shown"), _ ("NAME") },
    { "month", 0, 0, G_OPTION_ARG_INT, &words.month, _ ("Another month, January is 1"), "1..12" },
    { "plan", 0, 0, G_OPTION_ARG_INT, &words.plan,
      _ ("Which bay is seen from above, the lowest is 1"), "N" },
    { "width", 0, 0, G_OPTION_ARG_INT, &words.width, _ ("How wide a PNG is, in pixels"), "N" },
    { "paper", 0, 0, G_OPTION_ARG_STRING, &words.paper, _ ("a4 or letter"), _ ("PAPER") },
    { "units", 0, 0, G_OPTION_ARG_STRING, &words.units,
      _ ("metric or imperial; as the locale has it"), _ ("UNITS") },
    { "bare", 0, 0, G_OPTION_ARG_NONE, &words.bare, _ ("The drawing alone, without a forecast"),
      NULL },
    { NULL },
  };
  DewExportForm form;
  int code;

  if (dew_command_parse (&argc, &argv, entries, _ ("FILE OUT"),
                         _ ("Draws the enclosure and its forecast to scale; OUT ends in .pdf, .png "
                            "or .svg."),
                         2, 2, &code))
    {
      if (!dew_export_form_of (argv[2], &form))
        code = dew_command_complain (DEW_EXIT_USAGE,
                                     _ ("%s: the name says no form; let it end in .pdf, .png or "
                                        ".svg"),
                                     argv[2]);
      else
        code = check_numbers (&words) ? draw_file (argv[1], argv[2], form, &words) : DEW_EXIT_USAGE;
    }
  g_free (words.coloured);
  g_free (words.variant);
  g_free (words.paper);
  g_free (words.units);
  return code;
}
