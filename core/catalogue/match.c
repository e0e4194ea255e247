/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/catalogue.h"

#include <string.h>

/* What a grower who types a name may mean: whatever the case and accents, by part of the name,
 * genus, common name or group, and with a letter or two wrong. */

/* How well a word matches, the better the higher. */
enum
{
  NO_MATCH = 0,
  ALMOST = 10, /* letters wrong */
  INSIDE = 20, /* in the middle of a word */
  OF_THE_GROUP = 30,
  COMMON_BEGINS = 40,
  BEGINS = 50,
  COMMON_WORD = 60,
  WORD = 70,
  COMMON_NAME = 90, /* the whole of a common name */
  WHOLE = 100       /* the whole name */
};

/* Letters that may be wrong, by how many there are. */
#define LETTERS_FOR_ONE 5
#define LETTERS_FOR_TWO 9

/* The words of a name, without case and accents. */
typedef struct
{
  char **words;
  char *whole; /* joined again by one space */
} Folded;

typedef struct
{
  Folded name, group;
  GPtrArray *common; /* Folded * */
} Entry;

static void
fold (const char *text, Folded *out)
{
  char **ascii = NULL, **words = g_str_tokenize_and_fold (text, NULL, &ascii);
  g_autoptr (GPtrArray) all = g_ptr_array_new ();

  /* A word has an accentless twin or not; that twin is what is compared. */
  for (guint i = 0; words[i] != NULL; i++)
    {
      char *plain = g_str_to_ascii (words[i], "C");

      g_ptr_array_add (all, plain);
    }
  g_ptr_array_add (all, NULL);
  g_strfreev (words);
  g_strfreev (ascii);
  out->whole = g_strjoinv (" ", (char **) all->pdata);
  out->words = (char **) g_ptr_array_free (g_steal_pointer (&all), FALSE);
}

static void
folded_clear (Folded *folded)
{
  g_strfreev (folded->words);
  g_free (folded->whole);
}

/* Made once; the catalogue does not change. */
static const GArray *
entries (void)
{
  static gsize made = 0;
  const DewCatalogue *plants = dew_catalogue ("plants");

  if (g_once_init_enter (&made))
    {
      GArray *all = g_array_new (FALSE, TRUE, sizeof (Entry));

      for (guint row = 0; row < dew_catalogue_rows (plants); row++)
        {
          g_auto (GStrv) common = g_strsplit (dew_catalogue_text (plants, row, "also"), ";", -1);
          Entry entry = { .common = g_ptr_array_new () };

          fold (dew_catalogue_text (plants, row, "name"), &entry.name);
          fold (dew_catalogue_text (plants, row, "group"), &entry.group);
          for (guint i = 0; common[i] != NULL; i++)
            {
              Folded *one = g_new0 (Folded, 1);

              fold (common[i], one);
              g_ptr_array_add (entry.common, one);
            }
          g_array_append_val (all, entry);
        }
      g_once_init_leave (&made, GPOINTER_TO_SIZE (all));
    }
  return GSIZE_TO_POINTER (made);
}

/* --- words --------------------------------------------------------------- */

/* Damerau's distance of two words, as far as `most`: letters wrong, missing, too many, or two
 * that changed places (Damerau, Communications of the ACM 7, 171-176, 1964). */
static gboolean
nearly (const char *a, const char *b, int most)
{
  enum
  {
    LONGEST = 40
  };
  int n = (int) strlen (a), m = (int) strlen (b);
  int d[3][LONGEST + 1];

  if (n > LONGEST || m > LONGEST || ABS (n - m) > most)
    return FALSE;
  for (int j = 0; j <= m; j++)
    d[0][j] = j;
  for (int i = 1; i <= n; i++)
    {
      int *row = d[i % 3], *up = d[(i + 2) % 3], *second = d[(i + 1) % 3];

      row[0] = i;
      for (int j = 1; j <= m; j++)
        {
          row[j] = MIN (MIN (up[j], row[j - 1]) + 1, up[j - 1] + (a[i - 1] != b[j - 1]));
          if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
            row[j] = MIN (row[j], second[j - 2] + 1);
        }
    }
  return d[n % 3][m] <= most;
}

static int
word_in (const char *typed, char **words, int whole, int begins, int inside, int almost)
{
  int best = NO_MATCH, letters = (int) strlen (typed);
  int wrong = letters >= LETTERS_FOR_TWO ? 2 : letters >= LETTERS_FOR_ONE ? 1 : 0;

  for (guint i = 0; words[i] != NULL; i++)
    {
      if (strcmp (words[i], typed) == 0)
        return whole;
      if (g_str_has_prefix (words[i], typed))
        best = MAX (best, begins);
      else if (letters > 2 && strstr (words[i], typed) != NULL)
        best = MAX (best, inside);
      else if (wrong > 0 && nearly (typed, words[i], wrong))
        best = MAX (best, almost);
    }
  return best;
}

/* The worst of the words that were typed, each where it matches best. */
static int
match (const Folded *typed, const Entry *entry)
{
  int worst = WHOLE;

  if (strcmp (typed->whole, entry->name.whole) == 0)
    return WHOLE;
  for (guint c = 0; c < entry->common->len; c++)
    if (strcmp (typed->whole, ((Folded *) g_ptr_array_index (entry->common, c))->whole) == 0)
      return COMMON_NAME;
  for (guint i = 0; typed->words[i] != NULL; i++)
    {
      const char *word = typed->words[i];
      int best = word_in (word, entry->name.words, WORD, BEGINS, INSIDE, ALMOST);

      best = MAX (best, word_in (word, entry->group.words, OF_THE_GROUP, OF_THE_GROUP, NO_MATCH,
                                 NO_MATCH));
      for (guint c = 0; c < entry->common->len; c++)
        best = MAX (best, word_in (word, ((Folded *) g_ptr_array_index (entry->common, c))->words,
                                   COMMON_WORD, COMMON_BEGINS, INSIDE, ALMOST));
      worst = MIN (worst, best);
    }
  return worst;
}

/* --- kinds --------------------------------------------------------------- */

static int
better_first (gconstpointer pa, gconstpointer pb)
{
  const DewPlantMatch *a = pa, *b = pb;

  if (a->score != b->score)
    return b->score - a->score;
  return g_utf8_collate (a->name, b->name);
}

static void
search_own (const DewChamber *chamber, const Folded *typed, GArray *found)
{
  for (guint k = 0; chamber != NULL && k < chamber->kinds->len; k++)
    {
      const DewPlantKind *kind = &g_array_index (chamber->kinds, DewPlantKind, k);
      g_autoptr (GPtrArray) none = g_ptr_array_new ();
      Entry entry = { .common = none };
      DewPlantMatch one = { .row = -1, .name = kind->name };

      fold (kind->name, &entry.name);
      fold (kind->group, &entry.group);
      one.score = typed->words[0] == NULL ? WHOLE : match (typed, &entry);
      if (one.score > NO_MATCH)
        {
          one.score++; /* before a row that is as good: that is why someone made it */
          g_array_append_val (found, one);
        }
      folded_clear (&entry.name);
      folded_clear (&entry.group);
    }
}

GArray *
dew_catalogue_search_plants (const DewChamber *chamber, const char *typed)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  const GArray *all = entries ();
  GArray *found = g_array_new (FALSE, FALSE, sizeof (DewPlantMatch));
  Folded folded;

  g_return_val_if_fail (typed != NULL, found);

  fold (typed, &folded);
  search_own (chamber, &folded, found);
  for (guint row = 0; row < all->len; row++)
    {
      DewPlantMatch one = { .row = (int) row, .name = dew_catalogue_text (plants, row, "name") };

      one.score
        = folded.words[0] == NULL ? WHOLE : match (&folded, &g_array_index (all, Entry, row));
      if (one.score > NO_MATCH)
        g_array_append_val (found, one);
    }
  /* Who typed what is found as a word does not want what only sounds like it. */
  g_array_sort (found, better_first);
  for (guint i = 0; i < found->len; i++)
    if (g_array_index (found, DewPlantMatch, i).score < INSIDE
        && g_array_index (found, DewPlantMatch, 0).score >= BEGINS)
      g_array_set_size (found, i);
  folded_clear (&folded);
  return found;
}

/* The only row whose name has that word and no row besides; -1: none, or several. */
static int
only_genus (const char *word)
{
  const GArray *all = entries ();
  int only = -1;

  for (guint row = 0; row < all->len; row++)
    if (g_strv_contains ((const char *const *) g_array_index (all, Entry, row).name.words, word))
      {
        if (only >= 0)
          return -1;
        only = (int) row;
      }
  return only;
}

int
dew_catalogue_plant_row (const char *species)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  const GArray *all = entries ();
  int row, only = -1;
  Folded folded;

  g_return_val_if_fail (species != NULL, -1);

  row = dew_catalogue_find (plants, species);
  if (row >= 0)
    return row;
  fold (species, &folded);
  for (guint r = 0; folded.words[0] != NULL && only != -2 && r < all->len; r++)
    {
      int score = match (&folded, &g_array_index (all, Entry, r));

      if (score == WHOLE)
        {
          only = (int) r;
          break;
        }
      if (score == COMMON_NAME)
        only = only == -1 ? (int) r : -2;
    }
  /* "Dracula vampira" grows as Dracula does, where one row knows that genus. A shared epithet says
   * nothing: only the first word counts. */
  if (only < 0 && folded.words[0] != NULL && strlen (folded.words[0]) > 3)
    only = only_genus (folded.words[0]);
  folded_clear (&folded);
  return MAX (only, -1);
}
