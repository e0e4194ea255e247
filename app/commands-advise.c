/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier advise: where the fan goes, how much water it takes, which lamp, whether to cut. */
#include "command-line.h"

#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

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

/* --- the questions ------------------------------------------------- */

static char *
ask_fan (const DewAsked *asked, const DewWeights *weights, GError **error)
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
  q.weights = *weights;
  q.candidates = asked->candidates;
  q.threads = asked->threads;
  q.members = asked->members > 0 ? asked->members : -1; /* 0: without bands */
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = asked->chamber;
  if (asked->walls)
    {
      q.by_mount = FALSE;
      q.stand = q.walls = TRUE;
    }
  if (!find_fan (asked->about.variant, asked->fan, &q.fan_id))
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ ("there is no fan \"%s\" in this variant"), asked->fan);
      return NULL;
    }
  advice = dew_fan_advise (asked->chamber, asked->about.variant->id, &q, NULL, error);
  if (advice == NULL)
    return NULL;
  return asked->json ? dew_report_fan_json (&asked->about, advice)
                     : dew_report_fan_text (&asked->about, advice);
}

static char *
ask_moisture (const DewAsked *asked, const DewWeights *weights, GError **error)
{
  g_autoptr (DewMoistureAdvice) advice = NULL;
  DewMoistureQuestion q;

  dew_moisture_question_init (&q);
  q.threads = asked->threads;
  q.members = asked->members > 0 ? asked->members : -1; /* 0: without bands */
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = asked->chamber;
  advice = dew_moisture_advise (asked->chamber, asked->about.variant->id, &q, NULL, error);
  if (advice == NULL)
    return NULL;
  return asked->json ? dew_report_moisture_json (&asked->about, advice)
                     : dew_report_moisture_text (&asked->about, advice);
}

static char *
ask_light (const DewAsked *asked, const DewWeights *weights, GError **error)
{
  g_autoptr (DewLightAdvice) advice = NULL;
  DewLightQuestion q;

  dew_light_question_init (&q);
  q.threads = asked->threads;
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = asked->chamber;
  advice = dew_light_advise (asked->chamber, asked->about.variant->id, &q, NULL, error);
  if (advice == NULL)
    return NULL;
  return asked->json ? dew_report_light_json (&asked->about, advice)
                     : dew_report_light_text (&asked->about, advice);
}

static char *
ask_cut (const DewAsked *asked, const DewWeights *weights, GError **error)
{
  g_autoptr (DewOpeningAdvice) advice = NULL;
  DewOpeningQuestion q;

  dew_opening_question_init (&q);
  q.weights = *weights;
  q.threads = asked->threads;
  q.members = asked->members > 0 ? asked->members : -1; /* 0: without bands */
  q.lookup = dew_catalogue_plant_kind;
  q.lookup_data = asked->chamber;
  advice = dew_opening_advise (asked->chamber, asked->about.variant->id, &q, NULL, error);
  if (advice == NULL)
    return NULL;
  return asked->json ? dew_report_openings_json (&asked->about, advice)
                     : dew_report_openings_text (&asked->about, advice);
}

static const struct
{
  const char *word;
  char *(*ask) (const DewAsked *asked, const DewWeights *weights, GError **error);
} questions[] = {
  { "fan", ask_fan },
  { "moisture", ask_moisture },
  { "light", ask_light },
  { "cut", ask_cut },
};

int
dew_command_advise (DewAsked *asked)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DewWeights weights;
  guint q = 0;

  while (q < G_N_ELEMENTS (questions) && strcmp (questions[q].word, asked->words[0]) != 0)
    q++;
  if (q == G_N_ELEMENTS (questions))
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("\"%s\" is no question; ask fan, moisture, light or cut"),
                                 asked->words[0]);
  dew_weights_init (&weights);
  if (asked->weights != NULL && !dew_weights_parse (asked->weights, &weights, &error))
    return dew_command_complain (DEW_EXIT_USAGE, "--weights: %s", error->message);
  if (!dew_command_open (asked, asked->words[1]))
    return DEW_EXIT_NO;
  text = questions[q].ask (asked, &weights, &error);
  return dew_command_answer (asked, text, error);
}
