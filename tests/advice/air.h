/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Enclosures whose forecast air is set by hand, so that an assignment can be checked without a
 * flow. */

#include "say/assign.h"

/* An enclosure of 0.60 x 0.30 x 1.00 m clear with wire shelves at 0.30 and 0.65 m: three bays
 * of four by two places. */
DewChamber *two_shelves (void);
/* A forecast of its shown variant (transfer full) in which every place is the same: day 18 C,
 * night 13 C, 85 % RH, 0.15 m/s, 80 umol/m2s, fresh, dry. */
DewForecast *plain_air (const DewChamber *chamber, gboolean night);

/* What that air is ideal for, 10 cm wide and high: day 12 to 24 C, night 8 to 18 C, 70 to
 * 95 % RH. */
DewPlantKind plain_kind (const char *name);

/* A lookup of kinds in a GArray of DewPlantKind, given as data. */
gboolean kind_in_list (const char *species, DewPlantKind *out, gpointer data);

/* Adds a wish; sizes as the kind's, pot 0: mounted. */
void wish_for (DewChamber *chamber, const char *name, const char *species, int count, int state,
               double pot_diameter_m);
/* Adds a standing plant of that kind, mounted, 10 cm wide and high. Returns its id. */
guint stand (DewChamber *chamber, const char *name, const char *species, double x_m, double y_m,
             double z_m);

/* The assignment (transfer full); the test fails when there is none. */
DewAssignment *assign (const DewChamber *chamber, const DewForecast *day, const DewForecast *night,
                       GArray *kinds);
/* The plant of that name and number. Lends; the test fails when there is none. */
const DewAssignPlant *plant_named (const DewAssignment *assignment, const char *name, int number);

/* --- the rules, counted from the answer alone ------------------------------- */

/* The value is the sum of the plants', no spot is taken twice, and whoever has no place is
 * told what would help. */
void check_sums (const DewAssignment *assignment);
/* Crowns do not overlap but for the tenth that may mingle, unless both stand as they stood;
 * nothing stands in a device; loads hold. fit: one for each plant of the assignment. */
void check_layout (const DewChamber *chamber, const DewAssignment *assignment,
                   const DewFitPlant *fit);
