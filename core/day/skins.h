/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The surfaces of a settled run by bays, with the heat and water that they hold. Inner part of
 * the day. */

#include "day/net.h"
#include "forecast/run.h"

G_BEGIN_DECLS

/* Appends every DewSkin. bay_of: [size] bay of each zone. mean: [2][n_bays] rises of T and w over
 * the room. */
void dew_skins_gather (const DewRun *run, const DewRunView *view, const int *bay_of,
                       const double *const mean[2], GArray *skins);

/* Heat that a square metre of a panel holds (J/m2K): from the mass of its row in the catalogue,
 * else from its thickness. */
double dew_skins_panel_J_m2K (const DewPanel *panel);

G_END_DECLS
