/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What reading and writing the rows of a document share. */

#include "store/file.h"

G_BEGIN_DECLS

typedef struct
{
  sqlite3 *db;
  const char *path; /* for messages */
  GError **error;
} DewConnection;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (sqlite3_stmt, sqlite3_finalize)

/* NULL with the connection's error set. */
sqlite3_stmt *dew_connection_prepare (const DewConnection *connection, const char *sql);
/* Binds a copy of `text`; columns count from 1. */
void dew_connection_bind_text (sqlite3_stmt *statement, int column, const char *text);
/* PRAGMA data_version; 0 on error. */
gint64 dew_connection_data_version (const DewConnection *connection);
/* Inside a transaction: whether the file is as we left it. FALSE with DEW_STORE_ERROR_BUSY. */
gboolean dew_connection_check_unchanged (const DewConnection *connection,
                                         const DewFileSteps *steps);
/* The first thing that a transaction writes. */
gboolean dew_connection_touch (const DewConnection *connection);
/* Ends the transaction, and sets what `steps` knows of the file as we leave it. */
gboolean dew_connection_finish (const DewConnection *connection, DewFileSteps *steps);
/* Runs SQL that returns nothing; `what` is as of dew_file_fail(). */
gboolean dew_connection_execute (const DewConnection *connection, const char *sql,
                                 const char *what);
/* Runs a statement that returns nothing and makes it ready for the next row. */
gboolean dew_connection_run (const DewConnection *connection, sqlite3_stmt *statement);

/* The tables as a document; `undo_present` is -1 for none. */
DewChamber *dew_connection_read_chamber (const DewConnection *connection, gint64 *undo_present);
/* The same of a database that is damaged: what cannot be read is left as a new enclosure has
 * it, or out, and said in `losses` (char *). Transfer full; may not be valid. */
DewChamber *dew_connection_rescue_chamber (const DewConnection *connection, GPtrArray *losses);
/* Inside a transaction: writes the undo steps and the text of the present. `known`
 * is what the file has of them, or NULL. */
gboolean dew_connection_write_steps (const DewConnection *connection, const DewHistory *history,
                                     const DewHistory *known);

/* Goes to the next row of a SELECT: FALSE at the end, or with *ok FALSE when *ok was it
 * already or the row cannot be read. */
gboolean dew_connection_next (const DewConnection *connection, sqlite3_stmt *statement,
                              gboolean *ok);

/* Sets DEW_STORE_ERROR_CONTENT. Always FALSE. */
gboolean dew_connection_wrong (const DewConnection *connection, const char *table,
                               const char *what);

G_END_DECLS
