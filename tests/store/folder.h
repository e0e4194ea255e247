/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A folder for the documents of a test, and what stands in it. */

#include <glib.h>

typedef char TestFolder;

TestFolder *test_folder_new (void);
/* With all files in it. */
void test_folder_free (TestFolder *folder);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TestFolder, test_folder_free)

/* Every name in it with what the file holds, as one digest. */
char *test_folder_digest (const char *folder);
guint test_folder_files (const char *folder);

/* The bytes of a file, and a file of bytes, which is written in place. */
GBytes *test_file_bytes (const char *path);
void test_file_put (const char *path, GBytes *bytes);

/* Runs SQL on a file, by SQLite alone. */
void test_file_sql (const char *path, const char *sql);
/* The same in a process that is killed before it ends its transaction, with all that it changed
 * written to the disk: the journal stays. */
void test_file_sql_killed (const char *path, const char *sql);
