/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/overview.h"

#include "paint/palette.h"
#include "paint/sheet.h"
#include "panes/names.h"

#include <math.h>
#include <string.h>

/* Columns of the table of bays, beside the name. The unit stands in the head. */
static const struct
{
  DewValue    value;
  const char *heading;
  const char *spoken;
} columns[] = {
  { DEW_VALUE_RH, "humid", "humidity" },
  { DEW_VALUE_TEMPERATURE, "warm", "temperature" },
  { DEW_VALUE_VPD, "VPD", "vapour pressure deficit" },
  { DEW_VALUE_SPEED, "air", "air speed" },
  { DEW_N_VALUES, "still", "share of still air" }, /* not a field, but a share of the bay */
  { DEW_VALUE_AGE, "age", "age of the air" },
};

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget   *bays;     /* list */
  GtkWidget   *findings; /* list */
  GtkWidget   *findings_title;
  GtkWidget   *notice;   /* why there is nothing to show, or what goes well */
  GtkWidget   *mend;     /* the way to the thing that is in the way */
  GtkWidget   *table;    /* round the bays, with their headings */
  GtkWidget   *foot;
  GPtrArray   *groups;   /* GtkSizeGroup, one per column */
  int          n_rows;   /* bays in the table */
} Overview;

static GtkWidget *
label_new (const char *text, const char *css_class, float xalign)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

static GtkWidget *
wrapped_new (const char *text, const char *css_class)
{
  GtkWidget *label = label_new (text, css_class, 0.0f);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 32);
  return label;
}

static void
clear_list (GtkWidget *list)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (list), row);
}

/* --- bays -------------------------------------------------------------- */

/* One bay. Kept from forecast to forecast: while something is dragged the
 * numbers change thirty times a second. */
typedef struct
{
  GtkWidget *number[G_N_ELEMENTS (columns)];
  GtkWidget *band[G_N_ELEMENTS (columns)];
} BayRow;

#define BAY_KEY "dew-bay"
#define CELLS_KEY "dew-cells"

/* Ages have the unit beside the number, as they span seconds to hours. */
static const char *
column_unit (guint column)
{
  if (columns[column].value == DEW_VALUE_AGE)
    return "";
  if (columns[column].value == DEW_N_VALUES)
    return "%";
  return dew_value_unit (columns[column].value, FALSE);
}

/* With the unit, for ears. */
static char *
column_text (guint column, const DewClimate *mean, double *band)
{
  if (columns[column].value == DEW_N_VALUES)
    {
      *band = mean->still_band;
      return g_strdup_printf ("%.0f %%", 100.0 * mean->still_share);
    }
  return dew_value_text (columns[column].value,
                         dew_climate_value (mean, columns[column].value, band), FALSE);
}

static GtkWidget *
headings_new (Overview *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *corner = label_new ("", NULL, 0.0f);

  gtk_size_group_add_widget (g_ptr_array_index (self->groups, 0), corner);
  gtk_box_append (GTK_BOX (row), corner);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      g_autofree char *text = g_strdup_printf ("%s\n%s", columns[i].heading, column_unit (i));
      GtkWidget *heading = label_new (text, "heading-soft", 1.0f);

      gtk_label_set_justify (GTK_LABEL (heading), GTK_JUSTIFY_RIGHT);
      gtk_widget_set_hexpand (heading, TRUE);
      gtk_size_group_add_widget (g_ptr_array_index (self->groups, i + 1), heading);
      gtk_box_append (GTK_BOX (row), heading);
    }
  gtk_widget_add_css_class (row, "headings");
  return row;
}

static GtkWidget *
bay_row_new (Overview *self, int bay, int n_bays)
{
  g_autofree char *name = dew_bay_name (bay, n_bays);
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *title = label_new (NULL, "bay-name", 0.0f);
  BayRow *cells = g_new0 (BayRow, 1);
  char *space = strchr (name, ' ');

  /* The heading says already that these are bays. */
  if (space != NULL)
    *space = '\0';
  gtk_label_set_text (GTK_LABEL (title), name);
  gtk_widget_set_valign (title, GTK_ALIGN_START);
  gtk_size_group_add_widget (g_ptr_array_index (self->groups, 0), title);
  gtk_box_append (GTK_BOX (box), title);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      GtkWidget *cell = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

      cells->number[i] = label_new ("", "figure", 1.0f);
      cells->band[i] = label_new ("", "band", 1.0f);
      gtk_box_append (GTK_BOX (cell), cells->number[i]);
      gtk_box_append (GTK_BOX (cell), cells->band[i]);
      gtk_widget_set_hexpand (cell, TRUE);
      gtk_size_group_add_widget (g_ptr_array_index (self->groups, i + 1), cell);
      gtk_box_append (GTK_BOX (box), cell);
    }
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  g_object_set_data (G_OBJECT (row), BAY_KEY, GINT_TO_POINTER (bay));
  g_object_set_data_full (G_OBJECT (row), CELLS_KEY, cells, g_free);
  return row;
}

static void
bay_row_fill (GtkWidget *row, const DewClimate *mean, int n_bays)
{
  BayRow *cells = g_object_get_data (G_OBJECT (row), CELLS_KEY);
  int bay = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), BAY_KEY));
  g_autofree char *name = dew_bay_name (bay, n_bays);
  g_autoptr (GString) spoken = g_string_new (name);

  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      double band;
      g_autofree char *text = column_text (i, mean, &band);
      /* The share of still air is in percent like humidity. */
      DewValue kind = columns[i].value == DEW_N_VALUES ? DEW_VALUE_RH : columns[i].value;
      g_autofree char *band_text = isnan (band) ? NULL : dew_band_text (kind, band, FALSE);
      g_autofree char *number = g_strdup (text);
      char *unit = strrchr (number, ' ');

      if (unit != NULL && strcmp (unit + 1, column_unit (i)) == 0)
        *unit = '\0';
      gtk_label_set_text (GTK_LABEL (cells->number[i]), number);
      gtk_label_set_text (GTK_LABEL (cells->band[i]), band_text != NULL ? band_text : "");
      gtk_widget_set_visible (cells->band[i], band_text != NULL);
      g_string_append_printf (spoken, ", %s %s %s", columns[i].spoken, text,
                              band_text != NULL ? band_text : "");
    }
  dew_name_widget (row, spoken->str);
}

static void
show_plan_bay (Overview *self)
{
  for (GtkWidget *row = gtk_widget_get_first_child (self->bays); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    {
      if (GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), BAY_KEY))
          == dew_document_plan_bay (self->document))
        gtk_list_box_select_row (GTK_LIST_BOX (self->bays), GTK_LIST_BOX_ROW (row));
    }
}

static void
fill_bays (Overview *self)
{
  const DewForecast *forecast = dew_document_forecast (self->document);
  int n_bays = forecast != NULL ? forecast->n_bays : 0;

  if (n_bays != self->n_rows)
    {
      clear_list (self->bays);
      /* As on the sheet: the top one first. */
      for (int bay = n_bays - 1; bay >= 0; bay--)
        gtk_list_box_append (GTK_LIST_BOX (self->bays), bay_row_new (self, bay, n_bays));
      self->n_rows = n_bays;
      show_plan_bay (self);
    }
  for (GtkWidget *row = gtk_widget_get_first_child (self->bays); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    {
      int bay = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), BAY_KEY));

      bay_row_fill (row, &forecast->bays[bay].mean, n_bays);
    }
}

static void
on_bay_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  Overview *self = user_data;

  dew_document_set_plan_bay (self->document,
                             GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), BAY_KEY)));
}

/* --- findings ---------------------------------------------------------- */

static void
on_finding_enter (GtkEventControllerMotion *motion, double x, double y, gpointer user_data)
{
  Overview *self = user_data;
  GtkWidget *row = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (motion));

  dew_document_light_finding (self->document,
                              GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row),
                                                                  "dew-finding")));
}

static void
on_finding_leave (GtkEventControllerMotion *motion, gpointer user_data)
{
  Overview *self = user_data;

  dew_document_light_finding (self->document, -1);
}

/* Some units come in plain letters, as they also go to terminals. */
static const char *
finding_unit (const DewFinding *finding)
{
  if (finding->kind == DEW_FINDING_DARK || finding->kind == DEW_FINDING_BRIGHT)
    return dew_value_unit (DEW_VALUE_PPFD, FALSE);
  return finding->unit;
}

/* Two figures: what a forecast can answer for. */
static char *
figure_text (double value)
{
  int decimals = fabs (value) >= 10.0 ? 0 : fabs (value) >= 1.0 ? 1 : 2;

  return g_strdup_printf ("%.*f", decimals, value);
}

/* "9 µmol/m²s, the limit is 60 µmol/m²s", or NULL without a number. */
static char *
finding_number (const DewFinding *finding)
{
  if (isnan (finding->value) || isnan (finding->threshold) || finding->unit[0] == '\0')
    return NULL;

  g_autofree char *value = figure_text (finding->value);
  g_autofree char *limit = figure_text (finding->threshold);

  return g_strdup_printf ("%s %s, the limit is %s %s", value, finding_unit (finding), limit,
                          finding_unit (finding));
}

static GtkWidget *
finding_row_new (Overview *self, const DewFinding *finding, int index)
{
  g_autofree char *number = g_strdup_printf ("%d", index + 1);
  g_autofree char *number_text = finding_number (finding);
  g_autofree char *spoken
    = g_strdup_printf ("%d: %s. %s. %s %s", index + 1, finding->title,
                       number_text != NULL ? number_text : "", finding->cause, finding->remedy);
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *flag = label_new (number, "flag-number", 0.5f);
  GtkEventController *motion = gtk_event_controller_motion_new ();

  gtk_widget_set_valign (flag, GTK_ALIGN_START);
  if (finding->severity >= 2)
    gtk_widget_add_css_class (flag, "act");
  gtk_box_append (GTK_BOX (box), flag);
  gtk_box_append (GTK_BOX (words), wrapped_new (finding->title, "finding-title"));
  if (number_text != NULL)
    gtk_box_append (GTK_BOX (words), wrapped_new (number_text, "figure"));
  if (finding->cause[0] != '\0')
    gtk_box_append (GTK_BOX (words), wrapped_new (finding->cause, "soft"));
  if (finding->remedy[0] != '\0')
    gtk_box_append (GTK_BOX (words), wrapped_new (finding->remedy, "remedy"));
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (box), words);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  if (finding->source[0] != '\0')
    {
      g_autofree char *tip = g_strdup_printf ("Threshold: %s", finding->source);

      gtk_widget_set_tooltip_text (row, tip);
    }
  dew_name_widget (row, spoken);
  g_object_set_data (G_OBJECT (row), "dew-finding", GINT_TO_POINTER (index));
  g_signal_connect (motion, "enter", G_CALLBACK (on_finding_enter), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_finding_leave), self);
  gtk_widget_add_controller (row, motion);
  return row;
}

static void
fill_findings (Overview *self)
{
  const DewForecast *forecast = dew_document_forecast (self->document);

  clear_list (self->findings);
  for (int i = 0; forecast != NULL && i < forecast->n_findings; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->findings),
                         finding_row_new (self, &forecast->findings[i], i));
}

static void
on_finding_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  Overview *self = user_data;
  const DewForecast *forecast = dew_document_forecast (self->document);
  int index = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), "dew-finding"));
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
on_lit (Overview *self)
{
  int lit = dew_document_lit_finding (self->document);

  for (GtkWidget *row = gtk_widget_get_first_child (self->findings); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    {
      if (GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), "dew-finding")) == lit)
        gtk_widget_add_css_class (row, "lit");
      else
        gtk_widget_remove_css_class (row, "lit");
    }
  show_plan_bay (self);
}

static void
on_mend (GtkButton *button, gpointer user_data)
{
  Overview *self = user_data;
  guint culprit;

  if (dew_document_obstacle (self->document, &culprit) != NULL)
    dew_document_select (self->document, culprit);
}

/* --- whole ------------------------------------------------------------- */

static void
say (Overview *self, const DewForecast *forecast)
{
  g_autofree char *text = NULL;
  guint culprit;
  const char *obstacle = dew_document_obstacle (self->document, &culprit);

  gtk_widget_set_visible (self->findings_title, forecast != NULL);
  gtk_widget_set_visible (self->table, forecast != NULL);
  gtk_widget_set_visible (self->foot, forecast != NULL);
  gtk_widget_set_visible (self->mend, forecast == NULL && obstacle != NULL && culprit != 0);
  if (forecast == NULL && obstacle != NULL)
    text = g_strdup_printf ("No forecast of this is possible. %s.", obstacle);
  else if (forecast == NULL)
    text = g_strdup ("The first forecast is being worked out.");
  else if (forecast->n_findings == 0)
    text = g_strdup ("Nothing stands out: no still corner, no drip, nothing too dry or too warm.");
  gtk_label_set_text (GTK_LABEL (self->notice), text != NULL ? text : "");
  gtk_widget_set_visible (self->notice, text != NULL);
}

static void
on_forecast (Overview *self)
{
  const DewForecast *forecast = dew_document_forecast (self->document);

  fill_bays (self);
  if (dew_document_lags (self->document))
    gtk_widget_add_css_class (self->bays, "lagging");
  else
    gtk_widget_remove_css_class (self->bays, "lagging");
  /* Findings of a half-way state would come and go under the eye. */
  if (forecast == NULL || !dew_document_lags (self->document))
    fill_findings (self);
  say (self, forecast);
}

static void
overview_free (gpointer data)
{
  Overview *self = data;

  g_ptr_array_unref (self->groups);
  g_free (self);
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
  gtk_widget_add_css_class (button, "way");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

GtkWidget *
dew_overview_new (DewDocument *document)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *table = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Overview *self = g_new0 (Overview, 1);

  self->document = document;
  self->groups = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i <= G_N_ELEMENTS (columns); i++)
    g_ptr_array_add (self->groups, gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL));
  g_object_set_data_full (G_OBJECT (column), "dew-overview", self, overview_free);

  self->bays = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->bays), GTK_SELECTION_SINGLE);
  gtk_widget_add_css_class (self->bays, "bays");
  dew_name_widget (self->bays, "Bays, from the top");
  g_signal_connect (self->bays, "row-activated", G_CALLBACK (on_bay_activated), self);

  self->findings_title = label_new ("What to look at", "pane-title", 0.0f);
  self->notice = wrapped_new ("", "soft");
  self->findings = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->findings), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->findings, "findings");
  dew_name_widget (self->findings, "What to look at");
  g_signal_connect (self->findings, "row-activated", G_CALLBACK (on_finding_activated), self);
  self->foot = wrapped_new ("A forecast is a prediction with error. ± is where the value is "
                            "expected, given what is not known of the enclosure.",
                            "foot");

  gtk_box_append (GTK_BOX (column), label_new ("Bays", "pane-title", 0.0f));
  gtk_widget_add_css_class (gtk_widget_get_first_child (column), "first");
  gtk_box_append (GTK_BOX (table), headings_new (self));
  gtk_box_append (GTK_BOX (table), self->bays);
  self->table = dew_wide_new (table, "Table of bays");
  gtk_box_append (GTK_BOX (column), self->table);
  gtk_box_append (GTK_BOX (column), self->findings_title);
  gtk_box_append (GTK_BOX (column), self->notice);
  self->mend = way_new ("Go to its numbers ›", NULL);
  g_signal_connect (self->mend, "clicked", G_CALLBACK (on_mend), self);
  gtk_box_append (GTK_BOX (column), self->mend);
  gtk_box_append (GTK_BOX (column), self->findings);
  gtk_box_append (GTK_BOX (column), label_new ("Surroundings", "pane-title", 0.0f));
  gtk_box_append (GTK_BOX (column), way_new ("Enclosure and cover ›", "win.show-enclosure"));
  gtk_box_append (GTK_BOX (column), way_new ("Room it stands in ›", "win.show-room"));
  gtk_box_append (GTK_BOX (column), self->foot);

  g_signal_connect_swapped (document, "forecast", G_CALLBACK (on_forecast), self);
  g_signal_connect_swapped (document, "view", G_CALLBACK (on_lit), self);
  g_signal_connect (column, "destroy", G_CALLBACK (on_destroy), self);
  on_forecast (self);
  return column;
}
