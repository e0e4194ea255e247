/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* An enclosure with one of everything, and a forecast of known fields without
 * any solver: what the painter shows can then be computed with a pencil. */

#include "../edit/furnished.h"
#include "paint/sheet.h"

G_BEGIN_DECLS

/* Temperature 18 + 4 x / width + 6 z / height, C; humidity 0.5 below half the
 * height and 0.9 above, parted by a closed board; air moving evenly to the
 * right at 0.2 m/s; no mist. */
DewForecast *fixture_forecast_new (const DewChamber *chamber);
void fixture_forecast_free (DewForecast *forecast);

/* Gives each of the two bays three places across and two deep, with the means of its
 * bay; place n (of 12, the lower bay first, from the left and from the front) has the
 * severity n % 3. */
void fixture_add_places (DewForecast *forecast);

gboolean fixture_inside_sheet (const DewRect *rect, const DewSheetLayout *layout);
/* Every label, number and flag lies on the sheet, none on another, and all but flags
 * outside the views. Stops the test where that is not so. */
void fixture_check_marks (const DewSheet *sheet, const DewSheetLayout *layout);

/* Adds a finding at a point. */
void fixture_add_finding (DewForecast *forecast, double x_m, double y_m, double z_m,
                          DewFindingCause cause);

G_END_DECLS
