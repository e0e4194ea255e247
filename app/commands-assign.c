/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier assign: which plant stands where. dewtier compare: variants side by side. */
#include "commands-private.h"
#include "report-assign.h"

#include "forecast/bands.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

#define MEMBERS_MAX 1000
#define SECONDS_MAX 3600.0

/* What both commands take. */
typedef struct
{
  gboolean json, draft, imperial;
  char *variant;
  int month, members;
  double seconds;
} Words;

/* FALSE when a word was wrong and has been said. */
static gboolean
read_words (const Words *words, DewChamber *chamber, DewForecastOptions *options)
{
  dew_forecast_options_init (options);
  options->grid = words->draft ? DEW_GRID_DRAFT : DEW_GRID_SETTLED;
  options->members = words->members;
  options->wish = dew_catalogue_plant_wish;
  options->wish_data = chamber;
  if (words->month != 0)
    chamber->month = words->month - 1;
  return TRUE;
}

static gboolean
check_words (const Words *words)
{
  if (words->month < 0 || words->month > 12)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--month: is %d; give 1 to 12"), words->month);
  else if (words->members < 0 || words->members > MEMBERS_MAX)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--members: is %d; give 0 to %d"), words->members,
                          MEMBERS_MAX);
  else if (!(words->seconds > 0.0 && words->seconds <= SECONDS_MAX))
    dew_command_complain (DEW_EXIT_USAGE, _ ("--seconds: is %g; give more than 0, to %g"),
                          words->seconds, SECONDS_MAX);
  else
    return TRUE;
  return FALSE;
}

/* --- assign -------------------------------------------------------------- */

static DewAssignment *
assign (DewChamber *chamber, const DewVariant *variant, const Words *words, GError **error)
{
  g_autoptr (DewForecast) day = NULL;
  g_autoptr (DewForecast) night = NULL;
  DewForecastOptions options;
  DewAssignOptions how;

  read_words (words, chamber, &options);
  day = dew_forecast_new (chamber, variant->id, &options, NULL, error);
  if (day == NULL)
    return NULL;
  options.night = TRUE;
  night = dew_forecast_new (chamber, variant->id, &options, NULL, error);
  if (night == NULL)
    return NULL;
  dew_assign_options_init (&how);
  how.seconds = words->seconds;
  how.imperial = words->imperial;
  how.lookup = dew_catalogue_plant_kind;
  how.lookup_data = chamber;
  return dew_assign_new (chamber, variant->id, day, night, &how, NULL, error);
}

static int
assign_file (const char *path, const Words *words)
{
  g_autoptr (DewChamber) chamber = NULL;
  g_autoptr (DewAssignment) assignment = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  const DewVariant *variant;

  if (!check_words (words))
    return DEW_EXIT_USAGE;
  chamber = dew_command_load (path);
  if (chamber == NULL)
    return DEW_EXIT_NO;
  variant = dew_command_variant (chamber, words->variant);
  if (variant == NULL)
    return dew_command_complain (DEW_EXIT_NO,
                                 _ ("%s: there is no variant \"%s\"; see dewtier check %s"), path,
                                 words->variant, path);
  if (words->json)
    dew_command_speak_plainly ();
  assignment = assign (chamber, variant, words, &error);
  if (assignment == NULL)
    return dew_command_complain (DEW_EXIT_NO, "%s: %s", path, error->message);
  text = words->json ? dew_report_assign_json (path, chamber, variant, assignment)
                     : dew_report_assign_text (chamber, variant, assignment);
  return dew_command_say (text);
}

int
dew_command_assign (int argc, char **argv)
{
  Words words = { .members = DEW_BAND_MEMBERS, .seconds = 10.0 };
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &words.json,
      _ ("Answer in JSON, with the table of plants and places"), NULL },
    { "variant", 0, 0, G_OPTION_ARG_STRING, &words.variant,
      _ ("Another variant than the one shown"), _ ("NAME") },
    { "month", 0, 0, G_OPTION_ARG_INT, &words.month, _ ("Another month, January is 1"), "1..12" },
    { "draft", 0, 0, G_OPTION_ARG_NONE, &words.draft, _ ("By quick forecasts"), NULL },
    { "members", 0, 0, G_OPTION_ARG_INT, &words.members,
      _ ("Forecasts with other unknowns, for the bands; 0: without bands"), _ ("N") },
    { "seconds", 0, 0, G_OPTION_ARG_DOUBLE, &words.seconds,
      _ ("How long to look for a proof at most"), _ ("S") },
    { "imperial", 0, 0, G_OPTION_ARG_NONE, &words.imperial,
      _ ("Words in degrees Fahrenheit, inches and pounds"), NULL },
    { NULL },
  };
  int code;

  if (dew_command_parse (&argc, &argv, entries, _ ("FILE"),
                         _ ("Assigns the plants of a variant, and those wished for, to places."), 1,
                         1, &code))
    code = assign_file (argv[1], &words);
  g_free (words.variant);
  return code;
}

/* --- compare ------------------------------------------------------------- */

/* The shown variant first, or those that are named, in that order. Their number; 0 when
 * something was wrong and has been said. */
static int
choose_sides (const char *path, const DewChamber *chamber, int n_names, char **names,
              guint ids[DEW_COMPARE_SIDES_MAX])
{
  int n = 0;

  if (n_names == 0)
    ids[n++] = chamber->shown_variant;
  for (int i = 0; i < n_names; i++)
    {
      const DewVariant *variant = dew_command_variant (chamber, names[i]);

      if (variant == NULL)
        {
          dew_command_complain (DEW_EXIT_NO,
                                _ ("%s: there is no variant \"%s\"; see dewtier check %s"), path,
                                names[i], path);
          return 0;
        }
      ids[n++] = variant->id;
    }
  for (guint i = 0; n_names == 0 && i < chamber->variants->len && n < DEW_COMPARE_SIDES_MAX; i++)
    {
      guint id = g_array_index (chamber->variants, DewVariant, i).id;

      if (id != chamber->shown_variant)
        ids[n++] = id;
    }
  if (n < 2)
    {
      dew_command_complain (DEW_EXIT_NO,
                            _ ("%s: there is only one variant; duplicate it and change something "
                               "to have two to compare"),
                            path);
      return 0;
    }
  return n;
}

static int
compare_file (const char *path, int n_names, char **names, const Words *words)
{
  g_autoptr (DewChamber) chamber = NULL;
  g_autoptr (DewComparison) comparison = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  guint ids[DEW_COMPARE_SIDES_MAX];
  DewForecastOptions options;
  int n;

  if (!check_words (words))
    return DEW_EXIT_USAGE;
  chamber = dew_command_load (path);
  if (chamber == NULL)
    return DEW_EXIT_NO;
  n = choose_sides (path, chamber, n_names, names, ids);
  if (n == 0)
    return DEW_EXIT_NO;
  if (words->json)
    dew_command_speak_plainly ();
  read_words (words, chamber, &options);
  comparison = dew_compare_run (chamber, ids, n, &options, dew_catalogue_plant_kind, chamber,
                                words->imperial, NULL, &error);
  if (comparison == NULL)
    return dew_command_complain (DEW_EXIT_NO, "%s: %s", path, error->message);
  text = words->json ? dew_report_compare_json (path, chamber, comparison)
                     : dew_report_compare_text (chamber, comparison);
  return dew_command_say (text);
}

int
dew_command_compare (int argc, char **argv)
{
  Words words = { .members = DEW_BAND_MEMBERS, .seconds = 10.0 };
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &words.json, _ ("Answer in JSON, in SI units"), NULL },
    { "month", 0, 0, G_OPTION_ARG_INT, &words.month, _ ("Another month, January is 1"), "1..12" },
    { "draft", 0, 0, G_OPTION_ARG_NONE, &words.draft, _ ("By quick forecasts"), NULL },
    { "members", 0, 0, G_OPTION_ARG_INT, &words.members,
      _ ("Forecasts with other unknowns, for the bands; 0: without bands"), _ ("N") },
    { "imperial", 0, 0, G_OPTION_ARG_NONE, &words.imperial,
      _ ("Words in degrees Fahrenheit, inches and pounds"), NULL },
    { NULL },
  };
  int code;

  if (dew_command_parse (&argc, &argv, entries, _ ("FILE [VARIANT]..."),
                         _ ("Sets variants side by side, against the first: what gets better and "
                            "what gets worse."),
                         1, 1 + DEW_COMPARE_SIDES_MAX, &code))
    code = compare_file (argv[1], argc - 2, argv + 2, &words);
  return code;
}
