/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/overview.h"

#include "panes/bays.h"
#include "panes/findings.h"
#include "panes/plants.h"
#include "questions/ask.h"
#include "say/findings.h"
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
  GtkWidget *notice; /* why there is nothing to show, or what goes well */
  GtkWidget *mend;   /* the way to the thing that is in the way */
  GtkWidget *foot;
} Overview;

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
  gtk_widget_set_visible (self->findings, self->n_listed > 0);
  if (obstacle != NULL)
    {
      verdict = g_strdup (_ ("This cannot be forecast"));
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
  self->mend = add_way (column, _ ("Go to its numbers ›"), NULL);
  g_signal_connect (self->mend, "clicked", G_CALLBACK (on_mend), self);
  gtk_box_append (column, self->findings);
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
