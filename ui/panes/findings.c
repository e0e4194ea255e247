/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/findings.h"

#include "document/tongue.h"
#include "say/findings.h"
#include "say/where.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

/* So many rows are shown at once, and all that are to be acted on. */
#define SHOWN 5

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *list;
  GtkWidget *more;
  gboolean all; /* even those that wait behind "more" */
} Findings;

/* One row: a finding, and those of other shelves that say the same. */
typedef struct
{
  Findings *list;
  GArray *indices; /* int, of the forecast's findings; the first leads */
  int severity;
  GtkWidget *arrow;
  GtkWidget *below; /* cause, remedy and the way to the thing; hidden until it is opened */
} Row;

#define FINDINGS_KEY "dew-findings"
#define ROW_KEY "dew-finding-row"

static Row *
row_of (GtkWidget *row)
{
  return g_object_get_data (G_OBJECT (row), ROW_KEY);
}

static int
leading (const Row *row)
{
  return g_array_index (row->indices, int, 0);
}

static gboolean
holds (const Row *row, int index)
{
  for (guint i = 0; i < row->indices->len; i++)
    if (g_array_index (row->indices, int, i) == index)
      return TRUE;
  return FALSE;
}

static void
row_free (gpointer data)
{
  Row *row = data;

  g_array_unref (row->indices);
  g_free (row);
}

/* --- one row -------------------------------------------------------------- */

static void
on_row_enter (GtkEventControllerMotion *motion, double x, double y, gpointer user_data)
{
  Row *row = user_data;

  dew_document_light_finding (row->list->document, leading (row));
}

static void
on_row_leave (GtkEventControllerMotion *motion, gpointer user_data)
{
  Row *row = user_data;

  dew_document_light_finding (row->list->document, -1);
}

static gboolean
is_open (const Row *row)
{
  return gtk_widget_get_visible (row->below);
}

static void
set_open (GtkWidget *widget, gboolean open)
{
  Row *row = row_of (widget);

  gtk_widget_set_visible (row->below, open);
  gtk_image_set_from_icon_name (GTK_IMAGE (row->arrow),
                                open ? "pan-down-symbolic" : "pan-end-symbolic");
  gtk_accessible_update_state (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_STATE_EXPANDED, open, -1);
}

static void
on_go (GtkButton *button, gpointer user_data)
{
  Row *row = user_data;
  const DewForecast *forecast = dew_document_forecast (row->list->document);

  if (forecast != NULL && leading (row) < forecast->n_findings)
    dew_document_select (row->list->document, forecast->findings[leading (row)].thing_id);
}

static char *
title_of (const DewForecast *forecast, const Row *row)
{
  int others = (int) row->indices->len - 1;

  for (guint i = 0; i < row->indices->len; i++)
    others += forecast->findings[g_array_index (row->indices, int, i)].others;
  return dew_finding_heading (forecast, &forecast->findings[leading (row)], others);
}

/* "Second shelf right front", of each that the row tells of. */
static char *
places_of (const DewForecast *forecast, const Row *row)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < row->indices->len; i++)
    {
      const DewFinding *finding = &forecast->findings[g_array_index (row->indices, int, i)];
      g_autofree char *where = dew_forecast_where (forecast, finding->bay, finding->at_m);

      g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", where);
    }
  return g_string_free (text, FALSE);
}

/* "1", or "1, 4" of several flags. */
static char *
numbers_of (const Row *row)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < row->indices->len; i++)
    g_string_append_printf (text, "%s%d", i > 0 ? ", " : "",
                            g_array_index (row->indices, int, i) + 1);
  return g_string_free (text, FALSE);
}

static GtkWidget *
details_new (Row *row, const DewForecast *forecast)
{
  const DewFinding *finding = &forecast->findings[leading (row)];
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *cause = dew_finding_cause (finding);
  g_autofree char *source = g_strdup_printf (_ ("Limit: %s"), dew_limit_source (finding->limit));

  if (finding->name[0] != '\0')
    {
      g_autofree char *places = places_of (forecast, row);

      dew_add_words (GTK_BOX (box), places, "soft");
    }
  dew_add_words (GTK_BOX (box), cause, "soft");
  dew_add_words (GTK_BOX (box), dew_finding_remedy (finding), "remedy");
  dew_add_words (GTK_BOX (box), source, "source");
  if (finding->thing_id != 0)
    {
      /* Translators: a way to a thing; %s is its name. */
      g_autofree char *words = g_strdup_printf (_ ("Go to %s ›"), finding->name);
      GtkWidget *go = dew_way_new (words, "way", NULL);

      g_signal_connect (go, "clicked", G_CALLBACK (on_go), row);
      gtk_box_append (GTK_BOX (box), go);
    }
  gtk_widget_set_visible (box, FALSE);
  return box;
}

static GtkWidget *
finding_row_new (Findings *self, const DewForecast *forecast, Row *row /* taken */)
{
  const DewFinding *finding = &forecast->findings[leading (row)];
  g_autofree char *number = numbers_of (row);
  g_autofree char *number_text = dew_finding_number (finding, dew_tongue ());
  g_autofree char *title = title_of (forecast, row);
  g_autofree char *cause = dew_finding_cause (finding);
  g_autofree char *spoken
    = g_strdup_printf ("%s: %s. %s. %s %s", number, title, number_text != NULL ? number_text : "",
                       cause, dew_finding_remedy (finding));
  GtkWidget *widget = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  GtkWidget *flag = gtk_label_new (number);
  GtkEventController *motion = gtk_event_controller_motion_new ();

  row->list = self;
  gtk_widget_add_css_class (flag, "flag-number");
  gtk_widget_set_valign (flag, GTK_ALIGN_START);
  if (finding->severity >= 2)
    gtk_widget_add_css_class (flag, "act");
  gtk_box_append (GTK_BOX (box), flag);
  dew_add_words (GTK_BOX (words), title, "finding-title");
  if (number_text != NULL)
    dew_add_words (GTK_BOX (words), number_text, "figure");
  row->below = details_new (row, forecast);
  gtk_box_append (GTK_BOX (words), row->below);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (box), words);
  row->arrow = gtk_image_new_from_icon_name ("pan-end-symbolic");
  gtk_widget_add_css_class (row->arrow, "row-arrow");
  gtk_widget_set_valign (row->arrow, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (box), row->arrow);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (widget), box);
  dew_name_widget (widget, spoken);
  g_object_set_data_full (G_OBJECT (widget), ROW_KEY, row, row_free);
  g_signal_connect (motion, "enter", G_CALLBACK (on_row_enter), row);
  g_signal_connect (motion, "leave", G_CALLBACK (on_row_leave), row);
  gtk_widget_add_controller (widget, motion);
  return widget;
}

/* --- which are shown ------------------------------------------------------ */

/* Of the same cause and weight: told once, however many shelves it is found on. */
static GPtrArray *
rows_of (const DewForecast *forecast)
{
  GPtrArray *rows = g_ptr_array_new ();

  for (int i = 0; i < forecast->n_findings; i++)
    {
      const DewFinding *finding = &forecast->findings[i];
      Row *row = NULL;

      for (guint r = 0; r < rows->len && row == NULL; r++)
        {
          Row *other = g_ptr_array_index (rows, r);
          const DewFinding *first = &forecast->findings[leading (other)];

          if (first->cause == finding->cause && first->severity == finding->severity
              && (first->thing_id != 0) == (finding->thing_id != 0)
              && finding->kind != DEW_FINDING_TANK && finding->kind != DEW_FINDING_LOAD)
            row = other;
        }
      if (row == NULL)
        {
          row = g_new0 (Row, 1);
          row->indices = g_array_new (FALSE, FALSE, sizeof (int));
          row->severity = finding->severity;
          g_ptr_array_add (rows, row);
        }
      g_array_append_val (row->indices, i);
    }
  return rows;
}

static void
show_some (Findings *self)
{
  int rows = 0, shown = 0, at = 0, hidden;
  g_autofree char *words = NULL;

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row), rows++)
    shown += self->all || rows < SHOWN || row_of (row)->severity >= 2;
  /* One more row says no less than the words that there is one more. */
  if (shown == rows - 1)
    shown = rows;
  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row), at++)
    gtk_widget_set_visible (row, at < shown);
  hidden = rows - shown;
  words = g_strdup_printf (ngettext ("%d more ›", "%d more ›", (gulong) hidden), hidden);
  gtk_button_set_label (GTK_BUTTON (self->more), words);
  gtk_widget_set_halign (gtk_button_get_child (GTK_BUTTON (self->more)), GTK_ALIGN_START);
  gtk_widget_set_visible (self->more, hidden > 0);
}

static void
on_more (GtkButton *button, gpointer user_data)
{
  Findings *self = user_data;

  self->all = TRUE;
  show_some (self);
}

/* What was opened stays open when the same is found again. */
static GHashTable *
open_causes (Findings *self)
{
  GHashTable *open = g_hash_table_new (g_direct_hash, g_direct_equal);

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    if (is_open (row_of (row)))
      g_hash_table_add (open, g_object_get_data (G_OBJECT (row), "dew-cause"));
  return open;
}

void
dew_findings_list_fill (GtkWidget *widget)
{
  Findings *self = g_object_get_data (G_OBJECT (widget), FINDINGS_KEY);
  const DewForecast *forecast = dew_document_forecast (self->document);
  g_autoptr (GHashTable) open = open_causes (self);
  g_autoptr (GPtrArray) rows = NULL;

  dew_empty (self->list);
  rows = forecast != NULL ? rows_of (forecast) : g_ptr_array_new ();
  for (guint i = 0; i < rows->len; i++)
    {
      Row *row = g_ptr_array_index (rows, i);
      gpointer cause = GINT_TO_POINTER (1 + (int) forecast->findings[leading (row)].cause);
      GtkWidget *made = finding_row_new (self, forecast, row);

      g_object_set_data (G_OBJECT (made), "dew-cause", cause);
      gtk_list_box_append (GTK_LIST_BOX (self->list), made);
      set_open (made, g_hash_table_contains (open, cause));
    }
  show_some (self);
}

/* Looking: it opens, lights its flag and brings its shelf into sight; what is selected stays. */
static void
on_activated (GtkListBox *list, GtkListBoxRow *widget, gpointer user_data)
{
  Findings *self = user_data;
  const DewForecast *forecast = dew_document_forecast (self->document);
  Row *row = row_of (GTK_WIDGET (widget));
  int bay;

  if (forecast == NULL || leading (row) >= forecast->n_findings)
    return;
  set_open (GTK_WIDGET (widget), !is_open (row));
  bay = forecast->findings[leading (row)].bay;
  dew_document_light_finding (self->document, leading (row));
  if (bay >= 0)
    dew_document_set_plan_bay (self->document, bay);
}

static void
on_lit (Findings *self)
{
  int lit = dew_document_lit_finding (self->document);

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL;
       row = gtk_widget_get_next_sibling (row))
    {
      if (!holds (row_of (row), lit))
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
