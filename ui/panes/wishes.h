/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a plant wants against what it gets where it stands: one strip for each demand,
 * the tightest first. */

#include "advice/standing.h"
#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_wishes_new (void);
void dew_wishes_fill (GtkWidget *wishes, DewDocument *document, const DewThing *plant);

/* How a plant fares by the newest forecast; FALSE when nothing can be said. */
gboolean dew_standing_of (DewDocument *document, const DewThing *plant, DewStanding *out);

G_END_DECLS
