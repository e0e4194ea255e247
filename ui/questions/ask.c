/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a question is asked, and what becomes of the answer. */
#include "questions/private.h"

#include "document/tongue.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

/* After a change one waits for the next one that long before asking again. */
#define CALM_MS 500

static const DewQuestion *const questions[]
  = { &dew_question_fan,   &dew_question_moisture, &dew_question_plants, &dew_question_cut,
      &dew_question_suits, &dew_question_heights,  &dew_question_light };

guint
dew_n_questions (void)
{
  return G_N_ELEMENTS (questions);
}

const char *
dew_question_action (guint question)
{
  g_return_val_if_fail (question < G_N_ELEMENTS (questions), NULL);
  return questions[question]->action;
}

const char *
dew_question_title (guint question)
{
  g_return_val_if_fail (question < G_N_ELEMENTS (questions), NULL);
  return _ (questions[question]->title);
}

/* --- what comes back ------------------------------------------------------- */

static void
drop_result (DewAsk *self)
{
  if (self->result == NULL)
    return;
  self->question->free_result (self->result);
  self->result = NULL;
}

static void
forget (DewAsk *self)
{
  dew_ask_show (self, NULL, FALSE);
  drop_result (self);
  dew_ask_say (self, NULL);
}

static void
on_news (DewErrandNews *news, gpointer user_data)
{
  DewAsk *self = user_data;

  switch (news->stage)
    {
    case DEW_ERRAND_UNDER_WAY:
      dew_ask_show_share (self, news->share);
      /* What was found before stays in sight until there is something better. */
      if (news->result != NULL && self->result == NULL)
        dew_ask_show (self, news->result, FALSE);
      break;
    case DEW_ERRAND_DONE:
      dew_ask_leave (self);
      forget (self);
      self->fits = TRUE;
      self->result = news->result;
      news->taken = TRUE;
      dew_ask_show (self, self->result, TRUE);
      g_debug ("advice: %s: done", self->question->title);
      break;
    case DEW_ERRAND_FAILED:
      dew_ask_leave (self);
      self->failed = TRUE;
      forget (self);
      dew_ask_note (self, news->error->message);
      g_debug ("advice: %s: %s", self->question->title, news->error->message);
      break;
    }
  dew_ask_update (self);
}

/* --- asking ---------------------------------------------------------------- */

static void
input_free (gpointer data)
{
  DewAskInput *input = data;

  if (input->free_more != NULL)
    input->free_more (input->more);
  dew_chamber_free (input->chamber);
  g_free (input);
}

/* NULL when there is nothing to ask. */
static DewAskInput *
input_new (DewAsk *self, char **why)
{
  const DewQuestion *question = self->question;
  const char *obstacle = dew_document_obstacle (self->document, NULL);
  DewAskInput *input;

  if (obstacle != NULL)
    {
      *why
        = g_strdup_printf (_ ("There can be no answer while there is no forecast. %s."), obstacle);
      return NULL;
    }
  input = g_new0 (DewAskInput, 1);
  input->chamber = dew_chamber_copy (self->base);
  input->weights = self->weights;
  if (question->prepare == NULL || question->prepare (self, input, why))
    return input;
  input_free (input);
  return NULL;
}

void
dew_ask_now (DewAsk *self)
{
  g_autofree char *why = NULL;
  DewAskInput *input;

  g_clear_handle_id (&self->calm, g_source_remove);
  self->ours = TRUE;
  dew_ask_leave (self);
  self->ours = FALSE;
  self->fits = FALSE;
  dew_errand_cancel (self->errand);
  self->stopped = self->failed = FALSE;
  dew_ask_note (self, NULL);
  g_clear_pointer (&self->base, dew_chamber_free);
  g_array_set_size (self->taken, 0);
  if (dew_document_chamber (self->document) == NULL)
    return;
  self->base = dew_chamber_copy (dew_document_chamber (self->document));
  input = input_new (self, &why);
  if (input == NULL)
    {
      forget (self);
      dew_ask_note (self, why);
    }
  else
    {
      dew_ask_show_share (self, 0.0);
      g_debug ("advice: %s: asked", self->question->title);
      dew_errand_start (self->errand, self->question->work, input, input_free,
                        self->question->free_result);
    }
  dew_ask_update (self);
}

static gboolean
on_calm (gpointer data)
{
  DewAsk *self = data;

  self->calm = 0;
  dew_ask_now (self);
  return G_SOURCE_REMOVE;
}

static void
ask_soon (DewAsk *self)
{
  dew_errand_cancel (self->errand);
  g_clear_handle_id (&self->calm, g_source_remove);
  if (!gtk_widget_get_mapped (self->frame))
    {
      /* It is asked when it is seen. */
      g_clear_pointer (&self->base, dew_chamber_free);
      return;
    }
  dew_ask_show_share (self, 0.0);
  self->calm = g_timeout_add (CALM_MS, on_calm, self);
  dew_ask_update (self);
}

void
dew_ask_again (DewAsk *self)
{
  self->fits = FALSE;
  ask_soon (self);
}

int
dew_ask_taken (DewAsk *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  for (guint i = 0; i < self->taken->len; i++)
    {
      DewAskTaken *taken = &g_array_index (self->taken, DewAskTaken, i);

      if (dew_chamber_equal (chamber, taken->chamber))
        return taken->answer;
    }
  return -1;
}

gboolean
dew_ask_about_this (DewAsk *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  /* What is looked at is an answer to it; any edit would have ended the look. */
  if (dew_document_peeking (self->document))
    return self->base != NULL;
  return self->base != NULL && chamber != NULL
         && (dew_chamber_equal (chamber, self->base) || dew_ask_taken (self) >= 0);
}

static void
on_changed (DewAsk *self)
{
  if (self->ours || dew_document_peeking (self->document) || !gtk_widget_get_mapped (self->frame))
    return;
  self->looking = -1;
  if (dew_ask_about_this (self))
    {
      /* Back where it was asked, by undo: nothing to ask after all. */
      if (self->calm != 0 && self->fits)
        {
          g_clear_handle_id (&self->calm, g_source_remove);
          dew_ask_update (self);
        }
      dew_ask_mark_taken (self);
      return;
    }
  ask_soon (self);
}

static void
on_map (DewAsk *self)
{
  if (self->stopped && dew_ask_about_this (self))
    return;
  if (!self->fits || !dew_ask_about_this (self))
    {
      dew_ask_now (self);
      return;
    }
  /* It may have been told to let go of the sheet while it was away. */
  dew_ask_show (self, self->result, TRUE);
  dew_ask_mark_taken (self);
}

static void
on_unmap (DewAsk *self)
{
  g_clear_handle_id (&self->calm, g_source_remove);
  g_clear_handle_id (&self->linger, g_source_remove);
  self->looking = self->hovered = -1;
  if (self->document == NULL)
    return;
  dew_document_peek_end (self->document);
  dew_document_show_merit (self->document, NULL);
  if (dew_errand_running (self->errand))
    {
      dew_errand_cancel (self->errand);
      g_clear_pointer (&self->base, dew_chamber_free);
    }
}

void
dew_ask_stop (DewAsk *self)
{
  dew_errand_cancel (self->errand);
  g_clear_handle_id (&self->calm, g_source_remove);
  self->stopped = TRUE;
  /* What was found for an earlier question is no answer to this one. */
  if (self->result != NULL && !self->fits)
    forget (self);
  if (self->result == NULL)
    dew_ask_note (self, _ ("Stopped before there was an answer."));
  dew_ask_update (self);
}

/* --- the pane ----------------------------------------------------------------- */

DewAsk *
dew_ask_of (GtkWidget *pane)
{
  return g_object_get_data (G_OBJECT (pane), DEW_ASK_KEY);
}

gpointer
dew_ask_pane (DewAsk *self)
{
  return self->pane;
}

DewDocument *
dew_ask_document (DewAsk *self)
{
  return self->document;
}

gpointer
dew_ask_result (DewAsk *self)
{
  return self->result;
}

gboolean
dew_ask_running (DewAsk *self)
{
  return dew_errand_running (self->errand) || self->calm != 0;
}

void
dew_ask_about (DewAsk *self, const DewThing *thing)
{
  if (self->question->about != NULL)
    self->question->about (self, thing);
}

static void
on_destroy (GtkWidget *frame, gpointer user_data)
{
  DewAsk *self = user_data;

  g_clear_handle_id (&self->calm, g_source_remove);
  g_clear_handle_id (&self->linger, g_source_remove);
  dew_errand_cancel (self->errand);
  self->document = NULL;
}

static void
taken_clear (gpointer data)
{
  dew_chamber_free (((DewAskTaken *) data)->chamber);
}

static void
ask_free (gpointer data)
{
  DewAsk *self = data;

  dew_errand_free (self->errand);
  drop_result (self);
  g_clear_pointer (&self->base, dew_chamber_free);
  g_array_unref (self->taken);
  g_ptr_array_unref (self->rows);
  if (self->question->clear != NULL)
    self->question->clear (self->pane);
  g_free (self->pane);
  g_free (self);
}

GtkWidget *
dew_ask_new (DewDocument *document, guint question)
{
  DewAsk *self;

  g_return_val_if_fail (question < G_N_ELEMENTS (questions), NULL);

  self = g_new0 (DewAsk, 1);
  self->document = document;
  self->question = questions[question];
  self->pane = g_malloc0 (self->question->pane_size);
  dew_weights_init (&self->weights);
  self->looking = self->hovered = -1;
  self->taken = g_array_new (FALSE, FALSE, sizeof (DewAskTaken));
  g_array_set_clear_func (self->taken, taken_clear);
  self->rows = g_ptr_array_new ();
  self->errand = dew_errand_new (on_news, self);
  self->frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  g_object_set_data_full (G_OBJECT (self->frame), DEW_ASK_KEY, self, ask_free);
  dew_ask_build (self);
  g_signal_connect_swapped (self->frame, "map", G_CALLBACK (on_map), self);
  g_signal_connect_swapped (self->frame, "unmap", G_CALLBACK (on_unmap), self);
  g_signal_connect (self->frame, "destroy", G_CALLBACK (on_destroy), self);
  dew_follow (document, "changed", G_CALLBACK (on_changed), self, self->frame);
  return self->frame;
}
