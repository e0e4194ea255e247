/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Documents on disk (one SQLite file each) and their JSON form. */

#include <gio/gio.h>

#include "catalogue/catalogue.h"
#include "chamber/chamber.h"
#include "forecast/forecast.h"
#include "store/history.h"

G_BEGIN_DECLS

#define DEW_STORE_ERROR (dew_store_error_quark ())
GQuark dew_store_error_quark (void);
typedef enum
{
  DEW_STORE_ERROR_MISSING,
  DEW_STORE_ERROR_EMPTY,
  DEW_STORE_ERROR_FOREIGN, /* not ours, or no database at all */
  DEW_STORE_ERROR_DAMAGED, /* truncated, fails its own check */
  DEW_STORE_ERROR_NEWER,   /* written by a later version */
  DEW_STORE_ERROR_READ_ONLY,
  DEW_STORE_ERROR_BUSY,    /* another program is writing */
  DEW_STORE_ERROR_CONTENT, /* well-formed, but says something impossible */
  DEW_STORE_ERROR_JOURNAL, /* a file beside it that must not be played back into it */
  DEW_STORE_ERROR_IO
} DewStoreError;

#define DEW_STORE_SUFFIX ".dewtier"

/* An open document: a connection and a worker thread that writes. */
typedef struct _DewStore DewStore;

/* Writes a new file; fails when `path` exists unless `replace`. Replaces by
 * rename, so a file is never half there. */
gboolean dew_store_create (const char *path, const DewChamber *chamber, gboolean replace,
                           GError **error);

/* The same with the steps to undo and redo. */
gboolean dew_store_create_with (const char *path, const DewHistory *history, gboolean replace,
                                GError **error);
/* The same with the readings and the journal of the document `from` (or NULL): a copy under
 * another name. */
gboolean dew_store_create_copy (const char *path, const DewHistory *history, const char *from,
                                gboolean replace, GError **error);

/* Opens for editing. A file that may only be read opens with
 * dew_store_read_only() TRUE. On any error the file is untouched. A file of an
 * older form is brought to this one after a copy of it was put beside it; one that
 * may only be read is brought up in memory. */
DewStore *dew_store_open (const char *path, GError **error);
void dew_store_close (DewStore *store); /* waits for what is being written */
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewStore, dew_store_close)
const char *dew_store_path (const DewStore *store);
gboolean dew_store_read_only (const DewStore *store);
/* Name of the copy that was made because the file was of an older form; else NULL. */
const char *dew_store_copy (const DewStore *store);

/* What was read at open: the document with its undo steps (transfer full). */
DewHistory *dew_store_history (DewStore *store);

/* Queues the present state of `history` (document and undo list) to be written
 * in one transaction by the worker; returns at once. `done` (may be NULL) is
 * called in the caller's main context with the error or NULL. Newer saves
 * overtake queued ones. */
typedef void (*DewStoreSaved) (const GError *error, gpointer user_data);
void dew_store_save (DewStore *store, const DewHistory *history, DewStoreSaved done,
                     gpointer user_data);
/* Waits until all is on disk. FALSE with the first error since the last flush. */
gboolean dew_store_flush (DewStore *store, GError **error);

/* Reads a document without keeping it open: a .dewtier file or its JSON form,
 * told apart by content. */
DewChamber *dew_store_load (const char *path, GError **error);

/* Writes what can be read of a damaged document, which stays as it is, into a new one, `out`.
 * `losses` (char *, owned by the array) gets a sentence for everything that could not be read,
 * or had to be taken from somewhere else; none for a document that is whole. FALSE with
 * DEW_STORE_ERROR: nothing of it can be read, or `out` cannot be written. */
gboolean dew_store_rescue (const char *path, const char *out, GPtrArray *losses, GError **error);

/* JSON interchange; the schema is data/chamber.schema.json. Unknown keys, wrong
 * types and values out of range are errors that name the place
 * ("variants[0].things[3].diameter_m: ..."). */
char *dew_json_from_chamber (const DewChamber *chamber);
DewChamber *dew_json_to_chamber (const char *text, gssize length, GError **error);

/* Things on their way through the clipboard: the things of `ids` that are in the
 * variant, as JSON with a mark of its own. Transfer full. */
char *dew_things_to_text (const DewChamber *chamber, const DewVariant *variant, const guint *ids,
                          guint n);
/* Reads such a text back, GArray of DewThing with the ids they had, transfer full, for
 * dew_variant_insert(). `length` -1: up to the zero. Nonsense, other JSON, too much of
 * it and things that cannot be: NULL with the reason in one sentence. */
GArray *dew_things_from_text (const char *text, gssize length, GError **error);

/* The safety page: paragraphs of plain text. */
const char *dew_cautions_text (void);

/* A DewPlantWishLookup (forecast.h) of own kinds and catalogue; `data` is a const
 * DewChamber * or NULL. The chamber has to last as long as the findings are made. */
gboolean dew_catalogue_plant_wish (const char *species, DewPlantWish *out, gpointer data);

G_END_DECLS
