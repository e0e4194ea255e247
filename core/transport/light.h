/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Light of the lamps on what lies below, and the heat they give. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

/* Photons per joule of white light, 400-700 nm: sunlight 4.57 (McCree 1972; Thimijan
 * & Heins, HortScience 18, 1983), white light-emitting diodes 4.6 to 4.9 umol/J. */
#define DEW_LIGHT_MOL_J 4.8e-6

/* Photon flux (mol/m2s) on a level spot that faces up. Each lamp is an even diffuse
 * (Lambertian) rectangle that faces down: the exact view factor of a parallel
 * rectangle (Howell's catalogue of configuration factors, B-4; Incropera ch. 13).
 * Shelves between let through their open ratio, their gaps all. Light thrown back
 * by walls and leaves is left out. inner_m: clear size of the enclosure (x, y, z).
 * `night` takes the lamps' night setting. */
double dew_light_ppfd_mol_m2s (const DewVariant *variant, const double inner_m[3], gboolean night,
                               double x_m, double y_m, double z_m);

/* The same of one lamp, which need not be part of the variant; at_m: x, y, z. */
double dew_light_of_lamp_mol_m2s (const DewVariant *variant, const double inner_m[3],
                                  const DewLamp *lamp, gboolean night, const double at_m[3]);

/* Daylight (mol/m2s) on such a spot. It comes evenly from all round the enclosure, as from the
 * walls and windows of a room (room.daylight_mol_m2s on a level spot beside it), and passes the
 * cover by what each side lets through: the roof by its view factor from the spot, the four walls
 * together by the rest, as their mean. Shelves above let through their open ratio, over their
 * whole plan. 0 by night. */
double dew_light_daylight_mol_m2s (const DewChamber *chamber, const DewVariant *variant,
                                   const double inner_m[3], gboolean night, double x_m, double y_m,
                                   double z_m);

/* View factor from a level spot to a parallel rectangle a x b (m) at distance c (m),
 * one of whose corners lies straight above the spot. */
double dew_light_corner_factor (double a_m, double b_m, double c_m);
/* The same for a rectangle x0..x1, y0..y1 (m, from the spot). */
double dew_light_view_factor (double x0_m, double x1_m, double y0_m, double y1_m, double c_m);

/* Where the power of a lamp goes (W): light, heat radiated by the warm lamp, heat
 * given to the air. Their sum is what it draws. */
typedef struct
{
  double light_W;
  double radiant_W;
  double convective_W;
} DewLampHeat;

DewLampHeat dew_light_lamp_heat (const DewLamp *lamp, gboolean night);

G_END_DECLS
