/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which lamp, how high, how long? */
#include "questions/question.h"

#include "advice/light/light.h"
#include "document/tongue.h"
#include "say/light.h"
#include "widgets/fold.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

/* Answers: lit by day, and lit in the room's night. */
#define BY_DAY 0
#define BY_NIGHT 1

static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  const DewAskInput *input = data;
  DewLightQuestion question;

  dew_light_question_init (&question);
  question.lookup = dew_catalogue_plant_kind;
  question.lookup_data = input->chamber;
  question.progress = dew_errand_count;
  question.progress_data = run;
  return dew_light_advise (input->chamber, 0, &question, cancellable, error);
}

static void
free_result (gpointer advice)
{
  dew_light_advice_free (advice);
}

static void
add_lines (GtkBox *box, const DewLightAdvice *advice)
{
  for (int n = advice->n_bays - 1; n >= 0; n--)
    {
      g_autofree char *shelf = dew_light_shelf (&advice->bays[n]);
      g_autofree char *words = dew_light_bay_words (&advice->bays[n], dew_tongue ());

      dew_add_words (box, shelf, "figure");
      dew_add_words (box, words, "soft");
    }
}

static GtkWidget *
figures_new (const DewLightAdvice *advice)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  for (int n = advice->n_bays - 1; n >= 0; n--)
    {
      g_autofree char *shelf = dew_light_shelf (&advice->bays[n]);
      g_auto (GStrv) figures = dew_light_bay_figures (advice, n, dew_tongue ());

      dew_add_words (GTK_BOX (box), shelf, "figure");
      for (int f = 0; figures[f] != NULL; f++)
        dew_add_words (GTK_BOX (box), figures[f], "soft");
    }
  return box;
}

static void
show (DewAsk *ask, gpointer result, gboolean final)
{
  const DewLightAdvice *advice = result;
  GtkBox *body = GTK_BOX (dew_ask_body (ask));
  g_autofree char *verdict = dew_light_verdict (advice, dew_tongue ());
  g_autofree char *warmth = dew_light_warmth_words (advice, dew_tongue ());
  g_autofree char *power = dew_light_power_words (advice);
  g_autofree char *said = NULL;
  g_auto (GStrv) cautions = dew_light_cautions (advice);
  GtkWidget *list = dew_ask_list_new (ask, _ ("Lamps and hours"));

  dew_ask_tell (ask, verdict, "verdict");
  gtk_box_append (body, list);
  if (advice->change)
    add_lines (dew_ask_list_add (list, BY_DAY, 0, _ ("Lamps as advised, lit by day")), advice);
  if (advice->change && advice->night_better)
    dew_add_words (dew_ask_list_add (list, BY_NIGHT, 0,
                                     _ ("The same lamps, lit in the room's night")),
                   _ ("The plants' day is then the room's night."), "soft");
  dew_ask_tell (ask, warmth, NULL);
  dew_ask_tell (ask, power, NULL);
  for (int c = 0; cautions[c] != NULL; c++)
    dew_ask_tell (ask, cautions[c], "soft");
  gtk_box_append (body, dew_fold_new (_ ("Light on each shelf"), figures_new (advice)));
  if (advice->change)
    dew_ask_tell (ask, _ ("Point at one to see it on the sheet. A click takes it."), "foot");
  said = g_strdup_printf (_ ("Worked out in %.1f s."), advice->seconds);
  dew_ask_say (ask, said);
}

static gboolean
apply (DewAsk *ask, int answer, DewChamber *chamber, gboolean night, DewForecast **forecast)
{
  dew_light_apply (chamber, chamber->shown_variant, dew_ask_result (ask), answer == BY_NIGHT);
  return TRUE;
}

const DewQuestion dew_question_light = {
  .action = "win.ask-light",
  .title = N_ ("Which lamp, how high, how long?"),
  .purpose = N_ ("Light of lamps and of the day at each plant against what it wants, and what the "
                 "lamps do to the warmth by day and by night."),
  .busy = N_ ("Trying lamps, heights and hours"),
  .step = N_ ("Light as advised"),
  .work = work,
  .free_result = free_result,
  .show = show,
  .apply = apply,
};
