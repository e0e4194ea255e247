/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier sheet: the drawing with its forecast as PDF, PNG or SVG. */
#include "command-line.h"

#include "forecast/bands.h"
#include "geometry/geometry.h"
#include "sheets/export.h"

#include <glib/gi18n.h>

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

/* FALSE when a word was wrong and has been said. */
static gboolean
read_words (const DewAsked *asked, DewPrintout *printout, DewPaper *paper)
{
  int value = DEW_VALUE_RH, sheet = DEW_PAPER_A4, tongue = dew_tongue_of_locale ();

  if (!dew_command_choose ("--colour", asked->colour, value_words, DEW_N_VALUES, &value)
      || !dew_command_choose ("--paper", asked->paper, paper_words, G_N_ELEMENTS (paper_words),
                              &sheet)
      || !dew_command_choose ("--units", asked->units, unit_words, G_N_ELEMENTS (unit_words),
                              &tongue))
    return FALSE;
  printout->coloured = value;
  printout->fixed_scale = asked->fixed;
  printout->tongue = tongue;
  *paper = sheet;
  return TRUE;
}

int
dew_command_sheet (DewAsked *asked)
{
  const char *in = asked->words[0], *out = asked->words[1];
  g_autoptr (DewForecast) forecast = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree double *z_m = NULL;
  DewForecastOptions options;
  g_auto (DewPrintout) printout = { 0 };
  DewExportForm form;
  DewPaper paper;

  if (!dew_export_form_of (out, &form))
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("%s: the name says no form; let it end in .pdf, .png or .svg"),
                                 out);
  if (asked->build && form != DEW_EXPORT_PDF)
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("%s: --build makes several pages; let the name end in .pdf"),
                                 out);
  if (!dew_command_may_write (out, asked->replace) || !dew_command_open (asked, in))
    return DEW_EXIT_NO;
  dew_printout_init (&printout, asked->chamber, asked->about.variant, NULL);
  if (!read_words (asked, &printout, &paper))
    return DEW_EXIT_USAGE;
  if (!dew_command_within ("plan", asked->plan, 1,
                           dew_variant_bays (asked->chamber, asked->about.variant, &z_m, NULL)))
    return DEW_EXIT_NO;
  printout.plan_bay = asked->plan - 1;
  dew_command_options (asked, &options);
  options.members = DEW_BAND_MEMBERS;
  if (!asked->bare)
    {
      forecast
        = dew_forecast_new (asked->chamber, asked->about.variant->id, &options, NULL, &error);
      if (forecast == NULL)
        return dew_command_complain (DEW_EXIT_NO, _ ("%s: %s (--bare draws it without a forecast)"),
                                     in, error->message);
    }
  printout.forecast = forecast;
  printout.pages = asked->card    ? DEW_PAGES_CARD
                   : asked->build ? DEW_PAGES_BUILD
                                  : DEW_PAGES_FORECAST;
  dew_printout_fit (&printout, paper);
  if (!dew_export_file (&printout, form, asked->width, out, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  return DEW_EXIT_FINE;
}

int
dew_command_labels (DewAsked *asked)
{
  const char *in = asked->words[0], *out = asked->words[1];
  g_auto (DewPrintout) printout = { 0 };
  g_autoptr (GError) error = NULL;
  DewExportForm form;
  DewPaper paper;

  if (!dew_export_form_of (out, &form) || form != DEW_EXPORT_PDF)
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("%s: labels are made as a PDF; let the name end in .pdf"), out);
  if (!dew_command_open (asked, in))
    return DEW_EXIT_NO;
  dew_printout_init (&printout, asked->chamber, asked->about.variant, NULL);
  if (!read_words (asked, &printout, &paper))
    return DEW_EXIT_USAGE;
  printout.pages = DEW_PAGES_LABELS;
  dew_printout_fit (&printout, paper);
  if (!dew_export_file (&printout, DEW_EXPORT_PDF, 0, out, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  return DEW_EXIT_FINE;
}

int
dew_command_thumbnail (DewAsked *asked)
{
  const char *out = asked->words[1];
  g_auto (DewPrintout) printout = { 0 };
  g_autoptr (GError) error = NULL;
  guint64 size_px;

  if (!g_ascii_string_to_unsigned (asked->words[2], 10, DEW_EXPORT_THUMBNAIL_LEAST_PX,
                                   DEW_EXPORT_THUMBNAIL_MOST_PX, &size_px, &error))
    return dew_command_complain (DEW_EXIT_USAGE, _ ("%s: give %d to %d pixels"), asked->words[2],
                                 DEW_EXPORT_THUMBNAIL_LEAST_PX, DEW_EXPORT_THUMBNAIL_MOST_PX);
  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  dew_printout_init (&printout, asked->chamber, asked->about.variant, NULL);
  printout.pages = DEW_PAGES_THUMBNAIL;
  dew_printout_fit (&printout, DEW_PAPER_A4);
  if (!dew_export_file (&printout, DEW_EXPORT_PNG, (int) size_px, out, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  return DEW_EXIT_FINE;
}
