/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the tests of the fan's place, of moisture and of openings share. */

#include "advice/kinds.h"
#include "forecast/forecast.h"
#include "store/store.h"

/* A document of tests/advice/enclosures (transfer full). */
DewChamber *enclosure_read (const char *name);

/* Three invented kinds that differ in what they want: "Bog" 90 to 100 %, "Steppe" 20 to 50 %,
 * "Wood" 60 to 95 %, all from 5 to 30 C. data is not used. */
gboolean kind_invented (const char *species, DewPlantKind *out, gpointer data);

/* A plant of that species in the shown variant. */
DewThing *add_plant (DewChamber *chamber, const char *species, double x_m, double y_m, double z_m);

/* Left and right exchanged, in every variant. */
void mirror_enclosure (DewChamber *chamber);

/* The first fan of the shown variant, or NULL. */
DewThing *first_fan (DewChamber *chamber);
