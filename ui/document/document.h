/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What one window works on: the open file, its undo list, an edit in progress, what is
 * looked at, and the newest forecast of it. Only an edit lends a document that may be
 * changed (edit.h); everything that is lent here is read.
 *
 * Signals, all without arguments unless said:
 *   "changed"   what is to be seen changed (also while dragging)
 *   "selected"  something else is selected
 *   "forecast"  a forecast, an error or the words for the state are new
 *   "view"      what is coloured, day or night, plan, lit finding
 *   "history"   undo list, file or name changed
 *   "trouble"   (char *title, char *detail): something went wrong with a file;
 *               with the detail "refused" when only what was asked for was not done
 */

#include "document/merit.h"
#include "forecast/forecast.h"
#include "store/store.h"

#include <glib-object.h>

G_BEGIN_DECLS

#define DEW_TYPE_DOCUMENT (dew_document_get_type ())
G_DECLARE_FINAL_TYPE (DewDocument, dew_document, DEW, DOCUMENT, GObject)

DewDocument *dew_document_new (void);

/* Opens `path` for editing. On failure what was open stays open. The JSON form of
 * a document is taken over into a new document beside it, which must not exist
 * yet. */
gboolean dew_document_open (DewDocument *self, const char *path, GError **error);
/* Writes a new file with what is open and goes on in that file. */
gboolean dew_document_save_copy (DewDocument *self, const char *path, GError **error);
/* Waits until all is on disk; for closing. */
gboolean dew_document_flush (DewDocument *self, GError **error);

/* Lends the store of the file, for what lies beside the document in it; NULL where there is no
 * file. Holds until another document is opened. */
DewStore *dew_document_store (DewDocument *self);
const char *dew_document_path (DewDocument *self); /* NULL before the first open */
/* TRUE when the file may only be read: edits then stay in this window. */
gboolean dew_document_read_only (DewDocument *self);

/* Lend what is to be seen: an edit in progress, the layout that is looked at, else the
 * document as it is saved. NULL before the first open. The pointers hold until the next
 * edit or look. */
const DewChamber *dew_document_chamber (DewDocument *self);
const DewVariant *dew_document_variant (DewDocument *self);

/* A look at another layout, `other` (transfer full), with its forecast (lent; NULL:
 * the one that is shown is followed to it, as in a drag): the sheet shows both, the
 * document stays as it is. There is none while an edit is open. dew_document_peek_take()
 * makes it the document, as one undo step with the words `label`, and returns whether that
 * changed anything; an edit, undo or dew_document_peek_end() leave it. */
void dew_document_peek (DewDocument *self, DewChamber *other, DewForecast *forecast);
gboolean dew_document_peek_take (DewDocument *self, const char *label);
void dew_document_peek_end (DewDocument *self);
gboolean dew_document_peeking (DewDocument *self);

/* What Undo and Redo would take back or bring again; NULL for nothing. */
const char *dew_document_can_undo (DewDocument *self);
const char *dew_document_can_redo (DewDocument *self);
void dew_document_undo (DewDocument *self);
void dew_document_redo (DewDocument *self);

/* Whole actions, each one undo step. */
/* A thing with every field at its fallback, at a sensible free place; selects
 * it and returns its id. */
guint dew_document_add (DewDocument *self, DewThingKind kind);
void dew_document_remove (DewDocument *self, guint id);
void dew_document_show_variant (DewDocument *self, guint variant_id);
void dew_document_copy_variant (DewDocument *self);
void dew_document_rename_variant (DewDocument *self, const char *name);
void dew_document_remove_variant (DewDocument *self);
void dew_document_set_month (DewDocument *self, int month);

/* Copies a name of any length, cut at a whole character. */
void dew_name_set (char name[DEW_NAME_SIZE], const char *text);

/* --- looking --- */

/* Several things may be selected. The last one that was is the one whose
 * numbers are shown: dew_document_selected(), 0 = nothing. */
guint dew_document_selected (DewDocument *self);
/* Ids in the order in which they were selected; lent until the selection changes. */
const guint *dew_document_selection (DewDocument *self, guint *n);
gboolean dew_document_is_selected (DewDocument *self, guint id);
/* This one and nothing else; 0 = nothing. */
void dew_document_select (DewDocument *self, guint id);
/* One more, which becomes the last. */
void dew_document_select_add (DewDocument *self, guint id);
void dew_document_select_toggle (DewDocument *self, guint id);
void dew_document_select_set (DewDocument *self, const guint *ids, guint n);
DewValue dew_document_coloured (DewDocument *self);
void dew_document_colour_by (DewDocument *self, DewValue value);
gboolean dew_document_night (DewDocument *self);
void dew_document_set_night (DewDocument *self, gboolean night);
int dew_document_plan_bay (DewDocument *self); /* index, 0 = lowest */
void dew_document_set_plan_bay (DewDocument *self, int bay);
int dew_document_lit_finding (DewDocument *self); /* index into findings, -1 = none */
void dew_document_light_finding (DewDocument *self, int finding);
/* A map shown in place of the colours; NULL: none. Lent: to be taken back with
 * NULL before it is freed, and given again when its content changes. */
const DewMeritMap *dew_document_merit (DewDocument *self);
void dew_document_show_merit (DewDocument *self, const DewMeritMap *merit);

/* The newest forecast (lent) or NULL. It may lag behind what is to be seen:
 * dew_document_lags() says so. */
DewForecast *dew_document_forecast (DewDocument *self);
gboolean dew_document_lags (DewDocument *self);
/* One line: 'settled', 'following', 'cannot: the fan is outside ...'. */
const char *dew_document_state (DewDocument *self);
/* Why there is no forecast, a sentence with its remedy; NULL when there is one.
 * `thing_id` may be NULL; 0 = the enclosure or the room. */
const char *dew_document_obstacle (DewDocument *self, guint *thing_id);

G_END_DECLS
