/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/refuse.h"

#include "geometry/geometry.h"

#include <string.h>

static gboolean
has_problem (const GArray *problems, const DewProblem *wanted)
{
  for (guint i = 0; i < problems->len; i++)
    {
      const DewProblem *problem = &g_array_index (problems, DewProblem, i);

      if (problem->thing_id == wanted->thing_id && strcmp (problem->field, wanted->field) == 0)
        return TRUE;
    }
  return FALSE;
}

gboolean
dew_change_is_refused (const DewChamber *before, const DewChamber *after, guint thing_id,
                       DewProblem *why)
{
  g_autoptr (GArray) old = NULL, new = NULL;
  const DewProblem *first = NULL;

  g_return_val_if_fail (before != NULL && after != NULL && why != NULL, FALSE);

  new = dew_chamber_check (after, after->shown_variant);
  if (new->len == 0)
    return FALSE;
  old = dew_chamber_check (before, before->shown_variant);
  for (guint i = 0; i < new->len; i++)
    {
      const DewProblem *problem = &g_array_index (new, DewProblem, i);
      gboolean own
        = problem->thing_id == thing_id || (thing_id != 0 && problem->other_id == thing_id);

      if ((first != NULL && !own) || has_problem (old, problem))
        continue;
      first = problem;
      if (own)
        break;
    }
  if (first == NULL)
    return FALSE;
  *why = *first;
  return TRUE;
}
