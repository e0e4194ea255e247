/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier advise: where the fan goes, how much water it takes, whether to cut. */
#include "commands-private.h"

#include "report-advise.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

#define CANDIDATES_MAX 20000
#define THREADS_MAX 256

typedef struct
{
  gboolean json, imperial, walls;
  char *variant, *weights, *fan;
  int month, candidates, threads, members;
} Words;

/* FALSE when a word was wrong and has been said. */
static gboolean
check_words (const Words *words, DewWeights *weights)
{
  g_autoptr (GError) error = NULL;

  dew_weights_init (weights);
  if (words->month < 0 || words->month > 12)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--month: is %d; give 1 to 12"), words->month);
  else if (words->candidates < 0 || words->candidates > CANDIDATES_MAX)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--candidates: is %d; give 1 to %d"),
                          words->candidates, CANDIDATES_MAX);
  else if (words->threads < 0 || words->threads > THREADS_MAX)
    dew_command_complain (DEW_EXIT_USAGE, _ ("--threads: is %d; give 1 to %d"), words->threads,
                          THREADS_MAX);
  else if (words->weights != NULL && !dew_weights_parse (words->weights, weights, &error))
    dew_command_complain (DEW_EXIT_USAGE, "--weights: %s", error->message);
  else
    return TRUE;
  return FALSE;
}

/* The fan of that name; 0 and FALSE when there is none. */
static gboolean
find_fan (const DewVariant *variant, const char *name, guint *id)
{
  *id = 0;
  if (name == NULL)
    return TRUE;
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_FAN && strcmp (thing->name, name) == 0)
        *id = thing->id;
    }
  return *id != 0;
}

/* --- the three questions ------------------------------------------------- */

typedef struct
{
  const char *path;
  const Words *words;
  const DewWeights *weights;
  DewChamber *chamber;
  const DewVariant *variant;
} Ask;

static char *
ask_fan (const Ask *ask, GError **error)
{
  g_autoptr (DewFanAdvice) advice = NULL;
  const DewCatalogue *fans = dew_catalogue ("fans");
  int usual = dew_catalogue_find (fans, "axial 120 mm slow");
  DewFanQuestion q;
  DewThing typical;

  dew_fan_question_init (&q);
  dew_thing_init (&typical, DEW_THING_FAN);
  if (usual >= 0)
    dew_catalogue_apply_thing (fans, (guint) usual, &typical);
  q.typical = &typical.fan;
  q.weights = *ask->weights;
  q.candidates = ask->words->candidates;
  q.threads = ask->words->threads;
  q.members = ask->words->members;
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = ask->chamber;
  q.imperial = ask->words->imperial;
  if (ask->words->walls)
    {
      q.by_mount = FALSE;
      q.stand = q.walls = TRUE;
    }
  if (!find_fan (ask->variant, ask->words->fan, &q.fan_id))
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ ("there is no fan \"%s\" in this variant"), ask->words->fan);
      return NULL;
    }
  advice = dew_fan_advise (ask->chamber, ask->variant->id, &q, NULL, error);
  if (advice == NULL)
    return NULL;
  return ask->words->json ? dew_report_fan_json (ask->path, ask->chamber, ask->variant, advice)
                          : dew_report_fan_text (ask->variant, advice);
}

static char *
ask_moisture (const Ask *ask, GError **error)
{
  g_autoptr (DewMoistureAdvice) advice = NULL;
  DewMoistureQuestion q;

  dew_moisture_question_init (&q);
  q.threads = ask->words->threads;
  q.members = ask->words->members;
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = ask->chamber;
  q.imperial = ask->words->imperial;
  advice = dew_moisture_advise (ask->chamber, ask->variant->id, &q, NULL, error);
  if (advice == NULL)
    return NULL;
  return ask->words->json ? dew_report_moisture_json (ask->path, ask->chamber, ask->variant, advice)
                          : dew_report_moisture_text (ask->variant, advice);
}

static char *
ask_cut (const Ask *ask, GError **error)
{
  g_autoptr (DewOpeningAdvice) advice = NULL;
  DewOpeningQuestion q;

  dew_opening_question_init (&q);
  q.weights = *ask->weights;
  q.threads = ask->words->threads;
  q.members = ask->words->members;
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = ask->chamber;
  q.imperial = ask->words->imperial;
  advice = dew_opening_advise (ask->chamber, ask->variant->id, &q, NULL, error);
  if (advice == NULL)
    return NULL;
  return ask->words->json ? dew_report_openings_json (ask->path, ask->chamber, ask->variant, advice)
                          : dew_report_openings_text (ask->variant, advice);
}

static const struct
{
  const char *word;
  char *(*ask) (const Ask *ask, GError **error);
} questions[] = {
  { "fan", ask_fan },
  { "moisture", ask_moisture },
  { "cut", ask_cut },
};

static int
advise_file (const char *question, const char *path, const Words *words)
{
  g_autoptr (DewChamber) chamber = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewWeights weights;
  Ask ask = { path, words, &weights, NULL, NULL };
  guint q = 0;

  while (q < G_N_ELEMENTS (questions) && strcmp (questions[q].word, question) != 0)
    q++;
  if (q == G_N_ELEMENTS (questions))
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("\"%s\" is no question; ask fan, moisture or cut"), question);
  if (!check_words (words, &weights))
    return DEW_EXIT_USAGE;
  chamber = dew_command_load (path);
  if (chamber == NULL)
    return DEW_EXIT_NO;
  if (words->month != 0)
    chamber->month = words->month - 1;
  ask.chamber = chamber;
  ask.variant = dew_command_variant (chamber, words->variant);
  if (ask.variant == NULL)
    return dew_command_complain (DEW_EXIT_NO,
                                 _ ("%s: there is no variant \"%s\"; see dewtier check %s"), path,
                                 words->variant, path);
  if (words->json)
    dew_command_speak_plainly ();
  text = questions[q].ask (&ask, &error);
  if (text == NULL)
    return dew_command_complain (DEW_EXIT_NO, "%s: %s", path, error->message);
  return dew_command_say (text);
}

int
dew_command_advise (int argc, char **argv)
{
  Words words = { 0 };
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &words.json, _ ("Answer in JSON, in SI units"), NULL },
    { "variant", 0, 0, G_OPTION_ARG_STRING, &words.variant,
      _ ("Another variant than the one shown"), _ ("NAME") },
    { "month", 0, 0, G_OPTION_ARG_INT, &words.month, _ ("Another month, January is 1"), "1..12" },
    { "fan", 0, 0, G_OPTION_ARG_STRING, &words.fan, _ ("Which fan, where there are several"),
      _ ("NAME") },
    { "walls", 0, 0, G_OPTION_ARG_NONE, &words.walls,
      _ ("Also try the fan in the walls, and inside"), NULL },
    { "candidates", 0, 0, G_OPTION_ARG_INT, &words.candidates,
      _ ("How many places of the fan to try, about"), _ ("N") },
    { "weights", 0, 0, G_OPTION_ARG_STRING, &words.weights,
      _ ("What counts how much: humid, warmth, even, fresh, dry, gentle, water, quiet; day: share "
         "of the day"),
      "even=2,water=1" },
    { "members", 0, 0, G_OPTION_ARG_INT, &words.members,
      _ ("Forecasts with other unknowns, for the bands; -1: without bands"), _ ("N") },
    { "threads", 0, 0, G_OPTION_ARG_INT, &words.threads, _ ("Processors to use at most"), _ ("N") },
    { "imperial", 0, 0, G_OPTION_ARG_NONE, &words.imperial,
      _ ("Words in degrees Fahrenheit, inches and quarts"), NULL },
    { NULL },
  };
  int code;

  if (dew_command_parse (
        &argc, &argv, entries, _ ("fan|moisture|cut FILE"),
        _ ("Advises where the fan goes, how much water it takes, whether to cut the cover."), 2, 2,
        &code))
    code = advise_file (argv[1], argv[2], &words);
  g_free (words.variant);
  g_free (words.weights);
  g_free (words.fan);
  return code;
}
