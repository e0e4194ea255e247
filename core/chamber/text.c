/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber-private.h"

#include <string.h>

/* Marks that turn the direction of what follows, and so let a name read as another: Unicode
 * Standard Annex 9, "Unicode Bidirectional Algorithm", 2.1 to 2.6. */
static gboolean
turns_direction (gunichar c)
{
  return c == 0x061c || c == 0x200e || c == 0x200f || (c >= 0x202a && c <= 0x202e)
         || (c >= 0x2066 && c <= 0x2069);
}

/* Code points that no text has: The Unicode Standard, 23.7 ("Noncharacters"); and the mark of a
 * byte order and the tags, which nobody sees. */
static gboolean
is_no_character (gunichar c)
{
  return (c & 0xfffe) == 0xfffe || (c >= 0xfdd0 && c <= 0xfdef) || c == 0xfeff
         || (c >= 0xe0000 && c <= 0xe007f);
}

static gboolean
parts_lines (gunichar c)
{
  return c == '\n' || c == '\t' || c == 0x2028 || c == 0x2029;
}

gboolean
dew_text_is_plain (const char *text, gboolean lines)
{
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (lines && (c == '\n' || c == '\t'))
        continue;
      if (g_unichar_iscntrl (c) || parts_lines (c) || turns_direction (c) || is_no_character (c))
        return FALSE;
    }
  return TRUE;
}

gboolean
dew_text_has_controls (const char *text)
{
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    if (g_unichar_iscntrl (g_utf8_get_char (p)) && *p != '\n' && *p != '\t')
      return TRUE;
  return FALSE;
}

char *
dew_text_plain (const char *text, gboolean lines)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  GString *plain = g_string_sized_new (strlen (valid));

  for (const char *p = valid; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (lines && (c == '\n' || c == '\t'))
        g_string_append_unichar (plain, c);
      else if (parts_lines (c) || g_unichar_iscntrl (c))
        g_string_append_c (plain, ' ');
      else if (!turns_direction (c) && !is_no_character (c))
        g_string_append_unichar (plain, c);
    }
  return g_string_free (plain, FALSE);
}
