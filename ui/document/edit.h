/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A change to the document of a window: begun, made, and either committed as one undo step,
 * which is saved at once, or ended without leaving a trace. Only what an edit lends may be
 * written to.
 *
 *   g_autoptr (DewEdit) edit = dew_document_edit_begin (document);
 *   DewThing *fan = dew_variant_thing (dew_edit_variant (edit), id);
 *
 *   if (fan == NULL)
 *     return;
 *   fan->fan.speed_day = 0.5;
 *   dew_edit_commit (edit, _ ("Slow the fan down"), NULL);
 *
 * A drag keeps its edit for many events. For each it takes dew_edit_restart(), makes the
 * change as it is now and calls dew_edit_follow(), which shows it: one copy of the document
 * and one check.
 *
 * One edit at a time. What has been followed is in somebody's hand, and the world may go on
 * without asking it: another edit, undo, redo, another file and closing put it back first,
 * and undo is content with that. Its handle is over then (dew_edit_is_open() says so, and
 * "changed" comes when it has been put back); all that is left to do with it is
 * dew_edit_end(). What has not been followed yet is in the middle of a function: who begins
 * another one there has made a mistake, gets a critical warning and NULL. */

#include "document/document.h"

G_BEGIN_DECLS

typedef struct _DewEdit DewEdit;

/* Ends a look at another layout. NULL before the first open. */
DewEdit *dew_document_edit_begin (DewDocument *document);
/* FALSE once it is committed or was put back. */
gboolean dew_edit_is_open (const DewEdit *edit);

/* The document as the edit found it (lent). */
const DewChamber *dew_edit_before (DewEdit *edit);
/* The document to be changed and its shown variant (lent until it is followed, restarted,
 * committed or ended). */
DewChamber *dew_edit_chamber (DewEdit *edit);
DewVariant *dew_edit_variant (DewEdit *edit);

/* Forgets what was changed: the document is again as the edit found it. */
void dew_edit_restart (DewEdit *edit);
/* Shows what was changed so far, and lets the forecast follow it. */
void dew_edit_follow (DewEdit *edit);
/* Ends it as one undo step. label: words for that ("Move fan"). merge_key: steps with the
 * same key in a row become one; may be NULL. Returns whether anything changed; what cannot
 * be taken is told by "trouble". */
gboolean dew_edit_commit (DewEdit *edit, const char *label, const char *merge_key);
/* Puts back what was not committed, and frees the handle, which may be NULL. */
void dew_edit_end (DewEdit *edit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewEdit, dew_edit_end)

G_END_DECLS
