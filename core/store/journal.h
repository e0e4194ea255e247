/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The rollback journal that a killed program leaves beside a document, played back in
 * memory: reading a document writes nothing, and no file that a journal names is touched.
 * The format is that of www.sqlite.org/fileformat.html, 3 ("The Rollback Journal"). */

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  DEW_JOURNAL_COLD,          /* holds nothing to roll back */
  DEW_JOURNAL_PLAYED,        /* the document is what it was before the unfinished write */
  DEW_JOURNAL_NAMES_ANOTHER, /* it names another file, which no document of ours needs */
  DEW_JOURNAL_OF_ANOTHER     /* it belongs to another document or another state of it */
} DewJournalVerdict;

/* Plays `journal` (n bytes) back into `document`, the bytes of the file as they lie on the
 * disk. Anything but DEW_JOURNAL_PLAYED leaves the document as it is. */
DewJournalVerdict dew_journal_roll_back (GByteArray *document, const guint8 *journal, gsize n);

G_END_DECLS
