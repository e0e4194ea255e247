/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The page that shows two or three variants of the enclosure side by side on one
 * scale of colours, and says what gets better and what worse. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_compare_page_new (DewDocument *document);

G_END_DECLS
