/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/findings.h"

#include "document/tongue.h"
#include "say/findings.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#include <math.h>

/* So many are shown at once, and all that are to be acted on. */
#define SHOWN 3

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *list;
  GtkWidget *more;
  gboolean all; /* even those that wait behind "more" */
} Findings;

#define FINDINGS_KEY "dew-findings"
#define INDEX_KEY "dew-finding"

/* --- one finding ---------------------------------------------------------- */

static void
on_finding_enter (GtkEventControllerMotion *motion, double x, double y, gpointer user_data)
{
  Findings *self = user_data;
  GtkWidget *row = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (motion));

  dew_document_light_finding (self->document,
                              GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), INDEX_KEY)));
}

static void
on_finding_leave (GtkEventControllerMotion *motion, gpointer user_data)
{
  Findings *self = user_data;

  dew_document_light_finding (self->document, -1);
}

/* "9 µmol/m²s, the limit is 60 µmol/m²s", or NULL without a number. */
static char *
finding_number (const DewFinding *finding)
{
  g_autofree char *value = NULL, *limit = NULL;

  if (isnan (finding->value) || isnan (finding->threshold))
    return NULL;
  value = dew_finding_measure (finding, dew_tongue (), finding->value);
  limit = dew_finding_measure (finding, dew_tongue (), finding->threshold);
  return g_strdup_printf (_ ("%s, the limit is %s"), value, limit);
}

static GtkWidget *
finding_row_new (Findings *self, const DewFinding *finding, int index)
{
  g_autofree char *number = g_strdup_printf ("%d", index + 1);
  g_autofree char *number_text = finding_number (finding);
  g_autofree char *title = dew_finding_title (dew_document_forecast (self->document), finding);
  g_autofree char *spoken
    = g_strdup_printf ("%d: %s. %s. %s %s", index + 1, title,
                       number_text != NULL ? number_text : "", dew_finding_cause (finding),
                       dew_finding_remedy (finding));
  g_autofree char *tip
    = g_strdup_printf (_ ("Source of the limit: %s"), dew_limit_source (finding->limit));
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *flag = gtk_label_new (number);
  GtkEventController *motion = gtk_event_controller_motion_new ();

  gtk_widget_add_css_class (flag, "flag-number");
  gtk_widget_set_valign (flag, GTK_ALIGN_START);
  if (finding->severity >= 2)
    gtk_widget_add_css_class (flag, "act");
  gtk_box_append (GTK_BOX (box), flag);
  dew_add_words (GTK_BOX (words), title, "finding-title");
  if (number_text != NULL)
    dew_add_words (GTK_BOX (words), number_text, "figure");
  dew_add_words (GTK_BOX (words), dew_finding_cause (finding), "soft");
  dew_add_words (GTK_BOX (words), dew_finding_remedy (finding), "remedy");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (box), words);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_widget_set_tooltip_text (row, tip);
  dew_name_widget (row, spoken);
  g_object_set_data (G_OBJECT (row), INDEX_KEY, GINT_TO_POINTER (index));
  g_signal_connect (motion, "enter", G_CALLBACK (on_finding_enter), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_finding_leave), self);
  gtk_widget_add_controller (row, motion);
  return row;
}

/* --- which are shown ------------------------------------------------------ */

static int
n_shown (const Findings *self, const DewForecast *forecast)
{
  int shown = 0;

  for (int i = 0; i < forecast->n_findings; i++)
    shown += self->all || i < SHOWN || forecast->findings[i].severity >= 2;
  /* One more row says no less than the words that there is one more. */
  return shown == forecast->n_findings - 1 ? forecast->n_findings : shown;
}

static void
show_some (Findings *self, const DewForecast *forecast)
{
  int shown = forecast != NULL ? n_shown (self, forecast) : 0;
  int hidden = forecast != NULL ? forecast->n_findings - shown : 0;
  g_autofree char *words = NULL;

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    gtk_widget_set_visible (row, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), INDEX_KEY))
                                   < shown);
  words = g_strdup_printf (ngettext ("%d more ›", "%d more ›", hidden), hidden);
  gtk_button_set_label (GTK_BUTTON (self->more), words);
  gtk_widget_set_halign (gtk_button_get_child (GTK_BUTTON (self->more)), GTK_ALIGN_START);
  gtk_widget_set_visible (self->more, hidden > 0);
}

static void
on_more (GtkButton *button, gpointer user_data)
{
  Findings *self = user_data;

  self->all = TRUE;
  show_some (self, dew_document_forecast (self->document));
}

void
dew_findings_list_fill (GtkWidget *widget)
{
  Findings *self = g_object_get_data (G_OBJECT (widget), FINDINGS_KEY);
  const DewForecast *forecast = dew_document_forecast (self->document);

  dew_empty (self->list);
  for (int i = 0; forecast != NULL && i < forecast->n_findings; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list),
                         finding_row_new (self, &forecast->findings[i], i));
  show_some (self, forecast);
}

static void
on_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  Findings *self = user_data;
  const DewForecast *forecast = dew_document_forecast (self->document);
  int index = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), INDEX_KEY));
  int bay;
  guint id;

  if (forecast == NULL || index >= forecast->n_findings)
    return;
  bay = forecast->findings[index].bay;
  id = forecast->findings[index].thing_id;
  dew_document_light_finding (self->document, index);
  if (bay >= 0)
    dew_document_set_plan_bay (self->document, bay);
  if (id != 0)
    dew_document_select (self->document, id);
}

static void
on_lit (Findings *self)
{
  int lit = dew_document_lit_finding (self->document);

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    {
      if (GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), INDEX_KEY)) != lit)
        {
          gtk_widget_remove_css_class (row, "lit");
          continue;
        }
      gtk_widget_add_css_class (row, "lit");
      if (!gtk_widget_get_visible (row))
        on_more (NULL, self);
    }
}

GtkWidget *
dew_findings_list_new (DewDocument *document)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Findings *self = g_new0 (Findings, 1);

  self->document = document;
  g_object_set_data_full (G_OBJECT (column), FINDINGS_KEY, self, g_free);
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->list, "findings");
  dew_name_widget (self->list, _ ("What to look at"));
  g_signal_connect (self->list, "row-activated", G_CALLBACK (on_activated), self);
  self->more = gtk_button_new_with_label ("");
  gtk_button_set_has_frame (GTK_BUTTON (self->more), FALSE);
  gtk_widget_add_css_class (self->more, "way");
  g_signal_connect (self->more, "clicked", G_CALLBACK (on_more), self);
  gtk_box_append (GTK_BOX (column), self->list);
  gtk_box_append (GTK_BOX (column), self->more);
  dew_follow (document, "view", G_CALLBACK (on_lit), self, column);
  dew_tongue_connect (G_OBJECT (column), G_CALLBACK (dew_findings_list_fill));
  return column;
}
