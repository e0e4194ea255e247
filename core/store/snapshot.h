/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a document and the journal beside it hold at one moment, read under the lock that
 * other programs heed, without writing anything. The file is never opened and closed beside
 * SQLite: that would drop the locks that this process holds on it (POSIX, fcntl). */

#include <gio/gio.h>
#include <sqlite3.h>

G_BEGIN_DECLS

typedef struct
{
  GByteArray *bytes; /* the whole document, an unfinished write rolled back */
  gboolean rolled_back;
} DewSnapshot;

void dew_snapshot_clear (DewSnapshot *snapshot);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DewSnapshot, dew_snapshot_clear)

/* Reads `path`. FALSE with DEW_STORE_ERROR: missing, no file, empty, too large, being
 * written, or with a journal beside it that must not be played back. */
gboolean dew_snapshot_take (const char *path, DewSnapshot *out, GError **error);

/* The same of a file that may be damaged, whatever lies beside it: with an unfinished write
 * rolled back where that can be, else as it lies there. */
gboolean dew_snapshot_take_any (const char *path, DewSnapshot *out, GError **error);

/* A sum over what the file of an open connection holds now. The caller is inside a
 * transaction, so that nobody writes meanwhile. NULL: it cannot be read. */
char *dew_snapshot_sum_of (sqlite3 *db);
char *dew_snapshot_sum (const DewSnapshot *snapshot);

/* "…-journal" beside the real file behind `path`. Transfer full. */
char *dew_snapshot_journal (const char *path);

G_END_DECLS
