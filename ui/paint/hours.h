/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A day as strips, one a bay, over one line of time; and a year as weeks. In the manner of the
 * sheet: ink on paper, no frame. Pure Cairo; no widget. */

#include <cairo.h>

#include "day/mishap.h"
#include "day/year.h"
#include "paint/palette.h"

G_BEGIN_DECLS

typedef struct
{
  const DewDay *day;         /* lent, as all here */
  const DewChamber *chamber; /* what the plants of each bay want comes from its shown variant */
  DewValue value;            /* DEW_VALUE_RH or DEW_VALUE_TEMPERATURE */
  DewTongue tongue;
  const DewPalette *palette;
  double font_px;
  double time_s;           /* that is pointed at */
  const DewForecast *sure; /* that the half widths of the bays' bands come from; NULL: not known */
} DewHours;

void dew_hours_paint (cairo_t *cr, const DewHours *hours, double width, double height);
/* The time under a point across. */
double dew_hours_time_at (const DewHours *hours, double width, double x);
/* Height that so many bays need. */
double dew_hours_height (int n_bays, double font_px);

typedef struct
{
  const DewYear *year;
  const DewPalette *palette;
  double font_px;
  int week, plant; /* that is pointed at; -1: none */
} DewWeeks;

void dew_weeks_paint (cairo_t *cr, const DewWeeks *weeks, double width, double height);
/* FALSE where there is none. */
gboolean dew_weeks_at (const DewWeeks *weeks, double width, double x, double y, int *week,
                       int *plant);
double dew_weeks_height (const DewYear *year, double font_px);
/* The sign of a reason, centred in a square of that size. */
void dew_weeks_sign (cairo_t *cr, const DewPalette *palette, int why, double x, double y,
                     double size);

/* How long each plant has in a mishap: a line that ends at the sign of what it becomes, over time
 * that goes by powers. */
typedef struct
{
  const DewMishap *mishap;
  const DewPalette *palette;
  double font_px;
} DewTimeLeft;

void dew_time_left_paint (cairo_t *cr, const DewTimeLeft *left, double width, double height);
double dew_time_left_height (const DewMishap *mishap, double font_px);

G_END_DECLS
