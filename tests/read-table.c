/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "read-table.h"

#include <math.h>
#include <string.h>

TestTable *
test_table_read (const char *name)
{
  g_autofree char *path = g_build_filename (DEW_TESTS_DIR, name, NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_autoptr (GError) error = NULL;
  TestTable *table = g_new0 (TestTable, 1);

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  lines = g_strsplit (text, "\n", -1);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  for (guint i = 0; lines[i]; i++)
    {
      if (lines[i][0] == '#' || lines[i][0] == '\0')
        continue;
      if (!table->columns)
        table->columns = g_strsplit (lines[i], ",", -1);
      else
        g_ptr_array_add (table->rows, g_strsplit (lines[i], ",", -1));
    }
  g_assert_nonnull (table->columns);
  g_assert_cmpuint (table->rows->len, >, 0);
  return table;
}

void
test_table_free (TestTable *table)
{
  g_strfreev (table->columns);
  g_ptr_array_unref (table->rows);
  g_free (table);
}

const char *
test_table_text (const TestTable *table, guint row, const char *column)
{
  char **cells = g_ptr_array_index (table->rows, row);

  for (guint i = 0; table->columns[i] && cells[i]; i++)
    if (strcmp (table->columns[i], column) == 0)
      return cells[i];
  g_error ("no column \"%s\" in row %u", column, row);
}

double
test_table_number (const TestTable *table, guint row, const char *column)
{
  const char *text = test_table_text (table, row, column);

  return text[0] ? g_ascii_strtod (text, NULL) : NAN;
}
