/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The file itself: opening and checking a SQLite document, reading it, writing
 * it in one transaction. No threads here; store.c has those. */

#include <gio/gio.h>
#include <sqlite3.h>

#include "chamber/history.h"

G_BEGIN_DECLS

#define DEW_FILE_UNDO_STEPS 100
#define DEW_FILE_APPLICATION_ID 0x44657774 /* "Dewt" */
#define DEW_FILE_VERSION 2

/* What was last written or read, so that a save only touches the undo steps
 * that are new. */
typedef struct
{
  DewHistory *history; /* NULL: nothing is known of the file's steps */
  GArray *numbers;     /* gint64, undo_step.number of each of its documents */
  gint64 data_version; /* of the connection, changes when others write; 0 = unknown */
} DewFileSteps;

void dew_file_steps_clear (DewFileSteps *steps);

/* Checks `path` in this order: exists, a file, not empty, a SQLite file, ours,
 * a known version, sound, its links whole. *read_only is set when it may not be
 * written. NULL with DEW_STORE_ERROR; the file is then as it was. */
sqlite3 *dew_file_open (const char *path, gboolean want_write, gboolean *read_only,
                            GError **error);

/* The document with its undo steps (transfer full). `steps` (cleared, or NULL)
 * learns what is in the file. */
DewHistory *dew_file_read (sqlite3 *db, const char *path, DewFileSteps *steps,
                               GError **error);

/* Writes all in one transaction; on error the file holds what it held. What
 * does not pass dew_chamber_validate() is never written: as the present it
 * fails with DEW_STORE_ERROR_CONTENT, as an undo step it is left out. Fails
 * with DEW_STORE_ERROR_BUSY when another program wrote since `steps` was set. */
gboolean dew_file_write (sqlite3 *db, const char *path, const DewHistory *history,
                             DewFileSteps *steps, GError **error);

/* Makes the tables in an empty database. */
gboolean dew_file_make_tables (sqlite3 *db, const char *path, GError **error);

/* Sets `error` from what the connection says went wrong. Always FALSE. */
gboolean dew_file_fail (sqlite3 *db, const char *path, const char *doing, GError **error);

/* Settings that every connection needs: foreign keys, full syncing, no trust in
 * what a file brings along. */
gboolean dew_file_set_up (sqlite3 *db, const char *path, GError **error);

G_END_DECLS
