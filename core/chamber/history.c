/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/history.h"

typedef struct
{
  DewChamber *chamber;
  char *label;
  char *merge_key;
} Step;

struct _DewHistory
{
  GPtrArray *steps; /* Step, oldest first */
  guint index;      /* of the present */
  guint limit;      /* steps back at most */
};

static void
step_free (gpointer data)
{
  Step *step = data;

  dew_chamber_free (step->chamber);
  g_free (step->label);
  g_free (step->merge_key);
  g_free (step);
}

static Step *
step_new (const DewChamber *chamber, const char *label, const char *merge_key)
{
  Step *step = g_new0 (Step, 1);

  step->chamber = dew_chamber_copy (chamber);
  step->label = g_strdup (label);
  step->merge_key = g_strdup (merge_key);
  return step;
}

static Step *
history_step (const DewHistory *history, guint n)
{
  return g_ptr_array_index (history->steps, n);
}

DewHistory *
dew_history_new (const DewChamber *first, guint limit)
{
  DewHistory *history;

  g_return_val_if_fail (first != NULL && limit > 0, NULL);

  history = g_new0 (DewHistory, 1);
  history->steps = g_ptr_array_new_with_free_func (step_free);
  history->limit = limit;
  g_ptr_array_add (history->steps, step_new (first, NULL, NULL));
  return history;
}

void
dew_history_free (DewHistory *history)
{
  if (history == NULL)
    return;
  g_ptr_array_unref (history->steps);
  g_free (history);
}

/* Drops the oldest steps that are more than `limit` before the present. */
static void
history_trim (DewHistory *history)
{
  if (history->index <= history->limit)
    return;

  g_ptr_array_remove_range (history->steps, 0, history->index - history->limit);
  history->index = history->limit;
  /* What is now the oldest has nothing before it that its words could undo. */
  g_clear_pointer (&history_step (history, 0)->label, g_free);
  g_clear_pointer (&history_step (history, 0)->merge_key, g_free);
}

gboolean
dew_history_push (DewHistory *history, const DewChamber *next, const char *label,
                  const char *merge_key)
{
  Step *present;

  g_return_val_if_fail (history != NULL && next != NULL && label != NULL, FALSE);

  present = history_step (history, history->index);
  if (dew_chamber_equal (present->chamber, next))
    return FALSE;

  if (history->index + 1 < history->steps->len)
    g_ptr_array_remove_range (history->steps, history->index + 1,
                              history->steps->len - history->index - 1);

  if (merge_key != NULL && history->index > 0 && g_strcmp0 (present->merge_key, merge_key) == 0)
    {
      DewChamber *old = present->chamber;

      present->chamber = dew_chamber_copy (next);
      dew_chamber_free (old);
      /* Nudged back to where the run began: nothing is left to undo. */
      if (dew_chamber_equal (history_step (history, history->index - 1)->chamber, next))
        {
          g_ptr_array_remove_index (history->steps, history->index);
          history->index--;
        }
      return TRUE;
    }

  g_ptr_array_add (history->steps, step_new (next, label, merge_key));
  history->index++;
  history_trim (history);
  return TRUE;
}

const DewChamber *
dew_history_present (const DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);
  return history_step (history, history->index)->chamber;
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

/* Going back ends a run of nudges: the next one is a step of its own. */
const DewChamber *
dew_history_undo (DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);

  if (history->index == 0)
    return NULL;
  history->index--;
  g_clear_pointer (&history_step (history, history->index)->merge_key, g_free);
  return dew_history_present (history);
}

const DewChamber *
dew_history_redo (DewHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);

  if (history->index + 1 >= history->steps->len)
    return NULL;
  history->index++;
  g_clear_pointer (&history_step (history, history->index)->merge_key, g_free);
  return dew_history_present (history);
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

const DewChamber *
dew_history_nth (const DewHistory *history, guint n, const char **label)
{
  g_return_val_if_fail (history != NULL && n < history->steps->len, NULL);

  if (label != NULL)
    *label = history_step (history, n)->label;
  return history_step (history, n)->chamber;
}

/**
 * dew_history_restore:
 *
 * Steps further back than @limit are left out.
 */
DewHistory *
dew_history_restore (const DewChamber *const *chambers, const char *const *labels, guint n,
                     guint index, guint limit)
{
  DewHistory *history;

  g_return_val_if_fail (chambers != NULL && labels != NULL && n > 0 && index < n, NULL);
  g_return_val_if_fail (limit > 0, NULL);

  history = g_new0 (DewHistory, 1);
  history->steps = g_ptr_array_new_with_free_func (step_free);
  history->limit = limit;
  history->index = index;
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (history->steps, step_new (chambers[i],
                                               i == 0              ? NULL
                                               : labels[i] != NULL ? labels[i]
                                                                   : "",
                                               NULL));
  history_trim (history);
  return history;
}
