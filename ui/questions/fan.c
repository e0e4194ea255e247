/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where should the fan blow? */
#include "questions/question.h"

#include "advice/fan/fan.h"
#include "widgets/drop.h"
#include "document/tongue.h"
#include "say/changes.h"
#include "say/fan.h"
#include "say/where.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <math.h>

/* So often what there is so far is told. */
#define TELL_EVERY_S 0.15
/* So many lines of words for an option; more would bury the list. */
#define MOST_WORDS 4

/* What there is so far, or at the end. */
typedef struct
{
  DewMeritSpot *spots;
  guint n_spots;
  int best_bay;         /* of the best one so far */
  DewFanAdvice *advice; /* at the end */
} FanResult;

typedef struct
{
  guint fan_id;    /* 0: the first one */
  GtkWidget *fans; /* drop-down, where there are several */
  GArray *fan_ids;
  GtkWidget *map_shown;
  DewMeritMap *map;
  gboolean filling;
} FanPane;

/* --- the work, in its thread ------------------------------------------------ */

static void
fill_spots (FanResult *result, const DewFanCandidate *candidates, int n)
{
  g_autoptr (GArray) spots = dew_fan_spots (candidates, n);
  double lo = INFINITY, hi = -INFINITY;

  result->spots = g_new0 (DewMeritSpot, MAX (spots->len, 1));
  result->n_spots = spots->len;
  result->best_bay = -1;
  for (guint i = 0; i < spots->len; i++)
    {
      double coarse = g_array_index (spots, DewFanSpot, i).coarse;

      lo = MIN (lo, coarse);
      if (coarse > hi)
        {
          hi = coarse;
          result->best_bay = g_array_index (spots, DewFanSpot, i).bay;
        }
    }
  for (guint i = 0; i < spots->len; i++)
    {
      const DewFanSpot *spot = &g_array_index (spots, DewFanSpot, i);

      for (int axis = 0; axis < 3; axis++)
        result->spots[i].at_m[axis] = spot->at_m[axis];
      result->spots[i].merit = hi > lo ? (spot->coarse - lo) / (hi - lo) : 1.0;
      dew_fan_aim (&candidates[spot->best].fan, result->spots[i].aim);
    }
}

static void
result_free (gpointer data)
{
  FanResult *result = data;

  g_free (result->spots);
  g_clear_pointer (&result->advice, dew_fan_advice_free);
  g_free (result);
}

typedef struct
{
  DewErrandRun *run;
  GTimer *told;
} Teller;

static void
on_progress (int done, int total, const DewFanCandidate *candidates, int n, gpointer data)
{
  Teller *teller = data;
  FanResult *result;

  if (g_timer_elapsed (teller->told, NULL) < TELL_EVERY_S)
    return;
  g_timer_start (teller->told);
  result = g_new0 (FanResult, 1);
  fill_spots (result, candidates, n);
  dew_errand_report (teller->run, total > 0 ? (double) done / total : 0.0, result);
}

static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  const DewAskInput *input = data;
  g_autoptr (GTimer) told = g_timer_new ();
  Teller teller = { run, told };
  DewFanQuestion question;
  FanResult *result;
  DewFanAdvice *advice;

  dew_fan_question_init (&question);
  question.fan_id = input->thing_id;
  question.weights = input->weights;
  question.lookup = dew_catalogue_plant_kind;
  question.lookup_data = input->chamber;
  question.progress = on_progress;
  question.progress_data = &teller;
  advice = dew_fan_advise (input->chamber, 0, &question, cancellable, error);
  if (advice == NULL)
    return NULL;
  result = g_new0 (FanResult, 1);
  result->advice = advice;
  fill_spots (result, advice->candidates, advice->n_candidates);
  return result;
}

static gboolean
prepare (DewAsk *ask, DewAskInput *input, char **why)
{
  const FanPane *self = dew_ask_pane (ask);

  input->thing_id = self->fan_id;
  return TRUE;
}

/* --- the map ------------------------------------------------------------------ */

static void
show_map (DewAsk *ask, gboolean shown)
{
  const FanPane *self = dew_ask_pane (ask);

  shown = shown && gtk_check_button_get_active (GTK_CHECK_BUTTON (self->map_shown));
  dew_document_show_merit (dew_ask_document (ask), shown ? self->map : NULL);
}

static void
drop_map (DewAsk *ask)
{
  FanPane *self = dew_ask_pane (ask);

  show_map (ask, FALSE);
  g_clear_pointer (&self->map, dew_merit_map_free);
}

static void
number_option (GArray *spots, const DewFanOption *option, int number)
{
  DewMeritSpot spot = { { option->fan.x_m, option->fan.y_m, option->fan.z_m }, 1.0, { 0 }, number };

  dew_fan_aim (&option->fan, spot.aim);
  g_array_append_val (spots, spot);
}

static void
make_map (DewAsk *ask, const FanResult *result)
{
  FanPane *self = dew_ask_pane (ask);
  g_autoptr (GArray) spots = g_array_new (FALSE, FALSE, sizeof (DewMeritSpot));

  drop_map (ask);
  g_array_append_vals (spots, result->spots, result->n_spots);
  for (int i = 0; result->advice != NULL && i < result->advice->n_options; i++)
    number_option (spots, &result->advice->options[i], i + 1);
  if (spots->len > 0)
    self->map = dew_merit_map_new ((const DewMeritSpot *) (gpointer) spots->data, spots->len,
                                   _ ("How good a fan is here, blowing its best way"));
  show_map (ask, TRUE);
}

static void
on_map_toggled (DewAsk *ask)
{
  show_map (ask, !dew_document_peeking (dew_ask_document (ask)));
}

/* --- the answers ----------------------------------------------------------------- */

static char *
gain_words (const DewFanOption *option, gboolean first)
{
  if (!first && option->as_good)
    return g_strdup (_ ("As good as the first one, within what can be known."));
  return dew_ask_gain_text (option->gain, option->band);
}

static void
add_option (GtkWidget *list, const DewFanAdvice *advice, int i)
{
  const DewFanOption *option = &advice->options[i];
  g_autofree char *title = dew_fan_title (advice, option);
  GtkBox *box = dew_ask_list_add (list, i, i + 1, title);
  g_autofree char *gain = gain_words (option, i == 0);
  gboolean against_now = i == 0 || option->against_best->len == 0;
  g_auto (GStrv) words
    = dew_trade_offs_words (against_now ? option->changes : option->against_best, dew_tongue ());

  dew_add_words (box, gain, "figure");
  if (!against_now)
    dew_add_words (box, _ ("Against the first one:"), "soft");
  for (guint k = 0; words[k] != NULL && k < MOST_WORDS; k++)
    dew_add_words (box, words[k], "soft");
}

static void
show_advice (DewAsk *ask, const DewFanAdvice *advice)
{
  GtkWidget *list = dew_ask_list_new (ask, _ ("Places for the fan, the best first"));
  g_autofree char *verdict = dew_fan_verdict (advice);
  g_autofree char *second = dew_fan_second_words (advice);
  g_autofree char *said = NULL;

  dew_ask_tell (ask, verdict, "verdict");
  gtk_box_append (GTK_BOX (dew_ask_body (ask)), list);
  for (int i = 0; i < advice->n_options; i++)
    add_option (list, advice, i);
  if (second != NULL)
    dew_ask_tell (ask, second, NULL);
  if (advice->n_options > 0)
    {
      g_auto (GStrv) cautions = dew_fan_cautions (advice, &advice->options[0], dew_tongue ());

      for (int c = 0; cautions[c] != NULL; c++)
        dew_ask_tell (ask, cautions[c], "soft");
    }
  if (advice->n_options > 0)
    dew_ask_tell (ask, _ ("Point at one to see it on the sheet. A click takes it."), "foot");
  /* Translators: the second number counts forecasts to the end. */
  said = g_strdup_printf (ngettext ("Tried %d place and direction in %.1f s, %d of them to the "
                                    "end.",
                                    "Tried %d places and directions in %.1f s, %d of them to the "
                                    "end.",
                                    (gulong) advice->n_candidates),
                          advice->n_candidates, advice->seconds, advice->settled_forecasts / 2);
  dew_ask_say (ask, said);
}

static void
show (DewAsk *ask, gpointer data, gboolean final)
{
  const FanResult *result = data;

  make_map (ask, result);
  if (final)
    show_advice (ask, result->advice);
  else if (result->best_bay >= 0)
    {
      g_autofree char *bay = dew_shelf_title (result->best_bay);
      g_autofree char *text = g_strdup_printf (_ ("Best so far: %s"), bay);

      dew_ask_tell (ask, text, "soft");
    }
}

static gboolean
apply (DewAsk *ask, int answer, DewChamber *chamber, gboolean night, DewForecast **forecast)
{
  const FanResult *result = dew_ask_result (ask);
  const DewFanOption *option = &result->advice->options[answer];

  dew_fan_apply (chamber, chamber->shown_variant, result->advice->fan_id, &option->fan,
                 option->opening_factor);
  *forecast = night ? option->night : option->day;
  return TRUE;
}

/* While an option is looked at its own colours are on the sheet. */
static void
looked (DewAsk *ask, int answer)
{
  FanPane *self = dew_ask_pane (ask);

  if (self->map != NULL)
    self->map->lit = answer >= 0 ? answer + 1 : 0;
  show_map (ask, answer < 0);
}

/* --- what is asked ------------------------------------------------------------------ */

static void
on_fan (GtkDropDown *drop, GParamSpec *pspec, gpointer data)
{
  DewAsk *ask = data;
  FanPane *self = dew_ask_pane (ask);
  guint selected = gtk_drop_down_get_selected (drop);

  if (self->filling || selected >= self->fan_ids->len)
    return;
  self->fan_id = g_array_index (self->fan_ids, guint, selected);
  dew_ask_again (ask);
}

/* Which fan is only asked where there are several. */
static void
fill_fans (DewAsk *ask)
{
  FanPane *self = dew_ask_pane (ask);
  const DewVariant *variant = dew_document_variant (dew_ask_document (ask));
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint chosen = 0;

  if (variant == NULL)
    return;
  g_array_set_size (self->fan_ids, 0);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind != DEW_THING_FAN)
        continue;
      if (thing->id == self->fan_id)
        chosen = self->fan_ids->len;
      g_array_append_val (self->fan_ids, thing->id);
      gtk_string_list_append (names, thing->name);
    }
  if (chosen == 0)
    self->fan_id = 0;
  self->filling = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->fans), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->fans), chosen);
  gtk_widget_set_visible (self->fans, self->fan_ids->len > 1);
  self->filling = FALSE;
}

static void
on_changed (DewAsk *ask)
{
  if (!dew_document_peeking (dew_ask_document (ask)))
    fill_fans (ask);
}

static void
about (DewAsk *ask, const DewThing *thing)
{
  FanPane *self = dew_ask_pane (ask);

  if (thing->kind != DEW_THING_FAN || thing->id == self->fan_id)
    return;
  self->fan_id = thing->id;
  fill_fans (ask);
  dew_ask_again (ask);
}

static void
build (DewAsk *ask)
{
  FanPane *self = dew_ask_pane (ask);
  GtkWidget *head = dew_ask_head (ask);

  self->fan_ids = g_array_new (FALSE, FALSE, sizeof (guint));
  self->fans = dew_drop_new (NULL, _ ("Which fan"));
  g_signal_connect (self->fans, "notify::selected", G_CALLBACK (on_fan), ask);
  gtk_box_append (GTK_BOX (head), self->fans);
  self->map_shown = gtk_check_button_new_with_label (_ ("Show on the sheet where a fan does well"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->map_shown), TRUE);
  g_signal_connect_swapped (self->map_shown, "toggled", G_CALLBACK (on_map_toggled), ask);
  gtk_box_append (GTK_BOX (dew_ask_tail (ask)), self->map_shown);
  dew_follow (dew_ask_document (ask), "changed", G_CALLBACK (on_changed), ask, head);
  fill_fans (ask);
}

static void
clear (gpointer pane)
{
  FanPane *self = pane;

  g_clear_pointer (&self->map, dew_merit_map_free);
  g_array_unref (self->fan_ids);
}

const DewQuestion dew_question_fan = {
  .action = "win.ask-fan",
  .title = N_ ("Where should the fan blow?"),
  .purpose = N_ ("Every sensible place and direction is forecast, and the best ones to the end."),
  .busy = N_ ("Trying places and directions"),
  .step = N_ ("Move fan as advised"),
  .weighed = TRUE,
  .pane_size = sizeof (FanPane),
  .build = build,
  .clear = clear,
  .about = about,
  .prepare = prepare,
  .work = work,
  .free_result = result_free,
  .show = show,
  .forget = drop_map,
  .apply = apply,
  .looked = looked,
};
