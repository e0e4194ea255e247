/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One time line of notes, changes of the document and what is due: what was changed before it went
 * wrong. */

#include "say/report.h"
#include "store/notes.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 time_s;
  gboolean change; /* a step of the document, else a note */
  DewNoteKind kind;
  char *words; /* owned by the list */
} DewEvent;

/* Notes and dated steps up to the present, in order of time; DewEvent, transfer full. */
GArray *dew_diary (const GArray *notes, const DewHistory *history);

const char *dew_note_kind_name (DewNoteKind kind); /* "Refilled" */

/* What is due at now_s, one sentence each (transfer full, NULL-terminated). */
char **dew_diary_due (const GArray *notes, const gint64 every_s[DEW_N_NOTE_KINDS], gint64 now_s);

/* The line of each event; with readings, the mean humidity inside over the three days before and
 * after it. */
char *dew_report_diary_text (const DewReport *about, DewSeries *series, gint64 now_s,
                             GError **error);

G_END_DECLS
