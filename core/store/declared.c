/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/file-rows.h"

#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

/* What a file declares against what this program makes. The reference is made here and now, by
 * the same statements that make and update documents, so it follows them by itself. */

/* One thing that is declared: "table fan", and the whole of it without its layout. */
typedef struct
{
  char *what;
  char *sql;
} Declared;

static void
declared_free (gpointer data)
{
  Declared *declared = data;

  g_free (declared->what);
  g_free (declared->sql);
  g_free (declared);
}

/* The end of a comment or of a text in quotes that begins at `at`; NULL where neither does. */
static const char *
comment_end (const char *at)
{
  const char *end;

  if (g_str_has_prefix (at, "--"))
    return at + strcspn (at, "\n");
  if (!g_str_has_prefix (at, "/*"))
    return NULL;
  end = strstr (at + 2, "*/");
  return end != NULL ? end + 2 : at + strlen (at);
}

static gboolean
is_of_a_word (char c)
{
  return g_ascii_isalnum (c) || c == '_';
}

/* Without comments, white space that parts no words, and the quotes around names, which SQLite
 * sets and leaves out at will; texts in quotes stay as they are. */
static char *
without_layout (const char *sql)
{
  GString *plain = g_string_new (NULL);
  gboolean in_text = FALSE, apart = FALSE;

  for (const char *at = sql; *at != '\0';)
    {
      const char *end = in_text ? NULL : comment_end (at);

      if (end != NULL || (!in_text && g_ascii_isspace (*at)))
        {
          apart = TRUE;
          at = end != NULL ? end : at + 1;
          continue;
        }
      if (*at == '\'')
        in_text = !in_text;
      if (in_text || *at != '"')
        {
          if (apart && plain->len > 0 && is_of_a_word (*at)
              && is_of_a_word (plain->str[plain->len - 1]))
            g_string_append_c (plain, ' ');
          apart = FALSE;
          g_string_append_c (plain, in_text ? *at : g_ascii_tolower (*at));
        }
      at++;
    }
  return g_string_free (plain, FALSE);
}

/* Declared, in the order of their names. NULL with an error. */
static GPtrArray *
all_declared (const DewConnection *connection)
{
  g_autoptr (sqlite3_stmt) statement = dew_connection_prepare (
    connection, "SELECT type || ' ' || name, coalesce (tbl_name, '') || ':' || coalesce (sql, '') "
                "FROM sqlite_schema ORDER BY type, name");
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (declared_free);
  gboolean ok = statement != NULL;

  while (dew_connection_next (connection, statement, &ok))
    {
      const char *what = (const char *) sqlite3_column_text (statement, 0);
      const char *sql = (const char *) sqlite3_column_text (statement, 1);
      Declared *declared;

      if (what == NULL || sql == NULL || all->len > 1000)
        {
          dew_connection_wrong (connection, "sqlite_schema", _ ("it declares nonsense"));
          return NULL;
        }
      declared = g_new0 (Declared, 1);
      declared->what = g_utf8_make_valid (what, -1);
      declared->sql = without_layout (sql);
      g_ptr_array_add (all, declared);
    }
  return ok ? g_steal_pointer (&all) : NULL;
}

static const Declared *
find (const GPtrArray *all, const char *what)
{
  for (guint i = 0; i < all->len; i++)
    {
      const Declared *declared = g_ptr_array_index (all, i);

      if (strcmp (declared->what, what) == 0)
        return declared;
    }
  return NULL;
}

/* What `is` has more than `wanted`, or other; else what it lacks; NULL: they are the same. */
static const char *
difference (const GPtrArray *is, const GPtrArray *wanted, gboolean *lacks)
{
  *lacks = FALSE;
  for (guint i = 0; i < is->len; i++)
    {
      const Declared *one = g_ptr_array_index (is, i);
      const Declared *other = find (wanted, one->what);

      if (other == NULL || strcmp (one->sql, other->sql) != 0)
        return one->what;
    }
  *lacks = TRUE;
  for (guint i = 0; i < wanted->len; i++)
    {
      const Declared *one = g_ptr_array_index (wanted, i);

      if (find (is, one->what) == NULL)
        return one->what;
    }
  return NULL;
}

/* As a document has it that was made in form `from` and brought to form `to` since. */
static GPtrArray *
reference (const char *path, int from, int to, GError **error)
{
  sqlite3 *db = NULL;
  DewConnection connection = { NULL, path, error };
  GPtrArray *all = NULL;

  if (sqlite3_open_v2 (":memory:", &db, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
    dew_file_fail (db, path, _ ("could not be read"), error);
  else if (dew_file_make_tables (db, path, from, error)
           && dew_file_update_tables (db, path, from, to, error))
    {
      connection.db = db;
      all = all_declared (&connection);
    }
  sqlite3_close (db);
  return all;
}

gboolean
dew_file_check_declared (sqlite3 *db, const char *path, int form, GError **error)
{
  DewConnection connection = { db, path, error };
  g_autoptr (GPtrArray) is = all_declared (&connection);
  g_autofree char *what = NULL;
  gboolean lacks = FALSE;

  if (is == NULL)
    return FALSE;
  for (int from = form; from >= 1; from--)
    {
      g_autoptr (GPtrArray) wanted = reference (path, from, form, error);
      const char *other;

      if (wanted == NULL)
        return FALSE;
      other = difference (is, wanted, from == form ? &lacks : &(gboolean){ FALSE });
      if (other == NULL)
        return TRUE;
      if (what == NULL)
        what = g_strdup (other);
    }
  g_set_error (error, DEW_STORE_ERROR, lacks ? DEW_STORE_ERROR_DAMAGED : DEW_STORE_ERROR_CONTENT,
               lacks ? _ ("%s: the file is damaged (%s is missing); go back to a copy of it")
                     : _ ("%s: declares %s in a way that this program does not; go back to a copy "
                          "of it, or take out what another program has added"),
               path, what);
  return FALSE;
}
