/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/budget.h"

#include <math.h>

#include "moist/constants.h"
#include "moist/moist.h"

#define DAYS_A_YEAR 365.0
#define DAYS_A_MONTH 30.0
#define J_KWH 3.6e6

/* Sound of several sources adds by power. A fan's falls by 50 lg of its speed (fan laws: ASHRAE
 * Handbook, Applications, sound; from memory). */
static double
noise_of (const DewVariant *variant, gboolean night)
{
  double power = 0.0;
  gboolean any = FALSE;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      double speed;

      if (thing->kind != DEW_THING_FAN)
        continue;
      speed = night ? thing->fan.speed_night : thing->fan.speed_day;
      if (speed <= 0.0)
        continue;
      if (thing->fan.noise_dBA <= 0.0)
        return NAN;
      any = TRUE;
      power += pow (10.0, 0.1 * (thing->fan.noise_dBA + 50.0 * log10 (speed)));
    }
  return any ? MAX (0.0, 10.0 * log10 (power)) : NAN;
}

static void
find_room (const DewChamber *chamber, const DewDay *day, DewRoomBudget *out)
{
  const DewRoom *room = &chamber->room;
  double hours = (day->time_s[day->n - 1] - day->time_s[0]) / DEW_S_PER_H;
  double p = dew_moist_pressure (room->altitude_m), t = 0.0, w = 0.0, more;

  for (int k = 1; k < day->n; k++)
    {
      t += day->room_t_C[k] / (day->n - 1);
      w += dew_moist_w_from_rh (day->room_t_C[k], day->room_rh[k], p) / (day->n - 1);
    }
  out->room_L = day->budget.room_kg * 24.0 / hours;
  /* Steady: what is given off leaves with the air of the room. */
  out->room_rise_kg_m3 = day->budget.room_kg / hours / (room->volume_m3 * room->air_changes_1_h);
  more = out->room_rise_kg_m3 / dew_moist_density (t, w, p);
  out->room_rise = dew_moist_rh_from_w (t, w + more, p) - dew_moist_rh_from_w (t, w, p);
  out->wall_rh = out->wall_rh_without = NAN;
  if (room->wall_colder_K <= 0.0)
    return;
  out->wall_rh = MIN (1.0, dew_moist_rh_from_w (t - room->wall_colder_K, w + more, p));
  out->wall_rh_without = MIN (1.0, dew_moist_rh_from_w (t - room->wall_colder_K, w, p));
}

void
dew_budget_find (const DewChamber *chamber, guint variant_id, const DewDay *day, DewRoomBudget *out)
{
  const DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  const DewRoutine *r = &chamber->routine;

  out->power_kWh = (day->budget.lamps_J + day->budget.misters_J) / J_KWH;
  out->cost = r->price_kWh > 0.0 ? r->price_kWh * out->power_kWh : NAN;
  out->cost_year = DAYS_A_YEAR * out->cost;
  out->noise_day_dBA = noise_of (variant, FALSE);
  out->noise_night_dBA = noise_of (variant, TRUE);
  /* 1 mg/l of 1 kg is 1e-6 kg. */
  out->minerals_g_month
    = r->water_mg_l > 0.0 ? 1e-3 * DAYS_A_MONTH * r->water_mg_l * day->budget.mist_kg : NAN;
  find_room (chamber, day, out);
}
