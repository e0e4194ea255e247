/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading what a person typed for a number. */
#include "say/units.h"

#include "moist/constants.h"
#include "say/factors.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* Units that may be typed: si = number * to_si + plus. */
/* clang-format off */
static const struct
{
  DewMeasure measure;
  const char *typed;
  double to_si, plus;
} typed_units[] = {
  { DEW_MEASURE_LENGTH, "mm", 1e-3, 0 },
  { DEW_MEASURE_LENGTH, "cm", 1e-2, 0 },
  { DEW_MEASURE_LENGTH, "m", 1.0, 0 },
  { DEW_MEASURE_LENGTH, "in", M_PER_IN, 0 },
  { DEW_MEASURE_LENGTH, "inch", M_PER_IN, 0 },
  { DEW_MEASURE_LENGTH, "inches", M_PER_IN, 0 },
  { DEW_MEASURE_LENGTH, "\"", M_PER_IN, 0 },
  { DEW_MEASURE_LENGTH, "″", M_PER_IN, 0 },
  { DEW_MEASURE_LENGTH, "ft", M_PER_FT, 0 },
  { DEW_MEASURE_LENGTH, "'", M_PER_FT, 0 },
  { DEW_MEASURE_LENGTH, "′", M_PER_FT, 0 },
  { DEW_MEASURE_ANGLE, "deg", G_PI / 180.0, 0 },
  { DEW_MEASURE_ANGLE, "°", G_PI / 180.0, 0 },
  { DEW_MEASURE_AREA, "cm²", 1e-4, 0 },
  { DEW_MEASURE_AREA, "cm2", 1e-4, 0 },
  { DEW_MEASURE_AREA, "m²", 1.0, 0 },
  { DEW_MEASURE_AREA, "m2", 1.0, 0 },
  { DEW_MEASURE_AREA, "in²", M_PER_IN * M_PER_IN, 0 },
  { DEW_MEASURE_AREA, "in2", M_PER_IN * M_PER_IN, 0 },
  { DEW_MEASURE_SHARE, "%", 0.01, 0 },
  { DEW_MEASURE_TEMPERATURE, "°C", 1.0, 0 },
  { DEW_MEASURE_TEMPERATURE, "C", 1.0, 0 },
  { DEW_MEASURE_TEMPERATURE, "°F", K_PER_F, -32.0 * K_PER_F },
  { DEW_MEASURE_TEMPERATURE, "F", K_PER_F, -32.0 * K_PER_F },
  { DEW_MEASURE_TEMPERATURE, "K", 1.0, -DEW_ZERO_C_K },
  { DEW_MEASURE_SPEED, "m/s", 1.0, 0 },
  { DEW_MEASURE_SPEED, "cm/s", 0.01, 0 },
  { DEW_MEASURE_SPEED, "ft/min", M_S_PER_FT_MIN, 0 },
  { DEW_MEASURE_SPEED, "fpm", M_S_PER_FT_MIN, 0 },
  { DEW_MEASURE_AIR_FLOW, "m³/h", 1.0 / DEW_S_PER_H, 0 },
  { DEW_MEASURE_AIR_FLOW, "m3/h", 1.0 / DEW_S_PER_H, 0 },
  { DEW_MEASURE_AIR_FLOW, "L/min", 1e-3 / 60.0, 0 },
  { DEW_MEASURE_AIR_FLOW, "L/s", 1e-3, 0 },
  { DEW_MEASURE_AIR_FLOW, "cfm", M3_S_PER_CFM, 0 },
  { DEW_MEASURE_AIR_FLOW, "ft³/min", M3_S_PER_CFM, 0 },
  { DEW_MEASURE_AIR_FLOW, "ft3/min", M3_S_PER_CFM, 0 },
  { DEW_MEASURE_WATER_RATE, "mL/h", 1.0 / (1000.0 * DEW_S_PER_H), 0 },
  { DEW_MEASURE_WATER_RATE, "L/h", 1.0 / DEW_S_PER_H, 0 },
  { DEW_MEASURE_WATER_RATE, "g/h", 1.0 / (1000.0 * DEW_S_PER_H), 0 },
  { DEW_MEASURE_WATER_RATE, "L/day", 1.0 / DEW_S_PER_DAY, 0 },
  { DEW_MEASURE_WATER_RATE, "fl oz/h", L_PER_FL_OZ / DEW_S_PER_H, 0 },
  { DEW_MEASURE_WATER_RATE, "qt/day", L_PER_QT / DEW_S_PER_DAY, 0 },
  { DEW_MEASURE_WATER_RATE, "gal/day", L_PER_GAL / DEW_S_PER_DAY, 0 },
  { DEW_MEASURE_WATER, "L", 1.0, 0 },
  { DEW_MEASURE_WATER, "mL", 1e-3, 0 },
  { DEW_MEASURE_WATER, "kg", 1.0, 0 },
  { DEW_MEASURE_WATER, "g", 1e-3, 0 },
  { DEW_MEASURE_WATER, "gal", L_PER_GAL, 0 },
  { DEW_MEASURE_WATER, "qt", L_PER_QT, 0 },
  { DEW_MEASURE_WATER, "fl oz", L_PER_FL_OZ, 0 },
  { DEW_MEASURE_WATER, "floz", L_PER_FL_OZ, 0 },
  { DEW_MEASURE_WATER, "lb", KG_PER_LB, 0 },
  { DEW_MEASURE_MASS, "kg", 1.0, 0 },
  { DEW_MEASURE_MASS, "g", 1e-3, 0 },
  { DEW_MEASURE_MASS, "lb", KG_PER_LB, 0 },
  { DEW_MEASURE_MASS, "lbs", KG_PER_LB, 0 },
  { DEW_MEASURE_MASS, "oz", KG_PER_OZ, 0 },
  { DEW_MEASURE_PRESSURE, "Pa", 1.0, 0 },
  { DEW_MEASURE_PRESSURE, "inH₂O", PA_PER_IN_WATER, 0 },
  { DEW_MEASURE_PRESSURE, "inH2O", PA_PER_IN_WATER, 0 },
  { DEW_MEASURE_PRESSURE, "mmH2O", PA_PER_IN_WATER / 25.4, 0 },
  { DEW_MEASURE_POWER, "W", 1.0, 0 },
  { DEW_MEASURE_U_VALUE, "W/m²K", 1.0, 0 },
  { DEW_MEASURE_U_VALUE, "W/m2K", 1.0, 0 },
  { DEW_MEASURE_U_VALUE, "Btu/h·ft²·°F", W_M2K_PER_BTU, 0 },
  { DEW_MEASURE_U_VALUE, "Btu/hft2F", W_M2K_PER_BTU, 0 },
  { DEW_MEASURE_DROPLET, "µm", 1e-6, 0 },
  { DEW_MEASURE_DROPLET, "um", 1e-6, 0 },
  { DEW_MEASURE_EFFICACY, "µmol/J", 1e-6, 0 },
  { DEW_MEASURE_EFFICACY, "umol/J", 1e-6, 0 },
  { DEW_MEASURE_IRRADIANCE, "W/m²", 1.0, 0 },
  { DEW_MEASURE_IRRADIANCE, "W/m2", 1.0, 0 },
  { DEW_MEASURE_ALTITUDE, "m", 1.0, 0 },
  { DEW_MEASURE_ALTITUDE, "km", 1000.0, 0 },
  { DEW_MEASURE_ALTITUDE, "ft", M_PER_FT, 0 },
  { DEW_MEASURE_LIGHT, "µmol/m²s", 1e-6, 0 },
  { DEW_MEASURE_LIGHT, "umol/m2s", 1e-6, 0 },
};
/* clang-format on */

/* Length of the longest unit of that kind that `text` begins with, 0 for none. `whole`:
 * nothing may follow it. */
static gsize
find_unit (DewMeasure measure, const char *text, gboolean whole, double *to_si, double *plus)
{
  gsize longest = 0;

  if (measure == DEW_MEASURE_THIN)
    measure = DEW_MEASURE_LENGTH;
  if (measure == DEW_MEASURE_TANK || measure == DEW_MEASURE_DAY_WATER)
    measure = DEW_MEASURE_WATER;
  for (guint i = 0; i < G_N_ELEMENTS (typed_units); i++)
    {
      gsize length = strlen (typed_units[i].typed);

      if (typed_units[i].measure != measure || length <= longest
          || g_ascii_strncasecmp (text, typed_units[i].typed, length) != 0
          || (whole && text[length] != '\0'))
        continue;
      longest = length;
      *to_si = typed_units[i].to_si;
      *plus = typed_units[i].plus;
    }
  return longest;
}

/* "1,500" is a thousand and a half where no decimals are shown, else one and a half. */
static void
mend_comma (const DewUnit *unit, char *text)
{
  char *comma = strchr (text, ',');
  gsize digits;

  if (comma == NULL || strchr (text, '.') != NULL || strchr (comma + 1, ',') != NULL)
    return;
  digits = strspn (comma + 1, "0123456789");
  if (unit->decimals == 0 && digits == 3 && comma > text && g_ascii_isdigit (comma[-1]))
    memmove (comma, comma + 1, strlen (comma));
  else
    *comma = '.';
}

/* "12.5", "1/2", "1 1/2". `end` is then behind it. */
static gboolean
read_number (const char *text, double *number, char **end)
{
  double numerator = NAN;
  char *at;

  /* Hexadecimal, "inf" and "nan" are numbers to C but not to a grower. */
  if (strspn (text, "+-.0123456789") == 0)
    return FALSE;
  *number = g_ascii_strtod (text, end);
  if (*end == text || !isfinite (*number) || memchr (text, 'x', (gsize) (*end - text)) != NULL
      || memchr (text, 'X', (gsize) (*end - text)) != NULL)
    return FALSE;

  at = *end;
  if (*at != '/')
    {
      while (*at == ' ')
        at++;
      if (at == *end || !g_ascii_isdigit (*at))
        return TRUE;
      numerator = g_ascii_strtod (at, &at);
    }
  if (*at == '/' && g_ascii_isdigit (at[1]))
    {
      double denominator = g_ascii_strtod (at + 1, end);
      double part = isnan (numerator) ? *number : numerator;

      if (denominator == 0.0)
        return FALSE;
      part /= denominator;
      *number = isnan (numerator) ? part : *number + (*number < 0.0 ? -part : part);
    }
  return TRUE;
}

/* What follows the feet of a length: "3 in" in "5 ft 3 in". */
static gboolean
read_inches (const char *text, double *si)
{
  double number, to_si = NAN, plus;
  char *end;

  if (!read_number (text, &number, &end) || number < 0.0)
    return FALSE;
  while (*end == ' ')
    end++;
  if (find_unit (DEW_MEASURE_LENGTH, end, TRUE, &to_si, &plus) == 0 || to_si != M_PER_IN)
    return FALSE;
  *si = number * to_si;
  return TRUE;
}

gboolean
dew_unit_parse (const DewUnit *unit, const char *text, double *si)
{
  g_autofree char *copy = NULL;
  char *end = NULL;
  double number, to_si = NAN, plus = 0.0, more = 0.0;
  gsize length;
  DewMeasure measure;

  g_return_val_if_fail (unit != NULL && text != NULL && si != NULL, FALSE);

  measure = dew_unit_measure (unit);
  copy = g_strstrip (g_strdup (text));
  /* The true minus sign is what some keyboards and the program itself write. */
  if (g_str_has_prefix (copy, "−"))
    {
      memmove (copy + 1, copy + strlen ("−"), strlen (copy + strlen ("−")) + 1);
      copy[0] = '-';
    }
  mend_comma (unit, copy);
  if (!read_number (copy, &number, &end))
    return FALSE;
  g_strstrip (end);
  if (*end == '\0' || strcmp (end, unit->symbol + strspn (unit->symbol, " ")) == 0
      || (measure == DEW_MEASURE_TEMPERATURE && strcmp (end, "°") == 0))
    {
      *si = dew_unit_si (unit, number);
      return TRUE;
    }
  if (find_unit (measure, end, TRUE, &to_si, &plus) == 0)
    {
      length = find_unit (measure, end, FALSE, &to_si, &plus);
      if (length == 0 || to_si != M_PER_FT || measure == DEW_MEASURE_ALTITUDE
          || !read_inches (end + length + strspn (end + length, " "), &more))
        return FALSE;
    }
  *si = number * to_si + plus + (number < 0.0 ? -more : more);
  return TRUE;
}

char *
dew_unit_wanted (const DewUnit *unit)
{
  /* SI; round in both systems would be asking much. Others are not typed. */
  static const double examples[DEW_N_MEASURES] = {
    [DEW_MEASURE_NUMBER] = 0.5,       [DEW_MEASURE_COUNT] = 3,
    [DEW_MEASURE_LENGTH] = 0.35,      [DEW_MEASURE_THIN] = 0.006,
    [DEW_MEASURE_ANGLE] = G_PI / 6.0, [DEW_MEASURE_AREA] = 0.0012,
    [DEW_MEASURE_SHARE] = 0.8,        [DEW_MEASURE_TEMPERATURE] = 18.0,
    [DEW_MEASURE_SPEED] = 0.25,       [DEW_MEASURE_AIR_FLOW] = 40.0 / DEW_S_PER_H,
    [DEW_MEASURE_WATER_RATE] = 5e-5,  [DEW_MEASURE_MASS] = 1.5,
    [DEW_MEASURE_WATER] = 0.5,        [DEW_MEASURE_TANK] = 2.5,
    [DEW_MEASURE_PRESSURE] = 10.0,    [DEW_MEASURE_POWER] = 20.0,
    [DEW_MEASURE_U_VALUE] = 5.0,      [DEW_MEASURE_DROPLET] = 4e-6,
    [DEW_MEASURE_EFFICACY] = 2.5e-6,  [DEW_MEASURE_IRRADIANCE] = 100.0,
    [DEW_MEASURE_ALTITUDE] = 300.0,   [DEW_MEASURE_LIGHT] = 8e-5,
  };
  DewMeasure measure = dew_unit_measure (unit);
  g_autofree char *example = dew_unit_format (unit, examples[measure]);

  switch (measure)
    {
    case DEW_MEASURE_LENGTH:
    case DEW_MEASURE_THIN:
      return g_strdup_printf (_ ("Give a length, such as %s."), example);
    case DEW_MEASURE_ANGLE:
      return g_strdup_printf (_ ("Give an angle, such as %s."), example);
    case DEW_MEASURE_AREA:
      return g_strdup_printf (_ ("Give an area, such as %s."), example);
    case DEW_MEASURE_SHARE:
      return g_strdup_printf (_ ("Give a share, such as %s."), example);
    case DEW_MEASURE_TEMPERATURE:
    case DEW_MEASURE_DIFFERENCE:
      return g_strdup_printf (_ ("Give a temperature, such as %s."), example);
    case DEW_MEASURE_SPEED:
      return g_strdup_printf (_ ("Give a speed, such as %s."), example);
    case DEW_MEASURE_AIR_FLOW:
      return g_strdup_printf (_ ("Give a flow of air, such as %s."), example);
    case DEW_MEASURE_WATER_RATE:
      return g_strdup_printf (_ ("Give water per time, such as %s."), example);
    case DEW_MEASURE_MASS:
      return g_strdup_printf (_ ("Give a weight, such as %s."), example);
    case DEW_MEASURE_WATER:
    case DEW_MEASURE_TANK:
    case DEW_MEASURE_DAY_WATER:
      return g_strdup_printf (_ ("Give an amount of water, such as %s."), example);
    case DEW_MEASURE_PRESSURE:
      return g_strdup_printf (_ ("Give a pressure, such as %s."), example);
    case DEW_MEASURE_POWER:
      return g_strdup_printf (_ ("Give a power, such as %s."), example);
    case DEW_MEASURE_ALTITUDE:
      return g_strdup_printf (_ ("Give a height above the sea, such as %s."), example);
    default:
      return g_strdup_printf (_ ("Give a number, such as %s."), example);
    }
}
