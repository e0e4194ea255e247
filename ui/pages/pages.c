/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pages/pages.h"

#include "widgets/parts.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

/* A paragraph that begins with a few words and a full stop has those words as
 * its title. */
#define TITLE_CHARS 40
#define LINE_CHARS 72
/* All pages begin at the same place of a window. */
#define COLUMN_PX 860

/* Translators: the words before the first full stop become the title of the
 * paragraph; keep them short. */
/* clang-format off */
static const char *const help[] = {
  N_("What it shows. The sheet is a drawing of your enclosure to scale: from the front, from the "
     "side, and one bay from above. Its colours are what the model expects of the air, and "
     "nothing else. Each bay carries its mean and the band within which that is expected to lie."),
  N_("Changing it. Drag a thing, its edges, or the tip of a fan's arrow; drag another one in from "
     "the left. Click a dimension to type over it. Every number of what is selected can be typed "
     "on the right, with or without its unit: 12, 12 cm and 120 mm are the same. The forecast "
     "follows while you drag and settles when you let go."),
  N_("What to look at. The flags say where something is amiss: what it is, why, and what would "
     "help. Click one to go there."),
  N_("Asking. Under Ask the program searches: for the place of the fan, the water it takes, the "
     "place of each plant, and whether to cut. What it finds is shown on the sheet before you "
     "take it."),
  N_("Words. Humid is relative humidity. VPD, the vapour pressure deficit, is how strongly the "
     "air dries a leaf as warm as itself. Moving air is its speed; below 0.05 m/s air counts as "
     "still. Age is how long ago the air came in from the room, on the mean."),
  N_("Saving. Each step is kept as you make it, and can be undone, also after closing."),
  N_("How far to trust it. A forecast is a prediction with error. It knows nothing of a leak that "
     "you have not drawn. Where it matters, hang up an instrument."),
};
/* clang-format on */

static void
add_paragraph (GtkBox *column, const char *paragraph)
{
  GtkWidget *label;
  const char *stop = strstr (paragraph, ". ");

  if (stop != NULL && g_utf8_strlen (paragraph, stop - paragraph) < TITLE_CHARS)
    {
      g_autofree char *title = g_strndup (paragraph, (gsize) (stop - paragraph));

      gtk_box_append (column, dew_paragraph_new (title, "group-title"));
      paragraph = stop + 2;
    }
  label = dew_paragraph_new (paragraph, NULL);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_focusable (label, FALSE);
  gtk_box_append (column, label);
}

GtkWidget *
dew_paragraph_new (const char *words, const char *css_class)
{
  GtkWidget *label = dew_words_new (words, css_class);

  gtk_label_set_max_width_chars (GTK_LABEL (label), LINE_CHARS);
  return label;
}

GtkWidget *
dew_side_by_side_new (guint n, GtkWidget *(*make) (guint i))
{
  GtkFlowBox *spread = GTK_FLOW_BOX (gtk_flow_box_new ());

  gtk_flow_box_set_selection_mode (spread, GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (spread, 2);
  gtk_flow_box_set_column_spacing (spread, 30);
  gtk_flow_box_set_row_spacing (spread, 24);
  /* A flow box keeps the Tab that comes in, even with nothing to stop at. */
  gtk_widget_set_can_focus (GTK_WIDGET (spread), FALSE);
  gtk_widget_add_css_class (GTK_WIDGET (spread), "spread");
  for (guint i = 0; i < n; i++)
    {
      GtkWidget *child = gtk_flow_box_child_new ();

      gtk_widget_set_focusable (child, FALSE);
      gtk_widget_set_can_target (child, FALSE);
      gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (child), make (i));
      gtk_flow_box_insert (spread, child, -1);
    }
  return GTK_WIDGET (spread);
}

void
dew_page_begin (GtkBox *column, const char *title)
{
  gtk_widget_add_css_class (GTK_WIDGET (column), "page");
  gtk_box_append (column, dew_way_new (_ ("‹ Back to the sheet"), "back", "win.back"));
  gtk_box_append (column, dew_paragraph_new (title, "page-title"));
}

GtkWidget *
dew_page_new (const char *title, GtkBox **column_out)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_widget_set_halign (column, GTK_ALIGN_CENTER);
  gtk_widget_set_size_request (column, COLUMN_PX, -1);
  dew_page_begin (GTK_BOX (column), title);
  *column_out = GTK_BOX (column);
  return dew_scroll_new (column, title);
}

GtkWidget *
dew_cautions_page_new (void)
{
  g_auto (GStrv) paragraphs = g_strsplit (dew_cautions_text (), "\n\n", -1);
  GtkBox *column;
  GtkWidget *page = dew_page_new (_ ("Cautions"), &column);

  for (guint i = 0; paragraphs[i] != NULL; i++)
    {
      char *paragraph = g_strstrip (g_strdelimit (paragraphs[i], "\n", ' '));

      /* The text begins with its own title, which the page has already. */
      if (*paragraph != '\0' && !(i == 0 && strlen (paragraph) < TITLE_CHARS))
        add_paragraph (column, paragraph);
    }
  return page;
}

GtkWidget *
dew_help_page_new (void)
{
  GtkBox *column;
  GtkWidget *page = dew_page_new (_ ("How to use this"), &column);
  GtkWidget *ways = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_box_append (GTK_BOX (ways), dew_way_new (_ ("All keys"), "way", "win.keys"));
  gtk_box_append (GTK_BOX (ways), dew_way_new (_ ("A short tour"), "way", "win.tour"));
  gtk_box_append (GTK_BOX (ways), dew_way_new (_ ("Cautions"), "way", "win.cautions"));
  gtk_box_append (column, ways);
  for (guint i = 0; i < G_N_ELEMENTS (help); i++)
    add_paragraph (column, _ (help[i]));
  return page;
}
