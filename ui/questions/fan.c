/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where should the fan blow? */
#include "questions/ask.h"

#include "advice/fan/fan.h"
#include "document/tongue.h"
#include "questions/frame.h"
#include "questions/weights.h"
#include "widgets/drop.h"
#include "widgets/names.h"

#include <glib/gi18n.h>
#include <math.h>

/* So often what there is so far is told. */
#define TELL_EVERY_S 0.15
/* So many lines of words for an option; more would bury the list. */
#define MOST_WORDS 4

typedef struct
{
  DewChamber *chamber;
  DewFanQuestion question;
  DewErrandRun *run;
  GTimer *told;
} FanInput;

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
  DewDocument *document; /* lent: lives as long as the widgets */
  DewAsk *ask;
  DewWeights weights;
  guint fan_id;    /* 0: the first one */
  GtkWidget *fans; /* drop-down, where there are several */
  GArray *fan_ids;
  GtkWidget *best, *verdict, *list, *hint, *map_shown;
  DewMeritMap *map;
  gboolean filling;
} FanPane;

/* --- the work, in its thread ------------------------------------------------ */

static void
fan_way (const DewFan *fan, double out[3])
{
  if (fan->mount == DEW_FAN_IN_WALL)
    {
      double inward = fan->sense == DEW_BLOWS_IN ? 1.0 : -1.0;
      gboolean high
        = fan->face == DEW_FACE_RIGHT || fan->face == DEW_FACE_BACK || fan->face == DEW_FACE_ROOF;

      out[0] = out[1] = out[2] = 0.0;
      out[fan->face / 2] = high ? -inward : inward;
      return;
    }
  out[0] = cos (fan->elevation_rad) * cos (fan->azimuth_rad);
  out[1] = cos (fan->elevation_rad) * sin (fan->azimuth_rad);
  out[2] = sin (fan->elevation_rad);
}

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
      fan_way (&candidates[spot->best].fan, result->spots[i].aim);
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

static void
on_progress (int done, int total, const DewFanCandidate *candidates, int n, gpointer data)
{
  FanInput *input = data;
  double share = total > 0 ? (double) done / total : 0.0;
  FanResult *result;

  if (g_timer_elapsed (input->told, NULL) < TELL_EVERY_S)
    return;
  g_timer_start (input->told);
  result = g_new0 (FanResult, 1);
  fill_spots (result, candidates, n);
  dew_errand_report (input->run, share, result);
}

static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  FanInput *input = data;
  FanResult *result;
  DewFanAdvice *advice;

  input->run = run;
  advice = dew_fan_advise (input->chamber, 0, &input->question, cancellable, error);
  if (advice == NULL)
    return NULL;
  result = g_new0 (FanResult, 1);
  result->advice = advice;
  fill_spots (result, advice->candidates, advice->n_candidates);
  return result;
}

static void
input_free (gpointer data)
{
  FanInput *input = data;

  dew_chamber_free (input->chamber);
  g_timer_destroy (input->told);
  g_free (input);
}

static gpointer
prepare (DewAsk *ask, gpointer data, char **why)
{
  FanPane *self = data;
  FanInput *input = g_new0 (FanInput, 1);

  input->chamber = dew_chamber_copy (dew_ask_base (ask));
  input->told = g_timer_new ();
  dew_fan_question_init (&input->question);
  input->question.fan_id = self->fan_id;
  input->question.weights = self->weights;
  input->question.imperial = dew_tongue ();
  input->question.lookup = dew_catalogue_plant_kind;
  input->question.lookup_data = input->chamber;
  input->question.progress = on_progress;
  input->question.progress_data = input;
  return input;
}

/* --- the map ------------------------------------------------------------------ */

static gboolean
map_wanted (FanPane *self)
{
  return gtk_check_button_get_active (GTK_CHECK_BUTTON (self->map_shown));
}

static void
show_map (FanPane *self, gboolean shown)
{
  dew_document_show_merit (self->document, shown && map_wanted (self) ? self->map : NULL);
}

static void
drop_map (FanPane *self)
{
  dew_document_show_merit (self->document, NULL);
  g_clear_pointer (&self->map, dew_merit_map_free);
}

static void
number_option (GArray *spots, const DewFanOption *option, int number)
{
  DewMeritSpot spot = { { option->fan.x_m, option->fan.y_m, option->fan.z_m }, 1.0, { 0 }, number };

  fan_way (&option->fan, spot.aim);
  g_array_append_val (spots, spot);
}

static void
make_map (FanPane *self, const FanResult *result)
{
  g_autoptr (GArray) spots = g_array_new (FALSE, FALSE, sizeof (DewMeritSpot));

  drop_map (self);
  g_array_append_vals (spots, result->spots, result->n_spots);
  for (int i = 0; result->advice != NULL && i < result->advice->n_options; i++)
    number_option (spots, &result->advice->options[i], i + 1);
  if (spots->len > 0)
    self->map = dew_merit_map_new ((const DewMeritSpot *) (gpointer) spots->data, spots->len,
                                   _ ("How good a fan is here, blowing its best way"));
  show_map (self, TRUE);
}

static void
on_map_toggled (FanPane *self)
{
  show_map (self, !dew_document_peeking (self->document));
}

/* --- the answers ----------------------------------------------------------------- */

static char *
gain_words (const DewFanOption *option, gboolean first)
{
  if (!first && option->as_good)
    return g_strdup (_ ("As good as the first one, within what can be known."));
  return dew_ask_gain_text (option->gain, option->band);
}

static GtkWidget *
words_new (const DewFanOption *option, gboolean first)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *gain = gain_words (option, first);
  char **words = first || option->against_best == NULL || option->against_best[0] == NULL
                   ? option->words
                   : option->against_best;

  gtk_box_append (GTK_BOX (box), dew_ask_label_new (gain, "figure"));
  if (words == option->against_best)
    gtk_box_append (GTK_BOX (box), dew_ask_label_new (_ ("Against the first one:"), "soft"));
  for (guint i = 0; words != NULL && words[i] != NULL && i < MOST_WORDS; i++)
    gtk_box_append (GTK_BOX (box), dew_ask_label_new (words[i], "soft"));
  return box;
}

static void
show_answers (FanPane *self, const DewFanAdvice *advice)
{
  g_autofree char *said = NULL;

  gtk_label_set_text (GTK_LABEL (self->verdict), advice->verdict);
  for (int i = 0; i < advice->n_options; i++)
    dew_ask_list_add (self->list, i, i + 1, advice->options[i].title,
                      words_new (&advice->options[i], i == 0));
  /* Translators: the second number counts forecasts to the end. */
  said = g_strdup_printf (ngettext ("Tried %d place and direction in %.1f s, %d of them to the "
                                    "end.",
                                    "Tried %d places and directions in %.1f s, %d of them to the "
                                    "end.",
                                    (gulong) advice->n_candidates),
                          advice->n_candidates, advice->seconds, advice->settled_forecasts / 2);
  dew_ask_say (self->ask, said);
}

static void
show_best_so_far (FanPane *self, const FanResult *result)
{
  g_autofree char *bay = NULL, *text = NULL;

  if (result->best_bay < 0)
    return;
  bay = dew_advice_bay_name (result->best_bay);
  text = g_strdup_printf (_ ("Best so far: %s"), bay);
  gtk_label_set_text (GTK_LABEL (self->best), text);
}

static void
show (DewAsk *ask, gpointer data, gboolean final, gpointer pane)
{
  FanPane *self = pane;
  FanResult *result = data;
  gboolean answered = result != NULL && result->advice != NULL;

  dew_ask_list_clear (self->list);
  gtk_label_set_text (GTK_LABEL (self->best), "");
  if (result == NULL)
    drop_map (self);
  else
    make_map (self, result);
  if (answered)
    show_answers (self, result->advice);
  else if (result != NULL)
    show_best_so_far (self, result);
  gtk_widget_set_visible (self->best, result != NULL && !answered);
  gtk_widget_set_visible (self->verdict, answered);
  gtk_widget_set_visible (self->hint, answered && result->advice->n_options > 0);
  gtk_widget_set_visible (self->map_shown, result != NULL);
}

static DewChamber *
layout (DewAsk *ask, int answer, gboolean night, DewForecast **forecast, gpointer pane)
{
  const FanResult *result = dew_ask_result (ask);
  const DewFanOption *option;
  DewChamber *chamber;

  if (result == NULL || answer >= result->advice->n_options)
    return NULL;
  option = &result->advice->options[answer];
  chamber = dew_chamber_copy (dew_ask_base (ask));
  dew_fan_apply (chamber, chamber->shown_variant, result->advice->fan_id, &option->fan,
                 option->opening_factor);
  *forecast = night ? option->night : option->day;
  return chamber;
}

/* While an option is looked at its own colours are on the sheet. */
static void
looked (DewAsk *ask, int answer, gpointer pane)
{
  FanPane *self = pane;

  if (self->map != NULL)
    self->map->lit = answer >= 0 ? answer + 1 : 0;
  show_map (self, answer < 0);
}

/* --- what is asked ------------------------------------------------------------------ */

static void
on_weights (gpointer data)
{
  FanPane *self = data;

  dew_ask_again (self->ask);
}

static void
on_fan (GtkDropDown *drop, GParamSpec *pspec, gpointer data)
{
  FanPane *self = data;
  guint selected = gtk_drop_down_get_selected (drop);

  if (self->filling || selected >= self->fan_ids->len)
    return;
  self->fan_id = g_array_index (self->fan_ids, guint, selected);
  dew_ask_again (self->ask);
}

/* Which fan is only asked where there are several. */
static void
fill_fans (FanPane *self)
{
  const DewVariant *variant = dew_document_variant (self->document);
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
on_document_changed (FanPane *self)
{
  if (!dew_document_peeking (self->document))
    fill_fans (self);
}

void
dew_ask_fan_about (GtkWidget *pane, guint fan_id)
{
  FanPane *self = g_object_get_data (G_OBJECT (pane), "dew-ask-fan");

  if (self->fan_id == fan_id)
    return;
  self->fan_id = fan_id;
  fill_fans (self);
  dew_ask_again (self->ask);
}

static void
pane_free (gpointer data)
{
  FanPane *self = data;

  g_clear_pointer (&self->map, dew_merit_map_free);
  g_array_unref (self->fan_ids);
  g_free (self);
}

static void
on_destroy (GtkWidget *frame, gpointer data)
{
  FanPane *self = data;

  g_signal_handlers_disconnect_by_data (self->document, self);
}

static const DewAskKind kind = {
  .title = N_ ("Where should the fan blow?"),
  .purpose = N_ ("Every sensible place and direction is forecast, and the best ones to the end."),
  .busy = N_ ("Trying places and directions"),
  .step = N_ ("Move fan as advised"),
  .prepare = prepare,
  .work = work,
  .free_input = input_free,
  .free_result = result_free,
  .show = show,
  .layout = layout,
  .looked = looked,
};

GtkWidget *
dew_ask_fan_new (DewDocument *document)
{
  FanPane *self = g_new0 (FanPane, 1);
  GtkWidget *frame;
  GtkBox *body;

  self->document = document;
  dew_weights_init (&self->weights);
  self->fan_ids = g_array_new (FALSE, FALSE, sizeof (guint));
  frame = dew_ask_new (document, &kind, self, pane_free);
  g_object_set_data (G_OBJECT (frame), "dew-ask-fan", self);
  self->ask = dew_ask_of (frame);
  body = dew_ask_body (self->ask);

  self->fans = dew_drop_new (NULL, _ ("Which fan"));
  g_signal_connect (self->fans, "notify::selected", G_CALLBACK (on_fan), self);
  gtk_box_append (dew_ask_head (self->ask), self->fans);
  gtk_box_append (dew_ask_head (self->ask), dew_ask_weights_new (&self->weights, on_weights, self));

  self->best = dew_ask_label_new ("", "soft");
  self->verdict = dew_ask_label_new ("", "verdict");
  self->list = dew_ask_list_new (self->ask, _ ("Places for the fan, the best first"));
  self->hint
    = dew_ask_label_new (_ ("Point at one to see it on the sheet. A click takes it."), "foot");
  self->map_shown = gtk_check_button_new_with_label (_ ("Show on the sheet where a fan does well"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->map_shown), TRUE);
  g_signal_connect_swapped (self->map_shown, "toggled", G_CALLBACK (on_map_toggled), self);
  gtk_box_append (body, self->best);
  gtk_box_append (body, self->verdict);
  gtk_box_append (body, self->list);
  gtk_box_append (body, self->hint);
  gtk_box_append (body, self->map_shown);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (on_document_changed), self);
  g_signal_connect (frame, "destroy", G_CALLBACK (on_destroy), self);
  fill_fans (self);
  show (self->ask, NULL, FALSE, self);
  return frame;
}
