/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/pages.h"

#include "panes/names.h"
#include "store/store.h"

#include <string.h>

/* A paragraph that begins with a few words and a full stop has those words as
 * its title. */
#define TITLE_CHARS 40
#define LINE_CHARS 72

static const struct
{
  const char *keys;
  const char *what;
} keys[] = {
  { "Tab", "to the next thing on the sheet, from the top down" },
  { "Arrows", "move it by 1 cm; what stands goes up and down by a shelf" },
  { "Shift + arrows", "by 1 mm" },
  { "Ctrl + arrows", "by 5 cm" },
  { "Page up, Page down", "toward the back, toward the front" },
  { "Alt + arrows", "turn what blows by 5°" },
  { "Enter", "to its numbers" },
  { "Delete", "takes it off the sheet" },
  { "Escape", "ends a drag without effect; then selects nothing" },
  { "Alt while dragging", "no pull of edges and shelves" },
  { "Ctrl + Z, Ctrl + Shift + Z", "undo, redo" },
  { "Ctrl + O, Ctrl + N", "open, new" },
  { "Ctrl + Shift + S", "save a copy under another name" },
  { "F1", "this page" },
};

static const char *const help[] = {
  "What it shows. The sheet is a drawing of your enclosure to scale: from the front, from the "
  "side, and one bay from above. Its colours are what the model expects of the air, and nothing "
  "else. Each bay carries its mean and the band within which that is expected to lie.",
  "Changing it. Drag a thing, its edges, or the tip of a fan's arrow; drag another one in from "
  "the left. Click a dimension to type over it. Every number of what is selected can be typed on "
  "the right, with or without its unit: 12, 12 cm and 120 mm are the same. The forecast follows "
  "while you drag and settles when you let go.",
  "What to look at. The flags say where something is amiss: what it is, why, and what would help. "
  "Click one to go there.",
  "Words. Humid is relative humidity. VPD, the vapour pressure deficit, is how strongly the air "
  "dries a leaf as warm as itself. Moving air is its speed; below 0.05 m/s air counts as still. "
  "Age is how long ago the air came in from the room, on the mean.",
  "Saving. Each step is kept as you make it, and can be undone, also after closing.",
  "How far to trust it. A forecast is a prediction with error. It knows nothing of a leak that "
  "you have not drawn. Where it matters, hang up an instrument.",
};

static void
add_paragraph (GtkBox *column, const char *paragraph)
{
  GtkWidget *label;
  const char *stop = strstr (paragraph, ". ");

  if (stop != NULL && stop - paragraph < TITLE_CHARS)
    {
      g_autofree char *title = g_strndup (paragraph, (gsize) (stop - paragraph));

      label = gtk_label_new (title);
      gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
      gtk_widget_add_css_class (label, "group-title");
      gtk_box_append (column, label);
      paragraph = stop + 2;
    }
  label = gtk_label_new (paragraph);
  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), LINE_CHARS);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_focusable (label, FALSE);
  gtk_box_append (column, label);
}

/* The page, and the column that the words go into. */
static GtkWidget *
page_new (const char *title, GtkBox **column_out)
{
  GtkWidget *scroll = gtk_scrolled_window_new ();
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *back = gtk_button_new_with_label ("‹ Back to the sheet");
  GtkWidget *head = gtk_label_new (title);

  gtk_button_set_has_frame (GTK_BUTTON (back), FALSE);
  gtk_widget_set_halign (back, GTK_ALIGN_START);
  gtk_widget_add_css_class (back, "back");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (back), "win.back");
  gtk_label_set_xalign (GTK_LABEL (head), 0.0f);
  gtk_widget_add_css_class (head, "page-title");
  gtk_widget_add_css_class (column, "page");
  gtk_widget_set_halign (column, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (column), back);
  gtk_box_append (GTK_BOX (column), head);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), column);
  dew_name_widget (scroll, title);
  *column_out = GTK_BOX (column);
  return scroll;
}

GtkWidget *
dew_cautions_page_new (void)
{
  g_auto (GStrv) paragraphs = g_strsplit (dew_cautions_text (), "\n\n", -1);
  GtkBox *column;
  GtkWidget *page = page_new ("Cautions", &column);

  for (guint i = 0; paragraphs[i] != NULL; i++)
    {
      char *paragraph = g_strstrip (g_strdelimit (paragraphs[i], "\n", ' '));

      /* The text begins with its own title, which the page has already. */
      if (*paragraph != '\0' && !(i == 0 && strlen (paragraph) < TITLE_CHARS))
        add_paragraph (column, paragraph);
    }
  return page;
}

static GtkWidget *
keys_new (void)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 24);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      GtkWidget *key = gtk_label_new (keys[i].keys);
      GtkWidget *what = gtk_label_new (keys[i].what);

      gtk_label_set_xalign (GTK_LABEL (key), 0.0f);
      gtk_label_set_xalign (GTK_LABEL (what), 0.0f);
      gtk_label_set_wrap (GTK_LABEL (what), TRUE);
      gtk_widget_add_css_class (key, "key");
      gtk_widget_set_valign (key, GTK_ALIGN_START);
      gtk_grid_attach (GTK_GRID (grid), key, 0, (int) i, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), what, 1, (int) i, 1, 1);
    }
  return grid;
}

GtkWidget *
dew_help_page_new (void)
{
  GtkBox *column;
  GtkWidget *page = page_new ("How to use this", &column);
  GtkWidget *title;

  for (guint i = 0; i < G_N_ELEMENTS (help); i++)
    add_paragraph (column, help[i]);
  title = gtk_label_new ("Keys");
  gtk_label_set_xalign (GTK_LABEL (title), 0.0f);
  gtk_widget_add_css_class (title, "group-title");
  gtk_box_append (column, title);
  gtk_box_append (column, keys_new ());
  return page;
}
