/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The page of readings and journal: what instruments read over time beside what is forecast, with
 * notes and changes on the same time line, so that one sees what was changed before it went
 * wrong. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_readings_page_new (DewDocument *document);

G_END_DECLS
