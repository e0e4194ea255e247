/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Two ways to show the same thing, a wide and a compact one: the wide one is
 * shown where the width is enough for it. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_EITHER (dew_either_get_type ())
G_DECLARE_FINAL_TYPE (DewEither, dew_either, DEW, EITHER, GtkWidget)

/* Takes both. */
GtkWidget *dew_either_new (GtkWidget *wide, GtkWidget *compact);

G_END_DECLS
