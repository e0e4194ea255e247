/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* An entry for one quantity: shows the unit, takes point or comma and other
 * units of the same kind, and speaks SI to the program. */

#include "canvas/units.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Called when a person (not dew_number_set()) changed the value. */
typedef void (*DewNumberChanged) (GtkWidget *number, double si, gpointer user_data);

/* A spin button for si values of min_si..max_si. `name` is what assistive
 * tools call it. */
GtkWidget *dew_number_new (const DewUnit *unit, double min_si, double max_si, const char *name,
                           DewNumberChanged changed, gpointer user_data);
void       dew_number_set (GtkWidget *number, double si);
double     dew_number_get (GtkWidget *number);

G_END_DECLS
