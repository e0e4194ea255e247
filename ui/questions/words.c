/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words that all questions use. */
#include "questions/question.h"

#include <glib/gi18n.h>
#include <math.h>

char *
dew_ask_signed (double value, int digits)
{
  return g_strdup_printf ("%s%.*f", value < 0.0 ? "−" : "+", digits, fabs (value));
}

char *
dew_ask_gain_text (double gain, double band)
{
  g_autofree char *points = dew_ask_signed (100.0 * gain, 1);
  double width = MAX (100.0 * band, 0.1); /* one that rounds to nothing would promise too much */

  if (isnan (band))
    return g_strdup_printf (_ ("%s of 100 points against now."), points);
  if (gain > band)
    /* Translators: points of a mark from 0 to 100, with the band of the difference. */
    return g_strdup_printf (_ ("Better than now by %.1f ± %.1f of 100 points."), 100.0 * gain,
                            width);
  if (gain < -band)
    return g_strdup_printf (_ ("Worse than now by %.1f ± %.1f of 100 points."), -100.0 * gain,
                            width);
  return g_strdup_printf (_ ("As good as now, within what can be known: %s ± %.1f of 100 points."),
                          points, width);
}
