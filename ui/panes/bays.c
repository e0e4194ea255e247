/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/bays.h"

#include "document/tongue.h"
#include "forecast/members.h"
#include "paint/palette.h"
#include "paint/sheet.h"
#include "say/findings.h"
#include "widgets/cells.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "panes/places.h"
#include "say/where.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

/* Columns of the table, beside the name. The unit stands in the head. rank: see
 * dew_cells_append(). */
static const struct
{
  DewClimateRow row;
  const char *heading;
  const char *spoken;
  int rank;
} columns[] = {
  { DEW_CLIMATE_RH, NC_ ("column", "humid"), N_ ("humidity"), 0 },
  { DEW_CLIMATE_T, NC_ ("column", "warm"), N_ ("temperature"), 1 },
  /* Translators: vapour pressure deficit, the short form that growers use. */
  { DEW_CLIMATE_VPD, NC_ ("column", "VPD"), N_ ("vapour pressure deficit"), 5 },
  { DEW_CLIMATE_SPEED, NC_ ("column", "air"), N_ ("air speed"), 2 },
  { DEW_CLIMATE_STILL, NC_ ("column", "still"), N_ ("share of still air"), 4 },
  { DEW_CLIMATE_AGE, NC_ ("column", "age"), N_ ("age of the air"), 3 },
};

#define N_COLUMNS ((int) G_N_ELEMENTS (columns))

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *list;
  GtkWidget *heading[G_N_ELEMENTS (columns)];
  GtkWidget *places; /* in the row that is open */
  GtkSizeGroup *group[1 + G_N_ELEMENTS (columns)];
  int n_rows;
  int open; /* bay whose places are shown, or -1 */
} Bays;

/* One bay. Kept from forecast to forecast: while something is dragged the
 * numbers change thirty times a second. */
typedef struct
{
  int bay;
  GtkWidget *arrow;
  GtkWidget *verdict;
  GtkWidget *number[G_N_ELEMENTS (columns)];
  GtkWidget *band[G_N_ELEMENTS (columns)];
  GtkWidget *below; /* where the places go */
} BayRow;

#define BAYS_KEY "dew-bays"
#define ROW_KEY "dew-bay-row"

static GtkWidget *
label_new (const char *text, const char *css_class, float xalign)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

static BayRow *
row_of (GtkWidget *row)
{
  return g_object_get_data (G_OBJECT (row), ROW_KEY);
}

/* --- columns ----------------------------------------------------------------- */

/* Ages have the unit beside the number, as they span seconds to hours. */
static const char *
column_unit (int column)
{
  DewValue value = dew_climate_members[columns[column].row].of;

  return value == DEW_VALUE_AGE ? "" : dew_value_unit (value, dew_tongue ());
}

static void
name_headings (Bays *self)
{
  for (int i = 0; i < N_COLUMNS; i++)
    {
      g_autofree char *text
        = g_strdup_printf ("%s\n%s", g_dpgettext2 (NULL, "column", columns[i].heading),
                           column_unit (i));

      gtk_label_set_text (GTK_LABEL (self->heading[i]), text);
    }
}

static GtkWidget *
headings_new (Bays *self)
{
  GtkWidget *row = dew_cells_new ();
  GtkWidget *corner = label_new ("", NULL, 0.0f);

  gtk_size_group_add_widget (self->group[0], corner);
  dew_cells_append (DEW_CELLS (row), corner, 0, FALSE);
  for (int i = 0; i < N_COLUMNS; i++)
    {
      self->heading[i] = label_new ("", "heading-soft", 1.0f);
      gtk_label_set_justify (GTK_LABEL (self->heading[i]), GTK_JUSTIFY_RIGHT);
      gtk_size_group_add_widget (self->group[i + 1], self->heading[i]);
      dew_cells_append (DEW_CELLS (row), self->heading[i], columns[i].rank, TRUE);
    }
  name_headings (self);
  gtk_widget_add_css_class (row, "headings");
  return row;
}

/* --- rows ---------------------------------------------------------------------- */

/* The heading says already that these are shelves. */
static char *
short_name (int bay, int n_bays)
{
  static const char *const names[]
    = { NC_ ("shelf", "Floor"), NC_ ("shelf", "Lowest"),  NC_ ("shelf", "Second"),
        NC_ ("shelf", "Third"), NC_ ("shelf", "Fourth"),  NC_ ("shelf", "Fifth"),
        NC_ ("shelf", "Sixth"), NC_ ("shelf", "Seventh"), NC_ ("shelf", "Eighth") };

  if (n_bays == 1)
    return dew_bay_name (bay, n_bays);
  if (bay < (int) G_N_ELEMENTS (names))
    return g_strdup (g_dpgettext2 (NULL, "shelf", names[bay]));
  return g_strdup_printf ("%d", bay);
}

static GtkWidget *
name_cell_new (BayRow *cells, int bay, int n_bays)
{
  g_autofree char *name = short_name (bay, n_bays);
  GtkWidget *cell = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);

  cells->arrow = gtk_image_new_from_icon_name ("pan-end-symbolic");
  gtk_widget_add_css_class (cells->arrow, "row-arrow");
  cells->verdict = dew_verdict_new ();
  gtk_box_append (GTK_BOX (head), cells->arrow);
  gtk_box_append (GTK_BOX (head), label_new (name, "bay-name", 0.0f));
  gtk_box_append (GTK_BOX (cell), head);
  gtk_box_append (GTK_BOX (cell), cells->verdict);
  return cell;
}

static GtkWidget *
bay_row_new (Bays *self, int bay, int n_bays)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *line = dew_cells_new ();
  BayRow *cells = g_new0 (BayRow, 1);
  GtkWidget *name;

  cells->bay = bay;
  g_object_set_data_full (G_OBJECT (row), ROW_KEY, cells, g_free);
  name = name_cell_new (cells, bay, n_bays);
  gtk_size_group_add_widget (self->group[0], name);
  dew_cells_append (DEW_CELLS (line), name, 0, FALSE);
  for (int i = 0; i < N_COLUMNS; i++)
    {
      GtkWidget *cell = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

      cells->number[i] = label_new ("", "figure", 1.0f);
      cells->band[i] = label_new ("", "band", 1.0f);
      gtk_box_append (GTK_BOX (cell), cells->number[i]);
      gtk_box_append (GTK_BOX (cell), cells->band[i]);
      gtk_size_group_add_widget (self->group[i + 1], cell);
      dew_cells_append (DEW_CELLS (line), cell, columns[i].rank, TRUE);
    }
  cells->below = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (column), line);
  gtk_box_append (GTK_BOX (column), cells->below);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), column);
  return row;
}

static void
bay_row_fill (GtkWidget *row, const DewForecast *forecast)
{
  BayRow *cells = row_of (row);
  const DewClimate *mean = &forecast->bays[cells->bay].mean;
  DewVerdict verdict = dew_bay_verdict (forecast, cells->bay);
  g_autofree char *name = dew_bay_name (cells->bay, forecast->n_bays);
  g_autoptr (GString) spoken = g_string_new (name);

  dew_verdict_show (cells->verdict, verdict);
  g_string_append_printf (spoken, ", %s", dew_verdict_word (verdict));
  for (int i = 0; i < N_COLUMNS; i++)
    {
      const DewMember *m = &dew_climate_members[columns[i].row];
      DewValue kind = m->of;
      double x = dew_member_real (m, mean), band = dew_member_band (m, mean);
      DewFigure figure = dew_value_figure (kind, x, dew_tongue ());
      g_autofree char *text = dew_value_text (kind, x, dew_tongue ());
      g_autofree char *band_text = dew_band_text (kind, band, dew_tongue ());

      gtk_label_set_text (GTK_LABEL (cells->number[i]),
                          kind == DEW_VALUE_AGE ? text : figure.number);
      gtk_label_set_text (GTK_LABEL (cells->band[i]), band_text != NULL ? band_text : "");
      gtk_widget_set_visible (cells->band[i], band_text != NULL);
      g_string_append_printf (spoken, ", %s %s %s", _ (columns[i].spoken), text,
                              band_text != NULL ? band_text : "");
    }
  dew_name_widget (row, spoken->str);
}

/* --- which is open ------------------------------------------------------------------ */

static void
show_open (Bays *self)
{
  GtkWidget *parent = gtk_widget_get_parent (self->places);

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    {
      BayRow *cells = row_of (row);
      gboolean open = cells->bay == self->open;

      gtk_image_set_from_icon_name (GTK_IMAGE (cells->arrow),
                                    open ? "pan-down-symbolic" : "pan-end-symbolic");
      gtk_accessible_update_state (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_STATE_EXPANDED, open, -1);
      if (open && parent != cells->below)
        {
          if (parent != NULL)
            gtk_box_remove (GTK_BOX (parent), self->places);
          gtk_box_append (GTK_BOX (cells->below), self->places);
          parent = cells->below;
        }
    }
  if (self->open < 0 && parent != NULL)
    gtk_box_remove (GTK_BOX (parent), self->places);
  if (self->open >= 0)
    dew_places_fill (self->places, self->open);
}

static void
follow_plan (Bays *self)
{
  int bay = dew_document_plan_bay (self->document);

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    {
      if (row_of (row)->bay == bay)
        gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (row));
    }
  if (self->open >= 0 && self->open != bay && bay < self->n_rows)
    self->open = bay;
  if (self->n_rows > 0)
    show_open (self);
}

static void
on_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  Bays *self = user_data;
  int bay = row_of (GTK_WIDGET (row))->bay;

  self->open = self->open == bay ? -1 : bay;
  if (dew_document_plan_bay (self->document) != bay)
    dew_document_set_plan_bay (self->document, bay);
  show_open (self);
}

/* --- whole ---------------------------------------------------------------------------- */

static void
clear_rows (Bays *self)
{
  GtkWidget *parent = gtk_widget_get_parent (self->places);

  if (parent != NULL)
    gtk_box_remove (GTK_BOX (parent), self->places);
  dew_empty (self->list);
}

void
dew_bays_fill (GtkWidget *widget)
{
  Bays *self = g_object_get_data (G_OBJECT (widget), BAYS_KEY);
  const DewForecast *forecast = dew_document_forecast (self->document);
  int n_bays = forecast != NULL ? forecast->n_bays : 0;

  if (n_bays != self->n_rows)
    {
      clear_rows (self);
      /* As on the sheet: the top one first. */
      for (int bay = n_bays - 1; bay >= 0; bay--)
        gtk_list_box_append (GTK_LIST_BOX (self->list), bay_row_new (self, bay, n_bays));
      self->n_rows = n_bays;
      if (self->open >= n_bays)
        self->open = -1;
    }
  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    bay_row_fill (row, forecast);
  follow_plan (self);
  if (dew_document_lags (self->document))
    gtk_widget_add_css_class (self->list, "lagging");
  else
    gtk_widget_remove_css_class (self->list, "lagging");
}

static void
on_units (GtkWidget *widget)
{
  name_headings (g_object_get_data (G_OBJECT (widget), BAYS_KEY));
  dew_bays_fill (widget);
}

static void
bays_free (gpointer data)
{
  Bays *self = data;

  for (guint i = 0; i < G_N_ELEMENTS (self->group); i++)
    g_object_unref (self->group[i]);
  g_object_unref (self->places);
  g_free (self);
}

GtkWidget *
dew_bays_new (DewDocument *document)
{
  GtkWidget *table = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Bays *self = g_new0 (Bays, 1);

  self->document = document;
  self->open = -1;
  for (guint i = 0; i < G_N_ELEMENTS (self->group); i++)
    self->group[i] = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->places = g_object_ref_sink (dew_places_new (document));
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_SINGLE);
  gtk_widget_add_css_class (self->list, "bays");
  dew_name_widget (self->list, _ ("Shelves, from the top"));
  g_signal_connect (self->list, "row-activated", G_CALLBACK (on_activated), self);
  gtk_box_append (GTK_BOX (table), headings_new (self));
  gtk_box_append (GTK_BOX (table), self->list);
  g_object_set_data_full (G_OBJECT (table), BAYS_KEY, self, bays_free);
  dew_follow (document, "view", G_CALLBACK (follow_plan), self, table);
  dew_tongue_connect (G_OBJECT (table), G_CALLBACK (on_units));
  return table;
}
