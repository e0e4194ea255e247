/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/refusal.h"

#include "edit/refuse.h"
#include "say/problems.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#define NEAR 1e-9         /* of a limit: rounding on the way through another unit */
#define LENGTH_MIN_M 0.01 /* of a dimension on the sheet */
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

char *
dew_refusal_layout (const DewChamber *before, const DewChamber *after, guint thing_id)
{
  DewProblem why;

  return dew_change_is_refused (before, after, thing_id, &why)
           ? dew_problem_text_here (&why, thing_id, dew_tongue ())
           : NULL;
}

/* --- dimensions on the sheet ---------------------------------------------- */

char *
dew_refusal_dimension (const DewChamber *before, DewChamber *copy, const DewDimension *dimension,
                       const char *text)
{
  const DewUnit *unit = dew_unit (DEW_MEASURE_LENGTH, dew_tongue ());
  g_autofree char *limit = NULL;
  char *refusal;
  double wanted_m, reached_m;

  refusal = dew_refusal_number (unit, text, LENGTH_MIN_M, DEW_ENCLOSURE_MAX_M, &wanted_m);
  if (refusal != NULL)
    return refusal;
  dew_chamber_set_dimension (copy, dimension, wanted_m);
  refusal = dew_refusal_layout (before, copy, 0);
  if (refusal != NULL)
    return refusal;
  /* Neighbours and what stands there limit how far it goes. */
  reached_m = dew_chamber_dimension (copy, dimension);
  if (fabs (reached_m - wanted_m) <= SAME_M)
    return NULL;
  limit = dew_unit_format (unit, reached_m);
  return reached_m > wanted_m
           ? g_strdup_printf (_ ("What stands there needs at least %s."), limit)
           : g_strdup_printf (_ ("What is next to it leaves at most %s."), limit);
}
