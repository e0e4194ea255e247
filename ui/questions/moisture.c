/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much water does it take? */
#include "questions/question.h"

#include "advice/moisture/moisture.h"
#include "document/tongue.h"
#include "questions/curve.h"
#include "say/moisture.h"
#include "say/wants.h"
#include "say/where.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <math.h>

/* An answer is a point of one of the curves. */
#define ANSWER(sizing, point) ((sizing) *1000 + (point))
#define ANSWER_SIZING(answer) ((DewSizing) ((answer) / 1000))
#define ANSWER_POINT(answer) ((answer) % 1000)
#define HUMIDISTAT ANSWER (DEW_N_SIZINGS, 0)

static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  const DewAskInput *input = data;
  DewMoistureQuestion question;

  dew_moisture_question_init (&question);
  question.lookup = dew_catalogue_plant_kind;
  question.lookup_data = input->chamber;
  question.progress = dew_errand_count;
  question.progress_data = run;
  return dew_moisture_advise (input->chamber, 0, &question, cancellable, error);
}

static void
free_result (gpointer advice)
{
  dew_moisture_advice_free (advice);
}

/* --- words -------------------------------------------------------------------- */

static char *
water_words (double kg_day)
{
  g_autofree char *water = dew_measure_text (DEW_MEASURE_DAY_WATER, dew_tongue (), kg_day);

  /* Translators: an amount of water with its unit. */
  return g_strdup_printf (_ ("%s of water a day."), water);
}

static char *
hold_words (const DewSizingCurve *curve, int index)
{
  const DewSizingPoint *point = &g_array_index (curve->points, DewSizingPoint, index);

  if (point->holds && index == curve->least && !curve->sure)
    return g_strdup_printf (ngettext ("Holds what is wanted, but by less than its band of ± %.0f "
                                      "point.",
                                      "Holds what is wanted, but by less than its band of ± %.0f "
                                      "points.",
                                      (gulong) lround (100.0 * curve->band_rh)),
                            100.0 * curve->band_rh);
  if (point->holds)
    return g_strdup (_ ("Holds what is wanted on every shelf."));
  return g_strdup_printf (ngettext ("Misses what is wanted by %.0f point over all shelves.",
                                    "Misses what is wanted by %.0f points over all shelves.",
                                    (gulong) lround (point->miss)),
                          point->miss);
}

/* Where the pots would stand. */
static void
add_pots (GtkBox *box, const DewMoistureAdvice *advice, const DewSizingPoint *point)
{
  for (int bay = advice->n_bays - 1; point->pots != NULL && bay >= 0; bay--)
    {
      g_autofree char *shelf = NULL, *line = NULL;

      if (point->pots[bay] == 0)
        continue;
      shelf = dew_shelf_called (advice->bay_names[bay], advice->bay_shelves[bay]);
      /* Translators: name of a bay, and how many pots stand in it. */
      line = g_strdup_printf (_ ("%s: %d"), shelf, point->pots[bay]);
      dew_add_words (box, line, "figure");
    }
}

/* --- the answers ----------------------------------------------------------------- */

static void
add_answer (GtkWidget *list, const DewMoistureAdvice *advice, DewSizing sizing, int index)
{
  const DewSizingCurve *curve = &advice->curves[sizing];
  const DewSizingPoint *point = &g_array_index (curve->points, DewSizingPoint, index);
  g_autofree char *title = dew_ask_sizing_title (sizing, point->x);
  g_autofree char *water = water_words (point->water_kg_day);
  g_autofree char *holds = hold_words (curve, index);
  GtkBox *box = dew_ask_list_add (list, ANSWER (sizing, index), 0, title);

  add_pots (box, advice, point);
  dew_add_words (box, holds, "soft");
  dew_add_words (box, water, "soft");
}

static void
add_humidistat (GtkWidget *list, const DewMoistureAdvice *advice)
{
  g_autofree char *title
    = g_strdup_printf (_ ("A humidistat at %.0f %%"), 100.0 * advice->humidistat.set_rh);
  g_auto (GStrv) words = dew_humidistat_words (advice, dew_tongue ());
  GtkBox *box = dew_ask_list_add (list, HUMIDISTAT, 0, title);

  for (int w = 0; words[w] != NULL; w++)
    dew_add_words (box, words[w], "soft");
}

static void
add_sizing (DewAsk *ask, const DewMoistureAdvice *advice, DewSizing sizing)
{
  const DewSizingCurve *curve = &advice->curves[sizing];
  GtkBox *body = GTK_BOX (dew_ask_body (ask));
  g_autofree char *words = dew_sizing_words (advice, sizing, dew_tongue ());
  GtkWidget *list;

  if (words == NULL)
    return;
  dew_ask_tell (ask, dew_sizing_name (sizing), "group-title");
  dew_ask_tell (ask, words, NULL);
  if (!curve->possible || curve->points == NULL || curve->points->len < 2)
    return;
  gtk_box_append (body, dew_ask_curve_new (advice, sizing));
  list = dew_ask_list_new (ask, dew_sizing_name (sizing));
  gtk_box_append (body, list);
  if (curve->least >= 0)
    add_answer (list, advice, sizing, curve->least);
  if (curve->knee >= 0 && curve->knee != curve->least)
    add_answer (list, advice, sizing, curve->knee);
  if (sizing == DEW_SIZING_HUMIDIFIER && advice->humidistat.possible)
    add_humidistat (list, advice);
}

static void
show (DewAsk *ask, gpointer result, gboolean final)
{
  const DewMoistureAdvice *advice = result;
  g_auto (GStrv) contradictions = dew_wants_contradictions (advice->wants, dew_tongue ());
  g_autofree char *without = dew_sizing_without_words (advice, dew_tongue ());
  g_autofree char *caution
    = dew_moisture_caution (advice, dew_document_variant (dew_ask_document (ask)));
  g_autofree char *said = NULL;

  /* Whom no water suits comes first: it decides more than the water does. */
  for (guint i = 0; contradictions[i] != NULL; i++)
    dew_ask_tell (ask, contradictions[i], "verdict");
  if (without != NULL)
    {
      dew_ask_tell (ask, _ ("And without the humidifier?"), "group-title");
      dew_ask_tell (ask, without, NULL);
    }
  for (int i = 0; i < DEW_N_SIZINGS; i++)
    add_sizing (ask, advice, (DewSizing) i);
  if (caution != NULL)
    dew_ask_tell (ask, caution, "soft");
  if (advice->wants->usual)
    dew_ask_tell (ask,
                  _ ("No plant of a known kind stands here, so the usual "
                     "band of cool growers is meant."),
                  "foot");
  said = g_strdup_printf (_ ("Point at a row to see it on the sheet. A click takes it. The lines "
                             "are the drier of day and night on each shelf, on coarse zones but "
                             "for the answer; the grey band is what all shelves want. Worked out "
                             "in %.1f s."),
                          advice->seconds);
  dew_ask_say (ask, said);
}

/* No forecast of it is at hand: the sheet follows to it. */
static gboolean
apply (DewAsk *ask, int answer, DewChamber *chamber, gboolean night, DewForecast **forecast)
{
  if (answer == HUMIDISTAT)
    return dew_moisture_apply_humidistat (chamber, chamber->shown_variant, dew_ask_result (ask));
  dew_moisture_apply (chamber, chamber->shown_variant, dew_ask_result (ask), ANSWER_SIZING (answer),
                      ANSWER_POINT (answer));
  return TRUE;
}

const DewQuestion dew_question_moisture = {
  .action = "win.ask-moisture",
  .title = N_ ("How much water does it take?"),
  .purpose = N_ ("The fewest wet pots, the smallest humidifier and what to set it to, and how "
                 "far to open, so that every shelf stays as humid as its plants want."),
  .busy = N_ ("Trying pots, humidifiers and openings"),
  .step = N_ ("Set pots and humidifier as advised"),
  .work = work,
  .free_result = free_result,
  .show = show,
  .apply = apply,
};
