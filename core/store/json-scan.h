/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A look at JSON text before it is parsed. json-glib is lenient (comments,
 * hexadecimal numbers, NaN, doubled keys) and descends into nested brackets by
 * recursion, so neither may reach it from a file of unknown origin. */

#include <glib.h>

G_BEGIN_DECLS

/* Checks the tokens (RFC 8259), the depth of nesting and that no object has the
 * same key twice. DEW_STORE_ERROR_CONTENT with the line otherwise. */
gboolean dew_json_scan (const char *text, gsize length, GError **error);

G_END_DECLS
