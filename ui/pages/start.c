/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pages/start.h"

#include "widgets/card.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "pages/pages.h"
#include "pages/recent.h"

#include <glib/gi18n.h>
#include <string.h>

#define MOST_SHOWN 12
#define PATH_KEY "dew-path"

typedef struct
{
  DewStartAsked asked;
  gpointer user_data;
} Start;

/* --- reading the documents beside the window ------------------------------ */

static void
read_document (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  GError *error = NULL;
  DewChamber *chamber = dew_store_load (task_data, &error);

  if (chamber != NULL)
    g_task_return_pointer (task, chamber, (GDestroyNotify) dew_chamber_free);
  else
    g_task_return_error (task, error);
}

static char *
words_about (const DewChamber *chamber)
{
  guint n = chamber->variants->len;

  if (n == 1)
    return g_strdup (chamber->note);
  /* Translators: layouts of one enclosure, kept beside each other. */
  return g_strdup_printf (ngettext ("%u variant", "%u variants", n), n);
}

static void
on_read (GObject *source, GAsyncResult *result, gpointer user_data)
{
  GtkWidget *card = GTK_WIDGET (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) chamber = g_task_propagate_pointer (G_TASK (result), &error);
  GtkWidget *cards = gtk_widget_get_parent (card);

  /* The page was left meanwhile, and with it went what is in the card. */
  if (cards == NULL)
    return;
  if (chamber != NULL)
    {
      g_autofree char *words = words_about (chamber);

      dew_card_set_chamber (card, chamber);
      dew_card_set_words (card, words);
    }
  else
    dew_card_set_words (card, _ ("cannot be read"));
  dew_cards_fit (GTK_FLOW_BOX (cards));
}

static GtkWidget *
document_card_new (const char *path)
{
  g_autofree char *file = g_filename_display_basename (path);
  GtkWidget *card;
  GTask *task;

  if (g_str_has_suffix (file, DEW_STORE_SUFFIX))
    file[strlen (file) - strlen (DEW_STORE_SUFFIX)] = '\0';
  card = dew_card_new (file);
  gtk_widget_set_tooltip_text (card, path);
  g_object_set_data_full (G_OBJECT (card), PATH_KEY, g_strdup (path), g_free);
  task = g_task_new (card, NULL, on_read, NULL);
  g_task_set_task_data (task, g_strdup (path), g_free);
  g_task_run_in_thread (task, read_document);
  g_object_unref (task);
  return card;
}

static void
on_activated (GtkFlowBox *cards, GtkFlowBoxChild *child, gpointer user_data)
{
  const Start *self = user_data;

  self->asked (g_object_get_data (G_OBJECT (child), PATH_KEY), self->user_data);
}

static GtkWidget *
documents_new (Start *self, char **paths)
{
  GtkWidget *cards = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (cards), GTK_SELECTION_NONE);
  gtk_flow_box_set_homogeneous (GTK_FLOW_BOX (cards), TRUE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (cards), 6);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (cards), 18);
  gtk_widget_set_valign (cards, GTK_ALIGN_START);
  gtk_widget_set_halign (cards, GTK_ALIGN_START);
  gtk_widget_add_css_class (cards, "cards");
  dew_name_widget (cards, _ ("Enclosures you had open"));
  for (guint i = 0; paths[i] != NULL; i++)
    gtk_flow_box_insert (GTK_FLOW_BOX (cards), document_card_new (paths[i]), -1);
  g_signal_connect (cards, "child-activated", G_CALLBACK (on_activated), self);
  return cards;
}

/* --- the page --------------------------------------------------------------- */

static GtkWidget *
ways_new (void)
{
  GtkWidget *ways = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  static const struct
  {
    const char *label;
    const char *action;
  } rows[] = {
    { N_ ("Draw a new one"), "win.new" },
    { N_ ("Open a file…"), "win.open" },
    { N_ ("Look at the demo"), "win.demo" },
    { N_ ("A short tour"), "win.tour" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    gtk_box_append (GTK_BOX (ways), dew_way_new (_ (rows[i].label), "way", rows[i].action));
  gtk_widget_add_css_class (gtk_widget_get_first_child (ways), "chief");
  return ways;
}

GtkWidget *
dew_start_page_new (DewStartAsked asked, gpointer user_data)
{
  g_auto (GStrv) paths = dew_recent_paths (MOST_SHOWN);
  GtkBox *column;
  GtkWidget *page = dew_page_new (_ ("Enclosures"), &column);
  Start *self = g_new0 (Start, 1);

  self->asked = asked;
  self->user_data = user_data;
  g_object_set_data_full (G_OBJECT (page), "dew-start", self, g_free);
  gtk_box_append (column, ways_new ());
  if (paths[0] != NULL)
    gtk_box_append (column, documents_new (self, paths));
  else
    gtk_box_append (column,
                    dew_paragraph_new (_ ("Nothing is drawn yet. Begin with a new enclosure, or "
                                          "see in the demo what a finished one looks like."),
                                       "soft"));
  return page;
}
