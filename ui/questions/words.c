/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words and small widgets that all panes with advice use. */
#include "questions/frame.h"

#include <glib/gi18n.h>
#include <math.h>

#define WRAP_CHARS 30

GtkWidget *
dew_ask_label_new (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), WRAP_CHARS);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

char *
dew_ask_signed (double value, int digits)
{
  return g_strdup_printf ("%s%.*f", value < 0.0 ? "−" : "+", digits, fabs (value));
}

char *
dew_ask_gain_text (double gain, double band)
{
  g_autofree char *points = dew_ask_signed (100.0 * gain, 1);
  double width = MAX (100.0 * band, 0.1); /* one that rounds to nothing would promise too much */

  if (isnan (band))
    return g_strdup_printf (_ ("%s of 100 points against now."), points);
  if (gain > band)
    /* Translators: points of a mark from 0 to 100, with the band of the difference. */
    return g_strdup_printf (_ ("Better than now by %.1f ± %.1f of 100 points."), 100.0 * gain,
                            width);
  if (gain < -band)
    return g_strdup_printf (_ ("Worse than now by %.1f ± %.1f of 100 points."), -100.0 * gain,
                            width);
  return g_strdup_printf (_ ("As good as now, within what can be known: %s ± %.1f of 100 points."),
                          points, width);
}

void
dew_ask_add_lines (GtkBox *box, char *const *lines, const char *css_class)
{
  for (guint i = 0; lines != NULL && lines[i] != NULL; i++)
    gtk_box_append (box, dew_ask_label_new (lines[i], css_class));
}

void
dew_ask_empty_box (GtkBox *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
}
