/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/json-scan.h"

#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

#define DEPTH_MAX 16

typedef struct
{
  const char *at;
  const char *end;
  guint line;
  GError **error;
} Scan;

static gboolean scan_value (Scan *scan, guint depth);

static gboolean
fail (const Scan *scan, const char *what)
{
  g_set_error (scan->error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT, _ ("line %u: %s"), scan->line,
               what);
  return FALSE;
}

static void
skip_space (Scan *scan)
{
  for (; scan->at < scan->end; scan->at++)
    {
      if (*scan->at == '\n')
        scan->line++;
      else if (*scan->at != ' ' && *scan->at != '\t' && *scan->at != '\r')
        return;
    }
}

static gboolean
scan_escape (Scan *scan)
{
  if (scan->at >= scan->end)
    return fail (scan, _ ("a text does not end"));
  if (*scan->at != 'u')
    {
      if (memchr ("\"\\/bfnrt", *scan->at, 8) == NULL)
        return fail (scan, _ ("an escape that JSON does not have"));
      scan->at++;
      return TRUE;
    }
  if (scan->end - scan->at < 5)
    return fail (scan, _ ("a text does not end"));
  for (int i = 1; i <= 4; i++)
    if (!g_ascii_isxdigit (scan->at[i]))
      return fail (scan, _ ("an escape \\u without four digits"));
  if (strncmp (scan->at + 1, "0000", 4) == 0)
    return fail (scan, _ ("a text holds a zero character"));
  scan->at += 5;
  return TRUE;
}

static gboolean
scan_string (Scan *scan)
{
  scan->at++;
  while (scan->at < scan->end)
    {
      guchar c = (guchar) *scan->at++;

      if (c == '"')
        return TRUE;
      if (c < 0x20)
        return fail (scan, _ ("a text holds a bare control character"));
      if (c == '\\' && !scan_escape (scan))
        return FALSE;
    }
  return fail (scan, _ ("a text does not end"));
}

static guint
skip_digits (Scan *scan)
{
  guint n = 0;

  for (; scan->at < scan->end && g_ascii_isdigit (*scan->at); scan->at++)
    n++;
  return n;
}

static gboolean
scan_number (Scan *scan)
{
  const char *first;

  if (*scan->at == '-')
    scan->at++;
  first = scan->at;
  if (skip_digits (scan) == 0)
    return fail (scan, _ ("a number without digits"));
  if (*first == '0' && scan->at - first > 1)
    return fail (scan, _ ("a number that starts with a zero"));
  if (scan->at < scan->end && *scan->at == '.')
    {
      scan->at++;
      if (skip_digits (scan) == 0)
        return fail (scan, _ ("a number without digits after its point"));
    }
  if (scan->at < scan->end && (*scan->at == 'e' || *scan->at == 'E'))
    {
      scan->at++;
      if (scan->at < scan->end && (*scan->at == '+' || *scan->at == '-'))
        scan->at++;
      if (skip_digits (scan) == 0)
        return fail (scan, _ ("a number without digits in its exponent"));
    }
  return TRUE;
}

static gboolean
scan_word (Scan *scan)
{
  static const char *const words[] = { "true", "false", "null" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      gsize n = strlen (words[i]);

      if ((gsize) (scan->end - scan->at) >= n && strncmp (scan->at, words[i], n) == 0)
        {
          scan->at += n;
          return TRUE;
        }
    }
  return fail (scan, _ ("neither a number, a text, true, false, null, an object nor a list"));
}

/* The next of: a comma (TRUE, *more set), the closing bracket (TRUE). */
static gboolean
scan_between (Scan *scan, char close, gboolean *more)
{
  skip_space (scan);
  if (scan->at >= scan->end)
    return fail (scan, _ ("the text ends too early"));
  if (*scan->at != ',' && *scan->at != close)
    return fail (scan, _ ("a comma or a closing bracket is missing"));
  *more = *scan->at++ == ',';
  return TRUE;
}

static gboolean
scan_list (Scan *scan, guint depth)
{
  gboolean more = TRUE;

  scan->at++;
  skip_space (scan);
  if (scan->at < scan->end && *scan->at == ']')
    {
      scan->at++;
      return TRUE;
    }
  while (more)
    if (!scan_value (scan, depth + 1) || !scan_between (scan, ']', &more))
      return FALSE;
  return TRUE;
}

static gboolean
scan_object (Scan *scan, guint depth)
{
  g_autoptr (GHashTable) keys = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gboolean more = TRUE;

  scan->at++;
  skip_space (scan);
  if (scan->at < scan->end && *scan->at == '}')
    {
      scan->at++;
      return TRUE;
    }
  while (more)
    {
      const char *key;

      skip_space (scan);
      if (scan->at >= scan->end || *scan->at != '"')
        return fail (scan, _ ("a key in quotes is missing"));
      key = scan->at;
      if (!scan_string (scan))
        return FALSE;
      if (!g_hash_table_add (keys, g_strndup (key, (gsize) (scan->at - key))))
        return fail (scan, _ ("a key is there twice"));
      skip_space (scan);
      if (scan->at >= scan->end || *scan->at != ':')
        return fail (scan, _ ("a colon after a key is missing"));
      scan->at++;
      if (!scan_value (scan, depth + 1) || !scan_between (scan, '}', &more))
        return FALSE;
    }
  return TRUE;
}

static gboolean
scan_value (Scan *scan, guint depth)
{
  skip_space (scan);
  if (scan->at >= scan->end)
    return fail (scan, _ ("the text ends too early"));
  if (depth > DEPTH_MAX)
    return fail (scan, _ ("brackets are nested too deep"));
  switch (*scan->at)
    {
    case '{':
      return scan_object (scan, depth);
    case '[':
      return scan_list (scan, depth);
    case '"':
      return scan_string (scan);
    case '-':
    case '0' ... '9':
      return scan_number (scan);
    default:
      return scan_word (scan);
    }
}

gboolean
dew_json_scan (const char *text, gsize length, GError **error)
{
  Scan scan = { text, text + length, 1, error };

  if (!g_utf8_validate_len (text, length, NULL))
    return fail (&scan, _ ("the text is not UTF-8"));
  if (!scan_value (&scan, 0))
    return FALSE;
  skip_space (&scan);
  if (scan.at < scan.end)
    return fail (&scan, _ ("there is more text after the end"));
  return TRUE;
}
