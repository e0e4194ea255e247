/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The edge between SI inside and the numbers that people read and type: one table
 * of what is measured, in the units of each tongue.
 *
 * A tongue is told to whatever speaks; nothing here remembers one. Any unit of
 * either system may be typed in both.
 */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* How numbers are spoken. */
typedef enum
{
  DEW_TONGUE_METRIC,   /* centimetres, litres, degrees Celsius; the locale's decimal sign */
  DEW_TONGUE_IMPERIAL, /* inches, quarts, degrees Fahrenheit; the locale's decimal sign */
  DEW_TONGUE_PLAIN,    /* SI as it stands in the files, up to five digits, with a point */
  DEW_N_TONGUES
} DewTongue;

/* What is measured, finely enough that each has one unit in a tongue. Water: a pot and an
 * hour have millilitres or fluid ounces, a tank and a day litres or quarts; gallons are
 * only typed. */
typedef enum
{
  DEW_MEASURE_NUMBER,
  DEW_MEASURE_COUNT,        /* a whole number */
  DEW_MEASURE_LENGTH,       /* m */
  DEW_MEASURE_THIN,         /* m, of a few millimetres */
  DEW_MEASURE_ALTITUDE,     /* m above the sea */
  DEW_MEASURE_DROPLET,      /* m, of micrometres */
  DEW_MEASURE_ANGLE,        /* rad */
  DEW_MEASURE_AREA,         /* m2, of holes and gaps */
  DEW_MEASURE_SHEETING,     /* m2, of film and other cover */
  DEW_MEASURE_CABLE,        /* m, of cable */
  DEW_MEASURE_SHARE,        /* 0..1; relative humidity too */
  DEW_MEASURE_TEMPERATURE,  /* degrees Celsius */
  DEW_MEASURE_DIFFERENCE,   /* K, of two temperatures */
  DEW_MEASURE_SPEED,        /* m/s */
  DEW_MEASURE_AIR_FLOW,     /* m3/s */
  DEW_MEASURE_MASS,         /* kg, of what is weighed */
  DEW_MEASURE_WATER,        /* kg, in a pot */
  DEW_MEASURE_TANK,         /* kg of water, in a tank */
  DEW_MEASURE_DAY_WATER,    /* kg of water, of a day */
  DEW_MEASURE_WATER_RATE,   /* kg/s, said by the hour */
  DEW_MEASURE_DRIP,         /* kg/s, drop by drop */
  DEW_MEASURE_WETTING,      /* kg/m2s */
  DEW_MEASURE_VAPOUR,       /* kg/kg */
  DEW_MEASURE_MIST,         /* kg/kg, a tenth of it */
  DEW_MEASURE_DRYING_POWER, /* Pa, of vapour */
  DEW_MEASURE_PRESSURE,     /* Pa, of air */
  DEW_MEASURE_POWER,        /* W */
  DEW_MEASURE_U_VALUE,      /* W/m2K */
  DEW_MEASURE_IRRADIANCE,   /* W/m2 */
  DEW_MEASURE_LIGHT,        /* mol/m2s, photons of 400-700 nm */
  DEW_MEASURE_EFFICACY,     /* mol/J */
  DEW_MEASURE_MINUTES,      /* s */
  DEW_MEASURE_HOURS,        /* s */
  DEW_N_MEASURES
} DewMeasure;

/* shown = si * factor + offset */
typedef struct
{
  const char *symbol; /* with its leading space where one is wanted: " cm", "°" */
  double factor;
  double offset; /* in shown units; not 0 only for degrees Fahrenheit */
  int decimals;  /* negative: five significant digits */
  double step;   /* of an arrow key, in shown units */
} DewUnit;

/* What the locale measures in (LC_MEASUREMENT): metric or imperial. */
DewTongue dew_tongue_of_locale (void);

/* --- units ------------------------------------------------------------- */

DewMeasure dew_measure_of_quantity (DewQuantity quantity);
/* Thicknesses in millimetres, the water of a pot in fluid ounces and so on. */
DewMeasure dew_measure_of_field (const DewField *field);

/* The pointers are constant and live as long as the program. */
const DewUnit *dew_unit (DewMeasure measure, DewTongue tongue);
const DewUnit *dew_unit_for_field (const DewField *field, DewTongue tongue);
/* The unit for the same in another tongue: for who kept one. */
const DewUnit *dew_unit_in (const DewUnit *unit, DewTongue tongue);
DewMeasure dew_unit_measure (const DewUnit *unit);

double dew_unit_shown (const DewUnit *unit, double si);
double dew_unit_si (const DewUnit *unit, double shown);

/* --- numbers ----------------------------------------------------------- */

/* With the decimal sign of the locale and the minus sign of typography; never '−0', and
 * '–' for what is no number. This and what follows: free with g_free(). */
char *dew_number_text (double number, int decimals);
/* Number and unit: "35.0 cm". */
char *dew_unit_format (const DewUnit *unit, double si);
/* The same for who has not kept the unit. */
char *dew_measure_text (DewMeasure measure, DewTongue tongue, double si);

/* --- what is typed ----------------------------------------------------- */

/* Reads what a person typed: point or comma, a fraction ("1 1/2 in"), the unit
 * may be left out, and another unit of the same kind may be given ("120 mm",
 * "5 ft 3 in", "59 F", "2 L/h"). FALSE when it is no number or a unit of another
 * kind; `si` is then unchanged. */
gboolean dew_unit_parse (const DewUnit *unit, const char *text, double *si);

/* What to give, one sentence for who typed something else: "Give a length, such as
 * 35 cm." */
char *dew_unit_wanted (const DewUnit *unit);

G_END_DECLS
