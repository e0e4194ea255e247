/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/routine.h"

#include <math.h>

#include "moist/constants.h"
#include "moist/moist.h"

#define CHANGED_AT_H 2.0 /* European Union, directive 2000/84/EC: at one o'clock UTC */
/* A room follows its heating and the sun within some hours: common practice, no source. */
#define ROOM_CHANGE_H 3.0
#define FINE_S 60.0 /* clock times are looked for by the minute */

double
dew_routine_length_s (DewClock clock)
{
  return DEW_S_PER_DAY
         + (clock == DEW_CLOCK_SPRING   ? -DEW_S_PER_H
            : clock == DEW_CLOCK_AUTUMN ? DEW_S_PER_H
                                        : 0.0);
}

double
dew_routine_clock_h (DewClock clock, double time_s)
{
  double h = time_s / DEW_S_PER_H;

  if (clock == DEW_CLOCK_SPRING && h >= CHANGED_AT_H)
    h += 1.0;
  else if (clock == DEW_CLOCK_AUTUMN && h >= CHANGED_AT_H + 1.0)
    h -= 1.0;
  return fmod (h, 24.0);
}

gboolean
dew_routine_between (double clock_h, double from_h, double until_h)
{
  double from = fmod (from_h, 24.0);

  if (from_h == until_h)
    return FALSE;
  if (from_h <= 0.0 && until_h >= 24.0)
    return TRUE;
  if (from < until_h)
    return clock_h >= from && clock_h < until_h;
  return clock_h >= from || clock_h < until_h;
}

gboolean
dew_routine_is_day (const DewChamber *chamber, DewClock clock, double time_s)
{
  const DewRoutine *r = &chamber->routine;

  return dew_routine_between (dew_routine_clock_h (clock, time_s), r->day_from_h, r->day_until_h);
}

gboolean
dew_routine_is_open (const DewChamber *chamber, DewClock clock, double time_s)
{
  const DewRoutine *r = &chamber->routine;
  double open_h = r->door_open_min / 60.0;

  if (open_h <= 0.0)
    return FALSE;
  return dew_routine_between (dew_routine_clock_h (clock, time_s), r->door_from_h,
                              fmod (r->door_from_h + open_h, 24.0));
}

static int
state_at (const DewChamber *chamber, DewClock clock, double time_s)
{
  return 2 * dew_routine_is_day (chamber, clock, time_s)
         + dew_routine_is_open (chamber, clock, time_s);
}

double
dew_routine_next_s (const DewChamber *chamber, DewClock clock, double time_s)
{
  double end = dew_routine_length_s (clock);
  int now = state_at (chamber, clock, time_s);

  for (double t = FINE_S * (floor (time_s / FINE_S) + 1.0); t < end; t += FINE_S)
    if (state_at (chamber, clock, t) != now)
      return t;
  return end;
}

/* 0 by night, 1 by day. */
static double
warmth (const DewRoom *room, double clock_h)
{
  double since_warm = fmod (clock_h - room->warm_from_h + 48.0, 24.0);
  double since_cool = fmod (clock_h - room->warm_until_h + 48.0, 24.0);
  gboolean warm = dew_routine_between (clock_h, room->warm_from_h, room->warm_until_h);
  double since = warm ? since_warm : since_cool;
  double x = MIN (1.0, since / ROOM_CHANGE_H), eased = 0.5 - 0.5 * cos (G_PI * x);

  if (room->warm_from_h == room->warm_until_h)
    return 1.0;
  return warm ? eased : 1.0 - eased;
}

void
dew_routine_room (const DewChamber *chamber, DewClock clock, double time_s, double *t_C,
                  double *w_kg_kg)
{
  const DewMonth *m = &chamber->room.months[CLAMP (chamber->month, 0, 11)];
  double p = dew_moist_pressure (chamber->room.altitude_m);
  double warm = warmth (&chamber->room, dew_routine_clock_h (clock, time_s));

  *t_C = m->t_night_C + warm * (m->t_day_C - m->t_night_C);
  *w_kg_kg = (1.0 - warm) * dew_moist_w_from_rh (m->t_night_C, m->rh_night, p)
             + warm * dew_moist_w_from_rh (m->t_day_C, m->rh_day, p);
}
