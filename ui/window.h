/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One window with one document. */

#include "canvas/canvas.h"
#include "panes/pane.h"

G_BEGIN_DECLS

#define DEW_TYPE_WINDOW (dew_window_get_type ())
G_DECLARE_FINAL_TYPE (DewWindow, dew_window, DEW, WINDOW, GtkApplicationWindow)

/* application may be NULL (tests). */
GtkWidget *dew_window_new (GtkApplication *application);

/* Opens a file in this window. What cannot be opened is told in a dialog, and
 * what was open stays. Returns whether it was opened. */
gboolean dew_window_open (DewWindow *self, const char *path);

DewDocument *dew_window_document (DewWindow *self);
DewCanvas   *dew_window_canvas   (DewWindow *self);
DewPane     *dew_window_pane     (DewWindow *self);

/* Says in a bar what went wrong; the window stays usable. */
void dew_window_tell (DewWindow *self, const char *title, const char *detail);

G_END_DECLS
