/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/change.h"

#include <string.h>

/* Beyond that many lines gone and come the rest is taken as replaced: the search
 * takes memory by the square of it. */
#define EDITS_MAX 1500

/* One line without its line feed; it lies in a text of somebody else. */
typedef struct
{
  const char *at;
  gsize length;
} Line;

/* "a\nb\n" has three lines, the last one empty, so that joining them gives back
 * the same text. */
static GArray *
lines_of (const char *text)
{
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (Line));

  for (;;)
    {
      Line line = { text, strcspn (text, "\n") };

      g_array_append_val (lines, line);
      if (text[line.length] == '\0')
        return lines;
      text += line.length + 1;
    }
}

static gboolean
line_equal (gconstpointer one, gconstpointer other)
{
  const Line *a = one, *b = other;

  return a->length == b->length && memcmp (a->at, b->at, a->length) == 0;
}

/* FNV-1a, 32 bits. */
static guint
line_hash (gconstpointer data)
{
  const Line *line = data;
  guint hash = 2166136261u;

  for (gsize i = 0; i < line->length; i++)
    hash = (hash ^ (guchar) line->at[i]) * 16777619u;
  return hash;
}

static const Line *
line (const GArray *lines, guint i)
{
  return &g_array_index (lines, Line, i);
}

/* --- finding ----------------------------------------------------------- */

/* Equal lines get equal numbers, so that the search compares numbers. */
static int *
numbered (GHashTable *known, const GArray *lines, guint from, guint n)
{
  int *numbers = g_new (int, n + 1);

  for (guint i = 0; i < n; i++)
    {
      gpointer key = (gpointer) line (lines, from + i);
      gpointer number;

      if (!g_hash_table_lookup_extended (known, key, NULL, &number))
        {
          number = GINT_TO_POINTER (g_hash_table_size (known));
          g_hash_table_insert (known, key, number);
        }
      numbers[i] = GPOINTER_TO_INT (number);
    }
  return numbers;
}

/* Marks the lines of `a` that go and those of `b` that come: the shortest such
 * list, by the greedy search of Myers, Algorithmica 1 (1986) 251-266. `reach`
 * keeps the furthest ends per number of edits, [d][2 d + 1]. FALSE when it would
 * take more than EDITS_MAX. */
static gboolean
mark_edits (const int *a, int n, const int *b, int m, gboolean *goes, gboolean *comes)
{
  int most = MIN (n + m, EDITS_MAX);
  g_autofree int *furthest = g_new0 (int, 2 * most + 3);
  g_autoptr (GPtrArray) reach = g_ptr_array_new_with_free_func (g_free);
  int *v = furthest + most + 1;
  int d, x = 0, y = 0;
  gboolean found = FALSE;

  for (d = 0; d <= most && !found; d++)
    {
      for (int k = -d; k <= d && !found; k += 2)
        {
          x = k == -d || (k != d && v[k - 1] < v[k + 1]) ? v[k + 1] : v[k - 1] + 1;
          for (y = x - k; x < n && y < m && a[x] == b[y]; y++)
            x++;
          v[k] = x;
          found = x >= n && y >= m;
        }
      g_ptr_array_add (reach, g_memdup2 (v - d, (2 * (gsize) d + 1) * sizeof *v));
    }
  if (!found)
    return FALSE;

  for (d = (int) reach->len - 1; d > 0; d--)
    {
      const int *before = (const int *) g_ptr_array_index (reach, d - 1) + (d - 1);
      int k = x - y;
      gboolean down = k == -d || (k != d && before[k - 1] < before[k + 1]);

      x = before[down ? k + 1 : k - 1];
      y = x - (down ? k + 1 : k - 1);
      if (down)
        comes[y] = TRUE;
      else
        goes[x] = TRUE;
    }
  return TRUE;
}

static void
append_line (GString *out, char mark, const Line *what)
{
  g_string_append_c (out, mark);
  g_string_append_len (out, what->at, (gssize) what->length);
  g_string_append_c (out, '\n');
}

char *
dew_change_between (const char *before, const char *after)
{
  g_autoptr (GArray) a = lines_of (before);
  g_autoptr (GArray) b = lines_of (after);
  g_autoptr (GHashTable) known = g_hash_table_new (line_hash, line_equal);
  g_autofree gboolean *goes = NULL, *comes = NULL;
  g_autofree int *a_numbers = NULL, *b_numbers = NULL;
  GString *out = g_string_new (NULL);
  guint start = 0, n = a->len, m = b->len, i = 0, j = 0;

  while (start < n && start < m && line_equal (line (a, start), line (b, start)))
    start++;
  while (n > start && m > start && line_equal (line (a, n - 1), line (b, m - 1)))
    {
      n--;
      m--;
    }
  n -= start;
  m -= start;
  a_numbers = numbered (known, a, start, n);
  b_numbers = numbered (known, b, start, m);
  goes = g_new0 (gboolean, n + 1);
  comes = g_new0 (gboolean, m + 1);
  if (!mark_edits (a_numbers, (int) n, b_numbers, (int) m, goes, comes))
    {
      for (i = 0; i < n; i++)
        goes[i] = TRUE;
      for (j = 0; j < m; j++)
        comes[j] = TRUE;
    }

  for (i = j = 0; i < n || j < m;)
    {
      if (!goes[i] && !comes[j])
        {
          i++;
          j++;
          continue;
        }
      g_string_append_printf (out, "@%u\n", start + i + 1);
      for (; i < n && goes[i]; i++)
        append_line (out, '-', line (a, start + i));
      for (; j < m && comes[j]; j++)
        append_line (out, '+', line (b, start + j));
    }
  return g_string_free (out, FALSE);
}

/* --- applying ---------------------------------------------------------- */

typedef struct
{
  GArray *lines; /* of the text it starts from */
  guint next;    /* the first of them that is not done with */
  GString *out;
} Rewrite;

static void
rewrite_put (Rewrite *rewrite, const Line *what)
{
  /* The one before the very first line is cut off at the end. */
  g_string_append_c (rewrite->out, '\n');
  g_string_append_len (rewrite->out, what->at, (gssize) what->length);
}

/* Takes lines over as they are up to, without, number `to`. */
static gboolean
rewrite_keep (Rewrite *rewrite, gint64 to)
{
  if (to < rewrite->next || to > rewrite->lines->len)
    return FALSE;
  while (rewrite->next < to)
    rewrite_put (rewrite, line (rewrite->lines, rewrite->next++));
  return TRUE;
}

static gboolean
rewrite_drop (Rewrite *rewrite, const Line *what)
{
  if (rewrite->next >= rewrite->lines->len
      || !line_equal (line (rewrite->lines, rewrite->next), what))
    return FALSE;
  rewrite->next++;
  return TRUE;
}

char *
dew_change_apply (const char *text, const char *change, gboolean back)
{
  g_autoptr (GArray) lines = lines_of (text);
  g_autoptr (GString) out = g_string_sized_new (strlen (text) + 256);
  Rewrite rewrite = { lines, 0, out };
  gint64 shift = 0; /* lines come less lines gone so far */

  while (*change != '\0')
    {
      Line what = { change + 1, strcspn (change + 1, "\n") };
      gint64 at;
      gboolean ok;

      if (what.at[what.length] == '\0')
        return NULL;
      switch (*change)
        {
        case '@':
          at = g_ascii_strtoll (what.at, NULL, 10);
          ok = at >= 1 && at <= G_MAXINT && rewrite_keep (&rewrite, at - 1 + (back ? shift : 0));
          break;
        case '-':
          shift--;
          ok = back || rewrite_drop (&rewrite, &what);
          if (back)
            rewrite_put (&rewrite, &what);
          break;
        case '+':
          shift++;
          ok = !back || rewrite_drop (&rewrite, &what);
          if (!back)
            rewrite_put (&rewrite, &what);
          break;
        default:
          return NULL;
        }
      if (!ok)
        return NULL;
      change = what.at + what.length + 1;
    }
  rewrite_keep (&rewrite, lines->len);
  return out->len > 0 ? g_strdup (out->str + 1) : NULL;
}
