/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/arrange.h"
#include "chamber/random-chamber.h"
#include "store/change.h"
#include "store/history.h"
#include "store/store.h"

#include <glib/gstdio.h>
#include <string.h>

/* Undo and redo against plain copies of the documents, and changes of text against
 * the texts themselves. */

/* --- changes of text --------------------------------------------------- */

static void
assert_change (const char *before, const char *after)
{
  g_autofree char *change = dew_change_between (before, after);
  g_autofree char *forth = dew_change_apply (before, change, FALSE);
  g_autofree char *back = dew_change_apply (after, change, TRUE);

  g_assert_cmpstr (forth, ==, after);
  g_assert_cmpstr (back, ==, before);
}

static void
test_change (void)
{
  static const char *const texts[] = {
    "", "\n", "\n\n", "a", "a\n", "a\nb\n", "b\na\n", "a\nb\nc\nd", "@1\n-a\n+b\n", "+\n-\n@\n"
  };
  g_autofree char *change = dew_change_between ("a\nb\nc\nd\n", "a\nc\nd\ne\n");

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    for (guint k = 0; k < G_N_ELEMENTS (texts); k++)
      assert_change (texts[i], texts[k]);
  g_assert_cmpstr (change, ==, "@2\n-b\n@5\n+e\n");
}

static guint
lines_with_mark (const char *change)
{
  g_auto (GStrv) lines = g_strsplit (change, "\n", -1);
  guint n = 0;

  for (guint i = 0; lines[i] != NULL; i++)
    n += lines[i][0] == '+' || lines[i][0] == '-';
  return n;
}

/* The fewest edits, by the table of the longest common subsequence (Wagner & Fischer,
 * J. ACM 21 (1974) 168-173). */
static guint
fewest_edits (const char *a, const char *b)
{
  g_auto (GStrv) p = g_strsplit (a, "\n", -1);
  g_auto (GStrv) q = g_strsplit (b, "\n", -1);
  guint n = g_strv_length (p), m = g_strv_length (q);
  g_autofree guint *table = g_new0 (guint, (n + 1) * (m + 1));

  for (guint i = 0; i <= n; i++)
    for (guint j = 0; j <= m; j++)
      {
        guint *at = &table[i * (m + 1) + j];

        if (i == 0 || j == 0)
          *at = i + j;
        else if (strcmp (p[i - 1], q[j - 1]) == 0)
          *at = at[-(int) (m + 1) - 1];
        else
          *at = 1 + MIN (at[-1], at[-(int) (m + 1)]);
      }
  return table[n * (m + 1) + m];
}

static char *
random_lines (GRand *random, int most)
{
  g_autoptr (GString) text = g_string_new (NULL);
  int n = g_rand_int_range (random, 1, most);

  for (int i = 0; i < n; i++)
    g_string_append_printf (text, "%c\n", 'a' + g_rand_int_range (random, 0, 4));
  return g_strdup (text->str);
}

static void
test_change_random (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (50);

  for (int i = 0; i < 3000; i++)
    {
      g_autofree char *before = random_lines (random, 30);
      g_autofree char *after = random_lines (random, 30);
      g_autofree char *change = dew_change_between (before, after);

      assert_change (before, after);
      g_assert_cmpuint (lines_with_mark (change), ==, fewest_edits (before, after));
    }
  /* Beyond what is searched for, the whole is replaced. */
  for (int i = 0; i < 3; i++)
    {
      g_autofree char *before = random_lines (random, 6000);
      g_autofree char *after = random_lines (random, 6000);

      assert_change (before, after);
    }
}

static void
test_change_refused (void)
{
  static const char *const changes[] = {
    "nonsense",  "@1\n-x\n",         "@2\n-a\n", "@0\n-a\n",   "@-1\n+a\n",
    "@99\n+a\n", "@1\n-a",           "@2\n@1\n", "@1\n-a\n\n", "@9999999999\n",
    "-b\n",      "@1\n-a\n-b\n-c\n", "@1\n a\n", "@x\n+a\n",
  };

  for (guint i = 0; i < G_N_ELEMENTS (changes); i++)
    g_assert_null (dew_change_apply ("a\nb\n", changes[i], FALSE));
}

/* --- the list ---------------------------------------------------------- */

static void
test_random (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (22);

  for (int round = 0; round < 10; round++)
    {
      g_autoptr (DewChamber) chamber = random_chamber (random);
      g_autoptr (DewHistory) history = dew_history_new (chamber);
      g_autoptr (GPtrArray) states
        = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_chamber_free);
      guint at;

      g_ptr_array_add (states, dew_chamber_copy (chamber));
      for (int i = 0; i < 60; i++)
        {
          random_edit (random, chamber);
          if (dew_history_push (history, chamber, "edit", NULL, NULL))
            g_ptr_array_add (states, dew_chamber_copy (chamber));
        }

      for (at = states->len - 1; at > 0; at--)
        g_assert_true (dew_chamber_equal (dew_history_undo (history), states->pdata[at - 1]));
      g_assert_null (dew_history_undo (history));
      g_assert_null (dew_history_can_undo (history));
      for (at = 1; at < states->len; at++)
        g_assert_true (dew_chamber_equal (dew_history_redo (history), states->pdata[at]));
      g_assert_null (dew_history_redo (history));
      g_assert_true (dew_chamber_equal (dew_history_present (history), chamber));
    }
}

static void
push_width (DewHistory *history, double width_m, const char *label, const char *merge_key,
            gboolean taken)
{
  g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));

  next->outer_m[0] = width_m;
  g_assert_true (dew_history_push (history, next, label, merge_key, NULL) == taken);
}

static void
test_rules (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (DewHistory) history = NULL;

  chamber->outer_m[0] = 1.0;
  history = dew_history_new (chamber);
  push_width (history, 1.0, "nothing", NULL, FALSE);
  g_assert_null (dew_history_can_undo (history));
  push_width (history, 1.1, "nudge", "n", TRUE);
  push_width (history, 1.2, "nudge", "n", TRUE);
  push_width (history, 1.3, "nudge", "n", TRUE);
  g_assert_cmpuint (dew_history_length (history), ==, 2);
  g_assert_cmpstr (dew_history_can_undo (history), ==, "nudge");
  g_assert_cmpfloat (dew_history_undo (history)->outer_m[0], ==, 1.0);
  g_assert_cmpfloat (dew_history_redo (history)->outer_m[0], ==, 1.3);
  /* Undo and redo ended the run. */
  push_width (history, 1.4, "nudge", "n", TRUE);
  g_assert_cmpuint (dew_history_length (history), ==, 3);
  /* Back to the start of the run: no step is left. */
  push_width (history, 1.3, "nudge", "n", TRUE);
  g_assert_cmpuint (dew_history_length (history), ==, 2);

  push_width (history, 1.1, "a", NULL, TRUE);
  push_width (history, 1.2, "b", NULL, TRUE);
  dew_history_undo (history);
  g_assert_cmpstr (dew_history_can_redo (history), ==, "b");
  push_width (history, 1.3, "c", NULL, TRUE);
  g_assert_null (dew_history_can_redo (history));
  g_assert_cmpuint (dew_history_length (history), ==, 4);
}

/* A copy goes its own way. */
static void
test_copy (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (DewHistory) history = dew_history_new (chamber);
  g_autoptr (DewHistory) copy = NULL;

  push_width (history, 1.1, "a", NULL, TRUE);
  copy = dew_history_copy (history);
  g_assert_true (dew_history_shares (history, copy, 0));
  g_assert_true (dew_history_shares (history, copy, 1));
  g_assert_false (dew_history_shares (history, copy, 2));
  dew_history_undo (copy);
  push_width (copy, 1.2, "b", NULL, TRUE);
  g_assert_false (dew_history_shares (history, copy, 1));
  g_assert_cmpfloat (dew_history_present (history)->outer_m[0], ==, 1.1);
  g_assert_cmpstr (dew_history_can_undo (history), ==, "a");
  g_assert_cmpstr (dew_history_can_undo (copy), ==, "b");
}

/* --- ten thousand edits ------------------------------------------------ */

/* random_edit() adds more than it takes away; twenty thousand undos of a document that
 * grows without end would only try patience. */
static void
keep_small (DewChamber *chamber)
{
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      GArray *things = g_array_index (chamber->variants, DewVariant, i).things;

      if (things->len > 8)
        g_array_remove_range (things, 0, things->len - 6);
    }
}

/* All that can be done to a document: values, things, variants, wishes, kinds (those
 * in random_edit()), and several things at once. */
static void
any_edit (GRand *random, DewChamber *chamber)
{
  DewVariant *variant = dew_chamber_shown (chamber);
  guint ids[6], n = 0;
  double d[3];

  if (g_rand_int_range (random, 0, 3) > 0)
    {
      random_edit (random, chamber);
      keep_small (chamber);
      return;
    }
  for (guint i = 0; i < variant->things->len && n < G_N_ELEMENTS (ids); i++)
    if (g_rand_int_range (random, 0, 3) == 0)
      ids[n++] = g_array_index (variant->things, DewThing, i).id;
  for (int axis = 0; axis < 3; axis++)
    d[axis] = g_rand_double_range (random, -0.3, 0.3);
  switch (g_rand_int_range (random, 0, 5))
    {
    case 0:
      dew_variant_align (chamber, variant, ids, n, g_rand_int_range (random, 0, 3),
                         g_rand_int_range (random, 0, 3), NULL);
      break;
    case 1:
      dew_variant_distribute (chamber, variant, ids, n, g_rand_int_range (random, 0, 3), NULL);
      break;
    case 2:
      if (variant->things->len < 9)
        {
          g_autoptr (GArray) copies = dew_variant_duplicate (chamber, variant, ids, n, NULL);

          g_assert_true ((copies != NULL) == (n > 0));
        }
      break;
    case 3:
      for (guint i = 0; i < n; i++)
        dew_variant_remove (variant, ids[i]);
      break;
    default:
      if (n > 0)
        dew_variant_shift (chamber, variant, ids[0], d);
      break;
    }
}

/* What the list should hold, kept beside it without any cleverness. */
typedef struct
{
  GPtrArray *truth; /* char *, fingerprints of the documents */
  guint refused;
} Truth;

static char *
fingerprint (const DewChamber *chamber)
{
  g_autofree char *text = dew_json_from_chamber (chamber);

  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);
}

static void
assert_at (const Truth *truth, const DewHistory *history)
{
  g_autofree char *is = fingerprint (dew_history_present (history));

  g_assert_cmpstr (is, ==, truth->truth->pdata[dew_history_index (history)]);
}

static void
do_edit (GRand *random, DewHistory *history, Truth *truth)
{
  g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));
  g_autoptr (GError) error = NULL;
  guint before = dew_history_index (history);

  any_edit (random, next);
  if (!dew_history_push (history, next, "edit", NULL, &error))
    {
      truth->refused += error != NULL;
      assert_at (truth, history);
      return;
    }
  g_ptr_array_set_size (truth->truth, (int) before + 1);
  g_ptr_array_add (truth->truth, fingerprint (next));
}

static void
do_travel (GRand *random, DewHistory *history, const Truth *truth)
{
  int n = g_rand_int_range (random, 1, 8);

  while (n-- > 0)
    {
      if (g_rand_int_range (random, 0, 5) < 3)
        dew_history_undo (history);
      else
        dew_history_redo (history);
    }
  assert_at (truth, history);
}

static void
to_both_ends (DewHistory *history, const Truth *truth)
{
  g_assert_cmpuint (dew_history_length (history), ==, truth->truth->len);
  while (dew_history_undo (history) != NULL)
    ;
  g_assert_cmpuint (dew_history_index (history), ==, 0);
  assert_at (truth, history);
  while (dew_history_redo (history) != NULL)
    ;
  g_assert_cmpuint (dew_history_index (history), ==, truth->truth->len - 1);
  assert_at (truth, history);
}

/* Ten thousand random edits with undo and redo between, then to the beginning and to
 * the end; on the way the file is closed and opened again some times. */
static void
ten_thousand (gboolean through_file)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (60);
  g_autoptr (DewChamber) first = dew_chamber_new ();
  g_autoptr (DewHistory) history = dew_history_new (first);
  g_autofree char *folder = g_dir_make_tmp ("dewtier-history-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "x" DEW_STORE_SUFFIX, NULL);
  g_autoptr (DewStore) store = NULL;
  g_autoptr (GError) error = NULL;
  Truth truth = { g_ptr_array_new_with_free_func (g_free), 0 };
  g_autoptr (GPtrArray) owner = truth.truth;

  g_ptr_array_add (truth.truth, fingerprint (first));
  if (through_file)
    {
      dew_store_create (path, first, FALSE, &error);
      g_assert_no_error (error);
      store = dew_store_open (path, &error);
      g_assert_no_error (error);
    }
  for (int i = 1; i <= 10000; i++)
    {
      do_edit (random, history, &truth);
      if (g_rand_int_range (random, 0, 20) == 0)
        do_travel (random, history, &truth);
      if (store != NULL && i % 100 == 0)
        dew_store_save (store, history, NULL, NULL);
      if (store != NULL && i % 2500 == 0)
        {
          g_assert_true (dew_store_flush (store, &error));
          g_clear_pointer (&store, dew_store_close);
          store = dew_store_open (path, &error);
          g_assert_no_error (error);
          g_clear_pointer (&history, dew_history_free);
          history = dew_store_history (store);
          g_assert_cmpuint (dew_history_length (history), ==, truth.truth->len);
          assert_at (&truth, history);
        }
    }
  /* Things that random_edit() has put ten metres away may be pushed out of range. */
  g_assert_cmpuint (truth.refused, <, 200);
  g_assert_cmpuint (truth.truth->len, >, 5000);
  to_both_ends (history, &truth);
  g_clear_pointer (&store, dew_store_close);
  g_unlink (path);
  g_rmdir (folder);
}

static void
test_ten_thousand (void)
{
  ten_thousand (FALSE);
}

static void
test_ten_thousand_through_a_file (void)
{
  ten_thousand (TRUE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/history/change", test_change);
  g_test_add_func ("/history/change-random", test_change_random);
  g_test_add_func ("/history/change-refused", test_change_refused);
  g_test_add_func ("/history/random", test_random);
  g_test_add_func ("/history/rules", test_rules);
  g_test_add_func ("/history/copy", test_copy);
  g_test_add_func ("/history/ten-thousand", test_ten_thousand);
  g_test_add_func ("/history/ten-thousand-through-a-file", test_ten_thousand_through_a_file);
  return g_test_run ();
}
