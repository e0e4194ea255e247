/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* An entry for one quantity: shows the unit, takes point or comma and other
 * units of the same kind, and speaks SI to the program.
 *
 * What cannot be taken stays in the field with the keyboard, and the reason is
 * said in a line under it (dew_reason_new() makes one for it); Escape puts the
 * present value back. When the pointer takes the keyboard elsewhere the present
 * value comes back and the reason stays until something else is typed.
 */

#include "document/tongue.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Called when a person (not dew_number_set()) changed the value. May answer with
 * dew_number_refuse(). */
typedef void (*DewNumberChanged) (GtkWidget *number, double si, gpointer user_data);

/* A spin button for si values of min_si..max_si. `name` is what assistive
 * tools call it. `unit` may be of either system; it follows the present one. */
GtkWidget *dew_number_new (const DewUnit *unit, double min_si, double max_si, const char *name,
                           DewNumberChanged changed, gpointer user_data);
void dew_number_set (GtkWidget *number, double si);
double dew_number_get (GtkWidget *number);

/* Inside DewNumberChanged: the value is not taken, for this reason (a sentence). The
 * value before is back, what was typed stays in the field. */
void dew_number_refuse (GtkWidget *number, const char *reason);

G_END_DECLS
