/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Taking a table of a logger into the document: what is understood of it, what has to be
 * answered first, and what came of it. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* `done` is called after readings have come in. */
GtkWidget *dew_import_new (DewDocument *document, GCallback done, gpointer data);
/* Looks at the table `path`. */
void dew_import_look (GtkWidget *import, const char *path);

G_END_DECLS
