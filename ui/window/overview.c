/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/overview.h"

#include "document/edit.h"
#include "document/tongue.h"
#include "edit/place.h"
#include "geometry/geometry.h"
#include "panes/bays.h"
#include "panes/findings.h"
#include "panes/plants.h"
#include "questions/ask.h"
#include "say/findings.h"
#include "say/problems.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *bays;
  GtkWidget *findings;
  GtkWidget *verdict; /* all of it in one sentence */
  int n_listed;       /* findings in the list, which waits for a forecast that keeps up */
  GtkWidget *plants;
  GtkWidget *notice;  /* why there is nothing to show, or what goes well */
  GtkWidget *mend;    /* the way to the thing that is in the way */
  GtkWidget *move_in; /* and what puts it right, where a move does */
  GtkWidget *doubts;  /* what is possible but odd */
  GtkWidget *foot;
} Overview;

/* Everything that is in the way, or all that is odd, a line each; NULL: nothing. */
static char *
all_words (GArray *problems)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < problems->len; i++)
    {
      g_autofree char *words
        = dew_problem_text (&g_array_index (problems, DewProblem, i), dew_tongue ());

      g_string_append_printf (text, "%s%s.", i > 0 ? "\n" : "", words);
    }
  return text->len > 0 ? g_strdup (text->str) : NULL;
}

static char *
reasons (Overview *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  g_autoptr (GArray) problems
    = chamber != NULL ? dew_chamber_check (chamber, chamber->shown_variant) : NULL;

  return problems != NULL ? all_words (problems) : NULL;
}

static void
show_doubts (Overview *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  g_autoptr (GArray) doubts
    = chamber != NULL ? dew_chamber_doubts (chamber, chamber->shown_variant) : NULL;
  g_autofree char *text = doubts != NULL ? all_words (doubts) : NULL;

  gtk_label_set_text (GTK_LABEL (self->doubts), text != NULL ? text : "");
  gtk_widget_set_visible (self->doubts, text != NULL);
}

static void
on_move_in (GtkButton *button, gpointer user_data)
{
  Overview *self = user_data;
  g_autoptr (DewEdit) edit = NULL;
  const DewThing *thing;
  guint culprit;

  if (dew_document_obstacle (self->document, &culprit) == NULL || culprit == 0)
    return;
  edit = dew_document_edit_begin (self->document);
  if (edit == NULL
      || !dew_variant_move_in (dew_edit_chamber (edit), dew_edit_variant (edit), culprit))
    return;
  thing = dew_variant_thing (dew_edit_variant (edit), culprit);
  {
    /* Translators: an undo step; %s is a thing's name. */
    g_autofree char *label = g_strdup_printf (_ ("Move %s in"), thing->name);

    dew_edit_commit (edit, label, NULL);
  }
}

/* Whether it would help, tried on a copy. */
static gboolean
can_move_in (Overview *self, guint id)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  g_autoptr (DewChamber) copy = NULL;
  g_autoptr (GArray) before = NULL, after = NULL;

  if (chamber == NULL || id == 0)
    return FALSE;
  copy = dew_chamber_copy (chamber);
  if (!dew_variant_move_in (copy, dew_chamber_shown (copy), id))
    return FALSE;
  before = dew_chamber_check (chamber, chamber->shown_variant);
  after = dew_chamber_check (copy, copy->shown_variant);
  return after->len < before->len;
}

static void
on_mend (GtkButton *button, gpointer user_data)
{
  Overview *self = user_data;
  guint culprit;

  if (dew_document_obstacle (self->document, &culprit) != NULL)
    dew_document_select (self->document, culprit);
}

static void
say (Overview *self, const DewForecast *forecast)
{
  g_autofree char *text = NULL, *verdict = NULL;
  guint culprit;
  const char *obstacle = dew_document_obstacle (self->document, &culprit);
  const DewVariant *variant = dew_document_variant (self->document);

  gtk_widget_set_visible (self->bays, forecast != NULL);
  gtk_widget_set_visible (self->foot, forecast != NULL);
  gtk_widget_set_visible (self->mend, obstacle != NULL && culprit != 0);
  gtk_widget_set_visible (self->move_in, obstacle != NULL && can_move_in (self, culprit));
  gtk_widget_set_visible (self->findings, self->n_listed > 0);
  if (obstacle != NULL)
    {
      verdict = g_strdup (_ ("This cannot be forecast"));
      text = reasons (self);
      if (text == NULL)
        /* Translators: %s is a sentence about what is in the way, without its full stop. */
        text = g_strdup_printf (_ ("%s."), obstacle);
    }
  else if (forecast == NULL)
    verdict = g_strdup (_ ("The first forecast is being worked out"));
  else if (variant != NULL && variant->things->len == 0)
    {
      verdict = g_strdup (_ ("Nothing is in it yet"));
      text = g_strdup (_ ("Drag things from the left onto the drawing; each is forecast at once."));
    }
  else
    verdict = dew_forecast_verdict_text (forecast);
  if (obstacle == NULL && text == NULL && forecast != NULL && forecast->n_findings == 0)
    text = g_strdup (_ ("Nothing stands out: no still corner, no drip, nothing too dry or too "
                        "warm."));
  else if (obstacle == NULL && text == NULL && forecast != NULL && self->n_listed == 0)
    text = g_strdup (_ ("Being worked out; what stands out follows here."));
  gtk_label_set_text (GTK_LABEL (self->verdict), verdict);
  gtk_label_set_text (GTK_LABEL (self->notice), text != NULL ? text : "");
  gtk_widget_set_visible (self->notice, text != NULL);
}

static void
on_forecast (Overview *self)
{
  const DewForecast *forecast = dew_document_forecast (self->document);
  const DewVariant *variant = dew_document_variant (self->document);
  /* Findings of what is gone would stay under 'nothing is in it yet'. */
  gboolean empty = variant == NULL || variant->things->len == 0;

  dew_bays_fill (self->bays);
  /* Words of a half-way state would come and go under the eye. */
  if (forecast == NULL || !dew_document_lags (self->document))
    {
      dew_findings_list_fill (self->findings);
      self->n_listed = forecast != NULL ? forecast->n_findings : 0;
      dew_plants_fill (self->plants);
    }
  if (empty)
    self->n_listed = 0;
  if (dew_document_lags (self->document))
    gtk_widget_add_css_class (self->findings, "lagging");
  else
    gtk_widget_remove_css_class (self->findings, "lagging");
  show_doubts (self);
  say (self, forecast);
}

/* As wide as the pane, so that the whole line can be pressed. */
static GtkWidget *
add_way (GtkBox *column, const char *label, const char *action)
{
  GtkWidget *way = dew_way_new (label, "way", action);

  gtk_widget_set_halign (way, GTK_ALIGN_FILL);
  gtk_box_append (column, way);
  return way;
}

static void
add_question (GtkBox *column, const char *question, const char *action)
{
  /* Translators: a way to another page; %s is what it leads to. */
  g_autofree char *text = g_strdup_printf (_ ("%s ›"), question);

  gtk_widget_add_css_class (add_way (column, text, action), "question");
}

GtkWidget *
dew_overview_new (DewDocument *document)
{
  GtkBox *column = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));
  Overview *self = g_new0 (Overview, 1);

  self->document = document;
  g_object_set_data_full (G_OBJECT (column), "dew-overview", self, g_free);
  self->bays = dew_bays_new (document);
  self->verdict = dew_words_new (NULL, "pane-title");
  gtk_widget_add_css_class (self->verdict, "first");
  self->notice = dew_words_new (NULL, "soft");
  self->findings = dew_findings_list_new (document);
  self->plants = dew_plants_new (document);
  self->foot = dew_words_new (_ ("A forecast is a prediction with error. ± is where the value is "
                                 "expected, given what is not known of the enclosure."),
                              "foot");

  gtk_box_append (column, self->verdict);
  gtk_box_append (column, self->notice);
  self->move_in = gtk_button_new_with_label (_ ("Move it in"));
  gtk_widget_set_halign (self->move_in, GTK_ALIGN_START);
  g_signal_connect (self->move_in, "clicked", G_CALLBACK (on_move_in), self);
  gtk_box_append (column, self->move_in);
  self->mend = add_way (column, _ ("Go to its numbers ›"), NULL);
  g_signal_connect (self->mend, "clicked", G_CALLBACK (on_mend), self);
  gtk_box_append (column, self->findings);
  self->doubts = dew_words_new (NULL, "remedy");
  gtk_box_append (column, self->doubts);
  dew_add_words (column, _ ("Shelves"), "pane-title");
  gtk_box_append (column, self->bays);
  dew_add_words (column, _ ("Ask"), "pane-title");
  for (guint i = 0; i < dew_n_questions (); i++)
    add_question (column, dew_question_title (i), dew_question_action (i));
  add_question (column, _ ("Compare variants"), "win.compare");
  gtk_box_append (column, self->plants);
  dew_add_words (column, _ ("Surroundings"), "pane-title");
  add_way (column, _ ("Enclosure and cover ›"), "win.show-enclosure");
  add_way (column, _ ("Room it stands in ›"), "win.show-room");
  gtk_box_append (column, self->foot);

  dew_follow (document, "forecast", G_CALLBACK (on_forecast), self, GTK_WIDGET (column));
  on_forecast (self);
  return GTK_WIDGET (column);
}
