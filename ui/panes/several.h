/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The pane of several selected things: how many, which, and the numbers that they can share,
 * changed for all of them in one step. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Of the present selection, which holds two things or more. */
GtkWidget *dew_several_new (DewDocument *document);

G_END_DECLS
