/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/words.h"

#include "document/tongue.h"
#include "say/changes.h"
#include "widgets/fold.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#define COLUMN_CHARS 44
/* So many lines in a column before the rest is folded away. */
#define MOST_LINES 8
#define GIST_CHARS 100

typedef enum
{
  BETTER,
  WORSE,
  OTHER,
  N_COLUMNS
} Column;

/* clang-format off */
static const char *const titles[N_COLUMNS] = {
  /* Translators: headings of three lists of changes. */
  N_("Better"),
  N_("Worse"),
  N_("Different"),
};
/* clang-format on */

static Column
column_of (const DewChange *change)
{
  return change->good > 0 ? BETTER : change->good < 0 ? WORSE : OTHER;
}

static GtkWidget *
line_new (const char *words, const char *css_class)
{
  GtkWidget *label = dew_words_new (words, css_class);

  gtk_label_set_max_width_chars (GTK_LABEL (label), COLUMN_CHARS);
  return label;
}

/* Those of one side; `beyond` their band, or within it. */
static GtkWidget *
column_new (const DewComparison *comparison, int side, Column column, gboolean beyond, guint *n)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4), *more = NULL;

  *n = 0;
  for (guint i = 0; i < comparison->changes->len; i++)
    {
      const DewChange *change = &g_array_index (comparison->changes, DewChange, i);
      GtkWidget *into = box;
      g_autofree char *words = NULL;

      if (change->side != side || change->beyond != beyond || column_of (change) != column)
        continue;
      if (++*n > MOST_LINES)
        {
          if (more == NULL)
            more = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
          into = more;
        }
      words = dew_change_words (comparison, change, dew_tongue ());
      gtk_box_append (GTK_BOX (into), line_new (words, beyond ? NULL : "soft"));
    }
  if (more != NULL)
    {
      g_autofree char *title = g_strdup_printf (ngettext ("%d more", "%d more", *n - MOST_LINES),
                                                (int) (*n - MOST_LINES));

      gtk_box_append (GTK_BOX (box), dew_fold_new (title, more));
    }
  return box;
}

static GtkWidget *
columns_new (const DewComparison *comparison, int side, gboolean beyond, guint *total)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 28);

  *total = 0;
  gtk_box_set_homogeneous (GTK_BOX (row), TRUE);
  for (int column = 0; column < N_COLUMNS; column++)
    {
      guint n;
      GtkWidget *box = column_new (comparison, side, (Column) column, beyond, &n);

      *total += n;
      gtk_box_prepend (GTK_BOX (box), dew_words_new (_ (titles[column]), "heading-soft"));
      if (n == 0)
        /* Translators: nothing is better, worse or different. */
        gtk_box_append (GTK_BOX (box), dew_words_new (_ ("nothing"), "soft"));
      gtk_box_append (GTK_BOX (row), box);
    }
  return row;
}

/* One line, however long, where the page is wide enough. */
static GtkWidget *
gist_new (const char *text)
{
  GtkWidget *label = dew_words_new (text, NULL);

  gtk_label_set_max_width_chars (GTK_LABEL (label), GIST_CHARS);
  return label;
}

void
dew_compare_words_gist (GtkBox *box, const DewComparison *comparison)
{
  for (int side = 1; side < comparison->n_sides; side++)
    {
      g_autofree char *summary = dew_compare_summary (comparison, side);
      /* Translators: name of a variant, and a sentence about it. */
      g_autofree char *line = g_strdup_printf (_ ("%s: %s"), comparison->sides[side].name, summary);

      gtk_box_append (box, gist_new (line));
    }
}

static void
add_side (GtkBox *box, const DewComparison *comparison, int side)
{
  g_autofree char *title = g_strdup_printf (_ ("%s against %s"), comparison->sides[side].name,
                                            comparison->sides[0].name);
  GtkWidget *sure, *within, *head = dew_words_new (title, "pane-title");
  guint n_sure, n_within;

  gtk_label_set_max_width_chars (GTK_LABEL (head), -1);
  gtk_box_append (box, head);
  sure = columns_new (comparison, side, TRUE, &n_sure);
  within = columns_new (comparison, side, FALSE, &n_within);
  gtk_box_append (box, sure);
  gtk_widget_set_visible (sure, n_sure > 0);
  if (n_within > 0)
    {
      g_autofree char *words
        = g_strdup_printf (ngettext ("%d change that lies within what can be known",
                                     "%d changes that lie within what can be known", n_within),
                           (int) n_within);

      gtk_box_append (box, dew_fold_new (words, within));
    }
  else
    {
      g_object_ref_sink (within);
      g_object_unref (within);
    }
}

void
dew_compare_words_fill (GtkBox *box, const DewComparison *comparison)
{
  g_return_if_fail (comparison != NULL);

  for (int side = 1; side < comparison->n_sides; side++)
    add_side (box, comparison, side);
}
