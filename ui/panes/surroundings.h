/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Panes for what is round the things: the enclosure with its cover, and the
 * room with its twelve months. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_enclosure_editor_new (DewDocument *document);
GtkWidget *dew_room_editor_new (DewDocument *document);

G_END_DECLS
