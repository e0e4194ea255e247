/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/ask-frame.h"

#include "panes/names.h"

#include <glib/gi18n.h>
#include <math.h>

#define ASK_KEY "dew-ask"
#define ANSWER_KEY "dew-answer"
/* After a change one waits for the next one that long before asking again. */
#define CALM_MS 500
/* Rows that the pointer only passes over are not looked at. */
#define LINGER_MS 90
#define WRAP_CHARS 30

/* An answer that was taken, as the document was afterwards. */
typedef struct
{
  int         answer;
  DewChamber *chamber;
} Taken;

struct _DewAsk
{
  DewDocument      *document; /* lent: lives as long as the widgets */
  const DewAskKind *kind;
  gpointer          pane;
  GDestroyNotify    free_pane;

  DewErrand  *errand;
  DewChamber *base;
  GArray     *taken;   /* Taken */
  gpointer    result;  /* final */
  gboolean    fits;    /* the result is about the base; an older one is only to be seen */
  int         looking; /* answer that is looked at; -1: none */
  int         hovered;
  guint       calm, linger; /* sources */
  gboolean    stopped; /* by hand: not asked again by itself */
  gboolean    failed;
  gboolean    ours;    /* the document changes by our own hand */

  GtkWidget *frame, *head, *strip, *bar, *doing, *note, *again, *said, *body;
  GPtrArray *lists; /* lent */
};

static void
taken_clear (gpointer data)
{
  dew_chamber_free (((Taken *) data)->chamber);
}

/* --- what is shown of the work --------------------------------------------- */

static void
say_note (DewAsk *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->note), text != NULL ? text : "");
  gtk_widget_set_visible (self->note, text != NULL);
}

void
dew_ask_say (DewAsk *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->said), text != NULL ? text : "");
  gtk_widget_set_visible (self->said, text != NULL && *text != '\0');
}

static void
update_strip (DewAsk *self)
{
  gboolean running = dew_errand_running (self->errand) || self->calm != 0;

  gtk_widget_set_visible (self->strip, running);
  gtk_widget_set_visible (self->again, !running && (self->stopped || self->failed));
  if (running && self->result != NULL)
    gtk_widget_add_css_class (self->body, "lagging");
  else
    gtk_widget_remove_css_class (self->body, "lagging");
}

static void
show_share (DewAsk *self, double share)
{
  g_autofree char *spoken
    = g_strdup_printf (_("%s, %.0f %% done"), _(self->kind->busy), 100.0 * share);

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), share);
  gtk_label_set_text (GTK_LABEL (self->doing), _(self->kind->busy));
  dew_name_widget (self->bar, spoken);
}

static void
drop_result (DewAsk *self)
{
  if (self->result == NULL)
    return;
  self->kind->free_result (self->result);
  self->result = NULL;
}

/* The rows are about to be others: nothing of the old ones is looked at, now or soon. */
static void
leave_answers (DewAsk *self)
{
  g_clear_handle_id (&self->linger, g_source_remove);
  self->looking = self->hovered = -1;
  dew_document_peek_end (self->document);
}

static void
on_news (DewErrandNews *news, gpointer user_data)
{
  DewAsk *self = user_data;

  switch (news->stage)
    {
    case DEW_ERRAND_UNDER_WAY:
      show_share (self, news->share);
      /* What was found before stays in sight until there is something better. */
      if (news->result != NULL && self->result == NULL)
        self->kind->show (self, news->result, FALSE, self->pane);
      break;
    case DEW_ERRAND_DONE:
      leave_answers (self);
      self->kind->show (self, NULL, FALSE, self->pane);
      drop_result (self);
      self->fits = TRUE;
      self->result = news->result;
      news->taken = TRUE;
      self->kind->show (self, self->result, TRUE, self->pane);
      g_debug ("advice: %s: done", self->kind->title);
      break;
    case DEW_ERRAND_FAILED:
      leave_answers (self);
      self->failed = TRUE;
      self->kind->show (self, NULL, FALSE, self->pane);
      drop_result (self);
      say_note (self, news->error->message);
      g_debug ("advice: %s: %s", self->kind->title, news->error->message);
      break;
    }
  update_strip (self);
}

/* --- asking ---------------------------------------------------------------- */

static void
forget (DewAsk *self)
{
  self->kind->show (self, NULL, FALSE, self->pane);
  drop_result (self);
  dew_ask_say (self, NULL);
}

static void
ask (DewAsk *self)
{
  const char *obstacle;
  g_autofree char *why = NULL;
  gpointer input;

  g_clear_handle_id (&self->calm, g_source_remove);
  self->ours = TRUE;
  leave_answers (self);
  self->ours = FALSE;
  self->fits = FALSE;
  dew_errand_cancel (self->errand);
  self->stopped = self->failed = FALSE;
  say_note (self, NULL);
  g_clear_pointer (&self->base, dew_chamber_free);
  g_array_set_size (self->taken, 0);
  if (dew_document_chamber (self->document) == NULL)
    return;
  self->base = dew_chamber_copy (dew_document_chamber (self->document));
  obstacle = dew_document_obstacle (self->document, NULL);
  if (obstacle != NULL)
    {
      why = g_strdup_printf (_("There can be no answer while there is no forecast. %s."), obstacle);
      input = NULL;
    }
  else
    input = self->kind->prepare (self, self->pane, &why);
  if (input == NULL)
    {
      forget (self);
      say_note (self, why);
    }
  else
    {
      show_share (self, 0.0);
      g_debug ("advice: %s: asked", self->kind->title);
      dew_errand_start (self->errand, self->kind->work, input, self->kind->free_input,
                        self->kind->free_result);
    }
  update_strip (self);
}

static gboolean
on_calm (gpointer data)
{
  DewAsk *self = data;

  self->calm = 0;
  ask (self);
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
  show_share (self, 0.0);
  self->calm = g_timeout_add (CALM_MS, on_calm, self);
  update_strip (self);
}

void
dew_ask_again (DewAsk *self)
{
  self->fits = FALSE;
  ask_soon (self);
}

/* The answer that the document is at: it was taken and not undone. */
static int
taken_answer (DewAsk *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  for (guint i = 0; i < self->taken->len; i++)
    {
      Taken *taken = &g_array_index (self->taken, Taken, i);

      if (dew_chamber_equal (chamber, taken->chamber))
        return taken->answer;
    }
  return -1;
}

static gboolean
still_about_this (DewAsk *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  /* What is looked at is an answer to it; any edit would have ended the look. */
  if (dew_document_peeking (self->document))
    return self->base != NULL;
  return self->base != NULL && chamber != NULL
         && (dew_chamber_equal (chamber, self->base) || taken_answer (self) >= 0);
}

/* The answer that the document is at says so. */
static void
mark_taken (DewAsk *self)
{
  int taken = taken_answer (self);

  for (guint i = 0; i < self->lists->len; i++)
    for (GtkWidget *row = gtk_widget_get_first_child (g_ptr_array_index (self->lists, i));
         row != NULL; row = gtk_widget_get_next_sibling (row))
      {
        int answer = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), ANSWER_KEY));
        GtkWidget *mark = g_object_get_data (G_OBJECT (row), "dew-taken");

        gtk_widget_set_visible (mark, answer == taken);
      }
}

static void
on_changed (DewAsk *self)
{
  if (self->ours || dew_document_peeking (self->document)
      || !gtk_widget_get_mapped (self->frame))
    return;
  self->looking = -1;
  if (still_about_this (self))
    {
      /* Back where it was asked, by undo: nothing to ask after all. */
      if (self->calm != 0 && self->fits)
        {
          g_clear_handle_id (&self->calm, g_source_remove);
          update_strip (self);
        }
      mark_taken (self);
      return;
    }
  ask_soon (self);
}

static void
on_map (DewAsk *self)
{
  if (self->stopped && still_about_this (self))
    return;
  if (self->fits && still_about_this (self))
    {
      /* It may have been told to let go of the sheet while it was away. */
      self->kind->show (self, self->result, TRUE, self->pane);
      mark_taken (self);
      return;
    }
  ask (self);
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

static void
on_stop (DewAsk *self)
{
  dew_errand_cancel (self->errand);
  g_clear_handle_id (&self->calm, g_source_remove);
  self->stopped = TRUE;
  /* What was found for an earlier question is no answer to this one. */
  if (self->result != NULL && !self->fits)
    forget (self);
  if (self->result == NULL)
    say_note (self, _("Stopped before there was an answer."));
  update_strip (self);
  gtk_widget_grab_focus (self->again);
}

/* --- looking at an answer -------------------------------------------------- */

static void
look (DewAsk *self, int answer)
{
  DewForecast *forecast = NULL;
  DewChamber *chamber = NULL;

  g_clear_handle_id (&self->linger, g_source_remove);
  if (self->looking == answer)
    return;
  self->looking = answer;
  if (answer >= 0 && self->fits && still_about_this (self))
    chamber = self->kind->layout (self, answer, dew_document_night (self->document), &forecast,
                                  self->pane);
  if (self->kind->looked != NULL)
    self->kind->looked (self, chamber != NULL ? answer : -1, self->pane);
  if (chamber != NULL)
    {
      g_debug ("advice: %s: look at %d", self->kind->title, answer);
      dew_document_peek (self->document, chamber, forecast);
    }
  else
    dew_document_peek_end (self->document);
}

static gboolean
on_linger (gpointer data)
{
  DewAsk *self = data;

  self->linger = 0;
  look (self, self->hovered);
  return G_SOURCE_REMOVE;
}

static void
hover (DewAsk *self, int answer)
{
  self->hovered = answer;
  g_clear_handle_id (&self->linger, g_source_remove);
  self->linger = g_timeout_add (LINGER_MS, on_linger, self);
}

static int
row_answer (GtkEventController *controller)
{
  GtkWidget *row = gtk_event_controller_get_widget (controller);

  return GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), ANSWER_KEY));
}

static void
on_enter (GtkEventController *motion, double x, double y, gpointer user_data)
{
  hover (user_data, row_answer (motion));
}

static void
on_leave (GtkEventController *motion, gpointer user_data)
{
  hover (user_data, -1);
}

/* Not at once: the sheet must not change in the middle of the focus moving. */
static void
on_focus (GtkEventController *focus, gpointer user_data)
{
  hover (user_data, row_answer (focus));
}

static void
on_blur (GtkEventController *focus, gpointer user_data)
{
  DewAsk *self = user_data;

  if (self->hovered == row_answer (focus))
    hover (self, -1);
}

/* Who changes what is asked means the document, not what is looked at. */
static void
on_head_focus (DewAsk *self)
{
  look (self, -1);
}

gboolean
dew_ask_take (DewAsk *self, int answer)
{
  DewForecast *forecast = NULL;
  DewChamber *chamber;
  Taken taken;
  gboolean changed;

  g_return_val_if_fail (self != NULL, FALSE);

  if (!self->fits || !still_about_this (self))
    return FALSE;
  chamber = self->kind->layout (self, answer, dew_document_night (self->document), &forecast,
                                self->pane);
  if (chamber == NULL)
    return FALSE;
  taken.answer = answer;
  taken.chamber = dew_chamber_copy (chamber);
  g_array_append_val (self->taken, taken);
  self->ours = TRUE;
  g_clear_handle_id (&self->linger, g_source_remove);
  self->looking = -1;
  if (self->kind->looked != NULL)
    self->kind->looked (self, answer, self->pane);
  dew_document_peek (self->document, chamber, forecast);
  changed = dew_document_commit (self->document, _(self->kind->step), NULL);
  self->ours = FALSE;
  mark_taken (self);
  return changed;
}

/* --- the list --------------------------------------------------------------- */

static void
on_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  dew_ask_take (user_data, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), ANSWER_KEY)));
}

GtkWidget *
dew_ask_list_new (DewAsk *self, const char *name)
{
  GtkWidget *list = gtk_list_box_new ();

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "findings");
  dew_name_widget (list, name);
  g_object_set_data (G_OBJECT (list), ASK_KEY, self);
  g_signal_connect (list, "row-activated", G_CALLBACK (on_activated), self);
  g_ptr_array_add (self->lists, list);
  return list;
}

void
dew_ask_list_clear (GtkWidget *list)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (list), row);
}

void
dew_ask_list_add (GtkWidget *list, int answer, int number, const char *title, GtkWidget *words)
{
  DewAsk *self = g_object_get_data (G_OBJECT (list), ASK_KEY);
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *mark = dew_ask_label_new (_("Taken. Undo takes it back."), "taken");
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  if (number > 0)
    {
      g_autofree char *text = g_strdup_printf ("%d", number);
      GtkWidget *disc = gtk_label_new (text);

      gtk_widget_add_css_class (disc, "flag-number");
      gtk_widget_set_valign (disc, GTK_ALIGN_START);
      gtk_box_append (GTK_BOX (box), disc);
    }
  gtk_box_append (GTK_BOX (column), dew_ask_label_new (title, "finding-title"));
  if (words != NULL)
    gtk_box_append (GTK_BOX (column), words);
  gtk_widget_set_visible (mark, FALSE);
  gtk_box_append (GTK_BOX (column), mark);
  gtk_widget_set_hexpand (column, TRUE);
  gtk_box_append (GTK_BOX (box), column);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  dew_name_widget (row, title);
  gtk_widget_add_css_class (row, "answer");
  g_object_set_data (G_OBJECT (row), ANSWER_KEY, GINT_TO_POINTER (answer));
  g_object_set_data (G_OBJECT (row), "dew-taken", mark);
  g_signal_connect (motion, "enter", G_CALLBACK (on_enter), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  g_signal_connect (focus, "enter", G_CALLBACK (on_focus), self);
  g_signal_connect (focus, "leave", G_CALLBACK (on_blur), self);
  gtk_widget_add_controller (row, motion);
  gtk_widget_add_controller (row, focus);
  gtk_list_box_append (GTK_LIST_BOX (list), row);
}

/* --- words ------------------------------------------------------------------ */

GtkWidget *
dew_ask_label_new (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), WRAP_CHARS);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

char *
dew_ask_signed (double value, int digits)
{
  return g_strdup_printf ("%s%.*f", value < 0.0 ? "−" : "+", digits, fabs (value));
}

char *
dew_ask_gain_text (double gain, double band)
{
  g_autofree char *points = dew_ask_signed (100.0 * gain, 1);
  double width = MAX (100.0 * band, 0.1); /* one that rounds to nothing would promise too much */

  if (isnan (band))
    return g_strdup_printf (_("%s of 100 points against now."), points);
  if (gain > band)
    /* Translators: points of a mark from 0 to 100, with the band of the difference. */
    return g_strdup_printf (_("Better than now by %.1f ± %.1f of 100 points."), 100.0 * gain,
                            width);
  if (gain < -band)
    return g_strdup_printf (_("Worse than now by %.1f ± %.1f of 100 points."), -100.0 * gain,
                            width);
  return g_strdup_printf (_("As good as now, within what can be known: %s ± %.1f of 100 points."),
                          points, width);
}

GtkWidget *
dew_ask_fold_new (const char *title, GtkWidget *child)
{
  GtkWidget *fold = gtk_expander_new (title);

  gtk_expander_set_child (GTK_EXPANDER (fold), child);
  dew_name_widget (fold, title);
  return fold;
}

void
dew_ask_add_lines (GtkBox *box, char *const *lines, const char *css_class)
{
  for (guint i = 0; lines != NULL && lines[i] != NULL; i++)
    gtk_box_append (box, dew_ask_label_new (lines[i], css_class));
}

void
dew_ask_empty_box (GtkBox *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
}

/* --- the frame ---------------------------------------------------------------- */

DewDocument *
dew_ask_document (DewAsk *self)
{
  return self->document;
}

const DewChamber *
dew_ask_base (DewAsk *self)
{
  return self->base;
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

GtkBox *
dew_ask_head (DewAsk *self)
{
  return GTK_BOX (self->head);
}

GtkBox *
dew_ask_body (DewAsk *self)
{
  return GTK_BOX (self->body);
}

static GtkWidget *
strip_new (DewAsk *self)
{
  GtkWidget *strip = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *stop = gtk_button_new_with_label (_("Stop"));

  self->doing = dew_ask_label_new ("", "soft");
  gtk_widget_set_hexpand (self->doing, TRUE);
  gtk_button_set_has_frame (GTK_BUTTON (stop), FALSE);
  gtk_widget_add_css_class (stop, "way");
  g_signal_connect_swapped (stop, "clicked", G_CALLBACK (on_stop), self);
  gtk_box_append (GTK_BOX (row), self->doing);
  gtk_box_append (GTK_BOX (row), stop);
  self->bar = gtk_progress_bar_new ();
  gtk_widget_add_css_class (self->bar, "errand");
  gtk_box_append (GTK_BOX (strip), row);
  gtk_box_append (GTK_BOX (strip), self->bar);
  gtk_widget_add_css_class (strip, "errand");
  return strip;
}

static GtkWidget *
back_new (void)
{
  GtkWidget *back = gtk_button_new_with_label (_("‹ Bays and findings"));

  gtk_button_set_has_frame (GTK_BUTTON (back), FALSE);
  gtk_widget_set_halign (back, GTK_ALIGN_START);
  gtk_widget_add_css_class (back, "back");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (back), "win.show-bays");
  return back;
}

static void
on_destroy (GtkWidget *frame, gpointer user_data)
{
  DewAsk *self = user_data;

  g_clear_handle_id (&self->calm, g_source_remove);
  g_clear_handle_id (&self->linger, g_source_remove);
  dew_errand_cancel (self->errand);
  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  self->document = NULL;
}

static void
ask_free (gpointer data)
{
  DewAsk *self = data;

  dew_errand_free (self->errand);
  drop_result (self);
  g_clear_pointer (&self->base, dew_chamber_free);
  g_array_unref (self->taken);
  g_ptr_array_unref (self->lists);
  if (self->free_pane != NULL)
    self->free_pane (self->pane);
  g_free (self);
}

DewAsk *
dew_ask_of (GtkWidget *frame)
{
  return g_object_get_data (G_OBJECT (frame), ASK_KEY);
}

static void
build (DewAsk *self)
{
  GtkWidget *title = dew_ask_label_new (_(self->kind->title), "pane-title");
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_widget_add_css_class (title, "first");
  self->head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (on_head_focus), self);
  gtk_widget_add_controller (self->head, focus);
  self->body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->note = dew_ask_label_new ("", NULL);
  self->said = dew_ask_label_new ("", "foot");
  self->strip = strip_new (self);
  self->again = gtk_button_new_with_label (_("Ask again"));
  gtk_widget_set_halign (self->again, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->again, "way");
  gtk_button_set_has_frame (GTK_BUTTON (self->again), FALSE);
  g_signal_connect_swapped (self->again, "clicked", G_CALLBACK (ask), self);

  gtk_box_append (GTK_BOX (self->frame), back_new ());
  gtk_box_append (GTK_BOX (self->frame), title);
  if (self->kind->purpose != NULL)
    gtk_box_append (GTK_BOX (self->frame), dew_ask_label_new (_(self->kind->purpose), "soft"));
  gtk_box_append (GTK_BOX (self->frame), self->head);
  gtk_box_append (GTK_BOX (self->frame), self->strip);
  gtk_box_append (GTK_BOX (self->frame), self->note);
  gtk_box_append (GTK_BOX (self->frame), self->again);
  gtk_box_append (GTK_BOX (self->frame), self->body);
  gtk_box_append (GTK_BOX (self->frame), self->said);
  say_note (self, NULL);
  dew_ask_say (self, NULL);
  update_strip (self);
}

GtkWidget *
dew_ask_new (DewDocument *document, const DewAskKind *kind, gpointer pane,
             GDestroyNotify free_pane)
{
  DewAsk *self = g_new0 (DewAsk, 1);

  self->document = document;
  self->kind = kind;
  self->pane = pane;
  self->free_pane = free_pane;
  self->looking = self->hovered = -1;
  self->taken = g_array_new (FALSE, FALSE, sizeof (Taken));
  g_array_set_clear_func (self->taken, taken_clear);
  self->lists = g_ptr_array_new ();
  self->errand = dew_errand_new (on_news, self);
  self->frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  g_object_set_data_full (G_OBJECT (self->frame), ASK_KEY, self, ask_free);
  build (self);
  g_signal_connect_swapped (self->frame, "map", G_CALLBACK (on_map), self);
  g_signal_connect_swapped (self->frame, "unmap", G_CALLBACK (on_unmap), self);
  g_signal_connect (self->frame, "destroy", G_CALLBACK (on_destroy), self);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (on_changed), self);
  return self->frame;
}
