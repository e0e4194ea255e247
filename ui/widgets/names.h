/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Small helps for those who do not see the window, or not well. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Names a widget; of a drop-down also the button inside that takes the focus. */
void dew_name_widget (GtkWidget *widget, const char *name);

G_END_DECLS
