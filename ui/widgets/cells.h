/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One row of a table that leaves out its less needed columns where there is no room
 * for them, so that nothing is cut. Rows whose cells share size groups leave out the
 * same columns. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_CELLS (dew_cells_get_type ())
G_DECLARE_FINAL_TYPE (DewCells, dew_cells, DEW, CELLS, GtkWidget)

GtkWidget *dew_cells_new (void);
/* Takes `cell`. rank 0: always shown; of the others the highest goes first. Room that is
 * left goes to those that expand. */
void dew_cells_append (DewCells *self, GtkWidget *cell, int rank, gboolean expand);

G_END_DECLS
