/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Shelf boards as screens in the flow: the loss coefficient K on the speed of the
 * air that comes up to the board, dp = K rho v^2/2, from the share that is open. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Square-edged plate or screen of square bars, turbulent; the table of Blevins,
 * Applied Fluid Dynamics Handbook, 1984, between its rows a straight line in ln K. */
double dew_screen_loss_square_edged (double open_ratio);
/* Thin sharp-edged perforated plate. Idelchik, Handbook of Hydraulic Resistance,
 * diagram 8-1. */
double dew_screen_loss_sharp_plate (double open_ratio);
/* Thick plate or grille, 1..50 hole diameters deep. Blevins 1984. */
double dew_screen_loss_thick_grille (double open_ratio);
/* Gauze of round wire, wire Re above 1000. Idelchik, diagram 8-6. */
double dew_screen_loss_gauze (double open_ratio);
/* Screen of round wires at a Reynolds number of wire and speed through the openings,
 * 20..400 (held beyond), open ratio 0.05..0.8 (continued beyond). Blevins 1984. */
double dew_screen_loss_round_wire (double open_ratio, double reynolds);

/* K of a shelf board: INFINITY when nothing is open, 0 when all is. Wire by round
 * wires of 3 mm in air of 0.2 m/s (Re 40), slats as square bars, perforated sheet
 * as a thin plate. */
double dew_screen_board_loss (DewShelfBoard board, double open_ratio);
/* K that counts for a shelf: its own, or if that is 0 the one of its board. */
double dew_screen_shelf_loss (const DewShelf *shelf);

/* Share 0..1 of the rectangle x0..x1, y0..y1 (m) of a shelf that nothing standing on
 * it covers; the open ratio of the loaded shelf is this times that of the empty one.
 * Pots and potted plants stand on a round base, all else on its rectangle. A plant
 * that hangs on a mount (mass 0) covers nothing. */
double dew_screen_uncovered_share (const DewVariant *variant, const DewShelf *shelf, double x0_m,
                                   double x1_m, double y0_m, double y1_m);

G_END_DECLS
