/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Enclosures for forecasts, drawn in a few words. */

#include "forecast/forecast.h"

/* An empty enclosure (transfer full) of film round a frame, clear size in metres, in a
 * room of the same climate by day and night. */
DewChamber *film_enclosure (double x_m, double y_m, double z_m, double room_t_C, double room_rh);

/* Adds a thing with every other field at its fallback to the shown variant. x_m, y_m, z_m
 * are its reference point, of a shelf only z_m counts, of an opening none. Lends: the
 * pointer holds until the next thing is added. */
DewThing *add_thing (DewChamber *chamber, DewThingKind kind, double x_m, double y_m, double z_m);
DewThing *add_shelf (DewChamber *chamber, double z_m, DewShelfBoard board, double open_ratio);
/* Fully open, discharge coefficient 0.61, the rectangle all free. */
DewThing *add_hole (DewChamber *chamber, DewFace face, double u0_m, double u1_m, double v0_m,
                    double v1_m);
/* A clay pot with its rim as wide as given and 0.85 of that high. */
DewThing *add_pot (DewChamber *chamber, double x_m, double y_m, double z_m, double rim_m);

/* Things of the shown variant by id. Lends. */
DewThing *thing_of (DewChamber *chamber, guint id);

/* Forecast of the shown variant by day (transfer full); the test fails when there is none. */
DewForecast *forecast_by_day (const DewChamber *chamber, DewGrid grid);
DewForecast *forecast_by_night (const DewChamber *chamber, DewGrid grid);

/* What a forecast says of a thing. Lends; the test fails when it says nothing. */
const DewDevice *device_of (const DewForecast *forecast, guint thing_id);

/* Lets no heat through the cover and leak_area_m2 of air (effective area at 4 Pa). */
void make_adiabatic (DewChamber *chamber, double leak_area_m2);
