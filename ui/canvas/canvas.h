/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The drawing that one edits: the painted sheet of a document with pointer and
 * keys. Each drawn thing is a child (DewItem) that takes the focus. */

#include "document/document.h"
#include "paint/sheet.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define DEW_TYPE_CANVAS (dew_canvas_get_type ())
G_DECLARE_FINAL_TYPE (DewCanvas, dew_canvas, DEW, CANVAS, GtkWidget)

GtkWidget *dew_canvas_new (DewDocument *document);

/* Still: moving air as short segments instead of streaks. */
void dew_canvas_set_still (DewCanvas *self, gboolean still);
gboolean dew_canvas_still (DewCanvas *self);

/* For tests with a real pointer: says in the log where the middle of a widget is, in pixels of
 * the surface, as "WHAT: X Y NAME". */
void dew_canvas_log_place (GtkWidget *widget, const char *what, const char *name);

/* A thing that is carried in from the tray: at (x, y) of the canvas. Outside
 * the canvas it is taken off the sheet again. `end` puts it down where it is. */
void dew_canvas_carry (DewCanvas *self, DewThingKind kind, double x, double y);
void dew_canvas_carry_end (DewCanvas *self);

/* Ends a drag, a carried thing or an open number without effect. Returns
 * whether there was one. */
gboolean dew_canvas_cancel (DewCanvas *self);

/* Puts an enlarged plan back into its row; FALSE: there was none. */
gboolean dew_canvas_put_back_plan (DewCanvas *self);

/* Gives the keyboard to the thing. */
void dew_canvas_focus_thing (DewCanvas *self, guint id);

/* Where a thing or a point of a view lies on the canvas, in px; for tests and
 * for what points at things. */
gboolean dew_canvas_thing_rect (DewCanvas *self, guint id, DewView view, DewRect *out);

G_END_DECLS
