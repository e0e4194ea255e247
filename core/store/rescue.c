/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/file-rows.h"
#include "store/store.h"
#include "store/task.h"
#include "say/problems.h"

#include <glib/gi18n.h>
#include <string.h>

/* What can be read of a damaged document. A document says everything twice: row by row in its
 * tables, and as the JSON text that the undo steps lead to. The tables come first; what they
 * lack is made good from the text, which is searched for in the bytes themselves where SQLite
 * cannot find the way to it any more. */

#define TABLE_LEAF 0x0d
#define LEAST_BYTES 512 /* of a file of SQLite: one page */
#define PAGE DEW_FILE_PAGE_BYTES
#define DOCUMENT_MARK "\"dewtier enclosure\"" /* stands near the beginning of the text */

/* --- the text, out of the bytes ----------------------------------------- */

/* The record of a row as it lies in a file: www.sqlite.org/fileformat.html, 1.6 and 2.1. */
typedef struct
{
  const GByteArray *bytes;
  gsize at;  /* where to read on */
  gsize end; /* of what may be read in this page */
} Walk;

static guint64
varint (Walk *walk)
{
  guint64 value = 0;

  for (int i = 0; i < 9 && walk->at < walk->end; i++)
    {
      guint8 byte = walk->bytes->data[walk->at++];

      if (i == 8)
        return value << 8 | byte;
      value = value << 7 | (byte & 0x7f);
      if ((byte & 0x80) == 0)
        break;
    }
  return value;
}

static guint32
big_endian (const guint8 *bytes)
{
  return (guint32) bytes[0] << 24 | (guint32) bytes[1] << 16 | (guint32) bytes[2] << 8 | bytes[3];
}

/* How much of a record of n bytes lies in its leaf (1.6 there, with no bytes reserved). */
static guint64
bytes_in_leaf (guint64 n)
{
  const guint64 most = PAGE - 35, least = (PAGE - 12) * 32 / 255 - 23;
  guint64 rest = least + (n >= least ? (n - least) % (PAGE - 4) : 0);

  if (n <= most)
    return n;
  return rest <= most ? rest : least;
}

/* The record at `walk`, with what lies in other pages; as much as there is. */
static GByteArray *
record_at (Walk *walk)
{
  guint64 n = varint (walk), here;
  GByteArray *record = g_byte_array_new ();
  guint32 next;

  varint (walk); /* the row's number */
  here = bytes_in_leaf (n);
  if (n > walk->bytes->len || walk->at + here > walk->end)
    return record;
  g_byte_array_append (record, walk->bytes->data + walk->at, (guint) here);
  if (n == here || walk->at + here + 4 > walk->end)
    return record;
  next = big_endian (walk->bytes->data + walk->at + here);
  while (record->len < n && next > 1 && (gsize) next * PAGE <= walk->bytes->len)
    {
      const guint8 *page = walk->bytes->data + (gsize) (next - 1) * PAGE;

      g_byte_array_append (record, page + 4, (guint) MIN (n - record->len, PAGE - 4));
      next = big_endian (page);
    }
  return record;
}

/* The text of a record whose second column begins like a document; NULL for others. */
static char *
document_text (const GByteArray *record)
{
  Walk walk = { record, 0, record->len };
  guint64 head = varint (&walk), first = varint (&walk), second = varint (&walk), n;
  gsize at = (gsize) head;

  if (first != 0 || second < 13 || second % 2 == 0 || head > record->len)
    return NULL;
  n = (second - 13) / 2;
  if (n > record->len - at || n < 32 || memchr (record->data + at, '{', 4) == NULL
      || g_strstr_len ((const char *) record->data + at, MIN (n, 256), DOCUMENT_MARK) == NULL)
    return NULL;
  return g_strndup ((const char *) record->data + at, n);
}

/* A document in the leaf that begins at `page`; NULL when there is none that can be read. */
static DewChamber *
chamber_in_leaf (const GByteArray *bytes, gsize page, char **text)
{
  gsize head = page == 0 ? 100 : page;
  guint cells = (guint) bytes->data[head + 3] << 8 | bytes->data[head + 4];

  for (guint i = 0; i < cells && head + 8 + 2 * i + 2 <= page + PAGE; i++)
    {
      const guint8 *pointer = bytes->data + head + 8 + 2 * i;
      Walk walk = { bytes, page + ((gsize) pointer[0] << 8 | pointer[1]), page + PAGE };
      g_autoptr (GByteArray) record = NULL;
      DewChamber *chamber;

      if (walk.at >= walk.end)
        continue;
      record = record_at (&walk);
      *text = document_text (record);
      chamber = *text != NULL ? dew_json_to_chamber (*text, -1, NULL) : NULL;
      if (chamber != NULL)
        return chamber;
      g_clear_pointer (text, g_free);
    }
  return NULL;
}

static DewChamber *
chamber_in_bytes (const GByteArray *bytes, char **text)
{
  *text = NULL;
  for (gsize page = 0; page + PAGE <= bytes->len; page += PAGE)
    if (bytes->data[page == 0 ? 100 : page] == TABLE_LEAF)
      {
        DewChamber *chamber = chamber_in_leaf (bytes, page, text);

        if (chamber != NULL)
          return chamber;
      }
  return NULL;
}

/* --- the whole ---------------------------------------------------------- */

static void
lose (GPtrArray *losses, const char *sentence)
{
  g_ptr_array_add (losses, g_strdup (sentence));
}

/* Makes what was read of the tables a document that can be saved; FALSE when that cannot be. */
static gboolean
make_valid (DewChamber *chamber, GPtrArray *losses)
{
  g_autoptr (GError) error = NULL;
  guint last = 0;

  if (chamber->variants->len == 0)
    return FALSE;
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      last = MAX (last, variant->id);
      for (guint k = 0; k < variant->things->len; k++)
        last = MAX (last, g_array_index (variant->things, DewThing, k).id);
    }
  for (guint i = 0; i < chamber->wishes->len; i++)
    last = MAX (last, g_array_index (chamber->wishes, DewWish, i).id);
  chamber->next_id = MAX (chamber->next_id, last + 1);
  if (dew_chamber_shown (chamber) == NULL)
    chamber->shown_variant = g_array_index (chamber->variants, DewVariant, 0).id;
  if (dew_chamber_validate (chamber, &error))
    return TRUE;
  lose (losses, error->message);
  return FALSE;
}

/* The tables, and the steps where they fit to them; NULL when the tables give no document. */
static DewHistory *
history_in_tables (sqlite3 *db, const char *path, GPtrArray *losses)
{
  g_autoptr (GError) error = NULL;
  DewConnection connection = { db, path, &error };
  g_autoptr (DewChamber) chamber = dew_connection_rescue_chamber (&connection, losses);
  DewHistory *history;
  gboolean as_in_file;

  g_clear_error (&error);
  if (losses->len == 0)
    {
      history = dew_file_read (db, path, &as_in_file, &error);
      if (history != NULL)
        return history;
      lose (losses, error->message);
    }
  return make_valid (chamber, losses) ? dew_history_new (chamber) : NULL;
}

static DewHistory *
history_in_bytes (const GByteArray *bytes)
{
  g_autofree char *text = NULL;
  g_autoptr (DewChamber) chamber = chamber_in_bytes (bytes, &text);

  return chamber != NULL ? dew_history_new (chamber) : NULL;
}

static gboolean
is_whole (const char *path, const DewSnapshot *snapshot, DewHistory **history, GError **error)
{
  g_auto (DewFileFound) found = { NULL };
  DewChamber *chamber;

  if (dew_file_is_database (snapshot->bytes->data, snapshot->bytes->len))
    {
      if (!dew_file_find (path, snapshot, &found, error))
        return FALSE;
      *history = g_steal_pointer (&found.history);
      return TRUE;
    }
  chamber = dew_json_to_chamber ((const char *) snapshot->bytes->data, snapshot->bytes->len, error);
  *history = chamber != NULL ? dew_history_new (chamber) : NULL;
  dew_chamber_free (chamber);
  return *history != NULL;
}

/* The document that is read best, and in `losses` what it lacks; NULL: none. */
static DewHistory *
best_history (const char *path, const DewSnapshot *snapshot, sqlite3 *db, GPtrArray *losses)
{
  g_autoptr (GPtrArray) of_tables = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (DewHistory) tables = db != NULL ? history_in_tables (db, path, of_tables) : NULL;
  g_autoptr (DewHistory) text = NULL;

  if (tables == NULL || of_tables->len > 0)
    text = history_in_bytes (snapshot->bytes);
  if (text != NULL)
    {
      lose (losses, _ ("The enclosure was taken from the text of the last step that was saved; "
                       "what can be undone is lost."));
      return g_steal_pointer (&text);
    }
  if (tables == NULL)
    return NULL;
  for (guint i = 0; i < of_tables->len; i++)
    lose (losses, g_ptr_array_index (of_tables, i));
  if (of_tables->len > 0)
    lose (losses, _ ("What could not be read is left out or as in a new enclosure; what can be "
                     "undone is lost."));
  return g_steal_pointer (&tables);
}

/* Readings, notes and photographs lie beside what undo copies. */
static gboolean
add_apart (const char *out, sqlite3 *damaged, GPtrArray *losses, GError **error)
{
  sqlite3 *db = NULL;
  DewConnection connection = { NULL, out, error };
  gboolean ok;

  if (damaged == NULL)
    {
      lose (losses, _ ("Readings, notes and photographs, if there were any, are lost."));
      return TRUE;
    }
  if (sqlite3_open_v2 (out, &db, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
    ok = dew_file_fail (db, out, _ ("could not be written"), error);
  else
    {
      connection.db = db;
      ok = dew_connection_execute (&connection, "BEGIN", _ ("could not be written"));
      if (ok)
        dew_connection_rescue_apart (&connection, damaged, losses);
      ok = ok && dew_connection_execute (&connection, "COMMIT", _ ("could not be written"));
    }
  sqlite3_close (db);
  return ok;
}

gboolean
dew_store_rescue (const char *path, const char *out, GPtrArray *losses, GError **error)
{
  g_auto (DewSnapshot) snapshot = { NULL };
  g_autoptr (GError) why = NULL;
  g_autoptr (DewHistory) history = NULL;
  sqlite3 *db = NULL;
  gboolean ok;

  g_return_val_if_fail (path != NULL && out != NULL && losses != NULL, FALSE);

  if (!dew_snapshot_take_any (path, &snapshot, error))
    return FALSE;
  if (!is_whole (path, &snapshot, &history, &why))
    lose (losses, why->message);
  if (snapshot.bytes->len >= LEAST_BYTES)
    db = dew_file_open_damaged (path, snapshot.bytes, NULL);
  if (history == NULL)
    history = best_history (path, &snapshot, db, losses);
  if (history == NULL)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_DAMAGED,
                   _ ("%s: nothing of it can be read; look for a copy whose name holds \".form-\" "
                      "beside it, or in your backups"),
                   path);
      sqlite3_close (db);
      return FALSE;
    }
  /* A whole text in JSON has nothing beside it. */
  ok = dew_store_create_with (out, history, FALSE, error)
       && ((why == NULL && db == NULL) || add_apart (out, db, losses, error));
  sqlite3_close (db);
  return ok;
}
