/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hours/private.h"

#include "say/names.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#define KEY "dew-hours"
#define CALM_MS 500

typedef enum
{
  THE_DAY,
  THE_YEAR,
  MISHAPS,
  N_PARTS
} PartKind;

typedef struct
{
  DewDocument *document;
  DewErrand *errand;
  DewChamber *base[N_PARTS]; /* what each part shows, or is being found for */
  gboolean shown[N_PARTS];
  PartKind part;
  guint calm;
  GtkWidget *page, *title, *choice[N_PARTS], *parts[N_PARTS], *strip, *bar, *note;
} Page;

static const struct
{
  const char *label, *busy;
  GtkWidget *(*make) (DewDocument *document);
  DewErrandWork work;
  GDestroyNotify free_result;
} kinds[N_PARTS] = {
  { N_ ("A day"), N_ ("Following the day"), dew_hours_day_new, dew_hours_day_work,
    (GDestroyNotify) dew_day_unref },
  { N_ ("The year"), N_ ("Following a day of each month"), dew_hours_year_new, dew_hours_year_work,
    (GDestroyNotify) dew_year_free },
  { N_ ("Mishaps"), N_ ("Trying what may fail"), dew_hours_mishaps_new, dew_hours_mishaps_work,
    (GDestroyNotify) dew_mishaps_free },
};

static void
show (Page *self, PartKind part, gpointer result)
{
  switch (part)
    {
    case THE_DAY:
      dew_hours_day_show (self->parts[part], self->base[part], result);
      break;
    case THE_YEAR:
      dew_hours_year_show (self->parts[part], self->base[part], result);
      break;
    default:
      dew_hours_mishaps_show (self->parts[part], self->base[part], result);
      break;
    }
  self->shown[part] = result != NULL;
}

static void
say_note (Page *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->note), text != NULL ? text : "");
  gtk_widget_set_visible (self->note, text != NULL);
}

static void
on_news (DewErrandNews *news, gpointer data)
{
  Page *self = data;

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), news->share);
  if (news->stage == DEW_ERRAND_UNDER_WAY)
    return;
  gtk_widget_set_visible (self->strip, FALSE);
  if (news->stage == DEW_ERRAND_FAILED)
    {
      say_note (self, news->error->message);
      return;
    }
  show (self, self->part, news->result);
  news->taken = TRUE;
}

static void
free_chamber (gpointer chamber)
{
  dew_chamber_free (chamber);
}

/* Finds what the part shows, unless it shows it. */
static void
ask (Page *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  PartKind part = self->part;
  g_autofree char *title = NULL;

  g_clear_handle_id (&self->calm, g_source_remove);
  dew_errand_cancel (self->errand);
  say_note (self, NULL);
  gtk_widget_set_visible (self->strip, FALSE);
  if (chamber == NULL)
    return;
  title = part == THE_YEAR
            ? g_strdup (_ ("Living with it"))
            /* Translators: a month */
            : g_strdup_printf (_ ("Living with it, %s"), dew_month_name (chamber->month));
  gtk_label_set_text (GTK_LABEL (self->title), title);
  for (int k = 0; k < N_PARTS; k++)
    gtk_widget_set_visible (self->parts[k], k == (int) part && self->shown[k]);
  if (self->shown[part] && dew_chamber_equal (self->base[part], chamber))
    return;
  show (self, part, NULL);
  g_clear_pointer (&self->base[part], dew_chamber_free);
  self->base[part] = dew_chamber_copy (chamber);
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_first_child (self->strip)), _ (kinds[part].busy));
  dew_name_widget (self->bar, _ (kinds[part].busy));
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), 0.0);
  gtk_widget_set_visible (self->strip, TRUE);
  dew_errand_start (self->errand, kinds[part].work, dew_chamber_copy (chamber), free_chamber,
                    kinds[part].free_result);
}

static gboolean
on_calm (gpointer data)
{
  Page *self = data;

  self->calm = 0;
  ask (self);
  return G_SOURCE_REMOVE;
}

static void
on_changed (Page *self)
{
  if (!gtk_widget_get_mapped (self->page))
    return;
  g_clear_handle_id (&self->calm, g_source_remove);
  self->calm = g_timeout_add (CALM_MS, on_calm, self);
}

static void
on_chosen (GtkToggleButton *button, gpointer data)
{
  Page *self = data;

  if (!gtk_toggle_button_get_active (button))
    return;
  for (int k = 0; k < N_PARTS; k++)
    if (self->choice[k] == GTK_WIDGET (button))
      self->part = (PartKind) k;
  ask (self);
}

static void
on_unmap (Page *self)
{
  g_clear_handle_id (&self->calm, g_source_remove);
  dew_errand_cancel (self->errand);
}

/* --- building ---------------------------------------------------------------------------- */

static GtkWidget *
choices_new (Page *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);

  for (int k = 0; k < N_PARTS; k++)
    {
      self->choice[k] = gtk_toggle_button_new_with_label (_ (kinds[k].label));
      gtk_button_set_has_frame (GTK_BUTTON (self->choice[k]), FALSE);
      gtk_widget_add_css_class (self->choice[k], "choice");
      if (k > 0)
        gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (self->choice[k]),
                                     GTK_TOGGLE_BUTTON (self->choice[0]));
      gtk_box_append (GTK_BOX (row), self->choice[k]);
    }
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->choice[0]), TRUE);
  for (int k = 0; k < N_PARTS; k++)
    g_signal_connect (self->choice[k], "toggled", G_CALLBACK (on_chosen), self);
  return row;
}

static GtkWidget *
strip_new (Page *self)
{
  GtkWidget *strip = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  self->bar = gtk_progress_bar_new ();
  gtk_widget_add_css_class (self->bar, "errand");
  gtk_box_append (GTK_BOX (strip), dew_words_new ("", "soft"));
  gtk_box_append (GTK_BOX (strip), self->bar);
  gtk_widget_set_visible (strip, FALSE);
  return strip;
}

static void
on_destroy (GtkWidget *page, gpointer data)
{
  Page *self = data;

  g_clear_handle_id (&self->calm, g_source_remove);
  dew_errand_cancel (self->errand);
}

static void
page_free (gpointer data)
{
  Page *self = data;

  dew_errand_free (self->errand);
  for (int k = 0; k < N_PARTS; k++)
    g_clear_pointer (&self->base[k], dew_chamber_free);
  g_free (self);
}

GtkWidget *
dew_hours_page_new (DewDocument *document)
{
  Page *self = g_new0 (Page, 1);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  self->document = document;
  self->errand = dew_errand_new (on_news, self);
  self->title = dew_words_new (_ ("Living with it"), "page-title");
  self->note = dew_words_new ("", NULL);
  gtk_widget_set_visible (self->note, FALSE);
  gtk_widget_add_css_class (column, "compare");
  gtk_box_append (GTK_BOX (column), dew_way_new (_ ("‹ Back to the sheet"), "back", "win.back"));
  gtk_box_append (GTK_BOX (column), self->title);
  gtk_box_append (GTK_BOX (column), choices_new (self));
  gtk_box_append (GTK_BOX (column), strip_new (self));
  self->strip = gtk_widget_get_last_child (column);
  gtk_box_append (GTK_BOX (column), self->note);
  for (int k = 0; k < N_PARTS; k++)
    {
      self->parts[k] = kinds[k].make (document);
      gtk_widget_set_visible (self->parts[k], FALSE);
      gtk_box_append (GTK_BOX (column), self->parts[k]);
    }
  self->page = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->page), column);
  dew_name_widget (self->page, _ ("Living with it"));
  g_object_set_data_full (G_OBJECT (self->page), KEY, self, page_free);
  g_signal_connect_swapped (self->page, "map", G_CALLBACK (ask), self);
  g_signal_connect_swapped (self->page, "unmap", G_CALLBACK (on_unmap), self);
  g_signal_connect (self->page, "destroy", G_CALLBACK (on_destroy), self);
  dew_follow (document, "changed", G_CALLBACK (on_changed), self, self->page);
  return self->page;
}
