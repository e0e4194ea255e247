/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The file itself: opening and checking a SQLite document, reading it, writing
 * it in one transaction. No threads here; store.c has those. */

#include <gio/gio.h>
#include <sqlite3.h>

#include "store/history.h"

G_BEGIN_DECLS

#define DEW_FILE_APPLICATION_ID 0x44657774 /* "Dewt" */
#define DEW_FILE_VERSION 4

/* What was last written or read, so that a save only touches the undo steps
 * that are new. */
typedef struct
{
  DewHistory *history; /* NULL: nothing is known of the file's steps */
  gint64 data_version; /* of the connection, changes when others write; 0 = unknown */
} DewFileSteps;

void dew_file_steps_clear (DewFileSteps *steps);

/* Checks `path` in this order: exists, a file, not empty, a SQLite file, ours,
 * a known version, sound, its links whole. *read_only is set when it may not be
 * written. NULL with DEW_STORE_ERROR; the file is then as it was. */
sqlite3 *dew_file_open (const char *path, gboolean want_write, gboolean *read_only, GError **error);

/* The document with its undo steps (transfer full). `steps` (cleared, or NULL)
 * learns what is in the file. */
DewHistory *dew_file_read (sqlite3 *db, const char *path, DewFileSteps *steps, GError **error);

/* Writes all in one transaction; on error the file holds what it held. Fails
 * with DEW_STORE_ERROR_BUSY when another program wrote since `steps` was set. */
gboolean dew_file_write (sqlite3 *db, const char *path, const DewHistory *history,
                         DewFileSteps *steps, GError **error);

/* Brings a document of an older form to this one. With `on_disk` the file itself,
 * in one transaction, after a copy of it was put beside it: *copy is its name
 * (transfer full). Without, *db becomes a connection to a copy in memory and the
 * file stays as it is. Does nothing, and sets *copy to NULL, when the form is this
 * one. FALSE with DEW_STORE_ERROR; the file is then as it was. */
gboolean dew_file_update (sqlite3 **db, const char *path, gboolean on_disk, char **copy,
                          GError **error);

/* Makes the tables in an empty database. */
gboolean dew_file_make_tables (sqlite3 *db, const char *path, GError **error);

/* Sets `error` from what the connection says went wrong; `what` is the clause for it, in
 * the user's language: "could not be read". Always FALSE. */
gboolean dew_file_fail (sqlite3 *db, const char *path, const char *what, GError **error);

/* Settings that every connection needs: foreign keys, full syncing, no trust in
 * what a file brings along. */
gboolean dew_file_set_up (sqlite3 *db, const char *path, GError **error);

/* The SQLite that this was compiled with, and the one it runs with: major, minor, patch. */
void dew_file_library (int compiled[3], int running[3]);

G_END_DECLS
