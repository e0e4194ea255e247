/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The bays as a table: verdict, numbers and their bands. A row opens to the places of
 * its bay. Columns that do not fit are left out, the less needed first. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_bays_new (DewDocument *document);
/* From the newest forecast. */
void dew_bays_fill (GtkWidget *bays);

G_END_DECLS
