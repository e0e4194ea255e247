/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The edge between SI inside and the units a grower reads and types.
 *
 * Two systems: metric, and the one of inches and degrees Fahrenheit. Which one
 * is shown follows the locale until it is chosen; any unit of either system may
 * be typed in both.
 */

#include "chamber/chamber.h"

#include <glib-object.h>

G_BEGIN_DECLS

/* shown = si * factor + offset */
typedef struct
{
  const char *symbol; /* with its leading space where one is wanted: " cm", "°" */
  double factor;
  double offset; /* in shown units; not 0 only for degrees Fahrenheit */
  int decimals;
  double step; /* of an arrow key, in shown units */
} DewUnit;

/* --- which system ------------------------------------------------------ */

/* Whether inches, degrees Fahrenheit and so on are shown. Until it is set this
 * is what the locale measures in (LC_MEASUREMENT). */
gboolean dew_units_imperial (void);
gboolean dew_units_imperial_by_locale (void);
/* Everything that shows a number is told (main thread). */
void dew_units_set_imperial (gboolean imperial);
/* Calls back, `owner` its only argument, whenever the system has changed, for as
 * long as `owner` lives. */
void dew_units_connect (GObject *owner, GCallback changed);

/* --- units ------------------------------------------------------------- */

/* The unit a field is shown in, in the present system: centimetres for lengths
 * but millimetres for thin things, litres for the mass of water, and so on. The
 * pointers are constant and live as long as the program. */
const DewUnit *dew_unit_for_field (const DewField *field);
const DewUnit *dew_unit_for_quantity (DewQuantity quantity);
/* The unit for the same in the present system: for who kept one. */
const DewUnit *dew_unit_current (const DewUnit *unit);

double dew_unit_shown (const DewUnit *unit, double si);
double dew_unit_si (const DewUnit *unit, double shown);

/* Number and unit, with the decimal sign of the locale; "–" for what is no
 * number. Free with g_free(). */
char *dew_unit_format (const DewUnit *unit, double si);
/* The same for a difference of two values: "1.4 K", "2.5 °F". */
char *dew_unit_format_difference (const DewUnit *unit, double si);

/* Reads what a person typed: point or comma, a fraction ("1 1/2 in"), the unit
 * may be left out, and another unit of the same kind may be given ("120 mm",
 * "5 ft 3 in", "59 F", "2 L/h"). FALSE when it is no number or a unit of another
 * kind; `si` is then unchanged. */
gboolean dew_unit_parse (const DewUnit *unit, const char *text, double *si);

/* What to give, one sentence for who typed something else: "Give a length, such as
 * 35 cm." Free with g_free(). */
char *dew_unit_wanted (const DewUnit *unit);

G_END_DECLS
