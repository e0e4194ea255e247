/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a plant wants against what it gets where it stands. */

#include "canvas/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_wishes_new  (void);
void       dew_wishes_fill (GtkWidget *wishes, DewDocument *document, const DewThing *plant);

G_END_DECLS
