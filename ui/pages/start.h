/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The pages before there is a drawing: the enclosures that one has, a new one, and
 * the tour of the first run. */

#include "store/store.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* `path`: the document that was chosen. */
typedef void (*DewStartAsked) (const char *path, gpointer user_data);
/* The documents that were open lately, each as its front view, all to one scale. */
GtkWidget *dew_start_page_new (DewStartAsked asked, gpointer user_data);

/* `chamber`: what is to be made a document of; lent. */
typedef void (*DewNewMade) (const DewChamber *chamber, gpointer user_data);
/* A new enclosure from a common kind or from a few sizes, and its room. */
GtkWidget *dew_new_page_new (DewNewMade made, gpointer user_data);

GtkWidget *dew_tour_page_new (void);

G_END_DECLS
