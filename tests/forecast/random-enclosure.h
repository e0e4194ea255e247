/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Enclosures of the kinds that people grow plants in at home, drawn at random and wide: any usual
 * size and cover, leakage of 1 to 100 cm2, any board, vent, fan, humidifier, lamp and plant of
 * the catalogues and some way beyond them, in cold and warm rooms from the coast to the
 * mountains. What no catalogue says of a thing (where it stands, how far a flap is open, how long
 * a humidifier runs) is common practice, no source. */

#include "chamber/chamber.h"

/* The enclosure of a number, always the same one (transfer full). It fits together: it passes
 * dew_chamber_check() by construction, as each thing that does not is left out again. */
DewChamber *random_enclosure (guint number);

/* The same enclosure seen in a mirror: left is right (transfer full). */
DewChamber *mirrored_enclosure (const DewChamber *chamber);

/* Everything in it moved to the right (transfer full); NULL when something does not fit then. */
DewChamber *shifted_enclosure (const DewChamber *chamber, double by_m);
