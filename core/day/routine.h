/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The clock of a day: when lamps are on, when the front stands open, what the room is like by
 * the hour. Pure functions. Times are seconds since the midnight that the day begins at; on the
 * two days in a year on which clocks are changed the clock runs ahead of them or behind. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_CLOCK_STEADY, /* 24 hours */
  DEW_CLOCK_SPRING, /* 23: after two comes three */
  DEW_CLOCK_AUTUMN  /* 25: the hour from two to three comes twice */
} DewClock;

double dew_routine_length_s (DewClock clock);
/* What a clock on the wall shows, hours from midnight, 0..24. */
double dew_routine_clock_h (DewClock clock, double time_s);

/* Whether a clock time lies between two, over midnight where the second is the earlier. From
 * and until the same: never. */
gboolean dew_routine_between (double clock_h, double from_h, double until_h);

/* Whether devices go by their settings for day. */
gboolean dew_routine_is_day (const DewChamber *chamber, DewClock clock, double time_s);
gboolean dew_routine_is_open (const DewChamber *chamber, DewClock clock, double time_s);
/* The next time after time_s at which one of those changes; the end of the day at the latest. */
double dew_routine_next_s (const DewChamber *chamber, DewClock clock, double time_s);

/* The room, C and kg/kg: as by day or by night, and within three hours after either begins
 * smoothly on the way there; water as water, so that RH follows. */
void dew_routine_room (const DewChamber *chamber, DewClock clock, double time_s, double *t_C,
                       double *w_kg_kg);

G_END_DECLS
