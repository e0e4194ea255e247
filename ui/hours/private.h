/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the page is made of: its three parts, and the work behind each. */

#include "day/mishap.h"
#include "day/year.h"
#include "document/errand.h"
#include "hours/hours.h"

G_BEGIN_DECLS

/* --- work: DewErrandWork on a DewChamber (a copy, its shown variant is meant) ----------- */

gpointer dew_hours_day_work (gpointer chamber, DewErrandRun *run, GCancellable *cancellable,
                             GError **error); /* a DewDay */
gpointer dew_hours_year_work (gpointer chamber, DewErrandRun *run, GCancellable *cancellable,
                              GError **error); /* a DewYear */
gpointer dew_hours_mishaps_work (gpointer chamber, DewErrandRun *run, GCancellable *cancellable,
                                 GError **error); /* a DewMishaps */

/* --- parts: widgets that show what was found; chamber is that which it was found for, lent as
 * long as it is shown; the result is taken, NULL: nothing is shown ------------------------ */

GtkWidget *dew_hours_day_new (DewDocument *document);
void dew_hours_day_show (GtkWidget *part, const DewChamber *chamber, DewDay *day);
GtkWidget *dew_hours_year_new (DewDocument *document);
void dew_hours_year_show (GtkWidget *part, const DewChamber *chamber, DewYear *year);
GtkWidget *dew_hours_mishaps_new (DewDocument *document);
void dew_hours_mishaps_show (GtkWidget *part, const DewChamber *chamber, DewMishaps *mishaps);

G_END_DECLS
