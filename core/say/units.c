/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/units.h"

#include "moist/constants.h"
#include "say/factors.h"

#include <langinfo.h>
#include <math.h>

#define DIGITS -1 /* for decimals: five significant digits */
#define SI(symbol) \
  { \
    symbol, 1.0, 0, DIGITS, 0.0 \
  }
/* The same in every system of units. */
#define COMMON(symbol, factor, decimals, step) \
  { symbol, factor, 0, decimals, step }, \
  { \
    symbol, factor, 0, decimals, step \
  }

/* Metric, imperial, plain. */
/* clang-format off */
static const DewUnit units[DEW_N_MEASURES][DEW_N_TONGUES] = {
  [DEW_MEASURE_NUMBER] = { COMMON ("", 1.0, 2, 0.05), SI ("") },
  [DEW_MEASURE_COUNT] = { COMMON ("", 1.0, 0, 1.0), SI ("") },
  [DEW_MEASURE_LENGTH] = { { " cm", 100.0, 0, 1, 1.0 },
                           { " in", 1.0 / M_PER_IN, 0, 2, 0.5 }, SI (" m") },
  [DEW_MEASURE_THIN] = { { " mm", 1000.0, 0, 1, 1.0 },
                         { " in", 1.0 / M_PER_IN, 0, 3, 0.02 }, SI (" m") },
  [DEW_MEASURE_ALTITUDE] = { { " m", 1.0, 0, 0, 50.0 },
                             { " ft", 1.0 / M_PER_FT, 0, 0, 100.0 }, SI (" m") },
  [DEW_MEASURE_DROPLET] = { COMMON (" µm", 1e6, 1, 1.0), SI (" m") },
  [DEW_MEASURE_ANGLE] = { COMMON ("°", 180.0 / G_PI, 0, 5.0), SI (" rad") },
  [DEW_MEASURE_AREA] = { { " cm²", 1e4, 0, 1, 10.0 },
                         { " in²", 1.0 / (M_PER_IN * M_PER_IN), 0, 2, 1.0 }, SI (" m²") },
  [DEW_MEASURE_SHEETING] = { { " m²", 1.0, 0, 2, 0.1 },
                             { " ft²", 1.0 / (M_PER_FT * M_PER_FT), 0, 1, 1.0 }, SI (" m²") },
  [DEW_MEASURE_CABLE] = { { " m", 1.0, 0, 1, 0.1 },
                          { " ft", 1.0 / M_PER_FT, 0, 1, 0.5 }, SI (" m") },
  [DEW_MEASURE_SHARE] = { COMMON (" %", 100.0, 0, 1.0), SI ("") },
  [DEW_MEASURE_TEMPERATURE] = { { " °C", 1.0, 0, 1, 0.5 },
                                { " °F", 1.0 / K_PER_F, 32.0, 1, 1.0 }, SI (" °C") },
  [DEW_MEASURE_DIFFERENCE] = { { " K", 1.0, 0, 1, 0.5 },
                               { " °F", 1.0 / K_PER_F, 0, 1, 1.0 }, SI (" K") },
  [DEW_MEASURE_SPEED] = { { " m/s", 1.0, 0, 2, 0.05 },
                          { " ft/min", 1.0 / M_S_PER_FT_MIN, 0, 0, 10.0 }, SI (" m/s") },
  [DEW_MEASURE_AIR_FLOW] = { { " m³/h", DEW_S_PER_H, 0, 1, 1.0 },
                             { " cfm", 1.0 / M3_S_PER_CFM, 0, 1, 1.0 }, SI (" m³/s") },
  [DEW_MEASURE_MASS] = { { " kg", 1.0, 0, 2, 0.1 },
                         { " lb", 1.0 / KG_PER_LB, 0, 2, 0.2 }, SI (" kg") },
  [DEW_MEASURE_WATER] = { { " L", 1.0, 0, 2, 0.1 },
                          { " fl oz", 1.0 / L_PER_FL_OZ, 0, 1, 1.0 }, SI (" kg") },
  [DEW_MEASURE_TANK] = { { " L", 1.0, 0, 2, 0.1 },
                         { " qt", 1.0 / L_PER_QT, 0, 2, 0.1 }, SI (" kg") },
  [DEW_MEASURE_DAY_WATER] = { { " L", 1.0, 0, 1, 0.1 },
                              { " qt", 1.0 / L_PER_QT, 0, 1, 0.1 }, SI (" kg") },
  [DEW_MEASURE_WATER_RATE] = { { " mL/h", 1000.0 * DEW_S_PER_H, 0, 0, 10.0 },
                               { " fl oz/h", DEW_S_PER_H / L_PER_FL_OZ, 0, 1, 0.5 },
                               SI (" kg/s") },
  [DEW_MEASURE_DRIP] = { COMMON (" mL/h", 1000.0 * DEW_S_PER_H, 2, 0.05), SI (" kg/s") },
  [DEW_MEASURE_WETTING] = { COMMON (" mL/m²h", 1000.0 * DEW_S_PER_H, 0, 10.0), SI (" kg/m²s") },
  [DEW_MEASURE_VAPOUR] = { COMMON (" g/kg", 1000.0, 1, 0.5), SI (" kg/kg") },
  [DEW_MEASURE_MIST] = { COMMON (" g/kg", 1000.0, 2, 0.05), SI (" kg/kg") },
  [DEW_MEASURE_DRYING_POWER] = { COMMON (" kPa", 1e-3, 2, 0.05), SI (" Pa") },
  [DEW_MEASURE_PRESSURE] = { { " Pa", 1.0, 0, 1, 1.0 },
                             { " inH₂O", 1.0 / PA_PER_IN_WATER, 0, 3, 0.005 }, SI (" Pa") },
  [DEW_MEASURE_POWER] = { COMMON (" W", 1.0, 1, 1.0), SI (" W") },
  [DEW_MEASURE_U_VALUE] = { { " W/m²K", 1.0, 0, 2, 0.1 },
                            { " Btu/h·ft²·°F", 1.0 / W_M2K_PER_BTU, 0, 2, 0.05 },
                            SI (" W/m²K") },
  [DEW_MEASURE_IRRADIANCE] = { COMMON (" W/m²", 1.0, 0, 10.0), SI (" W/m²") },
  [DEW_MEASURE_LIGHT] = { COMMON (" µmol/m²s", 1e6, 0, 10.0), SI (" mol/m²s") },
  [DEW_MEASURE_EFFICACY] = { COMMON (" µmol/J", 1e6, 2, 0.1), SI (" mol/J") },
  [DEW_MEASURE_MINUTES] = { COMMON (" min", 1.0 / 60.0, 1, 1.0), SI (" s") },
  [DEW_MEASURE_HOURS] = { COMMON (" h", 1.0 / DEW_S_PER_H, 1, 1.0), SI (" s") },
};
/* clang-format on */

DewTongue
dew_tongue_of_locale (void)
{
  /* glibc: 1 is metric, 2 the system of the United States. */
  return nl_langinfo (_NL_MEASUREMENT_MEASUREMENT)[0] == 2 ? DEW_TONGUE_IMPERIAL
                                                           : DEW_TONGUE_METRIC;
}

/* --- units ------------------------------------------------------------- */

DewMeasure
dew_measure_of_quantity (DewQuantity quantity)
{
  static const DewMeasure measures[] = {
    [DEW_QUANTITY_NONE] = DEW_MEASURE_NUMBER,
    [DEW_QUANTITY_LENGTH] = DEW_MEASURE_LENGTH,
    [DEW_QUANTITY_ANGLE] = DEW_MEASURE_ANGLE,
    [DEW_QUANTITY_AREA] = DEW_MEASURE_AREA,
    [DEW_QUANTITY_FRACTION] = DEW_MEASURE_SHARE,
    [DEW_QUANTITY_TEMPERATURE] = DEW_MEASURE_TEMPERATURE,
    [DEW_QUANTITY_SPEED] = DEW_MEASURE_SPEED,
    [DEW_QUANTITY_AIR_FLOW] = DEW_MEASURE_AIR_FLOW,
    [DEW_QUANTITY_WATER_RATE] = DEW_MEASURE_WATER_RATE,
    [DEW_QUANTITY_MASS] = DEW_MEASURE_MASS,
    [DEW_QUANTITY_PRESSURE] = DEW_MEASURE_PRESSURE,
    [DEW_QUANTITY_POWER] = DEW_MEASURE_POWER,
    [DEW_QUANTITY_U_VALUE] = DEW_MEASURE_U_VALUE,
    [DEW_QUANTITY_DROPLET] = DEW_MEASURE_DROPLET,
    [DEW_QUANTITY_EFFICACY] = DEW_MEASURE_EFFICACY,
    [DEW_QUANTITY_IRRADIANCE] = DEW_MEASURE_IRRADIANCE,
    [DEW_QUANTITY_ALTITUDE] = DEW_MEASURE_ALTITUDE,
    [DEW_QUANTITY_LIGHT] = DEW_MEASURE_LIGHT,
  };

  g_return_val_if_fail ((guint) quantity < G_N_ELEMENTS (measures), DEW_MEASURE_NUMBER);
  return measures[quantity];
}

DewMeasure
dew_measure_of_field (const DewField *field)
{
  if (field->quantity == DEW_QUANTITY_LENGTH && g_str_has_prefix (field->key, "thickness"))
    return DEW_MEASURE_THIN;
  if (field->quantity == DEW_QUANTITY_MASS && g_str_has_prefix (field->key, "water"))
    return DEW_MEASURE_WATER;
  if (field->quantity == DEW_QUANTITY_MASS && g_str_has_prefix (field->key, "tank"))
    return DEW_MEASURE_TANK;
  if (field->type == DEW_FIELD_COUNT)
    return DEW_MEASURE_COUNT;
  return dew_measure_of_quantity (field->quantity);
}

const DewUnit *
dew_unit (DewMeasure measure, DewTongue tongue)
{
  g_return_val_if_fail ((guint) measure < DEW_N_MEASURES && (guint) tongue < DEW_N_TONGUES,
                        &units[0][0]);
  return &units[measure][tongue];
}

const DewUnit *
dew_unit_for_field (const DewField *field, DewTongue tongue)
{
  return dew_unit (dew_measure_of_field (field), tongue);
}

DewMeasure
dew_unit_measure (const DewUnit *unit)
{
  return (DewMeasure) ((unit - &units[0][0]) / DEW_N_TONGUES);
}

const DewUnit *
dew_unit_in (const DewUnit *unit, DewTongue tongue)
{
  return dew_unit (dew_unit_measure (unit), tongue);
}

double
dew_unit_shown (const DewUnit *unit, double si)
{
  return si * unit->factor + unit->offset;
}

double
dew_unit_si (const DewUnit *unit, double shown)
{
  return (shown - unit->offset) / unit->factor;
}

/* --- numbers ----------------------------------------------------------- */

char *
dew_number_text (double number, int decimals)
{
  if (!isfinite (number))
    return g_strdup ("–");
  if (fabs (number) < 0.5 * pow (10.0, -decimals))
    number = 0.0;
  return g_strdup_printf ("%s%.*f", number < 0.0 ? "−" : "", decimals, fabs (number));
}

char *
dew_unit_format (const DewUnit *unit, double si)
{
  double shown = dew_unit_shown (unit, si);
  g_autofree char *number = NULL;
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  if (!isfinite (shown))
    return g_strdup ("–");
  if (unit->decimals < 0)
    return g_strconcat (g_ascii_formatd (digits, sizeof digits, "%.5g", shown), unit->symbol, NULL);
  number = dew_number_text (shown, unit->decimals);
  return g_strconcat (number, unit->symbol, NULL);
}

char *
dew_measure_text (DewMeasure measure, DewTongue tongue, double si)
{
  return dew_unit_format (dew_unit (measure, tongue), si);
}
