/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier day, year and mishap: what becomes of an enclosure by the hour, by the month, and when
 * something fails. */
#include "command-line.h"

#include "forecast/members.h"
#include "say/day.h"
#include "store/store.h"

static const char *const clock_words[] = { "steady", "spring", "autumn" };

/* FALSE when something is wrong and has been said; *code is then the exit code. */
static gboolean
begin (DewAsked *asked, DewDayOptions *options, int *code)
{
  int grid = DEW_GRID_DRAFT, clock = DEW_CLOCK_STEADY;

  *code = DEW_EXIT_USAGE;
  if (!dew_command_choose ("--grid", asked->grid, dew_grid_keys, G_N_ELEMENTS (dew_grid_keys),
                           &grid)
      || !dew_command_choose ("--clock", asked->clock, clock_words, G_N_ELEMENTS (clock_words),
                              &clock))
    return FALSE;
  *code = DEW_EXIT_NO;
  dew_day_options_init (options);
  options->grid = grid;
  options->clock = clock;
  return dew_command_open (asked, asked->words[0]);
}

int
dew_command_day (DewAsked *asked)
{
  g_autoptr (DewDay) day = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewDayOptions options;
  int code;

  if (!begin (asked, &options, &code))
    return code;
  day = dew_day_new (asked->chamber, asked->about.variant->id, &options, NULL, &error);
  if (day != NULL)
    text = (asked->json ? dew_report_day_json : dew_report_day_text) (&asked->about, day,
                                                                      dew_catalogue_plant_wish,
                                                                      asked->chamber);
  return dew_command_answer (asked, text, error);
}

int
dew_command_year (DewAsked *asked)
{
  g_autoptr (DewYear) year = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewDayOptions options;
  int code;

  if (!begin (asked, &options, &code))
    return code;
  year = dew_year_new (asked->chamber, asked->about.variant->id, &options, dew_catalogue_plant_wish,
                       asked->chamber, NULL, NULL, NULL, &error);
  if (year != NULL)
    text = (asked->json ? dew_report_year_json : dew_report_year_text) (&asked->about, year);
  return dew_command_answer (asked, text, error);
}

int
dew_command_mishap (DewAsked *asked)
{
  g_autoptr (DewMishaps) mishaps = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewDayOptions options;
  int code;

  if (!begin (asked, &options, &code))
    return code;
  mishaps = dew_mishaps_new (asked->chamber, asked->about.variant->id, &options,
                             dew_catalogue_plant_wish, asked->chamber, NULL, NULL, NULL, &error);
  if (mishaps != NULL)
    text
      = (asked->json ? dew_report_mishaps_json : dew_report_mishaps_text) (&asked->about, mishaps);
  return dew_command_answer (asked, text, error);
}
