/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The file itself: checking a SQLite document and reading it in a copy in memory, writing
 * it in one transaction. No threads here; store.c has those. */

#include <gio/gio.h>
#include <sqlite3.h>

#include "store/history.h"
#include "store/snapshot.h"

G_BEGIN_DECLS

#define DEW_FILE_APPLICATION_ID 0x44657774 /* "Dewt" */
#define DEW_FILE_VERSION 4
#define DEW_FILE_PAGE_BYTES 4096 /* as SQLite makes files since 3.12 */

/* What was last written or read, so that a save only touches the undo steps
 * that are new. */
typedef struct
{
  DewHistory *history; /* NULL: nothing is known of the file's steps */
  gint64 data_version; /* of the connection, changes when others write; 0 = unknown */
  char *sum;           /* of the file as we left it (snapshot.h); NULL = unknown */
} DewFileSteps;

void dew_file_steps_clear (DewFileSteps *steps);

/* Whether bytes begin as a SQLite file does. */
gboolean dew_file_is_database (const guint8 *bytes, gsize n);

/* What was found in a document, in a copy of its own in memory. Nothing that a file brings
 * along is run against the file itself. */
typedef struct
{
  sqlite3 *db;         /* the copy, in this form */
  int form;            /* of the file */
  DewHistory *history; /* the document with its undo steps */
  gboolean as_in_file; /* whether these are the steps of the file */
} DewFileFound;

void dew_file_found_clear (DewFileFound *found);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DewFileFound, dew_file_found_clear)

/* Reads the bytes of a document, which have to last as long as what was found. Checked in this
 * order: a SQLite file, ours, a known form, declared as this program declares it, sound, its links
 * whole, possible in what it says. FALSE with DEW_STORE_ERROR. */
gboolean dew_file_find (const char *path, const DewSnapshot *snapshot, DewFileFound *out,
                        GError **error);

/* A connection to a copy of a damaged document in memory, its head mended; NULL with an error
 * when not even that can be read, or when it declares what this program does not. */
sqlite3 *dew_file_open_damaged (const char *path, const GByteArray *bytes, GError **error);

/* Opens the file that was found, for writing: an unfinished write is rolled back, an older
 * form brought to this one after a copy of it was put beside it, whose name is *copy (transfer
 * full; else NULL). Sets `steps`. NULL with DEW_STORE_ERROR, also when the file is not what the
 * snapshot says any more; it then holds the document that it held. */
sqlite3 *dew_file_open_to_write (const char *path, const DewSnapshot *snapshot,
                                 const DewFileFound *found, DewFileSteps *steps, char **copy,
                                 GError **error);

/* The document with its undo steps (transfer full). *as_in_file is whether these are the
 * steps of the file. */
DewHistory *dew_file_read (sqlite3 *db, const char *path, gboolean *as_in_file, GError **error);

/* Writes all in one transaction; on error the file holds what it held. Fails
 * with DEW_STORE_ERROR_BUSY when another program wrote since `steps` was set. */
gboolean dew_file_write (sqlite3 *db, const char *path, const DewHistory *history,
                         DewFileSteps *steps, GError **error);

/* Brings a document of an older form to this one, in one transaction or in the one that is
 * open. FALSE with DEW_STORE_ERROR; the database is then as it was. */
gboolean dew_file_update (sqlite3 *db, const char *path, int form, GError **error);
/* Tables alone, without what the program does to rows between: for comparing. */
gboolean dew_file_update_tables (sqlite3 *db, const char *path, int from, int to, GError **error);

/* Puts the bytes of a document of an older form beside it, never over anything and through no
 * link: "a.dewtier" leaves "a.form-1.dewtier". Its name, transfer full. */
char *dew_file_keep_copy (const char *path, const DewSnapshot *snapshot, int form, GError **error);

/* Makes the tables of a form in an empty database. */
gboolean dew_file_make_tables (sqlite3 *db, const char *path, int form, GError **error);

/* Whether the file declares what the program of its form, or of an older one and the updates
 * since, has made, and nothing else: no table, column, check, view, trigger or index more. */
gboolean dew_file_check_declared (sqlite3 *db, const char *path, int form, GError **error);

/* Sets `error` from what the connection says went wrong; `what` is the clause for it, in
 * the user's language: "could not be read". Always FALSE. */
gboolean dew_file_fail (sqlite3 *db, const char *path, const char *what, GError **error);

/* Settings that every connection needs: foreign keys, full syncing, no trust in
 * what a file brings along. */
gboolean dew_file_set_up (sqlite3 *db, const char *path, GError **error);

/* The SQLite that this was compiled with, and the one it runs with: major, minor, patch. */
void dew_file_library (int compiled[3], int running[3]);

G_END_DECLS
