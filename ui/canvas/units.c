/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/units.h"

#include <math.h>
#include <string.h>

static const DewUnit centimetre = { " cm", 100.0, 1, 1.0 };
static const DewUnit millimetre = { " mm", 1000.0, 1, 1.0 };
static const DewUnit square_centimetre = { " cm²", 1e4, 1, 10.0 };
static const DewUnit litre = { " L", 1.0, 2, 0.1 };
static const DewUnit plain = { "", 1.0, 2, 0.05 };

static const DewUnit by_quantity[] = {
  [DEW_QUANTITY_NONE] = { "", 1.0, 2, 0.05 },
  [DEW_QUANTITY_LENGTH] = { " cm", 100.0, 1, 1.0 },
  [DEW_QUANTITY_ANGLE] = { "°", 180.0 / G_PI, 0, 5.0 },
  [DEW_QUANTITY_AREA] = { " cm²", 1e4, 1, 10.0 },
  [DEW_QUANTITY_FRACTION] = { " %", 100.0, 0, 1.0 },
  [DEW_QUANTITY_TEMPERATURE] = { " °C", 1.0, 1, 0.5 },
  [DEW_QUANTITY_SPEED] = { " m/s", 1.0, 2, 0.05 },
  [DEW_QUANTITY_AIR_FLOW] = { " m³/h", 3600.0, 1, 1.0 },
  [DEW_QUANTITY_WATER_RATE] = { " mL/h", 3.6e6, 0, 10.0 },
  [DEW_QUANTITY_MASS] = { " kg", 1.0, 2, 0.1 },
  [DEW_QUANTITY_PRESSURE] = { " Pa", 1.0, 1, 1.0 },
  [DEW_QUANTITY_POWER] = { " W", 1.0, 1, 1.0 },
  [DEW_QUANTITY_U_VALUE] = { " W/m²K", 1.0, 2, 0.1 },
  [DEW_QUANTITY_DROPLET] = { " µm", 1e6, 1, 1.0 },
  [DEW_QUANTITY_EFFICACY] = { " µmol/J", 1e6, 2, 0.1 },
  [DEW_QUANTITY_IRRADIANCE] = { " W/m²", 1.0, 0, 10.0 },
  [DEW_QUANTITY_ALTITUDE] = { " m", 1.0, 0, 50.0 },
};

/* Units that may be typed, by the SI unit they lead to. */
static const struct
{
  const char *kind; /* symbol of the shown unit of that kind */
  const char *typed;
  double      to_si;
} typed_units[] = {
  { " cm", "mm", 1e-3 },         { " cm", "cm", 1e-2 },
  { " cm", "m", 1.0 },           { " cm", "in", 0.0254 },
  { " cm", "ft", 0.3048 },       { "°", "deg", G_PI / 180.0 },
  { "°", "°", G_PI / 180.0 },    { " cm²", "cm²", 1e-4 },
  { " cm²", "cm2", 1e-4 },       { " cm²", "m²", 1.0 },
  { " cm²", "m2", 1.0 },         { " %", "%", 0.01 },
  { " °C", "°C", 1.0 },          { " °C", "°", 1.0 },
  { " °C", "C", 1.0 },           { " m/s", "m/s", 1.0 },
  { " m/s", "cm/s", 0.01 },      { " m³/h", "m³/h", 1.0 / 3600.0 },
  { " m³/h", "m3/h", 1.0 / 3600.0 }, { " m³/h", "L/min", 1e-3 / 60.0 },
  { " m³/h", "L/s", 1e-3 },      { " mL/h", "mL/h", 1.0 / 3.6e6 },
  { " mL/h", "L/h", 1.0 / 3600.0 }, { " mL/h", "g/h", 1.0 / 3.6e6 },
  { " L", "L", 1.0 },            { " L", "mL", 1e-3 },
  { " L", "kg", 1.0 },           { " kg", "kg", 1.0 },
  { " kg", "g", 1e-3 },          { " Pa", "Pa", 1.0 },
  { " W", "W", 1.0 },            { " W/m²K", "W/m²K", 1.0 },
  { " W/m²K", "W/m2K", 1.0 },    { " µm", "µm", 1e-6 },
  { " µm", "um", 1e-6 },         { " µmol/J", "µmol/J", 1e-6 },
  { " µmol/J", "umol/J", 1e-6 }, { " W/m²", "W/m²", 1.0 },
  { " W/m²", "W/m2", 1.0 },      { " m", "m", 1.0 },
  { " m", "km", 1000.0 },        { " m", "ft", 0.3048 },
};

const DewUnit *
dew_unit_for_quantity (DewQuantity quantity)
{
  g_return_val_if_fail (quantity < G_N_ELEMENTS (by_quantity), &plain);
  return &by_quantity[quantity];
}

const DewUnit *
dew_unit_for_field (const DewField *field)
{
  if (field->quantity == DEW_QUANTITY_LENGTH)
    return g_str_has_prefix (field->key, "thickness") ? &millimetre : &centimetre;
  if (field->quantity == DEW_QUANTITY_MASS
      && (g_str_has_prefix (field->key, "water") || g_str_has_prefix (field->key, "tank")))
    return &litre;
  if (field->quantity == DEW_QUANTITY_AREA)
    return &square_centimetre;
  return dew_unit_for_quantity (field->quantity);
}

char *
dew_unit_format (const DewUnit *unit, double si)
{
  double shown = si * unit->factor;

  if (!isfinite (shown))
    return g_strdup ("–");
  /* No "-0" for what rounds to nothing. */
  if (fabs (shown) < 0.5 * pow (10.0, -unit->decimals))
    shown = 0.0;
  return g_strdup_printf ("%.*f%s", unit->decimals, shown, unit->symbol);
}

static gboolean
unit_factor (const DewUnit *unit, const char *typed, double *to_si)
{
  const char *kind = unit == &millimetre ? centimetre.symbol : unit->symbol;

  if (*typed == '\0')
    {
      *to_si = 1.0 / unit->factor;
      return TRUE;
    }
  for (guint i = 0; i < G_N_ELEMENTS (typed_units); i++)
    {
      if (strcmp (typed_units[i].kind, kind) == 0
          && g_ascii_strcasecmp (typed_units[i].typed, typed) == 0)
        {
          *to_si = typed_units[i].to_si;
          return TRUE;
        }
    }
  return FALSE;
}

gboolean
dew_unit_parse (const DewUnit *unit, const char *text, double *si)
{
  g_autofree char *copy = NULL;
  char *comma, *end = NULL;
  double number, to_si;

  g_return_val_if_fail (unit != NULL && text != NULL && si != NULL, FALSE);

  copy = g_strstrip (g_strdup (text));
  /* The true minus sign is what some keyboards and the program itself write. */
  if (g_str_has_prefix (copy, "−"))
    {
      memmove (copy + 1, copy + strlen ("−"), strlen (copy + strlen ("−")) + 1);
      copy[0] = '-';
    }
  comma = strchr (copy, ',');
  if (comma != NULL && strchr (copy, '.') == NULL && strchr (comma + 1, ',') == NULL)
    *comma = '.';
  /* Hexadecimal, "inf" and "nan" are numbers to C but not to a grower. */
  if (strspn (copy, "+-.0123456789") == 0)
    return FALSE;
  number = g_ascii_strtod (copy, &end);
  if (end == copy || !isfinite (number) || memchr (copy, 'x', (gsize) (end - copy)) != NULL
      || memchr (copy, 'X', (gsize) (end - copy)) != NULL)
    return FALSE;
  if (!unit_factor (unit, g_strstrip (end), &to_si))
    return FALSE;
  *si = number * to_si;
  return TRUE;
}
