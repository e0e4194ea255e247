/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/file-rows.h"

#include "chamber/chamber-private.h"
#include "store/store.h"
#include "say/problems.h"

#include <glib/gi18n.h>
#include <string.h>

#define STEPS_MAX 10000000 /* a step takes some hundred bytes: more are no work of hands */

/* Rows of the tables into the structs in memory. SQLite's own checks were made
 * before; a file from a careless or hostile hand may still break any rule, so
 * nothing is taken that does not fit. */

gboolean
dew_connection_wrong (const DewConnection *connection, const char *table, const char *what)
{
  g_set_error (connection->error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT,
               _ ("%s: table \"%s\": %s; go back to a copy of the file"), connection->path, table,
               what);
  return FALSE;
}

gboolean
dew_connection_next (const DewConnection *connection, sqlite3_stmt *statement, gboolean *ok)
{
  int step;

  if (!*ok)
    return FALSE;
  step = sqlite3_step (statement);
  *ok = step == SQLITE_ROW || step == SQLITE_DONE
        || dew_file_fail (connection->db, connection->path, _ ("could not be read"),
                          connection->error);
  return step == SQLITE_ROW;
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

/* What stands in a column where it does not belong, with its row and its column. */
static gboolean
column_wrong (const DewConnection *connection, sqlite3_stmt *statement, int column,
              const char *table, const char *what)
{
  g_autofree char *row = g_strndup ((const char *) sqlite3_column_text (statement, 0), 64);
  g_autofree char *where
    /* Translators: a row by its key, a column by its name, and what is wrong there */
    = g_strdup_printf (_ ("row %s, column \"%s\": %s"), row != NULL ? row : "?",
                       sqlite3_column_name (statement, column), what);

  return dew_connection_wrong (connection, table, where);
}

/* `type` is what the column has to hold, of SQLite's. */
static gboolean
column_has (const DewConnection *connection, sqlite3_stmt *statement, int column, const char *table,
            int type)
{
  int is = sqlite3_column_type (statement, column);
  const char *what;

  if (is == type)
    return TRUE;
  if (is == SQLITE_NULL)
    what = _ ("holds nothing");
  else if (type == SQLITE_TEXT)
    what = _ ("holds something that is no text");
  else if (type == SQLITE_INTEGER)
    what = _ ("holds something that is no whole number");
  else
    what = _ ("holds something that is no number");
  return column_wrong (connection, statement, column, table, what);
}

static gboolean
column_text (const DewConnection *connection, sqlite3_stmt *statement, int column,
             const char *table, char *to, gsize size)
{
  g_autofree char *clean = NULL;
  const char *text;

  if (!column_has (connection, statement, column, table, SQLITE_TEXT))
    return FALSE;
  text = (const char *) sqlite3_column_text (statement, column);
  if (text == NULL || strlen (text) != (gsize) sqlite3_column_bytes (statement, column)
      || strlen (text) >= size)
    return column_wrong (connection, statement, column, table,
                         _ ("holds a text that is too long or cut off by a zero"));
  if (!g_utf8_validate (text, -1, NULL))
    return column_wrong (connection, statement, column, table,
                         _ ("holds a text that is not UTF-8"));
  /* What older programs let into a name goes; control characters are refused with the rest. */
  if (!dew_text_has_controls (text))
    clean = dew_text_plain (text, DEW_TEXT_LINES (size));
  dew_text_copy (to, size, clean != NULL ? clean : text);
  return TRUE;
}

/* A whole number from `min` to the largest one. */
static gboolean
column_count (const DewConnection *connection, sqlite3_stmt *statement, int column,
              const char *table, gint64 min, gint64 *value)
{
  if (!column_has (connection, statement, column, table, SQLITE_INTEGER))
    return FALSE;
  *value = sqlite3_column_int64 (statement, column);
  return (*value >= min && *value <= G_MAXINT)
         || column_wrong (connection, statement, column, table, _ ("a number that does not exist"));
}

static gboolean
column_id (const DewConnection *connection, sqlite3_stmt *statement, int column, const char *table,
           guint *id)
{
  gint64 value = 0;
  gboolean ok = column_count (connection, statement, column, table, 1, &value);

  *id = (guint) value;
  return ok;
}

static gboolean
column_fields (const DewConnection *connection, sqlite3_stmt *statement, int column,
               const char *table, const DewField *fields, gpointer record)
{
  for (const DewField *field = fields; field->key != NULL; field++, column++)
    {
      gboolean ok = TRUE;
      gint64 count = 0;

      switch (field->type)
        {
        case DEW_FIELD_REAL:
          ok = column_has (connection, statement, column, table, SQLITE_FLOAT);
          dew_field_set_real (field, record, sqlite3_column_double (statement, column));
          break;
        case DEW_FIELD_TEXT:
          ok = column_text (connection, statement, column, table, (char *) record + field->offset,
                            field->size);
          break;
        case DEW_FIELD_CHOICE:
          ok = column_has (connection, statement, column, table, SQLITE_TEXT)
               && (dew_field_choose (field, record,
                                     (const char *) sqlite3_column_text (statement, column))
                   || column_wrong (connection, statement, column, table,
                                    _ ("a word that is not one of the choices")));
          break;
        default:
          ok = column_count (connection, statement, column, table, G_MININT, &count);
          dew_field_set_int (field, record, (int) count);
          break;
        }
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
  g_autoptr (sqlite3_stmt) statement = prepare_select (connection, table, key, fields, where);
  gboolean ok = statement != NULL;

  if (ok && text_id != NULL)
    dew_connection_bind_text (statement, 1, text_id);
  else if (ok)
    sqlite3_bind_int64 (statement, 1, id);
  if (dew_connection_next (connection, statement, &ok))
    return column_fields (connection, statement, 1, table, fields, record);
  return ok && dew_connection_wrong (connection, table, _ ("a row is missing"));
}

static gboolean
read_room (const DewConnection *connection, DewRoom *room)
{
  for (int month = 0; month < 12; month++)
    if (!read_record (connection, "room_month", "month", NULL, month + 1, dew_month_fields (),
                      &room->months[month]))
      return FALSE;
  return read_record (connection, "room", "id", NULL, 1, dew_room_fields (), room);
}

static gboolean
read_thing (const DewConnection *connection, sqlite3_stmt *statement, DewThing *thing)
{
  const char *kind_key = (const char *) sqlite3_column_text (statement, 1);
  DewThingKind kind;
  guint id;

  if (!column_id (connection, statement, 0, "thing", &id))
    return FALSE;
  if (kind_key == NULL || !dew_thing_kind_from_key (kind_key, &kind))
    return column_wrong (connection, statement, 1, "thing", _ ("a kind that does not exist"));
  dew_thing_init (thing, kind);
  thing->id = id;
  return column_text (connection, statement, 2, "thing", thing->name, sizeof thing->name)
         && read_record (connection, dew_thing_kind_key (kind), "thing_id", NULL, id,
                         dew_thing_fields (kind), thing);
}

static gboolean
read_things (const DewConnection *connection, DewVariant *variant)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection, "SELECT id, type, name FROM thing "
                                          "WHERE variant_id = ? ORDER BY position");
  gboolean ok = statement != NULL;

  if (ok)
    sqlite3_bind_int64 (statement, 1, variant->id);
  while (dew_connection_next (connection, statement, &ok))
    {
      DewThing thing;

      ok = read_thing (connection, statement, &thing);
      if (ok)
        g_array_append_val (variant->things, thing);
    }
  return ok;
}

static gboolean
read_variants (const DewConnection *connection, DewChamber *chamber)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection, "SELECT id, name FROM variant ORDER BY position");
  gboolean ok = statement != NULL;

  g_array_set_size (chamber->variants, 0);
  while (dew_connection_next (connection, statement, &ok))
    {
      char name[DEW_NAME_SIZE];
      DewVariant *variant;
      guint id;

      if (!column_id (connection, statement, 0, "variant", &id)
          || !column_text (connection, statement, 1, "variant", name, sizeof name))
        return FALSE;
      variant = dew_chamber_add_variant (chamber, name, NULL);
      variant->id = id;
      ok = read_things (connection, variant);
    }
  return ok;
}

/* Rows in the grower's order. `id_offset` is where a record keeps its number, -1: it has
 * none. */
static gboolean
read_list (const DewConnection *connection, const char *table, const DewField *fields,
           gssize id_offset, GArray *list)
{
  g_autoptr (sqlite3_stmt) statement
    = prepare_select (connection, table, id_offset < 0 ? "position" : "id", fields,
                      "ORDER BY position");
  g_autofree char *record = g_malloc0 (g_array_get_element_size (list));
  gboolean ok = statement != NULL;

  while (dew_connection_next (connection, statement, &ok))
    {
      if (id_offset >= 0
          && !column_id (connection, statement, 0, table,
                         (guint *) (gpointer) (record + id_offset)))
        return FALSE;
      ok = column_fields (connection, statement, 1, table, fields, record);
      if (ok)
        g_array_append_vals (list, record, 1);
    }
  return ok;
}

static gboolean
read_enclosure (const DewConnection *connection, DewChamber *chamber, gint64 *undo_present)
{
  const DewField *fields = dew_enclosure_fields ();
  g_autoptr (sqlite3_stmt) statement
    = prepare_select (connection, "enclosure", "month, shown_variant, next_id, undo_present",
                      fields, "");
  gint64 month = 0;
  gboolean ok = statement != NULL;

  if (!dew_connection_next (connection, statement, &ok))
    return ok && dew_connection_wrong (connection, "enclosure", _ ("its row is missing"));
  if (!column_count (connection, statement, 0, "enclosure", 1, &month)
      || !column_id (connection, statement, 1, "enclosure", &chamber->shown_variant)
      || !column_id (connection, statement, 2, "enclosure", &chamber->next_id))
    return FALSE;
  chamber->month = (int) month - 1;
  *undo_present
    = sqlite3_column_type (statement, 3) == SQLITE_NULL ? -1 : sqlite3_column_int64 (statement, 3);
  return column_fields (connection, statement, 4, "enclosure", fields, chamber);
}

/* Before any row is read: no more of them than a document may have. */
static gboolean
check_counts (const DewConnection *connection)
{
  static const struct
  {
    const char *table;
    int most;
  } tables[] = {
    { "variant", DEW_VARIANTS_MAX }, { "thing", DEW_THINGS_ALL_MAX }, { "wish", DEW_WISHES_MAX },
    { "plant_kind", DEW_KINDS_MAX }, { "undo_step", STEPS_MAX },      { "undo_text", 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT count (*) FROM %s", tables[i].table);
      g_autoptr (sqlite3_stmt) statement = dew_connection_prepare (connection, sql);
      gboolean ok = statement != NULL;
      g_autofree char *what = NULL;

      if (!dew_connection_next (connection, statement, &ok))
        return FALSE;
      if (sqlite3_column_int64 (statement, 0) <= tables[i].most)
        continue;
      what = g_strdup_printf (_ ("has %d rows; %d are possible"),
                              (int) MIN (sqlite3_column_int64 (statement, 0), G_MAXINT),
                              tables[i].most);
      return dew_connection_wrong (connection, tables[i].table, what);
    }
  return TRUE;
}

DewChamber *
dew_connection_read_chamber (const DewConnection *connection, gint64 *undo_present)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (GError) inner = NULL;

  /* Variants first: adding them counts up next_id, which the file then sets. */
  if (!check_counts (connection) || !read_variants (connection, chamber)
      || !read_enclosure (connection, chamber, undo_present))
    return NULL;
  for (int face = 0; face < DEW_N_FACES; face++)
    if (!read_record (connection, "panel", "face", dew_face_key (face), 0, dew_panel_fields (),
                      &chamber->panels[face]))
      return NULL;
  if (!read_room (connection, &chamber->room)
      || !read_list (connection, "wish", dew_wish_fields (), G_STRUCT_OFFSET (DewWish, id),
                     chamber->wishes)
      || !read_list (connection, "plant_kind", dew_plant_kind_fields (), -1, chamber->kinds))
    return NULL;
  if (!dew_chamber_validate (chamber, &inner))
    {
      g_set_error (connection->error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT, "%s: %s",
                   connection->path, inner->message);
      return NULL;
    }
  return g_steal_pointer (&chamber);
}

/* --- what can be read of a damaged one ---------------------------------- */

/* Takes over what went wrong as one more loss, and goes on. */
static void
lose (GPtrArray *losses, GError **error)
{
  if (*error != NULL)
    g_ptr_array_add (losses, g_strdup ((*error)->message));
  g_clear_error (error);
}

static void
rescue_things (const DewConnection *connection, DewVariant *variant, GPtrArray *losses)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection, "SELECT id, type, name FROM thing "
                                          "WHERE variant_id = ? ORDER BY position");
  gboolean ok = statement != NULL;

  if (ok)
    sqlite3_bind_int64 (statement, 1, variant->id);
  while (dew_connection_next (connection, statement, &ok) && variant->things->len < DEW_THINGS_MAX)
    {
      DewThing thing;

      if (read_thing (connection, statement, &thing))
        g_array_append_val (variant->things, thing);
      else
        lose (losses, connection->error);
    }
  lose (losses, connection->error);
}

static void
rescue_variants (const DewConnection *connection, DewChamber *chamber, GPtrArray *losses)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection, "SELECT id, name FROM variant ORDER BY position");
  gboolean ok = statement != NULL;

  g_array_set_size (chamber->variants, 0);
  while (chamber->variants->len < DEW_VARIANTS_MAX
         && dew_connection_next (connection, statement, &ok))
    {
      char name[DEW_NAME_SIZE] = "";
      DewVariant *variant;
      guint id;

      if (!column_id (connection, statement, 0, "variant", &id)
          || !column_text (connection, statement, 1, "variant", name, sizeof name))
        {
          lose (losses, connection->error);
          continue;
        }
      variant = dew_chamber_add_variant (chamber, name, NULL);
      variant->id = id;
      rescue_things (connection, variant, losses);
    }
  lose (losses, connection->error);
}

DewChamber *
dew_connection_rescue_chamber (const DewConnection *connection, GPtrArray *losses)
{
  DewChamber *chamber = dew_chamber_new ();
  gint64 undo_present;

  rescue_variants (connection, chamber, losses);
  read_enclosure (connection, chamber, &undo_present);
  lose (losses, connection->error);
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      read_record (connection, "panel", "face", dew_face_key (face), 0, dew_panel_fields (),
                   &chamber->panels[face]);
      lose (losses, connection->error);
    }
  read_room (connection, &chamber->room);
  lose (losses, connection->error);
  read_list (connection, "wish", dew_wish_fields (), G_STRUCT_OFFSET (DewWish, id),
             chamber->wishes);
  lose (losses, connection->error);
  read_list (connection, "plant_kind", dew_plant_kind_fields (), -1, chamber->kinds);
  lose (losses, connection->error);
  return chamber;
}

/* --- undo steps -------------------------------------------------------- */

static char *
text_of (const DewConnection *connection, sqlite3_stmt *statement, int column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  if (text != NULL && strlen (text) == (gsize) sqlite3_column_bytes (statement, column)
      && g_utf8_validate (text, -1, NULL))
    return g_strdup (text);
  dew_connection_wrong (connection, "undo_step", _ ("a step without words or change"));
  return NULL;
}

/* labels, changes: of the rows 0, 1, 2 ... without a gap. */
static gboolean
read_steps (const DewConnection *connection, GPtrArray *labels, GPtrArray *changes)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection, "SELECT number, label, change FROM undo_step "
                                          "ORDER BY number");
  gboolean ok = statement != NULL;

  while (dew_connection_next (connection, statement, &ok))
    {
      g_autofree char *words = text_of (connection, statement, 1);
      char *label = words != NULL ? dew_text_plain (words, FALSE) : NULL;
      char *change = label != NULL ? text_of (connection, statement, 2) : NULL;

      g_ptr_array_add (labels, label);
      g_ptr_array_add (changes, change);
      ok = change != NULL;
      if (ok && sqlite3_column_int64 (statement, 0) != (gint64) labels->len - 1)
        ok = dew_connection_wrong (connection, "undo_step", _ ("a step is missing"));
    }
  return ok;
}

/* NULL without an error when there is none. */
static char *
read_text (const DewConnection *connection, gboolean *ok)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection, "SELECT document FROM undo_text");
  char *text = NULL;

  *ok = statement != NULL;
  if (dew_connection_next (connection, statement, ok))
    {
      text = text_of (connection, statement, 0);
      *ok = text != NULL;
    }
  return text;
}

/* The list that leads to `present`, with the steps of the file where there are any.
 * *as_in_file is whether the steps are those of the file. */
static DewHistory *
read_history (const DewConnection *connection, const DewChamber *present, gint64 undo_present,
              gboolean *as_in_file)
{
  g_autoptr (GPtrArray) labels = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) inner = NULL;
  g_autofree char *text = NULL;
  DewHistory *history;
  gboolean ok;

  *as_in_file = FALSE;
  text = read_text (connection, &ok);
  if (!ok || !read_steps (connection, labels, changes))
    return NULL;
  if (text == NULL || undo_present < 0 || undo_present >= labels->len)
    return dew_history_new (present);

  history = dew_history_restore (text, (const char *const *) labels->pdata,
                                 (const char *const *) changes->pdata, labels->len,
                                 (guint) undo_present, &inner);
  if (history == NULL)
    {
      dew_connection_wrong (connection, "undo_text", inner->message);
      return NULL;
    }
  /* The tables are the truth: another tool may have changed them. */
  *as_in_file = dew_chamber_equal (present, dew_history_present (history));
  if (!*as_in_file)
    dew_history_amend (history, present);
  return history;
}

static gboolean
read_times (const DewConnection *connection, DewHistory *history)
{
  g_autoptr (sqlite3_stmt) statement
    = dew_connection_prepare (connection, "SELECT number, made_s FROM undo_step");
  gboolean ok = statement != NULL;

  while (dew_connection_next (connection, statement, &ok))
    {
      gint64 n = sqlite3_column_int64 (statement, 0);

      if (n >= 0 && n < (gint64) dew_history_length (history))
        dew_history_set_made_s (history, (guint) n, sqlite3_column_int64 (statement, 1));
    }
  return ok;
}

DewHistory *
dew_file_read (sqlite3 *db, const char *path, gboolean *as_in_file, GError **error)
{
  DewConnection connection = { db, path, error };
  g_autoptr (DewChamber) present = NULL;
  gint64 undo_present = -1;
  DewHistory *history;

  present = dew_connection_read_chamber (&connection, &undo_present);
  if (present == NULL)
    return NULL;
  history = read_history (&connection, present, undo_present, as_in_file);
  if (history != NULL && !read_times (&connection, history))
    g_clear_pointer (&history, dew_history_free);
  return history;
}
