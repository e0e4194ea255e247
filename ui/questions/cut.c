/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cut or not? */
#include "questions/ask.h"

#include "advice/openings/openings.h"
#include "document/tongue.h"
#include "paint/palette.h"
#include "questions/frame.h"
#include "questions/weights.h"
#include "widgets/fold.h"
#include "widgets/names.h"

#include <glib/gi18n.h>
#include <math.h>

/* So many ways are shown before the rest is folded away. */
#define MOST_SHOWN 4

typedef struct
{
  DewChamber *chamber;
  DewOpeningQuestion question;
  DewErrandRun *run;
} Input;

typedef struct
{
  DewAsk *ask;
  DewWeights weights;
  GtkWidget *verdict, *list, *fold, *more, *hint;
} CutPane;

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
  return dew_opening_advise (input->chamber, 0, &input->question, cancellable, error);
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
  dew_opening_advice_free (data);
}

static gpointer
prepare (DewAsk *ask, gpointer pane, char **why)
{
  CutPane *self = pane;
  Input *input = g_new0 (Input, 1);

  input->chamber = dew_chamber_copy (dew_ask_base (ask));
  dew_opening_question_init (&input->question);
  input->question.weights = self->weights;
  input->question.imperial = dew_tongue ();
  input->question.lookup = dew_catalogue_plant_kind;
  input->question.lookup_data = input->chamber;
  input->question.progress = on_progress;
  input->question.progress_data = input;
  return input;
}

/* --- the table of an option --------------------------------------------------- */

/* What changes in each bay: humid, warm, air. */
static GtkWidget *
bays_new (const GArray *bays)
{
  static const struct
  {
    const char *heading;
    DewValue value;
  } columns[] = {
    /* Translators: headings of a small table of changes in each bay. */
    { NC_ ("column", "humid"), DEW_VALUE_RH },
    { NC_ ("column", "warm"), DEW_VALUE_TEMPERATURE },
    { NC_ ("column", "air"), DEW_VALUE_SPEED },
  };
  GtkWidget *grid = gtk_grid_new ();
  DewTongue tongue = dew_tongue ();
  int n = (int) bays->len;

  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  gtk_widget_add_css_class (grid, "changes");
  for (guint k = 0; k < G_N_ELEMENTS (columns); k++)
    {
      g_autofree char *heading
        = g_strdup_printf ("%s\n%s", g_dpgettext2 (NULL, "column", columns[k].heading),
                           dew_value_unit (columns[k].value, tongue));
      GtkWidget *label = gtk_label_new (heading);

      gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_RIGHT);
      gtk_widget_add_css_class (label, "heading-soft");
      gtk_label_set_xalign (GTK_LABEL (label), 1.0f);
      gtk_widget_set_hexpand (label, TRUE);
      gtk_grid_attach (GTK_GRID (grid), label, (int) k + 1, 0, 1, 1);
    }
  for (int i = n - 1; i >= 0; i--)
    {
      const DewBayChange *change = &g_array_index (bays, DewBayChange, i);
      const double deltas[] = { change->d_rh, change->d_t_K, change->d_speed_m_s };
      GtkWidget *name = gtk_label_new (change->name);

      gtk_label_set_xalign (GTK_LABEL (name), 0.0f);
      gtk_grid_attach (GTK_GRID (grid), name, 0, n - i, 1, 1);
      for (guint k = 0; k < G_N_ELEMENTS (columns); k++)
        {
          const DewUnit *unit = dew_unit (dew_value_measure (columns[k].value), tongue);
          double user = deltas[k] * unit->factor;
          int digits = unit->decimals;
          /* Translators: of a number: not changed. */
          g_autofree char *text = fabs (user) < 0.5 * pow (10.0, -digits)
                                    ? g_strdup (_ ("same"))
                                    : dew_ask_signed (user, digits);
          GtkWidget *cell = gtk_label_new (text);

          gtk_label_set_xalign (GTK_LABEL (cell), 1.0f);
          gtk_widget_add_css_class (cell, "figure");
          gtk_grid_attach (GTK_GRID (grid), cell, (int) k + 1, n - i, 1, 1);
        }
    }
  return grid;
}

static GtkWidget *
words_new (const DewOpeningOption *option)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *gain = NULL;

  if (!option->forecast)
    {
      gtk_box_append (GTK_BOX (box), dew_ask_label_new (option->trouble, "soft"));
      return box;
    }
  if (option->drawn)
    return box;
  gain = dew_ask_gain_text (option->gain, option->band);
  if (!option->whole)
    gtk_box_append (GTK_BOX (box),
                    dew_ask_label_new (option->reversible ? _ ("Can be undone.")
                                                          : _ ("A cut: cannot be undone."),
                                       option->reversible ? "soft" : "off-wish"));
  gtk_box_append (GTK_BOX (box), dew_ask_label_new (gain, "figure"));
  dew_ask_add_lines (GTK_BOX (box), option->words, "soft");
  if (option->bays != NULL && option->bays->len > 0)
    gtk_box_append (GTK_BOX (box), bays_new (option->bays));
  return box;
}

/* --- the answers ------------------------------------------------------------------ */

static void
show (DewAsk *ask, gpointer result, gboolean final, gpointer pane)
{
  CutPane *self = pane;
  const DewOpeningAdvice *advice = result;
  g_autofree char *said = NULL;

  dew_ask_list_clear (self->list);
  dew_ask_list_clear (self->more);
  gtk_widget_set_visible (self->fold, advice != NULL && advice->n_options > MOST_SHOWN);
  gtk_widget_set_visible (self->verdict, advice != NULL);
  gtk_widget_set_visible (self->hint, advice != NULL);
  if (advice == NULL)
    return;
  gtk_label_set_text (GTK_LABEL (self->verdict), advice->verdict);
  for (int i = 0; i < advice->n_options; i++)
    {
      int option = advice->order[i];

      dew_ask_list_add (i < MOST_SHOWN ? self->list : self->more, option, 0,
                        advice->options[option].title, words_new (&advice->options[option]));
    }
  said = g_strdup_printf (ngettext ("Tried %d way in %.1f s.", "Tried %d ways in %.1f s.",
                                    (gulong) advice->n_options),
                          advice->n_options, advice->seconds);
  dew_ask_say (ask, said);
}

static DewChamber *
layout (DewAsk *ask, int answer, gboolean night, DewForecast **forecast, gpointer pane)
{
  const DewOpeningAdvice *advice = dew_ask_result (ask);
  const DewOpeningOption *option;
  DewChamber *chamber;

  if (advice == NULL || answer >= advice->n_options)
    return NULL;
  option = &advice->options[answer];
  if (!option->forecast)
    return NULL;
  chamber = dew_chamber_copy (dew_ask_base (ask));
  dew_opening_apply (chamber, chamber->shown_variant, option);
  *forecast = night && option->night != NULL ? option->night : option->day;
  return chamber;
}

static const DewAskKind kind = {
  .title = N_ ("Cut or not?"),
  .purpose = N_ ("The cover kept whole against openings low and high, before any cut is made: what "
                 "can be undone first."),
  .busy = N_ ("Trying openings"),
  .step = N_ ("Open as advised"),
  .prepare = prepare,
  .work = work,
  .free_input = input_free,
  .free_result = result_free,
  .show = show,
  .layout = layout,
};

static void
on_weights (gpointer data)
{
  CutPane *self = data;

  dew_ask_again (self->ask);
}

GtkWidget *
dew_ask_cut_new (DewDocument *document)
{
  CutPane *self = g_new0 (CutPane, 1);
  GtkWidget *frame = dew_ask_new (document, &kind, self, g_free);
  GtkBox *body;

  dew_weights_init (&self->weights);
  self->ask = dew_ask_of (frame);
  body = dew_ask_body (self->ask);
  gtk_box_append (dew_ask_head (self->ask), dew_ask_weights_new (&self->weights, on_weights, self));
  self->verdict = dew_ask_label_new ("", "verdict");
  self->list = dew_ask_list_new (self->ask, _ ("Openings, the best first"));
  self->hint = dew_ask_label_new (_ ("Point at one to see it on the sheet. A click takes it into "
                                     "the drawing; nothing is cut yet."),
                                  "foot");
  gtk_box_append (body, self->verdict);
  self->more = dew_ask_list_new (self->ask, _ ("Other openings, the best first"));
  self->fold = dew_fold_new (_ ("Other ways"), self->more);
  gtk_box_append (body, self->list);
  gtk_box_append (body, self->fold);
  gtk_box_append (body, self->hint);
  show (self->ask, NULL, FALSE, self);
  return frame;
}
