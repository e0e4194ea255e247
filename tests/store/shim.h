/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A file system for SQLite that fails on demand and remembers what was written when: a shim in
 * front of the usual one (www.sqlite.org/vfs.html, 2.2). */

#include <glib.h>

typedef enum
{
  SHIM_WRITE,
  SHIM_TRUNCATE,
  SHIM_SYNC,
  SHIM_DELETE
} ShimKind;

/* One call that changes what is on the disk. */
typedef struct
{
  ShimKind kind;
  gboolean journal; /* of the journal, else of the document */
  gint64 at;        /* of a truncation: the new size */
  GBytes *bytes;    /* of a write */
} ShimCall;

/* Makes it the usual one, for the rest of the process. */
void shim_install (void);

/* From now on the calls are counted, and the one of that number (from 1; 0: none) fails with
 * `code`. */
void shim_begin (guint failing, int code);
/* Calls since then. */
guint shim_calls (void);
/* What changed the disk since then: ShimCall, transfer full. */
GPtrArray *shim_end (void);
