/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Something folded away behind a title that opens it. (GtkExpander of GTK 4.8 hands the
 * focus on to its child even while that is folded away and in no window, which ends
 * in a critical warning when one walks by Tab.) */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_FOLD (dew_fold_get_type ())
G_DECLARE_FINAL_TYPE (DewFold, dew_fold, DEW, FOLD, GtkWidget)

/* Folded at first. The title is its name for assistive tools. */
GtkWidget *dew_fold_new (const char *title, GtkWidget *child);
void dew_fold_set_title (DewFold *self, const char *title);
gboolean dew_fold_is_open (DewFold *self);
void dew_fold_set_open (DewFold *self, gboolean open);

G_END_DECLS
