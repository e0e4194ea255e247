/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/plants.h"

#include "document/tongue.h"
#include "say/findings.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "panes/places.h"
#include "panes/wishes.h"
#include "say/fit.h"

#include <glib/gi18n.h>

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *list;
} Plants;

#define PLANTS_KEY "dew-plants"
#define ID_KEY "dew-id"

/* One plant on its way into the list. */
typedef struct
{
  guint id;
  const char *name; /* lent */
  DewVerdict verdict;
  double merit;   /* of the tightest demand; 1 where nothing is known */
  char *words;    /* of it */
  gboolean known; /* what it wants: only then does a verdict tell anything */
} Entry;

static void
entry_clear (gpointer data)
{
  g_free (((Entry *) data)->words);
}

static int
worse_first (gconstpointer pa, gconstpointer pb)
{
  const Entry *a = pa, *b = pb;

  if (a->verdict != b->verdict)
    return (int) b->verdict - (int) a->verdict;
  if (a->merit != b->merit)
    return a->merit < b->merit ? -1 : 1;
  return a->id < b->id ? -1 : a->id > b->id;
}

static Entry
entry_of (Plants *self, const DewForecast *forecast, const DewThing *plant)
{
  Entry entry = { .id = plant->id, .name = plant->name, .merit = 1.0 };
  DewStanding standing;
  gboolean judged = dew_standing_of (self->document, plant, &standing);

  entry.verdict = dew_standing_verdict (forecast, plant->id, judged ? &standing : NULL);
  entry.known = judged && standing.known;
  if (plant->plant.species[0] == '\0')
    entry.words = g_strdup (_ ("No species chosen"));
  else if (!judged)
    entry.words = g_strdup ("");
  else if (!standing.known)
    entry.words = g_strdup (_ ("What this kind wants is not known"));
  else if (standing.n > 0)
    {
      const DewFitDemand *tightest = &standing.fit.demand[standing.order[0]];
      g_autofree char *words
        = dew_fit_demand_words (&standing.fit, standing.order[0], dew_tongue ());

      entry.merit = tightest->merit;
      /* Translators: %s is "Air 0.01 m/s too slow". */
      entry.words
        = tightest->margin < 0.0 && tightest->unsure
            ? g_strdup_printf (_ ("%s, if at all: the forecast may be off by more"), words)
            : g_steal_pointer (&words);
    }
  else
    entry.words = g_strdup ("");
  return entry;
}

static GtkWidget *
row_new (const Entry *entry)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *verdict = dew_verdict_new ();
  gboolean told = entry->known || entry->verdict != DEW_VERDICT_FINE;
  g_autofree char *spoken = told ? g_strdup_printf ("%s: %s. %s", entry->name,
                                                    dew_verdict_word (entry->verdict), entry->words)
                                 : g_strdup_printf ("%s: %s", entry->name, entry->words);

  dew_verdict_show (verdict, entry->verdict);
  gtk_widget_set_visible (verdict, told);
  gtk_widget_set_valign (verdict, GTK_ALIGN_START);
  dew_add_words (GTK_BOX (words), entry->name, "plant-name");
  if (*entry->words != '\0')
    dew_add_words (GTK_BOX (words), entry->words, "soft");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (box), words);
  gtk_box_append (GTK_BOX (box), verdict);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  g_object_set_data (G_OBJECT (row), ID_KEY, GUINT_TO_POINTER (entry->id));
  dew_name_widget (row, spoken);
  return row;
}

void
dew_plants_fill (GtkWidget *widget)
{
  Plants *self = g_object_get_data (G_OBJECT (widget), PLANTS_KEY);
  const DewForecast *forecast = dew_document_forecast (self->document);
  const DewVariant *variant = dew_document_variant (self->document);
  g_autoptr (GArray) entries = g_array_new (FALSE, FALSE, sizeof (Entry));

  g_array_set_clear_func (entries, entry_clear);
  for (guint i = 0; forecast != NULL && variant != NULL && i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      Entry entry;

      if (thing->kind != DEW_THING_PLANT)
        continue;
      entry = entry_of (self, forecast, thing);
      g_array_append_val (entries, entry);
    }
  g_array_sort (entries, worse_first);
  dew_empty (self->list);
  for (guint i = 0; i < entries->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), row_new (&g_array_index (entries, Entry, i)));
  gtk_widget_set_visible (widget, entries->len > 0);
}

static void
on_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  Plants *self = user_data;

  dew_document_select (self->document,
                       GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), ID_KEY)));
}

GtkWidget *
dew_plants_new (DewDocument *document)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *title = gtk_label_new (_ ("Plants"));
  Plants *self = g_new0 (Plants, 1);

  self->document = document;
  g_object_set_data_full (G_OBJECT (column), PLANTS_KEY, self, g_free);
  gtk_label_set_xalign (GTK_LABEL (title), 0.0f);
  gtk_widget_add_css_class (title, "pane-title");
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->list, "plants");
  dew_name_widget (self->list, _ ("Plants, the one that fares worst first"));
  g_signal_connect (self->list, "row-activated", G_CALLBACK (on_activated), self);
  gtk_box_append (GTK_BOX (column), title);
  gtk_box_append (GTK_BOX (column), self->list);
  dew_tongue_connect (G_OBJECT (column), G_CALLBACK (dew_plants_fill));
  return column;
}
