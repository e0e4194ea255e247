/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The places of one bay as seen from above: a small map in the colours of the sheet,
 * the worst place in words, and of the place one points out all its numbers. */

#include "document/document.h"
#include "forecast/verdict.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_places_new (DewDocument *document);
/* From the newest forecast. */
void dew_places_fill (GtkWidget *places, int bay);

/* A verdict as its mark with the word beside it. */
GtkWidget *dew_verdict_new (void);
void dew_verdict_show (GtkWidget *verdict, DewVerdict value);

G_END_DECLS
