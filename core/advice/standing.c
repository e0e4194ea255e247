/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/standing.h"

#include "forecast/probe.h"

#include <math.h>

static gboolean
is_asked (DewDemand demand, gboolean night)
{
  switch (demand)
    {
    case DEW_DEMAND_T_DAY:
    case DEW_DEMAND_RH_DAY:
    case DEW_DEMAND_LIGHT:
      return !night;
    case DEW_DEMAND_T_NIGHT:
    case DEW_DEMAND_RH_NIGHT:
      return night;
    case DEW_DEMAND_AIR:
    case DEW_DEMAND_MIST:
    case DEW_DEMAND_DRIP:
    case DEW_DEMAND_DRYING:
      return TRUE;
    default:
      return FALSE;
    }
}

static void
put_in_order (DewStanding *standing)
{
  for (DewDemand demand = 0; demand < DEW_N_DEMANDS; demand++)
    {
      const DewFitDemand *asked = &standing->fit.demand[demand];
      int at = standing->n;

      if (!is_asked (demand, standing->night) || isnan (asked->margin))
        continue;
      while (at > 0 && standing->fit.demand[standing->order[at - 1]].merit > asked->merit)
        {
          standing->order[at] = standing->order[at - 1];
          at--;
        }
      standing->order[at] = demand;
      standing->n++;
    }
}

gboolean
dew_standing_judge (const DewForecast *forecast, const DewChamber *chamber, const DewThing *plant,
                    DewPlantKindLookup lookup, gpointer data, DewStanding *out)
{
  const double at_m[3] = { plant->plant.x_m, plant->plant.y_m, plant->plant.z_m };
  const DewVariant *variant;
  DewFitPlant fit_plant;
  DewFitPlace place;

  g_return_val_if_fail (forecast != NULL && chamber != NULL && plant != NULL && out != NULL, FALSE);
  g_return_val_if_fail (plant->kind == DEW_THING_PLANT, FALSE);

  *out = (DewStanding){ .night = forecast->night, .place = dew_forecast_place_at (forecast, at_m) };
  if (out->place < 0)
    return FALSE;
  variant = dew_chamber_shown (chamber);
  dew_fit_plant_of_thing (variant, plant, lookup, data, &fit_plant);
  out->known = fit_plant.known;
  dew_fit_kind_in_state (&fit_plant.kind, fit_plant.state, &out->kind);
  /* One forecast stands for both: what is asked of the other time is not read. */
  dew_fit_place_air (variant, forecast, forecast->night ? forecast : NULL, out->place, &place);
  dew_fit_judge (&fit_plant, &place, &out->fit);
  put_in_order (out);
  return TRUE;
}

DewVerdict
dew_standing_verdict (const DewForecast *forecast, guint thing_id, const DewStanding *standing)
{
  DewVerdict verdict = dew_thing_verdict (forecast, thing_id);

  for (int i = 0; standing != NULL && standing->known && i < standing->n; i++)
    {
      const DewFitDemand *asked = &standing->fit.demand[standing->order[i]];

      if (asked->margin < 0.0 && !asked->unsure)
        verdict = MAX (verdict, DEW_VERDICT_LOOK);
    }
  return verdict;
}
