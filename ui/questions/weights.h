/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What matters to the grower: a few plain sliders, folded to one line until they
 * are wanted. */

#include "advice/objective.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Changes `weights` (which outlives the widget) from the usual ones, and calls
 * back after each change. */
GtkWidget *dew_ask_weights_new (DewWeights *weights, void (*changed) (gpointer data),
                                gpointer data);

G_END_DECLS
