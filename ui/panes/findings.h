/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What to look at: the findings of the newest forecast, the worst first, each with its
 * number, cause and remedy; hovering one lights its flag on the sheet. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_findings_list_new (DewDocument *document);
void dew_findings_list_fill (GtkWidget *list);

G_END_DECLS
