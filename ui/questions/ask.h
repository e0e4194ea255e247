/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The panes that ask for advice, one for each question of a grower. Each asks by
 * itself as soon as it is seen. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_ask_fan_new (DewDocument *document);
GtkWidget *dew_ask_moisture_new (DewDocument *document);
GtkWidget *dew_ask_plants_new (DewDocument *document);
GtkWidget *dew_ask_cut_new (DewDocument *document);

/* Asks about this fan from now on. */
void dew_ask_fan_about (GtkWidget *pane, guint fan_id);

G_END_DECLS
