/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Two ways to show the same thing, a wide and a compact one: the wide one is
 * shown where there is room for it. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_FIT (dew_fit_get_type ())
G_DECLARE_FINAL_TYPE (DewFit, dew_fit, DEW, FIT, GtkWidget)

/* Across: the room that counts is the width, else the height. Takes both. */
GtkWidget *dew_fit_new (GtkOrientation orientation, GtkWidget *wide, GtkWidget *compact);

G_END_DECLS
