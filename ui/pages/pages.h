/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Pages of words, shown in the place of the drawing. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_help_page_new (void);
GtkWidget *dew_cautions_page_new (void);
GtkWidget *dew_keys_page_new (void);

/* A page with its title, one that can be scrolled and left; `column_out` (lent)
 * takes what is on it. */
GtkWidget *dew_page_new (const char *title, GtkBox **column_out);
/* What every page begins with: the way back, and its title. */
void dew_page_begin (GtkBox *column, const char *title);
/* Words as wide as a page reads well; css_class may be NULL. */
GtkWidget *dew_paragraph_new (const char *words, const char *css_class);

/* `n` things to read, two beside each other, or below each other with large letters.
 * Tab passes them by. */
GtkWidget *dew_side_by_side_new (guint n, GtkWidget *(*make) (guint i));

G_END_DECLS
