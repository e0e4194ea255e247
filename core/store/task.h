/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What is written beside the document itself (readings, journal), between two saves of it. */

#include "store/file-rows.h"
#include "store/store.h"

G_BEGIN_DECLS

/* Runs in the store's worker, inside a transaction. FALSE with the connection's error undoes all
 * of it. */
typedef gboolean (*DewStoreTask) (const DewConnection *connection, gpointer data);

/* Waits until the task is done; `data` is only used until then. FALSE with DEW_STORE_ERROR; the
 * file then holds what it held. */
gboolean dew_store_run (DewStore *store, DewStoreTask task, gpointer data, GError **error);

/* Copies what lies beside the document from the file `from` into the database of `connection`,
 * inside its transaction. */
gboolean dew_connection_copy_apart (const DewConnection *connection, const char *from);
/* The rows of these tables that can be read, into the open transaction of `to`; what cannot
 * is said in `losses` (char *). */
void dew_connection_rescue_apart (const DewConnection *to, sqlite3 *damaged, GPtrArray *losses);

G_END_DECLS
