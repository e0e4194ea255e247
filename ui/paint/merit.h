/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How a map of merits is drawn. Better is larger and darker (on a dark sheet: brighter),
 * so that it reads in grey and for colour-blind eyes. */

#include "document/merit.h"
#include "paint/palette.h"

G_BEGIN_DECLS

/* Colour of a merit 0..1 (clamped): lightness runs one way, hue stays. */
DewColour dew_merit_colour (const DewPalette *palette, double merit);

G_END_DECLS
