/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One drawn thing as a widget: it gives the thing focus, keys, a name and a
 * description for assistive tools. It draws nothing but its focus ring; the
 * thing itself is painted with the sheet. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_ITEM (dew_item_get_type ())
G_DECLARE_FINAL_TYPE (DewItem, dew_item, DEW, ITEM, GtkWidget)

GtkWidget *dew_item_new (DewDocument *document, guint thing_id);
guint dew_item_thing_id (DewItem *self);
/* Name and description from the document and its newest forecast. */
void dew_item_update (DewItem *self);
/* Only whether it is selected. */
void dew_item_update_selected (DewItem *self);

G_END_DECLS
