/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/json-writer.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define DEPTH_MAX 16

struct _DewJson
{
  GString *text;
  int depth;             /* how many are open */
  char close[DEPTH_MAX]; /* what ends each of them */
};

/* --- values ------------------------------------------------------------ */

static void
append_number (GString *out, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (!isfinite (value))
    {
      g_string_append (out, "null");
      return;
    }
  /* Fifteen digits are always kept; only below the normal range can fewer do. */
  for (int digits = fabs (value) < DBL_MIN ? 1 : 15; digits <= 17; digits++)
    {
      char format[8];

      g_snprintf (format, sizeof format, "%%.%dg", digits);
      g_ascii_formatd (text, sizeof text, format, value);
      if (g_ascii_strtod (text, NULL) == value)
        break;
    }
  g_string_append (out, text);
}

static void
append_text (GString *out, const char *text)
{
  if (text == NULL)
    {
      g_string_append (out, "null");
      return;
    }
  g_string_append_c (out, '"');
  for (const char *p = text; *p != '\0'; p++)
    {
      if (*p == '"' || *p == '\\')
        g_string_append_printf (out, "\\%c", *p);
      else if (*p == '\n')
        g_string_append (out, "\\n");
      else if ((guchar) *p < 0x20)
        g_string_append_printf (out, "\\u%04x", (guint) *p);
      else
        g_string_append_c (out, *p);
    }
  g_string_append_c (out, '"');
}

/* A new line at the depth of what is open, with a comma where something stands before. */
static void
begin_member (DewJson *json, const char *key)
{
  char last = json->text->str[json->text->len - 1];

  g_string_append_printf (json->text, "%s\n%*s", last == '{' || last == '[' ? "" : ",",
                          2 * json->depth, "");
  if (key == NULL)
    return;
  append_text (json->text, key);
  g_string_append (json->text, ": ");
}

static void
open (DewJson *json, char bracket, char close)
{
  g_return_if_fail (json->depth < DEPTH_MAX);

  g_string_append_c (json->text, bracket);
  json->close[json->depth++] = close;
}

/* --- the text ---------------------------------------------------------- */

DewJson *
dew_json_new (void)
{
  DewJson *json = g_new0 (DewJson, 1);

  json->text = g_string_new (NULL);
  open (json, '{', '}');
  return json;
}

char *
dew_json_finish (DewJson *json)
{
  char *text;

  dew_json_end (json);
  g_assert (json->depth == 0);
  g_string_append_c (json->text, '\n');
  text = g_string_free (json->text, FALSE);
  g_free (json);
  return text;
}

void
dew_json_object (DewJson *json, const char *key)
{
  begin_member (json, key);
  open (json, '{', '}');
}

void
dew_json_list (DewJson *json, const char *key)
{
  begin_member (json, key);
  open (json, '[', ']');
}

void
dew_json_end (DewJson *json)
{
  char last = json->text->str[json->text->len - 1];

  g_return_if_fail (json->depth > 0);

  json->depth--;
  if (last != '{' && last != '[')
    g_string_append_printf (json->text, "\n%*s", 2 * json->depth, "");
  g_string_append_c (json->text, json->close[json->depth]);
}

void
dew_json_text (DewJson *json, const char *key, const char *text)
{
  begin_member (json, key);
  append_text (json->text, text);
}

void
dew_json_integer (DewJson *json, const char *key, gint64 value)
{
  begin_member (json, key);
  g_string_append_printf (json->text, "%" G_GINT64_FORMAT, value);
}

void
dew_json_flag (DewJson *json, const char *key, gboolean flag)
{
  begin_member (json, key);
  g_string_append (json->text, flag ? "true" : "false");
}

void
dew_json_real (DewJson *json, const char *key, double value)
{
  begin_member (json, key);
  append_number (json->text, value);
}

void
dew_json_reals (DewJson *json, const char *key, const double *values, int n)
{
  begin_member (json, key);
  g_string_append_c (json->text, '[');
  for (int i = 0; i < n; i++)
    {
      g_string_append (json->text, i > 0 ? ", " : "");
      append_number (json->text, values[i]);
    }
  g_string_append_c (json->text, ']');
}

void
dew_json_integers (DewJson *json, const char *key, const int *values, int n)
{
  begin_member (json, key);
  g_string_append_c (json->text, '[');
  for (int i = 0; i < n; i++)
    g_string_append_printf (json->text, "%s%d", i > 0 ? ", " : "", values[i]);
  g_string_append_c (json->text, ']');
}

void
dew_json_sentences (DewJson *json, const char *key, char *const *texts)
{
  dew_json_list (json, key);
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    dew_json_text (json, NULL, texts[i]);
  dew_json_end (json);
}

void
dew_json_keys (DewJson *json, const char *key, const char *const *keys)
{
  begin_member (json, key);
  g_string_append_c (json->text, '[');
  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    {
      g_string_append (json->text, i > 0 ? ", " : "");
      append_text (json->text, keys[i]);
    }
  g_string_append_c (json->text, ']');
}
