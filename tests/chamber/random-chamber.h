/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Enclosures that nobody would draw but every rule of values allows. */

#include "chamber/chamber.h"

/* Any values within range, any mix of things; passes dew_chamber_validate().
 * Reproducible from the state of `random`. */
DewChamber *random_chamber (GRand *random);

/* One random edit of `chamber`: a value, a thing more or less, a variant more or
 * less, a shift. May also change nothing. */
void random_edit (GRand *random, DewChamber *chamber);
