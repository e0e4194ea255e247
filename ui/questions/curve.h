/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The chart of a sizing as a widget: humidity of each bay against how much of it. */

#include "advice/moisture/moisture.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Copies what it shows. */
GtkWidget *dew_ask_curve_new (const DewMoistureAdvice *advice, DewSizing sizing);

/* "6 wet pots", "45 mL/h without a pause" ...; newly allocated. */
char *dew_ask_sizing_title (DewSizing sizing, double x);

G_END_DECLS
