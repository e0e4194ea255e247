/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What reading and writing the rows of a document share. */

#include "store/file.h"

G_BEGIN_DECLS

typedef struct
{
  sqlite3    *db;
  const char *path; /* for messages */
  GError    **error;
} DewConnection;

/* NULL with the connection's error set. */
sqlite3_stmt *dew_connection_prepare (const DewConnection *connection, const char *sql);
/* Binds a copy of `text`; columns count from 1. */
void          dew_connection_bind_text (sqlite3_stmt *statement, int column, const char *text);
/* PRAGMA data_version; 0 on error. */
gint64        dew_connection_data_version (const DewConnection *connection);
/* A history of its own with the same steps. */
DewHistory   *dew_file_copy_history (const DewHistory *history);

G_END_DECLS
