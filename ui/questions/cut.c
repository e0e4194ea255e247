/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cut or not? */
#include "questions/question.h"

#include "advice/openings/openings.h"
#include "document/tongue.h"
#include "paint/palette.h"
#include "widgets/fold.h"
#include "say/changes.h"
#include "say/openings.h"
#include "say/where.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <math.h>

/* So many ways are shown before the rest is folded away. */
#define MOST_SHOWN 4

static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  const DewAskInput *input = data;
  DewOpeningQuestion question;

  dew_opening_question_init (&question);
  question.weights = input->weights;
  question.lookup = dew_catalogue_plant_kind;
  question.lookup_data = input->chamber;
  question.progress = dew_errand_count;
  question.progress_data = run;
  return dew_opening_advise (input->chamber, 0, &question, cancellable, error);
}

static void
free_result (gpointer advice)
{
  dew_opening_advice_free (advice);
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
      g_autofree char *shelf = dew_shelf_called (change->name, change->shelf);
      GtkWidget *name = gtk_label_new (shelf);

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

static void
add_words (GtkBox *box, const DewOpeningOption *option)
{
  g_autofree char *gain = NULL, *stale = NULL;
  g_auto (GStrv) words = NULL;

  if (!option->forecast)
    {
      dew_add_words (box, dew_opening_trouble (option), "soft");
      return;
    }
  if (option->plan == DEW_PLAN_AS_DRAWN)
    return;
  gain = dew_ask_gain_text (option->gain, option->band);
  if (option->plan != DEW_PLAN_WHOLE && option->reversible)
    dew_add_words (box, _ ("Can be undone."), "soft");
  else if (option->plan != DEW_PLAN_WHOLE)
    dew_add_words (box, _ ("A cut: cannot be undone."), "off-wish");
  dew_add_words (box, gain, "figure");
  stale = dew_opening_stale_words (option);
  if (stale != NULL)
    dew_add_words (box, stale, "off-wish");
  words = dew_trade_offs_words (option->changes, dew_tongue ());
  for (guint i = 0; words[i] != NULL; i++)
    dew_add_words (box, words[i], "soft");
  if (option->bays != NULL && option->bays->len > 0)
    gtk_box_append (box, bays_new (option->bays));
}

/* --- the answers ------------------------------------------------------------------ */

static void
show (DewAsk *ask, gpointer result, gboolean final)
{
  const DewOpeningAdvice *advice = result;
  GtkBox *body = GTK_BOX (dew_ask_body (ask));
  GtkWidget *list = dew_ask_list_new (ask, _ ("Openings, the best first"));
  g_autofree char *verdict = dew_opening_verdict (advice, dew_tongue ());
  g_autofree char *said = NULL;

  dew_ask_tell (ask, verdict, "verdict");
  gtk_box_append (body, list);
  for (int i = 0; i < advice->n_options; i++)
    {
      const DewOpeningOption *option = &advice->options[advice->order[i]];
      g_autofree char *title = dew_opening_title (option, dew_tongue ());

      if (i == MOST_SHOWN)
        {
          list = dew_ask_list_new (ask, _ ("Other openings, the best first"));
          gtk_box_append (body, dew_fold_new (_ ("Other ways"), list));
        }
      add_words (dew_ask_list_add (list, advice->order[i], 0, title), option);
    }
  dew_ask_tell (ask,
                _ ("Point at one to see it on the sheet. A click takes it into "
                   "the drawing; nothing is cut yet."),
                "foot");
  said = g_strdup_printf (ngettext ("Tried %d way in %.1f s.", "Tried %d ways in %.1f s.",
                                    (gulong) advice->n_options),
                          advice->n_options, advice->seconds);
  dew_ask_say (ask, said);
}

static gboolean
apply (DewAsk *ask, int answer, DewChamber *chamber, gboolean night, DewForecast **forecast)
{
  const DewOpeningAdvice *advice = dew_ask_result (ask);
  const DewOpeningOption *option = &advice->options[answer];

  if (!option->forecast)
    return FALSE;
  dew_opening_apply (chamber, chamber->shown_variant, option);
  *forecast = night && option->night != NULL ? option->night : option->day;
  return TRUE;
}

const DewQuestion dew_question_cut = {
  .action = "win.ask-cut",
  .title = N_ ("Cut the cover?"),
  .purpose = N_ ("The cover kept whole against openings low and high, before any cut is made: what "
                 "can be undone first."),
  .busy = N_ ("Trying openings"),
  .step = N_ ("Open as advised"),
  .weighed = TRUE,
  .work = work,
  .free_result = free_result,
  .show = show,
  .apply = apply,
};
