/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Enclosures of the published cases: a bare box without leakage that lets no heat
 * through, and what is put into it. */

#include "chamber/chamber.h"
#include "moist/air.h"

/* Inner size (m); panels without thickness, so it is the outer one as well. */
DewChamber *test_plain_chamber (double x_m, double y_m, double z_m);
/* The same state of the room in every month, by day and by night. */
void test_set_room (DewChamber *chamber, double t_C, double rh);

/* A bare hole, fully open. Each returns the id of what it adds to the shown variant. */
guint test_add_hole (DewChamber *chamber, DewFace face, double u0_m, double u1_m, double v0_m,
                     double v1_m, double discharge_coefficient);
/* A duct that blows in_m3_s in (negative: draws it out). */
guint test_add_duct (DewChamber *chamber, DewFace face, double u0_m, double u1_m, double v0_m,
                     double v1_m, double in_m3_s);
/* A cube of side_m whose base has its middle at at_m. */
guint test_add_source (DewChamber *chamber, const double at_m[3], double side_m, double heat_W,
                       double vapour_kg_s);
guint test_add_fan (DewChamber *chamber, const double at_m[3], double azimuth_rad,
                    double elevation_rad, double diameter_m, double free_delivery_m3_s);

/* Dry air for formulas that know neither vapour nor a change of its properties:
 * 1.2 kg/m3, 1006 J/kgK, 293.15 K. */
extern const DewAir test_formula_air;
