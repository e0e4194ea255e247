/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/sizes.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

/* A number below ten is worth a decimal. */
static int
decimals_below_ten (double number)
{
  return number < 9.95 ? 1 : 0;
}

char *
dew_size_text (DewMeasure measure, DewTongue tongue, double si)
{
  const DewUnit *unit = dew_unit (measure, tongue);
  double shown = fabs (si * unit->factor);
  int decimals = unit->decimals;
  g_autofree char *number = NULL;

  switch (measure)
    {
    case DEW_MEASURE_LENGTH:
    case DEW_MEASURE_WETTING:
    case DEW_MEASURE_HOURS:
      decimals = decimals_below_ten (shown);
      break;
    case DEW_MEASURE_MASS:
    case DEW_MEASURE_TANK:
      decimals = 1;
      break;
    default:
      break;
    }
  number = dew_number_text (shown, decimals);
  return g_strconcat (number, unit->symbol, NULL);
}

char *
dew_points_text (double fraction)
{
  double points = fabs (100.0 * fraction);
  g_autofree char *text = dew_number_text (points, points < 1.95 ? 1 : 0);

  /* Translators: percentage points of relative humidity. */
  return g_strdup_printf (ngettext ("%s point", "%s points", strcmp (text, "1") == 0 ? 1 : 2),
                          text);
}
