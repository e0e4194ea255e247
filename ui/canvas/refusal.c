/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/refusal.h"

#include "geometry/geometry.h"
#include "say/problems.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#define NEAR 1e-9         /* of a limit: rounding on the way through another unit */
#define LENGTH_MIN_M 0.01 /* of a dimension on the sheet */
#define LENGTH_MAX_M 4.0
#define SAME_M 5e-5

/* --- numbers and names -------------------------------------------------- */

/* Digits that are too many for a number: "1e400". */
static gboolean
is_beyond_numbers (const char *text)
{
  char *end = NULL;
  double number;

  if (strspn (text, "+-.0123456789") == 0)
    return FALSE;
  number = g_ascii_strtod (text, &end);
  return isinf (number) && end > text && g_ascii_isdigit (end[-1]);
}

char *
dew_refusal_number (const DewUnit *unit, const char *text, double min_si, double max_si, double *si)
{
  g_autofree char *trimmed = g_strstrip (g_strdup (text));
  double slack = NEAR * MAX (fabs (min_si), fabs (max_si));
  g_autofree char *limit = NULL;
  double value;

  if (is_beyond_numbers (trimmed))
    value = trimmed[0] == '-' ? -INFINITY : INFINITY;
  else if (!dew_unit_parse (unit, trimmed, &value))
    return dew_unit_wanted (unit);

  if (value < min_si - slack)
    {
      limit = dew_unit_format (unit, min_si);
      return g_strdup_printf (_ ("This must be at least %s."), limit);
    }
  if (value > max_si + slack)
    {
      limit = dew_unit_format (unit, max_si);
      return g_strdup_printf (_ ("This can be at most %s."), limit);
    }
  *si = CLAMP (value, min_si, max_si);
  return NULL;
}

char *
dew_refusal_name (const char *text, gsize size)
{
  g_autofree char *trimmed = g_strstrip (g_strdup (text));

  if (*trimmed == '\0')
    return g_strdup (_ ("Give a name; it cannot be left empty."));
  if (strlen (text) >= size)
    return g_strdup (_ ("This name is too long; shorten it a little."));
  return NULL;
}

/* --- layout -------------------------------------------------------------- */

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

/* The first problem of `after` that `before` has not; those of the thing itself first. */
static const DewProblem *
new_problem (const GArray *before, const GArray *after, guint thing_id)
{
  const DewProblem *first = NULL;

  for (guint i = 0; i < after->len; i++)
    {
      const DewProblem *problem = &g_array_index (after, DewProblem, i);

      if (has_problem (before, problem))
        continue;
      if (problem->thing_id == thing_id || (thing_id != 0 && problem->other_id == thing_id))
        return problem;
      if (first == NULL)
        first = problem;
    }
  return first;
}

char *
dew_refusal_layout (const DewChamber *before, const DewChamber *after, guint thing_id)
{
  g_autoptr (GArray) old = dew_chamber_check (before, before->shown_variant);
  g_autoptr (GArray) new = dew_chamber_check (after, after->shown_variant);
  const DewProblem *problem = new_problem (old, new, thing_id);

  return problem != NULL ? dew_problem_text_here (problem, thing_id, dew_tongue ()) : NULL;
}

/* --- dimensions on the sheet ---------------------------------------------- */

char *
dew_refusal_dimension (const DewChamber *chamber, const DewDimension *dimension, const char *text,
                       double *length_m)
{
  const DewUnit *unit = dew_unit (DEW_MEASURE_LENGTH, dew_tongue ());
  g_autoptr (DewChamber) trial = dew_chamber_copy (chamber);
  char *refusal;
  double wanted_m, reached_m;

  refusal = dew_refusal_number (unit, text, LENGTH_MIN_M, LENGTH_MAX_M, &wanted_m);
  if (refusal != NULL)
    return refusal;
  dew_chamber_set_dimension (trial, dimension, wanted_m);
  refusal = dew_refusal_layout (chamber, trial, 0);
  if (refusal != NULL)
    return refusal;
  /* Neighbours and what stands there limit how far it goes. */
  reached_m = dew_chamber_dimension (trial, dimension);
  if (fabs (reached_m - wanted_m) > SAME_M)
    {
      g_autofree char *limit = dew_unit_format (unit, reached_m);

      return reached_m > wanted_m
               ? g_strdup_printf (_ ("What stands there needs at least %s."), limit)
               : g_strdup_printf (_ ("What is next to it leaves at most %s."), limit);
    }
  *length_m = wanted_m;
  return NULL;
}
