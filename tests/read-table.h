/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Small CSV tables beside the tests: lines that open with # are comments, the
 * first other line names the columns; no cell holds a comma. */

#include <glib.h>

typedef struct
{
  char **columns;  /* NULL-terminated */
  GPtrArray *rows; /* char ** each, NULL-terminated */
} TestTable;

/* `name` is relative to the tests folder. Ends the test when it cannot be read. */
TestTable *test_table_read (const char *name);
void test_table_free (TestTable *table);
/* The cell's text; ends the test when there is no such column. */
const char *test_table_text (const TestTable *table, guint row, const char *column);
/* The cell as a number, NAN when it is empty. */
double test_table_number (const TestTable *table, guint row, const char *column);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TestTable, test_table_free)
