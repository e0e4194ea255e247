/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One window with one document. */

#include "canvas/canvas.h"
#include "sheets/printout.h"
#include "window/pane.h"

G_BEGIN_DECLS

#define DEW_TYPE_WINDOW (dew_window_get_type ())
G_DECLARE_FINAL_TYPE (DewWindow, dew_window, DEW, WINDOW, GtkApplicationWindow)

/* application may be NULL (tests). */
GtkWidget *dew_window_new (GtkApplication *application);

/* Opens a file in this window, or brings the window to the front that has it
 * already. What cannot be opened is told in a bar, and what was open stays.
 * Returns whether it is open. */
gboolean dew_window_open (DewWindow *self, const char *path);
/* The same for a file that a person or another program hands over. */
gboolean dew_window_open_file (DewWindow *self, GFile *file);
/* The window that has the file open, whatever way it is written; or NULL. */
DewWindow *dew_window_with_file (const char *path);

DewDocument *dew_window_document (DewWindow *self);
DewCanvas *dew_window_canvas (DewWindow *self);
DewPane *dew_window_pane (DewWindow *self);

/* Says in a bar what went wrong; the window stays usable. */
void dew_window_tell (DewWindow *self, const char *title, const char *detail);

/* What the bar says went wrong (lent), or NULL while it says nothing. */
const char *dew_window_told (DewWindow *self);
/* "sheet", or the page in its place: "start", "new", "tour", "help", "keys",
 * "cautions", "compare". */
const char *dew_window_page (DewWindow *self);

/* Writes those pages of what is shown, as a file whose ending says the form (".pdf", ".png",
 * ".svg"), beside the window; says in the window how it went. */
void dew_window_export (DewWindow *self, DewPages pages, const char *path);
/* What the Print actions run (transfer full): a copy of what is shown now. */
GtkPrintOperation *dew_window_print_operation (DewWindow *self, DewPages pages);

/* Shows the units that the person's habits ask for, in every window. */
void dew_window_apply_units (void);

/* The demo: where it is kept between two sessions. Written there when it is
 * missing. Free with g_free(); NULL with `error` when that is impossible. */
char *dew_window_demo_path (GError **error);

G_END_DECLS
