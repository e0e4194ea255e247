/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A bay or a finding of the drawing as a widget, so that the keyboard and
 * assistive tools reach them too. It draws nothing but its focus ring. */

#include "document/document.h"
#include "paint/sheet.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_SPOT (dew_spot_get_type ())
G_DECLARE_FINAL_TYPE (DewSpot, dew_spot, DEW, SPOT, GtkWidget)

/* part: DEW_PART_BAY or DEW_PART_FLAG; index: of the bay or finding. */
GtkWidget *dew_spot_new (DewDocument *document, DewPart part, int index);
DewPart dew_spot_part (DewSpot *self);
int dew_spot_index (DewSpot *self);
/* Name and description from the document and its newest forecast. */
void dew_spot_update (DewSpot *self);
/* Where it lay when it was placed last, px. */
void dew_spot_set_rect (DewSpot *self, const DewRect *rect);
const DewRect *dew_spot_rect (DewSpot *self);

/* The ring round what has the keyboard, for all that is on the sheet. */
void dew_focus_ring_snapshot (GtkWidget *widget, GtkSnapshot *snapshot);

G_END_DECLS
