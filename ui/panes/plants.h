/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The plants of the shown variant, those that fare worst first, each with its tightest
 * demand in words; one is selected by a click. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_plants_new (DewDocument *document);
/* From the newest forecast; hides itself where there are no plants. */
void dew_plants_fill (GtkWidget *plants);

G_END_DECLS
