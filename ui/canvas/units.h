/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The edge between SI inside and the units a grower reads and types. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* shown = si * factor */
typedef struct
{
  const char *symbol; /* with its leading space where one is wanted: " cm", "°" */
  double      factor;
  int         decimals;
  double      step; /* of an arrow key, in shown units */
} DewUnit;

/* The unit a field is shown in: centimetres for lengths but millimetres for
 * thin things, litres for the mass of water, and so on. */
const DewUnit *dew_unit_for_field (const DewField *field);
const DewUnit *dew_unit_for_quantity (DewQuantity quantity);

/* Number and unit, with the decimal sign of the locale. Free with g_free(). */
char *dew_unit_format (const DewUnit *unit, double si);

/* Reads what a person typed: point or comma, the unit may be left out, and
 * another unit of the same kind may be given ("120 mm", "4.7 in", "2 L/h").
 * FALSE when it is no number or a unit of another kind; `si` is then unchanged. */
gboolean dew_unit_parse (const DewUnit *unit, const char *text, double *si);

G_END_DECLS
