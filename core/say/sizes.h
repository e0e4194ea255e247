/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How large a difference is. More or less is said in words, so that these have no sign. */

#include "say/units.h"

G_BEGIN_DECLS

/* "1.4 K", "12 cm", "0.2 m/s". Of temperatures ask for DEW_MEASURE_DIFFERENCE. Transfer full. */
char *dew_size_text (DewMeasure measure, DewTongue tongue, double si);
/* Of relative humidity (fraction), in percentage points: "3 points", "1 point". Transfer full. */
char *dew_points_text (double fraction);

G_END_DECLS
