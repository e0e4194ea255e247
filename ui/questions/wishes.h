/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What is to be placed: the list of wished-for plants with a way to add one from
 * the catalogue, the grower's own kinds, and which standing plants keep their
 * place. Every change is an ordinary edit of the document. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *dew_ask_wishes_new (DewDocument *document);

/* Adds a wish for a kind of plant of that name: one undo step; its id. */
guint dew_ask_wish_for (DewDocument *document, const char *species);

G_END_DECLS
