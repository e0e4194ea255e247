/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much water does it take? */
#include "questions/ask.h"

#include "advice/moisture/moisture.h"
#include "document/tongue.h"
#include "questions/curve.h"
#include "questions/frame.h"

#include <glib/gi18n.h>
#include <math.h>

/* An answer is a point of one of the curves. */
#define ANSWER(sizing, point) ((sizing) *1000 + (point))
#define ANSWER_SIZING(answer) ((DewSizing) ((answer) / 1000))
#define ANSWER_POINT(answer) ((answer) % 1000)

typedef struct
{
  DewChamber *chamber;
  DewMoistureQuestion question;
  DewErrandRun *run;
} Input;

typedef struct
{
  DewAsk *ask;
  GtkWidget *answers; /* all there is to show */
  GtkWidget *lists[DEW_N_SIZINGS];
} MoisturePane;

/* --- the work, in its thread ------------------------------------------------ */

static void
on_progress (int done, int total, gpointer data)
{
  Input *input = data;

  dew_errand_report (input->run, total > 0 ? (double) done / total : 0.0, NULL);
}

static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  Input *input = data;

  input->run = run;
  return dew_moisture_advise (input->chamber, 0, &input->question, cancellable, error);
}

static void
input_free (gpointer data)
{
  Input *input = data;

  dew_chamber_free (input->chamber);
  g_free (input);
}

static void
result_free (gpointer data)
{
  dew_moisture_advice_free (data);
}

static gpointer
prepare (DewAsk *ask, gpointer pane, char **why)
{
  Input *input = g_new0 (Input, 1);

  input->chamber = dew_chamber_copy (dew_ask_base (ask));
  dew_moisture_question_init (&input->question);
  input->question.imperial = dew_tongue ();
  input->question.lookup = dew_catalogue_plant_kind;
  input->question.lookup_data = input->chamber;
  input->question.progress = on_progress;
  input->question.progress_data = input;
  return input;
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
    return g_strdup (_ ("Holds what is wanted in every bay."));
  return g_strdup_printf (ngettext ("Misses what is wanted by %.0f point over all bays.",
                                    "Misses what is wanted by %.0f points over all bays.",
                                    (gulong) lround (point->miss)),
                          point->miss);
}

/* Where the pots would stand. */
static void
add_pots (GtkBox *box, const DewMoistureAdvice *advice, const DewSizingPoint *point)
{
  for (int bay = advice->n_bays - 1; point->pots != NULL && bay >= 0; bay--)
    {
      g_autofree char *line = NULL;

      if (point->pots[bay] == 0)
        continue;
      /* Translators: name of a bay, and how many pots stand in it. */
      line = g_strdup_printf (_ ("%s: %d"), advice->bay_names[bay], point->pots[bay]);
      gtk_box_append (box, dew_ask_label_new (line, "figure"));
    }
}

static GtkWidget *
point_new (const DewMoistureAdvice *advice, DewSizing sizing, int index)
{
  const DewSizingCurve *curve = &advice->curves[sizing];
  const DewSizingPoint *point = &g_array_index (curve->points, DewSizingPoint, index);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *water = water_words (point->water_kg_day);
  g_autofree char *holds = hold_words (curve, index);

  add_pots (GTK_BOX (box), advice, point);
  gtk_box_append (GTK_BOX (box), dew_ask_label_new (holds, "soft"));
  gtk_box_append (GTK_BOX (box), dew_ask_label_new (water, "soft"));
  return box;
}

/* --- the answers ----------------------------------------------------------------- */

static void
add_answer (MoisturePane *self, const DewMoistureAdvice *advice, DewSizing sizing, int index)
{
  const DewSizingCurve *curve = &advice->curves[sizing];
  const DewSizingPoint *point = &g_array_index (curve->points, DewSizingPoint, index);
  g_autofree char *title = dew_ask_sizing_title (sizing, point->x);

  dew_ask_list_add (self->lists[sizing], ANSWER (sizing, index), 0, title,
                    point_new (advice, sizing, index));
}

static void
add_sizing (MoisturePane *self, const DewMoistureAdvice *advice, DewSizing sizing)
{
  const DewSizingCurve *curve = &advice->curves[sizing];
  GtkBox *box = GTK_BOX (self->answers);

  if (curve->words == NULL && !curve->possible)
    return;
  gtk_box_append (box, dew_ask_label_new (_ (dew_sizing_name (sizing)), "group-title"));
  if (curve->words != NULL)
    gtk_box_append (box, dew_ask_label_new (curve->words, NULL));
  if (!curve->possible || curve->points == NULL || curve->points->len < 2)
    return;
  gtk_box_append (box, dew_ask_curve_new (advice, sizing));
  /* Hours of light are no part of the drawing, so there is nothing to take. */
  if (sizing == DEW_SIZING_LAMP)
    return;
  gtk_box_append (box, self->lists[sizing]);
  if (curve->least >= 0)
    add_answer (self, advice, sizing, curve->least);
  if (curve->knee >= 0 && curve->knee != curve->least)
    add_answer (self, advice, sizing, curve->knee);
}

static void
add_without (MoisturePane *self, const DewMoistureAdvice *advice)
{
  GtkBox *box = GTK_BOX (self->answers);

  if (advice->without_words == NULL)
    return;
  gtk_box_append (box, dew_ask_label_new (_ ("And without the humidifier?"), "group-title"));
  gtk_box_append (box, dew_ask_label_new (advice->without_words, NULL));
}

static void
show (DewAsk *ask, gpointer result, gboolean final, gpointer pane)
{
  MoisturePane *self = pane;
  const DewMoistureAdvice *advice = result;
  g_autofree char *said = NULL;

  for (int i = 0; i < DEW_N_SIZINGS; i++)
    dew_ask_list_clear (self->lists[i]);
  dew_ask_empty_box (GTK_BOX (self->answers));
  if (advice == NULL)
    return;
  add_without (self, advice);
  for (int i = 0; i < DEW_N_SIZINGS; i++)
    add_sizing (self, advice, (DewSizing) i);
  for (guint i = 0; advice->wants != NULL && advice->wants->contradictions != NULL
                    && advice->wants->contradictions[i] != NULL;
       i++)
    gtk_box_append (GTK_BOX (self->answers),
                    dew_ask_label_new (advice->wants->contradictions[i], "soft"));
  if (advice->wants != NULL && advice->wants->usual)
    gtk_box_append (GTK_BOX (self->answers),
                    dew_ask_label_new (_ ("No plant of a known kind stands here, so the usual "
                                          "band of cool growers is meant."),
                                       "foot"));
  said = g_strdup_printf (_ ("Point at a row to see it on the sheet. A click takes it. The lines "
                             "are the drier of day and night in each bay; the grey band is what "
                             "all bays want. Worked out in %.1f s."),
                          advice->seconds);
  dew_ask_say (ask, said);
}

static DewChamber *
layout (DewAsk *ask, int answer, gboolean night, DewForecast **forecast, gpointer pane)
{
  const DewMoistureAdvice *advice = dew_ask_result (ask);
  DewChamber *chamber;

  if (advice == NULL)
    return NULL;
  chamber = dew_chamber_copy (dew_ask_base (ask));
  /* No forecast of it is at hand: the sheet follows to it. */
  if (dew_moisture_apply (chamber, chamber->shown_variant, advice, ANSWER_SIZING (answer),
                          ANSWER_POINT (answer)))
    return chamber;
  dew_chamber_free (chamber);
  return NULL;
}

static const DewAskKind kind = {
  .title = N_ ("How much water does it take?"),
  .purpose = N_ ("The fewest wet pots, the smallest humidifier, and how far to open, so that "
                 "every bay stays as humid as its plants want."),
  .busy = N_ ("Trying pots, humidifiers and openings"),
  .step = N_ ("Water as advised"),
  .prepare = prepare,
  .work = work,
  .free_input = input_free,
  .free_result = result_free,
  .show = show,
  .layout = layout,
};

static void
pane_free (gpointer data)
{
  MoisturePane *self = data;

  for (int i = 0; i < DEW_N_SIZINGS; i++)
    g_object_unref (self->lists[i]);
  g_free (self);
}

GtkWidget *
dew_ask_moisture_new (DewDocument *document)
{
  MoisturePane *self = g_new0 (MoisturePane, 1);
  GtkWidget *frame = dew_ask_new (document, &kind, self, pane_free);

  self->ask = dew_ask_of (frame);
  self->answers = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_box_append (dew_ask_body (self->ask), self->answers);
  /* Kept: they come and go with what there is to show. */
  for (int i = 0; i < DEW_N_SIZINGS; i++)
    self->lists[i]
      = g_object_ref_sink (dew_ask_list_new (self->ask, _ (dew_sizing_name ((DewSizing) i))));
  return frame;
}
