/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The things that can be placed, each as its own small drawing with its name:
 * drag one onto the sheet, or activate it to have it put at a free place. */

#include "canvas/canvas.h"

G_BEGIN_DECLS

/* Its natural width is the one with names, its least width the one without. */
GtkWidget *dew_tray_new (DewDocument *document, DewCanvas *canvas);

G_END_DECLS
