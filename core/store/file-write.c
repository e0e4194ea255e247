/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/file-rows.h"

#include "chamber/chamber-private.h"
#include "store/store.h"

#include <glib/gi18n.h>

/* Rows of the tables against the structs in memory. Statements are built from
 * the field tables, so a new field needs a column in data/schema.sql and
 * nothing here. Keys are plain words and come from the program, never from a
 * file. */

sqlite3_stmt *
dew_connection_prepare (const DewConnection *connection, const char *sql)
{
  sqlite3_stmt *statement = NULL;

  if (sqlite3_prepare_v2 (connection->db, sql, -1, &statement, NULL) != SQLITE_OK)
    dew_file_fail (connection->db, connection->path, _ ("has a table that could not be used"),
                   connection->error);
  return statement;
}

void
dew_connection_bind_text (sqlite3_stmt *statement, int column, const char *text)
{
  sqlite3_bind_text (statement, column, text, -1, SQLITE_TRANSIENT);
}

gint64
dew_connection_data_version (const DewConnection *connection)
{
  g_autoptr (sqlite3_stmt) statement = dew_connection_prepare (connection, "PRAGMA data_version");

  return statement != NULL && sqlite3_step (statement) == SQLITE_ROW
           ? sqlite3_column_int64 (statement, 0)
           : 0;
}

gboolean
dew_connection_run (const DewConnection *connection, sqlite3_stmt *statement)
{
  if (sqlite3_step (statement) != SQLITE_DONE)
    return dew_file_fail (connection->db, connection->path, _ ("could not be written"),
                          connection->error);
  sqlite3_reset (statement);
  return TRUE;
}

gboolean
dew_connection_execute (const DewConnection *connection, const char *sql, const char *what)
{
  if (sqlite3_exec (connection->db, sql, NULL, NULL, NULL) == SQLITE_OK)
    return TRUE;
  return dew_file_fail (connection->db, connection->path, what, connection->error);
}

/* --- fields ------------------------------------------------------------ */

/* "INSERT INTO fan (thing_id, "x_m", ...) VALUES (?, ?, ...)"; `key` may be
 * several columns. Fields are quoted because some are words of SQL. */
static sqlite3_stmt *
prepare_insert (const DewConnection *connection, const char *table, const char *key,
                const DewField *fields)
{
  g_autoptr (GString) sql = g_string_new (NULL);

  g_string_printf (sql, "INSERT INTO %s (%s", table, key);
  for (const DewField *field = fields; field->key != NULL; field++)
    g_string_append_printf (sql, ", \"%s\"", field->key);
  g_string_append (sql, ") VALUES (?");
  for (const char *p = key; *p != '\0'; p++)
    if (*p == ',')
      g_string_append (sql, ", ?");
  for (const DewField *field = fields; field->key != NULL; field++)
    g_string_append (sql, ", ?");
  g_string_append_c (sql, ')');
  return dew_connection_prepare (connection, sql->str);
}

static void
bind_fields (sqlite3_stmt *statement, int column, const DewField *fields, gconstpointer record)
{
  for (const DewField *field = fields; field->key != NULL; field++, column++)
    {
      if (field->type == DEW_FIELD_REAL)
        sqlite3_bind_double (statement, column, dew_field_get_real (field, record));
      else if (field->type == DEW_FIELD_TEXT)
        dew_connection_bind_text (statement, column, dew_field_get_text (field, record));
      else if (field->type == DEW_FIELD_CHOICE)
        dew_connection_bind_text (statement, column,
                                  field->choices[dew_field_get_int (field, record)]);
      else
        sqlite3_bind_int (statement, column, dew_field_get_int (field, record));
    }
}

/* --- writing ----------------------------------------------------------- */

static gboolean
write_record (const DewConnection *connection, const char *table, const char *key,
              const char *text_id, gint64 id, const DewField *fields, gconstpointer record)
{
  g_autoptr (sqlite3_stmt) statement = prepare_insert (connection, table, key, fields);

  if (statement == NULL)
    return FALSE;
  if (text_id != NULL)
    dew_connection_bind_text (statement, 1, text_id);
  else
    sqlite3_bind_int64 (statement, 1, id);
  bind_fields (statement, 2, fields, record);
  return dew_connection_run (connection, statement);
}

static gboolean
write_room (const DewConnection *connection, const DewRoom *room)
{
  for (int month = 0; month < 12; month++)
    if (!write_record (connection, "room_month", "month", NULL, month + 1, dew_month_fields (),
                       &room->months[month]))
      return FALSE;
  return write_record (connection, "room", "id", NULL, 1, dew_room_fields (), room);
}

static gboolean
write_things (const DewConnection *connection, const DewVariant *variant)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection,
                              "INSERT INTO thing (id, variant_id, position, type, name) "
                              "VALUES (?, ?, ?, ?, ?)");
  gboolean ok = statement != NULL;

  for (guint i = 0; i < variant->things->len && ok; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      const char *kind = dew_thing_kind_key (thing->kind);

      sqlite3_bind_int64 (statement, 1, thing->id);
      sqlite3_bind_int64 (statement, 2, variant->id);
      sqlite3_bind_int64 (statement, 3, i);
      dew_connection_bind_text (statement, 4, kind);
      dew_connection_bind_text (statement, 5, thing->name);
      ok = dew_connection_run (connection, statement)
           && write_record (connection, kind, "thing_id", NULL, thing->id,
                            dew_thing_fields (thing->kind), thing);
    }
  return ok;
}

static gboolean
write_variants (const DewConnection *connection, const DewChamber *chamber)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection,
                              "INSERT INTO variant (id, position, name) VALUES (?, ?, ?)");
  gboolean ok = statement != NULL;

  for (guint i = 0; i < chamber->variants->len && ok; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      sqlite3_bind_int64 (statement, 1, variant->id);
      sqlite3_bind_int64 (statement, 2, i);
      dew_connection_bind_text (statement, 3, variant->name);
      ok = dew_connection_run (connection, statement) && write_things (connection, variant);
    }
  return ok;
}

/* In the order of the list. */
static gboolean
write_wishes (const DewConnection *connection, const GArray *wishes)
{
  g_autoptr (sqlite3_stmt) statement
    = prepare_insert (connection, "wish", "position, id", dew_wish_fields ());
  gboolean ok = statement != NULL;

  for (guint i = 0; i < wishes->len && ok; i++)
    {
      const DewWish *wish = &g_array_index (wishes, DewWish, i);

      sqlite3_bind_int64 (statement, 1, i);
      sqlite3_bind_int64 (statement, 2, wish->id);
      bind_fields (statement, 3, dew_wish_fields (), wish);
      ok = dew_connection_run (connection, statement);
    }
  return ok;
}

static gboolean
write_kinds (const DewConnection *connection, const GArray *kinds)
{
  gboolean ok = TRUE;

  for (guint i = 0; i < kinds->len && ok; i++)
    ok = write_record (connection, "plant_kind", "position", NULL, i, dew_plant_kind_fields (),
                       &g_array_index (kinds, DewPlantKind, i));
  return ok;
}

static gboolean
write_enclosure (const DewConnection *connection, const DewChamber *chamber, gint64 undo_present)
{
  g_autoptr (sqlite3_stmt) statement
    = prepare_insert (connection, "enclosure", "id, month, shown_variant, next_id, undo_present",
                      dew_enclosure_fields ());

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int (statement, 1, 1);
  sqlite3_bind_int (statement, 2, chamber->month + 1);
  sqlite3_bind_int64 (statement, 3, chamber->shown_variant);
  sqlite3_bind_int64 (statement, 4, chamber->next_id);
  sqlite3_bind_int64 (statement, 5, undo_present);
  bind_fields (statement, 6, dew_enclosure_fields (), chamber);
  return dew_connection_run (connection, statement);
}

static gboolean
clear_tables (const DewConnection *connection)
{
  g_autoptr (GString) sql = g_string_new (NULL);

  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    g_string_append_printf (sql, "DELETE FROM %s; ", dew_thing_kind_key (kind));
  g_string_append (sql, "DELETE FROM thing; DELETE FROM enclosure; DELETE FROM variant; "
                        "DELETE FROM panel; DELETE FROM room; DELETE FROM room_month; "
                        "DELETE FROM wish; DELETE FROM plant_kind;");
  return dew_connection_execute (connection, sql->str, _ ("could not be written"));
}

static gboolean
write_chamber (const DewConnection *connection, const DewChamber *chamber, gint64 undo_present)
{
  if (!clear_tables (connection) || !write_enclosure (connection, chamber, undo_present))
    return FALSE;
  for (int face = 0; face < DEW_N_FACES; face++)
    if (!write_record (connection, "panel", "face", dew_face_key (face), 0, dew_panel_fields (),
                       &chamber->panels[face]))
      return FALSE;
  return write_room (connection, &chamber->room) && write_variants (connection, chamber)
         && write_wishes (connection, chamber->wishes) && write_kinds (connection, chamber->kinds);
}

/* --- undo steps -------------------------------------------------------- */

static gboolean
write_text (const DewConnection *connection, const char *text)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection,
                              "INSERT OR REPLACE INTO undo_text (id, document) VALUES (1, ?)");

  if (statement == NULL)
    return FALSE;
  dew_connection_bind_text (statement, 1, text);
  return dew_connection_run (connection, statement);
}

/* Steps that the file already has keep their rows: most saves add one at the
 * end. */
gboolean
dew_connection_write_steps (const DewConnection *connection, const DewHistory *history,
                            const DewHistory *known)
{
  g_autofree char *sql = NULL;
  g_autoptr (sqlite3_stmt) statement = NULL;
  gboolean ok;
  guint kept = 0;

  while (known != NULL && dew_history_shares (history, known, kept))
    kept++;
  sql = g_strdup_printf ("DELETE FROM undo_step WHERE number >= %u", kept);
  if (!dew_connection_execute (connection, sql, _ ("could not be written")))
    return FALSE;

  statement
    = dew_connection_prepare (connection, "INSERT INTO undo_step (number, label, change, made_s) "
                                          "VALUES (?, ?, ?, ?)");
  ok = statement != NULL;
  for (guint n = kept; n < dew_history_length (history) && ok; n++)
    {
      const char *label = dew_history_label (history, n);
      const char *change = dew_history_change (history, n);

      sqlite3_bind_int64 (statement, 1, n);
      dew_connection_bind_text (statement, 2, label != NULL ? label : "");
      dew_connection_bind_text (statement, 3, change != NULL ? change : "");
      sqlite3_bind_int64 (statement, 4, dew_history_made_s (history, n));
      ok = dew_connection_run (connection, statement);
    }
  return ok && write_text (connection, dew_history_text (history));
}

/* Two programs on one file would each overwrite what the other did. The sum also sees another
 * document that was copied over this one in place, whatever its counters. */
gboolean
dew_connection_check_unchanged (const DewConnection *connection, const DewFileSteps *steps)
{
  g_autofree char *sum = NULL;

  if (steps->sum == NULL)
    return TRUE;
  sum = dew_snapshot_sum_of (connection->db);
  if (dew_connection_data_version (connection) == steps->data_version
      && g_strcmp0 (sum, steps->sum) == 0)
    return TRUE;
  g_set_error (connection->error, DEW_STORE_ERROR, DEW_STORE_ERROR_BUSY,
               _ ("%s: another program changed the file meanwhile; save under another name"),
               connection->path);
  return FALSE;
}

/* Nobody can have written between the end of our transaction and the sum: the version of the
 * data, which the writes of others alone raise, is asked before and while reading. Where it was
 * raised the next save sees it. */
gboolean
dew_connection_finish (const DewConnection *connection, DewFileSteps *steps)
{
  gint64 before = dew_connection_data_version (connection);

  if (!dew_connection_execute (connection, "COMMIT", _ ("could not be written")))
    return FALSE;
  dew_file_steps_clear (steps);
  steps->data_version = before;
  if (sqlite3_exec (connection->db, "BEGIN; SELECT count (*) FROM enclosure", NULL, NULL, NULL)
      == SQLITE_OK)
    steps->sum = dew_snapshot_sum_of (connection->db);
  sqlite3_exec (connection->db, "COMMIT", NULL, NULL, NULL);
  if (steps->sum == NULL)
    steps->sum = g_strdup (""); /* what cannot be read is not taken for ours */
  return TRUE;
}

/* Writing the form lets page 1 be the first in the journal (journal.c wants it there). */
gboolean
dew_connection_touch (const DewConnection *connection)
{
  return dew_connection_execute (connection,
                                 "PRAGMA user_version = " G_STRINGIFY (DEW_FILE_VERSION),
                                 _ ("could not be written"));
}

gboolean
dew_file_write (sqlite3 *db, const char *path, const DewHistory *history, DewFileSteps *steps,
                GError **error)
{
  DewConnection connection = { db, path, error };
  gboolean ok;

  if (!dew_connection_execute (&connection, "BEGIN IMMEDIATE", _ ("could not be written")))
    return FALSE;

  ok = dew_connection_check_unchanged (&connection, steps) && dew_connection_touch (&connection)
       && dew_connection_write_steps (&connection, history, steps->history)
       && write_chamber (&connection, dew_history_present (history), dew_history_index (history))
       && dew_connection_finish (&connection, steps);
  if (!ok)
    {
      sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
      return FALSE;
    }
  steps->history = dew_history_copy (history);
  return TRUE;
}
