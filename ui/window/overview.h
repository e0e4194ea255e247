/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the pane shows while nothing is selected: the bays as a table with
 * their bands, what to look at, and the ways to the enclosure and the room. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Rows activate "win.show-enclosure" and "win.show-room". */
GtkWidget *dew_overview_new (DewDocument *document);

G_END_DECLS
