/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/standing.h"

#include <math.h>

/* The place of its bay that is nearest: a crown may reach over the last one. */
static int
place_of (const DewForecast *forecast, const DewPlant *plant)
{
  const double at_m[2] = { plant->x_m, plant->y_m };
  double best_m2 = G_MAXDOUBLE;
  int best = -1;

  for (int p = 0; p < forecast->n_places; p++)
    {
      const DewPlace *place = &forecast->places[p];
      const DewBay *bay = &forecast->bays[place->bay];
      double away_m2 = 0.0;

      if (plant->z_m < bay->z0_m - 1e-9 || plant->z_m >= bay->z1_m)
        continue;
      for (int axis = 0; axis < 2; axis++)
        {
          double d_m
            = MAX (0.0, MAX (place->lo_m[axis] - at_m[axis], at_m[axis] - place->hi_m[axis]));
          away_m2 += d_m * d_m;
        }
      if (away_m2 < best_m2)
        {
          best_m2 = away_m2;
          best = p;
        }
    }
  return best;
}

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
  const DewVariant *variant;
  DewFitPlant fit_plant;
  DewFitPlace place;

  g_return_val_if_fail (forecast != NULL && chamber != NULL && plant != NULL && out != NULL, FALSE);
  g_return_val_if_fail (plant->kind == DEW_THING_PLANT, FALSE);

  *out = (DewStanding){ .night = forecast->night, .place = place_of (forecast, &plant->plant) };
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
