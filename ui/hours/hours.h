/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The page on living with an enclosure: a day by the hour, the weeks of a year, mishaps. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_hours_page_new (DewDocument *document);

G_END_DECLS
