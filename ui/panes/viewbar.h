/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The row above the sheet: what is coloured, day or night, which month, which
 * variant, and whether the air moves on the picture. */

#include "canvas/canvas.h"

G_BEGIN_DECLS

GtkWidget *dew_viewbar_new (DewDocument *document, DewCanvas *canvas);

/* Which variant: for the head of the window. */
GtkWidget *dew_variant_chooser_new (DewDocument *document);

G_END_DECLS
