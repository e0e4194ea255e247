/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What gets better and what worse, in words. */

#include "advice/compare/compare.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Fills an empty box, a part for each side but the first. */
void dew_compare_words_fill (GtkBox *box, const DewComparison *comparison);

/* A sentence for each side but the first. */
void dew_compare_words_gist (GtkBox *box, const DewComparison *comparison);

G_END_DECLS
