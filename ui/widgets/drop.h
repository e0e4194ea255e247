/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A drop-down that never asks for more width than it is given: what does not
 * fit in the button is cut with dots, the list shows it whole. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Takes `names` (may be NULL). `spoken` is what assistive tools call it. */
GtkWidget *dew_drop_new (GtkStringList *names, const char *spoken);

G_END_DECLS
