/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The row above the sheet: what is coloured, day or night, which month; and for
 * the head of the window, which variant. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_viewbar_new (DewDocument *document);

GtkWidget *dew_variant_chooser_new (DewDocument *document);

G_END_DECLS
