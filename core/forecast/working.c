/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/working.h"

#include "forecast/verdict.h"
#include "geometry/geometry.h"
#include "moist/moist.h"
#include "transport/light.h"

#include <math.h>

double
dew_fan_pressure_Pa (const DewFan *fan, double speed, double flow_m3_s)
{
  double free_m3_s = speed * fan->free_delivery_m3_s;

  if (!(free_m3_s > 0.0))
    return 0.0;
  return fan->stall_pressure_Pa * speed * speed * (1.0 - flow_m3_s / free_m3_s);
}

static void
fan_point (const DewForecast *forecast, const DewFan *fan, const DewDevice *device, DewWorking *out)
{
  double area_m2 = G_PI / 4.0 * fan->diameter_m * fan->diameter_m;
  double density_kg_m3
    = dew_moist_density (forecast->all.t_C, forecast->all.w_kg_kg, forecast->pressure_Pa);

  out->in_wall = fan->mount == DEW_FAN_IN_WALL;
  out->speed = forecast->night ? fan->speed_night : fan->speed_day;
  out->free_m3_s = out->speed * fan->free_delivery_m3_s;
  out->stall_Pa = fan->stall_pressure_Pa * out->speed * out->speed;
  out->flow_m3_s = device->flow_m3_s;
  out->pressure_Pa = device->pressure_Pa;
  out->outlet_m_s = device->flow_m3_s / area_m2;
  if (!out->in_wall)
    out->thrust_N = density_kg_m3 * device->flow_m3_s * device->flow_m3_s / area_m2;
}

/* The bay that a height is in, or the one below a board that holds the lamp. */
static int
bay_below (const DewForecast *forecast, double z_m)
{
  int bay = 0;

  for (int b = 0; b < forecast->n_bays; b++)
    if (z_m > forecast->bays[b].z0_m + 1e-6)
      bay = b;
  return bay;
}

static void
lamp_point (const DewForecast *forecast, const DewLamp *lamp, DewWorking *out)
{
  DewLampHeat heat = dew_light_lamp_heat (lamp, forecast->night);
  int bay = bay_below (forecast, lamp->z_m), n = 0;

  out->light_W = heat.light_W;
  out->heat_W = heat.radiant_W + heat.convective_W;
  out->ppfd_mean_mol_m2s = 0.0;
  out->ppfd_least_mol_m2s = G_MAXDOUBLE;
  out->ppfd_most_mol_m2s = 0.0;
  for (int p = 0; p < forecast->n_places; p++)
    {
      double ppfd = forecast->places[p].mean.ppfd_mol_m2s;

      if (forecast->places[p].bay != bay)
        continue;
      out->ppfd_mean_mol_m2s += ppfd;
      out->ppfd_least_mol_m2s = MIN (out->ppfd_least_mol_m2s, ppfd);
      out->ppfd_most_mol_m2s = MAX (out->ppfd_most_mol_m2s, ppfd);
      n++;
    }
  if (n > 0)
    out->ppfd_mean_mol_m2s /= n;
  else
    out->ppfd_mean_mol_m2s = out->ppfd_least_mol_m2s = out->ppfd_most_mol_m2s = NAN;
}

gboolean
dew_working_point (const DewForecast *forecast, const DewChamber *chamber, const DewThing *thing,
                   DewWorking *out)
{
  const DewDevice *device;
  double lo[3], hi[3];
  DewClimate air;

  g_return_val_if_fail (forecast != NULL && thing != NULL && out != NULL, FALSE);

  device = dew_forecast_device (forecast, thing->id);
  if (device == NULL)
    return FALSE;
  *out = (DewWorking){
    .night = forecast->night,
    .power_W = device->power_W,
    .speed = NAN,
    .free_m3_s = NAN,
    .stall_Pa = NAN,
    .flow_m3_s = NAN,
    .pressure_Pa = NAN,
    .outlet_m_s = NAN,
    .thrust_N = NAN,
    .duty = device->duty,
    .water_kg_s = device->water_kg_s,
    .hours_of_water = device->hours_of_water,
    .t_C = device->t_C,
    .below_air_K = NAN,
    .light_W = NAN,
    .heat_W = NAN,
    .ppfd_mean_mol_m2s = NAN,
    .ppfd_least_mol_m2s = NAN,
    .ppfd_most_mol_m2s = NAN,
  };
  if (thing->kind == DEW_THING_FAN)
    fan_point (forecast, &thing->fan, device, out);
  else if (thing->kind == DEW_THING_LAMP)
    lamp_point (forecast, &thing->lamp, out);
  if (!isnan (device->t_C))
    {
      dew_thing_box (chamber, thing, lo, hi);
      dew_forecast_box (forecast, lo, hi, &air);
      out->below_air_K = air.t_C - device->t_C;
    }
  return TRUE;
}
