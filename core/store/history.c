/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/history.h"

#include "store/change.h"
#include "store/store.h"
#include "say/problems.h"

#include <string.h>

typedef struct
{
  gatomicrefcount references;
  char *label;
  char *change;  /* from the document before */
  gint64 made_s; /* since 1970, UTC; 0: unknown */
} Step;

struct _DewHistory
{
  GPtrArray *steps;          /* Step; element 0 stands for the oldest document */
  guint index;               /* of the present */
  const DewChamber *present; /* kept */
  char *text;                /* its JSON form; of one that was read, as it was read */
  char *merge_key;           /* of the step to the present, while it may still grow */
};

/* --- steps ------------------------------------------------------------- */

/* Takes `change`. */
static Step *
step_new (const char *label, char *change)
{
  Step *step = g_new0 (Step, 1);

  g_atomic_ref_count_init (&step->references);
  step->label = g_strdup (label);
  step->change = change;
  return step;
}

static gpointer
step_ref (gconstpointer data, gpointer user_data)
{
  Step *step = (Step *) data;

  g_atomic_ref_count_inc (&step->references);
  return step;
}

static void
step_unref (gpointer data)
{
  Step *step = data;

  if (!g_atomic_ref_count_dec (&step->references))
    return;
  g_free (step->label);
  g_free (step->change);
  g_free (step);
}

static Step *
history_step (const DewHistory *history, guint n)
{
  return g_ptr_array_index (history->steps, n);
}

/* Takes `text` and `present`. */
static void
history_set_present (DewHistory *history, const DewChamber *present, char *text)
{
  dew_chamber_free (history->present);
  g_free (history->text);
  history->present = present;
  history->text = text;
}

/* --- life -------------------------------------------------------------- */

DewHistory *
dew_history_new (const DewChamber *first)
{
  DewHistory *history;

  g_return_val_if_fail (first != NULL && dew_chamber_validate (first, NULL), NULL);

  history = g_new0 (DewHistory, 1);
  history->steps = g_ptr_array_new_with_free_func (step_unref);
  g_ptr_array_add (history->steps, step_new (NULL, NULL));
  history_set_present (history, dew_chamber_keep (first), dew_json_from_chamber (first));
  return history;
}

DewHistory *
dew_history_copy (const DewHistory *history)
{
  DewHistory *copy;

  g_return_val_if_fail (history != NULL, NULL);

  copy = g_new0 (DewHistory, 1);
  copy->steps = g_ptr_array_copy (history->steps, (GCopyFunc) step_ref, NULL);
  copy->index = history->index;
  copy->merge_key = g_strdup (history->merge_key);
  history_set_present (copy, dew_chamber_keep (history->present), g_strdup (history->text));
  return copy;
}

void
dew_history_free (DewHistory *history)
{
  if (history == NULL)
    return;
  g_ptr_array_unref (history->steps);
  dew_chamber_free (history->present);
  g_free (history->text);
  g_free (history->merge_key);
  g_free (history);
}

/* --- doing ------------------------------------------------------------- */

static void
forget_future (DewHistory *history)
{
  guint first = history->index + 1;

  if (first < history->steps->len)
    g_ptr_array_remove_range (history->steps, first, history->steps->len - first);
}

static void
forget_past (DewHistory *history)
{
  g_ptr_array_remove_range (history->steps, 0, history->index + 1);
  g_ptr_array_insert (history->steps, 0, step_new (NULL, NULL));
  history->index = 0;
}

static gint64
now_s (void)
{
  return g_get_real_time () / G_USEC_PER_SEC;
}

/* Lets the step to the present lead to `text` instead. Nudged back to where the
 * run began, nothing is left to undo and the step goes. */
static gboolean
merge (DewHistory *history, const char *text)
{
  Step *step = history_step (history, history->index);
  g_autofree char *before = dew_change_apply (history->text, step->change, TRUE);

  if (before == NULL)
    return FALSE;
  if (strcmp (before, text) == 0)
    {
      g_ptr_array_remove_index (history->steps, history->index--);
      g_clear_pointer (&history->merge_key, g_free);
      return TRUE;
    }
  history->steps->pdata[history->index] = step_new (step->label, dew_change_between (before, text));
  dew_history_set_made_s (history, history->index, now_s ());
  step_unref (step);
  return TRUE;
}

gboolean
dew_history_push (DewHistory *history, const DewChamber *next, const char *label,
                  const char *merge_key, GError **error)
{
  g_autofree char *text = NULL;

  g_return_val_if_fail (history != NULL && next != NULL && label != NULL, FALSE);

  if (dew_chamber_equal (history->present, next) || !dew_chamber_validate (next, error))
    return FALSE;

  forget_future (history);
  text = dew_json_from_chamber (next);
  if (merge_key == NULL || history->index == 0 || g_strcmp0 (history->merge_key, merge_key) != 0
      || !merge (history, text))
    {
      g_ptr_array_add (history->steps, step_new (label, dew_change_between (history->text, text)));
      history->index++;
      dew_history_set_made_s (history, history->index, now_s ());
      g_free (history->merge_key);
      history->merge_key = g_strdup (merge_key);
    }
  history_set_present (history, dew_chamber_keep (next), g_steal_pointer (&text));
  return TRUE;
}

const DewChamber *
dew_history_present (const DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);
  return history->present;
}

const char *
dew_history_can_undo (const DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);
  return history->index > 0 ? history_step (history, history->index)->label : NULL;
}

const char *
dew_history_can_redo (const DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);
  if (history->index + 1 >= history->steps->len)
    return NULL;
  return history_step (history, history->index + 1)->label;
}

/* Goes over step n. Going ends a run of nudges: the next one is a step of its
 * own. */
static gboolean
travel (DewHistory *history, guint n, gboolean back)
{
  g_autofree char *text = dew_change_apply (history->text, history_step (history, n)->change, back);
  DewChamber *chamber = text != NULL ? dew_json_to_chamber (text, -1, NULL) : NULL;

  g_clear_pointer (&history->merge_key, g_free);
  if (chamber == NULL)
    return FALSE;
  history_set_present (history, dew_chamber_seal (chamber), g_steal_pointer (&text));
  history->index = back ? n - 1 : n;
  return TRUE;
}

const DewChamber *
dew_history_undo (DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);

  if (history->index == 0)
    return NULL;
  if (travel (history, history->index, TRUE))
    return history->present;
  forget_past (history);
  return NULL;
}

const DewChamber *
dew_history_redo (DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);

  if (history->index + 1 >= history->steps->len)
    return NULL;
  if (travel (history, history->index + 1, FALSE))
    return history->present;
  forget_future (history);
  return NULL;
}

guint
dew_history_length (const DewHistory *history)
{
  g_return_val_if_fail (history != NULL, 0);
  return history->steps->len;
}

guint
dew_history_index (const DewHistory *history)
{
  g_return_val_if_fail (history != NULL, 0);
  return history->index;
}

/* --- for the store ----------------------------------------------------- */

const char *
dew_history_label (const DewHistory *history, guint n)
{
  g_return_val_if_fail (history != NULL && n < history->steps->len, NULL);
  return history_step (history, n)->label;
}

const char *
dew_history_change (const DewHistory *history, guint n)
{
  g_return_val_if_fail (history != NULL && n < history->steps->len, NULL);
  return history_step (history, n)->change;
}

gboolean
dew_history_shares (const DewHistory *a, const DewHistory *b, guint n)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);
  return n < a->steps->len && n < b->steps->len && history_step (a, n) == history_step (b, n);
}

const char *
dew_history_text (const DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);
  return history->text;
}

gint64
dew_history_made_s (const DewHistory *history, guint n)
{
  g_return_val_if_fail (history != NULL && n < history->steps->len, 0);
  return history_step (history, n)->made_s;
}

void
dew_history_set_made_s (DewHistory *history, guint n, gint64 made_s)
{
  g_return_if_fail (history != NULL && n < history->steps->len);
  history_step (history, n)->made_s = made_s;
}

DewHistory *
dew_history_restore (const char *text, const char *const *labels, const char *const *changes,
                     guint n, guint index, GError **error)
{
  DewHistory *history;
  DewChamber *present;

  g_return_val_if_fail (text != NULL && labels != NULL && changes != NULL, NULL);
  g_return_val_if_fail (n > 0 && index < n, NULL);

  present = dew_json_to_chamber (text, -1, error);
  if (present == NULL)
    return NULL;
  history = g_new0 (DewHistory, 1);
  history->steps = g_ptr_array_new_full (n, step_unref);
  history->index = index;
  history_set_present (history, dew_chamber_seal (present), g_strdup (text));
  g_ptr_array_add (history->steps, step_new (NULL, NULL));
  for (guint i = 1; i < n; i++)
    g_ptr_array_add (history->steps, step_new (labels[i], g_strdup (changes[i])));
  return history;
}

/* Step n leads from one text to another from now on. */
static void
redirect (DewHistory *history, guint n, const char *from, const char *to)
{
  Step *step = history_step (history, n);

  history->steps->pdata[n] = step_new (step->label, dew_change_between (from, to));
  dew_history_set_made_s (history, n, step->made_s);
  step_unref (step);
}

void
dew_history_amend (DewHistory *history, const DewChamber *present)
{
  g_autofree char *text = NULL;
  guint index;

  g_return_if_fail (history != NULL && present != NULL);

  index = history->index;
  text = dew_json_from_chamber (present);
  if (index > 0)
    {
      g_autofree char *before
        = dew_change_apply (history->text, history_step (history, index)->change, TRUE);

      if (before != NULL)
        redirect (history, index, before, text);
      else
        forget_past (history);
      index = history->index;
    }
  if (index + 1 < history->steps->len)
    {
      g_autofree char *after
        = dew_change_apply (history->text, history_step (history, index + 1)->change, FALSE);

      if (after != NULL)
        redirect (history, index + 1, text, after);
      else
        forget_future (history);
    }
  g_clear_pointer (&history->merge_key, g_free);
  history_set_present (history, dew_chamber_keep (present), g_steal_pointer (&text));
}
