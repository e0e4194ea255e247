/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/file-rows.h"

#include "chamber/chamber-private.h"
#include "store/store.h"

#include <string.h>

/* Rows of the tables into the structs in memory. SQLite's own checks were made
 * before; a file from a careless or hostile hand may still break any rule, so
 * nothing is taken that does not fit. */

static gboolean
wrong_content (const DewConnection *connection, const char *table, const char *what)
{
  g_set_error (connection->error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT,
               "%s: table \"%s\": %s; go back to a copy of the file", connection->path, table,
               what);
  return FALSE;
}

static sqlite3_stmt *
prepare_select (const DewConnection *connection, const char *table, const char *key,
                const DewField *fields, const char *rest)
{
  g_autoptr (GString) sql = g_string_new (NULL);

  g_string_printf (sql, "SELECT %s", key);
  for (const DewField *field = fields; field->key != NULL; field++)
    g_string_append_printf (sql, ", \"%s\"", field->key);
  g_string_append_printf (sql, " FROM %s %s", table, rest);
  return dew_connection_prepare (connection, sql->str);
}

static gboolean
column_text (const DewConnection *connection, sqlite3_stmt *statement, int column,
             const char *table, char *to, gsize size)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  if (text == NULL || strlen (text) != (gsize) sqlite3_column_bytes (statement, column)
      || strlen (text) >= size)
    return wrong_content (connection, table, "a text is too long or missing");
  dew_text_copy (to, size, text);
  return TRUE;
}

static gboolean
column_choice (const DewConnection *connection, sqlite3_stmt *statement, int column,
               const char *table, const DewField *field, gpointer record)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  for (int i = 0; text != NULL && field->choices[i] != NULL; i++)
    if (strcmp (field->choices[i], text) == 0)
      {
        dew_field_set_int (field, record, i);
        return TRUE;
      }
  return wrong_content (connection, table, "a word that is not one of the choices");
}

static gboolean
column_fields (const DewConnection *connection, sqlite3_stmt *statement, int column,
               const char *table, const DewField *fields, gpointer record)
{
  for (const DewField *field = fields; field->key != NULL; field++, column++)
    {
      gboolean ok = TRUE;

      if (field->type == DEW_FIELD_REAL)
        dew_field_set_real (field, record, sqlite3_column_double (statement, column));
      else if (field->type == DEW_FIELD_TEXT)
        ok = column_text (connection, statement, column, table, (char *) record + field->offset,
                          field->size);
      else if (field->type == DEW_FIELD_CHOICE)
        ok = column_choice (connection, statement, column, table, field, record);
      else
        dew_field_set_int (field, record, sqlite3_column_int (statement, column));
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

/* One row by its key. */
static gboolean
read_record (const DewConnection *connection, const char *table, const char *key,
             const char *text_id, gint64 id, const DewField *fields, gpointer record)
{
  g_autofree char *where = g_strdup_printf ("WHERE %s = ?", key);
  sqlite3_stmt *statement = prepare_select (connection, table, key, fields, where);
  gboolean ok = FALSE;
  int step;

  if (statement == NULL)
    return FALSE;
  if (text_id != NULL)
    dew_connection_bind_text (statement, 1, text_id);
  else
    sqlite3_bind_int64 (statement, 1, id);
  step = sqlite3_step (statement);
  if (step == SQLITE_ROW)
    ok = column_fields (connection, statement, 1, table, fields, record);
  else if (step == SQLITE_DONE)
    wrong_content (connection, table, "a row is missing");
  else
    dew_file_fail (connection->db, connection->path, "read", connection->error);
  sqlite3_finalize (statement);
  return ok;
}

static gboolean
read_months (const DewConnection *connection, DewRoom *room)
{
  sqlite3_stmt *statement
    = dew_connection_prepare (connection, "SELECT month, t_day_C, t_night_C, rh_day, rh_night "
                                          "FROM room_month");
  int seen = 0;

  if (statement == NULL)
    return FALSE;
  while (sqlite3_step (statement) == SQLITE_ROW)
    {
      int month = sqlite3_column_int (statement, 0) - 1;

      if (month < 0 || month > 11)
        break;
      room->t_day_C[month] = sqlite3_column_double (statement, 1);
      room->t_night_C[month] = sqlite3_column_double (statement, 2);
      room->rh_day[month] = sqlite3_column_double (statement, 3);
      room->rh_night[month] = sqlite3_column_double (statement, 4);
      seen |= 1 << month;
    }
  sqlite3_finalize (statement);
  return seen == 0xfff || wrong_content (connection, "room_month", "there are not twelve months");
}

static gboolean
column_id (sqlite3_stmt *statement, int column, guint *id)
{
  gint64 value = sqlite3_column_int64 (statement, column);

  *id = (guint) value;
  return value > 0 && value <= G_MAXINT;
}

static gboolean
read_thing (const DewConnection *connection, sqlite3_stmt *statement, DewThing *thing)
{
  const char *kind_key = (const char *) sqlite3_column_text (statement, 1);
  DewThingKind kind;
  guint id;

  if (kind_key == NULL || !dew_thing_kind_from_key (kind_key, &kind)
      || !column_id (statement, 0, &id))
    return wrong_content (connection, "thing", "a kind or number that does not exist");
  dew_thing_init (thing, kind);
  thing->id = id;
  return column_text (connection, statement, 2, "thing", thing->name, sizeof thing->name)
         && read_record (connection, dew_thing_kind_key (kind), "thing_id", NULL, id,
                         dew_thing_fields (kind), thing);
}

static gboolean
read_things (const DewConnection *connection, DewVariant *variant)
{
  sqlite3_stmt *statement
    = dew_connection_prepare (connection, "SELECT id, type, name FROM thing "
                                          "WHERE variant_id = ? ORDER BY position");
  gboolean ok = statement != NULL;
  int step = SQLITE_DONE;

  if (!ok)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, variant->id);
  while (ok && (step = sqlite3_step (statement)) == SQLITE_ROW)
    {
      DewThing thing;

      ok = read_thing (connection, statement, &thing);
      if (ok)
        g_array_append_val (variant->things, thing);
    }
  if (ok && step != SQLITE_DONE)
    ok = dew_file_fail (connection->db, connection->path, "read", connection->error);
  sqlite3_finalize (statement);
  return ok;
}

static gboolean
read_variants (const DewConnection *connection, DewChamber *chamber)
{
  sqlite3_stmt *statement
    = dew_connection_prepare (connection, "SELECT id, name FROM variant ORDER BY position");
  gboolean ok = statement != NULL;

  g_array_set_size (chamber->variants, 0);
  while (ok && sqlite3_step (statement) == SQLITE_ROW)
    {
      char name[DEW_NAME_SIZE];
      DewVariant *variant;
      guint id;

      if (!column_id (statement, 0, &id))
        ok = wrong_content (connection, "variant", "a number that does not exist");
      else if (!column_text (connection, statement, 1, "variant", name, sizeof name))
        ok = FALSE;
      else
        {
          variant = dew_chamber_add_variant (chamber, name, NULL);
          variant->id = id;
          ok = read_things (connection, variant);
        }
    }
  sqlite3_finalize (statement);
  return ok;
}

static gboolean
read_wishes (const DewConnection *connection, GArray *wishes)
{
  const DewField *fields = dew_wish_fields ();
  sqlite3_stmt *statement = prepare_select (connection, "wish", "id", fields, "ORDER BY position");
  gboolean ok = statement != NULL;
  int step = SQLITE_DONE;

  while (ok && (step = sqlite3_step (statement)) == SQLITE_ROW)
    {
      DewWish wish;

      dew_wish_init (&wish);
      ok = column_id (statement, 0, &wish.id)
             ? column_fields (connection, statement, 1, "wish", fields, &wish)
             : wrong_content (connection, "wish", "a number that does not exist");
      if (ok)
        g_array_append_val (wishes, wish);
    }
  if (ok && step != SQLITE_DONE)
    ok = dew_file_fail (connection->db, connection->path, "read", connection->error);
  sqlite3_finalize (statement);
  return ok;
}

static gboolean
read_kinds (const DewConnection *connection, GArray *kinds)
{
  const DewField *fields = dew_plant_kind_fields ();
  sqlite3_stmt *statement
    = prepare_select (connection, "plant_kind", "position", fields, "ORDER BY position");
  gboolean ok = statement != NULL;
  int step = SQLITE_DONE;

  while (ok && (step = sqlite3_step (statement)) == SQLITE_ROW)
    {
      DewPlantKind kind;

      dew_plant_kind_init (&kind);
      ok = column_fields (connection, statement, 1, "plant_kind", fields, &kind);
      if (ok)
        g_array_append_val (kinds, kind);
    }
  if (ok && step != SQLITE_DONE)
    ok = dew_file_fail (connection->db, connection->path, "read", connection->error);
  sqlite3_finalize (statement);
  return ok;
}

static gboolean
read_enclosure (const DewConnection *connection, DewChamber *chamber, gint64 *undo_present)
{
  sqlite3_stmt *statement
    = dew_connection_prepare (connection, "SELECT name, note, outer_x_m, outer_y_m, outer_z_m, "
                                          "leak_area_m2, leak_exponent, month, shown_variant, "
                                          "next_id, undo_present FROM enclosure");
  gboolean ok = FALSE;

  if (statement == NULL)
    return FALSE;
  if (sqlite3_step (statement) != SQLITE_ROW)
    wrong_content (connection, "enclosure", "its row is missing");
  else if (column_text (connection, statement, 0, "enclosure", chamber->name, sizeof chamber->name)
           && column_text (connection, statement, 1, "enclosure", chamber->note,
                           sizeof chamber->note))
    {
      for (int axis = 0; axis < 3; axis++)
        chamber->outer_m[axis] = sqlite3_column_double (statement, 2 + axis);
      chamber->leak_area_m2 = sqlite3_column_double (statement, 5);
      chamber->leak_exponent = sqlite3_column_double (statement, 6);
      chamber->month = sqlite3_column_int (statement, 7) - 1;
      *undo_present = sqlite3_column_int64 (statement, 10); /* NULL reads as 0 */
      ok = column_id (statement, 8, &chamber->shown_variant)
           && column_id (statement, 9, &chamber->next_id);
      if (!ok)
        wrong_content (connection, "enclosure", "a number that does not exist");
    }
  sqlite3_finalize (statement);
  return ok;
}

static DewChamber *
read_chamber (const DewConnection *connection, gint64 *undo_present)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (GError) inner = NULL;

  /* Variants first: adding them counts up next_id, which the file then sets. */
  if (!read_variants (connection, chamber) || !read_enclosure (connection, chamber, undo_present))
    return NULL;
  for (int face = 0; face < DEW_N_FACES; face++)
    if (!read_record (connection, "panel", "face", dew_face_key (face), 0, dew_panel_fields (),
                      &chamber->panels[face]))
      return NULL;
  if (!read_record (connection, "room", "id", NULL, 1, dew_room_fields (), &chamber->room)
      || !read_months (connection, &chamber->room) || !read_wishes (connection, chamber->wishes)
      || !read_kinds (connection, chamber->kinds))
    return NULL;
  if (!dew_chamber_validate (chamber, &inner))
    {
      g_set_error (connection->error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT, "%s: %s",
                   connection->path, inner->message);
      return NULL;
    }
  return g_steal_pointer (&chamber);
}

static gboolean
read_step (const DewConnection *connection, sqlite3_stmt *statement, GPtrArray *chambers,
           GPtrArray *labels, GArray *numbers)
{
  gint64 number = sqlite3_column_int64 (statement, 0);
  const char *label = (const char *) sqlite3_column_text (statement, 1);
  const char *document = (const char *) sqlite3_column_text (statement, 2);
  g_autoptr (GError) inner = NULL;
  DewChamber *chamber;

  if (label == NULL || document == NULL || !g_utf8_validate (label, -1, NULL))
    return wrong_content (connection, "undo_step", "a step without words or document");
  chamber = dew_json_to_chamber (document, -1, &inner);
  if (chamber == NULL)
    {
      g_autofree char *what
        = g_strdup_printf ("step %" G_GINT64_FORMAT ": %s", number, inner->message);

      return wrong_content (connection, "undo_step", what);
    }
  g_ptr_array_add (chambers, chamber);
  g_ptr_array_add (labels, g_strdup (label));
  g_array_append_val (numbers, number);
  return TRUE;
}

static gboolean
read_steps (const DewConnection *connection, GPtrArray *chambers, GPtrArray *labels,
            GArray *numbers)
{
  sqlite3_stmt *statement
    = dew_connection_prepare (connection, "SELECT number, label, document FROM undo_step "
                                          "ORDER BY number");
  gboolean ok = statement != NULL;
  int step = SQLITE_DONE;

  while (ok && (step = sqlite3_step (statement)) == SQLITE_ROW)
    ok = read_step (connection, statement, chambers, labels, numbers);
  if (ok && step != SQLITE_DONE)
    ok = dew_file_fail (connection->db, connection->path, "read", connection->error);
  sqlite3_finalize (statement);
  return ok;
}

DewHistory *
dew_file_read (sqlite3 *db, const char *path, DewFileSteps *steps, GError **error)
{
  DewConnection connection = { db, path, error };
  g_autoptr (GPtrArray) chambers
    = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_chamber_free);
  g_autoptr (GPtrArray) labels = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (DewChamber) present = NULL;
  gint64 undo_present = 0;
  guint index = 0;
  DewHistory *history;

  if (steps != NULL)
    steps->data_version = dew_connection_data_version (&connection);
  present = read_chamber (&connection, &undo_present);
  if (present == NULL || !read_steps (&connection, chambers, labels, numbers))
    return NULL;

  while (index < numbers->len && g_array_index (numbers, gint64, index) != undo_present)
    index++;
  if (index == numbers->len)
    return dew_history_new (present, DEW_FILE_UNDO_STEPS);

  /* The tables are the truth: another tool may have changed them. */
  if (!dew_chamber_equal (present, g_ptr_array_index (chambers, index)))
    {
      dew_chamber_free (g_ptr_array_index (chambers, index));
      chambers->pdata[index] = g_steal_pointer (&present);
      g_array_set_size (numbers, 0);
    }
  history = dew_history_restore ((const DewChamber *const *) chambers->pdata,
                                 (const char *const *) labels->pdata, chambers->len, index,
                                 DEW_FILE_UNDO_STEPS);
  if (steps != NULL && numbers->len == dew_history_length (history))
    {
      steps->history = dew_file_copy_history (history);
      steps->numbers = g_steal_pointer (&numbers);
    }
  return history;
}
