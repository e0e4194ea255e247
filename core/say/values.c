/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/values.h"

#include "forecast/members.h"
#include "moist/constants.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define NO_BREAK "\302\240" /* a space at which no line ends */
#define S_PER_MIN 60.0

static const struct
{
  const char *label;
  DewMeasure measure;
} values[DEW_N_VALUES] = {
  [DEW_VALUE_TEMPERATURE] = { N_ ("Warmth"), DEW_MEASURE_TEMPERATURE },
  [DEW_VALUE_RH] = { N_ ("Humidity"), DEW_MEASURE_SHARE },
  [DEW_VALUE_HUMIDITY_RATIO] = { N_ ("Water in the air"), DEW_MEASURE_VAPOUR },
  [DEW_VALUE_VPD] = { N_ ("Drying power"), DEW_MEASURE_DRYING_POWER },
  [DEW_VALUE_SPEED] = { N_ ("Moving air"), DEW_MEASURE_SPEED },
  [DEW_VALUE_AGE] = { N_ ("Age of air"), DEW_MEASURE_MINUTES },
  [DEW_VALUE_MIST] = { N_ ("Mist"), DEW_MEASURE_MIST },
  [DEW_VALUE_WETTING] = { N_ ("Wetness"), DEW_MEASURE_WETTING },
  [DEW_VALUE_PPFD] = { N_ ("Light"), DEW_MEASURE_LIGHT },
};

static const DewUnit *
unit_of (DewValue value, DewTongue tongue)
{
  return dew_unit (values[value].measure, tongue);
}

const char *
dew_value_label (DewValue value)
{
  g_return_val_if_fail (value < DEW_N_VALUES, "");

  return _ (values[value].label);
}

DewMeasure
dew_value_measure (DewValue value)
{
  g_return_val_if_fail (value < DEW_N_VALUES, DEW_MEASURE_NUMBER);

  return values[value].measure;
}

const char *
dew_value_unit (DewValue value, DewTongue tongue)
{
  const char *symbol;

  g_return_val_if_fail (value < DEW_N_VALUES, "");

  symbol = unit_of (value, tongue)->symbol;
  return symbol + strspn (symbol, " ");
}

double
dew_value_to_user (DewValue value, double x, DewTongue tongue)
{
  g_return_val_if_fail (value < DEW_N_VALUES, NAN);

  return dew_unit_shown (unit_of (value, tongue), x);
}

double
dew_value_factor (DewValue value, DewTongue tongue)
{
  g_return_val_if_fail (value < DEW_N_VALUES, NAN);

  return unit_of (value, tongue)->factor;
}

/* --- figures --------------------------------------------------------------- */

static DewFigure
figure (double number, int decimals, const char *unit)
{
  DewFigure result = { .unit = unit };
  g_autofree char *text = dew_number_text (number, decimals);

  g_strlcpy (result.number, text, sizeof result.number);
  return result;
}

static DewFigure
words (const char *text)
{
  DewFigure result = { .unit = "" };

  g_utf8_strncpy (result.number, text, sizeof result.number / 4 - 1);
  return result;
}

/* A time in the unit that suits it. */
static DewFigure
time_figure (double seconds, double longest_in_s)
{
  if (seconds < longest_in_s)
    return figure (seconds, 0, "s");
  if (seconds < 99.5 * S_PER_MIN)
    return figure (seconds / S_PER_MIN, seconds < 9.95 * S_PER_MIN ? 1 : 0, "min");
  return figure (seconds / DEW_S_PER_H, seconds < 9.95 * DEW_S_PER_H ? 1 : 0, "h");
}

DewFigure
dew_value_figure (DewValue value, double x, DewTongue tongue)
{
  const DewUnit *unit;

  g_return_val_if_fail (value < DEW_N_VALUES, words (""));

  if (isnan (x))
    return words (value == DEW_VALUE_AGE ? _ ("no exchange") : _ ("not known"));
  if (value == DEW_VALUE_AGE)
    return time_figure (x, 99.5);
  unit = unit_of (value, tongue);
  return figure (dew_unit_shown (unit, x), unit->decimals, dew_value_unit (value, tongue));
}

gboolean
dew_band_figure (DewValue value, double band, DewTongue tongue, DewFigure *result)
{
  const DewUnit *unit;

  g_return_val_if_fail (value < DEW_N_VALUES && result != NULL, FALSE);

  if (!isfinite (band))
    return FALSE;
  unit = unit_of (value, tongue);
  if (value == DEW_VALUE_AGE)
    *result = time_figure (fabs (band), 59.5);
  else
    /* A band that rounds to nothing would promise too much. */
    *result = figure (MAX (fabs (band) * unit->factor, pow (10, -unit->decimals)), unit->decimals,
                      dew_value_unit (value, tongue));
  return TRUE;
}

static char *
join (const DewFigure *figure, const char *space)
{
  return g_strconcat (figure->number, figure->unit[0] != '\0' ? space : "", figure->unit, NULL);
}

/* '± 4'; a time has its unit. */
static char *
around (DewValue value, const DewFigure *band, const char *space)
{
  gboolean timed = value == DEW_VALUE_AGE;

  return g_strconcat ("±", space, band->number, timed ? space : "", timed ? band->unit : "", NULL);
}

char *
dew_value_text (DewValue value, double x, DewTongue tongue)
{
  DewFigure figure = dew_value_figure (value, x, tongue);

  return join (&figure, " ");
}

char *
dew_band_text (DewValue value, double band, DewTongue tongue)
{
  DewFigure figure;

  return dew_band_figure (value, band, tongue, &figure) ? around (value, &figure, " ") : NULL;
}

char *
dew_climate_text (const DewClimate *climate, DewValue value, DewTongue tongue)
{
  double band, x = dew_climate_value (climate, value, &band);
  DewFigure figure = dew_value_figure (value, x, tongue), width;
  g_autofree char *text = join (&figure, NO_BREAK), *band_text = NULL;

  if (!dew_band_figure (value, band, tongue, &width))
    return g_steal_pointer (&text);
  band_text = around (value, &width, NO_BREAK);
  return g_strconcat (text, NO_BREAK, band_text, NULL);
}

char *
dew_length_text (double length_m, DewTongue tongue)
{
  const DewUnit *unit = dew_unit (DEW_MEASURE_LENGTH, tongue);
  double number = dew_unit_shown (unit, length_m);
  g_autofree char *text = dew_number_text (number, fabs (number - round (number)) < 0.05 ? 0 : 1);

  return g_strconcat (text, unit->symbol, NULL);
}

double
dew_climate_value (const DewClimate *climate, DewValue value, double *band)
{
  const DewMember *member = dew_climate_member (value);

  g_return_val_if_fail (climate != NULL, NAN);

  if (band != NULL)
    *band = dew_member_band (member, climate);
  return dew_member_real (member, climate);
}
