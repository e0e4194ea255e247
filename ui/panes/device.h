/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a device does now: a fan on its curve, a humidifier and its tank, a lamp, a wet
 * pot. Fills itself from the newest forecast. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_device_view_new (void);
/* Hides itself for what is no device and while nothing is forecast. */
void dew_device_view_fill (GtkWidget *view, DewDocument *document, const DewThing *thing);

G_END_DECLS
