/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Undo and redo without limit: the present, and for each step the words for the
 * action and what it changed in the JSON form of the document. A step takes some
 * hundred bytes, so that the work of years fits into memory and file. Knows no
 * widget and no file.
 *
 * Steps never change once they are made; copies share them and may be read in
 * other threads. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

typedef struct _DewHistory DewHistory;

/* Starts with `first`, which passes dew_chamber_validate(), as the present, and keeps it:
 * see dew_chamber_keep(), as all presents are kept. */
DewHistory *dew_history_new (const DewChamber *first);
DewHistory *dew_history_copy (const DewHistory *history);
void dew_history_free (DewHistory *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewHistory, dew_history_free)

/* Keeps `next` as the present; forgets what could be redone. Returns
 * whether it was taken. A step that changes nothing is dropped: FALSE without an
 * error. What does not pass dew_chamber_validate() is refused: FALSE with its
 * error. Steps with the same non-NULL `merge_key` in a row become one (arrow-key
 * nudges). */
gboolean dew_history_push (DewHistory *history, const DewChamber *next, const char *label,
                           const char *merge_key, GError **error);

const DewChamber *dew_history_present (const DewHistory *history);
/* NULL when there is nothing to undo or redo; else the label of that step. */
const char *dew_history_can_undo (const DewHistory *history);
const char *dew_history_can_redo (const DewHistory *history);
/* Lends the new present, or NULL when nothing was done. Steps of a file that
 * somebody else has spoilt cannot be undone or redone: they are forgotten when
 * they are come upon. */
const DewChamber *dew_history_undo (DewHistory *history);
const DewChamber *dew_history_redo (DewHistory *history);

/* Documents that the list leads through, oldest first, and which of them is the
 * present. */
guint dew_history_length (const DewHistory *history);
guint dew_history_index (const DewHistory *history);

/* When step n was made, in seconds since 1970 (UTC); 0 where nobody knows. */
gint64 dew_history_made_s (const DewHistory *history, guint n);

/* --- for the store --- */

/* Of a step that was read; a step never changes once it is shared. */
void dew_history_set_made_s (DewHistory *history, guint n, gint64 made_s);

/* One step. n counts documents: step n leads from document n - 1 to n; step 0
 * leads nowhere and has neither words nor change. Lends. */
const char *dew_history_label (const DewHistory *history, guint n);
const char *dew_history_change (const DewHistory *history, guint n); /* see change.h */
/* Whether step n of both is the very same, made once and copied. */
gboolean dew_history_shares (const DewHistory *a, const DewHistory *b, guint n);
/* The JSON text of the present that the changes are about. Lends. */
const char *dew_history_text (const DewHistory *history);

/* A list that was read. text: of document `index`; labels, changes: [n]. NULL with
 * DEW_STORE_ERROR when the text is no document. */
DewHistory *dew_history_restore (const char *text, const char *const *labels,
                                 const char *const *changes, guint n, guint index, GError **error);
/* Puts another document in the place of the present, as if the step to it had led
 * there at once. `present` passes dew_chamber_validate(). */
void dew_history_amend (DewHistory *history, const DewChamber *present);

G_END_DECLS
