/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A quiet line under a field that says why what was typed is not taken. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A line for `field`, hidden until there is something to say. It lives where the
 * caller puts it; the field may outlive it and the other way round. */
GtkWidget *dew_reason_new (GtkWidget *field);
/* Lets another field say its reason in the same line: for tables of numbers. */
void dew_reason_share (GtkWidget *field, GtkWidget *line);

/* Says it at the field: in its line when it has one, else in its tooltip, and to
 * assistive tools. NULL takes it back. */
void dew_reason_say (GtkWidget *field, const char *reason);
/* What is said at the field now (lent), or NULL. */
const char *dew_reason_said (GtkWidget *field);

G_END_DECLS
