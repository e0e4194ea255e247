/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/csv.h"

#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  const char *at;
  const char *end;
  guint line;
} Reader;

G_DEFINE_QUARK (dew - csv - error - quark, dew_csv_error)

static gboolean
syntax_error (const Reader *reader, const char *what, GError **error)
{
  g_set_error (error, DEW_CSV_ERROR, DEW_CSV_ERROR_SYNTAX, _ ("line %u: %s"), reader->line, what);
  return FALSE;
}

static gboolean
at_line_end (const Reader *reader)
{
  return reader->at == reader->end || *reader->at == '\n'
         || (*reader->at == '\r' && reader->at + 1 < reader->end && reader->at[1] == '\n');
}

static gboolean
read_quoted (Reader *reader, GString *cell, GError **error)
{
  reader->at++;
  while (reader->at < reader->end)
    {
      char c = *reader->at++;

      if (c == '\n')
        reader->line++;
      if (c != '"')
        {
          g_string_append_c (cell, c);
          continue;
        }
      if (reader->at < reader->end && *reader->at == '"')
        {
          g_string_append_c (cell, '"');
          reader->at++;
          continue;
        }
      if (!at_line_end (reader) && *reader->at != ',')
        return syntax_error (reader, _ ("text after the closing quote of a cell"), error);
      return TRUE;
    }
  return syntax_error (reader, _ ("a quoted cell does not end"), error);
}

static gboolean
read_plain (Reader *reader, GString *cell, GError **error)
{
  while (!at_line_end (reader) && *reader->at != ',')
    {
      if (*reader->at == '"')
        return syntax_error (reader, _ ("a quote inside a cell that is not quoted"), error);
      if (*reader->at == '\r')
        return syntax_error (reader, _ ("a carriage return without a line feed"), error);
      g_string_append_c (cell, *reader->at++);
    }
  return TRUE;
}

/* One row; NULL on error. Ends after the line feed. */
static GStrv
read_row (Reader *reader, GError **error)
{
  g_autoptr (GStrvBuilder) cells = g_strv_builder_new ();
  g_autoptr (GString) cell = g_string_new (NULL);

  for (;;)
    {
      gboolean ok;

      g_string_truncate (cell, 0);
      ok = reader->at < reader->end && *reader->at == '"' ? read_quoted (reader, cell, error)
                                                          : read_plain (reader, cell, error);
      if (!ok)
        return NULL;
      g_strv_builder_add (cells, cell->str);
      if (at_line_end (reader))
        break;
      reader->at++;
    }
  if (reader->at < reader->end && *reader->at == '\r')
    reader->at++;
  if (reader->at < reader->end)
    reader->at++;
  reader->line++;
  return g_strv_builder_end (cells);
}

GPtrArray *
dew_csv_parse (const char *text, gssize length, GError **error)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  gsize size;
  Reader reader;
  guint columns = 0;

  g_return_val_if_fail (text != NULL, NULL);

  size = length < 0 ? strlen (text) : (gsize) length;
  reader = (Reader){ text, text + size, 1 };
  if (!g_utf8_validate_len (text, size, NULL))
    {
      syntax_error (&reader, _ ("the text is not UTF-8"), error);
      return NULL;
    }

  while (reader.at < reader.end)
    {
      guint line = reader.line;
      GStrv row = read_row (&reader, error);

      if (row == NULL)
        return NULL;
      g_ptr_array_add (rows, row);
      if (rows->len == 1)
        columns = g_strv_length (row);
      else if (g_strv_length (row) != columns)
        {
          g_set_error (error, DEW_CSV_ERROR, DEW_CSV_ERROR_SYNTAX,
                       _ ("line %u: %u cells where the header has %u"), line, g_strv_length (row),
                       columns);
          return NULL;
        }
    }
  if (rows->len == 0)
    {
      syntax_error (&reader, _ ("there is no header"), error);
      return NULL;
    }
  return g_steal_pointer (&rows);
}
