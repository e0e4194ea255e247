/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Undo and redo: a bounded list of whole documents, each with the words for
 * the action that led to it. Knows no widget and no file. */

#include "chamber.h"

G_BEGIN_DECLS

typedef struct _DewHistory DewHistory;

/* Starts with a copy of `first` as the present. At most `limit` steps back. */
DewHistory *dew_history_new  (const DewChamber *first, guint limit);
void        dew_history_free (DewHistory *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewHistory, dew_history_free)

/* Makes a copy of `next` the present; forgets what could be redone. A step that
 * changes nothing is dropped. Returns whether it was taken. Steps with the same
 * non-NULL `merge_key` in a row become one (arrow-key nudges). */
gboolean dew_history_push (DewHistory *history, const DewChamber *next,
                           const char *label, const char *merge_key);

const DewChamber *dew_history_present (const DewHistory *history);
/* NULL when there is nothing to undo or redo; else the label of that step. */
const char *dew_history_can_undo (const DewHistory *history);
const char *dew_history_can_redo (const DewHistory *history);
/* Lends the new present, or NULL when nothing was done. */
const DewChamber *dew_history_undo (DewHistory *history);
const DewChamber *dew_history_redo (DewHistory *history);

/* For the store, so that undo survives closing: the documents in order, oldest
 * first, with labels (the first has none), and which of them is the present. */
guint             dew_history_length  (const DewHistory *history);
guint             dew_history_index   (const DewHistory *history);
const DewChamber *dew_history_nth     (const DewHistory *history, guint n, const char **label);
/* Takes copies. chambers: [n], labels: [n]. */
DewHistory *dew_history_restore (const DewChamber *const *chambers, const char *const *labels,
                                 guint n, guint index, guint limit);

G_END_DECLS
