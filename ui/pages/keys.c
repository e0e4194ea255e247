/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of keys. It is a page and not the toolkit's window for that, which parts
 * the keys over several pages and is cut off with large text on a small screen. */
#include "pages/pages.h"

#include <glib/gi18n.h>

#define WORDS_CHARS 27
#define KEYS_CHARS 15

typedef struct
{
  const char *keys;
  const char *words;
} Key;

/* clang-format off */
static const Key of_things[] = {
  { N_("Tab"), N_("to the next thing, from the top down") },
  { N_("Arrows"), N_("move it by 1 cm; what stands goes up and down by a shelf") },
  { N_("Shift + arrows"), N_("by 1 mm") },
  { N_("Ctrl + arrows"), N_("by 5 cm") },
  { N_("Page up, Page down"), N_("toward the back, toward the front") },
  { N_("Alt + arrows"), N_("turn what blows by 5°") },
  { N_("Enter"), N_("to its numbers") },
  { N_("Delete"), N_("take it off the sheet") },
};

static const Key of_several[] = {
  { N_("Space"), N_("select it as well, or no longer") },
  { N_("Ctrl + A"), N_("select all") },
  { N_("Ctrl + X"), N_("cut") },
  { N_("Ctrl + C"), N_("copy") },
  { N_("Ctrl + V"), N_("paste") },
  { N_("Ctrl + D"), N_("duplicate") },
};

static const Key of_steps[] = {
  { N_("Ctrl + Z"), N_("undo") },
  { N_("Ctrl + Shift + Z"), N_("redo") },
  { N_("Escape"), N_("ends a drag without effect; then selects nothing") },
};

static const Key of_looking[] = {
  { N_("Ctrl + plus"), N_("zoom in") },
  { N_("Ctrl + minus"), N_("zoom out") },
  { N_("Ctrl + 0"), N_("the whole drawing") },
  { N_("F11"), N_("full screen") },
  { N_("Alt + 1 to 8"), N_("what is coloured, as in the row above the drawing") },
  { N_("F7"), N_("day or night") },
  { N_("F8"), N_("the next finding; with Shift the one before") },
};

static const Key of_documents[] = {
  { N_("Ctrl + N"), N_("new enclosure") },
  { N_("Ctrl + O"), N_("open") },
  { N_("Ctrl + Shift + S"), N_("save a copy") },
  { N_("Ctrl + P"), N_("print") },
  { N_("Ctrl + Shift + N"), N_("new window") },
  { N_("Ctrl + W"), N_("close the window") },
  { N_("Ctrl + Q"), N_("quit") },
};

static const Key of_help[] = {
  { N_("F6"), N_("on to the things to add, the sheet, the numbers") },
  { N_("F10"), N_("menu of the enclosure") },
  { N_("F1"), N_("how to use this") },
  { N_("Ctrl + ?"), N_("this page") },
};
/* clang-format on */

/* clang-format off */
static const struct
{
  const char *title;
  const Key *keys;
  guint n;
} groups[] = {
  { N_("Things on the sheet"), of_things, G_N_ELEMENTS (of_things) },
  { N_("Several of them"), of_several, G_N_ELEMENTS (of_several) },
  { N_("Steps"), of_steps, G_N_ELEMENTS (of_steps) },
  { N_("Looking"), of_looking, G_N_ELEMENTS (of_looking) },
  { N_("The enclosure"), of_documents, G_N_ELEMENTS (of_documents) },
  { N_("Menu and help"), of_help, G_N_ELEMENTS (of_help) },
};
/* clang-format on */

static GtkWidget *
keys_new (const char *keys)
{
  GtkWidget *label = dew_paragraph_new (keys, "key");

  gtk_label_set_width_chars (GTK_LABEL (label), KEYS_CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (label), KEYS_CHARS);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  return label;
}

static GtkWidget *
group_new (guint group)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  gtk_grid_attach (GTK_GRID (grid), dew_paragraph_new (_ (groups[group].title), "group-title"), 0,
                   0, 2, 1);
  for (guint i = 0; i < groups[group].n; i++)
    {
      GtkWidget *words = dew_paragraph_new (_ (groups[group].keys[i].words), NULL);

      gtk_label_set_max_width_chars (GTK_LABEL (words), WORDS_CHARS);
      gtk_label_set_width_chars (GTK_LABEL (words), WORDS_CHARS);
      gtk_grid_attach (GTK_GRID (grid), keys_new (_ (groups[group].keys[i].keys)), 0, (int) i + 1,
                       1, 1);
      gtk_grid_attach (GTK_GRID (grid), words, 1, (int) i + 1, 1, 1);
    }
  gtk_widget_set_valign (grid, GTK_ALIGN_START);
  return grid;
}

GtkWidget *
dew_keys_page_new (void)
{
  GtkBox *column;
  GtkWidget *page = dew_page_new (_ ("Keys"), &column);

  gtk_box_append (column, dew_side_by_side_new (G_N_ELEMENTS (groups), group_new));
  return page;
}
