/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/overview.h"

#include "panes/bays.h"
#include "panes/findings.h"
#include "widgets/names.h"
#include "panes/plants.h"

#include <glib/gi18n.h>

/* What the program can be asked, in the order in which an enclosure is made. */
static const struct
{
  const char *question;
  const char *action;
} questions[] = {
  { N_ ("Where should the fan blow?"), "win.ask-fan" },
  { N_ ("How much water does it take?"), "win.ask-moisture" },
  { N_ ("Which plant stands where?"), "win.ask-plants" },
  { N_ ("Cut or not?"), "win.ask-cut" },
  { N_ ("Compare variants"), "win.compare" },
};

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *bays;
  GtkWidget *findings;
  GtkWidget *findings_title;
  int n_listed; /* findings in the list, which waits for a forecast that keeps up */
  GtkWidget *plants;
  GtkWidget *notice; /* why there is nothing to show, or what goes well */
  GtkWidget *mend;   /* the way to the thing that is in the way */
  GtkWidget *foot;
} Overview;

static GtkWidget *
title_new (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_widget_add_css_class (label, "pane-title");
  return label;
}

static GtkWidget *
wrapped_new (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 32);
  gtk_widget_add_css_class (label, css_class);
  return label;
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
  g_autofree char *text = NULL;
  guint culprit;
  const char *obstacle = dew_document_obstacle (self->document, &culprit);

  gtk_widget_set_visible (self->findings_title, forecast != NULL);
  gtk_widget_set_visible (self->bays, forecast != NULL);
  gtk_widget_set_visible (self->foot, forecast != NULL);
  gtk_widget_set_visible (self->mend, forecast == NULL && obstacle != NULL && culprit != 0);
  if (forecast == NULL && obstacle != NULL)
    /* Translators: %s is a sentence about what is in the way, without its full stop. */
    text = g_strdup_printf (_ ("No forecast of this is possible. %s."), obstacle);
  else if (forecast == NULL)
    text = g_strdup (_ ("The first forecast is being worked out."));
  else if (forecast->n_findings == 0)
    text = g_strdup (_ ("Nothing stands out: no still corner, no drip, nothing too dry or too "
                        "warm."));
  else if (self->n_listed == 0)
    text = g_strdup (_ ("Being worked out; what stands out follows here."));
  gtk_label_set_text (GTK_LABEL (self->notice), text != NULL ? text : "");
  gtk_widget_set_visible (self->notice, text != NULL);
}

static void
on_forecast (Overview *self)
{
  const DewForecast *forecast = dew_document_forecast (self->document);

  dew_bays_fill (self->bays);
  /* Words of a half-way state would come and go under the eye. */
  if (forecast == NULL || !dew_document_lags (self->document))
    {
      dew_findings_list_fill (self->findings);
      self->n_listed = forecast != NULL ? forecast->n_findings : 0;
      dew_plants_fill (self->plants);
    }
  say (self, forecast);
}

static void
on_destroy (GtkWidget *widget, gpointer user_data)
{
  Overview *self = user_data;

  g_signal_handlers_disconnect_by_data (self->document, self);
}

static GtkWidget *
way_new (const char *label, const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_halign (gtk_button_get_child (GTK_BUTTON (button)), GTK_ALIGN_START);
  gtk_label_set_wrap (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))), TRUE);
  gtk_label_set_xalign (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))), 0.0f);
  gtk_widget_add_css_class (button, "way");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

static void
add_questions (GtkBox *column)
{
  gtk_box_append (column, title_new (_ ("Ask")));
  for (guint i = 0; i < G_N_ELEMENTS (questions); i++)
    {
      /* Translators: a way to another page; %s is what it leads to. */
      g_autofree char *text = g_strdup_printf (_ ("%s ›"), _ (questions[i].question));

      GtkWidget *way = way_new (text, questions[i].action);

      gtk_widget_add_css_class (way, "question");
      gtk_box_append (column, way);
    }
}

GtkWidget *
dew_overview_new (DewDocument *document)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *title = title_new (_ ("Shelves"));
  Overview *self = g_new0 (Overview, 1);

  self->document = document;
  g_object_set_data_full (G_OBJECT (column), "dew-overview", self, g_free);
  self->bays = dew_bays_new (document);
  self->findings_title = title_new (_ ("What to look at"));
  self->notice = wrapped_new ("", "soft");
  self->findings = dew_findings_list_new (document);
  self->plants = dew_plants_new (document);
  self->mend = way_new (_ ("Go to its numbers ›"), NULL);
  g_signal_connect (self->mend, "clicked", G_CALLBACK (on_mend), self);
  self->foot = wrapped_new (_ ("A forecast is a prediction with error. ± is where the value is "
                               "expected, given what is not known of the enclosure."),
                            "foot");

  gtk_widget_add_css_class (title, "first");
  gtk_box_append (GTK_BOX (column), title);
  gtk_box_append (GTK_BOX (column), self->bays);
  gtk_box_append (GTK_BOX (column), self->findings_title);
  gtk_box_append (GTK_BOX (column), self->notice);
  gtk_box_append (GTK_BOX (column), self->mend);
  gtk_box_append (GTK_BOX (column), self->findings);
  add_questions (GTK_BOX (column));
  gtk_box_append (GTK_BOX (column), self->plants);
  gtk_box_append (GTK_BOX (column), title_new (_ ("Surroundings")));
  gtk_box_append (GTK_BOX (column), way_new (_ ("Enclosure and cover ›"), "win.show-enclosure"));
  gtk_box_append (GTK_BOX (column), way_new (_ ("Room it stands in ›"), "win.show-room"));
  gtk_box_append (GTK_BOX (column), self->foot);

  g_signal_connect_swapped (document, "forecast", G_CALLBACK (on_forecast), self);
  g_signal_connect (column, "destroy", G_CALLBACK (on_destroy), self);
  on_forecast (self);
  return column;
}
