/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Comma-separated text as RFC 4180 has it, read strictly: a table that was cut
 * off or mistyped is an error with its line, never a guess. */

#include <glib.h>

G_BEGIN_DECLS

#define DEW_CSV_ERROR (dew_csv_error_quark ())
GQuark dew_csv_error_quark (void);
typedef enum
{
  DEW_CSV_ERROR_SYNTAX
} DewCsvError;

/* Rows as GStrv, the header first, all with as many cells as the header.
 * Lines end in LF or CRLF; the text is UTF-8. `length` -1: up to the zero.
 * Transfer full; NULL with `error`. */
GPtrArray *dew_csv_parse (const char *text, gssize length, GError **error);

G_END_DECLS
