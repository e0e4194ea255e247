/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* An enclosure with one of everything. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* 0.7 x 0.5 x 1.6 m, wire shelves of 8 mm at 0.38, 0.74 and 1.10 m with 3 cm
 * free at front and back. The places are in the table in the source. */
DewChamber *fixture_chamber_new (void);

/* The thing of that name; stops the test when there is none. */
DewThing *fixture_thing (const DewVariant *variant, const char *name);

G_END_DECLS
