/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The small parts that panes, pages and questions are made of. A css_class may be NULL
 * everywhere; `name` is what assistive tools say. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Words that begin at the edge and wrap, of the width of a pane where nobody gives them
 * another one. */
GtkWidget *dew_words_new (const char *text, const char *css_class);
void dew_add_words (GtkBox *box, const char *text, const char *css_class);
/* A button that is nothing but words: class "way", or "back" for one that leads back.
 * action: of the window; NULL where the caller waits for "clicked". */
GtkWidget *dew_way_new (const char *label, const char *css_class, const char *action);
/* A row of a list. Takes `child`. */
GtkWidget *dew_row_new (GtkWidget *child, const char *name);
/* What `draw` draws, anew in each theme. 0 px: as large as there is room. name: NULL where
 * it only adorns what has a name. */
GtkWidget *dew_picture_new (const char *name, int width_px, int height_px,
                            GtkDrawingAreaDrawFunc draw, gpointer data, GDestroyNotify free_data);
/* Scrolled up and down, never sideways. Takes `child`. */
GtkWidget *dew_scroll_new (GtkWidget *child, const char *name);
/* A table that is scrolled sideways where large text makes it too wide. */
GtkWidget *dew_wide_new (GtkWidget *table, const char *name);

/* Takes everything out of a box, a grid or a list; a list keeps its placeholder. */
void dew_empty (GtkWidget *container);

/* Calls `callback` with `data` first at each `signal` of `source`, as long as `widget`
 * lives: for what a document or the like says to a widget that may go before it. */
void dew_follow (gpointer source, const char *signal, GCallback callback, gpointer data,
                 GtkWidget *widget);

G_END_DECLS
