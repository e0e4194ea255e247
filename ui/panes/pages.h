/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Pages of words that take the place of the sheet: help with the keys, and
 * cautions. "win.back" leads back. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_help_page_new     (void);
GtkWidget *dew_cautions_page_new (void);

G_END_DECLS
